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
    _tell(benchmark, 0.1)


def test_the_list_when_nothing_is_cut(benchmark: BenchmarkFixture) -> None:
    look = study(load(NOOK))
    found = benchmark.pedantic(read, (look,), rounds=10, warmup_rounds=1)
    assert found.lines
    _tell(benchmark, 0.005)


def _tell(benchmark: BenchmarkFixture, goal: float) -> None:
    """Print the time as a share of the goal; there is none where benchmarks are switched off."""
    if benchmark.stats is not None:
        print(f"\nof the goal: {benchmark.stats.stats.median / goal:.2f}")
