"""Rules on fit: what is in the way, what sticks out, and leaves that touch.

Doors, walkways and reach are in `access`, ways through the room in `ways`.
Distances come from the readings of fit; remedies are tried out before they are offered.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

from core.finding import Finding, Remedy
from core.findings.edits import is_clear, on_shelf, shifted, when_settled
from core.findings.moves import (
    GAP,
    along,
    fit_readings,
    fit_rows,
    if_it_fits,
    may_move,
    way_words,
)
from core.findings.words import AMISS
from core.fit.lengths import metres, name_of
from core.fit.overlaps import Outside, Overlap
from core.fit.solids import solids_of
from core.geometry import Box, Vector
from core.model import AnyPart, Part, ShelfUnit
from core.phrases import Phrase, phrase
from core.study import Study


def in_the_way(study: Study) -> Iterator[Finding]:
    """Find parts that take each other's space; leaves have a rule of their own."""
    fit = fit_readings(study)
    if fit is None:
        return
    for item, row in zip(fit.overlaps, fit_rows(study, "overlap"), strict=True):
        if item.kind != "leaves" and row.state in AMISS:
            yield Finding(
                "overlap",
                "fit",
                row.state,
                item.a,
                _overlap_title(study, item),
                phrase("By {depth}.", depth=metres(item.depth)),
                level=study.placement.level_of(item.a),
                size=item.depth,
                remedy=_apart(study, item),
            )


def _overlap_title(study: Study, item: Overlap) -> Phrase:
    words = {
        "parts": "{a} and {b} are in each other’s way",
        "bay": "{a} stands in {b}, which is kept free",
        "enclosure": "{a} reaches through a face of {b}",
    }
    return phrase(words[item.kind], a=name_of(study, item.a), b=name_of(study, item.b))


@when_settled
def _apart(study: Study, item: Overlap) -> Remedy | None:
    """Return the shortest straight move of either part that frees both."""
    tried: list[tuple[float, str, Vector]] = []
    for mover, other in ((item.a, item.b), (item.b, item.a)):
        if may_move(study, mover):
            shifts = _ways_out(study, mover, other, item)
            tried += [(sum(map(abs, shift)), mover, shift) for shift in shifts]
    for _, mover, shift in sorted(tried):
        edits = if_it_fits(study, mover, shift)
        if edits is not None:
            words = phrase("Move {name} {way}", name=name_of(study, mover), way=way_words(shift))
            return Remedy(words, edits)
    return None


def _ways_out(study: Study, mover: str, other: str, item: Overlap) -> Iterator[Vector]:
    """Iterate over the straight moves that take one part out of another. [m]"""
    place = study.placement
    if item.kind == "parts":
        pairs = product(_boxes(study, mover), _boxes(study, other))
        touching = [(a, b) for a, b in pairs if a.overlap(b) is not None]
    else:
        touching = [(place.box(mover), place.box(other))]
    for axis in _free_axes(study.design.part(mover)):
        ahead = max((b.hi[axis] - a.lo[axis] for a, b in touching), default=0.0)
        back = max((a.hi[axis] - b.lo[axis] for a, b in touching), default=0.0)
        for length in (ahead + GAP, -(back + GAP)):
            yield along(axis, length)


def _boxes(study: Study, thing_id: str) -> list[Box]:
    thing = study.design.by_id[thing_id]
    if isinstance(thing, Part):
        found: Any = thing
        return [solid.box for solid in solids_of(study.placement, found)]
    return [study.placement.box(thing_id)]


def _free_axes(part: AnyPart) -> tuple[int, ...]:
    """Return the axes along which a part can be moved without leaving what holds it."""
    return (0, 1) if part.place.fixing == "stands" else (0, 1, 2)


