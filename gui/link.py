"""A link that breaks its lines: a remedy is said in full, however narrow the column.

What it does is connected by whoever shows it.
"""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from gui.theme import Theme, paint_focus_ring

_FLAGS = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft)


class Link(QAbstractButton):
    """Underlined words that are pressed like a button."""

    def __init__(self, theme: Theme, words: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setText(words)
        self.setAccessibleName(words)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def sizeHint(self) -> QSize:
        """Return the words in one line."""
        size = QFontMetrics(self._font()).size(0, self.text())
        return QSize(size.width() + 4, size.height() + 2)

    def minimumSizeHint(self) -> QSize:
        """Let the words be broken."""
        return QSize(60, self.sizeHint().height())

    def hasHeightForWidth(self) -> bool:
        """Say that a narrow link is higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the words when they are broken to a width."""
        room = QRect(0, 0, width - 4, 1000)
        return QFontMetrics(self._font()).boundingRect(room, _FLAGS, self.text()).height() + 2

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press with Enter as with Space."""
        plain = not event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if plain and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the words, and the ring while the keyboard is here."""
        painter = QPainter(self)
        painter.setFont(self._font())
        role = "pencil" if self.isEnabled() else "ink3"
        painter.setPen(self._theme.colour(role))
        painter.drawText(self.rect().adjusted(0, 1, -4, 0), _FLAGS, self.text())
        if self.hasFocus():
            paint_focus_ring(painter, QRectF(self.rect()), self._theme.palette, 3)

    def _font(self) -> QFont:
        font = self._theme.font("second", bold=True)
        font.setUnderline(True)
        return font
