"""What the status line says while readings and the flow of air are worked out, and its Stop.

Two kinds of work share the line: readings come first, the flow is told of once they are there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from core.language import tr
from gui.air_words import work_words
from gui.asking import Answering, Asking
from gui.status_line import StatusLine

if TYPE_CHECKING:
    from core.air.stages import StageProgress
    from core.readings import Readings


class AirProgress(QObject):
    """Keeps the status line in step with readings and the flow."""

    def __init__(
        self, status: StatusLine, asking: Asking, solver: Answering, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._status, self._asking, self._solver = status, asking, solver
        self._reading = self._flowing = False
        solver.busy_changed.connect(self._set_reading)
        solver.air_progressed.connect(self._show_work)
        solver.air_rested.connect(self._rest)
        status.stop_asked.connect(self._stop)

    def show_readings(self, readings: Readings) -> None:
        """Say how things stand with newer readings, unless the flow has more to tell."""
        if readings.quality == "final" and not self._flowing:
            self._tell(readings)

    def _tell(self, readings: Readings) -> None:
        air = readings.air
        if air.awaited:
            self._status.show_work(tr("Air: the flow is on its way"))
        elif air.field is None and air.stale is not None:
            self._status.show_rest(tr("Air is from before the last change"))
        else:
            self._status.show_rest(tr("All readings are final"), final=True)

    def _set_reading(self, reading: bool) -> None:
        self._reading = reading

    def _show_work(self, progress: StageProgress | None) -> None:
        readings = self._asking.readings
        if self._reading or readings is None:
            return
        self._flowing = True
        words = work_words(progress, readings.design.units)
        share = progress.share if progress is not None else None
        self._status.show_work(words, share, final=not readings.air.passing)

    def _rest(self) -> None:
        """The flow is at its end, or was cut."""
        self._flowing = False
        readings = self._asking.readings
        if readings is not None and not self._reading:
            self._tell(readings)

    def _stop(self) -> None:
        """Do without what is under way; what is shown stays."""
        if self._reading:
            self._asking.stop()
        self._solver.stop_air()
        readings = self._asking.readings
        if self._reading or readings is None:
            self._status.show_rest(tr("Readings are from before the last change"))
        elif readings.air.passing:
            self._status.show_rest(tr("Air is from before the last change"))
