"""Fit readings of whole designs, each against a length worked out by hand."""

from __future__ import annotations

import math
from time import perf_counter
from typing import Any

import numpy as np
import pytest

from core.fit.floor import standing_areas
from core.fit.overlaps import beyond_outline, overlaps
from core.fit.reading import FitReadings, inputs, read
from core.geometry import Rectangle
from core.model import (
    Bay,
    Cover,
    Design,
    DuctFan,
    Enclosure,
    FaceDoor,
    Fan,
    Lamp,
    Lead,
    Obstacle,
    Place,
    PlantGroup,
    Plants,
    Platform,
    Pots,
    Reservoir,
    Room,
    RoomDoor,
    Sheet,
    Shelf,
    ShelfUnit,
    Targets,
    Tray,
)
from core.placement import Placement
from core.reading import Reading
from core.states import State
from core.study import study

FERNS = PlantGroup(key="ferns", name="Ferns")
FILM = Sheet(material="Clear film")
ALL_ROUND = tuple(Cover(face=face, sheet=FILM) for face in ("left", "right", "front", "back"))


def room(*fixtures: Any, width: float = 4.0, depth: float = 3.0, height: float = 2.4) -> Room:
    plain = Room.rectangle(width, depth, height)
    return Room(outline=plain.outline, height=height, fixtures=fixtures)


def design(*parts: Any, where: Room | None = None, **more: Any) -> Design:
    return Design(room=where or room(), parts=parts, groups=(FERNS,), **more)


def enclosure(*doors: FaceDoor, x: float = 0.0, y: float = 2.0, **more: Any) -> Enclosure:
    fields: dict[str, Any] = {"width": 2.0, "depth": 1.0, "height": 2.0, "covers": ALL_ROUND}
    return Enclosure(id="box", name="Box", place=Place(x=x, y=y), doors=doors, **{**fields, **more})


def front(style: Any = "zip", **more: Any) -> FaceDoor:
    return FaceDoor(style=style, **{"width": 2.0, "height": 2.0, **more})


def unit(host: str = "room", x: float = 0.0, y: float = 0.0, **more: Any) -> ShelfUnit:
    levels = tuple(Shelf(z=z, thickness=0.02) for z in (0.2, 0.8, 1.4))
    fields: dict[str, Any] = {"width": 1.2, "depth": 0.5, "height": 1.8, "levels": levels}
    name = more.pop("id", "unit")
    return ShelfUnit(
        id=name, name=name.title(), place=Place(host=host, x=x, y=y), **{**fields, **more}
    )


def tray(host: str = "unit", level: int | None = 1, name: str = "tray", **more: Any) -> Tray:
    place = Place(host=host, level=level, x=more.pop("x", 0.0), y=more.pop("y", 0.0))
    return Tray(
        id=name,
        name=name.title(),
        place=place,
        **{"width": 1.0, "depth": 0.4, "height": 0.05, **more},
    )


def plants(
    host: str = "tray", name: str = "ferns", level: int | None = None, **more: Any
) -> Plants:
    fields = {"width": 0.4, "depth": 0.3, "leaf_high": 0.1, **more}
    place = Place(host=host, level=level, x=fields.pop("x", 0.0), y=fields.pop("y", 0.0))
    return Plants(id=name, name=name.title(), species="ferns", place=place, **fields)


def board(level: int = 2, gap: float = 0.0, **more: Any) -> Lamp:
    place = Place(host="unit", fixing="under", level=level, z=gap)
    size = {"width": 1.0, "depth": 0.3, "height": 0.03, **more}
    return Lamp(id="board", name="Board", form="board", watts=40.0, place=place, **size)


def fit(found: Design) -> FitReadings:
    return read(study(found))


def rows(found: FitReadings, name: str) -> list[Reading]:
    return [row for row in found.rows if row.name == name]


def only(found: FitReadings, name: str) -> Reading:
    (row,) = rows(found, name)
    return row


# Overlaps -----------------------------------------------------------------------------------------


def test_two_parts_in_the_same_space_overlap_by_the_shortest_way_out() -> None:
    found = fit(design(Reservoir(id="a", name="Tank", width=0.4, depth=0.4, height=0.4, fill=0.3),
                       Fan(id="b", name="Fan", width=0.2, depth=0.2, height=0.3, watts=10.0,
                           diameter=0.15, flow=0.05, place=Place(x=0.388, y=0.1))))  # fmt: skip
    row = only(found, "overlap")
    assert row.value == pytest.approx(0.012)
    assert row.state is State.HIGH
    assert row.line.render() == "Tank and Fan overlap by 12 mm"
    assert found.headline == row
    assert found.overlaps[0][:2] == ("a", "b")


