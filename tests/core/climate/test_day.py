"""The simulated day: ledgers, steps, devices against each other, and what the results tell."""

from __future__ import annotations

import math
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.climate import (
    Boundary,
    Control,
    Cooler,
    Fogger,
    Gap,
    Heater,
    LampHeat,
    Leaves,
    Room,
    Vent,
    WetTray,
    Zone,
    from_hours,
    humidity_ratio,
    opening_flow,
    simulate,
)
from core.errors import InputError
from tests.climate_kit import COVERS, HOURS, LIT, bare, cool_room, fogger, humidistat, zone

ROOT = Path(__file__).resolve().parents[3]


def cooler(day=22.0, night=16.0, **change) -> Cooler:
    control = Control.beyond("temperature", np.where(LIT > 0, day, night), 1.0, 180.0)
    usual = {"name": "Cold", "cooling": 1500.0, "air_flow": 0.083, "watts": 40.0}
    return Cooler(**{**usual, "control": control, **change})


def heater(set_point=15.0, watts=400.0) -> Heater:
    return Heater(name="Warm", watts=watts, control=Control.below("temperature", set_point, 1.0))


# --- Ledgers


@st.composite
def setups(draw):
    """Draw a zone with some of everything, and a room."""
    share = st.floats(0, 1)
    level = st.floats(0.3, 0.95)
    devices = draw(
        st.lists(
            st.sampled_from(
                [
                    cooler(draw(st.floats(16, 26)), draw(st.floats(12, 18))),
                    cooler(make_up=0.02, source="outdoors", cooling=600.0),
                    fogger(draw(st.floats(1e-6, 5e-4)), control=humidistat(draw(level), 0.04)),
                    Fogger(output=draw(st.floats(0, 2e-4)), hours=LIT),
                    heater(draw(st.floats(5, 25))),
                    Vent(flow=draw(st.floats(0, 0.1)), source="outdoors", hours=1 - LIT),
                    Vent(flow=0.05, control=Control.beyond("humidity", draw(level), 0.05)),
                ]
            ),
            max_size=5,
        )
    )
    made = zone(
        boundaries=(*COVERS, Boundary(3.0, draw(st.floats(0, 6)), draw(share))),
        lamps=(LampHeat(draw(st.floats(0, 800)) * LIT, driver_inside=draw(st.booleans())),),
        light_out=draw(share),
        leakage=draw(st.floats(0, 20)),
        heat_capacity=draw(st.floats(1e4, 1e6)),
        coupling=draw(st.floats(1, 200)),
        skin=draw(st.floats(0, 1e5)),
        trays=(WetTray(1.2, 0.6, draw(st.floats(0, 1))), WetTray(0.3, 0.3, wet=draw(share))),
        leaves=(Leaves(draw(st.floats(0.5, 3)), 2.0, 200 * LIT, draw(share)),),
        gaps=(Gap(draw(share), 1.2, "outdoors", LIT), Gap(0.05, draw(share))),
        devices=tuple(devices),
    )
    swing = draw(st.floats(0, 8)) * np.sin(2 * np.pi * (HOURS - 9) / 24)
    temperature = draw(st.floats(5, 30)) + swing
    room = Room(temperature, draw(share), draw(st.floats(-15, 35)), draw(share))
    return made, room


@settings(max_examples=60)
@given(setups(), st.integers(0, 1))
def test_heat_and_water_close_whatever_runs(setup, warm_up):
    run = simulate(*setup, warm_up=warm_up)
    assert abs(run.energy.gap) <= 1e-9 * run.energy.turnover
    assert abs(run.moisture.gap) <= 1e-9 * run.moisture.turnover
    assert np.isfinite(run.temperature).all()
    assert (run.humidity >= 0).all()
    assert (run.humidity <= 1 + 1e-6).all()


