"""Fit against closed forms and published widths, heights and clearances (checks of fit)."""

from __future__ import annotations

from typing import Any

import pytest

from core.fit import tilt_height, widest_round_corner
from core.fit.reading import read
from core.model import (
    Cover,
    Design,
    Enclosure,
    Heater,
    Obstacle,
    Place,
    Room,
    RoomDoor,
    Sheet,
    Shelf,
    ShelfUnit,
    Targets,
)
from core.reading import Reading
from core.states import State
from core.study import study

INCH = 0.0254


def test_a_thin_panel_round_a_corner():
    # Closed form (a^⅔ + b^⅔)^1.5
    assert widest_round_corner(0.9, 1.2) == pytest.approx(2.960, abs=5e-4)


def test_a_thick_panel_round_the_same_corner():
    # Least over θ of a/sin θ + b/cos θ - t (tan θ + cot θ)
    assert widest_round_corner(0.9, 1.2, 0.05) == pytest.approx(2.859, abs=5e-4)


def test_the_ceiling_needed_to_tilt_a_unit_up():
    # Pythagoras, √(h² + d²)
    assert tilt_height(2.1, 0.6) == pytest.approx(2.184, abs=5e-4)


def rows(name: str, *parts: Any, fixtures: tuple[Any, ...] = (), **asked: Any) -> list[Reading]:
    """Return the readings of one name in a room of 5 × 4 m."""
    outline = ((0.0, 0.0), (5.0, 0.0), (5.0, 4.0), (0.0, 4.0))
    room = Room(outline=outline, height=2.4, fixtures=fixtures)
    found = read(study(Design(room=room, parts=parts, targets=Targets(**asked))))
    return [row for row in found.rows if row.name == name]


def shelves(*heights: float) -> ShelfUnit:
    levels = tuple(Shelf(z=z) for z in heights)
    return ShelfUnit(
        id="unit", name="Unit", width=1.0, depth=0.4, height=2.0, levels=levels, place=Place(y=3.6)
    )


def box(x: float = 1.5, y: float = 3.0) -> Enclosure:
    return Enclosure(id="box", name="Box", width=2.0, depth=0.9, height=2.0, place=Place(x=x, y=y))


@pytest.mark.parametrize(
    ("inches", "state"), [(14, State.LOW), (16, State.FINE), (47, State.FINE), (49, State.HIGH)]
)
def test_a_wheelchair_reaches_from_15_to_48_inches(inches: float, state: State):
    # 2010 ADA Standards for Accessible Design, section 308
    (row,) = rows("height", shelves(inches * INCH), seated=True)
    assert (row.want_low, row.want_high) == pytest.approx((15 * INCH, 48 * INCH))
    assert row.state is state


def route(gap: float, long: float) -> Reading:
    """A wall of two cupboards across the room with a gap between them, ``long`` through. [m]"""
    left, right = (
        Obstacle(id=key, name=key, x=x, y=1.2, width=width, depth=long, height=2.2)
        for key, x, width in (("a", 0.0, 2.0), ("b", 2.0 + gap, 3.0 - gap))
    )
    door = RoomDoor(id="door", name="Door", wall=1, offset=2.0, width=0.9)
    (row,) = rows("route", box(), fixtures=(door, left, right), seated=True)
    return row


@pytest.mark.parametrize(
    ("gap", "long", "want", "state"),
    [
        (37, 40, 36, State.FINE),  # wide enough all along
        (35, 25, 36, State.LOW),  # too narrow over more than 24 in
        (35, 23, 32, State.FINE),  # 32 in will do over 24 in at most
        (31, 23, 32, State.LOW),
    ],
)
def test_a_wheelchairs_route_is_36_inches_and_32_over_24_at_most(
    gap: float, long: float, want: float, state: State
):
    # 2010 ADA Standards for Accessible Design, 403.5.1; walkway asked for is below both
    row = route(gap * INCH, long * INCH)
    assert row.value == pytest.approx(gap * INCH)
    assert row.want_low == pytest.approx(want * INCH)
    assert row.state is state


