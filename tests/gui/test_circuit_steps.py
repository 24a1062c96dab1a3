"""The circuit step by step and the day's watts: one unit, and what is counted is said."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from core.air.flows import JETS
from core.readings import Reader, Readings
from core.storage import load
from gui.circuit_steps import CircuitSteps, shortened
from gui.day_ribbon import DayRibbon
from gui.ribbon_lines import fill_ribbon
from gui.theme import Theme

GARAGE = Path(__file__).parents[2] / "resources" / "demos" / "garage-bay.fern"


@pytest.fixture(scope="module")
def readings() -> Readings:
    return Reader(flows=JETS).update(load(GARAGE))


def test_the_steps_tell_other_things_and_all_loads_in_one_unit(
    qtbot: QtBot, theme: Theme, readings: Readings
) -> None:
    frame = QWidget()
    qtbot.addWidget(frame)
    steps = CircuitSteps(theme, frame)
    steps.resize(400, 900)
    steps.show_readings(readings)

    spoken = steps.accessibleName().split(". ")[1:]
    assert [step.kind for step in steps.steps][:2] == ["circuit", "others"]
    assert "other things on this circuit, taken" in spoken[1]
    loads = [words for words, step in zip(spoken, steps.steps, strict=True) if step.kind != "chain"]
    assert all("VA" in words for words in loads)


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
