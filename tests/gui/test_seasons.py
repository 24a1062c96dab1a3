"""A season's air from files and fields, the year by months, and how wide to open."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPointF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.climate.opening_table import Opened, OpeningRow
from core.climate.weather import parse_epw, typical_days
from gui.form_seasons import half_wave
from gui.link import Link
from gui.main_window import MainWindow
from gui.opening_widths import OpeningWidths, heads, lines
from gui.season_dialog import LogDialog, WeatherDialog
from gui.theme import Theme
from gui.year_dialog import YearDialog
from tests.climate_kit import weather_text
from tests.gui.test_lamp_files import choose, drop, give
from tests.gui.windows import build_window


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    made = build_window(qtbot, theme, tmp_path, "starter")
    made.tabs.setCurrentWidget(made.form)
    # Readings of what is changed here are not asked about.
    made._solver.silent = True  # type: ignore[attr-defined]
    QApplication.processEvents()
    return made


def log_file(folder: Path) -> Path:
    """Two days of a log: 18 °C and 50 %, but 24 °C from 9 to 21 o'clock."""
    rows = ["Time,Temperature (°C),Humidity (%)"]
    for day in (1, 2):
        for half in range(48):
            warm = 24 if 9 <= half / 2 < 21 else 18
            rows.append(f"2024-01-{day:02d} {half // 2:02d}:{half % 2 * 30:02d},{warm},50")
    path = folder / "log.csv"
    path.write_text("\n".join(rows), encoding="utf-8")
    return path


def weather_file(folder: Path) -> Path:
    path = folder / "middleton.epw"
    path.write_text(weather_text(), encoding="utf-8")
    return path


def form_link(window: MainWindow, words: str) -> Link:
    """Return the first of the links with these words; the first season's is the first."""
    return next(one for one in window.form.findChildren(Link) if one.text() == words)


def settle(window: MainWindow) -> None:
    """Wait until a file has been read."""
    deadline = time.monotonic() + 20
    while window.work.running and time.monotonic() < deadline:
        QTest.qWait(5)
    assert not window.work.running


def dialog_of(window: MainWindow, kind: type) -> object:
    settle(window)
    found = [one for one in window.findChildren(kind) if one.isVisible()]
    assert len(found) == 1
    return found[0]


# --- files ---------------------------------------------------------------------------------------


def test_a_log_dropped_on_the_form_becomes_the_rooms_day(
    window: MainWindow, tmp_path: Path
) -> None:
    before = window.document.design
    assert drop(window.form, QPointF(40, 40), log_file(tmp_path))
    dialog = dialog_of(window, LogDialog)
    assert isinstance(dialog, LogDialog)
    assert "96 values on 2 days, 2024-01-01 to 2024-01-02" in dialog.facts.text()
    dialog.use.click()
    season = window.document.design.seasons[0]
    assert season.room is not None and season.outdoors is None
    assert season.room.temperature[12] == pytest.approx(24.0)
    assert season.room.temperature[3] == pytest.approx(18.0)
    assert (season.id, season.name) == (before.seasons[0].id, before.seasons[0].name)
    assert "log.csv" in season.source
    window.document.undo_stack.undo()
    assert window.document.design == before


def test_a_log_dropped_on_the_sheet_asks_too_and_can_be_of_the_outdoors(
    window: MainWindow, tmp_path: Path
) -> None:
    assert drop(window.sheet.viewport(), QPointF(700, 300), log_file(tmp_path))
    dialog = dialog_of(window, LogDialog)
    assert isinstance(dialog, LogDialog)
    choose(dialog.hung, "outdoors")
    choose(dialog.season, "summer")
    dialog.use.click()
    summer = window.document.design.season("summer")
    assert summer.outdoors is not None and summer.room is None
    assert window.view.season == "summer" and window.ribbon.season == "summer"


