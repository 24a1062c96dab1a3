"""Properties of moist air that hold for any air."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.climate import (
    dew_point,
    dry_air_density,
    enthalpy,
    heat_capacity,
    humidity_ratio,
    saturation_pressure,
    vapour_pressure_deficit,
    wet_bulb,
)
from core.errors import InputError

temperatures = st.floats(2, 60)
humidities = st.floats(0.05, 1)


@given(temperatures, humidities)
def test_wet_bulb_lies_between_dew_point_and_air(t, rh):
    assert dew_point(t, rh) - 1e-6 <= wet_bulb(t, rh) <= t + 1e-6


@given(st.floats(-90, 150))
def test_saturated_air_is_at_its_dew_point(t):
    assert dew_point(t, 1.0) == pytest.approx(t, abs=1e-6)


@given(st.floats(1, 60))
def test_saturated_air_is_at_its_wet_bulb(t):
    assert wet_bulb(t, 1.0) == pytest.approx(t, abs=1e-6)


@given(temperatures, humidities)
def test_dew_point_has_the_vapour_pressure_of_the_air(t, rh):
    vapour = rh * saturation_pressure(t)
    # The formulas over ice and over water differ by 0.01 % where they meet.
    assert saturation_pressure(dew_point(t, rh)) == pytest.approx(vapour, rel=2e-4)


@given(st.floats(-90, 180))
def test_saturation_pressure_rises_with_temperature(t):
    assert saturation_pressure(t + 1) > saturation_pressure(t)


@given(temperatures, humidities)
def test_deficit_and_vapour_make_up_saturation(t, rh):
    vapour = saturation_pressure(t) - vapour_pressure_deficit(t, rh)
    assert vapour == pytest.approx(rh * saturation_pressure(t))


@given(temperatures, st.floats(0, 0.05))
def test_enthalpy_rises_by_the_heat_capacity(t, w):
    assert enthalpy(t + 1, w) - enthalpy(t, w) == pytest.approx(heat_capacity(w), rel=1e-6)


def test_perfectly_dry_air_has_a_wet_bulb_but_no_dew_point():
    assert -20 < wet_bulb(20, 0) < 10
    with pytest.raises(InputError, match="relative humidity = 0 must be above 0"):
        dew_point(20, 0)


def test_a_deficit_turns_negative_where_a_cold_leaf_takes_up_dew():
    assert vapour_pressure_deficit(25, 0.9, leaf_t=15) < 0


def test_dry_air_thins_with_altitude_heat_and_vapour():
    here = dry_air_density(20, 0.007)
    assert here == pytest.approx(1.19, abs=0.01)
    assert dry_air_density(20, 0.007, 80_000) < here
    assert dry_air_density(30, 0.007) < here
    assert dry_air_density(20, 0.014) < here


def test_single_numbers_stay_single_and_arrays_keep_their_shape():
    t, rh = np.full((3, 4), 20.0), np.full((3, 4), 0.5)
    for function in (humidity_ratio, dew_point, wet_bulb, vapour_pressure_deficit):
        assert isinstance(function(20, 0.5), float)
        assert function(t, rh).shape == (3, 4)
        assert function(t, rh)[2, 3] == pytest.approx(function(20, 0.5))
    assert isinstance(saturation_pressure(20), float)
    assert dew_point(20.0, np.array([0.4, 0.6])).shape == (2,)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: saturation_pressure(250), "Air: temperature = 250 °C must be from −100 °C to 200"),
        (lambda: saturation_pressure(math.nan), "temperature = nan °C must be a finite number"),
        (lambda: humidity_ratio(20, 77), "relative humidity = 77 must be from 0 to 1"),
        (lambda: humidity_ratio(20, 0.5, 0), "pressure = 0 Pa must be above 0"),
        (lambda: humidity_ratio(120, 1), "must be below the air pressure"),
        (lambda: humidity_ratio(np.array([20.0, np.inf]), 0.5), "temperature = inf °C"),
        (lambda: dew_point(20, 1.2), "relative humidity = 1.2 must be from 0 to 1"),
        (lambda: dew_point(-90, 0.01), "puts the dew point below −100 °C"),
        (lambda: wet_bulb(20, -0.1), "relative humidity = −0.1 must be from 0 to 1"),
        (lambda: enthalpy(20, -0.001), "humidity ratio = −0.001 kg/kg must not be negative"),
        (lambda: heat_capacity(math.inf), "humidity ratio = inf kg/kg must be a finite number"),
        (lambda: vapour_pressure_deficit(20, 0.5, leaf_t=-200), "temperature = −200 °C"),
        (lambda: dry_air_density(20, 0.01, -1), "pressure = −1 Pa must be above 0"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
