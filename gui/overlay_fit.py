"""Clearances as tapes, where parts are in each other's way, and how far one reaches.

What fits is judged in `core.fit`.
"""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QPainter, QPen

from core.drawing.marks import View
from core.drawing.shapes import seen_point
from core.units import show
from gui.overlay_look import Look, hatch, kept_inside, words
from gui.theme import state_role

_TICK = 3.5


def paint_fit(painter: QPainter, view: View, look: Look) -> None:
    """Draw the clearances, the overlaps, and in the plan how far one reaches."""
    for overlap in look.readings.fit.overlaps:
        _paint_overlap(painter, view, look, overlap.a, overlap.b)
    if view == "plan":
        _paint_reach(painter, look)
    for clearance in look.readings.fit.clearances:
        a, b = (
            look.camera.to_px(view, *seen_point(point, view))
            for point in (clearance.a, clearance.b)
        )
        if (a - b).manhattanLength() > 2 * _TICK:
            role = state_role(clearance.state)
            role = "ink2" if role in ("fine", "edge") else role
            painter.setPen(QPen(look.inks.theme.colour(role), 1.2))
            painter.drawLine(QLineF(a, b))
            for end in (a, b):
                tick = QPointF(_TICK, -_TICK)
                painter.drawLine(QLineF(end - tick, end + tick))
            text = show(clearance.distance, "length", look.system)
            at = kept_inside(look, view, (a + b) / 2, text)
            words(painter, look, at, text, role)


def _paint_overlap(painter: QPainter, view: View, look: Look, first: str, second: str) -> None:
    if not {first, second} <= look.shown:
        return
    rect = look.camera.box(view, look.placement.box(first)) & look.camera.box(
        view, look.placement.box(second)
    )
    if not rect.isEmpty():
        hatch(painter, rect, look.inks.theme.colour("out"))


def _paint_reach(painter: QPainter, look: Look) -> None:
    """Draw how far one reaches for the chosen level, and to where the farthest leaves are."""
    fit = look.readings.fit
    theme = look.inks.theme
    radius = fit.reach * look.camera.scale
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for reach in fit.reaches:
        if reach.level != look.level or reach.start is None or reach.distance is None:
            continue
        role = "out" if reach.distance > fit.reach else "ink2"
        start = look.camera.to_px("plan", reach.start[0], reach.start[1])
        spot = look.camera.to_px("plan", reach.spot[0], reach.spot[1])
        painter.setPen(QPen(theme.colour("edge"), 1.0, Qt.PenStyle.DashLine))
        painter.drawEllipse(start, radius, radius)
        painter.setPen(QPen(theme.colour(role), 1.4, Qt.PenStyle.DashLine))
        painter.drawLine(QLineF(start, spot))
        text = show(reach.distance, "length", look.system)
        at = kept_inside(look, "plan", (start + spot) / 2, text)
        words(painter, look, at, text, role)
