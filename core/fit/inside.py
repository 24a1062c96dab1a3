"""Working within the enclosure: the aisle before each unit, head-room, the sill, both hands.

Where one can stand and the farthest spots are in `reach`, sentences in `rows_access`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.fit.fronts import (
    OVER_HEADS,
    SIDES,
    STANDING,
    Clear,
    Front,
    clear_within,
    door_fronts,
    face_front,
    open_fronts,
)
from core.fit.reach import WALK_IN, Stand, serving
from core.fit.solids import solids
from core.fit.walk import beside
from core.geometry import Rectangle
from core.model import Enclosure, ShelfUnit, Tray
from core.placement import Level, Placement


@dataclass(frozen=True)
class Head:
    """The lowest thing over where one stands, empty for the enclosure's top, and how high. [m]"""

    thing: str
    height: float


@dataclass(frozen=True)
class Sill:
    """What one steps over on the way in, at one face. [m]"""

    face: str
    height: float


@dataclass(frozen=True)
class Hands:
    """A tray and how far both hands must reach to take it by two opposite sides. [m]"""

    tray: str
    distance: float


def standing_inside(places: Sequence[Stand]) -> list[Stand]:
    """Return the places to stand that lie within the enclosure."""
    return [stand for stand in places if not stand.face]


def aisles(placement: Placement, places: Sequence[Stand]) -> Iterator[Clear]:
    """Iterate over the clear floor before each unit tended from within, at its longer side."""
    enclosure, inner = placement.design.enclosure, standing_inside(places)
    if enclosure is None or not inner:
        return
    outer = placement.box(enclosure.id)
    x0, y0, x1, y1 = outer.footprint
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    for unit in placement.design.of(ShelfUnit):
        if placement.inside(unit.id):
            left_out = {unit.id, *(part.id for part in placement.design.carried(unit.id))}
            blocks = [
                solid
                for solid in solids(placement)
                if solid.part not in left_out
                and placement.inside(solid.part)
                and solid.box.lo[2] < outer.lo[2] + WALK_IN
            ]
            box = placement.box(unit.id)
            fronts = (face_front(unit.id, face, box) for face in SIDES)
            stood = [f for f in fronts if any(beside(s.area, f.line) for s in inner)]
            found = [clear_within(front, blocks, corners) for front in stood]
            deep = [clear for clear in found if clear.depth >= STANDING - 1e-9]
            if deep:
                yield max(deep, key=_serves_most)


def _serves_most(clear: Clear) -> tuple[float, float]:
    """Return what tells the side a unit is tended from: its longest, then its clearest."""
    return round(clear.front.end - clear.front.start, 6), clear.depth


def head_room(placement: Placement, places: Sequence[Stand]) -> Head | None:
    """Return the lowest thing over the floor one stands on within the enclosure."""
    enclosure, inner = placement.design.enclosure, standing_inside(places)
    if enclosure is None or not inner:
        return None
    floor = placement.box(enclosure.id).lo[2]
    found = [Head("", placement.box(enclosure.id).hi[2] - floor)]
    for solid in solids(placement):
        over = solid.box.lo[2] - floor
        if WALK_IN <= over < OVER_HEADS and placement.inside(solid.part):
            area = solid.box.footprint
            if any(stand.area.overlap(area) for stand in inner):
                found.append(Head(solid.part, over))
    return min(found, key=lambda head: head.height)


def sill(placement: Placement, places: Sequence[Stand]) -> Sill | None:
    """Return the lowest sill one walks in over, the liner's lip with it."""
    enclosure, inner = placement.design.enclosure, standing_inside(places)
    if enclosure is None or not inner:
        return None
    box = placement.box(enclosure.id)
    fronts = [*door_fronts(enclosure, box), *open_fronts(enclosure, box)]
    walked = [f for f in fronts if any(beside(stand.area, f.line) for stand in inner)]
    found = [_sill(enclosure, front, box.lo[2]) for front in walked]
    return min(found, key=lambda each: each.height, default=None)


def _sill(enclosure: Enclosure, front: Front, floor: float) -> Sill:
    liner = enclosure.liner
    lip = getattr(liner, f"lip_{front.face}") if liner is not None else 0.0
    return Sill(front.face, max(front.low - floor, lip))


def both_hands(placement: Placement, places: Sequence[Stand]) -> Iterator[Hands]:
    """Iterate over the trays on a unit's shelves, the farthest of each unit."""
    levels = {(level.host, level.number): level for level in placement.levels}
    worst: dict[str, Hands] = {}
    stood: dict[tuple[str, int], tuple[Rectangle, ...]] = {}
    for tray in placement.design.of(Tray):
        level = levels.get(placement.level_of(tray.id) or ("", 0))
        if level is None:
            continue
        key = (level.host, level.number)
        if key not in stood:
            found_there = serving(placement, places, tray.id, level)
            stood[key] = tuple(stand.area for stand in found_there)
        areas = stood[key]
        if areas:
            found = Hands(tray.id, grasp(placement.box(tray.id).footprint, areas))
            known = worst.get(level.host)
            if known is None or found.distance > known.distance:
                worst[level.host] = found
    yield from worst.values()


def grasp(tray: Rectangle, areas: Sequence[Rectangle]) -> float:
    """Return how far both hands reach at most to take a tray by two opposite sides. [m]

    The hands take the middles of two sides; one stands where the farther of them is nearest,
    which is the place nearest to the tray's middle.
    """
    x, y = tray.centre
    best = math.inf
    for area in areas:
        dx = abs(min(max(x, area.x0), area.x1) - x)
        dy = abs(min(max(y, area.y0), area.y1) - y)
        ends = math.hypot(dx + tray.width / 2, dy), math.hypot(dx, dy + tray.height / 2)
        best = min(best, *ends)
    return best


def high_levels(placement: Placement) -> Iterator[tuple[Level, float]]:
    """Iterate over each unit's lowest and highest level and its height above the floor. [m]"""
    for unit in placement.design.of(ShelfUnit):
        mine = [level for level in placement.levels if level.host == unit.id]
        base = _floor(placement, unit)
        for level in dict.fromkeys((mine[0], mine[-1])):
            yield level, level.z - base


def _floor(placement: Placement, unit: ShelfUnit) -> float:
    """Return the floor one stands on before a unit: the enclosure's, or the room's. [m]"""
    enclosure = placement.design.enclosure
    if enclosure is not None and placement.inside(unit.id):
        return placement.box(enclosure.id).lo[2]
    return 0.0
