"""What is carried in, through which tightest place, and in which order things are put together.

The distances are those of the readings of fit, which stand in full among the readings.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import capital
from core.summary.blocks import Block, Cell, Paragraph, Table
from core.summary.rows import amount, state_cell, vial_cell, wanted

if TYPE_CHECKING:
    from core.fit.way_in import Carried
    from core.reading import Reading
    from core.readings import Readings


def carrying_in(readings: Readings) -> tuple[Block, ...]:
    """Return the table of what is carried in and the steps of assembly; empty without either."""
    table = carry_table(readings)
    steps = order_of_assembly(readings)
    return (*((table,) if table else ()), *steps)


def carry_table(readings: Readings) -> Table | None:
    """Return everything rigid with the tightest door or corner it goes through; None for none."""
    system = readings.design.units
    rows = tuple(_cells(item, row, readings, system) for item, row in readings.fit.carried)
    if not rows:
        return None
    heads = (tr("Carried in"), tr("Size"), tr("Tightest at"), tr("Takes"), tr("There is"), "",
             tr("State"))  # fmt: skip
    return Table(heads, rows, (0.18, 0.18, 0.12, 0.1, 0.13, 0.13, 0.16))


def _cells(item: Carried, row: Reading, readings: Readings, system: str) -> tuple[Cell, ...]:
    place = item.tightest
    where = tr("corner {number}").format(number=place.number) if place else ""
    if place and place.door:
        where = readings.design.by_id[place.door].name
    return (
        capital(item.load.name.render(system)),
        " × ".join(amount(side, "length", system) for side in reversed(item.load.size)),
        where,
        amount(row.value, "length", system),
        wanted(row, system),
        vial_cell(row, system),
        state_cell(row),
    )


def order_of_assembly(readings: Readings) -> tuple[Paragraph, ...]:
    """Return the steps in their order, numbered; empty where any order will do."""
    system = readings.design.units
    return tuple(
        Paragraph(tr("{number}. {step}").format(number=number, step=step.render(system)))
        for number, step in enumerate(readings.fit.order, start=1)
    )
