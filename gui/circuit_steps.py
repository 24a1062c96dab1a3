"""In Power, the level rows become the circuits, step by step: the tree under its title.

The tree itself is `gui.circuit_tree`; it scrolls where there is no room for all of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from core.language import tr
from gui.circuit_rows import Row, circuit_rows
from gui.circuit_tree import CircuitTree
from gui.document import Document
from gui.theme import Theme
from gui.view import View

if TYPE_CHECKING:
    from core.power.reading import PowerReadings
    from core.readings import Readings

_TOP = 32


class CircuitSteps(QWidget):
    """All circuits, the one nearest its limit first.

    Attributes
    ----------
    tree : CircuitTree
        The rows, the breaker first.
    """

    def __init__(self, theme: Theme, parent: QWidget, document: Document, view: View) -> None:
        super().__init__(parent)
        self._theme = theme
        self._title = ""
        self._rows: tuple[Row, ...] = ()
        self.tree = CircuitTree(theme, document, view)
        self._scroll = QScrollArea(self, widgetResizable=True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(self.tree)
        for ground in (self._scroll, self._scroll.viewport(), self.tree):
            ground.setAutoFillBackground(False)
        self.tree.moved_to.connect(self._show_row)
        theme.changed.connect(self.update)
        self.hide()

    @property
    def rows(self) -> tuple[Row, ...]:
        """What the tree shows."""
        return self.tree.rows

    def show_readings(self, readings: Readings) -> None:
        """Show the circuits of these readings."""
        power = readings.power
        self._rows = circuit_rows(power, readings.design.units) if power.steps else ()
        self._title = _title(power)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the tree all the room below the title."""
        super().resizeEvent(event)
        self._scroll.setGeometry(0, _TOP, self.width(), max(0, self.height() - _TOP - 12))
        self._fit()

    def _fit(self) -> None:
        self.tree.show_rows(self._rows, self._scroll.height() - 4)
        self.setAccessibleName(self._title)
        self.update()

    def _show_row(self, rect: QRect) -> None:
        middle = rect.center()
        self._scroll.ensureVisible(middle.x(), middle.y(), 0, rect.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the title."""
        painter = QPainter(self)
        painter.setFont(self._theme.font(bold=True))
        painter.setPen(self._theme.colour("ink"))
        right = Qt.TextElideMode.ElideRight
        title = painter.fontMetrics().elidedText(self._title, right, self.width() - 6)
        painter.drawText(QRect(6, 6, self.width() - 6, 20), Qt.AlignmentFlag.AlignVCenter, title)


def _title(power: PowerReadings) -> str:
    if not power.steps:
        return power.nothing.render()
    name = next((step.name for step in power.steps if step.kind == "circuit"), "")
    if len(power.tree.circuits) > 1 or not name:
        return tr("The circuits, step by step")
    return tr("{circuit}, step by step").format(circuit=name)