def test_a_bad_file_is_told_in_the_bar_with_its_line(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "bad.csv"
    path.write_text("Time,Temperature,Humidity\n2024-01-01 10:00,much,50\n", encoding="utf-8")
    assert drop(window, QPointF(300, 10), path)
    settle(window)
    assert "bad.csv" in window.errors.text and "line 2" in window.errors.text
    short = tmp_path / "short.epw"
    short.write_text("\n".join(weather_text().splitlines()[:200]), encoding="utf-8")
    assert drop(window, QPointF(300, 10), short)
    settle(window)
    assert "short.epw" in window.errors.text and "192 hours" in window.errors.text
    assert not window.findChildren(LogDialog)


def test_a_month_of_weather_becomes_the_season_with_its_sun(
    window: MainWindow, tmp_path: Path
) -> None:
    window.files.questions.path = weather_file(tmp_path)  # type: ignore[attr-defined]
    form_link(window, "Air from a year of weather (EPW)…").click()
    dialog = dialog_of(window, WeatherDialog)
    assert isinstance(dialog, WeatherDialog)
    # The made-up year is coldest in late January; winter's own outdoors are 2.5 °C on the mean.
    assert dialog.month.value in (11, 12, 1, 2, 3)
    choose(dialog.month, 7)
    choose(dialog.room.facing, 180.0)
    give(dialog.room.offset, "4 K")
    assert "Middleton" in dialog.facts.text() and "Sun on the window" in dialog.facts.text()
    dialog.use.click()
    season = window.document.design.seasons[0]
    july = typical_days(parse_epw(weather_text()), 180.0)[6]
    assert season.outdoors is not None and season.sun is not None and season.room is not None
    assert season.outdoors.temperature[15] == pytest.approx(float(july.temperature[15]), abs=0.01)
    assert season.room.temperature[15] == pytest.approx(float(july.temperature[15]) + 4, abs=0.01)
    assert max(season.sun) == pytest.approx(float(july.sun.max()), abs=0.1)


def test_by_day_and_night_again_takes_the_hours_away(window: MainWindow, tmp_path: Path) -> None:
    assert drop(window.form, QPointF(40, 40), log_file(tmp_path))
    dialog = dialog_of(window, LogDialog)
    assert isinstance(dialog, LogDialog)
    dialog.use.click()
    assert "seasons.0.room_day" not in window.form.fields
    form_link(window, "Go by day and night again").click()
    assert window.document.design.seasons[0].room is None
    assert "seasons.0.room_day" in window.form.fields


def test_sun_is_typed_as_its_most_and_its_hours(window: MainWindow) -> None:
    give(window.form.fields["seasons.0.sun.most"], "300")
    QApplication.processEvents()
    give(window.form.fields["seasons.0.sun.rise"], "10:00")
    sun = window.document.design.seasons[0].sun
    assert sun is not None and max(sun) == pytest.approx(300)
    assert sun[10] == 0 and sun[11] > 0 and sun[15] > 0 and sun[16] == 0
    give(window.form.fields["seasons.0.sun.rise"], "15:00")
    assert "two hours" in window.form.fields["seasons.0.sun.rise"].problem
    assert window.document.design.seasons[0].sun == sun


@given(st.integers(0, 20), st.integers(2, 10), st.floats(1, 1400))
def test_a_half_wave_reaches_its_most_within_its_hours(rise: int, length: int, most: float) -> None:
    sink = min(rise + length, 23)
    if sink - rise < 2:
        return
    wave = half_wave(rise, sink, most)
    assert max(wave) == pytest.approx(most, abs=0.06)
    assert not any(wave[: rise + 1]) and not any(wave[sink:])


# --- the year ------------------------------------------------------------------------------------


def test_a_year_is_worked_out_beside_the_window_and_hours_can_be_stopped(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
) -> None:
    window.files.questions.path = weather_file(tmp_path)  # type: ignore[attr-defined]
    window.actions_.by_name["year"].trigger()
    dialog = dialog_of(window, YearDialog)
    assert isinstance(dialog, YearDialog)
    assert not dialog.days.isEnabled()
    dialog.choose.click()
    settle(window)
    assert "Middleton" in dialog.place.text()
    dialog.days.click()
    qtbot.waitUntil(lambda: len(dialog.months) == 12, timeout=30_000)
    qtbot.waitUntil(lambda: not window.work.running, timeout=5_000)
    january, july = dialog.months[0], dialog.months[6]
    assert july.temperature.mean > january.temperature.mean + 3
    assert (january.season, july.season) == ("winter", "summer")
    assert dialog.table.rowCount() == 13 and dialog.table.item(12, 0).text() == "Year"
    told: list[float] = []
    window.work.progressed.connect(told.append)
    dialog.hours.click()
    qtbot.waitUntil(lambda: len(told) >= 2, timeout=30_000)
    window.status.stop.click()
    assert not window.work.running
    assert dialog.days.isEnabled() and len(dialog.months) == 12
    window.work.wait()
    assert 0 < told[-1] < 1


def test_a_year_without_an_enclosure_says_what_is_missing(
    qtbot: QtBot, theme: Theme, tmp_path: Path
) -> None:
    window = build_window(qtbot, theme, tmp_path, "empty-room")
    window.actions_.by_name["year"].trigger()
    assert "enclosure" in window.errors.text
    assert not window.findChildren(YearDialog)


# --- opening widths ------------------------------------------------------------------------------


def test_the_table_of_widths_says_shut_wide_and_too_warm(window: MainWindow) -> None:
    rows = (
        OpeningRow(-5.0, Opened(0.0, 17.0, True), Opened(0.0, 18.5)),
        OpeningRow(20.0, Opened(0.12, 26.9), Opened(None, 31.0)),
    )
    assert len(heads(rows)) == 5
    cells = [[cell.text for cell in line.cells] for line in lines(rows, "metric")]
    assert cells[0][1:4] == ["shut; too cool", "17\u2009°C", "shut"]
    assert cells[1][1] == "12 cm" or cells[1][1] == "0.12 m"
    assert cells[1][3] == "too warm even wide open"


def test_widths_are_worked_out_for_the_plants_inside(qtbot: QtBot, window: MainWindow) -> None:
    window.actions_.by_name["opening widths"].trigger()
    table = dialog_of(window, OpeningWidths)
    assert isinstance(table, OpeningWidths)
    qtbot.waitUntil(lambda: table.table.rowCount() > 5, timeout=20_000)
    assert "18" in table.note.text() or "27" in table.note.text()
