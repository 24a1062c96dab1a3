"""The day ribbon in Water: fourteen days, how empty the emptiest container gets, and the refills.

Levels and refills are `core.water.fortnight`'s; season and words beside the axis are
`gui.day_ribbon`'s.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from core.language import tr
from core.phrases import Amount
from gui.theme import Theme, paint_focus_ring

if TYPE_CHECKING:
    from core.water.fortnight import Fortnight, Refill, Series

DAYS = 14
_SIDE = 12.0
_TOP = 8.0
_BELOW = 18.0
_EVERY = 2
_NAMED = 4


class WaterAxis(QWidget):
    """Fourteen days from today; Left and Right, or the pointer, read one day.

    Attributes
    ----------
    day : int or None
        The day that is read.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.day: int | None = None
        self._theme = theme
        self._ahead: Fortnight | None = None
        self._system = "metric"
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return a size that holds readable days."""
        return QSize(460, 70)

    def show_ahead(self, ahead: Fortnight | None, system: str) -> None:
        """Show other days, or none, in a system of units."""
        self._ahead, self._system = ahead, system
        self.setAccessibleName(self._spoken())
        self._tell()
        self.update()

    def x_of(self, day: float) -> float:
        """Return where a day lies. [px]"""
        return _SIDE + day / DAYS * (self.width() - 2 * _SIDE)

    def day_at(self, x: float) -> int:
        """Return the day nearest to ``x``, 0 to 14."""
        share = (x - _SIDE) / max(1.0, self.width() - 2 * _SIDE)
        return min(DAYS, max(0, round(share * DAYS)))

    def words_of(self, day: int) -> str:
        """Return how full the emptiest container is on a day, and what is refilled then."""
        if self._ahead is None:
            return ""
        step = (len(self._ahead.emptiest) - 1) // DAYS
        level, worst = (
            Amount(float(round(series[day * step], 2)), "fraction").render(self._system)
            for series in (self._ahead.emptiest, self._ahead.at_worst)
        )
        when = tr("today") if day == 0 else tr("day {day}").format(day=day)
        text = tr("{when}: the emptiest holds {level}, at worst {worst}")
        text = text.format(when=when, level=level, worst=worst)
        due = next((refill for refill in self._ahead.refills if refill.day == day), None)
        return f"{text}; {self._due_words(due)}" if due else text

    def _due_words(self, due: Refill) -> str:
        volume = Amount(due.volume, "volume").render(self._system)
        if len(due.names) > _NAMED:
            text = tr("refill {count} containers, {volume}")
            return text.format(count=len(due.names), volume=volume)
        text = tr("refill {names}, {volume}")
        return text.format(names=", ".join(due.names), volume=volume)

    def _spoken(self) -> str:
        if self._ahead is None:
            return tr("Fourteen days, nothing uses water")
        days = ", ".join(str(refill.day) for refill in self._ahead.refills)
        if not days:
            return tr("Fourteen days, no refill")
        return tr("Fourteen days, refills on day {days}").format(days=days)

    def _tell(self) -> None:
        said = self.words_of(self.day) if self.day is not None else ""
        self.setAccessibleDescription(said)

    def _choose(self, day: int | None) -> None:
        if day != self.day:
            self.day = day
            self._tell()
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Read the day under the pointer."""
        self._choose(self.day_at(event.position().x()))
        if self.day is not None and self._ahead is not None:
            QToolTip.showText(event.globalPosition().toPoint(), self.words_of(self.day), self)

    def leaveEvent(self, event: QEvent) -> None:
        """Read no day."""
        self._choose(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step from day to day."""
        ways = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        way = ways.get(Qt.Key(event.key()))
        if way is None:
            super().keyPressEvent(event)
            return
        start = -1 if self.day is None and way > 0 else self.day or 0
        self._choose(min(DAYS, max(0, start + way)))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw level, refills, days and the day that is read, from back to front."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        plot = QRectF(_SIDE, _TOP, self.width() - 2 * _SIDE, self.height() - _TOP - _BELOW)
        painter.fillRect(plot, self._theme.colour("sheet"))
        painter.setPen(QPen(self._theme.colour("hair"), 1))
        painter.drawRect(plot.adjusted(0.5, 0.5, -0.5, -0.5))
        if self._ahead is not None:
            self._paint_levels(painter, plot, self._ahead)
            self._paint_refills(painter, plot, self._ahead)
        self._paint_days(painter, plot)
        if self.day is not None and self._ahead is not None:
            x = self.x_of(self.day)
            painter.setPen(QPen(self._theme.colour("pencil"), 1.4))
            painter.drawLine(QPointF(x, plot.top()), QPointF(x, plot.bottom()))
        if self.hasFocus():
            paint_focus_ring(painter, QRectF(self.rect()), self._theme.palette)

    def _paint_levels(self, painter: QPainter, plot: QRectF, ahead: Fortnight) -> None:
        colour = self._theme.colour("water")
        pale = QColor(colour)
        pale.setAlphaF(0.3)
        points = self._points(ahead.emptiest, plot)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(pale)
        painter.drawPolygon(QPolygonF([plot.bottomLeft(), *points, plot.bottomRight()]))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        worst = QPen(self._theme.colour("ink2"), 1)
        worst.setDashPattern([2, 3])
        painter.setPen(worst)
        painter.drawPolyline(self._points(ahead.at_worst, plot))
        painter.setPen(QPen(colour, 1.8))
        painter.drawPolyline(points)

    def _points(self, levels: Series, plot: QRectF) -> list[QPointF]:
        last = len(levels) - 1
        return [
            QPointF(self.x_of(DAYS * place / last), plot.bottom() - level * plot.height())
            for place, level in enumerate(levels.tolist())
        ]

    def _paint_refills(self, painter: QPainter, plot: QRectF, ahead: Fortnight) -> None:
        font = self._theme.font("drawing", bold=True)
        metrics = QFontMetricsF(font)
        marks = [*(self.x_of(refill.day) for refill in ahead.refills), plot.right()]
        free = plot.left()
        for refill, end in zip(ahead.refills, marks[1:], strict=True):
            x = self.x_of(refill.day)
            painter.setPen(QPen(self._theme.colour("ink"), 1.5))
            painter.drawLine(QPointF(x, plot.top()), QPointF(x, plot.bottom()))
            words = tr("refill {n}").format(n=len(refill.ids))
            wide = metrics.horizontalAdvance(words) + 10
            # Beside its mark on the right where there is room before the next, else on the left.
            left = x + 5 if wide <= end - x else x + 5 - wide
            if left < free:
                continue
            free = left + wide
            path = QPainterPath()
            path.addText(QPointF(left, plot.bottom() - metrics.descent() - 2), font, words)
            halo = QPen(self._theme.colour("sheet"), 3, j=Qt.PenJoinStyle.RoundJoin)
            painter.strokePath(path, halo)
            painter.fillPath(path, self._theme.colour("ink"))

    def _paint_days(self, painter: QPainter, plot: QRectF) -> None:
        painter.setFont(self._theme.font("drawing"))
        for day in range(0, DAYS + 1, _EVERY):
            x = self.x_of(day)
            painter.setPen(QPen(self._theme.colour("edge"), 1))
            painter.drawLine(QPointF(x, plot.bottom()), QPointF(x, plot.bottom() + 3))
            painter.setPen(self._theme.colour("ink2"))
            words = tr("today") if day == 0 else str(day)
            width = QFontMetricsF(painter.font()).horizontalAdvance(words) + 4
            left = min(max(x - width / 2, 0.0), self.width() - width)
            place = QRectF(left, plot.bottom() + 2, width, _BELOW - 2)
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, words)
