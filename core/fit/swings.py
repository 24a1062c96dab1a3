"""Door leaves: the quarter circle each sweeps, and what keeps it from opening square.

Zips and curtains do not swing. Walkways beside an open leaf are in `fronts`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from core.fit.fronts import Front, door_fronts
from core.fit.solids import Solid, in_the_room
from core.geometry import Rectangle, segment_distance
from core.model import RoomDoor
from core.phrases import Phrase, phrase
from core.placement import Placement, wall_ends, wall_inwards, wall_length

TOLERANCE = 0.005
"""How exactly things get built and placed (common practice, no source). [m]"""

SQUARE = 90.0
"""A leaf that opens so far is out of the way. [degrees]"""

_STEPS = 24

Point = tuple[float, float]


@dataclass(frozen=True)
class Swing:
    """One leaf and how far it opens. [m, degrees]

    Attributes
    ----------
    place : str
        Id of the enclosure or room door it belongs to.
    name : Phrase
        Which door.
    hinge : tuple of float
        In the room's axes.
    shut, open : tuple of float
        Unit vectors along the shut leaf and along the leaf when it is square to it.
    radius : float
        Width of the leaf.
    low, high : float
        Heights the leaf fills.
    angle : float
        How far it opens, at most 90.
    least, most : float
        The same when things stand 5 mm nearer or farther.
    against : str
        Id of what stops it; empty for the wall or when nothing does.
    """

    place: str
    name: Phrase
    hinge: Point
    shut: Point
    open: Point
    radius: float
    low: float
    high: float
    angle: float = SQUARE
    least: float = SQUARE
    most: float = SQUARE
    against: str = ""

    def seen(self, point: Point) -> Point:
        """Return a point of the room along the shut and along the open leaf. [m]"""
        dx, dy = point[0] - self.hinge[0], point[1] - self.hinge[1]
        return dx * self.shut[0] + dy * self.shut[1], dx * self.open[0] + dy * self.open[1]

    @property
    def sweep(self) -> tuple[Point, ...]:
        """The quarter circle as a polygon in the room's axes, its hinge first. [m]"""
        turns = (k * math.pi / 2 / _STEPS for k in range(_STEPS + 1))
        edge = (self._tip(math.cos(turn), math.sin(turn)) for turn in turns)
        return (self.hinge, *edge)

    def _tip(self, shut: float, opened: float) -> Point:
        return (
            self.hinge[0] + self.radius * (shut * self.shut[0] + opened * self.open[0]),
            self.hinge[1] + self.radius * (shut * self.shut[1] + opened * self.open[1]),
        )


def swings(placement: Placement) -> tuple[Swing, ...]:
    """Return every leaf of the enclosure and of the room's doors that open inwards."""
    return tuple(_opened(placement, swing) for swing in leaves(placement))


def leaves(placement: Placement) -> Iterator[Swing]:
    """Iterate over the leaves as they would open with nothing in the way."""
    design = placement.design
    if design.enclosure is not None:
        for front in door_fronts(design.enclosure, placement.box(design.enclosure.id)):
            yield from _face_leaves(front)
    for fixture in design.room.fixtures:
        if isinstance(fixture, RoomDoor) and fixture.swing == "in":
            yield _room_leaf(placement, fixture)


def _face_leaves(front: Front) -> Iterator[Swing]:
    door = front.door
    if door is None or door.style != "leaf":
        return
    hinges = [(front.start, 1.0, "left leaf of the {face} door")]
    hinges += [(front.end, -1.0, "right leaf of the {face} door")]
    if door.leaves == 1:
        hinges = hinges[:1] if door.hinge == "left" else hinges[1:]
    opened = (0.0, front.out) if front.runs_along_x else (front.out, 0.0)
    for along, way, leaf in hinges:
        name = phrase("{face} door" if door.leaves == 1 else leaf, face=front.face)
        shut = (way, 0.0) if front.runs_along_x else (0.0, way)
        hinge = front.point(along, 0.0)
        yield Swing(front.place, name, hinge, shut, opened, front.leaf, front.low, front.high)


def _room_leaf(placement: Placement, door: RoomDoor) -> Swing:
    room = placement.design.room
    (ax, ay), (bx, by) = wall_ends(room, door.wall)
    length = wall_length(room, door.wall)
    along = ((bx - ax) / length, (by - ay) / length)
    near = door.hinge == "near"
    offset = door.offset if near else min(door.offset + door.width, length)
    hinge = (ax + offset * along[0], ay + offset * along[1])
    shut = along if near else (-along[0], -along[1])
    opened = wall_inwards(room, door.wall)
    name = phrase("{name}", name=door.name)
    return Swing(door.id, name, hinge, shut, opened, door.width, 0.0, door.height)


