"""Paints drawing items on a PDF page.

What is on the page, and in which order, is decided in `core.summary.pdf`.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from core.drawing.paper import Clip, Curve, Item, Shape, Text
from core.summary.svg import rounded

MM = 72 / 25.4
"""One millimetre in points."""
REGULAR, BOLD = "FernwrightSans", "FernwrightSans-Bold"
FONTS = Path(__file__).resolve().parents[2] / "resources" / "fonts"
_FILES = {REGULAR: "FernwrightSans-Regular.ttf", BOLD: "FernwrightSans-Bold.ttf"}
_HALO = 0.6
"""How far a halo reaches beyond its words. [mm]"""


def register_fonts() -> None:
    """Make the embedded typeface known to reportlab; doing it twice is harmless."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for name, file in _FILES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, FONTS / file))
    pdfmetrics.registerFontFamily(REGULAR, REGULAR, BOLD, REGULAR, BOLD)


def paint(canvas: Any, items: Iterable[Item], left: float, top: float) -> None:
    """Paint items whose origin is at (left, top) on the canvas, measured from its foot. [pt]"""
    canvas.saveState()
    canvas.translate(left, top)
    canvas.scale(MM, MM)
    canvas.setLineJoin(1)
    for item in items:
        _paint(canvas, item)
    canvas.restoreState()


def _paint(canvas: Any, item: Item) -> None:
    if isinstance(item, Shape):
        _shape(canvas, item)
    elif isinstance(item, Curve):
        _curve(canvas, item)
    elif isinstance(item, Text):
        _text(canvas, item)
    else:
        _clip(canvas, item)


def _clip(canvas: Any, item: Clip) -> None:
    canvas.saveState()
    path = canvas.beginPath()
    x, y = item.corner
    path.rect(x, -y - item.height, item.width, item.height)
    canvas.clipPath(path, stroke=0, fill=0)
    for inner in item.items:
        _paint(canvas, inner)
    canvas.restoreState()


def _pens(canvas: Any, item: Shape | Curve) -> dict[str, int]:
    """Set colours and dashes; return which of outline and fill to draw."""
    if item.colour:
        canvas.setStrokeColor(item.colour)
        canvas.setLineWidth(item.width)
        canvas.setDash(list(item.dash) if item.dash else [])
    if item.fill:
        canvas.setFillColor(item.fill)
    return {"stroke": int(bool(item.colour)), "fill": int(bool(item.fill))}


def _shape(canvas: Any, item: Shape) -> None:
    path = canvas.beginPath()
    if item.radius > 0 and len(item.points) > 2:
        _rounded(path, item)
    else:
        path.moveTo(item.points[0][0], -item.points[0][1])
        for x, y in item.points[1:]:
            path.lineTo(x, -y)
    if item.closed:
        path.close()
    canvas.drawPath(path, **_pens(canvas, item))


def _rounded(path: Any, item: Shape) -> None:
    here = item.points[0]
    for kind, *places in rounded(item.points, item.radius, item.closed):
        if kind == "M":
            path.moveTo(places[0][0], -places[0][1])
        elif kind == "L":
            path.lineTo(places[0][0], -places[0][1])
        else:
            _quadratic(path, here, *places)
        here = places[-1]


def _quadratic(path: Any, start: Any, control: Any, end: Any) -> None:
    """Add a quadratic curve, which PDF knows only as a cubic one."""
    first = [s + 2 / 3 * (c - s) for s, c in zip(start, control, strict=True)]
    second = [e + 2 / 3 * (c - e) for e, c in zip(end, control, strict=True)]
    path.curveTo(first[0], -first[1], second[0], -second[1], end[0], -end[1])


def _curve(canvas: Any, item: Curve) -> None:
    x, y, r = item.centre[0], -item.centre[1], item.radius
    if abs(item.span) >= 360:
        canvas.circle(x, y, r, **_pens(canvas, item))
        return
    path = canvas.beginPath()
    path.arc(x - r, y - r, x + r, y + r, startAng=item.start, extent=item.span)
    canvas.drawPath(path, **_pens(canvas, item))


def _text(canvas: Any, item: Text) -> None:
    font = BOLD if item.bold else REGULAR
    canvas.saveState()
    canvas.translate(item.at[0], -item.at[1])
    canvas.rotate(item.turn)
    width = canvas.stringWidth(item.text, font, item.size)
    x = {"left": 0.0, "centre": -width / 2, "right": -width}[item.anchor]
    if item.halo:
        canvas.setFillColor(item.halo)
        low, high = -0.25 * item.size, 0.85 * item.size
        canvas.rect(x - _HALO, low, width + 2 * _HALO, high - low, stroke=0, fill=1)
    canvas.setFillColor(item.colour)
    canvas.setFont(font, item.size)
    canvas.drawString(x, 0, item.text)
    canvas.restoreState()