def test_the_ledgers_are_those_of_the_series():
    made = zone(devices=(fogger(), cooler()))
    run = simulate(made, cool_room(humidity=0.4))
    air = 1006 * (run.end[0] - run.temperature[0])
    air += run.end[2] * (2_501_000 + 1860 * run.end[0])
    air -= run.humidity_ratio[0] * (2_501_000 + 1860 * run.temperature[0])
    stored = run.dry_air_mass * air + made.heat_capacity * (run.end[1] - run.mass_temperature[0])
    assert run.energy.stored == pytest.approx(stored, abs=1e-3)
    assert run.moisture.trays == pytest.approx(60 * run.evaporating.sum())
    assert run.moisture.covers == pytest.approx(-60 * run.condensing.sum())
    fog, cold = run.devices
    assert run.moisture.fog == pytest.approx(60 * fog.water.sum())
    assert run.moisture.coil == pytest.approx(-60 * cold.water.sum())
    assert run.energy.coil == pytest.approx(-60 * cold.removed.sum())


def test_electricity_is_all_that_lamps_and_devices_put_in():
    lamp = LampHeat(240 * LIT, light_share=0.45, driver_share=0.12, driver_inside=False)
    leaves = Leaves(1.0, light_share=0.3)
    run = simulate(zone(lamps=(lamp,), light_out=0.2, leaves=(leaves,)), cool_room())
    kept = 240 * 14 * 3600 * (1 - 0.12 - 0.45 * 0.2)
    assert run.energy.electric == pytest.approx(kept + 40 * 86_400)


def test_dry_air_stays_what_it_was():
    run = simulate(zone(), cool_room())
    assert run.dry_air_mass == pytest.approx(9.3 * 1.2005, rel=0.01)


# --- Steps


@pytest.mark.parametrize("step", [60.0, 30.0, 15.0])
def test_half_the_step_changes_fog_by_less_than_a_hundredth(step):
    dry = cool_room(humidity=0.4)
    made = zone(devices=(fogger(control=humidistat(0.8, 0.05)),))
    coarse, fine = (simulate(made, dry, step=each) for each in (step, step / 2))
    assert fine.fog_per_day > 1
    assert coarse.fog_per_day == pytest.approx(fine.fog_per_day, rel=0.01)


def test_half_the_step_changes_a_cooled_day_by_hardly_anything():
    made = zone(devices=(cooler(), fogger()), lamps=(LampHeat(500 * LIT),))
    coarse, fine = (simulate(made, cool_room(humidity=0.4), step=each) for each in (60.0, 10.0))
    assert coarse.moisture.coil == pytest.approx(fine.moisture.coil, rel=0.01)
    assert coarse.temperature.mean() == pytest.approx(fine.temperature.mean(), abs=0.02)


def test_warmed_up_days_repeat():
    run = simulate(zone(), cool_room(), days=2, warm_up=3)
    np.testing.assert_allclose(run.temperature[:1440], run.temperature[1440:], atol=1e-3)
    assert run.days == 2


def test_controllers_stay_within_their_band():
    run = simulate(zone(devices=(fogger(),)), cool_room(humidity=0.3))
    settled = run.humidity[LIT == 0]
    assert settled.min() > 0.77 - 1e-3
    assert settled.max() < 0.83 + 1e-3


# --- Openings, fans, heat


def test_an_opening_moves_what_its_formula_says():
    gap = Gap(0.1, 1.8, "outdoors")
    run = simulate(bare(gaps=(gap,), leakage=0, other_watts=500), Room(20, 0.3, 10, 0.3))
    end, out_w = run.temperature[-1], float(humidity_ratio(10, 0.3))
    mass_flow = (
        opening_flow(0.1, 1.8, end, 10) * 101_325 / (287.042 * 283.15 * (1 + out_w / 0.621945))
    )
    carried = mass_flow * (1006 + 1860 * out_w) * (end - 10)
    assert -run.energy.air / 86_400 == pytest.approx(carried, rel=0.02)


