"""The probe under the pointer and the pins, driven with mouse and keys over a demo."""

from __future__ import annotations

from functools import cache

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from core.air.flows import JETS
from core.light.maps import LevelLight, ZoneLight
from core.light.point import light_at
from core.readings import Reader, Readings
from core.storage import load
from gui.probe import PROVIDERS
from gui.sheet import Sheet
from tests.gui.driving import Mouse, build_sheet
from tests.gui.windows import press

SHIFT = Qt.KeyboardModifier.ShiftModifier


@cache
def alcove() -> Readings:
    return Reader(flows=JETS).update(load("resources/demos/stair-alcove.fern"))


@pytest.fixture
def sheet(qtbot, theme) -> Sheet:
    made = build_sheet(qtbot, theme, alcove().design)
    made.show_readings(alcove())
    return made


def hover(sheet: Sheet, view: str, across: float, up: float) -> None:
    """Move the pointer there with no button held."""
    at = sheet.camera.to_px(view, across, up)  # type: ignore[arg-type]
    none = Qt.MouseButton.NoButton
    QApplication.sendEvent(
        sheet.viewport(),
        QMouseEvent(
            QEvent.Type.MouseMove, at, sheet.viewport().mapToGlobal(at), none, none,
            Qt.KeyboardModifier.NoModifier,
        ),
    )  # fmt: skip


def rest(sheet: Sheet) -> None:
    """Let the pointer rest until the tag has said all it knows."""
    QTest.qWait(360)
    QApplication.processEvents()


def shown_zone(sheet: Sheet) -> ZoneLight:
    """The light of a zone on the chosen level."""
    light = sheet.overlays.readings.light
    return next(one for one in light.zones if one.level == sheet.view.level)


def a_cell(sheet: Sheet) -> tuple[float, float]:
    """The middle of one of that zone's cells."""
    zone = shown_zone(sheet)
    return float(zone.x[1]), float(zone.y[2])


def read_there(sheet: Sheet) -> str:
    """What the probe has to say first over that cell."""
    return f"{shown_zone(sheet).usual[2, 1]:.0f} µmol/(m² s)"


def test_over_a_cell_the_probe_reads_what_the_map_has_there(sheet):
    x, y = a_cell(sheet)
    hover(sheet, "plan", x, y)

    assert sheet.probe.tip.lines == (read_there(sheet),)


def test_at_rest_it_tells_the_day_the_direct_share_and_the_lamps(sheet):
    x, y = a_cell(sheet)
    hover(sheet, "plan", x, y)
    rest(sheet)
    lines = sheet.probe.tip.lines
    names = [sheet.document.design.by_id[key].name for key in shown_zone(sheet).lit_by()]

    assert lines[0] == read_there(sheet)
    assert lines[1].startswith("DLI ")
    assert any(line.endswith("of it direct") for line in lines)
    assert any(line.startswith("a lux meter: ") and line.endswith(" lux") for line in lines)
    assert any(line.startswith(names[0]) for line in lines)
    assert lines[-1].startswith("at the leaves, ")


def test_the_first_time_the_pointer_rests_the_sheet_says_how_to_pin(sheet):
    said: list[str] = []
    sheet.said.connect(said.append)
    x, y = a_cell(sheet)
    for shift in (0.0, 0.1):
        hover(sheet, "plan", x + shift, y)
        rest(sheet)
    assert said == ["Shift and a click, or P: pin this reading"]


def test_the_probe_follows_the_time_of_day(sheet):
    x, y = a_cell(sheet)
    hover(sheet, "plan", x, y)
    sheet.view.choose_minute(3 * 60)

    assert (
        light_at(shown_zone(sheet), x, y, 180).ppfd == 0
    )  # the demo's timers are off at three at night
    assert sheet.probe.tip.lines[0].startswith("0.0 ")


def test_coarse_light_is_marked_as_about(sheet):
    coarse = Reader(flows=JETS).update(alcove().design, quality="coarse")
    x, y = a_cell(sheet)
    hover(sheet, "plan", x, y)
    sheet.show_readings(coarse)

    assert sheet.probe.tip.lines[0].startswith("≈")


def test_off_every_map_the_probe_says_nothing(sheet):
    hover(sheet, "plan", -10.0, -10.0)
    assert sheet.probe.tip is None
    room = sheet.camera.seen("plan")
    hover(sheet, "plan", room.x0 + 0.01, room.y0 + 0.01)
    assert sheet.probe.tip is None


def test_in_the_front_view_it_reads_the_level_under_the_pointer(sheet):
    light = sheet.overlays.readings.light
    for one in light.levels:
        hover(sheet, "front", float(one.area.centre[0]), one.z)
        rest(sheet)
        assert sheet.probe.tip is not None
        assert sheet.probe.tip.lines[-1] == f"at the leaves, {one.z:.2f} m up"


def test_a_drawing_folded_away_under_the_pointer_leaves_no_probe(sheet):
    hover(sheet, "plan", *a_cell(sheet))
    assert sheet.probe.tip is not None
    sheet.view.choose_layout("side")
    sheet.zoom(1.2)
    assert sheet.probe.tip is None
    press(sheet, Qt.Key.Key_P)
    assert len(sheet.view.pins) == 1  # of the level's middle, as where no pointer is


def test_while_something_is_dragged_there_is_no_probe(sheet):
    x, y = a_cell(sheet)
    mouse = Mouse(sheet, "plan")
    hover(sheet, "plan", x, y)
    mouse.press(x, y)
    mouse.move_px(20, 0)

    assert sheet.probe.tip is None
    press(sheet, Qt.Key.Key_Escape)


