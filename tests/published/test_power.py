"""Power against codes, standards and hand arithmetic; the source stands beside each value."""

import math

import fluids
import pytest

from core.model import NORTH_AMERICA, Circuit, Lamp
from core.power import (
    CONDUCTORS,
    Device,
    appliance_limit,
    breaker_size,
    chain_drop,
    chain_limit,
    continuous_capacity,
    continuous_load,
    inrush_count,
    load_profile,
    resistance_at,
    voltage_drop,
)
from core.power.drops import AREAS
from core.power.inrush import share_of
from core.power.leakage import standing_limit

FOOT = 0.3048
CLOCK = 60


def the_day():
    """Six devices of a small enclosure; the expected sums are hand arithmetic."""
    return load_profile(
        [
            Device("lamp A", 240, 0.95, 6 * CLOCK, 20 * CLOCK),
            Device("lamp B", 240, 0.95, 7 * CLOCK, 21 * CLOCK),
            Device("fans", 40, 0.6, 0, 0),
            Device("fogger", 35, 0.9, 0, 0, duty=0.2),
            Device("cooler", 700, 0.9, 22 * CLOCK, 6 * CLOCK, duty=0.4),
            Device("heat mat", 100, 1.0, 20 * CLOCK, 8 * CLOCK, duty=0.5),
        ],
        voltage=120,
    )


@pytest.mark.parametrize(
    ("continuous", "other", "minimum", "standard"),
    [
        # NEC 210.19(A), 210.20(A): 1.25 x continuous + other (seen in a secondary copy)
        (8, 6, 16.0, 20),
        # 1.25 x 4 + 9 = 14 A, the same rule
        (4, 9, 14.0, 15),
        # a circuit used to exactly 80 %, the same rule
        (12, 0, 15.0, 15),
    ],
)
def test_a_breaker_carries_125_percent_of_the_continuous_load(continuous, other, minimum, standard):
    assert breaker_size(continuous, other) == (pytest.approx(minimum, abs=1e-12), standard)


def test_fifteen_amperes_at_120_volts_carry_1440_va_continuously():
    # NEC 210.20(A) (secondary copy)
    assert continuous_capacity(15, 120) == pytest.approx(1440, abs=1e-9)


def test_one_appliance_on_a_shared_circuit_has_80_percent_or_50_when_fixed():
    # NEC 210.23(A) (secondary copy)
    assert appliance_limit(20) == pytest.approx(16)
    assert appliance_limit(20, fixed=True) == pytest.approx(10)


@pytest.mark.parametrize(("receptacle", "most"), [(15, 12), (20, 16), (30, 24)])
def test_one_plug_at_a_receptacle_of_a_shared_circuit(receptacle, most):
    # NEC table 210.21(B)(2), as quoted in an open forum of electricians (secondary copy)
    assert receptacle * NORTH_AMERICA.one_plug == pytest.approx(most)


def test_standing_leakage_behind_leakage_protection():
    # 30 mA elsewhere, class A at 4 to 6 mA; 25 to 30 % of it standing (secondary copies)
    assert 0.25 * 0.030 <= standing_limit("elsewhere") <= 0.30 * 0.030
    assert 0.25 * 0.004 <= standing_limit("north-america") <= 0.30 * 0.006


def test_drop_along_an_evenly_spaced_chain():
    # I r s N(N + 1)/2, both conductors: each lead carries the lamps behind it, summed by hand for
    # four lamps of 0.5 A, 1 m apart, on 1.0 mm²: 2 × 0.0195 × (2 + 1.5 + 1 + 0.5)
    drop = chain_drop(0.5, 4, 1.0, CONDUCTORS["1.0 mm²"].ohm_per_metre)
    assert drop == pytest.approx(2 * 0.0195 * 5.0)


@pytest.mark.parametrize(("curve", "times"), [("B", 3), ("C", 5)])
def test_devices_that_start_at_once_by_their_inrush(curve, times):
    # floor(In n / Ipk) with n = 3 (type B), 5 (type C): IEC 60898-1 lower limits (from memory)
    assert inrush_count(16, 9.0, curve) == math.floor(16 * times / 9.0)
    assert inrush_count(16, 9.0, curve, maker_count=11) == 11


@pytest.mark.parametrize(("curve", "times"), [("B", 3), ("C", 5), ("D", 10)])
def test_lamps_of_a_design_take_their_share_of_what_may_start_at_once(curve, times):
    # IEC 60898-1 lower limits, 3, 5 and 10 times the rating (from memory): 9 A of 16 A × times
    circuit = Circuit(id="c", name="Circuit", breaker=16, trip=curve)
    lamp = Lamp(id="l", name="Lamp", form="board", watts=40, inrush=9, width=1, depth=1, height=1)
    assert share_of(lamp, circuit) == pytest.approx(9 / (16 * times))


def test_drop_along_fifty_feet_of_14_awg():
    # 2 L I R with NEC chapter 9, table 8, 75 °C stranded, 3.14 ohm per 1000 ft (secondary copy)
    drop = voltage_drop(12, 50 * FOOT, CONDUCTORS["14 AWG"].ohm_per_metre)
    assert drop == pytest.approx(3.768, abs=5e-4)


def test_drop_along_twenty_metres_of_flexible_1_5_mm2():
    # IEC 60228 class 5 at 20 °C, 13.3 ohm/km (secondary copy)
    drop = voltage_drop(10, 20, CONDUCTORS["1.5 mm²"].ohm_per_metre)
    assert drop == pytest.approx(5.32, abs=5e-3)


