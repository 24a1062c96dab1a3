"""Cutting diagrams and sheet plans, measured on the paper: to scale, whole, and inside the page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

import resources
from core.drawing.cutting import BAR, cutting_diagram, roll_diagram
from core.drawing.paper import Clip, Curve, Drawing, Item, Shape, Text
from core.drawing.sheet_plans import board_drawing, face_drawing, liner_drawing, sheet_drawings
from core.materials import Stock, cut_list_mixed
from core.materials.cutting import cut_list
from core.materials.from_design import enclosure_materials
from core.materials.liner import liner_plan
from core.materials.plans import BoardPlan, FacePart, RollPlan
from core.materials.sheets import Hole, boards_for, cover_face
from core.materials.stock import Board, Roll
from core.model import Sheet
from core.storage import load

DEMOS = [
    path
    for path in sorted(Path(resources.__file__).parent.glob("demos/*.fern"))
    if load(path).enclosure is not None
]
FILM = Sheet(material="Clear film")
WIDTH, HEIGHT = 180.0, 110.0


def shapes(drawing: Drawing) -> list[Shape]:
    return [item for item in drawing.items if isinstance(item, Shape)]


def texts(drawing: Drawing) -> list[str]:
    return [item.text for item in drawing.items if isinstance(item, Text)]


def size(shape: Shape) -> tuple[float, float]:
    xs, ys = zip(*shape.points, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def points(item: Item) -> Iterator[tuple[float, float]]:
    if isinstance(item, Shape):
        yield from item.points
    elif isinstance(item, Curve):
        yield item.centre
    elif isinstance(item, Clip):
        for one in item.items:
            yield from points(one)
    else:
        yield item.at


def test_pieces_offcuts_and_bars_are_to_one_scale() -> None:
    """Two bars of 2 m hold 1.2 and 0.7 m; 1.1 m is left of the 3 m that hold 1.9 m."""
    plan = cut_list_mixed({1.2: 1, 0.7: 1, 1.9: 1}, [Stock(2.0), Stock(3.0, 9.0)], 0.01)
    drawn = cutting_diagram(plan, 212.0, "metric", {1.9: "A", 1.2: "B", 0.7: "C"})
    per_metre = (212.0 - 12.0) / 2.0
    filled = sorted(size(item)[0] / per_metre for item in shapes(drawn) if item.fill)
    assert filled == pytest.approx([0.7, 1.2, 1.9])
    dashed = sorted(size(item)[0] / per_metre for item in shapes(drawn) if item.dash)
    # Each cut takes 10 mm: 2.0 − 1.9 − 0.01 and 2.0 − 1.9 − 0.02
    assert dashed == pytest.approx([0.08, 0.09])
    assert all(size(item)[1] == pytest.approx(BAR) for item in shapes(drawn))
    assert {"A", "B", "C", "1.900 m", "1.200 m", "0.700 m"} <= set(texts(drawn))
    assert drawn.title == "Cutting diagram: 2 bars"


def test_a_face_is_drawn_to_its_scale_with_seams_beside_the_door() -> None:
    """5 m wide from a roll of 2 m: left to itself a seam would fall into the door."""
    door = Hole(1.6, 0.1, 0.9, 1.6, "zip")
    part = FacePart("front", "cover", 5.0, 1.9, (door,), FILM)
    roll = Roll(2.0, 10.0)
    sheet = cover_face(5.0, 1.9, roll, hem=0.1, holes=(door,))
    plan = RollPlan(FILM, roll, ((part, sheet),), 1, cut_list({2.1: 3}, 10.0))
    drawn = face_drawing(plan, part, sheet, WIDTH, HEIGHT, "metric")
    assert drawn.scale in (25, 50, 100)
    k = 1000 / drawn.scale
    outline = [item for item in shapes(drawn) if size(item) == pytest.approx((5.0 * k, 1.9 * k))]
    assert len(outline) == 1
    left = min(x for x, _ in outline[0].points)
    bands = [item for item in shapes(drawn) if item.fill and item.closed and size(item)[1] > k]
    assert len(bands) == sheet.strips.count - 1 > 0
    for band in bands:
        assert size(band)[0] / k == pytest.approx(0.05)
        middle = (min(x for x, _ in band.points) - left) / k + 0.025
        assert not 1.6 < middle < 2.5
    zips = [item for item in shapes(drawn) if not item.closed and size(item) == pytest.approx(
        (0.0, 1.6 * k))]  # fmt: skip
    assert len(zips) == 2
    assert any(f"1:{drawn.scale}" in text for text in texts(drawn))


def test_as_many_clamps_are_drawn_as_are_bought() -> None:
    part = FacePart("left", "cover", 0.9, 1.9, (), FILM)
    roll = Roll(2.0, 10.0)
    sheet = cover_face(0.9, 1.9, roll)
    plan = RollPlan(FILM, roll, ((part, sheet),), 1, cut_list({1.9: 1}, 10.0))
    drawn = face_drawing(plan, part, sheet, WIDTH, HEIGHT, "metric")
    dots = [item for item in shapes(drawn) if item.colour is None and item.fill]
    # ⌈0.9/0.4⌉ and ⌈1.9/0.4⌉ for each of two edges
    assert len(dots) == sheet.clamps == 2 * (3 + 5)


def test_boards_lie_edge_to_edge() -> None:
    """2.4 × 2.0 m of boards 1.2 × 2.4 m: two side by side; one line between them."""
    board = Board(1.2, 2.4)
    part = FacePart("back", "cover", 2.4, 2.0, (), FILM)
    assert boards_for(2.4, 2.0, board) == 2
    drawn = board_drawing(BoardPlan(FILM, board, ((part, 2),)), part, WIDTH, HEIGHT, "metric")
    assert drawn.scale is not None
    k = 1000 / drawn.scale
    (outline,) = [item for item in shapes(drawn) if item.closed]
    left = min(x for x, _ in outline.points)
    upright = [item for item in shapes(drawn) if size(item) == pytest.approx((0.0, 2.0 * k))]
    # One parts the boards, one measures the height beside the face
    assert sorted((item.points[0][0] - left) / k for item in upright)[0] == pytest.approx(1.2)
    assert len(upright) == 2
    assert texts(drawn).count("1.200 m") == 2


def test_a_liner_is_folded_where_its_floor_ends() -> None:
    """Floor 2.1 × 1.2 m, lip 0.15 m: the blank is 2.4 × 1.5 m."""
    plan = liner_plan(2.1, 1.2, (0.15,) * 4, [Roll(2.0, 5.0)])
    drawn = liner_drawing(plan, WIDTH, HEIGHT, "metric")
    assert drawn.scale is not None
    k = 1000 / drawn.scale
    closed = [size(item) for item in shapes(drawn) if item.closed]
    assert closed == [pytest.approx((2.4 * k, 1.5 * k))]
    folds = [item for item in shapes(drawn) if item.dash and 0.0 in size(item)]
    assert sorted(max(size(item)) / k for item in folds) == pytest.approx([1.5, 1.5, 2.4, 2.4])
    corners = [item for item in shapes(drawn) if size(item) == pytest.approx((0.15 * k,) * 2)]
    assert len(corners) == 4
    assert {"2.400 m", "1.500 m", "2.100 m"} <= set(texts(drawn))


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_drawing_of_a_demo_is_titled_and_lies_on_its_paper(path: Path, system: str) -> None:
    design = load(path).having(units=system)
    made = enclosure_materials(design)
    assert made is not None
    faces = sheet_drawings(made, WIDTH, HEIGHT, system)
    drawn = [
        cutting_diagram(made.frame.cuts, WIDTH, system),
        *(roll_diagram(plan, WIDTH, system) for plan in made.rolls),
        *faces,
    ]
    wanted = sum(len(plan.faces) for plan in made.sheets) + (made.liner is not None)
    assert len(faces) == wanted
    for drawing in drawn:
        assert drawing.title
        assert drawing.height <= max(HEIGHT, 12.0 * len(made.frame.cuts.patterns))
        for x, y in (point for item in drawing.items for point in points(item)):
            assert -0.01 <= x <= drawing.width + 0.01, drawing.title
            assert -0.01 <= y <= drawing.height + 0.01, drawing.title
        assert not [text for text in texts(drawing) if "{" in text or "nan" in text]
