"""Loads of circuits, chains and leads of whole designs, each worked out by hand."""

from __future__ import annotations

from typing import Any

import pytest

from core.model import (
    NORTH_AMERICA,
    Circuit,
    Cooler,
    Design,
    Heater,
    Hours,
    Lamp,
    Lead,
    Outlet,
    Period,
    Plug,
    Practice,
    Room,
    Strip,
)
from core.power.reading import PowerReadings, read
from core.reading import Reading
from core.study import study

HALL = Circuit(id="hall", name="Hall circuit", breaker=16.0)
SIZE = {"width": 0.1, "depth": 0.1, "height": 0.1}
EIGHT_TO_EIGHT = Hours(periods=(Period(on=480, off=1200),))


def power(*parts: Any, circuit: Circuit = HALL, practice: Practice | None = None) -> PowerReadings:
    outlet = Outlet(id="wall", name="Wall outlet", wall=1, offset=1.0, circuit="hall")
    outline = ((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0))
    room = Room(outline=outline, fixtures=(outlet,), circuits=(circuit,))
    return read(study(Design(room=room, parts=parts, practice=practice or Practice())))


def row(found: PowerReadings, place: str, name: str) -> Reading:
    return next(item for item in found.rows if (item.place, item.name) == (place, name))


def chain_of(count: int, first: str = "wall", **more: Any) -> list[Lamp]:
    """A chain of boards, plugged one into the other."""
    feeds = [first, *(f"lamp-{i}" for i in range(1, count))]
    return [
        Lamp(id=f"lamp-{i}", name=f"Lamp {i}", form="board", plug=Plug(into=into), **SIZE, **more)
        for i, into in enumerate(feeds, start=1)
    ]


def heater(into: str) -> Heater:
    """2300 W, 10 A of 230 V, without a lead of its own."""
    plug = Plug(into=into, lead_length=0.0)
    return Heater(id="heater", name="Heater", watts=2300.0, plug=plug, **SIZE)


def test_other_load_counts_in_watts_and_is_not_raised_by_the_factor_on_continuous_load() -> None:
    # 10 A of a lamp for 12 h and 5 A of other things on 20 A: 1.25 × 10 + 5 = 17.5 A counted for
    # 15 A drawn, so 15 × 120 × 20/17.5 = 2057.1 VA of such loads may run (NEC 210.20(A)).
    busy = Circuit(id="hall", name="Hall circuit", breaker=20.0, other_load=5.0)
    lit = chain_of(1, watts=600.0, power_factor=0.5, hours=EIGHT_TO_EIGHT)
    found = power(*lit, circuit=busy, practice=NORTH_AMERICA)
    step = next(step for step in found.steps if step.kind == "circuit")

    assert step.watts == pytest.approx(600 + 5 * 120)
    assert step.va == pytest.approx(1200 + 5 * 120)
    assert row(found, "hall", "load").want_high == pytest.approx(15 * 120 * 20 / 17.5)


def test_the_weakest_lead_of_a_chain_limits_it() -> None:
    # 60 W of 230 V are 0.261 A each: 1 A carries 3, the 2 A of the others would carry 7.
    links = chain_of(4, watts=60.0, chain_current=2.0)
    links[2] = links[2].model_copy(update={"chain_current": 1.0})

    assert row(power(*links), "lamp-1", "chain").want_high == 3


def test_a_chain_is_limited_by_the_strip_that_feeds_it() -> None:
    # 60 W of 230 V are 0.261 A each: a strip of 1 A carries 3, the lead of 5 A would carry 19.
    strip = Strip(id="strip", name="Strip", limit=1.0, plug=Plug(into="wall"), **SIZE)
    found = power(strip, *chain_of(4, "strip", watts=60.0, chain_current=5.0))

    assert row(found, "lamp-1", "chain").want_high == 3


def test_a_chain_is_limited_by_current_and_not_by_watts() -> None:
    # 46 W at a power factor of 0.5 are 92 VA, 0.4 A of 230 V: 1 A carries 2; by watts it were 5.
    found = power(*chain_of(4, watts=46.0, power_factor=0.5, chain_current=1.0))

    assert row(found, "lamp-1", "chain").want_high == 2


def test_the_energy_of_one_device_is_at_its_duty() -> None:
    # 700 W for 12 h at a duty of 0.4: 3.36 kWh.
    cooler = Cooler(
        id="cooler", name="Cooler", cooling=2000.0, watts=700.0, duty=0.4, hours=EIGHT_TO_EIGHT,
        plug=Plug(into="wall"), **SIZE,
    )  # fmt: skip

    assert power(cooler).by_device[0].kwh_per_day == pytest.approx(3.36)


def test_a_leads_own_plug_lead_adds_to_what_is_lost_along_it() -> None:
    # 10 A through 1 m of 0.75 mm² (0.026 Ω/m) and 20 m of 1.5 mm² (0.0133 Ω/m), out and back:
    # 0.52 V + 5.32 V (IEC 60228 class 5).
    plug = Plug(into="wall", lead_length=1.0, wire_area=0.75e-6)
    lead = Lead(
        id="lead", name="Lead", length=20.0, wire_area=1.5e-6, plug=plug, limit=16.0, **SIZE
    )
    found = row(power(lead, heater("lead")), "hall", "drop")

    assert found.value == pytest.approx((0.52 + 5.32) / 230)
