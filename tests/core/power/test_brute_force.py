"""The load of a day against a plain count minute by minute, which shares no code with it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.model import (
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
    Timer,
)
from core.power import Device, continuous_load, load_profile
from core.power.loads import Loads
from core.power.room import rooms
from core.power.tree import PlugTree, circuit_key

DAY = 1440
THREE_HOURS = 180


def level(periods: list[tuple[int, int]], ramp: int, minute: int) -> float:
    """Full power's share in the middle of one minute, by walking from each period's start."""
    best = 0.0
    for on, off in periods:
        length = (off - on) % DAY
        if length == 0:
            return 1.0
        since = (minute - on) % DAY + 0.5
        if since < length:
            rising, falling = (since / ramp, (length - since) / ramp) if ramp else (1.0, 1.0)
            best = max(best, min(1.0, rising, falling))
    return best


def held(series: list[float], minute: int) -> float:
    """The highest level that some three hours around a minute never fall below."""
    return max(
        min(series[(start + step) % DAY] for step in range(THREE_HOURS))
        for start in range(minute - THREE_HOURS + 1, minute + 1)
    )


clocks = st.integers(0, 23).map(lambda hour: hour * 60) | st.integers(0, DAY - 1)
timers = st.tuples(
    st.lists(st.tuples(clocks, clocks), min_size=1, max_size=3), st.sampled_from([0, 20, 90])
)
things = st.tuples(st.integers(1, 900), st.sampled_from([0.5, 0.9, 1.0]), timers)


@settings(max_examples=15, deadline=None)
@given(st.lists(things, min_size=1, max_size=4), clocks)
def test_a_profile_is_what_a_count_by_the_minute_finds(many, probe):
    devices = [
        Device("thing", watts, factor, 0, 0, periods=tuple(periods), ramp=ramp)
        for watts, factor, (periods, ramp) in many
    ]
    found = load_profile(devices, 230)

    by_device = [
        [watts / factor * level(periods, ramp, minute) for minute in range(DAY)]
        for watts, factor, (periods, ramp) in many
    ]
    va = [sum(values) for values in zip(*by_device, strict=True)]
    assert found.va.tolist() == pytest.approx(va, abs=1e-6)
    assert found.peak_va == pytest.approx(max(va))
    assert found.kwh_per_day == pytest.approx(
        sum(w * level(p, r, m) for w, _, (p, r) in many for m in range(DAY)) / 60_000
    )

    lasting = sum(
        series[probe] for series in by_device if held([float(x > 0) for x in series], probe) > 0
    )
    expected = min(max(lasting, held(va, probe)), va[probe])
    assert found.continuous_va[probe] == pytest.approx(expected, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.booleans(), things), min_size=1, max_size=6), timers)
def test_loads_through_a_tree_of_plugs_are_sums_of_what_hangs_below(many, timer):
    design = planted(many, timer)
    loads = Loads(PlugTree(design))
    timer_hours, _ = timer

    def drawn(minute: int, behind: bool | None) -> float:
        total = 0.0
        for on_timer, (watts, factor, (periods, _)) in many:
            if behind is not None and on_timer is not behind:
                continue
            gate = level(timer_hours, 0, minute) if on_timer else 1.0
            total += watts / factor * gate * level(periods, 0, minute)
        return total

    for key, behind in (("timer", True), ("strip", None), ("wall", None)):
        counted = [drawn(minute, behind) for minute in range(DAY)]
        assert loads.series(key)[1].tolist() == pytest.approx(counted, abs=1e-6)
        assert loads.peak(key)[1] == pytest.approx(max(counted), abs=1e-6)


def planted(many: list, timer: tuple, practice: Practice | None = None) -> Design:
    """A strip with a timer in it; devices hang on one or the other."""
    size = {"width": 0.1, "depth": 0.1, "height": 0.1}
    hours = tuple(Period(on=on, off=off) for on, off in timer[0])
    parts: list = [
        Strip(id="strip", name="Strip", plug=Plug(into="wall"), **size),
        Timer(
            id="timer", name="Timer", plug=Plug(into="strip"), hours=Hours(periods=hours), **size
        ),
    ]
    for number, (on_timer, (watts, factor, (periods, _))) in enumerate(many):
        own = Hours(periods=tuple(Period(on=on, off=off) for on, off in periods))
        parts.append(
            Heater(
                id=f"thing-{number}", name="Thing", watts=watts, power_factor=factor, hours=own,
                plug=Plug(into="timer" if on_timer else "strip"), **size,
            )
        )  # fmt: skip
    room = Room(
        outline=((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)),
        fixtures=(Outlet(id="wall", name="Outlet", wall=1, offset=1.0, circuit="hall"),),
        circuits=(Circuit(id="hall", name="Hall circuit", breaker=16.0),),
    )
    return Design(room=room, parts=tuple(parts), practice=practice or Practice())


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(st.booleans(), things), min_size=1, max_size=5), timers)
def test_what_the_room_left_allows_just_fits_and_a_little_more_does_not(many, timer):
    # Plugging in a lamp of exactly the room left, all day, must fill the binding limit.
    design = planted(many, timer, Practice(continuous_factor=1.25, strip_limit=8.0))
    room = rooms(Loads(PlugTree(design)))["strip"]
    if room.va < 1.0:
        return
    lamp = Lamp(
        id="more", name="More", form="board", width=0.1, depth=0.1, height=0.1,
        watts=room.va, plug=Plug(into="strip"),
    )  # fmt: skip
    full = Loads(PlugTree(design.with_parts({"more": lamp})))
    circuit = design.room.circuits[0]
    left = rooms(full)
    assert left["strip"].va == pytest.approx(0.0, abs=1e-6)
    heaviest = continuous_load(full.profile(circuit), factor=1.25)
    counted = 1.25 * heaviest.continuous_a + heaviest.other_a
    strip = full.peak("strip")[1] / 230
    assert counted <= 16 * (1 + 1e-9) and strip <= 8 * (1 + 1e-9)
    assert counted == pytest.approx(16) or strip == pytest.approx(8)
    assert room.binding in ("strip", circuit_key("hall"))
