"""Speed of the simulated day, of the readings made of it, of the steady estimate and of a year.

A call of `simulate` also runs two days of warm-up; a reading needs one in most enclosures.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from core.climate import Control, Cooler, Gap, LampHeat, Leaves, Zone, simulate, warm_up
from core.climate.estimate import settle
from core.climate.from_design import setup
from core.climate.reading import flags, inputs, read
from core.climate.spread import VARIANTS
from core.climate.weather import parse_epw
from core.climate.year import simulate_year
from core.storage import load
from core.study import Study, study
from tests.climate_kit import LIT, cool_room, fogger, humidistat, weather_text, zone

DEMOS = Path(__file__).resolve().parents[2] / "resources" / "demos"


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


def basement(quality: str) -> Study:
    """The demo with most parts, in the season of its cooler."""
    made = study(load(DEMOS / "basement-nook.fern"), season="summer", quality=quality)  # type: ignore[arg-type]
    assert made.placement is not None
    return made


def test_the_readings_of_a_simulated_day(benchmark: BenchmarkFixture) -> None:
    """Aim: at most 150 ms with a cooler, all readings and sizes included."""
    found = benchmark(read, basement("final"))
    assert not found.coarse


def test_the_readings_of_a_steady_day(benchmark: BenchmarkFixture) -> None:
    """While something of climate is dragged: zone, estimate with its range, and rows."""
    found = benchmark(read, basement("coarse"))
    assert found.coarse


def test_the_steady_estimate(benchmark: BenchmarkFixture) -> None:
    """Aim: at most 2 ms."""
    made = setup(study(load(DEMOS / "stair-alcove.fern")))
    assert made is not None
    found = benchmark(settle, made.zone, made.room, flags(made))
    assert found.temperature.shape == (1, 2)


def test_the_steady_estimate_with_its_range(benchmark: BenchmarkFixture) -> None:
    """All nine variants at once."""
    made = setup(study(load(DEMOS / "stair-alcove.fern")))
    assert made is not None
    found = benchmark(settle, made.zone, made.room, flags(made), VARIANTS)
    assert found.temperature.shape == (len(VARIANTS), 2)


def test_what_climate_looks_at(benchmark: BenchmarkFixture) -> None:
    """Asked at every event of a drag."""
    assert benchmark(inputs, basement("coarse"))


def test_every_hour_of_a_year(benchmark: BenchmarkFixture) -> None:
    """Aim: at most 20 s."""
    weather = parse_epw(weather_text())
    design = load(DEMOS / "basement-nook.fern")
    year = benchmark.pedantic(simulate_year, (design, weather), rounds=1)
    assert year.temperature.shape == (8760,)
