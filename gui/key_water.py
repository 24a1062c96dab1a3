"""The key of water: every container, how full it is and how long it lasts, and what else to know.

How fast water is used is `core.water`'s to say.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import Amount, capital
from core.states import State
from gui.key_blocks import Bar, Bars, Block, Note, Said
from gui.key_page import KeyPage, rows_page
from gui.readings_panel import plain_state
from gui.view import View

if TYPE_CHECKING:
    from core.reading import Reading
    from core.readings import Readings
    from core.water.reading import WaterReadings
    from core.water.use import Supply

_MOST_BARS = 4
_FIRST = ("away", "spill", "feed-flow", "purified", "refill-whole", "minerals", "spill-largest")
"""In which order the other readings of water are told, those that are amiss before them all."""


def water_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return containers as bars, and below them what is read of all together."""
    water, system = readings.water, readings.design.units
    if not water.supplies:
        return rows_page(view, readings, before)
    states = {row.place: row.state for row in water.rows if row.name == "refill"}
    soonest = _soonest(water.supplies)
    shown = soonest if len(soonest) <= _MOST_BARS + 1 else soonest[:_MOST_BARS]
    bars = tuple(_supply_bar(supply, states, system) for supply in shown)
    blocks: list[Block] = [Bars(bars, "water", framed=True)]
    rest = len(soonest) - len(shown)
    if rest:
        blocks.append(Note(tr("{n} more last as long or longer.").format(n=rest)))
    # Told whole: what the liner holds matters as much as what runs out.
    lines = [(row.state, row.line.render(system).replace("; ", ", ")) for row in _others(water)]
    said = [(state, capital(line)) for state, line in lines]
    blocks.append(Said(tuple(said)))
    if water.away is None:
        blocks.append(Note(_without_anybody(soonest[0])))
    return KeyPage(tr("Water, and when to refill"), tr("days"), tuple(blocks))


def _others(water: WaterReadings) -> list[Reading]:
    """Return what is read besides the containers, what is amiss first."""
    found = [row for row in water.rows if row.name in _FIRST]
    return sorted(found, key=lambda row: (plain_state(row.state), _FIRST.index(row.name)))


def _without_anybody(first: Supply) -> str:
    """Return how long nobody need be there, as long as no days were asked for."""
    if first.days is None:
        return tr("Nothing uses water.")
    text = tr("Full, all lasts {low} days surely. Type “Days away” in the design’s form to ask.")
    return text.format(low=f"{first.days.low:.0f}")


def _soonest(supplies: Iterable[Supply]) -> list[Supply]:
    """Return containers, the first to run dry first."""
    return sorted(supplies, key=lambda one: one.days.value if one.days else float("inf"))


def _supply_bar(supply: Supply, states: dict[str, State], system: str) -> Bar:
    share = min(1.0, supply.volume / supply.holds) if supply.holds else 0.0
    volume = tr("{volume} of {holds}").format(
        volume=Amount(supply.volume, "volume").render(system),
        holds=Amount(supply.holds, "volume").render(system),
    )
    state = states.get(supply.id, State.FINE)
    if supply.days is None:
        return Bar(supply.name, share, volume, "–", state)
    low, high = (f"{end:.0f}" if end < 365 else "365+" for end in supply.days[1:])
    days = tr("{low} to {high}").format(low=low, high=high)
    return Bar(supply.name, share, volume, days, state)
