"""What is in the way, sticks out, cannot open or be reached is found, and moves that mend it."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import access, carrying, fit, ways
from core.model import (
    Bay,
    Cover,
    Design,
    FaceDoor,
    Lamp,
    Obstacle,
    Place,
    PlantGroup,
    Plants,
    Platform,
    Reservoir,
    RoomDoor,
    Sheet,
    Shelf,
    Targets,
    Tray,
)
from core.states import State
from tests.findings_kit import after_mending, box, design, look, raised, room, told, unit

FERNS = PlantGroup(key="ferns", name="Ferns")
FILM = Sheet(material="Clear film")


def tray(number: int = 1, level: int = 1, x: float = 0.1, **fields: Any) -> Tray:
    usual: dict[str, Any] = {"width": 0.4, "depth": 0.4, "height": 0.05, "mass": 0.6}
    place = Place(host="unit", level=level, x=x, y=0.05)
    return Tray(id=f"tray-{number}", name=f"Tray {number}", place=place, **{**usual, **fields})


def ferns(leaf_high: float, host: str = "tray-1") -> Plants:
    return Plants(
        id="ferns", name="Ferns", species="ferns", width=0.3, depth=0.3, leaf_high=leaf_high,
        place=Place(host=host, x=0.05, y=0.05),
    )  # fmt: skip


def board(level: int = 2, drop: float = 0.0, **fields: Any) -> Lamp:
    usual: dict[str, Any] = {"width": 0.5, "depth": 0.3, "height": 0.04, "watts": 50.0}
    place = Place(host="unit", fixing="under", level=level, x=0.1, y=0.1, z=drop)
    return Lamp(id="board", name="Board", form="board", place=place, **{**usual, **fields})


def planted(*parts: Any, **fields: Any) -> Design:
    return design(*parts, groups=(FERNS,), **fields)


# --- in the way ----------------------------------------------------------------------------------


def test_trays_in_each_others_way_are_moved_apart_by_the_shortest_way():
    made = design(unit(), tray(1), tray(2, x=0.45))
    (finding,) = raised(fit.in_the_way, made, "fit")

    assert finding.state is State.HIGH
    # The left one would have to go 5 cm and a tolerance; there are 10 cm to its left.
    assert told(finding) == (
        "Tray 1 and Tray 2 are in each other’s way",
        "By 50 mm.",
        "Move Tray 1 60 mm to the left",
    )
    assert after_mending(fit.in_the_way, made, "fit") == []


def test_trays_that_touch_are_not_in_each_others_way():
    assert raised(fit.in_the_way, design(unit(), tray(1), tray(2, x=0.5)), "fit") == []


def test_a_locked_part_stays_and_the_other_one_goes():
    made = design(unit(), tray(1, locked=True), tray(2, x=0.45))
    (finding,) = raised(fit.in_the_way, made, "fit")
    assert told(finding)[2] == "Move Tray 2 60 mm to the right"


def test_where_nothing_can_give_way_no_move_is_offered():
    made = design(unit(), tray(1, width=0.7), tray(2, x=0.4, width=0.7))
    (finding,) = raised(fit.in_the_way, made, "fit")
    assert finding.remedy is None


def test_a_unit_in_a_bay_is_moved_out_of_it():
    bay = Bay(id="bay", name="Bay", width=0.5, depth=0.5, height=1.8, place=Place(x=1.6, y=0.5))
    made = design(unit(), bay)
    (finding,) = raised(fit.in_the_way, made, "fit")
    assert told(finding)[0] == "Rack stands in Bay, which is kept free"
    assert after_mending(fit.in_the_way, made, "fit") == []


# --- leaves --------------------------------------------------------------------------------------


def test_leaves_that_touch_a_lamp_have_it_raised():
    # The shelf above is at 0.68 m; the lamp hangs 0.4 m below it, from 0.24 to 0.28 m.
    made = planted(unit(), tray(1), ferns(0.1), board(drop=0.4))
    (finding,) = raised(fit.leaves_touch, made, "fit")

    assert finding.level == ("unit", 1)
    assert told(finding) == (
        "The leaves of Ferns touch Board",
        "They reach 60 mm into it.",
        "Raise Board by 70 mm",
    )
    assert after_mending(fit.leaves_touch, made, "fit") == []


def test_leaves_below_a_lamp_are_fine():
    made = planted(unit(), tray(1), ferns(0.1), board(drop=0.3))
    assert raised(fit.leaves_touch, made, "fit") == []


def test_leaves_that_reach_the_shelf_above_go_where_there_is_height():
    made = planted(unit(), tray(1), ferns(0.6))
    (finding,) = raised(fit.leaves_touch, made, "fit")
    assert told(finding)[0] == "The leaves of Ferns reach the shelf above them"
    # Between levels there are 0.48 m; above level 3 the room is open.
    assert told(finding)[2] == "Move Tray 1 to level 3"
    assert after_mending(fit.leaves_touch, made, "fit") == []


def test_leaves_too_high_for_every_level_get_no_remedy():
    made = planted(unit(), tray(1), ferns(1.6))
    (finding,) = raised(fit.leaves_touch, made, "fit")
    assert finding.remedy is None


# --- outside -------------------------------------------------------------------------------------


def inside(x: float, y: float = 0.2, **fields: Any) -> Design:
    return design(box(), unit(place=Place(host="box", x=x, y=y)), **fields)


def test_a_unit_that_sticks_out_of_the_enclosure_is_moved_in():
    made = inside(0.9)  # 1.2 m wide in 2.0 m
    (finding,) = raised(fit.sticks_out, made, "fit")
    assert told(finding) == (
        "Rack sticks out of the enclosure",
        "By 0.10 m.",
        "Move Rack into the enclosure",
    )
    assert after_mending(fit.sticks_out, made, "fit") == []


def test_a_unit_within_the_enclosure_is_fine():
    assert raised(fit.sticks_out, inside(0.8), "fit") == []


def test_a_unit_higher_than_the_room_cannot_be_moved_in():
    tall = unit(height=2.5)
    (finding,) = raised(fit.sticks_out, design(tall), "fit")
    assert told(finding)[0] == "Rack is higher than the room"
    assert finding.remedy is None


# --- doors and walks -----------------------------------------------------------------------------


def leaf(hinge: str = "left", **fields: Any) -> FaceDoor:
    usual: dict[str, Any] = {"style": "leaf", "width": 0.7, "height": 1.8, "x": 0.1, "hinge": hinge}
    return FaceDoor(**{**usual, **fields})


def with_door(door: FaceDoor, *obstacles: Any, y: float = 1.5) -> Design:
    """An enclosure that opens to the front, 1.5 m of floor before it."""
    return design(box(doors=(door,), place=Place(x=0.2, y=y)), room=room(*obstacles))


POST = Obstacle(id="post", name="Post", x=0.28, y=0.85, width=0.06, depth=0.15, height=2.0)
"""Stands before the enclosure's front left corner."""


