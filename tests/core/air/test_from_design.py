"""A design as a scene of air: region, fans, solids, shelves, openings in balance, cells."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.air.flow.grid import make_grid
from core.air.from_design import RoomAir, room_air, ventilation, wire_loss
from core.air.region import region_of
from core.air.stages import flow_through
from core.model import (
    Cover,
    Design,
    Face,
    Lamp,
    Obstacle,
    Place,
    Platform,
    Room,
    Sheet,
    Shelf,
    Tray,
    UnitLining,
    replace,
)
from core.placement import Placement
from tests.air_kit import FACES, box, circulation, design, duct, flap, plants, unit


def air_of(made: Design) -> RoomAir:
    found = room_air(Placement(made))
    assert found is not None
    return found


def test_the_air_of_a_closed_enclosure_is_its_box() -> None:
    air = air_of(design(box(), circulation()))
    assert air.box.lo == (1.0, 0.5, 0.0)
    assert air.scene.size == (2.0, 1.2, 1.8)
    assert air.assumptions == ()


def test_a_fan_stands_in_the_scenes_own_axes_and_blows_as_it_is_set() -> None:
    fan = circulation(heading=90.0, elevation=30.0, sweep=60.0, speed_setting=0.5)
    (found,) = air_of(design(box(), fan)).scene.fans
    assert found.position == pytest.approx((0.2, 0.6, 0.9))
    assert found.heading == pytest.approx((0, math.sqrt(3) / 2, 0.5), abs=1e-12)
    assert found.flow == pytest.approx(0.5 * 0.04)
    assert found.swing == 60.0


@pytest.mark.parametrize("parts", [(), (circulation(speed_setting=0.0),), (circulation(flow=0.0),)])
def test_without_a_running_fan_nothing_is_to_be_computed(parts: Any) -> None:
    assert room_air(Placement(design(box(), plants(), *parts))) is None


def test_a_fan_outside_a_closed_enclosure_does_not_blow_inside() -> None:
    outside = circulation(place=Place(x=3.5, y=2.5, z=0.5))
    assert room_air(Placement(design(box(), outside))) is None


def test_what_stands_in_the_way_is_solid_and_fans_are_not() -> None:
    tray = Tray(
        id="tray", name="Tray", width=0.5, depth=0.4, height=0.06, place=Place(host="unit", level=1)
    )
    lamp = Lamp(id="lamp", name="Lamp", form="board", width=0.4, depth=0.3, height=0.03, watts=30.0,
                place=Place(host="unit", fixing="under", level=2))  # fmt: skip
    air = air_of(design(box(), unit(), tray, lamp, circulation()))
    tops = sorted(round(solid.hi[2], 3) for solid in air.scene.solids)
    # Shelf 1 is at 0.2 m with a tray of 0.06 m on it; the lamp hangs under 0.8 - 0.02 m.
    assert tops == pytest.approx([0.26, 0.78])


def test_wire_shelves_slow_air_and_solid_ones_stop_it() -> None:
    levels = (Shelf(z=0.2, transmittance=0.5), Shelf(z=0.8, surface="solid"))
    air = air_of(design(box(), unit(levels=levels), circulation()))
    (panel,) = air.scene.panels
    assert panel.axis == 2
    assert panel.lo[2] < 0.19 < panel.hi[2]
    # Idelchik: 1.3 × 0.5 + (2 − 1)²
    assert panel.loss == pytest.approx(1.65)
    assert [solid.hi[2] for solid in air.scene.solids] == pytest.approx([0.8], abs=1e-4)


@pytest.mark.parametrize(("turn", "axis"), [(0, 1), (1, 0)])
def test_a_lining_of_a_unit_is_a_wall_wherever_the_unit_faces(turn: Any, axis: int) -> None:
    lining = UnitLining(side="back", sheet=Sheet(material="Foil"))
    made = design(
        box(),
        unit(linings=(lining,), place=Place(host="box", x=0.4, y=0.1, turn=turn)),
        circulation(),
    )
    (solid,) = air_of(made).scene.solids
    sizes = [high - low for low, high in zip(solid.lo, solid.hi, strict=True)]
    assert min(range(3), key=lambda each: sizes[each]) == axis


def test_a_platform_of_wires_is_a_panel() -> None:
    stand = Platform(id="stand", name="Stand", width=0.4, depth=0.4, height=0.3, surface="wire",
                     place=Place(host="box", x=0.2, y=0.2))  # fmt: skip
    (panel,) = air_of(design(box(), stand, circulation())).scene.panels
    assert panel.loss == wire_loss(0.7)


def test_more_open_wires_slow_less() -> None:
    losses = [wire_loss(share) for share in (0.2, 0.5, 0.8, 1.0)]
    assert all(more > less for more, less in pairwise(losses))
    assert losses[-1] == 0.0


def test_what_an_exhaust_takes_comes_in_by_the_flaps_by_their_area() -> None:
    flaps = (flap("low", 0.3), flap("high", 0.6, z=1.2))
    openings = air_of(design(box(), duct(), *flaps)).scene.openings
    flows = [opening.flow for opening in openings]
    assert sum(flows) == pytest.approx(0.0, abs=1e-15)
    assert flows[0] < 0 < flows[1]
    assert flows[2] == pytest.approx(2 * flows[1])
    assert [opening.face for opening in openings] == ["left", "right", "right"]
    # A hole of the duct's own area, 0.1 m wide.
    assert openings[0].area == pytest.approx(math.pi * 0.1**2 / 4, rel=1e-3)


def test_an_intake_that_an_exhaust_balances_needs_no_leak() -> None:
    twin = (duct(), duct("intake", joins=("room", "enclosure"), face="right"))
    air = air_of(design(box(), *twin))
    assert len(air.scene.openings) == 2
    assert air.assumptions == ()


def test_without_a_flap_air_is_said_to_leak_in() -> None:
    air = air_of(design(box(), duct()))
    slit = air.scene.openings[1]
    assert (slit.face, slit.lo, slit.hi) == ("front", (0.0, 0.0), (2.0, 0.05))
    assert "leak in along the foot of the front" in air.assumptions[0].render()


def test_before_an_open_face_some_of_the_room_counts_and_is_named() -> None:
    covers = tuple(cover for cover in FACES if cover.face != "back")
    air = air_of(design(box(covers=covers), circulation()))
    assert air.box.hi == pytest.approx((3.0, 2.7, 1.8))
    assert air.box.lo == (1.0, 0.5, 0.0)
    assert "only the air up to 1.00 m" in air.assumptions[0].render()


def test_a_duct_fan_in_an_open_face_is_left_out_and_named() -> None:
    covers = tuple(cover for cover in FACES if cover.face != "left")
    air = air_of(design(box(covers=covers), circulation(), duct()))
    assert air.scene.openings == ()
    assert any("open faces" in told.render() for told in air.assumptions)


def test_without_an_enclosure_the_room_round_fans_and_plants_counts() -> None:
    fan = circulation(place=Place(x=0.5, y=0.5, z=0.5))
    air = air_of(design(fan, plants(place=Place(x=1.5, y=0.5)), room=Room.rectangle(9.0, 6.0, 2.4)))
    assert air.box.lo == (0.0, 0.0, 0.0)
    assert air.box.hi[0] == pytest.approx(1.5 + 0.4 + 1.5)
    assert "1.50 m" in air.assumptions[0].render()
    whole = design(fan, room=Room.rectangle(1.6, 1.4, 2.0))
    assert air_of(whole).assumptions == ()


def test_what_lies_beyond_the_walls_of_a_corner_room_is_solid() -> None:
    room = Room(outline=((0, 0), (3, 0), (3, 2), (1.5, 2), (1.5, 3), (0, 3)), height=2.4)
    fan = circulation(place=Place(x=1.0, y=1.0, z=0.5))
    air = air_of(design(fan, plants(place=Place(x=1.6, y=1.2)), room=room))
    (corner,) = [solid for solid in air.scene.solids if solid.hi[2] > 2.0]
    assert corner.lo == pytest.approx((1.5, 2.0, 0.0))
    assert corner.hi == pytest.approx((3.0, 3.0, 2.4))


def test_large_regions_get_larger_cells_and_say_so() -> None:
    spread = (circulation(place=Place(x=0.5, y=0.5, z=0.5)), plants(place=Place(x=8.0, y=5.0)))
    air = air_of(design(*spread, room=Room.rectangle(10.0, 6.5, 3.0)))
    assert air.cell > 0.1
    assert math.prod(make_grid(air.scene, air.cell).counts) < 17_000
    assert any("Cells of" in told.render() for told in air.assumptions)
    assert air.refined_cell < air.fine_cell <= air.cell


def test_small_fans_and_narrow_boxes_get_finer_cells() -> None:
    usual = air_of(design(box(), circulation()))
    small = air_of(design(box(), circulation(diameter=0.1)))
    narrow = air_of(
        design(box(depth=0.5), circulation(place=Place(host="box", x=0.15, y=0.2, z=0.85)))
    )
    assert usual.fine_cell == 0.05
    assert small.fine_cell < 0.05
    assert narrow.fine_cell < 0.05


def test_equal_air_is_equal_whatever_does_not_move_it() -> None:
    plain = air_of(design(box(), circulation(), plants()))
    renamed = air_of(design(box(name="Other"), circulation(watts=5.0), plants(leaf_high=0.2)))
    turned = air_of(design(box(), circulation(heading=10.0), plants()))
    assert plain == renamed
    assert hash(plain) == hash(renamed)
    assert plain != turned


def test_the_season_by_day_says_what_blows() -> None:
    assert ventilation(Placement(design())) is None
    found = ventilation(Placement(design(box(), duct())))
    assert found is not None
    assert found.driven


places = st.floats(0.0, 1.0)


@st.composite
def crowded(draw: st.DrawFn) -> Design:
    """A box with anything anywhere in it, some of it sticking out."""
    faces: list[Face] = draw(
        st.lists(st.sampled_from(["left", "right", "front", "back", "top"]), unique=True)
    )
    covers = tuple(Cover(face=face, sheet=Sheet(material="Film")) for face in faces)
    parts: list[Any] = [box(covers=covers)] if draw(st.booleans()) else []
    host = "box" if parts else "room"

    def place(**more: Any) -> Place:
        return Place(host=host, x=2 * draw(places), y=1.2 * draw(places), z=draw(places), **more)

    parts.append(circulation(place=place(), heading=360 * draw(places) - 180))
    tray = {"width": 2 * draw(places) + 0.1, "depth": 0.5, "height": draw(places) + 0.02}
    parts.append(Tray(id="tray", name="Tray", place=place(), **tray))
    parts.append(
        unit(
            width=draw(places) + 0.1,
            levels=(Shelf(z=0.3, surface="solid"),),
            place=Place(host=host),
        )
    )
    if host == "box" and draw(st.booleans()):
        face: Face = draw(st.sampled_from(["left", "right", "front", "back", "top"]))
        parts.append(duct(face=face, x=2 * draw(places), z=draw(places)))
        parts.append(flap("flap", 0.4, z=draw(places)))
    room = Room.rectangle(4.0, 3.0, 2.4)
    if draw(st.booleans()):
        width, depth, height = (scale * draw(places) + 0.1 for scale in (3, 3, 2.4))
        block = Obstacle(
            id="block", name="Block", x=2 * draw(places), y=draw(places),
            width=width, depth=depth, height=height,
        )  # fmt: skip
        room = replace(room, fixtures=(block,))
    return design(*parts, room=room)


@given(crowded())
@settings(max_examples=40)
def test_the_air_of_any_design_can_be_computed(made: Design) -> None:
    region = region_of(Placement(made))
    air = room_air(Placement(made))
    assert region is not None
    if air is not None:
        assert abs(sum(opening.flow for opening in air.scene.openings)) < 1e-9
        flow = flow_through(air.scene, 0.2, (3, 2), None, None, None)
        assert np.isfinite(flow.speed).all()
        assert flow.divergence_max < 1e-9


def test_air_that_solids_fill_is_none() -> None:
    block = Obstacle(id="block", name="Block", x=0.0, y=0.0, width=4.0, depth=3.0, height=2.4)
    room = replace(Room.rectangle(4.0, 3.0, 2.4), fixtures=(block,))
    air = room_air(Placement(design(box(), circulation(), duct(), flap("flap", 0.4), room=room)))
    assert air is not None
    assert not flow_through(air.scene, 0.2, (3, 2), None, None, None).speed.any()
