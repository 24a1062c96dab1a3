"""What the painting of an overlay gets to see, and the signs that several overlays share.

Each subject's own painting is in its `gui.overlay_…` module.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from core.drawing.marks import View
from core.drawing.seeing import cut_height
from core.placement import Placement
from gui.camera import Camera
from gui.inks import Inks

if TYPE_CHECKING:
    from core.readings import Readings

TAG_GROUND = "#182524"
TAG_TEXT = "#FFFFFF"


@dataclass(frozen=True)
class Look:
    """One look at the sheet: readings, places, scale, colours, level, time, and what is shown.

    ``through`` is the id of the part that a subject's elevations are cut through, empty for none;
    ``age`` tells whether the age of the air is asked for.
    """

    readings: Readings
    placement: Placement
    camera: Camera
    inks: Inks
    level: tuple[str, int] | None
    minute: int | None
    shown: frozenset[str]
    through: str = ""
    age: bool = False

    @property
    def cut(self) -> float:
        """Height at which the plan is cut. [m]"""
        if self.level is None:
            return self.placement.design.room.height
        return cut_height(self.placement, self.level)

    @property
    def system(self) -> str:
        """The design's system of units."""
        return self.placement.design.units


def dark_tag(painter: QPainter, look: Look, at: QPointF, text: str) -> None:
    """Write a number on a dark tag about a point."""
    rect = tag_rect(look, at, text)
    ground = QColor(TAG_GROUND)
    ground.setAlphaF(0.86)
    path = QPainterPath()
    path.addRoundedRect(rect, 3, 3)
    painter.fillPath(path, ground)
    painter.setPen(QColor(TAG_TEXT))
    painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, text)


def words(painter: QPainter, look: Look, at: QPointF, text: str, role: str) -> None:
    """Write a text on a halo about a point."""
    rect = tag_rect(look, at, text)
    ground = QColor(look.inks.theme.colour("sheet"))
    ground.setAlphaF(0.88)
    painter.fillRect(rect, ground)
    painter.setFont(look.inks.theme.font("drawing", bold=True))
    painter.setPen(look.inks.theme.colour(role))
    painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, text)


def tag_rect(look: Look, at: QPointF, text: str) -> QRectF:
    """Return the rectangle that a tag about a point takes up. [px]"""
    metrics = QFontMetricsF(look.inks.theme.font("drawing", bold=True))
    width, height = metrics.horizontalAdvance(text) + 8, metrics.height()
    return QRectF(at.x() - width / 2, at.y() - height / 2, width, height)


def kept_inside(look: Look, view: View, at: QPointF, text: str) -> QPointF:
    """Return the point moved so that a text about it lies within its drawing. [px]"""
    pane, rect = look.camera.panes[view], tag_rect(look, at, text)
    right = max(0.0, pane.left() - rect.left()) - max(0.0, rect.right() - pane.right())
    down = max(0.0, pane.top() - rect.top()) - max(0.0, rect.bottom() - pane.bottom())
    return at + QPointF(right, down)


def hatch(painter: QPainter, rect: QRectF, colour: QColor, pitch: float = 7.0) -> None:
    """Draw 45° strokes over a rectangle, and its outline."""
    painter.save()
    painter.setClipRect(rect, Qt.ClipOperation.IntersectClip)
    painter.setPen(QPen(colour, 1.0))
    reach = rect.width() + rect.height()
    step = pitch * math.sqrt(2)
    count = int(reach / step) + 1
    painter.drawLines(
        [
            QLineF(
                rect.left() + k * step,
                rect.top(),
                rect.left() + k * step - rect.height(),
                rect.bottom(),
            )
            for k in range(count + 1)
        ]
    )
    painter.restore()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour, 1.4))
    painter.drawRoundedRect(rect, 5, 5)


def hatch_area(
    painter: QPainter,
    area: QPainterPath,
    colour: QColor,
    pitch: float = 7.0,
    *,
    hatched: bool = True,
) -> None:
    """Draw 45° strokes over an area of any outline, and its outline."""
    rect = area.boundingRect()
    painter.save()
    painter.setClipPath(area, Qt.ClipOperation.IntersectClip)
    painter.setPen(QPen(colour, 1.0))
    if hatched:
        painter.drawLines(_slanted(rect, pitch))
    painter.restore()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour, 1.4, j=Qt.PenJoinStyle.RoundJoin))
    painter.drawPath(area)


def _slanted(rect: QRectF, pitch: float) -> list[QLineF]:
    """Return 45° lines ``pitch`` px apart over a rectangle, always at the same places."""
    step = pitch * math.sqrt(2)
    # Lines are numbered from the sheet's corner, so that pieces side by side are hatched as one.
    first = math.floor((rect.left() + rect.top()) / step)
    last = math.ceil((rect.right() + rect.bottom()) / step)
    return [
        QLineF(k * step - rect.top(), rect.top(), k * step - rect.bottom(), rect.bottom())
        for k in range(first, last + 1)
    ]


def arrow(painter: QPainter, start: QPointF, end: QPointF, head: float = 4.0) -> None:
    """Draw a line with a small filled head, in the painter's pen."""
    painter.drawLine(QLineF(start, end))
    angle = math.atan2(end.y() - start.y(), end.x() - start.x())
    tip = QPainterPath(end)
    for turn in (2.6, -2.6):
        tip.lineTo(end.x() + head * math.cos(angle + turn), end.y() + head * math.sin(angle + turn))
    tip.closeSubpath()
    painter.fillPath(tip, painter.pen().color())
