"""The background worker that runs the engines; the newest request wins.

It owns the only `Reader`, in its own thread; the window gets finished `Readings` by signal. The
flow of air comes from a second thread, `gui.flow_solver`; kernels are compiled by another process,
since compiling would freeze all threads.
"""

from __future__ import annotations

import logging
import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import (
    QMutex,
    QMutexLocker,
    QObject,
    QProcess,
    QProcessEnvironment,
    Qt,
    QThread,
    QTimer,
    Signal,
    Slot,
)

from core.model import Design
from core.study import Quality
from gui.flow_solver import FlowSolver

if TYPE_CHECKING:
    from core.air.advice import Advice
    from core.air.fields import AirField
    from core.air.flows import Arriving
    from core.air.from_design import RoomAir
    from core.readings import Reader, Readings

log = logging.getLogger(__name__)

SETTLE = 150
"""How long an edit is let settle before its final readings are begun. [ms]"""
_BETTER_WITH_KERNELS = ("light", "climate")
"""Whose readings are coarse until their kernels are there; air follows by its flow."""
_SOURCES = Path(__file__).resolve().parent.parent


@dataclass(frozen=True)
class Request:
    """One reading asked for."""

    number: int
    design: Design
    quality: Quality
    season: str | None


class _Worker(QObject):
    """Lives in the solver's thread; takes the latest request and drops those it overtook."""

    done = Signal(int, object)
    failed = Signal(int, str)
    warmed = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._reader: Reader | None = None
        self._arriving: Arriving | None = None
        self._mutex = QMutex()
        self._next: Request | None = None
        self._last: Request | None = None
        self._field: AirField | None = None
        self._advice: list[tuple[RoomAir, Advice]] = []
        self._forgets = False
        self._expects = True

    def put(self, request: Request) -> None:
        """Leave a request; called from any thread."""
        with QMutexLocker(self._mutex):
            self._next = request

    def put_field(self, field: AirField) -> None:
        """Leave a newer field of air, to be read with the design asked for last."""
        with QMutexLocker(self._mutex):
            self._field = field

    def put_advice(self, air: RoomAir, advice: Advice) -> None:
        """Leave what would mend the air, or what was tried in vain."""
        with QMutexLocker(self._mutex):
            self._advice.append((air, advice))

    def forget_fields(self) -> None:
        """Let go of all readings and fields before the next reading."""
        with QMutexLocker(self._mutex):
            self._field, self._forgets = None, True
            self._advice.clear()

    def expect(self, expects: bool) -> None:
        """Say whether fields are still to come."""
        with QMutexLocker(self._mutex):
            self._expects = expects

    @Slot()
    def work(self) -> None:
        """Answer the newest request, if it has not been answered yet, or with a newer field."""
        with QMutexLocker(self._mutex):
            request, self._next = self._next, None
            field, self._field = self._field, None
            advice, self._advice = self._advice, []
            forgets, self._forgets = self._forgets, False
            expects = self._expects
        try:
            if forgets and self._arriving is not None:
                self._arriving.forget()
                # Findings of one design must not stand beside coarse readings of another.
                self._reader = self._last = None
            fresh = self._take_air(field, advice, expects)
            if request is None and fresh and self._last and self._last.quality == "final":
                request = self._last
            if request is not None:
                self._answer(request)
        except Exception as error:  # a fault in an engine must not take the window with it
            log.exception("reading failed")
            number = request.number if request else 0
            self.failed.emit(number, str(error) or type(error).__name__)

    def _answer(self, request: Request) -> None:
        self._last = request
        readings = self._ready().update(
            request.design, quality=request.quality, season=request.season
        )
        self.done.emit(request.number, readings)

    def _take_air(
        self, field: AirField | None, advice: list[tuple[RoomAir, Advice]], expects: bool
    ) -> bool:
        """Give the reader what came from the flow; tell whether it differs from before."""
        self._ready()
        arriving = self._arriving
        if arriving is None:
            return False
        changed = field is not None or bool(advice) or arriving.arrives != expects
        arriving.arrives = expects
        if field is not None:
            arriving.put(field)
        for one in advice:
            arriving.put_advice(*one)
        return changed

    def _ready(self) -> Reader:
        """Return the reader; the engines load here, while the window is already shown."""
        if self._reader is None:
            from core.air.flows import Arriving
            from core.readings import Reader

            self._arriving = self._arriving or Arriving()
            self._reader = Reader(flows=self._arriving)
        return self._reader

    @Slot(str)
    def warm(self, engine: str) -> None:
        """Load an engine's compiled kernels so that the next reading is quick."""
        try:
            from core.warm import ENGINES

            ENGINES[engine]()
        except Exception:  # what is not compiled answers by its plain twin
            log.exception("the kernels of %s could not be loaded", engine)
        else:
            self.warmed.emit(engine)
            if engine in _BETTER_WITH_KERNELS:
                self._read_again()

    def _read_again(self) -> None:
        """Answer the last final request anew, now that kernels can."""
        last = self._last
        with QMutexLocker(self._mutex):
            if last is None or last.quality != "final" or self._next is not None:
                return
            self._next = last
        self.work()


