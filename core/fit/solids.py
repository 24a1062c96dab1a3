"""What of each part and fixture is solid, as upright boxes.

Which solids are in each other's way is found in `overlaps`; covers, liners, bays, feed lines and
leads are not solid.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache

from core.geometry import Box
from core.model import (
    AnyPart,
    Bay,
    Enclosure,
    FeedLine,
    Lead,
    Obstacle,
    Opening,
    Platform,
    ShelfUnit,
)
from core.placement import PLATE, Placement

NOT_SOLID = Enclosure | Bay | FeedLine | Lead | Opening


@dataclass(frozen=True)
class Solid:
    """One box of a part or fixture; ``plate`` marks a shelf of a unit. [m]"""

    part: str
    box: Box
    plate: bool = False


@lru_cache(maxsize=4)
def solids(placement: Placement) -> tuple[Solid, ...]:
    """Return the solids of every part and of the room's obstacles."""
    design = placement.design
    found = [solid for part in design.parts for solid in solids_of(placement, part)]
    fixed = (item for item in design.room.fixtures if isinstance(item, Obstacle))
    return (*found, *(Solid(item.id, placement.box(item.id)) for item in fixed))


def solids_of(placement: Placement, part: AnyPart) -> Iterator[Solid]:
    """Iterate over the solids of one part; a shelf unit is an open frame."""
    box = placement.box(part.id)
    if isinstance(part, ShelfUnit):
        yield from _unit(part, box)
    elif isinstance(part, Platform):
        top = (box.lo[0], box.lo[1], max(box.lo[2], box.hi[2] - PLATE))
        yield Solid(part.id, Box(top, box.hi))
    elif not isinstance(part, NOT_SOLID):
        yield Solid(part.id, box)


def _unit(unit: ShelfUnit, box: Box) -> Iterator[Solid]:
    (x0, y0, z0), (x1, y1, z1) = box
    for shelf in unit.levels:
        top = z0 + shelf.z
        yield Solid(unit.id, Box((x0, y0, top - shelf.thickness), (x1, y1, top)), plate=True)
    width, depth = min(unit.post, (x1 - x0) / 2), min(unit.post, (y1 - y0) / 2)
    for x in (x0, x1 - width):
        for y in (y0, y1 - depth):
            yield Solid(unit.id, Box((x, y, z0), (x + width, y + depth, z1)))


def in_the_room(placement: Placement, but: Collection[str] = ()) -> tuple[Solid, ...]:
    """Return what stands in a person's or a door's way outside the enclosure.

    The enclosure counts as one box in place of all it holds; parts named in ``but``, and all
    they carry, are left out.
    """
    return _without(placement, frozenset(but))


@lru_cache(maxsize=32)
def _without(placement: Placement, but: frozenset[str]) -> tuple[Solid, ...]:
    left_out = {*but, *(part.id for key in but for part in placement.design.carried(key))}
    return tuple(solid for solid in _of_the_room(placement) if solid.part not in left_out)


@lru_cache(maxsize=4)
def _of_the_room(placement: Placement) -> tuple[Solid, ...]:
    """Return the solids that stand in the room, the enclosure as one box."""
    enclosure = placement.design.enclosure
    found = [solid for solid in solids(placement) if not placement.inside(solid.part)]
    if enclosure is not None:
        found.append(Solid(enclosure.id, placement.box(enclosure.id)))
    return tuple(found)
