"""How a lamp spreads its light, drawn: two half planes about its axis, the lamp in the middle.

Only the picture is made here; where the numbers come from is `core.light`'s work.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from core.language import tr
from core.light.distribution import Distribution
from gui.theme import Theme

_GAMMA = np.arange(181.0)
_ROUND = (1.0, 2.0, 2.5, 5.0, 10.0)
_MOST_RINGS = 5
_RAYS = (0, 30, 60, 90, 120, 150, 180)
_RADIUS = 100.0
"""Of the outermost ring where there is room. [px]"""
_EDGE = 4.0
_SIDES = ((0.0, 180.0), (90.0, 270.0))
"""The planes that are drawn: what lies right and left in each."""


class PolarPlot(QWidget):
    """A distribution by direction; straight down is at the bottom.

    Attributes
    ----------
    shown : Distribution or None
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.shown: Distribution | None = None
        self._unit = ""
        self._scale = 1.0
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        theme.changed.connect(self.updateGeometry)

    def show_distribution(
        self, distribution: Distribution | None, unit: str = "", scale: float = 1.0
    ) -> None:
        """Show a distribution; its intensities times ``scale`` are in ``unit``."""
        self.shown, self._unit, self._scale = distribution, unit, scale
        words = _in_words(distribution, unit, scale) if distribution else ""
        self.setAccessibleName(words)
        self.setVisible(distribution is not None)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room for half a circle and its words, or for a whole one."""
        line = self._line_height()
        return QSize(round(2 * _RADIUS + 6 * line), math.ceil(self._up() + _RADIUS + 3.6 * line))

    def minimumSizeHint(self) -> QSize:
        """Return the least width that can be read."""
        return QSize(180, self.sizeHint().height())

    def _up(self) -> float:
        """Return the room above the lamp: half a circle, or a line where no light goes up. [px]"""
        line = self._line_height()
        return _RADIUS + line if self._shines_up() else 0.6 * line

    def _radius(self) -> float:
        return min(self.width() / 2 - 2.6 * self._line_height(), _RADIUS)

    def _line_height(self) -> float:
        return QFontMetricsF(self._theme.font("drawing")).height()

    def _shines_up(self) -> bool:
        return self.shown is not None and self.shown.halves[1] is not None

    def _is_round(self) -> bool:
        table = self.shown.planes[2] if self.shown is not None else np.zeros((1, 1))
        return bool((table == table[0]).all())

    # --- painting --------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw rings, rays and both planes."""
        if self.shown is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._theme.font("drawing"))
        radius, line = self._radius(), self._line_height()
        middle = QPointF(self.width() / 2, self._up() + line * 0.5)
        curves = [self._curve(*sides) for sides in _SIDES]
        highest = max(float(curve.max()) for curve in curves) or 1.0
        step = ring_step(highest)
        most = max(math.ceil(highest / step - 1e-9), 1) * step
        self._draw_grid(painter, middle, radius, most, step)
        self._draw_curves(painter, middle, radius / most, curves)
        self._draw_words(painter, middle, radius, most, step)
        self._draw_key(painter, line)

    def _curve(self, right: float, left: float) -> np.ndarray:
        """Return the intensities of a plane, from below by the right side up and by the left down.

        Two rows: right and left, by gamma.
        """
        assert self.shown is not None
        return self._scale * np.stack(
            [self.shown.intensity(side, _GAMMA) for side in (right, left)]
        )

    def _draw_grid(
        self, painter: QPainter, middle: QPointF, radius: float, most: float, step: float
    ) -> None:
        painter.setPen(QPen(self._theme.colour("hair"), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        up = self._shines_up()
        for number in range(1, round(most / step) + 1):
            ring = radius * number * step / most
            box = QRectF(middle.x() - ring, middle.y() - ring, 2 * ring, 2 * ring)
            if up:
                painter.drawEllipse(box)
            else:
                painter.drawArc(box, 180 * 16, 180 * 16)
        for ray in self._rays():
            for sign in (1, -1):
                painter.drawLine(middle, _at(middle, radius, ray, sign))

    def _rays(self) -> list[int]:
        return [ray for ray in _RAYS if ray <= 90 or self._shines_up()]

    def _draw_words(
        self, painter: QPainter, middle: QPointF, radius: float, most: float, step: float
    ) -> None:
        painter.setPen(self._theme.colour("ink2"))
        line = self._line_height()
        for ray in self._rays():
            for sign in (1, -1) if 0 < ray < 180 else (1,):
                place = _at(middle, radius + line * 0.9, ray, sign)
                _centred(painter, place, f"{ray}°")
        rings = round(most / step)
        every = math.ceil(1.3 * line * rings / max(radius, 1.0))
        for number in range(rings, 0, -every):
            place = _at(middle, radius * number / rings, 15, 1)
            self._draw_ring_words(painter, place, f"{number * step:g}")

    def _draw_ring_words(self, painter: QPainter, place: QPointF, words: str) -> None:
        """Draw a ring's value on the ground, so that no line runs through it."""
        metrics = QFontMetricsF(painter.font())
        box = metrics.boundingRect(words).adjusted(-2, 0, 2, 0)
        box.moveCenter(place)
        painter.fillRect(box, self._theme.colour("panel"))
        _centred(painter, place, words)

    def _draw_curves(
        self, painter: QPainter, middle: QPointF, scale: float, curves: list[np.ndarray]
    ) -> None:
        along, across = (_path(middle, scale * curve) for curve in curves)
        fill = self._theme.colour("lamp")
        fill.setAlphaF(0.35)
        painter.fillPath(along, fill)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        ink = self._theme.colour("ink")
        painter.setPen(QPen(ink, 1.8))
        painter.drawPath(along)
        if not self._is_round():
            painter.setPen(QPen(ink, 1.4, Qt.PenStyle.DashLine))
            painter.drawPath(across)

    def _draw_key(self, painter: QPainter, line: float) -> None:
        """Say below which line is which plane, and at the right in which unit the rings are."""
        y = self.height() - line * 0.7
        x = _EDGE
        ink = self._theme.colour("ink")
        lines = [
            (Qt.PenStyle.SolidLine, tr("along the lamp")),
            (Qt.PenStyle.DashLine, tr("across it")),
        ]
        if self._is_round():
            lines = [(Qt.PenStyle.SolidLine, tr("alike all round"))]
        for style, words in lines:
            painter.setPen(QPen(ink, 1.6, style))
            painter.drawLine(QPointF(x, y), QPointF(x + 22, y))
            painter.setPen(self._theme.colour("ink2"))
            width = QFontMetricsF(painter.font()).horizontalAdvance(words)
            painter.drawText(QPointF(x + 27, y + line * 0.3), words)
            x += width + 40
        right = self.width() - _EDGE - QFontMetricsF(painter.font()).horizontalAdvance(self._unit)
        # Beside the lamp's words where they leave room, else in the corner above.
        place = QPointF(right, y + line * 0.3) if right >= x else QPointF(_EDGE, line * 0.8)
        painter.drawText(place, self._unit)


def ring_step(highest: float) -> float:
    """Return a round step that parts a scale into at most five rings."""
    power = 10.0 ** math.floor(math.log10(highest / _MOST_RINGS))
    return next(power * size for size in _ROUND if power * size * _MOST_RINGS >= highest - 1e-9)


def _at(middle: QPointF, radius: float, gamma: float, sign: int) -> QPointF:
    angle = math.radians(gamma)
    return middle + QPointF(sign * radius * math.sin(angle), radius * math.cos(angle))


def _points(middle: QPointF, curve: np.ndarray) -> Iterator[QPointF]:
    """Yield a closed line: up the right side, and down the left one."""
    for gamma in range(_GAMMA.size):
        yield _at(middle, float(curve[0, gamma]), gamma, 1)
    for gamma in reversed(range(_GAMMA.size)):
        yield _at(middle, float(curve[1, gamma]), gamma, -1)


def _path(middle: QPointF, curve: np.ndarray) -> QPainterPath:
    points = list(_points(middle, curve))
    path = QPainterPath(points[0])
    for point in points[1:]:
        path.lineTo(point)
    path.closeSubpath()
    return path


def _centred(painter: QPainter, place: QPointF, words: str) -> None:
    box = QRectF(place.x() - 40, place.y() - 12, 80, 24)
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), words)


def _in_words(distribution: Distribution, unit: str, scale: float) -> str:
    """Return a distribution for those who do not see it: its highest and its straight down."""
    values = np.stack([distribution.intensity(c, _GAMMA) for c in (0.0, 90.0, 180.0, 270.0)])
    gamma = int(_GAMMA[values.max(axis=0).argmax()])
    words = tr("How it spreads: highest {value} at {angle} from its axis, straight on {ahead}")
    return words.format(
        value=f"{values.max() * scale:.3g} {unit}".strip(),
        angle=f"{gamma}°",
        ahead=f"{values[0, 0] * scale:.3g} {unit}".strip(),
    )
