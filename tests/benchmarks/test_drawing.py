"""How long the marks of a design of sixty parts take, in all three views.

Busy machines measure longer, so the test allows four times the limit and reports the figure.
"""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

from core.drawing.marks import VIEWS, Mark
from core.drawing.symbols import part_marks
from core.placement import Placement
from core.storage import load

DEMO = Path(__file__).resolve().parents[2] / "resources" / "demos" / "basement-nook.fern"
LIMIT = 0.010
"""Median for three views on an idle machine. [s]"""
BUSY = 4.0


def test_sixty_parts_are_drawn_in_three_views_within_their_time(benchmark: Any) -> None:
    placement = Placement(load(DEMO))
    ids = [part.id for part in placement.design.parts]
    assert len(ids) == 60

    def draw() -> list[tuple[Mark, ...]]:
        return [part_marks(placement, one, view) for view in VIEWS for one in ids]

    start = time.perf_counter()
    assert all(draw())
    once = time.perf_counter() - start
    benchmark(draw)
    median = benchmark.stats.stats.median if benchmark.stats else once

    assert median < BUSY * LIMIT
