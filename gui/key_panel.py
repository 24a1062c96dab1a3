"""The key: what the chosen subject's signs mean, and its few numbers, at the sheet's top right.

What stands in it is put together in `gui.key_pages`; how each block looks, in `gui.key_blocks`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from gui.key_blocks import Block, Curve, Facts
from gui.key_page import KeyPage
from gui.key_pages import page_for
from gui.theme import Theme
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings
    from gui.sheet import Sheet

_HEAD = 26.0
_GAP = 10.0
_CURVE_FROM = 372.0
_CURVE_HEIGHT, _CURVE_LEAST = 118.0, 70.0
_CURVE_AT = 0.55


class KeyPanel(QWidget):
    """The key, lying on the sheet.

    Attributes
    ----------
    page : KeyPage
        What is shown.
    """

    def __init__(self, theme: Theme, view: View, sheet: Sheet) -> None:
        super().__init__(sheet.viewport())
        self._theme = theme
        self._view = view
        self._sheet = sheet
        self._readings: Readings | None = None
        self._before: Readings | None = None
        self._earlier: Readings | None = None
        self._feet: dict[str, int] = {}
        self.page = KeyPage("", "", ())
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        signals = (
            view.subject_changed,
            view.level_changed,
            view.minute_changed,
            view.age_changed,
        )
        for signal in signals:
            signal.connect(self.refresh)
        sheet.laid_out.connect(self.place)
        theme.changed.connect(self.update)

    def show_readings(self, readings: Readings, before: Readings | None) -> None:
        """Show newer readings; ``before`` are those from before a drag, None outside one."""
        self._readings, self._before = readings, before
        self.refresh()

    def show_earlier(self, readings: Readings | None) -> None:
        """Compare climate with readings from before the last edit, outside a drag too."""
        if readings is not self._earlier:
            self._earlier = readings
            self.refresh()

    def clear(self) -> None:
        """Forget the readings of a design that is no longer open."""
        self._readings = self._before = self._earlier = None
        self.refresh()

    def refresh(self) -> None:
        """Put the page together anew."""
        if self._readings is None or self._view.subject is None:
            self.page = KeyPage("", "", ())
        else:
            earlier = self._earlier if self._view.subject == "climate" else None
            self.page = page_for(self._view, self._readings, self._before or earlier)
        self.setAccessibleName(self.page.spoken())
        self.update()

    def leave_room(self, foot: int, subject: str) -> None:
        """Leave so many px at the foot to what lies there while a subject has the colour."""
        if foot != self._feet.get(subject, 0):
            self._feet[subject] = foot
            self.place()

    def place(self) -> None:
        """Lie where the sheet has room for it."""
        area = self._sheet.key_area().adjusted(0, 0, 0, -max(self._feet.values(), default=0))
        self.setVisible(not area.isEmpty())
        self.setGeometry(area)

    def sizeHint(self) -> QSize:
        """Return the room for scale, numbers and curve."""
        return QSize(410, 220)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the head, then block by block."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_head(painter)
        area = QRectF(0.5, _HEAD, self.width() - 1.5, self.height() - _HEAD)
        for block in self.page.blocks:
            if isinstance(block, Curve):
                self._paint_curve(painter, block, area)
                continue
            if area.height() < 14:
                break
            used = block.paint(painter, self._room_for(block, area), self._theme)
            area.setTop(area.top() + used + _GAP)

    def _paint_head(self, painter: QPainter) -> None:
        painter.setFont(self._theme.font(bold=True))
        painter.setPen(self._theme.colour("ink"))
        metrics = QFontMetricsF(painter.font())
        base = metrics.ascent() + 1
        words = metrics.elidedText(self.page.title, Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(0, round(base), words)
        title = metrics.horizontalAdvance(words)
        painter.setFont(self._theme.font("second"))
        painter.setPen(self._theme.colour("ink2"))
        width = QFontMetricsF(painter.font()).horizontalAdvance(self.page.unit)
        if title + width + 12 <= self.width():
            painter.drawText(round(self.width() - width - 1), round(base), self.page.unit)

    def _room_for(self, block: Block, area: QRectF) -> QRectF:
        """Return the room of a block: numbers leave the right half to a curve beside them.

        Where there is no room for the curve, they have all of it.
        """
        beside = any(isinstance(other, Curve) for other in self.page.blocks)
        high = self.height() - area.top() >= _CURVE_LEAST
        if isinstance(block, Facts) and beside and high and self.width() >= _CURVE_FROM:
            return QRectF(area.left(), area.top(), self.width() * _CURVE_AT - 8, area.height())
        return area

    def _paint_curve(self, painter: QPainter, block: Curve, area: QRectF) -> None:
        """Draw the curve beside the numbers above it, where there is room for both."""
        if self.width() < _CURVE_FROM:
            return
        facts = next((b for b in self.page.blocks if isinstance(b, Facts)), None)
        top = area.top() - _GAP - (len(facts.lines) * 19.0 if facts else 0.0)
        left = self.width() * _CURVE_AT
        height = min(_CURVE_HEIGHT, self.height() - max(top, _HEAD))
        if height >= _CURVE_LEAST:
            place = QRectF(left, max(top, _HEAD), self.width() - left - 1, height)
            block.paint(painter, place, self._theme)
