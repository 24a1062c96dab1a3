"""What is bought and sawn, as tables: the shopping list, the frame's pieces, rolls and boards.

What is on them is `core.materials`' affair; parts as they are placed stand in
`core.summary.parts`, diagrams in `core.summary.cuts`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from core.cost.money import money
from core.language import tr
from core.materials.pieces import role_name
from core.materials.plans import FramePlan, RollPlan
from core.materials.reading import sure_words
from core.materials.shopping import GROUPS, Line, group_name
from core.materials.wares import fitting, priced_for
from core.phrases import capital
from core.summary.blocks import Cell, Paragraph, Styled, Table
from core.summary.rows import amount
from core.units import show

if TYPE_CHECKING:
    from core.readings import Readings

Field = str | float | int | None
_OFFCUTS = 6
"""So many lengths of offcuts are told, the longest first."""


def shopping_table(readings: Readings) -> Table | None:
    """Return the shopping list, group by group; its last row adds up what has a price."""
    found, system = readings.materials, readings.design.units
    if not found.lines:
        return None
    rows: list[tuple[Cell, ...]] = []
    for group in GROUPS:
        lines = [line for line in found.lines if line.group == group]
        if lines:
            rows.append((group_name(group),))
            rows += [_cells(line, found.currency, system) for line in lines]
    words = tr("All")
    if found.unpriced:
        words = tr("All with a price; {count} without").format(count=found.unpriced)
    total = Styled(money(found.total, found.currency), bold=True)
    rows.append((Styled(words, bold=True), "", "", "", "", total))
    heads = (
        tr("Thing"), tr("Needed"), tr("Spare"), tr("Owned"), tr("Price each"), tr("To pay"),
    )  # fmt: skip
    widths = (0.42, 0.11, 0.09, 0.09, 0.15, 0.14)
    return Table(heads, tuple(rows), widths, frozenset({1, 2, 3, 4, 5}))


def _cells(line: Line, currency: str, system: str) -> tuple[Cell, ...]:
    cost: Cell = Styled(tr("not given"), "ink2")
    if line.to_buy == 0:
        cost = Styled(tr("owned"), "ink2")
    elif line.cost is not None:
        cost = money(line.cost, currency)
    return (
        line.name.render(system),
        _count(line.needed, line, system),
        _count(line.spare, line, system) if line.spare else "",
        _count(line.owned, line, system) if line.owned else "",
        "–" if line.price is None else _price(line, currency, system),
        cost,
    )


def _count(count: float, line: Line, system: str) -> str:
    return show(count, "length", system) if line.by == "length" else f"{count:g}"


def _price(line: Line, currency: str, system: str) -> str:
    price = money((line.price or 0.0) * priced_for(line.by, system), currency)
    if line.by == "piece":
        return price
    text = tr("{price} a foot") if system == "us" else tr("{price} a metre")
    return text.format(price=price)


def shopping_rows(readings: Readings) -> list[tuple[Field, ...]]:
    """Return the shopping list for a file of values: heads, then a row a line."""
    found, system = readings.materials, readings.design.units
    currency = readings.design.prices.currency
    heads: tuple[Field, ...] = (
        tr("Group"), tr("Thing"), tr("Needed"), tr("Spare"), tr("Owned"), tr("To buy"),
        tr("Counted in"), f"{tr('Price each')} [{currency}]", f"{tr('To pay')} [{currency}]",
    )  # fmt: skip
    return [heads, *(_values(line, system) for line in found.lines)]


def _values(line: Line, system: str) -> tuple[Field, ...]:
    unit = priced_for(line.by, system)
    lengths = tr("ft") if system == "us" else tr("m")
    counts = (line.needed, line.spare, line.owned, line.to_buy)
    return (
        group_name(line.group),
        line.name.render(system),
        *(float(f"{count / unit:.6g}") for count in counts),
        lengths if line.by == "length" else tr("pieces"),
        None if line.price is None else float(f"{line.price * unit:.6g}"),
        None if line.cost is None else round(line.cost, 2),
    )


# The frame ---------------------------------------------------------------------------------------


def piece_table(readings: Readings) -> Table | None:
    """Return the pieces that the frame is sawn into, by their letters."""
    pieces, system = readings.materials.pieces, readings.design.units
    if not pieces:
        return None
    rows = tuple(
        (
            Styled(piece.letter, bold=True),
            show(piece.length, "length", system, fine=True),
            str(piece.count),
            capital(", ".join(role_name(role) for role in piece.roles)),
        )
        for piece in pieces
    )
    heads = (tr("Piece"), tr("Length"), tr("Count"), tr("For"))
    return Table(heads, rows, (0.12, 0.22, 0.12, 0.54), frozenset({1, 2}))


def cut_notes(readings: Readings) -> tuple[Paragraph, ...]:
    """Return how good the cut list is, what the saw takes, what is left, and what joins it all."""
    made = readings.materials.made
    if made is None or not made.frame.cuts.patterns:
        return ()
    return tuple(Paragraph(text) for text in _frame_notes(made.frame, readings))


def _frame_notes(frame: FramePlan, readings: Readings) -> Iterator[str]:
    system = readings.design.units
    box = readings.design.enclosure
    assert box is not None
    bought = ", ".join(
        f"{count} × {show(length, 'length', system)}" for length, count in frame.cuts.bought.items()
    )
    yield tr("Bars of {stock}: {bars}; {sure}. The saw takes {kerf} at each cut.").format(
        stock=box.frame.material, bars=bought, sure=sure_words(frame).render(system),
        kerf=show(frame.cuts.kerf, "length", system, fine=True),
    )  # fmt: skip
    if frame.cuts.offcuts:
        yield tr("Left over: {list}.").format(list=_offcuts(frame, system))
    joints = ", ".join(
        f"{count} × {fitting(kind, box).name.render(system)}"
        for kind, count in frame.fittings.items()
    )
    yield tr("Joined by: {list}.").format(list=joints)


def _offcuts(frame: FramePlan, system: str) -> str:
    all_left = list(frame.cuts.offcuts.items())
    told = [f"{count} × {show(length, 'length', system)}" for length, count in all_left[:_OFFCUTS]]
    rest = sum(count for _, count in all_left[_OFFCUTS:])
    return ", ".join([*told, tr("{count} shorter").format(count=rest)] if rest else told)


# Sheets ------------------------------------------------------------------------------------------


def sheet_table(readings: Readings) -> Table | None:
    """Return rolls, boards and the liner: what is bought, covered with it and left over."""
    made, system = readings.materials.made, readings.design.units
    if made is None or not (made.sheets or made.liner):
        return None
    rows: list[tuple[Cell, ...]] = [
        (
            plan.ware.name.render(system),
            str(plan.count),
            amount(plan.net_area, "area", system),
            amount(plan.left_over, "area", system),
            str(plan.clamps),
            show(plan.zips, "length", system) if isinstance(plan, RollPlan) and plan.zips else "",
        )
        for plan in made.sheets
    ]
    if made.liner is not None:
        rows.append(
            (
                tr("Floor liner"),
                show(made.liner.length, "length", system),
                amount(made.liner.blank.area, "area", system),
                amount(made.liner.left_over, "area", system),
                "",
                "",
            )
        )
    heads = (
        tr("Sheet"), tr("Bought"), tr("Covers"), tr("Left over"), tr("Clamps"), tr("Zips"),
    )  # fmt: skip
    widths = (0.4, 0.12, 0.13, 0.13, 0.1, 0.12)
    return Table(heads, tuple(rows), widths, frozenset({1, 2, 3, 4, 5}))
