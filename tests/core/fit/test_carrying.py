"""What holds for any corner and any ceiling."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.fit import tilt_height, widest_round_corner
from core.fit.carrying import round_corner

widths = st.floats(0.3, 3)
shares = st.floats(0, 0.95)


@given(widths, widths)
def test_a_thin_panel_has_the_closed_form(a, b):
    assert widest_round_corner(a, b) == pytest.approx((a ** (2 / 3) + b ** (2 / 3)) ** 1.5)


@given(widths, widths, shares)
def test_no_angle_lets_less_through_than_the_answer(a, b, share):
    thickness = share * min(a, b)
    angle = np.linspace(0.001, math.pi / 2 - 0.001, 3001)
    lengths = (
        a / np.sin(angle) + b / np.cos(angle) - thickness * (np.tan(angle) + 1 / np.tan(angle))
    )
    answer = widest_round_corner(a, b, thickness)
    assert answer <= lengths.min() * (1 + 1e-9)
    assert answer == pytest.approx(lengths.min(), rel=2e-3)


@given(widths, widths, shares)
def test_the_corner_is_the_same_from_either_side(a, b, share):
    thickness = share * min(a, b)
    there = widest_round_corner(a, b, thickness)
    assert widest_round_corner(b, a, thickness) == pytest.approx(there)


@given(widths, widths, shares)
def test_a_thicker_panel_must_be_shorter(a, b, share):
    assert widest_round_corner(a, b, share * min(a, b)) <= widest_round_corner(a, b) * (1 + 1e-12)


def test_a_panel_as_thick_as_a_corridor_does_not_pass():
    assert widest_round_corner(0.9, 1.2, 0.9) == 0


@given(widths, widths)
def test_tilting_needs_more_than_the_height_and_less_than_both_sides(height, depth):
    assert height < tilt_height(height, depth) < height + depth


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: widest_round_corner(0, 1), "Corridor: width = 0 m must be above 0"),
        (lambda: widest_round_corner(1, math.nan), "width = nan m must be a finite number"),
        (lambda: widest_round_corner(1, 1, -0.1), "Panel: thickness = −0.1 m must not be negative"),
        (lambda: tilt_height(-1, 1), "height = −1 m must not be negative"),
        (lambda: tilt_height(1, math.inf), "depth = inf m must be a finite number"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)


sides = st.floats(0.02, 2.5)


@given(sides, sides, sides, widths, widths, st.floats(1.8, 3.0))
def test_a_box_goes_round_on_the_side_that_leaves_most(a, b, c, before, after, ceiling):
    """Against every turn by half a degree, on each of the three sides."""
    length, limit = round_corner((a, b, c), before, after, ceiling)
    turns = np.radians(np.arange(0, 90.01, 0.5))
    best = -math.inf
    for thickness, long, high in ((a, b, c), (b, a, c), (c, a, b)):
        up = long * np.sin(turns) + high * np.cos(turns) <= ceiling + 1e-9
        seen = (long * np.cos(turns) + high * np.sin(turns))[up]
        widest = widest_round_corner(before, after, thickness)
        if len(seen) and widest > 0:
            best = max(best, widest - seen.min())
    assert limit - length >= best - 1e-9
    if math.isfinite(best):
        assert limit - length == pytest.approx(best, abs=0.03)


def test_a_board_longer_than_the_corner_goes_round_with_one_end_raised():
    # 3.2 m level is longer than 2.960 m (checks of fit); under 2.4 m it rises till it is 2.1166 m.
    assert round_corner((0.001, 0.001, 3.2), 0.9, 1.2, 0.1)[0] > 2.960
    length, limit = round_corner((0.001, 0.001, 3.2), 0.9, 1.2, 2.4)
    assert length == pytest.approx(math.sqrt(3.2**2 - 2.4**2), abs=2e-3)
    assert length < limit
