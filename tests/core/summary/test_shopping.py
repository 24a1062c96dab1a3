"""The tables to shop and saw by: every line once, sums right, in the design's own units."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

import resources
from core.materials.reading import read
from core.model import Design, StockPrice, replace
from core.storage import load
from core.study import study
from core.summary.blocks import Cell, Styled
from core.summary.shopping import (
    cut_notes,
    piece_table,
    sheet_table,
    shopping_rows,
    shopping_table,
)

DEMO = Path(resources.__file__).parent / "demos" / "stair-alcove.fern"


@pytest.fixture(scope="module")
def demo() -> Design:
    return load(DEMO)


def readings(design: Design) -> Any:
    """Return the readings that the tables look at: those of materials."""
    return SimpleNamespace(design=design, materials=read(study(design)))


def words(cell: Cell) -> str:
    return cell if isinstance(cell, str) else cell.text if isinstance(cell, Styled) else ""


def test_the_list_has_every_line_once_under_its_group_and_the_sum_at_its_foot(
    demo: Design,
) -> None:
    known = demo.prices.with_stock(StockPrice(key="seam-tape", price=0.5))
    found = readings(demo.having(prices=known))
    table = shopping_table(found)
    assert table is not None
    heads = [words(row[0]) for row in table.rows if len(row) == 1]
    assert heads == ["Parts", "Frame", "Sheets", "Water", "Electric"]
    lines = [row for row in table.rows if len(row) > 1]
    assert len(lines) == len(found.materials.lines) + 1
    boards = sum(lamp.price or 0.0 for lamp in demo.parts if lamp.kind == "lamp")
    # Seams of 4.9 m and a tenth more, in whole decimetres, at 0.50 a metre
    assert words(lines[-1][-1]) == f"{boards + 2.7:.2f} €"
    tape = next(row for row in lines if words(row[0]) == "Tape for seams")
    assert [words(cell) for cell in tape[1:]] == [
        "4.90 m",
        "0.50 m",
        "",
        "0.50 € a metre",
        "2.70 €",
    ]


def test_what_goes_by_length_is_told_in_feet_where_feet_are_used(demo: Design) -> None:
    """0.50 a foot is 1.6404 a metre; lengths are whole feet."""
    known = demo.prices.with_stock(StockPrice(key="seam-tape", price=0.5 / 0.3048))
    us = demo.having(units="us", prices=replace(known, currency="$"))
    table = shopping_table(readings(us))
    assert table is not None
    tape = next(row for row in table.rows if words(row[0]) == "Tape for seams")
    assert words(tape[4]) == "$0.50 a foot"
    assert words(tape[1]).endswith(" ft")
    heads, *rows = shopping_rows(readings(us))
    line = dict(zip(heads, next(row for row in rows if row[1] == "Tape for seams"), strict=True))
    assert line["Counted in"] == "ft"
    assert line["Needed"] == round(float(str(line["Needed"])))
    assert line["To pay [$]"] == pytest.approx(0.5 * float(str(line["To buy"])), abs=0.005)


def test_values_are_the_lists_own_and_what_is_not_known_is_left_empty(demo: Design) -> None:
    found = readings(demo)
    heads, *rows = shopping_rows(found)
    assert len(rows) == len(found.materials.lines)
    assert {len(row) for row in rows} == {len(heads)}
    paid = [row[-1] for row in rows]
    assert paid.count(None) == found.materials.unpriced
    assert sum(float(cost) for cost in paid if cost is not None) == pytest.approx(
        found.materials.total
    )


def test_pieces_are_told_by_letter_length_and_use(demo: Design) -> None:
    table = piece_table(readings(demo))
    assert table is not None
    rows = [[words(cell) for cell in row] for row in table.rows]
    assert rows[0] == ["A", "1.948 m", "6", "Upright, door upright"]
    assert [row[0] for row in rows] == list("ABCDE")


def test_it_is_said_how_good_the_cut_list_is_and_what_is_left_and_joins_it(demo: Design) -> None:
    bars, left, joints = (item.text for item in cut_notes(readings(demo)))
    assert "5 × 3.00 m, 4 × 2.00 m; no plan needs less" in bars
    assert "2 mm at each cut" in bars
    assert left.startswith("Left over: ")
    assert "8 × Corner fitting, three ways" in joints


def test_sheets_add_up_to_what_is_bought(demo: Design) -> None:
    found = readings(demo)
    assert sheet_table(found) is not None
    for plan in found.materials.made.sheets:
        doors = sum(piece.area for _, sheet in plan.faces for piece in sheet.door_pieces)
        whole = plan.net_area + plan.left_over + plan.layers * doors
        assert whole == pytest.approx(plan.count * plan.each)


def test_without_an_enclosure_nothing_is_cut(demo: Design) -> None:
    bare = Design(room=demo.room)
    found = readings(bare)
    assert shopping_table(found) is piece_table(found) is sheet_table(found) is None
    assert cut_notes(found) == ()
