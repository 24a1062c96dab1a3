"""Which parts are in each other's way, and which stick out of where they belong.

Distances only; what they mean is said in `reading`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.fit.solids import NOT_SOLID, Solid, solids
from core.geometry import (
    Box,
    Rectangle,
    polygon_contains,
    polygon_contains_rectangle,
    segment_distance,
)
from core.model import AnyPart, Bay, Enclosure, FeedLine, Lamp, Lead, Obstacle, Plants, ShelfUnit
from core.placement import Placement

SMALLEST = 0.0005
"""Depths below this come from rounding inches or millimetres and are not told. [m]"""

Floats = NDArray[np.float64]


class Overlap(NamedTuple):
    """Two parts in the same space.

    ``depth`` is how far one must move to be free; for leaves, how far they reach into the lamp or
    shelf above them. ``kind`` is ``"parts"``, ``"leaves"``, ``"bay"`` or ``"enclosure"``. [m]
    """

    a: str
    b: str
    depth: float
    kind: Literal["parts", "leaves", "bay", "enclosure"] = "parts"


class Outside(NamedTuple):
    """A part that sticks out ``by`` a length of ``of``: the enclosure or the room. [m]"""

    part: str
    by: float
    of: Literal["enclosure", "room", "ceiling"]


def overlaps(placement: Placement) -> tuple[Overlap, ...]:
    """Return all overlaps, the deepest of each pair."""
    found = [*_between_solids(placement), *_bays(placement), *_across_the_enclosure(placement)]
    deepest: dict[tuple[str, str], Overlap] = {}
    for item in found:
        known = deepest.get((item.a, item.b))
        if known is None or item.depth > known.depth:
            deepest[item.a, item.b] = item
    return tuple(deepest.values())


def _between_solids(placement: Placement) -> Iterator[Overlap]:
    every = solids(placement)
    depths = penetration([solid.box for solid in every])
    hosts = {solid.part: placement.hosts(solid.part) for solid in every}
    for i, j in zip(*np.nonzero(depths > SMALLEST), strict=True):
        a, b = every[i], every[j]
        if a.part != b.part and not _belong(placement, hosts, a, b):
            yield _overlap(placement, a, b, float(depths[i, j]))


def penetration(boxes: list[Box]) -> Floats:
    """Return how deep each pair of boxes is in each other, 0 or less when apart, shape (n, n).

    Only pairs with the first index below the second are filled in.
    """
    low = np.array([box.lo for box in boxes], dtype=float).reshape(-1, 3)
    high = np.array([box.hi for box in boxes], dtype=float).reshape(-1, 3)
    ahead = np.full((len(boxes), len(boxes)), np.inf)
    for axis in range(3):
        np.minimum(ahead, high[:, axis, None] - low[None, :, axis], out=ahead)
    return np.triu(np.minimum(ahead, ahead.T), 1)


def _belong(placement: Placement, hosts: dict[str, tuple[str, ...]], a: Solid, b: Solid) -> bool:
    """Tell whether one solid carries the other and may therefore touch it.

    Shelves are the exception: what stands or hangs in a unit must not reach through one.
    """
    for carrier, carried in ((a, b), (b, a)):
        if carrier.part in hosts[carried.part]:
            return not carrier.plate or _clipped(placement, hosts, carrier.part, carried.part)
    return False


def _clipped(placement: Placement, hosts: dict[str, tuple[str, ...]], unit: str, part: str) -> bool:
    """Tell whether a unit carries a part by a clamp on a post."""
    chain = (part, *hosts[part])
    held = placement.design.part(chain[chain.index(unit) - 1])
    return held.place.fixing == "clipped"


def _overlap(placement: Placement, a: Solid, b: Solid, depth: float) -> Overlap:
    things = placement.design.by_id
    for leaves, other in ((a, b), (b, a)):
        above = isinstance(things[other.part], Lamp) or other.plate
        if isinstance(things[leaves.part], Plants) and above:
            into = leaves.box.hi[2] - other.box.lo[2]
            return Overlap(leaves.part, other.part, into, "leaves")
    return Overlap(a.part, b.part, depth)


def _bays(placement: Placement) -> Iterator[Overlap]:
    """Find shelf units that stand in space kept free of them."""
    for bay in placement.design.of(Bay):
        for unit in placement.design.of(ShelfUnit):
            depth = _depth(placement.box(bay.id), placement.box(unit.id))
            if depth > SMALLEST:
                yield Overlap(unit.id, bay.id, depth, "bay")


def _across_the_enclosure(placement: Placement) -> Iterator[Overlap]:
    """Find what stands in the room and cuts through the enclosure's faces.

    A thing wholly within its footprint is taken as built in.
    """
    enclosure = placement.design.enclosure
    if enclosure is None:
        return
    outer = placement.box(enclosure.id)
    for thing_id in _of_the_room(placement, enclosure):
        box = placement.box(thing_id)
        depth = _depth(outer, box)
        if depth > SMALLEST and not outer.contains(box, SMALLEST):
            yield Overlap(thing_id, enclosure.id, depth, "enclosure")


def _of_the_room(placement: Placement, enclosure: Enclosure) -> Iterator[str]:
    design = placement.design
    for part in design.parts:
        mine = part.id == enclosure.id or enclosure.id in placement.hosts(part.id)
        if not mine and part.place.fixing != "face" and not isinstance(part, NOT_SOLID):
            yield part.id
    yield from (item.id for item in design.room.fixtures if isinstance(item, Obstacle))


def _depth(a: Box, b: Box) -> float:
    """Return how far one of two boxes must move to be free of the other, 0 or less when apart."""
    return min(min(a.hi[i] - b.lo[i], b.hi[i] - a.lo[i]) for i in range(3))


def outside(placement: Placement) -> tuple[Outside, ...]:
    """Return the parts that stick out; what stands on one that does is not told again."""
    found: dict[str, Outside] = {}
    for part in sorted(placement.design.parts, key=lambda p: len(placement.hosts(p.id))):
        item = _sticking_out(placement, part)
        if item is not None and not set(placement.hosts(part.id)) & set(found):
            found[part.id] = item
    return tuple(found.values())


def _sticking_out(placement: Placement, part: AnyPart) -> Outside | None:
    if isinstance(part, FeedLine | Lead) or part.place.fixing == "face":
        return None
    box = placement.box(part.id)
    if placement.inside(part.id):
        by = _beyond_enclosure(placement, part, box)
        return Outside(part.id, by, "enclosure") if by > SMALLEST else None
    room = placement.design.room
    sideways = beyond_outline(room.outline, box.footprint)
    upwards = box.hi[2] - room.height
    if max(sideways, upwards) <= SMALLEST:
        return None
    if sideways >= upwards:
        return Outside(part.id, sideways, "room")
    return Outside(part.id, upwards, "ceiling")


def _beyond_enclosure(placement: Placement, part: AnyPart, box: Box) -> float:
    enclosure = placement.design.enclosure
    if enclosure is None:
        return 0.0
    outer = placement.box(enclosure.id)
    clipped_on = part.place.host == enclosure.id and part.place.fixing == "clipped"
    if clipped_on and outer.overlap(box) is None:
        return 0.0
    (x0, y0, z0), (x1, y1, z1) = outer
    (a0, b0, c0), (a1, b1, c1) = box
    return max(x0 - a0, y0 - b0, z0 - c0, a1 - x1, b1 - y1, c1 - z1, 0.0)


@lru_cache(maxsize=256)
def beyond_outline(
    outline: tuple[tuple[float, float], ...], area: Rectangle, grid: int = 9
) -> float:
    """Return how far a rectangle reaches out of a polygon, 0 when it lies within. [m]

    Exact where a corner sticks out farthest; else right to an eighth of the rectangle.
    """
    slack = min(SMALLEST, area.width / 3, area.height / 3)
    inner = Rectangle(area.x0 + slack, area.y0 + slack, area.x1 - slack, area.y1 - slack)
    if polygon_contains_rectangle(outline, inner):
        return 0.0
    xs = np.linspace(area.x0, area.x1, grid).tolist()
    ys = np.linspace(area.y0, area.y1, grid).tolist()
    sides = list(zip(outline, [*outline[1:], outline[0]], strict=True))
    beyond = [
        min(segment_distance(x, y, *a, *b) for a, b in sides)
        for x in xs
        for y in ys
        if not polygon_contains(outline, x, y)
    ]
    return max(beyond, default=SMALLEST * 2)
