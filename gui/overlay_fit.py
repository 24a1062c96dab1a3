"""Clearances as tapes, where parts are in each other's way, and how far one reaches.

What fits is judged in `core.fit`.
"""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from core.drawing.marks import View
from core.drawing.shapes import seen_point
from core.units import show
from gui.overlay_look import Look, hatch, words
from gui.theme import state_role

_TICK = 3.5


def paint_fit(painter: QPainter, view: View, look: Look) -> None:
    """Draw the clearances, the overlaps, and in the plan the reach from each place to stand."""
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
            words(painter, look, (a + b) / 2, text, role)


def _paint_overlap(painter: QPainter, view: View, look: Look, first: str, second: str) -> None:
    if not {first, second} <= look.shown:
        return
    rect = look.camera.box(view, look.placement.box(first)) & look.camera.box(
        view, look.placement.box(second)
    )
    if not rect.isEmpty():
        hatch(painter, rect, look.inks.theme.colour("out"))


def _paint_reach(painter: QPainter, look: Look) -> None:
    """Draw the dashed line that the hand reaches to from before each door."""
    fit = look.readings.fit
    pen = QPen(look.inks.theme.colour("edge"), 1.0)
    pen.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    reach = fit.reach * look.camera.scale
    for stand in fit.stands:
        rect = look.camera.rect("plan", stand.area)
        painter.drawRoundedRect(QRectF(rect).adjusted(-reach, -reach, reach, reach), reach, reach)