def _opened(placement: Placement, swing: Swing) -> Swing:
    """Return the leaf with how far it opens."""
    blocks = [b for b in in_the_room(placement, {swing.place}) if _at_height(swing, b)]
    shapes = [(_corners(block.box.footprint), block.part) for block in blocks]
    outline = placement.design.room.outline
    shapes += [(side, "") for side in zip(outline, [*outline[1:], outline[0]], strict=True)]
    seen = [(_ahead([swing.seen(p) for p in shape]), name) for shape, name in shapes]
    near = [(shape, name) for shape, name in seen if shape]
    angle, against = _least_angle(near, swing.radius)
    return replace(
        swing,
        angle=angle,
        least=_least_angle(near, swing.radius + TOLERANCE)[0],
        most=_least_angle(near, swing.radius - TOLERANCE)[0],
        against=against,
    )


def _at_height(swing: Swing, block: Solid) -> bool:
    return block.box.lo[2] < swing.high - TOLERANCE and block.box.hi[2] > swing.low + TOLERANCE


def _corners(area: Rectangle) -> tuple[Point, ...]:
    x0, y0, x1, y1 = area
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


def _ahead(shape: Sequence[Point]) -> list[Point]:
    """Return what of a polygon lies in the quarter that a leaf sweeps, a hair inside its edges.

    The hair keeps the door's own wall, and one that the open leaf lies against, out of it.
    """
    turned = _beyond([(t, s) for s, t in _beyond(shape)])
    return [(s, t) for t, s in turned]


def _beyond(shape: Sequence[Point]) -> list[Point]:
    """Cut a polygon to first coordinates above `TOLERANCE` (Sutherland and Hodgman, 1974)."""
    found: list[Point] = []
    for (a, b), (c, d) in zip(shape, [*shape[1:], *shape[:1]], strict=True):
        if (a > TOLERANCE) != (c > TOLERANCE):
            share = (TOLERANCE - a) / (c - a)
            found.append((TOLERANCE, b + share * (d - b)))
        if c > TOLERANCE:
            found.append((c, d))
    return found


def _least_angle(shapes: Sequence[tuple[list[Point], str]], radius: float) -> tuple[float, str]:
    """Return the angle at which a leaf first meets one of some polygons, and which. [degrees]"""
    hits = [
        (math.degrees(math.atan2(t, s)), name)
        for shape, name in shapes
        for s, t in _in_reach(shape, radius)
    ]
    return min(hits, default=(SQUARE, ""))


def _in_reach(shape: Sequence[Point], radius: float) -> Iterator[Point]:
    """Iterate over the corners of what a polygon and a circle round the origin share."""
    for a, b in zip(shape, [*shape[1:], *shape[:1]], strict=True):
        if math.hypot(*a) < radius:
            yield a
        yield from _crossings(a, b, radius)


def _crossings(a: Point, b: Point, radius: float) -> Iterator[Point]:
    """Iterate over the points where segment ab crosses a circle round the origin."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square, half = dx * dx + dy * dy, a[0] * dx + a[1] * dy
    root = half * half - square * (a[0] ** 2 + a[1] ** 2 - radius**2)
    if square < 1e-18 or root <= 0:
        return
    for sign in (-1.0, 1.0):
        share = (-half + sign * math.sqrt(root)) / square
        if 0.0 <= share <= 1.0:
            yield a[0] + share * dx, a[1] + share * dy


def meeting(found: Sequence[Swing]) -> Iterator[tuple[Swing, Swing, float]]:
    """Iterate over leaves of two doors that cannot both be open, and how deep they meet. [m]"""
    for index, a in enumerate(found):
        for b in found[index + 1 :]:
            same_door = a.place == b.place and a.open == b.open
            if not same_door and min(a.high, b.high) > max(a.low, b.low) + TOLERANCE:
                depth = _meeting_depth(a, b)
                if depth > TOLERANCE:
                    yield a, b, depth


def _meeting_depth(a: Swing, b: Swing) -> float:
    """Return how far the sweep of ``b`` reaches into that of ``a``. [m]"""
    shape = _ahead([a.seen(point) for point in b.sweep])
    sides = zip(shape, [*shape[1:], *shape[:1]], strict=True)
    nearest = min((segment_distance(0.0, 0.0, *p, *q) for p, q in sides), default=math.inf)
    return max(0.0, a.radius - nearest)
