"""The air of zones by flow and jets together: tenths, shares, gaps, age and how sure they are."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from core.air.coverage import COARSE_OFF, gaps_of, zones_of
from core.air.fields import AirField, Stage
from core.air.flow.solve import solve_flow
from core.air.flows import Arriving
from core.air.from_design import room_air
from core.air.reach import LEAST_OFF, ZoneAir
from core.air.reading import AirReadings, read
from core.air.solids import solids_of
from core.air.stages import with_ages
from core.geometry import Rectangle
from core.mirroring import mirrored
from core.model import Design
from core.model import replace as changed
from core.placement import Placement
from core.reading import Reading
from core.states import State
from core.study import Study, study
from tests.air_kit import box, circulation, design, duct, flap, plants, unit


def flow_of(made: Design, steps: int = 300, stage: Stage = Stage.SETTLED) -> AirField:
    air = room_air(Placement(made))
    assert air is not None
    return with_ages(AirField(air, solve_flow(air.scene, air.cell, steps, steps // 2), stage))


def read_with(made: Design, field: AirField) -> AirReadings:
    flows = Arriving()
    flows.put(field)
    look = study(made)
    return read(Study(look.design, look.season, flows=flows))


def row(found: AirReadings, name: str, place: str = "zone") -> Reading:
    return next(item for item in found.rows if item.name == name and item.place == place)


FURNISHED = design(
    box(),
    unit(place=changed(unit().place, y=0.5)),
    circulation(),
    plants("near", host="unit"),
    plants(place=changed(plants().place, x=1.5, y=0.1)),
)


def patch(speeds: Any, by: Stage = Stage.SETTLED) -> ZoneAir:
    """A zone of 0.4 m × 0.2 m whose cells have these speeds."""
    cells = np.array(speeds, dtype=float)
    across, deep = cells.shape[1], cells.shape[0]
    return ZoneAir(
        "zone", "Zone", None, Rectangle(1.0, 2.0, 1.4, 2.2),
        1.0 + (np.arange(across) + 0.5) * 0.4 / across, 2.0 + (np.arange(deep) + 0.5) * 0.2 / deep,
        0.1, cells, "fan", by,
    )  # fmt: skip


def test_every_zone_in_the_flow_is_known() -> None:
    found = read_with(FURNISHED, flow_of(FURNISHED))
    assert found.stage is Stage.SETTLED
    assert all(zone.mean is not None and zone.by is Stage.SETTLED for zone in found.zones)
    for zone in found.zones:
        assert zone.slow <= zone.mean <= zone.fast <= zone.highest


def test_jets_alone_leave_zones_unknown_that_the_flow_knows() -> None:
    back = design(box(), circulation(heading=180.0), plants())
    by_jets = read(study(back))
    assert row(by_jets, "speed").state is State.UNKNOWN
    assert row(read_with(back, flow_of(back)), "speed").value is not None


def test_near_a_fan_the_larger_of_jet_and_flow_counts() -> None:
    made = design(box(), circulation(), plants(place=changed(plants().place, x=0.5, y=0.4, z=0.8)))
    placement, field = Placement(made), flow_of(made)
    (by_jet,) = zones_of(placement, solids_of(placement), None)
    (both,) = zones_of(placement, solids_of(placement), field)
    points = np.array([(x, y, by_jet.z) for y in by_jet.y for x in by_jet.x])
    flowing = field.speed_at(points).reshape(by_jet.speeds.shape)
    np.testing.assert_array_equal(both.speeds, np.fmax(flowing, np.nan_to_num(by_jet.speeds)))
    assert both.mean > flowing.mean()


def test_far_from_a_fan_the_flow_alone_counts() -> None:
    made = design(
        box(),
        circulation(diameter=0.08, flow=0.01),
        plants(place=changed(plants().place, x=1.5, z=0.75)),
    )
    placement, field = Placement(made), flow_of(made)
    (zone,) = zones_of(placement, solids_of(placement), field)
    points = np.array([(x, y, zone.z) for y in zone.y for x in zone.x])
    np.testing.assert_array_equal(zone.speeds.ravel(), field.speed_at(points))


def test_tenths_are_of_cells_and_shares_count_them() -> None:
    zone = patch([[0.0, 0.1, 0.2, 0.3, 0.4], [0.5, 0.6, 0.7, 0.8, 1.2]])
    assert (zone.slow, zone.fast) == (0.0, 1.2)
    assert zone.share_below(0.1) == pytest.approx(0.1)
    assert zone.share_above(0.7) == pytest.approx(0.2)


def test_jets_alone_call_nothing_still() -> None:
    zone = patch([[0.11, np.nan], [np.nan, 0.2]], Stage.JETS)
    assert zone.slow is None
    assert zone.share_below(0.15) is None
    assert list(gaps_of(zone, 1.0)) == []


def test_gaps_cover_the_cells_they_stand_for() -> None:
    zone = patch([[0.05, 0.05, 0.5, 1.5], [0.05, 0.05, 0.5, 0.5]])
    still, strong = gaps_of(zone, 1.0)
    assert still.kind == "still"
    assert still.areas == (pytest.approx(Rectangle(1.0, 2.0, 1.2, 2.2)),)
    assert (still.share, still.speed) == pytest.approx((0.5, 0.05))
    assert strong.areas == (pytest.approx(Rectangle(1.3, 2.0, 1.4, 2.1)),)


def test_areas_of_a_ragged_gap_add_up_to_its_share() -> None:
    rng = np.random.default_rng(3)
    zone = patch(rng.uniform(0.0, 0.3, (7, 9)))
    (gap,) = gaps_of(zone, 1.0)
    assert sum(area.area for area in gap.areas) == pytest.approx(gap.share * zone.area.area)
    apart = [(a, b) for a in gap.areas for b in gap.areas if a is not b]
    assert all(a.overlap(b) is None for a, b in apart)


def test_a_zone_too_uneven_is_no_longer_fine() -> None:
    # Fan of 0.4 m: three cells of 10 cm across, so ±0.1 m/s; the jet's edge runs through nothing.
    found = read_with(FURNISHED, flow_of(FURNISHED))
    for zone in found.zones:
        speed = row(found, "speed", zone.part)
        inside = 1 - zone.share_below(0.1) - zone.share_above(1.0)
        assert speed.state is not State.FINE or inside >= 0.8


def test_coarse_flows_and_small_fans_are_less_sure() -> None:
    small, large = FURNISHED, FURNISHED.with_parts({"fan": circulation(diameter=0.4, flow=0.1)})

    def off(made: Design, stage: Stage) -> float:
        (*_, zone) = read_with(made, flow_of(made, 20, stage)).zones
        return zone.off

    assert off(small, Stage.SETTLED) == COARSE_OFF
    assert off(large, Stage.PREVIEW) == COARSE_OFF
    assert off(large, Stage.SETTLED) in (LEAST_OFF, COARSE_OFF)


def test_the_edge_of_a_jet_is_less_sure_than_what_no_jet_meets() -> None:
    fan = circulation(diameter=0.4, flow=0.15)
    wide = plants(width=0.4, depth=1.1, place=changed(plants().place, x=0.6, y=0.05, z=0.75))
    aside = plants("aside", width=0.2, depth=0.2, place=changed(plants().place, x=0.02, y=0.02))
    made = design(box(), fan, wide, aside)
    zones = read_with(made, flow_of(made, 20)).zones
    assert [zone.off for zone in zones] == [COARSE_OFF, LEAST_OFF]


def test_leaf_conductance_follows_the_mean_speed() -> None:
    # checks/air.md: 5 cm leaf, vapour, 0.147 √(u / (0.72 × 0.05))
    found = read_with(FURNISHED, flow_of(FURNISHED))
    speed, leaf = row(found, "speed"), row(found, "leaf-conductance")
    assert leaf.value == pytest.approx(0.147 * math.sqrt(speed.value / 0.036))
    assert leaf.low < leaf.value < leaf.high


def test_age_is_told_only_where_fresh_air_is_driven() -> None:
    vented = design(box(), circulation(), plants(), duct(), flap("flap", 0.3))
    found = read_with(vented, flow_of(vented))
    names = {item.name for item in found.rows}
    assert {"age", "age-effectiveness", "air-changes", "duct-flow"} <= names
    whole = row(found, "age", "box")
    # Complete mixing has an effectiveness of a half; V/Q is the age at the exhaust.
    share = row(found, "age-effectiveness", "box").value
    flow = sum(opening.flow for opening in found.air.scene.openings if opening.flow > 0)
    assert share == pytest.approx(2.0 * 1.2 * 1.8 / flow / (2 * whole.value), rel=0.02)
    assert 0.2 < share < 1.0
    closed = read_with(FURNISHED, flow_of(FURNISHED, 20))
    assert "age" not in {item.name for item in closed.rows}
    assert row(closed, "air-changes", "box").value == pytest.approx(0.5)


def test_doubling_all_flows_doubles_the_speed_of_every_zone() -> None:
    twice = FURNISHED.with_parts({"fan": circulation(flow=0.08)})
    slow, fast = (read_with(made, flow_of(made)).zones for made in (FURNISHED, twice))
    for one, two in zip(slow, fast, strict=True):
        assert two.mean == pytest.approx(2 * one.mean, rel=0.05)


def test_a_mirrored_design_mirrors_its_zones() -> None:
    ids = [part.id for part in FURNISHED.parts if part.id != "box"]
    other = FURNISHED.with_parts(mirrored(FURNISHED, ids, "x", 2.0))
    here, there = (read_with(made, flow_of(made)).zones for made in (FURNISHED, other))
    for one, two in zip(here, there, strict=True):
        assert two.area.x0 == pytest.approx(4.0 - one.area.x1)
        assert two.mean == pytest.approx(one.mean, rel=0.05, abs=0.005)


def test_places_in_solids_and_outside_have_no_speed() -> None:
    field = flow_of(FURNISHED, 20)
    inside, outside = (1.5, 1.0, 1.5), (0.5, 1.0, 1.0)
    speeds = field.speed_at(np.array([inside, outside]))
    assert np.isfinite(speeds[0])
    assert np.isnan(speeds[1])
    assert np.isnan(field.velocity_at(np.array([outside]))).all()
    assert field.age_at(np.array([inside])) is None


def test_beside_a_solid_the_speed_is_that_of_the_air_alone() -> None:
    field = flow_of(FURNISHED, 20)
    steady = replace(field.flow, speed=np.where(field.flow.fluid, 0.3, 0.0))
    points = np.random.default_rng(1).uniform((1.0, 0.5, 0.0), (3.0, 1.7, 1.8), (200, 3))
    speeds = replace(field, flow=steady).speed_at(points)
    np.testing.assert_allclose(speeds[np.isfinite(speeds)], 0.3)


def test_the_uncertainty_to_allow_for_stands_at_every_speed() -> None:
    by_flow, by_jets = read_with(FURNISHED, flow_of(FURNISHED, 20)), read(study(FURNISHED))
    speeds = [item for item in (*by_flow.rows, *by_jets.rows) if item.kind == "speed"]
    assert len(speeds) > 5
    assert all("Allow ±0.1 m/s or ±30 %" in item.method.uncertainty for item in speeds)
    assert all("heck with an anemometer" in item.method.uncertainty for item in speeds)