def test_a_wider_opening_cools_and_dries():
    hot = zone(lamps=(LampHeat(600 * LIT),), boundaries=(Boundary(27, 1.0),))
    narrow, wide = (
        simulate(replace(hot, gaps=(Gap(width, 1.0),)), cool_room()) for width in (0.02, 0.2)
    )
    assert wide.temperature.max() < narrow.temperature.max() - 0.5
    assert wide.humidity.mean() < narrow.humidity.mean()


def test_an_exhaust_by_its_thermostat_runs_only_when_warm():
    hot = zone(lamps=(LampHeat(600 * LIT),), boundaries=(Boundary(27, 1.5),))
    control = Control.beyond("temperature", 24.0, 2.0)
    vented = replace(hot, devices=(Vent(name="Out", flow=0.05, control=control),))
    run, without = simulate(vented, cool_room()), simulate(hot, cool_room())
    (fan,) = run.devices
    assert without.temperature.max() > 25
    assert run.temperature.max() < 25 + 0.05
    assert fan.duty[HOURS > 21].max() == 0
    assert 0 < fan.hours_per_day < 14


def test_an_exhaust_by_a_timer_keeps_its_hours():
    run = simulate(zone(devices=(Vent(flow=0.05, hours=1 - LIT),)), cool_room())
    np.testing.assert_array_equal(run.devices[0].duty, 1 - LIT)
    assert run.devices[0].starts.sum() == 1


def test_drivers_outside_and_light_through_the_cover_keep_it_cooler():
    usual = zone(lamps=(LampHeat(400 * LIT),), light_out=0.0)
    outside = replace(usual, lamps=(LampHeat(400 * LIT, driver_inside=False),))
    clear = replace(usual, light_out=0.5)
    warmest = [simulate(one, cool_room()).temperature.max() for one in (usual, outside, clear)]
    assert warmest[0] > warmest[1] + 0.2
    assert warmest[0] > warmest[2] + 0.2


def test_a_heater_holds_the_night():
    cold = cool_room(temperature=8.0)
    run = simulate(zone(devices=(heater(15.0, 1500.0),)), cold)
    assert run.temperature.min() > 14.45
    assert simulate(zone(), cold).temperature.min() < 12
    assert run.devices[0].kwh_per_day > 1


def test_foam_behind_the_back_keeps_warm_and_dry():
    fog = fogger(control=humidistat(0.85, 0.05))
    thin = zone(boundaries=(Boundary(20, 4.15), Boundary(7, 4.15, 1.0)), devices=(fog,))
    foam = replace(thin, boundaries=(thin.boundaries[0], Boundary(7, 1.09, 1.0)))
    cold, warm = simulate(thin, cool_room()), simulate(foam, cool_room())
    assert warm.temperature.min() > cold.temperature.min()
    assert warm.margin[:, 1].min() > cold.margin[:, 1].min() + 2
    assert -warm.moisture.covers < -cold.moisture.covers


def test_air_at_the_trays_takes_more_water():
    still, moving = (
        simulate(zone(trays=(WetTray(1.2, 0.6, speed),)), cool_room()) for speed in (0.0, 0.5)
    )
    assert moving.moisture.trays > 1.2 * still.moisture.trays
    # Wet surfaces are cooler than the mass whose heat they take.
    assert (moving.water_temperature.mean(axis=0) < moving.mass_temperature.mean()).all()


def test_a_measured_factor_on_evaporation_counts():
    usual, more = (
        simulate(zone(leakage=30, trays=(WetTray(0.6, 0.3, factor=f),)), cool_room())
        for f in (1.0, 2.0)
    )
    assert more.moisture.trays == pytest.approx(2 * usual.moisture.trays, rel=0.3)


def test_light_opens_leaves_and_warms_them():
    lit = Leaves(1.0, ppfd=200 * LIT, light_share=0.5)
    shut = replace(lit, factor=3.0)
    opened, closed = (simulate(zone(leaves=(one,)), cool_room()) for one in (lit, shut))
    day = LIT > 0
    assert opened.transpiring[day].mean() > 1.5 * opened.transpiring[~day].mean()
    assert closed.moisture.leaves < opened.moisture.leaves
    assert closed.leaf_temperature[day].mean() > opened.leaf_temperature[day].mean()
    assert opened.leaf_deficit.shape == (1440, 1)