def leaves_touch(study: Study) -> Iterator[Finding]:
    """Find leaves that reach into a lamp or the shelf above them."""
    fit = fit_readings(study)
    if fit is None:
        return
    for item, row in zip(fit.overlaps, fit_rows(study, "overlap"), strict=True):
        if item.kind == "leaves" and row.state in AMISS:
            above = study.design.by_id[item.b]
            words = (
                "The leaves of {a} reach the shelf above them"
                if isinstance(above, ShelfUnit)
                else "The leaves of {a} touch {b}"
            )
            yield Finding(
                "leaves-touch",
                "fit",
                row.state,
                item.a,
                phrase(words, a=name_of(study, item.a), b=above.name),
                phrase("They reach {depth} into it.", depth=metres(item.depth)),
                level=study.placement.level_of(item.a),
                size=item.depth,
                remedy=_raised(study, item) or _to_a_higher_bay(study, item),
            )


@when_settled
def _raised(study: Study, item: Overlap) -> Remedy | None:
    """Return the lamp drawn up above the leaves, where there is room above it."""
    if not may_move(study, item.b) or isinstance(study.design.by_id[item.b], ShelfUnit):
        return None
    shift = along(2, item.depth + GAP)
    edits = if_it_fits(study, item.b, shift)
    words = phrase("Raise {name} by {up}", name=name_of(study, item.b), up=metres(shift[2]))
    return Remedy(words, edits) if edits is not None else None


@when_settled
def _to_a_higher_bay(study: Study, item: Overlap) -> Remedy | None:
    """Return the plants, with the tray they stand in, put on a level that is high enough."""
    level = study.placement.level_of(item.a)
    if level is None or not isinstance(study.design.by_id[level[0]], ShelfUnit):
        return None
    chain = (item.a, *study.placement.hosts(item.a))
    mover = study.design.part(chain[chain.index(level[0]) - 1])
    if mover.locked:
        return None
    rooms = [each for each in study.placement.levels if (each.host, each.number) != level]
    for other in sorted(rooms, key=lambda each: (each.host != level[0], each.above - each.z)):
        target = (other.host, other.number)
        edits = on_shelf(study, mover, target)
        if edits is not None:
            words = phrase(
                "Move {name} to {place}", name=mover.name, place=study.level_words(target)
            )
            return Remedy(words, edits)
    return None


def sticks_out(study: Study) -> Iterator[Finding]:
    """Find parts that stick out of the enclosure, the room or the ceiling."""
    fit = fit_readings(study)
    if fit is None:
        return
    for item, row in zip(fit.outside, fit_rows(study, "outside"), strict=True):
        if row.state in AMISS:
            words = {
                "enclosure": "{part} sticks out of the enclosure",
                "room": "{part} sticks out of the room",
                "ceiling": "{part} is higher than the room",
            }
            yield Finding(
                "outside",
                "fit",
                row.state,
                item.part,
                phrase(words[item.of], part=name_of(study, item.part)),
                phrase("By {by}.", by=metres(item.by)),
                level=study.placement.level_of(item.part),
                size=item.by,
                remedy=_brought_in(study, item),
            )


@when_settled
def _brought_in(study: Study, item: Outside) -> Remedy | None:
    if not may_move(study, item.part):
        return None
    part = study.design.part(item.part)
    inner, box = _bounds(study, item), study.placement.box(item.part)
    axes = _free_axes(part)
    shift = tuple(
        max(0.0, inner.lo[axis] - box.lo[axis]) - max(0.0, box.hi[axis] - inner.hi[axis])
        if axis in axes
        else 0.0
        for axis in range(3)
    )
    edits = shifted(study, item.part, (shift[0], shift[1], shift[2]))
    if edits == {item.part: study.drawn.part(item.part)} or not is_clear(study, edits):
        return None
    inside = phrase("the enclosure") if item.of == "enclosure" else phrase("the room")
    return Remedy(phrase("Move {name} into {inside}", name=part.name, inside=inside), edits)


def _bounds(study: Study, item: Outside) -> Box:
    """Return the box that a part must be within; a room that is no rectangle is tried whole."""
    enclosure = study.design.enclosure
    if item.of == "enclosure" and enclosure is not None:
        return study.placement.box(enclosure.id)
    room = study.design.room
    xs, ys = zip(*room.outline, strict=True)
    return Box((min(xs), min(ys), 0.0), (max(xs), max(ys), room.height))


RULES = (in_the_way, leaves_touch, sticks_out)
