"""The project's icons, drawn from SVG in any colour and at any device pixel ratio.

Which icon stands for which part or subject is said where parts and subjects are listed.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

_FOLDER = Path(__file__).resolve().parent.parent / "resources" / "icons"
_BOX = 24
# Qt picks the nearest, so a whole-number desktop and the usual fractions all stay sharp.
_RATIOS = (1.0, 1.25, 1.5, 1.75, 2.0, 3.0)


def names() -> tuple[str, ...]:
    """Return the names of all icons, in alphabetical order.

    The chevron and the tick of the stylesheet (`gui.theme`) have fixed colours and are no icons.
    """
    return tuple(sorted(p.stem for p in _FOLDER.glob("*.svg") if "-on-" not in p.stem))


@cache
def _source(name: str) -> str:
    return (_FOLDER / f"{name}.svg").read_text(encoding="utf-8")


@cache
def _renderer(name: str, colour: str) -> QSvgRenderer:
    return QSvgRenderer(QByteArray(_source(name).replace("currentColor", colour).encode()))


def paint_icon(painter: QPainter, rect: QRectF, name: str, colour: QColor | str) -> None:
    """Draw the icon ``name`` to fill ``rect``, as lines and therefore sharp at every scale."""
    _renderer(name, QColor(colour).name()).render(painter, rect)


def icon_pixmap(name: str, colour: QColor | str, size: int = _BOX, ratio: float = 1.0) -> QPixmap:
    """Return the icon ``name`` as a pixmap of ``size`` px at a device pixel ratio."""
    pixels = round(size * ratio)
    pixmap = QPixmap(QSize(pixels, pixels))
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_icon(painter, QRectF(0, 0, pixels, pixels), name, colour)
    painter.end()
    pixmap.setDevicePixelRatio(ratio)
    return pixmap


def icon(name: str, colour: QColor | str, size: int = _BOX) -> QIcon:
    """Return the icon ``name`` for buttons and menu entries."""
    made = QIcon()
    for ratio in _RATIOS:
        made.addPixmap(icon_pixmap(name, colour, size, ratio))
    return made