def test_a_leaf_that_meets_a_post_is_hung_on_its_other_side():
    made = with_door(leaf("left"), POST)
    found = raised(access.door_blocked, made, "fit")
    assert [item.rule for item in found] == ["door-swing"]

    assert told(found[0])[0] == "The front door does not open square"
    assert told(found[0])[1].endswith(": Post is in its way.")
    assert told(found[0])[2] == "Hang the front door on its right side"
    assert after_mending(access.door_blocked, made, "fit") == []


def test_a_leaf_with_room_to_swing_is_fine():
    assert raised(access.door_blocked, with_door(leaf("right"), POST), "fit") == []
    assert raised(access.door_blocked, with_door(leaf(style="zip"), POST), "fit") == []


def test_a_room_door_blocked_by_a_tank_has_it_moved():
    door = RoomDoor(id="door", name="Door", wall=1, offset=1.0, width=0.8)
    tank: dict[str, Any] = {"width": 0.5, "depth": 0.4, "height": 0.4, "fill": 0.3}
    made = design(
        Reservoir(id="tank", name="Tank", place=Place(x=1.6, y=0.2), **tank), room=room(door)
    )
    (finding,) = raised(access.door_blocked, made, "fit")
    assert told(finding)[0] == "Door does not open square"
    assert told(finding)[2] == "Move Tank 0.21 m to the right"
    assert after_mending(access.door_blocked, made, "fit") == []

    clear = design(
        Reservoir(id="tank", name="Tank", place=Place(x=1.85, y=0.2), **tank), room=room(door)
    )
    assert raised(access.door_blocked, clear, "fit") == []


def test_doors_that_cannot_both_stand_open_are_borderline():
    door = RoomDoor(id="door", name="Door", wall=1, offset=0.4, width=0.8)
    made = with_door(leaf("left"), door, y=1.0)
    (finding,) = raised(access.doors_meet, made, "fit")
    assert finding.state is State.BORDERLINE
    assert told(finding)[0].startswith("In each other’s way: ")
    assert told(finding)[1].endswith(" when both stand open.")
    assert raised(access.doors_meet, with_door(leaf("left"), door, y=1.6), "fit") == []


