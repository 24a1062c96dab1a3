"""What the signs of the three dimensions in LM-63 say about the shape of the lit part.

The table of signs is all that lives here; it changed from version to version.
"""

from __future__ import annotations

import math

from core.light.photometry.record import Opening

Dimensions = tuple[float, float, float]
"""Width (along C90), length (along C0) and height as the file writes them. [m]"""

_ALWAYS = {
    "000": Opening.POINT,
    "+00": Opening.LINE,
    "0+0": Opening.LINE,
    "++0": Opening.RECTANGLE,
    "+++": Opening.BOX,
    "-00": Opening.DISC,
}
_UNTIL_1991 = {
    "-+0": Opening.ELLIPSE,
    "-0+": Opening.UPRIGHT_CYLINDER,
    "-++": Opening.SPHEROID,
}
_IN_1995 = {
    "-0+": Opening.UPRIGHT_CYLINDER,
    "-++": Opening.UPRIGHT_ELLIPTIC_CYLINDER,
    "+-+": Opening.UPRIGHT_ELLIPTIC_CYLINDER,
    "-+-": Opening.SPHEROID,
    "+--": Opening.SPHEROID,
    "0+-": Opening.CYLINDER_ALONG,
    "+0-": Opening.CYLINDER_ACROSS,
}
_FROM_2002 = {
    "--0": Opening.ELLIPSE,
    "--+": Opening.UPRIGHT_ELLIPTIC_CYLINDER,
    "---": Opening.SPHEROID,
    "-+-": Opening.CYLINDER_ALONG,
    "+--": Opening.CYLINDER_ACROSS,
    "-0-": Opening.UPRIGHT_DISC,
}
_BY_VERSION = {
    "1986": _UNTIL_1991,
    "1991": _UNTIL_1991,
    "1995": _IN_1995,
    "2002": _FROM_2002,
    "2019": _FROM_2002,
}
_ROUND = {
    Opening.ELLIPSE: Opening.DISC,
    Opening.UPRIGHT_ELLIPTIC_CYLINDER: Opening.UPRIGHT_CYLINDER,
}
"""What a shape is called when its width and length are the same."""


def opening_of(version: str, dimensions: Dimensions) -> Opening:
    """Return the shape that a version means by these dimensions, OTHER if it lists none."""
    key = "".join(map(_sign, dimensions))
    shape = _ALWAYS.get(key) or _BY_VERSION[version].get(key, Opening.OTHER)
    width, length, height = map(abs, dimensions)
    if not math.isclose(width, length):
        return shape
    if shape is Opening.SPHEROID and math.isclose(width, height):
        return Opening.SPHERE
    return _ROUND.get(shape, shape)


def size_of(dimensions: Dimensions) -> Dimensions:
    """Return the extent along C0, along C90 and along the axis; a diameter counts for both. [m]"""
    width, length, height = map(abs, dimensions)
    if min(dimensions) < 0:
        across = _sole_diameter(dimensions)
        return length or across, width or across, height
    return length, width, height


def _sole_diameter(dimensions: Dimensions) -> float:
    """Return the diameter that stands for a dimension left at zero. [m]"""
    width, length, height = dimensions
    return -width if width < 0 and length == 0 else max(-height, 0.0)


def _sign(value: float) -> str:
    return "0" if value == 0 else "+" if value > 0 else "-"
