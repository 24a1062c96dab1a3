"""The simulated day, surfaces and evaporation against closed forms, handbooks and oracles."""

from __future__ import annotations

import math

import numpy as np
import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.climate import (
    Boundary,
    Control,
    Fogger,
    Leaves,
    Room,
    WetTray,
    Zone,
    dew_point,
    dry_air_density,
    enthalpy,
    evaporation_by_convection,
    gap_resistance,
    humidistat_cycle,
    humidity_ratio,
    leaf_air_resistance,
    saturation_pressure,
    simulate,
    stack_flow,
    stomatal_resistance,
    surface_margin,
    transpiration,
    u_value,
    wet_bulb,
)
from core.climate.scalar import VAPOUR_DIFFUSIVITY, VISCOSITY, saturation
from core.climate.surfaces import CONDUCTIVITY, sheet_resistance
from core.climate.zone import BTU_PER_HOUR
from core.findings.climate_trials import FOAM, FOAM_U
from tests.climate_kit import LIT, zone

HOUR = 3600.0
PRESSURE = 101_325.0
DAY = 86_400.0

psychrolib.SetUnitSystem(psychrolib.SI)


# --- Moist air against other programs


@given(st.floats(0, 45), st.floats(0.05, 1))
def test_moist_air_as_psychrolib_has_it(t, rh):
    # psychrolib 2.5, ASHRAE Fundamentals 2017; its dew point and wet bulb stop within 0.001 K
    ratio = humidity_ratio(t, rh)
    assert ratio == pytest.approx(psychrolib.GetHumRatioFromRelHum(t, rh, PRESSURE), rel=1e-9)
    assert enthalpy(t, ratio) == pytest.approx(psychrolib.GetMoistAirEnthalpy(t, ratio), rel=1e-9)
    assert dew_point(t, rh) == pytest.approx(psychrolib.GetTDewPointFromRelHum(t, rh), abs=2e-3)
    expected = psychrolib.GetTWetBulbFromRelHum(t, rh, PRESSURE)
    if abs(expected) > 1:
        assert wet_bulb(t, rh) == pytest.approx(expected, abs=2e-3)


@given(st.floats(0.02, 45), st.floats(0.05, 1))
def test_moist_air_as_a_real_gas_has_it(t, rh):
    # CoolProp's HumidAirProp: virial equations with the enhancement factor, 0.5 % more vapour
    # at sea level; within 0.6 %
    coolprop = pytest.importorskip("CoolProp.HumidAirProp")
    real = coolprop.HAPropsSI("W", "T", t + 273.15, "P", PRESSURE, "R", rh)
    assert humidity_ratio(t, rh) == pytest.approx(real, rel=6e-3)
    dew = coolprop.HAPropsSI("D", "T", t + 273.15, "P", PRESSURE, "R", rh) - 273.15
    if dew > 0.1:
        assert dew_point(t, rh) == pytest.approx(dew, abs=0.02)
    volume = coolprop.HAPropsSI("Vda", "T", t + 273.15, "P", PRESSURE, "R", rh)
    assert dry_air_density(t, humidity_ratio(t, rh)) == pytest.approx(1 / volume, rel=6e-3)


# --- U-values of covers: two still-air films of 0.12 m² K/W and the sheet's own resistance


@pytest.mark.parametrize(
    ("sheet", "thickness", "expected"),
    [
        ("film", 0.00015, 4.16),
        ("glass", 0.004, 4.10),
        ("acrylic", 0.003, 3.91),
        ("EPS", 0.025, 1.09),
        ("XPS", 0.025, 0.91),
        ("PIR", 0.025, 0.75),
    ],
)
def test_covers_of_one_sheet(sheet, thickness, expected):
    # Series of resistances; conductivities as in ISO 10456 and declared for foams (from memory)
    found = u_value(sheet_resistance(thickness, CONDUCTIVITY[sheet]))
    assert found == pytest.approx(expected, abs=0.006)


def test_the_foam_that_is_offered_behind_a_face():
    # As EPS above: two films and 25 mm, declared conductivity (from memory)
    found = u_value(sheet_resistance(FOAM, CONDUCTIVITY["EPS"]))
    assert found == pytest.approx(FOAM_U, abs=0.006)


def test_two_films_and_bubble_sheet():
    # ISO 6946, closed gaps (from memory)
    film = sheet_resistance(0.00015, CONDUCTIVITY["film"])
    assert u_value(film, gap_resistance(0.025), film) == pytest.approx(2.38, abs=0.006)
    assert u_value(gap_resistance(0.010)) == pytest.approx(2.56, abs=0.006)