def test_an_overlap_within_the_tolerance_of_building_only_likely_does_not_fit() -> None:
    box = {"width": 0.4, "depth": 0.4, "height": 0.4, "fill": 0.3}
    tank, other = (
        Reservoir(id=key, name=key, place=Place(x=x), **box)
        for key, x in (("a", 0.0), ("b", 0.397))
    )
    assert only(fit(design(tank, other)), "overlap").state is State.LIKELY_HIGH
    apart = Reservoir(id="b", name="b", place=Place(x=0.4), **box)
    assert rows(fit(design(tank, apart)), "overlap") == []


def test_what_a_part_carries_may_touch_it() -> None:
    found = design(
        unit(), tray(x=0.0), plants(pots=Pots(height=0.08)),
        Platform(id="stand", name="Stand", width=0.2, depth=0.2, height=0.1,
                 place=Place(host="tray", x=0.6)),
        board(),
    )  # fmt: skip
    assert overlaps(Placement(found)) == ()


def test_a_shelf_unit_is_an_open_frame() -> None:
    """A tank between two shelves meets nothing; one that reaches a post does."""
    tank = Reservoir(
        id="tank", name="Tank", width=0.3, depth=0.3, height=0.3, fill=0.2,
        place=Place(x=0.5, y=-0.1, z=0.3),
    )  # fmt: skip
    inside = design(unit(y=0.0), tank)
    assert overlaps(Placement(inside)) == ()
    moved = tank.model_copy(update={"place": Place(x=0.015, y=-0.1, z=0.3)})
    (found,) = overlaps(Placement(design(unit(), moved)))
    assert (found.a, found.b) == ("unit", "tank")
    # The post is 25 mm square and the tank starts 15 mm into it.
    assert found.depth == pytest.approx(0.010)


def test_what_is_too_tall_for_its_shelf_reaches_into_the_next() -> None:
    """Shelf 2's underside is at 0.78 m, 0.58 m above shelf 1."""
    place = Place(host="unit", level=1)
    tank = Reservoir(
        id="tank", name="Tank", width=0.3, depth=0.3, height=0.59, fill=0.2, place=place
    )
    (found,) = overlaps(Placement(design(unit(), tank)))
    assert found.depth == pytest.approx(0.010)
    fits = tank.model_copy(update={"height": 0.58})
    assert overlaps(Placement(design(unit(), fits))) == ()


def test_a_fan_clamped_to_a_post_may_touch_its_shelf() -> None:
    fan = Fan(
        id="fan", name="Fan", width=0.2, depth=0.2, height=0.3, watts=10.0, diameter=0.15,
        flow=0.05, place=Place(host="unit", fixing="clipped", x=0.0, y=0.0, z=0.7),
    )  # fmt: skip
    assert overlaps(Placement(design(unit(), fan))) == ()


def test_leaves_that_reach_a_lamp_are_told_as_leaves() -> None:
    """Leaf tops at 0.2 + 0.08 + 0.5 = 0.78 m; the lamp's underside at 0.78 - 0.03 = 0.75 m."""
    tall = plants(pots=Pots(height=0.08), leaf_high=0.5)
    found = fit(design(unit(), tray(), tall, board()))
    (item,) = found.overlaps
    assert item.kind == "leaves"
    assert item.depth == pytest.approx(0.03)
    assert only(found, "overlap").line.render() == "The leaves of Ferns reach 30 mm into Board"


def test_leaves_that_reach_the_shelf_above_are_told_as_leaves() -> None:
    tall = plants(pots=Pots(height=0.08), leaf_high=0.515)
    found = fit(design(unit(), tray(), tall))
    (item,) = found.overlaps
    assert (item.a, item.b, item.kind) == ("ferns", "unit", "leaves")
    assert item.depth == pytest.approx(0.015)
    low = plants(pots=Pots(height=0.08), leaf_high=0.5)
    assert overlaps(Placement(design(unit(), tray(), low))) == ()


def test_a_bay_entered_by_a_unit_and_leads_and_feed_lines_that_are_not_solid() -> None:
    bay = Bay(id="bay", name="Bay", width=0.5, depth=0.5, height=1.8, place=Place(x=1.15))
    lead = Lead(id="lead", name="Lead", width=0.3, depth=0.3, height=0.3)
    (found,) = overlaps(Placement(design(unit(), bay, lead)))
    assert (found.a, found.b, found.kind) == ("unit", "bay", "bay")
    assert found.depth == pytest.approx(0.05)


