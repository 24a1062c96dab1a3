"""What the demos' enclosures are made of: complete, sawable, and within what is bought."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from core.catalogue import load_catalogue
from core.materials.from_design import (
    RollPlan,
    enclosure_materials,
    face_parts,
    frame_plan,
    hung_mass,
)
from core.materials.stock import FRAME_STOCK, LAYERS, SHEET_STOCK
from core.model import Cover, Design, Enclosure, Frame, Lamp, Lining, Place, Rect, Room, Sheet
from core.model.building import replace
from core.storage import load

FOLDER = Path(__file__).parents[3] / "resources" / "demos"
DEMOS = {
    name: load(FOLDER / f"{name}.fern")
    for name in ("starter", "stair-alcove", "garage-bay", "basement-nook")
}
FOUND = {name: enclosure_materials(design) for name, design in DEMOS.items()}
demos = pytest.mark.parametrize("name", DEMOS)


def boxed(**fields: object) -> Enclosure:
    return Enclosure(id="box", name="Box", width=1.9, depth=0.9, height=2.0, **fields)  # type: ignore[arg-type]


def test_an_empty_room_needs_nothing() -> None:
    assert enclosure_materials(load(FOLDER / "empty-room.fern")) is None


def test_every_frame_and_sheet_of_the_catalogue_can_be_bought() -> None:
    catalogue = load_catalogue()
    assert {entry.key for entry in catalogue.of_kind("frame")} == set(FRAME_STOCK)
    assert {entry.key for entry in catalogue.of_kind("sheet")} == set(SHEET_STOCK)
    assert set(LAYERS) <= set(SHEET_STOCK)


@demos
def test_the_cut_list_gives_every_member_of_the_frame(name: str) -> None:
    found = FOUND[name]
    assert found is not None
    frame = found.frame
    assert frame.cuts.pieces == pytest.approx(frame.pieces.lengths)
    assert set(frame.cuts.bought) <= set(frame.stock.lengths)
    assert frame.cuts.proven
    whole = Counter(m.cut for m in frame.graph.members if m not in frame.pieces.spliced)
    for length, count in whole.items():
        assert frame.cuts.pieces[length] >= count
    joined = sum(m.cut for m in frame.pieces.spliced)
    sawn = sum(length * n for length, n in frame.cuts.pieces.items())
    assert sawn == pytest.approx(frame.graph.length, abs=0.003 * len(frame.pieces.spliced) + 1e-3)
    assert (joined > 0) == (frame.pieces.couplers > 0)


@demos
def test_every_cover_and_lining_is_cut_and_fits_on_what_is_bought(name: str) -> None:
    found, box = FOUND[name], DEMOS[name].enclosure
    assert found is not None and box is not None
    faces = [part for plan in found.rolls for part, _ in plan.faces]
    faces += [part for plan in found.boards for part, _ in plan.faces]
    assert (
        Counter(part.use for part in faces)
        == Counter({"cover": len(box.covers), "lining": len(box.linings)}) - Counter()
    )
    for plan in found.rolls:
        assert plan.left_over >= -1e-9
        assert 0 < plan.net_area <= plan.count * plan.roll.width * plan.roll.length


@demos
def test_no_seam_crosses_a_door_and_the_liner_is_one_piece(name: str) -> None:
    found = FOUND[name]
    assert found is not None and found.liner is not None
    sheets = [sheet for plan in found.rolls for _, sheet in plan.faces]
    assert sum(sheet.strips.seams_in_doors for sheet in sheets) == 0
    assert found.liner.in_one_piece


def test_the_frames_of_the_demos() -> None:
    fittings = {name: found.frame.fittings for name, found in FOUND.items() if found}
    assert fittings == {
        "starter": {"corner": 8},
        "stair-alcove": {"corner": 8, "tee": 4},
        "garage-bay": {"corner": 8},
        "basement-nook": {"bracket": 20, "brace clamp": 6, "coupler": 4},
    }


def test_long_pipe_bends_and_short_pipe_does_not() -> None:
    def long_ones(name: str) -> list[float]:
        found = FOUND[name]
        assert found is not None
        return [round(bend.span.length, 2) for bend in found.frame.bends if bend.is_long]

    assert long_ones("starter") == []
    assert long_ones("garage-bay") == [2.51, 2.51]
    assert long_ones("basement-nook") == []


def test_what_hangs_from_the_frame_is_shared_by_the_top_rails() -> None:
    bare = frame_plan(boxed())
    laden = frame_plan(boxed(), hung=10.0)
    more = sum(
        (b.load - a.load) * a.span.length for a, b in zip(bare.bends, laden.bends, strict=True)
    )
    assert more == pytest.approx(10 * 9.80665)
    assert all(b.depth > a.depth for a, b in zip(bare.bends, laden.bends, strict=True))


def test_only_what_hangs_from_the_enclosure_counts() -> None:
    def lamp(key: str, fixing: str) -> Lamp:
        return Lamp(id=key, name=key, form="board", width=0.4, depth=0.2, height=0.05, watts=40.0,
                    mass=3.0, place=Place(host="box", fixing=fixing))  # type: ignore[arg-type]  # fmt: skip

    box = boxed()
    design = Design(
        room=Room.rectangle(4.0, 3.0, 2.4), parts=(box, lamp("a", "hung"), lamp("b", "stands"))
    )
    assert hung_mass(design, box) == 3.0


def test_rolls_of_both_layers_of_a_double_film_are_bought() -> None:
    design = DEMOS["basement-nook"]
    found = FOUND["basement-nook"]
    assert found is not None and design.enclosure is not None
    (double,) = [plan for plan in found.rolls if plan.layers == 2]
    front = 3.2 * 2.1 - 1.6 * 1.95
    assert double.net_area == pytest.approx(2 * (front + 3.2 * 1.55))
    assert sum(double.cuts.pieces.values()) == 2 * 3


def test_a_lining_of_part_of_a_face_is_as_large_as_that_part() -> None:
    foil = Sheet(material="Foil", catalogue="lining-foil")
    area = Rect(x=0.1, y=0.1, width=0.5, height=0.7)
    box = boxed(linings=(Lining(face="back", sheet=foil, area=area),))
    (part,) = face_parts(box)
    assert (part.width, part.height, part.holes, part.use) == (0.5, 0.7, (), "lining")


def test_rigid_sheets_come_on_boards() -> None:
    foam = Sheet(material="Foam", catalogue="board-eps-25")
    box = boxed(covers=(Cover(face="top", sheet=foam), Cover(face="left", sheet=foam)))
    design = Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(box,))
    found = enclosure_materials(design)
    assert found is not None
    assert found.rolls == ()
    (plan,) = found.boards
    assert (plan.board.width, plan.count) == (1.2, 2)
    assert plan.clamps == 2 * (5 + 3) + 2 * (3 + 5)


def test_what_is_not_known_is_an_assumption_that_is_named() -> None:
    own = Sheet(material="Canvas")
    box = boxed(covers=(Cover(face="top", sheet=own),), frame=Frame(material="Bamboo", member=0.03))
    found = enclosure_materials(Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(box,)))
    assert found is not None
    assert len(found.assumptions) == 3
    known = FOUND["starter"]
    assert known is not None
    assert len(known.assumptions) == 1


def test_a_strip_longer_than_a_roll_is_joined_of_equal_parts() -> None:
    film = Sheet(material="Film", catalogue="film-clear")
    box = replace(boxed(covers=(Cover(face="back", sheet=film),)), width=22.0)
    found = enclosure_materials(Design(room=Room.rectangle(30.0, 3.0, 2.4), parts=(box,)))
    assert found is not None
    (plan,) = found.rolls
    assert isinstance(plan, RollPlan)
    assert max(plan.cuts.pieces) <= plan.roll.length
    length = sum(piece * n for piece, n in plan.cuts.pieces.items())
    assert length == pytest.approx(plan.faces[0][1].strips.length * plan.faces[0][1].strips.count)
