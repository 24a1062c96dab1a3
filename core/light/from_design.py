"""A design's lamps and what stands in their way, as the engine's own plain objects.

Where light is read at is in `core.light.maps`; nothing here computes light.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from core.geometry import Box, Vector
from core.light.distribution import Distribution
from core.light.lamp_light import face, photon_flux, spread
from core.light.obstacles import NOBODY, Obstacles, boxes
from core.light.output import PhotonFlux
from core.light.scene import Lamp as Source
from core.model import (
    AnyPart,
    Cooler,
    Design,
    DuctFan,
    Enclosure,
    Face,
    Fan,
    Fogger,
    Heater,
    Lamp,
    Obstacle,
    Platform,
    Reservoir,
    ShelfUnit,
    Strip,
    Timer,
    Tray,
)
from core.placement import PLATE, Placement

SOLID = (Reservoir, Fogger, Cooler, Heater, Fan, DuctFan, Strip, Timer)
"""Parts whose whole box stops light."""

TRAY_FLOOR = 0.003
"""Thickness taken for a tray's floor; rims cast no shade here. [m]"""


@dataclass(frozen=True)
class LampSource:
    """A lamp of the design as the engine sees it.

    Attributes
    ----------
    part : Lamp
    sources : tuple of Source
        For each lamp of its row, at full power, one, or two that shine down and up.
    flux : PhotonFlux
        Of one lamp.
    """

    part: Lamp
    sources: tuple[Source, ...]
    flux: PhotonFlux

    @property
    def ppf(self) -> float:
        """Photons of the whole row at full power. [µmol s⁻¹]"""
        return self.flux.value * self.part.count


def lamp_sources(placement: Placement) -> tuple[LampSource, ...]:
    """Return every lamp of a design, in the order of its parts."""
    return tuple(_lamp_source(lamp, placement) for lamp in placement.design.of(Lamp))


def _lamp_source(lamp: Lamp, placement: Placement) -> LampSource:
    flux = photon_flux(lamp)
    turn = placement.frame(lamp.id).turn
    direction = _direction(lamp.tilt, turn)
    middles = tuple(
        _lit(middle, direction, lamp.height)
        for middle in _middles(lamp, placement.box(lamp.id), turn)
    )
    sources = _sources(middles, face(lamp), flux.value, direction, 90.0 * turn, spread(lamp))
    return LampSource(lamp, sources, flux)


@lru_cache(maxsize=512)
def _sources(
    middles: tuple[Vector, ...],
    sides: tuple[float, float],
    flux: float,
    direction: Vector,
    roll: float,
    shape: Distribution | None,
) -> tuple[Source, ...]:
    """Return the lamps of a row; the same objects for a row that has stayed as it was.

    A lamp that shines upwards too is two, back to back.
    """
    lamps = (Source(middle, sides, flux, direction, roll, shape) for middle in middles)
    return tuple(half for lamp in lamps for half in lamp.halves())


def _middles(lamp: Lamp, box: Box, turn: int) -> Iterator[Vector]:
    """Iterate over the middles of a row's lamps. [m]"""
    x, y, z = box.centre
    for index in range(lamp.count):
        across = (index - (lamp.count - 1) / 2) * lamp.spacing
        yield (x + across, y, z) if turn % 2 else (x, y + across, z)


def _direction(tilt: float, turn: int) -> Vector:
    """Return where a lamp points: down, tilted about its long axis towards its back."""
    back, down = math.sin(math.radians(tilt)), -math.cos(math.radians(tilt))
    x, y = ((0.0, back), (-back, 0.0), (0.0, -back), (back, 0.0))[turn % 4]
    return x, y, down


def _lit(middle: Vector, direction: Vector, height: float) -> Vector:
    """Return the middle of the lit face of a lamp with this middle. [m]"""
    x, y, z = (m + d * height / 2 for m, d in zip(middle, direction, strict=True))
    return x, y, z