def test_a_thing_in_the_room_that_cuts_through_the_enclosure() -> None:
    stair = Obstacle(id="stair", name="Stair", x=1.9, y=2.2, width=1.0, depth=0.8, height=1.0)
    (found,) = overlaps(Placement(design(enclosure(), where=room(stair))))
    assert (found.a, found.b, found.kind) == ("stair", "box", "enclosure")
    assert found.depth == pytest.approx(0.1)
    beside = stair.model_copy(update={"x": 2.0})
    assert overlaps(Placement(design(enclosure(), where=room(beside)))) == ()


def sixty_parts() -> Design:
    units = [unit("box", x=1.3 * i, id=f"unit{i}") for i in range(3)]
    trays = [
        tray(f"unit{i}", level, name=f"tray{i}{level}") for i in range(3) for level in (1, 2, 3)
    ]
    zones = [plants(t.id, name=f"zone{n}{t.id}", x=0.45 * n) for t in trays for n in range(2)]
    stands = [
        Platform(id=f"stand{n}", name="Stand", width=0.1, depth=0.1, height=0.1,
                 place=Place(host="box", x=0.11 * n, y=0.8))
        for n in range(29)
    ]  # fmt: skip
    big = enclosure(front(width=4.0), y=1.0, width=4.0, depth=2.0)
    return design(big, *units, *trays, *zones, *stands, where=room(width=5.0, depth=4.0))


def test_sixty_parts_take_a_few_milliseconds() -> None:
    placement = Placement(sixty_parts())
    assert len(placement.design.parts) == 60
    assert overlaps(placement) == ()
    best = math.inf
    for _ in range(5):
        start = perf_counter()
        overlaps(placement)
        best = min(best, perf_counter() - start)
    # 1.5 ms on an idle machine; the bound leaves room for a busy one.
    assert best < 0.010


def test_leaves_beside_a_lamp_are_told_by_how_far_they_reach_up() -> None:
    """They pass 10 mm below the lamp's end and reach 30 mm into it: 30 mm is what is told."""
    tall = plants(pots=Pots(height=0.08), leaf_high=0.5, x=0.6)
    lamp_aside = board(width=0.61)
    (item,) = overlaps(Placement(design(unit(), tray(), tall, lamp_aside)))
    assert (item.b, item.kind) == ("board", "leaves")
    assert item.depth == pytest.approx(0.03)


def test_a_thing_of_the_room_wholly_within_the_enclosure_is_built_in() -> None:
    pipe = Obstacle(id="pipe", name="Pipe", x=0.5, y=2.5, width=0.1, depth=0.1, height=1.5)
    assert overlaps(Placement(design(enclosure(), where=room(pipe)))) == ()


# Outside ------------------------------------------------------------------------------------------


def test_a_part_that_sticks_out_of_the_enclosure() -> None:
    found = fit(design(enclosure(), unit("box", x=0.84)))
    row = only(found, "outside")
    assert row.value == pytest.approx(0.04)
    assert row.line.render() == "Unit sticks out of the enclosure by 40 mm"
    assert rows(fit(design(enclosure(), unit("box", x=0.8))), "outside") == []


def test_what_stands_on_a_part_that_sticks_out_is_not_told_again() -> None:
    found = fit(design(enclosure(), unit("box", x=0.84), tray(width=1.2)))
    assert [item.part for item in found.outside] == ["unit"]


def test_parts_in_a_face_or_declared_in_the_room_are_not_outside_the_enclosure() -> None:
    fan = DuctFan(
        id="fan", name="Exhaust", width=0.2, depth=0.2, height=0.2, watts=20.0, diameter=0.1,
        flow=0.02, place=Place(host="box", fixing="face", face="front", x=0.5, z=1.5),
    )  # fmt: skip
    tank = Reservoir(id="tank", name="Tank", width=0.3, depth=0.3, height=0.3, fill=0.2)
    assert fit(design(enclosure(), fan, tank)).outside == ()


def test_parts_outside_the_room_and_above_its_ceiling() -> None:
    found = fit(design(enclosure(x=2.05), unit(height=2.5, id="tower")))
    told = {item.part: item for item in found.outside}
    assert (told["box"].of, told["box"].by) == ("room", pytest.approx(0.05))
    assert (told["tower"].of, told["tower"].by) == ("ceiling", pytest.approx(0.1))


def test_of_two_ways_out_of_the_room_the_longer_is_told() -> None:
    """Past the right wall by 0.05 m and above the ceiling by 0.1 m; then 0.2 m and 0.1 m."""
    tower = unit(height=2.5, x=2.85)
    (high,) = fit(design(tower)).outside
    assert (high.of, high.by) == ("ceiling", pytest.approx(0.1))
    (wide,) = fit(design(unit(height=2.5, x=3.0))).outside
    assert (wide.of, wide.by) == ("room", pytest.approx(0.2))


