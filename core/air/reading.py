"""Readings of air: how fast the jets of fans are at each zone, where they get to.

Jets alone never call a place still: what no fan reaches is not known yet.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.air.reach import STILL, Jet, ZoneAir, jet_of, zone_air
from core.air.solids import solids_of
from core.language import tr
from core.model import Fan, FeedLine, Humidistat, Lead, Outlet, Thermostat
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, SubjectReadings, reading
from core.states import RANK, State
from core.study import Study

TOO_STRONG, TOO_STRONG_FOR_SEEDLINGS = 1.0, 0.7
"""Upper ends of what leaves stand, common practice. [m/s]"""

LEAST_OFF, OFF = 0.10, 0.30
"""Uncertainty of a speed: the larger of an absolute [m/s] and a relative one [1]."""

_NO_PART_IN_AIR = (FeedLine, Lead, Humidistat, Thermostat)

SPEED = Method(
    tr(
        "The round jet of each fan: u0 min(1, 6.2 D/x) on its axis, falling off beside it as a "
        "bell whose half width is 0.095 x; the strongest jet that sees the leaf tops, averaged "
        "over a fan's sweep and over what it reaches of the zone."
    ),
    tr(
        "ASHRAE Fundamentals, space air diffusion, and Rajaratnam, Turbulent Jets, from memory; "
        "wanted 0.1 to 1.0 m/s (seedlings 0.7) by common practice."
    ),
    tr("30 % or 0.1 m/s, whichever is larger."),
    (
        tr("What walls turn back, draughts, warm air rising and duct fans are not counted."),
        tr("Wire shelves and leaves are taken as open to air."),
    ),
)


@dataclass(frozen=True, kw_only=True, eq=False)
class AirReadings(SubjectReadings):
    """Air: readings by zone, and the jets that are drawn.

    Attributes
    ----------
    zones : tuple of ZoneAir
        In the order of the parts.
    jets : tuple of Jet
        One for each circulation fan.
    """

    subject: str = "air"
    zones: tuple[ZoneAir, ...] = ()
    jets: tuple[Jet, ...] = ()

    def zone(self, part_id: str) -> ZoneAir | None:
        """Return the air of one zone by its plants' id."""
        return next((zone for zone in self.zones if zone.part == part_id), None)


def inputs(study: Study) -> Any:
    """Return everything air looks at: all parts but those that neither blow nor stop air."""
    design = study.design
    fixtures = tuple(item for item in design.room.fixtures if not isinstance(item, Outlet))
    parts = tuple(part for part in design.parts if not isinstance(part, _NO_PART_IN_AIR))
    return design.room.outline, design.room.height, fixtures, design.groups, parts


def read(study: Study) -> AirReadings:
    """Return the air readings of a design."""
    placement = study.placement
    solids = solids_of(placement)
    fans = tuple(study.design.of(Fan))
    zones = tuple(zone_air(placement, placement.zones, solids))
    rows = tuple(row for zone in zones for row in _zone_rows(study, zone, zones))
    return AirReadings(
        rows=rows,
        headline=_headline(rows),
        nothing=_nothing(fans, zones),
        zones=zones,
        jets=tuple(jet_of(placement, fan, solids) for fan in fans),
    )


def _headline(rows: tuple[Reading, ...]) -> Reading | None:
    """Return the known zone that is worst off; of those alike, the slowest."""
    known = [
        row
        for row in rows
        if row.value is not None and (row.name == "speed" or row.state is not State.FINE)
    ]
    return min(known, key=lambda row: (RANK[row.state], row.value), default=None)


def _nothing(fans: tuple[Fan, ...], zones: tuple[ZoneAir, ...]) -> Phrase:
    if not fans:
        return phrase("no fan yet: not known")
    if not zones:
        return phrase("no plants yet")
    return phrase("no fan reaches the plants: not known yet")


def wanted_speed(study: Study, zone: ZoneAir) -> tuple[float, float]:
    """Return the air speed that a zone's plants want. [m/s]"""
    plants = study.design.by_id[zone.part]
    group = study.design.group(plants.species)  # type: ignore[union-attr]
    most = TOO_STRONG_FOR_SEEDLINGS if group and group.seedlings else TOO_STRONG
    asked = group.air_speed if group else None
    if asked is None:
        return STILL, most
    return (
        STILL if asked.low is None else asked.low,
        most if asked.high is None else asked.high,
    )


def _zone_rows(study: Study, zone: ZoneAir, zones: tuple[ZoneAir, ...]) -> tuple[Reading, ...]:
    low, high = wanted_speed(study, zone)
    where = _where(study, zone, zones)
    taken = _assumptions(study, zone)
    mean, highest = zone.mean, zone.highest
    rows = [
        reading(
            "air", "speed", zone.part, where, mean, "speed",
            _line(zone, where, low, high), SPEED,
            spread=_spread(mean), want=(low, high), assumptions=taken,
        )
    ]  # fmt: skip
    if highest is not None:
        line = phrase(
            "up to {speed} at {where}; want at most {high}",
            speed=Amount(highest, "speed"),
            where=where,
            high=Amount(high, "speed"),
        )
        rows.append(
            reading(
                "air", "speed-highest", zone.part, where, highest, "speed", line, SPEED,
                spread=_spread(highest), want=(None, high), assumptions=taken,
            )
        )  # fmt: skip
    return tuple(rows)


def _spread(speed: float | None) -> tuple[float, float] | None:
    if speed is None:
        return None
    off = max(LEAST_OFF, OFF * speed)
    return max(speed - off, 0.0), speed + off


def _line(zone: ZoneAir, where: Phrase, low: float, high: float) -> Phrase:
    if zone.mean is not None:
        return phrase(
            "{speed} at {where}; want {low}–{high}",
            speed=Amount(zone.mean, "speed"),
            where=where,
            low=Amount(low, "speed", unit=False),
            high=Amount(high, "speed"),
        )
    if zone.met == 0:
        return phrase("no fan reaches {where}: not known yet", where=where)
    return phrase(
        "fans reach only {share} of {where}: not known yet", share=_share(zone), where=where
    )


def _where(study: Study, zone: ZoneAir, zones: tuple[ZoneAir, ...]) -> Phrase:
    level = study.level_words(zone.level)
    shared = sum(1 for other in zones if other.level == zone.level) > 1
    return phrase("{level}, {name}", level=level, name=zone.name) if shared else level


def _assumptions(study: Study, zone: ZoneAir) -> tuple[Phrase, ...]:
    found = []
    fan = study.design.by_id.get(zone.fan)
    if isinstance(fan, Fan) and fan.speed_setting < 1:
        found.append(phrase("The flow of {name} is taken to go with its speed", name=fan.name))
    if 0 < zone.met < 1:
        words = "Jets reach {share} of the zone; the rest is not counted"
        found.append(phrase(words, share=_share(zone)))
    return tuple(found)


def _share(zone: ZoneAir) -> Amount:
    return Amount(round(zone.met, 2), "fraction")
