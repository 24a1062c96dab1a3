"""The light map on the screen: an image of seven steps, with dots and strokes on what is amiss.

Breaks, colours and the places of the signs come from `core.light_map`; where a map lies on the
sheet is `gui.overlays`' affair.
"""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen

from core.light_map import COLOURS, TOO_LITTLE, TOO_MUCH, Points, Steps, sign_points

_DARK_SIGN = "#182524"
_STROKE = QPointF(2.0, -3.0)
_TABLE = [QColor(colour).rgb() for colour in COLOURS]


def map_image(steps: Steps) -> QImage:
    """Return a light map as an indexed image, one pixel a cell.

    Parameters
    ----------
    steps : ndarray of uint8, shape (rows, columns)
        Step of each cell, row 0 at the top.
    """
    rows, columns = steps.shape
    data = np.ascontiguousarray(steps)
    image = QImage(data.data, columns, rows, columns, QImage.Format.Format_Indexed8)
    image.setColorTable(_TABLE)
    # The array may be gone before the image is drawn.
    return image.copy()


def paint_map(painter: QPainter, rect: QRectF, steps: Steps, *, smooth: bool = False) -> None:
    """Draw a light map with its signs to fill ``rect``."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, smooth)
    painter.drawImage(rect, map_image(steps))
    paint_signs(painter, rect, steps)
    painter.restore()


def paint_signs(painter: QPainter, rect: QRectF, steps: Steps) -> None:
    """Draw only the signs: white dots for too little, slanted strokes for too much."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setClipRect(rect, Qt.ClipOperation.IntersectClip)
    painter.translate(rect.topLeft())
    size = rect.width(), rect.height()
    _paint_dots(painter, sign_points(steps, *size, TOO_LITTLE))
    _paint_strokes(painter, sign_points(steps, *size, TOO_MUCH, pitch=7.0))
    painter.restore()


def _paint_dots(painter: QPainter, at: Points) -> None:
    painter.setPen(QPen(Qt.GlobalColor.white, 1.7, c=Qt.PenCapStyle.RoundCap))
    painter.drawPoints([QPointF(x, y) for x, y in at])


def _paint_strokes(painter: QPainter, at: Points) -> None:
    painter.setPen(QPen(QColor(_DARK_SIGN), 1.2))
    painter.drawLines([QLineF(QPointF(x, y) - _STROKE, QPointF(x, y) + _STROKE) for x, y in at])


def paint_step(painter: QPainter, rect: QRectF, step: int) -> None:
    """Draw one step of the key, with its sign, to fill ``rect``."""
    paint_map(painter, rect, np.full((1, 1), step, dtype=np.uint8))
