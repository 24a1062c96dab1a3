"""Lamps and shades of a design as the engine gets them: rows, turns, casings, trays, linings."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from core.light.from_design import lamp_sources, shades_of
from core.light.reading import read
from core.light.sheets import turned_face
from core.model import (
    Cover,
    Design,
    Enclosure,
    FromFlux,
    Lamp,
    Place,
    PlantGroup,
    Plants,
    Room,
    Sheet,
    Shelf,
    ShelfUnit,
    Span,
    Tray,
)
from core.placement import Placement
from core.study import study

FERNS = PlantGroup(key="ferns", name="Ferns", ppfd=Span(low=60.0, high=120.0))


def design(*parts: Any) -> Design:
    return Design(room=Room.rectangle(4.0, 3.0, 2.4), groups=(FERNS,), parts=parts)


def tubes(turn: int = 0) -> Lamp:
    """Three tubes of 1.2 m side by side, 0.2 m between their middles; 10 µmol/s each."""
    return Lamp(
        id="row", name="Row", form="tube", width=1.2, depth=0.04, height=0.04, watts=20.0,
        count=3, spacing=0.2, output=FromFlux(ppf=10.0),
        place=Place(fixing="hung", x=1.0, y=1.0, z=0.5, turn=turn),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("turn", "middles"),
    [
        # 1.2 m along x from 1.0, the tubes 0.2 m apart from y = 1.02 on.
        (0, [(1.6, 1.02), (1.6, 1.22), (1.6, 1.42)]),
        # A quarter turned they run along y and lie beside each other along x.
        (1, [(1.02, 1.6), (1.22, 1.6), (1.42, 1.6)]),
    ],
)
def test_the_tubes_of_a_row_lie_beside_each_other_however_it_is_turned(
    turn: int, middles: list[tuple[float, float]]
) -> None:
    placement = Placement(design(tubes(turn)))
    (row,) = lamp_sources(placement)
    assert row.ppf == pytest.approx(30.0)
    for source, middle in zip(row.sources, middles, strict=True):
        assert source.centre[:2] == pytest.approx(middle)
    along = (1.2, 0.04) if turn == 0 else (0.04, 1.2)
    for shade, (x, y) in zip(shades_of(placement), middles, strict=True):
        assert shade.box.size[:2] == pytest.approx(along)
        assert shade.box.centre[:2] == pytest.approx((x, y))


def test_a_side_turns_anticlockwise_with_its_part() -> None:
    # Seen from above, the front looks to -y; a quarter turn anticlockwise makes it look to +x.
    assert [turned_face("front", turn) for turn in range(4)] == ["front", "right", "back", "left"]
    assert turned_face("left", 1) == "front"


def board(**fields: Any) -> Lamp:
    """0.6 × 0.3 m, 60 µmol/s, hung under shelf 2 of the unit."""
    return Lamp(
        id="board", name="Board", form="board", width=0.6, depth=0.3, height=0.02, watts=30.0,
        output=FromFlux(ppf=60.0),
        place=Place(host="unit", fixing="under", level=2, x=0.3, y=0.1, z=0.06), **fields,
    )  # fmt: skip


UNIT = ShelfUnit(
    id="unit", name="Unit", width=1.2, depth=0.5, height=1.3, place=Place(x=0.5),
    levels=(Shelf(z=0.2), Shelf(z=0.7), Shelf(z=1.2)),
)  # fmt: skip


def zone(host: str) -> Plants:
    place = Place(host=host, level=1 if host == "unit" else None, x=0.45, y=0.1)
    return Plants(
        id="zone", name="Zone", species="ferns", width=0.3, depth=0.3, leaf_low=0.03,
        leaf_high=0.10, place=place,
    )  # fmt: skip


def test_the_rims_of_a_tray_cast_no_shade_on_what_stands_in_it() -> None:
    tray = Tray(
        id="tray", name="Tray", width=1.2, depth=0.5, height=0.15, place=Place(host="unit", level=1)
    )
    (within,) = read(study(design(UNIT, board(), tray, zone("tray")))).zones
    (without,) = read(study(design(UNIT, board(), zone("unit")))).zones
    assert without.mean > 60
    straight = [(zone.rows - zone.reflected_rows).mean() for zone in (within, without)]
    assert straight[0] == pytest.approx(straight[1], rel=1e-6)


def test_the_range_of_light_joins_its_parts_by_squares_and_dims_to_its_middle() -> None:
    """A flux typed as PPF is within 5 %, 10 % is the method's, a fifth of what is reflected that
    of reflectances: √(0.05² + 0.1² + (0.2 · share)²)."""
    white = Sheet(material="White film", reflectance=0.9)
    faces: Any = ("left", "right", "front", "back", "top", "bottom")
    lined = Enclosure(
        id="box", name="Box", width=2.0, depth=2.0, height=2.1,
        covers=tuple(Cover(face=face, sheet=white) for face in faces),
    )  # fmt: skip
    inside = UNIT.model_copy(update={"place": Place(host="box", x=0.5)})
    (found,) = read(study(design(lined, inside, board(), zone("unit")))).zones
    low, high = found.bubble(0.10)

    assert found.reflected_share > 0.05
    off = np.sqrt(0.05**2 + 0.1**2 + (0.2 * found.reflected_share) ** 2)
    assert low == pytest.approx(found.mean * (1 - off), rel=1e-5)
    assert high == pytest.approx(found.mean * (1 + off), rel=1e-5)
    # Wanted 60 to 120: the middle of the range, times the factor, is 90.
    assert found.dim_to(0.10) == pytest.approx(90 / ((low + high) / 2))
