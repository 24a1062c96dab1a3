"""Climate against the ASHRAE handbook, psychrolib and closed forms; each value names its source."""

import numpy as np
import psychrolib
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.climate import (
    dew_point,
    dry_air_density,
    enthalpy,
    fog_rate,
    humidistat_cycle,
    humidity_ratio,
    opening_flow,
    saturation_pressure,
    steady_rise,
    surface_margin,
    vapour_pressure_deficit,
    ventilation_for_rise,
    wet_bulb,
)

SEA_LEVEL = 101_325.0
HOUR = 3600

psychrolib.SetUnitSystem(psychrolib.SI)

# ASHRAE Fundamentals, chapter 1 (Hyland-Wexler), 101 325 Pa; computed with psychrolib 2.5.
# t, rh, W in g/kg, dew point, wet bulb in °C, enthalpy in kJ/kg, deficit in Pa
TABLE = [
    (25.0, 0.5, 9.881, 13.86, 17.89, 50.32, 1584.6),
    (20.0, 0.8, 11.701, 16.45, 17.68, 49.82, 467.8),
]


@pytest.mark.parametrize(("t", "rh", "ratio", "dew", "bulb", "heat", "deficit"), TABLE)
def test_the_table_of_moist_air(t, rh, ratio, dew, bulb, heat, deficit):
    w = humidity_ratio(t, rh)
    assert w * 1000 == pytest.approx(ratio, abs=5e-4)
    assert dew_point(t, rh) == pytest.approx(dew, abs=5e-3)
    assert wet_bulb(t, rh) == pytest.approx(bulb, abs=5e-3)
    assert enthalpy(t, w) / 1000 == pytest.approx(heat, abs=5e-3)
    assert vapour_pressure_deficit(t, rh) == pytest.approx(deficit, abs=0.05)


def test_a_cooler_leaf_has_a_smaller_deficit():
    # psychrolib 2.5: p_ws(23 °C) - 0.6 p_ws(25 °C)
    assert vapour_pressure_deficit(25, 0.6, leaf_t=23) == pytest.approx(908.9, abs=0.05)


def test_fog_cools_air_to_its_wet_bulb_and_no_further():
    # Adiabatic saturation from 25 °C, 50 %: ASHRAE Fundamentals, chapter 1
    assert wet_bulb(25, 0.5) == pytest.approx(17.9, abs=0.05)


def test_the_slope_of_saturation_pressure():
    # FAO Irrigation and Drainage Paper 56 (Tetens), as computed by pyet: 0.1447 kPa/K, ±0.2 %
    slope = (saturation_pressure(20.01) - saturation_pressure(19.99)) / 0.02
    assert slope / 1000 == pytest.approx(0.1447, rel=2e-3)


def test_the_triple_point_of_water():
    # 611.657 Pa at 0.01 °C: Guildner, Johnson and Jones 1976 (from memory); the handbook's
    # formulas over ice and over water meet it to about 0.01 %
    assert saturation_pressure(0.01) == pytest.approx(611.657, rel=2e-4)
    assert saturation_pressure(0.0101) == pytest.approx(611.657, rel=2e-4)


def test_water_boils_at_100_degrees_under_the_standard_atmosphere():
    # Saturation at 99.974 °C is 101 325 Pa (from memory, IAPWS); Hyland-Wexler to 0.05 %
    assert saturation_pressure(99.974) == pytest.approx(SEA_LEVEL, rel=5e-4)


@given(st.floats(-60, 60))
def test_saturation_pressure_as_psychrolib_has_it(t):
    assert saturation_pressure(t) == pytest.approx(psychrolib.GetSatVapPres(t), rel=1e-9)


@given(st.floats(-20, 50), st.floats(0.05, 1), st.floats(70_000, 105_000))
def test_humidity_ratio_and_enthalpy_as_psychrolib_has_them(t, rh, pressure):
    ratio = humidity_ratio(t, rh, pressure)
    expected = psychrolib.GetHumRatioFromRelHum(t, rh, pressure)
    # psychrolib never returns a ratio below 1e-7
    assert ratio == pytest.approx(max(expected, 1e-7), rel=1e-9)
    assert enthalpy(t, ratio) == pytest.approx(psychrolib.GetMoistAirEnthalpy(t, ratio), rel=1e-9)


