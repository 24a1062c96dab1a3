"""How long the coarse readings of one drag step take on a design of 60 parts.

The goal is 33 ms (median, idle machine), so that readings follow a drag at thirty a second; what
the window adds is in `test_drag_speed`.
"""

from __future__ import annotations

from itertools import count
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from core.light import warm_up
from core.model import Lamp, Part, ShelfUnit, Tray, replace
from core.readings import Reader
from core.storage import load

NOOK = Path(__file__).parents[2] / "resources" / "demos" / "basement-nook.fern"


@pytest.mark.parametrize("kind", [Lamp, Tray, ShelfUnit], ids=lambda kind: kind.__name__)
def test_the_coarse_readings_of_a_drag_step(benchmark: BenchmarkFixture, kind: type[Part]) -> None:
    warm_up()
    design = load(NOOK)
    assert len(design.parts) == 60
    reader = Reader()
    reader.update(design)
    part = next(design.of(kind))
    steps = count(1)  # never the same place twice: what was kept of one must not help

    def drag_on() -> None:
        place = replace(part.place, x=part.place.x + 0.001 * next(steps))
        moved = design.with_parts({part.id: replace(part, place=place)})
        reader.update(moved, [part.id], quality="coarse")

    benchmark.pedantic(drag_on, rounds=12, warmup_rounds=2)
