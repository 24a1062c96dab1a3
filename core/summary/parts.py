"""The list of parts as a table, with size and watts.

What is on the list is `core.materials`' affair; what is bought, with its price, stands in
`core.summary.shopping`.
"""

from __future__ import annotations

from core.language import tr
from core.materials.parts import Item
from core.materials.reading import MaterialsReadings
from core.model import Design, Lamp
from core.summary.blocks import Cell, Table
from core.units import show


def part_table(design: Design, found: MaterialsReadings) -> Table | None:
    """Return the table of the parts that are placed, equal ones in one row."""
    if not found.items:
        return None
    rows = tuple(_cells(item, design) for item in found.items)
    heads = (tr("Part"), tr("Count"), tr("Size"), tr("Watts each"))
    return Table(heads, rows, (0.4, 0.1, 0.36, 0.14), frozenset({1, 2, 3}))


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


def _cells(item: Item, design: Design) -> tuple[Cell, ...]:
    system = design.units
    return (
        item.name if item.count == 1 else kind_name(item, design),
        str(item.count),
        item.size.render(system) if max(item.extent) > 0 else "",
        show(item.watts, "power", system) if item.watts is not None else "",
    )
