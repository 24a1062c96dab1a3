"""The whole design seen from the front, the right and above, as a picture for the cover.

It is not to scale in any direction and shows every part as the box it fills; what is built from
is drawn in `core.drawing.third_angle`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import cos, radians, sin

from core.drawing.ink import PAPER
from core.drawing.marks import Point
from core.drawing.paper import PX, Item, Shape
from core.geometry import Box
from core.model import (
    Bay,
    Enclosure,
    FeedLine,
    Lamp,
    Opening,
    Part,
    Plants,
    Platform,
    Pots,
    Reservoir,
    ShelfUnit,
    Tray,
)
from core.placement import PLATE, Placement

_TURN, _TILT = radians(28.0), radians(20.0)
_EDGES = (
    ((0, 0, 0), (1, 0, 0)), ((1, 0, 0), (1, 1, 0)), ((1, 1, 0), (0, 1, 0)), ((0, 1, 0), (0, 0, 0)),
    ((0, 0, 1), (1, 0, 1)), ((1, 0, 1), (1, 1, 1)), ((1, 1, 1), (0, 1, 1)), ((0, 1, 1), (0, 0, 1)),
    ((0, 0, 0), (0, 0, 1)), ((1, 0, 0), (1, 0, 1)), ((1, 1, 0), (1, 1, 1)), ((0, 1, 0), (0, 1, 1)),
)  # fmt: skip
_BEHIND = (2, 3, 11)
"""Edges of a box that lie behind it: both at the floor's back, and the upright at the left."""
_FACES = {
    "top": ((0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)),
    "front": ((0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)),
    "right": ((1, 0, 0), (1, 1, 0), (1, 1, 1), (1, 0, 1)),
}
_TINTS = {Lamp: "lamp", Plants: "plant_bg", Reservoir: "water_bg", Tray: "water_bg"}
_LEAST = 0.003
"""Boxes are at least so thick, so that none is lost. [m]"""

Corner = tuple[int, int, int]


@dataclass(frozen=True)
class Solid:
    """A box with the colour of its faces."""

    box: Box
    fill: str


def project(x: float, y: float, z: float) -> Point:
    """Return a place of the room as it lies on the picture, y down. [m]"""
    across = x * cos(_TURN) + y * sin(_TURN)
    away = y * cos(_TURN) - x * sin(_TURN)
    return across, -(z * cos(_TILT) + away * sin(_TILT))


def pictorial(placement: Placement, width: float, height: float) -> tuple[tuple[Item, ...], float]:
    """Return a picture that fills a width or a height, and how high it is. [mm]

    An empty design gives an empty floor.
    """
    solids = in_order([one for part in placement.design.parts for one in _solids(placement, part)])
    enclosure = placement.design.enclosure
    lines = [*_floor(placement)]
    frame = placement.box(enclosure.id) if enclosure else None
    if frame:
        lines += [_edge(frame, k, behind=True) for k in _BEHIND]
    for solid in solids:
        lines += _faces(solid)
    if frame:
        lines += [_edge(frame, k) for k in range(len(_EDGES)) if k not in _BEHIND]
    return _fitted(lines, width, height)


def _solids(placement: Placement, part: Part) -> Iterator[Solid]:
    """Yield the boxes that a part is drawn as; spaces, lines and openings are none."""
    if part.hidden or isinstance(part, Enclosure | Bay | FeedLine | Opening | Pots):
        return
    box = placement.box(part.id)
    if isinstance(part, ShelfUnit):
        yield from _rack(box, part)
        return
    if isinstance(part, Platform):
        lo, hi = box.lo, box.hi
        yield Solid(Box((lo[0], lo[1], hi[2] - PLATE), hi), PAPER["sheet"])
        return
    tint = next((name for kind, name in _TINTS.items() if isinstance(part, kind)), "sheet")
    yield Solid(_thick(box), PAPER[tint])


def _thick(box: Box) -> Box:
    hi = tuple(max(b, a + _LEAST) for a, b in zip(box.lo, box.hi, strict=True))
    return Box(box.lo, (hi[0], hi[1], hi[2]))


