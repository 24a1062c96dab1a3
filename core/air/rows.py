"""Readings of the air at zones: mean, slow and fast tenth, what stands still, what leaves feel.

Where speeds come from is for `coverage`; fresh air has its own `fresh_rows`.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.air.bands import band
from core.air.fields import Stage
from core.air.leaves import leaf_conductance
from core.air.methods import AGE, BY_FLOW, BY_JETS, CONDUCTANCE
from core.air.reach import STILL, ZoneAir
from core.language import tr
from core.model import Fan
from core.phrases import Amount, Phrase, percent, phrase
from core.reading import Method, Reading, reading, with_words
from core.states import judge_spread
from core.study import Study

TOO_STRONG, TOO_STRONG_FOR_SEEDLINGS = 1.0, 0.7
"""Upper ends of what leaves stand, common practice. [m/s]"""

OFF = 0.30
"""Relative uncertainty of a speed; the larger of this and the zone's absolute one counts."""

OFF_FRESH = 0.30
"""Relative uncertainty of fresh air, and so of its age."""

LEAF = 0.05
"""Width that a leaf is taken to have (judgement). [m]"""


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


def zone_rows(
    study: Study, zone: ZoneAir, zones: tuple[ZoneAir, ...], assumed: tuple[Phrase, ...]
) -> Iterator[Reading]:
    """Iterate over the readings of one of a design's zones."""
    where = _where(study, zone, zones)
    assumed = (*_assumptions(study, zone), *(assumed if zone.by is not Stage.JETS else ()))
    yield _speed_row(study, zone, where, assumed)
    yield from _tenth_rows(study, zone, where, assumed)
    yield from _share_rows(study, zone, where, assumed)
    yield from _leaf_rows(zone, where, assumed)
    if zone.age is not None:
        line = phrase("air {age} old at {where}", age=Amount(zone.age, "duration"), where=where)
        low, high = zone.age / (1 + OFF_FRESH), zone.age / (1 - OFF_FRESH)
        yield reading(
            "air", "age", zone.part, where, zone.age, "duration", line, AGE,
            spread=(low, high), assumptions=assumed,
        )  # fmt: skip


def _speed_row(study: Study, zone: ZoneAir, where: Phrase, assumed: tuple[Phrase, ...]) -> Reading:
    low, high = wanted_speed(study, zone)
    row = reading(
        "air", "speed", zone.part, where, zone.mean, "speed",
        _line(zone, where, low, high), _method(zone),
        spread=spread(zone, zone.mean), want=(low, high), assumptions=assumed,
    )  # fmt: skip
    below = zone.share_below(low)
    if below is None:
        return row
    state = judge_spread(row.state, 1 - below - zone.share_above(high))
    return row if state is row.state else with_words(row, state, tr("uneven"))


def _tenth_rows(
    study: Study, zone: ZoneAir, where: Phrase, assumed: tuple[Phrase, ...]
) -> Iterator[Reading]:
    _, high = wanted_speed(study, zone)
    if zone.slow is not None:
        line = phrase(
            "{speed} or less in a tenth of {where}", where=where, speed=Amount(zone.slow, "speed")
        )
        yield reading(
            "air", "speed-slow", zone.part, where, zone.slow, "speed", line, _method(zone),
            spread=spread(zone, zone.slow), assumptions=assumed,
        )  # fmt: skip
    if zone.fast is not None:
        line = phrase(
            "{speed} or more in a tenth of {where}; want at most {high}",
            where=where, speed=Amount(zone.fast, "speed"), high=Amount(high, "speed"),
        )  # fmt: skip
        yield reading(
            "air", "speed-fast", zone.part, where, zone.fast, "speed", line, _method(zone),
            spread=spread(zone, zone.fast), want=(None, high), assumptions=assumed,
        )  # fmt: skip


def _share_rows(
    study: Study, zone: ZoneAir, where: Phrase, assumed: tuple[Phrase, ...]
) -> Iterator[Reading]:
    """Iterate over the shares of the canopy in still and in too strong air."""
    still = zone.share_below(STILL)
    if still is None:
        return
    line = phrase("{share} of {where} in still air", share=percent(still), where=where)
    wide = (zone.share_below(STILL - zone.off), zone.share_below(STILL + zone.off))
    yield reading(
        "air", "still-share", zone.part, where, still, "fraction", line, BY_FLOW,
        spread=(wide[0] or 0.0, wide[1] or 0.0), assumptions=assumed,
    )  # fmt: skip
    _, high = wanted_speed(study, zone)
    off, strong = max(zone.off, OFF * high), zone.share_above(high)
    line = phrase("{share} of {where} in too strong air", share=percent(strong), where=where)
    yield reading(
        "air", "strong-share", zone.part, where, strong, "fraction", line, BY_FLOW,
        spread=(zone.share_above(high + off), zone.share_above(high - off)), assumptions=assumed,
    )  # fmt: skip


def _leaf_rows(zone: ZoneAir, where: Phrase, assumed: tuple[Phrase, ...]) -> Iterator[Reading]:
    if zone.mean is None or zone.by is Stage.JETS:
        return
    low, high = spread(zone, zone.mean) or (zone.mean, zone.mean)
    least, found, most = (float(leaf_conductance(u, LEAF)) for u in (low, zone.mean, high))
    line = phrase(
        "still layer on leaves at {where} lets through {value} mol/(m² s) of vapour",
        where=where,
        value=f"{found:.2f}",
    )
    taken = phrase("Leaves are taken to be {width} wide", width=Amount(LEAF, "length"))
    yield reading(
        "air", "leaf-conductance", zone.part, where, found, "count", line, CONDUCTANCE,
        spread=(least, most), assumptions=(taken, *assumed),
    )  # fmt: skip


def _method(zone: ZoneAir) -> Method:
    return BY_JETS if zone.by is Stage.JETS else BY_FLOW


def spread(zone: ZoneAir, speed: float | None) -> tuple[float, float] | None:
    """Return the range of a speed in a zone; None where it is not known. [m/s]"""
    if speed is None:
        return None
    off = max(zone.off, OFF * speed)
    return max(speed - off, 0.0), speed + off


def _line(zone: ZoneAir, where: Phrase, low: float, high: float) -> Phrase:
    if zone.mean is not None:
        known = zone.by is not Stage.JETS
        return phrase(
            "{speed}, {band}, at {where}; want {low}–{high}"
            if known
            else "{speed} at {where}; want {low}–{high}",
            speed=Amount(zone.mean, "speed"),
            band=band(zone.mean, high, spread(zone, zone.mean) or (zone.mean, zone.mean)),
            where=where,
            low=Amount(low, "speed", unit=False),
            high=Amount(high, "speed"),
        )
    if zone.met == 0:
        return phrase("no fan reaches {where}: not known yet", where=where)
    return phrase(
        "fans reach only {share} of {where}: not known yet", share=percent(zone.met), where=where
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
    if 0 < zone.met < 1 and zone.by is Stage.JETS:
        words = "Jets reach {share} of the zone; the rest is not counted"
        found.append(phrase(words, share=percent(zone.met)))
    return tuple(found)
