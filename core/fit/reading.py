"""Readings of fit: overlaps, parts that stick out, doors, walkways, reach, ceiling, carrying in.

The geometry is in the modules beside this one, the sentences in `rows`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from core.fit.fronts import SIDES, Clear, clear_floor, door_fronts, face_front, open_fronts
from core.fit.overlaps import Outside, Overlap, outside, overlaps
from core.fit.reach import Reach, Stand, reaches, stands
from core.fit.rows import (
    carry_rows,
    ceiling_rows,
    meeting_rows,
    outside_rows,
    overlap_rows,
    reach_rows,
    swing_rows,
    walkway_row,
)
from core.fit.swings import Swing, meeting, swings
from core.model import AnyPart, Enclosure, ShelfUnit
from core.phrases import Phrase
from core.reading import Reading, SubjectReadings, worst
from core.states import State
from core.study import Study

_WAYS_ROUND = {"tilt", "carry"}
"""Readings that do not stop a layout: frames and units can be put together where they stand."""

_CLEARANCES = {"walkway", "reach", "ceiling"}

Vector = tuple[float, float, float]


@dataclass(frozen=True)
class Clearance:
    """A distance that the drawing writes on a tape, in the room's axes. [m]

    ``name`` is that of its reading: ``"walkway"`` or ``"ceiling"``; ``want`` the least wanted.
    """

    name: str
    place: str
    a: Vector
    b: Vector
    distance: float
    want: float
    state: State


@dataclass(frozen=True, kw_only=True)
class FitReadings(SubjectReadings):
    """Fit, with what its drawing needs.

    Attributes
    ----------
    overlaps : tuple of Overlap
    outside : tuple of Outside
    clearances : tuple of Clearance
        Tapes.
    swings : tuple of Swing
        Door leaves with their quarter circles.
    stands : tuple of Stand
        Where one can stand; reach arcs are drawn ``reach`` round them.
    reaches : tuple of Reach
        The farthest spot of every zone and empty shelf, and from where it is reached.
    reach : float
        The reach asked for. [m]
    """

    subject: str = "fit"
    overlaps: tuple[Overlap, ...] = ()
    outside: tuple[Outside, ...] = ()
    clearances: tuple[Clearance, ...] = ()
    swings: tuple[Swing, ...] = ()
    stands: tuple[Stand, ...] = ()
    reaches: tuple[Reach, ...] = ()
    reach: float = 0.6


def inputs(study: Study) -> Any:
    """Return what fit looks at: the room, every part's place and size, and what is asked for."""
    design = study.design
    parts = tuple(
        (part.id, part.kind, part.name, part.place, part.extent, _details(part))
        for part in design.parts
    )
    return design.room, parts, design.targets


def _details(part: AnyPart) -> Any:
    if isinstance(part, ShelfUnit):
        return part.levels, part.post
    if isinstance(part, Enclosure):
        return part.doors, tuple(cover.face for cover in part.covers)
    return None


def read(study: Study) -> FitReadings:
    """Return the fit readings of a design."""
    if not study.design.parts:
        return FitReadings(nothing=Phrase("nothing placed yet"))
    placement = study.placement
    in_the_way, out = overlaps(placement), outside(placement)
    leaves = swings(placement)
    places = stands(placement)
    far = reaches(placement, places)
    walks = [(clear, walkway_row(study, clear)) for clear in _walkways(study)]
    ceilings = ceiling_rows(study)
    rows = (
        *overlap_rows(study, in_the_way),
        *outside_rows(study, out),
        *swing_rows(study, leaves),
        *meeting_rows(meeting(leaves)),
        *(row for _, row in walks),
        *reach_rows(study, far),
        *ceilings,
        *carry_rows(study),
    )
    return FitReadings(
        rows=rows,
        headline=_headline(rows),
        overlaps=in_the_way,
        outside=out,
        clearances=(*_tapes(walks), *_ceiling_tapes(study, ceilings)),
        swings=leaves,
        stands=places,
        reaches=far,
        reach=study.design.targets.reach,
    )


def _headline(rows: tuple[Reading, ...]) -> Reading | None:
    """Return what is worst; where all is well, the tightest clearance."""
    matters = [row for row in rows if row.name not in _WAYS_ROUND]
    told = [row for row in matters if row.name in _CLEARANCES or row.state is not State.FINE]
    return worst(tuple(told))


def _walkways(study: Study) -> Iterator[Clear]:
    """Iterate over the clear floor that one walks on: before doors, or the widest open face."""
    placement, enclosure = study.placement, study.design.enclosure
    if enclosure is not None:
        box = placement.box(enclosure.id)
        doors = clear_floor(placement, door_fronts(enclosure, box))
        yield from (
            _narrowest(doors)
            if doors
            else _widest(clear_floor(placement, open_fronts(enclosure, box)))
        )
    for unit in study.design.of(ShelfUnit):
        if not placement.inside(unit.id):
            box = placement.box(unit.id)
            sides = (face_front(unit.id, face, box) for face in SIDES)
            yield from _widest(clear_floor(placement, sides))


def _narrowest(found: Iterable[Clear]) -> Iterator[Clear]:
    """Iterate over the least clear door of each face."""
    by_face: dict[str, Clear] = {}
    for clear in found:
        known = by_face.get(clear.front.face)
        if known is None or clear.left < known.left:
            by_face[clear.front.face] = clear
    yield from by_face.values()


def _widest(found: Iterable[Clear]) -> Iterator[Clear]:
    best = max(found, key=lambda clear: clear.left, default=None)
    if best is not None:
        yield best


def _tapes(walks: Iterable[tuple[Clear, Reading]]) -> Iterator[Clearance]:
    for clear, row in walks:
        start = clear.front.point(clear.along, min(clear.front.leaf, clear.depth))
        end = clear.front.point(clear.along, clear.depth)
        yield Clearance(
            row.name,
            row.place,
            (*start, 0.0),
            (*end, 0.0),
            clear.left,
            row.want_low or 0.0,
            row.state,
        )


def _ceiling_tapes(study: Study, rows: Iterable[Reading]) -> Iterator[Clearance]:
    for row in rows:
        if row.name == "ceiling" and row.value is not None:
            box = study.placement.box(row.place)
            x, y, _ = box.centre
            top = study.design.room.height
            yield Clearance(
                row.name, row.place, (x, y, box.hi[2]), (x, y, top), row.value, 0.0, row.state
            )
