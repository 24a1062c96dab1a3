"""The bar under the head in which things that went wrong are told, until they are put away.

Wrong text in a field is told at the field; questions that could lose data are asked in `gui.files`.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from core.language import tr
from core.states import State
from gui.theme import Theme
from gui.vial import paint_mark


class ErrorBar(QFrame):
    """One sentence with a button that puts it away.

    Attributes
    ----------
    text : str
        What is told; empty while hidden.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.text = ""
        self._good = False
        self._label = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self._label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._close = QPushButton(tr("Put away"))
        self._close.setProperty("role", "link")
        self._close.clicked.connect(self.put_away)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(40, 7, 16, 7)
        layout.addWidget(self._label, 1)
        layout.addWidget(self._close)
        theme.changed.connect(self._dress)
        self._dress()
        self.hide()

    def complain(self, text: str) -> None:
        """Tell what went wrong."""
        self._say(text, good=False)

    def tell(self, text: str) -> None:
        """Tell what has been done."""
        self._say(text, good=True)

    def put_away(self) -> None:
        """Hide the bar."""
        self.text = ""
        self.hide()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark before the words."""
        super().paintEvent(event)
        state = State.FINE if self._good else State.HIGH
        place = QRectF(16, self.height() / 2 - 7, 14, 14)
        paint_mark(QPainter(self), place, state, self._theme.palette)

    def _say(self, text: str, *, good: bool) -> None:
        self.text, self._good = text, good
        self._label.setText(text)
        self.setAccessibleName(text)
        self._dress()
        self.show()

    def _dress(self) -> None:
        palette = self._theme.palette
        ground = palette.fine_bg if self._good else palette.out_bg
        self.setStyleSheet(
            f"ErrorBar {{ background: {ground}; border-bottom: 1px solid {palette.hair}; }}"
        )
        self._theme.dress(self._label)
        self._close.setFont(self._theme.font("second", bold=True))
