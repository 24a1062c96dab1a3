"""Jets and leaves against handbooks and closed forms; the source stands beside each value."""

import math

import numpy as np
import pytest

from core.air import RoundJet, leaf_conductance

HOUR = 3600
JET = RoundJet(flow=150 / HOUR, diameter=0.15)


def test_the_centreline_of_a_round_jet():
    # K = 6.2: ASHRAE Fundamentals, space air diffusion (from memory)
    assert JET.speed(1.5, 0) == pytest.approx(1.462, abs=5e-4)


def test_the_half_speed_radius_of_a_round_jet():
    # Slope 0.095: Rajaratnam, Turbulent Jets, 1976 (from memory)
    assert JET.half_width(1.5) == pytest.approx(0.1425, abs=5e-5)
    assert JET.speed(1.5, 0.1425) == pytest.approx(1.462 / 2, abs=5e-4)


@pytest.mark.parametrize("x", [0.95, 1.5, 3.0])
def test_a_jet_keeps_its_momentum_beyond_the_core(x):
    # Conservation of momentum with K = 6.2 and slope 0.095 (as above): M/M0 = 1.00 ± 0.01.
    # Midpoint rule out to eight half widths.
    edges = np.linspace(0, 8 * JET.half_width(x), 4001)
    r = (edges[1:] + edges[:-1]) / 2
    carried = np.sum(JET.speed(x, r) ** 2 * 2 * math.pi * r) * (edges[1] - edges[0])
    assert carried / JET.momentum == pytest.approx(1.0, abs=0.01)


def test_a_fan_of_150_cubic_metres_an_hour():
    # Definitions: u0 = Q/A, M = Q²/A, thrust ρ M, air power ½ ρ Q u0², ρ = 1.2 kg/m³
    assert JET.outlet_speed == pytest.approx(2.358, abs=5e-4)
    assert JET.momentum == pytest.approx(0.0982, abs=5e-5)
    assert JET.thrust(1.2) == pytest.approx(0.118, abs=5e-4)
    assert JET.air_power(1.2) == pytest.approx(0.139, abs=5e-4)


@pytest.mark.parametrize(
    ("speed", "conductance"), [(0.1, 0.245), (0.3, 0.424), (0.5, 0.548), (1.0, 0.775)]
)
def test_vapour_from_a_leaf_five_centimetres_wide(speed, conductance):
    # Campbell and Norman 1998, chapter 7: 0.147 √(u/d), d = 0.72 w (coefficients from memory)
    assert leaf_conductance(speed, 0.05) == pytest.approx(conductance, abs=5e-4)


@pytest.mark.parametrize(("gas", "coefficient"), [("heat", 0.135), ("CO2", 0.110)])
def test_heat_and_carbon_dioxide_from_the_same_leaf(gas, coefficient):
    # Campbell and Norman 1998, chapter 7 (coefficients from memory)
    expected = coefficient * math.sqrt(0.3 / (0.72 * 0.05))
    assert leaf_conductance(0.3, 0.05, gas) == pytest.approx(expected)
