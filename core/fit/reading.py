"""Readings of fit: overlaps, parts that stick out, doors, walkways, reach, ceiling, carrying in.

The geometry is in the modules beside this one, the sentences in `rows`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from core.fit import clearances, inside
from core.fit.assembly import close_covers, goes_first
from core.fit.fronts import SIDES, Clear, clear_floor, door_fronts, face_front, open_fronts
from core.fit.overlaps import Outside, Overlap, outside, overlaps
from core.fit.reach import Reach, Stand, reaches, stands
from core.fit.rows import (
    ceiling_rows,
    meeting_rows,
    outside_rows,
    overlap_rows,
    reach_rows,
    swing_rows,
    walkway_row,
)
from core.fit.rows_access import (
    access_rows,
    aisle_rows,
    door_width_rows,
    drop_rows,
    hands_rows,
    head_rows,
    heat_rows,
    height_rows,
    kept_rows,
    route_row,
    sill_rows,
)
from core.fit.rows_carry import carry_readings, carry_rows, first_rows, steps
from core.fit.standards import SEATED_ROUTE
from core.fit.swings import Swing, meeting, swings
from core.fit.things import Access, Kept, accesses, kept_clear
from core.fit.walk import Point, Walk, pinch, walk_of, way_in, widest_way
from core.fit.way_in import Carried, carried_in
from core.geometry import Rectangle
from core.model import AnyPart, Enclosure, Heater, Lamp, ShelfUnit
from core.phrases import Phrase
from core.reading import Reading, SubjectReadings, worst
from core.states import State
from core.study import Study

_WAYS_ROUND = {"tilt", "carry", "corner", "first", "head-room"}
"""Readings that do not stop a layout: frames and units can be put together where they stand."""

_CLEARANCES = {"walkway", "reach", "ceiling", "route", "aisle", "outlet", "window", "kept-clear"}

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


@dataclass(frozen=True)
class Zone:
    """Floor that is to be clear, seen from above: before ``place``, and how it stands with it. [m]

    ``name`` is that of its reading: ``"walkway"``, ``"aisle"`` or ``"kept-clear"``.
    """

    name: str
    place: str
    area: Rectangle
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
    zones : tuple of Zone
        Floor that is to be clear.
    accesses : tuple of Access
        Outlets and windows with the way to them.
    way : tuple of point
        The line from a door of the room to the enclosure, as wide as it is asked for or gets. [m]
    carried : tuple of (Carried, Reading)
        Everything rigid with the tightest place it goes through; none where no door is drawn.
    order : tuple of Phrase
        In which order to put things together; empty where any will do.
    """

    subject: str = "fit"
    overlaps: tuple[Overlap, ...] = ()
    outside: tuple[Outside, ...] = ()
    clearances: tuple[Clearance, ...] = ()
    swings: tuple[Swing, ...] = ()
    stands: tuple[Stand, ...] = ()
    reaches: tuple[Reach, ...] = ()
    reach: float = 0.6
    zones: tuple[Zone, ...] = ()
    accesses: tuple[Access, ...] = ()
    way: tuple[Point, ...] = ()
    carried: tuple[tuple[Carried, Reading], ...] = ()
    order: tuple[Phrase, ...] = ()


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
        sheets = ((c.face, c.sheet.catalogue, c.sheet.thickness) for c in part.covers)
        return part.doors, tuple(sheets), part.frame.member, part.liner
    if isinstance(part, Lamp):
        return part.surface_hot
    if isinstance(part, Heater):
        return part.style, part.watts > 0
    return None


