"""The sheets of a design in pieces: covers with their cut-outs, linings, liner, linings of units.

A piece is one rectangle with one make-up, however many sheets lie on each other there; what light
does between pieces is not known here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from core.geometry import Box, Rectangle, turn_within
from core.model import Enclosure, Face, Rect, Sheet, ShelfUnit
from core.model.enclosure import FACES
from core.placement import Placement

FLOOR = 0.2
"""Reflectance taken for a floor (common in lighting design: ceiling 0.7, walls 0.5, floor 0.2;
EN 12464-1 asks for 0.7 to 0.9, 0.5 to 0.8 and 0.2 to 0.6, from memory). [0–1]"""

ON_FLOOR = 0.02
"""An enclosure whose underside is no higher than this stands on the floor. [m]"""

_DEPTH = 0.002
"""Faces are drawn in by this much, so that a wall behind them lies behind them. [m]"""

_HAIR = 1e-6


@dataclass(frozen=True)
class Make:
    """What a sheet, or several on each other, does with light: shares sent back and passed."""

    inner: float
    outer: float
    transmittance: float

    def inside(self, other: Make) -> Make:
        """Return this sheet with ``other`` behind it, light between them going to and fro."""
        again = 1.0 / max(1.0 - self.outer * other.inner, _HAIR)
        return Make(
            self.inner + self.transmittance**2 * other.inner * again,
            other.outer + other.transmittance**2 * self.outer * again,
            self.transmittance * other.transmittance * again,
        )


@dataclass(frozen=True)
class Piece:
    """A flat rectangle of one make, looking to its ``face``'s inside.

    ``box`` has no thickness along the face's axis. [m]
    """

    box: Box
    face: Face
    make: Make


_Layer = tuple[Rectangle | None, Make]
"""A sheet and the part of the face it covers; None: all of it."""


def enclosure_pieces(placement: Placement) -> tuple[Piece, ...]:
    """Return the faces of the enclosure, open parts left out."""
    enclosure = placement.design.enclosure
    if enclosure is None:
        return ()
    return _enclosure(enclosure, placement.box(enclosure.id))


@lru_cache(maxsize=16)
def _enclosure(enclosure: Enclosure, box: Box) -> tuple[Piece, ...]:
    found = [
        Piece(_on_face(box, face, area), face, make)
        for face in FACES
        for area, make in _parts(_across(box, face), *_layers(enclosure, box, face))
    ]
    return tuple(found)


def _layers(
    enclosure: Enclosure, box: Box, face: Face
) -> tuple[list[_Layer], list[_Layer], tuple[Rectangle, ...]]:
    """Return what lies outside, the linings of which the last one counts, and the holes."""
    outside: list[_Layer] = []
    holes: tuple[Rectangle, ...] = ()
    if face == "bottom" and box.lo[2] <= ON_FLOOR:
        outside.append((None, Make(FLOOR, FLOOR, 0.0)))
    cover = enclosure.cover(face)
    if cover is not None:
        outside.append((None, _make(cover.sheet)))
        if len(outside) == 1:
            holes = tuple(_rectangle(hole) for hole in cover.cutouts)
    linings: list[_Layer] = []
    if face == "bottom" and enclosure.liner is not None:
        liner = enclosure.liner
        width, depth = liner.width or box.size[0], liner.depth or box.size[1]
        grey = Make(liner.reflectance, liner.reflectance, 0.0)
        linings.append((Rectangle(0.0, 0.0, width, depth), grey))
    linings += [
        (_rectangle(lining.area) if lining.area else None, _make(lining.sheet))
        for lining in enclosure.linings
        if lining.face == face
    ]
    return outside, linings, holes


def unit_pieces(placement: Placement) -> tuple[Piece, ...]:
    """Return the linings of shelf units; each looks into its unit."""
    return tuple(
        piece
        for unit in placement.design.of(ShelfUnit)
        if unit.linings
        for piece in _unit(unit, placement.box(unit.id), placement.frame(unit.id).turn)
    )


@lru_cache(maxsize=64)
def _unit(unit: ShelfUnit, box: Box, turn: int) -> tuple[Piece, ...]:
    own = Box((0.0, 0.0, 0.0), (unit.width, unit.depth, unit.height))
    found = []
    for side in dict.fromkeys(lining.side for lining in unit.linings):
        linings: list[_Layer] = [
            (_rectangle(lining.area) if lining.area else None, _make(lining.sheet))
            for lining in unit.linings
            if lining.side == side
        ]
        for area, make in _parts(_across(own, side), [], linings, ()):
            flat = _turned(_on_face(own, side, area, 2 * _DEPTH), unit, box, turn)
            found.append(Piece(flat, turned_face(side, turn), make))
    return tuple(found)


def _turned(flat: Box, unit: ShelfUnit, box: Box, turn: int) -> Box:
    """Return a rectangle in a unit's own axes where the turned unit has it."""
    seen = turn_within(flat.footprint, unit.width, unit.depth, turn)
    x, y, z = box.lo
    return Box(
        (x + seen.x0, y + seen.y0, z + flat.lo[2]), (x + seen.x1, y + seen.y1, z + flat.hi[2])
    )