# --- Condensation


def test_a_dry_cold_cover_stays_dry_and_a_damp_one_drips():
    dry = simulate(zone(trays=()), cool_room(humidity=0.3))
    assert not dry.wet.any()
    assert dry.moisture.covers == 0
    damp = simulate(zone(devices=(fogger(2e-4, control=humidistat(0.9, 0.04)),)), cool_room())
    assert damp.wet.any()
    assert damp.moisture.covers < 0
    assert damp.coldest_face == 1
    assert damp.condensing[:, 1].sum() / 7 > damp.condensing[:, 0].sum() / 20


def test_the_margin_turns_negative_where_water_condenses():
    damp = simulate(zone(devices=(fogger(2e-4, control=humidistat(0.9, 0.04)),)), cool_room())
    wet = damp.condensing[1:-1, 1] > 1e-7
    assert damp.margin[1:-1, 1][wet].max() < 0.6
    assert damp.least_margin.min() == pytest.approx(damp.margin.min())


def test_faces_may_be_left_out():
    run = simulate(bare(boundaries=(), leakage=5), cool_room())
    assert run.coldest_face is None
    assert np.isinf(run.least_margin).all()


# --- Cooler and fogger


def test_the_coil_takes_heat_and_water_by_its_bypass_factor():
    # At the end of a constant day: 26 °C held by nothing, coil on all day
    steady = bare(other_watts=1500, devices=(cooler(control=None, cooling=1e5),), leakage=20)
    run = simulate(steady, Room(26, 0.6))
    t, w = run.temperature[-1], run.humidity_ratio[-1]
    mass = 0.083 * 101_325 / (287.042 * (t + 273.15) * (1 + w / 0.621945))
    cold = run.devices[0]
    assert cold.water[-1] == pytest.approx(0.8 * mass * (w - humidity_ratio(8, 1.0)), rel=1e-3)
    sensible = 0.8 * mass * (1006 + 1860 * w) * (t - 8)
    latent = cold.water[-1] * (2_501_000 + 1860 * t - 4186 * 8)
    assert cold.removed[-1] == pytest.approx(sensible + latent, rel=1e-3)
    assert cold.watts[-1] == pytest.approx(40 + cold.removed[-1] / 2.9)


def test_a_cooler_gives_no_more_than_its_nameplate():
    small = bare(other_watts=1500, devices=(cooler(control=None, cooling=300.0),))
    cold = simulate(small, Room(26, 0.6)).devices[0]
    assert cold.removed.max() == pytest.approx(300, rel=0.02)


def test_a_coil_never_cools_below_itself():
    run = simulate(bare(devices=(cooler(control=None),)), Room(10, 0.5))
    assert run.temperature.min() > 8


def test_a_compressor_rests_for_three_minutes():
    strong = zone(lamps=(LampHeat(500 * LIT),), devices=(cooler(cooling=4000.0, air_flow=0.25),))
    cold = simulate(strong, cool_room()).devices[0]
    rests = _rests(cold.duty)
    assert len(rests) > 10
    assert min(rests) > 2.0  # whole minutes between, of at least 180 s with both ends part used
    eager = replace(strong.devices[0].control, minimum_off=0.0)
    hasty = replace(strong, devices=(replace(strong.devices[0], control=eager),))
    assert simulate(hasty, cool_room()).devices[0].starts.sum() > cold.starts.sum()


def _rests(duty) -> list[float]:
    """Return the length of each rest between two runs. [min]"""
    off, found, begun = 0.0, [], False
    for share in duty:
        off += 1 - share
        if share > 0:
            if begun and off > 1:
                found.append(off)
            off, begun = (0.0, True) if share == 1 else (off if off < 1 else 0.0, True)
    return found


