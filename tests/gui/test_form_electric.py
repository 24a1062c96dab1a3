"""The form of electric things: room left at sockets, starts and breakers, and who is asked."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from core.catalogue import load_catalogue
from core.model import Design
from core.storage import load
from gui.document import Document
from gui.fields import ChoiceEdit
from gui.part_form import PartForm
from gui.theme import Theme
from gui.view import View

ALCOVE = Path(__file__).parents[2] / "resources" / "demos" / "stair-alcove.fern"


@pytest.fixture
def form(qtbot: QtBot, theme: Theme) -> PartForm:
    made = PartForm(theme, Document(load(ALCOVE)), View(), load_catalogue())
    qtbot.addWidget(made)
    made.resize(344, 500)
    made.show()
    return made


def show(form: PartForm, *ids: str) -> list[str]:
    """Select things; return the words of the form, spaces plain."""
    form._view.select(ids)
    QApplication.processEvents()
    return [label.text().replace("\u2009", " ") for label in form.widget().findChildren(QLabel)]


def design(form: PartForm) -> Design:
    return form._document.committed


def choose(form: PartForm, key: str, value: object) -> None:
    field = form.fields[key]
    assert isinstance(field, ChoiceEdit)
    index = field.editor.findData(value)
    field.editor.setCurrentIndex(index)
    field.editor.activated.emit(index)
    QApplication.processEvents()


def test_a_strip_and_an_outlet_say_what_else_they_take(form: PartForm) -> None:
    # the strip: 10 A × 230 V = 2300 VA, the outlet 13 A × 230 V = 2990 VA, less 232 VA at noon
    assert "At the fullest minute: room for 2068 VA, 1 socket free" in show(form, "strip")
    assert "At the fullest minute: room for 2758 VA, 1 socket free" in show(form, "outlet")
    assert not any("fullest minute" in words for words in show(form, "fogger"))


def test_how_many_may_start_together_is_typed(form: PartForm, qtbot: QtBot) -> None:
    show(form, "fogger")
    field = form.fields["inrush_most"]
    field.editor.setFocus()
    qtbot.keyClicks(field.editor, "4")
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert design(form).part("fogger").inrush_most == 4  # type: ignore[union-attr]


def test_a_circuit_tells_its_breakers_type_and_whether_other_things_last(form: PartForm) -> None:
    show(form)
    choose(form, "room.circuits.0.trip", "C")
    choose(form, "room.circuits.0.other_lasts", True)
    circuit = design(form).room.circuits[0]
    assert (circuit.trip, circuit.other_lasts) == ("C", True)
    assert form._document.undo_stack.count() == 2


def test_one_plugs_share_is_taken_by_the_region_until_it_is_typed(form: PartForm) -> None:
    show(form)
    choose(form, "practice.region", "north-america")
    assert design(form).practice.one_plug == 0.8
    assert (
        form.fields["practice.plug_share"].editor.text().replace("\u2009", " ") == "≈ 80 %, taken"
    )
