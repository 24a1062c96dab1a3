"""The steady estimate: it meets the simulation where nothing changes, and keeps its balances."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.climate import Cooler, Gap, Heater, LampHeat, Leaves, Room, Vent, WetTray, Zone, simulate
from core.climate.balance_arrays import Variant
from core.climate.estimate import settle
from core.climate.zone import Control
from tests.climate_kit import COVERS, fogger, humidistat

ALL_DAY = (np.ones(1440),)


def wet(**change) -> Zone:
    usual = {
        "volume": 4.0,
        "boundaries": COVERS,
        "leakage": 2.0,
        "lamps": (LampHeat(200.0),),
        "trays": (WetTray(1.2, 0.6, 0.2), WetTray(0.5, 0.5, 0.0, 0.5)),
        "leaves": (Leaves(0.6, ppfd=120.0, light_share=0.3),),
        "heat_capacity": 5e4,
    }
    return Zone(**{**usual, **change})


@settings(max_examples=15, deadline=None)
@given(
    t=st.floats(8, 30),
    rh=st.floats(0.2, 0.85),
    out=st.floats(-15, 30),
    watts=st.floats(0, 400),
    leak=st.floats(0.3, 10),
    gap=st.sampled_from([0.0, 0.05]),
    flow=st.sampled_from([0.0, 0.02]),
)
@example(t=8.0, rh=0.25, out=0.0, watts=308.0, leak=1.0, gap=0.0, flow=0.02)
def test_a_constant_day_ends_where_the_estimate_says(t, rh, out, watts, leak, gap, flow):
    zone = wet(
        lamps=(LampHeat(watts),), leakage=leak, gaps=(Gap(gap, 1.0, "outdoors"),),
        devices=(Vent(flow=flow),),
    )  # fmt: skip
    room = Room(t, rh, out, 0.7)
    found, run = settle(zone, room, ALL_DAY), simulate(zone, room)
    assert found.temperature[0, 0] == pytest.approx(run.temperature[-1], abs=0.05)
    assert found.humidity_ratio[0, 0] == pytest.approx(run.humidity_ratio[-1], rel=0.01)
    water = np.concatenate([run.evaporating[-1], run.transpiring[-1]])
    # Where the air over still water is about as heavy as the room's, the draught over it hangs on
    # a hair: what one tray gives off may differ, by little of all the water.
    little = 0.02 * np.abs(water).sum() + 2e-8
    assert found.taken[0, 0, 2:] == pytest.approx(-water, rel=0.12, abs=little)


@pytest.mark.parametrize(
    ("device", "leak", "watts"),
    [
        (fogger(2e-4, control=humidistat(0.85, 0.04)), 10.0, 200.0),
        (Vent(flow=0.15, control=Control.beyond("temperature", 22.5, 1.0)), 2.0, 800.0),
        (Heater(watts=500.0, control=Control.below("temperature", 22.0, 1.0)), 2.0, 200.0),
    ],
)
def test_devices_run_as_far_as_the_simulation_lets_them_on_average(device, leak, watts):
    zone = wet(lamps=(LampHeat(watts),), leakage=leak, devices=(device,), trays=(), leaves=())
    room = Room(19.0, 0.4)
    found, run = settle(zone, room, ALL_DAY), simulate(zone, room)
    assert 0.05 < found.duty[0, 0, 0] < 0.95
    assert found.duty[0, 0, 0] == pytest.approx(float(run.devices[0].duty.mean()), abs=0.08)


def test_a_coil_takes_heat_and_water_as_in_the_simulation():
    cold = Cooler(cooling=600.0, air_flow=0.08, make_up=0.01)
    zone = wet(lamps=(LampHeat(500.0),), devices=(cold,))
    room = Room(27.0, 0.6)
    found, run = settle(zone, room, ALL_DAY), simulate(zone, room)
    assert found.removed[0, 0, 0] == pytest.approx(run.devices[0].removed[-1], rel=0.02)
    assert found.dripped[0, 0, 0] == pytest.approx(run.devices[0].water[-1], rel=0.05)


def test_variants_stand_side_by_side():
    room, zone = Room(18.0, 0.5), wet()
    ends = (Variant(), Variant(covers=0.8), Variant(evaporation=2.0), Variant(watts=1.05))
    found = settle(zone, room, ALL_DAY, ends)
    base, thick, damp, bright = found.temperature[:, 0]
    assert thick > base < bright
    assert damp < base
    assert found.humidity_ratio[2, 0] > found.humidity_ratio[0, 0]
    for number, end in enumerate(ends):
        alone = settle(zone, room, ALL_DAY, (end,))
        assert alone.temperature[0, 0] == pytest.approx(found.temperature[number, 0], abs=0.02)


def test_halves_are_those_of_their_own_minutes():
    lit = np.repeat([1.0, 0.0], 720)
    zone = wet(lamps=(LampHeat(200 * lit),), leaves=(), trays=())
    room = Room(18.0, 0.5)
    found = settle(zone, room, (lit, 1 - lit))
    by_day = settle(wet(leaves=(), trays=()), room, ALL_DAY)
    assert found.temperature[0, 0] == pytest.approx(by_day.temperature[0, 0], abs=0.02)
    assert found.temperature[0, 1] < found.temperature[0, 0] - 1


def test_a_zone_without_anything_follows_its_room():
    found = settle(Zone(volume=1.0, leakage=60.0, coupling=1e-6), Room(22.0, 0.45), ALL_DAY)
    assert found.temperature[0, 0] == pytest.approx(22.0, abs=0.02)
    assert found.surfaces.shape == (1, 1, 0)
    assert found.duty.shape == (1, 1, 0)
