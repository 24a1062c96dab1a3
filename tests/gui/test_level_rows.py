"""Level rows and key: each shelf answers at its own height, in signs and in words."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from core.light_map import breaks
from core.model import Lamp, replace
from core.phrases import phrase
from core.reading import Method, Reading, reading
from core.states import State
from gui.circuit_rows import lanes, parents_of
from gui.key_blocks import Bars, Beside, Curve, Fact, Facts, Scale
from gui.level_entries import short_value
from gui.main_window import MainWindow
from gui.theme import Theme
from tests.gui.windows import build_window


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, tmp_path: Path) -> MainWindow:
    return build_window(qtbot, theme, tmp_path, "stair-alcove", (1400, 1000))


def refill(value: float, low: float, high: float) -> Reading:
    return reading(
        "water", "refill", "tray", phrase("level 1"), value * 86400, "duration",
        phrase("a line"), Method("m", "s"), spread=(low * 86400, high * 86400),
        want=(5 * 86400, None),
    )  # fmt: skip


def test_each_level_has_a_row_at_its_own_height(window: MainWindow) -> None:
    rows = window.rows
    assert sorted(rows.rows) == [1, 2, 3, 4]
    for factor in (1.0, 1.3, 0.7):
        window.sheet.zoom(factor)
        for number, row in rows.rows.items():
            band = window.sheet.level_y((rows.host, number))
            assert band is not None
            top = row.mapTo(window.sheet.viewport(), QPoint(0, 0)).y()
            assert abs(top + row.height() / 2 - (band[0] + band[1]) / 2) <= 1.0


def test_rows_tell_plants_and_three_readings(window: MainWindow) -> None:
    row = window.rows.rows[3]
    assert row.entry.plants == "Jewel orchids"
    assert {"light", "refill"} <= set(row.entry.readings)
    assert not row.vials["light"].isHidden()
    said = row.accessibleName()
    assert said.startswith("Level 3, Jewel orchids. Light ")
    assert "Refill in" in said and "days" in said
    assert "  " not in said


def test_a_row_without_a_reading_has_no_vial(window: MainWindow) -> None:
    window.document.apply_parts(
        "Clear level 1",
        {
            part.id: None
            for part in window.document.design.parts
            if window.sheet.placement.level_of(part.id) == (window.rows.host, 1)
            and part.kind in ("plants", "tray")
        },
    )
    row = window.rows.rows[1]
    assert row.entry.plants == "" and row.vials["light"].isHidden()
    assert "no plants yet" in row.accessibleName()


def test_a_click_a_key_and_a_row_all_choose_the_level(qtbot: QtBot, window: MainWindow) -> None:
    """LOOK §15 no. 6, as far as the rows are concerned."""
    rows = window.rows
    qtbot.mouseClick(rows.rows[2], Qt.MouseButton.LeftButton)
    assert window.view.level == (rows.host, 2)
    assert [number for number, row in rows.rows.items() if row.isChecked()] == [2]
    window.sheet.setFocus()
    qtbot.keyClick(window.sheet, Qt.Key.Key_PageUp)
    assert window.view.level == (rows.host, 3)
    assert [number for number, row in rows.rows.items() if row.isChecked()] == [3]
    rows.rows[4].setFocus()
    qtbot.keyClick(rows.rows[4], Qt.Key.Key_Return)
    assert window.view.level == (rows.host, 4)


def test_low_rows_drop_plants_first_and_numbers_last(window: MainWindow) -> None:
    rows = window.rows
    row = rows.rows[1]
    assert row.plants_shown and row.values_shown
    seen = set()
    for factor in (0.8, 0.8, 0.8, 0.8, 0.8):
        window.sheet.zoom(factor)
        seen.add((row.plants_shown, row.values_shown))
        assert row.plants_shown <= (row.height() >= 44)
    assert (False, True) in seen
    alike = {(one.plants_shown, one.values_shown) for one in rows.rows.values()}
    assert len(alike) == 1, "rows of one unit show alike"


def test_several_hosts_have_a_chooser(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    window = build_window(qtbot, theme, tmp_path, "garage-bay")
    rows = window.rows
    assert rows.chooser.count() >= 2 and not rows.chooser.isHidden()
    other = next(
        rows.chooser.itemData(i)
        for i in range(rows.chooser.count())
        if rows.chooser.itemData(i) != rows.host
    )
    index = rows.chooser.findData(other)
    rows.chooser.setCurrentIndex(index)
    rows.chooser.activated.emit(index)
    assert window.view.level is not None and window.view.level[0] == other
    assert rows.host == other


def test_in_power_the_rows_become_the_circuit(window: MainWindow) -> None:
    window.view.choose_subject("power")
    QApplication.processEvents()
    steps = window.rows.steps
    assert not steps.isHidden() and steps.rows[0].name == "Hall circuit"
    assert all(row.isHidden() for row in window.rows.rows.values())
    assert "step by step" in steps.accessibleName()
    window.view.choose_subject("light")
    assert steps.isHidden()


def test_branches_of_a_circuit_stand_beside_the_line_that_goes_on() -> None:
    depths = (0, 1, 2, 3, 4, 3, 2)
    steps = [SimpleNamespace(depth=depth) for depth in depths]
    assert parents_of(steps) == {1: 0, 2: 1, 3: 2, 4: 3, 5: 2, 6: 1}  # type: ignore[arg-type]
    assert lanes(steps) == [0, 0, 1, 2, 2, 1, 0]  # type: ignore[arg-type]


def test_days_are_written_as_the_range_they_are() -> None:
    assert short_value("refill", refill(6, 3, 12), "metric") == "3–12\u2009d"
    assert short_value("refill", refill(6, 6, 6), "metric") == "6\u2009d"


def test_the_key_of_light_shows_the_groups_want(window: MainWindow) -> None:
    window.view.choose_subject("light")
    window.view.choose_level((window.rows.host, 3))
    scale, facts, curve = window.key.page.blocks
    assert isinstance(scale, Scale) and isinstance(facts, Facts) and isinstance(curve, Curve)
    zone = next(z for z in window.asking.readings.light.zones if z.level == window.view.level)  # type: ignore[union-attr]
    low, high = zone.want
    assert scale.breaks == tuple(f"{at:.0f}" for at in breaks(low, high))
    assert f"want {low:.0f}–{high:.0f}" in scale.want
    names = [fact.name for fact in facts.lines]
    assert names == [
        "Mean", "Lowest", "Highest", "In the range", "Uniformity", "DLI",
        "Reflected", "Lux meter",
    ]  # fmt: skip
    assert curve.want == (low, high) and len(curve.middle) == len(curve.front) > 5
    assert "Mean" in window.key.accessibleName()


@pytest.mark.parametrize(
    ("width", "height", "columns"), [(400, 80, 2), (400, 160, 1), (180, 80, 1)]
)
def test_numbers_stand_in_two_columns_only_where_one_is_too_short(
    window: MainWindow, width: int, height: int, columns: int
) -> None:
    facts = Facts(tuple(Fact(f"Number {one}", "10") for one in range(8)))
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(window.theme.colour("sheet"))
    painter = QPainter(image)
    used = facts.paint(painter, QRectF(image.rect()), window.theme)
    painter.end()
    right = {image.pixel(x, y) for x in range(width * 6 // 10, width) for y in range(height)}

    assert (len(right) > 1) == (columns == 2)
    assert used == (4 if columns == 2 else height // 19) * 19


def test_the_keys_numbers_go_from_old_to_new_while_dragging(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.view.choose_level((window.rows.host, 3))
    lamp = next(
        one
        for one in window.document.design.of(Lamp)
        if window.sheet.placement.level_of(one.id) == (window.rows.host, 3)
    )
    monkeypatch.setattr(type(window.sheet), "dragging", True)
    window.document.propose({lamp.id: replace(lamp, dimming=lamp.dimming / 2)})
    facts = next(b for b in window.key.page.blocks if isinstance(b, Facts))
    assert facts.lines[0].before and facts.lines[0].value.startswith("≈ ")
    assert facts.lines[0].before != facts.lines[0].value
    monkeypatch.setattr(type(window.sheet), "dragging", False)
    window.document.withdraw()
    facts = next(b for b in window.key.page.blocks if isinstance(b, Facts))
    assert not facts.lines[0].before and "≈" not in facts.lines[0].value


@pytest.mark.parametrize("subject", ["air", "power", "water", "climate", "weight", "fit", "cost"])
def test_every_subject_has_a_key(window: MainWindow, subject: str) -> None:
    window.view.choose_subject(subject)
    page = window.key.page
    assert page.title and page.blocks and page.spoken()
    kinds = {"air": Beside, "power": Bars, "water": Bars, "weight": Bars}
    assert isinstance(page.blocks[0], kinds.get(subject, object))
    window.key.grab()


def test_without_a_subject_the_key_is_empty(window: MainWindow) -> None:
    window.view.choose_subject(None)
    assert window.key.page.blocks == ()


def test_no_state_is_called_fine_in_signs_and_not_in_words(window: MainWindow) -> None:
    for row in window.rows.rows.values():
        for name, item in row.entry.readings.items():
            assert row.vials[name].state is item.state
            fine = item.state is State.FINE
            assert ("within the" in row.vials[name].accessibleName()) == fine