def test_a_narrow_walk_before_a_door_moves_the_enclosure_back():
    made = with_door(leaf(style="zip"), y=0.6)  # 0.60 m where 0.70 m are asked for
    (finding,) = raised(access.narrow_walkway, made, "fit")

    assert finding.state is State.LOW
    assert told(finding)[0] == "The walk before the front door is narrow"
    assert told(finding)[1] == "0.60 m before the front door; want 0.70 m."
    assert told(finding)[2] == "Move Box 0.11 m to the back"
    assert after_mending(access.narrow_walkway, made, "fit") == []


def test_a_walk_as_wide_as_asked_for_is_fine():
    assert raised(access.narrow_walkway, with_door(leaf(style="zip"), y=0.71), "fit") == []
    asked_less = with_door(leaf(style="zip"), y=0.6).having(targets=Targets(walkway=0.55))
    assert raised(access.narrow_walkway, asked_less, "fit") == []


# --- reach and carrying --------------------------------------------------------------------------


def deep(y: float, door: bool = True) -> Design:
    """A unit 0.5 m deep in an enclosure 1.4 m deep that opens to the front with a zip."""
    covers = tuple(Cover(face=face, sheet=FILM) for face in ("left", "right", "front", "back"))
    doors = (FaceDoor(width=1.9, height=1.0, x=0.05, z=0.6),) if door else ()
    shelves = (Shelf(z=0.7), Shelf(z=1.2))
    return design(
        box(depth=1.4, covers=covers, doors=doors, place=Place(x=0.2, y=1.0)),
        unit(levels=shelves, place=Place(host="box", x=0.3, y=y)),
    )


def test_a_unit_far_behind_the_door_is_moved_nearer():
    made = deep(0.3)  # its back edge is 0.8 m behind the door
    (finding,) = raised(access.out_of_reach, made, "fit")

    assert finding.state is State.HIGH
    assert told(finding)[0].startswith("Hard to reach: the far side of level ")
    assert told(finding)[2] == "Move Rack 0.21 m to the front"
    assert after_mending(access.out_of_reach, made, "fit") == []


def test_a_unit_close_behind_the_door_is_within_reach():
    assert raised(access.out_of_reach, deep(0.05), "fit") == []


def test_a_unit_behind_no_door_cannot_be_reached_at_all():
    found = raised(access.out_of_reach, deep(0.3, door=False), "fit")
    assert [item.state for item in found] == [State.HIGH]
    assert told(found[0])[0].startswith("Out of reach: level ")
    assert told(found[0])[1].startswith("0.45 m of clear floor to stand on is wanted before level ")
    assert found[0].remedy is None


def test_a_frame_too_high_to_be_tilted_up_is_assembled_standing():
    # √(2.1² + 0.6²) = 2.184 m (checks of fit) under 2.15 m.
    made = design(box(depth=0.6, height=2.1), room=room(height=2.15))
    (finding,) = raised(carrying.cannot_tilt_up, made, "fit")
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "Box cannot be tilted up"
    assert told(finding)[1].endswith("Assemble it standing.")
    assert "2.18 m" in told(finding)[1]


def test_a_frame_that_can_be_tilted_up_is_fine():
    made = design(box(depth=0.6, height=2.1), room=room(height=2.2))
    assert raised(carrying.cannot_tilt_up, made, "fit") == []


def test_a_unit_wider_than_every_door_is_carried_in_parts():
    narrow = RoomDoor(id="door", name="Door", wall=1, offset=2.5, width=0.6)
    made = design(unit(depth=0.7), room=room(narrow))
    (finding,) = raised(carrying.cannot_carry_in, made, "fit")
    assert told(finding)[0] == "Rack cannot be carried in whole"
    assert raised(carrying.cannot_carry_in, design(unit(), room=room(narrow)), "fit") == []


@pytest.mark.parametrize("rule", [*fit.RULES, *access.RULES, *ways.RULES, *carrying.RULES])
def test_without_readings_of_fit_every_rule_is_silent(rule):
    stand = Platform(id="stand", name="Stand", width=0.3, depth=0.3, height=0.3)
    assert list(rule(look(design(unit(), tray(1), tray(2, x=0.45), stand)))) == []
