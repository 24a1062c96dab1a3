"""The weight page of the key names what its total is of."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from core.air.flows import JETS
from core.model import Design, Place, ShelfUnit, replace
from core.readings import Reader, Readings
from core.storage import load
from gui.key_blocks import Bars, Note, Said
from gui.key_page import KeyPage
from gui.key_pages import page_for
from gui.view import View

DEMO = Path(__file__).parents[2] / "resources" / "demos" / "stair-alcove.fern"


def quick(design: Design) -> Readings:
    """Return readings whose air is jets alone: weight does not ask for more."""
    return Reader(flows=JETS).update(design, quality="coarse")


@pytest.mark.parametrize(
    ("enclosed", "start"),
    [(True, "Everything in the enclosure together: "), (False, "All parts together: ")],
)
def test_the_total_says_what_it_is_of(qtbot: QtBot, enclosed: bool, start: str) -> None:
    design = load(DEMO)
    if not enclosed:
        unit = next(design.of(ShelfUnit))
        design = Design(room=design.room, parts=(replace(unit, place=Place()),))
    view = View()
    view.choose_subject("weight")
    notes = [b.text for b in page_for(view, quick(design), None).blocks if isinstance(b, Note)]
    assert sum(text.startswith(start) for text in notes) == 1


def page(qtbot: QtBot, demo: str, level: tuple[str, int] | None = None) -> KeyPage:
    view = View()
    view.choose_subject("weight")
    if level is not None:
        view.choose_level(level)
    return page_for(view, quick(load(DEMO.with_name(f"{demo}.fern"))), None)


def test_the_chosen_level_says_what_its_load_is_made_of(qtbot: QtBot) -> None:
    made_of = next(
        b for b in page(qtbot, "stair-alcove", ("unit", 3)).blocks if isinstance(b, Note)
    )
    assert made_of.text.startswith("Level 3 carries ")
    for word in ("water", "pots", "trays", "lamps"):
        assert word in made_of.text


def test_of_several_units_that_of_the_chosen_level_is_shown(qtbot: QtBot) -> None:
    found = page(qtbot, "basement-nook", ("unit-c", 1))
    bars = next(block for block in found.blocks if isinstance(block, Bars))
    assert found.unit == "Shelf unit C"
    assert [bar.name for bar in bars.lines] == ["level 3", "level 2", "level 1"]


def test_posts_castors_and_climbing_are_told_below(qtbot: QtBot) -> None:
    said = next(b for b in page(qtbot, "garage-bay").blocks if isinstance(b, Said))
    told = " ".join(words for _, words in said.lines)
    for word in ("on a castor, limit", "heaviest post", "times as high as deep", "climbing"):
        assert word in told
