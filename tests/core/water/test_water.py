"""What holds for any tray, reservoir and liner."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.water import (
    days_to_refill,
    deposit_per_day,
    displaced_by_round_pots,
    evaporation,
    friction_factor,
    hardness_words,
    head_for,
    liner_blank,
    purified_hours,
    reject_volume,
    seat_loss,
    spill_capacity,
    tray_volume,
    tube_flow,
    tube_head,
    tube_pressure,
    use_per_day,
    volume_above_inlet,
    water_viscosity,
)
from core.water.away import away
from core.water.evaporation import Days
from core.water.fortnight import fortnight
from core.water.use import Draw, Supply, lasts

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


@given(
    head=st.floats(0.001, 5),
    bore=st.floats(0.002, 0.02),
    length=st.floats(0.1, 20),
    losses=st.floats(0, 40),
)
def test_a_tubes_flow_and_head_are_each_others_inverse(head, bore, length, losses):
    flow = tube_flow(head, bore, length, losses=losses)
    assert head_for(flow, bore, length, losses=losses) == pytest.approx(head, rel=1e-6)


@given(head=st.floats(0.001, 5), bore=st.floats(0.002, 0.02), length=st.floats(0.1, 20))
def test_more_head_and_a_wider_or_shorter_tube_never_pass_less(head, bore, length):
    flow = tube_flow(head, bore, length)
    assert tube_flow(1.1 * head, bore, length) >= flow
    assert tube_flow(head, 1.1 * bore, length) >= flow
    assert tube_flow(head, bore, 1.1 * length, losses=5.0) <= flow


def tank(number: int, days: float, factor: float) -> Supply:
    found = lasts(0.01, Draw(0.01 / days, 0.01 / days / factor, 0.01 / days * factor, "rate"))
    return Supply(f"tray-{number}", f"Tray {number}", "tray", None, 0.01, 0.01 / days, found, 0, "")


tanks = st.lists(st.tuples(st.floats(0.2, 60), st.floats(1, 4)), min_size=1, max_size=6).map(
    lambda given: [tank(number, *one) for number, one in enumerate(given)]
)


@given(supplies=tanks)
def test_fourteen_days_never_leave_a_container_below_empty_or_above_full(supplies):
    ahead = fortnight(supplies)
    assert ahead.emptiest.min() >= 0 and ahead.emptiest.max() <= 1
    assert (ahead.at_worst <= ahead.emptiest).all()


@given(supplies=tanks, days=st.floats(0.5, 40), rhythm=st.floats(0.5, 14))
def test_what_falls_short_while_away_is_among_what_is_topped_up_before(supplies, days, rhythm):
    gone = away(supplies, days, rhythm)
    assert set(gone.short) <= set(gone.top_up) <= set(supplies)
    assert gone.lasts.value == min(one.days.value for one in supplies)
    assert bool(gone.short) == any(one.days.low < days for one in supplies)
    assert 0 <= gone.volume <= sum(one.volume for one in supplies) * (1 + 1e-12)


def test_what_is_drawn_by_nothing_has_no_days_and_may_last_for_ever_at_the_least():
    assert lasts(0.01, Draw(0.0, 0.0, 0.0, "none")) is None
    assert lasts(0.01, Draw(0.001, 0.0, 0.002, "climate")) == Days(10.0, 5.0, math.inf)


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
        (lambda: tube_flow(-1, 0.004, 3), "Tube: head = −1 m must not be negative"),
        (lambda: tube_flow(1, 0, 3), "bore = 0 m must be above 0"),
        (lambda: tube_flow(1, 0.004, -3), "length = −3 m must not be negative"),
        (lambda: tube_flow(1, 0.004, 3, losses=-1), "losses = −1 must not be negative"),
        (lambda: head_for(-1e-7, 0.004, 3), "Tube: flow = −1e-07 m³/s must not be negative"),
        (lambda: friction_factor(0), "Reynolds number = 0 must be above 0"),
        (lambda: seat_loss(0), "bore of the seat over the tube's = 0 must be above 0"),
        (lambda: hardness_words(-0.1), "Water: hardness = −0.1 kg/m³ must not be negative"),
        (lambda: deposit_per_day(-1, 0.1), "Fogger: use = −1 m³/d must not be negative"),
        (lambda: volume_above_inlet(-1, 0, 1, 0), "Reservoir: volume = −1 m³"),
        (lambda: volume_above_inlet(1, 0, 0, 0), "depth of water = 0 m must be above 0"),
        (lambda: volume_above_inlet(1, 0, 1, math.nan), "height of the inlet = nan m"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
