"""Rules on light: too strong, too weak, uneven, and plants whose wants nobody has entered.

Dimming is tried out on the rows of light that each lamp gives; moves are read by the engine.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from core.finding import Finding, Remedy
from core.findings.dimming import (
    LEAST_DIMMING,
    TOO_LOW,
    Dimming,
    bearable,
    dimming_words,
    fed,
    light_readings,
    starved,
    zone_states,
)
from core.findings.edits import remedy, set_to, when_settled
from core.findings.hanging import holds, hung_otherwise
from core.findings.moves import along, if_it_fits, way_words
from core.findings.words import AMISS, level_names, names
from core.hours import show_clock
from core.light.maps import ZoneLight
from core.light.reading import LightReadings, light_number
from core.model import Hours, Lamp, Period, Timer, replace
from core.phrases import Amount, Phrase, percent, phrase
from core.power.tree import PlugTree
from core.reading import Reading, distance_out
from core.states import EVEN_SHARE, LIKELY_OUT, RANK, State
from core.study import Study

LONGEST_DAY = 18.0
"""Hours of light beyond which most plants rest badly (common practice, no source). [h]"""
_A_LITTLE_MORE = 1.03
"""Lowest leaves are given this much of what they want at least, since settings are whole percents.
[1]"""
LEAST_MOVE = 0.02
"""Lamps nearer to their best place than this stay where they are. [m]"""

_HIGH = frozenset({State.HIGH, State.LIKELY_HIGH})


@dataclass(frozen=True)
class _Patch:
    """Zones of one plant group on one level, or on one carrier, with the readings of their tops.

    They are told as one; the worst speaks for them.
    """

    zones: tuple[tuple[ZoneLight, Reading], ...]

    @property
    def zone(self) -> ZoneLight:
        """The worst zone."""
        return self._worst[0]

    @property
    def row(self) -> Reading:
        """The reading of the worst zone."""
        return self._worst[1]

    @property
    def _worst(self) -> tuple[ZoneLight, Reading]:
        return min(self.zones, key=lambda item: (RANK[item[1].state], -distance_out(item[1])))

    @property
    def parts(self) -> set[str]:
        """Ids of the plants."""
        return {zone.part for zone, _ in self.zones}

    def where(self, study: Study, light: LightReadings) -> Phrase:
        """Return the place in words; other plants on the same level make it name these."""
        if len(self.zones) == 1:
            return self.row.where
        levels = sorted({zone.level for zone, _ in self.zones if zone.level is not None})
        place = level_names(study, levels)
        keys = {zone.group.key for zone in light.zones if zone.level in levels}
        if len(keys) == 1:
            return place
        return phrase("{place}, {plants}", place=place, plants=self.zone.group.name)


def _patches(
    zones: Iterable[tuple[ZoneLight, Reading]], *, by_carrier: bool = False
) -> list[_Patch]:
    """Gather zones of one plant group that stand on one level, or on one carrier's levels."""
    found: dict[Any, list[tuple[ZoneLight, Reading]]] = {}
    for zone, row in zones:
        place: Any = zone.level[0] if by_carrier and zone.level else zone.level or zone.part
        found.setdefault((place, zone.group.key, _direction(row.state)), []).append((zone, row))
    return [_Patch(tuple(items)) for items in found.values()]


def _direction(state: State) -> str:
    return "low" if state in TOO_LOW else "high" if state in _HIGH else "between"


def _tops(light: LightReadings) -> list[tuple[ZoneLight, Reading]]:
    """Return the zones with the reading of their leaf tops."""
    rows = {row.place: row for row in light.rows if row.name == "ppfd"}
    return [(zone, rows[zone.part]) for zone in light.zones]


def off_range(study: Study) -> Iterator[Finding]:
    """Find zones whose leaf tops get too much light, too little, or hardly enough."""
    light = light_readings(study)
    if light is None:
        return
    amiss = [(z, r) for z, r in _tops(light) if r.state in AMISS and not _is_uneven(z, r)]
    for patch in _patches(amiss):
        zone, row = patch.zone, patch.row
        yield Finding(
            "light-range",
            "light",
            row.state,
            zone.part,
            phrase(_title(row, zone), where=patch.where(study, light)),
            _wants_words(row.value or 0.0, zone, zone.want),
            level=zone.level,
            size=distance_out(row),
            remedy=_set_otherwise(study, light, patch)
            or (_longer(study, zone) if row.state in TOO_LOW else None)
            or hung_otherwise(study, light, [each for each, _ in patch.zones]),
        )