# --- Evaporation and leaves


def test_warm_water_by_natural_convection():
    # McAdams with Sherwood numbers, length 0.2 m (area over perimeter of 1.2 x 0.6 m), D 2.53e-5
    # and ν 1.53e-5 m²/s: 0.12 to 0.15 kg/(m² h), honest band x/÷ 2
    rate = evaporation_by_convection(25, 20, 0.7, 1.2, 0.6) * HOUR
    assert 0.12 <= rate <= 0.15


def test_natural_convection_as_ht_has_it():
    # ht 1.2: Nu of a horizontal plate facing up after McAdams, by the analogy of heat and mass
    conv = pytest.importorskip("ht.conv_free_immersed")
    wet = 298.15 * (1 + 0.608 * humidity_ratio(25, 1.0))
    air = 293.15 * (1 + 0.608 * humidity_ratio(20, 0.7))
    lightness, schmidt = (wet - air) / wet, VISCOSITY / VAPOUR_DIFFUSIVITY
    grashof = 9.80665 * lightness * 0.2**3 / VISCOSITY**2
    sherwood = conv.Nu_horizontal_plate_McAdams(schmidt, grashof, buoyancy=True)
    carried = saturation_pressure(25) / 298.15 - 0.7 * saturation_pressure(20) / 293.15
    expected = sherwood * VAPOUR_DIFFUSIVITY / 0.2 * carried / 461.52
    found = evaporation_by_convection(25, 20, 0.7, 1.2, 0.6)
    assert found == pytest.approx(expected, rel=0.08)


def test_leaves_under_lamps():
    # Graamans et al. 2017 (coefficients from memory); own arithmetic: r_a 150 s/m, 20 °C, 500 Pa
    pores = stomatal_resistance(80)
    assert pores == pytest.approx(338.6, abs=0.05)
    rate = transpiration(3, 500, 20, pores, 150)
    assert rate == pytest.approx(2.27e-5, abs=5e-8)
    assert rate * 12 * HOUR == pytest.approx(0.98, abs=5e-3)


def test_leaves_in_the_dark():
    # The same in the dark at 16 °C and 350 Pa
    pores = stomatal_resistance(0)
    assert pores == pytest.approx(450)
    assert transpiration(3, 350, 16, pores, 150) == pytest.approx(1.31e-5, abs=5e-8)


def test_the_air_at_leaves():
    # r_a = 350 √(l/u)/LAI: 0.05 m and 0.2 m/s at LAI 3, own arithmetic
    assert leaf_air_resistance(0.2, 0.05, 3) == pytest.approx(58.33, abs=5e-3)


def test_watts_in_british_thermal_units():
    # 1 W = 3.412142 BTU/h (international table); 8000 BTU/h = 2344.57 W
    assert pytest.approx(2344.57, abs=5e-3) == 8000 / BTU_PER_HOUR


def test_two_openings_one_above_the_other():
    # C_d A √(2 g ΔH ΔT/T_i), ASHRAE Fundamentals 1997, 25.13 (secondary); own arithmetic: twice
    # 0.02 m², 1.5 m apart, so ΔH 0.75 m, 25 and 20 °C, C_d 0.65: 23.2 m³/h
    assert stack_flow(0.02, 0.02, 1.5, 25, 20) * HOUR == pytest.approx(23.25, abs=0.05)


# --- The simulated day against closed forms


def test_a_lit_enclosure_settles_at_the_steady_rise():
    # 300 W, UA 112.05 W/K, 0.01 kg/s of dry air at 20 °C and 50 %: 2.454 K
    density = dry_air_density(20, humidity_ratio(20, 0.5))
    changes = 0.01 * HOUR / (9.3 * density)
    warm = Zone(volume=9.3, boundaries=(Boundary(27, 4.15),), leakage=changes, other_watts=300)
    run = simulate(warm, Room(20, 0.5))
    assert run.temperature[-1] - 20 == pytest.approx(2.454, abs=5e-4)


