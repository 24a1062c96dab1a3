"""Fit in the window: clear floor and the way in on the sheet, and what the key says of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.air.flows import JETS
from core.model import Obstacle, Outlet, replace
from core.placement import along_wall
from core.readings import Reader
from core.states import State
from core.storage import load
from gui.files import DEMOS as DEMO_FOLDER
from gui.fit_signs import FloorSigns
from gui.form_design import fixture_sections
from gui.key_blocks import Note, Said
from gui.key_page import KeyPage
from gui.key_pages import page_for
from gui.link import Link
from gui.main_window import MainWindow
from gui.theme import Theme
from gui.view import View
from tests.gui.driving import Mouse
from tests.gui.windows import build_window, press

BOX = "box"


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    made = build_window(qtbot, theme, tmp_path, "starter")
    press(made.sheet, Qt.Key.Key_7)
    return made


def page(window: MainWindow) -> KeyPage:
    readings = window.asking.readings
    assert readings is not None
    return page_for(window.view, readings, None)


def said(window: MainWindow) -> tuple[tuple[State, str], ...]:
    return next(block.lines for block in page(window).blocks if isinstance(block, Said))


def type_into(window: MainWindow, key: str, text: str) -> None:
    """Type into a field of the form that stands there while nothing is selected."""
    window.view.select(())
    window.tabs.setCurrentWidget(window.form)
    line = window.form.fields[key].editor
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text)
    press(line, Qt.Key.Key_Return)


def follow(window: MainWindow, words: str) -> None:
    window.view.select(())
    link = next(each for each in window.form.findChildren(Link) if each.text() == words)
    QTest.keyClick(link, Qt.Key.Key_Return)
    QApplication.processEvents()


def picture(window: MainWindow) -> QImage:
    return window.sheet.grab().toImage()


def colour_in_plan(window: MainWindow, x: float, y: float) -> QColor:
    at = window.sheet.camera.to_px("plan", x, y)
    return picture(window).pixelColor(QPoint(round(at.x()), round(at.y())))


def test_the_key_says_what_its_signs_mean_the_tightest_and_what_goes_first(theme: Theme) -> None:
    view = View()
    view.choose_subject("fit")
    design = load(DEMO_FOLDER / "starter.fern")
    found = page_for(view, Reader(flows=JETS).update(design, quality="coarse"), None)
    signs = next(block for block in found.blocks if isinstance(block, FloorSigns))
    assert signs.names[2] == "an arm’s reach, 0.60 m"
    told = [words for block in found.blocks if isinstance(block, Said) for _, words in block.lines]
    assert any("to the farthest spot of level" in words for words in told)
    assert any("for both hands to take Tray" in words for words in told)
    assert "the way in" in found.spoken()
    notes = [block.text for block in found.blocks if isinstance(block, Note)]
    assert any(text.startswith("In this order: Fix the ") for text in notes)


def test_the_floor_before_the_door_is_tinted_where_it_is_clear(
    window: MainWindow, theme: Theme
) -> None:
    """The starter's door is at x = 1.05 to 1.85 m before y = 1.97 m; 0.70 m is asked for."""
    before = colour_in_plan(window, 1.6, 1.85)
    outside = colour_in_plan(window, 2.2, 1.85)
    assert outside == theme.colour("sheet")
    assert before != outside
    press(window.sheet, Qt.Key.Key_0)
    assert colour_in_plan(window, 1.6, 1.85) == theme.colour("sheet")


def test_asking_for_more_walkway_than_there_is_hatches_the_floor_and_advises(
    window: MainWindow,
) -> None:
    bare = picture(window)
    type_into(window, "targets.walkway", "2.2 m")
    assert said(window)[0] == (State.LOW, "1.97 m before the front door; want 2.20 m")
    readings = window.asking.readings
    assert readings is not None
    assert "walkway" in {item.rule for item in readings.findings}
    assert picture(window) != bare


def test_the_enclosure_dragged_before_an_outlet_covers_it(window: MainWindow) -> None:
    """Its back is 3 cm off the wall; undo uncovers the outlet again."""
    design = window.document.design
    outlet = next(item for item in design.room.fixtures if isinstance(item, Outlet))
    before = {row.place: row.state for row in fit_rows(window, "outlet")}
    assert before == {outlet.id: State.FINE}
    x, _ = along_wall(design.room, outlet.wall, outlet.offset)
    mouse = Mouse(window.sheet, "plan")
    box = window.sheet.placement.box(BOX)
    at = (box.lo[0] + 0.002, box.lo[1] + 0.25)
    mouse.press(*at)
    mouse.move(x - 0.4 - box.lo[0], 0.0, Qt.KeyboardModifier.ShiftModifier)
    mouse.release(Qt.KeyboardModifier.ShiftModifier)
    (row,) = fit_rows(window, "outlet")
    assert row.state is State.HIGH
    window.document.undo_stack.undo()
    assert {row.place: row.state for row in fit_rows(window, "outlet")} == before


def fit_rows(window: MainWindow, name: str) -> list:  # type: ignore[type-arg]
    readings = window.asking.readings
    assert readings is not None
    return [row for row in readings.fit.rows if row.name == name]


def test_a_corner_on_the_way_in_is_added_and_taken_away_again(window: MainWindow) -> None:
    design = window.document.design
    window.tabs.setCurrentWidget(window.form)
    follow(window, "Add a corner on the way in")
    type_into(window, "room.way_in.0.before", "0.5 m")
    type_into(window, "room.way_in.0.after", "0.5 m")
    corners = fit_rows(window, "corner")
    # Both corridors 0.5 m: 1.41 m for a thin panel, less for a unit 0.40 m thick.
    assert [row.place for row in corners] == ["unit"]
    assert corners[0].state is State.HIGH
    follow(window, "Take this corner away")
    assert window.document.design == design


def test_a_room_made_wider_keeps_its_outlet_where_it_is_seen(window: MainWindow) -> None:
    def outlet_at() -> tuple[float, float]:
        room = window.document.design.room
        outlet = next(item for item in room.fixtures if isinstance(item, Outlet))
        return along_wall(room, outlet.wall, outlet.offset)

    before = outlet_at()
    type_into(window, "room.side.0", "3.8 m")
    assert window.document.design.room.outline[1] == (3.8, 0.0)
    assert outlet_at() == pytest.approx(before)


def test_a_fixed_thing_asks_for_clear_floor_only_where_somebody_works_at_it() -> None:
    panel = Obstacle(id="panel", name="Panel", x=0.0, y=1.0, width=0.1, depth=0.4, height=0.6)
    design = load(DEMO_FOLDER / "starter.fern")

    def keys(thing: Obstacle) -> set[str]:
        room = replace(design.room, fixtures=(*design.room.fixtures, thing))
        sections = fixture_sections(design.having(room=room), thing)
        return {field.key for section in sections for field in section.fields}

    assert "worked_at" in keys(panel)
    assert "clear_depth" not in keys(panel)
    assert {"clear_depth", "clear_width"} <= keys(replace(panel, worked_at="right"))
