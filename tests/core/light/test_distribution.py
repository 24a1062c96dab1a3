"""Distributions: reading a table by angle, mirrored planes, powers of the cosine."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.light import Distribution, Lamp, Scene, beam_exponent, cosine_power, solve


def test_table_is_linear_in_both_angles() -> None:
    table = Distribution([0, 90, 180, 270], [0, 90], [[10, 0], [20, 0], [30, 0], [40, 0]])
    assert table.intensity(0, 45) == pytest.approx(5)
    assert table.intensity(45, 0) == pytest.approx(15)
    assert table.intensity(315, 45) == pytest.approx(12.5)
    assert table.intensity(360 + 90, 0) == pytest.approx(20)


def test_one_plane_is_alike_all_round() -> None:
    table = Distribution([0], [0, 90], [[10, 0]])
    assert table.intensity([0, 77, 300], 45) == pytest.approx([5, 5, 5])


def test_planes_to_90_and_to_180_are_mirrored() -> None:
    quarter = Distribution([0, 90], [0, 90], [[10, 10], [20, 20]])
    half = Distribution([0, 90, 180], [0, 90], [[10, 10], [20, 20], [40, 40]])
    assert quarter.intensity([45, 135, 225, 315], 30) == pytest.approx([15] * 4)
    assert half.intensity([135, 225, 180, 270], 30) == pytest.approx([30, 30, 40, 20])


def test_planes_that_do_not_start_at_zero_close_over_the_seam() -> None:
    table = Distribution([45, 225], [0, 90], [[10, 10], [20, 20]])
    assert table.intensity([45, 135, 225, 315, 0], 30) == pytest.approx([10, 15, 20, 15, 12.5])


def test_dark_beyond_the_last_angle() -> None:
    table = Distribution([0], [0, 60], [[10, 10]])
    assert table.intensity(0, [59, 61]) == pytest.approx([10, 0])
    assert table.flux == pytest.approx(2 * math.pi * 10 * 0.5)


def test_cosine_power_broadcasts_and_is_dark_behind() -> None:
    lit = cosine_power(2).intensity([[0], [90]], [0, 60, 90, 120])
    assert lit == pytest.approx(np.array([[1, 0.25, 0, 0]] * 2), abs=1e-15)
    assert cosine_power(0).intensity(0, [89, 91]) == pytest.approx([1, 0])


@given(st.floats(1.0, 85.0))
def test_beam_is_half_as_strong_at_its_half_angle(half_angle: float) -> None:
    shape = cosine_power(beam_exponent(half_angle))
    assert shape.intensity(0, half_angle) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: cosine_power(-1), "exponent = -1 must not be negative"),
        (lambda: cosine_power("wide"), "exponent = wide must be a number"),
        (lambda: beam_exponent(0), "Spot: half angle = 0 ° must be above zero"),
        (lambda: beam_exponent(90), "Spot: half angle = 90.0 ° must lie between"),
        (lambda: Distribution([0], [0, 90], [[-1, 0]]), "zero or more"),
        (lambda: Distribution([0], [0, 90], [[1, 0, 2]]), "table"),
        (lambda: Distribution([0], [90, 0], [[1, 0]]), "must rise"),
        (lambda: Distribution([0, 400], [0, 90], [[1, 0]] * 2), "at most 360"),
        (lambda: Distribution([0], [0, 90], [[0, 0]]), "Distribution: flux"),
    ],
)
def test_bad_input_is_told_in_the_house_form(make: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        make()  # type: ignore[operator]
    assert said in str(caught.value)


def both_ways() -> Distribution:
    """Light all round, of another intensity in every direction of the table."""
    c, gamma = np.arange(0.0, 360.0, 45.0), np.arange(0.0, 181.0, 10.0)
    table = 100.0 + np.arange(c.size)[:, None] * 7.0 + np.arange(gamma.size)[None, :] * 3.0
    return Distribution(c, gamma, table)


def test_the_halves_of_a_distribution_add_up_to_it() -> None:
    whole = both_ways()
    front, back = whole.halves
    assert front is not None and back is not None
    assert front.flux + back.flux == pytest.approx(whole.flux, rel=1e-12)
    # Turned about the x side, C goes the other way round and gamma counts from behind.
    for c in (0.0, 30.0, 100.0, 290.0):
        assert front.intensity(c, 40.0) == pytest.approx(whole.intensity(c, 40.0))
        assert back.intensity(360.0 - c, 40.0) == pytest.approx(whole.intensity(c, 140.0))


def test_what_shines_one_way_has_one_half() -> None:
    down = Distribution([0.0], [0.0, 90.0], [[1.0, 1.0]])
    dark_above = Distribution([0.0], [0.0, 60.0, 90.0, 180.0], [[1.0, 1.0, 0.0, 0.0]])
    up = Distribution([0.0], [90.0, 180.0], [[1.0, 1.0]])
    assert down.halves == (down, None)
    assert cosine_power(3.0).halves[1] is None
    assert dark_above.halves[1] is None
    assert dark_above.halves[0].flux == pytest.approx(dark_above.flux)  # type: ignore[union-attr]
    assert up.halves[0] is None
    assert up.halves[1].flux == pytest.approx(up.flux)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("direction", "roll"), [((0, 0, -1), 0.0), ((0, 0, -1), 30.0), ((0.3, 0.2, -1), 20.0)]
)
def test_a_point_lights_the_whole_sphere_by_inverse_square_and_cosine(direction, roll) -> None:
    whole = both_ways()
    lamp = Lamp((0, 0, 1), (0, 0), whole.flux, direction, roll, whole)
    points = np.array([[0.3, 0.2, 0.0], [0.3, 0.2, 2.0], [-0.5, 0.4, 2.2]])
    normals = np.array([[0.0, 0, 1], [0, 0, -1], [0, 0, -1]])

    way = points - [0, 0, 1]
    away = np.linalg.norm(way, axis=1)
    x, y, ahead = (way @ axis for axis in lamp.axes())
    c, gamma = np.degrees(np.arctan2(y, x)), np.degrees(np.arctan2(np.hypot(x, y), ahead))
    onto = np.abs((way * normals).sum(axis=1)) / away
    expected = whole.intensity(c, gamma) * onto / away**2
    # A table is read once on a grid of 129 nodes a side, about a degree apart.
    found = solve(Scene((), (lamp,)), points, normals)
    assert found.per_lamp.shape == (1, 3)
    assert found.direct == pytest.approx(expected, rel=2e-4)
