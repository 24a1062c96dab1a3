"""The weight page of the key names what its total is of."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from core.model import Design, Place, ShelfUnit, replace
from core.readings import read
from core.storage import load
from gui.key_blocks import Note
from gui.key_pages import page_for
from gui.view import View

DEMO = Path(__file__).parents[2] / "resources" / "demos" / "stair-alcove.fern"


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
    (note,) = (b for b in page_for(view, read(design), None).blocks if isinstance(b, Note))
    assert note.text.startswith(start)