def test_a_humidistat_cycles_as_the_closed_form_says():
    # First-order response at constant temperature: 260.3 s on, 444.2 s off for 10.992 kg of dry
    # air; a mass of 1e9 J/K holds the temperature, and the day's kernel switches by itself
    dry = 10.992
    fog = Fogger(output=6e-5, control=Control("humidity", on=0.77, off=0.83))
    volume = dry / dry_air_density(20, humidity_ratio(20, 0.5))
    held = Zone(
        volume=volume, leakage=0.005 * HOUR / dry, heat_capacity=1e12, coupling=1e6, devices=(fog,)
    )
    run = simulate(held, Room(20, 0.5), days=3)
    assert run.dry_air_mass == pytest.approx(dry)
    on_s, off_s = humidistat_cycle(dry, 0.005, 6e-5, 0.77, 0.83, 0.5, 20)
    assert (on_s, off_s) == pytest.approx((260.3, 444.2), abs=0.1)
    (told,) = run.devices
    assert told.mean_run == pytest.approx(on_s, rel=5e-3)
    assert 60 * told.duty.sum() == pytest.approx(3 * DAY * on_s / (on_s + off_s), rel=2e-3)


def test_fog_cools_to_the_wet_bulb_and_the_rest_falls_out():
    # Adiabatic saturation from 25 °C and 50 %: 17.9 °C (ASHRAE Fundamentals, chapter 1). The fog
    # is as warm as the slow mass, 25 °C, which the handbook's water is not: 0.02 K
    tight = Zone(
        volume=9.3, leakage=0, coupling=1e-9, heat_capacity=1e12, devices=(Fogger(output=6e-5),)
    )
    run = simulate(tight, Room(25, 0.5), warm_up=0)
    assert run.humidity[-1] == pytest.approx(1, abs=1e-6)
    assert run.moisture.rain < 0
    first = int(np.argmax(run.humidity > 1 - 1e-9))
    assert run.temperature[first] == pytest.approx(17.9, abs=0.1)


def test_a_cover_is_as_cold_as_the_steady_margin_says():
    # 18 °C outside, U 4.15, inner film 8.29 W/(m² K); dry enough that nothing condenses
    dry = Zone(volume=9.3, boundaries=(Boundary(27, 4.15),), other_watts=500)
    run = simulate(dry, Room(18, 0.3))
    t, rh = run.temperature[-1], run.humidity[-1]
    assert not run.wet.any()
    assert run.margin[-1, 0] == pytest.approx(surface_margin(t, rh, 18, 4.15), abs=1e-3)


def test_cooling_down_follows_one_exponential():
    # Newton's law of cooling: a room that falls from 30 to 20 °C at midnight, UA 10 W/K, dry air
    ua, room_t = 10.0, np.full(1440, 20.0)
    room_t[0] = 30.0
    room = Room(room_t, 0.0)
    cooling = Zone(volume=9.3, boundaries=(Boundary(5, 2.0),), leakage=0, coupling=1e-9)
    run = simulate(cooling, room, warm_up=0)
    capacity = run.dry_air_mass * 1006
    minutes = np.arange(1, 60)
    expected = 20 + 10 * np.exp(-ua * 60 * (minutes - 1) / capacity)
    np.testing.assert_allclose(run.temperature[1:60], expected, atol=1e-6)


def test_leaves_and_mat_lose_a_millimetre_or_two_a_day():
    # Growers: a planted tray loses about 1 to 2 mm a day at some 75 % (common practice, no
    # source). Leaves with r_a 150 s/m (0.1 m at 0.06 m/s), a third of the mat bare between pots
    leaves = Leaves(0.72, 3.0, 80 * LIT, 0.2, speed=0.06, leaf_width=0.1)
    mat = WetTray(1.2, 0.6, speed=0.06, wet=0.33)
    run = simulate(zone(leaves=(leaves,), trays=(mat,), leakage=2.5), Room(20, 0.55))
    assert leaf_air_resistance(0.06, 0.1, 3) == pytest.approx(150, rel=0.01)
    assert 0.70 < run.humidity.mean() < 0.80
    lost = (run.evaporating.mean() + run.transpiring.mean()) * DAY / 0.72
    assert 1.0 <= lost <= 2.0


def test_the_twin_of_saturation_pressure_in_the_kernel():
    # Hyland and Wexler, as psychrometrics has it; the slope by a central difference
    for t in np.linspace(-40, 60, 41):
        pressure, slope = saturation(float(t))
        assert pressure == pytest.approx(saturation_pressure(float(t)), rel=1e-12)
        beside = saturation(float(t) + 1e-3)[0] - saturation(float(t) - 1e-3)[0]
        if abs(t) > 0.1:
            assert slope == pytest.approx(beside / 2e-3, rel=1e-6)
    assert math.isfinite(saturation(0.0)[0])
