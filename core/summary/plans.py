"""What is refilled when, what would run out, and what each shelf carries, as tables.

The numbers are those of the readings of water and weight; other tables are in
`core.summary.tables`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.model import ShelfUnit
from core.phrases import capital
from core.study import Study
from core.summary.blocks import Block, Cell, Paragraph, Styled, Table
from core.summary.rows import amount, span, state_cell
from core.water.fortnight import refill_days

if TYPE_CHECKING:
    from core.reading import Reading
    from core.readings import Readings
    from core.water.leaks import Leak, Spill
    from core.water.use import Supply
    from core.weight.reading import ShelfLoad

_TOLD = ("refill-whole", "away", "purified")
"""Readings of water that stand as sentences below the table of refills."""


def refill_plan(readings: Readings) -> tuple[Block, ...]:
    """Return each container's rhythm, what to know of all together, and the fourteen days."""
    water, system = readings.water, readings.design.units
    table = refill_table(readings)
    if table is None:
        return ()
    told = tuple(
        Paragraph(f"{capital(row.line.render(system))}.") for row in water.rows if row.name in _TOLD
    )
    ahead = ahead_table(readings)
    if ahead is None:
        return (table, *told)
    title = Paragraph(tr("The fourteen days to come, all full today"), bold=True)
    return (table, *told, title, ahead)


def refill_table(readings: Readings) -> Table | None:
    """Return the trays and reservoirs, the first to run dry first; None without any."""
    rows = {row.place: row for row in readings.water.rows if row.name == "refill"}
    used = [supply for supply in readings.water.supplies if supply.id in rows]
    if not used:
        return None
    used.sort(key=lambda supply: supply.days.value if supply.days else float("inf"))
    cells = tuple(_refill_cells(one, rows[one.id], readings.design.units) for one in used)
    heads = (
        tr("Where"), tr("Holds"), tr("A day"), tr("Lasts"), tr("Refill every"), tr("State"),
    )  # fmt: skip
    return Table(heads, cells, (0.26, 0.12, 0.12, 0.18, 0.15, 0.17))


def _refill_cells(supply: Supply, row: Reading, system: str) -> tuple[Cell, ...]:
    every = refill_days(supply)
    return (
        capital(supply.name),
        amount(supply.volume, "volume", system),
        amount(supply.per_day, "volume", system),
        span(row.low, row.high, row.kind, system),
        _days(every) if every is not None else "–",
        state_cell(row),
    )


def _days(count: int) -> str:
    return tr("day") if count == 1 else tr("{count} days").format(count=count)


def ahead_table(readings: Readings) -> Table | None:
    """Return the refills of the fourteen days to come; None where there are none."""
    ahead, system = readings.water.ahead, readings.design.units
    if ahead is None or not ahead.refills:
        return None
    rows = tuple(
        (
            tr("Day {day}").format(day=refill.day),
            ", ".join(refill.names),
            amount(refill.volume, "volume", system),
        )
        for refill in ahead.refills
    )
    return Table((tr("When"), tr("Refill"), tr("Water")), rows, (0.12, 0.72, 0.16))


def spill_table(readings: Readings) -> Table | None:
    """Return what each container lets out alone, and all together, against the liner."""
    spill, system = readings.water.spill, readings.design.units
    rows = [_leak_cells(leak, spill, readings, system) for leak in spill.onto_liner]
    if not rows:
        return None
    rows.append(
        (
            Styled(tr("All together"), bold=True),
            amount(spill.total, "volume", system),
            _runs_over(spill, spill.total, system),
        )
    )
    rows += [
        (leak.name, amount(leak.volume, "volume", system), tr("onto the room’s floor"))
        for leak in spill.onto_room_floor
    ]
    heads = (tr("If it ran out"), tr("Water"), tr("Over the liner’s edge"))
    return Table(heads, tuple(rows), (0.5, 0.2, 0.3))


def _leak_cells(leak: Leak, spill: Spill, readings: Readings, system: str) -> tuple[Cell, ...]:
    name = leak.name
    if leak.feed:
        feed = readings.design.by_id[leak.feed].name
        name = tr("{name} through {feed}").format(name=leak.name, feed=feed)
    return name, amount(leak.volume, "volume", system), _runs_over(spill, leak.volume, system)


def _runs_over(spill: Spill, volume: float, system: str) -> Cell:
    if spill.capacity is None:
        return tr("no floor liner")
    over = spill.runs_over(volume)
    if over <= 0:
        return tr("nothing")
    return Styled(amount(over, "volume", system), "out", bold=True)


def load_table(readings: Readings, look: Study) -> Table | None:
    """Return what each shelf carries, by what it is made of, the highest of each unit first."""
    if not readings.weight.shelves:
        return None
    rows: list[tuple[Cell, ...]] = []
    states = [row for row in readings.weight.rows if row.name == "shelf-load"]
    loads = list(zip(readings.weight.shelves, states, strict=True))
    for unit in look.design.of(ShelfUnit):
        mine = [pair for pair in loads if pair[0].unit == unit.id]
        rows += [_load_cells(look, *pair, readings.design.units) for pair in reversed(mine)]
    heads = (
        tr("Shelf"), tr("Water"), tr("Pots"), tr("Trays"), tr("Lamps"), tr("Others"),
        tr("Together"), tr("Limit"), tr("State"),
    )  # fmt: skip
    return Table(heads, tuple(rows), (0.2, 0.09, 0.09, 0.09, 0.09, 0.09, 0.1, 0.1, 0.15))


def _load_cells(look: Study, shelf: ShelfLoad, row: Reading, system: str) -> tuple[Cell, ...]:
    parts = shelf.shares
    masses = (parts.water, parts.pots, parts.trays, parts.lamps, parts.others + parts.shelf)
    return (
        capital(look.level_words((shelf.unit, shelf.level)).render(system)),
        *(amount(mass, "mass", system) if mass > 0 else "" for mass in masses),
        Styled(amount(shelf.mass, "mass", system), bold=True),
        amount(shelf.rating, "mass", system),
        state_cell(row),
    )