def test_a_pier_of_the_wall_that_enters_a_part_is_outside_the_room() -> None:
    """A room with a pier 0.3 m wide and 0.2 m deep in its back wall."""
    pier = ((0, 0), (4, 0), (4, 3), (2, 3), (2, 2.8), (1.7, 2.8), (1.7, 3), (0, 3))
    outline = tuple((float(x), float(y)) for x, y in pier)
    assert beyond_outline(outline, Rectangle(1.0, 2.0, 2.5, 2.8)) == 0
    assert beyond_outline(outline, Rectangle(1.0, 2.1, 1.9, 2.9)) == pytest.approx(0.1, abs=0.03)


# Doors --------------------------------------------------------------------------------------------


def test_a_leaf_with_free_floor_opens_square_and_zips_do_not_swing() -> None:
    found = fit(design(enclosure(front("leaf", width=0.8, x=0.5))))
    assert only(found, "door-swing").value == 90.0
    assert only(found, "door-swing").state is State.FINE
    assert fit(design(enclosure(front("zip")))).swings == ()


def test_every_row_about_a_door_says_what_it_is_about() -> None:
    found = fit(design(enclosure(front("leaf", leaves=2), y=1.0)))
    told = [row.where.render() for row in found.rows if row.name in {"door-swing", "walkway"}]
    assert told == [
        "left leaf of the front door opens",
        "right leaf of the front door opens",
        "walk before the front door",
    ]


def test_a_leaf_stops_at_the_angle_where_it_meets_a_thing() -> None:
    """Hinge at x 0.5, leaf 0.8 m; a cabinet 0.4 m ahead that begins beside the hinge.

    The edge of the leaf meets the cabinet's face where r sin a = 0.4, at 30 degrees.
    """
    cabinet = Obstacle(id="c", name="Cabinet", x=0.5, y=1.0, width=1.5, depth=0.6, height=1.5)
    found = fit(design(enclosure(front("leaf", width=0.8, x=0.5)), where=room(cabinet)))
    row = only(found, "door-swing")
    assert row.value == pytest.approx(30.0)
    assert row.state is State.LOW
    assert row.where.render() == "front door opens"
    assert row.line.render() == ("front door opens to 30°: Cabinet is in its way; want 90°")
    # 5 mm nearer: asin(0.395/0.8); the same leaf 5 mm longer: asin(0.4/0.805).
    assert row.low == pytest.approx(math.degrees(math.asin(0.4 / 0.805)))


def test_a_leaf_hinged_at_the_other_side_stops_at_the_same_angle() -> None:
    """The mirror of the above: hinge at x 1.3, a cabinet 0.4 m ahead that ends beside it."""
    cabinet = Obstacle(id="c", name="Cabinet", x=0.0, y=1.0, width=1.3, depth=0.6, height=1.5)
    leaf = front("leaf", width=0.8, x=0.5, hinge="right")
    found = fit(design(enclosure(leaf), where=room(cabinet)))
    assert only(found, "door-swing").value == pytest.approx(30.0)


def test_a_leaf_passes_below_what_hangs_above_it() -> None:
    beam = Obstacle(id="b", name="Beam", x=0.5, y=1.6, z=1.5, width=0.4, depth=0.3, height=0.5)
    above, level_with = (front("leaf", width=0.8, x=0.5, height=h) for h in (1.5, 1.6))
    assert only(fit(design(enclosure(above), where=room(beam))), "door-swing").value == 90.0
    stopped = only(fit(design(enclosure(level_with), where=room(beam))), "door-swing")
    assert stopped.state is State.LOW


def test_a_low_thing_passes_below_a_high_leaf() -> None:
    stool = Obstacle(id="s", name="Stool", x=0.5, y=1.6, width=0.4, depth=0.3, height=0.4)
    low, high = (front("leaf", width=0.8, x=0.5, z=z, height=1.0) for z in (0.0, 0.5))
    assert only(fit(design(enclosure(low), where=room(stool))), "door-swing").state is State.LOW
    assert only(fit(design(enclosure(high), where=room(stool))), "door-swing").state is State.FINE


def test_a_leaf_hinged_at_a_side_wall_opens_against_it() -> None:
    """The enclosure stands in the corner; its leaf is hinged at the wall and lies along it."""
    found = fit(design(enclosure(front("leaf", width=0.8))))
    assert only(found, "door-swing").value == 90.0


def test_a_leaf_near_the_opposite_wall_stops_there() -> None:
    """0.6 m of floor before a leaf of 0.8 m: asin(0.75)."""
    found = fit(design(enclosure(front("leaf", width=0.8, x=0.5), y=0.6)))
    assert only(found, "door-swing").value == pytest.approx(math.degrees(math.asin(0.75)))
    assert found.swings[0].against == ""


