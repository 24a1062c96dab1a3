"""Speed of the probe: what one move of the pointer costs with light drawn."""

from __future__ import annotations

from functools import cache

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from core.air.flows import JETS
from core.readings import Reader, Readings
from core.storage import load
from gui.sheet import Sheet
from tests.gui.driving import Mouse, build_sheet
from tests.gui.test_probe import SHIFT


@cache
def garage() -> Readings:
    return Reader(flows=JETS).update(load("resources/demos/garage-bay.fern"))


@pytest.fixture
def sheet(qtbot, theme) -> Sheet:
    made = build_sheet(qtbot, theme, garage().design)
    made.show_readings(garage())
    return made


@pytest.mark.parametrize("pins", [0, 6])
def test_one_move_of_the_pointer(benchmark: BenchmarkFixture, sheet: Sheet, pins: int) -> None:
    """Aim: at most 2 ms, pins or none; median, idle machine."""
    zone = next(one for one in garage().light.zones if one.level == sheet.view.level)
    for number in range(pins):
        x = zone.area.x0 + zone.area.width * (number + 0.5) / pins
        Mouse(sheet, "plan").click(x, zone.area.centre[1], SHIFT)
    assert len(sheet.view.pins) == pins
    at = sheet.camera.to_px("plan", float(zone.x[0]), float(zone.y[0]))
    benchmark(sheet.probe.hover, "plan", at)
    assert sheet.probe.tip is not None
