"""Cost readings: a day's energy at its prices, worked out by hand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import pytest

from core.cost import money
from core.cost.reading import CostReadings, inputs, read
from core.materials.reading import MaterialsReadings
from core.materials.reading import read as read_materials
from core.model import (
    Design,
    Heater,
    Hours,
    Lamp,
    Period,
    Prices,
    Room,
    Targets,
    Thermostat,
    Tray,
)
from core.reading import Reading, SubjectReadings
from core.states import State
from core.study import study

SIZE = {"width": 0.3, "depth": 0.3, "height": 0.05}


@dataclass(frozen=True, kw_only=True)
class Refills(SubjectReadings):
    """Readings of water that know what is refilled. [m³/d]"""

    water_per_day: tuple[float, float, float] | None = (0.020, 0.010, 0.040)


def lamp(watts: float = 100.0, on: int = 8, off: int = 20, name: str = "lamp") -> Lamp:
    hours = Hours(periods=(Period(on=on * 60, off=off * 60),))
    return Lamp(id=name, name=name.title(), form="board", watts=watts, hours=hours, **SIZE)


def cost(*parts: Any, **more: Any) -> CostReadings:
    return read(study(Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=parts, **more)))


def row(found: CostReadings, name: str) -> Reading:
    (only,) = [item for item in found.rows if item.name == name]
    return only


def test_a_day_a_month_and_a_year_at_one_price() -> None:
    """100 W for 12 h is 1.2 kWh, 0.36 € at 0.30 €; a month is 365/12 days."""
    found = cost(lamp())
    assert found.per_day == pytest.approx(0.36)
    assert found.per_month == pytest.approx(0.36 * 365 / 12)
    assert found.per_year == pytest.approx(131.4)
    assert row(found, "day").line.render() == "0.36 € a day"
    assert row(found, "month").line.render() == "10.95 € a month"
    assert row(found, "year").line.render() == "131.40 € a year"
    assert found.headline == row(found, "day")
    assert found.headline.state is State.UNASKED


def test_a_night_tariff_prices_each_minute() -> None:
    """22 to 6 h at 0.20, else 0.40: on from 20 to 24 h is 2 h of each."""
    prices = Prices(energy=0.40, energy_night=0.20)
    found = cost(lamp(1000.0, 20, 24), prices=prices)
    assert found.per_day == pytest.approx(2 * 0.40 + 2 * 0.20)


def test_the_limit_is_the_growers_and_watts_are_within_five_percent() -> None:
    def judged(limit: float) -> Reading:
        return row(cost(lamp(), targets=Targets(cost_per_day=limit)), "day")

    assert judged(0.60).line.render() == "0.36 € a day; limit 0.60 €"
    assert (judged(0.60).low, judged(0.60).high) == pytest.approx((0.342, 0.378))
    assert judged(0.60).state is State.FINE
    assert judged(0.37).state is State.BORDERLINE
    assert judged(0.35).state is State.LIKELY_HIGH
    assert judged(0.30).state is State.HIGH


def test_devices_are_listed_dearest_first_with_their_duty() -> None:
    heater = Heater(id="heater", name="Heater", watts=200.0, duty=0.2, **SIZE)
    found = cost(lamp(), heater, prices=Prices(energy=0.5))
    assert [(item.id, item.per_day) for item in found.by_device] == [
        ("lamp", pytest.approx(0.6)),
        ("heater", pytest.approx(0.2 * 0.2 * 24 * 0.5)),
    ]
    assert sum(item.per_day for item in found.by_device) == pytest.approx(found.energy_per_day)


def test_a_device_of_unknown_duty_is_named_as_running_all_its_hours() -> None:
    def told(duty: float | None) -> list[str]:
        heater = Heater(id="heater", name="Heater", watts=200.0, duty=duty, **SIZE)
        return [item.render() for item in row(cost(heater), "day").assumptions]

    running = "counted as running all of their hours: Heater"
    assert running in told(None)
    assert running not in told(0.3)


def test_a_device_that_its_controller_may_keep_off_lowers_the_lower_end() -> None:
    """100 W for 12 h are 0.36 €; 200 W all day 1.44 €, unless the thermostat keeps it off."""
    stat = Thermostat(id="stat", name="Stat", **SIZE)
    heater = Heater(id="heater", name="Heater", watts=200.0, control="stat", **SIZE)
    free = heater.model_copy(update={"control": None})
    switched, always = cost(lamp(), heater, stat), cost(lamp(), free)
    assert switched.per_day == always.per_day == pytest.approx(1.80)
    assert row(switched, "day").low == pytest.approx(0.36 * 0.95)
    assert row(always, "day").low == pytest.approx(1.80 * 0.95)
    assert row(switched, "day").high == pytest.approx(1.80 * 1.05)


def test_water_is_added_where_the_readings_of_water_know_it() -> None:
    """20 litres a day, 10 to 40, at 4 € a cubic metre: 0.08 €, 0.04 to 0.16."""
    look = study(Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(lamp(),)))
    wet = read(replace(look, done={"water": Refills(subject="water")}))
    assert wet.water_per_day == pytest.approx(0.08)
    day = row(wet, "day")
    assert (day.low, day.value, day.high) == pytest.approx((0.382, 0.44, 0.538))
    assert day.assumptions == ()
    dry = row(cost(lamp()), "day")
    assert dry.assumptions[0].render().startswith("water is not counted")


def test_nothing_that_runs_costs_nothing_to_tell() -> None:
    found = cost()
    assert found.headline is None
    assert found.nothing.render() == "nothing runs yet"


def test_money_is_written_as_its_currency_is() -> None:
    assert money(0.456, "€") == "0.46 €"
    assert money(1234.5, "$") == "$1234.50"
    assert money(-2.0, "kr") == "−2.00 kr"
    assert money(-0.001, "€") == "0.00 €"


def test_inputs_follow_prices_and_limit() -> None:
    design = Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(lamp(),))
    assert inputs(study(design)) == inputs(study(design.having(name="Other")))
    dearer = design.having(prices=Prices(energy=0.5))
    limited = design.having(targets=Targets(cost_per_day=1.0))
    assert len({repr(inputs(study(item))) for item in (design, dearer, limited)}) == 3


def built(**more: Any) -> CostReadings:
    """Return the cost of two trays, one of which has no price where ``price`` is None."""
    trays = [
        Tray(id=f"t{n}", name=f"Tray {n}", width=0.4 * n, depth=0.3, height=0.05, price=price)
        for n, price in enumerate(more.pop("costs", (12.0, 20.0)), start=1)
    ]
    design = Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=tuple(trays), **more)
    look = study(design)
    return read(replace(look, done={"materials": read_materials(look)}))


def test_what_is_to_be_bought_stands_beside_a_ready_made_things_price() -> None:
    found = built(prices=Prices(ready_made=240.0))
    assert (found.build, found.ready_made, found.build_unpriced) == (32.0, 240.0, 0)
    assert [item.line.render() for item in found.rows] == [
        "32.00 € to build",
        "240.00 € for a ready-made one",
    ]


def test_what_has_no_price_is_counted_and_named() -> None:
    some = built(costs=(12.0, None))
    assert (some.build, some.build_unpriced) == (12.0, 1)
    assert row(some, "build").line.render() == "12.00 € to build; no price for 1 of 2 lines"
    none = built(costs=(None, None))
    assert none.build is None
    assert none.rows == ()


def test_running_stays_the_number_that_matters_most() -> None:
    look = study(Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(lamp(),)))
    known = MaterialsReadings(lines=read_materials(look).lines)
    found = read(replace(look, done={"materials": known}))
    assert found.headline == row(found, "day")
