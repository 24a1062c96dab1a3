"""The background worker that runs the engines; the newest request wins.

It owns the only `Reader`, in its own thread; the window gets finished `Readings` by signal. Kernels
are compiled by another process, since compiling would freeze both threads.
"""

from __future__ import annotations

import logging
import os
import sys
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

if TYPE_CHECKING:
    from core.readings import Reader

log = logging.getLogger(__name__)

SETTLE = 150
"""How long an edit is let settle before its final readings are begun. [ms]"""
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
    warmed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._reader: Reader | None = None
        self._mutex = QMutex()
        self._next: Request | None = None

    def put(self, request: Request) -> None:
        """Leave a request; called from any thread."""
        with QMutexLocker(self._mutex):
            self._next = request

    @Slot()
    def work(self) -> None:
        """Answer the newest request, if it has not been answered yet."""
        with QMutexLocker(self._mutex):
            request, self._next = self._next, None
        if request is None:
            return
        try:
            readings = self._ready().update(
                request.design, quality=request.quality, season=request.season
            )
        except Exception as error:  # a fault in an engine must not take the window with it
            log.exception("reading failed")
            self.failed.emit(request.number, str(error) or type(error).__name__)
        else:
            self.done.emit(request.number, readings)

    def _ready(self) -> Reader:
        """Return the reader; the engines load here, while the window is already shown."""
        if self._reader is None:
            from core.readings import Reader

            self._reader = Reader()
        return self._reader

    @Slot()
    def warm(self) -> None:
        """Load the compiled kernels so that the next reading is quick."""
        from core.light import warm_up

        warm_up()
        self.warmed.emit()


class Solver(QObject):
    """Reads designs in the background.

    Signals
    -------
    read(object)
        `core.readings.Readings`, for the newest request only.
    failed(str)
        An engine broke; the last readings stay.
    busy_changed(bool)
        A reading is under way.
    warmed()
        The kernels are compiled and loaded.
    """

    read = Signal(object)
    failed = Signal(str)
    busy_changed = Signal(bool)
    warmed = Signal()
    _wake = Signal()
    _warm = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._number = 0
        self._busy = False
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
        self._worker.warmed.connect(self.warmed)
        self._thread.start()

    def ask(self, design: Design, quality: Quality = "final", season: str | None = None) -> None:
        """Ask for readings; an older request still waiting is dropped.

        Coarse ones begin at once; final ones when no other request has come for `SETTLE`.
        """
        self._number += 1
        request = Request(self._number, design, quality, season)
        self._set_busy(True)
        if quality == "final":
            self._later = request
            self._settling.start()
        else:
            self._settling.stop()
            self._put(request)

    def _ask_later(self) -> None:
        if self._later is not None:
            self._put(self._later)
            self._later = None

    def _put(self, request: Request) -> None:
        self._worker.put(request)
        self._wake.emit()

    def warm_up(self) -> None:
        """Have the kernels compiled by another process, then load them between two readings.

        Until then the engines answer from their plain twins.
        """
        if self._compiling is not None:
            return
        process = QProcess(self)
        environment = QProcessEnvironment.systemEnvironment()
        known = environment.value("PYTHONPATH")
        paths = [str(_SOURCES), *([known] if known else [])]
        environment.insert("PYTHONPATH", os.pathsep.join(paths))
        process.setProcessEnvironment(environment)
        process.finished.connect(self._load_kernels)
        process.start(sys.executable, ["-m", "core.warm"])
        self._compiling = process

    def _load_kernels(self, code: int) -> None:
        if code == 0:
            self._warm.emit()
        else:
            log.warning("kernels could not be compiled; readings stay slower")

    def stop(self) -> None:
        """End the thread; to be called before the program ends."""
        self._settling.stop()
        if self._compiling is not None:
            self._compiling.blockSignals(True)
            self._compiling.kill()
            self._compiling.waitForFinished(1000)
        self._thread.quit()
        self._thread.wait()

    def _take(self, number: int, readings: object) -> None:
        # During a drag results arrive one behind the newest request; they are worth showing.
        if number == self._number:
            self._set_busy(False)
        self.read.emit(readings)

    def _complain(self, number: int, words: str) -> None:
        if number == self._number:
            self._set_busy(False)
        self.failed.emit(words)

    def _set_busy(self, busy: bool) -> None:
        if busy != self._busy:
            self._busy = busy
            self.busy_changed.emit(busy)
