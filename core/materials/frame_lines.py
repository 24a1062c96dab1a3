"""Where an enclosure's frame runs: uprights, rails, door frames and braces as lines.

The lines are the members' middles. How they meet and how long they are cut is in
`core.materials.frame`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from core.geometry import TOUCH, Vector
from core.model import Enclosure, FaceDoor

Role = Literal["upright", "rail", "jamb", "header", "sill", "brace"]
Side = Literal["back", "front", "left", "right"]

SIDES: tuple[Side, ...] = ("back", "front", "left", "right")

NEAR = 3.0
"""A door's edge this close to a rail or upright is held by it, in thicknesses of a member."""

APART = 2.0
"""Uprights stand at least this far apart, in thicknesses of a member."""


@dataclass(frozen=True)
class Line:
    """The middle of a member before it is jointed. [m]"""

    role: Role
    start: Vector
    end: Vector


@dataclass(frozen=True)
class _Wall:
    """One vertical side of the frame, in lengths along it (``s``) and up. [m]"""

    side: Side
    length: float
    height: float
    member: float
    across: float
    """Where the side's middle plane is on the axis across it."""
    doors: tuple[FaceDoor, ...]

    @property
    def ends(self) -> tuple[float, float]:
        return self.member / 2, self.length - self.member / 2

    @property
    def rises(self) -> tuple[float, float]:
        """Heights of the bottom and the top rail."""
        return self.member / 2, self.height - self.member / 2

    def point(self, s: float, z: float) -> Vector:
        return (s, self.across, z) if self.side in ("front", "back") else (self.across, s, z)

    def line(self, role: Role, start: tuple[float, float], end: tuple[float, float]) -> Line:
        return Line(role, self.point(*start), self.point(*end))

    def upright(self, role: Role, s: float) -> Line:
        low, high = self.rises
        return self.line(role, (s, low), (s, high))


def frame_lines(enclosure: Enclosure) -> tuple[Line, ...]:
    """Return all lines of an enclosure's frame, in its own axes.

    A frame has twelve edges. A leaf door gets a jamb on both sides, a header and a sill; a curtain
    gets a header to hang from; where an edge of the frame is near it serves instead. More uprights
    go in turn to the side where they leave the shortest gaps to bridge, evenly spaced and beside
    doors. Braces are one diagonal in the first gap of the left and right side and of the back (or
    the front), wherever there is no door.
    """
    walls = _walls(enclosure)
    jambs = {wall.side: _jambs(wall) for wall in walls}
    extra = _shared_out(walls, jambs, enclosure.frame.extra_uprights)
    lines = [*_edges(enclosure)]
    for wall in walls:
        lines += [wall.upright("jamb", s) for s in jambs[wall.side]]
        lines += [wall.upright("upright", s) for s in extra[wall.side]]
        lines += _crossings(wall, _posts(wall, jambs[wall.side], extra[wall.side]))
    if enclosure.frame.braced:
        lines += _braces(walls, jambs, extra)
    return tuple(lines)


def _walls(box: Enclosure) -> list[_Wall]:
    half = box.frame.member / 2
    across = {"back": box.depth - half, "front": half, "left": half, "right": box.width - half}
    return [
        _Wall(
            side,
            box.width if side in ("front", "back") else box.depth,
            box.height,
            box.frame.member,
            across[side],
            tuple(door for door in box.doors if door.face == side),
        )
        for side in SIDES
    ]


def _edges(box: Enclosure) -> Iterator[Line]:
    half = box.frame.member / 2
    xs, ys, zs = ((half, size - half) for size in (box.width, box.depth, box.height))
    yield from (Line("upright", (x, y, zs[0]), (x, y, zs[1])) for x in xs for y in ys)
    yield from (Line("rail", (xs[0], y, z), (xs[1], y, z)) for z in zs for y in ys)
    yield from (Line("rail", (x, ys[0], z), (x, ys[1], z)) for z in zs for x in xs)


def _jambs(wall: _Wall) -> tuple[float, ...]:
    """Return where leaf doors need an upright of their own."""
    found: list[float] = []
    for door in wall.doors:
        for s in (door.x - wall.member / 2, door.x + door.width + wall.member / 2):
            held = any(abs(s - other) < NEAR * wall.member for other in wall.ends)
            close = any(abs(s - other) < APART * wall.member for other in found)
            if door.style == "leaf" and not held and not close:
                found.append(s)
    return tuple(sorted(found))


def _posts(wall: _Wall, *inner: Sequence[float]) -> list[float]:
    return sorted([*wall.ends, *(s for some in inner for s in some)])


def _shared_out(
    walls: Sequence[_Wall], jambs: Mapping[Side, Sequence[float]], count: int
) -> dict[Side, tuple[float, ...]]:
    """Return where more uprights stand on each side; those for which there is no room are not."""
    given: dict[Side, tuple[float, ...]] = {wall.side: () for wall in walls}
    for _ in range(count):
        offers = [
            (wall.length / (len(given[wall.side]) + len(jambs[wall.side]) + 1), wall)
            for wall in walls
        ]
        for _, wall in sorted(offers, key=lambda offer: -offer[0]):
            wanted = len(given[wall.side]) + 1
            places = _spaced(wall, jambs[wall.side], wanted)
            if len(places) == wanted:
                given[wall.side] = places
                break
    return given


def _spaced(wall: _Wall, jambs: Sequence[float], count: int) -> tuple[float, ...]:
    """Return even places for uprights, moved beside doors, without those too near another."""
    low, high = wall.ends
    standing = [low, high, *jambs]
    places: list[float] = []
    for i in range(count):
        s = _beside_doors(wall, low + (high - low) * (i + 1) / (count + 1))
        free = all(abs(s - other) >= APART * wall.member for other in (*standing, *places))
        if free and not any(_in_door(wall, door, s) for door in wall.doors):
            places.append(s)
    return tuple(places)


def _beside_doors(wall: _Wall, s: float) -> float:
    half = wall.member / 2
    for door in wall.doors:
        if _in_door(wall, door, s):
            before, after = door.x - half, door.x + door.width + half
            return before if s - before < after - s else after
    return s


def _in_door(wall: _Wall, door: FaceDoor, s: float) -> bool:
    half = wall.member / 2
    return door.x - half + TOUCH < s < door.x + door.width + half - TOUCH


def _crossings(wall: _Wall, posts: Sequence[float]) -> Iterator[Line]:
    """Iterate over the headers and sills of a side, from post to post around each door."""
    low, high = wall.rises
    half, near = wall.member / 2, NEAR * wall.member
    for door in wall.doors:
        if door.style == "zip":
            continue
        left = max((s for s in posts if s <= door.x + half), default=posts[0])
        right = min((s for s in posts if s >= door.x + door.width - half), default=posts[-1])
        header, sill = door.z + door.height + half, door.z - half
        if header < high - near:
            yield wall.line("header", (left, header), (right, header))
        if door.style == "leaf" and sill > low + near:
            yield wall.line("sill", (left, sill), (right, sill))


def _braces(
    walls: Sequence[_Wall],
    jambs: Mapping[Side, Sequence[float]],
    extra: Mapping[Side, Sequence[float]],
) -> Iterator[Line]:
    free = {wall.side: wall for wall in walls if not wall.doors}
    chosen = [free.get("back") or free.get("front"), free.get("left"), free.get("right")]
    for wall in chosen:
        if wall is not None:
            first, second = _posts(wall, jambs[wall.side], extra[wall.side])[:2]
            yield wall.line("brace", (first, wall.rises[0]), (second, wall.rises[1]))
