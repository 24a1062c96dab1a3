"""How it goes: four steps that stand in place of the findings while nothing is placed yet.

Once there is a part, the findings say what comes next.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from core.language import tr
from gui.theme import Theme

_SIZE = 26


def steps() -> tuple[tuple[str, str], ...]:
    """Return the steps as (what to do, a few words on it)."""
    return (
        (tr("Measure the place"), tr("Three lengths, in the Part tab; more can wait.")),
        (tr("Stand the box and the shelves in it"), tr("Drag them from the shelf on the left.")),
        (tr("Say what grows on each shelf"), tr("Its wants mark every reading.")),
        (tr("Hang lamps, fans and trays"), tr("The readings answer while you move them.")),
    )


class Number(QWidget):
    """A step's number in a ring; the first one filled."""

    def __init__(self, theme: Theme, number: int) -> None:
        super().__init__()
        self._theme = theme
        self._number = number
        self.setFixedSize(_SIZE, _SIZE)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ring and number."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        first = self._number == 1
        ring = QRectF(1.5, 1.5, _SIZE - 3, _SIZE - 3)
        painter.setPen(QPen(self._theme.colour("pencil" if first else "edge"), 1.6))
        painter.setBrush(self._theme.colour("pencil" if first else "panel"))
        painter.drawEllipse(ring)
        painter.setPen(self._theme.colour("on_pencil" if first else "ink2"))
        painter.setFont(self._theme.font("second", bold=True))
        painter.drawText(ring, Qt.AlignmentFlag.AlignCenter, str(self._number))


class FirstSteps(QWidget):
    """The four steps, one below the other."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        grid = QGridLayout(self)
        grid.setContentsMargins(14, 14, 16, 8)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(0)
        grid.setColumnStretch(1, 1)
        for place, (head, words) in enumerate(steps()):
            row = 3 * place
            top = Qt.AlignmentFlag.AlignTop
            grid.addWidget(Number(theme, place + 1), row, 0, 2, 1, top)
            grid.addWidget(_label(theme, head, bold=True), row, 1)
            grid.addWidget(_label(theme, words), row + 1, 1)
            grid.setRowMinimumHeight(row + 2, 14)
        said = ". ".join(f"{head}: {words}" for head, words in steps())
        self.setAccessibleName(tr("How it goes. {steps}").format(steps=said))


def _label(theme: Theme, text: str, *, bold: bool = False) -> QLabel:
    label = QLabel(text, textFormat=Qt.TextFormat.PlainText, wordWrap=True)
    theme.dress(label, "text" if bold else "second", "ink" if bold else "ink2", bold=bold)
    return label
