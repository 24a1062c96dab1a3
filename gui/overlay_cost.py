"""What parts cost, tagged on them: their price, and what a day's running takes.

Sums are the engines'.
"""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from core.cost.money import money
from core.drawing.marks import View
from core.language import tr
from gui.overlay_look import Look, kept_inside, tag_rect, words

_LEAST = 0.005
"""Sums below half a cent are told nowhere."""
_CLEAR = 2.0


def paint_costs(painter: QPainter, view: View, look: Look) -> None:
    """Tag what is shown with its price and a day's running, the dearest first, while there is room.

    A tag that would cover another is left out; the shopping list has every price.
    """
    taken: list[QRectF] = []
    for part_id, text in tags(look):
        at = kept_inside(look, view, _place(look, view, part_id), text)
        rect = tag_rect(look, at, text).adjusted(-_CLEAR, -_CLEAR, _CLEAR, _CLEAR)
        if any(rect.intersects(other) for other in taken):
            continue
        taken.append(rect)
        words(painter, look, at, text, "ink")


def _place(look: Look, view: View, part_id: str) -> QPointF:
    """Return the middle of a part, for the enclosure that of its upper edge. [px]"""
    box = look.camera.box(view, look.placement.box(part_id))
    whole = look.placement.design.enclosure
    return QPointF(box.center().x(), box.top()) if whole and whole.id == part_id else box.center()


def tags(look: Look) -> Iterator[tuple[str, str]]:
    """Iterate over the shown parts that have a price or a running cost, the dearest first."""
    cost, materials = look.readings.cost, look.readings.materials
    running = {device.id: device.per_day for device in cost.by_device}
    prices = {key: materials.cost_of(key) or 0.0 for key in look.shown}
    for key in sorted(look.shown, key=lambda one: (-prices[one], -running.get(one, 0.0), one)):
        said = [money(prices[key], cost.currency)] if prices[key] >= _LEAST else []
        if running.get(key, 0.0) >= _LEAST:
            said.append(tr("{cost} a day").format(cost=money(running[key], cost.currency)))
        if said:
            yield key, " · ".join(said)
