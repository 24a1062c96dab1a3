"""How a subject's readings were found: method, source, what was taken, then every number.

Opens over the window and stays until it is closed; the numbers come from the engines.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from core.language import tr
from core.reading import Method, Reading, SubjectReadings
from core.states import State
from gui.readings_panel import plain_state, state_words
from gui.subjects import title
from gui.theme import Theme, state_role
from gui.vial import paint_mark

if TYPE_CHECKING:
    from core.readings import Readings

WIDTH = 520


class Mark(QWidget):
    """A state's mark, as it stands in lists."""

    def __init__(self, theme: Theme, state: State, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self._theme = theme
        self.setFixedSize(16, 16)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark."""
        paint_mark(QPainter(self), QRectF(1, 1, 14, 14), self.state, self._theme.palette)


class HowPanel(QDialog):
    """The small window "How this was found" for one subject."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.subject = ""
        self.setWindowTitle(tr("How this was found"))
        self._scroll = QScrollArea(widgetResizable=True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setAccessibleName(tr("How this was found"))
        close = QPushButton(tr("Close"))
        close.clicked.connect(self.close)
        foot = QHBoxLayout()
        foot.setContentsMargins(16, 8, 16, 12)
        foot.addStretch()
        foot.addWidget(close)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self._scroll)
        layout.addLayout(foot)

    def sizeHint(self) -> QSize:
        """Return a column of text beside the readings."""
        return QSize(WIDTH, 560)

    def show_subject(self, subject: str, readings: Readings) -> None:
        """Fill the panel with one subject and show it."""
        self.subject = subject
        self.refresh(readings)
        self.show()
        self.raise_()
        self.activateWindow()

    def refresh(self, readings: Readings) -> None:
        """Show newer readings of the same subject."""
        if not self.subject:
            return
        found = readings.subject(self.subject)
        self._scroll.setWidget(self._page(found, readings.design.units))

    def _page(self, found: SubjectReadings, system: str) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(16, 14, 16, 8)
        column.setSpacing(4)
        heading = tr("{subject}: how this was found").format(subject=title(self.subject))
        column.addWidget(self._words(heading, "title", bold=True))
        if not found.rows:
            column.addWidget(self._words(found.nothing.render(system), colour="ink2"))
        for method, rows in by_method(found.rows).items():
            self._add_method(column, method, rows, system)
        column.addStretch()
        return page

    def _rows(self, rows: Iterable[Reading], system: str) -> QGridLayout:
        grid = QGridLayout()
        grid.setContentsMargins(0, 6, 0, 6)
        grid.setHorizontalSpacing(8)
        grid.setColumnStretch(1, 1)
        for number, item in enumerate(rows):
            quiet = plain_state(item.state)
            role = "ink2" if quiet else state_role(item.state)
            grid.addWidget(Mark(self._theme, item.state), number, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(self._words(item.line.render(system), "second"), number, 1)
            state = self._words(state_words(item), "second", role)
            state.setMinimumWidth(110)
            state.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
            grid.addWidget(state, number, 2)
        return grid

    def _add_method(
        self, column: QVBoxLayout, method: Method, rows: list[Reading], system: str
    ) -> None:
        rule = QFrame()
        rule.setFixedHeight(1)
        rule.setStyleSheet(f"background: {self._theme.palette.hair};")
        column.addWidget(rule)
        taken = dict.fromkeys(a.render(system) for item in rows for a in item.assumptions)
        for head, lines in (
            (tr("Method"), [method.method]),
            (tr("Source"), [method.source]),
            (tr("How sure"), [method.uncertainty]),
            (tr("Taken as given"), list(taken)),
            (tr("Left out"), list(method.omissions)),
        ):
            said = [tr(line) for line in lines if line]
            if said:
                column.addWidget(self._words(head, bold=True))
                column.addWidget(self._words("\n".join(said), "second", "ink2"))
        column.addLayout(self._rows(rows, system))

    def _words(
        self, text: str, size: str = "text", colour: str = "ink", *, bold: bool = False
    ) -> QLabel:
        label = QLabel(text, textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._theme.dress(label, size, colour, bold=bold)
        return label


def by_method(rows: Iterable[Reading]) -> dict[Method, list[Reading]]:
    """Return the readings gathered by how they were found, in their order."""
    found: dict[Method, list[Reading]] = {}
    for item in rows:
        found.setdefault(item.method, []).append(item)
    return found
