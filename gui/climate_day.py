"""The day in Climate, which takes the sheet's place: lamps, lines with their bands, devices.

What the lines are is said in `gui.climate_day_lines`, how one is painted in
`gui.climate_day_paint`; when the day is shown is `gui.climate_show`'s affair.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from core.hours import DAY, show_clock
from core.language import tr
from core.model import Lamp
from gui.climate_day_lines import (
    Track,
    duty_words,
    rows_of,
    season_name,
    show_short,
    told_at,
    tracks,
)
from gui.climate_day_paint import (
    Plane,
    fitted,
    paint_line,
    paint_short_of,
    paint_strokes,
    paint_text,
    paint_wanted,
)
from gui.spoken import aloud
from gui.theme import Theme, state_role
from gui.time_axis import stretches
from gui.tooltips import plain_tip

if TYPE_CHECKING:
    from core.climate.results import DeviceDay
    from core.readings import Readings

STEP, LONG_STEP, _DRAG_STEP = 15, 60, 5
_LEFT, _RIGHT, _SIDE = 122.0, 64.0, 20.0
_HEAD, _LAMPS, _HOURS = 54.0, 10.0, 20.0
_DEVICE, _MOST_DEVICES = 20.0, 6
_GAP = 14.0
_MIST = 16.0


@dataclass(frozen=True)
class _Bands:
    """Where everything lies. [px]"""

    lamps: QRectF
    tracks: tuple[QRectF, ...]
    devices: tuple[QRectF, ...]
    whole: QRectF


class ClimateDay(QWidget):
    """The day, with the time shown as a violet line.

    Attributes
    ----------
    minute : int or None
        The time shown; None for the whole-day mean.
    tracks : tuple of Track

    Signals
    -------
    time_chosen(int)
        The grower chose a minute of the day.
    left()
        The sheet is wanted back.
    """

    time_chosen = Signal(int)
    left = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._readings: Readings | None = None
        self._before: Readings | None = None
        self.minute: int | None = None
        self.tracks: tuple[Track, ...] = ()
        self.compared = False
        self._picture: QPixmap | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.changed.connect(self._draw_anew)

    def sizeHint(self) -> QSize:
        """Return a size in which every line can be read."""
        return QSize(796, 600)

    def minimumSizeHint(self) -> QSize:
        """Return the least in which lines are told apart."""
        return QSize(420, 240)

    def show_day(self, readings: Readings | None, before: Readings | None = None) -> None:
        """Show the day of these readings; ``before`` are those from before the last edit."""
        same = self._holds(readings) and before is self._before
        self._readings, self._before = readings, before
        if same:
            # Newer readings of other subjects, as they come with every picture of the air.
            return
        shown = readings is not None
        self.tracks = tracks(readings, before) if shown and readings is not None else ()
        self.compared = any(track.before is not None for track in self.tracks)
        self._name_it()
        self._draw_anew()

    def _holds(self, readings: Readings | None) -> bool:
        """Say whether the day of these readings is shown already."""
        now = self._readings
        if readings is None or now is None:
            return False
        return (
            readings.climate is now.climate
            and readings.season == now.season
            and readings.design.units == now.design.units
            and season_name(readings) == season_name(now)
        )

    def show_time(self, minute: int | None) -> None:
        """Show another time of day, or the whole-day mean."""
        self.minute = minute
        self._name_it()
        self.update()

    # --- in words ----------------------------------------------------------------------------

    def title(self) -> str:
        """Return the head: "Winter day in the enclosure"."""
        if self._readings is None:
            return ""
        words = tr("{season} in the enclosure").format(season=season_name(self._readings))
        return f"≈ {words}" if self._readings.climate.coarse else words

    def subtitle(self) -> str:
        """Return the room's air, and what the bands are."""
        if self._readings is None or self._readings.climate.series is None:
            return ""
        series, system = self._readings.climate.series, self._readings.design.units
        ends = [show_short(float(end(series.room_temperature)), "temperature", system)
                for end in (np.min, np.max)]  # fmt: skip
        damp = show_short(float(series.room_humidity.mean()), "fraction", system)
        room = tr("Room {low} to {high}, {humidity}.").format(
            low=ends[0], high=ends[1], humidity=damp
        )
        if self._readings.climate.coarse:
            return room + " " + tr("A steady estimate; the day itself follows.")
        if self.compared:
            return room + " " + tr("Dotted: before the last edit.")
        return room + " " + tr("Band round each line: how sure the reading is.")

    def mist(self) -> tuple[str, str]:
        """Return what is said of misting walls, and the role of its colour."""
        if self._readings is None:
            return "", "ink2"
        climate = self._readings.climate
        row = next(iter(rows_of(climate, "margin")), None)
        if row is None:
            return "", "ink2"
        words = row.line.render(self._readings.design.units)
        return words[:1].upper() + words[1:], state_role(row.state)

    def words(self) -> str:
        """Return the day in words: what is read at the time shown, else its range."""
        if self._readings is None or not self.tracks:
            return tr("No day of climate yet")
        said = [self.title()]
        if self.minute is None:
            for one in self.tracks:
                low, high = float(one.values.min()), float(one.values.max())
                words = tr("{title} {low} to {high}")
                said.append(words.format(title=one.title, low=one.text(low), high=one.text(high)))
        else:
            said += told_at(self._readings, self.minute).split("\n")
        said += [
            tr("{name} runs {share} of the day").format(name=one.name, share=duty_words(one))
            for one in self._readings.climate.devices
        ]
        return aloud(". ".join([*said, self.mist()[0]]))

    def _name_it(self) -> None:
        self.setAccessibleName(self.words())

    # --- reading and choosing ----------------------------------------------------------------

    def minute_at(self, x: float) -> int:
        """Return the minute at ``x``, to five minutes and within the day."""
        plot = self._bands().whole
        share = (x - plot.left()) / max(1.0, plot.width())
        return min(DAY - _DRAG_STEP, max(0, round(share * DAY / _DRAG_STEP) * _DRAG_STEP))

    def x_of(self, minute: float) -> float:
        """Return where a minute lies. [px]"""
        plot = self._bands().whole
        return plot.left() + minute / DAY * plot.width()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Show the time under the pointer."""
        if event.button() == Qt.MouseButton.LeftButton and self.tracks:
            self.time_chosen.emit(self.minute_at(event.position().x()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the violet line, or read what lies under the pointer."""
        if self._readings is None or not self.tracks:
            return
        minute = self.minute_at(event.position().x())
        if event.buttons() & Qt.MouseButton.LeftButton:
            self.time_chosen.emit(minute)
        elif self._bands().whole.adjusted(-4, -30, 4, 0).contains(event.position()):
            words = plain_tip(told_at(self._readings, minute))
            QToolTip.showText(event.globalPosition().toPoint(), words, self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step a quarter of an hour, with Shift an hour; Escape brings the sheet back."""
        key = event.key()
        ways = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        plain = not event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
        if key == Qt.Key.Key_Escape:
            self.left.emit()
        elif key in ways and self.tracks and plain:
            long = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            now = 12 * 60 if self.minute is None else self.minute
            step = ways[Qt.Key(key)] * (LONG_STEP if long else STEP)
            self.time_chosen.emit((now + step) % DAY)
        elif key == Qt.Key.Key_Home and self.tracks:
            self.time_chosen.emit(0)
        elif key == Qt.Key.Key_End and self.tracks:
            self.time_chosen.emit(DAY - _DRAG_STEP)
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Draw anew when the font changes."""
        super().changeEvent(event)
        self._draw_anew()

    # --- painting ----------------------------------------------------------------------------

    def _devices(self) -> tuple[DeviceDay, ...]:
        return self._readings.climate.devices if self._readings is not None else ()

    def _bands(self) -> _Bands:
        head = max(_HEAD, 2.0 * QFontMetricsF(self._theme.font()).height() + 18)
        left, right = self._label_width(), self.width() - _RIGHT
        width = max(1.0, right - left)
        rows = min(len(self._devices()), _MOST_DEVICES + 1)
        lamps = QRectF(left, head + 14, width, _LAMPS)
        foot = self.height() - _HOURS - 6
        device_top = foot - rows * _DEVICE
        # Below the dew margin its meaning is told.
        told = _MIST if any(one.key == "margin" for one in self.tracks) else 0.0
        count = max(1, len(self.tracks))
        top = lamps.bottom() + 2
        each = max(20.0, (device_top - told - 6 - top) / count)
        bands = tuple(
            QRectF(left, top + n * each + _GAP / 2, width, each - _GAP) for n in range(count)
        )
        devices = tuple(QRectF(left, device_top + n * _DEVICE, width, _DEVICE) for n in range(rows))
        whole = QRectF(left, lamps.top(), width, foot - lamps.top())
        return _Bands(lamps, bands[: len(self.tracks)], devices, whole)

    def _label_width(self) -> float:
        bold = QFontMetricsF(self._theme.font(bold=True))
        titles = [bold.horizontalAdvance(track.title) for track in self.tracks]
        return max([_LEFT if self.width() > 560 else 96.0, *(w + _SIDE + 14 for w in titles)])

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the day as it was kept, and the time shown over it."""
        if self._picture is None or self._picture.deviceIndependentSize() != self.size():
            self._picture = self._drawn()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.drawPixmap(0, 0, self._picture)
        if self.tracks and self.minute is not None:
            bands = self._bands()
            self._paint_marker(painter, bands, self._planes(bands), self.minute)

    def _draw_anew(self) -> None:
        self._picture = None
        self.update()

    def _drawn(self) -> QPixmap:
        """Return everything but the time shown, which moves often while the rest stays."""
        ratio = self.devicePixelRatioF()
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(self._theme.colour("sheet"))
        if self._readings is not None and self.tracks:
            painter = QPainter(picture)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            bands = self._bands()
            self._paint_head(painter)
            self._paint_lamps(painter, bands)
            for plane, one in zip(self._planes(bands), self.tracks, strict=True):
                self._paint_track(painter, plane, one)
            self._paint_devices(painter, bands)
            self._paint_hours(painter, bands)
            painter.end()
        return picture

    def _planes(self, bands: _Bands) -> list[Plane]:
        return [Plane(band, *one.scale)
                for band, one in zip(bands.tracks, self.tracks, strict=True)]  # fmt: skip

    def _paint_head(self, painter: QPainter) -> None:
        painter.setFont(self._theme.font("second"))
        metrics = QFontMetricsF(painter.font())
        hint = tr("Esc brings the sheet back")
        place = self.width() - _SIDE - metrics.horizontalAdvance(hint)
        painter.setFont(self._theme.font(bold=True))
        base = 10 + QFontMetricsF(painter.font()).ascent()
        painter.setPen(self._theme.colour("ink"))
        title = fitted(painter, self.title(), place - _SIDE - 12)
        painter.drawText(QPointF(_SIDE, base), title)
        painter.setFont(self._theme.font("second"))
        painter.setPen(self._theme.colour("ink2"))
        painter.drawText(QPointF(place, base), hint)
        below = QPointF(_SIDE, base + metrics.height() + 4)
        painter.drawText(below, fitted(painter, self.subtitle(), self.width() - 2 * _SIDE))

    def _paint_lamps(self, painter: QPainter, bands: _Bands) -> None:
        assert self._readings is not None
        lit = self.tracks[0].lit
        dark = QColor(Qt.GlobalColor.black)
        dark.setAlphaF(0.28 if self._theme.is_dark else 0.06)
        last = bands.tracks[-1].bottom() + _GAP / 2
        for on, off in stretches(~lit):
            area = QRectF(self.x_of(on), bands.lamps.bottom(), 0, 0)
            area.setRight(self.x_of(off))
            area.setBottom(last)
            painter.fillRect(area, dark)
        painter.setPen(QPen(self._theme.colour("ink"), 0.8))
        painter.setBrush(self._theme.colour("lamp"))
        for on, off in stretches(lit):
            left = self.x_of(on)
            painter.drawRect(QRectF(left, bands.lamps.top(), self.x_of(off) - left, _LAMPS))
        painter.setFont(self._theme.font("second"))
        painter.setPen(self._theme.colour("ink2"))
        words = tr("Lamps") if any(self._readings.design.of(Lamp)) else tr("Day")
        area = QRectF(0, bands.lamps.center().y() - 10, bands.lamps.left() - 12, 20)
        painter.drawText(area, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, words)

    def _paint_track(self, painter: QPainter, plane: Plane, one: Track) -> None:
        theme = self._theme
        paint_wanted(painter, plane, one, theme)
        painter.setPen(QPen(theme.colour("hair"), 1))
        base = plane.rect.bottom() + _GAP / 2
        painter.drawLine(QPointF(plane.rect.left(), base), QPointF(plane.rect.right(), base))
        paint_line(painter, plane, one, theme)
        self._paint_names(painter, plane, one)
        self._paint_limits(painter, plane, one)
        if one.key == "margin":
            paint_short_of(painter, plane, one, theme, 0.0)
            self._paint_mist(painter, plane)

    def _paint_names(self, painter: QPainter, plane: Plane, one: Track) -> None:
        painter.setFont(self._theme.font(bold=True))
        metrics = QFontMetricsF(painter.font())
        painter.setPen(self._theme.colour("ink"))
        middle = plane.rect.center().y()
        painter.drawText(QPointF(_SIDE, middle - 1), one.title)
        painter.setFont(self._theme.font("second"))
        painter.setPen(self._theme.colour("ink2"))
        painter.drawText(QPointF(_SIDE, middle + metrics.ascent() + 2), one.unit)
        if one.beside is None:
            return
        painter.setFont(self._theme.font("drawing"))
        at = DAY - 60
        y = plane.y(float(one.beside[at]))
        own = plane.y(float(one.values[at]))
        rise = QFontMetricsF(painter.font()).ascent()
        below = y > own
        width = QFontMetricsF(painter.font()).horizontalAdvance(one.beside_name)
        y = min(y + rise + 1, plane.rect.bottom() + 4) if below else max(y - 4, plane.rect.top())
        place = QPointF(plane.rect.right() - width - 6, y)
        paint_text(painter, place, one.beside_name, "ink2", self._theme)

    def _paint_limits(self, painter: QPainter, plane: Plane, one: Track) -> None:
        """Write the limits at the right, the outer ones first where they would lie on another."""
        painter.setFont(self._theme.font("drawing", bold=True))
        metrics = QFontMetricsF(painter.font())
        painter.setPen(self._theme.colour("fine"))
        limits = [limit for limit in one.limits() if plane.bottom <= limit <= plane.top]
        taken: list[float] = []
        for limit in sorted(limits, key=lambda v: -abs(v - sum(limits) / max(1, len(limits)))):
            y = plane.y(limit)
            if any(abs(y - other) < metrics.height() * 0.8 for other in taken):
                continue
            taken.append(y)
            words = fitted(painter, one.text(limit), _RIGHT - 12)
            painter.drawText(QPointF(plane.rect.right() + 8, y + metrics.ascent() / 2 - 1), words)

    def _paint_mist(self, painter: QPainter, plane: Plane) -> None:
        words, role = self.mist()
        painter.setFont(self._theme.font("drawing", bold=True))
        words = fitted(painter, words, plane.rect.width() - 12)
        y = plane.rect.bottom() + _GAP / 2 + QFontMetricsF(painter.font()).ascent() + 1
        paint_text(painter, QPointF(plane.rect.left(), y), words, role, self._theme)

    def _paint_devices(self, painter: QPainter, bands: _Bands) -> None:
        devices = self._devices()
        metrics = QFontMetricsF(self._theme.font("second"))
        for number, band in enumerate(bands.devices):
            painter.setFont(self._theme.font("second"))
            painter.setPen(self._theme.colour("ink"))
            base = band.center().y() + metrics.ascent() / 2 - 1
            if number == _MOST_DEVICES and len(devices) > _MOST_DEVICES + 1:
                words = tr("{n} more in the key").format(n=len(devices) - _MOST_DEVICES)
                painter.drawText(QPointF(_SIDE, base), words)
                continue
            one = devices[number]
            name = fitted(painter, one.name, band.left() - _SIDE - 10)
            painter.drawText(QPointF(_SIDE, base), name)
            paint_strokes(painter, Plane(band, 0, 1), one, self._theme, 10.0)
            painter.setPen(self._theme.colour("ink2"))
            painter.drawText(QPointF(band.right() + 8, base), duty_words(one))

    def _paint_hours(self, painter: QPainter, bands: _Bands) -> None:
        painter.setFont(self._theme.font("drawing"))
        foot = bands.whole.bottom()
        for hour in range(0, 25, 3):
            x = self.x_of(hour * 60)
            painter.setPen(QPen(self._theme.colour("edge"), 1))
            painter.drawLine(QPointF(x, foot), QPointF(x, foot + 4))
            painter.setPen(self._theme.colour("ink2"))
            area = QRectF(x - 20, foot + 4, 40, _HOURS)
            painter.drawText(area, Qt.AlignmentFlag.AlignHCenter, f"{hour:02d}")

    def _paint_marker(
        self, painter: QPainter, bands: _Bands, planes: list[Plane], minute: int
    ) -> None:
        pencil, x = self._theme.colour("pencil"), self.x_of(minute)
        top = bands.lamps.top() - 4
        painter.setPen(QPen(pencil, 2))
        painter.drawLine(QPointF(x, top), QPointF(x, bands.whole.bottom() + 2))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(pencil)
        head = [QPointF(x - 6, top - 8), QPointF(x + 6, top - 8), QPointF(x, top)]
        painter.drawPolygon(QPolygonF(head))
        painter.setFont(self._theme.font("second", bold=True))
        metrics = QFontMetricsF(painter.font())
        late = x > bands.whole.right() - 110

        def write(words: str, y: float) -> None:
            start = x - 10 - metrics.horizontalAdvance(words) if late else x + 10
            paint_text(painter, QPointF(start, y), words, "pencil", self._theme)

        write(show_clock(minute), top - 1)
        for plane, one in zip(planes, self.tracks, strict=True):
            value = float(one.values[minute])
            y = plane.y(value)
            painter.setPen(QPen(pencil, 2))
            painter.setBrush(self._theme.colour("sheet"))
            painter.drawEllipse(QPointF(x, y), 4, 4)
            below = y + metrics.ascent() + 7
            at = below if below < plane.rect.bottom() + 6 else y - 8
            write(one.text(value), at)
