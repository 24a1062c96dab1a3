"""What lamps' light is sent on by: every sheet, shelf, tray, body and wall of a design as panes.

Whatever stops light here also receives it, so that none vanishes. What happens between panes is
computed in `core.light.bounce`; what shades lamps' direct light is in `core.light.from_design`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from core.geometry import Box, Rectangle, Vector, polygon_area
from core.light.from_design import SOLID, TRAY_FLOOR, LampSource, casings, passing
from core.light.patches import Pane
from core.light.sheets import AXIS, FLOOR, Piece, enclosure_pieces, inwards, unit_pieces
from core.model import AnyPart, Face, Obstacle, Platform, Room, ShelfUnit, Tray
from core.phrases import Phrase, phrase
from core.placement import Placement

CANOPY_REFLECTANCE = 0.08
"""Of leaves seen from above, 400 to 700 nm: 0.05 to 0.1 (common practice, no source). [0–1]"""

BODY = 0.4
"""Reflectance taken for casings of lamps, devices and furniture (common practice, no source)."""

PLATFORM = 0.4
"""Reflectance taken for a platform's top (common practice, no source). [0–1]"""

WALL, CEILING = 0.5, 0.7
"""Reflectances taken for a room (common in lighting design, see `core.light.sheets.FLOOR`)."""

_CLEAR = 0.05
"""Covers that pass no more than this keep the room out of sight. [0–1]"""

SMALL, SMALL_COARSE = 0.03, 0.0625
"""Solid things of which no face is larger play no part in reflections; while dragging. [m²]"""

_OUTSIDE = 3.0
"""Patches outside the enclosure may be this many times as wide as those inside."""

_WIDEST = 4.0
"""Patches of far walls may be this many times as wide as the others."""

_STEP = 0.25
"""A wall's patches grow by one width for each of these that it is away from the light. [m]"""


@dataclass(frozen=True)
class Surroundings:
    """All panes of a design, and what had to be taken for granted about them."""

    panes: tuple[Pane, ...]
    assumptions: tuple[Phrase, ...]


def surroundings(
    placement: Placement, lamps: tuple[LampSource, ...], *, coarse: bool = False
) -> Surroundings:
    """Return what a design's light meets.

    Parameters
    ----------
    placement : Placement
    lamps : tuple of LampSource
        Of the same design.
    coarse : bool
        While something is dragged: casings of lamps and small things are left out.

    Returns
    -------
    Surroundings
    """
    pieces = enclosure_pieces(placement)
    open_to_room = _open(placement, pieces, lamps)
    panes = [_of_piece(piece, sealed=not open_to_room) for piece in pieces]
    panes += [_of_piece(piece, sealed=None) for piece in unit_pieces(placement)]
    for part in placement.design.parts:
        if open_to_room or _within_enclosure(placement, part):
            panes += _of_part(part, placement, SMALL_COARSE if coarse else SMALL)
    if not coarse:
        panes += _casings(lamps)
    if open_to_room:
        panes += _room(placement, lamps)
    return Surroundings(tuple(panes), tuple(_words(open_to_room, coarse)))


def _words(open_to_room: bool, coarse: bool) -> Iterator[Phrase]:
    if open_to_room:
        yield phrase(
            "The room reflects {ceiling} at its ceiling, {wall} at its walls, {floor} below",
            ceiling=f"{CEILING:.0%}", wall=f"{WALL:.0%}", floor=f"{FLOOR:.0%}",
        )  # fmt: skip
    yield phrase(
        "Casings and devices reflect {body}, leaves {leaf}",
        body=f"{BODY:.0%}", leaf=f"{CANOPY_REFLECTANCE:.0%}",
    )  # fmt: skip
    if coarse:
        yield phrase("While you drag, reflected light passes through the casings of lamps")


