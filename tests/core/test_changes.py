"""Edits of a design: moves, turns, removals, copies, levels and sizes, by case and by property."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import changes
from core.errors import DesignError
from core.geometry import Box
from core.model import (
    Design,
    Fan,
    FeedLine,
    Fogger,
    Humidistat,
    Opening,
    Outlet,
    Place,
    Plug,
    replace,
)
from core.placement import Placement
from tests.designs import alcove

DESIGN = alcove()
IDS = [part.id for part in DESIGN.parts]
LENGTHS = st.floats(-0.5, 0.5, allow_nan=False)
SHIFTS = st.tuples(LENGTHS, LENGTHS, LENGTHS)


def boxes(design: Design) -> dict[str, Box]:
    placement = Placement(design)
    return {part.id: placement.box(part.id) for part in design.parts}


@given(ids=st.lists(st.sampled_from(IDS), min_size=1, max_size=5), shift=SHIFTS)
def test_what_is_moved_and_all_it_carries_is_shifted_once_and_nothing_else(ids, shift):
    before, after = boxes(DESIGN), boxes(DESIGN.with_parts(changes.moved(DESIGN, ids, shift)))

    for part_id in changes.with_carried(DESIGN, ids):
        assert after[part_id].lo == pytest.approx(before[part_id].moved(*shift).lo, abs=1e-9)
    for part_id in set(IDS) - changes.with_carried(DESIGN, ids):
        assert after[part_id] == before[part_id]


@given(turns=st.integers(0, 3), shift=SHIFTS)
def test_moves_go_along_the_rooms_axes_whatever_the_hosts_turn(turns, shift):
    design = DESIGN.with_parts(changes.turned(DESIGN, ["unit-1"], turns))
    before = boxes(design)["tray-3-left"]

    after = boxes(design.with_parts(changes.moved(design, ["tray-3-left"], shift)))["tray-3-left"]

    assert after.lo == pytest.approx(before.moved(*shift).lo, abs=1e-9)


@given(part_id=st.sampled_from(IDS), turns=st.integers(-4, 8))
def test_a_turn_keeps_the_middle_of_the_box(part_id, turns):
    before = boxes(DESIGN)[part_id]
    after = boxes(DESIGN.with_parts(changes.turned(DESIGN, [part_id], turns)))[part_id]

    assert after.centre == pytest.approx(before.centre, abs=1e-9)
    wide, deep = before.size[:2] if turns % 2 == 0 else before.size[1::-1]
    assert after.size == pytest.approx((wide, deep, before.size[2]))


@given(part_id=st.sampled_from(IDS))
def test_four_quarter_turns_are_none(part_id):
    design = DESIGN
    for _ in range(4):
        design = design.with_parts(changes.turned(design, [part_id]))

    for key, box in boxes(design).items():
        assert box.lo == pytest.approx(boxes(DESIGN)[key].lo, abs=1e-9)


def test_a_fan_blows_the_turned_way_also_when_its_unit_is_turned():
    design = DESIGN.with_parts(changes.turned(DESIGN, ["unit-1"]))

    assert design.part("fan-1").heading == 90.0
    assert isinstance(design.part("fan-1"), Fan)


def test_removing_takes_what_is_carried_and_releases_what_was_plugged_in():
    design = DESIGN.with_parts(changes.deleted(DESIGN, ["strip-1", "unit-1"]))

    assert {part.id for part in design.parts} == {
        "enclosure-1",
        "reservoir-1",
        "board-4-left",
        "board-4-right",
    }
    assert design.part("board-4-left").plug is None


def test_removing_an_outlet_releases_its_strip():
    design = DESIGN.with_parts(changes.deleted(DESIGN, ["outlet-1"]))

    assert not any(isinstance(fixture, Outlet) for fixture in design.room.fixtures)
    assert design.part("strip-1").plug is None
    assert design.part("fan-1").plug == Plug(into="strip-1")


def watered() -> Design:
    """Return the alcove with a fogger fed from the reservoir, switched by a humidistat."""
    sizes = {"width": 0.2, "depth": 0.2, "height": 0.2}
    place = Place(host="enclosure-1", x=1.5, y=0.05)
    parts = [
        Humidistat(id="humidistat-1", name="Humidistat", **sizes, place=place),
        Fogger(
            id="fogger-1",
            name="Fogger",
            **sizes,
            watts=30.0,
            output=1e-5,
            control="humidistat-1",
            place=Place(host="reservoir-1", x=0.05, y=0.1),
        ),
        FeedLine(id="feed-1", name="Feed", source="reservoir-1", target="fogger-1"),
    ]
    return DESIGN.with_parts({part.id: part for part in parts})


def test_removing_an_end_of_a_feed_line_removes_the_line():
    design = watered()
    without = design.with_parts(changes.deleted(design, ["fogger-1"]))

    assert "feed-1" not in without.by_id
    assert "humidistat-1" in without.by_id


def test_removing_a_controller_releases_what_it_switched():
    design = watered()

    without = design.with_parts(changes.deleted(design, ["humidistat-1"]))

    assert without.part("fogger-1").control is None


@given(ids=st.lists(st.sampled_from(IDS), min_size=1, max_size=4))
def test_any_removal_leaves_a_sound_design(ids):
    design = DESIGN.with_parts(changes.deleted(DESIGN, ids))

    assert not set(ids) & set(design.by_id)


def test_locked_parts_stay_and_are_not_removed():
    design = DESIGN.with_parts({"fan-1": replace(DESIGN.part("fan-1"), locked=True)})

    assert changes.moved(design, ["fan-1"], (0.1, 0.0, 0.0)) == {}
    assert changes.deleted(design, ["fan-1"]) == {}
    assert changes.turned(design, ["fan-1"]) == {}


def test_fixtures_move_along_their_wall_and_not_beyond_its_end():
    design = DESIGN.with_parts(changes.moved(DESIGN, ["door-1"], (5.0, 0.3, 1.0)))
    end = design.with_parts(changes.moved(design, ["door-1"], (0.0, 9.0, 0.0)))

    assert design.by_id["door-1"].offset == pytest.approx(0.5)
    assert end.by_id["door-1"].offset == pytest.approx(2.2 - 0.8)


def test_an_obstacle_moves_freely():
    design = DESIGN.with_parts(changes.moved(DESIGN, ["stair"], (-0.1, 0.2, 0.0)))

    assert (design.by_id["stair"].x, design.by_id["stair"].y) == pytest.approx((2.2, 1.2))


@pytest.mark.parametrize(("face", "axis"), [("left", 1), ("right", 1), ("front", 0), ("back", 0)])
def test_what_is_in_a_face_moves_within_it(face, axis):
    place = Place(host="enclosure-1", fixing="face", face=face, x=0.3, z=1.0)
    flap = Opening(id="opening-1", name="Flap", width=0.2, height=0.1, place=place)
    design = DESIGN.with_parts({"opening-1": flap})
    before = boxes(design)["opening-1"]

    after = boxes(design.with_parts(changes.moved(design, ["opening-1"], (0.1, 0.2, 0.3))))[
        "opening-1"
    ]

    expected = [0.0, 0.0, 0.3]
    expected[axis] = (0.1, 0.2)[axis]
    moved = [b - a for a, b in zip(before.lo, after.lo, strict=True)]
    assert moved == pytest.approx(expected)


def test_copies_refer_to_each_other_and_have_ids_of_their_own():
    design = watered()
    parts, tops = changes.copied(design, ["reservoir-1", "humidistat-1"])

    assert not set(parts) & set(design.by_id)
    assert tops == ("reservoir-2", "humidistat-2")
    assert parts["fogger-2"].place.host == "reservoir-2"
    assert parts["fogger-2"].control == "humidistat-2"
    assert (parts["feed-2"].source, parts["feed-2"].target) == ("reservoir-2", "fogger-2")


def test_copies_keep_plugs_that_lead_elsewhere():
    parts, _ = changes.copied(DESIGN, ["board-1-left"])

    assert next(iter(parts.values())).plug == Plug(into="strip-1")


def test_an_empty_name_is_refused():
    with pytest.raises(DesignError, match="name"):
        changes.renamed(DESIGN, "fan-1", "   ")


def test_a_level_higher_takes_a_tray_to_its_shelf_and_a_board_under_the_next():
    changed = changes.on_level(DESIGN, ["tray-1-left", "board-1-left", "reservoir-1"], 3)

    assert changed["tray-1-left"].place.level == 3
    assert changed["board-1-left"].place.level == 4
    assert set(changed) == {"tray-1-left", "board-1-left"}
    assert changes.on_level(DESIGN, ["board-1-left"], 4) == {}


@given(
    part_id=st.sampled_from(["tray-2-left", "enclosure-1", "unit-1", "plants-3-right"]),
    turns=st.integers(0, 3),
    grown=st.tuples(st.floats(0.0, 0.3), st.floats(0.0, 0.3), st.floats(0.0, 0.3)),
)
def test_a_resized_part_has_the_box_asked_for(part_id, turns, grown):
    design = DESIGN.with_parts(changes.turned(DESIGN, ["unit-1"], turns))
    before = boxes(design)[part_id]
    hi = tuple(a + b for a, b in zip(before.hi, grown, strict=True))
    wanted = Box(before.lo, hi)

    after = boxes(design.with_parts(changes.resized(design, part_id, wanted)))[part_id]

    height = before.size[2] if part_id.startswith("plants") else wanted.size[2]
    assert after.lo == pytest.approx(wanted.lo, abs=1e-9)
    assert after.size == pytest.approx((*wanted.size[:2], height))


def test_a_size_below_its_doors_is_refused():
    box = boxes(DESIGN)["enclosure-1"]

    with pytest.raises(DesignError, match="door"):
        changes.resized(DESIGN, "enclosure-1", Box(box.lo, (box.lo[0] + 0.5, *box.hi[1:])))


@given(ids=st.lists(st.sampled_from(IDS), min_size=1, max_size=3), shift=SHIFTS)
def test_moves_turns_and_sizes_leave_places_on_the_nanometre_without_dust(ids, shift):
    design = DESIGN.with_parts(changes.moved(DESIGN, ids, shift))
    design = design.with_parts(changes.turned(design, ids))

    for part_id in changes.roots(design, ids):
        place = design.part(part_id).place
        for value in (place.x, place.y, place.z):
            assert value == round(value, 9)
            assert math.copysign(1.0, value) == 1.0 or value < 0.0


def test_a_move_there_and_back_gives_the_very_same_place():
    there = DESIGN.with_parts(changes.moved(DESIGN, ["unit-1"], (0.1, 0.2, 0.0)))
    back = there.with_parts(changes.moved(there, ["unit-1"], (-0.1, -0.2, 0.0)))

    assert back.part("unit-1").place == DESIGN.part("unit-1").place
