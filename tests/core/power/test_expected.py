"""Expected load: the climate reading's duty where nobody gave one; the peak stays at full power."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from core.cost.reading import read as read_cost
from core.model import (
    Circuit,
    Design,
    Heater,
    Outlet,
    Plug,
    Prices,
    Room,
    Thermostat,
)
from core.power.profile import FloatSeries
from core.power.reading import PowerReadings, read
from core.reading import SubjectReadings
from core.study import Study, study

SIZE = {"width": 0.1, "depth": 0.1, "height": 0.1}


@dataclass(frozen=True)
class Day:
    watts: FloatSeries
    low: float
    high: float


@dataclass(frozen=True, kw_only=True)
class Climate(SubjectReadings):
    """A climate reading that knows the heater alone."""

    subject: str = "climate"
    heater: Day

    def device(self, part_id: str) -> Day | None:
        return self.heater if part_id == "heater" else None


NIGHTS = np.where(np.arange(1440) < 480, 100.0, 0.0)
"""100 W on average for 8 h: 0.8 kWh, of 200 W at full power."""


def heated(**fields: Any) -> Design:
    room = Room(
        outline=((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)),
        fixtures=(Outlet(id="wall", name="Wall", wall=1, offset=1.0, circuit="hall"),),
        circuits=(Circuit(id="hall", name="Hall circuit", breaker=16.0),),
    )
    plug = Plug(into="wall")
    heater = Heater(
        id="heater", name="Heater", watts=200.0, control="stat", plug=plug, **{**SIZE, **fields}
    )
    stat = Thermostat(id="stat", name="Stat", **SIZE)
    return Design(room=room, parts=(heater, stat), prices=Prices(energy=0.5))


def after_climate(design: Design, day: Day) -> Study:
    return study_with(design, {"climate": Climate(heater=day)})


def study_with(design: Design, done: dict[str, SubjectReadings]) -> Study:
    look = study(design)
    return Study(look.design, look.season, "final", done, document=design)


def energy(found: PowerReadings) -> tuple[float, float, float]:
    row = next(row for row in found.rows if row.name == "energy")
    assert row.value is not None and row.low is not None and row.high is not None
    return row.value / 3.6e6, row.low / 3.6e6, row.high / 3.6e6


def test_energy_follows_the_climate_reading_and_the_peak_stays_at_full_power():
    found = read(after_climate(heated(), Day(NIGHTS, 0.7, 1.4)))
    assert found.profile.peak_watts == pytest.approx(200)
    assert found.kwh_per_day == pytest.approx(0.8)
    # 0.8 × 0.7 × 0.95 and 0.8 × 1.4 × 1.05
    assert energy(found) == pytest.approx((0.8, 0.532, 1.176))
    named = [text.render() for row in found.rows for text in row.assumptions]
    assert "Counted at the duty that the climate reading finds: Heater" in named


def test_no_range_passes_full_power_all_day():
    found = read(after_climate(heated(), Day(np.full(1440, 190.0), 0.5, 3.0)))
    assert energy(found)[2] == pytest.approx(4.8 * 1.05)


def test_the_growers_duty_goes_before_the_climate_readings():
    found = read(after_climate(heated(duty=0.25), Day(NIGHTS, 0.7, 1.4)))
    assert found.kwh_per_day == pytest.approx(200 * 0.25 * 24 / 1000)


def test_without_a_climate_reading_a_controlled_heater_may_rest_or_run_all_day():
    assert energy(read(study(heated()))) == pytest.approx((4.8, 0.0, 5.04))


def test_cost_counts_the_expected_energy_at_the_price_of_its_minute():
    design = heated()
    power = read(after_climate(design, Day(NIGHTS, 0.7, 1.4)))
    cost = read_cost(study_with(design, {"power": power}))
    assert cost.energy_per_day == pytest.approx(0.8 * 0.5)
    assert cost.by_device[0].per_day == pytest.approx(0.8 * 0.5)
    night = design.having(prices=Prices(energy=0.5, energy_night=0.1, night_from=0, night_to=480))
    assert read_cost(study_with(night, {"power": power})).energy_per_day == pytest.approx(0.08)
    assert cost.headline is not None
    assert cost.headline.low == pytest.approx(0.4 * 0.7 * 0.95)