@pytest.mark.parametrize(("inches", "state"), [(31.5, State.LOW), (32.5, State.FINE)])
def test_a_wheelchairs_doorway_is_32_inches_wide(inches: float, state: State):
    # 2010 ADA Standards for Accessible Design, 404.2.3
    door = RoomDoor(id="door", name="Door", wall=1, offset=2.0, width=inches * INCH)
    (row,) = rows("door-width", shelves(0.8), fixtures=(door,), seated=True)
    assert row.want_low == pytest.approx(32 * INCH)
    assert row.state is state


def test_none_of_this_is_asked_for_unless_the_grower_asks():
    door = RoomDoor(id="door", name="Door", wall=1, offset=2.0, width=0.7)
    assert rows("door-width", shelves(0.8), fixtures=(door,)) == []
    assert rows("height", shelves(0.2)) == []


@pytest.mark.parametrize(("reach", "state"), [(0.5, State.HIGH), (0.6, State.FINE)])
def test_a_shelf_is_reached_500_to_600_mm_from_one_side(reach: float, state: State):
    # Common practice, no source: the grower asks for either end of it
    deep = ShelfUnit(
        id="unit", name="Unit", width=1.0, depth=0.55, height=2.0, levels=(Shelf(z=0.8),),
        place=Place(y=3.45),
    )  # fmt: skip
    sides = Obstacle(id="a", name="A", x=1.0, y=3.45, width=4.0, depth=0.55, height=2.2)
    (row,) = rows("reach", deep, fixtures=(sides,), reach=reach)
    assert row.value == pytest.approx(0.55)
    assert row.state is state


@pytest.mark.parametrize(("gap", "state"), [(0.90, State.CAUTION), (0.93, State.FINE)])
def test_a_heater_stands_3_feet_from_covers(gap: float, state: State):
    # Fire code 605.10 (secondary copy): 914 mm from combustibles
    film = Sheet(material="Clear film")
    covered = box().model_copy(update={"covers": (Cover(face="front", sheet=film),)})
    heater = Heater(
        id="heater", name="Heater", width=0.3, depth=0.2, height=0.4, watts=500.0,
        place=Place(x=2.0, y=3.0 - 0.2 - gap),
    )  # fmt: skip
    (row,) = rows("heater", covered, heater)
    assert row.value == pytest.approx(gap)
    assert row.want_low == pytest.approx(3 * 12 * INCH, abs=5e-4)
    assert row.state is state


def panel(**fields: Any) -> Obstacle:
    usual = {"x": 0.0, "y": 1.0, "z": 1.2, "width": 0.1, "depth": 0.4, "height": 0.6}
    return Obstacle(id="panel", name="Panel", worked_at="right", **{**usual, **fields})


@pytest.mark.parametrize(
    ("x", "y", "state"),
    [
        (0.1 + 35 * INCH, 1.0, State.LOW),  # 35 in before it
        (0.1 + 37 * INCH, 1.0, State.FINE),  # 37 in before it
        (0.1, 1.0 + 31 * INCH, State.FINE),  # 30 in beside each other are clear
        (0.1, 1.0 + 29 * INCH, State.FINE),  # so they are when counted from the other side
    ],
)
def test_an_electrical_panel_keeps_30_by_36_inches_clear(x: float, y: float, state: State):
    # NEC 110.26 (from memory)
    crate = Obstacle(id="crate", name="Crate", x=x, y=y, width=0.5, depth=0.5, height=0.5)
    (row,) = rows("kept-clear", shelves(0.8), fixtures=(panel(), crate))
    assert row.want_low == pytest.approx(36 * INCH)
    assert panel().clear_width == pytest.approx(30 * INCH)
    assert row.state is state


def test_a_panel_between_two_things_lacks_its_30_inches():
    # NEC 110.26 (from memory): 28 in are clear about it
    low, high = (
        Obstacle(id=key, name=key, x=0.1, y=y, width=0.5, depth=0.5, height=0.5)
        for key, y in (("a", 1.2 - 14 * INCH - 0.5), ("b", 1.2 + 14 * INCH))
    )
    (row,) = rows("kept-clear", shelves(0.8), fixtures=(panel(), low, high))
    assert row.value == pytest.approx(0.0)
    assert row.state is State.LOW
