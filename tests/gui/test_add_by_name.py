"""The line a part's name is typed into: what fits is listed, and nothing is said to be nothing."""

from __future__ import annotations

import pytest

from core.catalogue import load_catalogue
from gui.add_by_name import AddByName
from gui.adding import offers


@pytest.fixture
def asking(qtbot, theme):
    made = AddByName(theme, offers(load_catalogue(), "metric"))
    qtbot.addWidget(made)
    made.show()
    return made


def test_a_name_that_nothing_has_is_told(asking):
    asking.line.setText("zzz")

    assert asking.found.count() == 0
    assert asking.none.isVisible()
    assert asking.none.text() == "Nothing is called zzz"


@pytest.mark.parametrize("typed", ["", "tray"])
def test_nothing_is_told_while_something_fits(asking, typed):
    asking.line.setText("zzz")
    asking.line.setText(typed)

    assert asking.found.count() > 0
    assert not asking.none.isVisible()


@pytest.mark.parametrize(
    ("typed", "first"), [("plants", "Ferns"), ("shelf", "Shelf unit, 0.90"), ("tray", "Tray, 0.60")]
)
def test_what_suits_a_beginner_comes_first(asking, typed, first):
    asking.line.setText(typed)

    assert asking.found.item(0).text().startswith(first)
