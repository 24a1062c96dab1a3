"""Parts end up where their hosts take them, whatever the turns between."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.model import (
    Bay,
    Design,
    Enclosure,
    Lamp,
    Opening,
    Outlet,
    Place,
    PlantGroup,
    Plants,
    Platform,
    Pots,
    Room,
    RoomWindow,
    Shelf,
    ShelfUnit,
    Tray,
    build,
)
from core.placement import Placement, wall_inwards


def layout(unit_turn: int = 0, box_turn: int = 0, tray_turn: int = 0) -> Design:
    """A unit in an enclosure, a tray on its level 2, plants in the tray, a lamp under level 3."""
    unit = ShelfUnit(
        id="unit",
        name="Unit",
        width=1.2,
        depth=0.5,
        height=1.8,
        levels=tuple(Shelf(z=z, thickness=0.02) for z in (0.2, 0.8, 1.4)),
        place=Place(host="box", x=0.1, y=0.2, turn=unit_turn),
    )
    parts: list[Any] = [
        Enclosure(
            id="box",
            name="Box",
            width=2.0,
            depth=2.0,
            height=2.1,
            place=Place(x=0.3, y=0.4, turn=box_turn),
        ),
        unit,
        Tray(
            id="tray",
            name="Tray",
            width=1.0,
            depth=0.4,
            height=0.05,
            place=Place(host="unit", level=2, x=0.1, y=0.05, turn=tray_turn),
        ),
        Plants(
            id="plants",
            name="Ferns",
            species="ferns",
            width=0.3,
            depth=0.2,
            leaf_low=0.02,
            leaf_high=0.1,
            pots=Pots(height=0.07),
            place=Place(host="tray", x=0.05, y=0.1),
        ),
        Lamp(
            id="lamp",
            name="Lamp",
            form="board",
            width=0.5,
            depth=0.3,
            height=0.03,
            watts=40.0,
            place=Place(host="unit", fixing="under", level=3, x=0.2, y=0.1, z=0.05),
        ),
    ]
    groups = (PlantGroup(key="ferns", name="Ferns"),)
    return Design(room=Room.rectangle(4.0, 4.0, 2.4), parts=tuple(parts), groups=groups)


def test_heights_add_up_from_the_floor() -> None:
    placed = Placement(layout())
    assert placed.box("tray").lo == pytest.approx((0.3 + 0.1 + 0.1, 0.4 + 0.2 + 0.05, 0.8))
    # Under shelf 3: its top less its thickness, the gap and the lamp's own height.
    assert placed.box("lamp").lo[2] == pytest.approx(1.4 - 0.02 - 0.05 - 0.03)
    (zone,) = placed.zones
    assert (zone.base, zone.low, zone.high) == pytest.approx((0.8, 0.89, 0.97))


def test_levels_are_named_by_what_the_part_serves() -> None:
    placed = Placement(layout())
    assert placed.level_of("tray") == ("unit", 2)
    assert placed.level_of("plants") == ("unit", 2)
    assert placed.level_of("lamp") == ("unit", 2)


def test_a_lamp_hung_above_a_unit_serves_its_highest_level() -> None:
    hung = Lamp(
        id="top",
        name="Top",
        form="board",
        width=0.4,
        depth=0.3,
        height=0.03,
        watts=40.0,
        place=Place(host="box", fixing="hung", x=0.3, y=0.3, z=0.1),
    )
    placed = Placement(layout().with_parts({"top": hung}))
    assert placed.box("top").hi[2] == pytest.approx(2.0)
    assert placed.level_of("top") == ("unit", 3)


turns = st.integers(0, 3)


@given(turns, turns, turns)
def test_what_a_carrier_holds_stays_on_it_through_every_turn(
    box: int, unit: int, tray: int
) -> None:
    placed = Placement(layout(unit_turn=unit, box_turn=box))
    inner, outer = placed.box("tray").footprint, placed.box("unit").footprint
    assert outer.contains(inner, slack=1e-9)
    assert placed.box("tray").footprint.contains(placed.box("plants").footprint, slack=1e-9)
    assert inner.area == pytest.approx(0.4)
    turned = Placement(layout(unit_turn=unit, box_turn=box, tray_turn=tray))
    assert turned.box("tray").volume == pytest.approx(placed.box("tray").volume)


@given(turns, turns, st.floats(-1, 3), st.floats(-1, 3))
def test_a_wanted_corner_and_the_place_that_gives_it_agree(
    box: int, unit: int, x: float, y: float
) -> None:
    before = layout(unit_turn=unit, box_turn=box)
    local_x, local_y = Placement(before).to_host("tray", x, y)
    tray = before.part("tray")
    place = {**dict(tray.place), "x": local_x, "y": local_y}
    moved = build(Tray, "Tray", {**dict(tray), "place": build(Place, "Place", place)})
    assert Placement(before.with_parts({"tray": moved})).box("tray").lo[:2] == pytest.approx(
        (x, y), abs=1e-9
    )


def test_inside_is_what_the_enclosure_carries_but_not_what_sits_in_its_faces() -> None:
    flap = Opening(
        id="flap",
        name="Flap",
        width=0.3,
        height=0.1,
        place=Place(host="box", fixing="face", face="right", x=0.2, z=1.5),
    )
    placed = Placement(layout().with_parts({"flap": flap}))
    assert placed.inside("plants") and placed.inside("unit")
    assert not placed.inside("flap") and not placed.inside("box")
    assert placed.box("flap").lo == pytest.approx((2.3, 0.6, 1.5))
    assert placed.box("flap").hi == pytest.approx((2.3, 0.9, 1.6))


def test_a_bay_counts_its_floor_and_platforms_as_levels() -> None:
    bay = Bay(
        id="bay",
        name="Bay",
        width=0.5,
        depth=0.5,
        height=1.8,
        place=Place(host="box", x=1.4, y=0.2),
    )
    stand = Platform(
        id="stand",
        name="Stand",
        width=0.3,
        depth=0.3,
        height=0.4,
        place=Place(host="bay", x=0.1, y=0.1),
    )
    placed = Placement(layout().with_parts({"bay": bay, "stand": stand}))
    heights = [(level.number, level.z) for level in placed.levels if level.host == "bay"]
    assert heights == [(1, 0.0), (2, 0.4)]


def test_a_window_box_lies_on_its_wall_and_holds_what_is_set_into_it() -> None:
    window = RoomWindow(id="w", name="Window", wall=3, offset=1.0, width=1.2, sill=0.9)
    outlet = Outlet(id="o", name="Outlet", wall=2, offset=0.5)
    room = build(Room, "Room", {**dict(Room.rectangle(4, 3, 2.4)), "fixtures": (window, outlet)})
    flap = Opening(
        id="f",
        name="Gap",
        width=0.3,
        height=0.2,
        joins=("room", "outdoors"),
        place=Place(host="w", fixing="face", x=0.1, z=0.2),
    )
    placed = Placement(Design(room=room, parts=(flap,)))
    # Wall 3 is the back wall and runs from right to left.
    assert placed.box("w").lo == pytest.approx((1.8, 2.95, 0.9))
    assert placed.box("f").lo == pytest.approx((1.9, 3.0, 1.1))
    assert placed.box("o").centre == pytest.approx((4.0, 0.54, 0.3))


def test_the_room_above_a_shelf_ends_at_the_underside_of_the_next() -> None:
    levels = [level for level in Placement(layout()).levels if level.host == "unit"]
    # Shelves of 20 mm with their tops at 0.2, 0.8 and 1.4 m; the box is 2.1 m high.
    assert [level.above for level in levels] == pytest.approx([0.78, 1.38, 2.1])


def test_walls_look_inwards_whichever_way_round_the_room_was_drawn() -> None:
    outline = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    anticlockwise = Room(outline=outline, height=2.4)
    clockwise = Room(outline=outline[::-1], height=2.4)
    assert wall_inwards(anticlockwise, 1) == pytest.approx((0.0, 1.0))
    # Backwards the first wall runs from (0, 3) to (4, 3): the back wall, which looks to -y.
    assert wall_inwards(clockwise, 1) == pytest.approx((0.0, -1.0))


@pytest.mark.parametrize(("face", "y"), [("front", 0.4), ("back", 2.4)])
def test_what_is_set_into_front_or_back_lies_in_that_face(face: Any, y: float) -> None:
    place = Place(host="box", fixing="face", face=face, x=0.2, z=1.5)
    flap = Opening(id="flap", name="Flap", width=0.3, height=0.1, place=place)
    placed = Placement(layout().with_parts({"flap": flap}))
    assert placed.box("flap").lo == pytest.approx((0.5, y, 1.5))
