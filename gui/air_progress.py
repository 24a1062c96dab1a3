"""What the window says while the flow of air is worked out, and what can be done about it.

Readings and the flow share the status line: readings come first, the flow is told of once they are
there. What the links below the key look like is `gui.air_choices`' affair.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from core.language import tr
from gui.air_choices import AirChoices
from gui.air_words import work_words
from gui.asking import Answering

if TYPE_CHECKING:
    from core.air.stages import StageProgress
    from core.readings import Readings
    from gui.main_window import MainWindow

_UNSETTLED = tr("Air has not settled")


class AirProgress(QObject):
    """Keeps the status line and the links below the key in step with readings and the flow.

    Attributes
    ----------
    choices : AirChoices
    """

    def __init__(self, window: MainWindow, solver: Answering) -> None:
        super().__init__(window)
        self._window, self._solver = window, solver
        self._status, self._asking = window.status, window.asking
        self.choices = AirChoices(window.theme, window.view, window.sheet, window.key)
        self._reading = self._flowing = False
        solver.busy_changed.connect(self._set_reading)
        solver.air_progressed.connect(self._show_work)
        solver.air_rested.connect(self._rest)
        window.status.stop_asked.connect(self._stop)
        window.status.go_on_asked.connect(self.go_on)
        self.choices.go_on_asked.connect(self.go_on)
        window.view.age_changed.connect(self._tick_age)
        self.choices.refine_asked.connect(self.refine)

    def refine(self) -> None:
        """Solve the air on the finest cells."""
        self._solver.refine_air()
        self._offer()

    def go_on(self) -> None:
        """Work out after all what was stopped, for the design as it is now."""
        self._asking.ask()
        self._offer()

    def show_readings(self, readings: Readings) -> None:
        """Say how things stand with newer readings, unless the flow has more to tell."""
        self._offer()
        if readings.quality == "final" and not self._flowing:
            self._tell(readings)

    def _offer(self) -> None:
        """Let finer cells be asked for while they can be had."""
        can = self._solver.can_refine
        self._window.actions_.enable(["refine air"], can)
        if self._asking.readings is not None:
            self.choices.show_readings(
                self._asking.readings, can_refine=can, stopped=self._solver.air_stopped
            )

    def _tell(self, readings: Readings) -> None:
        air = readings.air
        if air.awaited:
            self._status.show_work(tr("Air: the flow is on its way"))
        elif air.field is None and air.stale is not None:
            self._say(tr("Air is from before the last change"))
        elif air.field is not None and not air.stage.settled:
            self._say(_UNSETTLED)
        elif air.air is not None and air.field is None and self._solver.air_stopped:
            self._say(tr("Air is from jets alone"))
        else:
            self._say(tr("All readings are final"), final=True)

    def _say(self, words: str, *, final: bool = False) -> None:
        """Say how things stand, and offer to go on where that was stopped."""
        self._status.show_rest(words, final=final, stopped=self._solver.air_stopped)

    def _tick_age(self) -> None:
        self._window.actions_.tick("age of air", on=self._window.view.age)

    def _set_reading(self, reading: bool) -> None:
        self._reading = reading

    def _show_work(self, progress: StageProgress | None) -> None:
        readings = self._asking.readings
        if self._reading or readings is None:
            return
        self._flowing = True
        words = work_words(progress, readings.design.units)
        share = progress.share if progress is not None else None
        self._status.show_work(words, share, final=not readings.air.coarse)

    def _rest(self) -> None:
        """The flow is at its end, or was cut."""
        self._flowing = False
        self._offer()
        readings = self._asking.readings
        if readings is not None and not self._reading:
            self._tell(readings)

    def _stop(self) -> None:
        """Do without what is under way; what is shown stays. Long work is given up first."""
        if self._window.work.stop():
            return
        if self._reading:
            self._asking.stop()
        self._solver.stop_air()
        self._offer()
        readings = self._asking.readings
        if self._reading or readings is None:
            self._say(tr("Readings are from before the last change"))
        elif readings.air.passing:
            here = readings.air.field is not None
            before = tr("Air is from before the last change")
            self._say(_UNSETTLED if here else before)
