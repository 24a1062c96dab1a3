"""Timers and the load of a day."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.power import Device, continuous_load, load_profile
from core.power.profile import periods_of

minutes = st.integers(0, 1440)
devices = st.builds(
    Device,
    name=st.just("thing"),
    watts=st.floats(0, 2000),
    power_factor=st.floats(0.3, 1.0),
    on=minutes,
    off=minutes,
    duty=st.floats(0, 1),
    ramp=st.sampled_from([0.0, 15.0, 60.0]),
)


def lamp(on, off, **more):
    return Device("lamp", 100, 1.0, on, off, **more)


def test_a_timer_runs_past_midnight():
    level = lamp(1380, 60).level()
    assert level.sum() == 120
    assert level[1380] == level[59] == 1
    assert level[60] == level[1379] == 0


def test_equal_times_mean_all_day():
    assert lamp(360, 360).level().sum() == 1440


def test_midnight_as_1440_is_midnight_as_0():
    assert np.array_equal(lamp(1200, 1440).level(), lamp(1200, 0).level())


def test_several_periods_take_the_place_of_one():
    level = lamp(0, 0, periods=((360, 480), (420, 600), (1200, 1260))).level()
    assert level.sum() == 240 + 60
    assert lamp(0, 0, periods=()).level().sum() == 0


def test_a_sunrise_and_a_sunset_of_an_hour_cost_an_hour_of_full_power():
    level = lamp(360, 1200, ramp=60).level()
    assert level.sum() == pytest.approx(14 * 60 - 60)
    assert level[360] == pytest.approx(0.5 / 60)
    assert np.all(np.diff(level[360:420]) > 0)
    assert level[780] == 1


def test_a_ramp_longer_than_half_the_period_never_reaches_full_power():
    level = lamp(0, 60, ramp=60).level()
    assert level.max() < 0.5
    assert level[0] == level[59] > 0


def test_a_thermostat_counts_in_full_for_the_peak_and_by_duty_for_energy():
    profile = load_profile([Device("cooler", 700, 0.7, 0, 0, duty=0.25)], 230)
    assert profile.peak_watts == 700
    assert profile.peak_va == pytest.approx(1000)
    assert profile.peak_current == pytest.approx(1000 / 230)
    assert profile.kwh_per_day == pytest.approx(0.7 * 0.25 * 24)


def test_no_devices_draw_nothing():
    profile = load_profile([], 120)
    assert profile.peak_va == profile.kwh_per_day == 0
    assert continuous_load(profile)[:2] == (0, 0)


def test_the_peak_follows_apparent_power():
    by_watts = Device("heater", 100, 1.0, 0, 60)
    by_va = Device("pump", 90, 0.5, 120, 180)
    assert load_profile([by_watts, by_va], 120).peak_periods == ((120, 180),)


@given(on=minutes, off=minutes)
def test_periods_come_back_from_the_minutes_they_cover(on, off):
    active = lamp(on, off).level() > 0
    whole_day = on % 1440 == off % 1440
    assert periods_of(active) == (((0, 0),) if whole_day else ((on % 1440, off % 1440),))


@given(st.lists(devices, max_size=5), st.floats(100, 240))
def test_bounds_of_any_day(many, voltage):
    profile = load_profile(many, voltage)
    assert np.all(profile.va >= profile.watts * (1 - 1e-9))
    assert np.all(profile.mean_watts <= profile.watts * (1 + 1e-9))
    assert np.all(profile.continuous_va <= profile.va)
    assert profile.peak_va <= sum(one.apparent_power for one in many) * (1 + 1e-9)
    load = continuous_load(profile)
    assert load.continuous_a + load.other_a <= profile.peak_current * (1 + 1e-9)


@given(st.lists(devices, max_size=4), st.integers(0, 1439))
def test_a_day_that_starts_later_is_the_same_day(many, shift):
    def later(one):
        on, off = (one.on + shift) % 1440, (one.off + shift) % 1440
        return Device(one.name, one.watts, one.power_factor, on, off, one.duty, ramp=one.ramp)

    first = load_profile(many, 120)
    second = load_profile([later(one) for one in many], 120)
    np.testing.assert_allclose(np.roll(first.va, shift), second.va, atol=1e-6)
    np.testing.assert_allclose(np.roll(first.continuous_va, shift), second.continuous_va, atol=1e-6)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"watts": -1}, "Device 'lamp': power = −1 W must not be negative; enter 0 or more."),
        ({"watts": float("nan")}, "power = nan W must be a finite number"),
        ({"power_factor": 0}, "power factor = 0 must be above 0"),
        ({"power_factor": 1.1}, "power factor = 1.1 must be from 0 to 1"),
        ({"on": -5}, "switch-on = −5 min must be from 0 min to 1440 min"),
        ({"off": 1441}, "switch-off = 1441 min"),
        ({"duty": 1.5}, "duty = 1.5 must be from 0 to 1"),
        ({"ramp": -1}, "ramp = −1 min"),
        ({"periods": ((0, 2000),)}, "switch-off = 2000 min"),
    ],
)
def test_a_device_refuses_what_it_cannot_use(change, words):
    good = {"name": "lamp", "watts": 100, "power_factor": 0.9, "on": 0, "off": 60}
    with pytest.raises(InputError) as caught:
        Device(**{**good, **change})
    assert words in str(caught.value)


def test_a_load_needs_a_voltage():
    with pytest.raises(InputError, match="voltage = 0 V must be above 0"):
        load_profile([], 0)


def test_two_periods_of_one_day_keep_their_own_ends():
    # 02:00-04:00 and 10:00-12:00; and 22:00-02:00 with 10:00-12:00, across midnight.
    morning = lamp(0, 0, periods=((120, 240), (600, 720))).level() > 0
    assert periods_of(morning) == ((120, 240), (600, 720))
    around = lamp(0, 0, periods=((1320, 120), (600, 720))).level() > 0
    assert periods_of(around) == ((600, 720), (1320, 120))
