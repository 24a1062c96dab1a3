"""A design as a scene of air: its region with the fans, solids, shelves and openings in it.

How large the region is says `region`, how much duct fans move `ventilation`; no flow is computed
here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain

from core.air.flow import scene as flow
from core.air.flow.scene import FACES, AirScene
from core.air.reach import aim
from core.air.region import Region, beyond_walls, region_of
from core.air.solids import solids_of
from core.air.ventilation import DuctFlow, Ventilation, ventilation_of
from core.geometry import Box, Vector
from core.model import Design, DuctFan, Enclosure, Fan, Opening, Platform, ShelfUnit
from core.phrases import Amount, Phrase, phrase
from core.placement import PLATE, Placement

CELL, FINE, FINER = 0.10, 0.05, 0.025
"""Sides of cells: at first, while idle, and on demand. [m]"""

MOST, MOST_FINE, MOST_FINER = 16_000, 100_000, 600_000
"""Cells beyond which larger ones are taken at each of these stages."""

NARROW = 0.6
"""A region no wider gets finer cells while idle. [m]"""

SMALL_FAN = 0.12
"""A fan no larger asks for finer cells. [m]"""

USUAL_OPEN_SHARE = 0.7
"""Taken for wires whose open share is not given (common practice)."""

LEAK = 0.05
"""Height of the slit that make-up air is taken to leak in by, where no flap is drawn. [m]"""


@dataclass(frozen=True)
class RoomAir:
    """A scene of air and where in the room it is.

    Two are equal when the same air moves in the same place; assumptions do not count.

    Attributes
    ----------
    scene : AirScene
        With the lowest corner of ``box`` as its origin.
    box : Box
        In the room's axes. [m]
    cell, fine_cell, refined_cell : float
        Sides of cells for the first field, the one while idle, and the one on demand. [m]
    fans : tuple of str
        Ids of the circulation fans in it, in the order of the scene's.
    assumptions : tuple of Phrase
    """

    scene: AirScene
    box: Box
    cell: float
    fine_cell: float
    refined_cell: float
    fans: tuple[str, ...]
    assumptions: tuple[Phrase, ...] = field(default=(), compare=False)


def room_air(placement: Placement, fresh: Ventilation | None = None) -> RoomAir | None:
    """Return the air of a design.

    Parameters
    ----------
    placement : Placement
    fresh : Ventilation, optional
        As of `ventilation`; worked out where not given.

    Returns
    -------
    RoomAir or None
        None where nothing moves the air.
    """
    region = region_of(placement)
    if region is None:
        return None
    fans = [fan for fan in _running(placement) if region.holds(placement.box(fan.id).centre)]
    openings, told = _openings(placement, region, fresh or ventilation(placement))
    if not fans and not openings:
        return None
    made = AirScene(
        _local(region.box.hi, region.box),
        tuple(_fan(placement, fan, region.box) for fan in fans),
        tuple(_solids(placement, region.box)),
        tuple(_panels(placement, region.box)),
        openings,
    )
    first, fine, finer = _cells(region.box, fans)
    assumptions = (*region.assumptions, *told, *_larger(first))
    return RoomAir(made, region.box, first, fine, finer, tuple(f.id for f in fans), assumptions)


def ventilation(placement: Placement) -> Ventilation | None:
    """Return the fresh air of a design's enclosure; None without one."""
    enclosure = placement.design.enclosure
    if enclosure is None:
        return None
    fans = [fan for fan in placement.design.of(DuctFan) if fan.joins.count("enclosure") == 1]
    volume = placement.box(enclosure.id).volume
    return ventilation_of(enclosure, volume, fans, _flaps(placement.design))


def _flaps(design: Design) -> list[Opening]:
    """Return the openings between the enclosure and something else."""
    return [flap for flap in design.of(Opening) if flap.joins.count("enclosure") == 1]


def _running(placement: Placement) -> Iterator[Fan]:
    for fan in placement.design.of(Fan):
        if fan.flow * fan.speed_setting > 0:
            yield fan


def _fan(placement: Placement, fan: Fan, box: Box) -> flow.Fan:
    place = _local(placement.box(fan.id).centre, box)
    return flow.Fan(place, aim(fan), fan.diameter, fan.flow * fan.speed_setting, fan.sweep)


def _local(point: Vector, box: Box) -> Vector:
    """Return a point in a scene's own axes, held within it. [m]"""
    x, y, z = (
        min(max(_whole(p - lo), 0.0), _whole(side))
        for p, lo, side in zip(point, box.lo, box.size, strict=True)
    )
    return x, y, z


def _whole(length: float) -> float:
    """Return a length to the hundredth of a millimetre, so that scenes compare well. [m]"""
    return round(length, 5) + 0.0


def _solids(placement: Placement, region: Box) -> Iterator[flow.Solid]:
    """Iterate over what air cannot enter; it passes through the bodies of fans."""
    design, found = placement.design, solids_of(placement)
    stand = (
        Box(tuple(low), tuple(high))
        for part, low, high in zip(found.ids, found.low, found.high, strict=True)
        if not isinstance(design.by_id[part], Fan | DuctFan | Enclosure)
    )
    for box in chain(stand, beyond_walls(design.room)):
        common = box.overlap(region)
        if common is not None:
            yield flow.Solid(_local(common.lo, region), _local(common.hi, region))


def _panels(placement: Placement, region: Box) -> Iterator[flow.Panel]:
    """Iterate over wire shelves and platforms, which slow what passes through them."""
    for part in placement.design.parts:
        box = placement.box(part.id) if isinstance(part, ShelfUnit | Platform) else None
        if isinstance(part, ShelfUnit) and box is not None:
            for shelf in part.levels:
                if shelf.surface == "wire":
                    middle = box.lo[2] + shelf.z - shelf.thickness / 2
                    yield from _panel(box, middle, shelf.transmittance, region)
        elif isinstance(part, Platform) and box is not None and part.surface == "wire":
            yield from _panel(box, box.hi[2] - PLATE / 2, part.transmittance, region)