class Solver(QObject):
    """Reads designs in the background.

    Attributes
    ----------
    flow : FlowSolver
        Solves the air of the design read last.

    Signals
    -------
    read(object)
        `core.readings.Readings`, for the newest request only, and again with each field of air.
    failed(str)
        An engine broke; the last readings stay.
    busy_changed(bool)
        A reading is under way.
    warmed(str)
        An engine's kernels are compiled and loaded.
    air_progressed(object)
        `core.air.stages.StageProgress` of the flow under way; None while remedies are tried.
    air_rested()
        No flow is under way any more.
    """

    read = Signal(object)
    failed = Signal(str)
    busy_changed = Signal(bool)
    warmed = Signal(str)
    air_progressed = Signal(object)
    air_rested = Signal()
    _wake = Signal()
    _warm = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._number = 0
        self._busy = False
        self._stopped = False
        self._later: Request | None = None
        self._settling = QTimer(self)
        self._settling.setSingleShot(True)
        self._settling.setInterval(SETTLE)
        self._settling.timeout.connect(self._ask_later)
        self._compiling: QProcess | None = None
        self._worker = _Worker()
        self._thread = QThread(self)
        self._thread.setObjectName("solver")
        self._worker.moveToThread(self._thread)
        self._wake.connect(self._worker.work, Qt.ConnectionType.QueuedConnection)
        self._warm.connect(self._worker.warm, Qt.ConnectionType.QueuedConnection)
        self._worker.done.connect(self._take)
        self._worker.failed.connect(self._complain)
        self._worker.warmed.connect(self._use_kernels)
        self.flow = FlowSolver(self)
        self.flow.arrived.connect(self._pass_on)
        self.flow.advised.connect(self._pass_advice)
        self.flow.progressed.connect(self.air_progressed)
        self.flow.rested.connect(self.air_rested)
        self.flow.failed.connect(self._tell_broken_flow)
        self._thread.start()

    def ask(self, design: Design, quality: Quality = "final", season: str | None = None) -> None:
        """Ask for readings; an older request still waiting is dropped.

        Coarse ones begin at once; final ones when no other request has come for `SETTLE`. The flow
        of air rests until they are read.
        """
        self._number += 1
        request = Request(self._number, design, quality, season)
        self._stopped = False
        self.flow.hold()
        self._worker.expect(True)
        self._set_busy(True)
        if quality == "final":
            self._later = request
            self._settling.start()
        else:
            self._settling.stop()
            self._put(request)

    @property
    def can_refine(self) -> bool:
        """Whether the air can be solved on finer cells than it has been."""
        return self.flow.can_refine

    @property
    def air_stopped(self) -> bool:
        """Whether the flow of air was stopped, and nothing has been asked for since."""
        return self._stopped

    def refine_air(self) -> None:
        """Solve the air on the finest cells."""
        self.flow.refine()

    def stop_air(self) -> None:
        """Do without the flow under way; what is shown of the air is from before."""
        self._stopped = True
        self.flow.stop()
        self._do_without_air()

    def forget_air(self) -> None:
        """Let go of the fields of a design that is no longer open."""
        self.flow.forget()
        self._worker.forget_fields()
        self._wake.emit()

    def _ask_later(self) -> None:
        if self._later is not None:
            self._put(self._later)
            self._later = None

    def _put(self, request: Request) -> None:
        self._worker.put(request)
        self._wake.emit()

    def _pass_on(self, field: AirField) -> None:
        self._worker.put_field(field)
        self._wake.emit()

    def _pass_advice(self, air: RoomAir, advice: Advice) -> None:
        self._worker.put_advice(air, advice)
        self._wake.emit()

    def _do_without_air(self) -> None:
        """Have the air read from what there is."""
        self._worker.expect(False)
        self._wake.emit()

    def _tell_broken_flow(self, words: str) -> None:
        self._do_without_air()
        self.failed.emit(words)

    def warm_up(self, engines: Sequence[str] = ()) -> None:
        """Have kernels compiled by another process, and load each engine's between two readings.

        Until then the engines answer from their plain twins, and air from jets.

        Parameters
        ----------
        engines : sequence of str
            Names in `core.warm`; by default all, those first that a drag waits for.
        """
        if self._compiling is not None:
            return
        process = QProcess(self)
        environment = QProcessEnvironment.systemEnvironment()
        known = environment.value("PYTHONPATH")
        paths = [str(_SOURCES), *([known] if known else [])]
        environment.insert("PYTHONPATH", os.pathsep.join(paths))
        process.setProcessEnvironment(environment)
        process.readyReadStandardOutput.connect(self._load_kernels)
        process.finished.connect(self._end_compiling)
        process.start(sys.executable, ["-m", "core.warm", *engines])
        self._compiling = process

    def _load_kernels(self) -> None:
        """Load what the other process says it has compiled."""
        while self._compiling is not None and self._compiling.canReadLine():
            line = self._compiling.readLine().toStdString().strip()
            self._warm.emit(line)

    def _end_compiling(self, code: int) -> None:
        if code != 0:
            log.warning("kernels could not be compiled; readings stay slower, and air is jets'")
            self.flow.give_up()

    def _use_kernels(self, engine: str) -> None:
        if engine == "air":
            self.flow.make_ready()
        self.warmed.emit(engine)

    def stop(self) -> None:
        """End the threads; to be called before the program ends."""
        self._settling.stop()
        if self._compiling is not None:
            self._compiling.blockSignals(True)
            self._compiling.kill()
            self._compiling.waitForFinished(1000)
        self.flow.end()
        self._thread.quit()
        self._thread.wait()

    def _take(self, number: int, readings: Readings) -> None:
        # During a drag results arrive one behind the newest request; they are worth showing.
        if number == self._number:
            self._set_busy(False)
        followed = number == self._number and readings.quality == "final" and not self._stopped
        if followed and not self._follow(readings):
            self._do_without_air()
        self.read.emit(readings)

    def _follow(self, readings: Readings) -> bool:
        return self.flow.follow(readings.air.air, readings.design, readings.season)

    def _complain(self, number: int, words: str) -> None:
        if number == self._number:
            self._set_busy(False)
            self.flow.go_on()
        self.failed.emit(words)

    def _set_busy(self, busy: bool) -> None:
        if busy != self._busy:
            self._busy = busy
            self.busy_changed.emit(busy)
