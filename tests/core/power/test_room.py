"""What else can be plugged in: room left by place, at the worst minute, by the nearest limit."""

from __future__ import annotations

from typing import Any

import pytest

from core.model import (
    NORTH_AMERICA,
    Circuit,
    Design,
    Heater,
    Hours,
    Lamp,
    Outlet,
    Period,
    Plug,
    Practice,
    Room,
    Strip,
)
from core.power.reading import PowerReadings, read
from core.power.tree import circuit_key
from core.study import study

SIZE = {"width": 0.1, "depth": 0.1, "height": 0.1}


def hours(on: int, off: int) -> Hours:
    return Hours(periods=(Period(on=on * 60, off=off * 60),))


def lamp(key: str, watts: float, into: str, **more: Any) -> Lamp:
    return Lamp(id=key, name=key, form="board", watts=watts, plug=Plug(into=into), **SIZE, **more)


def power(
    *parts: Any, practice: Practice | None = None, other: float = 0.0, lasts: bool | None = None
) -> PowerReadings:
    breaker = (practice or Practice()).breaker
    hall = Circuit(
        id="hall", name="Hall circuit", breaker=breaker, other_load=other, other_lasts=lasts
    )
    outlets = (
        Outlet(id="wall", name="Wall", wall=1, offset=0.5, circuit="hall"),
        Outlet(id="far", name="Far", wall=2, offset=0.5, circuit="hall"),
    )
    outline = ((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0))
    room = Room(outline=outline, fixtures=outlets, circuits=(hall,))
    return read(study(Design(room=room, parts=parts, practice=practice or Practice())))


def test_room_is_what_the_worst_minute_leaves():
    # 16 A × 230 V = 3680 VA; 1000 W 06–12 and 800 W 10–14 meet from 10 to 12: 1880 VA are left.
    found = power(
        lamp("a", 1000.0, "wall", hours=hours(6, 12)), lamp("b", 800.0, "far", hours=hours(10, 14))
    )
    hall = found.rooms[circuit_key("hall")]
    assert hall.va == pytest.approx(1880)
    assert hall.at == ((600, 720),)
    assert hall.free is None
    # The outlet itself, 13 A × 230 V = 2990 VA, has 1990 left; the breaker binds.
    assert found.rooms["wall"].va == pytest.approx(1880)
    assert found.rooms["wall"].binding == circuit_key("hall")
    assert found.rooms["wall"].free == 1


def test_a_strip_binds_before_its_outlet():
    strip = Strip(id="strip", name="Strip", plug=Plug(into="wall"), sockets=2, limit=5.0, **SIZE)
    found = power(strip, lamp("a", 1000.0, "strip"))
    # 5 A × 230 V = 1150 VA less 1000
    assert found.rooms["strip"].va == pytest.approx(150)
    assert found.rooms["strip"].binding == "strip"
    assert found.rooms["strip"].free == 1
    assert found.rooms["far"].va == pytest.approx(3680 - 1000)


def test_what_lasts_has_four_fifths_of_the_room_of_what_does_not_in_north_america():
    # 15 A × 120 V = 1800 VA less 1.25 × 400: 1300 for a short load, 1300/1.25 = 1040 all day.
    found = power(lamp("a", 400.0, "wall"), practice=NORTH_AMERICA)
    hall = found.rooms[circuit_key("hall")]
    assert hall.short_va == pytest.approx(1300)
    assert hall.va == pytest.approx(1040)


def test_other_things_that_last_leave_less():
    # 2 A × 120 V: 240 VA if short, 300 if lasting (NEC 210.20(A), factor 1.25)
    short = power(lamp("a", 400.0, "wall"), practice=NORTH_AMERICA, other=2.0)
    lasting = power(lamp("a", 400.0, "wall"), practice=NORTH_AMERICA, other=2.0, lasts=True)
    key = circuit_key("hall")
    assert short.rooms[key].short_va == pytest.approx(1300 - 240)
    assert lasting.rooms[key].short_va == pytest.approx(1300 - 300)
    named = "Other things on Hall circuit are taken as running less than three hours on end"
    assert named in [words.render() for row in short.rows for words in row.assumptions]
    assert named not in [words.render() for row in lasting.rows for words in row.assumptions]


def test_an_overloaded_circuit_has_no_room():
    found = power(*(lamp(f"lamp-{n}", 2000.0, "wall") for n in range(2)))
    assert found.rooms["far"].va == 0.0
    row = next(row for row in found.rows if row.name == "room")
    assert row.line.render() == "nothing more may be plugged in on Hall circuit; full all day"


def test_the_room_is_a_reading_with_its_worst_hours():
    found = power(lamp("a", 680.0, "wall", hours=hours(6, 12)))
    row = next(row for row in found.rows if row.name == "room")
    assert row.value == pytest.approx(3000)
    # nameplates within 5 %: 680 × 0.05 = 34
    assert (row.low, row.high) == pytest.approx((2966, 3034))
    line = row.line.render().replace("\u2009", " ")
    assert line == "3000 VA more may run on Hall circuit; fullest 06:00–12:00"


def test_a_strip_at_a_north_american_outlet_may_take_four_fifths_of_it():
    # NEC 210.21(B)(2): 12 A at a receptacle of 15 A (secondary copy); the strip's label says 15 A.
    strip = Strip(id="strip", name="Strip", plug=Plug(into="wall"), limit=15.0, **SIZE)
    kept = Heater(id="heat", name="Heat", watts=1500.0, plug=Plug(into="strip"), **SIZE)
    found = power(strip, kept, practice=NORTH_AMERICA)
    step = next(step for step in found.steps if step.id == "strip")
    assert step.limit_va == pytest.approx(12 * 120)
    elsewhere = power(strip, kept, practice=Practice(outlet_limit=15.0))
    step = next(step for step in elsewhere.steps if step.id == "strip")
    assert step.limit_va == pytest.approx(15 * 230)


def test_outlets_without_a_plug_are_steps_with_nothing_on_them():
    found = power(lamp("a", 100.0, "wall"))
    steps = {step.id: step for step in found.steps}
    assert steps["far"].watts == 0.0
    assert steps["far"].limit_va == pytest.approx(13 * 230)
