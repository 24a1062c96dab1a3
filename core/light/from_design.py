"""A design's lamps and what stands in their way, as the engine's own plain objects.

Where light is read at is in `core.light.maps`; nothing here computes light.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.geometry import Box, Vector
from core.light.distribution import Distribution
from core.light.lamp_light import face, photon_flux, spread
from core.light.obstacles import NOBODY, Obstacles, Plate, boxes, with_panels
from core.light.output import PhotonFlux
from core.light.scene import Lamp as Source
from core.light.sheets import enclosure_pieces, unit_pieces
from core.model import (
    AnyPart,
    Cooler,
    DuctFan,
    Fan,
    Fogger,
    Heater,
    Lamp,
    Obstacle,
    Platform,
    Reservoir,
    Shelf,
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
    bodies : tuple of Source
        The lamps of its row, each whole.
    flux : PhotonFlux
        Of one lamp.
    """

    part: Lamp
    sources: tuple[Source, ...]
    bodies: tuple[Source, ...]
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
    bodies = _bodies_of(middles, face(lamp), flux.value, direction, 90.0 * turn, spread(lamp))
    return LampSource(lamp, _sources(bodies), bodies, flux)


@lru_cache(maxsize=512)
def _bodies_of(
    middles: tuple[Vector, ...],
    sides: tuple[float, float],
    flux: float,
    direction: Vector,
    roll: float,
    shape: Distribution | None,
) -> tuple[Source, ...]:
    """Return the lamps of a row; the same objects for a row that has stayed as it was."""
    return tuple(Source(middle, sides, flux, direction, roll, shape) for middle in middles)


@lru_cache(maxsize=512)
def _sources(bodies: tuple[Source, ...]) -> tuple[Source, ...]:
    """Return what shines in a row: a lamp that shines upwards too is two, back to back."""
    return tuple(half for body in bodies for half in body.halves())


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
    """One thing that stands in the way: its place, what passes, and the lamp it belongs to.

    A tilted plate also has its ``panel``: one corner and its two sides; ``box`` is then round it.
    """

    box: Box
    transmittance: float = 0.0
    owner: int = NOBODY
    panel: Plate | None = None


def shades_of(placement: Placement) -> tuple[Shade, ...]:
    """Return everything in a design that stops light, fixtures of the room included."""
    return tuple(_shades(placement))


def as_obstacles(shades: Sequence[Shade]) -> Obstacles:
    """Return shades as arrays."""
    straight = [shade for shade in shades if shade.panel is None]
    tilted = [shade for shade in shades if shade.panel is not None]
    found = boxes(
        [shade.box.lo for shade in straight],
        [shade.box.hi for shade in straight],
        [shade.transmittance for shade in straight],
        [shade.owner for shade in straight],
    )
    return with_panels(found, [(s.panel, s.transmittance, s.owner) for s in tilted if s.panel])


def _shades(placement: Placement) -> Iterator[Shade]:
    design = placement.design
    for fixture in design.room.fixtures:
        if isinstance(fixture, Obstacle):
            yield Shade(placement.box(fixture.id))
    for part in design.parts:
        yield from _shades_of(part, placement)
    for piece in (*enclosure_pieces(placement), *unit_pieces(placement)):
        yield Shade(piece.box, piece.make.transmittance)
    for number, lamp in enumerate(lamp_sources(placement)):
        yield from _bodies(lamp, number)


def _shades_of(part: AnyPart, placement: Placement) -> Iterator[Shade]:
    box = placement.box(part.id)
    if isinstance(part, ShelfUnit):
        yield from _shelves(part, box)
    elif isinstance(part, Platform):
        yield Shade(_slab(box, box.hi[2], PLATE), passing(part))
    elif isinstance(part, Tray):
        yield Shade(_slab(box, box.lo[2] + TRAY_FLOOR, TRAY_FLOOR))
    elif isinstance(part, SOLID):
        yield Shade(box)


def _bodies(lamp: LampSource, number: int) -> Iterator[Shade]:
    """Iterate over the lamps' casings, one for each lamp of a row, owned by the row's number.

    A tilted one is taken as a plate through its middle.
    """
    half = lamp.part.height / 2
    for plate in casings(lamp):
        low, high = _round(plate)
        if lamp.part.tilt == 0:
            low, high = (*low[:2], low[2] - half), (*high[:2], high[2] + half)
        yield Shade(Box(low, high), 0.0, number, plate if lamp.part.tilt else None)


def _round(plate: Plate) -> tuple[Vector, Vector]:
    """Return the lowest and the highest corner of a plate. [m]"""
    spans = list(zip(*plate, strict=True))
    low = [at + min(u, 0.0) + min(v, 0.0) for at, u, v in spans]
    high = [at + max(u, 0.0) + max(v, 0.0) for at, u, v in spans]
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def casings(lamp: LampSource) -> tuple[Plate, ...]:
    """Return the casing of each lamp of a row, as a plate through its middle. [m]"""
    part = lamp.part
    return tuple(_casing(body, part.width, part.depth, part.height) for body in lamp.bodies)


@lru_cache(maxsize=512)
def _casing(body: Source, width: float, depth: float, height: float) -> Plate:
    across, along, ahead = body.axes()
    u, v = across * width, along * depth
    corner = np.array(body.centre) - ahead * height / 2 - u / 2 - v / 2
    x, y, z = ((float(a), float(b), float(c)) for a, b, c in (corner, u, v))
    return x, y, z


def _shelves(unit: ShelfUnit, box: Box) -> Iterator[Shade]:
    for shelf in unit.levels:
        yield Shade(_slab(box, box.lo[2] + shelf.z, shelf.thickness), passing(shelf))


def passing(plate: Shelf | Platform) -> float:
    """Return the share of the light that passes a shelf or a platform: only wire lets any. [0–1]"""
    return plate.transmittance if plate.surface == "wire" else 0.0


def _slab(box: Box, top: float, thickness: float) -> Box:
    return Box((box.lo[0], box.lo[1], top - thickness), (box.hi[0], box.hi[1], top))
