"""Plugs on the sheet in Power: seen, dragged to another socket, refused with a reason, undone."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.model import Design, Fan, Outlet, Place, Plug, Room, Strip
from core.model.room import Circuit
from gui.plug_marks import plug_spots
from gui.plug_menu import PlugMenu, show_plug_menu
from gui.plugging import PlugDrag
from gui.sheet import Sheet
from gui.theme import Theme
from tests.gui.driving import Mouse, build_sheet


def part(kind: Any, key: str, into: str | None, x: float, **more: Any) -> Any:
    plug = Plug(into=into) if into else None
    place = Place(x=x, y=1.5, z=0.8, fixing="clipped")
    size = {"width": 0.3, "depth": 0.1, "height": 0.1}
    return kind(id=key, name=key.capitalize(), plug=plug, place=place, **size, **more)


@pytest.fixture
def design() -> Design:
    outlets = tuple(
        Outlet(id=key, name=f"Outlet {key}", wall=3, offset=at, circuit="hall", sockets=count)
        for key, at, count in (("near", 2.4, 1), ("far", 0.4, 2))
    )
    room = Room(
        outline=((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)),
        fixtures=outlets,
        circuits=(Circuit(id="hall", name="Hall circuit", breaker=16.0),),
    )
    fan = {"diameter": 0.2, "flow": 0.05, "watts": 20.0}
    parts = (
        part(Strip, "strip", "near", 0.4),
        part(Fan, "fan", "strip", 1.4, **fan),
        part(Fan, "loose", None, 2.4, **fan),
        part(Strip, "other", "far", 2.0),
    )
    return Design(room=room, parts=parts)


@pytest.fixture
def sheet(qtbot: QtBot, theme: Theme, design: Design) -> Sheet:
    return build_sheet(qtbot, theme, design, subject="power")


def spots(sheet: Sheet) -> dict[str, QPointF]:
    shown = frozenset(sheet.drawings["front"].shown_ids())
    return dict(plug_spots(sheet.placement, sheet.camera, "front", shown))


def take(sheet: Sheet, key: str) -> Mouse:
    """Press on a plug in the front elevation."""
    mouse = Mouse(sheet, "front")
    mouse.press(*sheet.camera.to_metres("front", spots(sheet)[key]))
    return mouse


def carry(mouse: Mouse, key: str) -> None:
    to = mouse.sheet.camera.to_px(mouse.view, *mouse.over(key))
    mouse.move_px(to.x() - mouse.at.x(), to.y() - mouse.at.y())


def into(sheet: Sheet, key: str) -> str | None:
    plug = getattr(sheet.document.committed.by_id[key], "plug", None)
    return plug.into if plug else None


def test_every_plug_has_a_place_of_its_own(sheet: Sheet) -> None:
    found = spots(sheet)
    assert set(found) == {"strip", "fan", "loose", "other"}
    places = list(found.values())
    for number, place in enumerate(places):
        assert all((place - other).manhattanLength() > 10 for other in places[:number])


def test_a_plug_is_dragged_to_another_outlet_as_one_step(sheet: Sheet) -> None:
    mouse = take(sheet, "fan")
    carry(mouse, "far")
    assert sheet.document.proposing  # readings already follow
    assert into(sheet, "fan") == "strip"
    mouse.release()
    assert into(sheet, "fan") == "far"
    assert sheet.document.undo_stack.undoText() == "Plug Fan into Outlet far"
    sheet.document.undo_stack.undo()
    assert into(sheet, "fan") == "strip"
    assert not sheet.document.undo_stack.canUndo()


def test_what_is_not_plugged_in_hangs_its_plug_below_itself(sheet: Sheet) -> None:
    mouse = take(sheet, "loose")
    carry(mouse, "strip")
    mouse.release()
    assert into(sheet, "loose") == "strip"


def test_a_socket_that_takes_no_more_says_why_and_nothing_changes(sheet: Sheet) -> None:
    told: list[str] = []
    sheet.said.connect(told.append)
    mouse = take(sheet, "fan")
    carry(mouse, "near")  # one socket, taken by the strip
    gesture = sheet.gesture
    assert isinstance(gesture, PlugDrag)
    assert gesture.words() == "Outlet near has no free socket"
    mouse.release()
    assert told[-1] == "Outlet near has no free socket"
    assert not sheet.document.undo_stack.canUndo()


def test_a_strip_is_not_let_into_a_strip(sheet: Sheet) -> None:
    mouse = take(sheet, "other")
    carry(mouse, "strip")
    gesture = sheet.gesture
    assert isinstance(gesture, PlugDrag)
    assert gesture.words() == "Strips and leads are never put one behind the other"
    mouse.release()
    assert into(sheet, "other") == "far"


def test_where_the_plug_is_already_it_stays_and_says_so(sheet: Sheet) -> None:
    mouse = take(sheet, "fan")
    carry(mouse, "strip")
    gesture = sheet.gesture
    assert isinstance(gesture, PlugDrag)
    assert gesture.words() == "Fan is plugged into Strip"
    mouse.release()
    assert not sheet.document.undo_stack.canUndo()


def test_a_socket_beyond_the_edge_of_a_drawing_takes_nothing_there(sheet: Sheet) -> None:
    mouse = take(sheet, "fan")
    mouse.move_px(10, 10)
    gesture = sheet.gesture
    assert isinstance(gesture, PlugDrag)
    for view, pane in sheet.camera.panes.items():
        assert all(rect.intersects(pane) for rect in gesture.rects(view).values())
    QTest.keyClick(sheet, Qt.Key.Key_Escape)


def test_escape_and_letting_go_elsewhere_put_the_plug_back(sheet: Sheet) -> None:
    before = sheet.document.committed
    mouse = take(sheet, "fan")
    carry(mouse, "far")
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    mouse.release()
    mouse = take(sheet, "fan")
    mouse.move_px(30, -40)
    mouse.release()
    assert sheet.document.committed is before
    assert not sheet.document.proposing
    assert not sheet.document.undo_stack.canUndo()


def test_a_mere_click_on_a_plug_selects_what_it_belongs_to(sheet: Sheet) -> None:
    take(sheet, "fan").release()
    assert sheet.view.selection == ("fan",)


def test_pointing_at_a_plug_lights_up_what_it_belongs_to(sheet: Sheet) -> None:
    at = spots(sheet)["fan"].toPoint()
    QTest.mouseMove(sheet.viewport(), at - QPoint(40, 40))
    QTest.mouseMove(sheet.viewport(), at)
    assert sheet.view.hover == "fan"


def test_outside_power_there_are_no_plugs_to_take_hold_of(sheet: Sheet) -> None:
    at = spots(sheet)["fan"]
    sheet.view.choose_subject("light")
    mouse = Mouse(sheet, "front")
    mouse.press(*sheet.camera.to_metres("front", at))
    assert not isinstance(sheet.gesture, PlugDrag)
    mouse.release()


def test_the_menu_plugs_in_by_keyboard_and_gives_reasons(sheet: Sheet) -> None:
    sheet.view.select(("fan",))
    menu = show_plug_menu(sheet)
    assert isinstance(menu, PlugMenu)
    words = {action.text(): action for action in menu.actions() if action.text()}
    refused = words["Outlet near: Outlet near has no free socket"]
    assert not refused.isEnabled()
    here = next(action for action in words.values() if action.isChecked())
    assert here.text().startswith("Strip: ")
    assert any(
        text.startswith("Outlet far: room for") and "1 socket free" in text for text in words
    )
    QApplication.processEvents()
    while menu.activeAction() is None or not menu.activeAction().text().startswith("Outlet far"):
        QTest.keyClick(menu, Qt.Key.Key_Down)
    QTest.keyClick(menu, Qt.Key.Key_Return)
    assert into(sheet, "fan") == "far"
    assert sheet.document.undo_stack.count() == 1


def test_the_menu_unplugs(sheet: Sheet) -> None:
    sheet.view.select(("fan",))
    menu = show_plug_menu(sheet)
    assert menu is not None
    menu.actions()[-1].trigger()
    menu.close()
    assert into(sheet, "fan") is None
    assert sheet.document.undo_stack.undoText() == "Unplug Fan"


def test_without_a_plug_selected_the_menu_says_what_to_do(sheet: Sheet) -> None:
    told: list[str] = []
    sheet.said.connect(told.append)
    assert show_plug_menu(sheet) is None
    assert told == ["Select a device, strip, lead or timer to plug it in elsewhere"]
