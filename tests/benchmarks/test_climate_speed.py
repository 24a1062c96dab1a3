"""Speed of the simulated day; each call also runs the two days of warm-up before it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from core.climate import Control, Cooler, Gap, LampHeat, Leaves, Zone, simulate, warm_up
from tests.climate_kit import LIT, cool_room, fogger, humidistat, zone


def planted() -> Zone:
    """Three groups of plants, a cracked window and a fogger that cycles."""
    return zone(
        leaves=tuple(Leaves(0.3, ppfd=120 * LIT, light_share=0.2) for _ in range(3)),
        gaps=(Gap(0.05, 1.0, "outdoors"),),
        devices=(fogger(1e-4, control=humidistat(0.85, 0.05)),),
    )


@pytest.fixture(scope="module", autouse=True)
def _warm() -> None:
    warm_up()


def test_a_day_with_a_fogger(benchmark: BenchmarkFixture) -> None:
    """Aim: at most 60 ms a simulated day, of which there are three; median, idle machine."""
    run = benchmark(simulate, planted(), cool_room(humidity=0.4))
    assert run.devices[0].starts.sum() > 50


def test_a_day_with_a_cooler(benchmark: BenchmarkFixture) -> None:
    """Aim: at most 150 ms a simulated day, of which there are three."""
    control = Control.beyond("temperature", 20.0, 1.0, 180.0)
    cold = Cooler(cooling=1500.0, air_flow=0.083, control=control)
    cooled = replace(planted(), lamps=(LampHeat(800 * LIT),), devices=(*planted().devices, cold))
    run = benchmark(simulate, cooled, cool_room(temperature=22.0, humidity=0.4))
    assert run.devices[1].starts.sum() > 20


def test_a_year_of_days(benchmark: BenchmarkFixture) -> None:
    """Aim: at most 20 s."""
    run = benchmark.pedantic(
        simulate, (planted(), cool_room(humidity=0.4)), {"days": 365}, rounds=1
    )
    assert run.days == 365
