"""When to ask for readings: coarse ones while something is dragged, final ones otherwise.

The engines run in `gui.solver`; what is shown of their answers is the panels' affair.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Signal, SignalInstance

from core.study import Quality
from gui.document import Document
from gui.view import View

if TYPE_CHECKING:
    from core.model import Design
    from core.readings import Readings


class Answering(Protocol):
    """What answers: `gui.solver.Solver`, or a test's own."""

    read: SignalInstance
    failed: SignalInstance
    busy_changed: SignalInstance
    air_progressed: SignalInstance
    air_rested: SignalInstance

    def ask(self, design: Design, quality: Quality = ..., season: str | None = ...) -> None:
        """Ask for readings."""

    @property
    def can_refine(self) -> bool:
        """Whether the air can be solved on finer cells than it has been."""

    @property
    def air_stopped(self) -> bool:
        """Whether the flow of air was stopped, and nothing has been asked for since."""

    def refine_air(self) -> None:
        """Solve the air on the finest cells."""

    def stop_air(self) -> None:
        """Do without the flow of air under way."""

    def forget_air(self) -> None:
        """Let go of the flow of another design."""

    def warm_up(self) -> None:
        """Compile what is not compiled yet."""

    def stop(self) -> None:
        """End the work."""


class Asking(QObject):
    """Follows document and view, and asks.

    Attributes
    ----------
    readings : Readings or None
        The last ones that arrived.
    stopped : bool
        Whether the grower did not want to wait for the newest ones.

    Signals
    -------
    arrived(object)
        New readings.
    """

    arrived = Signal(object)

    def __init__(
        self, document: Document, view: View, solver: Answering, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._view = view
        self._solver = solver
        self.readings: Readings | None = None
        self.stopped = False
        self._begun = False
        document.replaced.connect(self._start_afresh)
        document.changed.connect(self.ask)
        view.season_changed.connect(self.ask)
        solver.read.connect(self._take)

    def begin(self) -> None:
        """Ask for the first time; until then the window comes first."""
        self._begun = True
        self.ask()

    def ask(self) -> None:
        """Ask for what the design needs now."""
        self.stopped = False
        if not self._begun:
            return
        first = self.readings is None
        coarse = self._document.proposing or first
        self._solver.ask(self._document.design, "coarse" if coarse else "final", self._view.season)

    def stop(self) -> None:
        """Do without the readings under way; those shown stay."""
        self.stopped = True

    def _start_afresh(self) -> None:
        self.readings = None
        self._solver.forget_air()

    def _take(self, readings: Readings) -> None:
        first = self.readings is None
        # What is left of another document's readings is not shown with this one.
        late = first and readings.design is not self._document.design
        if self.stopped or late:
            return
        self.readings = readings
        self.arrived.emit(readings)
        # The first answer is coarse, so that something stands there soon.
        if first and not self._document.proposing:
            self.ask()