def test_two_leaves_share_a_door_and_halve_the_swing() -> None:
    found = fit(design(enclosure(front("leaf", width=1.6, x=0.2, leaves=2), y=0.9, x=1.0)))
    assert [swing.radius for swing in found.swings] == [pytest.approx(0.8)] * 2
    assert {row.value for row in rows(found, "door-swing")} == {90.0}
    assert rows(found, "doors-meet") == []


def hall(offset: float, swing: Any = "in") -> Room:
    """A door of 0.8 m in the front wall, hinged at its far end."""
    door = RoomDoor(id="door", name="Hall door", wall=1, offset=offset, hinge="far", swing=swing)
    return room(door)


def test_a_room_door_that_meets_the_enclosure() -> None:
    """Hinge at (1.8, 0), leaf 0.8 m towards -x; the enclosure's front is at y 0.5.

    It ends at x 1.5, 0.3 m before the hinge: the leaf meets its front face at the edge first,
    r sin a = 0.5, a = 38.7 degrees, since r cos a = 0.62 > 0.3.
    """
    found = fit(design(enclosure(x=0.0, y=0.5, width=1.5), where=hall(1.0)))
    row = only(found, "door-swing")
    assert row.value == pytest.approx(math.degrees(math.asin(0.625)))
    assert row.line.render().startswith("Hall door opens to 38.7°: Box is in its way")
    assert (
        rows(fit(design(enclosure(y=0.5, width=1.5), where=hall(1.0, "out"))), "door-swing") == []
    )


def test_leaves_of_two_doors_that_meet_are_borderline() -> None:
    """Room door hinged at (1.8, 0), 0.8 m; enclosure leaf hinged at (1.2, 1.2), 0.8 m, both free.

    The least distance of the leaf's sweep from the hall door's hinge is from (1.8, 0) to the
    quarter circle about (1.2, 1.2): √(0.6² + 1.2²) - 0.8 = 0.5416 m, so they meet by 0.2584 m.
    """
    leaf = front("leaf", width=0.8, x=1.2)
    found = fit(design(enclosure(leaf, y=1.2), where=hall(1.0)))
    assert {row.value for row in rows(found, "door-swing")} == {90.0}
    row = only(found, "doors-meet")
    assert row.state is State.BORDERLINE
    assert row.value == pytest.approx(0.2584, abs=0.002)
    away = fit(design(enclosure(leaf, y=2.0), where=hall(1.0)))
    assert rows(away, "doors-meet") == []


def test_how_deep_two_leaves_of_different_width_meet() -> None:
    """As above with an enclosure leaf of 0.6 m hinged at (1.2, 1.2).

    The hall door's quarter circle comes as near as √(0.6² + 1.2²) - 0.8 = 0.5416 m to that hinge,
    so it reaches 0.6 - 0.5416 = 0.0584 m into the leaf's own.
    """
    leaf = front("leaf", width=0.6, x=1.2)
    found = fit(design(enclosure(leaf, y=1.2), where=hall(1.0)))
    assert only(found, "doors-meet").value == pytest.approx(0.0584, abs=0.002)


# Walkways -----------------------------------------------------------------------------------------


def test_the_walkway_is_the_clear_floor_less_an_open_leaf() -> None:
    """1.46 m of floor before the door, of which the leaf takes 0.80 m."""
    found = fit(design(enclosure(front("leaf", width=0.8, x=0.5), y=1.46)))
    row = only(found, "walkway")
    assert row.value == pytest.approx(0.66)
    assert row.state is State.LOW
    assert row.line.render() == "0.66 m before the front door, its leaf open; want 0.70 m"
    (tape,) = [item for item in found.clearances if item.name == "walkway"]
    assert tape.a[1] - tape.b[1] == pytest.approx(0.66)
    zipped = fit(design(enclosure(front("zip", width=0.8, x=0.5), y=1.46)))
    assert only(zipped, "walkway").value == pytest.approx(1.46)
    assert only(zipped, "walkway").state is State.FINE


def test_a_narrow_thing_before_the_door_counts_and_one_overhead_does_not() -> None:
    pole = Obstacle(id="p", name="Pole", x=1.0, y=1.0, width=0.05, depth=0.05, height=2.4)
    found = fit(design(enclosure(front()), where=room(pole)))
    assert only(found, "walkway").value == pytest.approx(0.95)
    lintel = pole.model_copy(update={"z": 2.0, "height": 0.4})
    assert only(fit(design(enclosure(front()), where=room(lintel))), "walkway").value == 2.0


