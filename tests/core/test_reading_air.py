"""Air readings of whole designs: what jets do at zones, what stops them, what stays unknown."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from core.air.jets import RoundJet
from core.air.reach import aim, zone_air
from core.air.reading import AirReadings, inputs, read
from core.air.solids import solids_of
from core.model import (
    Cover,
    Design,
    Enclosure,
    Fan,
    Place,
    PlantGroup,
    Plants,
    Reservoir,
    Room,
    Sheet,
    Shelf,
    ShelfUnit,
    Span,
)
from core.placement import Placement
from core.reading import Reading
from core.states import State
from core.study import study

FERNS = PlantGroup(key="ferns", name="Ferns")
SEEDLINGS = PlantGroup(key="ferns", name="Seedlings", seedlings=True)


def fan(part_id: str = "fan", x: float = 0.0, **more: Any) -> Fan:
    """150 m³/h through 0.15 m, its middle 0.55 m up, blowing to the right."""
    given: dict[str, Any] = {
        "width": 0.1,
        "depth": 0.1,
        "height": 0.1,
        "watts": 20.0,
        "diameter": 0.15,
        "flow": 150 / 3600,
        "place": Place(x=x, y=0.95, z=0.5),
    }
    return Fan(id=part_id, name=part_id.capitalize(), **{**given, **more})


def zone(x: float = 1.5, width: float = 0.1, depth: float = 0.1, **more: Any) -> Plants:
    """Leaf tops 0.55 m up, middle in y at 1.0."""
    given: dict[str, Any] = {
        "species": "ferns",
        "leaf_low": 0.03,
        "leaf_high": 0.10,
        "place": Place(x=x, y=1.0 - depth / 2, z=0.45),
    }
    return Plants(id="zone", name="Zone", width=width, depth=depth, **{**given, **more})


def design(*parts: Any, group: PlantGroup = FERNS) -> Design:
    return Design(room=Room.rectangle(4.0, 3.0, 2.4), groups=(group,), parts=parts)


def air(made: Design) -> AirReadings:
    return read(study(made))


def row(found: AirReadings, name: str = "speed") -> Reading:
    return next(item for item in found.rows if item.name == name)


def test_a_zone_in_the_middle_of_a_jet_has_its_centreline_speed():
    # checks/air.md 2: 1.462 m/s at 1.5 m for 150 m³/h through 0.15 m; origin at x = 0.05
    found = air(design(fan(), zone(x=1.5)))

    assert row(found).value == pytest.approx(1.462, abs=1e-3)
    assert row(found).state is State.HIGH
    assert row(found).line.render() == "1.46 m/s at the floor; want 0.10–1.00 m/s"


def test_beside_the_axis_it_falls_as_the_bell_does():
    found = air(design(fan(), zone(x=1.5, place=Place(x=1.5, y=1.15, z=0.45))))
    expected = RoundJet(150 / 3600, 0.15).speed(1.5, 0.2)

    assert row(found).value == pytest.approx(expected)


def test_uncertainty_is_30_percent_or_a_tenth_whichever_is_larger():
    fast, slow = row(air(design(fan(), zone()))), row(air(design(fan(flow=0.008), zone())))

    assert (fast.low, fast.high) == pytest.approx((0.7 * fast.value, 1.3 * fast.value))
    assert slow.value < 1 / 3
    assert (slow.low, slow.high) == pytest.approx((slow.value - 0.1, slow.value + 0.1))


def test_seedlings_and_the_growers_own_range_set_what_is_wanted():
    own = PlantGroup(key="ferns", name="Ferns", air_speed=Span(low=0.2, high=0.6))

    assert row(air(design(fan(), zone(), group=SEEDLINGS))).want_high == 0.7
    assert row(air(design(fan(), zone(), group=own))).want_low == 0.2


def test_a_zone_that_no_jet_meets_is_not_known_and_never_still():
    found = air(design(fan(heading=180.0), zone()))

    assert row(found).value is None
    assert row(found).state is State.UNKNOWN
    assert row(found).line.render() == "no fan reaches the floor: not known yet"
    assert found.headline is None
    assert found.state is State.UNKNOWN


@pytest.mark.parametrize("flow", [0.0005, 0.001, 0.003])
def test_a_jet_too_weak_to_move_leaves_is_not_known_either(flow):
    assert row(air(design(fan(flow=flow), zone()))).state is not State.LOW


def test_a_box_in_the_way_stops_the_jet():
    block = Reservoir(
        id="block", name="Block", width=0.2, depth=0.6, height=1.0, fill=0.1,
        place=Place(x=0.8, y=0.7),
    )  # fmt: skip
    found = air(design(fan(), block, zone()))

    assert row(found).value is None
    assert found.jets[0].blocked_by == "block"
    assert found.jets[0].end == pytest.approx(0.75, abs=1e-4)
    assert found.jets[0].reach == found.jets[0].end


@pytest.mark.parametrize(("surface", "known"), [("wire", True), ("solid", False)])
def test_a_solid_shelf_stops_a_jet_and_a_wire_one_does_not(surface, known):
    shelf = Shelf(z=0.9, surface=surface)
    unit = ShelfUnit(
        id="unit", name="Unit", width=1.0, depth=1.0, height=1.0, levels=(shelf,),
        place=Place(x=1.0, y=0.5),
    )  # fmt: skip
    above = fan(elevation=-90.0, place=Place(x=1.5, y=0.95, z=1.6))
    found = air(design(unit, above, zone(x=1.5)))

    assert (row(found).value is not None) is known


def test_a_jet_ends_at_the_enclosures_cover():
    cover = Cover(face="right", sheet=Sheet(material="Film"))
    box = Enclosure(
        id="box", name="Box", width=2.0, depth=2.0, height=2.0, covers=(cover,),
        place=Place(x=0.0, y=0.0),
    )  # fmt: skip
    assert air(design(box, fan())).jets[0].end == pytest.approx(1.95, abs=1e-4)
    assert air(design(fan())).jets[0].end == pytest.approx(3.95)


def test_throw_is_the_distance_to_each_speed():
    # 6.2 × 0.15 m × u0 / u with u0 = 2.358 m/s
    weak = air(design(fan(flow=0.01))).jets[0]
    assert weak.throws[0.3] == pytest.approx(6.2 * 0.15 * weak.jet.outlet_speed / 0.3)
    assert weak.half_width(1.5) == pytest.approx(0.1425)


def test_an_oscillating_fan_is_averaged_over_its_sweep():
    made = design(fan(sweep=90.0), zone())
    swept, fixed = row(air(made)).value, row(air(design(fan(), zone()))).value

    assert 0.1 < swept < 0.5 * fixed


def test_headings_are_anticlockwise_from_x_and_elevation_is_up():
    assert aim(fan(heading=90.0)) == pytest.approx((0, 1, 0), abs=1e-12)
    up = aim(fan(heading=180.0, elevation=30.0))
    assert up == pytest.approx((-math.sqrt(3) / 2, 0, 0.5))


def test_flow_goes_with_the_speed_setting_and_is_named():
    full, half = air(design(fan(), zone())), air(design(fan(speed_setting=0.5), zone()))

    assert row(half).value == pytest.approx(row(full).value / 2)
    assert "taken to go with its speed" in row(half).assumptions[0].render()


def test_the_strongest_of_several_jets_counts():
    weak = fan("weak", flow=0.01, place=Place(y=0.7, z=0.5))
    placement = Placement(design(weak, fan(), zone()))
    zones = zone_air(placement, placement.zones, solids_of(placement))
    assert zones[0].fan == "fan"
    assert zones[0].mean == pytest.approx(1.462, abs=1e-3)


def test_of_zones_alike_the_slowest_is_the_headline():
    # 100 m³/h through 0.15 m is 1.572 m/s; times 6.2 × 0.15 m / x: 0.52 m/s at 2.8 m, 0.43 m/s at
    # 3.4 m, both with their 30 % within the wanted 0.1 to 1 m/s.
    near = zone(x=2.8)
    far = zone(x=3.4).model_copy(update={"id": "far", "name": "Far"})
    found = air(design(fan(flow=100 / 3600), near, far))

    speeds = {item.place: item for item in found.rows if item.name == "speed"}
    assert speeds["zone"].state is speeds["far"].state is State.FINE
    assert (speeds["zone"].value, speeds["far"].value) == pytest.approx((0.522, 0.430), abs=0.001)
    assert found.headline == speeds["far"]


def test_a_zone_only_grazed_stays_unknown_but_its_fastest_tenth_is_judged():
    wide = zone(x=1.5, width=0.1, depth=2.4)
    found = air(design(fan(), wide))

    assert row(found).value is None
    assert row(found).line.render().startswith("fans reach only ")
    assert row(found, "speed-fast").state is State.LIKELY_HIGH
    assert re.match(r"[\d.]+ m/s or more in a tenth of ", row(found, "speed-fast").line.render())
    assert found.headline.name == "speed-fast"


def test_the_headline_is_the_slowest_known_zone():
    near = zone(x=1.5)
    far = near.model_copy(update={"id": "far", "name": "Far", "place": Place(x=3.0, y=0.95, z=0.45)})  # fmt: skip  # noqa: E501
    found = air(design(fan(flow=0.01), near, far))

    assert found.headline.place == "far"


def test_of_zones_in_too_strong_air_the_strongest_is_the_headline():
    near = zone(x=1.1)
    far = near.model_copy(update={"id": "far", "name": "Far", "place": Place(x=1.3, y=0.95, z=0.45)})  # fmt: skip  # noqa: E501
    found = air(design(fan(flow=100 / 3600), near, far))

    fast = {item.place: item for item in found.rows if item.name == "speed-fast"}
    assert fast["zone"].state is fast["far"].state is State.LIKELY_HIGH
    assert fast["zone"].value > fast["far"].value
    assert found.headline.place == "zone"


def test_without_a_fan_nothing_is_known():
    assert air(design(zone())).nothing.render() == "no fan yet: not known"


def test_turning_a_fan_is_an_input():
    assert inputs(study(design(fan()))) != inputs(study(design(fan(heading=10.0))))
