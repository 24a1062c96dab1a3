"""The circuits step by step and the day's watts: read, rewired by mouse and keys, and told."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from core.air.flows import JETS
from core.readings import Reader, Readings
from core.storage import load
from gui.circuit_steps import CircuitSteps
from gui.circuit_tree import CircuitTree, shortened
from gui.day_ribbon import DayRibbon
from gui.document import Document
from gui.load_chart import LoadDialog, round_above
from gui.load_layers import layers_of, limit_va, own_limit_watts
from gui.plug_menu import PlugMenu
from gui.ribbon_lines import fill_ribbon
from gui.theme import Theme
from gui.view import View

GARAGE = Path(__file__).parents[2] / "resources" / "demos" / "garage-bay.fern"


@pytest.fixture(scope="module")
def readings() -> Readings:
    return Reader(flows=JETS).update(load(GARAGE))


@pytest.fixture
def steps(qtbot: QtBot, theme: Theme, readings: Readings) -> Iterator[CircuitSteps]:
    frame = QWidget()
    qtbot.addWidget(frame)
    frame.resize(400, 900)
    made = CircuitSteps(theme, frame, Document(readings.design), View())
    made.resize(400, 900)
    made.show_readings(readings)
    made.show()
    frame.show()
    qtbot.waitExposed(frame)
    QApplication.processEvents()
    yield made


def place_of(tree: CircuitTree, thing: str) -> int:
    return next(place for place, row in enumerate(tree.rows) if row.thing == thing)


def middle(tree: CircuitTree, thing: str) -> QPoint:
    return tree.row_rect(place_of(tree, thing)).center()


def drag(tree: CircuitTree, thing: str, onto: str) -> None:
    """Carry a row onto another, as a person does."""
    start, end = middle(tree, thing), middle(tree, onto)
    QTest.mousePress(tree, Qt.MouseButton.LeftButton, pos=start)
    for share in (0.3, 0.7, 1.0):
        QTest.mouseMove(tree, start + (end - start) * share)
    QTest.mouseRelease(tree, Qt.MouseButton.LeftButton, pos=end)


def into(steps: CircuitSteps, thing: str) -> str | None:
    plug = getattr(steps.tree._document.committed.by_id[thing], "plug", None)
    return plug.into if plug else None


def test_the_steps_tell_other_things_and_all_loads_in_one_unit(steps: CircuitSteps) -> None:
    kinds = [row.step.kind if row.step else "device" for row in steps.rows]
    assert kinds[:2] == ["circuit", "others"]
    spoken = steps.tree.accessibleName().split(". ")
    assert "other things on this circuit, taken" in spoken[1]
    loads = [row.words for row in steps.rows if row.step and row.step.kind != "chain"]
    assert all("VA" in words for words in loads)


def test_every_device_and_chain_has_its_row_below_what_feeds_it(
    steps: CircuitSteps, readings: Readings
) -> None:
    rows = {row.thing: row for row in steps.rows if row.thing}
    assert rows["heater"].depth == rows["lead"].depth + 1
    linked = {lamp.id for chain in readings.power.tree.chains for lamp in chain[1:]}
    assert set(rows) == {*readings.power.tree.feeds} - linked


def test_a_row_is_dragged_onto_another_socket_as_one_step(steps: CircuitSteps) -> None:
    assert into(steps, "fan-left") == "lead"
    drag(steps.tree, "fan-left", "strip")
    assert into(steps, "fan-left") == "strip"
    undo = steps.tree._document.undo_stack
    assert (undo.count(), undo.undoText()) == (1, "Plug Fan, left into Strip")
    undo.undo()
    assert into(steps, "fan-left") == "lead"


def test_a_row_let_go_of_where_it_may_not_be_stays(steps: CircuitSteps) -> None:
    drag(steps.tree, "lead", "strip")  # never one behind the other
    drag(steps.tree, "strip", "timer-a")  # the timer itself hangs on the strip
    drag(steps.tree, "fan-left", "heater")  # a heater takes no plugs
    assert steps.tree._document.undo_stack.count() == 0


def test_escape_puts_a_carried_row_back(steps: CircuitSteps) -> None:
    tree = steps.tree
    start, end = middle(tree, "fan-left"), middle(tree, "strip")
    QTest.mousePress(tree, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(tree, (start + end) / 2)
    QTest.mouseMove(tree, end)
    QTest.keyClick(tree, Qt.Key.Key_Escape)
    QTest.mouseRelease(tree, Qt.MouseButton.LeftButton, pos=end)
    assert tree._document.undo_stack.count() == 0


def test_a_click_selects_and_pointing_lights_up(steps: CircuitSteps) -> None:
    tree = steps.tree
    QTest.mouseClick(tree, Qt.MouseButton.LeftButton, pos=middle(tree, "heater"))
    assert tree._view.selection == ("heater",)
    QTest.mouseMove(tree, middle(tree, "strip"))
    assert tree._view.hover == "strip"


def test_keys_go_through_the_rows_and_open_the_menu(steps: CircuitSteps) -> None:
    tree = steps.tree
    tree.setFocus()
    for _ in range(place_of(tree, "fan-left")):
        QTest.keyClick(tree, Qt.Key.Key_Down)
    QTest.keyClick(tree, Qt.Key.Key_Space)
    assert tree._view.selection == ("fan-left",)
    QTest.keyClick(tree, Qt.Key.Key_Return)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, PlugMenu)
    here = [action.text() for action in menu.actions() if action.isChecked()]
    assert len(here) == 1 and here[0].startswith("Lead: ")
    menu.close()


def test_a_low_tree_scrolls_to_the_row_that_keys_reach(steps: CircuitSteps) -> None:
    steps.resize(260, 200)
    QApplication.processEvents()
    last = len(steps.rows) - 1
    for _ in range(last):
        QTest.keyClick(steps.tree, Qt.Key.Key_Down)
    assert steps.tree.current == last
    assert steps.tree.visibleRegion().contains(steps.tree.row_rect(last).center())


def test_layers_add_up_to_the_load_and_the_limit_is_the_circuits(readings: Readings) -> None:
    power = readings.power
    whole = sum(layer.watts for layer in layers_of(readings))
    assert whole == pytest.approx(power.profile.watts)
    step = next(step for step in power.steps if step.kind == "circuit")
    on_circuit = sum(layer.va for layer in layers_of(readings, "garage"))
    assert on_circuit.max() == pytest.approx(step.va)  # type: ignore[union-attr]
    assert limit_va(readings, "garage") == step.limit_va
    # 3.5 A × 120 V run besides: less is left for the design than the circuit may carry
    assert own_limit_watts(readings) < step.limit_va - 419  # type: ignore[operator]


def test_the_ribbon_reads_each_layer_under_the_pointer(
    qtbot: QtBot, theme: Theme, readings: Readings
) -> None:
    ribbon = DayRibbon(theme)
    qtbot.addWidget(ribbon)
    fill_ribbon(ribbon, "power", readings)
    line = ribbon.axis._line
    assert line is not None
    lines = line.words_at(12 * 60).replace("\u2009", " ").split("\n")
    assert lines[0].startswith("12:00  1575 W")
    assert "8 tubes  768 W" in lines
    assert any(words.startswith("limit ") for words in lines)
    assert not any("tubes" in words for words in line.words_at(60).split("\n"))


def test_the_chart_reads_by_pointer_and_by_keys(
    qtbot: QtBot, theme: Theme, readings: Readings
) -> None:
    dialog = LoadDialog(theme)
    qtbot.addWidget(dialog)
    dialog.show_readings(readings)
    dialog.show()
    chart = dialog.chart
    assert dialog.circuits.currentText() == "Garage circuit"
    assert chart.limit == limit_va(readings, "garage")
    assert chart.accessibleName().replace("\u2009", " ").startswith("2063 VA at the peak, limit")
    QTest.keyClick(chart, Qt.Key.Key_Home)
    assert chart.minute == 0
    assert chart.value(chart.layers[0]) == 0.0  # tubes are off at midnight
    QTest.mouseMove(chart, QPoint(chart.width() // 3, 100))
    assert chart.minute not in (None, 0)
    dialog.show_readings(readings)
    assert dialog.circuits.currentText() == "Garage circuit"


def test_axes_end_at_round_numbers() -> None:
    assert [round_above(x) for x in (1.0, 230.0, 1001.0, 9.9)] == [1.0, 240.0, 2000.0, 10.0]


def test_the_ribbon_says_whose_watts_it_shows(
    qtbot: QtBot, theme: Theme, readings: Readings, monkeypatch: pytest.MonkeyPatch
) -> None:
    ribbon = DayRibbon(theme)
    qtbot.addWidget(ribbon)
    shown: dict[str, Any] = {}
    monkeypatch.setattr(ribbon, "set_series", lambda values, **words: shown.update(words))
    fill_ribbon(ribbon, "power", readings)
    assert shown["text"](203.0).replace("\u2009", " ") == "203 W by this design"


def test_two_chains_are_told_apart_however_narrow_the_column(
    theme: Theme, readings: Readings
) -> None:
    chains = [step.name for step in readings.power.steps if step.kind == "chain"]
    metrics = QFontMetrics(theme.font("second", bold=True))
    assert len(chains) > 1
    for width in (70, 100, 400):
        names = {shortened(name, metrics, width) for name in chains}
        assert len(names) == len(chains)
        assert all(metrics.horizontalAdvance(name) <= width for name in names)