def test_a_slanting_wall_is_as_near_as_its_nearest_point_before_the_door() -> None:
    """The front wall runs from (0, 0) to (4, 2): under the door from x 0 to 2 it rises to 1."""
    slanted = Room(outline=((0.0, 0.0), (4.0, 2.0), (4.0, 3.0), (0.0, 3.0)), height=2.4)
    found = fit(design(enclosure(front()), where=slanted))
    assert only(found, "walkway").value == pytest.approx(1.0, abs=0.001)


def test_without_doors_the_widest_open_face_is_walked_up_to() -> None:
    found = fit(design(enclosure(covers=(), x=1.0, y=1.9, depth=1.1)))
    row = only(found, "walkway")
    assert row.value == pytest.approx(1.9)
    assert row.line.render() == "1.90 m before the front face; want 0.70 m"


def test_the_asked_for_walkway_is_the_growers() -> None:
    narrow = design(enclosure(front(), y=1.46), targets=Targets(walkway=1.5))
    assert only(fit(narrow), "walkway").state is State.LOW


# Reach --------------------------------------------------------------------------------------------


def reach_of(found: FitReadings, place: str) -> Reading:
    return next(row for row in rows(found, "reach") if row.place == place)


def test_reach_is_from_the_door_to_the_far_corner_of_the_zone() -> None:
    """The unit stands 0.1 m behind the door; the zone ends at 0.1 + 0.05 + 0.3 m."""
    found = fit(design(
        enclosure(front()), unit("box", x=0.2, y=0.1), tray(y=0.05), plants(),
    ))  # fmt: skip
    row = reach_of(found, "ferns")
    assert row.value == pytest.approx(0.45)
    assert row.state is State.FINE
    assert row.line.render() == "0.45 m to the farthest spot of level 1; want at most 0.60 m"


def test_reach_past_the_side_of_a_narrow_door_runs_aslant() -> None:
    """Door from x 0 to 0.5, too narrow beside the unit to stand inside; the zone's far corner
    is 0.6 m to the right of the door and 0.8 m deep: 1.0 m."""
    found = fit(design(
        enclosure(front(width=0.5)), tray("box", None, width=1.1, depth=0.8),
        plants(width=1.1, depth=0.8),
    ))  # fmt: skip
    assert reach_of(found, "ferns").value == pytest.approx(1.0)
    assert reach_of(found, "ferns").state is State.HIGH


def test_a_second_door_shares_the_work() -> None:
    """A unit 1.0 m deep between a front and a back door: the middle is 0.5 m
    from either, though all four corners of the zone lie at a door. Too full to walk in."""
    deep = enclosure(front(), front(face="back"), y=1.0)
    found = fit(design(deep, tray("box", None, width=2.0, depth=1.0), plants(width=2.0, depth=1.0)))
    assert reach_of(found, "ferns").value == pytest.approx(0.5)


def test_places_askew_are_searched_right_to_a_centimetre() -> None:
    """A front door of 0.9 m and a back door of 0.7 m at opposite ends, searched by the mm."""
    full = (tray("box", None, width=2.0, depth=1.0), plants(width=2.0, depth=1.0))
    doors = (front(width=0.9, x=0.0), front(face="back", width=0.7, x=1.3))
    found = fit(design(enclosure(*doors, y=1.0), *full))
    xs, ys = np.meshgrid(np.arange(0, 2.0005, 0.001), np.arange(0, 1.0005, 0.001))
    from_front = np.hypot(np.maximum(xs - 0.9, 0), ys)
    from_back = np.hypot(np.maximum(1.3 - xs, 0), 1.0 - ys)
    exact = float(np.minimum(from_front, from_back).max())
    assert reach_of(found, "ferns").value == pytest.approx(exact, abs=0.01)


def test_the_farthest_spot_is_found_between_the_spots_of_the_first_search() -> None:
    """Doors at opposite corners; 2.3 × 0.6 m searched by the millimetre: 0.787 m, not 0.755 m."""
    full = (tray("box", None, width=2.3, depth=0.6), plants(width=2.3, depth=0.6))
    doors = (front(width=0.5), front(face="back", width=0.5, x=1.8))
    found = fit(design(enclosure(*doors, y=1.0, width=2.3, depth=0.6), *full))
    xs, ys = np.meshgrid(np.arange(0, 2.3005, 0.001), np.arange(0, 0.6005, 0.001))
    from_front = np.hypot(np.maximum(xs - 0.5, 0), ys)
    from_back = np.hypot(np.maximum(1.8 - xs, 0), 0.6 - ys)
    exact = float(np.minimum(from_front, from_back).max())
    assert exact == pytest.approx(0.787, abs=0.002)
    assert reach_of(found, "ferns").value == pytest.approx(exact, abs=0.003)