def test_cooler_and_fogger_fight():
    made = zone(
        lamps=(LampHeat(500 * LIT),),
        devices=(cooler(20.0, 16.0), fogger(2e-4, control=humidistat(0.85, 0.04))),
    )
    both = simulate(made, cool_room())
    assert both.fighting().sum() > 60
    assert both.undone() > 0.3
    alone = simulate(replace(made, devices=made.devices[:1]), cool_room())
    assert both.devices[0].kwh_per_day != alone.devices[0].kwh_per_day
    assert not alone.fighting().any()
    assert alone.undone() == 0


def test_a_strong_fogger_on_a_fine_humidistat_cycles_short():
    fine = fogger(6e-4, control=humidistat(0.8, 0.02))
    wide = fogger(6e-5, control=humidistat(0.8, 0.08))
    short, long = (
        simulate(zone(devices=(one,)), cool_room(humidity=0.4)).devices[0] for one in (fine, wide)
    )
    assert short.cycles_short
    assert not long.cycles_short
    assert short.starts_per_hour > 2 * long.starts_per_hour
    assert short.mean_run < long.mean_run


def test_set_points_by_day_and_night():
    set_point = np.where(LIT > 0, 0.7, 0.85)
    run = simulate(
        zone(trays=(), devices=(fogger(control=humidistat(set_point, 0.04)),)),
        cool_room(humidity=0.4),
    )
    assert run.humidity[(HOURS > 12) & (HOURS < 18)].mean() == pytest.approx(0.70, abs=0.02)
    assert run.humidity[HOURS < 5].mean() == pytest.approx(0.85, abs=0.02)


def test_a_device_that_never_stops_has_no_cycle():
    fog = simulate(zone(devices=(fogger(control=None),)), cool_room()).devices[0]
    assert fog.duty.min() == 1
    assert fog.mean_run == math.inf
    assert not fog.cycles_short
    assert fog.litres_per_day == pytest.approx(6e-5 * 86_400)


# --- What results tell


def test_skin_slows_the_air_down_and_changes_no_mean():
    light = zone(devices=(heater(15.0, 1500.0),))
    heavy = replace(light, skin=3e4)
    quick, slow = (simulate(one, cool_room(temperature=8.0)) for one in (light, heavy))
    assert slow.devices[0].starts.sum() < 0.5 * quick.devices[0].starts.sum()
    assert slow.devices[0].mean_run > 2 * quick.devices[0].mean_run
    assert slow.devices[0].kwh_per_day == pytest.approx(quick.devices[0].kwh_per_day, rel=0.02)


def test_hours_outside_a_range():
    run = simulate(zone(), cool_room())
    low = float(np.quantile(run.temperature, 0.25))
    assert run.outside(run.temperature, low, None) == pytest.approx(6, abs=0.1)
    assert run.outside(run.temperature, None, None) == 0
    assert run.night_drop == pytest.approx(run.temperature.max() - run.temperature.min())


def test_dew_point_and_deficit_belong_to_the_air():
    run = simulate(zone(), cool_room())
    assert (run.dew_point < run.temperature).all()
    assert (run.deficit > 0).all()


def test_a_day_from_its_hours():
    day = from_hours([float(hour) for hour in range(24)])
    assert day[90] == pytest.approx(1.5)
    assert day[23 * 60 + 30] == pytest.approx(11.5)


