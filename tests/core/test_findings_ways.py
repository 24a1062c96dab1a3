"""Covered outlets, narrow ways, low heads and what is carried in are found, and moves that mend."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import carrying, ways
from core.model import (
    Corner,
    Cover,
    Design,
    Enclosure,
    FaceDoor,
    Fan,
    Obstacle,
    Place,
    Reservoir,
    Room,
    RoomDoor,
    RoomWindow,
    Sheet,
    Targets,
    Tray,
    replace,
)
from core.states import State
from tests.findings_kit import after_mending, box, design, raised, room, told, unit

FILM = Sheet(material="Clear film")
ALL_ROUND = tuple(Cover(face=face, sheet=FILM) for face in ("left", "right", "front", "back"))
DOOR = RoomDoor(id="door", name="Door", wall=1, offset=2.5, width=0.8)
BESIDE = Place(x=3.1, y=2.65)


def tank(**fields: Any) -> Reservoir:
    """Return a tank of 0.6 × 0.35 × 1.2 m against the back wall, in front of the hall's outlet."""
    usual: dict[str, Any] = {"width": 0.6, "depth": 0.35, "height": 1.2, "fill": 0.5}
    return Reservoir(id="tank", name="Tank", **{**usual, "place": BESIDE, **fields})


# --- outlets and windows -------------------------------------------------------------------------


def test_an_outlet_behind_a_tank_is_covered_and_the_tank_moved_off_it():
    """The hall's outlet is 0.5 m from the right wall, at x = 3.42 to 3.5 m."""
    found = raised(ways.behind_things, design(tank()), "fit")
    (finding,) = [item for item in found if item.place == "outlet-hall"]
    title, detail, mend = told(finding)
    assert title == "Outlet hall is covered"
    assert detail == "Tank leaves no room for a hand before Outlet hall."
    assert mend.startswith("Move Tank")
    assert after_mending(ways.behind_things, design(tank()), "fit") == []


def test_a_hand_gets_behind_what_stands_10_cm_off():
    off = tank(place=Place(x=3.1, y=2.54))
    assert raised(ways.behind_things, design(off), "fit") == []


def test_a_tank_lower_than_the_outlet_does_not_cover_it():
    """Outlets are 0.3 m up; the tank's front is 0.35 m off, within the reach of 0.6 m."""
    assert raised(ways.behind_things, design(tank(height=0.2, fill=0.1)), "fit") == []


def test_a_locked_tank_stays_and_no_remedy_is_offered():
    (finding,) = raised(ways.behind_things, design(replace(tank(), locked=True)), "fit")
    assert finding.remedy is None


def test_a_window_too_far_behind_furniture_is_out_of_reach():
    """A bench 0.9 m deep all along the right wall before a window."""
    window = RoomWindow(id="window", name="Window", wall=2, offset=1.0)
    bench = Obstacle(id="bench", name="Bench", x=3.1, y=0.0, width=0.9, depth=3.0, height=0.8)
    made = design(unit(), room=room(window, bench, circuits=()))
    (finding,) = raised(ways.behind_things, made, "fit")
    assert told(finding)[:2] == (
        "Out of reach: Window",
        "0.90 m from where one can stand to Window; want at most 0.60 m.",
    )
    narrow = replace(bench, x=3.45, width=0.55)
    made = design(unit(), room=room(window, narrow, circuits=()))
    assert raised(ways.behind_things, made, "fit") == []


# --- ways and floor ------------------------------------------------------------------------------


def gap(width: float) -> Design:
    """A door in the front wall, the box at the back, and two tanks that leave a gap."""
    low = tank(width=2.0, place=Place(x=0.0, y=1.2), depth=0.4)
    right = Obstacle(
        id="bench", name="Bench", x=2.0 + width, y=1.2, width=2.0 - width, depth=0.4, height=2.2
    )
    return design(
        replace(box(), place=Place(x=1.0, y=1.95)),
        low,
        room=room(DOOR, right, circuits=()),
    )


def test_a_narrow_way_is_told_and_widened_by_moving_what_may_be_moved():
    made = gap(0.6)
    (finding,) = raised(ways.narrow_ways, made, "fit")
    title, detail, _ = told(finding)
    assert title == "The way to Box is narrow"
    assert detail == "A way 0.60 m wide to Box; want 0.70 m."
    assert raised(ways.narrow_ways, gap(0.72), "fit") == []


