"""Walking about the room: its free floor, the widest way to a door of the enclosure, its line.

Somebody comes in by the room's doors; a person counts as an upright square. Free floor within the
enclosure is in `reach`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from core.fit.floor import standing_areas, way
from core.fit.fronts import OVER_HEADS, STANDING
from core.fit.solids import in_the_room
from core.geometry import TOUCH, Rectangle, rectangle_gap
from core.model import Room, RoomDoor
from core.placement import Placement, along_wall

NARROWEST, WIDEST = 0.20, 2.00
"""Ways narrower count as none, wider ones as so wide. [m]"""

Point = tuple[float, float]
Outline = tuple[Point, ...]


@dataclass(frozen=True)
class Walk:
    """The room's floor for somebody who walks in; ``drawn`` tells whether a door is drawn. [m]

    ``blocked`` is what stands below head height, and what of ``floor`` lies outside the walls;
    ``entries`` are the doors seen from above, all walls where none is drawn.
    """

    floor: Rectangle
    blocked: tuple[Rectangle, ...]
    entries: tuple[Rectangle, ...]
    drawn: bool

    def standing(self, size: float = STANDING) -> tuple[Rectangle, ...]:
        """Return the floor that a person of some width takes up on all its ways. [m]"""
        return standing_areas(self.floor, self.blocked, self.entries, size)


def walk_of(placement: Placement) -> Walk:
    """Return the walk through a design's room."""
    room = placement.design.room
    xs, ys = zip(*room.outline, strict=True)
    floor = Rectangle(min(xs), min(ys), max(xs), max(ys))
    low = [solid.box for solid in in_the_room(placement) if solid.box.lo[2] < OVER_HEADS]
    stood = dict.fromkeys(box.footprint for box in low)
    doors = [item for item in room.fixtures if isinstance(item, RoomDoor)]
    lines = [in_wall(room, door.wall, door.offset, door.width) for door in doors]
    if not lines:
        corners = room.outline
        lines = [_line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    return Walk(floor, (*beyond_walls(room.outline), *stood), tuple(lines), bool(doors))


def in_wall(room: Room, wall: int, offset: float, width: float) -> Rectangle:
    """Return a stretch of a wall seen from above, without thickness. [m]"""
    return _line(along_wall(room, wall, offset), along_wall(room, wall, offset + width))


def _line(a: Point, b: Point) -> Rectangle:
    return Rectangle(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))


@lru_cache(maxsize=16)
def beyond_walls(outline: Outline) -> tuple[Rectangle, ...]:
    """Return what of a room's bounding rectangle lies outside its walls, as rectangles. [m]

    Exact for square corners; beside a slanted wall no floor is called free that is not.
    """
    x0, x1 = min(x for x, _ in outline), max(x for x, _ in outline)
    levels = sorted({y for _, y in outline})
    found = []
    for low, high in pairwise(levels):
        at = x0
        for left, right in _within(outline, low, high):
            if left > at + TOUCH:
                found.append(Rectangle(at, low, left, high))
            at = max(at, right)
        if x1 > at + TOUCH:
            found.append(Rectangle(at, low, x1, high))
    return tuple(found)


def _within(outline: Outline, low: float, high: float) -> Iterator[tuple[float, float]]:
    """Iterate over the stretches of x that lie inside all the way between two heights."""
    sides = []
    for (ax, ay), (bx, by) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if min(ay, by) <= low and max(ay, by) >= high and ay != by:
            ends = [ax + (bx - ax) * (y - ay) / (by - ay) for y in (low, high)]
            sides.append((sum(ends) / 2, min(ends), max(ends)))
    sides.sort()
    for (_, _, left), (_, right, _) in zip(sides[::2], sides[1::2], strict=True):
        if right > left:
            yield left, right


@lru_cache(maxsize=32)
def widest_way(walk: Walk, target: Rectangle) -> float:
    """Return how wide the widest way from a door of the room to a line is. [m]

    Exact: a way is as wide as some gap between two edges. 0 where none is `NARROWEST` wide.
    """
    sizes = _gaps(walk)
    if not _arrives(walk, target, sizes[0]):
        return 0.0
    low, high = 0, len(sizes)
    while high - low > 1:
        middle = (low + high) // 2
        if _arrives(walk, target, sizes[middle]):
            low = middle
        else:
            high = middle
    return sizes[low]


def _gaps(walk: Walk) -> list[float]:
    """Return every width that could be the widest of a way, the least first. [m]"""
    found = {NARROWEST, WIDEST}
    for low, high in (("x0", "x1"), ("y0", "y1")):
        starts = {getattr(area, low) for area in walk.blocked} | {getattr(walk.floor, high)}
        ends = {getattr(area, high) for area in walk.blocked} | {getattr(walk.floor, low)}
        found |= {start - end for start in starts for end in ends}
    return sorted(size for size in found if NARROWEST <= size <= WIDEST)


def _arrives(walk: Walk, target: Rectangle, size: float) -> bool:
    return any(beside(area, target) for area in walk.standing(size))


def beside(area: Rectangle, line: Rectangle) -> bool:
    """Tell whether some floor meets a line over more than a point."""
    across = min(area.x1, line.x1) - max(area.x0, line.x0)
    along = min(area.y1, line.y1) - max(area.y0, line.y0)
    return min(across, along) >= -TOUCH and max(across, along) > TOUCH


def way_in(walk: Walk, target: Rectangle, width: float) -> tuple[Point, ...]:
    """Return the corners of the shortest way of a width from a door to a line. [m]"""
    middles = way(walk.floor, walk.blocked, walk.entries, width, target)
    if not middles:
        return ()
    doors = [_nearest_point(line, middles[0]) for line in walk.entries]
    start = min(doors, key=lambda door: math.dist(door, middles[0]))
    return (start, *middles, _nearest_point(target, middles[-1]))


def pinch(walk: Walk, target: Rectangle, width: float) -> float | None:
    """Return how long the way to a line is narrower than asked for, None where it never is wide.

    Measured straight between the last floor of that width on either side. [m]
    """
    coming = walk.standing(width)
    going = standing_areas(walk.floor, walk.blocked, (target,), width)
    gaps = [rectangle_gap(a, b) for a in coming for b in going]
    return min(gaps, default=None)


def nearest(areas: Sequence[Rectangle], thing: Rectangle) -> tuple[float, Point, Point] | None:
    """Return how far a thing is from the nearest of some floors, and the two points. [m]"""
    found = [(rectangle_gap(area, thing), area) for area in areas]
    if not found:
        return None
    distance, area = min(found, key=lambda item: item[0])
    spot = _nearest_point(thing, area.centre)
    start = _nearest_point(area, spot)
    return distance, start, _nearest_point(thing, start)


def _nearest_point(area: Rectangle, point: Point) -> Point:
    return min(max(point[0], area.x0), area.x1), min(max(point[1], area.y0), area.y1)
