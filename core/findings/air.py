"""Rules on air: too strong or too weak at leaves, out of every fan's reach, impossible fans.

A speed within its range but for its uncertainty is not told: at ± 0.1 m/s that is nearly every one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from core.air.advice import Advice
from core.air.jets import RoundJet
from core.air.reach import LEAST_OFF
from core.air.reading import AirReadings
from core.air.reading import read as read_air
from core.air.rows import OFF
from core.air.stage import Stage
from core.finding import Finding, Remedy
from core.findings.edits import Edits, after, remedy, set_to, when_settled
from core.findings.words import level_names, names
from core.model import DuctFan, Fan
from core.phrases import Amount, Phrase, phrase
from core.reading import Reading, distance_out
from core.states import LIKELY_OUT, RANK, State
from core.study import Study

SLOWEST = 0.2
"""Share of its speed below which a fan may not start (common practice, no source)."""
MOST_TRIES = 4
"""How many fans are tried out to reach one place."""

_OUT = LIKELY_OUT | {State.LOW, State.HIGH}


def _air(study: Study) -> AirReadings | None:
    found = study.done.get("air")
    return found if isinstance(found, AirReadings) else None


def strongest(air: AirReadings) -> dict[str, Reading]:
    """Return the reading of the zone in the strongest of too strong air, by the fan's id."""
    worst: dict[str, Reading] = {}
    for row in air.rows:
        zone = air.zone(row.place)
        if row.name == "speed-fast" and row.state in _OUT and zone is not None:
            known = worst.get(zone.fan)
            if known is None or distance_out(row) > distance_out(known):
                worst[zone.fan] = row
    return worst


def weakest(air: AirReadings) -> list[Reading]:
    """Return the readings of zones in still air."""
    low = {State.LOW, State.LIKELY_LOW}
    return [row for row in air.rows if row.name == "speed" and row.state in low]


def too_strong(study: Study) -> Iterator[Finding]:
    """Find zones where a jet is too strong for the leaves, the worst zone of each fan."""
    air = _air(study)
    if air is None:
        return
    for fan, row in strongest(air).items():
        zone = air.zone(row.place)
        likely = row.state in LIKELY_OUT
        title = "Likely too strong air at {where}" if likely else "Too strong air at {where}"
        yield Finding(
            "air-too-strong",
            "air",
            row.state,
            row.place,
            phrase(title, where=row.where),
            _detail(study, air, row),
            level=zone.level if zone else None,
            size=distance_out(row),
            remedy=_advised(study, air, row) or _slower(study, air, fan, row),
        )


def _wanted(study: Study, row: Reading) -> Phrase:
    plants: Any = study.design.by_id[row.place]
    group = study.design.group(plants.species)
    bound = row.want_high if row.want_low is None else row.want_low
    gaps = {"speed": _speed(row.value, bound), "plants": group.name if group else plants.name}
    if row.want_low is None:
        text = "Up to {speed} where {plants} want at most {high}."
        return phrase(text, high=_speed(row.want_high), **gaps)
    return phrase("{speed} where {plants} want {low} or more.", low=_speed(row.want_low), **gaps)


def _speed(value: float | None, bound: float | None = None) -> Amount:
    """Return a speed, finer only where it would read like the bound that it is beyond."""
    plain = Amount(value or 0.0, "speed")
    same = bound is not None and plain.render("metric") == Amount(bound, "speed").render("metric")
    return Amount(plain.value, "speed", fine=same)


def _advice(study: Study, air: AirReadings, row: Reading) -> Advice | None:
    """Return what was tried out with the flow for a zone."""
    if study.flows is None or air.air is None:
        return None
    return study.flows.advice(air.air, row.place, row.name == "speed")


def _advised(study: Study, air: AirReadings, row: Reading) -> Remedy | None:
    """Return what was tried out with the flow for a zone and found to help."""
    found = _advice(study, air, row)
    return found.remedy if found else None


def _detail(study: Study, air: AirReadings, row: Reading) -> Phrase:
    """Return the numbers, and what was tried where nothing helped."""
    found = _advice(study, air, row)
    wanted = _wanted(study, row)
    if found is None:
        return wanted
    if found.remedy is not None:
        return phrase("{wanted} {tried}", wanted=wanted, tried=found.tried)
    return phrase("{wanted} {tried} None was enough.", wanted=wanted, tried=found.tried)


@when_settled
def _slower(study: Study, air: AirReadings, fan_id: str, row: Reading) -> Remedy | None:
    """Return the fan run slowly enough that its jet is surely bearable, if air stays known."""
    fan: Any = study.design.by_id.get(fan_id)
    if air.stage is not Stage.JETS:
        return None
    most, now = row.want_high or 0.0, row.value or 0.0
    target = min(most / (1 + OFF), most - LEAST_OFF)
    if not isinstance(fan, Fan) or now <= 0 or target <= 0:
        return None
    speed = math.floor(fan.speed_setting * target / now * 20) / 20
    if speed < SLOWEST:
        return None
    mend = set_to(study, fan_id, speed_setting=speed)
    if not _bears(study, air, {fan_id: mend}, row.place):
        return None
    words = phrase("Run {name} at {speed}", name=fan.name, speed=Amount(speed, "fraction"))
    return remedy(words, mend)


def _bears(study: Study, air: AirReadings, edits: Edits, place: str) -> bool:
    """Tell whether some edits better one zone's air and worsen no other's."""
    return betters(air, read_air(Study(after(study, edits), study.season, study.quality)), place)