@pytest.mark.parametrize(
    ("size", "ohm_per_thousand_feet"),
    # NEC chapter 9, table 8, stranded copper at 75 °C (secondary copy)
    [("18 AWG", 7.95), ("16 AWG", 4.99), ("14 AWG", 3.14), ("12 AWG", 1.98), ("10 AWG", 1.24)],
)
def test_gauge_resistances_are_those_of_the_code(size, ohm_per_thousand_feet):
    conductor = CONDUCTORS[size]
    assert conductor.ohm_per_metre * 1000 * FOOT == pytest.approx(ohm_per_thousand_feet)
    assert conductor.temperature == 75


@pytest.mark.parametrize(
    ("size", "ohm_per_kilometre"),
    # IEC 60228, class 5, at 20 °C (secondary copy)
    [("0.75 mm²", 26.0), ("1.0 mm²", 19.5), ("1.5 mm²", 13.3), ("2.5 mm²", 7.98)],
)
def test_metric_resistances_are_those_of_the_standard(size, ohm_per_kilometre):
    conductor = CONDUCTORS[size]
    assert conductor.ohm_per_metre * 1000 == pytest.approx(ohm_per_kilometre)
    assert conductor.temperature == 20


@pytest.mark.parametrize(("gauge", "ohm_per_thousand_feet"), [(14, 3.07), (12, 1.93)])
def test_solid_wire_at_75_degrees_from_annealed_copper(gauge, ohm_per_thousand_feet):
    # NEC chapter 9, table 8, solid copper; wire diameter from fluids.t_from_gauge, resistivity
    # of annealed copper 1.7241e-8 ohm m at 20 °C and 0.00393 per kelvin (IEC 60028)
    diameter = fluids.t_from_gauge(gauge, SI=True, schedule="AWG")
    at_20 = 1.7241e-8 / (math.pi * diameter**2 / 4)
    at_75 = resistance_at(at_20, 75, given_at=20)
    assert at_75 * 1000 * FOOT == pytest.approx(ohm_per_thousand_feet, abs=5e-3)


@pytest.mark.parametrize(("size", "gauge"), [("18 AWG", 18), ("14 AWG", 14), ("10 AWG", 10)])
def test_stranded_copper_is_a_little_above_solid_copper(size, gauge):
    # Lay of the strands adds about 2 %: ASTM B8 (from memory). Diameter: fluids.t_from_gauge.
    diameter = fluids.t_from_gauge(gauge, SI=True, schedule="AWG")
    solid = resistance_at(1.7241e-8 / (math.pi * diameter**2 / 4), 75, given_at=20)
    assert 1.01 < CONDUCTORS[size].ohm_per_metre / solid < 1.04


def test_a_chain_is_limited_by_its_maker_before_its_feed():
    # min(count, floor(feed A / I), floor(lead A / I)): own arithmetic, 42 W / (0.95 x 120 V)
    assert chain_limit(42, 0.95, 120, 5, 5, 8) == 8


def test_a_breaker_of_type_b_trips_at_three_times_its_rating():
    # IEC 60898-1, lower limits 3 (B) and 5 (C) (from memory): 16 x 3 / 30 and 16 x 5 / 30
    assert inrush_count(16, 30, "B") == 1
    assert inrush_count(16, 30, "C") == 2


def test_the_peak_of_the_day_is_coincident():
    # own arithmetic: 40 + 35 + 700 + 100 W; 40/.6 + 35/.9 + 700/.9 + 100 VA
    profile = the_day()
    assert profile.peak_watts == pytest.approx(875, abs=1e-9)
    assert profile.peak_va == pytest.approx(983.3, abs=0.05)


def test_the_peak_lasts_from_ten_at_night_to_six_in_the_morning():
    # own arithmetic
    profile = the_day()
    assert profile.peak_periods == ((22 * CLOCK, 6 * CLOCK),)
    assert len(profile.peak_minutes) == 8 * CLOCK


def test_the_energy_of_the_day_and_of_the_month():
    # own arithmetic: 3.36 + 3.36 + 0.96 + 0.168 + 2.24 + 0.6 kWh; times 365/12
    profile = the_day()
    assert profile.kwh_per_day == pytest.approx(10.688, abs=1e-9)
    assert profile.kwh_per_month == pytest.approx(325.1, abs=0.05)


def test_the_whole_day_is_continuous_load():
    # NEC article 100: three hours or more. Every device of the day is on for longer, so all of
    # the peak is continuous: 983.3 VA / 120 V = 8.194 A, times 1.25 = 10.24 A.
    load = continuous_load(the_day())
    assert load.continuous_a == pytest.approx(8.194, abs=5e-4)
    assert load.other_a == pytest.approx(0, abs=1e-12)
    minimum, standard = breaker_size(load.continuous_a, load.other_a)
    assert minimum == pytest.approx(10.24, abs=5e-3)
    assert standard == 15


@pytest.mark.parametrize("gauge", [18, 16, 14, 12, 10])
def test_cross_sections_of_gauges_follow_their_definition(gauge):
    # ASTM B258 (from memory): d = 0.127 mm x 92^((36 - gauge)/39); area in mm² to four digits.
    diameter = 0.127e-3 * 92 ** ((36 - gauge) / 39)
    assert AREAS[f"{gauge} AWG"] == pytest.approx(math.pi * diameter**2 / 4, rel=1e-4)