@pytest.mark.parametrize(("floor", "stood"), [(0.45, True), (0.44, False)])
def test_a_person_needs_45_cm_of_floor_before_a_door(floor: float, stood: bool) -> None:
    found = fit(design(enclosure(front(), y=floor), unit("box")))
    assert any(stand.face == "front" for stand in found.stands) is stood


@pytest.mark.parametrize(("sill", "inside"), [(0.30, True), (0.31, False)])
def test_a_sill_of_30_cm_is_stepped_over_and_a_higher_one_is_not(sill: float, inside: bool) -> None:
    door = front(width=0.6, z=sill, height=1.6)
    found = fit(design(enclosure(door), unit("box", x=0.4, y=0.5)))
    assert any(stand.face == "" for stand in found.stands) is inside


@pytest.mark.parametrize(("hangs_at", "inside"), [(1.5, True), (1.4, False)])
def test_what_hangs_above_a_stooping_person_takes_no_floor(hangs_at: float, inside: bool) -> None:
    """A tank across the whole floor, its underside at or below 1.5 m."""
    tank = Reservoir(
        id="tank", name="Tank", width=2.0, depth=1.0, height=0.2, fill=0.1,
        place=Place(host="box", z=hangs_at),
    )  # fmt: skip
    found = fit(design(enclosure(front()), tank))
    assert any(stand.face == "" for stand in found.stands) is inside


@pytest.mark.parametrize(("top", "known"), [(1.505, True), (1.495, False)])
def test_a_hand_needs_10_cm_of_the_opening_above_a_level(top: float, known: bool) -> None:
    """Level 3 is at 1.4 m; the door begins at 0.5 m, too high to step in, and ends at ``top``."""
    door = front(z=0.5, height=top - 0.5)
    found = fit(design(enclosure(door), unit("box"), tray(level=3), plants()))
    assert (reach_of(found, "ferns").value is not None) is known


def test_free_floor_inside_is_a_place_to_stand() -> None:
    """1.0 m behind a door of 0.6 m; the unit stands 0.5 m back, so a person fits before it."""
    parts = (unit("box", x=0.4, y=0.5), tray(), plants())
    walk_in = fit(design(enclosure(front(width=0.6)), *parts))
    assert any(stand.face == "" for stand in walk_in.stands)
    # From the strip of 0.5 m before the unit the far edge of the zone is 0.3 m away.
    assert reach_of(walk_in, "ferns").value == pytest.approx(0.3)
    low = fit(design(enclosure(front(width=0.6, height=1.4)), *parts))
    assert all(stand.face == "front" for stand in low.stands)
    # Through the low door: 0.2 m aside (0.4 + 0.4 - 0.6), 0.8 m deep.
    assert reach_of(low, "ferns").value == pytest.approx(math.hypot(0.2, 0.8))


def test_a_strip_too_narrow_for_a_person_is_no_place_to_stand() -> None:
    narrow = fit(design(enclosure(front()), unit("box", x=0.4, y=0.44)))
    exact = fit(design(enclosure(front(width=0.6)), unit("box", x=0.4, y=0.45)))
    beside = [stand for stand in narrow.stands if stand.face == ""]
    # At the unit's right 0.4 m are left and nothing at its left: only the exact one fits.
    assert beside == []
    assert any(stand.face == "" for stand in exact.stands)


def test_a_level_above_the_door_cannot_be_reached_through_it() -> None:
    """The door ends at 1.0 m; level 3 is at 1.4 m."""
    short = front(height=1.0)
    found = fit(design(enclosure(short), unit("box"), tray(level=3), plants()))
    row = reach_of(found, "ferns")
    assert (row.value, row.state) == (None, State.UNKNOWN)
    assert row.line.render() == ("1.40 m up, level 3 is above the opening, which ends at 1.00 m")


def test_a_wall_right_before_the_door_leaves_nowhere_to_stand() -> None:
    shut_in = fit(design(enclosure(front(), y=0.4), unit("box")))
    assert shut_in.stands == ()
    assert {row.value for row in rows(shut_in, "reach")} == {None}


def test_a_unit_in_the_open_room_is_reached_from_its_free_sides() -> None:
    """Against the left wall only three sides are free; 0.5 m deep and 1.2 m wide, with front,
    back and right free the farthest spots lie in the middle, 0.25 m from front and back."""
    free = fit(design(unit(x=0.0, y=1.0)))
    assert {stand.face for stand in free.stands} == {"front", "back", "right"}
    assert [row.value for row in rows(free, "reach")] == pytest.approx([0.25] * 3)
    corner = fit(design(unit(x=0.0, y=2.5)))
    assert {stand.face for stand in corner.stands} == {"front", "right"}
    # In the corner: the back left is 0.5 m from the front.
    assert [row.value for row in rows(corner, "reach")] == pytest.approx([0.5] * 3)


