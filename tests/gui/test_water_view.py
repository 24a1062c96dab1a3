"""Water in the window: fourteen days in the ribbon, fill and days on the sheet, the key's page."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from core.model import Tray, replace
from gui.day_ribbon import DayRibbon
from gui.key_blocks import Bars, Note, Said
from gui.key_page import KeyPage
from gui.key_pages import page_for
from gui.main_window import MainWindow
from gui.theme import Theme
from tests.gui.windows import build_window, press


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    """The starter with a tray that lasts six days, as was measured."""
    made = build_window(qtbot, theme, tmp_path, "starter")
    measure(made, 6.0)
    return made


def measure(window: MainWindow, days: float) -> None:
    trays = {t.id: replace(t, measured_days=days) for t in window.document.design.of(Tray)}
    window.document.apply_parts("Measured", trays)


def ribbon_of(window: MainWindow) -> DayRibbon:
    return window.ribbon


def test_water_turns_the_ribbon_to_fourteen_days_and_another_subject_back(
    window: MainWindow,
) -> None:
    ribbon = ribbon_of(window)
    assert not ribbon.ahead
    press(window.sheet, Qt.Key.Key_4)
    assert ribbon.ahead
    assert ribbon.fortnight.isVisible() and not ribbon.axis.isVisible()
    assert not ribbon.mean_link.isVisible()
    press(window.sheet, Qt.Key.Key_3)
    assert ribbon.axis.isVisible() and not ribbon.fortnight.isVisible()


def test_the_ribbon_names_its_refills_and_reads_day_by_day(
    qtbot: QtBot, window: MainWindow
) -> None:
    press(window.sheet, Qt.Key.Key_4)
    axis = ribbon_of(window).fortnight
    assert axis.accessibleName() == "Fourteen days, refills on day 6, 12"
    axis.setFocus()
    qtbot.keyClick(axis, Qt.Key.Key_Right)
    assert axis.accessibleDescription().startswith("today: the emptiest holds 100\u2009%")
    for _ in range(6):
        qtbot.keyClick(axis, Qt.Key.Key_Right)
    assert axis.day == 6
    assert "; refill " in axis.accessibleDescription()
    qtbot.keyClick(axis, Qt.Key.Key_Left)
    assert "; refill " not in axis.accessibleDescription()


def test_the_pointer_reads_the_day_below_it(qtbot: QtBot, window: MainWindow) -> None:
    press(window.sheet, Qt.Key.Key_4)
    axis = ribbon_of(window).fortnight
    qtbot.mouseMove(axis, QPoint(round(axis.x_of(9)), 20))
    assert axis.day == 9
    assert axis.day_at(-40) == 0 and axis.day_at(5000) == 14


def test_an_edited_tray_shows_at_once_in_the_ribbon(window: MainWindow) -> None:
    press(window.sheet, Qt.Key.Key_4)
    measure(window, 3.0)
    name = ribbon_of(window).fortnight.accessibleName()
    assert name == "Fourteen days, refills on day 3, 6, 9, 12"


def page(window: MainWindow) -> KeyPage:
    readings = window.asking.readings
    assert readings is not None
    return page_for(window.view, readings, None)


def test_the_key_shows_how_full_each_container_is_and_what_else_there_is_to_know(
    window: MainWindow,
) -> None:
    press(window.sheet, Qt.Key.Key_4)
    bars = next(block for block in page(window).blocks if isinstance(block, Bars))
    volume, holds = (float(part.split()[0]) for part in bars.lines[0].value.split(" of "))
    assert bars.lines[0].share == pytest.approx(volume / holds, abs=0.01)
    assert bars.lines[0].more == "5 to 7"
    said = next(block for block in page(window).blocks if isinstance(block, Said))
    assert any("If everything ran out" in words and "holds" in words for _, words in said.lines)
    assert any("Days away" in b.text for b in page(window).blocks if isinstance(b, Note))


def test_days_away_are_answered_in_the_key_as_soon_as_they_are_asked_for(
    window: MainWindow,
) -> None:
    press(window.sheet, Qt.Key.Key_4)
    window.view.select(())
    window.tabs.setCurrentWidget(window.form)
    line = window.form.fields["targets.away_days"].editor
    line.setFocus()
    QTest.keyClicks(line, "30")
    press(line, Qt.Key.Key_Return)
    assert window.document.design.targets.away_days == 30.0
    said = next(block for block in page(window).blocks if isinstance(block, Said))
    assert said.lines[0][1].startswith("Away for 30 days: ")
    assert not any(isinstance(b, Note) and "Days away" in b.text for b in page(window).blocks)


@pytest.mark.parametrize("subject", [Qt.Key.Key_4, Qt.Key.Key_6])
def test_the_sheet_says_days_and_loads_beside_what_they_are_of(
    window: MainWindow, subject: Qt.Key
) -> None:
    # What no subject draws is told from what this one does by the picture alone.
    press(window.sheet, Qt.Key.Key_0)
    bare = window.sheet.grab().toImage()
    press(window.sheet, subject)
    assert window.sheet.grab().toImage() != bare


def test_fourteen_days_without_a_refill_are_drawn_and_say_so(window: MainWindow) -> None:
    measure(window, 40.0)
    press(window.sheet, Qt.Key.Key_4)
    axis = ribbon_of(window).fortnight
    assert axis.accessibleName() == "Fourteen days, no refill"
    assert not axis.grab().isNull()


def test_a_ribbon_without_water_says_so(qtbot: QtBot, theme: Theme) -> None:
    bare = DayRibbon(theme)
    qtbot.addWidget(bare)
    bare.show_ahead(None, "metric")
    assert bare.fortnight.accessibleName() == "Fourteen days, nothing uses water"
    assert not bare.grab().isNull()
