"""Working within the enclosure and what goes in first, against lengths worked out by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fit.assembly import close_covers, goes_first
from core.fit.inside import grasp
from core.fit.reading import FitReadings, read
from core.geometry import Rectangle
from core.model import (
    Cover,
    Design,
    Enclosure,
    FaceDoor,
    Liner,
    Place,
    Room,
    Sheet,
    Shelf,
    ShelfUnit,
)
from core.placement import Placement
from core.study import study

FILM = Sheet(material="Clear film")
UPRIGHT = ("left", "right", "front", "back")

halves = st.floats(0.05, 0.8)
offsets = st.floats(-1.5, 1.5)


@given(halves, halves, offsets, offsets, halves, halves)
def test_both_hands_reach_as_near_as_a_search_of_every_place_to_stand(
    half_w: float, half_d: float, x: float, y: float, w: float, d: float
) -> None:
    tray = Rectangle(-half_w, -half_d, half_w, half_d)
    area = Rectangle(x - w, y - d, x + w, y + d)
    xs, ys = np.meshgrid(np.linspace(area.x0, area.x1, 61), np.linspace(area.y0, area.y1, 61))
    sides = np.maximum(np.hypot(xs - half_w, ys), np.hypot(xs + half_w, ys)).min()
    ends = np.maximum(np.hypot(xs, ys - half_d), np.hypot(xs, ys + half_d)).min()
    assert grasp(tray, (area,)) == pytest.approx(min(sides, ends), abs=0.03)
    assert grasp(tray, (area,)) <= min(sides, ends) + 1e-9


def test_of_two_places_to_stand_the_nearer_counts() -> None:
    tray = Rectangle(0.0, 0.0, 0.6, 0.4)
    front = Rectangle(0.0, -1.0, 0.6, -0.1)  # its edge 0.3 m from the middle
    assert grasp(tray, (front, Rectangle(5, 5, 6, 6))) == pytest.approx(math.hypot(0.3, 0.3))


def walked_in(**fields: Any) -> FitReadings:
    """A box of 2.6 × 1.6 × 2 m with a curtain one walks in by, and a unit along its back."""
    door = FaceDoor(style="curtain", x=0.5, z=fields.pop("sill", 0.05), width=1.0, height=1.6)
    covers = tuple(Cover(face=face, sheet=FILM) for face in UPRIGHT)  # type: ignore[arg-type]
    box = Enclosure(
        id="box", name="Box", width=2.6, depth=1.6, height=2.0, covers=covers, doors=(door,),
        place=Place(x=0.2, y=1.2), **fields,
    )  # fmt: skip
    unit = ShelfUnit(
        id="unit", name="Unit", width=1.2, depth=0.5, height=1.6, levels=(Shelf(z=0.8),),
        place=Place(host="box", x=0.1, y=1.05),
    )  # fmt: skip
    return read(study(Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(box, unit))))


def only(found: FitReadings, name: str) -> float | None:
    (row,) = (row for row in found.rows if row.name == name)
    return row.value


def test_the_aisle_goes_from_the_units_long_side_to_the_next_cover() -> None:
    assert only(walked_in(), "aisle") == pytest.approx(1.05)


def test_head_room_ends_at_the_top_and_the_sill_at_the_doors_lower_edge() -> None:
    assert only(walked_in(), "head-room") == pytest.approx(2.0)
    assert only(walked_in(), "sill") == pytest.approx(0.05)


def test_a_liners_lip_higher_than_the_door_is_stepped_over_too() -> None:
    assert only(walked_in(liner=Liner(lip_front=0.15)), "sill") == pytest.approx(0.15)


def test_a_sill_too_high_to_step_over_leaves_nobody_inside() -> None:
    assert [row for row in walked_in(sill=0.4).rows if row.name in ("aisle", "sill")] == []


def boxed(door: FaceDoor | None, *faces: str, height: float = 1.8, x: float = 0.2) -> Placement:
    """A unit of 1.2 × 0.5 m in a box of 2 × 1 × 2 m, ``x`` from the left wall, at the back."""
    box = Enclosure(
        id="box", name="Box", width=2.0, depth=1.0, height=2.0, doors=(door,) if door else (),
        covers=tuple(Cover(face=face, sheet=FILM) for face in faces),  # type: ignore[arg-type]
        place=Place(x=x, y=2.0),
    )  # fmt: skip
    unit = ShelfUnit(
        id="unit", name="Unit", width=1.2, depth=0.5, height=height, levels=(Shelf(z=0.8),),
        place=Place(host="box", x=0.2, y=0.2),
    )  # fmt: skip
    return Placement(Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(box, unit)))


def test_a_unit_goes_through_an_open_face_or_a_door_high_enough() -> None:
    assert goes_first(boxed(None, "left", "right", "back", "top")) == ()
    door = FaceDoor(x=0.1, z=0.05, width=0.6, height=1.9)
    assert goes_first(boxed(door, *UPRIGHT, "top")) == ()


def test_without_any_opening_everything_rigid_goes_in_first() -> None:
    (found,) = goes_first(boxed(None, *UPRIGHT, "top"))
    assert (found.part, found.face, found.limit) == ("unit", "", 0.0)


def test_a_unit_lying_goes_through_a_low_door_only_where_it_can_be_tilted_up_inside() -> None:
    """0.5 × 1.2 m at a door of 0.6 × 1.3 m; √(1.8² + 0.5²) = 1.868 m, √(1.95² + 0.5²) = 2.013 m."""
    low = FaceDoor(x=0.1, z=0.05, width=0.6, height=1.3)
    assert goes_first(boxed(low, *UPRIGHT, "top")) == ()
    (found,) = goes_first(boxed(low, *UPRIGHT, "top", height=1.95))
    assert (found.side, found.limit) == (1.95, 1.3)


def test_a_unit_comes_in_from_above_where_the_top_is_open() -> None:
    assert goes_first(boxed(None, *UPRIGHT)) == ()


def test_covers_that_face_a_wall_closer_than_a_person_are_told() -> None:
    found = {close.face: close.left for close in close_covers(boxed(None, *UPRIGHT))}
    assert found == {"left": pytest.approx(0.2), "back": pytest.approx(0.0)}
    assert {c.face for c in close_covers(boxed(None, *UPRIGHT, x=0.5))} == {"back"}
