"""Water against handbooks, laws and geometry; the source stands beside each value."""

import math

import fluids
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.water import (
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
    water_viscosity,
)
from core.water.tubes import ENDS

LITRE = 1e-3
HOUR = 3600
DAY = 86_400
US_GALLON = 3.785411784 * LITRE  # NIST SP 811


def test_a_lip_on_a_floor_out_of_level():
    # Geometry, A(h - δ/2)
    assert spill_capacity(4.41, 0.050, 0.020) / LITRE == pytest.approx(176.4, abs=0.05)


def test_a_floor_that_falls_more_than_its_lip_is_high():
    # Geometry, A h²/(2δ): 4.41 x 0.05² / 0.16 = 68.91 L
    assert spill_capacity(4.41, 0.050, 0.080) / LITRE == pytest.approx(68.91, abs=5e-3)


def test_a_liner_folded_from_one_sheet():
    # Geometry
    blank = liner_blank(2.1, 1.2, 0.15)
    assert blank == pytest.approx((2.4, 1.5))
    assert blank.area == pytest.approx(3.60, abs=5e-3)
    assert spill_capacity(2.1 * 1.2, 0.15) / LITRE == pytest.approx(378, abs=0.5)


def test_a_tray_with_pots_and_a_platform():
    # Geometry: 20 round pots of 0.1 m standing 0.04 m deep and a platform of 6 L
    displaced = displaced_by_round_pots(20, 0.1, 0.04) + 6 * LITRE
    volume = tray_volume(1.17, 0.56, 0.05, displaced)
    assert volume / LITRE == pytest.approx(20.48, abs=5e-3)


def test_the_head_of_a_feed_tube():
    # Hagen-Poiseuille; viscosity of water at 20 °C
    flow = 1.5 * LITRE / HOUR
    assert tube_pressure(flow, 0.004, 3, 20) == pytest.approx(199.3, abs=0.05)
    assert tube_head(flow, 0.004, 3, 20) * 1000 == pytest.approx(20.4, abs=0.05)


def test_the_pressure_of_a_feed_tube_as_fluids_has_it():
    # fluids, Darcy friction of laminar flow in a round pipe, at our viscosity
    flow, bore, length, density = 1.5 * LITRE / HOUR, 0.004, 3.0, 998.2
    speed = flow / (math.pi * bore**2 / 4)
    reynolds = fluids.Reynolds(V=speed, D=bore, rho=density, mu=water_viscosity(20))
    friction = fluids.friction_factor(Re=reynolds)
    drop = friction * length / bore * density * speed**2 / 2
    assert tube_pressure(flow, bore, length, 20) == pytest.approx(drop, rel=1e-9)


@given(reynolds=st.floats(1.0, 1e6))
def test_the_friction_in_a_tube_as_fluids_has_it(reynolds):
    # fluids, the same equation of Churchill 1977 written by others
    expected = fluids.friction.Churchill_1977(Re=reynolds, eD=0.0)
    assert friction_factor(reynolds) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("head", "bore", "length"),
    [(0.0204, 0.004, 3.0), (0.05, 0.006, 3.2), (1.2, 0.006, 3.2), (2.5, 0.013, 10.0)],
)
@pytest.mark.parametrize("losses", [0.0, 1.5, 31.2])
def test_the_flow_through_a_tube_as_fluids_has_it(head, bore, length, losses):
    # fluids: the pressure lost at our flow is that of the head; slow and fast
    flow = tube_flow(head, bore, length, 20.0, losses)
    density, viscosity = 998.2, water_viscosity(20)
    speed = flow / (math.pi * bore**2 / 4)
    reynolds = fluids.Reynolds(V=speed, D=bore, rho=density, mu=viscosity)
    friction = fluids.friction.Churchill_1977(Re=reynolds, eD=0.0)
    lost = fluids.K_from_f(fd=friction, L=length, D=bore) + losses
    drop = fluids.dP_from_K(K=lost, rho=density, V=speed)
    assert drop == pytest.approx(density * fluids.constants.g * head, rel=1e-4)
    assert head_for(flow, bore, length, 20.0, losses) == pytest.approx(head, rel=1e-6)


def test_a_tube_passes_the_flow_that_needs_its_head():
    # Hagen-Poiseuille, the check of the head turned round: 20.36 mm on 3 m of 4 mm pass 1.5 L/h
    flow = tube_flow(199.3 / (998.2 * 9.80665), 0.004, 3.0, 20.0, losses=0.0)
    assert flow / LITRE * HOUR == pytest.approx(1.5, abs=2e-3)


