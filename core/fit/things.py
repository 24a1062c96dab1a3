"""Getting at what the room has: outlets and windows behind things, and floor kept clear.

Walking up to them is in `walk`, what is reached within the enclosure in `reach`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from core.fit.fronts import Clear, clear_floor, face_front
from core.fit.reach import HAND, Stand
from core.fit.solids import Solid, in_the_room
from core.fit.walk import Point, Walk, in_wall, nearest
from core.geometry import Box, Rectangle
from core.model import Obstacle, Outlet, RoomWindow
from core.placement import OUTLET_SIZE, Placement, along_wall, wall_inwards

_EDGE = 0.001


@dataclass(frozen=True)
class Access:
    """An outlet or a window, and from where it is reached. [m]

    ``start`` and ``distance`` are None where nobody can stand. ``against`` is the id of what
    leaves no room for a hand before it, empty for nothing.
    """

    thing: str
    start: Point | None
    spot: Point
    distance: float | None
    against: str = ""


@dataclass(frozen=True)
class Kept:
    """Floor to be kept clear before a thing that is worked at, and how much of it is. [m]

    ``area`` is all that is asked for, ``depth`` how deep it is clear, ``against`` the id of what
    ends it, empty for the wall.
    """

    thing: str
    area: Rectangle
    depth: float
    against: str


def accesses(placement: Placement, walk: Walk, places: Sequence[Stand]) -> tuple[Access, ...]:
    """Return every outlet and window of the room with the way to it."""
    things = [f for f in placement.design.room.fixtures if isinstance(f, Outlet | RoomWindow)]
    if not things:
        return ()
    room, solids = walk.standing(), in_the_room(placement)
    return tuple(_access(placement, thing, room, places, solids) for thing in things)


def _access(
    placement: Placement,
    thing: Outlet | RoomWindow,
    room: Sequence[Rectangle],
    places: Sequence[Stand],
    solids: Sequence[Solid],
) -> Access:
    box, enclosure = placement.box(thing.id), placement.design.enclosure
    built_in = enclosure is not None and placement.box(enclosure.id).overlap(box) is not None
    areas = list(room)
    if built_in and enclosure is not None:
        areas += [stand.area for stand in places if stand.place == enclosure.id]
        solids = [solid for solid in solids if solid.part != enclosure.id]
    against = next((s.part for s in solids if _covers(placement, thing, box, s.box)), "")
    width = thing.width if isinstance(thing, RoomWindow) else OUTLET_SIZE
    line = in_wall(placement.design.room, thing.wall, thing.offset, width)
    found = nearest(areas, line)
    if found is None:
        return Access(thing.id, None, line.centre, None, against)
    distance, start, spot = found
    return Access(thing.id, start, spot, distance, against)


def _covers(placement: Placement, thing: Outlet | RoomWindow, box: Box, other: Box) -> bool:
    """Tell whether a box leaves less than a hand's room before all of a fixture in a wall."""
    if other.hi[2] < box.hi[2] - _EDGE or other.lo[2] > box.lo[2] + _EDGE:
        return False
    room = placement.design.room
    start, inwards = along_wall(room, thing.wall, thing.offset), wall_inwards(room, thing.wall)
    x0, y0, x1, y1 = other.footprint
    corners = [(x - start[0], y - start[1]) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
    ahead = [x * inwards[0] + y * inwards[1] for x, y in corners]
    if max(ahead) <= _EDGE or min(ahead) >= HAND:
        return False
    # Outlets are so narrow that both axes may be compared; windows lie along their wall.
    area, own = other.footprint, box.footprint
    across = area.x0 <= own.x0 + _EDGE and area.x1 >= own.x1 - _EDGE
    along = area.y0 <= own.y0 + _EDGE and area.y1 >= own.y1 - _EDGE
    return across if abs(inwards[1]) > abs(inwards[0]) else along


def kept_clear(placement: Placement) -> Iterator[Kept]:
    """Iterate over the fixed things that somebody works at, with the floor before them."""
    for thing in placement.design.room.fixtures:
        if isinstance(thing, Obstacle) and thing.worked_at is not None:
            yield _kept(placement, thing)


def _kept(placement: Placement, thing: Obstacle) -> Kept:
    """Return the floor before a thing, left, right or about its middle: where it is clearest."""
    whole = face_front(thing.id, thing.worked_at or "front", placement.box(thing.id))
    own = whole.end - whole.start
    width = max(thing.clear_width, own)
    starts = {whole.start, whole.end - width, (whole.start + whole.end - width) / 2}
    fronts = [replace(whole, start=start, end=start + width) for start in sorted(starts)]
    best: Clear = max(clear_floor(placement, fronts), key=lambda clear: clear.depth)
    return Kept(thing.id, best.front.before(thing.clear_depth), best.depth, best.against)
