"""A design's lamps and what stands in their way, as the engine's own plain objects.

Where light is read at is in `core.light.maps`; nothing here computes light.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from core.geometry import Box, Vector
from core.language import tr
from core.light.distribution import Distribution, beam_exponent, cosine_power
from core.light.obstacles import NOBODY, Obstacles, boxes
from core.light.output import (
    LIGHTS,
    LampLight,
    PhotonFlux,
    flux_from_lumens,
    flux_from_ppf,
    flux_from_reading,
    flux_from_watts,
)
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
    FromFlux,
    FromLumens,
    FromReading,
    FromWatts,
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

_KINDS_OF_LIGHT = {
    "white-led-2700k": "led-warm",
    "white-led-3000k": "led-warm",
    "white-led-4000k": "led-neutral",
    "white-led-5000k": "led-cool",
    "white-led-6500k": "led-cool",
}
_USUAL_LIGHT = "led-neutral"


@dataclass(frozen=True)
class LampSource:
    """A lamp of the design as the engine sees it.

    Attributes
    ----------
    part : Lamp
    sources : tuple of Source
        One for each lamp of its row, at full power.
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
    sources = _sources(middles, _face(lamp), flux.value, direction, 90.0 * turn, _spread(lamp))
    return LampSource(lamp, sources, flux)


@lru_cache(maxsize=512)
def _sources(
    middles: tuple[Vector, ...],
    face: tuple[float, float],
    flux: float,
    direction: Vector,
    roll: float,
    spread: Distribution | None,
) -> tuple[Source, ...]:
    """Return the lamps of a row; the same objects for a row that has stayed as it was."""
    return tuple(Source(middle, face, flux, direction, roll, spread) for middle in middles)


def _face(lamp: Lamp) -> tuple[float, float]:
    """Return the lit face's sides: a board's rectangle, a tube's line, a spot's point. [m]"""
    sides = {"board": (lamp.width, lamp.depth), "tube": (lamp.width, 0.0)}
    return sides.get(lamp.form, (0.0, 0.0))


def _spread(lamp: Lamp) -> Distribution | None:
    return _beam(lamp.half_angle) if lamp.form == "spot" else None


@lru_cache(maxsize=64)
def _beam(half_angle: float) -> Distribution:
    return cosine_power(beam_exponent(half_angle))


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


@lru_cache(maxsize=256)
def _flux_by_reading(
    output: FromReading, face: tuple[float, float], half_angle: float | None
) -> PhotonFlux:
    spread = _beam(half_angle) if half_angle is not None else None
    lamp = Source((0.0, 0.0, 0.0), face, 1.0, distribution=spread)
    if output.ppfd is not None:
        return flux_from_reading(lamp, output.distance, ppfd=output.ppfd)
    light, assumed = light_named(output.spectrum)
    found = flux_from_reading(lamp, output.distance, lux=output.lux, light=light)
    return _with_words(found, assumed)


def photon_flux(lamp: Lamp) -> PhotonFlux:
    """Return the photon flux of one lamp at full power, by whatever the grower entered."""
    output = lamp.output
    if isinstance(output, FromWatts):
        return flux_from_watts(lamp.watts, output.efficacy, assumed=lamp.catalogue is None)
    if isinstance(output, FromFlux):
        return flux_from_ppf(output.ppf)
    if isinstance(output, FromLumens):
        light, assumed = light_named(output.spectrum)
        return _with_words(flux_from_lumens(output.lumens, light), assumed)
    if output.ppfd is None and output.lux is None:
        return PhotonFlux(0.0, 0.0, tr("No meter reading is entered, so no light is counted"))
    return _flux_by_reading(output, _face(lamp), lamp.half_angle if lamp.form == "spot" else None)


def light_named(spectrum: str) -> tuple[LampLight, str]:
    """Return a kind of light by its key, and what had to be assumed for an unknown one."""
    key = _KINDS_OF_LIGHT.get(spectrum, spectrum)
    if key in LIGHTS:
        return LIGHTS[key], ""
    return LIGHTS[_USUAL_LIGHT], tr("the spectrum “{name}” is not known here").format(name=spectrum)


def _with_words(flux: PhotonFlux, more: str) -> PhotonFlux:
    words = "; ".join(part for part in (flux.assumption, more) if part)
    return PhotonFlux(flux.value, flux.uncertainty, words)


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
