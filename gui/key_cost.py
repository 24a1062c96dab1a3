"""The key of cost: what each device costs to run.

Prices and sums are `core.cost`'s.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from gui.key_blocks import Bar, Bars, Note
from gui.key_page import KeyPage, rows_page
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings


def cost_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    cost = readings.cost
    if not cost.by_device:
        return rows_page(view, readings, before)
    top = max(device.per_day for device in cost.by_device) or 1.0
    bars = [
        Bar(device.name, device.per_day / top, f"{device.per_day:.2f}") for device in cost.by_device
    ]
    year = tr("A year’s running: {cost} {currency}.").format(
        cost=f"{cost.per_year:.0f}", currency=cost.currency
    )
    unit = tr("{currency} a day").format(currency=cost.currency)
    return KeyPage(tr("What running costs"), unit, (Bars(tuple(bars), "ink2"), Note(year)))
