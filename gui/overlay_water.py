"""Trays and reservoirs filled to their level, with the litres in what is large enough.

Volumes and levels are the engine's, just after a refill.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from core.drawing.marks import View
from core.geometry import Box
from core.units import show
from gui.overlay_look import Look

if TYPE_CHECKING:
    from core.water.use import Supply

_INSET = 2.0


def paint_water(painter: QPainter, view: View, look: Look) -> None:
    """Fill what holds water; in the plan only reservoirs, since trays are full of plants."""
    for supply in look.readings.water.supplies:
        if supply.id not in look.shown or (view == "plan" and supply.kind == "tray"):
            continue
        rect = _filled(view, look, supply).adjusted(_INSET, 0, -_INSET, -1)
        if not rect.isEmpty():
            painter.fillRect(rect, look.inks.theme.colour("water"))
            _write(painter, look, rect, show(supply.volume, "volume", look.system))


def _filled(view: View, look: Look, supply: Supply) -> QRectF:
    box = look.placement.box(supply.id)
    if view != "plan":
        box = Box(box.lo, (box.hi[0], box.hi[1], min(supply.surface, box.hi[2])))
    return look.camera.box(view, box)


def _write(painter: QPainter, look: Look, rect: QRectF, text: str) -> None:
    font = look.inks.theme.font("drawing", bold=True)
    metrics = QFontMetricsF(font)
    if rect.width() < metrics.horizontalAdvance(text) + 4 or rect.height() < metrics.height():
        return
    painter.setFont(font)
    painter.setPen(look.inks.theme.colour("sheet"))
    painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, text)
