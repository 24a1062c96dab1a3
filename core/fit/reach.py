"""How far one has to reach in: from every place to stand to the farthest spot of every zone.

Distances run level, from the front of the body; what stands in between is not looked at.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.fit.floor import standing_areas
from core.fit.fronts import (
    SIDES,
    STANDING,
    Clear,
    Front,
    clear_floor,
    door_fronts,
    face_front,
    open_fronts,
)
from core.fit.solids import solids
from core.geometry import Rectangle
from core.model import Enclosure, ShelfUnit
from core.placement import Level, Placement, ZonePlace

WALK_IN = 1.5
"""A door this high is walked in through, stooping (common practice, no source). [m]"""

STEP = 0.30
"""A sill that one steps over (common practice, no source). [m]"""

HAND = 0.10
"""An opening this high lets a hand in at a level (common practice, no source). [m]"""

PITCH = 0.10
"""Spots of a zone lie no farther apart than this; its corners and its middle are among them. [m]"""

FINE = 0.01
"""The same round the farthest of these. [m]"""

Spot = tuple[float, float]


@dataclass(frozen=True)
class Stand:
    """A place to stand: where the front of the body may be, and the heights open from there. [m]

    ``place`` is the enclosure or part one stands before or in; ``face`` is empty inside.
    """

    place: str
    face: str
    area: Rectangle
    low: float
    high: float


@dataclass(frozen=True)
class Reach:
    """The farthest spot of a zone and where it is reached from. [m]

    ``zone`` is empty for a shelf without plants; ``start`` and ``distance`` are None when there
    is nowhere to stand. ``opening`` is then the lowest and highest edge of what is open to where
    one could stand, if it is only at another height.
    """

    level: tuple[str, int] | None
    zone: str
    spot: tuple[float, float, float]
    start: tuple[float, float, float] | None
    distance: float | None
    opening: tuple[float, float] | None = None


def stands(placement: Placement) -> tuple[Stand, ...]:
    """Return every place to stand: before doors, before open faces, and inside."""
    found: list[Stand] = []
    enclosure = placement.design.enclosure
    if enclosure is not None:
        ways_in = clear_floor(placement, _ways_in(placement, enclosure))
        found += _before(ways_in)
        found += _inside(placement, enclosure, ways_in)
    for root in _roots(placement):
        box = placement.box(root)
        fronts = [face_front(root, face, box) for face in SIDES]
        found += _before(clear_floor(placement, fronts))
    return tuple(found)


def _ways_in(placement: Placement, enclosure: Enclosure) -> tuple[Front, ...]:
    box = placement.box(enclosure.id)
    return (*door_fronts(enclosure, box), *open_fronts(enclosure, box))


def _before(clear: Iterable[Clear]) -> list[Stand]:
    """Return the fronts with enough clear floor to stand on."""
    return [
        Stand(c.front.place, c.front.face, c.front.line, c.front.low, c.front.high)
        for c in clear
        if _stood_before(c)
    ]


def _stood_before(clear: Clear) -> bool:
    return clear.depth >= STANDING - 1e-9


def _inside(placement: Placement, enclosure: Enclosure, ways_in: Iterable[Clear]) -> list[Stand]:
    box = placement.box(enclosure.id)
    entries = [
        clear.front.line
        for clear in ways_in
        if _stood_before(clear)
        and clear.front.high - clear.front.low >= WALK_IN
        and clear.front.low - box.lo[2] <= STEP
        and clear.front.end - clear.front.start >= STANDING
    ]
    if not entries:
        return []
    blocked = tuple(_blocked(placement, enclosure))
    areas = standing_areas(box.footprint, blocked, tuple(entries), STANDING)
    return [Stand(enclosure.id, "", area, box.lo[2], box.hi[2]) for area in areas]


def _blocked(placement: Placement, enclosure: Enclosure) -> list[Rectangle]:
    """Return the footprints of what leaves no room for a person; units count whole."""
    box = placement.box(enclosure.id)
    low = (solid.part for solid in solids(placement) if solid.box.lo[2] < box.lo[2] + WALK_IN)
    held = [key for key in dict.fromkeys(low) if not _on_a_unit(placement, key)]
    return [placement.box(key).footprint for key in held]


def _on_a_unit(placement: Placement, part_id: str) -> bool:
    things = placement.design.by_id
    return any(isinstance(things[host], ShelfUnit) for host in placement.hosts(part_id))


def _roots(placement: Placement) -> list[str]:
    """Return what stands in the room and carries zones or shelves, the enclosure aside."""
    carriers = [zone.part.id for zone in placement.zones]
    carriers += [unit.id for unit in placement.design.of(ShelfUnit)]
    roots = [(key, *placement.hosts(key))[-1] for key in carriers if not placement.inside(key)]
    return list(dict.fromkeys(roots))


def reaches(placement: Placement, places: Sequence[Stand]) -> tuple[Reach, ...]:
    """Return the farthest spot of each zone, and of each shelf without plants."""
    levels = {(level.host, level.number): level for level in placement.levels}
    found = [_zone_reach(placement, zone, levels, places) for zone in placement.zones]
    planted = {zone.level for zone in placement.zones}
    bare = (level for key, level in levels.items() if key not in planted)
    units = {unit.id for unit in placement.design.of(ShelfUnit)}
    found += [
        _reach(placement, level.host, (level.host, level.number), "", level.area, level, places)
        for level in bare
        if level.host in units
    ]
    return tuple(found)


def _zone_reach(
    placement: Placement,
    zone: ZonePlace,
    levels: dict[tuple[str, int], Level],
    places: Sequence[Stand],
) -> Reach:
    top = placement.design.room.height
    own = Level(zone.part.id, 0, zone.base, zone.area, top)
    level = levels[zone.level] if zone.level else own
    return _reach(placement, zone.part.id, zone.level, zone.part.id, zone.area, level, places)


def _reach(
    placement: Placement,
    thing: str,
    key: tuple[str, int] | None,
    zone: str,
    area: Rectangle,
    level: Level,
    places: Sequence[Stand],
) -> Reach:
    open_to = serving(placement, places, thing, level)
    if not open_to:
        near = [stand for stand in places if stand.place in (thing, *placement.hosts(thing))]
        opening = _opening(near)
        return Reach(key, zone, (area.x0, area.y0, level.z), None, None, opening)
    spot, start, distance = _farthest(area, tuple(stand.area for stand in open_to))
    return Reach(key, zone, (*spot, level.z), (*start, level.z), distance)


def _opening(near: Sequence[Stand]) -> tuple[float, float] | None:
    if not near:
        return None
    return min(stand.low for stand in near), max(stand.high for stand in near)


def serving(placement: Placement, places: Sequence[Stand], thing: str, level: Level) -> list[Stand]:
    """Return the places to stand from which a thing on a level can be reached into."""
    return [stand for stand in places if _serves(placement, stand, thing, level)]


def _serves(placement: Placement, stand: Stand, thing: str, level: Level) -> bool:
    """Tell whether a level can be reached into from a place to stand."""
    if stand.place not in (thing, *placement.hosts(thing)):
        return False
    whole = not isinstance(placement.design.by_id[stand.place], Enclosure) or not stand.face
    return whole or min(stand.high, level.above) - max(stand.low, level.z) >= HAND


@lru_cache(maxsize=512)
def _farthest(area: Rectangle, places: tuple[Rectangle, ...]) -> tuple[Spot, Spot, float]:
    """Return the spot farthest from its nearest place, that place's nearest point, how far."""
    found = _farthest_on_grid(area, places, PITCH)
    if len(places) == 1:
        # Distance from one place grows outwards, so a corner is farthest already.
        return found
    x, y = found[0]
    near = Rectangle(
        max(area.x0, x - PITCH / 2),
        max(area.y0, y - PITCH / 2),
        min(area.x1, x + PITCH / 2),
        min(area.y1, y + PITCH / 2),
    )
    return max(found, _farthest_on_grid(near, places, FINE), key=lambda item: item[2])


def _farthest_on_grid(
    area: Rectangle, places: Sequence[Rectangle], pitch: float
) -> tuple[Spot, Spot, float]:
    xs, ys = _along(area.x0, area.x1, pitch), _along(area.y0, area.y1, pitch)
    at = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 1, 2)
    low = np.array([(place.x0, place.y0) for place in places])
    high = np.array([(place.x1, place.y1) for place in places])
    nearest = np.clip(at, low, high)
    distance = np.hypot(*np.moveaxis(nearest - at, -1, 0))
    best = distance.argmin(axis=1)
    far = int(distance.min(axis=1).argmax())
    x, y = at[far, 0].tolist()
    start_x, start_y = nearest[far, best[far]].tolist()
    return (x, y), (start_x, start_y), float(distance[far, best[far]])


def _along(low: float, high: float, pitch: float) -> NDArray[np.float64]:
    return np.linspace(low, high, 2 * math.ceil((high - low) / 2 / pitch) + 1)
