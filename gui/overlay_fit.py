"""Clear floor, tapes, overlaps, how far one reaches, and the way in that things are carried.

What fits is judged in `core.fit`; the signs themselves are in `gui.fit_signs`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from core.drawing.marks import View
from core.drawing.shapes import seen_point
from core.language import tr
from core.states import State
from core.units import show
from gui.fit_signs import QUIET, TICK, paint_arc, paint_clear, paint_tape, paint_way
from gui.overlay_look import Look, hatch, kept_inside, tag_rect, words
from gui.theme import state_role

if TYPE_CHECKING:
    from core.fit.reach import Reach
    from core.fit.reading import Clearance


def paint_fit(painter: QPainter, view: View, look: Look) -> None:
    """Draw what is clear and what is not; in the plan also reach, outlets and the way in."""
    taken: list[QRectF] = []
    if view == "plan":
        _paint_zones(painter, look)
        _paint_way(painter, look)
    for overlap in look.readings.fit.overlaps:
        _paint_overlap(painter, view, look, overlap.a, overlap.b)
    for clearance in _worst_first(view, look):
        _paint_tape(painter, view, look, clearance, taken)
    if view == "plan":
        _paint_accesses(painter, look, taken)
        _paint_reach(painter, look, taken)


def _worst_first(view: View, look: Look) -> list[Clearance]:
    """Return the tapes so that where numbers meet those that are amiss are written.

    From the side leaves and lamps of all units lie over each other: only what is amiss is told.
    """
    found = look.readings.fit.clearances
    if view == "side":
        found = tuple(tape for tape in found if tape.name != "drop" or tape.state not in QUIET)
    return sorted(found, key=lambda tape: tape.state in QUIET)


def _paint_zones(painter: QPainter, look: Look) -> None:
    """Draw the floor that is to be clear: tinted where it is, hatched where it is tight."""
    for zone in look.readings.fit.zones:
        rect = look.camera.rect("plan", zone.area)
        paint_clear(painter, rect, look.inks.theme, zone.state)


def _paint_way(painter: QPainter, look: Look) -> None:
    """Draw the line on which things are carried in, from a door of the room to the enclosure."""
    fit = look.readings.fit
    way = [look.camera.to_px("plan", x, y) for x, y in fit.way]
    if len(way) > 1:
        state = next((row.state for row in fit.rows if row.name == "route"), State.UNASKED)
        role = "ink2" if state in QUIET else state_role(state)
        paint_way(painter, way, look.inks.theme, role)


def _paint_tape(
    painter: QPainter, view: View, look: Look, clearance: Clearance, taken: list[QRectF]
) -> None:
    a, b = (
        look.camera.to_px(view, *seen_point(point, view)) for point in (clearance.a, clearance.b)
    )
    if (a - b).manhattanLength() <= 2 * TICK:
        return
    role = "ink2" if clearance.state in QUIET else state_role(clearance.state)
    paint_tape(painter, a, b, look.inks.theme, role)
    _write(painter, view, look, (a + b) / 2, clearance.distance, role, taken)


def _write(
    painter: QPainter,
    view: View,
    look: Look,
    at: QPointF,
    length: float,
    role: str,
    taken: list[QRectF],
) -> None:
    """Write a length within its drawing where nothing is written yet."""
    text = show(length, "length", look.system)
    place = kept_inside(look, view, at, text)
    rect = tag_rect(look, place, text)
    if not any(rect.intersects(other) for other in taken):
        taken.append(rect)
        words(painter, look, place, text, role)


def _paint_overlap(painter: QPainter, view: View, look: Look, first: str, second: str) -> None:
    if not {first, second} <= look.shown:
        return
    rect = look.camera.box(view, look.placement.box(first)) & look.camera.box(
        view, look.placement.box(second)
    )
    if not rect.isEmpty():
        hatch(painter, rect, look.inks.theme.colour("out"))


def _paint_accesses(painter: QPainter, look: Look, taken: list[QRectF]) -> None:
    """Draw how far outlets and windows are that are hard to get at, and which are covered."""
    fit, theme = look.readings.fit, look.inks.theme
    for item in fit.accesses:
        far = item.distance is None or item.distance > fit.reach
        if not far and not item.against:
            continue
        spot = look.camera.to_px("plan", *item.spot)
        painter.setPen(QPen(theme.colour("out"), 1.6))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(spot, 7.0, 7.0)
        if item.against:
            text = tr("covered")
            place = kept_inside(look, "plan", spot + QPointF(0, 18), text)
            taken.append(tag_rect(look, place, text))
            words(painter, look, place, text, "out")
        elif item.start is not None and item.distance is not None:
            start = look.camera.to_px("plan", *item.start)
            paint_tape(painter, start, spot, theme, "out")
            _write(painter, "plan", look, (start + spot) / 2, item.distance, "out", taken)


def _paint_reach(painter: QPainter, look: Look, taken: list[QRectF]) -> None:
    """Draw how far one reaches for the chosen level, and to where the farthest leaves are."""
    for reach in look.readings.fit.reaches:
        if reach.level == look.level and reach.start is not None and reach.distance is not None:
            _paint_one_reach(painter, look, reach, reach.distance, taken)


def _paint_one_reach(
    painter: QPainter, look: Look, reach: Reach, distance: float, taken: list[QRectF]
) -> None:
    fit, theme = look.readings.fit, look.inks.theme
    assert reach.start is not None
    role = "out" if distance > fit.reach else "ink2"
    start = look.camera.to_px("plan", reach.start[0], reach.start[1])
    spot = look.camera.to_px("plan", reach.spot[0], reach.spot[1])
    paint_arc(painter, start, spot, fit.reach * look.camera.scale, theme)
    painter.setPen(QPen(theme.colour(role), 1.4, Qt.PenStyle.DashLine))
    painter.drawLine(QLineF(start, spot))
    _write(painter, "plan", look, (start + spot) / 2, distance, role, taken)
