"""Lines of equal light over the map in the plan, and the values written on them.

The edges of what is wanted are drawn strongly, the other steps thinly; where lines run is worked
out in `core.contours`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from core.contours import along, contour, joined, length
from core.light.given import Floats
from core.light.maps import LevelLight
from core.light.reading import light_number
from gui.overlay_look import TAG_GROUND, TAG_TEXT, Look

_SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where along a line its value is tried, in this order. [1]"""
_LONG_ENOUGH = 1.6
"""A line carries its value when it is this much longer than the words. [1]"""
_APART = 3.0


@dataclass(frozen=True)
class Contour:
    """Lines of one value; ``edge`` where it is an end of what is wanted."""

    value: float
    edge: bool
    lines: list[Floats]


def contours(
    one: LevelLight, values: Floats, at: Iterable[float], edges: Iterable[float | None]
) -> list[Contour]:
    """Return the lines of some values over a level's map, the edges of the wanted range first."""
    wanted = tuple(edges)
    found = [
        Contour(value, value in wanted, joined(contour(one.x, one.y, values, value)))
        for value in at
    ]
    return sorted(found, key=lambda each: not each.edge)


def paint_contours(painter: QPainter, look: Look, found: Iterable[Contour]) -> None:
    """Draw the lines: white over dark for the wanted range's edges, hairlines for other steps."""
    thin = QColor(TAG_GROUND)
    thin.setAlphaF(0.55)
    for one in found:
        path = QPainterPath()
        for line in one.lines:
            points = [look.camera.to_px("plan", x, y) for x, y in line.tolist()]
            path.moveTo(points[0])
            for point in points[1:]:
                path.lineTo(point)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        strokes = (
            ((QColor(TAG_GROUND), 3.4), (QColor(TAG_TEXT), 1.6)) if one.edge else ((thin, 0.8),)
        )
        for colour, width in strokes:
            painter.setPen(
                QPen(colour, width, c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin)
            )
            painter.drawPath(path)


def value_labels(
    look: Look, found: Iterable[Contour], room: QRectF, taken: Iterable[QRectF]
) -> Iterator[tuple[QRectF, str]]:
    """Iterate over the values written on lines, each in its rectangle, none over what is taken.

    Each value once, on its longest line; left out where the line is short or nothing is free.
    """
    metrics = QFontMetricsF(look.inks.theme.font("drawing"))
    used = [rect.adjusted(-_APART, -_APART, _APART, _APART) for rect in taken]
    for one in found:
        text = light_number(one.value)
        width, height = metrics.horizontalAdvance(text) + 4, metrics.height()
        for rect in _on_lines(look, one.lines, width, height):
            if room.contains(rect) and not any(rect.intersects(other) for other in used):
                used.append(rect.adjusted(-_APART, -_APART, _APART, _APART))
                yield rect, text
                break


def _on_lines(look: Look, lines: list[Floats], width: float, height: float) -> Iterator[QRectF]:
    """Iterate over the places for a value on its lines, the longest line first."""
    for line in lines:
        if length(line) * look.camera.scale < _LONG_ENOUGH * width:
            return
        for share in _SHARES:
            at = look.camera.to_px("plan", *along(line, share))
            yield QRectF(at.x() - width / 2, at.y() - height / 2, width, height)


def paint_value(painter: QPainter, rect: QRectF, text: str) -> None:
    """Write a value on its line, white in a dark rim, so that it reads on every step."""
    font = painter.font()
    metrics = QFontMetricsF(font)
    path = QPainterPath()
    path.addText(QPointF(rect.left() + 2, rect.top() + metrics.ascent()), font, text)
    rim = QPen(QColor(TAG_GROUND), 3.2, j=Qt.PenJoinStyle.RoundJoin)
    painter.strokePath(path, rim)
    painter.fillPath(path, QColor(TAG_TEXT))