@dataclass(frozen=True)
class Shade:
    """One box that stands in the way: its place, what passes, and the lamp it belongs to."""

    box: Box
    transmittance: float = 0.0
    owner: int = NOBODY


def shades_of(placement: Placement) -> tuple[Shade, ...]:
    """Return everything in a design that stops light, fixtures of the room included."""
    return tuple(_shades(placement))


def as_obstacles(shades: Sequence[Shade]) -> Obstacles:
    """Return shades as arrays."""
    return boxes(
        [shade.box.lo for shade in shades],
        [shade.box.hi for shade in shades],
        [shade.transmittance for shade in shades],
        [shade.owner for shade in shades],
    )


def _shades(placement: Placement) -> Iterator[Shade]:
    design = placement.design
    for fixture in design.room.fixtures:
        if isinstance(fixture, Obstacle):
            yield Shade(placement.box(fixture.id))
    for part in design.parts:
        yield from _shades_of(part, placement)
    yield from _bodies(design, placement)


def _shades_of(part: AnyPart, placement: Placement) -> Iterator[Shade]:
    box = placement.box(part.id)
    if isinstance(part, ShelfUnit):
        yield from _shelves(part, box)
        yield from _unit_linings(part, box, placement.frame(part.id).turn)
    elif isinstance(part, Platform):
        passing = part.transmittance if part.surface == "wire" else 0.0
        yield Shade(_slab(box, box.hi[2], PLATE), passing)
    elif isinstance(part, Tray):
        yield Shade(_slab(box, box.lo[2] + TRAY_FLOOR, TRAY_FLOOR))
    elif isinstance(part, Enclosure):
        for cover in part.covers:
            yield Shade(_side(box, cover.face), cover.sheet.transmittance)
    elif isinstance(part, SOLID):
        yield Shade(box)


def _bodies(design: Design, placement: Placement) -> Iterator[Shade]:
    """Iterate over the lamps' casings, one for each lamp of a row, owned by the row's number."""
    for number, lamp in enumerate(design.of(Lamp)):
        box, turn = placement.box(lamp.id), placement.frame(lamp.id).turn
        half = (lamp.depth / 2, lamp.width / 2) if turn % 2 else (lamp.width / 2, lamp.depth / 2)
        for x, y, _ in _middles(lamp, box, turn):
            lo = (x - half[0], y - half[1], box.lo[2])
            yield Shade(Box(lo, (x + half[0], y + half[1], box.hi[2])), 0.0, number)


def _shelves(unit: ShelfUnit, box: Box) -> Iterator[Shade]:
    for shelf in unit.levels:
        passing = shelf.transmittance if shelf.surface == "wire" else 0.0
        yield Shade(_slab(box, box.lo[2] + shelf.z, shelf.thickness), passing)


def _slab(box: Box, top: float, thickness: float) -> Box:
    return Box((box.lo[0], box.lo[1], top - thickness), (box.hi[0], box.hi[1], top))


_TURNED: tuple[Face, ...] = ("front", "right", "back", "left")


def turned_face(side: Face, turn: int) -> Face:
    """Return where a part's side points after quarter turns."""
    return _TURNED[(_TURNED.index(side) + turn) % 4]


def _unit_linings(unit: ShelfUnit, box: Box, turn: int) -> Iterator[Shade]:
    for lining in unit.linings:
        if lining.area is None:
            yield Shade(_side(box, turned_face(lining.side, turn)), lining.sheet.transmittance)


def _side(box: Box, face: str) -> Box:
    """Return one face of a box as a sheet without thickness."""
    axis, high = {
        "left": (0, False),
        "right": (0, True),
        "front": (1, False),
        "back": (1, True),
        "bottom": (2, False),
        "top": (2, True),
    }[face]
    at = box.hi[axis] if high else box.lo[axis]
    lo, hi = list(box.lo), list(box.hi)
    lo[axis] = hi[axis] = at
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))
