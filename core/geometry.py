"""Boxes, quarter turns, rectangles and polygons in plain floats.

Nothing here knows a part or a unit; all lengths are metres.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

TOUCH = 1e-9
"""Lengths below this count as touching, not overlapping. [m]"""

Vector = tuple[float, float, float]


class Rectangle(NamedTuple):
    """An upright rectangle in any two axes. [m]"""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """Extent along the first axis. [m]"""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Extent along the second axis. [m]"""
        return self.y1 - self.y0

    @property
    def area(self) -> float:
        """[m²]"""
        return self.width * self.height

    @property
    def centre(self) -> tuple[float, float]:
        """Middle point. [m]"""
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def overlap(self, other: Rectangle) -> Rectangle | None:
        """Return the common rectangle, or None when they only touch or are apart."""
        common = Rectangle(
            max(self.x0, other.x0),
            max(self.y0, other.y0),
            min(self.x1, other.x1),
            min(self.y1, other.y1),
        )
        return common if common.width > TOUCH and common.height > TOUCH else None

    def contains(self, other: Rectangle, slack: float = TOUCH) -> bool:
        """Tell whether ``other`` lies within, edges included."""
        return (
            other.x0 >= self.x0 - slack
            and other.y0 >= self.y0 - slack
            and other.x1 <= self.x1 + slack
            and other.y1 <= self.y1 + slack
        )


class Box(NamedTuple):
    """An upright box given by its lowest and highest corner. [m]"""

    lo: Vector
    hi: Vector

    @property
    def size(self) -> Vector:
        """Extent along x, y, z. [m]"""
        return (self.hi[0] - self.lo[0], self.hi[1] - self.lo[1], self.hi[2] - self.lo[2])

    @property
    def centre(self) -> Vector:
        """Middle point. [m]"""
        return (
            (self.lo[0] + self.hi[0]) / 2,
            (self.lo[1] + self.hi[1]) / 2,
            (self.lo[2] + self.hi[2]) / 2,
        )

    @property
    def volume(self) -> float:
        """[m³]"""
        width, depth, height = self.size
        return width * depth * height

    @property
    def footprint(self) -> Rectangle:
        """The box seen from above."""
        return Rectangle(self.lo[0], self.lo[1], self.hi[0], self.hi[1])

    def seen(self, first: int, second: int) -> Rectangle:
        """Return the box's outline in axes ``first`` (across) and ``second`` (up)."""
        return Rectangle(self.lo[first], self.lo[second], self.hi[first], self.hi[second])

    def overlap(self, other: Box) -> Box | None:
        """Return the common box, or None when they only touch or are apart."""
        lo = tuple(max(a, b) for a, b in zip(self.lo, other.lo, strict=True))
        hi = tuple(min(a, b) for a, b in zip(self.hi, other.hi, strict=True))
        if any(b - a <= TOUCH for a, b in zip(lo, hi, strict=True)):
            return None
        return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))

    def contains(self, other: Box, slack: float = TOUCH) -> bool:
        """Tell whether ``other`` lies within, faces included."""
        return all(
            self.lo[i] - slack <= other.lo[i] and other.hi[i] <= self.hi[i] + slack
            for i in range(3)
        )

    def moved(self, dx: float, dy: float, dz: float) -> Box:
        """Return the box shifted by the given lengths. [m]"""
        return Box(
            (self.lo[0] + dx, self.lo[1] + dy, self.lo[2] + dz),
            (self.hi[0] + dx, self.hi[1] + dy, self.hi[2] + dz),
        )


def turned_size(width: float, depth: float, turn: int) -> tuple[float, float]:
    """Return width and depth of a footprint after ``turn`` quarter turns. [m]"""
    return (width, depth) if turn % 2 == 0 else (depth, width)


def turn_within(inner: Rectangle, width: float, depth: float, turn: int) -> Rectangle:
    """Turn ``inner`` together with the width × depth field it lies in.

    Parameters
    ----------
    inner : Rectangle
        In the field's own axes, before the turn. [m]
    width, depth : float
        The field before the turn. [m]
    turn : int
        Quarter turns anticlockwise, seen from above.

    Returns
    -------
    Rectangle
        In axes whose origin is the turned field's lower left corner. [m]
    """
    for _ in range(turn % 4):
        inner = Rectangle(depth - inner.y1, inner.x0, depth - inner.y0, inner.x1)
        width, depth = depth, width
    return inner


