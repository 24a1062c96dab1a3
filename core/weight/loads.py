"""What every part of a design weighs when full, and what rests on what.

Judges nothing; limits are compared in `reading`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from core.materials.stock import FRAME_STOCK, FRAME_STOCK_UNKNOWN
from core.model import AnyPart, Enclosure, Fogger, Plants, Reservoir, Sheet, ShelfUnit, Tray
from core.placement import Placement
from core.water.contents import reservoir_water, tray_water

WATER_DENSITY = 1000.0
"""[kg/m³]; the 0.3 % that room temperature takes off is far inside the uncertainty."""

LAMP_MASS_PER_WATT = 0.03
"""Taken for lamps whose mass nobody gave. [kg/W], common practice, no source."""

TRAY_MASS_PER_AREA = 1.5
"""Taken for empty trays whose mass nobody gave. [kg/m²], common practice, no source."""


SHEET_DENSITIES = {"glass": 2500.0, "acrylic": 1190.0, "plywood": 500.0, "board": 30.0}
"""By the first word of a sheet's catalogue entry: EN ISO 10456, one number for foam boards of all
kinds, which the ASHRAE handbook has from 20 to 65 (secondary copies). [kg/m³]"""

FILM_DENSITY, THICKEST_FILM = 950.0, 0.0003
"""Any other sheet counts as plastic film, layers of air not counted. [kg/m³, m]"""


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

    @property
    def dry(self) -> float:
        """Without the water that is used up between refills. [kg]"""
        wet = isinstance(self.part, Tray | Reservoir | Fogger)
        return self.empty if wet else self.total


@dataclass(frozen=True)
class Shares:
    """What a load is made of; lamps with their hangers, ``shelf`` itself where given. [kg]"""

    water: float = 0.0
    pots: float = 0.0
    trays: float = 0.0
    lamps: float = 0.0
    others: float = 0.0
    shelf: float = 0.0

    @property
    def total(self) -> float:
        """[kg]"""
        return self.water + self.pots + self.trays + self.lamps + self.others + self.shelf


def shares(found: Iterable[Load], shelf: float = 0.0) -> Shares:
    """Return what loads are made of, and the shelf's own mass with them. [kg]"""
    sums = dict.fromkeys(("water", "pots", "trays", "lamps", "others"), 0.0)
    for load in found:
        contents = "pots" if isinstance(load.part, Plants) else "water"
        sums[contents] += load.contents
        sums[_OWN.get(load.part.kind, "others")] += load.empty
    return Shares(**sums, shelf=shelf)


_OWN = {"plants": "pots", "tray": "trays", "lamp": "lamps"}


def load_of(placement: Placement, part: AnyPart) -> Load:
    """Return a part's own load, without what it carries."""
    given = part.own_mass
    if isinstance(part, ShelfUnit):
        given = max(given, sum(shelf.mass or 0.0 for shelf in part.levels))
    empty = given or _usual_mass(part)
    return Load(part, empty, _contents(placement, part), taken=given == 0 and empty > 0)


def _usual_mass(part: AnyPart) -> float:
    if part.kind == "lamp":
        return part.watts * part.count * LAMP_MASS_PER_WATT
    if isinstance(part, Tray):
        return part.width * part.depth * TRAY_MASS_PER_AREA
    return _enclosure_mass(part) if isinstance(part, Enclosure) else 0.0


def _enclosure_mass(box: Enclosure) -> float:
    """Return the usual mass of an enclosure's frame and covers, without its floor liner. [kg]"""
    stock = FRAME_STOCK.get(box.frame.catalogue or "", FRAME_STOCK_UNKNOWN)
    length = 4 * (box.width + box.depth + box.height) + box.frame.extra_uprights * box.height
    covers = sum(
        math.prod(box.face_size(cover.face)) * _mass_per_area(cover.sheet) for cover in box.covers
    )
    return length * stock.area(box.frame.member) * stock.density + covers


def _mass_per_area(sheet: Sheet) -> float:
    """[kg/m²]"""
    density = SHEET_DENSITIES.get((sheet.catalogue or "").partition("-")[0])
    if density is None:
        return min(sheet.thickness, THICKEST_FILM) * FILM_DENSITY
    return sheet.thickness * density


def _contents(placement: Placement, part: AnyPart) -> float:
    if isinstance(part, Tray):
        return tray_water(placement, part) * WATER_DENSITY
    if isinstance(part, Reservoir):
        return reservoir_water(part) * WATER_DENSITY
    if isinstance(part, Fogger):
        return part.tank * WATER_DENSITY
    if isinstance(part, Plants) and part.pots:
        pots = part.pots
        return pots.count * math.pi / 4 * pots.diameter**2 * pots.height * pots.density
    return 0.0


def resting_on(placement: Placement, unit: ShelfUnit, level: int) -> tuple[Load, ...]:
    """Return the loads on one shelf: what stands on it, hangs under it, and all these carry."""
    on_unit = placement.design.held.get(unit.id, ())
    held = [part for part in on_unit if part.place.level == level]
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
