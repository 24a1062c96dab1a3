"""How long power, water, weight and fit together take after one edit of a design of 40 devices.

The goal is 5 ms (median, idle machine). Each is run as the `Reader` runs it: its inputs first,
and its readings only where these differ.
"""

from __future__ import annotations

from itertools import count

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from core.fit import reading as fit
from core.model import (
    Circuit,
    Design,
    Enclosure,
    Fan,
    Heater,
    Hours,
    Lamp,
    Outlet,
    Part,
    Period,
    Place,
    Plug,
    Room,
    Shelf,
    ShelfUnit,
    Strip,
    Timer,
    Tray,
    replace,
)
from core.power import reading as power
from core.study import study
from core.water import reading as water
from core.weight import reading as weight

LEVELS = 4


def forty_devices() -> Design:
    """Two shelf units: 32 boards in 8 chains behind 4 timers, 6 fans, 2 heaters, 16 trays."""
    circuits = tuple(
        Circuit(id=key, name=f"Circuit {key}", breaker=16.0) for key in ("hall", "den")
    )
    outlets = tuple(
        Outlet(id=f"outlet-{c.id}", name=f"Outlet {c.id}", wall=3, offset=1.0 + k, circuit=c.id)
        for k, c in enumerate(circuits)
    )
    room = Room(
        outline=((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)),
        fixtures=outlets,
        circuits=circuits,
    )
    box = Enclosure(
        id="box", name="Box", width=3.2, depth=1.2, height=2.0, place=Place(x=0.3, y=1.6)
    )
    parts: list[Part] = [box]
    for side, circuit in enumerate(circuits):
        parts += _side(side, circuit.id)
    return Design(room=room, parts=tuple(parts))  # type: ignore[arg-type]


def _side(side: int, circuit: str) -> list[Part]:
    unit, strip, small = f"unit-{side}", f"strip-{side}", {"width": 0.1, "depth": 0.1}
    found: list[Part] = [
        ShelfUnit(
            id=unit, name=f"Unit {side}", width=1.2, depth=0.5, height=1.8,
            place=Place(host="box", x=0.2 + 1.5 * side, y=0.3),
            levels=tuple(Shelf(z=0.1 + 0.42 * k) for k in range(LEVELS + 1)),
        ),
        Strip(
            id=strip, name=f"Strip {side}", height=0.05, plug=Plug(into=f"outlet-{circuit}"),
            place=Place(x=0.1 + side, y=0.1), **small,
        ),
    ]  # fmt: skip
    for half in range(2):
        hours = Hours(periods=(Period(on=420 + 30 * half, off=1140),), ramp=15 * half)
        place = Place(x=0.1 + side, y=0.3 + 0.2 * half)
        found.append(
            Timer(
                id=f"timer-{side}-{half}", name="Timer", height=0.1, hours=hours, sockets=2,
                plug=Plug(into=strip), place=place, **small,
            )
        )  # fmt: skip
    for level in range(1, LEVELS + 1):
        found += _level(side, unit, level)
    for k in range(3):
        found.append(
            Fan(
                id=f"fan-{side}-{k}", name="Fan", height=0.2, diameter=0.2, flow=0.05, watts=12.0,
                plug=Plug(into=strip), place=Place(host="box", x=0.05, y=0.1 + 0.3 * k, z=0.5 * k),
                **small,
            )
        )  # fmt: skip
    place = Place(host="box", x=1.42 + 1.5 * side, y=0.1)
    found.append(
        Heater(
            id=f"heater-{side}", name="Heater", height=0.3, watts=300.0, plug=Plug(into=strip),
            place=place, **small,
        )
    )  # fmt: skip
    return found


def _level(side: int, unit: str, level: int) -> list[Part]:
    found: list[Part] = []
    for k in range(4):
        name = f"board-{side}-{level}-{k}"
        into = f"board-{side}-{level}-{k - 1}" if k else f"timer-{side}-{level // 3}"
        found.append(
            Lamp(
                id=name, name=name, form="board", width=0.25, depth=0.4, height=0.03, watts=20.0,
                power_factor=0.95, chain_most=8, plug=Plug(into=into, wire_area=0.75e-6),
                place=Place(host=unit, fixing="under", level=level + 1, x=0.02 + 0.29 * k, y=0.05),
            )
        )  # fmt: skip
    for k in range(2):
        found.append(
            Tray(
                id=f"tray-{side}-{level}-{k}", name="Tray", width=0.55, depth=0.4, height=0.06,
                fill=0.03, place=Place(host=unit, level=level, x=0.02 + 0.58 * k, y=0.05),
            )
        )  # fmt: skip
    return found


EDITS = {"watts": Lamp, "fill": Tray, "x": ShelfUnit}


@pytest.mark.parametrize("field", EDITS)
def test_four_subjects_after_an_edit(benchmark: BenchmarkFixture, field: str) -> None:
    design = forty_devices()
    assert sum(hasattr(part, "watts") for part in design.parts) == 40
    part = next(design.of(EDITS[field]))
    steps = count(1)  # never the same value twice: what was kept of one must not help
    kept = {one: one.inputs(study(design)) for one in (power, water, weight, fit)}

    def edited() -> tuple[tuple[object, ...], dict[str, object]]:
        value = 1e-4 * next(steps)
        changed = (
            replace(part, place=replace(part.place, x=part.place.x + value))
            if field == "x"
            else replace(part, **{field: getattr(part, field) + value})
        )
        look = study(design.with_parts({part.id: changed}))
        assert look.placement  # shared by all engines, light and air too
        return (look,), {}

    def read(look: object) -> None:
        for engine in (power, water, weight, fit):
            if engine.inputs(look) != kept[engine]:  # type: ignore[arg-type]
                engine.read(look)  # type: ignore[arg-type]

    benchmark.pedantic(read, setup=edited, rounds=30, warmup_rounds=3)
