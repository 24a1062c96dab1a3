"""The window as a whole: keys, panels in step, sizes, names for everything, trouble told calmly."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QApplication,
    QComboBox,
    QLineEdit,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

from core.errors import DesignError
from core.model import Lamp, ShelfUnit, replace
from core.placement import Placement
from core.power.profile import periods_of
from core.reading import SUBJECTS
from core.units import show
from gui.actions import specs
from gui.add_by_name import AddByName, fitting
from gui.adding import offers
from gui.announcing import summary_words
from gui.app import _tell_trouble
from gui.help_pages import Page
from gui.key_blocks import Facts
from gui.level_entries import level_entries
from gui.main_window import MainWindow
from gui.quantity_edit import QuantityEdit
from gui.ribbon_lines import lamp_periods
from gui.tables import Table
from gui.theme import Theme
from gui.window_sizes import first_size, sizes_for
from tests.gui.windows import DEMOS, build_window, press

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    return build_window(qtbot, theme, tmp_path)


@pytest.fixture
def alcove(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    return build_window(qtbot, theme, tmp_path, "stair-alcove")


# Subjects ----------------------------------------------------------------------------------------


def test_the_digits_choose_subjects_quickly(alcove: MainWindow) -> None:
    """LOOK §15 no. 7, as far as the panels are concerned."""
    for number, subject in enumerate(SUBJECTS, start=1):
        start = time.perf_counter()
        press(alcove.sheet, Qt.Key(Qt.Key.Key_0.value + number))
        assert alcove.view.subject == subject
        assert alcove.readings.rows[subject].isChecked()
        assert alcove.key.page.title
        assert time.perf_counter() - start < 1.0
    press(alcove.sheet, Qt.Key.Key_0)
    assert alcove.view.subject is None
    assert not any(row.isChecked() for row in alcove.readings.rows.values())


def test_digits_typed_into_a_field_choose_nothing(window: MainWindow) -> None:
    lamp = next(window.document.design.of(Lamp))
    window.view.select((lamp.id,))
    window.form.focus_first()
    field = window.form.fields["width"]
    field.editor.setFocus()
    field.editor.selectAll()  # type: ignore[attr-defined]
    QTest.keyClicks(field.editor, "0.3")
    assert window.view.subject == "light"
    assert field.editor.text() == "0.3"  # type: ignore[attr-defined]


@pytest.mark.parametrize("demo", DEMOS)
def test_every_demo_opens_and_answers(
    qtbot: QtBot, theme: Theme, tmp_path: Path, demo: str
) -> None:
    window = build_window(qtbot, theme, tmp_path, demo)
    readings = window.asking.readings
    assert readings is not None and readings.quality == "final"
    assert window.status.words.text() == "All readings are final"
    for subject, row in window.readings.rows.items():
        headline = readings.subject(subject).headline
        assert bool(row.words) is (headline is not None)
        assert row.accessibleName()
    assert window.tabs.tabText(0) == f"Findings  {len(readings.findings)}"
    assert summary_words(readings)


def test_a_second_click_opens_how_it_was_found(qtbot: QtBot, alcove: MainWindow) -> None:
    row = alcove.readings.rows["light"]
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton)
    assert alcove.how.isVisible() and alcove.how.subject == "light"
    alcove.how.close()


# Editing -----------------------------------------------------------------------------------------


def test_a_field_is_changed_undone_and_redone_with_the_keyboard(window: MainWindow) -> None:
    lamp = next(window.document.design.of(Lamp))
    before = window.document.design
    window.sheet.setFocus()
    window.view.select((lamp.id,))
    press(window.sheet, Qt.Key.Key_Return)
    assert window.tabs.currentWidget() is window.form
    field = window.form.fields["dimming"]
    assert isinstance(field, QuantityEdit)
    field.editor.setFocus()
    field.editor.selectAll()
    QTest.keyClicks(field.editor, "55 %")
    press(window, Qt.Key.Key_Return)
    changed = window.document.design
    assert changed.part(lamp.id).dimming == 0.55  # type: ignore[union-attr]
    assert window.head.undo.isEnabled() and window.head.undo.toolTip() == f"Dimming of {lamp.name}"
    press(window, Qt.Key.Key_Z, CTRL)
    assert window.document.design == before, "Ctrl+Z reaches the window from an untouched field"
    press(window, Qt.Key.Key_Z, CTRL | SHIFT)
    assert window.document.design == changed
    press(window, Qt.Key.Key_Y, CTRL)
    assert window.document.design == changed


def test_a_finding_is_reached_mended_and_undone_with_the_keyboard(alcove: MainWindow) -> None:
    before = alcove.document.design
    press(alcove, Qt.Key.Key_F8)
    assert alcove.tabs.currentWidget() is alcove.findings
    first = alcove.findings.findings[0]
    assert alcove.findings.chosen == 0 and alcove.view.subject == first.subject
    place = first.place in alcove.document.design.by_id
    assert alcove.view.selection == ((first.place,) if place else ())
    assert alcove.tabs.currentWidget() is alcove.findings, "the list stays in sight"
    press(alcove, Qt.Key.Key_F8, SHIFT)
    assert alcove.findings.chosen == len(alcove.findings.findings) - 1
    press(alcove, Qt.Key.Key_F8)
    press(alcove, Qt.Key.Key_Return, CTRL)
    assert alcove.document.undo_stack.count() == 1
    alcove.sheet.setFocus()
    press(alcove.sheet, Qt.Key.Key_Z, CTRL)
    assert alcove.document.design == before


def test_select_turn_copy_paste_duplicate_delete(window: MainWindow) -> None:
    lamp = next(window.document.design.of(Lamp))
    count = len(window.document.design.parts)
    actions = window.actions_.by_name
    assert not actions["delete"].isEnabled()
    window.view.select((lamp.id,))
    assert actions["delete"].isEnabled()
    press(window.sheet, Qt.Key.Key_R)
    assert window.document.design.part(lamp.id).place.turn == 1
    actions["copy"].trigger()
    assert lamp.id in QGuiApplication.clipboard().text()
    actions["paste"].trigger()
    assert len(window.document.design.parts) == count + 1
    window.sheet.setFocus()
    press(window.sheet, Qt.Key.Key_D, CTRL)
    assert len(window.document.design.parts) == count + 2
    press(window.sheet, Qt.Key.Key_Delete)
    assert len(window.document.design.parts) == count + 1


def test_a_part_is_added_from_the_shelf_and_selected(qtbot: QtBot, window: MainWindow) -> None:
    count = len(window.document.design.parts)
    cell = next(cell for cell in window.shelf.cells if cell.entry.key == "fan")
    qtbot.mouseClick(cell, Qt.MouseButton.LeftButton)
    assert len(window.document.design.parts) == count + 1
    (part_id,) = window.view.selection
    assert window.document.design.part(part_id).kind == "fan"
    assert window.tabs.currentWidget() is window.form
    assert window.document.undo_stack.undoText().startswith("Add ")


def test_a_part_is_added_by_typing_its_name(window: MainWindow) -> None:
    count = len(window.document.design.parts)
    press(window.sheet, Qt.Key.Key_A)
    asking = window.findChild(AddByName)
    assert asking is not None and asking.isVisible()
    QTest.keyClicks(asking.line, "fan 15")
    names = [asking.found.item(i).text() for i in range(asking.found.count())]
    assert names and all(name.startswith("Fan") for name in names)
    QTest.keyClick(asking.line, Qt.Key.Key_Return)
    assert len(window.document.design.parts) == count + 1
    (part_id,) = window.view.selection
    assert window.document.design.part(part_id).kind == "fan"


def test_words_of_a_name_may_be_typed_from_their_beginning(window: MainWindow) -> None:
    found = list(offers(window.catalogue, "metric"))
    assert fitting(found, "boa") and all("oard" in offer.words for offer in fitting(found, "boa"))
    assert fitting(found, "") == found
    assert fitting(found, "xyzzy") == []


def test_what_cannot_be_placed_is_told_in_the_bar(window: MainWindow) -> None:
    before = window.document.design
    window.add("enclosure")
    assert "already" in window.errors.text
    assert window.document.design == before
    window.add("fan")
    assert window.errors.text == ""


def test_units_are_an_undoable_change_and_every_panel_follows(window: MainWindow) -> None:
    lamp = next(window.document.design.of(Lamp))
    window.view.select((lamp.id,))
    box = window.head.units
    index = box.findData("us")
    box.setCurrentIndex(index)
    box.activated.emit(index)
    assert window.document.design.units == "us"
    assert window.document.undo_stack.undoText() == "Change units"
    assert "in" in window.form.fields["width"].editor.text()  # type: ignore[attr-defined]
    assert "board-24x12-100w" in _added_keys(window)
    window.document.undo_stack.undo()
    assert window.document.design.units == "metric"
    assert window.form.fields["width"].editor.text().endswith(" m")  # type: ignore[attr-defined]
    assert box.currentData() == "metric"


def _added_keys(window: MainWindow) -> list[str]:
    return [offer.key for offer in offers(window.catalogue, window.document.design.units)]


# The view ----------------------------------------------------------------------------------------


def test_layouts_levels_zoom_and_time_have_keys(alcove: MainWindow) -> None:
    for number, layout in ((2, "plan"), (3, "front"), (4, "side"), (1, "sheet")):
        press(alcove.sheet, Qt.Key(Qt.Key.Key_0.value + number), CTRL)
        assert alcove.view.layout == layout
        assert alcove.head.layouts[layout].isChecked()
    level = alcove.view.level
    press(alcove.sheet, Qt.Key.Key_PageUp)
    assert alcove.view.level == (level[0], level[1] + 1)  # type: ignore[index]
    scale = alcove.sheet.camera.scale
    press(alcove.sheet, Qt.Key.Key_Plus, CTRL)
    assert alcove.sheet.camera.scale > scale
    press(alcove.sheet, Qt.Key.Key_0, CTRL)
    assert alcove.sheet.camera.scale == pytest.approx(scale)
    alcove.view.choose_minute(600)
    press(alcove.sheet, Qt.Key.Key_Right, ALT)
    assert alcove.view.minute == 615
    press(alcove.sheet, Qt.Key.Key_Left, ALT | SHIFT)
    assert alcove.view.minute == 555
    assert alcove.ribbon.time == 555


def test_the_season_menu_reads_the_design_anew(alcove: MainWindow) -> None:
    other = alcove.document.design.seasons[1].id
    alcove.ribbon.season_changed.emit(other)
    assert alcove.view.season == other
    assert alcove.asking.readings is not None and alcove.asking.readings.season == other
    alcove.files.open_example("starter")
    assert alcove.view.season is None and alcove.view.minute is None


def test_the_ribbon_shows_when_lamps_are_on(alcove: MainWindow) -> None:
    readings = alcove.asking.readings
    assert readings is not None
    assert lamp_periods(readings) == ((7 * 60, 19 * 60),)
    night = [minute < 120 or minute >= 1320 for minute in range(1440)]
    assert periods_of(np.array(night)) == ((1320, 120),)
    assert periods_of(np.ones(1440, dtype=bool)) == ((0, 0),)
    assert periods_of(np.zeros(1440, dtype=bool)) == ()


def test_tables_list_zones_worst_first_and_all_parts(alcove: MainWindow) -> None:
    alcove.show_zones()
    zones = alcove.findChildren(Table)[-1]
    assert zones.table.rowCount() == sum(p.kind == "plants" for p in alcove.document.design.parts)
    state = zones.table.columnCount() - 1
    assert zones.table.item(0, state).text().startswith(("too", "likely"))
    heads = [zones.table.horizontalHeaderItem(column).text() for column in range(state + 1)]
    assert heads == [
        "Plants", "Where", "Light", "Uniformity", "DLI", "Lamps above", "Air", "State",
    ]  # fmt: skip
    drops = [row for row in alcove.asking.readings.light.rows if row.name == "drop"]
    shown = {zones.table.item(row, 5).text() for row in range(zones.table.rowCount())}
    assert {show(row.value or 0.0, "length") for row in drops} <= shown
    alcove.show_parts()
    parts = alcove.findChildren(Table)[-1]
    design = alcove.document.design
    assert parts.table.rowCount() == len(design.parts) + len(design.room.fixtures)
    parts.table.itemActivated.emit(parts.table.item(3, 0))
    assert alcove.view.selection == (design.parts[3].id,)


def test_the_help_menu_has_its_pages(window: MainWindow) -> None:
    for name in ("trust", "keys", "about"):
        window.actions_.by_name[name].trigger()
        page = window.findChildren(Page)[-1]
        assert page.isVisible() and page.windowTitle()
        page.close()


# Sizes and appearance ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("screen", "size"),
    [((1920, 1040), (1280, 800)), ((1280, 800), (1276, 766)), ((800, 600), (960, 620))],
)
def test_a_first_window_fits_its_screen_where_that_is_large_enough(
    screen: tuple[int, int], size: tuple[int, int]
) -> None:
    assert first_size(*screen) == size


@pytest.mark.parametrize(
    ("size", "compact", "column", "ribbon"),
    [
        ((960, 620), True, 296, 54),
        ((1280, 800), False, 344, 76),
        ((1920, 1080), False, 400, 92),
    ],
)
def test_panels_take_the_sizes_of_the_window(
    qtbot: QtBot,
    theme: Theme,
    tmp_path: Path,
    size: tuple[int, int],
    compact: bool,
    column: int,
    ribbon: int,
) -> None:
    window = build_window(qtbot, theme, tmp_path, "stair-alcove", size)
    assert window.shelf.compact is compact
    assert window.ribbon.height() == ribbon
    assert abs(window.right.width() - column) <= 2
    found = sizes_for(*size)
    assert (found.compact, found.column, found.ribbon) == (compact, column, ribbon)
    for widget in (window.head.summary, window.head.units, *window.head.layouts.values()):
        assert widget.width() >= widget.minimumSizeHint().width()
    assert not _overlapping(window.head)


def _overlapping(parent: QWidget) -> list[tuple[QWidget, QWidget]]:
    seen = [w for w in parent.findChildren(QWidget) if w.isVisible() and w.parent() is parent]
    return [
        (a, b)
        for i, a in enumerate(seen)
        for b in seen[i + 1 :]
        if a.geometry().intersects(b.geometry())
    ]


def test_the_window_never_gets_smaller_than_it_can_be_read(window: MainWindow) -> None:
    assert (window.minimumWidth(), window.minimumHeight()) == (960, 620)


@pytest.mark.parametrize("scale", [1.0, 1.5])
def test_the_readings_need_no_more_room_than_there_is(
    qtbot: QtBot, theme: Theme, tmp_path: Path, scale: float
) -> None:
    window = build_window(qtbot, theme, tmp_path, "stair-alcove", (1280, 900))
    window.scale_text(scale)
    QApplication.processEvents()
    for row in window.readings.rows.values():
        assert row.vial.geometry().right() <= row.width()
        assert row.height() >= row.sizeHint().height()
    window.scale_text(1.0)


def test_splitters_and_geometry_are_remembered(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    window = build_window(qtbot, theme, tmp_path)
    whole = sum(window.across.sizes())
    window.across.setSizes([whole - 450, 450])
    window.across.splitterMoved.emit(whole - 450, 1)
    window.close()
    again = build_window(qtbot, theme, tmp_path)
    assert again.across.sizes()[1] > 400


def test_light_and_dark_are_chosen_and_remembered(window: MainWindow) -> None:
    window.actions_.by_name["look dark"].trigger()
    assert window.theme.is_dark and window.settings.appearance == "dark"
    window.grab()
    window.actions_.by_name["look light"].trigger()
    assert not window.theme.is_dark
    window.actions_.by_name["text larger"].trigger()
    assert window.settings.text_scale == pytest.approx(1.1)
    window.actions_.by_name["text usual"].trigger()
    assert window.settings.text_scale == 1.0


# Keyboard and names ------------------------------------------------------------------------------


def test_f6_goes_from_pane_to_pane_and_round(window: MainWindow) -> None:
    window.sheet.setFocus()
    seen = []
    for _ in range(5):
        press(window, Qt.Key.Key_F6)
        focused = QApplication.focusWidget()
        panes = {
            "shelf": window.shelf,
            "sheet": window.sheet,
            "ribbon": window.ribbon,
            "readings": window.readings,
            "tabs": window.tabs,
        }
        seen.append(next(n for n, p in panes.items() if p is focused or p.isAncestorOf(focused)))
    assert seen == ["ribbon", "readings", "tabs", "shelf", "sheet"]


def test_no_two_actions_share_a_key(window: MainWindow) -> None:
    keys = [key for spec in specs() for key in spec.keys]
    assert len(keys) == len(set(keys))
    for spec in specs():
        plain = spec.keys and all(len(key) == 1 for key in spec.keys)
        assert not plain or spec.sheet, f"{spec.name}: letters act on the sheet alone"


def test_every_action_has_words_and_is_in_a_menu(window: MainWindow) -> None:
    for spec in specs():
        action = window.actions_.by_name[spec.name]
        assert action.text() and action in window.actions_.menus[spec.menu].actions()
        for key in spec.keys:
            assert not QKeySequence(key).isEmpty()


@pytest.mark.parametrize("select", [False, True])
def test_whatever_takes_the_keyboard_has_a_name(window: MainWindow, select: bool) -> None:
    if select:
        window.view.select((next(window.document.design.of(Lamp)).id,))
        window.tabs.setCurrentWidget(window.form)
    nameless = [
        f"{type(widget).__name__} in {type(widget.parent()).__name__}"
        for widget in window.findChildren(QWidget)
        if widget.isVisible() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        if widget.focusProxy() is None
        if not (widget.accessibleName() or _own_words(widget))
    ]
    assert nameless == []


def _own_words(widget: QWidget) -> str:
    if isinstance(widget, QAbstractButton):
        return widget.text()
    if isinstance(widget, QTabBar):
        return widget.tabText(widget.currentIndex())
    if isinstance(widget, QComboBox | QLineEdit | QAbstractScrollArea):
        return widget.accessibleName()
    return ""


# Waiting and trouble -----------------------------------------------------------------------------


def test_while_something_is_dragged_readings_are_coarse(alcove: MainWindow) -> None:
    lamp = next(alcove.document.design.of(Lamp))
    solver = alcove._solver
    solver.asked.clear()  # type: ignore[attr-defined]
    alcove.document.propose({lamp.id: replace(lamp, dimming=0.5)})
    assert alcove.readings.hint.text() == "coarse while you drag"
    assert "≈" in alcove.readings.rows["light"].shown_line()
    alcove.document.commit("Dim")
    assert alcove.readings.hint.text() == "click one to see it drawn"
    assert solver.asked == ["coarse", "final"]  # type: ignore[attr-defined]


def test_final_readings_are_announced_and_coarse_ones_are_not(alcove: MainWindow) -> None:
    said = alcove.announcer.said
    assert said.startswith("Readings are final. Light: too strong")
    lamp = next(alcove.document.design.of(Lamp))
    alcove.document.propose({lamp.id: replace(lamp, dimming=0.0)})
    assert alcove.announcer.said == said
    for one in list(alcove.document.design.of(Lamp)):
        alcove.document.apply_parts("Dim", {one.id: replace(one, dimming=0.0)})
    assert "too weak" in alcove.announcer.said


def test_stop_keeps_what_is_shown_and_says_so(window: MainWindow) -> None:
    before = window.asking.readings
    window._solver.silent = True  # type: ignore[attr-defined]
    lamp = next(window.document.design.of(Lamp))
    window.document.apply_parts("Dim", {lamp.id: replace(lamp, dimming=0.5)})
    window.status.stop_asked.emit()
    assert window.status.words.text() == "Readings are from before the last change"
    window._solver.read.emit(before)
    assert window.status.words.text() == "Readings are from before the last change"
    window._solver.silent = False  # type: ignore[attr-defined]
    window.document.undo_stack.undo()
    assert window.status.words.text() == "All readings are final"


def test_an_engine_that_breaks_is_told_and_nothing_is_lost(window: MainWindow) -> None:
    shown = window.readings.rows["light"].line
    window._solver.failed.emit("no light")
    assert "no light" in window.errors.text
    assert window.readings.rows["light"].line == shown


def test_what_nobody_caught_is_told_in_the_bar(
    window: MainWindow, caplog: pytest.LogCaptureFixture
) -> None:
    try:
        raise DesignError("Fan ‘Intake’: flow = −3 m³/h must not be negative; enter 0 or more.")
    except DesignError:
        _tell_trouble(window, *sys.exc_info())  # type: ignore[arg-type]
    assert window.errors.text.startswith("Fan ‘Intake’")
    try:
        raise ZeroDivisionError("division by {nothing}")
    except ZeroDivisionError:
        _tell_trouble(window, *sys.exc_info())  # type: ignore[arg-type]
    assert "ZeroDivisionError: division by {nothing}" in window.errors.text
    assert "not caught" in caplog.text


def test_long_names_and_odd_signs_are_shown_as_they_are(window: MainWindow) -> None:
    odd = "<b>Bold</b> & co " * 4
    lamp = next(window.document.design.of(Lamp))
    window.document.apply_parts("Rename", {lamp.id: replace(lamp, name=odd[:80])})
    window.document.apply("Rename", window.document.design.having(name=odd[:80]))
    window.view.select((lamp.id,))
    QApplication.processEvents()
    assert window.head.width() == window.centralWidget().width()
    assert window.head.summary.geometry().right() <= window.head.width()
    assert window.form._head.name.text() == odd[:80]


def test_an_empty_room_asks_its_questions(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    window = build_window(qtbot, theme, tmp_path, "empty-room")
    assert window.findings.steps.isVisible() and not window.findings.nothing.isVisible()
    assert window.readings.rows["water"].line == "When to refill?"
    assert window.readings.hint.text() == "they fill as you place things"
    window.add("enclosure")
    assert not window.findings.steps.isVisible()


@pytest.mark.parametrize("subject", ["light", "air"])
def test_the_key_names_its_place_first_and_tells_of_the_zone_of_the_levels_row(
    alcove: MainWindow, subject: str
) -> None:
    design, readings = alcove.document.design, alcove.asking.readings
    alcove.view.choose_subject(subject)
    host = next(design.of(ShelfUnit)).id
    for entry in level_entries(Placement(design), host, readings):
        alcove.view.choose_level((host, entry.number))
        item = entry.readings[subject]
        name = design.by_id[item.place].name
        page = alcove.key.page
        assert page.title == f"Level {entry.number}, {name}: {subject} at the leaves"
        if subject == "light":
            facts = next(block for block in page.blocks if isinstance(block, Facts))
            assert facts.lines[0].value == f"{item.value:.0f}"


def test_an_empty_rooms_key_tells_of_the_floor(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    window = build_window(qtbot, theme, tmp_path, "empty-room")
    window.view.choose_subject("light")
    assert window.key.page.title == "Light on the floor"


def test_the_first_minute_goes_by_keyboard_alone(qtbot: QtBot, window: MainWindow) -> None:
    """LOOK §15 no. 10: room, enclosure, shelf, plants, lamp; no mouse, at most 40 keystrokes."""
    strokes = 0

    def stroke(key: Qt.Key, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        nonlocal strokes
        strokes += 1
        press(window.sheet, key, keys)

    def add(qtbot: QtBot, name: str) -> None:
        nonlocal strokes
        qtbot.waitUntil(window.sheet.hasFocus)
        stroke(Qt.Key.Key_A)
        line = window.findChildren(AddByName)[-1].line
        qtbot.waitUntil(line.hasFocus)
        QTest.keyClicks(line, name)
        strokes += len(name)
        stroke(Qt.Key.Key_Return)

    stroke(Qt.Key.Key_N, CTRL)
    for name in ("enc", "shelf", "jewel", "boa"):
        add(qtbot, name)
    assert strokes <= 40
    kinds = [part.kind for part in window.document.design.parts]
    assert kinds == ["enclosure", "shelf-unit", "plants", "lamp"]
    readings = window.asking.readings
    assert readings is not None and readings.light.headline is not None
    assert window.readings.rows["light"].words
    assert window._solver.asked.count("coarse") >= 2  # type: ignore[attr-defined]


def test_a_closed_window_is_gone_before_the_work_under_way_has_ended(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[bool] = []
    monkeypatch.setattr(window._solver, "stop", lambda: seen.append(window.isVisible()))
    assert window.isVisible()
    window.close()
    assert seen == [False]
