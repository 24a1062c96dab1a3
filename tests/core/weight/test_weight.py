"""What holds for any standing unit."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.weight import (
    castor_load,
    centre_of_gravity,
    climb_to_tip,
    corner_loads,
    floor_pressure,
    push_to_tip,
    slenderness,
    tip_angle,
)

sizes = st.floats(0.1, 3)
masses = st.floats(0.1, 500)


@given(masses, sizes, sizes)
def test_a_push_twice_as_high_need_be_half_as_strong(mass, depth, height):
    assert push_to_tip(mass, depth, 2 * height) == pytest.approx(
        push_to_tip(mass, depth, height) / 2
    )


@given(masses, sizes, sizes)
def test_a_push_at_the_centre_of_gravity_tips_by_the_tangent_of_the_lean(mass, depth, height):
    share = push_to_tip(mass, depth, height) / (mass * 9.80665)
    assert math.degrees(math.atan(share)) == pytest.approx(tip_angle(depth, height))


@given(sizes)
def test_a_unit_as_high_as_half_its_depth_tips_at_45_degrees(depth):
    assert tip_angle(depth, depth / 2) == pytest.approx(45)


@given(st.lists(st.tuples(masses, st.floats(0, 3)), min_size=1, max_size=6))
def test_the_common_centre_of_gravity_lies_between_its_parts(parts):
    weights, heights = zip(*parts, strict=True)
    middle = centre_of_gravity(weights, heights)
    assert min(heights) - 1e-9 <= middle <= max(heights) + 1e-9


def test_a_heavy_bottom_lowers_the_centre_of_gravity():
    assert centre_of_gravity([30, 10], [0.4, 1.6]) == pytest.approx(0.7)


@given(mass=masses, x=st.floats(0, 1), y=st.floats(0, 1))
def test_posts_carry_all_and_balance_about_the_middle_of_the_load(mass, x, y):
    corners = corner_loads(mass, x, y)
    assert sum(corners) == pytest.approx(mass)
    assert corners[1] + corners[3] == pytest.approx(mass * x)
    assert corners[2] + corners[3] == pytest.approx(mass * y)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: push_to_tip(-1, 1, 1), "Unit: mass = −1 kg must not be negative"),
        (lambda: push_to_tip(1, -1, 1), "depth = −1 m must not be negative"),
        (lambda: push_to_tip(1, 1, 0), "height of the push = 0 m must be above 0"),
        (lambda: tip_angle(math.nan, 1), "depth = nan m must be a finite number"),
        (lambda: tip_angle(1, 0), "height of the centre of gravity = 0 m must be above 0"),
        (lambda: floor_pressure(-1, 1, 1), "mass = −1 kg must not be negative"),
        (lambda: floor_pressure(1, 0, 1), "width = 0 m must be above 0"),
        (lambda: floor_pressure(1, 1, math.inf), "depth = inf m must be a finite number"),
        (lambda: castor_load(-1), "total mass = −1 kg must not be negative"),
        (lambda: corner_loads(-1, 0.5, 0.5), "Posts: total mass = −1 kg must not be negative"),
        (lambda: corner_loads(1, 1.5, 0.5), "along the width = 1.5 must be from 0 to 1"),
        (lambda: corner_loads(1, 0.5, -0.5), "along the depth = −0.5 must be from 0 to 1"),
        (lambda: climb_to_tip(-1, 1, 1), "Unit: mass = −1 kg must not be negative"),
        (lambda: climb_to_tip(1, -1, 1), "arm = −1 m must not be negative"),
        (lambda: climb_to_tip(1, 1, 0), "overhang = 0 m must be above 0"),
        (lambda: slenderness(-1, 1), "height = −1 m must not be negative"),
        (lambda: slenderness(1, 0), "depth = 0 m must be above 0"),
        (lambda: centre_of_gravity([1], [1, 2]), "heights = 2 must be as many as the masses, 1"),
        (lambda: centre_of_gravity([1], [-1]), "height = −1 m must not be negative"),
        (lambda: centre_of_gravity([-1], [1]), "mass = −1 kg must not be negative"),
        (lambda: centre_of_gravity([], []), "total mass = 0 kg must be above 0"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
