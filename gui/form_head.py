"""The head of a form: which thing it is about, and where that is.

The fields below it are `gui.part_form`'s.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from gui.icons import paint_icon
from gui.theme import Theme


class FormHead(QWidget):
    """Icon, name, and where the part is."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._icon = ""
        self.name = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self.where = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self.where.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._row = QHBoxLayout(self)
        self._row.addWidget(self.name, 3)
        self._row.addWidget(self.where, 4)
        theme.changed.connect(self._dress)
        self._dress()

    def show_thing(self, icon: str, name: str, where: str) -> None:
        """Show what the form is about."""
        self._icon = icon
        self._row.setContentsMargins(30 if icon else 0, 0, 0, 0)
        self.name.setText(name)
        self.where.setText(where)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the icon."""
        if self._icon:
            box = QRectF(0, (self.height() - 20) / 2, 20, 20)
            paint_icon(QPainter(self), box, self._icon, self._theme.colour("pencil"))

    def _dress(self) -> None:
        self._theme.dress(self.name, bold=True)
        self._theme.dress(self.where, "second", "ink2")
