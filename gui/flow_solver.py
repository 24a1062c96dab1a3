"""The second background thread: the flow of air, solved picture by picture while the window lives.

The newest scene wins; what is solved in which steps is `core.air.stages`' affair, and what a field
means for the plants is read in `gui.solver`'s own thread.
"""

from __future__ import annotations

import logging
import os
import sys
import threading
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QThread, Signal, Slot

from core.errors import CancelledError

if TYPE_CHECKING:
    from core.air.advice import Advice
    from core.air.fields import AirField
    from core.air.from_design import RoomAir
    from core.model import Design

log = logging.getLogger(__name__)

_NICE = 5
"""How much the thread steps back where each thread has a niceness of its own."""


class Leash:
    """Holds or ends one piece of work in another thread, at its next step."""

    def __init__(self) -> None:
        self._go = threading.Event()
        self._go.set()
        self._over = threading.Event()

    def hold(self) -> None:
        """Let the work rest at its next step."""
        self._go.clear()

    def let_go(self) -> None:
        """Let it go on."""
        self._go.set()

    def cut(self) -> None:
        """End it at its next step."""
        self._over.set()
        self._go.set()

    def is_cut(self) -> bool:
        """Tell the work whether to end; does not return while it is held."""
        self._go.wait()
        return self._over.is_set()


@dataclass(frozen=True, eq=False)
class Job:
    """One scene to solve.

    Attributes
    ----------
    air : RoomAir
    design, season
        The design that it is the air of, and the id of its season.
    start : AirField or None
        Flow to go on from.
    refine : bool
        Whether to go on to the finest cells.
    leash : Leash
    """

    air: RoomAir
    design: Design
    season: str | None
    start: AirField | None
    refine: bool
    leash: Leash


class _Worker(QObject):
    """Lives in the flow's thread."""

    shown = Signal(object, object)
    told = Signal(object, object)
    advised = Signal(object, object)
    ended = Signal(object)
    failed = Signal(object, str)

    def __init__(self) -> None:
        super().__init__()
        self._polite = False
        self._advised: tuple[RoomAir | None, set[tuple[str, bool]]] = (None, set())

    @Slot(object)
    def work(self, job: Job) -> None:
        """Solve one scene to its end, unless it is cut."""
        if job.leash.is_cut():
            return
        self._step_back()
        try:
            settled = self._solve(job, job.start, fine=False)
            self._advise(job, settled)
            self._advise(job, self._solve(job, settled, fine=True))
        except CancelledError:
            return
        except Exception as error:  # a fault in the flow must not take the window with it
            log.exception("the flow of air failed")
            self.failed.emit(job, str(error) or type(error).__name__)
        else:
            self.ended.emit(job)

    def _solve(self, job: Job, start: AirField | None, *, fine: bool) -> AirField | None:
        """Solve stage by stage; return the last field."""
        from core.air.stages import solve_stages

        fields = [start]

        def show(field: AirField) -> None:
            fields[0] = field
            self.shown.emit(job, field)

        solve_stages(
            job.air,
            start=start,
            cancel=job.leash.is_cut,
            show=show,
            tell=lambda progress: self.told.emit(job, progress),
            fine=fine,
            refine=fine and job.refine,
        )
        return fields[0]

    def _advise(self, job: Job, field: AirField | None) -> None:
        """Search for what would mend the air, where that has not been done for this air.

        Not on the finest cells, where each trial would take as long as they took.
        """
        from core.air.stage import Stage
        from core.findings.air_trials import advise
        from core.study import study

        if field is None or field.stage not in (Stage.SETTLED, Stage.FINE) or job.refine:
            return
        if self._advised[0] != job.air:
            self._advised = job.air, set()
        known = self._advised[1]
        self.told.emit(job, None)
        look = study(job.design, season=job.season)
        for advice in advise(look, field, cancel=job.leash.is_cut, known=frozenset(known)):
            known.add((advice.place, advice.still))
            self.advised.emit(job, advice)

    def _step_back(self) -> None:
        """Leave the processor to the window and the readings when both want it."""
        if not self._polite and sys.platform == "linux":
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), _NICE)
        self._polite = True


