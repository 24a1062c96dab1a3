"""Nearby sizes: what is offered saves what it says, and is the smallest step that does."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.materials.from_design import enclosure_materials
from core.materials.nearby import STEPS, Saving, nearby_savings
from core.model import Cover, Design, Enclosure, FaceDoor, Frame, Room, Sheet
from core.model.building import replace
from core.storage import load

DEMOS = Path(__file__).parents[3] / "resources" / "demos"


def design(**fields: object) -> Design:
    box = Enclosure(id="box", name="Box", frame=Frame(catalogue="pipe-1-in", member=0.033401),
                    **fields)  # type: ignore[arg-type]  # fmt: skip
    return Design(room=Room.rectangle(6.0, 4.0, 3.0), parts=(box,))


def metres(of: Design) -> float:
    found = enclosure_materials(of)
    assert found is not None
    return sum(length * count for length, count in found.frame.cuts.bought.items())


def test_a_short_upright_that_shares_a_bar_with_a_short_rail_is_found() -> None:
    # Bars of 3.048 m: 1.9124 + 1.1504 m and a kerf do not share one, 2 cm less do; four pairs
    # then take four bars where six were taken
    garage = load(DEMOS / "garage-bay.fern")
    found = nearby_savings(garage, (0.01, 0.02, 0.05))
    assert [(s.edge, s.length, s.bars) for s in found] == [
        ("depth", 1.1992, 2),
        ("height", 1.9612, 2),
    ]
    assert all(s.bars_length == pytest.approx(2 * 3.048) for s in found)


@pytest.mark.parametrize("name", ["starter", "garage-bay", "basement-nook"])
def test_what_is_offered_saves_what_it_says(name: str) -> None:
    drawn = load(DEMOS / f"{name}.fern")
    box = drawn.enclosure
    assert box is not None
    found = nearby_savings(drawn)
    assert found
    for saving in found:
        smaller = drawn.with_parts({box.id: replace(box, **{saving.edge: saving.length})})
        assert metres(drawn) - metres(smaller) == pytest.approx(saving.bars_length)
        assert saving.bars_length > 0 or saving.sheet_area > 0


def test_one_wide_board_may_do_where_four_narrow_ones_were_less_than_two() -> None:
    # 1.22 x 2.0 m: four of 0.6 x 1.25 m; 1.20 m: one of 1.2 x 2.4 m
    foam = Sheet(material="Foam", catalogue="board-eps-25")
    back = (Cover(face="back", sheet=foam),)
    found = nearby_savings(design(width=1.22, depth=0.6, height=2.0, covers=back))
    assert Saving("width", 1.2, 0.0, pytest.approx(3.0 - 2.88), 0, 0, 3) in found


def test_a_size_that_a_door_does_not_fit_is_not_offered() -> None:
    door = FaceDoor(style="zip", x=0.0, z=0.0, width=2.0, height=1.9812)
    free = design(width=2.54, depth=1.2192, height=1.9812)
    held = design(width=2.54, depth=1.2192, height=1.9812, doors=(door,))
    assert "height" in {saving.edge for saving in nearby_savings(free)}
    assert "height" not in {saving.edge for saving in nearby_savings(held)}


def test_nothing_is_offered_without_an_enclosure() -> None:
    assert nearby_savings(load(DEMOS / "empty-room.fern")) == ()


def test_steps_are_in_the_designs_own_units() -> None:
    garage = load(DEMOS / "garage-bay.fern")
    assert nearby_savings(garage) == nearby_savings(garage, STEPS["us"])
    assert nearby_savings(garage) != nearby_savings(garage, STEPS["metric"])
