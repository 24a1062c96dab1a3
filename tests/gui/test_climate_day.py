"""Climate in the window: the day in the sheet's place, its ribbon and key, edits compared."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.climate.psychrometrics import saturation_pressure
from core.model import Heater, Place, SetPoint, Thermostat, replace
from gui.climate_day_lines import rows_of, strokes, track
from gui.key_climate import climate_page
from gui.key_table import LevelTable
from gui.link import Link
from gui.main_window import MainWindow
from gui.theme import Theme
from tests.gui.windows import build_window, press

FIVE, ESCAPE = Qt.Key.Key_5, Qt.Key.Key_Escape


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    """The starter in Climate."""
    made = build_window(qtbot, theme, tmp_path, "starter")
    press(made.sheet, FIVE)
    return made


def heat(window: MainWindow) -> None:
    """Put a heater in that its thermostat switches at 25 °C."""
    design = window.document.design
    assert design.enclosure is not None
    size, place = {"width": 0.1, "depth": 0.1, "height": 0.1}, Place(host=design.enclosure.id)
    points = (SetPoint(value=25),)
    stat = Thermostat(id="stat", name="Stat", set_points=points, place=place, **size)
    heater = Heater(id="heater", name="Heater", watts=300, control="stat", place=place, **size)
    window.document.apply("Heat", design.having(parts=(*design.parts, stat, heater)))


def link(words: str, inside: object) -> Link:
    links = [one for one in inside.findChildren(Link) if one.text() == words]  # type: ignore[attr-defined]
    assert len(links) == 1, words
    return links[0]


# --- the day takes the sheet's place -------------------------------------------------------------


def test_key_5_shows_the_day_and_escape_brings_the_sheet_back(window: MainWindow) -> None:
    climate = window.climate
    assert climate.shown and climate.day.isVisible() and not window.sheet.isVisible()
    assert climate.day.hasFocus()
    press(window, ESCAPE)
    assert window.sheet.isVisible() and window.sheet.hasFocus()
    assert window.view.subject == "climate" and window.key.page.title.startswith("Climate")
    press(window, FIVE)
    assert climate.shown
    press(window, Qt.Key.Key_1)
    assert window.view.subject == "light" and window.sheet.isVisible()
    assert not window.head.day.isVisible()


def test_escape_from_another_pane_leaves_the_day(window: MainWindow) -> None:
    window.panes.give(window.readings)
    press(window, ESCAPE)
    assert not window.climate.shown


def test_head_key_and_foot_lead_to_the_day_and_back(window: MainWindow) -> None:
    climate, left = window.climate, Qt.MouseButton.LeftButton
    QTest.mouseClick(link("Bring the sheet back", climate.foot), left)
    assert not climate.shown
    QTest.mouseClick(link("Show the day", window.sheet.viewport()), left)
    assert climate.shown
    QTest.mouseClick(window.head.layouts["plan"], left)
    assert not climate.shown and window.view.layout == "plan"
    QTest.mouseClick(window.head.day, left)
    assert climate.shown and window.head.day.isChecked()


def test_without_an_enclosure_the_sheet_stays(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    window = build_window(qtbot, theme, tmp_path, "empty-room")
    press(window.sheet, FIVE)
    assert window.view.subject == "climate" and window.sheet.isVisible()
    assert not window.head.day.isVisible()
    assert "no enclosure" in window.key.page.spoken()


def test_the_time_is_shared_with_ribbon_and_sheet(window: MainWindow) -> None:
    day = window.climate.day
    at = QPoint(round(day.x_of(14 * 60 + 20)), day.height() // 2)
    QTest.mouseClick(day, Qt.MouseButton.LeftButton, pos=at)
    assert window.view.minute == window.ribbon.time == 14 * 60 + 20
    day.setFocus()
    press(day, Qt.Key.Key_Left)
    assert window.view.minute == 14 * 60 + 5
    press(day, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert window.view.minute == 15 * 60 + 5
    assert "15:05" in day.accessibleName()
    press(day, Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert window.view.minute == 14 * 60 + 50
    assert "14:50" in window.climate.foot.clock.text()


def test_the_day_speaks_every_line_and_device(window: MainWindow) -> None:
    heat(window)
    words = window.climate.day.accessibleName()
    for part in ("Temperature", "Humidity", "VPD", "Dew margin", "Heater runs", "of the day"):
        assert part in words
    assert "degrees Celsius" in words


# --- what the lines are --------------------------------------------------------------------------


def test_a_band_is_as_wide_as_the_means_range_by_day_and_by_night(window: MainWindow) -> None:
    readings = window.asking.readings
    assert readings is not None
    line = track(readings, "temperature")
    assert line is not None
    for half, lit in (("day", line.lit), ("night", ~line.lit)):
        row = rows_of(readings.climate, f"temperature-{half}")[0]
        minute = int(np.flatnonzero(lit)[7])
        assert row.value is not None and row.low is not None and row.high is not None
        assert line.values[minute] - line.low[minute] == pytest.approx(row.value - row.low)
        assert line.high[minute] - line.values[minute] == pytest.approx(row.high - row.value)
        low, high = line.wanted
        assert (low[minute], high[minute]) == (row.want_low, row.want_high)


def test_the_wanted_deficit_follows_from_warmth_and_humidity(window: MainWindow) -> None:
    """Starter: ferns want 18 to 27 °C and at least 60 % by day, so at most 0.4 of saturation."""
    readings = window.asking.readings
    assert readings is not None
    line = track(readings, "deficit")
    assert line is not None
    assert line.day == ((None, pytest.approx(0.4 * float(saturation_pressure(27.0)))),)


def test_strokes_keep_the_time_that_a_device_runs(window: MainWindow) -> None:
    heat(window)
    readings = window.asking.readings
    assert readings is not None
    heater = readings.climate.device("heater")
    assert heater is not None and 0.02 < heater.duty.mean() < 1
    for least in (1, 6):
        total = sum((off - on) * share for on, off, share in strokes(heater, least))
        assert total == pytest.approx(float(heater.duty.sum()), abs=8)


# --- the ribbon ----------------------------------------------------------------------------------


def test_the_ribbon_shows_the_line_that_is_chosen(window: MainWindow) -> None:
    ribbon = window.ribbon
    window.climate.leave()
    assert ribbon.axis.accessibleDescription().startswith("Temperature")
    assert ribbon.lines.isVisible() and not ribbon.mean_link.isVisible()
    ribbon.lines.setFocus()
    QTest.keyClick(ribbon.lines, Qt.Key.Key_Down)
    ribbon.lines.activated.emit(ribbon.lines.currentIndex())
    assert window.view.line == "humidity"
    assert ribbon.axis.accessibleDescription().startswith("Humidity")
    window.actions_.by_name["line deficit"].trigger()
    assert ribbon.axis.accessibleDescription().startswith("VPD")
    assert ribbon.lines.currentText() == "VPD"
    window.sheet.setFocus()
    press(window, Qt.Key.Key_1)
    assert ribbon.axis.accessibleDescription().startswith("Watts")
    assert not ribbon.lines.isVisible()


def test_another_season_is_another_day(window: MainWindow) -> None:
    before = window.climate.day.tracks[0].values.mean()
    window.ribbon.seasons.setCurrentIndex(1)
    window.ribbon.seasons.activated.emit(1)
    QApplication.processEvents()
    assert window.climate.day.title().startswith("Summer day")
    assert window.climate.day.tracks[0].values.mean() > before + 1
    assert window.climate.before is None


# --- before and after an edit --------------------------------------------------------------------


def test_an_edit_is_compared_with_what_was_before(window: MainWindow) -> None:
    day, old = window.climate.day, window.climate.day.tracks[0].values
    assert day.tracks[0].before is None
    heat(window)
    assert np.array_equal(day.tracks[0].before, old)
    assert day.tracks[0].values.mean() > old.mean() + 1
    assert "before the last edit" in day.subtitle()
    table = next(b for b in window.key.page.blocks if isinstance(b, LevelTable))
    warmth = table.rows[0].levels[0]
    assert warmth.before and warmth.before != warmth.value
    link("Compare no more", window.climate.foot).click()
    assert day.tracks[0].before is None
    table = next(b for b in window.key.page.blocks if isinstance(b, LevelTable))
    assert not table.rows[0].levels[0].before


def test_a_new_name_compares_nothing(window: MainWindow) -> None:
    box = window.document.design.enclosure
    assert box is not None
    window.document.apply_parts("Name", {box.id: replace(box, notes="by the door")})
    assert window.climate.before is None


# --- the key -------------------------------------------------------------------------------------


def test_the_key_tells_day_and_night_and_what_a_day_uses(window: MainWindow) -> None:
    heat(window)
    readings = window.asking.readings
    assert readings is not None
    page = climate_page(window.view, readings, None)
    table = next(b for b in page.blocks if isinstance(b, LevelTable))
    assert table.heads == ("by day", "by night")
    day = readings.climate.day
    assert day is not None
    assert (
        table.rows[0].levels[0].value
        == f"{day.temperature.mean:.1f}".rstrip("0").rstrip(".") + "\u2009°C"
    )
    words = page.spoken()
    energy = sum(one.kwh_per_day for one in readings.climate.devices)
    for part in ("Night drop", "Evaporates", "mist", f"Devices use {energy:.3g}"[:15]):
        assert part in words


def test_a_wet_wall_is_drawn_on_the_sheet(window: MainWindow) -> None:
    """A face that mists has drops along it, one that stays dry has none."""
    window.climate.leave()
    readings = window.asking.readings
    assert readings is not None
    wet = min(float(face.margin.min()) for face in readings.climate.faces) < 0
    front = window.sheet.camera.panes["front"].toRect()
    drawn = window.sheet.viewport().grab(front).toImage()
    window.view.choose_subject(None)
    QApplication.processEvents()
    plain = window.sheet.viewport().grab(front).toImage()
    assert (drawn != plain) == wet


def test_f6_goes_to_the_day_where_it_is_shown(window: MainWindow) -> None:
    window.panes.give(window.shelf)
    press(window, Qt.Key.Key_F6)
    assert window.climate.day.hasFocus()
    window.climate.leave()
    assert window.sheet.hasFocus()
