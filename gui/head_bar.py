"""The bar under the menu: the design's name, undo and redo, which drawing, units, the summary.

What its buttons do is connected in `gui.main_window`.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from core.language import tr
from gui.theme import Theme

HEIGHT = 40
LAYOUTS = (("sheet", "Whole sheet"), ("plan", "Plan"), ("front", "Front"), ("side", "Side"))
SYSTEMS = (("metric", "Metric"), ("us", "US"))


class NotSaved(QWidget):
    """A violet dot with the words "not saved"."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(tr("not saved"))

    def sizeHint(self) -> QSize:
        """Return the room for dot and words."""
        metrics = QFontMetrics(self._theme.font("second"))
        return QSize(metrics.horizontalAdvance(tr("not saved")) + 14, metrics.height() + 4)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw both."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._theme.colour("pencil"))
        painter.drawEllipse(QRectF(1, self.height() / 2 - 3, 6, 6))
        painter.setPen(self._theme.colour("ink2"))
        painter.setFont(self._theme.font("second"))
        area = self.rect().adjusted(13, 0, 0, 0)
        painter.drawText(area, Qt.AlignmentFlag.AlignVCenter, tr("not saved"))


class NameLabel(QLabel):
    """The design's name, cut in its middle where there is no room."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(textFormat=Qt.TextFormat.PlainText)
        self._theme = theme
        self._name = ""
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)

    def show_name(self, name: str) -> None:
        """Show the design's name."""
        self._name = name
        self.setToolTip("")
        self.setText(name)
        self.setAccessibleName(tr("Design: {name}").format(name=name))
        self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        """Let a long name give way to the buttons."""
        return QSize(60, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw as much of the name as fits."""
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(self._theme.colour("ink"))
        metrics = painter.fontMetrics()
        text = metrics.elidedText(self._name, Qt.TextElideMode.ElideMiddle, self.width())
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter, text)


class HeadBar(QFrame):
    """The bar.

    Attributes
    ----------
    undo, redo, summary : QPushButton
    layouts : dict of str to QPushButton
        By layout: "sheet", "plan", "front", "side".
    day : QPushButton
        Climate's day; only in Climate.
    units : QComboBox

    Signals
    -------
    layout_chosen(str), units_chosen(str)
    """

    layout_chosen = Signal(str)
    units_chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.name = NameLabel(theme)
        self.not_saved = NotSaved(theme)
        self.undo = QPushButton(tr("Undo"))
        self.redo = QPushButton(tr("Redo"))
        self.layouts = {key: QPushButton(tr(words)) for key, words in LAYOUTS}
        self._exclusive = QButtonGroup(self)
        self.day = QPushButton(tr("Day"))
        self.day.setCheckable(True)
        self.day.setToolTip(tr("The day in Climate, in the sheet’s place"))
        self.day.hide()
        self.units = QComboBox()
        self.units.setAccessibleName(tr("Units"))
        for key, words in SYSTEMS:
            self.units.addItem(tr(words), key)
        self.summary = QPushButton(tr("Write summary…"))
        self.summary.setProperty("role", "primary")
        self._lay_out()
        self.units.activated.connect(lambda: self.units_chosen.emit(self.units.currentData()))
        theme.changed.connect(self._dress)
        self._dress()

    def show_layout(self, layout: str) -> None:
        """Mark the drawing that is shown."""
        self.layouts[layout].setChecked(True)

    def show_day(self, offered: bool, shown: bool) -> None:
        """Offer the day of Climate beside the drawings, and mark it while it is shown."""
        self.day.setVisible(offered)
        self.day.setChecked(shown)

    def show_units(self, system: str) -> None:
        """Show the design's system of units."""
        self.units.setCurrentIndex(self.units.findData(system))

    def show_name(self, name: str, saved: bool) -> None:
        """Show the design's name, and whether there is something to save."""
        self.name.show_name(name)
        self.not_saved.setVisible(not saved)

    def _lay_out(self) -> None:
        layout = QHBoxLayout(self)
        layout.setContentsMargins(16, 5, 16, 5)
        layout.setSpacing(6)
        layout.addWidget(self.name)
        layout.addWidget(self.not_saved)
        layout.addSpacing(24)
        layout.addWidget(self.undo)
        layout.addWidget(self.redo)
        layout.addSpacing(12)
        layout.addLayout(self._switch())
        layout.addWidget(self.day)
        layout.addStretch()
        layout.addWidget(self.units)
        layout.addSpacing(4)
        layout.addWidget(self.summary)

    def _switch(self) -> QHBoxLayout:
        """Return the four layout buttons, side by side without a gap."""
        row = QHBoxLayout()
        row.setSpacing(0)
        last = len(LAYOUTS) - 1
        for place, (key, button) in enumerate(self.layouts.items()):
            button.setCheckable(True)
            button.setProperty("segment", _segment(place, last))
            button.clicked.connect(lambda _=False, chosen=key: self.layout_chosen.emit(chosen))
            self._exclusive.addButton(button)
            row.addWidget(button)
        return row

    def _dress(self) -> None:
        self.setFixedHeight(max(HEIGHT, QFontMetrics(self._theme.font()).height() + 22))
        self._theme.dress(self.name, "title", bold=True)
        hair = self._theme.palette.hair
        self.setStyleSheet(f"HeadBar {{ border: 0; border-bottom: 1px solid {hair}; }}" + _SEGMENTS)


def _segment(place: int, last: int) -> str:
    return "first" if place == 0 else "last" if place == last else "middle"


_SEGMENTS = """
QPushButton[segment] { border-radius: 0; padding: 0 10px; }
QPushButton[segment="first"] { border-top-left-radius: 5px; border-bottom-left-radius: 5px; }
QPushButton[segment="last"] { border-top-right-radius: 5px; border-bottom-right-radius: 5px; }
QPushButton[segment="middle"], QPushButton[segment="last"] { border-left-width: 0; }
QPushButton[segment]:checked { border-left-width: 2px; }
"""
