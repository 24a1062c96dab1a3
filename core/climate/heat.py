"""Faces, openings and duct fans of an enclosure, and what of a lamp's power is what.

Turns parts into numbers for `from_design`; what they do to the air is worked out elsewhere.
"""

from __future__ import annotations

from core.geometry import Box
from core.model import FACES, Design, DuctFan, Enclosure, Face

USUAL_U = 4.16
"""Taken for a cover without a U-value: one thin film between two still-air films. [W/(m² K)]"""

FLOOR_U = 1.5
"""Taken for the floor below: a still-air film, liner and the room's own floor, which is at room
temperature (common practice, no source). [W/(m² K)]"""

DRIVER_SHARE = 0.12
"""Share of a lamp's power that its driver turns into heat (common practice, no source)."""

LIGHT_SHARE = 0.45
"""Share of a lamp's power that leaves it as light, for white LED of unknown flux (common practice,
no source)."""

PHOTONS_PER_JOULE = 4.6
"""Of white light. [µmol/J] (McCree 1972, from memory)"""


def open_sides(enclosure: Enclosure) -> tuple[Face, ...]:
    """Return the upright faces that nothing covers."""
    upright = (face for face in FACES if face not in ("top", "bottom"))
    return tuple(face for face in upright if enclosure.cover(face) is None)


def duct_fans(design: Design) -> tuple[DuctFan, ...]:
    """Return the fans that move air into or out of the enclosure."""
    fans = design.of(DuctFan)
    return tuple(fan for fan in fans if fan.joins.count("enclosure") == 1)


def area(box: Box, face: Face) -> float:
    """Return the area of one face. [m²]"""
    if face in ("top", "bottom"):
        return box.footprint.area
    return _across(box, face) * box.size[2]


def _across(box: Box, face: Face) -> float:
    return box.size[0] if face in ("front", "back") else box.size[1]


def u_value(enclosure: Enclosure, face: Face) -> float:
    """Return a face's U-value; 0 where it is open and air alone carries heat. [W/(m² K)]"""
    cover = enclosure.cover(face)
    if cover is None:
        return FLOOR_U if face == "bottom" else 0.0
    return USUAL_U if cover.sheet.u_value is None else cover.sheet.u_value


def transmittance(enclosure: Enclosure, box: Box) -> float:
    """Return the share of light that the faces let out, averaged over their area. [0–1]"""
    weighted = sum(_clear(enclosure, face) * area(box, face) for face in FACES)
    return weighted / sum(area(box, face) for face in FACES)


def _clear(enclosure: Enclosure, face: Face) -> float:
    cover = enclosure.cover(face)
    if cover is None:
        return 0.0 if face == "bottom" else 1.0
    return cover.sheet.transmittance
