"""The key of air: what strokes and hatching mean, the chosen level's numbers and their sureness.

The numbers come from the readings; nothing here asks how far a flow has come but by its words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.reading import Reading
from core.states import RANK, State
from core.study import study
from core.units import label, show
from gui.air_age import breaks_of
from gui.air_words import stage_words
from gui.key_blocks import Beside, Block, Fact, Facts, Legend, Note, Shades, Sign
from gui.key_page import KeyPage
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
    place = look.level_words(view.level).render(system)
    head = tr("Air at the leaves, {place}").format(place=place)
    blocks: list[Block] = [_signs(system)]
    zone = zone_told(view, readings)
    facts = _facts(zone, readings, before) if zone is not None else ()
    breaks = breaks_of(readings.air.field) if view.age else ()
    if facts:
        sure = Fact(tr("true to"), tr("± 30 % or ±\u00a0{off}").format(off=_off(zone, system)))
        # The tint's steps need the room of the lesser numbers where there is little.
        below = (sure, *facts)[: 2 if breaks else None]
        blocks = [Beside(_signs(system), Facts(facts, 0.0), Facts(below, 0.0))]
    if breaks:
        told = tuple(show(at, "duration", system) for at in breaks)
        blocks.append(Shades(tr("Age of the air"), told))
    short = tr("True to ± 30 % or ±\u00a0{off}.").format(off=_off(zone, system))
    blocks.append(Note(_note(zone, readings), short))
    return KeyPage(head, label("speed", system), tuple(blocks))


def zone_told(view: View, readings: Readings) -> ZoneAir | None:
    """Return the zone of the chosen level that the key tells of: the worst off, or slowest."""
    rows = {row.place: row for row in readings.air.rows if row.name == "speed"}
    zones = [one for one in readings.air.zones if one.level == view.level and one.part in rows]
    return min(zones, key=lambda zone: _rank(rows[zone.part]), default=None)


def _rank(row: Reading) -> tuple[int, float]:
    return RANK[row.state], row.value if row.value is not None else float("inf")


def _signs(system: str) -> Legend:
    def at(speed: float) -> str:
        return show(speed, "speed", system, unit=False)

    return Legend(
        (
            Sign(0, tr("still, under {to}").format(to=at(0.1)), tr("look here"), still=True),
            Sign(1.0, tr("gentle, {low}–{high}").format(low=at(0.1), high=at(0.3)), tr("enough")),
            Sign(1.5, tr("gentle, {low}–{high}").format(low=at(0.3), high=at(0.5)), tr("best")),
            Sign(2.4, tr("brisk, over {low}").format(low=at(0.5)), tr("watch soft leaves")),
        )
    )


def _facts(zone: ZoneAir, readings: Readings, before: Readings | None) -> tuple[Fact, ...]:
    now = _rows(zone.part, readings)
    was = _rows(zone.part, before) if before is not None else {}
    system, sign = readings.design.units, "≈ " if readings.air.passing else ""
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
    return show(zone.off if zone is not None else 0.1, "speed", system)


def _note(zone: ZoneAir | None, readings: Readings) -> str:
    system = readings.design.units
    off = _off(zone, system)
    sure = tr("True to ± 30 % or ±\u00a0{off}, whichever is more. A place that may fall on either "
              "side says “borderline” or “likely”.").format(off=off)  # fmt: skip
    return f"{stage_words(readings.air, system)} {sure}"