def _is_uneven(zone: ZoneLight, row: Reading) -> bool:
    share = zone.in_range
    return row.state is State.BORDERLINE and share is not None and share < EVEN_SHARE


def _title(row: Reading, zone: ZoneLight) -> str:
    if row.state is State.BORDERLINE:
        return "Borderline light at {where}"
    if row.state in TOO_LOW and zone.mean <= 0:
        return "No light at {where}"
    likely = row.state in LIKELY_OUT
    if row.state in _HIGH:
        return "Likely too much light at {where}" if likely else "Too much light at {where}"
    return "Likely too little light at {where}" if likely else "Too little light at {where}"


def _wants_words(value: float, zone: ZoneLight, want: tuple[float | None, float | None]) -> Phrase:
    low, high = want
    gaps: dict[str, Any] = {"value": light_number(value), "plants": zone.group.name}
    if low is not None and high is not None:
        text = "{value} where {plants} want {low}–{high}."
        return phrase(text, low=light_number(low), high=_ppfd(high), **gaps)
    if low is not None:
        return phrase("{value} where {plants} want {low} or more.", low=_ppfd(low), **gaps)
    return phrase("{value} where {plants} want at most {high}.", high=_ppfd(high or 0.0), **gaps)


def _ppfd(value: float) -> Amount:
    return Amount(float(light_number(value)), "photon_flux_density")


def _set_otherwise(study: Study, light: LightReadings, patch: _Patch) -> Remedy | None:
    """Return the dimming that brings the zones to the middle of their range, if dimming can.

    The lamps over their own level are tried before all that light them; no other zone may leave
    its range for it.
    """
    factors = [zone.dim_to(light.method) for zone, _ in patch.zones]
    known = [factor for factor in factors if factor is not None]
    if not known:
        return None
    lit_by = dict.fromkeys(key for zone, _ in patch.zones for key in zone.lit_by())
    lamps: list[Any] = [study.design.part(key) for key in lit_by]
    lamps = [lamp for lamp in lamps if not lamp.locked]
    own = [lamp for lamp in lamps if study.placement.level_of(lamp.id) == patch.zone.level]
    for chosen in (own, lamps):
        new = _dimmings(patch.zone, chosen, sum(known) / len(known))
        if new is not None and _betters(light, patch, new):
            words = _told_with_price(dimming_words(chosen, new), light, new)
            return remedy(words, *(set_to(study, key, dimming=to) for key, to in new.items()))
    return None


def _told_with_price(words: Phrase, light: LightReadings, new: Dimming) -> Phrase:
    """Return a remedy's words, and what it would do to lowest leaves that now have enough."""
    if not starved(light, new):
        return words
    return phrase("{mend}; the lowest leaves then get too little", mend=words)


def _dimmings(zone: ZoneLight, lamps: list[Lamp], factor: float) -> Dimming | None:
    """Return the dimming of some lamps at which the zone's mean is ``factor`` times as high."""
    index = {key: i for i, key in enumerate(zone.lighting.lamps)}
    theirs = sum(float(zone.shares[index[lamp.id]]) for lamp in lamps)
    if theirs <= 0:
        return None
    share = 1 + (factor - 1) * zone.mean / theirs
    new = {lamp.id: min(1.0, round(lamp.dimming * share, 2)) for lamp in lamps}
    if min(new.values()) < LEAST_DIMMING or all(new[p.id] == p.dimming for p in lamps):
        return None
    return new


def _betters(light: LightReadings, patch: _Patch, new: Dimming) -> bool:
    """Tell whether all the zones are better with other dimming, and no other leaves its range.

    Nor may the lowest leaves of another begin to get too little; their own are told of.
    """
    if starved(light, new) - patch.parts:
        return False
    states = zone_states(light, new)
    better = all(RANK[states[part][1]] > RANK[states[part][0]] for part in patch.parts)
    return better and all(bearable(*pair) for pair in states.values())


def _longer(study: Study, zone: ZoneLight) -> Remedy | None:
    """Return a longer day for the lamps of a zone whose plants ask for daily light."""
    if zone.group.ppfd is not None or zone.group.daily_light is None:
        return None
    hours = _hours_wanted(zone)
    if hours is None:
        return None
    parts = _switches(study, zone)
    new = [_lit_for(study, part, hours) for part in parts]
    if not parts or any(part is None for part in new):
        return None
    words = phrase(
        "Light {which} for {hours} a day, until {off}",
        which=names([part.name for part in parts]),
        hours=Amount(hours * 3600, "duration"),
        off=show_clock(_until(parts[0], hours)),
    )
    return remedy(words, *(part for part in new if part is not None))