@given(st.floats(-10, 50), st.floats(0.05, 1))
def test_dew_point_as_psychrolib_has_it(t, rh):
    # psychrolib stops its iteration within 0.001 K
    expected = psychrolib.GetTDewPointFromRelHum(t, rh)
    assert dew_point(t, rh) == pytest.approx(expected, abs=2e-3)


@given(st.floats(5, 50), st.floats(0.1, 1), st.floats(70_000, 105_000))
def test_wet_bulb_as_psychrolib_has_it(t, rh, pressure):
    # Near 0 °C the equations over ice and over water can both hold; psychrolib stops within 0.001 K
    expected = psychrolib.GetTWetBulbFromRelHum(t, rh, pressure)
    assume(abs(expected) > 1)
    assert wet_bulb(t, rh, pressure) == pytest.approx(expected, abs=2e-3)


def test_arrays_give_what_single_numbers_give():
    # The table's own rows, taken at once
    t, rh = np.array([row[0] for row in TABLE]), np.array([row[1] for row in TABLE])
    bulbs = [row[4] for row in TABLE]
    dews = [row[3] for row in TABLE]
    np.testing.assert_allclose(wet_bulb(t, rh), bulbs, atol=5e-3)
    np.testing.assert_allclose(dew_point(t, rh), dews, atol=5e-3)


def test_the_steady_rise_of_a_lit_enclosure():
    # Closed form, P/(UA + ṁ c_p)
    assert steady_rise(300, 112.05, 0.01, 20, 0.5) == pytest.approx(2.454, abs=5e-4)


def test_the_flow_that_limits_a_rise():
    # Q = P/(ρ c_p ΔT), moist air at 20 °C and 50 %
    assert ventilation_for_rise(300, 5) * HOUR == pytest.approx(178, abs=0.5)


def test_the_flow_that_limits_a_rise_against_round_numbers():
    # Q = P/(ρ c_p ΔT) with ρ 1.2 kg/m³ and c_p 1005 J/(kg K) is 179.1 m³/h; real air of 20 °C
    # and 50 % is within 1 % of these numbers
    assert ventilation_for_rise(300, 5) * HOUR == pytest.approx(179.1, rel=0.01)


def test_a_thin_cover_stays_just_above_the_dew_point():
    # Inner film 8.29 W/(m² K), ASHRAE still air (from memory); dew point of 24 °C, 80 %
    assert surface_margin(24, 0.8, 18, 4.15) == pytest.approx(0.66, abs=5e-3)


def test_the_exchange_through_a_tall_slit():
    # C_d (A/3) √(g H ΔT/T), C_d = 0.40 + 0.0045 ΔT: ASHRAE Fundamentals, ventilation (from memory)
    flow = opening_flow(0.1, 1.8, 25, 20)
    assert flow * HOUR == pytest.approx(49.7, abs=0.05)


def test_the_fog_that_holds_a_humidity():
    # ρ V n ΔW: 22 °C and 80 % against 20 °C and 40 %, two air changes an hour of 9.3 m³
    assert fog_rate(9.3, 2, 22, 0.8, 20, 0.4) * HOUR == pytest.approx(0.166, abs=5e-4)


def test_the_cycle_of_a_humidistat():
    # Closed form of the first-order response. 9.3 m³ at 20 °C and 80 % hold 10.992 kg of dry air;
    # the times were computed with the mass before rounding (10.992 itself gives 444.26 s off)
    dry_air = 9.3 * dry_air_density(20, humidity_ratio(20, 0.80))
    assert dry_air == pytest.approx(10.992, abs=5e-4)
    on_s, off_s = humidistat_cycle(dry_air, 0.005, 6e-5, 0.77, 0.83, 0.50, 20)
    assert on_s == pytest.approx(260.3, abs=0.05)
    assert off_s == pytest.approx(444.2, abs=0.05)
