"""Frames: members meet in the right fittings and are cut so that the frame has its size."""

from __future__ import annotations

import math
from collections import Counter
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.materials.frame import FrameGraph, Member, fitting_kind, joined, pieces_of
from core.materials.frame_lines import frame_lines
from core.materials.sag import own_load, sag
from core.materials.stock import Joint
from core.model import Enclosure, FaceDoor, Frame

JOINTS: tuple[Joint, ...] = ("socket", "plug", "butt")


def box(*doors: FaceDoor, size: tuple[float, float, float] = (2.0, 1.0, 2.0), **frame: Any) -> Any:
    width, depth, height = size
    return Enclosure(
        id="box", name="Box", width=width, depth=depth, height=height, doors=doors,
        frame=Frame(**{"member": 0.04, **frame}),
    )  # fmt: skip


def graph(enclosure: Enclosure, joint: Joint = "socket") -> FrameGraph:
    return joined(frame_lines(enclosure), enclosure.frame.member, joint)


def cuts(found: FrameGraph) -> Counter[tuple[str, float]]:
    return Counter((member.role, member.cut) for member in found.members)


def leaf(x: float, width: float, z: float = 0.0, height: float = 2.0, **more: Any) -> FaceDoor:
    return FaceDoor(style="leaf", x=x, z=z, width=width, height=height, **more)


def test_a_bare_box_has_twelve_members_and_eight_corners() -> None:
    found = graph(box(), "plug")
    assert found.kinds == {"corner": 8}
    assert cuts(found) == {("upright", 1.92): 4, ("rail", 1.92): 4, ("rail", 0.92): 4}
    assert found.brackets == 0


def test_socket_fittings_take_a_little_more_than_half_a_pipe_at_each_end() -> None:
    # The middle of the pipe across is half a member off, the stop 1 mm further
    assert cuts(graph(box())) == {("upright", 1.918): 4, ("rail", 1.918): 4, ("rail", 0.918): 4}


def test_butted_uprights_go_to_the_floor_and_rails_between_them() -> None:
    found = graph(box(), "butt")
    assert cuts(found) == {("upright", 2.0): 4, ("rail", 1.92): 4, ("rail", 0.92): 4}
    assert found.brackets == 16


def test_an_extra_upright_goes_to_the_middle_of_a_long_side_and_meets_tees() -> None:
    found = graph(box(extra_uprights=1))
    assert found.kinds == {"corner": 8, "tee": 2}
    tees = [fitting.at for fitting in found.fittings if fitting.kind == "tee"]
    assert tees == [(1.0, 0.98, 0.02), (1.0, 0.98, 1.98)]
    assert cuts(found)["rail", 0.938] == 4
    # Butted, the rails pass
    assert cuts(graph(box(extra_uprights=1), "butt"))["rail", 1.92] == 4


def test_extra_uprights_go_round_in_even_steps() -> None:
    lines = frame_lines(box(extra_uprights=4, size=(3.0, 1.0, 2.0)))
    extra = [line.start for line in lines if line.role == "upright"][4:]
    along = sorted((y, round(x, 3)) for x, y, _ in extra)
    assert along == [(0.02, 1.007), (0.02, 1.993), (0.98, 1.007), (0.98, 1.993)]


def test_an_extra_upright_stands_beside_a_door() -> None:
    door = FaceDoor(style="curtain", x=0.6, z=0.0, width=0.9, height=2.0)
    lines = frame_lines(box(door, extra_uprights=2))
    front = [line.start[0] for line in lines if line.role == "upright" and line.start[1] < 0.5]
    assert front == pytest.approx([0.02, 1.98, 0.58])


@given(st.lists(st.tuples(st.floats(0.0, 1.7), st.floats(0.1, 0.9)), max_size=3), st.integers(1, 8))
def test_no_extra_upright_stands_in_a_door(spots: list[tuple[float, float]], extra: int) -> None:
    doors = [
        FaceDoor(style="curtain", x=x, z=0.0, width=min(width, 2.0 - x), height=2.0)
        for x, width in spots
    ]
    lines = frame_lines(box(*doors, extra_uprights=extra))
    front = [line.start[0] for line in lines if line.role == "upright" and line.start[1] == 0.02]
    inner = [x for x in front if 0.02 < x < 1.98]
    assert not [(x, d) for x in inner for d in doors if d.x - 0.02 + 1e-6 < x < d.x + d.width]
    assert sum(line.role == "upright" for line in lines) == 4 + extra


def test_uprights_for_which_there_is_no_room_are_not_drawn() -> None:
    lines = frame_lines(box(extra_uprights=40, size=(0.3, 0.3, 0.5)))
    uprights = [line.start for line in lines if line.role == "upright"]
    assert len(uprights) < 44
    assert len(set(uprights)) == len(uprights)


def test_a_leaf_door_in_the_middle_gets_a_frame() -> None:
    found = graph(box(leaf(0.5, 0.8, z=0.3, height=1.2)), "plug")
    assert Counter(m.role for m in found.members if m.role not in ("upright", "rail")) == {
        "jamb": 6, "header": 1, "sill": 1,
    }  # fmt: skip
    assert found.kinds == {"corner": 8, "tee": 8}
    assert cuts(found)["header", 0.8] == cuts(found)["sill", 0.8] == 1


def test_a_leaf_door_is_hung_on_uprights_and_rails_that_are_near() -> None:
    found = graph(box(leaf(0.05, 1.9, z=0.05, height=1.9, leaves=2)))
    assert found.kinds == {"corner": 8}