def _hours_wanted(zone: ZoneLight) -> float | None:
    """Return the whole half hours that bring the daily light to the middle of what is wanted.

    None where that would be no longer, or longer than `LONGEST_DAY`. [h]
    """
    wanted = zone.hours_for_daily_light()
    if wanted is None or zone.mean <= 0:
        return None
    hours = math.ceil(sum(wanted) - 1e-6) / 2
    return hours if zone.hours < hours <= LONGEST_DAY else None


def _switches(study: Study, zone: ZoneLight) -> list[Any]:
    """Return what sets the hours of the lamps over a zone: their timers, else they themselves."""
    tree = PlugTree(study.design)
    found: dict[str, Any] = {}
    for key in zone.lit_by():
        timers = [tree.parts[step] for step in tree.path(key) if step in tree.parts]
        timer = next((part for part in timers if isinstance(part, Timer)), None)
        switch = timer or study.design.part(key)
        found[switch.id] = switch
    return list(found.values())


def _lit_for(study: Study, part: Any, hours: float) -> Any:
    """Return a timer or lamp with its one period made longer; None where it has another number."""
    if len(part.hours.periods) != 1:
        return None
    period = Period(on=part.hours.periods[0].on, off=_until(part, hours))
    return set_to(study, part.id, hours=replace(_drawn_hours(study, part.id), periods=(period,)))


def _drawn_hours(study: Study, part_id: str) -> Hours:
    drawn: Any = study.drawn.part(part_id)
    found: Hours = drawn.hours
    return found


def _until(part: Any, hours: float) -> int:
    return int(part.hours.periods[0].on + round(hours * 60)) % 1440


def uneven(study: Study) -> Iterator[Finding]:
    """Find zones whose mean is right while too little of their leaf area is.

    Those that no edit mends are told together, carrier by carrier.
    """
    light = light_readings(study)
    if light is None:
        return
    patches = _patches((zone, row) for zone, row in _tops(light) if _is_uneven(zone, row))
    remedies = [_evened(study, light, patch) for patch in patches]
    left = [p.zones for p, mend in zip(patches, remedies, strict=True) if mend is None]
    for patch in _patches((item for zones in left for item in zones), by_carrier=True):
        yield _uneven(study, light, patch, None)
    for patch, mend in zip(patches, remedies, strict=True):
        if mend is not None:
            yield _uneven(study, light, patch, mend)


def _evened(study: Study, light: LightReadings, patch: _Patch) -> Remedy | None:
    """Return the setting, the drop or the move that makes the light of some zones even."""
    return (
        _set_otherwise(study, light, patch)
        or hung_otherwise(study, light, [zone for zone, _ in patch.zones], evenly=True)
        or _lamp_moved(study, light, patch)
    )


def _uneven(study: Study, light: LightReadings, patch: _Patch, mend: Remedy | None) -> Finding:
    zone = min((zone for zone, _ in patch.zones), key=lambda each: each.in_range or 0.0)
    share = zone.in_range or 0.0
    return Finding(
        "light-uneven",
        "light",
        State.BORDERLINE,
        zone.part,
        phrase("Uneven light at {where}", where=patch.where(study, light)),
        phrase(
            "{low} to {high}; {share} of the leaves get the {want}.",
            low=light_number(zone.low),
            high=light_number(zone.high),
            share=percent(share),
            want=_range_words(zone),
        ),
        level=zone.level,
        size=1.0 - share,
        remedy=mend,
    )


def _range_words(zone: ZoneLight) -> Phrase:
    low, high = zone.want
    if low is not None and high is not None:
        return phrase("wanted {low}–{high}", low=light_number(low), high=_ppfd(high))
    if low is not None:
        return phrase("wanted {low} or more", low=_ppfd(low))
    return phrase("wanted {high} at most", high=_ppfd(high or 0.0))


@when_settled
def _lamp_moved(study: Study, light: LightReadings, patch: _Patch) -> Remedy | None:
    """Return one lamp over the level moved to where an even row of them would have it."""
    for lamp, shift in _to_even_places(study, patch):
        edits = if_it_fits(study, lamp.id, shift)
        if edits is None:
            continue
        if holds(study, light, edits, lambda now: _more_even(light, now, patch)):
            return Remedy(phrase("Move {name} {way}", name=lamp.name, way=way_words(shift)), edits)
    return None


