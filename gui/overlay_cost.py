"""What the dearest devices cost a day, written beside them.

Sums are the engine's.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter

from core.drawing.marks import View
from core.language import tr
from gui.overlay_look import Look, kept_inside, words

_MOST = 6
_APART = 22.0


def paint_costs(painter: QPainter, view: View, look: Look) -> None:
    """Write the cost a day on each of the dearest devices that have room for it."""
    cost = look.readings.cost
    said: list[QPointF] = []
    for device in cost.by_device:
        if device.id not in look.shown or device.per_day < 0.005 or len(said) == _MOST:
            continue
        at = look.camera.box(view, look.placement.box(device.id)).center()
        if any(abs(at.x() - b.x()) < 60 and abs(at.y() - b.y()) < _APART for b in said):
            continue
        said.append(at)
        text = tr("{cost} {currency} a day").format(
            cost=f"{device.per_day:.2f}", currency=cost.currency
        )
        words(painter, look, kept_inside(look, view, at, text), text, "ink")