def panel(x: float) -> Design:
    """A panel on the left wall that is worked at from its right, and a tank before it."""
    board = Obstacle(
        id="panel", name="Panel", x=0.0, y=1.0, z=1.2, width=0.1, depth=0.4, height=0.6,
        worked_at="right",
    )  # fmt: skip
    placed = Reservoir(
        id="tank", name="Tank", width=0.4, depth=0.4, height=0.4, fill=0.3, place=Place(x=x, y=1.0)
    )
    return design(placed, room=room(board, circuits=()))


def test_floor_before_a_panel_is_kept_clear_and_what_stands_there_moved_off():
    (finding,) = raised(ways.not_kept_clear, panel(0.6), "fit")
    title, detail, mend = told(finding)
    assert title == "The floor before Panel is not clear"
    assert detail == "0.50 m of clear floor before Panel; want 0.914 m. Local code decides."
    assert mend.startswith("Move Tank")
    assert after_mending(ways.not_kept_clear, panel(0.6), "fit") == []
    assert raised(ways.not_kept_clear, panel(1.03), "fit") == []


# --- inside --------------------------------------------------------------------------------------


def walked_in(*parts: Any, sill: float = 0.05, height: float = 2.0, **asked: Any) -> Design:
    """A box of 2.6 × 1.6 m that one walks into over a sill, a unit along its back."""
    door = FaceDoor(style="curtain", x=0.5, z=sill, width=1.0, height=1.8)
    outer = Enclosure(
        id="box", name="Box", width=2.6, depth=1.6, height=height, covers=ALL_ROUND, doors=(door,),
        place=Place(x=0.2, y=1.2),
    )  # fmt: skip
    shelves = replace(unit(), place=Place(host="box", x=0.1, y=1.0))
    return design(outer, shelves, *parts, room=room(circuits=()), targets=Targets(**asked))


def test_an_aisle_narrower_than_asked_for_is_widened_by_moving_the_unit():
    """1.0 m before the unit; 1.05 m asked for and 0.1 m to spare behind it."""
    made = walked_in(aisle=1.05)
    (finding,) = raised(ways.narrow_ways, made, "fit")
    assert told(finding) == (
        "The aisle before Rack is narrow",
        "1.00 m of aisle before Rack; want 1.05 m.",
        "Move Rack 60 mm to the back",
    )
    assert after_mending(ways.narrow_ways, made, "fit") == []
    assert raised(ways.narrow_ways, walked_in(aisle=0.9), "fit") == []


def fan(z: float) -> Fan:
    return Fan(
        id="fan", name="Fan", width=0.2, depth=0.2, height=0.2, diameter=0.15, flow=0.05,
        watts=10.0, place=Place(host="box", fixing="hung", x=0.8, y=0.3, z=z),
    )  # fmt: skip


def test_a_fan_low_over_the_aisle_is_told_and_raised():
    """Box 2.4 m high, the fan's underside at 2.4 − 0.4 − 0.2 = 1.8 m."""
    made = walked_in(fan(0.4), height=2.3)
    (finding,) = raised(ways.hard_inside, made, "fit")
    assert finding.state is State.BORDERLINE
    assert told(finding)[1] == "1.70 m of head-room below Fan; 1.90 m to stand upright."
    assert told(finding)[2].startswith("Move Fan")
    assert after_mending(ways.hard_inside, made, "fit") == []


def test_a_high_sill_is_told():
    (finding,) = raised(ways.hard_inside, walked_in(sill=0.2, seated=True), "fit")
    assert finding.rule == "sill"
    assert told(finding)[1] == "0.20 m to step over at the front face; want at most 12.7 mm."
    assert raised(ways.hard_inside, walked_in(sill=0.2), "fit") == []


def test_a_door_too_narrow_for_a_wheelchair_is_told_where_that_is_asked():
    made = design(unit(), room=room(replace(DOOR, width=0.7)), targets=Targets(seated=True))
    (finding,) = raised(ways.hard_inside, made, "fit")
    assert told(finding)[:2] == (
        "Door is narrow for a wheelchair",
        "Door is 0.70 m wide; want 0.813 m.",
    )


