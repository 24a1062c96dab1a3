"""Jets of fans on the sheet, and strokes over what they reach: what is known before a flow is.

Speeds and reach are the engine's; fans themselves are part of the drawings.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QPainter, QPen

from core.drawing.marks import AXES, View
from core.units import show
from gui.air_strokes import weight
from gui.overlay_look import Look, arrow

if TYPE_CHECKING:
    from core.air.reach import Jet, ZoneAir

_STROKE = 17.0
_PITCH = 22.0
_STEPS = 12


def paint_jets(painter: QPainter, view: View, look: Look) -> None:
    """Draw the jets, and in plan strokes over the zones that they reach."""
    jets = {jet.fan: jet for jet in look.readings.air.jets}
    for jet in jets.values():
        if jet.fan in look.shown:
            _paint_jet(painter, view, look, jet)
    for zone in look.readings.air.zones:
        if view == "plan" and zone.part in look.shown and zone.fan in jets:
            _paint_strokes(painter, look, zone, jets[zone.fan])


def _paint_jet(painter: QPainter, view: View, look: Look, jet: Jet) -> None:
    """Draw a jet's axis by its speed, its widening edges, and a cross stroke at each mark."""
    flat = _flat(view, jet.direction)
    if math.hypot(*flat) < 0.2:
        return
    colour = look.inks.theme.colour("air")
    _paint_edges(painter, view, look, jet)
    for start, end, speed in _stretches(jet):
        painter.setPen(QPen(colour, weight(speed)))
        arrow(painter, _at(view, look, jet, start), _at(view, look, jet, end), 3.5 + weight(speed))
    painter.setPen(QPen(colour, 1.2))
    for speed, distance in jet.throws.items():
        if distance < jet.end - 1e-6:
            _paint_mark(painter, view, look, jet, speed, distance)


def _stretches(jet: Jet) -> list[tuple[float, float, float]]:
    """Return the axis in pieces: start and end [m], and the speed in the middle [m/s]."""
    last = min(max(jet.throws.values(), default=jet.end), jet.end)
    ends = [last * k / _STEPS for k in range(_STEPS + 1)]
    found = []
    for start, end in zip(ends[:-1:2], ends[1::2], strict=False):
        found.append((start, end, float(jet.jet.speed((start + end) / 2, 0.0))))
    return found


def _paint_edges(painter: QPainter, view: View, look: Look, jet: Jet) -> None:
    last = min(max(jet.throws.values(), default=jet.end), jet.end)
    pen = QPen(look.inks.theme.colour("air"), 1.0)
    pen.setDashPattern([4, 3])
    painter.setPen(pen)
    for side in (-1, 1):
        near = _beside(view, look, jet, 0.0, side)
        painter.drawLine(QLineF(near, _beside(view, look, jet, last, side)))


def _paint_mark(
    painter: QPainter, view: View, look: Look, jet: Jet, speed: float, distance: float
) -> None:
    ends = [_beside(view, look, jet, distance, side) for side in (-1, 1)]
    painter.drawLine(QLineF(*ends))
    painter.setFont(look.inks.theme.font("drawing"))
    text = show(speed, "speed", look.system, unit=False)
    painter.drawText(ends[1] + QPointF(2, -2), text)


def _flat(view: View, direction: tuple[float, float, float]) -> tuple[float, float]:
    across, up = AXES[view]
    return direction[across], direction[up]


def _at(view: View, look: Look, jet: Jet, distance: float) -> QPointF:
    point = [o + distance * d for o, d in zip(jet.origin, jet.direction, strict=True)]
    across, up = AXES[view]
    return look.camera.to_px(view, point[across], point[up])


def _beside(view: View, look: Look, jet: Jet, distance: float, side: int) -> QPointF:
    """Return the edge of a jet, a half width beside its axis, in the drawing's own plane."""
    dx, dy = _flat(view, jet.direction)
    length = math.hypot(dx, dy)
    half = max(float(jet.jet.half_width(distance)), jet.jet.diameter / 2) * look.camera.scale
    off = QPointF(dy / length * half, dx / length * half)
    return _at(view, look, jet, distance) + off * side


def _paint_strokes(painter: QPainter, look: Look, zone: ZoneAir, jet: Jet) -> None:
    """Draw strokes away from the fan over a zone, as long and heavy as the air is fast."""
    colour = look.inks.theme.colour("air")
    step = max(1, round(_PITCH / look.camera.scale / max(_pitch(zone), 1e-6)))
    for i in range(step // 2, len(zone.y), step):
        for j in range(step // 2, len(zone.x), step):
            speed = float(zone.speeds[i, j])
            if math.isnan(speed):
                continue
            at = look.camera.to_px("plan", float(zone.x[j]), float(zone.y[i]))
            away = at - look.camera.to_px("plan", jet.origin[0], jet.origin[1])
            length = math.hypot(away.x(), away.y()) or 1.0
            half = away / length * (_STROKE * min(1.0, 0.35 + speed) / 2)
            painter.setPen(QPen(colour, weight(speed), c=Qt.PenCapStyle.RoundCap))
            arrow(painter, at - half, at + half, 3.5)


def _pitch(zone: ZoneAir) -> float:
    return float(zone.x[1] - zone.x[0]) if len(zone.x) > 1 else 0.05
