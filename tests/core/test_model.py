"""The model refuses what cannot be built, and says so in the house form."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from core.errors import DesignError
from core.model import (
    Change,
    Cover,
    Design,
    Enclosure,
    FaceDoor,
    Fan,
    FeedLine,
    Fogger,
    FromFlux,
    Humidistat,
    Lamp,
    Lining,
    Obstacle,
    Outlet,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Rect,
    Reservoir,
    Room,
    RoomDoor,
    Sheet,
    Shelf,
    ShelfUnit,
    Span,
    Strip,
    Tray,
    build,
    replace,
)
from core.placement import Placement
from core.storage import load

DEMOS = Path(__file__).parents[2] / "resources" / "demos"
FILM = Sheet(material="film", reflectance=0.1, transmittance=0.8)


def enclosure(**changes: Any) -> Enclosure:
    values: dict[str, Any] = {
        "id": "box",
        "name": "Enclosure",
        "width": 2.0,
        "depth": 1.0,
        "height": 2.0,
        "place": Place(x=0.1, y=0.1),
    }
    return build(Enclosure, "Enclosure", {**values, **changes})


def unit(**changes: Any) -> ShelfUnit:
    values: dict[str, Any] = {
        "id": "unit",
        "name": "Shelf unit A",
        "width": 1.2,
        "depth": 0.5,
        "height": 1.8,
        "levels": tuple(Shelf(z=z) for z in (0.2, 0.8, 1.4)),
        "place": Place(host="box", x=0.1, y=0.1),
    }
    return build(ShelfUnit, "Shelf unit A", {**values, **changes})


def tray(**changes: Any) -> Tray:
    values: dict[str, Any] = {
        "id": "tray",
        "name": "Tray 1",
        "width": 1.0,
        "depth": 0.4,
        "height": 0.05,
        "place": Place(host="unit", level=2, x=0.1, y=0.05),
    }
    return build(Tray, "Tray 1", {**values, **changes})


def lamp(part_id: str = "lamp", **changes: Any) -> Lamp:
    values: dict[str, Any] = {
        "id": part_id,
        "name": "Board",
        "form": "board",
        "width": 0.5,
        "depth": 0.3,
        "height": 0.03,
        "watts": 40.0,
        "place": Place(host="unit", fixing="under", level=3, x=0.3, y=0.1),
    }
    return build(Lamp, "Board", {**values, **changes})


def design(*parts: Any, **changes: Any) -> Design:
    room = changes.pop("room", Room.rectangle(4.0, 3.0, 2.4))
    return build(Design, "Design", dict(room=room, parts=tuple(parts), **changes))


FERNS = PlantGroup(key="ferns", name="Ferns")

BAD_VALUES = [
    ({"width": -1.0}, "Enclosure: width = −1.00 m must be above 0; enter more than 0."),
    ({"width": math.nan}, "must be a finite number"),
    ({"width": 500.0}, "width = 500.00 m must not be above 100.00 m"),
    ({"width": "3 m"}, "width = '3 m' cannot be used"),
    ({"colour": "red"}, "colour = 'red' is not known here; leave it out."),
    ({"air_changes_per_hour": -1.0}, "must not be negative; enter 0 or more."),
    (
        {"doors": (FaceDoor(width=2.5, height=1.0),)},
        "must lie within its face of 2.000 × 2.000 m",
    ),
    (
        {"covers": (Cover(face="left", sheet=FILM), Cover(face="left", sheet=FILM))},
        "left face has two covers",
    ),
]


@pytest.mark.parametrize(("changes", "words"), BAD_VALUES, ids=lambda value: str(value)[:40])
def test_a_bad_value_names_thing_value_rule_and_way_out(
    changes: dict[str, Any], words: str
) -> None:
    with pytest.raises(DesignError) as caught:
        enclosure(**changes)
    assert words in str(caught.value)
    assert "Enclosure" in str(caught.value)


def test_shelves_must_rise() -> None:
    with pytest.raises(DesignError, match="must rise by at least"):
        unit(levels=(Shelf(z=0.5), Shelf(z=0.5)))
    with pytest.raises(DesignError, match="must not be above the unit's height"):
        unit(levels=(Shelf(z=1.9),))


def test_a_tray_cannot_be_filled_above_its_rim() -> None:
    with pytest.raises(DesignError, match="fill depth = 60 mm must not be above its rim, 50 mm"):
        tray(fill=0.06)


def test_light_cannot_come_from_nowhere() -> None:
    with pytest.raises(ValueError, match="must not be above 1"):
        Sheet(material="mirror", reflectance=0.7, transmittance=0.4)


def test_the_lowest_leaf_is_not_above_the_highest() -> None:
    with pytest.raises(DesignError, match="swap them"):
        build(
            Plants,
            "Ferns",
            {
                "id": "p",
                "name": "Ferns",
                "species": "ferns",
                "width": 0.1,
                "depth": 0.1,
                "leaf_low": 0.2,
                "leaf_high": 0.1,
            },
        )


def test_a_span_is_ordered() -> None:
    with pytest.raises(ValueError, match="swap them"):
        Span(low=2.0, high=1.0)


BAD_DESIGNS = [
    ([enclosure(), enclosure()], "must be used once"),
    ([enclosure(), enclosure(id="other")], "enclosures = 2 must not be more than 1"),
    ([enclosure(id="room")], "must be used once"),
    ([unit()], "place = 'box' must be a part of the design"),
    ([enclosure(), unit(), tray(place=Place(host="unit", level=4))], "must be one of the 3 levels"),
    ([enclosure(), unit(), lamp(place=Place(host="unit", fixing="under"))], "must name the shelf"),
    ([enclosure(), unit(), lamp(place=Place(host="box", fixing="under"))], "cannot hold a part"),
    ([enclosure(), unit(), lamp(plug=Plug(into="unit"))], "plug = 'unit' must be a"),
    ([enclosure(place=Place(fixing="face", face="left"))], "must have a part to hold it"),
    (
        [
            enclosure(),
            unit(),
            lamp("a", plug=Plug(into="b")),
            lamp("b", plug=Plug(into="a")),
        ],
        "is plugged into itself",
    ),
    (
        [tray(id="a", place=Place(host="b")), tray(id="b", place=Place(host="a"))],
        "rests on itself",
    ),
    (
        [Plants(id="p", name="Moss", species="moss", width=0.1, depth=0.1)],
        "species = 'moss' must be a plant group",
    ),
    (
        [replace(tray(place=Place()), when=(Change(season="spring", absent=True),))],
        "season = 'spring' must be a season",
    ),
    (
        [replace(tray(place=Place()), when=(Change(settings={"id": "x"}),))],
        "setting = 'id' cannot change by season",
    ),
]


@pytest.mark.parametrize(("parts", "words"), BAD_DESIGNS, ids=[words for _, words in BAD_DESIGNS])
def test_a_reference_that_does_not_hold_is_refused(parts: list[Any], words: str) -> None:
    with pytest.raises(DesignError) as caught:
        design(*parts)
    assert words in str(caught.value)


def test_a_strip_may_be_plugged_into_a_strip_because_that_is_a_finding() -> None:
    outlet = Outlet(id="outlet", name="Outlet", wall=1, offset=1.0)
    room = Room.rectangle(4.0, 3.0, 2.4).model_copy(update={"fixtures": (outlet,)})
    first = Strip(id="s1", name="A", width=0.3, depth=0.05, height=0.04, plug=Plug(into="outlet"))
    second = replace(first, id="s2", name="B", plug=Plug(into="s1"))
    assert design(first, second, room=room).part("s2").name == "B"


def test_a_crossing_room_is_refused() -> None:
    with pytest.raises(ValueError, match="without crossing itself"):
        Room(outline=((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)))


def test_a_door_needs_a_wall_that_exists() -> None:
    with pytest.raises(ValueError, match="enter 1 to 4"):
        build(
            Room,
            "Room",
            {
                "outline": Room.rectangle(3, 3, 2).outline,
                "fixtures": (RoomDoor(id="d", name="Door", wall=5, offset=0.1),),
            },
        )


def test_removing_a_host_without_its_load_is_refused() -> None:
    full = design(enclosure(), unit(), tray())
    with pytest.raises(DesignError, match="must be a part of the design"):
        full.with_parts({"unit": None})
    assert full.with_parts({"unit": None, "tray": None}).parts == (full.part("box"),)


def test_carried_finds_everything_through_others() -> None:
    full = design(enclosure(), unit(), tray(), lamp())
    assert {part.id for part in full.carried("box")} == {"unit", "tray", "lamp"}
    assert full.carried("tray") == ()
    assert [part.id for part in full.held["unit"]] == ["tray", "lamp"]


@pytest.mark.parametrize("demo", sorted(DEMOS.glob("*.fern")), ids=lambda path: path.stem)
def test_carried_is_what_has_a_part_among_its_hosts(demo: Path) -> None:
    design = load(demo)
    placement = Placement(design)
    for part in design.parts:
        above = [other for other in design.parts if part.id in placement.hosts(other.id)]
        found = design.carried(part.id)
        assert sorted(found, key=design.parts.index) == above
        steps = [placement.hosts(other.id).index(part.id) for other in found]
        assert steps == sorted(steps)


def test_with_parts_adds_new_ones_at_the_end_and_leaves_the_rest_alone() -> None:
    before = design(enclosure(), unit())
    after = before.with_parts({"tray": tray()})
    assert [part.id for part in after.parts] == ["box", "unit", "tray"]
    assert after.part("box") is before.part("box")


def test_new_ids_are_unused() -> None:
    full = design(enclosure(), unit(), tray(id="tray-1"))
    assert full.new_id("tray") == "tray-2"


def test_a_part_absent_in_summer_takes_what_it_carries_with_it() -> None:
    away = (Change(season="summer", absent=True),)
    full = design(enclosure(), replace(unit(), when=away), tray(), lamp())
    assert {part.id for part in full.at("summer", "day").parts} == {"box"}
    assert full.at("winter", "day").parts == full.parts


def test_a_part_may_be_set_differently_at_night() -> None:
    fan = Fan(
        id="fan",
        name="Fan",
        width=0.1,
        depth=0.1,
        height=0.2,
        watts=10.0,
        diameter=0.15,
        flow=0.03,
        place=Place(host="box"),
        when=(Change(half="night", settings={"speed_setting": 0.5}),),
    )
    full = design(enclosure(), fan)
    night = full.at("winter", "night").part("fan")
    assert isinstance(night, Fan) and night.speed_setting == 0.5
    assert full.at("winter", "day").part("fan") == fan


def test_what_was_controlled_by_an_absent_part_is_let_go() -> None:
    away = (Change(season="summer", absent=True),)
    box = {"width": 0.1, "depth": 0.1, "height": 0.1}
    meter = Humidistat(id="h", name="Humidistat", place=Place(host="box"), when=away, **box)
    fogger = Fogger(
        id="f",
        name="Fogger",
        watts=30.0,
        output=1e-4,
        control="h",
        place=Place(host="box"),
        **box,
    )
    full = design(enclosure(), meter, fogger)
    summer = full.at("summer", "day").part("f")
    assert isinstance(summer, Fogger) and summer.control is None


def test_a_feed_line_goes_with_its_reservoir() -> None:
    away = (Change(season="summer", absent=True),)
    water = Reservoir(id="r", name="Water", width=0.3, depth=0.3, height=0.4, fill=0.3, when=away)
    line = FeedLine(id="line", name="Feed", source="r", target="tray")
    full = design(enclosure(), unit(), tray(), water, line)
    assert {part.id for part in full.at("summer", "day").parts} == {"box", "unit", "tray"}


def test_a_lamp_row_is_as_deep_as_its_tubes_together() -> None:
    row = lamp(form="tube", depth=0.03, count=4, spacing=0.1, output=FromFlux(ppf=40.0))
    assert row.extent == pytest.approx((0.5, 0.33, 0.03))


def test_linings_and_doors_can_cover_part_of_a_face() -> None:
    band = Lining(face="back", sheet=FILM, area=Rect(x=0.0, y=0.5, width=2.0, height=0.4))
    assert enclosure(linings=(band,)).linings[0].area == band.area


def test_obstacles_may_carry_things() -> None:
    table = Obstacle(id="table", name="Table", x=0.0, y=0.0, width=1.0, depth=0.6, height=0.7)
    room = build(Room, "Room", {**dict(Room.rectangle(3, 3, 2.4)), "fixtures": (table,)})
    assert design(tray(place=Place(host="table")), room=room).part("tray")
