"""Evaporation from water and leaves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import core.water
from core.climate import (
    evaporation,
    evaporation_by_convection,
    leaf_air_resistance,
    stomatal_resistance,
    transpiration,
)
from core.climate.evaporation import LEAST_LEAF_SPEED
from core.climate.scalar import relaxed, wet_surface
from core.errors import InputError


def test_water_tells_the_same_formula():
    assert core.water.evaporation is evaporation


@given(st.floats(10, 30), st.floats(0.3, 0.9), st.floats(0, 2))
def test_moving_air_takes_more_from_a_tray(t, rh, speed):
    still = evaporation_by_convection(t, t, rh, 1.2, 0.6)
    assert evaporation_by_convection(t, t, rh, 1.2, 0.6, speed) >= still * (1 - 1e-12)
    assert still > 0


@given(st.floats(15, 30), st.floats(0.4, 0.9), st.floats(0.1, 0.5))
def test_two_ways_to_reckon_agree_in_moving_air(t, rh, speed):
    # Each is right within a factor of two, so they may lie a factor of four apart; in still air
    # Carrier's basins had more draught than a plate by itself
    ratio = evaporation_by_convection(t, t, rh, 1.2, 0.6, speed) / evaporation(t, t, rh, speed)
    assert 1 / 4 < ratio < 4


def test_cold_water_in_damp_air_takes_up_dew():
    assert evaporation_by_convection(10, 25, 0.9, 1.2, 0.6) < 0


def test_air_that_is_heavier_at_the_surface_hardly_moves():
    assert wet_surface(-0.01, 0.0, 0.2, 0.6)[1] < wet_surface(0.01, 0.0, 0.2, 0.6)[1]
    assert wet_surface(0.0, 0.0, 0.2, 0.6) == (0.0, 0.0)


@given(st.floats(0, 1000), st.floats(0, 1000))
def test_light_opens_pores(ppfd, more):
    assert stomatal_resistance(ppfd + more) <= stomatal_resistance(ppfd)
    assert 60 < stomatal_resistance(ppfd) <= 450


def test_air_never_rests_at_leaves():
    assert leaf_air_resistance(0, 0.05, 3) == leaf_air_resistance(LEAST_LEAF_SPEED, 0.05, 3)
    speeds = np.array([0.1, 0.4])
    slow, fast = leaf_air_resistance(speeds, 0.05, 3)
    assert slow == pytest.approx(2 * fast)


@given(st.floats(-10, 10), st.floats(-5, 5), st.floats(0, 5), st.floats(0.1, 10), st.floats(0, 100))
def test_relaxation_balances_and_halves_join(start, source, rate, capacity, time):
    end, mean = relaxed(start, source, rate, capacity, time)
    moved = (source - rate * mean) * time
    size = abs(source) * time + rate * abs(mean) * time + capacity * abs(start) + 1
    assert capacity * (end - start) == pytest.approx(moved, abs=1e-9 * size)
    half, _ = relaxed(start, source, rate, capacity, time / 2)
    assert relaxed(half, source, rate, capacity, time / 2)[0] == pytest.approx(
        end, abs=1e-9 * size / capacity
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: evaporation_by_convection(-1, 20, 0.5, 1, 1), "Water: temperature = −1 °C"),
        (lambda: evaporation_by_convection(20, 20, 75, 1, 1), "relative humidity = 75 must be"),
        (lambda: evaporation_by_convection(20, 20, 0.5, 0, 1), "Tray: width = 0 m must be above"),
        (lambda: evaporation_by_convection(20, 20, 0.5, 1, 0), "Tray: depth = 0 m must be above"),
        (lambda: evaporation_by_convection(20, 20, 0.5, 1, 1, -1), "Air: speed = −1 m/s"),
        (lambda: stomatal_resistance(-1), "Leaf: PPFD = −1 µmol/(m² s) must not be negative"),
        (lambda: stomatal_resistance(1, 0), "factor on pore resistance = 0 must be above 0"),
        (lambda: leaf_air_resistance(-1, 0.1, 3), "Leaf: air speed = −1 m/s must not be"),
        (lambda: leaf_air_resistance(1, 0, 3), "Leaf: width = 0 m must be above 0"),
        (lambda: leaf_air_resistance(1, 0.1, 0), "leaf area index = 0 must be above 0"),
        (lambda: transpiration(-1, 500, 20, 300, 100), "leaf area index = −1 must not be"),
        (lambda: transpiration(3, 500, 20, 0, 100), "pore resistance = 0 s/m must be above 0"),
        (lambda: transpiration(3, 500, 20, 300, 0), "air resistance = 0 s/m must be above 0"),
        (lambda: transpiration(3, 500, 300, 300, 9), "Leaf: temperature = 300 °C must be from"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