def _more_even(light: LightReadings, now: LightReadings, patch: _Patch) -> bool:
    states = {row.place: row.state for row in now.rows if row.name == "ppfd"}
    borne = all(bearable(row.state, states[zone.part]) for zone, row in _tops(light))
    found = [now.zone(part) for part in patch.parts]
    even = all(zone and (zone.in_range or 0.0) >= EVEN_SHARE for zone in found)
    return borne and even


def _to_even_places(study: Study, patch: _Patch) -> Iterator[tuple[Lamp, Any]]:
    """Iterate over the lamps of a level and the straight moves to where an even row has them."""
    areas = [zone.area for zone, _ in patch.zones]
    low = (min(a.x0 for a in areas), min(a.y0 for a in areas))
    high = (max(a.x1 for a in areas), max(a.y1 for a in areas))
    long = 0 if high[0] - low[0] >= high[1] - low[1] else 1
    level = patch.zone.level
    lamps = [lamp for lamp in study.design.of(Lamp) if study.placement.level_of(lamp.id) == level]
    lamps.sort(key=lambda lamp: study.placement.box(lamp.id).centre[long])
    for number, lamp in enumerate(lamps):
        want = [(a + b) / 2 for a, b in zip(low, high, strict=True)]
        want[long] = low[long] + (high[long] - low[long]) * (number + 0.5) / len(lamps)
        for axis in (long, 1 - long):
            off = want[axis] - study.placement.box(lamp.id).centre[axis]
            if abs(off) >= LEAST_MOVE and not lamp.locked:
                yield lamp, along(axis, off)


def dark_below(study: Study) -> Iterator[Finding]:
    """Find zones whose lowest leaves get too little although the tops have enough."""
    light = light_readings(study)
    if light is None:
        return
    tops = {zone.part: row.state for zone, row in _tops(light)}
    starved = [
        (zone, row)
        for row in light.rows
        if row.name == "ppfd-lowest" and row.state in TOO_LOW
        for zone in light.zones
        if zone.part == row.place and tops[row.place] not in TOO_LOW
    ]
    for patch in _patches(starved, by_carrier=True):
        zone, row = patch.zone, patch.row
        yield Finding(
            "light-lowest",
            "light",
            row.state,
            zone.part,
            phrase(_LOWEST_TITLES[row.state], where=patch.where(study, light)),
            _wants_words(row.value or 0.0, zone, (zone.want[0], None)),
            level=zone.level,
            size=distance_out(row),
            remedy=_brightened(study, light, patch),
        )


def _brightened(study: Study, light: LightReadings, patch: _Patch) -> Remedy | None:
    """Return the dimming that gives the lowest leaves enough, if the tops of all plants bear it."""
    zone = patch.zone
    low, lowest = zone.want[0], zone.lowest.mean
    if low is None or lowest <= 0:
        return None
    lamps: list[Any] = [study.design.part(key) for key in zone.lit_by()]
    lamps = [lamp for lamp in lamps if not lamp.locked]
    new = _dimmings(zone, lamps, _A_LITTLE_MORE * low / lowest)
    if new is None or not fed(light, new, patch.parts) or starved(light, new):
        return None
    if not all(bearable(*pair) for pair in zone_states(light, new).values()):
        return None
    words = dimming_words(lamps, new)
    return remedy(words, *(set_to(study, key, dimming=to) for key, to in new.items()))


_LOWEST_TITLES = {
    State.LOW: "Too little light for the lowest leaves at {where}",
    State.LIKELY_LOW: "Likely too little light for the lowest leaves at {where}",
}


def no_range(study: Study) -> Iterator[Finding]:
    """Name the plant groups whose wanted light nobody has entered."""
    light = light_readings(study)
    if light is None:
        return
    told: set[str] = set()
    for zone, row in _tops(light):
        if zone.want == (None, None) and zone.group.key not in told:
            told.add(zone.group.key)
            yield Finding(
                "light-no-range",
                "light",
                State.CAUTION,
                zone.part,
                phrase("No light range for {plants} yet", plants=zone.group.name),
                phrase("{value} at {where}; enter yours.", value=_ppfd(zone.mean), where=row.where),
                level=zone.level,
            )


RULES = (off_range, uneven, dark_below, no_range)
