"""How long one event of a drag takes, model and painting together, on a sheet of 60 parts.

The limit is DESIGN's frame: 16 ms at the median on an idle machine. Busy machines measure longer,
so the test allows four frames and the benchmark reports the figure.
"""

from __future__ import annotations

import statistics
import time

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from gui.dragging import Drag
from tests.designs import alcove
from tests.gui.driving import Mouse, build_sheet

FRAME = 0.016
BUSY = 4.0


def test_one_drag_event_on_sixty_parts_stays_within_a_frame(qtbot, theme, benchmark):
    sheet = build_sheet(qtbot, theme, alcove(extra_trays=31))
    assert len(sheet.document.design.parts) == 60
    mouse = Mouse(sheet, "plan")
    sheet.view.select(["board-3-right"])
    mouse.press(*mouse.over("board-3-right"))
    mouse.move_px(-8, 0)
    steps = iter(range(10**9))

    def one_event() -> None:
        mouse.move_px(3.0 if next(steps) % 2 else -3.0, 0, Qt.KeyboardModifier.NoModifier, 1)
        QApplication.processEvents()

    benchmark.pedantic(one_event, rounds=60, iterations=1, warmup_rounds=5)
    median = benchmark.stats.stats.median if benchmark.stats else _median(one_event)
    mouse.release()

    assert median < BUSY * FRAME


def test_a_unit_with_all_it_carries_is_dragged_as_smoothly(qtbot, theme, benchmark):
    sheet = build_sheet(qtbot, theme, alcove(extra_trays=31))
    mouse = Mouse(sheet, "plan")
    sheet.view.select(["unit-1"])
    box = sheet.placement.box("unit-1")
    mouse.press(box.lo[0] + 0.3, box.lo[1] + 0.55)
    mouse.move_px(8, 0)
    assert isinstance(sheet.gesture, Drag)
    assert sheet.gesture.ids == ("unit-1",)
    steps = iter(range(10**9))

    def one_event() -> None:
        mouse.move_px(3.0 if next(steps) % 2 else -3.0, 0, Qt.KeyboardModifier.NoModifier, 1)
        QApplication.processEvents()

    benchmark.pedantic(one_event, rounds=60, iterations=1, warmup_rounds=5)
    median = benchmark.stats.stats.median if benchmark.stats else _median(one_event)
    mouse.release()

    assert median < BUSY * FRAME


def _median(call: object, rounds: int = 30) -> float:
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        call()  # type: ignore[operator]
        times.append(time.perf_counter() - start)
    return statistics.median(times)
