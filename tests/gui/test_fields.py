"""Fields of a form: read once, wrong text stays with its reason, and keys behave."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from core.errors import InputError
from gui.fields import ChoiceEdit, LineField, TextEdit, ToggleEdit
from gui.quantity_edit import HoursEdit, QuantityEdit
from gui.theme import CONTROL_HEIGHT, Theme

EXACT = 0.80012


@pytest.fixture
def width(qtbot: QtBot, theme: Theme) -> QuantityEdit:
    field = QuantityEdit(theme, "Width", "length", minimum=0.1, maximum=3.0)
    qtbot.addWidget(field)
    field.set_value(EXACT)
    return field


def _type(qtbot: QtBot, field: LineField, text: str) -> None:
    field.editor.selectAll()
    qtbot.keyClicks(field.editor, text)
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)


def _heard(field: QWidget) -> list:
    heard: list = []
    field.committed.connect(heard.append)
    return heard


def test_enter_on_an_untouched_field_never_writes_the_rounded_text(
    qtbot: QtBot, width: QuantityEdit
) -> None:
    heard = _heard(width)
    assert width.editor.text() == "0.80 m"
    qtbot.keyClick(width.editor, Qt.Key.Key_Return)
    assert heard == []
    assert width.value == EXACT


@pytest.mark.parametrize(
    ("typed", "metres"), [("85 cm", 0.85), ("2 ft 6 in", 0.762), ("1.2", 1.2), ("0,9", 0.9)]
)
def test_any_unit_is_read_and_the_designs_own_is_shown(
    qtbot: QtBot, width: QuantityEdit, typed: str, metres: float
) -> None:
    heard = _heard(width)
    _type(qtbot, width, typed)
    assert heard == pytest.approx([metres], abs=1e-9)
    assert width.editor.text().endswith(" m")


def test_another_system_shows_its_own_units_and_changes_nothing(width: QuantityEdit) -> None:
    heard = _heard(width)
    width.set_system("us")
    assert "ft" in width.editor.text()
    assert width.value == EXACT and heard == []


@pytest.mark.parametrize("typed", ["eighty", "80 kg", "5 ft 14 in", "0.8 m 3", ""])
def test_wrong_text_stays_with_its_reason_and_a_mark(
    qtbot: QtBot, width: QuantityEdit, typed: str
) -> None:
    heard = _heard(width)
    width.editor.clear()
    _type(qtbot, width, typed)
    assert heard == []
    assert width.editor.text() == typed
    assert width.problem
    assert width.message.text() == width.problem == width.editor.accessibleDescription()
    assert not width.message.isHidden()
    assert width.editor.property("state") == "wrong"
    assert len(width.editor.actions()) == 1
    assert width.value == EXACT


def test_message_is_in_the_colour_of_what_is_out(
    qtbot: QtBot, theme: Theme, width: QuantityEdit
) -> None:
    _type(qtbot, width, "x")
    for choice in ("dark", "light"):
        theme.set_choice(choice)
        ink = width.message.palette().color(QPalette.ColorRole.WindowText)
        assert ink == theme.colour("out")


def test_mending_a_wrong_text_clears_its_reason(qtbot: QtBot, width: QuantityEdit) -> None:
    _type(qtbot, width, "80 kg")
    heard = _heard(width)
    _type(qtbot, width, "80 cm")
    assert heard == [0.8]
    assert width.problem == "" and width.message.isHidden()
    assert width.editor.actions() == []
    assert width.editor.accessibleDescription() == ""


def test_escape_puts_the_text_back_and_then_belongs_to_the_window(
    qtbot: QtBot, width: QuantityEdit
) -> None:
    _type(qtbot, width, "80 kg")
    qtbot.keyClick(width.editor, Qt.Key.Key_Escape)
    assert width.editor.text() == "0.80 m"
    assert width.problem == ""
    assert not width.editor.touched


def test_values_outside_the_range_say_the_limit(qtbot: QtBot, width: QuantityEdit) -> None:
    heard = _heard(width)
    _type(qtbot, width, "2 cm")
    assert "Width = 20 mm is too small; enter 0.10 m or more." in width.problem
    _type(qtbot, width, "4 m")
    assert "enter 3.00 m or less" in width.problem
    _type(qtbot, width, "3 m")
    assert heard == [3.0]


def test_arrows_step_by_the_nudge_and_stop_at_the_limits(qtbot: QtBot, width: QuantityEdit) -> None:
    width.set_value(0.80)
    heard = _heard(width)
    qtbot.keyClick(width.editor, Qt.Key.Key_Up)
    qtbot.keyClick(width.editor, Qt.Key.Key_Down)
    qtbot.keyClick(width.editor, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(width.editor, Qt.Key.Key_Up, Qt.KeyboardModifier.ControlModifier)
    assert heard == [0.81, 0.8, 0.7, 0.701]
    width.set_value(2.995)
    qtbot.keyClick(width.editor, Qt.Key.Key_Up)
    assert heard[-1] == 3.0
    qtbot.keyClick(width.editor, Qt.Key.Key_Up)
    assert len(heard) == 5


def test_a_hundred_steps_do_not_drift(qtbot: QtBot, theme: Theme) -> None:
    field = QuantityEdit(theme, "Drop", "length")
    qtbot.addWidget(field)
    field.set_value(0.0)
    for _ in range(100):
        qtbot.keyClick(field.editor, Qt.Key.Key_Up)
    assert field.value == 1.0


def test_taken_value_says_so_and_becomes_the_users_when_typed(qtbot: QtBot, theme: Theme) -> None:
    field = QuantityEdit(theme, "Leaves return", "fraction")
    qtbot.addWidget(field)
    field.set_value(0.07, taken=True)
    assert field.editor.text() == "≈ 7 %, taken".replace(" %", field.shown(0.07)[1:])
    assert field.editor.property("state") == "taken"
    heard = _heard(field)
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert heard == [] and field.taken
    _type(qtbot, field, "7 %")
    assert heard == [0.07] and not field.taken
    assert field.editor.property("state") == ""


def test_words_of_a_taken_value_may_be_left_standing(qtbot: QtBot, theme: Theme) -> None:
    field = QuantityEdit(theme, "Leaves return", "fraction")
    qtbot.addWidget(field)
    field.set_value(0.07, taken=True)
    field.editor.setText(field.editor.text().replace("7", "9"))
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert field.value == pytest.approx(0.09)


def test_the_same_value_from_the_design_leaves_typing_alone(
    qtbot: QtBot, width: QuantityEdit
) -> None:
    width.editor.setText("85 c")
    width.set_value(EXACT)
    assert width.editor.text() == "85 c"
    width.set_value(0.9)
    assert width.editor.text() == "0.90 m"


def test_leaving_the_field_reads_it(qtbot: QtBot, theme: Theme) -> None:
    page = QWidget()
    layout = QVBoxLayout(page)
    field, other = QuantityEdit(theme, "Width", "length"), QLineEdit()
    layout.addWidget(field)
    layout.addWidget(other)
    qtbot.addWidget(page)
    page.show()
    page.activateWindow()
    field.set_value(1.0)
    heard = _heard(field)
    field.setFocus()
    qtbot.waitUntil(field.editor.hasFocus)
    field.editor.setText("")
    qtbot.keyClicks(field.editor, "1.5 m")
    qtbot.keyClick(field.editor, Qt.Key.Key_Tab)
    assert heard == [1.5]


def test_optional_field_may_be_emptied(qtbot: QtBot, theme: Theme) -> None:
    field = QuantityEdit(theme, "Price", "length", optional=True)
    qtbot.addWidget(field)
    field.set_value(2.0)
    heard = _heard(field)
    field.editor.clear()
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert heard == [None]
    assert field.editor.text() == ""


def test_a_forms_own_rule_is_asked_before_the_value_is_given(qtbot: QtBot, theme: Theme) -> None:
    def refuse(value: float) -> None:
        raise InputError(f"Board: drop = {value:g} m reaches the leaves; raise it.")

    field = QuantityEdit(theme, "Drop", "length", check=refuse)
    qtbot.addWidget(field)
    heard = _heard(field)
    _type(qtbot, field, "1 m")
    assert heard == [] and "reaches the leaves" in field.problem


def test_hours_are_read_and_shown(qtbot: QtBot, theme: Theme) -> None:
    field = HoursEdit(theme, "Timer")
    qtbot.addWidget(field)
    field.set_value(((420, 1140),))
    assert field.editor.text() == "07:00–19:00"
    heard = _heard(field)
    _type(qtbot, field, "6-10, 16-22")
    assert heard == [((360, 600), (960, 1320))]
    _type(qtbot, field, "6-10, 9-22")
    assert "overlap" in field.problem


def test_name_may_not_be_empty(qtbot: QtBot, theme: Theme) -> None:
    field = TextEdit(theme, "Name")
    qtbot.addWidget(field)
    field.set_value("Board 3")
    heard = _heard(field)
    _type(qtbot, field, " ")
    assert "Name is empty" in field.problem
    _type(qtbot, field, "  Board   4 ")
    assert heard == ["Board 4"]


def test_choice_tells_only_what_the_user_chose(qtbot: QtBot, theme: Theme) -> None:
    field = ChoiceEdit(theme, "Cover", [("film", "Film"), ("pane", "Pane")])
    qtbot.addWidget(field)
    heard = _heard(field)
    field.set_value("pane")
    assert field.editor.currentText() == "Pane" and heard == []
    qtbot.keyClick(field.editor, Qt.Key.Key_Up)
    assert heard == ["film"]
    field.set_options([("film", "Film"), ("none", "Open")])
    assert field.value == "film" and heard == ["film"]
    field.set_value("gone")
    assert field.editor.currentIndex() == -1


def test_toggle_tells_only_what_the_user_ticked(qtbot: QtBot, theme: Theme) -> None:
    field = ToggleEdit(theme, "Drip loop")
    qtbot.addWidget(field)
    heard = _heard(field)
    field.set_value(True)
    assert field.value and heard == []
    qtbot.keyClick(field.editor, Qt.Key.Key_Space)
    assert heard == [False]


def test_fields_have_names_and_one_height(qtbot: QtBot, theme: Theme) -> None:
    made = [
        QuantityEdit(theme, "Width", "length"),
        HoursEdit(theme, "Timer"),
        TextEdit(theme, "Name"),
        ChoiceEdit(theme, "Cover", [("a", "A")]),
        ToggleEdit(theme, "Drip loop"),
    ]
    for field in made:
        qtbot.addWidget(field)
        field.show()
        assert field.editor.accessibleName()
        assert field.editor.height() == CONTROL_HEIGHT
    assert len({field.sizeHint().height() for field in made}) == 1
