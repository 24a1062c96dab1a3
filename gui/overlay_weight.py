"""Loads in the elevations: an arrow below each shelf with its kilograms.

What a shelf carries is the engine's; ratings are the design's.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPen

from core.drawing.marks import View
from core.units import show
from gui.overlay_look import Look, arrow, words

_LONG = 13.0


def paint_loads(painter: QPainter, view: View, look: Look) -> None:
    """Draw an arrow at each loaded shelf, in the state's colour where it is over its rating."""
    for shelf in look.readings.weight.shelves:
        if shelf.unit not in look.shown or shelf.mass <= 0:
            continue
        box = look.placement.box(shelf.unit)
        middle = box.centre[0 if view == "front" else 1]
        role = "out" if shelf.rating is not None and shelf.mass > shelf.rating else "ink"
        top = look.camera.to_px(view, middle, shelf.z)
        painter.setPen(QPen(look.inks.theme.colour(role), 1.6))
        arrow(painter, top, top + QPointF(0, _LONG), 5.0)
        text = show(shelf.mass, "mass", look.system)
        words(painter, look, top + QPointF(34, _LONG / 2 + 2), text, role)