class FlowSolver(QObject):
    """Solves the scene last followed, in a thread that begins with the first scene.

    Attributes
    ----------
    field : AirField or None
        The last one solved, of this scene or an earlier one.
    running : bool
        Whether a scene is being solved.

    Signals
    -------
    arrived(object)
        A newer `core.air.fields.AirField` of the scene followed.
    progressed(object)
        `core.air.stages.StageProgress`; None while it is tried what would mend the air.
    advised(object, object)
        The `RoomAir` followed, and a `core.air.advice.Advice` on it.
    rested()
        Nothing is left to solve.
    failed(str)
        The scene could not be solved; it is not tried again until it differs.
    """

    arrived = Signal(object)
    progressed = Signal(object)
    advised = Signal(object, object)
    rested = Signal()
    failed = Signal(str)
    _work = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.field: AirField | None = None
        self.running = False
        self._ready = False
        self._broken = False
        self._failed: RoomAir | None = None
        self._air: RoomAir | None = None
        self._design: tuple[Design, str | None] | None = None
        self._job: Job | None = None
        self._worker = _Worker()
        self._thread = QThread(self)
        self._thread.setObjectName("flow")
        self._worker.moveToThread(self._thread)
        self._work.connect(self._worker.work, Qt.ConnectionType.QueuedConnection)
        self._worker.shown.connect(self._take)
        self._worker.told.connect(self._tell)
        self._worker.advised.connect(self._pass_advice)
        self._worker.ended.connect(self._end_job)
        self._worker.failed.connect(self._complain)

    def make_ready(self) -> None:
        """The kernels are compiled: solve from now on what is followed."""
        self._ready = True
        self._begin()

    def give_up(self) -> None:
        """The kernels cannot be compiled: no field will come."""
        self._broken = True

    def follow(self, air: RoomAir | None, design: Design, season: str | None = None) -> bool:
        """Solve this scene, unless it is the one solved already.

        Parameters
        ----------
        air : RoomAir or None
            None: nothing moves air.
        design, season
            Whose air it is: what would mend it is tried on them.

        Returns
        -------
        bool
            Whether there is hope: False when this scene broke the solver, or nothing can be solved.
        """
        self._design = design, season
        if air == self._air:
            self.go_on()
        else:
            self._cut()
            self._air = air
            if air is None:
                self.field = None
            self._begin()
        return air is None or not (self._broken or air == self._failed)

    def hold(self) -> None:
        """Let the thread rest while something is dragged."""
        if self._job is not None:
            self._job.leash.hold()

    def go_on(self) -> None:
        """Go on with what was held."""
        if self._job is not None:
            self._job.leash.let_go()

    def stop(self) -> None:
        """End the work under way at its next step, and forget the scene; its fields stay."""
        self._air = None
        self._cut()
        self._begin()

    def forget(self) -> None:
        """Let go of all fields: another design is open."""
        self.stop()
        self.field = None

    @property
    def can_refine(self) -> bool:
        """Whether finer cells than the last field's can be asked for."""
        air = self._air
        if not self._ready or air is None:
            return False
        if self._job is not None and self._job.refine:
            return False
        cell = air.cell if self.field is None or self.field.air != air else self.field.cell
        return air.refined_cell < cell - 1e-9

    def refine(self) -> None:
        """Go on to the finest cells."""
        if self.can_refine:
            self._cut()
            self._begin(refine=True)

    def end(self) -> None:
        """End the thread; to be called before the program ends."""
        self._ready = False
        self.forget()
        self._thread.quit()
        self._thread.wait()

    def _begin(self, *, refine: bool = False) -> None:
        """Begin on the scene followed, or rest where there is none."""
        air, whose = self._air, self._design
        if not self._ready or air is None or whose is None or air == self._failed:
            self._set_running(False)
            return
        if not self._thread.isRunning():
            self._thread.start(QThread.Priority.LowPriority)
        self._job = Job(air, *whose, self.field, refine, Leash())
        self._set_running(True)
        self._work.emit(self._job)

    def _cut(self) -> None:
        if self._job is not None:
            self._job.leash.cut()
            self._job = None

    def _set_running(self, running: bool) -> None:
        if running != self.running:
            self.running = running
            if not running:
                self.rested.emit()

    def _take(self, job: Job, field: AirField) -> None:
        if job is self._job:
            self.field = field
            self.arrived.emit(field)

    def _tell(self, job: Job, progress: object) -> None:
        if job is self._job:
            self.progressed.emit(progress)

    def _pass_advice(self, job: Job, advice: Advice) -> None:
        if job is self._job:
            self.advised.emit(job.air, advice)

    def _end_job(self, job: Job) -> None:
        if job is self._job:
            self._job = None
            self._set_running(False)

    def _complain(self, job: Job, words: str) -> None:
        if job is self._job:
            self._job, self._failed = None, job.air
            self._set_running(False)
            self.failed.emit(words)
