"""The simple shapes that parts' looks are put together from, and the pens they share.

Knows marks and rectangles only; which part looks how is told in the modules beside it.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import atan2, cos, degrees, hypot, radians, sin

from core.drawing.marks import AXES, Arc, Mark, Path, Pen, Point, Role, View
from core.geometry import Box, Rectangle

INK = Pen("ink", 1.0)
INK_FINE = Pen("ink", 0.8)
EDGE = Pen("edge", 0.9)
HAIR = Pen("hair", 0.8)
COVER = Pen("cover", 0.9)
SWING = Pen("edge", 0.9, (4, 3))
LEAF = Pen("edge", 1.1)
HIDDEN = Pen("edge", 0.75, (3, 3))
THROW = Pen("air", 1.0, (4, 3))

TICKS = Pen("cover", 4.0, (0.9, 11.1))
"""A lining: a wide line whose dashes are so short that they stand across it as ticks."""


def seen(box: Box, view: View) -> Rectangle:
    """Return a box's outline in a view. [m]"""
    return box.seen(*AXES[view])


def seen_point(point: tuple[float, float, float], view: View) -> Point:
    """Return a point of the room in a view's axes. [m]"""
    across, up = AXES[view]
    return point[across], point[up]


def corners(area: Rectangle) -> tuple[Point, ...]:
    """Return the four corners, anticlockwise from the lower left. [m]"""
    x0, y0, x1, y1 = area
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


def box_mark(area: Rectangle, pen: Pen | None, fill: Role | None = None, radius: float = 0) -> Path:
    """Return a closed rectangle; ``radius`` rounds its corners. [m, px]"""
    return Path(corners(area), pen, fill, True, radius)


def line(x0: float, y0: float, x1: float, y1: float, pen: Pen = INK) -> Path:
    """Return one straight line. [m]"""
    return Path(((x0, y0), (x1, y1)), pen)


def inset(area: Rectangle, by: float) -> Rectangle:
    """Return the rectangle with every edge moved inwards, never past its middle. [m]"""
    by = min(by, area.width / 2, area.height / 2)
    return Rectangle(area.x0 + by, area.y0 + by, area.x1 - by, area.y1 - by)


def part_of(area: Rectangle, left: float, low: float, right: float, high: float) -> Rectangle:
    """Return the stretch of a rectangle given in shares of its width and height, 0 to 1."""
    return Rectangle(
        area.x0 + left * area.width,
        area.y0 + low * area.height,
        area.x0 + right * area.width,
        area.y0 + high * area.height,
    )


def about(points: Iterable[Point], at: Point, turn: float) -> tuple[Point, ...]:
    """Return points round the origin turned by ``turn`` degrees and moved to ``at``. [m]"""
    c, s = cos(radians(turn)), sin(radians(turn))
    return tuple((at[0] + c * x - s * y, at[1] + s * x + c * y) for x, y in points)


def ring(at: Point, radius: float, pen: Pen | None = INK, fill: Role | None = None) -> Arc:
    """Return a whole circle. [m]"""
    return Arc(at, radius, 0.0, 360.0, pen, fill)


def rotor(at: Point, radius: float, pen: Pen) -> list[Mark]:
    """Return a fan seen face-on: a ring with three blades. [m]"""
    blades = [
        Path(about(((0.0, 0.0), (0.92 * radius, 0.0)), at, angle), INK) for angle in (90, 210, 330)
    ]
    return [ring(at, radius, pen, "raised"), *blades, ring(at, radius * 0.12, None, "ink")]


def cross_lines(area: Rectangle, pitch: float, pen: Pen, most: int = 16) -> list[Mark]:
    """Return evenly spaced lines across the longer side of a rectangle. [m]"""
    along = max(area.width, area.height)
    count = min(max(round(along / pitch), 2), most)
    shares = [k / count for k in range(1, count)]
    if area.width >= area.height:
        xs = [area.x0 + share * area.width for share in shares]
        return [line(x, area.y0, x, area.y1, pen) for x in xs]
    ys = [area.y0 + share * area.height for share in shares]
    return [line(area.x0, y, area.x1, y, pen) for y in ys]


def louvres(area: Rectangle, pen: Pen = INK_FINE) -> list[Mark]:
    """Return two short lines across a device's grille. [m]"""
    y = [area.y0 + share * area.height for share in (0.62, 0.76)]
    x0, x1 = area.x0 + 0.15 * area.width, area.x1 - 0.15 * area.width
    return [line(x0, at, x1, at, pen) for at in y]


def double_line(a: Point, b: Point, gap: float, pen: Pen) -> list[Mark]:
    """Return two lines side by side, ``gap`` apart. [m]"""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy)
    if length < 1e-9:
        return []
    ox, oy = -dy / length * gap / 2, dx / length * gap / 2
    return [line(a[0] + k * ox, a[1] + k * oy, b[0] + k * ox, b[1] + k * oy, pen) for k in (-1, 1)]


def open_leaf(hinge: Point, closing: Point, tip: Point) -> list[Mark]:
    """Return a door leaf that stands open, and the arc its edge runs along from shut. [m]"""
    width = hypot(closing[0] - hinge[0], closing[1] - hinge[1])
    start, end = _bearing(hinge, closing), _bearing(hinge, tip)
    span = (end - start + 180) % 360 - 180
    return [Path((hinge, tip), LEAF), Arc(hinge, width, start, span, SWING)]


def _bearing(a: Point, b: Point) -> float:
    return degrees(atan2(b[1] - a[1], b[0] - a[0]))


def along_x(box: Box) -> bool:
    """Tell whether the box's longer horizontal side runs along x."""
    return box.size[0] >= box.size[1]


def seen_from_end(box: Box, view: View) -> bool:
    """Tell whether an elevation looks along the box's longer horizontal side."""
    return view == ("side" if along_x(box) else "front")
