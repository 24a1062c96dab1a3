"""What holds for any tray, reservoir and liner."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.water import (
    days_to_refill,
    displaced_by_round_pots,
    evaporation,
    liner_blank,
    purified_hours,
    reject_volume,
    spill_capacity,
    tray_volume,
    tube_head,
    tube_pressure,
    use_per_day,
    volume_above_inlet,
    water_viscosity,
)

areas = st.floats(0.1, 10)
heights = st.floats(0.01, 0.3)


@given(areas, heights)
def test_the_two_formulas_of_spill_meet_where_the_fall_equals_the_lip(area, lip):
    assert spill_capacity(area, lip, lip) == pytest.approx(area * lip / 2)
    assert spill_capacity(area, lip, lip * (1 + 1e-9)) == pytest.approx(area * lip / 2)


@given(areas, heights, st.floats(0, 0.5), st.floats(0, 0.5))
def test_a_floor_further_out_of_level_never_holds_more(area, lip, fall, more):
    level = spill_capacity(area, lip, fall)
    assert 0 <= spill_capacity(area, lip, fall + more) <= level * (1 + 1e-12)


@given(heights, st.floats(0, 0.5))
def test_spill_is_the_volume_under_a_level_surface(lip, fall):
    # Depth of water along the slope of a floor of 1 m² by the midpoint rule, which errs by at
    # most slope x step²/8, in the one step where the water ends
    step = 1 / 20_000
    depth = np.maximum(0, lip - fall * (np.arange(20_000) + 0.5) * step)
    worst = fall * step**2 / 8 + 1e-12
    assert spill_capacity(1.0, lip, fall) == pytest.approx(depth.mean(), rel=0, abs=worst)


def test_no_lip_holds_nothing():
    assert spill_capacity(4, 0) == spill_capacity(4, 0, 0.02) == 0


@given(st.floats(0.3, 3), st.floats(0.3, 3), heights)
def test_a_blank_is_the_floor_its_four_walls_and_four_corners(width, depth, lip):
    walls = 2 * (width + depth) * lip
    assert liner_blank(width, depth, lip).area == pytest.approx(width * depth + walls + 4 * lip**2)


def test_a_tray_that_is_full_of_things_holds_no_water():
    assert tray_volume(1, 1, 0.01, displaced=0.02) == 0


def test_pots_out_of_the_water_displace_nothing():
    assert displaced_by_round_pots(20, 0.1, 0) == 0


@given(st.floats(5, 35), st.floats(0, 1), st.floats(0, 1), st.floats(0, 2))
def test_moving_and_drier_air_take_more_water(t, rh, drier, speed):
    still = evaporation(t, t, rh)
    assert evaporation(t, t, rh, speed) >= still
    assert evaporation(t, t, rh * drier) >= still
    assert still >= 0


def test_moist_air_over_cold_water_takes_none():
    assert evaporation(10, 25, 0.9) == 0


def test_evaporation_of_a_day_of_minutes():
    t = np.linspace(15, 25, 1440)
    rates = evaporation(t, t, 0.75, np.full(1440, 0.2))
    assert rates.shape == (1440,)
    assert rates[-1] == pytest.approx(evaporation(25, 25, 0.75, 0.2))
    assert isinstance(evaporation(20, 20, 0.5), float)


@given(st.floats(0.001, 1), st.floats(0.0001, 0.1), st.floats(1, 4))
def test_the_band_of_days_is_that_of_the_rate(volume, rate, factor):
    days = days_to_refill(volume, rate, factor)
    assert days.low <= days.value <= days.high
    assert days_to_refill(volume, rate * factor, 1).value == pytest.approx(days.low)
    assert days_to_refill(volume, rate / factor, 1).value == pytest.approx(days.high)


def test_days_as_they_are_told():
    # "6 days, 3 to 12"
    assert days_to_refill(0.012, 0.002) == pytest.approx((6, 3, 12))


def test_a_measured_rate_has_no_band_and_no_use_lasts_for_ever():
    assert days_to_refill(0.012, 0.002, 1) == pytest.approx((6, 6, 6))
    assert days_to_refill(0.012, 0).low == math.inf


@given(st.floats(5, 25), st.floats(1, 20))
def test_colder_water_takes_longer_to_purify(t, warmer):
    assert purified_hours(0.02, 0.2, t) > purified_hours(0.02, 0.2, t + warmer)


@given(st.floats(1e-8, 1e-6), st.floats(0.004, 0.02), st.floats(0.1, 10))
def test_a_tube_of_twice_the_bore_needs_a_sixteenth_of_the_head(flow, bore, length):
    wide = tube_head(flow, 2 * bore, length, 20)
    assert tube_head(flow, bore, length, 20) == pytest.approx(16 * wide)


def test_warm_water_runs_more_easily():
    assert tube_pressure(4e-7, 0.004, 3, 30) < tube_pressure(4e-7, 0.004, 3, 10)


def test_only_water_above_the_inlet_runs_out():
    assert volume_above_inlet(0.02, base=1.0, level=1.4, inlet=1.1) == pytest.approx(0.015)
    assert volume_above_inlet(0.02, base=1.0, level=1.4, inlet=0.2) == pytest.approx(0.02)
    assert volume_above_inlet(0.02, base=1.0, level=1.4, inlet=1.4) == 0
    assert volume_above_inlet(0.02, base=1.0, level=1.4, inlet=2.0) == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: spill_capacity(-1, 0.1), "Liner: area = −1 m² must not be negative"),
        (lambda: spill_capacity(1, -0.1), "lip = −0.1 m must not be negative"),
        (lambda: spill_capacity(1, 0.1, math.nan), "out of level = nan m must be a finite number"),
        (lambda: liner_blank(0, 1, 0.1), "width = 0 m must be above 0"),
        (lambda: liner_blank(1, 0, 0.1), "depth = 0 m must be above 0"),
        (lambda: liner_blank(1, 1, -0.1), "lip = −0.1 m must not be negative"),
        (lambda: tray_volume(0, 1, 0.1), "Tray: width = 0 m must be above 0"),
        (lambda: tray_volume(1, math.inf, 0.1), "depth = inf m must be a finite number"),
        (lambda: tray_volume(1, 1, -0.1), "fill depth = −0.1 m must not be negative"),
        (lambda: tray_volume(1, 1, 0.1, -1), "displaced volume = −1 m³ must not be negative"),
        (lambda: displaced_by_round_pots(-1, 1, 1), "Pots: count = −1 must not be negative"),
        (lambda: displaced_by_round_pots(1, -1, 1), "diameter = −1 m must not be negative"),
        (lambda: displaced_by_round_pots(1, 1, -1), "depth under water = −1 m"),
        (lambda: evaporation(-1, 20, 0.5), "Water: temperature = −1 °C must be from 0 °C to 100"),
        (lambda: evaporation(20, 20, 75), "relative humidity = 75 must be from 0 to 1"),
        (lambda: evaporation(20, 20, 0.5, -1), "Air: speed = −1 m/s must not be negative"),
        (lambda: evaporation(20, 20, 0.5, 0, -1), "activity = −1 must not be negative"),
        (lambda: evaporation(20, 300, 0.5), "Air: temperature = 300 °C"),
        (lambda: use_per_day(-1), "area = −1 m² must not be negative"),
        (lambda: use_per_day(1, -1), "evaporation = −1 kg/(m² s) must not be negative"),
        (lambda: days_to_refill(-1, 1), "volume = −1 m³ must not be negative"),
        (lambda: days_to_refill(1, -1), "use = −1 m³/d must not be negative"),
        (lambda: days_to_refill(1, 1, 0.5), "factor on use = 0.5 must be at least 1"),
        (lambda: purified_hours(-1, 1), "Purifier: volume = −1 m³ must not be negative"),
        (lambda: purified_hours(1, 0), "rated output = 0 m³/d must be above 0"),
        (lambda: purified_hours(1, 1, 77), "water temperature = 77 °C must be from 0 °C to 50"),
        (lambda: reject_volume(1, -4), "reject ratio = −4 must not be negative"),
        (lambda: water_viscosity(101), "temperature = 101 °C"),
        (lambda: tube_pressure(-1e-7, 0.004, 3), "Tube: flow = −1e-07 m³/s must not be negative"),
        (lambda: tube_head(1e-7, 0, 3), "bore = 0 m must be above 0"),
        (lambda: tube_head(1e-7, 0.004, -3), "length = −3 m must not be negative"),
        (lambda: tube_head(1e-4, 0.004, 3), "is turbulent (Reynolds number"),
        (lambda: volume_above_inlet(-1, 0, 1, 0), "Reservoir: volume = −1 m³"),
        (lambda: volume_above_inlet(1, 0, 0, 0), "depth of water = 0 m must be above 0"),
        (lambda: volume_above_inlet(1, 0, 1, math.nan), "height of the inlet = nan m"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
