"""How one line of the day's climate, its wanted range and a device's strokes are painted.

Used by the day (`gui.climate_day`); what the lines are is `gui.climate_day_lines`' affair.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from core.climate.results import DeviceDay
from core.hours import DAY
from gui.climate_day_lines import Series, Span, Track, strokes
from gui.theme import Theme
from gui.time_axis import stretches

_MOST_POINTS = 720
_HATCH = 7.0
_SMALLEST_GAP = 3.0


@dataclass(frozen=True)
class Plane:
    """Where minutes and values lie: a rectangle, and the values at its foot and top."""

    rect: QRectF
    bottom: float
    top: float

    def x(self, minute: float) -> float:
        """Return where a minute of the day lies. [px]"""
        return self.rect.left() + minute / DAY * self.rect.width()

    def y(self, value: float) -> float:
        """Return where a value lies, kept within the rectangle. [px]"""
        share = (value - self.bottom) / (self.top - self.bottom)
        return self.rect.bottom() - min(max(share, 0.0), 1.0) * self.rect.height()

    def points(self, values: Series) -> list[QPointF]:
        """Return a line over the day."""
        count = len(values)
        at = np.unique(np.linspace(0, count - 1, min(count, _MOST_POINTS)).astype(int))
        x = self.rect.left() + (at + 0.5) / count * self.rect.width()
        x[0], x[-1] = self.rect.left(), self.rect.right()
        share = np.clip((values[at] - self.bottom) / (self.top - self.bottom), 0.0, 1.0)
        y = self.rect.bottom() - share * self.rect.height()
        return [QPointF(a, b) for a, b in zip(x.tolist(), y.tolist(), strict=True)]


def _halves(track: Track) -> Iterator[tuple[int, int, tuple[Span, ...]]]:
    for on, off in stretches(track.lit):
        yield on, off, track.day
    for on, off in stretches(~track.lit):
        yield on, off, track.night


def paint_wanted(painter: QPainter, plane: Plane, track: Track, theme: Theme) -> None:
    """Draw what is wanted, by day and by night: filled where all agree, else dotted limits only."""
    for on, off, spans in _halves(track):
        left, right = plane.x(on), plane.x(off)
        for low, high in spans:
            top = plane.rect.top() if high is None else plane.y(high)
            bottom = plane.rect.bottom() if low is None else plane.y(low)
            if len(spans) == 1 and bottom > top:
                area = QRectF(left, top, right - left, bottom - top)
                painter.fillRect(area, theme.colour("fine_bg"))
            _paint_limits(painter, plane, (low, high), (left, right), theme)


def _paint_limits(
    painter: QPainter, plane: Plane, span: Span, ends: tuple[float, float], theme: Theme
) -> None:
    pen = QPen(theme.colour("fine"), 1.2)
    pen.setDashPattern([1.5, 2.5])
    painter.setPen(pen)
    for limit in span:
        if limit is not None and plane.bottom <= limit <= plane.top:
            y = plane.y(limit)
            painter.drawLine(QPointF(ends[0], y), QPointF(ends[1], y))


def paint_line(painter: QPainter, plane: Plane, track: Track, theme: Theme) -> None:
    """Draw a line with its band, what stands beside it, and what it was before an edit."""
    colour = theme.colour("air")
    pale = QColor(colour)
    pale.setAlphaF(0.25)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(pale)
    band = [*plane.points(track.high), *reversed(plane.points(track.low))]
    painter.drawPolygon(QPolygonF(band))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if track.beside is not None:
        painter.setPen(QPen(theme.colour("ink2"), 1.1, Qt.PenStyle.DashLine))
        painter.drawPolyline(plane.points(track.beside))
    if track.before is not None:
        painter.setPen(QPen(theme.colour("ink2"), 1.1, Qt.PenStyle.DotLine))
        painter.drawPolyline(plane.points(track.before))
    painter.setPen(QPen(colour, 2.0))
    painter.drawPolyline(plane.points(track.values))


def paint_short_of(
    painter: QPainter, plane: Plane, track: Track, theme: Theme, limit: float
) -> None:
    """Hatch the hours in which a line is below a limit, or may be."""
    height = 8.0
    for flags, role in (
        ((track.low < limit) & (track.values >= limit), "edgey"),
        (track.values < limit, "out"),
    ):
        painter.setPen(QPen(theme.colour(role), 1.4))
        for on, off in stretches(flags):
            left, right = plane.x(on), plane.x(off)
            y = plane.rect.bottom() - 1
            painter.save()
            painter.setClipRect(QRectF(left, y - height, right - left, height + 1))
            first = plane.rect.left() + _HATCH * int((left - plane.rect.left()) / _HATCH) - _HATCH
            for n in range(int((right - first) / _HATCH) + 2):
                x = first + n * _HATCH
                painter.drawLine(QPointF(x, y), QPointF(x + height, y - height))
            painter.restore()


def paint_strokes(
    painter: QPainter, plane: Plane, device: DeviceDay, theme: Theme, height: float
) -> None:
    """Draw when a device runs: a stroke as dark as the share of the time that it runs."""
    y = plane.rect.center().y()
    painter.setPen(QPen(theme.colour("hair"), 1))
    painter.drawLine(QPointF(plane.rect.left(), y), QPointF(plane.rect.right(), y))
    least = max(1, int(_SMALLEST_GAP / plane.rect.width() * DAY))
    painter.setPen(Qt.PenStyle.NoPen)
    for on, off, share in strokes(device, least):
        ink = theme.colour("ink2")
        ink.setAlphaF(0.35 + 0.65 * share)
        painter.setBrush(ink)
        width = max(1.5, plane.x(off) - plane.x(on))
        area = QRectF(plane.x(on), y - height / 2, width, height)
        painter.drawRoundedRect(area, min(2.0, width / 2), 2)


def paint_text(painter: QPainter, place: QPointF, text: str, role: str, theme: Theme) -> None:
    """Write on a halo, in the painter's font."""
    path = QPainterPath()
    path.addText(place, painter.font(), text)
    halo = QPen(theme.colour("sheet"), 3.5, j=Qt.PenJoinStyle.RoundJoin)
    painter.strokePath(path, halo)
    painter.fillPath(path, theme.colour(role))


def fitted(painter: QPainter, text: str, width: float) -> str:
    """Return as much of a text as a width holds."""
    metrics = QFontMetricsF(painter.font())
    return metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)