def _make(sheet: Sheet) -> Make:
    return Make(sheet.reflectance, sheet.reflectance, sheet.transmittance)


def _rectangle(area: Rect) -> Rectangle:
    return Rectangle(area.x, area.y, area.x + area.width, area.y + area.height)


_TURNED: tuple[Face, ...] = ("front", "right", "back", "left")


def turned_face(side: Face, turn: int) -> Face:
    """Return where a part's side points after quarter turns."""
    return _TURNED[(_TURNED.index(side) + turn) % 4]


AXIS: dict[Face, int] = {"left": 0, "right": 0, "front": 1, "back": 1, "bottom": 2, "top": 2}
"""The axis that each face is square to."""


def inwards(face: Face) -> float:
    """Return 1 where a face looks along its axis into the box, −1 where against it."""
    return 1.0 if face in ("left", "front", "bottom") else -1.0


def _across(box: Box, face: Face) -> tuple[float, float]:
    """Return a face's extent along its own two axes: x before y before z. [m]"""
    first, second = (axis for axis in range(3) if axis != AXIS[face])
    return box.size[first], box.size[second]


def _on_face(box: Box, face: Face, area: Rectangle, depth: float = _DEPTH) -> Box:
    """Return a rectangle of a face, drawn in a little, as a box without thickness."""
    first, second = (axis for axis in range(3) if axis != AXIS[face])
    at = (box.lo if inwards(face) > 0 else box.hi)[AXIS[face]] + inwards(face) * depth
    lo, hi = [at] * 3, [at] * 3
    lo[first], hi[first] = box.lo[first] + area.x0, box.lo[first] + area.x1
    lo[second], hi[second] = box.lo[second] + area.y0, box.lo[second] + area.y1
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def _parts(
    size: tuple[float, float],
    outside: Sequence[_Layer],
    linings: Sequence[_Layer],
    holes: Sequence[Rectangle],
) -> Iterator[tuple[Rectangle, Make]]:
    """Iterate over the rectangles of a face that have one make-up; open ones are left out."""
    areas = [area for area, _ in (*outside, *linings) if area is not None] + list(holes)
    columns = _cuts(size[0], [end for area in areas for end in (area.x0, area.x1)])
    last: dict[tuple[float, float, Make], float] = {}
    for y0, y1 in pairwise(_cuts(size[1], [end for area in areas for end in (area.y0, area.y1)])):
        row: dict[tuple[float, float, Make], float] = {}
        for x0, x1, make in _runs(columns, (y0 + y1) / 2, outside, linings, holes):
            row[x0, x1, make] = last.pop((x0, x1, make), y0)
        yield from _closed(last, y0)
        last = row
    yield from _closed(last, size[1])


def _closed(
    runs: dict[tuple[float, float, Make], float], y1: float
) -> Iterator[tuple[Rectangle, Make]]:
    for (x0, x1, make), y0 in runs.items():
        yield Rectangle(x0, y0, x1, y1), make


def _runs(
    columns: Sequence[float], y: float, outside: Sequence[_Layer], linings: Sequence[_Layer],
    holes: Sequence[Rectangle],
) -> Iterator[tuple[float, float, Make]]:  # fmt: skip
    """Iterate over the stretches along a face, at one height, that have one make-up."""
    start, before = columns[0], None
    for x0, x1 in pairwise(columns):
        make = _make_up((x0 + x1) / 2, y, outside, linings, holes)
        if make != before:
            if before is not None:
                yield start, x0, before
            start, before = x0, make
    if before is not None:
        yield start, columns[-1], before


def _make_up(
    x: float, y: float, outside: Sequence[_Layer], linings: Sequence[_Layer],
    holes: Sequence[Rectangle],
) -> Make | None:  # fmt: skip
    """Return what covers a place; None where nothing does. Holes go through linings, too."""
    if any(_holds(hole, x, y) for hole in holes):
        return None
    lining = next((m for area, m in reversed(linings) if area is None or _holds(area, x, y)), None)
    stack = [make for _, make in reversed(outside)]
    if lining is not None:
        stack.insert(0, lining)
    found: Make | None = None
    for make in stack:
        found = make if found is None else found.inside(make)
    return found


def _holds(area: Rectangle, x: float, y: float) -> bool:
    return area.x0 <= x <= area.x1 and area.y0 <= y <= area.y1


def _cuts(size: float, ends: Sequence[float]) -> list[float]:
    """Return where a face is cut along one axis, its own ends included."""
    found = [0.0]
    for end in sorted(min(max(end, 0.0), size) for end in (*ends, size)):
        if end > found[-1] + _HAIR:
            found.append(end)
    return found
