"""Boxes, turns and polygons hold for any numbers, not only for the ones in the demos."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry import (
    Box,
    Rectangle,
    pointing,
    polygon_area,
    polygon_contains,
    polygon_contains_rectangle,
    polygon_is_simple,
    rectangle_gap,
    turn_back,
    turn_within,
)

lengths = st.floats(0.01, 5.0)
places = st.floats(-5.0, 5.0)
turns = st.integers(0, 3)


@st.composite
def rectangles(draw: st.DrawFn) -> Rectangle:
    x, y = draw(places), draw(places)
    return Rectangle(x, y, x + draw(lengths), y + draw(lengths))


@given(rectangles(), lengths, lengths, turns)
def test_turning_back_undoes_a_turn(
    inner: Rectangle, width: float, depth: float, turn: int
) -> None:
    there = turn_within(inner, width, depth, turn)
    back = turn_back(there, width, depth, turn)
    assert back == pytest.approx(inner, abs=1e-9)


@given(rectangles(), lengths, lengths)
def test_four_quarter_turns_are_none(inner: Rectangle, width: float, depth: float) -> None:
    turned = inner
    for size in ((width, depth), (depth, width), (width, depth), (depth, width)):
        turned = turn_within(turned, *size, 1)
    assert turned == pytest.approx(inner, abs=1e-9)


@given(rectangles(), lengths, lengths, turns)
def test_a_turn_keeps_the_area(inner: Rectangle, width: float, depth: float, turn: int) -> None:
    assert turn_within(inner, width, depth, turn).area == pytest.approx(inner.area)


def test_a_quarter_turn_is_anticlockwise() -> None:
    at_the_right_end = Rectangle(0.9, 0.0, 1.0, 0.1)
    assert turn_within(at_the_right_end, 1.0, 0.5, 1) == pytest.approx((0.4, 0.9, 0.5, 1.0))


@given(rectangles(), rectangles())
def test_rectangles_that_overlap_have_no_gap(a: Rectangle, b: Rectangle) -> None:
    common = a.overlap(b)
    assert a.overlap(b) == b.overlap(a)
    if common:
        assert rectangle_gap(a, b) == 0.0
        assert a.contains(common) and b.contains(common)


def test_boxes_that_touch_do_not_overlap() -> None:
    left = Box((0, 0, 0), (1, 1, 1))
    assert left.overlap(left.moved(1.0, 0, 0)) is None
    assert left.overlap(left.moved(0.999, 0, 0)) is not None


L_SHAPE = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.0, 1.0), (1.0, 2.0), (0.0, 2.0))


def test_an_l_shaped_room_has_the_area_of_its_two_parts() -> None:
    assert polygon_area(L_SHAPE) == pytest.approx(3.0 + 1.0)
    assert polygon_area(L_SHAPE[::-1]) == pytest.approx(-4.0)


@pytest.mark.parametrize(
    ("x", "y", "inside"),
    [(0.5, 0.5, True), (2.0, 1.5, False), (3.0, 0.5, True), (1.0, 1.5, True), (3.001, 0.5, False)],
)
def test_points_in_an_l_shaped_room(x: float, y: float, inside: bool) -> None:
    assert polygon_contains(L_SHAPE, x, y) is inside


def test_a_rectangle_across_the_inner_corner_is_not_inside() -> None:
    assert polygon_contains_rectangle(L_SHAPE, Rectangle(0.0, 0.0, 3.0, 1.0))
    assert not polygon_contains_rectangle(L_SHAPE, Rectangle(0.5, 0.5, 1.5, 1.5))
    u_shape = ((0, 0), (3, 0), (3, 2), (2, 2), (2, 1), (1, 1), (1, 2), (0, 2))
    # All four corners lie inside, but the notch between them does not.
    assert not polygon_contains_rectangle(u_shape, Rectangle(0.5, 0.5, 2.5, 1.8))


def test_a_crossing_outline_is_not_simple() -> None:
    assert polygon_is_simple(L_SHAPE)
    assert not polygon_is_simple(((0, 0), (1, 1), (1, 0), (0, 1)))
    assert not polygon_is_simple(((0, 0), (1, 0), (1, 0), (0, 1)))


@given(st.floats(-360, 360), st.floats(-90, 90))
def test_what_points_has_a_length_of_one(heading: float, elevation: float) -> None:
    x, y, z = pointing(heading, elevation)
    assert x * x + y * y + z * z == pytest.approx(1.0)


def test_headings_run_anticlockwise_from_x_and_elevations_up() -> None:
    assert pointing(0.0, 0.0) == pytest.approx((1.0, 0.0, 0.0))
    assert pointing(90.0, 0.0) == pytest.approx((0.0, 1.0, 0.0), abs=1e-12)
    assert pointing(180.0, 90.0) == pytest.approx((0.0, 0.0, 1.0), abs=1e-12)
    assert pointing(0.0, 30.0)[2] == pytest.approx(0.5)