def test_a_tray_wider_than_both_arms_reach_is_a_caution():
    """1.1 m long and 0.5 m deep, reached at a short side only: its far side is 1.1 m off."""
    tray = Tray(
        id="tray", name="Tray", width=1.1, depth=0.48, height=0.06,
        place=Place(host="unit", level=1, x=0.05, y=0.01),
    )  # fmt: skip
    sides = [
        Obstacle(id=f"wall-{k}", name="Pier", x=0.5, y=y, width=1.2, depth=0.3, height=2.2)
        for k, y in enumerate((0.2, 1.0))
    ]
    made = design(unit(), tray, room=room(*sides, circuits=()))
    (finding,) = raised(ways.far_for_both_hands, made, "fit")
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "Tray is hard to take with both hands"
    assert raised(ways.far_for_both_hands, design(unit(), tray), "fit") == []


def test_a_shelf_above_the_shoulders_needs_a_step():
    tall = unit(height=2.2, levels=tuple(replace(s, z=z) for s, z in _shelves(0.5, 1.9)))
    (finding,) = raised(ways.at_odd_heights, design(tall), "fit")
    assert finding.state is State.CAUTION
    assert told(finding)[:2] == (
        "A step for level 2",
        "level 2 is 1.90 m up; above 1.80 m a step is needed.",
    )
    low = unit(height=2.2, levels=tuple(replace(s, z=z) for s, z in _shelves(0.5, 1.7)))
    assert raised(ways.at_odd_heights, design(low), "fit") == []


def _shelves(*heights: float) -> list[tuple[Any, float]]:
    return list(zip(unit().levels, heights, strict=False))


# --- carrying in and what goes first -------------------------------------------------------------


def by_way_of(*corners: Corner, **fields: Any) -> Design:
    plain = room(DOOR, circuits=())
    return design(unit(**fields), room=Room(**{**dict(plain), "way_in": corners}))


def test_a_corner_on_the_way_in_stops_what_the_door_lets_through():
    """0.6 m corridors let 1.70 m round; the unit is 1.8 × 1.2 × 0.5 m and 2.0 m is too low."""
    made = by_way_of(Corner(before=0.6, after=0.6, ceiling=1.7), height=1.75)
    (finding,) = raised(carrying.cannot_carry_in, made, "fit")
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "Rack cannot be carried in whole"
    assert "corner 1 on the way in" in told(finding)[1]
    wide = by_way_of(Corner(before=1.2, after=1.2), height=1.75)
    assert raised(carrying.cannot_carry_in, wide, "fit") == []


def test_a_bar_longer_than_the_way_is_made_of_two():
    outer = box(width=3.6, depth=0.6)
    tight = Corner(before=0.6, after=0.6, ceiling=2.0)  # 1.70 m round, 2.99 m of 3.6 m raised
    made = design(outer, room=Room(**{**dict(room(DOOR, circuits=())), "way_in": (tight,)}))
    (finding,) = raised(carrying.cannot_carry_in, made, "fit")
    assert told(finding)[0] == "Longest frame bar cannot be carried in whole"
    assert told(finding)[1].endswith("Make it of two pieces.")


def covered(width: float) -> Design:
    door = FaceDoor(style="zip", x=0.1, z=0.1, width=width, height=1.3)
    return design(
        box(covers=(*ALL_ROUND, Cover(face="top", sheet=FILM)), doors=(door,)),
        replace(unit(height=1.8), place=Place(host="box", x=0.3, y=0.3)),
        room=room(circuits=()),
    )


def test_a_unit_that_no_door_lets_through_goes_in_before_the_covers():
    """Standing it is 1.8 m high at a door of 1.3 m; lying 0.5 × 1.2 m, and 1.87 m to tilt up."""
    (finding,) = raised(carrying.goes_in_first, covered(0.45), "fit")
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "Rack goes in before the covers"
    assert raised(carrying.goes_in_first, covered(0.55), "fit") == []


@pytest.mark.parametrize("system", ["metric", "us"])
def test_all_of_these_are_sentences_in_both_systems(system: str):
    for made in (design(tank()), gap(0.6), panel(0.6), walked_in(fan(0.4), height=2.3, aisle=1.05)):
        for rule in (*ways.RULES, *carrying.RULES):
            for finding in raised(rule, made, "fit"):
                title, detail, _ = told(finding, system)
                assert "{" not in title + detail
                assert detail.endswith(".")
