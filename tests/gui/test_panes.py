"""Going round the window with the keyboard: what has it can be seen, and letters reach the sheet.

What the keys do on the sheet itself is tested in test_sheet.
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit

from gui.add_by_name import AddByName
from gui.fields import Line
from gui.panes import in_sight
from tests.gui.windows import build_window, press

CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def window(qtbot, theme, tmp_path):
    return build_window(qtbot, theme, tmp_path)


def first_part_line(window):
    window.view.select((window.document.design.parts[1].id,))
    window.form.focus_first()
    QApplication.processEvents()
    line = next(one for one in window.form.findChildren(Line) if one.isVisible())
    line.setFocus()
    return line


def ask(window):
    return [one for one in window.findChildren(AddByName) if one.isVisible()]


def test_the_first_escape_restores_a_field_and_the_next_gives_the_sheet_the_keyboard(window):
    line = first_part_line(window)
    before = line.text()
    QTest.keyClicks(line, "zz")

    press(window, Qt.Key.Key_Escape)
    assert (line.text(), line.hasFocus()) == (before, True)
    press(window, Qt.Key.Key_Escape)
    assert window.sheet.hasFocus()


def test_escape_in_an_untouched_field_lets_a_add_at_once(window):
    first_part_line(window)

    press(window, Qt.Key.Key_Escape)
    press(window, Qt.Key.Key_A)

    assert ask(window)


def test_f6_rings_every_stop_and_each_is_seen(window):
    seen = []
    for _ in window.panes.panes:
        press(window, Qt.Key.Key_F6)
        focused, ring = QApplication.focusWidget(), window.panes.ring
        assert in_sight(focused)
        assert ring.isVisible()
        assert ring.pane is focused or ring.pane.isAncestorOf(focused)
        assert ring.size() == ring.pane.size()
        seen.append(ring.pane)
    assert set(seen) == set(window.panes.panes)


def test_the_ring_on_the_sheet_is_drawn_in_its_own_pixels(window):
    window.rows.setFocus()
    window.panes.give(window.sheet)
    QApplication.processEvents()

    corner = window.sheet.mapTo(window, window.sheet.rect().topLeft())
    picture = window.grab().toImage()
    ratio = picture.devicePixelRatio()
    at = (int((corner.x() + 200) * ratio), int((corner.y() + 1) * ratio))

    assert picture.pixelColor(*at) == window.theme.colour("pencil")


def test_the_ring_goes_once_the_keyboard_leaves(window):
    window.panes.give(window.sheet)
    window.shelf.cells[0].setFocus()
    assert not window.panes.ring.isVisible()


@pytest.mark.parametrize("stop", range(5))
def test_escape_and_a_add_by_name_from_every_pane(window, stop):
    assert window.panes.give(window.panes.panes[stop])
    press(window, Qt.Key.Key_Escape)
    press(window, Qt.Key.Key_A)
    assert ask(window)


def test_a_list_of_choices_keeps_its_letters(window):
    first_part_line(window)
    choice = next(c for c in window.form.findChildren(QComboBox) if c.isVisible() and c.isEnabled())
    choice.setFocus()

    press(window, Qt.Key.Key_A)

    assert not ask(window)


def test_a_field_of_text_keeps_its_letters(window):
    line = first_part_line(window)
    line.selectAll()

    press(window, Qt.Key.Key_A)

    assert line.text() == "a"
    assert not ask(window)


@pytest.mark.parametrize("kind", [QLineEdit, QComboBox, QAbstractButton])
def test_select_all_in_the_form_leaves_the_sheet_alone(window, kind):
    first_part_line(window)
    chosen = window.view.selection
    editor = next(
        one
        for one in window.form.findChildren(kind)
        if one.isVisible() and one.focusPolicy() != Qt.FocusPolicy.NoFocus
    )
    editor.setFocus()

    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_A, CONTROL)

    assert window.view.selection == chosen
