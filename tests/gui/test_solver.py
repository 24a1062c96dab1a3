"""The background reader: coarse at once, final after a pause, newest wins, compiling elsewhere.

What the flow's own thread does is tested in `test_flow_thread`.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from typing import NamedTuple

import pytest

import core.readings
import core.warm
import gui.solver
from core.model import Design
from core.study import Quality
from gui.solver import SETTLE, Solver
from tests.designs import alcove


class Still(NamedTuple):
    """Stands for the readings of a design whose air nothing moves."""

    air: None = None


class Answer(NamedTuple):
    """Stands for readings: what was asked."""

    name: str
    quality: Quality
    air: Still = Still()
    design: Design | None = None
    season: str | None = None


class Reader:
    """Stands for the engines: says what it was asked, as slowly as it is told."""

    pause = 0.0
    asked: list[tuple[str, Quality]]
    threads: set[int]

    def __init__(self, flows: object) -> None:
        type(self).asked, type(self).threads = [], set()

    def update(self, design: Design, *, quality: Quality, season: str | None) -> Answer:
        self.asked.append((design.name, quality))
        self.threads.add(threading.get_ident())
        time.sleep(self.pause)
        if design.name == "broken":
            raise ValueError("an engine broke")
        return Answer(design.name, quality)


@pytest.fixture
def solver(qapp, monkeypatch) -> Iterator[Solver]:
    monkeypatch.setattr(core.readings, "Reader", Reader)
    monkeypatch.setattr(Reader, "pause", 0.0)
    # What an earlier test asked must not be taken for this one's.
    monkeypatch.setattr(Reader, "asked", [], raising=False)
    made = Solver()
    yield made
    made.stop()


def named(name: str) -> Design:
    return alcove().having(name=name)


def test_a_coarse_reading_comes_at_once_from_another_thread(qapp, monkeypatch, qtbot):
    monkeypatch.setattr(core.readings, "Reader", Reader)
    # With edits that take a minute to settle, only a reading that does not wait for them comes.
    monkeypatch.setattr(gui.solver, "SETTLE", 60_000)
    solver = Solver()
    with qtbot.waitSignal(solver.read) as answer:
        solver.ask(named("one"), "coarse")
    solver.stop()

    assert answer.args == [Answer("one", "coarse")]
    assert Reader.threads.isdisjoint({threading.get_ident()})


def test_final_readings_wait_until_edits_settle(solver, qtbot):
    with qtbot.waitSignal(solver.read) as answer:
        for name in ("one", "two", "three"):
            solver.ask(named(name), "final")

    assert answer.args == [Answer("three", "final")]
    assert Reader.asked == [("three", "final")]


def test_a_drag_that_begins_drops_the_final_reading_that_waits(solver, qtbot):
    solver.ask(named("final"), "final")
    with qtbot.waitSignal(solver.read) as answer:
        solver.ask(named("drag"), "coarse")
    qtbot.wait(SETTLE + 50)

    assert answer.args == [Answer("drag", "coarse")]
    assert Reader.asked == [("drag", "coarse")]


def test_requests_overtaken_while_one_is_read_are_dropped(solver, qtbot, monkeypatch):
    monkeypatch.setattr(Reader, "pause", 0.05)
    answers: list[object] = []
    solver.read.connect(answers.append)
    # Made beforehand: making one may take as long as the pause.
    steps = [named(f"step {number}") for number in range(20)]
    solver.ask(named("first"), "coarse")
    qtbot.waitUntil(lambda: len(Reader.asked) == 1)
    for step in steps:
        solver.ask(step, "coarse")

    qtbot.waitUntil(lambda: answers[-1:] == [Answer("step 19", "coarse")])
    assert len(Reader.asked) == 2


def test_a_broken_engine_is_told_and_the_next_reading_still_comes(solver, qtbot):
    with qtbot.waitSignal(solver.failed) as failed:
        solver.ask(named("broken"), "coarse")
    with qtbot.waitSignal(solver.read) as answer:
        solver.ask(named("whole"), "coarse")

    assert failed.args == ["an engine broke"]
    assert answer.args == [Answer("whole", "coarse")]


def test_busy_is_told_from_asking_to_answering(solver, qtbot):
    told: list[bool] = []
    solver.busy_changed.connect(told.append)
    with qtbot.waitSignal(solver.read):
        solver.ask(named("one"), "final")

    assert told == [True, False]


def test_kernels_are_compiled_by_another_process_while_readings_go_on(solver, qtbot, monkeypatch):
    here = threading.get_ident()
    loaded: list[bool] = []
    load = lambda: loaded.append(threading.get_ident() != here)  # noqa: E731
    monkeypatch.setitem(core.warm.ENGINES, "climate", load)
    solver.warm_up(("climate",))
    with qtbot.waitSignal(solver.read, timeout=2000):
        solver.ask(named("meanwhile"), "coarse")

    assert loaded == []
    qtbot.waitUntil(lambda: bool(loaded), timeout=120_000)
    assert loaded == [True]


def test_climate_is_read_again_once_its_kernel_is_there(solver, qtbot, monkeypatch):
    monkeypatch.setitem(core.warm.ENGINES, "climate", lambda: None)
    with qtbot.waitSignal(solver.read):
        solver.ask(named("one"), "final")
    with qtbot.waitSignal(solver.read):
        solver._warm.emit("climate")

    assert Reader.asked == [("one", "final"), ("one", "final")]


def test_a_drag_is_not_read_again_for_the_sake_of_climate(solver, qtbot, monkeypatch):
    monkeypatch.setitem(core.warm.ENGINES, "climate", lambda: None)
    with qtbot.waitSignal(solver.read):
        solver.ask(named("one"), "coarse")
    with qtbot.waitSignal(solver.warmed):
        solver._warm.emit("climate")
    qtbot.wait(50)

    assert Reader.asked == [("one", "coarse")]


def test_kernels_that_cannot_be_loaded_leave_the_window_its_readings(solver, qtbot, monkeypatch):
    def fail() -> None:
        raise ImportError("nothing compiled")

    monkeypatch.setitem(core.warm.ENGINES, "air", fail)
    with qtbot.assertNotEmitted(solver.warmed), qtbot.waitSignal(solver.read):
        solver._warm.emit("air")
        solver.ask(named("one"), "coarse")


@pytest.mark.parametrize("engine", ["light", "climate"])
def test_a_final_reading_is_done_again_once_kernels_can(solver, qtbot, monkeypatch, engine):
    monkeypatch.setitem(core.warm.ENGINES, engine, lambda: None)
    with qtbot.waitSignal(solver.read, timeout=2000):
        solver.ask(named("one"))
    with qtbot.waitSignal(solver.read, timeout=2000):
        solver._warm.emit(engine)

    assert Reader.asked == [("one", "final"), ("one", "final")]


def test_nothing_of_a_design_that_was_closed_is_kept_for_the_next(solver, qtbot, monkeypatch):
    with qtbot.waitSignal(solver.read, timeout=2000):
        solver.ask(named("one"), "coarse")
    first = solver._worker._reader
    solver.forget_air()
    with qtbot.waitSignal(solver.read, timeout=2000):
        solver.ask(named("other"), "coarse")

    assert first is not None
    assert solver._worker._reader is not first
