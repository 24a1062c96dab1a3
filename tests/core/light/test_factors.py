"""View factors: the rules they obey, whatever the rectangles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.light import Surface, view_factor
from core.light.factors import polygon_exchange


def room(width: float, depth: float, height: float) -> list[Surface]:
    """The six faces of a room, lit inside."""
    x, y, z = (width, 0.0, 0.0), (0.0, depth, 0.0), (0.0, 0.0, height)
    o = (0.0, 0.0, 0.0)
    return [
        Surface(o, x, y), Surface(z, y, x), Surface(o, y, z),
        Surface(x, z, y), Surface(o, z, x), Surface(y, x, z),
    ]  # fmt: skip


lengths = st.floats(0.3, 3.0)


@settings(max_examples=15, deadline=None)
@given(lengths, lengths, lengths)
def test_factors_in_a_closed_room_sum_to_one(width: float, depth: float, height: float) -> None:
    faces = room(width, depth, height)
    for face in faces:
        assert sum(view_factor(face, other) for other in faces) == pytest.approx(1, abs=2e-6)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000))
def test_reciprocity_of_tilted_rectangles(seed: int) -> None:
    random = np.random.default_rng(seed)
    pair = []
    for _ in range(2):
        frame = np.linalg.qr(random.normal(size=(3, 3)))[0]
        sides = frame[:2] * random.uniform(0.2, 1.0, (2, 1))
        pair.append(Surface(random.uniform(0, 2, 3), *sides))
    a, b = pair
    there, back = view_factor(a, b) * a.area, view_factor(b, a) * b.area
    assert there == pytest.approx(back, rel=1e-4, abs=1e-6)


def test_surface_turned_away_gets_nothing() -> None:
    a, b = Surface((0, 0, 0), (1, 0, 0), (0, 1, 0)), Surface((0, 0, 1), (1, 0, 0), (0, 1, 0))
    assert view_factor(a, b) == 0


def test_part_behind_the_other_surface_does_not_count() -> None:
    """A wall that passes through the floor counts with its upper half only."""
    low = Surface((0, 0, 0), (1, 0, 0), (0, 1, 0))
    whole = Surface((0, 0, -1), (0, 1, 0), (0, 0, 2))
    upper = Surface((0, 0, 0), (0, 1, 0), (0, 0, 1))
    assert view_factor(low, whole) == pytest.approx(view_factor(low, upper), rel=1e-9)


def test_wire_shelf_between_passes_its_share() -> None:
    a, b = Surface((0, 0, 0), (1, 0, 0), (0, 1, 0)), Surface((0, 0, 1), (0, 1, 0), (1, 0, 0))
    shelf = Surface((0, 0, 0.5), (1, 0, 0), (0, 1, 0), transmittance=0.7)
    assert view_factor(a, b, [a, b, shelf]) == pytest.approx(0.7 * 0.199825, rel=1e-5)


def test_what_only_touches_does_not_count() -> None:
    a, b = Surface((0, 0, 0), (1, 0, 0), (0, 1, 0)), Surface((0, 0, 1), (0, 1, 0), (1, 0, 0))
    wall = Surface((0, 0, 0), (0, 1, 0), (0, 0, 1))
    assert view_factor(a, b, [a, b, wall]) == view_factor(a, b)


def test_exchange_of_triangles_adds_up_to_that_of_the_square() -> None:
    lower = np.array([(0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0)], dtype=float)
    upper = np.array([(0, 0, 1), (0, 1, 1), (1, 1, 1), (1, 0, 1)], dtype=float)
    halves = polygon_exchange(lower[:3], upper) + polygon_exchange(lower[[0, 2, 3]], upper)
    assert halves == pytest.approx(polygon_exchange(lower, upper), rel=1e-8)


def test_patch_must_be_above_zero() -> None:
    a = Surface((0, 0, 0), (1, 0, 0), (0, 1, 0))
    with pytest.raises(InputError, match="View factor: patch = 0 m must be above zero"):
        view_factor(a, a, patch=0)