def _open(placement: Placement, pieces: tuple[Piece, ...], lamps: tuple[LampSource, ...]) -> bool:
    """Say whether light reaches the room: by open or clear faces, or from lamps that hang there."""
    enclosure = placement.design.enclosure
    if enclosure is None or not all(placement.inside(lamp.part.id) for lamp in lamps):
        return True
    box = placement.box(enclosure.id)
    whole = 2 * sum(box.size[a] * box.size[b] for a, b in ((0, 1), (0, 2), (1, 2)))
    covered = sum(_area(piece.box) for piece in pieces if piece.make.transmittance <= _CLEAR)
    return covered < whole - 0.01


def _area(box: Box) -> float:
    """Return the area of a box's largest face, a flat one's own. [m²]"""
    a, b = sorted(box.size)[1:]
    return a * b


def _within_enclosure(placement: Placement, part: AnyPart) -> bool:
    enclosure = placement.design.enclosure
    if enclosure is None:
        return False
    box, middle = placement.box(enclosure.id), placement.box(part.id).centre
    return all(lo <= at <= hi for lo, at, hi in zip(box.lo, middle, box.hi, strict=True))


def _of_piece(piece: Piece, sealed: bool | None) -> Pane:
    """Return a piece of an enclosure (``sealed``: the room is out of sight) or of a unit (None)."""
    make = piece.make
    if sealed:
        lost = (make.transmittance, 0.0)
        return _flat(piece.box, piece.face, make.inner, None, 0.0, lost=lost)
    if sealed is None:
        return _flat(piece.box, piece.face, make.inner, make.outer, make.transmittance)
    lost = (0.0, max(1.0 - make.outer - make.transmittance, 0.0))
    return _flat(
        piece.box, piece.face, make.inner, make.outer, make.transmittance, (1.0, _OUTSIDE), lost
    )


def _flat(
    box: Box, face: Face, front: float | None, back: float | None, transmittance: float,
    coarse: tuple[float, float] = (1.0, 1.0), lost: tuple[float, float] = (0.0, 0.0),
) -> Pane:  # fmt: skip
    """Return a box without thickness as a pane whose front looks to the inside of ``face``."""
    axis = AXIS[face]
    first, second = (axis + 1) % 3, (axis + 2) % 3
    if inwards(face) < 0:
        first, second = second, first
    u, v = [0.0] * 3, [0.0] * 3
    u[first], v[second] = box.size[first], box.size[second]
    sides = (u[0], u[1], u[2]), (v[0], v[1], v[2])
    return Pane(box.lo, *sides, front, back, transmittance, coarse, lost)


def _of_part(part: AnyPart, placement: Placement, small: float) -> Iterator[Pane]:
    box = placement.box(part.id)
    if isinstance(part, ShelfUnit):
        for number, shelf in enumerate(part.levels, start=1):
            through = passing(shelf)
            sent = shelf.reflectance * (1.0 - through)
            top = _planted(placement, (part.id, number), box.footprint, sent)
            yield _plate(box, box.lo[2] + shelf.z, top, sent, through)
    elif isinstance(part, Platform):
        through = passing(part)
        sent = PLATFORM * (1.0 - through)
        level = placement.level_of(part.id)
        top = _planted(placement, level, box.footprint, sent)
        yield _plate(box, box.hi[2], top, sent, through)
    elif isinstance(part, Tray):
        yield _plate(box, box.lo[2] + TRAY_FLOOR, part.reflectance, part.reflectance, 0.0)
    elif isinstance(part, SOLID):
        yield from _solid(box, small)


def _plate(box: Box, z: float, top: float, under: float, through: float) -> Pane:
    (x0, y0, _), (x1, y1, _) = box
    return _flat(Box((x0, y0, z), (x1, y1, z)), "bottom", top, under, through)


def _planted(
    placement: Placement, level: tuple[str, int] | None, area: Rectangle, bare: float
) -> float:
    """Return a plate's reflectance from above, where plants stand on it that of their leaves."""
    whole = area.width * area.height
    under = sum(
        zone.area.area
        for zone in placement.zones
        if zone.level == level and not _on_tray(placement, zone.part.place.host)
    )
    share = min(under / whole, 1.0) if whole > 0 else 0.0
    return bare * (1.0 - share) + min(bare, CANOPY_REFLECTANCE) * share


def _on_tray(placement: Placement, host: str) -> bool:
    return isinstance(placement.design.by_id.get(host), Tray)


