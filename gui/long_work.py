"""Work of seconds in a thread of its own, with its progress in the status line and a Stop.

One piece of work at a time; what it is and what becomes of its result say those who start it.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QThread, Signal

from core.errors import CancelledError, FernwrightError

if TYPE_CHECKING:
    from gui.main_window import MainWindow

log = logging.getLogger(__name__)

Watch = Callable[[float], None]
Cancel = Callable[[], bool]
Job = Callable[[Watch, Cancel], Any]
"""Does the work: is given whom to tell of progress, 0 to 1, and whom to ask whether to give up."""


def _nothing(_: object) -> None:
    """Take no notice."""


class _Worker(QThread):
    """Runs one job."""

    progressed = Signal(float)
    done = Signal(object)
    failed = Signal(str)

    def __init__(self, job: Job, parent: QObject) -> None:
        super().__init__(parent)
        self._job = job
        self.given_up = threading.Event()

    def run(self) -> None:
        """Do the work; what goes wrong is told, not raised."""
        try:
            found = self._job(self.progressed.emit, self.given_up.is_set)
        except CancelledError:
            return
        except FernwrightError as error:
            self.failed.emit(str(error))
        except Exception as error:  # a fault in an engine must not take the window with it
            log.exception("long work failed")
            self.failed.emit(str(error) or type(error).__name__)
        else:
            self.done.emit(found)


class LongWork(QObject):
    """The window's one piece of long work.

    Signals
    -------
    progressed(float)
        Share that is done.
    ended()
        It is done, went wrong, or was stopped.
    """

    progressed = Signal(float)
    ended = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._worker: _Worker | None = None
        self._words = ""
        self._take: Callable[[Any], object] = _nothing
        self._complain: Callable[[str], object] = _nothing

    @property
    def running(self) -> bool:
        """Whether something is being worked out."""
        return self._worker is not None

    def start(
        self,
        words: str,
        job: Job,
        take: Callable[[Any], object],
        complain: Callable[[str], object] | None = None,
    ) -> None:
        """Begin; other work under way is given up.

        Parameters
        ----------
        words : str
            What the status line says.
        job : callable
        take : callable
            Is given the result, in the window's thread.
        complain : callable, optional
            Is told what went wrong; the error bar is by default.
        """
        self.stop()
        worker = self._worker = _Worker(job, self)
        self._words, self._take = words, take
        self._complain = complain or self._window.errors.complain
        # Methods of this object, so that they run in its thread.
        worker.progressed.connect(self._tell)
        worker.done.connect(self._done)
        worker.failed.connect(self._failed)
        worker.finished.connect(self._finished)
        self._window.status.show_work(words, 0.0)
        worker.start(QThread.Priority.LowPriority)

    def stop(self) -> bool:
        """Give up what is under way; tell whether there was anything."""
        worker, self._worker = self._worker, None
        if worker is None:
            return False
        worker.given_up.set()
        self._rest()
        return True

    def wait(self) -> None:
        """Give up and wait for the thread; for the window's end."""
        for worker in self.findChildren(_Worker):
            worker.given_up.set()
            worker.wait()
        self._worker = None

    def _tell(self, share: float) -> None:
        if self._worker is not None and self.sender() is self._worker:
            self._window.status.show_work(self._words, share)
            self.progressed.emit(share)

    def _done(self, found: object) -> None:
        if self._worker is not None and self.sender() is self._worker:
            self._take(found)

    def _failed(self, why: str) -> None:
        if self._worker is not None and self.sender() is self._worker:
            self._complain(why)

    def _finished(self) -> None:
        worker = self.sender()
        assert worker is not None
        worker.deleteLater()
        if worker is self._worker:
            self._worker = None
            self._rest()

    def _rest(self) -> None:
        window = self._window
        window.status.show_rest("")
        if window.asking.readings is not None:
            window.air.show_readings(window.asking.readings)
        self.ended.emit()