def betters(before: AirReadings, now: AirReadings, place: str) -> bool:
    """Tell whether one zone is better off than it was, and no other worse."""
    was, found = _ranks(before), _ranks(now)
    return found[place] > was[place] and all(found.get(key, 0) >= was[key] for key in was)


def _ranks(air: AirReadings) -> dict[str, int]:
    """Return how well each zone is off; not known counts as likely out, borderline as fine."""
    found: dict[str, int] = {}
    for row in air.rows:
        if air.zone(row.place) is None:
            continue
        rank = RANK[row.state]
        if row.state is State.UNKNOWN:
            rank = RANK[State.LIKELY_LOW]
        elif row.state not in _OUT:
            rank = RANK[State.FINE]
        found[row.place] = min(found.get(row.place, rank), rank)
    return found


def too_weak(study: Study) -> Iterator[Finding]:
    """Find zones whose plants want more air than the jets give."""
    air = _air(study)
    if air is None:
        return
    for row in weakest(air):
        zone = air.zone(row.place)
        if zone is not None:
            likely = row.state in LIKELY_OUT
            yield Finding(
                "air-too-weak",
                "air",
                row.state,
                row.place,
                phrase("Likely still air at {where}" if likely else "Still air at {where}",
                       where=row.where),
                _detail(study, air, row),
                level=zone.level,
                size=distance_out(row),
                remedy=_advised(study, air, row) or _aimed(study, air, row),
            )  # fmt: skip


def out_of_reach(study: Study) -> Iterator[Finding]:
    """Name the zones that no fan reaches, carrier by carrier: their air is not known."""
    air = _air(study)
    if air is None or not air.jets or air.awaited:
        return
    missed: dict[str, list[Reading]] = {}
    for row in air.rows:
        zone = air.zone(row.place)
        if row.name == "speed" and zone is not None and zone.highest is None:
            missed.setdefault(zone.level[0] if zone.level else zone.part, []).append(row)
    for rows in missed.values():
        zones = [air.zone(row.place) for row in rows]
        levels = sorted({zone.level for zone in zones if zone and zone.level})
        yield Finding(
            "no-fan-reaches",
            "air",
            State.CAUTION,
            rows[0].place,
            phrase("No fan reaches {where}", where=level_names(study, levels)),
            phrase("Its air is not known yet; turn a fan, or add one."),
            level=levels[0] if levels else None,
            size=float(len(rows)),
            remedy=_aimed(study, air, rows[0]) if len(rows) == 1 else None,
        )


@when_settled
def _aimed(study: Study, air: AirReadings, row: Reading) -> Remedy | None:
    """Return the nearest fan that can blow at a zone without leaving another one."""
    zone = air.zone(row.place)
    if zone is None or air.stage is not Stage.JETS:
        return None
    target = (*zone.area.centre, zone.z)
    fans = sorted(study.design.of(Fan), key=lambda fan: math.dist(_middle(study, fan), target))
    for fan in fans[:MOST_TRIES]:
        if fan.locked:
            continue
        turned = _turned_to(study, fan, target)
        if _bears(study, air, {fan.id: turned}, row.place):
            return remedy(phrase("Aim {name} at {where}", name=fan.name, where=row.where), turned)
    return None


def _middle(study: Study, fan: Fan) -> tuple[float, float, float]:
    return study.placement.box(fan.id).centre


def _turned_to(study: Study, fan: Fan, target: tuple[float, float, float]) -> Any:
    x, y, z = (b - a for a, b in zip(_middle(study, fan), target, strict=True))
    heading = round(math.degrees(math.atan2(y, x)))
    elevation = round(math.degrees(math.atan2(z, math.hypot(x, y))))
    return set_to(study, fan.id, heading=float(heading), elevation=float(elevation))


def no_fan(study: Study) -> Iterator[Finding]:
    """Say that nothing moves the air where plants stand in an enclosure without a fan."""
    air, enclosure = _air(study), study.design.enclosure
    if air is None or air.jets or enclosure is None:
        return
    zones = [zone for zone in air.zones if study.placement.inside(zone.part)]
    if zones:
        yield Finding(
            "no-fan",
            "air",
            State.CAUTION,
            enclosure.id,
            phrase("No fan moves the air in {name}", name=enclosure.name),
            phrase("At {names}; still, moist air lets mould grow.",
                   names=names([zone.name for zone in zones])),
        )  # fmt: skip


def impossible_fan(study: Study) -> Iterator[Finding]:
    """Find fans whose jet would carry more power than they draw: one of the numbers is wrong."""
    for fan in study.design.parts:
        if isinstance(fan, Fan | DuctFan) and fan.watts > 0:
            carried = RoundJet(fan.flow, fan.diameter).air_power()
            if carried > fan.watts:
                yield Finding(
                    "impossible-fan",
                    "air",
                    State.HIGH,
                    fan.id,
                    phrase("The numbers of {name} cannot be right", name=fan.name),
                    phrase(
                        "{flow} through {diameter} takes {needed}; {watts} entered.",
                        flow=Amount(fan.flow, "flow"),
                        diameter=Amount(fan.diameter, "length"),
                        needed=Amount(carried, "power"),
                        watts=Amount(fan.watts, "power"),
                    ),
                    level=study.placement.level_of(fan.id),
                    size=carried / fan.watts - 1,
                )


RULES = (too_strong, too_weak, out_of_reach, no_fan, impossible_fan)