def _solid(box: Box, small: float) -> Iterator[Pane]:
    """Iterate over the outer faces of a thing, unless all of them are small."""
    if _area(box) <= small:
        return
    for face, axis in AXIS.items():
        flat = Box(_put(box.lo, axis, box, face), _put(box.hi, axis, box, face))
        if _area(flat) > 0:
            yield _flat(flat, face, None, BODY, 0.0)


def _put(corner: Vector, axis: int, box: Box, face: Face) -> Vector:
    """Return a corner moved along one axis onto a face of its box."""
    at = list(corner)
    at[axis] = (box.lo if inwards(face) > 0 else box.hi)[axis]
    return at[0], at[1], at[2]


def _casings(lamps: tuple[LampSource, ...]) -> Iterator[Pane]:
    """Iterate over the lamps' casings, each as a plate through its middle, tilted like the lamp."""
    for number, lamp in enumerate(lamps):
        for corner, u, v in casings(lamp):
            yield Pane(corner, u, v, BODY, BODY, owner=number)


def _vector(values: np.ndarray) -> Vector:
    x, y, z = values.tolist()
    return x, y, z


def _room(placement: Placement, lamps: tuple[LampSource, ...]) -> Iterator[Pane]:
    """Iterate over the room's floor, ceiling and walls, and what stands fixed in it."""
    room = placement.design.room
    for fixture in room.fixtures:
        if isinstance(fixture, Obstacle):
            for pane in _solid(placement.box(fixture.id), SMALL):
                yield _lost(pane, _OUTSIDE)
    lit = _lit_box(placement, lamps)
    x0, y0, x1, y1 = _outline(room)
    ground = Box((x0, y0, 0.0), (x1, y1, 0.0))
    above = Box((x0, y0, room.height), (x1, y1, room.height))
    yield _wide(_flat(ground, "bottom", FLOOR, None, 0.0), lit.lo[2])
    yield _wide(_flat(above, "top", CEILING, None, 0.0), room.height - lit.hi[2])
    corners = room.outline
    left = polygon_area(corners) > 0
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (ax, ay) != (bx, by):
            along, up = (bx - ax, by - ay, 0.0), (0.0, 0.0, room.height)
            # Anticlockwise from above the inside lies to the left of a wall, where up × along is.
            u, v = (up, along) if left else (along, up)
            pane = Pane((ax, ay, 0.0), u, v, WALL, None)
            yield _wide(pane, _away(lit, ax, ay, bx, by))


def _outline(room: Room) -> tuple[float, float, float, float]:
    xs, ys = zip(*room.outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _lit_box(placement: Placement, lamps: tuple[LampSource, ...]) -> Box:
    """Return the box round the enclosure and all lamps."""
    enclosure = placement.design.enclosure
    boxes = [placement.box(lamp.part.id) for lamp in lamps]
    boxes += [placement.box(enclosure.id)] if enclosure is not None else []
    low = np.min([box.lo for box in boxes], axis=0) if boxes else np.zeros(3)
    high = np.max([box.hi for box in boxes], axis=0) if boxes else np.zeros(3)
    return Box(_vector(low), _vector(high))


def _away(lit: Box, ax: float, ay: float, bx: float, by: float) -> float:
    """Return how far a wall's line is from the lit box. [m]"""
    length = float(np.hypot(bx - ax, by - ay))
    corners = [(x, y) for x in (lit.lo[0], lit.hi[0]) for y in (lit.lo[1], lit.hi[1])]
    off = [abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length for x, y in corners]
    return min(off)


def _wide(pane: Pane, away: float) -> Pane:
    """Return a pane of the room with patches as wide as its distance from the light allows."""
    return _lost(pane, min(max(away / _STEP, 1.5), _WIDEST))


def _lost(pane: Pane, coarse: float) -> Pane:
    """Return a pane outside the enclosure; what it absorbs is lost."""
    front, back = (0.0 if share is None else 1.0 - share for share in (pane.front, pane.back))
    return replace(pane, coarse=(coarse, coarse), lost=(front, back))
