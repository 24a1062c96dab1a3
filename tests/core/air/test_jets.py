"""What holds for any jet and any leaf."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.air import RoundJet, leaf_conductance
from core.errors import InputError

jets = st.builds(RoundJet, flow=st.floats(0.001, 0.5), diameter=st.floats(0.05, 0.5))
distances = st.floats(0, 10)


@given(jets, distances, st.floats(0, 2))
def test_no_place_is_faster_than_the_outlet(jet, x, r):
    assert 0 <= jet.speed(x, r) <= jet.outlet_speed * (1 + 1e-12)


@given(jets, distances)
def test_half_the_speed_at_the_half_width(jet, x):
    assert jet.speed(x, jet.half_width(x)) == pytest.approx(jet.speed(x, 0) / 2)


@given(jets, st.floats(0.01, 3))
def test_the_throw_is_where_the_centreline_has_that_speed(jet, speed):
    throw = jet.throw(speed)
    if speed > jet.outlet_speed:
        assert throw == 0
    else:
        assert jet.centreline(throw) == pytest.approx(speed)


def test_the_outlet_speed_itself_is_kept_to_the_end_of_the_core():
    # u0 min(1, K D/x): the speed is u0 up to x = 6.2 D and less beyond.
    jet = RoundJet(0.05, 0.15)
    assert jet.throw(jet.outlet_speed) == pytest.approx(6.2 * 0.15)


@given(jets, st.floats(0.1, 1))
def test_the_laws_of_fan_speed(jet, share):
    # flow ~ s, thrust ~ s², power ~ s³
    slower = RoundJet(jet.flow * share, jet.diameter)
    assert slower.thrust() == pytest.approx(jet.thrust() * share**2)
    assert slower.air_power() == pytest.approx(jet.air_power() * share**3)


def test_the_air_behind_a_fan_is_not_in_its_jet():
    assert RoundJet(0.05, 0.15).speed(-0.1, 0) == 0


def test_a_fan_that_stands_still_has_no_jet():
    still = RoundJet(0, 0.15)
    assert still.speed(0, 0) == still.throw(0.1) == 0


def test_the_core_keeps_the_outlet_speed():
    jet = RoundJet(0.05, 0.15)
    assert jet.speed(0, 0) == jet.speed(jet.core_length, 0) == pytest.approx(jet.outlet_speed)
    assert jet.half_width(0) == 0.075


def test_arrays_give_what_single_numbers_give():
    jet = RoundJet(0.05, 0.15)
    x, r = np.linspace(-0.5, 3, 7)[:, None], np.linspace(0, 0.5, 5)
    speeds = jet.speed(x, r)
    assert speeds.shape == (7, 5)
    assert speeds[6, 4] == jet.speed(3.0, 0.5)
    assert isinstance(jet.speed(1.0, 0.1), float)


@given(st.floats(0, 2), st.floats(0.005, 0.3))
def test_vapour_passes_a_leaf_more_readily_than_heat_and_heat_than_carbon_dioxide(speed, width):
    vapour, heat, carbon = (
        leaf_conductance(speed, width, gas) for gas in ("vapour", "heat", "CO2")
    )
    assert vapour >= heat >= carbon


def test_four_times_the_speed_doubles_the_conductance():
    slow, fast = leaf_conductance(np.array([0.2, 0.8]), 0.05)
    assert fast == pytest.approx(2 * slow)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: RoundJet(-3, 0.1), "Fan: flow = −3 m³/s must not be negative; enter 0 or more."),
        (lambda: RoundJet(math.inf, 0.1), "flow = inf m³/s must be a finite number"),
        (lambda: RoundJet(0.1, 0), "diameter = 0 m must be above 0"),
        (lambda: RoundJet(0.1, 0.1).speed(math.nan, 0), "distance = nan m must be a finite number"),
        (lambda: RoundJet(0.1, 0.1).speed(1, -0.1), "distance from the axis = −0.1 m"),
        (lambda: RoundJet(0.1, 0.1).half_width(math.inf), "distance = inf m"),
        (lambda: RoundJet(0.1, 0.1).throw(0), "speed = 0 m/s must be above 0"),
        (lambda: RoundJet(0.1, 0.1).thrust(0), "density = 0 kg/m³ must be above 0"),
        (lambda: leaf_conductance(-1, 0.05), "air speed = −1 m/s must not be negative"),
        (lambda: leaf_conductance(1, 0), "width = 0 m must be above 0"),
        (lambda: leaf_conductance(1, 1, "smoke"), "gas = smoke is not known; enter one of heat"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
