"""The flow's own thread: newest scene wins, held and cut at a step, faults told once, ends at once.

The flow itself is played by a solver that takes a step whenever the test lets it.
"""

from __future__ import annotations

import gc
import threading
import time
import weakref
from collections.abc import Callable, Iterator
from types import SimpleNamespace

import pytest

import core.air.stages
import core.findings.air_trials
from core.air.advice import Advice
from core.air.fields import AirField
from core.air.from_design import RoomAir
from core.air.stage import Stage
from core.air.stages import StageProgress
from core.errors import CancelledError
from core.model import Design, Fan, Plants, replace
from core.phrases import phrase
from core.readings import Readings
from gui.flow_solver import FlowSolver
from gui.solver import Solver
from tests.air_fields import air_of, even, field_of
from tests.designs import alcove

DESIGN = alcove()


def turned(by: float) -> Design:
    """Return the alcove with its first fan turned, so that its air is another."""
    fan = next(iter(DESIGN.of(Fan)))
    return DESIGN.with_parts({fan.id: replace(fan, heading=fan.heading + by)})


class Player:
    """Stands for `core.air.stages`: takes a step for each that is granted, and shows fields."""

    def __init__(self) -> None:
        self.calls: list[SimpleNamespace] = []
        self.granted = threading.Semaphore(0)
        self.free = True
        self.broken = False
        self.design = DESIGN

    def solve_stages(
        self,
        air: RoomAir,
        *,
        start: AirField | None,
        cancel: Callable[[], bool],
        show: Callable[[AirField], None],
        tell: Callable[[StageProgress], None],
        fine: bool,
        refine: bool,
    ) -> None:
        call = SimpleNamespace(air=air, start=start, fine=fine, refine=refine, steps=0)
        self.calls.append(call)
        for stage in self._stages(air, start, fine, refine):
            self._step(call, cancel)
            tell(StageProgress(stage, 0.5, air.cell))
            show(self._field(air, stage))

    def _stages(
        self, air: RoomAir, start: AirField | None, fine: bool, refine: bool
    ) -> Iterator[Stage]:
        known = start.stage.rank if start is not None and start.air == air else 0
        wanted = [Stage.MOVING, Stage.PREVIEW, Stage.SETTLED]
        wanted += [Stage.FINE] * fine + [Stage.REFINED] * refine
        return (stage for stage in wanted if stage.rank > known)

    def _step(self, call: SimpleNamespace, cancel: Callable[[], bool]) -> None:
        if cancel():
            raise CancelledError("cut")
        if not self.free:
            self.granted.acquire()
        if self.broken:
            raise ValueError("the flow broke")
        call.steps += 1

    def _field(self, air: RoomAir, stage: Stage) -> AirField:
        made = field_of(self.design, even(0.3, 0.0, 0.0), stage)
        return AirField(air, made.flow, stage)


@pytest.fixture
def player(monkeypatch) -> Player:
    made = Player()
    monkeypatch.setattr(core.air.stages, "solve_stages", made.solve_stages)
    monkeypatch.setattr(core.findings.air_trials, "advise", lambda *given, **more: iter(()))
    return made


@pytest.fixture
def flow(qapp, player) -> Iterator[FlowSolver]:
    made = FlowSolver()
    made.make_ready()
    yield made
    player.free = True
    player.granted.release(100)
    made.end()


def follow(flow: FlowSolver, design: Design) -> bool:
    return flow.follow(air_of(design), design)


def test_fields_come_stage_by_stage_and_then_it_rests(flow, qtbot):
    stages: list[Stage] = []
    flow.arrived.connect(lambda field: stages.append(field.stage))
    with qtbot.waitSignal(flow.rested):
        follow(flow, DESIGN)

    assert stages == [Stage.MOVING, Stage.PREVIEW, Stage.SETTLED, Stage.FINE]
    assert flow.field is not None and flow.field.stage is Stage.FINE
    assert not flow.running


def test_nothing_is_begun_before_the_kernels_are_ready(qapp, player, qtbot):
    flow = FlowSolver()
    assert follow(flow, DESIGN)
    assert not flow.running and not flow.can_refine
    with qtbot.waitSignal(flow.rested):
        flow.make_ready()
    assert player.calls
    flow.end()


def test_without_a_fan_no_thread_is_begun(flow, player):
    assert flow.follow(None, DESIGN)
    assert not flow.running and not flow._thread.isRunning() and player.calls == []


def test_the_same_scene_is_not_solved_twice(flow, player, qtbot):
    with qtbot.waitSignal(flow.rested):
        follow(flow, DESIGN)
    calls = len(player.calls)
    follow(flow, DESIGN.having(name="another name"))
    assert len(player.calls) == calls and not flow.running


