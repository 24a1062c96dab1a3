"""What every part of a design weighs when full, and what rests on what.

Judges nothing; limits are compared in `reading`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from core.model import AnyPart, Plants, Reservoir, ShelfUnit, Tray
from core.placement import Placement
from core.water.contents import reservoir_water, tray_water

WATER_DENSITY = 1000.0
"""[kg/m³]; the 0.3 % that room temperature takes off is far inside the uncertainty."""

LAMP_MASS_PER_WATT = 0.03
"""Taken for lamps whose mass nobody gave. [kg/W], common practice, no source."""

TRAY_MASS_PER_AREA = 1.5
"""Taken for empty trays whose mass nobody gave. [kg/m²], common practice, no source."""


@dataclass(frozen=True)
class Load:
    """What one part adds to what it rests on: itself and its water or pots. [kg]

    ``taken`` says that its own mass was assumed.
    """

    part: AnyPart
    empty: float
    contents: float
    taken: bool

    @property
    def total(self) -> float:
        """[kg]"""
        return self.empty + self.contents


def load_of(placement: Placement, part: AnyPart) -> Load:
    """Return a part's own load, without what it carries."""
    empty = part.own_mass or _usual_mass(part)
    return Load(part, empty, _contents(placement, part), taken=part.mass == 0 and empty > 0)


def _usual_mass(part: AnyPart) -> float:
    if part.kind == "lamp":
        return part.watts * part.count * LAMP_MASS_PER_WATT
    if isinstance(part, Tray):
        return part.width * part.depth * TRAY_MASS_PER_AREA
    return 0.0


def _contents(placement: Placement, part: AnyPart) -> float:
    if isinstance(part, Tray):
        return tray_water(placement, part) * WATER_DENSITY
    if isinstance(part, Reservoir):
        return reservoir_water(part) * WATER_DENSITY
    if isinstance(part, Plants) and part.pots:
        pots = part.pots
        return pots.count * math.pi / 4 * pots.diameter**2 * pots.height * pots.density
    return 0.0


def resting_on(placement: Placement, unit: ShelfUnit, level: int) -> tuple[Load, ...]:
    """Return the loads on one shelf: what stands on it, hangs under it, and all these carry."""
    held = [
        part
        for part in placement.design.parts
        if part.place.host == unit.id and part.place.level == level
    ]
    return loads(placement, with_carried(placement, held))


def with_carried(placement: Placement, parts: Iterable[AnyPart]) -> list[AnyPart]:
    """Return the parts and all they carry."""
    design = placement.design
    return [found for part in parts for found in (part, *design.carried(part.id))]


def loads(placement: Placement, parts: Iterable[AnyPart]) -> tuple[Load, ...]:
    """Return the own loads of several parts."""
    return tuple(load_of(placement, part) for part in parts)


def total(found: Iterable[Load]) -> float:
    """[kg]"""
    return sum(load.total for load in found)