def _rack(box: Box, unit: ShelfUnit) -> Iterator[Solid]:
    """Yield a rack's shelves, and its posts between them, so that none crosses another."""
    (x0, y0, z0), (x1, y1, z1) = box.lo, box.hi
    foot = z0
    for shelf in unit.levels:
        top = z0 + shelf.z
        under = max(top - shelf.thickness, foot)
        yield from _posts(x0, y0, x1, y1, foot, under, unit.post)
        yield Solid(Box((x0, y0, under), (x1, y1, top)), PAPER["hair"])
        foot = top
    yield from _posts(x0, y0, x1, y1, foot, z1, unit.post)


def _posts(
    x0: float, y0: float, x1: float, y1: float, low: float, high: float, post: float
) -> Iterator[Solid]:
    if high - low < _LEAST:
        return
    for x, y in product((x0, x1 - post), (y0, y1 - post)):
        yield Solid(Box((x, y, low), (x + post, y + post, high)), PAPER["edge"])


def in_order(solids: Sequence[Solid]) -> list[Solid]:
    """Return boxes so that each comes after all that it hides.

    A box hides another where it lies wholly before it, to its right, or above it; boxes that reach
    into each other keep their order as far as that goes.
    """
    waits = {
        k: {m for m, other in enumerate(solids) if m != k and _hides(one.box, other.box)}
        for k, one in enumerate(solids)
    }
    found: list[Solid] = []
    while waits:
        free = [k for k, before in waits.items() if not before]
        chosen = free or [min(waits, key=lambda k: len(waits[k]))]
        found += [solids[k] for k in chosen]
        for k in chosen:
            del waits[k]
        for before in waits.values():
            before.difference_update(chosen)
    return found


def _hides(near: Box, far: Box) -> bool:
    """Tell whether a box can hide another, seen from the front, the right and above."""
    if _behind(near, far):
        return False
    return _behind(far, near)


def _behind(far: Box, near: Box) -> bool:
    tiny = 1e-6
    return (
        far.lo[1] >= near.hi[1] - tiny
        or far.hi[0] <= near.lo[0] + tiny
        or far.hi[2] <= near.lo[2] + tiny
    )


def _corner(box: Box, corner: Corner) -> Point:
    return project(*((box.lo, box.hi)[side][k] for k, side in enumerate(corner)))


def _faces(solid: Solid) -> Iterator[Shape]:
    for corners in _FACES.values():
        points = tuple(_corner(solid.box, corner) for corner in corners)
        yield Shape(points, PAPER["ink"], 0.7 * PX, (), solid.fill, True)


def _edge(box: Box, number: int, *, behind: bool = False) -> Shape:
    ends = tuple(_corner(box, corner) for corner in _EDGES[number])
    dash = (3 * PX, 3 * PX) if behind else ()
    return Shape(ends, PAPER["edge" if behind else "ink"], (0.8 if behind else 1.6) * PX, dash)


def _floor(placement: Placement) -> Iterator[Shape]:
    """Yield the floor under all that stands in the room, a little larger."""
    boxes = [placement.box(p.id) for p in placement.design.parts if not isinstance(p, FeedLine)]
    outline = placement.design.room.outline
    if boxes:
        x0, y0 = (min(box.lo[k] for box in boxes) - 0.15 for k in (0, 1))
        x1, y1 = (max(box.hi[k] for box in boxes) + 0.15 for k in (0, 1))
        outline = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    points = tuple(project(x, y, 0.0) for x, y in outline)
    yield Shape(points, PAPER["hair"], PX, (), "#F4F6F4", True)


def _fitted(shapes: Sequence[Shape], width: float, height: float) -> tuple[tuple[Item, ...], float]:
    """Return shapes enlarged to a width or a height and moved to its middle. [mm]"""
    xs = [x for shape in shapes for x, _ in shape.points]
    ys = [y for shape in shapes for _, y in shape.points]
    across, down = max(xs) - min(xs), max(ys) - min(ys)
    scale = min(width / across, height / down)
    left, top = (width - scale * across) / 2 - scale * min(xs), -scale * min(ys)
    return tuple(
        replace(shape, points=tuple((left + scale * x, top + scale * y) for x, y in shape.points))
        for shape in shapes
    ), scale * down