def test_a_tube_loses_at_its_ends_what_fluids_says_of_them():
    # fluids: a sharp-edged entrance after Swamee and Sharma, and an exit
    ends = fluids.entrance_sharp(method="Swamee") + fluids.exit_normal()
    assert pytest.approx(ends) == ENDS


def test_a_sharp_seat_loses_what_fluids_says_of_an_orifice():
    # fluids: the loss that remains behind a sharp orifice (ISO 5167), whose discharge coefficient
    # is about 0.61 at small flows
    expected = fluids.flow_meter.discharge_coefficient_to_K(D=1.0, Do=0.5, C=0.61)
    assert seat_loss(0.5) == pytest.approx(expected, rel=0.05)


@pytest.mark.parametrize(
    ("milligrams", "words"),
    [(59, "soft"), (61, "moderately hard"), (121, "hard"), (181, "very hard")],
)
def test_hardness_is_called_as_by_the_usgs(milligrams, words):
    # U.S. Geological Survey, "Hardness of Water": 0-60, 61-120, 121-180, over 180 mg/L
    assert hardness_words(milligrams * 1e-3) == words


def test_the_minerals_that_a_fogger_leaves():
    # Own arithmetic: 3 L of 120 mg/L a day are 360 mg; EPA, Indoor Air Facts 8: they go out with
    # the drops (secondary copy)
    assert deposit_per_day(3 * LITRE, 0.120) * 1e6 == pytest.approx(360)
    assert deposit_per_day(3 * LITRE, 0.120, purified=True) * 1e6 == pytest.approx(18)


@pytest.mark.parametrize(("t", "viscosity"), [(0, 1.792e-3), (20, 1.0016e-3), (40, 0.653e-3)])
def test_the_viscosity_of_water(t, viscosity):
    # IAPWS 2008 tables (from memory); 1.0016 mPa s at 20 °C is the calibration value of ISO/TR 3666
    assert water_viscosity(t) == pytest.approx(viscosity, rel=5e-4)


def test_purified_water_from_a_cold_feed():
    # 50 US gal/d rated at 25 °C, fed at 15 °C: factor exp[3020 (1/298.15 - 1/T)] (from memory)
    hours = purified_hours(20 * LITRE, 50 * US_GALLON, t=15)
    assert hours == pytest.approx(3.60, abs=5e-3)
    # own arithmetic, at the rating itself: 20 L of 189.27 L/d
    assert purified_hours(20 * LITRE, 50 * US_GALLON) == pytest.approx(2.536, abs=5e-4)


def test_water_rejected_at_four_to_one():
    # Own arithmetic; 5:1 typical, 2.3:1 good (EPA WaterSense, secondary copy)
    assert reject_volume(20 * LITRE, 4) / LITRE == pytest.approx(80)


def test_evaporation_into_still_humid_air():
    # Carrier: (0.089 + 0.0782 V) Δp/h_fg; 20 °C water, 20 °C and 75 %, still, activity 1
    millimetres_per_day = evaporation(20, 20, 0.75) * DAY
    assert millimetres_per_day == pytest.approx(1.83, abs=5e-3)


def test_evaporation_from_an_undisturbed_surface():
    # Smith, Löf and Jones 1998: 0.74 times (secondary copy)
    ratio = evaporation(20, 20, 0.75, activity=0.74) / evaporation(20, 20, 0.75)
    assert ratio == pytest.approx(0.74)


def test_evaporation_of_warm_water_is_within_its_band():
    # 25 °C water, 20 °C and 70 %: 0.12 to 0.15 kg/(m² h) by mass transfer (McAdams, natural
    # convection); the honest band of either method is a factor of two
    rate = evaporation(25, 20, 0.70) * HOUR
    assert 0.12 / 2 < rate < 0.15 * 2


def test_the_assumed_loss_of_a_planted_tray():
    # 1.5 mm/d (common practice, no source) on 1.2 x 0.6 m is 1.08 L/d: 4 to 5 US gal last 14 to
    # 18 days, within the growers' two to three weeks (common practice, no source)
    per_day = use_per_day(1.2 * 0.6)
    assert per_day / LITRE == pytest.approx(1.08)
    assert 14 <= 4 * US_GALLON / per_day < 5 * US_GALLON / per_day <= 21
