"""Rules on getting at plants: doors, walkways, reach.

Outlets, windows and the ways through the room are in `ways`, carrying in is in `carrying`.
Distances come from the readings of fit; remedies are tried out before they are offered.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

from core.finding import Finding, Remedy
from core.findings.edits import Edits, after, remedy, when_settled
from core.findings.moves import (
    GAP,
    along,
    clear_of,
    fit_readings,
    fit_rows,
    if_it_fits,
    may_move,
    moved_where_better,
    way_words,
)
from core.findings.words import AMISS, sentence
from core.fit.lengths import metres, name_of
from core.fit.reach import reaches, stands
from core.fit.swings import SQUARE, TOLERANCE, Swing, swings
from core.geometry import Rectangle
from core.model import Enclosure, FaceDoor, Plants, replace
from core.phrases import Amount, Phrase, phrase
from core.placement import Placement
from core.reading import Reading, distance_out
from core.states import State
from core.study import Study


def door_blocked(study: Study) -> Iterator[Finding]:
    """Find doors whose leaves do not open square."""
    fit = fit_readings(study)
    if fit is None:
        return
    for swing, row in zip(fit.swings, fit_rows(study, "door-swing"), strict=True):
        if row.state in AMISS:
            of_enclosure = isinstance(study.design.by_id[swing.place], Enclosure)
            the_door = phrase("The {door}" if of_enclosure else "{door}", door=swing.name)
            yield Finding(
                "door-swing",
                "fit",
                row.state,
                swing.place,
                phrase("{the_door} does not open square", the_door=the_door),
                phrase(
                    "It opens to {angle}: {thing} is in its way.",
                    angle=Amount(swing.angle, "angle"),
                    thing=name_of(study, swing.against) if swing.against else phrase("the wall"),
                ),
                size=distance_out(row),
                remedy=_hung_otherwise(study, swing) or _out_of_the_sweep(study, swing),
            )


def doors_meet(study: Study) -> Iterator[Finding]:
    """Find doors that cannot both stand open."""
    for row in fit_rows(study, "doors-meet"):
        depth = row.value or 0.0
        yield Finding(
            "doors-meet",
            "fit",
            State.BORDERLINE,
            row.place,
            phrase("In each other’s way: {where}", where=row.where),
            phrase("They meet by {depth} when both stand open.", depth=metres(depth)),
            size=depth,
        )


@when_settled
def _hung_otherwise(study: Study, swing: Swing) -> Remedy | None:
    """Return the enclosure with that door's leaf hung on its other side, or parted in two."""
    enclosure: Any = study.drawn.by_id[swing.place]
    if not isinstance(enclosure, Enclosure):
        return None
    for number, door in enumerate(enclosure.doors):
        if door.style != "leaf" or swing.name.values.get("face") != door.face:
            continue
        for words, new in _hangings(door):
            doors = (*enclosure.doors[:number], new, *enclosure.doors[number + 1 :])
            changed = replace(enclosure, doors=doors)
            if _all_open(study, changed):
                return remedy(words, changed)
    return None


def _hangings(door: FaceDoor) -> Iterator[tuple[Phrase, FaceDoor]]:
    if door.leaves == 1:
        other = "right" if door.hinge == "left" else "left"
        hinge = phrase("right") if other == "right" else phrase("left")
        words = phrase("Hang the {face} door on its {side} side", face=door.face, side=hinge)
        yield words, replace(door, hinge=other)
        yield phrase("Part the {face} door in two leaves", face=door.face), replace(door, leaves=2)
    yield phrase("Let the {face} door be a curtain", face=door.face), replace(door, style="curtain")


def _all_open(study: Study, enclosure: Enclosure) -> bool:
    design = after(study, {enclosure.id: enclosure})
    found = swings(Placement(design))
    return all(leaf.least >= SQUARE for leaf in found if leaf.place == enclosure.id)


