"""What reflections may add to the direct light of a zone: an upper estimate, not a computation.

It widens the stated uncertainty while inter-reflection is not computed.
"""

from __future__ import annotations

from core.light.from_design import turned_face
from core.model import Enclosure, Face, ShelfUnit
from core.placement import Level, Placement

CANOPY_REFLECTANCE = 0.08
"""Of planted trays (DESIGN: 0.05 to 0.1). [0–1]"""

OPEN_WALL = 0.0
"""Reflectance taken for a side that nothing closes: light leaves there. [0–1]"""

_SIDES: tuple[Face, ...] = ("left", "right", "front", "back")


def reflected_at_most(placement: Placement, level: Level, flux: float) -> float:
    """Return the mean light that reflections may add over a level.

    The space above the level up to the next shelf is taken as a closed box whose walls are those
    of the enclosure, lined as they are: the flux once spread over its surface S gives
    Φ/S · ρ/(1 - ρ). Real light mostly falls on leaves at once, so less comes back.

    Parameters
    ----------
    placement : Placement
    level : Level
    flux : float
        Of the lamps that belong to the level, at their dimming. [µmol s⁻¹]

    Returns
    -------
    float
        [µmol m⁻² s⁻¹]

    References
    ----------
    .. [1] Integrating sphere, first and later reflections; CIE 171:2006, test 5.8 (from memory).
    """
    width, depth = level.area.width, level.area.height
    height = max(level.above - level.z, 0.05)
    sides = {"left": depth, "right": depth, "front": width, "back": width}
    floor = width * depth
    weighed = floor * CANOPY_REFLECTANCE + floor * _overhead(placement, level)
    weighed += sum(sides[face] * height * _side(placement, level, face) for face in _SIDES)
    surface = 2 * floor + sum(sides.values()) * height
    mean = min(weighed / surface, 0.95)
    return flux / surface * mean / (1 - mean)


def _overhead(placement: Placement, level: Level) -> float:
    """Return the reflectance of what is above a level: the next shelf, or the enclosure's top."""
    unit = placement.design.by_id.get(level.host)
    if isinstance(unit, ShelfUnit) and level.number < len(unit.levels):
        shelf = unit.levels[level.number]
        closed = 1.0 - shelf.transmittance if shelf.surface == "wire" else 1.0
        return shelf.reflectance * closed
    return _face(placement, level.host, "top")


def _side(placement: Placement, level: Level, face: Face) -> float:
    unit = placement.design.by_id.get(level.host)
    if isinstance(unit, ShelfUnit):
        turn = placement.frame(unit.id).turn
        own = [
            lining.sheet.reflectance
            for lining in unit.linings
            if turned_face(lining.side, turn) == face
        ]
        if own:
            return max(own)
    return _face(placement, level.host, face)


def _face(placement: Placement, host: str, face: Face) -> float:
    """Return the best reflectance on a face of the enclosure round a part."""
    enclosure = placement.design.enclosure
    if enclosure is None or not (host == enclosure.id or placement.inside(host)):
        return OPEN_WALL
    found = [lining.sheet.reflectance for lining in enclosure.linings if lining.face == face]
    return max(found, default=_cover(enclosure, face))


def _cover(enclosure: Enclosure, face: Face) -> float:
    cover = enclosure.cover(face)
    return cover.sheet.reflectance if cover else OPEN_WALL
