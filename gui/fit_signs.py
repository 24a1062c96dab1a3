"""The signs of fit: clear and tight floor, tapes, the arc of an arm, the way in; and their legend.

Where they stand on the sheet is `gui.overlay_fit`'s to say.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from core.language import tr
from core.states import State
from gui.overlay_look import arrow, hatch
from gui.theme import Theme, state_role

TICK = 3.5
QUIET = (State.FINE, State.UNASKED)
"""States in which a sign says only where something is."""
_ARC = 70.0
"""How far the arc of reach goes to either side of the way to the farthest spot. [degrees]"""
_SIGN, _PITCH, _APART = 40.0, 24.0, 16.0


def paint_clear(painter: QPainter, rect: QRectF, theme: Theme, state: State) -> None:
    """Draw one piece of floor that is to be clear, as its state has it."""
    if state not in QUIET:
        hatch(painter, rect, theme.colour(state_role(state)))
        return
    ground = QColor(theme.colour("fine_bg"))
    ground.setAlphaF(0.6)
    painter.fillRect(rect, ground)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(theme.colour("fine"), 1.0, Qt.PenStyle.DotLine))
    painter.drawRect(rect)


def paint_way(painter: QPainter, way: list[QPointF], theme: Theme, role: str = "ink2") -> None:
    """Draw a way as a dashed line with a head."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(theme.colour(role), 1.6, Qt.PenStyle.DashLine))
    painter.drawPolyline(QPolygonF(way[:-1]))
    painter.setPen(QPen(theme.colour(role), 1.6))
    arrow(painter, way[-2], way[-1], 7.0)


def paint_tape(painter: QPainter, a: QPointF, b: QPointF, theme: Theme, role: str) -> None:
    """Draw a distance as a tape with slanted ends."""
    painter.setPen(QPen(theme.colour(role), 1.2))
    painter.drawLine(QLineF(a, b))
    for end in (a, b):
        tick = QPointF(TICK, -TICK)
        painter.drawLine(QLineF(end - tick, end + tick))


def paint_arc(
    painter: QPainter, start: QPointF, towards: QPointF, radius: float, theme: Theme
) -> None:
    """Draw the dashed arc that an arm reaches from a place. [px]"""
    way = towards - start
    middle = math.degrees(math.atan2(-way.y(), way.x())) if way.manhattanLength() > 0 else 90.0
    round_it = QRectF(start.x() - radius, start.y() - radius, 2 * radius, 2 * radius)
    arc = QPainterPath()
    arc.arcMoveTo(round_it, middle - _ARC)
    arc.arcTo(round_it, middle - _ARC, 2 * _ARC)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(theme.colour("edge"), 1.4, Qt.PenStyle.DashLine))
    painter.drawPath(arc)


@dataclass(frozen=True)
class FloorSigns:
    """What the signs of fit mean, two in a line where there is room for both."""

    reach: str

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw every sign with its meaning; return their height. [px]"""
        metrics = QFontMetricsF(theme.font("second"))
        signs = self._signs()
        widest = _SIGN + 10 + max(metrics.horizontalAdvance(name) for name, _ in signs)
        columns = 2 if 2 * widest + _APART <= area.width() else 1
        for place, (name, draw) in enumerate(signs):
            left = area.left() + (place % columns) * (widest + _APART)
            top = area.top() + (place // columns) * _PITCH
            painter.save()
            draw(painter, QRectF(left, top, _SIGN, _PITCH - 8), theme)
            painter.restore()
            painter.setFont(theme.font("second"))
            painter.setPen(theme.colour("ink"))
            base = top + (_PITCH - 8) / 2 + metrics.ascent() / 2 - 1
            painter.drawText(QPointF(left + _SIGN + 10, base), name)
        return math.ceil(len(signs) / columns) * _PITCH

    @property
    def names(self) -> tuple[str, ...]:
        """What the signs mean, in words."""
        return tuple(name for name, _ in self._signs())

    def _signs(self) -> tuple[tuple[str, Sign], ...]:
        return (
            (tr("floor to be clear"), _clear),
            (tr("too tight"), _tight),
            (tr("an arm’s reach, {reach}").format(reach=self.reach), _arc),
            (tr("the way in"), _way),
        )


Sign = Callable[[QPainter, QRectF, Theme], None]


def _clear(painter: QPainter, box: QRectF, theme: Theme) -> None:
    paint_clear(painter, box, theme, State.FINE)


def _tight(painter: QPainter, box: QRectF, theme: Theme) -> None:
    paint_clear(painter, box, theme, State.LOW)


def _arc(painter: QPainter, box: QRectF, theme: Theme) -> None:
    painter.setClipRect(box)
    start = QPointF(box.center().x(), box.bottom() + 6)
    paint_arc(painter, start, start - QPointF(0, 1), box.height() + 4, theme)


def _way(painter: QPainter, box: QRectF, theme: Theme) -> None:
    middle = box.center().y()
    ends = [box.left(), box.left() + 14, box.right() - 4]
    paint_way(painter, [QPointF(x, middle) for x in ends], theme)