def _panel(box: Box, z: float, open_share: float, region: Box) -> Iterator[flow.Panel]:
    sheet = Box((*box.lo[:2], z - PLATE / 2), (*box.hi[:2], z + PLATE / 2)).overlap(region)
    if sheet is not None:
        lo, hi = _local(sheet.lo, region), _local(sheet.hi, region)
        yield flow.Panel(2, lo, hi, wire_loss(open_share or USUAL_OPEN_SHARE))


def wire_loss(open_share: float) -> float:
    """Return the pressure lost through wires over ½ ρ u², by the share of them that is open.

    References
    ----------
    .. [1] Idelchik, Handbook of Hydraulic Resistance, screens of round wire,
       1.3 (1 − f) + (1/f − 1)² (from memory).
    """
    share = max(open_share, 0.05)
    return round(1.3 * (1 - share) + (1 / share - 1) ** 2, 4)


def _openings(
    placement: Placement, region: Region, fresh: Ventilation | None
) -> tuple[tuple[flow.Opening, ...], tuple[Phrase, ...]]:
    """Return where fresh air comes in and leaves, in balance, and what was assumed for it."""
    if fresh is None or not fresh.driven or region.side != "enclosure":
        return (), ()
    driven = [_duct(placement, region, each) for each in fresh.fans if each.flow > 0]
    if any(opening is None for opening in driven):
        return (), (phrase("Duct fans in open faces are not counted in the flow"),)
    ducts = [opening for opening in driven if opening is not None]
    made_up, told = _made_up(placement, region, -sum(opening.flow for opening in ducts))
    return (*ducts, *made_up), told


def _duct(placement: Placement, region: Region, at_work: DuctFlow) -> flow.Opening | None:
    """Return a duct fan as a square hole of its own area in the face it is set into."""
    fan = placement.design.part(at_work.part)
    box = placement.box(fan.id)
    face = region.face_of(box)
    if face is None or not isinstance(fan, DuctFan):
        return None
    half = fan.diameter * math.sqrt(math.pi) / 4
    middle = _on_face(box.centre, face, region.box)
    return _hole(
        region.box,
        face,
        (middle[0] - half, middle[1] - half),
        (middle[0] + half, middle[1] + half),
        at_work.let_in,
    )


def _on_face(point: Vector, face: str, region: Box) -> tuple[float, float]:
    first, second = (axis for axis in range(3) if axis != FACES[face][0])
    return point[first] - region.lo[first], point[second] - region.lo[second]


def _hole(
    region: Box, face: str, lo: tuple[float, float], hi: tuple[float, float], through: float
) -> flow.Opening | None:
    """Return an opening cut to its face; None where nothing of it is left."""
    sides = [side for axis, side in enumerate(region.size) if axis != FACES[face][0]]
    low = [_whole(max(0.0, place)) for place in lo]
    high = [_whole(min(side, place)) for side, place in zip(sides, hi, strict=True)]
    if any(b - a < 1e-3 for a, b in zip(low, high, strict=True)):
        return None
    return flow.Opening(face, (low[0], low[1]), (high[0], high[1]), through)


def _made_up(
    placement: Placement, region: Region, lacking: float
) -> tuple[list[flow.Opening], tuple[Phrase, ...]]:
    """Return flaps, or else a slit, that let in what the fans lack (let out where below 0)."""
    if abs(lacking) < 1e-9:
        return [], ()
    boxes = [placement.box(flap.id) for flap in _flaps(placement.design)]
    holes = [hole for box in boxes for hole in _flap(box, region)]
    if holes:
        area = sum(hole.area for hole in holes)
        shared = [lacking * hole.area / area for hole in holes[:-1]]
        # The last takes the rest, so that all of them balance to the last digit.
        shared.append(lacking - sum(shared))
        made = [
            flow.Opening(hole.face, hole.lo, hole.hi, share)
            for hole, share in zip(holes, shared, strict=True)
        ]
        return made, ()
    slit = flow.Opening("front", (0.0, 0.0), (_whole(region.box.size[0]), LEAK), lacking)
    told = phrase(
        "Make-up air is taken to leak in along the foot of the front, no flap being drawn"
    )
    return [slit], (told,)


def _flap(box: Box, region: Region) -> Iterator[flow.Opening]:
    face = region.face_of(box)
    if face is not None:
        lo, hi = (_on_face(corner, face, region.box) for corner in box)
        hole = _hole(region.box, face, lo, hi, 1.0)
        if hole is not None:
            yield hole


def _cells(box: Box, fans: list[Fan]) -> tuple[float, float, float]:
    """Return the sides of cells for the three stages. [m]"""
    first = max(CELL, _side(box, MOST))
    small = min(box.size) < NARROW or any(fan.diameter <= SMALL_FAN for fan in fans)
    fine = min(max(FINER if small else FINE, _side(box, MOST_FINE)), first)
    return first, fine, min(max(FINER, _side(box, MOST_FINER)), fine)


def _side(box: Box, most: int) -> float:
    """Return the side of cells of which a box holds so many, to the next half centimetre. [m]"""
    return math.ceil((box.volume / most) ** (1 / 3) * 200 - 1e-9) / 200


def _larger(cell: float) -> Iterator[Phrase]:
    if cell > CELL:
        told = "Cells of {cell} are taken at first, the region being large"
        yield phrase(told, cell=Amount(cell, "length"))
