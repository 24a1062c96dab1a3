"""Guides and gaps as plain geometry: right to the computed distance, one guide an axis, named."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry import Box
from core.model import Design, Room, replace
from core.placement import Placement
from gui.snapping import Surroundings, union, walls_around
from tests.designs import alcove

DESIGN = alcove()
PLACEMENT = Placement(DESIGN)
BOARD = "board-3-right"


def around(*ids: str) -> Surroundings:
    return Surroundings(PLACEMENT, ids)


def test_the_nearest_neighbour_and_the_shelfs_end_bound_a_board():
    found = around(BOARD)
    below, above = found.gaps(found.start, 0)

    assert below.length == pytest.approx(0.66 - 0.56)
    assert above.length == pytest.approx(1.2 - 1.16)


def test_the_shelf_below_and_the_one_above_bound_it_upwards():
    found = around(BOARD)
    below, above = found.gaps(found.start, 2)

    assert above.length == pytest.approx(0.02)
    assert below.low == pytest.approx(1.04 + 0.06)  # the tray's rim


def test_a_unit_is_bounded_by_the_enclosure_and_what_stands_in_it():
    found = around("unit-1")
    below, above = found.gaps(found.start, 0)

    assert below.length == pytest.approx(0.10)  # the fan clipped to it comes along
    assert above.length == pytest.approx(1.42 - 1.30)


@given(x=st.floats(-0.4, 0.6), y=st.floats(-0.3, 0.3), axis=st.integers(0, 1))
def test_gaps_are_free_of_other_boards_and_end_at_something(x, y, axis):
    found = around(BOARD)
    box = found.start.moved(x, y, 0.0)

    others = [PLACEMENT.box(p.id) for p in DESIGN.parts if p.kind == "lamp" and p.id != BOARD]
    others = [other for other in others if not other.overlap(box)]
    for gap in found.gaps(box, axis):
        if gap is None:
            continue
        assert gap.length >= -1e-9
        lo, hi = list(box.lo), list(box.hi)
        lo[axis], hi[axis] = gap.low, gap.high
        stretch = Box(tuple(lo), tuple(hi))
        assert not any(stretch.overlap(other) for other in others)


@given(length=st.floats(0.0, 1.0), side=st.sampled_from([-1, 1]))
def test_shifting_by_what_a_gap_asks_makes_it_that_long(length, side):
    found = around(BOARD)
    gap = found.gaps(found.start, 0)[(side + 1) // 2]
    shift = gap.shift_for(length)

    assert gap.length - side * shift == pytest.approx(length)
    moved = found.start.moved(shift, 0.0, 0.0)
    edge = moved.lo[0] - gap.low if side < 0 else gap.high - moved.hi[0]
    assert edge == pytest.approx(length)


@given(
    x=st.floats(-0.5, 0.5),
    y=st.floats(-0.3, 0.3),
    z=st.floats(-0.3, 0.3),
    tolerance=st.floats(0.0, 0.1),
)
def test_guides_are_within_reach_one_an_axis_and_lead_to_their_line(x, y, z, tolerance):
    found = around(BOARD)
    box = found.start.moved(x, y, z)

    for axis, guide in found.guides(box, (0, 1, 2), tolerance).items():
        assert guide.axis == axis
        assert abs(guide.shift) <= tolerance + 1e-9
        assert guide.words
        edges = [v + guide.shift for v in (box.lo[axis], box.hi[axis], box.centre[axis])]
        assert min(abs(edge - guide.at) for edge in edges) < 1e-9


@pytest.mark.parametrize(
    ("shift", "axis", "words"),
    [
        ((0.039, 0.0, 0.0), 0, "flush with shelf end"),
        ((0.0, 0.001, 0.0), 1, "centred on the shelf"),
        ((-0.101, 0.0, 0.0), 0, "against Board 3 left"),
        ((-0.03, 0.001, 0.0), 0, "equal gaps"),
    ],
)
def test_guides_name_what_they_hold_to(shift, axis, words):
    found = around(BOARD)

    assert found.guides(found.start.moved(*shift), (axis,), 0.004)[axis].words == words


def test_the_same_drop_as_a_board_of_another_level_is_offered():
    lower = DESIGN.with_parts(
        {
            "board-2-left": replace(
                DESIGN.part("board-2-left"),
                place=replace(DESIGN.part("board-2-left").place, z=0.10),
            )
        }
    )
    found = Surroundings(Placement(lower), [BOARD])
    box = found.start.moved(0.0, 0.0, -0.079)

    guide = found.guides(box, (2,), 0.005)[2]

    assert guide.words == "same drop as Board 2 left"
    assert guide.shift == pytest.approx(-0.001)


def test_several_parts_move_as_one_box():
    found = around("board-3-left", BOARD)

    assert found.start == union([PLACEMENT.box("board-3-left"), PLACEMENT.box(BOARD)])
    below, _ = found.gaps(found.start, 0)
    assert below.length == pytest.approx(0.06)


def test_slanted_walls_bound_at_their_nearest_point():
    corners = ((0.0, 0.0), (4.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    box = Box((0.5, 0.5, 0.0), (1.0, 1.5, 1.0))

    assert list(walls_around(corners, box, 0)) == [(0.0, pytest.approx(2.5))]


def test_what_stands_alone_in_a_room_is_bounded_by_its_walls():
    design = Design(
        room=Room.rectangle(3.0, 2.5, 2.4),
        parts=(replace(DESIGN.part("enclosure-1")),),
    )
    found = Surroundings(Placement(design), ["enclosure-1"])

    lengths = [[g.length for g in found.gaps(found.start, axis)] for axis in (0, 1, 2)]
    assert lengths[0] == pytest.approx([0.15, 3.0 - 2.05])
    assert lengths[1] == pytest.approx([1.25, 2.5 - 2.15])
    assert lengths[2] == pytest.approx([0.0, 0.4])