def test_a_newer_scene_cuts_the_older_within_a_step_and_starts_from_its_field(flow, player, qtbot):
    player.free = False
    follow(flow, DESIGN)
    with qtbot.waitSignal(flow.arrived):
        player.granted.release()
    qtbot.waitUntil(lambda: player.calls[0].steps == 1)
    last = flow.field
    follow(flow, turned(30.0))
    player.free = True
    with qtbot.waitSignal(flow.rested):
        player.granted.release()

    assert player.calls[0].steps <= 2
    assert player.calls[1].air == air_of(turned(30.0))
    assert player.calls[1].start is last
    assert flow.field is not None and flow.field.air == air_of(turned(30.0))


def test_it_stands_still_while_held_and_goes_on_with_the_same_work(flow, player, qtbot):
    player.free = False
    follow(flow, DESIGN)
    with qtbot.waitSignal(flow.arrived):
        player.granted.release()
    flow.hold()
    player.granted.release(5)
    # At most the step that had been begun is still taken.
    qtbot.wait(60)
    held = player.calls[0].steps
    assert held <= 2
    with qtbot.waitSignal(flow.rested):
        flow.go_on()
        player.granted.release(5)
    assert player.calls[0].steps == 3


def test_stopped_it_keeps_its_field_and_rests(flow, player, qtbot):
    player.free = False
    follow(flow, DESIGN)
    with qtbot.waitSignal(flow.arrived):
        player.granted.release()
    with qtbot.waitSignal(flow.rested):
        flow.stop()
    with qtbot.assertNotEmitted(flow.arrived, wait=60):
        player.granted.release(5)
    assert flow.field is not None and flow.field.stage is Stage.MOVING


def test_a_fault_is_told_once_and_another_scene_is_tried(flow, player, qtbot):
    player.broken = True
    with qtbot.waitSignal(flow.failed) as told:
        assert follow(flow, DESIGN)
    calls = len(player.calls)
    with qtbot.assertNotEmitted(flow.failed, wait=60):
        assert not follow(flow, DESIGN)
    assert told.args == ["the flow broke"]
    assert len(player.calls) == calls

    player.broken = False
    with qtbot.waitSignal(flow.rested):
        assert follow(flow, turned(30.0))


def test_it_ends_while_it_works(flow, player, qtbot):
    follow(flow, DESIGN)
    flow.end()
    assert not flow._thread.isRunning()


def test_fields_are_released_when_another_design_opens(flow, qtbot):
    with qtbot.waitSignal(flow.rested):
        follow(flow, DESIGN)
    kept = weakref.ref(flow.field)
    flow.forget()
    gc.collect()
    assert kept() is None


def test_finer_cells_are_solved_on_demand_only_and_once(flow, player, qtbot):
    assert not flow.can_refine
    with qtbot.waitSignal(flow.rested):
        follow(flow, DESIGN)
    assert [call.refine for call in player.calls] == [False, False]
    before = flow.field
    assert flow.can_refine
    with qtbot.waitSignal(flow.rested):
        flow.refine()
        assert not flow.can_refine
    assert (player.calls[-1].refine, player.calls[-1].start) == (True, before)
    assert flow.field is not None and flow.field.stage is Stage.REFINED


def test_what_would_mend_the_air_is_tried_once_settled_and_again_on_fine_cells(
    flow, player, qtbot, monkeypatch
):
    plants = next(iter(DESIGN.of(Plants))).id
    still, strong = (
        Advice(plants, still, None, phrase("Nothing helped")) for still in (True, False)
    )
    asked: list[tuple[Stage, object]] = []

    def advise(
        look: object, field: AirField, cancel: object, known: frozenset[object]
    ) -> Iterator[Advice]:
        asked.append((field.stage, known))
        yield still if field.stage is Stage.SETTLED else strong

    monkeypatch.setattr(core.findings.air_trials, "advise", advise)
    told: list[tuple[object, object]] = []
    flow.advised.connect(lambda air, found: told.append((air, found)))
    with qtbot.waitSignal(flow.rested):
        follow(flow, DESIGN)
    assert told == [(air_of(DESIGN), still), (air_of(DESIGN), strong)]
    assert asked == [(Stage.SETTLED, set()), (Stage.FINE, {(plants, True)})]
    with qtbot.waitSignal(flow.rested):
        flow.refine()
    assert len(asked) == 2


