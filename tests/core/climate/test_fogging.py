"""Fog and its humidistat."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.climate import fog_rate, humidistat_cycle, humidity_ratio
from core.errors import InputError


def cycle(**change):
    usual = {"dry_air_mass": 11, "mass_flow": 0.005, "fog": 6e-5, "low": 0.77, "high": 0.83}
    return humidistat_cycle(**{**usual, "room_rh": 0.5, "t": 20, **change})


def test_room_air_that_is_moist_enough_needs_no_fog():
    assert fog_rate(9, 2, 20, 0.5, 25, 0.8) == 0


@given(st.floats(0.1, 20), st.floats(0, 10), st.floats(0.4, 1))
def test_fog_rises_with_the_air_exchanged(volume, changes, rh):
    once = fog_rate(volume, changes, 22, rh, 20, 0.4)
    assert fog_rate(volume, 2 * changes, 22, rh, 20, 0.4) == pytest.approx(2 * once)


def test_a_weak_fogger_never_stops():
    assert cycle(fog=1e-6)[0] == math.inf


def test_a_moist_room_never_starts_it_again():
    assert cycle(room_rh=0.8)[1] == math.inf


def test_a_tight_enclosure_fills_in_a_straight_line():
    rise = humidity_ratio(20, 0.83) - humidity_ratio(20, 0.77)
    assert cycle(mass_flow=0) == (pytest.approx(11 * rise / 6e-5), math.inf)
    assert cycle(mass_flow=1e-9)[0] == pytest.approx(cycle(mass_flow=0)[0], rel=1e-3)


@given(st.floats(0.55, 0.75), st.floats(0.01, 0.1), st.floats(0.001, 0.05), st.floats(1e-4, 1e-3))
def test_fog_and_exchange_balance_over_a_cycle(low, band, mass_flow, fog):
    on_s, off_s = cycle(low=low, high=low + band, mass_flow=mass_flow, fog=fog)
    if math.isinf(on_s):
        return
    # The mean humidity of a cycle follows from the water given off, and lies inside the band.
    carried = fog * on_s / (mass_flow * (on_s + off_s))
    mean = humidity_ratio(20, 0.5) + carried
    assert humidity_ratio(20, low) <= mean <= humidity_ratio(20, low + band)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: fog_rate(-1, 2, 22, 0.8, 20, 0.4), "volume = −1 m³ must not be negative"),
        (lambda: fog_rate(1, -2, 22, 0.8, 20, 0.4), "air changes = −2 per hour"),
        (lambda: fog_rate(1, 2, 22, 80, 20, 0.4), "relative humidity = 80 must be from 0 to 1"),
        (lambda: cycle(dry_air_mass=0), "dry air = 0 kg must be above 0"),
        (lambda: cycle(mass_flow=-1), "air exchange = −1 kg/s must not be negative"),
        (lambda: cycle(fog=math.nan), "output = nan kg/s must be a finite number"),
        (lambda: cycle(high=1.2), "stop = 1.2 must be from 0 to 1"),
        (lambda: cycle(low=0.9), "Humidistat: start = 0.9 must be below the stop, 0.83"),
        (lambda: cycle(low=math.nan), "start = nan must be below the stop"),
        (lambda: cycle(low=-0.1), "relative humidity = −0.1 must be from 0 to 1"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
