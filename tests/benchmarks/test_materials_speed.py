"""How long it takes to cut an enclosure anew, and to list everything when nothing is cut.

The goals: 100 ms for what follows a resize (median, idle machine, in the reader's thread), 5 ms for
the list that follows every other edit.
"""

from __future__ import annotations

from pathlib import Path

from pytest_benchmark.fixture import BenchmarkFixture

from core.materials.from_design import enclosure_materials
from core.materials.reading import read
from core.storage import load
from core.study import study

NOOK = Path(__file__).parents[2] / "resources" / "demos" / "basement-nook.fern"


def test_frame_and_sheets_cut_anew(benchmark: BenchmarkFixture) -> None:
    design = load(NOOK)
    made = benchmark.pedantic(enclosure_materials, (design,), rounds=5, warmup_rounds=1)
    assert made is not None
    assert made.frame.cuts.proven
    print(f"\nof the goal: {benchmark.stats.stats.median / 0.1:.2f}")  # type: ignore[union-attr]


def test_the_list_when_nothing_is_cut(benchmark: BenchmarkFixture) -> None:
    look = study(load(NOOK))
    found = benchmark.pedantic(read, (look,), rounds=10, warmup_rounds=1)
    assert found.lines
    print(f"\nof the goal: {benchmark.stats.stats.median / 0.005:.2f}")  # type: ignore[union-attr]
