"""The eight rows: what they say, to eyes and ears, and what a click does."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from core.phrases import Amount, phrase
from core.reading import SUBJECTS, Method, Reading, SubjectReadings, reading
from core.states import State, judge, words
from gui.how_panel import HowPanel, by_method
from gui.readings_panel import ReadingsPanel, SubjectRow, state_words
from gui.spoken import aloud
from gui.theme import Theme
from gui.vial import mark_kind
from gui.view import View

METHOD = Method("Direct light is summed up.", "A handbook", "8 %", ("Reflections are left out.",))


def light(value: float | None = 184.0, subject: str = "light") -> Reading:
    spread = None if value is None else (0.92 * value, 1.08 * value)
    return reading(
        subject,
        "ppfd",
        "zone",
        phrase("level 4"),
        value,
        "photon_flux_density",
        phrase("{value} at level 4; want 60–120", value=str(round(value or 0))),
        METHOD,
        spread=spread,
        want=(60.0, 120.0),
        assumptions=(phrase("leaves return {share}", share=Amount(0.07, "fraction")),),
    )


def readings(quality: str = "final", **subjects: SubjectReadings) -> Any:
    found = {
        name: subjects.get(name) or SubjectReadings(subject=name, nothing=phrase("no part yet"))
        for name in SUBJECTS
    }
    return SimpleNamespace(
        design=SimpleNamespace(units="metric"),
        quality=quality,
        subject=found.__getitem__,
        **found,
    )


def of_light(item: Reading, *, coarse: bool = False) -> SubjectReadings:
    return SubjectReadings(subject="light", rows=(item,), headline=item, coarse=coarse)


@pytest.fixture
def panel(qtbot: QtBot, theme: Theme) -> ReadingsPanel:
    made = ReadingsPanel(theme, View())
    qtbot.addWidget(made)
    made.resize(344, 400)
    made.show()
    return made


def test_the_rows_stand_in_the_subjects_order_and_ask_their_questions(panel: ReadingsPanel) -> None:
    assert tuple(panel.rows) == SUBJECTS
    tops = [row.y() for row in panel.rows.values()]
    assert tops == sorted(tops)
    assert panel.rows["light"].line == "Enough light at each shelf?"
    assert panel.hint.text() == "they fill as you place things"


def test_a_row_says_number_place_limit_and_how_sure_it_is(panel: ReadingsPanel) -> None:
    panel.show_readings(readings(light=of_light(light())))
    row = panel.rows["light"]
    assert (row.words, row.line) == ("too strong", "184 at level 4; want 60–120")
    assert row.vial.state is State.HIGH
    assert row.accessibleName() == (
        "Light, too strong: 184 at level 4, wanted 60 to 120, plus or minus 8 percent"
    )
    assert panel.hint.text() == "click one to see it drawn"


def test_what_is_not_known_says_why(panel: ReadingsPanel) -> None:
    panel.show_readings(readings(light=of_light(light())))
    assert panel.rows["air"].line == "no part yet"
    assert panel.rows["air"].vial.state is State.UNKNOWN
    assert panel.rows["air"].accessibleName() == "Air: no part yet"


def test_coarse_readings_are_marked_until_the_final_ones_come(panel: ReadingsPanel) -> None:
    coarse = readings("coarse", light=of_light(light(), coarse=True))
    panel.show_readings(coarse)
    assert panel.hint.text() == "coarse, final to come"
    panel.show_readings(coarse, dragged=True)
    assert panel.hint.text() == "coarse while you drag"
    assert panel.rows["light"].shown_line().startswith("≈ 184")
    panel.show_readings(readings("final", light=of_light(light())))
    assert panel.rows["light"].shown_line().startswith("184")


def test_a_design_with_parts_is_said_to_be_read_until_its_first_readings(
    panel: ReadingsPanel,
) -> None:
    panel.show_readings(readings(light=of_light(light())))
    panel.start_afresh(awaited=True)
    row = panel.rows["light"]
    assert panel.hint.text() == "Reading the design…"
    assert (row.line, row.words) == ("Enough light at each shelf?", "")
    panel.show_readings(readings(light=of_light(light())))
    assert panel.hint.text() == "click one to see it drawn"


def test_a_narrow_column_keeps_the_number_and_leaves_the_limit_to_the_tooltip(
    panel: ReadingsPanel,
) -> None:
    panel.show_readings(readings(light=of_light(light())))
    panel.set_compact(True)
    row = panel.rows["light"]
    assert row.shown_line() == "184 at level 4"
    assert row.vial.sizeHint().width() == 64
    assert "want 60–120" in row.toolTip()


def test_a_long_line_loses_its_end_and_keeps_its_number_uncut(panel: ReadingsPanel) -> None:
    row = panel.rows["climate"]
    row.line = (
        "14.7 °F below the dew point at the bottom face, walls mist day and night; want above it"
    )
    said = row.shown_line()
    assert said == "14.7 °F below the dew point at the bottom face"
    assert row._second().horizontalAdvance(said) <= row.width() - 62


def test_a_click_chooses_the_subject_and_a_second_one_asks_how(qtbot: QtBot, theme: Theme) -> None:
    view = View()
    panel = ReadingsPanel(theme, view)
    qtbot.addWidget(panel)
    panel.show()
    asked: list[str] = []
    panel.how_asked.connect(asked.append)
    qtbot.mouseClick(panel.rows["air"], Qt.MouseButton.LeftButton)
    assert view.subject == "air" and asked == []
    assert [name for name, row in panel.rows.items() if row.isChecked()] == ["air"]
    qtbot.mouseClick(panel.rows["air"], Qt.MouseButton.LeftButton)
    assert view.subject == "air" and asked == ["air"]


def test_enter_chooses_and_arrows_walk_along_the_rows(qtbot: QtBot, panel: ReadingsPanel) -> None:
    panel.activateWindow()
    panel.rows["light"].setFocus()
    qtbot.waitUntil(panel.rows["light"].hasFocus)
    qtbot.keyClick(panel.rows["light"], Qt.Key.Key_Down)
    assert panel.rows["air"].hasFocus()
    qtbot.keyClick(panel.rows["air"], Qt.Key.Key_Return)
    assert panel.rows["air"].isChecked()
    qtbot.keyClick(panel.rows["air"], Qt.Key.Key_Up)
    assert panel.rows["light"].hasFocus()


@pytest.mark.parametrize("height", [0, 50])
def test_both_lines_fit_into_a_row(panel: ReadingsPanel, height: int) -> None:
    panel.set_tall(bool(height))
    QApplication.processEvents()
    row = panel.rows["light"]
    metrics = row.fontMetrics()
    assert row.height() >= max(height, 2 * metrics.height() - 2)


# LOOK §15 no. 8: word, mark and accessible name agree, whatever the numbers.
TELLING = [
    # value, low, high, want low, want high
    (90, 85, 95, 60, 120),
    (60, 60, 60, 60, 120),
    (120, 120, 120, 60, 120),
    (90, 50, 130, 60, 120),
    (62, 55, 70, 60, 120),
    (118, 110, 126, 60, 120),
    (55, 50, 65, 60, 120),
    (125, 115, 135, 60, 120),
    (40, 35, 45, 60, 120),
    (184, 170, 198, 60, 120),
    (50, 40, 60, 60, 120),
    (130, 120, 140, 60, 120),
    (90, None, None, 60, 120),
    (50, None, None, 60, 120),
    (130, None, None, 60, 120),
    (0.31, 0.21, 0.41, 0.1, None),
    (0.12, 0.02, 0.22, 0.1, None),
    (0.06, 0.0, 0.16, 0.1, None),
    (0.01, 0.0, 0.05, 0.1, None),
    (0.1, 0.1, 0.1, 0.1, None),
    (612, 580, 640, None, 2300),
    (2290, 2180, 2400, None, 2300),
    (2310, 2200, 2420, None, 2300),
    (2500, 2400, 2600, None, 2300),
    (2300, 2300, 2300, None, 2300),
    (0, 0, 0, 0, None),
    (5, 5, 5, None, None),
    (None, None, None, 60, 120),
    (float("nan"), None, None, 60, 120),
    (6, 3, 12, 5, None),
]  # fmt: skip


@pytest.mark.parametrize(("value", "low", "high", "want_low", "want_high"), TELLING)
def test_word_mark_and_name_agree(
    qtbot: QtBot, theme: Theme, value: Any, low: Any, high: Any, want_low: Any, want_high: Any
) -> None:
    spread = None if low is None else (float(low), float(high))
    number = None if value is None else float(value)
    item = reading(
        "light", "ppfd", "", phrase("level 4"), number, "count", phrase("a line"), METHOD,
        spread=spread, want=(want_low, want_high),
    )  # fmt: skip
    row = SubjectRow(theme, "light")
    qtbot.addWidget(row)
    row.show_reading(of_light(item), "metric")
    state = judge(number, item.low, item.high, want_low, want_high)
    one_sided = (want_low is None) != (want_high is None)
    assert row.words == state_words(item) == words(state, "light", one_sided=one_sided)
    assert row.vial.state is state
    assert row.accessibleName().startswith(f"Light, {row.words}: a line")
    assert mark_kind(state) == mark_kind(item.state)


def test_signs_are_said_in_words() -> None:
    said = aloud("0.06 m/s at level 2; want 0.10–0.50")
    assert said == "0.06 metres per second at level 2, wanted 0.10 to 0.50"
    assert aloud("± 30 % of −2–4 °C") == "plus or minus 30 percent of −2 to 4 degrees Celsius"


def test_how_this_was_found_tells_everything(qtbot: QtBot, theme: Theme) -> None:
    panel = HowPanel(theme)
    qtbot.addWidget(panel)
    second = light(90.0)
    found = SubjectReadings(subject="light", rows=(light(), second), headline=light())
    panel.show_subject("light", readings(light=found))
    said = " ".join(label.text() for label in panel.findChildren(QLabel))
    for wanted in (
        "Light: how this was found",
        "184 at level 4",
        "90 at level 4",
        "within the range",
        METHOD.method,
        METHOD.source,
        METHOD.uncertainty,
        METHOD.omissions[0],
        "leaves return 7",
    ):
        assert wanted in said
    assert said.index(METHOD.method) < said.index("184 at level 4"), "the method comes first"
    assert list(by_method(found.rows)) == [METHOD]
    qtbot.keyClick(panel, Qt.Key.Key_Escape)
    assert not panel.isVisible()
