"""Where parts go: new ones on a level or dropped, moved ones let go of, and why one cannot."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import load_catalogue
from core.changes import moved
from core.duplicates import duplicated
from core.errors import DesignError
from core.geometry import polygon_contains_rectangle
from core.model import (
    AnyPart,
    Design,
    Enclosure,
    Fan,
    Lamp,
    Outlet,
    Place,
    Room,
    Tray,
    replace,
)
from core.placement import Placement
from core.placing import Wish, fixture_placed, placed, rehosted
from tests.designs import alcove

DESIGN = alcove()
CATALOGUE = load_catalogue()


def without(*ids: str) -> Design:
    return DESIGN.with_parts(dict.fromkeys(ids))


def tray(name: str = "new-1", width: float = 0.3) -> Tray:
    return Tray(id=name, name="New tray", width=width, depth=0.2, height=0.05)


def board() -> Lamp:
    return Lamp(
        id="new-1", name="New board", form="board", width=0.4, depth=0.2, height=0.03, watts=30.0
    )


def with_part(design: Design, part: AnyPart) -> Design:
    return design.with_parts({part.id: part})


def test_a_new_tray_goes_to_the_free_place_nearest_the_shelfs_middle():
    design = without("plants-2-left", "tray-2-left")

    part = placed(design, tray(), Wish(("unit-1", 2)))

    assert (part.place.host, part.place.fixing, part.place.level) == ("unit-1", "stands", 2)
    box = Placement(with_part(design, part)).box(part.id)
    right = Placement(design).box("tray-2-right")
    assert box.overlap(right) is None
    assert box.hi[0] == pytest.approx(right.lo[0])


def test_a_full_shelf_says_so():
    with pytest.raises(DesignError, match=r"New tray: there is no free place for it on Shelf"):
        placed(DESIGN, tray(), Wish(("unit-1", 2)))


def test_a_tray_that_fits_only_turned_is_turned():
    design = without("plants-2-left", "tray-2-left", "plants-2-right", "tray-2-right")
    long = Tray(id="new-1", name="Long", width=0.5, depth=1.1, height=0.05)

    assert placed(design, long, Wish(("unit-1", 2))).place.turn == 1


def test_new_plants_fill_a_free_tray_on_the_level():
    plants = DESIGN.part("plants-3-left")
    design = without("plants-3-left")
    new = replace(plants, id="new-1", width=3.0, depth=3.0, place=Place())

    part = placed(design, new, Wish(("unit-1", 3)))

    assert part.place.host == "tray-3-left"
    assert (part.width, part.depth) == pytest.approx((0.56, 0.5))


def test_a_new_board_hangs_under_the_next_shelf():
    design = without("board-2-left", "board-2-right")

    part = placed(design, board(), Wish(("unit-1", 2)))

    assert (part.place.host, part.place.fixing, part.place.level) == ("unit-1", "under", 3)


def test_above_the_highest_shelf_it_hangs_from_the_enclosure_near_the_plants():
    tall = DESIGN.with_parts(
        {"enclosure-1": replace(DESIGN.part("enclosure-1"), height=2.35)}
    ).with_parts(dict.fromkeys(["board-4-left", "board-4-right"]))

    part = placed(tall, board(), Wish(("unit-1", 4)))

    assert (part.place.host, part.place.fixing) == ("enclosure-1", "hung")
    assert Placement(with_part(tall, part)).box("new-1").lo[2] == pytest.approx(1.5 + 0.45)


def test_a_new_fan_is_clipped_to_the_unit_and_blows_over_the_shelf():
    design = without("fan-1")
    fan = replace(DESIGN.part("fan-1"), id="new-1", place=Place())

    part = placed(design, fan, Wish(("unit-1", 3)))

    assert isinstance(part, Fan)
    assert (part.place.host, part.place.fixing, part.heading) == ("unit-1", "clipped", 0.0)


def test_where_the_left_end_is_taken_a_fan_takes_the_right_and_blows_back():
    fan = replace(DESIGN.part("fan-1"), id="new-1", place=Place())
    taken = DESIGN.with_parts(
        {"fan-1": replace(DESIGN.part("fan-1"), place=Place(host="unit-1", fixing="clipped",
                                                            x=-0.08, y=0.2, z=1.2))}
    )  # fmt: skip

    assert placed(taken, fan, Wish(("unit-1", 3))).heading == 180.0


def test_a_second_enclosure_is_refused_with_a_way_out():
    with pytest.raises(DesignError, match="variant"):
        placed(DESIGN, replace(DESIGN.part("enclosure-1"), id="new-1"), Wish())


def test_an_opening_needs_an_enclosure_and_goes_into_the_nearest_face():
    opening = CATALOGUE.make(CATALOGUE.of_kind("opening", "metric")[0].key, DESIGN, Place())
    bare = Design(room=DESIGN.room)

    with pytest.raises(DesignError, match="enclosure first"):
        placed(bare, opening, Wish())
    part = placed(DESIGN, opening, Wish(at=(2.0, 1.7, 1.0)))
    assert (part.place.fixing, part.place.face) == ("face", "right")


def test_without_a_shelf_a_tray_says_what_is_missing():
    shed = Design(room=Room.rectangle(2.0, 2.0, 2.4))

    part = placed(shed, tray(), Wish())

    assert part.place.host == "room"


def test_dropped_on_a_shelf_it_stands_there_within_the_shelf():
    design = without("plants-2-left", "tray-2-left")
    part = placed(design, tray(), Wish(at=(0.35, None, 0.70)))

    placement = Placement(with_part(design, part))
    assert (part.place.host, part.place.level, part.place.z) == ("unit-1", 2, 0.0)
    assert placement.box("unit-1").footprint.contains(placement.box("new-1").footprint)


def test_dropped_onto_another_tray_it_says_what_is_in_the_way():
    with pytest.raises(DesignError, match="Tray 2 left is in the way"):
        placed(DESIGN, tray(), Wish(at=(0.5, 1.7, 0.62)))


def test_dropped_outside_the_room_it_says_so():
    with pytest.raises(DesignError, match="outside the room"):
        placed(DESIGN, tray(), Wish(at=(-3.0, 1.0, 0.5)))


def test_an_outlet_goes_to_the_nearest_wall():
    outlet = Outlet(id="new-1", name="Outlet", wall=1, offset=0.0)

    found = fixture_placed(DESIGN, outlet, (3.1, 0.5, None))

    assert (found.wall, found.offset) == (2, pytest.approx(0.5))


def let_go(part_id: str, shift: tuple[float, float, float], design: Design = DESIGN) -> Design:
    after = design.with_parts(moved(design, [part_id], shift))
    return after.with_parts(rehosted(after, [part_id], design))


def test_a_board_let_go_lower_hangs_under_the_shelf_above_it():
    place = let_go("board-3-left", (0.0, 0.0, -0.45)).part("board-3-left").place

    assert (place.host, place.fixing, place.level) == ("unit-1", "under", 3)
    assert place.z == pytest.approx(0.01)


def test_a_tray_let_go_in_the_air_falls_on_the_shelf_below():
    design = without("tray-2-left", "plants-2-left")
    place = let_go("tray-1-left", (0.0, 0.0, 0.6), design).part("tray-1-left").place

    assert (place.level, place.z) == (2, 0.0)


def test_plants_go_from_tray_to_tray():
    design = without("plants-3-right")

    place = let_go("plants-3-left", (0.58, 0.0, 0.0), design).part("plants-3-left").place

    assert (place.host, place.x) == ("tray-3-right", pytest.approx(0.03))


def test_a_unit_pulled_out_of_the_enclosure_stands_in_the_room():
    design = let_go("unit-1", (0.3, -1.2, 0.0))

    assert design.part("unit-1").place.host == "room"
    back = design.with_parts(moved(design, ["unit-1"], (-0.3, 1.2, 0.0)))
    again = back.with_parts(rehosted(back, ["unit-1"], design))
    place = again.part("unit-1").place
    assert (place.host, place.x, place.y) == (
        "enclosure-1",
        pytest.approx(0.1),
        pytest.approx(0.22),
    )


def test_a_fan_pulled_off_its_post_stands_or_floats_where_it_is_and_can_be_clipped_again():
    off = let_go("fan-1", (-0.02, -0.6, 0.0))
    back = let_go("fan-1", (0.02, 0.6, 0.0), off)

    assert off.part("fan-1").place.fixing == "stands"
    assert Placement(off).box("fan-1").lo == pytest.approx(
        Placement(DESIGN).box("fan-1").moved(-0.02, -0.6, 0.0).lo
    )
    assert back.part("fan-1").place.fixing == "clipped"


def test_a_fan_clipped_to_a_side_of_the_frame_stays_so_while_it_moves_along_that_side():
    fan = DESIGN.part("fan-1")
    size = Placement(DESIGN).box("enclosure-1").size
    side = Place(host="enclosure-1", fixing="clipped", x=0.06, y=size[1] / 2 - 0.1, z=0.5)
    clipped = DESIGN.with_parts({"fan-1": replace(fan, place=side)})

    up = let_go("fan-1", (0.0, 0.0, 0.3), clipped).part("fan-1").place
    away = let_go("fan-1", (0.3, 0.0, 0.0), clipped).part("fan-1").place

    assert (up.fixing, up.host, up.z) == ("clipped", "enclosure-1", pytest.approx(0.8))
    assert away.fixing == "stands"


@given(
    part_id=st.sampled_from([part.id for part in DESIGN.parts]),
    shift=st.tuples(st.floats(-2, 2), st.floats(-2, 2), st.floats(-1, 1)),
)
def test_wherever_a_part_is_let_go_the_design_stays_sound_and_x_and_y_are_kept(part_id, shift):
    after = let_go(part_id, shift)
    box, start = Placement(after).box(part_id), Placement(DESIGN).box(part_id)

    expected = start.moved(*shift)
    assert box.lo[0] == pytest.approx(expected.lo[0], abs=1e-9)
    assert box.lo[1] == pytest.approx(expected.lo[1], abs=1e-9)
    assert after.part(part_id).place.host != part_id


def test_turned_units_take_parts_at_their_place_and_turn():
    design = without("plants-2-left", "tray-2-left")
    turned = design.with_parts(
        {"unit-1": replace(design.part("unit-1"), place=Place(host="enclosure-1", x=0.2, turn=2))}
    )
    before = Placement(turned).box("tray-1-left")
    after = let_go("tray-1-left", (0.0, 0.0, 0.46), turned)

    assert Placement(after).box("tray-1-left").lo[:2] == pytest.approx(before.lo[:2])
    assert after.part("tray-1-left").place.turn == 0


def test_a_copy_goes_beside_its_original_or_to_the_next_level():
    design = without("plants-2-right", "tray-2-right")
    changes, tops = duplicated(design, ["tray-2-left"])
    same = design.with_parts(changes)
    box = Placement(same).box(tops[0])

    assert same.part(tops[0]).place.level == 2
    assert box.lo[0] >= Placement(same).box("tray-2-left").hi[0] - 1e-9
    full, tops = duplicated(same, ["tray-3-left"])
    assert full[tops[0]].place.level in (2, 3, 4)


@given(ids=st.lists(st.sampled_from([p.id for p in DESIGN.parts if p.id != "enclosure-1"]),
                    min_size=1, max_size=4, unique=True))  # fmt: skip
def test_copies_make_a_sound_design_and_carry_what_their_originals_carry(ids):
    changes, tops = duplicated(DESIGN, ids)
    design = DESIGN.with_parts(changes)

    assert len(design.parts) == len(DESIGN.parts) + len(changes)
    for top in tops:
        assert design.part(top).name
    again = duplicated(design, tops)
    assert design.with_parts(again[0])


def test_an_enclosure_cannot_be_doubled():
    with pytest.raises(DesignError, match="variant"):
        duplicated(DESIGN, ["enclosure-1"])


@pytest.mark.parametrize("key", sorted(
    entry.key for kind in ("shelf-unit", "lamp", "tray", "fan", "reservoir", "heater", "platform")
    for entry in CATALOGUE.of_kind(kind, "metric")
))  # fmt: skip
def test_every_catalogue_part_finds_a_place_in_an_empty_enclosure_with_a_unit(key):
    room = Room.rectangle(4.0, 4.0, 2.6)
    design = Design(
        room=room,
        parts=(
            Enclosure(id="enclosure-1", name="Box", width=3.8, depth=3.0, height=2.5),
            replace(DESIGN.part("unit-1"), place=Place(host="enclosure-1", x=0.3, y=2.0)),
        ),
    )
    part = placed(design, CATALOGUE.make(key, design, Place()), Wish(("unit-1", 2)))

    done = with_part(design, part)
    box = Placement(done).box(part.id)
    assert polygon_contains_rectangle(room.outline, box.footprint)
    assert box.lo[2] >= 0


def test_a_zone_as_large_as_its_tray_stands_at_its_very_corner():
    design = DESIGN.with_parts({"new-1": tray(width=0.3)})
    box = Placement(design).box("new-1")
    zone = next(part for part in design.parts if part.kind == "plants")
    new = replace(zone, id="new-2", name="New zone", width=0.3, depth=0.2)

    made = placed(design, new, Wish(at=(box.centre[0], box.centre[1], box.hi[2])))

    assert made.place.host == "new-1"
    assert (made.place.x, made.place.y, made.place.z) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize("tray_id", ["tray-1-left", "tray-2-right", "tray-3-left"])
@pytest.mark.parametrize("above", [0.01, 0.04, 0.2])
@pytest.mark.parametrize("axis", [0, 1])
def test_plants_dropped_on_a_tray_in_an_elevation_land_in_it_however_tall(tray_id, above, axis):
    zone = tray_id.replace("tray", "plants")
    beside = tray_id.replace("left", "x").replace("right", "left").replace("x", "right")
    gone = (zone, beside.replace("tray", "plants"), beside)
    design = without(*(gone if axis else (zone,)))
    tray_box = Placement(design).box(tray_id)
    at = [None, None, tray_box.lo[2] + above]
    at[axis] = tray_box.centre[axis]
    tall = replace(DESIGN.part(zone), id="new-1", leaf_high=0.3)

    made = placed(design, tall, Wish(at=tuple(at)))

    assert made.place.host == tray_id
