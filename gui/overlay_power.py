"""Leads as wide as their load, with the watts written on the heaviest of them, and the plugs.

Routes are `core.drawing.routes`', loads the engine's.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from core.drawing.marks import View
from core.drawing.routes import Spot, plug_route
from core.drawing.shapes import seen_point
from core.units import show
from gui.items import add_line
from gui.overlay_look import Look, kept_inside, words
from gui.plug_marks import paint_plug, plug_spots

_THIN = 1.1
_FULL = 6.0
_LABELS = 4
_ROUND = 4.0


def paint_leads(painter: QPainter, view: View, look: Look) -> None:
    """Draw each lead that carries something, the widest first, then the watts on the heaviest."""
    loads = {
        part_id: watts
        for part_id, watts in look.readings.power.loads.items()
        if part_id in look.shown and watts > 0
    }
    order = sorted(loads, key=lambda part_id: -loads[part_id])
    drawn: list[tuple[list[QPointF], float]] = []
    for part_id in order:
        points = _points(look, view, part_id)
        if len(points) > 1:
            _paint_lead(painter, look, points, _width(look, part_id, loads[part_id]))
            drawn.append((points, loads[part_id]))
    said: list[QPointF] = []
    for points, watts in drawn[:_LABELS]:
        at = _middle_of_longest(points)
        if all(abs(at.x() - b.x()) + abs(at.y() - b.y()) > 40 for b in said):
            said.append(at)
            text = show(watts, "power", look.system)
            words(painter, look, kept_inside(look, view, at, text), text, "lead")
    _paint_plugs(painter, view, look)


def _paint_plugs(painter: QPainter, view: View, look: Look) -> None:
    """Draw the plugs, which are dragged to other sockets."""
    for part_id, at in plug_spots(look.placement, look.camera, view, look.shown).items():
        loose = getattr(look.placement.design.by_id[part_id], "plug", None) is None
        paint_plug(painter, look.inks.theme, at, "lead", loose=loose)


def _points(look: Look, view: View, part_id: str) -> list[QPointF]:
    if getattr(look.placement.design.by_id[part_id], "plug", None) is None:
        return []
    route: Sequence[Spot] = plug_route(look.placement, part_id)
    points = [look.camera.to_px(view, *seen_point(spot, view)) for spot in route]
    return points[:1] + [b for a, b in itertools.pairwise(points) if a != b]


def _width(look: Look, part_id: str, watts: float) -> float:
    """Return 1.1 px and 6 more at the limit of what the lead is plugged into."""
    into = look.placement.design.part(part_id).plug.into  # type: ignore[union-attr]
    limits = {step.id: step.limit_va for step in look.readings.power.steps}
    practice = look.placement.design.practice
    limit = limits.get(into) or practice.voltage * practice.breaker
    return _THIN + _FULL * min(1.0, watts / limit)


def _paint_lead(painter: QPainter, look: Look, points: list[QPointF], width: float) -> None:
    path = QPainterPath()
    add_line(path, points, False, _ROUND)
    pen = QPen(look.inks.theme.colour("lead"), width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(path)


def _middle_of_longest(points: list[QPointF]) -> QPointF:
    pieces = list(itertools.pairwise(points))
    a, b = max(pieces, key=lambda ends: math.hypot(*(ends[1] - ends[0]).toTuple()))
    return (a + b) / 2
