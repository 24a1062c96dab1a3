"""The parts shelf: every part can be clicked, entered, dragged and named, wide and narrow."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt
from PySide6.QtGui import QFontMetrics
from pytestqt.qtbot import QtBot

from gui.icons import names
from gui.parts_shelf import (
    COMPACT_WIDTH,
    PART_MIME,
    WIDTH,
    PartCell,
    PartEntry,
    PartsShelf,
    least_cell_height,
    mime_for,
    part_in,
)
from gui.theme import Theme

ENTRIES = [
    PartEntry("door", "door", "Door", "Room"),
    PartEntry("enclosure", "enclosure", "Enclosure", "Frame"),
    PartEntry("shelf-unit", "shelf-unit", "Shelf unit", "Frame"),
    PartEntry("bay", "bay", "Bay", "Frame"),
    PartEntry("board", "board", "Board", "Lamps"),
    PartEntry("tube", "tube", "Tube", "Lamps"),
]


@pytest.fixture
def shelf(qtbot: QtBot, theme: Theme) -> PartsShelf:
    made = PartsShelf(theme, ENTRIES)
    qtbot.addWidget(made)
    made.resize(WIDTH, 500)
    made.show()
    made.activateWindow()
    return made


def _cell(shelf: PartsShelf, key: str) -> PartCell:
    return next(cell for cell in shelf.cells if cell.entry.key == key)


def test_a_click_picks_the_part(qtbot: QtBot, shelf: PartsShelf) -> None:
    with qtbot.waitSignal(shelf.picked) as heard:
        qtbot.mouseClick(_cell(shelf, "bay"), Qt.MouseButton.LeftButton)
    assert heard.args == ["bay"]


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_the_keyboard_picks_the_part(qtbot: QtBot, shelf: PartsShelf, key: Qt.Key) -> None:
    shelf.focus_shelf()
    qtbot.waitUntil(shelf.cells[0].hasFocus)
    with qtbot.waitSignal(shelf.picked) as heard:
        qtbot.keyClick(shelf.cells[0], key)
    assert heard.args == ["door"]


def test_arrows_walk_along_the_shelves(qtbot: QtBot, shelf: PartsShelf) -> None:
    shelf.focus_shelf()
    qtbot.waitUntil(shelf.cells[0].hasFocus)
    walk = [
        (Qt.Key.Key_Down, "enclosure"),
        (Qt.Key.Key_Right, "shelf-unit"),
        (Qt.Key.Key_Down, "bay"),
        (Qt.Key.Key_Down, "board"),
        (Qt.Key.Key_End, "tube"),
        (Qt.Key.Key_Right, "tube"),
        (Qt.Key.Key_Up, "bay"),
        (Qt.Key.Key_Home, "door"),
        (Qt.Key.Key_Up, "door"),
    ]
    for key, goal in walk:
        qtbot.keyClick(shelf.window().focusWidget(), key)
        assert shelf.window().focusWidget() is _cell(shelf, goal)
    tab_stops = [c for c in shelf.cells if c.focusPolicy() == Qt.FocusPolicy.StrongFocus]
    assert [c.entry.key for c in tab_stops] == ["door"]


def test_a_drag_begins_after_a_real_move_and_is_no_click(
    qtbot: QtBot, shelf: PartsShelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    dragged: list[str] = []
    monkeypatch.setattr(PartCell, "drag", lambda cell: dragged.append(cell.entry.key))
    picked: list[str] = []
    shelf.picked.connect(picked.append)
    cell = _cell(shelf, "board")
    qtbot.mousePress(cell, Qt.MouseButton.LeftButton, pos=QPoint(20, 20))
    qtbot.mouseMove(cell, QPoint(22, 20))
    assert dragged == []
    qtbot.mouseMove(cell, QPoint(60, 40))
    qtbot.mouseRelease(cell, Qt.MouseButton.LeftButton, pos=QPoint(60, 40))
    assert dragged == ["board"]
    assert picked == []


def test_a_drag_carries_the_key_and_nothing_else() -> None:
    data = mime_for("shelf-unit")
    assert data.formats() == [PART_MIME]
    assert part_in(data) == "shelf-unit"
    assert part_in(QMimeData()) == ""


def test_compact_shows_icons_with_names_as_tooltips(shelf: PartsShelf) -> None:
    shelf.set_compact(True)
    assert shelf.width() == COMPACT_WIDTH
    assert [cell.toolTip() for cell in shelf.cells] == [entry.label for entry in ENTRIES]
    assert all(cell.geometry().right() < COMPACT_WIDTH for cell in shelf.cells)
    shelf.set_compact(False)
    assert shelf.width() == WIDTH


def test_large_text_widens_the_shelf_so_that_names_stay_whole(
    shelf: PartsShelf, theme: Theme
) -> None:
    theme.set_text_scale(2.0)
    metrics = QFontMetrics(theme.font("drawing"))
    assert shelf.width() > WIDTH
    assert all(c.width() >= metrics.horizontalAdvance(c.entry.label) for c in shelf.cells)
    theme.set_text_scale(1.0)
    assert shelf.width() == WIDTH


def test_every_part_has_a_name_for_assistive_tools(shelf: PartsShelf) -> None:
    assert shelf.accessibleName() == "Parts"
    assert [cell.accessibleName() for cell in shelf.cells] == [e.label for e in ENTRIES]


@pytest.mark.parametrize("height", [150, 400, 900])
def test_cells_share_the_height_and_never_overlap(
    shelf: PartsShelf, theme: Theme, height: int
) -> None:
    shelf.resize(WIDTH, height)
    heights = {cell.height() for cell in shelf.cells}
    assert len(heights) == 1
    assert least_cell_height(theme) <= heights.pop() <= 62
    for i, cell in enumerate(shelf.cells):
        for other in shelf.cells[i + 1 :]:
            assert not cell.geometry().intersects(other.geometry())


def test_armed_part_is_marked_alone(shelf: PartsShelf) -> None:
    shelf.set_armed("tube")
    assert [c.entry.key for c in shelf.cells if c.isChecked()] == ["tube"]
    shelf.set_armed("bay")
    assert [c.entry.key for c in shelf.cells if c.isChecked()] == ["bay"]
    shelf.set_armed("")
    assert not any(cell.isChecked() for cell in shelf.cells)


def test_icons_of_these_parts_exist() -> None:
    assert {entry.icon for entry in ENTRIES} <= set(names())
