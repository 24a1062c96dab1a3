"""The 24-hour axis of the day ribbon: lamp bars, night, a line with its band, the time marker.

Season and the words beside the axis are `gui.day_ribbon`'s.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt, Signal
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
from PySide6.QtWidgets import QAbstractSlider, QSizePolicy, QToolTip, QWidget

from core.hours import DAY, Periods, show_clock
from core.language import tr
from gui.theme import Theme, paint_focus_ring
from gui.tooltips import plain_tip

Series = npt.NDArray[np.float64]

STEP = 15
LONG_STEP = 60
_DRAG_STEP = 5
_SIDE = 12.0
_TOP = 11.0
_LAMP_BAR = 7.0
_BELOW = 18.0
_MOST_POINTS = 720
_ROOM_FOR_NUMBERS = 26.0
_LEAST_PLOT = 20.0
_STROKE = 4.0
LAYER_STRENGTHS = (0.55, 0.2, 0.4, 0.12, 0.48, 0.28)
"""How strong the colour of each layer is, so that neighbours are told apart."""


@dataclass(frozen=True)
class DayLine:
    """One line over the day.

    Attributes
    ----------
    values, low, high : ndarray
        The line and the ends of its band, evenly over the day.
    title : str
        What it is.
    text : callable
        A value as the user reads it.
    want : (float or None, float or None)
        Wanted range.
    colour : str
        Role in the palette.
    filled : bool
        Whether the scale begins at nought and the ground below is filled.
    layers : tuple of (str, ndarray)
        What the line is the sum of, the lowest first.
    told : callable or None
        What the pointer reads at a minute; None: the line's value.
    spans : tuple of (int, int, float or None, float or None)
        What is wanted from minute to minute, where that changes over the day.
    ends : (float, float) or None
        Ends of the scale; None: worked out from the line.
    strokes : tuple of tuple of (int, int, float)
        When each device runs, from minute to minute and which share of the time, below the line.
    """

    values: Series
    low: Series
    high: Series
    title: str
    text: Callable[[float], str]
    want: tuple[float | None, float | None]
    colour: str
    filled: bool
    layers: tuple[tuple[str, Series], ...] = ()
    told: Callable[[int], str] | None = None
    spans: tuple[tuple[int, int, float | None, float | None], ...] = ()
    ends: tuple[float, float] | None = None
    strokes: tuple[tuple[tuple[int, int, float], ...], ...] = ()

    @classmethod
    def of(
        cls,
        values: Sequence[float] | Series,
        low: Sequence[float] | Series | None,
        high: Sequence[float] | Series | None,
        title: str,
        text: Callable[[float], str],
        want: tuple[float | None, float | None],
        colour: str,
        filled: bool,
    ) -> DayLine:
        """Return a line from any sequences; a missing band is as thin as the line."""
        line = np.asarray(values, dtype=float)
        below = line if low is None else np.asarray(low, dtype=float)
        above = line if high is None else np.asarray(high, dtype=float)
        return cls(line, below, above, title, text, want, colour, filled)

    @property
    def scale(self) -> tuple[float, float]:
        """Lowest and highest value that the axis has room for."""
        if self.ends is not None:
            return self.ends
        wanted = [w for w in self.want if w is not None]
        bottom = 0.0 if self.filled else float(min([*wanted, self.low.min()]))
        top = float(max([*wanted, self.high.max()]))
        room = 0.12 * (top - bottom) or max(abs(top), 1.0) * 0.1
        return (bottom if self.filled else bottom - room), top + room

    def index(self, minute: float) -> int:
        """Return the place of a minute of the day in the series."""
        return min(len(self.values) - 1, int(minute * len(self.values) / DAY))

    def words_at(self, minute: int) -> str:
        """Return what the pointer reads at a minute of the day."""
        if self.told is not None:
            return self.told(minute)
        value = self.text(float(self.values[self.index(minute)]))
        return f"{show_clock(minute)}  {value}"

    def extremes(self) -> list[tuple[float, float]]:
        """Return (minute, value) of what is worth a number: highest, and lowest if apart."""
        top, bottom = float(self.values.max()), float(self.values.min())
        found = [(self._middle_of(self.values >= top - 0.02 * (top - bottom)), top)]
        if not self.filled and self.text(top) != self.text(bottom):
            found.append((self._middle_of(self.values <= bottom + 0.02 * (top - bottom)), bottom))
        return found

    def _middle_of(self, where: npt.NDArray[np.bool_]) -> float:
        """Return the minute in the middle of the longest run of ``where``."""
        start, end = max(stretches(where), key=lambda run: run[1] - run[0])
        return (start + end) / 2 * DAY / len(self.values)


def stretches(flags: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Return where flags are set, as (from, to)."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], flags.astype(np.int8), [0]])))
    return [(int(on), int(off)) for on, off in zip(edges[::2], edges[1::2], strict=True)]


def lamp_bars(periods: Periods) -> list[tuple[int, int]]:
    """Return ``periods`` as bars within one day: those over midnight are cut in two."""
    bars: list[tuple[int, int]] = []
    for on, off in periods:
        if on == off:
            return [(0, DAY)]
        bars += [(on, off)] if on < off else [(0, off), (on, DAY)]
    return [(on, off) for on, off in sorted(bars) if on < off]


def nights(periods: Periods) -> list[tuple[int, int]]:
    """Return when no lamp is on; none where there is no lamp at all."""
    if not periods:
        return []
    found, dark_since = [], 0
    for on, off in lamp_bars(periods):
        if on > dark_since:
            found.append((dark_since, on))
        dark_since = max(dark_since, off)
    return [*found, (dark_since, DAY)] if dark_since < DAY else found


class TimeAxis(QAbstractSlider):
    """The day from 0 to 24 h with a marker that is dragged; to assistive tools a slider.

    Attributes
    ----------
    time : int or None
        Minute shown, 0 to 1439; None for the whole-day mean, which has no marker.
    last_time : int
        The minute that was last shown.

    Signals
    -------
    time_changed(object)
        The user chose a minute (int) or the mean (None).
    """

    time_changed = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.time: int | None = None
        self._theme = theme
        self._lamps: Periods = ()
        self._line: DayLine | None = None
        self.setOrientation(Qt.Orientation.Horizontal)
        self.setRange(0, DAY - 1)
        self.setSingleStep(STEP)
        self.setPageStep(LONG_STEP)
        self.setValue(12 * 60)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.valueChanged.connect(self._moved)
        theme.changed.connect(self.update)
        self._name_it()

    @property
    def last_time(self) -> int:
        """The minute that is shown, or was before the mean."""
        return self.value()

    def sizeHint(self) -> QSize:
        """Return a size that holds a readable day."""
        return QSize(460, 70)

    def set_lamps(self, periods: Periods) -> None:
        """Show when lamps are on."""
        self._lamps = periods
        self.update()

    def set_line(self, line: DayLine | None) -> None:
        """Show another line, or none."""
        self._line = line
        said = tr("{title}, {low} to {high}")
        self.setAccessibleDescription(
            said.format(
                title=line.title,
                low=line.text(float(line.values.min())),
                high=line.text(float(line.values.max())),
            )
            if line
            else ""
        )
        self.update()

    def set_time(self, minute: int | None) -> None:
        """Show a minute or the mean, telling nobody."""
        blocked = self.blockSignals(True)
        if minute is not None:
            self.setValue(minute)
        self.time = None if minute is None else self.value()
        self.blockSignals(blocked)
        self._name_it()
        self.update()

    def choose(self, minute: int | None) -> None:
        """Show a minute or the mean as the user's choice."""
        if minute == self.time:
            return
        self.set_time(minute)
        self.time_changed.emit(self.time)

    def x_of(self, minute: float) -> float:
        """Return where a minute lies. [px]"""
        return _SIDE + minute / DAY * (self.width() - 2 * _SIDE)

    def minute_at(self, x: float) -> int:
        """Return the minute at ``x``, to five minutes and within the day."""
        share = (x - _SIDE) / max(1.0, self.width() - 2 * _SIDE)
        return min(DAY - _DRAG_STEP, max(0, round(share * DAY / _DRAG_STEP) * _DRAG_STEP))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Show the time under the pointer."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.choose(self.minute_at(event.position().x()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the marker, or read the line under the pointer."""
        minute = self.minute_at(event.position().x())
        if event.buttons() & Qt.MouseButton.LeftButton:
            self.choose(minute)
        elif self._line is not None:
            words = plain_tip(self._line.words_at(minute))
            QToolTip.showText(event.globalPosition().toPoint(), words, self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step a quarter of an hour, with Shift an hour; Page, Home and End as sliders do."""
        ways = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        way = ways.get(Qt.Key(event.key()))
        if way is None:
            super().keyPressEvent(event)
            return
        long = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        self.choose((self.last_time + way * (LONG_STEP if long else STEP)) % DAY)

    def _moved(self, minute: int) -> None:
        # Reached by assistive tools, the wheel and the slider's own keys.
        self.time = minute
        self._name_it()
        self.time_changed.emit(minute)
        self.update()

    def _name_it(self) -> None:
        shown = tr("whole-day mean") if self.time is None else show_clock(self.time)
        self.setAccessibleName(tr("Time shown, {time}").format(time=shown))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw night, lamps, line, hours and marker, from back to front."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        plot = QRectF(
            _SIDE,
            _TOP + _LAMP_BAR,
            self.width() - 2 * _SIDE,
            self.height() - _TOP - _LAMP_BAR - _BELOW,
        )
        strokes = self._line.strokes if self._line is not None else ()
        if plot.height() - len(strokes) * _STROKE >= _LEAST_PLOT:
            plot.setHeight(plot.height() - len(strokes) * _STROKE)
            self._paint_strokes(painter, plot, strokes)
        self._paint_ground(painter, plot)
        if self._line is not None:
            self._paint_line(painter, plot, self._line)
        self._paint_hours(painter, plot)
        if self.hasFocus():
            paint_focus_ring(painter, QRectF(self.rect()), self._theme.palette)
        if self.time is not None:
            self._paint_marker(painter, plot, self.x_of(self.time))

    def _paint_strokes(
        self, painter: QPainter, plot: QRectF, strokes: Sequence[Sequence[tuple[int, int, float]]]
    ) -> None:
        """Draw when devices run, a row for each below the line."""
        painter.setPen(Qt.PenStyle.NoPen)
        for row, one in enumerate(strokes):
            y = plot.bottom() + row * _STROKE + 1
            for start, end, share in one:
                ink = self._theme.colour("ink2")
                ink.setAlphaF(0.35 + 0.65 * share)
                painter.setBrush(ink)
                width = max(1.0, self.x_of(end) - self.x_of(start))
                painter.drawRect(QRectF(self.x_of(start), y, width, _STROKE - 1.5))

    def _paint_ground(self, painter: QPainter, plot: QRectF) -> None:
        painter.fillRect(plot, self._theme.colour("sheet"))
        if self._line is not None:
            self._paint_wanted(painter, plot, self._line)
        dark = QColor(Qt.GlobalColor.black)
        dark.setAlphaF(0.28 if self._theme.is_dark else 0.06)
        for start, end in nights(self._lamps):
            left = self.x_of(start)
            painter.fillRect(QRectF(left, plot.top(), self.x_of(end) - left, plot.height()), dark)
        painter.setPen(QPen(self._theme.colour("hair"), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(plot.adjusted(0.5, 0.5 - _LAMP_BAR, -0.5, -0.5))
        painter.setPen(QPen(self._theme.colour("ink"), 0.8))
        painter.setBrush(self._theme.colour("lamp"))
        for start, end in lamp_bars(self._lamps):
            left = self.x_of(start)
            painter.drawRect(QRectF(left, plot.top() - _LAMP_BAR, self.x_of(end) - left, _LAMP_BAR))

    def _paint_wanted(self, painter: QPainter, plot: QRectF, line: DayLine) -> None:
        painter.save()
        painter.setClipRect(plot)
        for start, end, low, high in line.spans or ((0, DAY, *line.want),):
            left, right = self.x_of(start), self.x_of(end)
            area = QRectF(left, plot.top(), right - left, plot.height())
            self._paint_want(painter, area, line, low, high)
        painter.restore()

    def _paint_want(
        self, painter: QPainter, plot: QRectF, line: DayLine, low: float | None, high: float | None
    ) -> None:
        if low is None and high is None:
            return
        top = plot.top() if high is None else self._y(high, plot, line)
        bottom = plot.bottom() if low is None else self._y(low, plot, line)
        painter.fillRect(
            QRectF(plot.left(), top, plot.width(), bottom - top), self._theme.colour("fine_bg")
        )
        pen = QPen(self._theme.colour("fine"), 1)
        pen.setDashPattern([2, 3])
        painter.setPen(pen)
        for limit, y in ((high, top), (low, bottom)):
            if limit is not None:
                painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))

    @staticmethod
    def _y(value: float, plot: QRectF, line: DayLine) -> float:
        bottom, top = line.scale
        return plot.bottom() - (value - bottom) / (top - bottom) * plot.height()

    def _points(self, values: Series, plot: QRectF, line: DayLine) -> list[QPointF]:
        count = len(values)
        at = np.unique(np.linspace(0, count - 1, min(count, _MOST_POINTS)).astype(int))
        bottom, top = line.scale
        x = plot.left() + (at + 0.5) / count * plot.width()
        x[0], x[-1] = plot.left(), plot.right()
        y = plot.bottom() - (values[at] - bottom) / (top - bottom) * plot.height()
        return [QPointF(a, b) for a, b in zip(x.tolist(), y.tolist(), strict=True)]

    def _paint_line(self, painter: QPainter, plot: QRectF, line: DayLine) -> None:
        colour = self._theme.colour(line.colour)
        points = self._points(line.values, plot, line)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(_pale(colour))
        if line.filled and line.layers:
            self._paint_layers(painter, plot, line)
        elif line.filled:
            painter.drawPolygon(QPolygonF([plot.bottomLeft(), *points, plot.bottomRight()]))
        above = self._points(line.high, plot, line)
        below = self._points(line.low, plot, line)
        painter.drawPolygon(QPolygonF([*above, *reversed(below)]))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour, 1.8))
        painter.drawPolyline(points)
        if plot.height() >= _ROOM_FOR_NUMBERS:
            self._paint_numbers(painter, plot, line)

    def _paint_layers(self, painter: QPainter, plot: QRectF, line: DayLine) -> None:
        """Draw what the line is the sum of, neighbours in different strengths of its colour."""
        below = np.zeros(len(line.values))
        for place, (_, values) in enumerate(line.layers):
            above = below + values
            painter.setBrush(layer_tint(self._theme.colour(line.colour), place))
            painter.drawPolygon(
                QPolygonF(
                    [
                        *self._points(above, plot, line),
                        *reversed(self._points(below, plot, line)),
                    ]
                )
            )
            below = above

    def _paint_numbers(self, painter: QPainter, plot: QRectF, line: DayLine) -> None:
        font = self._theme.font("drawing", bold=True)
        metrics = QFontMetricsF(font)
        words = tr("{value} at the peak") if line.filled else "{value}"
        for minute, value in line.extremes():
            text = words.format(value=line.text(value))
            width, rise = metrics.horizontalAdvance(text), metrics.ascent()
            if line.filled:
                place = QPointF(self._clear_x(line, width), plot.top() + rise + 1)
            else:
                place = self._beside(plot, line, minute, value, QSizeF(width, rise))
            path = QPainterPath()
            path.addText(place, font, text)
            halo = QPen(self._theme.colour("sheet"), 3, j=Qt.PenJoinStyle.RoundJoin)
            painter.strokePath(path, halo)
            painter.fillPath(path, self._theme.colour("ink"))

    def _beside(
        self, plot: QRectF, line: DayLine, minute: float, value: float, size: QSizeF
    ) -> QPointF:
        """Return where a number stands by its place on the line: above it where there is room."""
        x = self.x_of(minute) - size.width() / 2
        y = self._y(value, plot, line) - 4
        if y - size.height() < plot.top():
            y = min(y + 8 + size.height(), plot.bottom() - 2)
        return QPointF(min(max(x, plot.left() + 4), plot.right() - size.width() - 4), y)

    def _clear_x(self, line: DayLine, width: float) -> float:
        """Return the leftmost x where words at the top stand over the lowest stretch of a line."""
        minutes = (width + 8) / max(1.0, self.width() - 2 * _SIDE) * DAY
        starts = np.arange(0.0, max(1.0, DAY - minutes), LONG_STEP / 2)
        tops = [
            line.values[line.index(start) : line.index(start + minutes) + 1].max()
            for start in starts
        ]
        return self.x_of(float(starts[int(np.argmin(tops))])) + 4

    def _paint_hours(self, painter: QPainter, plot: QRectF) -> None:
        painter.setFont(self._theme.font("drawing"))
        for hour in range(0, 25, 3):
            x = self.x_of(hour * 60)
            painter.setPen(QPen(self._theme.colour("edge"), 1))
            foot = self.height() - _BELOW
            painter.drawLine(QPointF(x, foot), QPointF(x, foot + 3))
            painter.setPen(self._theme.colour("ink2"))
            place = QRectF(x - 16, foot + 2, 32, _BELOW - 2)
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, f"{hour:02d}")

    def _paint_marker(self, painter: QPainter, plot: QRectF, x: float) -> None:
        pencil = self._theme.colour("pencil")
        painter.setPen(QPen(pencil, 2))
        painter.drawLine(QPointF(x, 6), QPointF(x, plot.bottom() + 2))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(pencil)
        painter.drawPolygon(QPolygonF([QPointF(x - 6, 1), QPointF(x + 6, 1), QPointF(x, 9)]))


def layer_tint(colour: QColor, place: int) -> QColor:
    """Return the tint of a layer: neighbours differ, and none is as strong as the line."""
    tint = QColor(colour)
    tint.setAlphaF(LAYER_STRENGTHS[place % len(LAYER_STRENGTHS)])
    return tint


def _pale(colour: QColor) -> QColor:
    pale = QColor(colour)
    pale.setAlphaF(0.25)
    return pale