def test_no_tag_covers_a_number_or_a_handle(sheet):
    sheet.view.select((shown_zone(sheet).part,))
    numbers = sheet.overlays.taken()
    assert len(numbers) >= 2
    for rect in numbers:
        hover(sheet, "plan", *sheet.camera.to_metres("plan", rect.center()))
        rest(sheet)
        assert sheet.probe.tip is not None
        assert not any(sheet.probe.tip.rect.intersects(other) for other in numbers)


def test_shift_and_a_click_pin_the_reading_in_all_drawings_and_select_nothing(sheet):
    x, y = a_cell(sheet)
    Mouse(sheet, "plan").click(x, y, SHIFT)

    assert sheet.view.pins == (pytest.approx((x, y, sheet.overlays.look.cut), abs=0.01),)
    assert sheet.view.selection == ()
    rings = [tag for tag in sheet.probe.tags() if tag.ring]
    assert len(rings) == len(sheet.camera.panes)
    assert [tag.lines for tag in rings] == [(read_there(sheet),), (), ()]  # told once, in plan
    assert not sheet.document.modified


def test_shift_and_a_drag_still_moves_the_part(sheet):
    x, y = a_cell(sheet)
    mouse = Mouse(sheet, "plan")
    mouse.press(x, y, SHIFT)
    mouse.move_px(0, 12, SHIFT)

    assert sheet.dragging
    assert sheet.view.pins == ()
    press(sheet, Qt.Key.Key_Escape)


def test_a_click_between_shelves_chooses_the_level_first_and_pins_the_second_time(sheet):
    level = next(
        one for one in sheet.overlays.readings.light.levels if one.level != sheet.view.level
    )
    place = _bare_place(sheet, level)
    Mouse(sheet, "front").click(*place)
    assert (sheet.view.level, sheet.view.pins) == (level.level, ())
    Mouse(sheet, "front").click(*place)
    assert len(sheet.view.pins) == 1


def _bare_place(sheet: Sheet, level: LevelLight) -> tuple[float, float]:
    """A place in the front view between a level's shelves where no part lies."""
    space = next(one for one in sheet.placement.levels if (one.host, one.number) == level.level)
    for share in (0.85, 0.7, 0.6, 0.5, 0.4):
        for across in range(1, 20):
            x = level.area.x0 + level.area.width * across / 20
            z = space.z + share * (space.above - space.z)
            at = sheet.camera.to_px("front", x, z)
            if not sheet.hand.things_under(at):
                return x, z
    raise AssertionError("the level is full")


def test_a_click_on_a_pin_takes_it_away_and_a_drag_moves_it(sheet):
    x, y = a_cell(sheet)
    mouse = Mouse(sheet, "plan")
    mouse.click(x, y, SHIFT)
    mouse.press(x, y)
    mouse.move(0.1, 0.0)
    mouse.release()
    assert sheet.view.pins[0][:2] == pytest.approx((x + 0.1, y), abs=0.01)

    mouse.click(*sheet.view.pins[0][:2])
    assert sheet.view.pins == ()


def test_by_keyboard_alone_a_pin_is_put_reached_moved_heard_and_removed(sheet):
    sheet.view.select(())
    press(sheet, Qt.Key.Key_P)
    assert (len(sheet.view.pins), sheet.view.pin) == (1, 0)
    first = sheet.view.pins[0]
    spoken = sheet.accessibleDescription()
    assert spoken.startswith("Pin 1 of 1: ")
    assert "micromoles per square metre and second" in spoken

    press(sheet, Qt.Key.Key_Right)
    assert sheet.view.pins[0] == pytest.approx((first[0] + 0.01, first[1], first[2]))
    press(sheet, Qt.Key.Key_Escape)
    assert (len(sheet.view.pins), sheet.view.pin) == (1, None)
    for _ in range(len(sheet.document.design.parts) + 1):
        press(sheet, Qt.Key.Key_Tab)
        if sheet.view.pin is not None:
            break
    assert sheet.view.pin == 0
    assert sheet.view.selection == ()
    press(sheet, Qt.Key.Key_Delete)
    assert sheet.view.pins == ()
    assert not sheet.document.modified


def test_escape_with_nothing_chosen_removes_the_newest_pin(sheet):
    x, y = a_cell(sheet)
    mouse = Mouse(sheet, "plan")
    mouse.click(x, y, SHIFT)
    mouse.click(x + 0.2, y, SHIFT)
    press(sheet, Qt.Key.Key_Escape)  # lets go of it
    press(sheet, Qt.Key.Key_Escape)
    assert [pin[0] for pin in sheet.view.pins] == [pytest.approx(x, abs=0.01)]


def test_a_pin_stays_with_its_level_and_another_design_has_none(sheet):
    x, y = a_cell(sheet)
    Mouse(sheet, "plan").click(x, y, SHIFT)
    count = len(sheet.probe.tags())
    press(sheet, Qt.Key.Key_PageDown)
    assert len(sheet.probe.tags()) == count - 1  # not in the plan of another level

    sheet.document.open(alcove().design, None)
    assert sheet.view.pins == ()


def test_a_subject_without_a_provider_shows_neither_probe_nor_pins(sheet):
    x, y = a_cell(sheet)
    Mouse(sheet, "plan").click(x, y, SHIFT)
    sheet.view.choose_subject("weight")
    hover(sheet, "plan", x, y)

    assert "weight" not in PROVIDERS
    assert sheet.probe.tags() == ()


def test_pins_are_told_in_the_units_of_the_design(sheet):
    sheet.document.apply("Units", sheet.document.design.having(units="us"))
    sheet.view.select(())
    press(sheet, Qt.Key.Key_P)
    assert "ft" in sheet.accessibleDescription()
