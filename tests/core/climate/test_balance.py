"""Steady balances and openings."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.climate import (
    dew_point,
    dry_air_density,
    humidity_ratio,
    opening_flow,
    stack_flow,
    steady_rise,
    surface_margin,
    ventilation_for_rise,
)
from core.errors import InputError


@given(st.floats(1, 2000), st.floats(0.5, 20), st.floats(5, 35), st.floats(0, 1))
def test_ventilating_by_the_answer_gives_the_rise_asked_for(power, rise, t, rh):
    flow = ventilation_for_rise(power, rise, t, rh)
    dry_air = flow * dry_air_density(t, humidity_ratio(t, rh))
    assert steady_rise(power, 0, dry_air, t, rh) == pytest.approx(rise)


def test_heat_without_a_way_out_has_no_steady_state():
    assert steady_rise(100, 0, 0) == math.inf
    assert steady_rise(0, 0, 0) == 0


def test_a_cover_that_insulates_keeps_the_whole_margin():
    assert surface_margin(24, 0.8, 5, 0) == pytest.approx(24 - dew_point(24, 0.8))


def test_a_cold_room_brings_dew_onto_a_thin_cover():
    assert surface_margin(24, 0.8, 10, 4.15) < 0


@given(st.floats(0, 2), st.floats(0, 2), st.floats(5, 35), st.floats(0.1, 10))
def test_a_taller_opening_exchanges_more_than_in_proportion(width, height, t, warmer):
    single = opening_flow(width, height, t + warmer, t)
    assert opening_flow(width, 2 * height, t + warmer, t) == pytest.approx(2**1.5 * single)


def test_no_difference_no_flow_and_either_side_may_be_warmer():
    assert opening_flow(1, 1, 20, 20) == 0
    assert opening_flow(1, 1, 18, 20) > 0


@given(st.floats(0.001, 1), st.floats(0.001, 1), st.floats(0.1, 3), st.floats(0.1, 10))
def test_what_comes_in_below_goes_out_above(low, high, rise, warmer):
    flow = stack_flow(low, high, rise, 20 + warmer, 20)
    # Seen from the upper opening the neutral level is as far as its own share of the rise.
    assert stack_flow(high, low, rise, 20 + warmer, 20) == pytest.approx(flow)
    assert stack_flow(low, 1e6, rise, 20 + warmer, 20) >= flow


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: ventilation_for_rise(-1, 5), "heat = −1 W must not be negative"),
        (lambda: ventilation_for_rise(100, 0), "temperature rise = 0 K must be above 0"),
        (lambda: ventilation_for_rise(100, 5, 300), "temperature = 300 °C must be from"),
        (lambda: ventilation_for_rise(100, 5, 20, 2), "relative humidity = 2 must be from 0 to 1"),
        (lambda: steady_rise(math.nan, 1, 1), "heat = nan W must be a finite number"),
        (lambda: steady_rise(1, -1, 1), "conductance of the covers = −1 W/K"),
        (lambda: steady_rise(1, 1, -1), "air exchange = −1 kg/s must not be negative"),
        (lambda: surface_margin(20, 0.5, 10, 9), "U-value = 9 W/(m² K) must be from 0 W/(m² K)"),
        (lambda: surface_margin(20, 0, 10, 4), "relative humidity = 0 must be above 0"),
        (lambda: surface_margin(20, 0.5, 10, 4, 0), "inner film = 0 W/(m² K) must be above 0"),
        (lambda: surface_margin(20, 0.5, math.inf, 4), "temperature outside = inf °C"),
        (lambda: opening_flow(-1, 1, 20, 10), "width = −1 m must not be negative"),
        (lambda: opening_flow(1, -1, 20, 10), "height = −1 m must not be negative"),
        (lambda: opening_flow(1, 1, -300, 10), "temperature inside = −300 °C"),
        (lambda: stack_flow(0, 1, 1, 20, 10), "lower area = 0 m² must be above 0"),
        (lambda: stack_flow(1, 0, 1, 20, 10), "upper area = 0 m² must be above 0"),
        (lambda: stack_flow(1, 1, -1, 20, 10), "rise = −1 m must not be negative"),
        (lambda: stack_flow(1, 1, 1, 20, 300), "temperature outside = 300 °C"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
