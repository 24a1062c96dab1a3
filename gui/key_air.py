"""The key of air: what strokes and hatching mean, the chosen level's numbers and their sureness.

The numbers come from the readings; nothing here asks how far a flow has come but by its words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.air.bands import BEST, BRISK
from core.air.reach import LEAST_OFF, STILL
from core.air.rows import TOO_STRONG, wanted_speed
from core.language import tr
from core.reading import Reading, worst
from core.states import State
from core.study import Study, study
from core.units import label, show
from gui.air_age import breaks_of
from gui.air_strokes import weight
from gui.air_words import stage_words
from gui.key_blocks import Beside, Block, Fact, Facts, Legend, Note, Shades, Sign
from gui.key_page import KeyPage, place_words
from gui.view import View

if TYPE_CHECKING:
    from core.air.reach import ZoneAir
    from core.readings import Readings

_FACTS = (
    ("speed", tr("mean")),
    ("speed-slow", tr("slow tenth")),
    ("speed-fast", tr("fast tenth")),
    ("still-share", tr("still")),
    ("age", tr("age")),
)
"""Readings that the key shows of one zone, and what it calls them."""


def air_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    system = readings.design.units
    look = study(readings.design, season=readings.season)
    zone = zone_told(view, readings)
    signs = _signs(system, wanted_speed(look, zone)[1] if zone is not None else TOO_STRONG)
    blocks: list[Block] = [signs]
    facts = _facts(zone, readings, before) if zone is not None else ()
    breaks = breaks_of(readings.air.field) if view.age else ()
    if facts:
        sure = Fact(tr("true to"), tr("± 30 % or ±\u00a0{off}").format(off=_off(zone, system)))
        # The tint's steps need the room of the lesser numbers where there is little.
        below = (sure, *facts)[: 2 if breaks else None]
        blocks = [Beside(signs, Facts(facts, 0.0), Facts(below, 0.0))]
    if breaks:
        told = tuple(show(at, "duration", system) for at in breaks)
        blocks.append(Shades(tr("Age of the air"), told))
    short = tr("True to ± 30 % or ±\u00a0{off}.").format(off=_off(zone, system))
    blocks.append(Note(_note(zone, readings), short))
    head = _head(view, look, zone)
    return KeyPage(head, label("speed", system), tuple(blocks))


def _head(view: View, look: Study, zone: ZoneAir | None) -> str:
    place = place_words(look, view.level, zone.part if zone is not None else "")
    if zone is None:
        return tr("{place}: air").format(place=place)
    return tr("{place}: air at the leaves").format(place=place)


def zone_told(view: View, readings: Readings) -> ZoneAir | None:
    """Return the zone of the chosen level that the key tells of: that of the level's row."""
    zones = {one.part: one for one in readings.air.zones if one.level == view.level}
    rows = (row for row in readings.air.rows if row.name == "speed" and row.place in zones)
    item = worst(tuple(rows))
    return zones[item.place] if item is not None else None


def _signs(system: str, high: float) -> Legend:
    """Return what is drawn for each of `core.air.bands`' bands; leaves stand up to ``high``."""

    def at(speed: float) -> str:
        return show(speed, "speed", system, unit=False)

    brisk = tr("brisk, from {low}").format(low=at(BRISK))
    return Legend(
        (
            Sign(0, tr("still, under {to}").format(to=at(STILL)), tr("look here"), "hatched"),
            Sign(weight(STILL), tr("gentle, from {low}").format(low=at(STILL)), tr("enough")),
            Sign(weight(BEST), tr("gentle, best from {low}").format(low=at(BEST)), ""),
            *((Sign(weight(BRISK), brisk, tr("watch soft leaves")),) if high > BRISK else ()),
            Sign(0, tr("too strong, over {high}").format(high=at(high)), tr("look here"), "framed"),
        )
    )


def _facts(zone: ZoneAir, readings: Readings, before: Readings | None) -> tuple[Fact, ...]:
    now = _rows(zone.part, readings)
    was = _rows(zone.part, before) if before is not None else {}
    system, sign = readings.design.units, "≈ " if readings.air.coarse else ""
    return tuple(
        Fact(
            name,
            sign + _number(now[key], system),
            _number(was[key], system) if key in was and was[key] is not now[key] else "",
            state=State.FINE if now[key].state is State.UNASKED else now[key].state,
        )
        for key, name in _FACTS
        if key in now and now[key].value is not None
    )


def _rows(part: str, readings: Readings) -> dict[str, Reading]:
    return {row.name: row for row in readings.air.rows if row.place == part}


def _number(row: Reading, system: str) -> str:
    """Return a number as the key writes it: its unit stands at the head where it is a speed."""
    if row.value is None:
        return "–"
    digits = None if row.kind == "speed" else 2
    return show(row.value, row.kind, system, unit=row.kind != "speed", digits=digits)


def _off(zone: ZoneAir | None, system: str) -> str:
    """Return the least uncertainty of a zone's speeds."""
    return show(zone.off if zone is not None else LEAST_OFF, "speed", system)


def _note(zone: ZoneAir | None, readings: Readings) -> str:
    system = readings.design.units
    off = _off(zone, system)
    sure = tr("True to ± 30 % or ±\u00a0{off}, whichever is more. A place that may fall on either "
              "side says “borderline” or “likely”.").format(off=off)  # fmt: skip
    return f"{stage_words(readings.air, system)} {sure}"
