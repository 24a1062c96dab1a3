"""The line at the foot: what is being worked out, a hint, and where the pointer is.

What it says comes from the window; nothing here decides.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QStatusBar, QWidget

from core.language import tr
from core.units import show
from gui.theme import Theme

LONG_WORK_MS = 400
_BAR = (90, 7)
_PARTS = 200


class FinalMark(QWidget):
    """A small ring that stands before "All readings are final"."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setFixedSize(22, 16)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the ring."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._theme.colour("fine"), 1.8))
        painter.drawEllipse(QRectF(11, 4, 8, 8))


class StatusLine(QStatusBar):
    """The status line.

    Signals
    -------
    stop_asked()
        The grower does not want to wait for the work under way.
    go_on_asked()
        What was stopped is wanted after all.
    """

    stop_asked = Signal()
    go_on_asked = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._mark = FinalMark(theme)
        self._final = False
        self.words = QLabel(textFormat=Qt.TextFormat.PlainText)
        self.bar = QProgressBar(maximum=0, textVisible=False)
        self._share: float | None = None
        self.bar.setFixedSize(*_BAR)
        self.bar.setAccessibleName(tr("Progress"))
        self.stop = QPushButton(tr("Stop"))
        self.go_on = QPushButton(tr("Go on"))
        for link in (self.stop, self.go_on):
            link.setProperty("role", "link")
        self.hint = QLabel(textFormat=Qt.TextFormat.PlainText)
        self.place = QLabel(textFormat=Qt.TextFormat.PlainText)
        self._late = QTimer(self, singleShot=True, interval=LONG_WORK_MS)
        self._late.timeout.connect(self._show_work)
        self._work = ""
        self._lay_out()
        self.stop.clicked.connect(self.stop_asked)
        self.go_on.clicked.connect(self.go_on_asked)
        theme.changed.connect(self._dress)
        self._dress()
        self.show_rest("")

    def show_work(self, words: str, share: float | None = None, *, final: bool = False) -> None:
        """Say what is being worked out, once it takes longer than a moment.

        Parameters
        ----------
        words : str
        share : float, optional
            How much of it is done, 0 to 1; not known by default.
        final : bool
            Whether the readings shown are final nevertheless.
        """
        self._work, self._share, self._final = words, share, final
        self.go_on.hide()
        if self.bar.isHidden() and not self._late.isActive():
            self._late.start()
        elif not self.bar.isHidden():
            self._show_work()

    def show_rest(self, words: str, *, final: bool = False, stopped: bool = False) -> None:
        """Say how things stand, with no work under way; what was stopped can be gone on with."""
        self._late.stop()
        self.bar.hide()
        self.stop.hide()
        self.go_on.setVisible(stopped)
        self._mark.setVisible(final)
        self.words.setText(words)

    def show_hint(self, words: str) -> None:
        """Say what can be done next."""
        self.hint.setText(words)

    def show_place(self, at: tuple[float | None, ...] | None, system: str) -> None:
        """Show the pointer's place in the room's axes; None off the sheet. [m]"""
        axes = zip("xyz", at or (), strict=False)
        self.place.setText(
            "   ".join(
                f"{axis} {_length(value, system)}" for axis, value in axes if value is not None
            )
        )

    def _show_work(self) -> None:
        self._mark.setVisible(self._final)
        self.words.setText(self._work)
        # A bar without an end says that nobody knows how long it takes.
        self.bar.setMaximum(0 if self._share is None else _PARTS)
        self.bar.setValue(round((self._share or 0.0) * _PARTS))
        self.bar.show()
        self.stop.show()

    def _lay_out(self) -> None:
        self.setSizeGripEnabled(False)
        self.words.setContentsMargins(8, 0, 8, 0)
        self.hint.setContentsMargins(28, 0, 8, 0)
        self.place.setContentsMargins(8, 0, 12, 0)
        for widget in (self._mark, self.words, self.bar, self.stop, self.go_on):
            self.addWidget(widget)
        self.addWidget(self.hint, 1)
        self.addPermanentWidget(self.place)

    def _dress(self) -> None:
        for label in (self.words, self.hint, self.place):
            self._theme.dress(label, "second", "ink2")
        for link in (self.stop, self.go_on):
            link.setFont(self._theme.font("second", bold=True))
        self.setFixedHeight(max(26, self.words.fontMetrics().height() + 10))


def _length(value: float, system: str) -> str:
    """Return a length for the corner of the eye: metres as plain numbers."""
    return show(value, "length", system) if system == "us" else f"{value:.2f}".replace("-", "−")