@when_settled
def _out_of_the_sweep(study: Study, swing: Swing) -> Remedy | None:
    """Return what is in a room door's way, moved out of it by the shortest straight way."""
    if not swing.against or not may_move(study, swing.against):
        return None
    xs, ys = zip(*swing.sweep, strict=True)
    sweep = Rectangle(min(xs), min(ys), max(xs), max(ys))
    own = study.placement.box(swing.against).footprint
    return moved_where_better(study, swing.against, clear_of(own, sweep))


def narrow_walkway(study: Study) -> Iterator[Finding]:
    """Find walks before doors that are narrower than asked for."""
    for row in fit_rows(study, "walkway"):
        if row.state in AMISS:
            yield Finding(
                "walkway",
                "fit",
                row.state,
                row.place,
                phrase("The {where} is narrow", where=row.where),
                sentence(row.line),
                size=distance_out(row),
                remedy=backed_off(study, row),
            )


@when_settled
def backed_off(study: Study, row: Reading) -> Remedy | None:
    """Return the part that a gap stands before, moved back by what the gap lacks."""
    lacking = (row.want_low or 0.0) - (row.value or 0.0) + GAP
    ways = [along(axis, sign * lacking) for axis, sign in product((0, 1), (1.0, -1.0))]
    return moved_where_better(study, row.place, ways)


def out_of_reach(study: Study) -> Iterator[Finding]:
    """Find levels that no place to stand reaches, one finding for each carrier."""
    worst: dict[str, Reading] = {}
    for row in fit_rows(study, "reach"):
        nowhere = row.value is None
        if nowhere or row.state in AMISS:
            known = worst.get(_carrier(study, row))
            if known is None or (row.value or 99.0) > (known.value or 99.0):
                worst[_carrier(study, row)] = row
    for carrier, row in worst.items():
        yield Finding(
            "out-of-reach",
            "fit",
            State.HIGH if row.value is None else row.state,
            row.place,
            phrase("Out of reach: {place}", place=row.where)
            if row.value is None
            else phrase("Hard to reach: the far side of {place}", place=row.where),
            sentence(row.line),
            level=_level(study, row),
            size=1.0 if row.value is None else distance_out(row),
            remedy=_nearer(study, carrier),
        )


def _level(study: Study, row: Reading) -> tuple[str, int] | None:
    """Return the level of a reading about a zone; readings about bare shelves name none."""
    thing = study.design.by_id.get(row.place)
    return study.placement.level_of(thing.id) if isinstance(thing, Plants) else None


def _carrier(study: Study, row: Reading) -> str:
    """Return what carries a reading's level: a unit, bay or platform; else its own place."""
    level = _level(study, row)
    return level[0] if level else row.place


@when_settled
def _nearer(study: Study, carrier: str) -> Remedy | None:
    """Return a unit moved nearer to where one stands, by what the reach lacks."""
    fit = fit_readings(study)
    if fit is None or carrier not in study.design.by_id or not may_move(study, carrier):
        return None
    mine = [each for each in fit.reaches if each.level and each.level[0] == carrier]
    far = max(mine, key=lambda each: each.distance or 0.0, default=None)
    if far is None or far.start is None or far.distance is None:
        return None
    lacking = far.distance - fit.reach + GAP
    way = [b - a for a, b in zip(far.spot, far.start, strict=True)][:2]
    axis = 0 if abs(way[0]) > abs(way[1]) else 1
    shift = along(axis, lacking if way[axis] > 0 else -lacking)
    edits = if_it_fits(study, carrier, shift)
    if edits is None or not _reached(study, edits, carrier):
        return None
    return Remedy(
        phrase("Move {name} {way}", name=name_of(study, carrier), way=way_words(shift)), edits
    )


def _reached(study: Study, edits: Edits, carrier: str) -> bool:
    place = Placement(after(study, edits))
    most = study.design.targets.reach - TOLERANCE
    found = [each for each in reaches(place, stands(place)) if each.level]
    return all(
        each.distance is not None and each.distance <= most
        for each in found
        if each.level and each.level[0] == carrier
    )


RULES = (door_blocked, doors_meet, narrow_walkway, out_of_reach)
