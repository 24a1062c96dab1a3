"""What stops a jet: the solid boxes of a design, and lines of sight between them.

Wire shelves, plants and frames let air through here; the flow of a whole enclosure is another
matter.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.air.flow.scene import FACES
from core.geometry import Box, Vector
from core.light.sheets import turned_face
from core.model import (
    AnyPart,
    Cooler,
    DuctFan,
    Enclosure,
    Fan,
    Fogger,
    Heater,
    Lamp,
    Obstacle,
    Platform,
    Reservoir,
    ShelfUnit,
    Strip,
    Tray,
)
from core.placement import PLATE, Placement

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

WHOLE = (Tray, Reservoir, Fogger, Cooler, Heater, Fan, DuctFan, Lamp, Strip)
"""Parts whose whole box stops air."""

_SKIN = 1e-5
"""Boxes are drawn in by this much, so that what only touches them is free. [m]"""

_ENDS = (1e-6, 1 - 1e-6)
"""Part of a line on which a box counts."""


@dataclass(frozen=True, eq=False)
class Solids:
    """Boxes that air cannot pass, with the part each belongs to.

    Attributes
    ----------
    ids : tuple of str
    low, high : ndarray, shape (solids, 3)
        [m]
    """

    ids: tuple[str, ...]
    low: Floats
    high: Floats

    def but(self, part_id: str) -> Solids:
        """Return the solids without those of one part."""
        keep = np.array([other != part_id for other in self.ids], dtype=bool)
        ids = tuple(other for other in self.ids if other != part_id)
        return Solids(ids, self.low[keep], self.high[keep])

    def clear(self, origin: Vector, points: Floats) -> Flags:
        """Tell which points can be seen from a place, shape (points,)."""
        if not self.ids or not len(points):
            return np.ones(len(points), dtype=bool)
        way = points - np.array(origin)
        enter, leave = _crossing(np.array(origin), way, self.low, self.high, *_ENDS)
        stopped: Flags = np.asarray((enter <= leave).any(axis=1))
        return ~stopped

    def first_hit(self, origin: Vector, direction: Vector, reach: float) -> tuple[float, str]:
        """Return how far a ray gets, at most ``reach``, and what stops it ("" for nothing). [m]"""
        if not self.ids:
            return reach, ""
        way = np.array([direction]) * reach
        enter, leave = _crossing(np.array(origin), way, self.low, self.high, 0.0, 1.0)
        met = np.where(enter <= leave, enter, np.inf)[0]
        nearest = int(np.argmin(met))
        if np.isinf(met[nearest]):
            return reach, ""
        return float(met[nearest]) * reach, self.ids[nearest]


def _crossing(
    origin: Floats, way: Floats, low: Floats, high: Floats, first: float, last: float
) -> tuple[Floats, Floats]:
    """Return where lines enter and leave boxes, as shares of their length, (lines, boxes)."""
    steep = np.where(np.abs(way) < 1e-12, 1e-12, way)[:, None, :]
    a, b = (low - origin) / steep, (high - origin) / steep
    enter = np.maximum(np.minimum(a, b).max(axis=2), first)
    leave = np.minimum(np.maximum(a, b).min(axis=2), last)
    return enter, leave


def solids_of(placement: Placement) -> Solids:
    """Return everything in a design that stops a jet, fixtures of the room included."""
    found = list(_solids(placement))
    ids = tuple(part_id for part_id, _ in found)
    low = np.array([box.lo for _, box in found], dtype=float).reshape(-1, 3) + _SKIN
    high = np.array([box.hi for _, box in found], dtype=float).reshape(-1, 3) - _SKIN
    return Solids(ids, low, high)


def _solids(placement: Placement) -> Iterator[tuple[str, Box]]:
    for fixture in placement.design.room.fixtures:
        if isinstance(fixture, Obstacle):
            yield fixture.id, placement.box(fixture.id)
    for part in placement.design.parts:
        for box in _boxes(part, placement):
            yield part.id, box


def _boxes(part: AnyPart, placement: Placement) -> Iterator[Box]:
    box = placement.box(part.id)
    if isinstance(part, WHOLE):
        yield box
    elif isinstance(part, ShelfUnit):
        for shelf in part.levels:
            if shelf.surface == "solid":
                yield _slab(box, box.lo[2] + shelf.z, shelf.thickness)
        turn = placement.frame(part.id).turn
        for lining in part.linings:
            if lining.area is None:
                yield _wall(box, turned_face(lining.side, turn))
    elif isinstance(part, Platform) and part.surface == "solid":
        yield _slab(box, box.hi[2], PLATE)
    elif isinstance(part, Enclosure):
        yield from (_wall(box, cover.face) for cover in part.covers)


def _slab(box: Box, top: float, thickness: float) -> Box:
    return Box((box.lo[0], box.lo[1], top - thickness), (box.hi[0], box.hi[1], top))


def _wall(box: Box, face: str) -> Box:
    """Return a face as a thin sheet outside a box. [m]"""
    axis, upper = FACES[face]
    lo, hi = list(box.lo), list(box.hi)
    if upper:
        lo[axis], hi[axis] = box.hi[axis], box.hi[axis] + 0.01
    else:
        hi[axis], lo[axis] = box.lo[axis], box.lo[axis] - 0.01
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))
