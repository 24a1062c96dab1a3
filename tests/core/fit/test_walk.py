"""Ways through a room, against widths laid out by hand and a coarse search of every place."""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.fit.walk import (
    NARROWEST,
    WIDEST,
    Walk,
    beyond_walls,
    nearest,
    pinch,
    way_in,
    widest_way,
)
from core.geometry import Rectangle

FLOOR = Rectangle(0.0, 0.0, 4.0, 3.0)
DOOR = Rectangle(0.0, 0.0, 1.0, 0.0)
GOAL = Rectangle(1.0, 3.0, 3.0, 3.0)


def walk(*blocked: Rectangle) -> Walk:
    return Walk(FLOOR, blocked, (DOOR,), drawn=True)


def test_an_empty_room_is_as_wide_as_it_is_told_at_most() -> None:
    assert widest_way(walk(), GOAL) == WIDEST


def test_the_way_is_as_wide_as_the_gap_between_two_things() -> None:
    wall = walk(Rectangle(0.0, 1.2, 1.5, 1.4), Rectangle(2.3, 1.2, 4.0, 1.4))
    assert widest_way(wall, GOAL) == pytest.approx(0.8)


def test_of_two_gaps_the_wider_counts() -> None:
    wall = walk(
        Rectangle(0.4, 1.2, 1.5, 1.4), Rectangle(2.1, 1.2, 4.0, 1.4)
    )  # 0.4 m at the left wall, 0.6 m further on
    assert widest_way(wall, GOAL) == pytest.approx(0.6)


def test_a_wall_without_a_gap_lets_nobody_through() -> None:
    wall = walk(Rectangle(0.0, 1.2, 4.0, 1.4))
    assert widest_way(wall, GOAL) == 0.0
    assert way_in(wall, GOAL, 0.5) == ()


def test_a_pinch_is_as_long_as_what_makes_it() -> None:
    wall = walk(Rectangle(0.0, 1.0, 1.5, 1.5), Rectangle(2.3, 1.0, 4.0, 1.5))
    assert pinch(wall, GOAL, 0.9) == pytest.approx(0.5)
    assert pinch(walk(), GOAL, 0.9) == 0.0


boxes = st.builds(
    lambda x, y, w, h: Rectangle(x / 10, y / 10, (x + w) / 10, (y + h) / 10),
    *(st.integers(0, 40), st.integers(0, 30), st.integers(1, 20), st.integers(1, 10)),
)


@settings(max_examples=25, deadline=None)
@given(st.lists(boxes, max_size=4))
def test_the_widest_way_is_the_widest_that_a_search_of_a_fine_grid_finds(
    blocked: list[Rectangle],
) -> None:
    """Everything lies on a grid of 10 cm, so a square of whole 5 cm moves in steps of 5 cm."""
    found = widest_way(walk(*blocked), GOAL)
    # What a wide square can do, a narrower one can: count up to the first that cannot.
    most = bisect_left(range(4, 41), True, key=lambda size: not _gets_there(blocked, size / 20))
    assert (found >= NARROWEST) == (most > 0)
    if most:
        widest = (most + 3) / 20
        assert widest - 1e-9 <= found <= widest + 0.05 + 1e-9


def _gets_there(blocked: list[Rectangle], size: float) -> bool:
    """Flood the corners of a square on a grid of 5 cm; 1 mm of slack keeps off rounding."""
    xs, ys = np.arange(0, 81) / 20, np.arange(0, 61) / 20
    free = {
        (i, j)
        for (i, x), (j, y) in product(enumerate(xs), enumerate(ys))
        if x + size <= 4.001 and y + size <= 3.001 and not any(
            x + size > b.x0 + 1e-3 and x < b.x1 - 1e-3 and y + size > b.y0 + 1e-3
            and y < b.y1 - 1e-3
            for b in blocked
        )
    }  # fmt: skip
    seen = {(i, j) for i, j in free if j == 0 and xs[i] < 1.0 - 1e-3}
    front = list(seen)
    while front:
        i, j = front.pop()
        for cell in ((i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)):
            if cell in free and cell not in seen:
                seen.add(cell)
                front.append(cell)
    return any(
        abs(ys[j] + size - 3) < 1e-3 and xs[i] < 3 - 1e-3 and xs[i] + size > 1 + 1e-3
        for i, j in seen
    )


@settings(max_examples=30, deadline=None)
@given(st.lists(boxes, max_size=4))
def test_the_line_of_a_way_meets_nothing(blocked: list[Rectangle]) -> None:
    size = 0.5
    line = way_in(walk(*blocked), GOAL, size)
    for (ax, ay), (bx, by) in pairwise(line[1:-1]):
        for share in np.linspace(0, 1, 25):
            x, y = ax + share * (bx - ax) - size / 2, ay + share * (by - ay) - size / 2
            body = Rectangle(x + 1e-3, y + 1e-3, x + size - 1e-3, y + size - 1e-3)
            assert not any(body.overlap(area) for area in blocked)


def test_a_corner_that_a_room_lacks_is_no_floor() -> None:
    outline = ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 3.0), (0.0, 3.0))
    assert beyond_walls(outline) == (Rectangle(2.0, 2.0, 4.0, 3.0),)


def test_beside_a_slanted_wall_no_floor_is_called_free_that_is_not() -> None:
    outline = ((0.0, 0.0), (4.0, 0.0), (3.0, 3.0), (0.0, 3.0))
    assert beyond_walls(outline) == (Rectangle(3.0, 0.0, 4.0, 3.0),)


def test_the_nearest_floor_and_the_two_points_that_are_nearest() -> None:
    found = nearest((Rectangle(0, 0, 1, 1), Rectangle(5, 5, 6, 6)), Rectangle(2, 0.5, 3, 0.5))
    assert found == (1.0, (1, 0.5), (2, 0.5))
    assert nearest((), FLOOR) is None