def test_importing_climate_compiles_nothing():
    code = "import sys, core.climate; sys.exit('numba' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: zone(volume=0), "Enclosure: volume = 0 m³ must be above 0"),
        (lambda: zone(leakage=-1), "air changes = −1 per hour must not be negative"),
        (lambda: zone(light_out=1.2), "share of light let out = 1.2 must be from 0 to 1"),
        (lambda: zone(heat_capacity=0), "heat capacity = 0 J/K must be above 0"),
        (lambda: zone(coupling=0), "coupling to its mass = 0 W/K must be above 0"),
        (lambda: zone(skin=-1), "heat capacity of its skin = −1 J/K must not be negative"),
        (lambda: zone(pressure=10), "pressure = 10 Pa must be from"),
        (lambda: zone(other_watts=-1), "heat of devices = −1 W must not be negative"),
        (lambda: zone(other_watts=[1, 2]), "heat of devices = 2 numbers must be one number or"),
        (
            lambda: zone(leaves=(Leaves(1, light_share=0.7), Leaves(1, light_share=0.7))),
            "shares of light together = 1.4 must be from 0 to 1",
        ),
        (
            lambda: zone(light_out=0, leaves=(Leaves(0, light_share=0.5),)),
            "Leaves: light = 54 W on 0 m² must not be above 1000 W/m²",
        ),
        (lambda: Room(temperature=99), "Room: temperature = 99 °C must be from"),
        (lambda: Room(humidity=50), "Room: relative humidity = 50 must be from 0 to 1"),
        (lambda: Room(outdoor_humidity=-1), "Outdoors: relative humidity = −1"),
        (lambda: Boundary(-1, 1), "Face: area = −1 m² must not be negative"),
        (lambda: Boundary(1, 9, name="top"), "Face 'top': U-value = 9 W/(m² K) must be below"),
        (lambda: Boundary(1, 1, 2), "share of outdoors = 2 must be from 0 to 1"),
        (lambda: fogger(-1), "Fogger 'Fog': output = −1 kg/s must not be negative"),
        (lambda: fogger(hours=2), "Fogger 'Fog': hours = 2 must be from 0 to 1"),
        (lambda: Vent(flow=-1), "Vent: flow = −1 m³/s must not be negative"),
        (lambda: cooler(cooling=-1), "Cooler 'Cold': cooling = −1 W must not be negative"),
        (lambda: cooler(bypass=2), "bypass = 2 must be from 0 to 1"),
        (lambda: cooler(cop=0), "coefficient of performance = 0 must be above 0"),
        (lambda: cooler(coil_temperature=50), "coil temperature = 50 °C must be from"),
        (lambda: cooler(make_up=-1), "make-up air = −1 m³/s must not be negative"),
        (lambda: heater(watts=-1), "Heater 'Warm': power = −1 W must not be negative"),
        (lambda: humidistat(0.8, 0.0), "Humidistat: differential = 0 must be at least 0.002"),
        (lambda: Control("temperature", 20, 20.01), "Thermostat: differential = 0.01 must be at"),
        (lambda: humidistat(minimum_off=-1), "minimum rest = −1 s must not be negative"),
        (lambda: Gap(-1, 1), "Opening: width = −1 m must not be negative"),
        (lambda: Gap(1, 1, share=2), "Opening: share open = 2 must be from 0 to 1"),
        (lambda: LampHeat(-1), "Lamp: power = −1 W must not be negative"),
        (lambda: LampHeat(1, 0.9, 0.3), "Lamp: shares = 1.2 must be from 0 to 1"),
        (lambda: WetTray(0, 1), "Tray: width = 0 m must be above 0"),
        (lambda: WetTray(1, 1, -1), "Tray: air speed = −1 m/s must not be negative"),
        (lambda: WetTray(1, 1, wet=2), "Tray: wet share = 2 must be from 0 to 1"),
        (lambda: Leaves(-1), "Leaves: area = −1 m² must not be negative"),
        (lambda: Leaves(1, 0), "leaf area index = 0 must be above 0"),
        (lambda: from_hours([1.0]), "Day: values = 1 must be 24"),
        (lambda: simulate(zone(), Room(), days=0), "Simulation: days = 0 must be from 1"),
        (lambda: simulate(zone(), Room(), warm_up=-1), "days of warm-up = −1 must be from 0"),
        (lambda: simulate(zone(), Room(), days=1.5), "days = 1.5 must be whole"),
        (lambda: simulate(zone(), Room(), step=0), "step = 0 s must be from 1 s to 60 s"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)


def test_a_zone_without_anything_follows_its_room():
    empty = Zone(volume=1.0, leakage=60.0, coupling=1e-6)
    run = simulate(empty, Room(22, 0.45))
    assert run.temperature[-1] == pytest.approx(22)
    assert run.humidity[-1] == pytest.approx(0.45)
