"""Speed of the day of climate in the window: drawing it, and moving its violet line."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from pytestqt.qtbot import QtBot

from core.air.flows import JETS
from core.readings import Reader
from core.storage import load
from gui.climate_day import ClimateDay
from gui.theme import Theme

DEMO = Path(__file__).parents[2] / "resources" / "demos" / "garage-bay.fern"


@pytest.fixture
def day(qtbot: QtBot) -> ClimateDay:
    """A day with a heater that switches every few minutes, beside itself as it was before."""
    readings = Reader(flows=JETS).update(load(DEMO), quality="final")
    made = ClimateDay(Theme("light"))
    qtbot.addWidget(made)
    made.resize(796, 630)
    made.show_day(readings, readings)
    made.show()
    return made


def test_one_frame_of_the_day(benchmark: BenchmarkFixture, day: ClimateDay) -> None:
    """Aim: 16 ms, median on an idle machine."""
    day.show_time(700)
    picture = benchmark(day.grab)
    assert picture.width() >= 796
    if benchmark.stats is not None:
        benchmark.extra_info["aim_ms"] = 16


def test_moving_the_violet_line(benchmark: BenchmarkFixture, day: ClimateDay) -> None:
    """Aim: 5 ms, median on an idle machine, before it is drawn: what is spoken of the new time."""
    minutes = iter(range(10**6))
    benchmark(lambda: day.show_time(next(minutes) % 1440))
    assert day.minute is not None
    if benchmark.stats is not None:
        benchmark.extra_info["aim_ms"] = 5
