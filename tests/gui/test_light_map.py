"""The light map's picture: its own seven colours, dots on the dim, strokes on the bright."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from core.light_map import COLOURS
from gui.light_map import map_image, paint_step


def _step(step: int) -> QImage:
    image = QImage(60, 24, QImage.Format.Format_RGB32)
    image.fill(QColor("#ff00ff"))
    painter = QPainter(image)
    paint_step(painter, QRectF(0, 0, 60, 24), step)
    painter.end()
    return image


def test_image_has_one_pixel_a_cell_in_the_steps_colours(qapp: QApplication) -> None:
    steps = np.arange(7, dtype=np.uint8)[None, :]
    image = map_image(steps)
    assert (image.width(), image.height()) == (7, 1)
    assert [image.pixelColor(x, 0).name().upper() for x in range(7)] == list(COLOURS)


@pytest.mark.parametrize("step", range(7))
def test_steps_read_without_colour(qapp: QApplication, step: int) -> None:
    image = _step(step)
    ground = QColor(COLOURS[step])
    signs = [
        image.pixelColor(x, y).lightness() - ground.lightness()
        for x in range(60)
        for y in range(24)
        if image.pixelColor(x, y) != ground
    ]
    if step in (2, 3, 4):
        assert not signs
    else:
        assert (max(signs) > 60) if step < 2 else (min(signs) < -60)
