"""Trays and reservoirs filled to their level, with their litres and the days they last.

Volumes, levels and days are the engine's, just after a refill.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter

from core.drawing.marks import View
from core.geometry import Box
from core.language import tr
from core.states import State
from core.units import show
from gui.overlay_look import Look, tag_rect, words
from gui.theme import state_role

if TYPE_CHECKING:
    from core.water.use import Supply

_INSET = 2.0
_LEAST = 34.0
"""Narrower containers have no room for their days. [px]"""


def paint_water(painter: QPainter, view: View, look: Look) -> None:
    """Fill what holds water, and write its days where there is room.

    In the plan trays are full of plants, so those on the chosen level are tinted.
    """
    taken: list[QRectF] = []
    for supply in look.readings.water.supplies:
        if supply.id not in look.shown or _below_the_cut(view, look, supply):
            continue
        rect = _filled(view, look, supply).adjusted(_INSET, 0, -_INSET, -1)
        if rect.isEmpty():
            continue
        colour = QColor(look.inks.theme.colour("water"))
        if view == "plan" and supply.kind == "tray":
            colour.setAlphaF(0.28)
        painter.fillRect(rect, colour)
        if supply.kind != "tray":
            _write(painter, look, rect, show(supply.volume, "volume", look.system))
        _write_days(painter, view, look, supply, taken)


def _below_the_cut(view: View, look: Look, supply: Supply) -> bool:
    """Tell whether a tray is hidden in the plan, which shows one level."""
    return view == "plan" and supply.kind == "tray" and supply.level != look.level


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


def _write_days(
    painter: QPainter, view: View, look: Look, supply: Supply, taken: list[QRectF]
) -> None:
    """Write how long a container lasts: on a tray in the plan, else above the right end of it."""
    if supply.days is None:
        return
    whole = look.camera.box(view, look.placement.box(supply.id))
    text = _days(supply)
    at = whole.center()
    if view != "plan" or supply.kind != "tray":
        tag = tag_rect(look, at, text)
        at = QPointF(whole.right() - tag.width() / 2, whole.top() - tag.height() / 2)
    rect = tag_rect(look, at, text)
    too_narrow = supply.kind == "tray" and whole.width() < _LEAST
    if too_narrow or any(rect.intersects(other) for other in taken):
        return
    taken.append(rect)
    words(painter, look, at, text, _role(look, supply))


def _days(supply: Supply) -> str:
    assert supply.days is not None
    low, high = (f"{end:.0f}" if end < 100 else "99+" for end in supply.days[1:])
    text = tr("{low}–{high} d").format(low=low, high=high)
    return text if low != high else tr("{days} d").format(days=low)


def _role(look: Look, supply: Supply) -> str:
    """Return the colour of a container's days: that of its state where it is not fine."""
    rows = look.readings.water.rows
    state = next((r.state for r in rows if r.name == "refill" and r.place == supply.id), State.FINE)
    return "ink" if state is State.FINE else state_role(state)
