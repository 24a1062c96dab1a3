"""Faces that one stands in front of, and how much clear floor lies before each.

What can be reached from there is in `reach`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from core.fit.solids import Solid, in_the_room
from core.geometry import Box, Rectangle, polygon_contains
from core.model import Enclosure, FaceDoor
from core.placement import Placement

OVER_HEADS = 2.0
"""Things wholly above this leave a walkway clear (common practice, no source). [m]"""

STANDING = 0.45
"""Floor that a standing person takes, each way (common practice, no source). [m]"""

_EDGE = 0.001

Side = Literal["left", "right", "front", "back"]
SIDES: tuple[Side, ...] = ("left", "right", "front", "back")
Outline = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class Front:
    """A stretch of an upright face, in the room's axes. [m]

    Attributes
    ----------
    place : str
        Id of the enclosure or part the face belongs to.
    face : str
        Which of its faces.
    start, end : float
        Along the face.
    at : float
        Where the face is, across it.
    low, high : float
        Heights that are open.
    leaf : float
        How far an open leaf stands out; 0 for a zip, a curtain and an open face.
    door : FaceDoor or None
    """

    place: str
    face: Side
    start: float
    end: float
    at: float
    low: float
    high: float
    leaf: float = 0.0
    door: FaceDoor | None = None

    @property
    def runs_along_x(self) -> bool:
        """Whether the face runs along x; else along y."""
        return self.face in ("front", "back")

    @property
    def out(self) -> float:
        """1 where outwards is along the axis across the face, -1 where it is against it."""
        return 1.0 if self.face in ("right", "back") else -1.0

    @property
    def line(self) -> Rectangle:
        """The face seen from above."""
        if self.runs_along_x:
            return Rectangle(self.start, self.at, self.end, self.at)
        return Rectangle(self.at, self.start, self.at, self.end)

    def point(self, along: float, ahead: float) -> tuple[float, float]:
        """Return the point ``ahead`` of the face in the room. [m]"""
        across = self.at + self.out * ahead
        return (along, across) if self.runs_along_x else (across, along)

    def before(self, depth: float) -> Rectangle:
        """Return the floor before the face, so deep. [m]"""
        (ax, ay), (bx, by) = self.point(self.start, 0.0), self.point(self.end, depth)
        return Rectangle(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))

    def seen(self, x: float, y: float) -> tuple[float, float]:
        """Return how far along and ahead of the face a point of the room is. [m]"""
        along, across = (x, y) if self.runs_along_x else (y, x)
        return along, (across - self.at) * self.out


@dataclass(frozen=True)
class Clear:
    """The clear floor before a front: ``depth`` up to ``against`` (empty: the wall). [m]"""

    front: Front
    depth: float
    along: float
    against: str

    @property
    def left(self) -> float:
        """What is left beside an open leaf. [m]"""
        return max(0.0, self.depth - self.front.leaf)


def door_fronts(enclosure: Enclosure, box: Box) -> tuple[Front, ...]:
    """Return the fronts of an enclosure's doors."""
    return tuple(_door_front(enclosure.id, door, box) for door in enclosure.doors)


def _door_front(place: str, door: FaceDoor, box: Box) -> Front:
    whole = face_front(place, door.face, box)
    start = min(whole.start + door.x, whole.end)
    end = min(start + door.width, whole.end)
    low = box.lo[2] + door.z
    leaf = (end - start) / door.leaves if door.style == "leaf" else 0.0
    return Front(
        place, door.face, start, end, whole.at, low, min(low + door.height, box.hi[2]), leaf, door
    )


def open_fronts(enclosure: Enclosure, box: Box) -> tuple[Front, ...]:
    """Return the upright faces of an enclosure that nothing covers."""
    return tuple(
        face_front(enclosure.id, face, box) for face in SIDES if enclosure.cover(face) is None
    )


def face_front(place: str, face: Side, box: Box) -> Front:
    """Return one whole upright face of a box."""
    across = 1 if face in ("front", "back") else 0
    at = box.lo[across] if face in ("front", "left") else box.hi[across]
    along = 1 - across
    return Front(place, face, box.lo[along], box.hi[along], at, box.lo[2], box.hi[2])


def clear_floor(placement: Placement, fronts: Iterable[Front]) -> tuple[Clear, ...]:
    """Return the clear floor before each of some fronts, among all that stands in the room."""
    return tuple(_clear(placement, front) for front in fronts)


@lru_cache(maxsize=64)
def _clear(placement: Placement, front: Front) -> Clear:
    blocks = in_the_room(placement, {front.place})
    low = [block for block in blocks if block.box.lo[2] < OVER_HEADS]
    return clear_within(front, low, placement.design.room.outline)


def clear_within(front: Front, blocks: Sequence[Solid], outline: Outline) -> Clear:
    """Return the clear floor before a front, among what stands within some walls."""
    hits = [*_walls_ahead(front, outline), *_blocks_ahead(front, blocks)]
    middle = (front.start + front.end) / 2
    if not hits or not polygon_contains(outline, *front.point(middle, 0.0)):
        return Clear(front, 0.0, middle, "")
    depth, along, against = min(hits)
    return Clear(front, depth, along, against)


def _blocks_ahead(front: Front, blocks: Sequence[Solid]) -> Iterator[tuple[float, float, str]]:
    """Iterate over (distance, where along, id) of solids before a front."""
    for block in blocks:
        x0, y0, x1, y1 = block.box.footprint
        (s0, t0), (s1, t1) = front.seen(x0, y0), front.seen(x1, y1)
        start, end = max(front.start, s0), min(front.end, s1)
        if end - start > _EDGE and max(t0, t1) > _EDGE:
            yield max(0.0, min(t0, t1)), (start + end) / 2, block.part


def _walls_ahead(front: Front, outline: Outline) -> Iterator[tuple[float, float, str]]:
    for a, b in zip(outline, [*outline[1:], outline[0]], strict=True):
        piece = _within(front.seen(*a), front.seen(*b), front.start + _EDGE, front.end - _EDGE)
        ahead = [point for point in piece if point[1] >= -_EDGE]
        if ahead:
            s, t = min(ahead, key=lambda point: point[1])
            yield max(0.0, t), s, ""


def _within(
    a: tuple[float, float], b: tuple[float, float], start: float, end: float
) -> tuple[tuple[float, float], ...]:
    """Return the ends of the part of segment ab that lies between two places along a face."""
    (sa, ta), (sb, tb) = sorted((a, b))
    if sb <= start or sa >= end or sb - sa < 1e-12:
        return ()

    def at(s: float) -> tuple[float, float]:
        return s, ta + (tb - ta) * (s - sa) / (sb - sa)

    return at(max(sa, start)), at(min(sb, end))