def read(study: Study) -> FitReadings:
    """Return the fit readings of a design."""
    if not study.design.parts:
        return FitReadings(nothing=Phrase("nothing placed yet"))
    placement = study.placement
    in_the_way, out = overlaps(placement), outside(placement)
    leaves, places = swings(placement), stands(placement)
    far = reaches(placement, places)
    walks = [(clear, walkway_row(study, clear)) for clear in _walkways(study)]
    within = list(inside.aisles(placement, places))
    aisles = list(zip(within, aisle_rows(study, within), strict=True))
    kept = list(kept_clear(placement))
    kept_read = kept_rows(study, kept)
    walk = walk_of(placement)
    things = accesses(placement, walk, places)
    ways, line = _way(study, walk)
    gaps = list(clearances.drops(placement))
    drops = drop_rows(study, gaps)
    ceilings = ceiling_rows(study)
    loads, first = carried_in(study.design), goes_first(placement)
    rows = (
        *overlap_rows(study, in_the_way),
        *outside_rows(study, out),
        *swing_rows(study, leaves),
        *meeting_rows(meeting(leaves)),
        *(row for _, row in (*walks, *aisles)),
        *ways,
        *door_width_rows(study),
        *kept_read,
        *access_rows(study, things),
        *reach_rows(study, far),
        *_inside_rows(study, places),
        *drops,
        *heat_rows(study, clearances.heats(placement)),
        *ceilings,
        *carry_rows(study, loads),
        *first_rows(study, first),
    )
    return FitReadings(
        rows=rows,
        headline=_headline(rows),
        overlaps=in_the_way,
        outside=out,
        clearances=(
            *_tapes((*walks, *aisles)),
            *_ceiling_tapes(study, ceilings),
            *_drop_tapes(gaps, drops),
        ),
        swings=leaves,
        stands=places,
        reaches=far,
        reach=study.design.targets.reach,
        zones=tuple(_zones((*walks, *aisles), kept, kept_read)),
        accesses=things,
        way=line,
        carried=tuple(carry_readings(study, loads)),
        order=steps(study, loads, first, close_covers(placement)),
    )


def _inside_rows(study: Study, places: tuple[Stand, ...]) -> Iterator[Reading]:
    """Iterate over what it takes to work inside and to reach up."""
    placement = study.placement
    yield from head_rows(study, inside.head_room(placement, places))
    yield from sill_rows(study, inside.sill(placement, places))
    yield from hands_rows(study, inside.both_hands(placement, places))
    yield from height_rows(study, inside.high_levels(placement))


def _way(study: Study, walk: Walk) -> tuple[list[Reading], tuple[Point, ...]]:
    """Return the reading of the widest way to the enclosure, and its line."""
    enclosure = study.design.enclosure
    if enclosure is None or not walk.drawn:
        return [], ()
    box = study.placement.box(enclosure.id)
    fronts = door_fronts(enclosure, box) or open_fronts(enclosure, box)
    if not fronts:
        return [], ()
    target = max((front.line for front in fronts), key=lambda line: widest_way(walk, line))
    width = widest_way(walk, target)
    asked = study.design.targets.seated and width < SEATED_ROUTE
    narrow = pinch(walk, target, SEATED_ROUTE) if asked else None
    row = route_row(study, width, narrow)
    return [row], way_in(walk, target, min(width, row.want_low or width)) if width else ()


def _zones(
    before: Iterable[tuple[Clear, Reading]], kept: Iterable[Kept], rows: Iterable[Reading]
) -> Iterator[Zone]:
    yield from (_zone(clear, row) for clear, row in before)
    for item, row in zip(kept, rows, strict=True):
        yield Zone(row.name, item.thing, item.area, row.state)


def _zone(clear: Clear, row: Reading) -> Zone:
    """Return the floor before a front as deep as it is asked for, and its leaf besides."""
    front = clear.front
    return Zone(row.name, row.place, front.before(front.leaf + (row.want_low or 0.0)), row.state)


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


def _drop_tapes(gaps: Iterable[clearances.Drop], rows: Iterable[Reading]) -> Iterator[Clearance]:
    for gap, row in zip(gaps, rows, strict=True):
        low, high = (*gap.at, gap.top), (*gap.at, gap.top + gap.gap)
        yield Clearance(row.name, gap.lamp, low, high, gap.gap, row.want_low or 0.0, row.state)