def turn_back(inner: Rectangle, width: float, depth: float, turn: int) -> Rectangle:
    """Undo `turn_within`; ``width`` and ``depth`` are again those before the turn. [m]"""
    turned_width, turned_depth = turned_size(width, depth, turn)
    return turn_within(inner, turned_width, turned_depth, -turn % 4)


def pointing(heading: float, elevation: float) -> Vector:
    """Return the unit vector that points along a heading and up by an elevation. [degrees]

    A heading of 0 is along x, 90 along y.
    """
    around, up = math.radians(heading), math.radians(elevation)
    return math.cos(up) * math.cos(around), math.cos(up) * math.sin(around), math.sin(up)


def polygon_area(corners: Sequence[tuple[float, float]]) -> float:
    """Return the signed area, positive when the corners run anticlockwise. [m²]"""
    pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2


def polygon_contains(corners: Sequence[tuple[float, float]], x: float, y: float) -> bool:
    """Tell whether a point lies inside the polygon or on its edge."""
    inside = False
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if segment_distance(x, y, ax, ay, bx, by) <= 1e-9:
            return True
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside


def polygon_contains_rectangle(
    corners: Sequence[tuple[float, float]], rectangle: Rectangle
) -> bool:
    """Tell whether the whole rectangle lies inside the polygon, edges included."""
    x0, y0, x1, y1 = rectangle
    if not all(polygon_contains(corners, x, y) for x in (x0, x1) for y in (y0, y1)):
        return False
    inner = Rectangle(x0 + 1e-7, y0 + 1e-7, x1 - 1e-7, y1 - 1e-7)
    sides = zip(corners, [*corners[1:], corners[0]], strict=True)
    return not any(_segment_meets(inner, a, b) for a, b in sides)


def polygon_is_simple(corners: Sequence[tuple[float, float]]) -> bool:
    """Tell whether no two sides of the polygon cross and no corner repeats."""
    count = len(corners)
    if len(set(corners)) < count:
        return False
    sides = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    return not any(
        _segments_cross(*sides[i], *sides[j])
        for i in range(count)
        for j in range(i + 2, count)
        if not (i == 0 and j == count - 1)
    )


def rectangle_gap(a: Rectangle, b: Rectangle) -> float:
    """Return the shortest distance between two rectangles, 0 when they touch or overlap. [m]"""
    dx = max(a.x0 - b.x1, b.x0 - a.x1, 0.0)
    dy = max(a.y0 - b.y1, b.y0 - a.y1, 0.0)
    return float((dx * dx + dy * dy) ** 0.5)


def segment_distance(x: float, y: float, ax: float, ay: float, bx: float, by: float) -> float:
    """Return the distance of the point (x, y) from the segment between two others. [m]"""
    length2 = (bx - ax) ** 2 + (by - ay) ** 2
    along = 0.0 if length2 == 0 else ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2
    along = min(1.0, max(0.0, along))
    dx, dy = x - ax - along * (bx - ax), y - ay - along * (by - ay)
    return float((dx * dx + dy * dy) ** 0.5)


def _side(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _segments_cross(
    a: tuple[float, float],
    b: tuple[float, float],
    c: tuple[float, float],
    d: tuple[float, float],
) -> bool:
    """Tell whether segments ab and cd share a point, touching included."""
    s1, s2, s3, s4 = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
    if s1 * s2 < 0 and s3 * s4 < 0:
        return True
    on = ((s1, a, b, c), (s2, a, b, d), (s3, c, d, a), (s4, c, d, b))
    return any(s == 0 and _between(p, q, r) for s, p, q, r in on)


def _between(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> bool:
    return min(p[0], q[0]) <= r[0] <= max(p[0], q[0]) and min(p[1], q[1]) <= r[1] <= max(p[1], q[1])


def _segment_meets(area: Rectangle, a: tuple[float, float], b: tuple[float, float]) -> bool:
    """Tell whether segment ab enters the rectangle (clipping after Liang and Barsky, 1984)."""
    start, end = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    edges = (
        (-dx, a[0] - area.x0),
        (dx, area.x1 - a[0]),
        (-dy, a[1] - area.y0),
        (dy, area.y1 - a[1]),
    )
    for p, q in edges:
        if p == 0:
            if q < 0:
                return False
        elif p < 0:
            start = max(start, q / p)
        else:
            end = min(end, q / p)
    return start < end
