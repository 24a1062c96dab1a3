"""What may trip a breaker in the moment of switching on is found, and staggered timers mend it."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import starting
from core.model import (
    NORTH_AMERICA,
    Circuit,
    Cooler,
    Design,
    Hours,
    Lamp,
    Period,
    Place,
    Plug,
    Timer,
)
from core.power.inrush import share_of, starts
from core.power.tree import PlugTree
from tests.findings_kit import after_mending, design, look, raised, room, told

DAY = Hours(periods=(Period(on=420, off=1140),))
SIZE = {"width": 0.1, "depth": 0.1, "height": 0.1}


def timer(key: str, hours: Hours = DAY) -> Timer:
    name = key.replace("-", " ").title()
    return Timer(id=key, name=name, hours=hours, plug=Plug(into="outlet-hall"), **SIZE)


def lamp(number: int, into: str, **fields: Any) -> Lamp:
    place = Place(fixing="hung", x=0.2 + 0.4 * number, y=0.5, z=0.5)
    return Lamp(
        id=f"lamp-{number}", name=f"Board {number}", form="board", watts=40.0, place=place,
        plug=Plug(into=into), **{**SIZE, **fields},
    )  # fmt: skip


def cooler(watts: float) -> Cooler:
    return Cooler(
        id="cooler", name="Cooler", width=0.4, depth=0.4, height=0.6, watts=watts,
        cooling=3 * watts, power_factor=0.9, starts_hard=True, plug=Plug(into="outlet-hall"),
    )  # fmt: skip


def two_timers(**fields: Any) -> Design:
    return design(
        timer("timer-a"),
        timer("timer-b"),
        lamp(1, "timer-a", **fields),
        lamp(2, "timer-b", **fields),
    )


def test_a_compressor_that_starts_above_the_breakers_trip_is_told_of():
    # 6 × 1900 W/(0.9 × 230 V) = 55.1 A; a 16 A breaker of type B may trip from 48 A.
    (finding,) = raised(starting.hard_start, design(cooler(1900.0)), "power")
    assert told(finding)[0] == "Hall circuit may trip when Cooler starts"
    assert "55.1 A" in told(finding)[1]


def test_a_breaker_may_trip_from_three_times_its_rating_on():
    # 6 × 1700/(0.9 × 230) = 49.3 A, just above 3 × 16 A = 48 A; 1640 W are 47.5 A.
    assert len(raised(starting.hard_start, design(cooler(1700.0)), "power")) == 1
    assert raised(starting.hard_start, design(cooler(1640.0)), "power") == []


def test_a_breaker_of_type_c_bears_a_harder_start():
    # IEC 60898-1, from memory: type C from five times its rating, 80 A at 16 A.
    hall = Circuit(id="hall", name="Hall circuit", breaker=16.0, trip="C")
    made = design(cooler(1900.0)).having(room=room(circuits=(hall,)))
    assert raised(starting.hard_start, made, "power") == []


def test_two_timers_of_one_minute_that_together_pass_the_breaker_are_staggered():
    # 48 A allowed (16 A, type B); 30 A each: 60 A together, 125 %.
    made = two_timers(inrush=30.0)
    (finding,) = raised(starting.many_at_once, made, "power")
    title, numbers, words = told(finding)
    assert title == "Hall circuit may trip at 07:00, when much is switched on at once"
    assert "125 % of what a breaker of 16 A, type B taken, lets start" in numbers
    assert words == "Let Timer B start a minute later"
    assert after_mending(starting.many_at_once, made, "power") == []


def test_two_that_start_in_different_minutes_are_fine():
    later = Hours(periods=(Period(on=421, off=1141),))
    made = design(
        timer("timer-a"), timer("timer-b", later), lamp(1, "timer-a", inrush=30.0),
        lamp(2, "timer-b", inrush=30.0),
    )  # fmt: skip
    assert raised(starting.many_at_once, made, "power") == []


def test_the_makers_count_goes_before_the_peak():
    # the maker lets one start on a breaker: two are 200 %; ten would be 20 %.
    (finding,) = raised(starting.many_at_once, two_timers(inrush=1.0, inrush_most=1), "power")
    assert finding.size == pytest.approx(1.0)
    assert raised(starting.many_at_once, two_timers(inrush=99.0, inrush_most=10), "power") == []


def test_devices_behind_one_timer_cannot_be_staggered():
    made = design(timer("timer-a"), *(lamp(n, "timer-a", inrush=30.0) for n in (1, 2)))
    (finding,) = raised(starting.many_at_once, made, "power")
    assert finding.remedy is None


def test_a_row_of_lamps_starts_together_and_what_runs_all_day_never():
    hall = Circuit(id="hall", name="Hall circuit", breaker=16.0)
    assert share_of(lamp(1, "wall", inrush=24.0, count=2), hall) == pytest.approx(1.0)
    assert share_of(lamp(1, "wall"), hall) is None
    tree = PlugTree(design(lamp(1, "outlet-hall", inrush=24.0)))
    assert starts(tree, tree.circuits[0]) == ()


def leaky(leakage: float, **fields: Any) -> Design:
    lamps = (lamp(n, "outlet-hall", leakage=leakage) for n in range(4))
    return design(*lamps, **fields)


def test_standing_leakage_takes_at_most_three_tenths_of_what_trips():
    # IEC 60364-5-53 (secondary copy): 0.3 × 30 mA = 9 mA; 4 × 2.5 mA = 10 mA
    (finding,) = raised(starting.much_leakage, leaky(0.0025), "power")
    assert told(finding)[0] == "Protection of Hall circuit may trip for nothing"
    assert "leak 10 mA while all is well; up to 9 mA" in told(finding)[1]
    assert raised(starting.much_leakage, leaky(0.00225), "power") == []


def test_a_class_a_device_bears_less_standing_leakage():
    # trips at 4 to 6 mA: 0.3 × 5 mA = 1.5 mA; 4 × 0.5 mA = 2 mA
    american = leaky(0.0005, practice=NORTH_AMERICA)
    assert len(raised(starting.much_leakage, american, "power")) == 1
    assert raised(starting.much_leakage, leaky(0.0005), "power") == []


def test_without_protection_or_figures_nothing_is_said_of_leakage():
    bare = Circuit(id="hall", name="Hall circuit", breaker=16.0)
    made = leaky(0.01).having(room=room(circuits=(bare,)))
    assert raised(starting.much_leakage, made, "power") == []
    assert raised(starting.much_leakage, two_timers(), "power") == []


@pytest.mark.parametrize("rule", starting.RULES)
def test_without_readings_of_power_every_rule_is_silent(rule):
    assert list(rule(look(two_timers(inrush=30.0)))) == []
