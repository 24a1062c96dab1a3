"""Icons draw themselves in the colour asked for, at every size and pixel ratio."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from gui.icons import icon, icon_pixmap, names


def _inked(image: QImage) -> set[tuple[int, int, int]]:
    return {
        image.pixelColor(x, y).getRgb()[:3]
        for x in range(image.width())
        for y in range(image.height())
        if image.pixelColor(x, y).alpha() == 255
    }


def test_the_set_is_whole() -> None:
    assert len(names()) == 29
    assert {"light", "cost", "shelf-unit", "fernwright"} <= set(names())


@pytest.mark.parametrize("name", names())
def test_icon_draws_in_the_colour_asked_for(qapp: QApplication, name: str) -> None:
    found = _inked(icon_pixmap(name, "#a3163a", 48).toImage())
    assert found
    if name != "fernwright":
        # Antialiasing rounds to the nearest of 256 levels.
        assert all(max(abs(r - 0xA3), abs(g - 0x16), abs(b - 0x3A)) <= 1 for r, g, b in found)


@pytest.mark.parametrize("ratio", [1.0, 1.25, 2.0, 3.0])
def test_pixmap_has_the_pixels_of_its_ratio(qapp: QApplication, ratio: float) -> None:
    pixmap = icon_pixmap("light", "#000000", 24, ratio)
    assert pixmap.width() == round(24 * ratio)
    assert pixmap.devicePixelRatio() == ratio


def test_icon_offers_sharp_pictures(qapp: QApplication) -> None:
    assert icon("board", "#000000", 16).pixmap(16, 16).width() >= 16
