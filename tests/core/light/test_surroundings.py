"""What a design's light meets: pieces of its sheets, panes of its parts, and where light ends."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from core.geometry import Box
from core.light.from_design import as_obstacles, lamp_sources, shades_of
from core.light.patches import cut_panes
from core.light.shade import passing
from core.light.sheets import Make, enclosure_pieces, unit_pieces
from core.light.surroundings import surroundings
from core.light.survey import Survey, survey
from core.model import (
    Cover,
    Design,
    Enclosure,
    FromFlux,
    Lamp,
    Lining,
    Place,
    Rect,
    Room,
    Sheet,
    Shelf,
    ShelfUnit,
    UnitLining,
)
from core.placement import Placement
from core.power.tree import PlugTree
from core.storage import load

DEMOS = Path(__file__).parents[3] / "resources" / "demos"
WHITE = Sheet(material="White film", reflectance=0.85, transmittance=0.0)
CLEAR = Sheet(material="Clear film", reflectance=0.08, transmittance=0.88)
FACES: Any = ("left", "right", "front", "back", "bottom", "top")


def box(sheet: Sheet = WHITE, **fields: Any) -> Enclosure:
    """An enclosure of 2 × 1 × 2 m with one sheet on all faces."""
    covers = tuple(Cover(face=face, sheet=sheet) for face in FACES)
    return Enclosure(
        id="box", name="Box", width=2.0, depth=1.0, height=2.0, place=Place(x=1.0, y=1.0),
        **{"covers": covers, **fields},
    )  # fmt: skip


def board(host: str = "box", **fields: Any) -> Lamp:
    place = Place(host=host, fixing="hung", x=0.7, y=0.35, z=0.4)
    return Lamp(
        id="lamp", name="Lamp", form="board", width=0.6, depth=0.3, height=0.02, watts=50.0,
        output=FromFlux(ppf=100.0), **{"place": place, **fields},
    )  # fmt: skip


def design(*parts: Any) -> Design:
    return Design(room=Room.rectangle(4.0, 3.0, 2.5), parts=parts)


def read(made: Design, coarse: bool = True) -> Survey:
    return survey(Placement(made), PlugTree(made), coarse=coarse)


def area(piece: Any) -> float:
    a, b = sorted(piece.box.size)[1:]
    return float(a * b)


def test_two_sheets_on_each_other_send_light_to_and_fro_between_them() -> None:
    """Series of plates: τ = τ1 τ2 / (1 − ρ1 ρ2), ρ = ρ1 + τ1² ρ2 / (1 − ρ1 ρ2) (Stokes, 1862)."""
    both = Make(0.08, 0.08, 0.88).inside(Make(0.08, 0.08, 0.88))
    assert both.transmittance == pytest.approx(0.88**2 / (1 - 0.08**2))
    assert both.inner == pytest.approx(0.08 + 0.88**2 * 0.08 / (1 - 0.08**2))
    assert both.inner + both.transmittance < 1


def test_a_lining_on_a_band_of_a_face_counts_only_there() -> None:
    band = Lining(face="back", sheet=WHITE, area=Rect(x=0.5, y=0.2, width=1.0, height=0.5))
    found = enclosure_pieces(Placement(design(box(CLEAR, linings=(band,)))))
    back = [piece for piece in found if piece.face == "back"]
    lined = [piece for piece in back if piece.make.inner > 0.8]
    assert [area(piece) for piece in lined] == pytest.approx([0.5])
    assert lined[0].box.lo[0] == pytest.approx(1.5) and lined[0].box.lo[2] == pytest.approx(0.2)
    assert sum(map(area, back)) == pytest.approx(4.0)
    assert lined[0].make.transmittance == 0


def test_a_cut_out_is_open() -> None:
    holed = Cover(face="front", sheet=WHITE, cutouts=(Rect(x=0.1, y=0.1, width=0.5, height=0.4),))
    made = design(box(covers=(holed,)))
    front = [piece for piece in enclosure_pieces(Placement(made)) if piece.face == "front"]
    assert sum(map(area, front)) == pytest.approx(4.0 - 0.2)


@pytest.mark.parametrize("turn", range(4))
def test_a_lining_on_part_of_a_units_side_turns_with_it(turn: int) -> None:
    unit = ShelfUnit(
        id="unit", name="Unit", width=1.2, depth=0.5, height=1.5, levels=(Shelf(z=0.3),),
        linings=(UnitLining(side="left", sheet=WHITE, area=Rect(x=0, y=0.3, width=0.2, height=1)),),
        place=Place(x=1.0, y=1.0, turn=turn),
    )  # fmt: skip
    (piece,) = unit_pieces(Placement(design(unit)))
    assert area(piece) == pytest.approx(0.2)
    assert piece.face == ("left", "front", "right", "back")[turn]
    # The left side's front end: next to the unit's front left corner, wherever that has turned to.
    whole = Placement(design(unit)).box("unit")
    x, y = ((0, 0), (1, 0), (1, 1), (0, 1))[turn]
    corner = (whole.hi if x else whole.lo)[0], (whole.hi if y else whole.lo)[1]
    near = [min(abs(piece.box.lo[a] - corner[a]), abs(piece.box.hi[a] - corner[a])) for a in (0, 1)]
    assert max(near) < 0.005


def test_whatever_stops_light_has_patches() -> None:
    """Every obstacle of the exchange is a pane; only what looks out of the scene has no side."""
    for name in ("garage-bay", "basement-nook"):
        placement = Placement(load(DEMOS / f"{name}.fern"))
        panes = surroundings(placement, lamp_sources(placement)).panes
        patches = cut_panes(panes, (), 0.5)
        seen = sum((pane.front is not None) + (pane.back is not None) for pane in panes)
        assert 0.95 * seen < patches.sides <= seen
        assert (patches.reflectance + patches.transmittance <= 1 + 1e-12).all()


def test_light_leaves_by_clear_covers_and_not_by_white_ones() -> None:
    shut, clear = read(design(box(), board())), read(design(box(CLEAR), board()))
    assert shut.lighting.lost is not None and clear.lighting.lost is not None
    assert shut.lighting.lost[0] == pytest.approx(0.0, abs=1e-6)
    assert 0.4 < clear.lighting.lost[0] < 0.95


def test_lamps_outside_an_enclosure_light_the_room() -> None:
    found = read(design(board("room", place=Place(fixing="hung", x=1.0, y=1.0, z=0.3))))
    assert found.lighting.lost is not None
    assert found.lighting.lost[0] == pytest.approx(1.0, abs=0.02)
    assert "room" in found.assumptions[0].render()


def test_a_large_room_stays_bounded_and_says_so() -> None:
    made = Design(
        room=Room.rectangle(40.0, 30.0, 6.0), parts=(box(CLEAR), board())
    )  # fmt: skip
    placement = Placement(made)
    panes = surroundings(placement, lamp_sources(placement), coarse=True).panes
    assert cut_panes(panes, (), 0.1, 900).count < 1100


def test_a_tilted_lamps_body_shades_as_a_tilted_plate() -> None:
    """Tilted by 40° about its long axis: rays that an upright box of its size would stop pass."""
    placement = Placement(design(board("room", tilt=40.0)))
    (shade,) = shades_of(placement)
    assert shade.panel is not None
    found, middle = as_obstacles([shade]), np.array(shade.box.lo) / 2 + np.array(shade.box.hi) / 2
    (source,) = lamp_sources(placement)[0].sources
    ahead = np.array(source.direction)
    across = passing(found, 0, middle - ahead, 2 * ahead)
    along = np.cross(source.axes()[0], ahead)
    beside = passing(found, 0, middle - along + 0.02 * ahead, 2 * along)
    assert across == 0 and beside == 1
    upright = Box(*(tuple(end) for end in (shade.box.lo, shade.box.hi)))
    assert upright.size[2] == pytest.approx(0.3 * np.sin(np.radians(40.0)))
