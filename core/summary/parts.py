"""The list of parts as a table, with size, watts and price.

What is on the list is `core.materials`' affair.
"""

from __future__ import annotations

from core.cost.money import money
from core.language import tr
from core.materials.parts import Item
from core.materials.reading import MaterialsReadings
from core.model import Design, Lamp
from core.phrases import Phrase, phrase
from core.summary.blocks import Cell, Styled, Table
from core.units import show


def part_table(design: Design, found: MaterialsReadings) -> Table | None:
    """Return the table of parts; its last row adds up what still has to be bought."""
    if not found.items:
        return None
    currency, system = design.prices.currency, design.units
    rows = [_cells(item, design) for item in found.items]
    counted = [item for item in found.items if not _is_built(item)]
    total = _total(sum(1 for item in counted if item.cost is None)).render(system)
    paid = Styled(money(sum(item.cost or 0.0 for item in counted), currency), bold=True)
    rows.append((Styled(total, bold=True), "", "", "", "", paid))
    heads = (tr("Part"), tr("Count"), tr("Size"), tr("Watts each"), tr("Price each"), tr("To buy"))
    return Table(heads, tuple(rows), (0.26, 0.07, 0.29, 0.12, 0.12, 0.14), frozenset({1, 3, 4, 5}))


def kind_name(item: Item, design: Design) -> str:
    """Return what several equal parts are called together."""
    part = design.by_id.get(item.ids[0])
    if isinstance(part, Lamp):
        return {"board": tr("Board"), "tube": tr("Tube"), "spot": tr("Spot")}[part.form]
    names = {
        "shelf-unit": tr("Shelf unit"),
        "platform": tr("Platform"),
        "tray": tr("Tray"),
        "pots": tr("Pot"),
        "fan": tr("Circulation fan"),
        "duct-fan": tr("Duct fan"),
        "reservoir": tr("Reservoir"),
        "feed": tr("Feed line"),
        "fogger": tr("Fogger"),
        "cooler": tr("Cooler"),
        "heater": tr("Heater"),
        "strip": tr("Strip"),
        "lead": tr("Lead"),
        "timer": tr("Timer"),
        "thermostat": tr("Thermostat"),
        "humidistat": tr("Humidistat"),
    }
    return names.get(item.kind, item.name)


def _is_built(item: Item) -> bool:
    """Tell whether an enclosure is built of what is on the shopping list."""
    return item.kind == "enclosure" and item.price is None and item.owned == 0


def _total(unpriced: int) -> Phrase:
    if unpriced:
        return phrase("All with a price; {count} without", count=unpriced)
    return phrase("All")


def _cells(item: Item, design: Design) -> tuple[Cell, ...]:
    currency, system = design.prices.currency, design.units
    unknown = Styled(tr("not given"), "ink2")
    owned = Styled(tr("owned"), "ink2")
    if _is_built(item):
        cost: Cell = Styled(tr("built"), "ink2")
    elif item.to_buy == 0:
        cost = owned
    else:
        cost = unknown if item.cost is None else money(item.cost, currency)
    return (
        item.name if item.count == 1 else kind_name(item, design),
        str(item.count),
        item.size.render(system) if max(item.extent) > 0 else "",
        show(item.watts, "power", system) if item.watts is not None else "",
        "–" if item.price is None else money(item.price, currency),
        cost,
    )