def test_floor_behind_a_barrier_cannot_be_stood_on() -> None:
    floor = Rectangle(0.0, 0.0, 2.0, 2.0)
    barrier = (Rectangle(0.0, 0.9, 1.6, 1.0),)
    door = (Rectangle(0.0, 0.0, 2.0, 0.0),)
    areas = standing_areas(floor, barrier, door, 0.45)
    assert max(area.y1 for area in areas) == pytest.approx(0.9)
    gap = (Rectangle(0.0, 0.9, 1.55, 1.0),)
    through = standing_areas(floor, gap, door, 0.45)
    assert max(area.y1 for area in through) == pytest.approx(2.0)


# Height and carrying in ---------------------------------------------------------------------------


def test_ceiling_gap_and_tilting_up() -> None:
    """LOOK: a frame of 2.1 × 0.6 m needs √(2.1² + 0.6²) = 2.184 m."""
    low = room(height=2.15)
    found = fit(design(enclosure(front(), depth=0.6, height=2.1), where=low))
    assert only(found, "ceiling").value == pytest.approx(0.05)
    tilt = only(found, "tilt")
    assert tilt.value == pytest.approx(2.184, abs=5e-4)
    assert tilt.state is State.HIGH
    assert tilt.line.render() == "Box needs 2.18 m to be tilted up; the ceiling is 2.15 m"
    # It can be put together standing, so the headline is another.
    assert found.headline is not None
    assert found.headline.name == "walkway"


def test_an_enclosure_higher_than_the_room() -> None:
    found = fit(design(enclosure(front(), height=2.5)))
    assert only(found, "ceiling").state is State.LOW
    assert only(found, "ceiling").value == pytest.approx(-0.1)


def test_a_unit_goes_through_the_door_by_its_two_smaller_sides() -> None:
    """0.5 × 1.2 × 1.8 m through 0.8 × 2.0 m: 0.5 of 0.8 and 1.2 of 2.0."""
    found = fit(design(enclosure(front()), unit("box"), where=hall(2.5)))
    row = only(found, "carry")
    assert (row.value, row.want_high, row.state) == (pytest.approx(0.5), 0.8, State.FINE)
    assert row.line.render() == "Unit, 0.50 m × 1.20 m on end; Hall door is 0.80 m × 2.00 m"
    fat = fit(design(enclosure(front()), unit("box", depth=0.9), where=hall(2.5)))
    assert only(fat, "carry").state is State.HIGH
    tall = fit(design(enclosure(front()), unit("box", width=2.05, height=2.3), where=hall(2.5)))
    assert (only(tall, "carry").value, only(tall, "carry").want_high) == (2.05, 2.0)


# The whole ----------------------------------------------------------------------------------------


def test_all_well_gives_the_tightest_clearance_as_headline() -> None:
    found = fit(design(
        enclosure(front(), y=2.0), unit("box", x=0.2, y=0.1), tray(), plants(),
    ))  # fmt: skip
    # Levels 2 and 3 have no plants: their far edge is 0.1 + 0.5 m away, just at 0.60 m.
    assert found.headline is not None
    assert (found.headline.name, found.headline.value) == ("reach", pytest.approx(0.6))
    assert found.headline.state is State.BORDERLINE


def test_nothing_placed_says_so() -> None:
    found = fit(design())
    assert found.headline is None
    assert found.nothing.render() == "nothing placed yet"


def test_inputs_ignore_what_fit_does_not_look_at() -> None:
    first = design(unit(), tray(), board())
    dimmed = first.with_parts({"board": board().model_copy(update={"dimming": 0.5})})
    moved = first.with_parts({"tray": tray(x=0.01)})
    assert inputs(study(first)) == inputs(study(dimmed))
    assert inputs(study(first)) != inputs(study(moved))


def test_every_reading_can_be_told_in_both_systems() -> None:
    cabinet = Obstacle(id="c", name="Cabinet", x=0.5, y=1.0, width=1.5, depth=0.6, height=1.5)
    found = fit(design(
        enclosure(front("leaf", width=0.8, x=0.5)), unit("box", x=0.9), tray(), plants(),
        where=room(cabinet, *hall(1.0).fixtures),
    ))  # fmt: skip
    for row in found.rows:
        assert row.to_json("metric")["line"]
        assert row.to_json("us")["line"]
        assert row.method.source
