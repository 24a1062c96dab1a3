"""Sheets: faces are covered whole, seams keep out of doors, doors get their pieces."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.errors import InputError
from core.geometry import TOUCH
from core.materials.liner import liner_plan
from core.materials.sheets import (
    Hole,
    Piece,
    boards_for,
    clamp_count,
    cover_face,
    door_pieces,
    face_strips,
    seams,
    strip_count,
)
from core.materials.stock import Board, Roll

ROLL = Roll(1.2, 10.0)
DOOR = Hole(0.9, 0.1, 0.8, 1.7, "zip")


@given(st.floats(0.1, 10.0), st.floats(0.3, 4.0), st.floats(0.0, 0.2))
def test_strips_are_as_many_as_the_formula_says_and_reach_the_edge(
    width: float, roll: float, overlap: float
) -> None:
    found, missed = seams(width, roll, overlap)
    assert len(found) + 1 == strip_count(width, roll, overlap)
    assert missed == 0
    assert_covered(width, roll, overlap, found)


@given(
    st.floats(1.0, 6.0), st.floats(0.8, 3.0), st.floats(0.0, 0.1), st.floats(0.0, 1.0),
    st.floats(0.1, 2.0),
)  # fmt: skip
@example(1.0, 0.8125, 1e-9, 1.0, 0.8125)  # a strip that falls a nanometre short of the edge
def test_seams_keep_out_of_a_door_that_a_strip_can_span(
    width: float, roll: float, overlap: float, share: float, door: float
) -> None:
    start = share * max(0.0, width - door)
    found, missed = seams(width, roll, overlap, [(start, start + door)])
    assert_covered(width, roll, overlap, found)
    half = overlap / 2
    inside = [s for s in found if start - half + TOUCH < s < start + door + half - TOUCH]
    assert len(inside) == missed
    if door + 3 * overlap < roll - 1e-6:
        assert missed == 0


def assert_covered(width: float, roll: float, overlap: float, found: tuple[float, ...]) -> None:
    """The first strip starts at the edge; each next one half an overlap before its seam."""
    half = overlap / 2
    edges = [0.0, *(seam - half for seam in found)]
    ends = [*(seam + half for seam in found), width]
    assert list(found) == sorted(found)
    for edge, end in zip(edges, ends, strict=True):
        assert end - edge <= roll + 1e-6


def test_a_face_is_covered_the_way_that_takes_least_of_the_roll() -> None:
    # Along, one strip of 2.15 m; up, two of 1.1 m
    sheet = cover_face(2.15, 1.1, ROLL)
    assert (sheet.strips.direction, sheet.strips.count) == ("along", 1)
    assert sheet.strips.area == pytest.approx(2.15 * 1.2)
    assert sheet.net_area == pytest.approx(2.15 * 1.1)
    assert sheet.left_over == pytest.approx(2.15 * 0.1)


def test_a_door_goes_before_area() -> None:
    # Along, two strips of 1.9 m with a seam across the door; up, two of 2.0 m
    sheet = cover_face(1.9, 2.0, ROLL, overlap=0.05, holes=(DOOR,))
    assert sheet.strips.direction == "up"
    assert sheet.strips.seams_in_doors == 0
    (seam,) = sheet.strips.seams
    assert seam == pytest.approx(0.9 - 0.025)
    along = face_strips(1.9, 2.0, ROLL, "along", holes=(DOOR,))
    assert along.seams_in_doors == 1
    assert cover_face(1.9, 2.0, ROLL).strips.direction == "along"


def test_a_cut_out_may_be_crossed_by_a_seam() -> None:
    hole = Hole(1.0, 0.5, 0.4, 0.3)
    found = face_strips(1.9, 2.0, ROLL, "up", holes=(hole,))
    assert found.seams == face_strips(1.9, 2.0, ROLL, "up").seams
    assert cover_face(1.9, 2.0, ROLL, holes=(hole,)).open_area == pytest.approx(0.12)


def test_a_hem_goes_round_all_edges() -> None:
    found = face_strips(1.0, 2.0, ROLL, "up", hem=0.1)
    assert (found.count, found.length) == (1, 2.2)
    assert face_strips(1.0, 2.0, ROLL, "up", hem=0.11).count == 2


def test_seams_are_told_from_the_faces_edge_and_not_the_hems() -> None:
    found = face_strips(1.9, 2.0, ROLL, "up", overlap=0.05, hem=0.1, holes=(DOOR,))
    assert found.seams == pytest.approx((0.9 - 0.025,))


def test_a_zip_opens_the_sheet_and_a_curtain_and_leaves_take_pieces() -> None:
    assert DOOR.zip_length == pytest.approx(3.4)
    assert not DOOR.is_cut
    assert door_pieces(DOOR) == ()
    curtain = Hole(0.2, 0.0, 1.0, 1.8, "curtain")
    assert door_pieces(curtain) == (Piece(1.2, 1.9000000000000001),)
    leaves = Hole(0.2, 0.0, 1.0, 1.8, "leaf", leaves=2)
    assert door_pieces(leaves, 0.1) == (Piece(0.7, 2.0),) * 2
    sheet = cover_face(1.9, 2.0, ROLL, holes=(curtain,))
    assert sheet.open_area == pytest.approx(1.8)
    assert sheet.zips == 0
    assert sheet.net_area == pytest.approx(1.9 * 2.0 - 1.8)


@pytest.mark.parametrize(
    ("edges", "spacing", "count"),
    [((2.0, 1.0, 2.0, 1.0), 0.5, 12), ((2.0, 1.0, 2.0, 1.0), 0.4, 16), ((0.3,) * 4, 0.4, 4)],
)
def test_clamps_are_no_further_apart_than_their_spacing(
    edges: tuple[float, ...], spacing: float, count: int
) -> None:
    assert clamp_count(edges, spacing) == count


def test_boards_are_laid_the_better_way() -> None:
    assert boards_for(2.4, 1.2, Board(1.2, 2.4)) == 1
    assert boards_for(2.4, 2.4, Board(1.2, 2.4)) == 2
    assert boards_for(1.3, 1.2, Board(1.2, 2.4)) == 1
    assert boards_for(1.3, 2.5, Board(1.2, 2.4)) == 3


@pytest.mark.parametrize(
    ("width", "roll", "overlap", "told"),
    [
        (0.0, 1.2, 0.1, "Face: width = 0 m must be above 0"),
        (1.0, 0.0, 0.1, "Roll: width = 0 m must be above 0"),
        (1.0, 1.2, -0.1, "Strips: overlap = −0.1 m must not be negative"),
        (1.0, 1.2, 1.2, "Strips: overlap = 1.2 m must be less than the roll is wide, 1.2 m"),
    ],
)
def test_what_cannot_be_covered_is_refused(
    width: float, roll: float, overlap: float, told: str
) -> None:
    with pytest.raises(InputError) as caught:
        strip_count(width, roll, overlap)
    assert told in str(caught.value)


def test_a_liner_blank_has_its_lips_folded_up() -> None:
    plan = liner_plan(2.1, 1.2, (0.15,) * 4, [Roll(1.5, 5.0), Roll(3.0, 5.0)])
    assert plan.blank == pytest.approx((2.4, 1.5))
    assert plan.in_one_piece
    assert (plan.roll, plan.length) == (Roll(1.5, 5.0), pytest.approx(2.4))
    assert plan.left_over == pytest.approx(0.0)
    assert plan.corners == ((0.15, 0.15),) * 4


def test_lips_may_differ_and_go_over_the_frame() -> None:
    plan = liner_plan(2.0, 1.0, (0.05, 0.06, 0.03, 0.07), [Roll(3.0, 5.0)], over_frame=0.1)
    assert plan.folds == pytest.approx((0.15, 0.16, 0.13, 0.17))
    assert plan.blank == pytest.approx((2.31, 1.30))
    # Across the roll goes its long side: 1.3 m of 3 m is less than 2.31 m
    assert plan.length == pytest.approx(1.30)
    assert plan.left_over == pytest.approx(1.30 * (3.0 - 2.31))
    assert plan.corners[0] == pytest.approx((0.15, 0.13))


def test_a_liner_wider_than_every_roll_is_told() -> None:
    plan = liner_plan(5.0, 4.5, (0.05,) * 4, [Roll(3.0, 10.0), Roll(4.0, 5.0)])
    assert not plan.in_one_piece
    assert plan.roll.width == 4.0