def test_trials_that_were_cut_are_taken_up_again_and_none_is_made_twice(
    flow, player, qtbot, monkeypatch
):
    asked: list[tuple[Stage, object]] = []

    def advise(
        look: object, field: AirField, cancel: Callable[[], bool], known: frozenset[object]
    ) -> Iterator[Advice]:
        asked.append((field.stage, known))
        for place in ("one", "other"):
            if (place, True) not in known:
                yield Advice(place, True, None, phrase("Nothing helped"))
                while place == "one" and not cancel():
                    time.sleep(0.001)
            if cancel():
                raise CancelledError("cut")

    monkeypatch.setattr(core.findings.air_trials, "advise", advise)
    with qtbot.waitSignal(flow.advised):
        follow(flow, DESIGN)
    flow.stop()
    with qtbot.waitSignal(flow.rested):
        follow(flow, DESIGN)
    one, other = ("one", True), ("other", True)
    settled, fine = Stage.SETTLED, Stage.FINE
    assert asked == [(settled, set()), (settled, {one}), (fine, {one, other})]


# --- with the readings ------------------------------------------------------------------------


@pytest.fixture
def solver(qapp, player) -> Iterator[Solver]:
    made = Solver()
    made.flow.make_ready()
    yield made
    player.free = True
    player.granted.release(100)
    made.stop()


def stages_read(solver: Solver) -> list[tuple[Stage, bool]]:
    found: list[tuple[Stage, bool]] = []
    solver.read.connect(lambda readings: found.append((readings.air.stage, readings.air.passing)))
    return found


def test_readings_come_at_once_from_jets_and_again_with_each_field(solver, player, qtbot):
    player.free = False
    found = stages_read(solver)
    solver.ask(DESIGN, "final")
    for stage in (Stage.JETS, Stage.MOVING, Stage.PREVIEW, Stage.SETTLED, Stage.FINE):
        passing = not stage.settled
        qtbot.waitUntil(lambda stage=stage, p=passing: found[-1:] == [(stage, p)], timeout=20_000)
        player.granted.release()


def test_stopped_the_air_is_read_from_the_last_settled_flow(solver, player, qtbot):
    latest: list[Readings] = []
    solver.read.connect(latest.append)
    solver.ask(DESIGN, "final")
    qtbot.waitUntil(lambda: bool(latest) and latest[-1].air.stage is Stage.FINE, timeout=20_000)

    player.free = False
    solver.ask(turned(30.0), "final")
    qtbot.waitUntil(lambda: latest[-1].air.awaited, timeout=20_000)
    solver.stop_air()
    assert solver.air_stopped
    qtbot.waitUntil(lambda: not latest[-1].air.awaited, timeout=20_000)
    assert latest[-1].design == turned(30.0)
    assert latest[-1].air.stage is Stage.FINE and latest[-1].air.field is None
    assert not solver.flow.running

    player.free = True
    player.granted.release(100)
    solver.ask(turned(30.0), "final")
    assert not solver.air_stopped
    qtbot.waitUntil(lambda: latest[-1].air.field is not None, timeout=20_000)
    assert latest[-1].air.field.air == air_of(turned(30.0))


def test_the_flow_rests_from_an_edit_until_it_is_read(solver, player, qtbot):
    player.free = False
    solver.ask(DESIGN, "final")
    qtbot.waitUntil(lambda: bool(player.calls), timeout=20_000)
    solver.ask(turned(30.0), "coarse")
    player.granted.release(100)
    with qtbot.waitSignal(solver.read, timeout=20_000):
        pass
    assert player.calls[0].steps <= 2


def test_a_broken_flow_leaves_the_readings_from_jets(solver, player, qtbot):
    player.broken = True
    latest: list[Readings] = []
    solver.read.connect(latest.append)
    with qtbot.waitSignal(solver.failed, timeout=20_000):
        solver.ask(DESIGN, "final")
    qtbot.waitUntil(lambda: not latest[-1].air.passing, timeout=20_000)
    assert latest[-1].air.stage is Stage.JETS
    answered = len(latest)
    with qtbot.assertNotEmitted(solver.failed, wait=60):
        solver.ask(DESIGN, "final")
        qtbot.waitUntil(lambda: len(latest) > answered, timeout=20_000)


def test_closing_ends_both_threads_at_once(qapp, player, qtbot):
    solver = Solver()
    solver.flow.make_ready()
    solver.ask(DESIGN, "final")
    qtbot.waitUntil(lambda: solver.flow.running, timeout=20_000)
    begun = time.monotonic()
    solver.stop()
    assert not solver._thread.isRunning() and not solver.flow._thread.isRunning()
    assert time.monotonic() - begun < 5.0
