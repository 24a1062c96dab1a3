"""The age of the air as a tint: its steps, their shades, and the picture of one plane.

Ages are the engine's. Shades are one hue, light to dark, so that they are told apart by everyone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

import numpy as np
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from core.contours import refined
from core.drawing.marks import AXES, View
from core.geometry import Rectangle
from gui.air_strokes import points_of
from gui.overlay_look import Look
from gui.theme import Theme

if TYPE_CHECKING:
    from core.air.fields import AirField

SHARES = (0.5, 0.75, 1.0, 1.5)
"""Breaks between steps, in times that the enclosure needs for one change of its air."""
ALPHAS = (0.0, 0.10, 0.21, 0.34, 0.50)
"""How strongly each step is tinted, the freshest air first."""
_FINER = 3
_MOST_KEPT = 12
_KEPT: WeakKeyDictionary[AirField, dict[tuple[View, float, int], QImage | None]] = (
    WeakKeyDictionary()
)


def breaks_of(field: AirField | None) -> tuple[float, ...]:
    """Return the ages between steps, rounded as they are told; none where not known. [s]"""
    if field is None or field.ages is None:
        return ()
    whole = field.ages.least
    step = 60.0 if whole >= 240 else 30.0 if whole >= 120 else 5.0
    return tuple(max(step, round(share * whole / step) * step) for share in SHARES)


def shade(theme: Theme, step: int) -> QColor:
    """Return the tint of a step, to be laid over the sheet."""
    colour = QColor(theme.colour("air"))
    colour.setAlphaF(ALPHAS[step])
    return colour


def paint_age(painter: QPainter, view: View, look: Look, field: AirField, depth: float) -> None:
    """Tint a drawing's plane by the age of its air, where fresh air comes in."""
    image = _kept_image(field, view, depth, look.inks.theme)
    if image is None:
        return
    axes = AXES[view]
    low, high = field.air.box
    area = Rectangle(low[axes[0]], low[axes[1]], high[axes[0]], high[axes[1]])
    painter.drawImage(look.camera.rect(view, area), image, QRectF(image.rect()))


def _kept_image(field: AirField, view: View, depth: float, theme: Theme) -> QImage | None:
    """Return the picture of a plane, kept as long as its field; None where no age is known."""
    breaks = breaks_of(field)
    if not breaks:
        return None
    kept = _KEPT.setdefault(field, {})
    key = view, depth, theme.colour("air").rgb()
    if key not in kept:
        if len(kept) >= _MOST_KEPT:
            kept.clear()
        points, shape = points_of(field, view, depth)
        ages = field.age_at(points)
        kept[key] = None if ages is None else _image(ages.reshape(shape), breaks, theme)
    return kept[key]


def _image(ages: np.ndarray, breaks: tuple[float, ...], theme: Theme) -> QImage:
    """Return one pixel a place, the highest row at the top; clear where there is no air."""
    solid = np.isnan(ages)
    oldest = 4 * breaks[-1]
    known = np.where(solid, breaks[0], np.minimum(ages, oldest))
    steps = np.searchsorted(breaks, refined(known, _FINER), side="right").astype(np.uint8)
    clear = np.repeat(np.repeat(solid, _FINER, axis=0), _FINER, axis=1)
    steps[clear] = len(ALPHAS)
    data = np.ascontiguousarray(steps[::-1])
    rows, columns = data.shape
    image = QImage(data.data, columns, rows, columns, QImage.Format.Format_Indexed8)
    tints = [shade(theme, step) for step in range(len(ALPHAS))]
    image.setColorTable([*(tint.rgba() for tint in tints), 0])
    return image.copy()
