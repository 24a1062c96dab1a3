"""A room that grows or shrinks keeps its doors, windows and outlets where they are seen to be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import DesignError
from core.model import Obstacle, Outlet, Room, RoomDoor, RoomWindow, replace
from core.placement import along_wall
from core.room_shape import with_outline

BACK, LEFT = 3, 4
lengths = st.floats(3.0, 9.0)


def room() -> Room:
    plain = Room.rectangle(4.0, 3.0, 2.4)
    fixtures = (
        Outlet(id="back", name="Back", wall=BACK, offset=1.0),  # at x = 4 - 1 = 3 m
        RoomWindow(id="left", name="Left", wall=LEFT, offset=0.5, width=1.0),  # y 2.5 to 1.5 m
        RoomDoor(id="front", name="Front", wall=1, offset=0.2),
        Obstacle(id="stove", name="Stove", x=0.1, y=0.1, width=0.5, depth=0.5, height=0.8),
    )
    return replace(plain, fixtures=fixtures)


def corners(width: float, depth: float) -> tuple[tuple[float, float], ...]:
    return ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))


def seen(where: Room, number: int) -> tuple[float, float]:
    fixture = where.fixtures[number]
    assert not isinstance(fixture, Obstacle)
    return along_wall(where, fixture.wall, fixture.offset)


@given(lengths, lengths)
def test_what_is_in_a_wall_keeps_its_place_along_it(width: float, depth: float) -> None:
    made = with_outline(room(), corners(width, depth))
    assert seen(made, 0) == pytest.approx((3.0, depth), abs=1e-8)
    assert seen(made, 1) == pytest.approx((0.0, 2.5), abs=1e-8)
    assert seen(made, 2) == pytest.approx((0.2, 0.0), abs=1e-8)
    assert made.fixtures[3] == room().fixtures[3]


def test_what_the_wall_no_longer_reaches_moves_to_its_end() -> None:
    made = with_outline(room(), corners(2.0, 3.0))
    assert seen(made, 0) == pytest.approx((2.0, 3.0))
    low = with_outline(room(), corners(4.0, 2.0))
    assert seen(low, 1) == pytest.approx((0.0, 2.0))


def test_a_wall_shorter_than_its_window_keeps_it_at_the_first_corner() -> None:
    made = with_outline(room(), corners(4.0, 0.8))
    assert made.fixtures[1].offset == 0.0  # type: ignore[union-attr]


def test_corners_that_enclose_nothing_are_refused() -> None:
    with pytest.raises(DesignError, match="must enclose an area"):
        with_outline(room(), corners(0.0, 3.0))
