"""Circuits, breakers, leads and chains."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.power import (
    CONDUCTORS,
    OTHER_BREAKERS,
    OTHER_FACTOR,
    Device,
    appliance_limit,
    breaker_size,
    chain_drop,
    chain_limit,
    chain_limits,
    continuous_capacity,
    continuous_load,
    current,
    drop_share,
    inrush_count,
    load_profile,
    resistance_at,
    voltage_drop,
)

amperes = st.floats(0, 100)


def load_of(*devices):
    return continuous_load(load_profile(devices, 100))


def heater(on, off, watts=1000):
    return Device("heater", watts, 1.0, on, off)


def test_three_hours_are_continuous_and_a_minute_less_is_not():
    assert load_of(heater(0, 180))[:2] == (10, 0)
    assert load_of(heater(0, 179))[:2] == (0, 10)


def test_three_hours_across_midnight_are_continuous():
    assert load_of(heater(1350, 90))[:2] == (10, 0)


def test_two_devices_that_relieve_each_other_are_continuous_together():
    assert load_of(heater(0, 120), heater(120, 240))[:2] == (10, 0)


def test_continuous_devices_that_overlap_briefly_count_in_full_while_they_do():
    load = load_of(heater(0, 180), heater(150, 360))
    assert load[:2] == (20, 0)
    assert 150 <= load.minute < 180


def test_the_deciding_minute_is_not_always_the_peak():
    # 10 A for six hours weighs 12.5 A; 11 A for one hour weighs 11 A.
    load = load_of(heater(0, 360), heater(600, 660, watts=1100))
    assert load == (10, 0, 0)
    plain = load_profile([heater(0, 360), heater(600, 660, watts=1100)], 100)
    assert continuous_load(plain, factor=1.0)[:2] == (0, 11)


def test_elsewhere_the_plain_sum_decides():
    sized = breaker_size(8, 6, factor=OTHER_FACTOR, sizes=OTHER_BREAKERS)
    assert sized == (14, 16)


def test_a_load_beyond_every_standard_breaker_is_told_as_infinite():
    assert breaker_size(1000, 0) == (1250, math.inf)


def test_other_loads_leave_less_for_continuous_ones():
    assert continuous_capacity(15, 120, other_a=5) == pytest.approx(960)
    assert continuous_capacity(15, 120, other_a=20) == 0


@given(amperes, amperes)
def test_a_standard_breaker_covers_its_minimum(continuous, other):
    minimum, standard = breaker_size(continuous, other)
    assert minimum <= standard * (1 + 1e-9)
    assert minimum >= continuous + other


@given(st.floats(5, 60), st.floats(100, 240), st.floats(0, 4))
def test_what_a_breaker_can_carry_fills_it_exactly(breaker, voltage, other):
    capacity = continuous_capacity(breaker, voltage, other)
    minimum, _ = breaker_size(capacity / voltage, other)
    assert minimum == pytest.approx(breaker)


def test_a_chain_names_the_limit_that_binds():
    assert chain_limits(50, 1.0, 100, 5.0, 3.0, 8) == (8, 10, 6)
    assert chain_limits(50, 1.0, 100, 5.0, 3.0, 8).binding == "lead"
    assert chain_limits(50, 1.0, 100, 2.0, 3.0, 8).binding == "feed"
    assert chain_limits(50, 1.0, 100, 5.0, 5.0, 4).binding == "maker"
    assert chain_limits(50, 1.0, 100, 5.0, 5.0).least == 10
    assert chain_limits(0, 1.0, 100, 5.0, 5.0).least == math.inf


def test_a_chain_whose_current_is_exactly_its_feed_is_allowed():
    # 0.3 / 0.1 is 2.9999999999999996 as floats
    assert chain_limit(10, 1.0, 100, 0.3, 0.3, 8) == 3


@given(st.floats(1, 500), st.floats(0.5, 1), st.floats(0.1, 20), st.integers(0, 30))
def test_a_chain_at_its_limit_stays_within_its_feed(power, factor, feed, most):
    count = chain_limit(power, factor, 120, feed, 100, most)
    assert count * current(power, factor, 120) <= feed * (1 + 1e-6)


@given(st.floats(0, 5), st.integers(0, 12), st.floats(0, 5))
def test_drop_along_a_chain_is_the_sum_of_its_leads(lamp_a, count, spacing):
    ohm = CONDUCTORS["18 AWG"].ohm_per_metre
    leads = [voltage_drop(lamp_a * beyond, spacing, ohm) for beyond in range(1, count + 1)]
    assert chain_drop(lamp_a, count, spacing, ohm) == pytest.approx(sum(leads))


def test_drop_as_a_share_of_the_supply():
    assert drop_share(3.6, 120) == pytest.approx(0.03)


def test_resistance_changes_with_temperature_and_back():
    warm = resistance_at(0.01, 75, given_at=20)
    assert warm == pytest.approx(0.01 * (1 + 0.00393 * 55))
    assert resistance_at(warm, 20, given_at=75) == pytest.approx(0.01)


def test_a_makers_count_takes_the_place_of_the_estimate():
    assert inrush_count(16, 30, maker_count=7) == 7


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: breaker_size(-1, 0), "Circuit: continuous current = −1 A must not be negative"),
        (lambda: breaker_size(0, math.inf), "other current = inf A must be a finite number"),
        (lambda: breaker_size(0, 0, factor=0), "factor on continuous load = 0 must be above 0"),
        (lambda: breaker_size("8", "x"), "other current = 'x' must be a number"),
        (lambda: continuous_capacity(15, 0), "voltage = 0 V must be above 0"),
        (lambda: appliance_limit(-15), "breaker rating = −15 A must not be negative"),
        (lambda: continuous_load(load_profile([], 1), factor=-1), "factor on continuous load"),
        (lambda: inrush_count(16, 0), "inrush = 0 A must be above 0"),
        (lambda: inrush_count(16, 30, "Z"), "breaker type = Z is not known; enter one of B, C, D."),
        (lambda: inrush_count(16, 30, maker_count=-1), "maker's count per breaker = −1"),
        (lambda: voltage_drop(-1, 1, 1), "current = −1 A must not be negative"),
        (lambda: voltage_drop(1, -1, 1), "length = −1 m must not be negative"),
        (lambda: voltage_drop(1, 1, math.nan), "resistance = nan Ω/m must be a finite number"),
        (lambda: chain_drop(1, -1, 1, 1), "Chain: lamps = −1 must not be negative"),
        (lambda: chain_limit(-42, 0.9, 120, 5, 5, 8), "power = −42 W must not be negative"),
        (lambda: chain_limit(42, 0, 120, 5, 5, 8), "power factor = 0 must be above 0"),
        (lambda: chain_limit(42, 0.9, 0, 5, 5, 8), "voltage = 0 V must be above 0"),
        (lambda: chain_limit(42, 0.9, 120, -5, 5, 8), "feed = −5 A must not be negative"),
        (lambda: chain_limit(42, 0.9, 120, 5, -5, 8), "lead = −5 A must not be negative"),
        (lambda: chain_limit(42, 0.9, 120, 5, 5, -8), "largest count = −8 must not be negative"),
        (lambda: drop_share(1, 0), "voltage = 0 V must be above 0"),
        (lambda: resistance_at(1, 300, given_at=20), "temperature = 300 °C must be from −100 °C"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
