"""Clearances that heat asks for: leaves below lamps, covers beside heaters and hot lamps.

How wide they should be is in `standards`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.geometry import Box
from core.model import Enclosure, Face, Heater, Lamp
from core.placement import Placement

_AXIS: dict[Face, int] = {"left": 0, "right": 0, "front": 1, "back": 1, "bottom": 2, "top": 2}


@dataclass(frozen=True)
class Drop:
    """The leaves nearest below a lamp on one carrier; ``gap`` from the highest leaf. [m]"""

    plants: str
    lamp: str
    gap: float
    at: tuple[float, float]
    top: float


@dataclass(frozen=True)
class Heat:
    """A heater, how far the nearest cover is, and which. [m]"""

    heater: str
    gap: float
    face: Face


def drops(placement: Placement) -> Iterator[Drop]:
    """Iterate over the least gap between leaves and a lamp above them, one for each carrier.

    Leaves that reach into a lamp are overlaps and not told here.
    """
    lamps = [(lamp, placement.box(lamp.id)) for lamp in placement.design.of(Lamp)]
    best: dict[str, Drop] = {}
    for zone in placement.zones:
        host = zone.level[0] if zone.level else ""
        for lamp, box in lamps:
            common = zone.area.overlap(box.footprint)
            gap = box.lo[2] - zone.high
            if common is not None and gap >= 0 and (host not in best or gap < best[host].gap):
                best[host] = Drop(zone.part.id, lamp.id, gap, common.centre, zone.high)
    yield from best.values()


def heats(placement: Placement) -> Iterator[Heat]:
    """Iterate over heaters that give off heat into air, each with the nearest cover."""
    for heater in placement.design.of(Heater):
        if heater.style != "mat" and heater.watts > 0:
            found = nearest_sheet(placement, placement.box(heater.id))
            if found is not None:
                yield Heat(heater.id, *found)


def nearest_sheet(placement: Placement, box: Box) -> tuple[float, Face] | None:
    """Return how far a box is from the nearest cover of the enclosure, and which. [m]"""
    enclosure = placement.design.enclosure
    if enclosure is None:
        return None
    outer = placement.box(enclosure.id)
    return min(
        ((box_gap(box, _sheet(outer, face)), face) for face in _sheeted(enclosure)), default=None
    )


def _sheeted(enclosure: Enclosure) -> list[Face]:
    return [cover.face for cover in enclosure.covers if cover.face != "bottom"]


def _sheet(box: Box, face: Face) -> Box:
    """Return one face of a box as a box without thickness."""
    axis = _AXIS[face]
    at = box.lo[axis] if face in ("left", "front", "bottom") else box.hi[axis]
    lo, hi = list(box.lo), list(box.hi)
    lo[axis] = hi[axis] = at
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def box_gap(a: Box, b: Box) -> float:
    """Return the shortest distance between two boxes, 0 when they touch or overlap. [m]"""
    apart = [max(a.lo[i] - b.hi[i], b.lo[i] - a.hi[i], 0.0) for i in range(3)]
    return float(sum(length**2 for length in apart) ** 0.5)
