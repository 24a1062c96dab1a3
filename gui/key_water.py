"""The key of water: every container with its litres and the days it lasts.

How fast water is used is `core.water`'s to say.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import Amount
from core.states import State
from gui.key_blocks import Bar, Bars, Block, Note
from gui.key_page import KeyPage, rows_page
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings
    from core.water.use import Supply


def water_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    water, system = readings.water, readings.design.units
    if not water.supplies:
        return rows_page(view, readings, before)
    most = max(supply.volume for supply in water.supplies) or 1.0
    states = {row.place: row.state for row in water.rows if row.name == "refill"}
    bars = [_supply_bar(supply, most, states, system) for supply in _soonest(water.supplies)]
    blocks: list[Block] = [Bars(tuple(bars), "water", framed=True)]
    blocks += [Note(row.line.render(system)) for row in water.rows if row.name != "refill"][:1]
    return KeyPage(tr("Water, and when to refill"), tr("days"), tuple(blocks))


def _soonest(supplies: Iterable[Supply]) -> list[Supply]:
    """Return containers, the first to run dry first."""
    return sorted(supplies, key=lambda one: one.days.value if one.days else float("inf"))


def _supply_bar(supply: Supply, most: float, states: dict[str, State], system: str) -> Bar:
    volume = Amount(supply.volume, "volume").render(system)
    state = states.get(supply.id, State.FINE)
    if supply.days is None:
        return Bar(supply.name, supply.volume / most, volume, "–", state)
    ends = [f"{end:.0f}" for end in (supply.days.low, supply.days.high)]
    days = tr("{low} to {high}").format(low=ends[0], high=ends[1])
    return Bar(supply.name, supply.volume / most, volume, days, state)