def test_doors_side_by_side_share_a_jamb() -> None:
    lines = frame_lines(box(leaf(0.06, 0.92), leaf(1.02, 0.92)))
    assert [line.start[0] for line in lines if line.role == "jamb"] == pytest.approx([1.0])


def test_a_curtain_hangs_from_a_header_and_a_zip_needs_none() -> None:
    door: dict[str, Any] = {"x": 0.4, "z": 0.0, "width": 1.0, "height": 1.5}
    curtain = graph(box(FaceDoor(style="curtain", **door)), "plug")
    assert cuts(curtain)["header", 1.92] == 1
    assert graph(box(FaceDoor(style="zip", **door))).kinds == {"corner": 8}


def test_braces_are_diagonals_where_no_door_is() -> None:
    found = graph(box(braced=True))
    assert found.kinds == {"corner": 8, "brace clamp": 6}
    assert cuts(found)["brace", round(math.hypot(1.96, 1.96), 4)] == 1
    assert cuts(found)["brace", round(math.hypot(0.96, 1.96), 4)] == 2
    side_door = leaf(0.2, 0.6, face="left", height=1.9)
    roles = Counter(member.role for member in graph(box(side_door, braced=True)).members)
    assert roles["brace"] == 2


@pytest.mark.parametrize(
    ("ways", "kind"),
    [
        ([(2, 1)], "end"),
        ([(2, 1), (2, -1)], "straight"),
        ([(0, 1), (2, -1)], "elbow"),
        ([(0, 1), (0, -1), (2, 1)], "tee"),
        ([(0, 1), (1, 1), (2, 1)], "corner"),
        ([(0, 1), (0, -1), (2, 1), (2, -1)], "cross"),
        ([(0, 1), (0, -1), (1, 1), (2, 1)], "side tee"),
        ([(0, 1), (0, -1), (1, 1), (1, -1), (2, 1)], "five-way"),
        ([(0, 1), (0, -1), (1, 1), (1, -1), (2, 1), (2, -1)], "six-way"),
    ],
)
def test_a_fitting_is_known_by_its_ways(ways: list[tuple[int, int]], kind: str) -> None:
    assert fitting_kind(ways) == kind


@given(
    st.tuples(*[st.floats(0.5, 4.0)] * 3), st.integers(0, 6), st.booleans(), st.sampled_from(JOINTS)
)
@settings(max_examples=60)
def test_every_end_is_held_and_members_add_up_to_the_frames_size(
    size: tuple[float, float, float], extra: int, braced: bool, joint: Joint
) -> None:
    enclosure = box(size=size, extra_uprights=extra, braced=braced)
    found = graph(enclosure, joint)
    ends = sum(len(fitting.ways) for fitting in found.fittings)
    braces = sum(member.role == "brace" for member in found.members)
    if joint != "butt":
        assert ends == 2 * (len(found.members) - braces)
    assert found.kinds["corner"] == 8
    assert found.kinds.get("tee", 0) == 2 * extra
    # Back to the size: what each end is shorter than its node, and half a corner at both ends
    short = 0.021 if joint == "socket" else 0.02
    bottom = [m for m in found.members if m.role == "rail" and m.start[1:] == (0.02, 0.02)]
    front = [m for m in bottom if m.end[1:] == (0.02, 0.02)]
    total = sum(m.cut + 2 * short for m in front) + 0.04
    assert total == pytest.approx(size[0], abs=1e-4 * len(front))


def test_spans_are_between_what_rises_to_them() -> None:
    found = graph(box(extra_uprights=1))
    lengths = sorted(round(span.length, 3) for span in found.spans)
    assert lengths == [0.96, 0.96, 0.98, 0.98, 1.96]
    assert all(span.start[2] > 1.9 for span in found.spans)


def member(cut: float) -> Member:
    return Member("rail", (0.0, 0.0, 0.0), (cut, 0.0, 0.0), cut)


def test_members_longer_than_a_bar_are_joined_of_equal_parts() -> None:
    found = pieces_of([member(2.5), member(4.1), member(1.0)], 2.0, "butt")
    assert found.lengths == {1.3667: 3, 1.25: 2, 1.0: 1}
    assert found.couplers == 3
    assert [one.cut for one in found.spliced] == [2.5, 4.1]


def test_the_ridge_of_a_coupler_is_taken_off() -> None:
    found = pieces_of([member(2.503)], 2.0, "socket")
    assert found.lengths == {1.25: 2}


def test_sag_grows_with_the_fourth_power_of_the_span() -> None:
    assert sag(5.0, 2.0, 3e9, 1e-8) == pytest.approx(16 * sag(5.0, 1.0, 3e9, 1e-8))
    assert sag(0.0, 2.0, 3e9, 1e-8) == 0.0
    # 1 cm² of water density weighs 0.1 kg/m
    assert own_load(1e-4, 1000) == pytest.approx(0.980665)


@pytest.mark.parametrize(
    ("numbers", "told"),
    [
        ((-1.0, 1.0, 1.0, 1.0), "Member: load = −1 N/m must not be negative"),
        ((1.0, 0.0, 1.0, 1.0), "Member: span = 0 m must be above 0"),
        ((1.0, 1.0, 0.0, 1.0), "Member: modulus of elasticity = 0 Pa must be above 0"),
        ((1.0, 1.0, 1.0, 0.0), "Member: second moment of area = 0 m⁴ must be above 0"),
    ],
)
def test_what_cannot_bend_is_refused(numbers: tuple[float, ...], told: str) -> None:
    with pytest.raises(InputError) as caught:
        sag(*numbers)
    assert told in str(caught.value)
