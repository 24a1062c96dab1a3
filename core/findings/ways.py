"""Rules on the ways there: through the room, along aisles, up to outlets, windows and panels.

Distances come from the readings of fit; remedies are tried out before they are offered.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from core.finding import Finding, Remedy
from core.findings.access import backed_off
from core.findings.edits import when_settled
from core.findings.moves import (
    GAP,
    along,
    clear_of,
    fit_readings,
    fit_rows,
    may_move,
    moved_where_better,
)
from core.findings.words import AMISS, sentence
from core.fit.reach import HAND
from core.fit.things import Access
from core.geometry import Rectangle
from core.phrases import Phrase, phrase
from core.reading import Reading, distance_out
from core.states import State
from core.study import Study

_MOST_TRIED = 4
"""So many parts of the room are tried out to widen a way."""


def behind_things(study: Study) -> Iterator[Finding]:
    """Find outlets and windows that are covered, or too far from where one can stand."""
    fit = fit_readings(study)
    rows = {row.place: row for name in ("outlet", "window") for row in fit_rows(study, name)}
    for item in fit.accesses if fit else ():
        row = rows[item.thing]
        if row.value is None or row.state in AMISS:
            words = "{thing} is covered" if item.against else "Out of reach: {thing}"
            state = row.state if row.state in AMISS else State.HIGH
            yield _finding(
                row, phrase(words, thing=row.where), remedy=_uncovered(study, item), state=state
            )


@when_settled
def _uncovered(study: Study, item: Access) -> Remedy | None:
    """Return what leaves no room before a fixture, moved off it or off the wall."""
    if not item.against or not may_move(study, item.against):
        return None
    area = study.placement.box(item.thing).footprint
    wide = Rectangle(area.x0 - HAND, area.y0 - HAND, area.x1 + HAND, area.y1 + HAND)
    own = study.placement.box(item.against).footprint
    return moved_where_better(study, item.against, clear_of(own, wide))


def not_kept_clear(study: Study) -> Iterator[Finding]:
    """Find floor before an electrical panel and the like that something stands on."""
    fit = fit_readings(study)
    zones = {zone.place: zone for zone in fit.zones if zone.name == "kept-clear"} if fit else {}
    for row in fit_rows(study, "kept-clear"):
        if row.state in AMISS:
            yield _finding(
                row,
                phrase("The {where} is not clear", where=row.where),
                phrase("{line}. Local code decides.", line=row.line),
                remedy=_off(study, zones[row.place].area),
            )


@when_settled
def _off(study: Study, area: Rectangle) -> Remedy | None:
    """Return the part that stands on some floor, moved off it."""
    for key in _of_the_room(study):
        own = study.placement.box(key).footprint
        if own.overlap(area) is not None:
            found = moved_where_better(study, key, clear_of(own, area))
            if found is not None:
                return found
    return None


def _of_the_room(study: Study) -> list[str]:
    """Return the ids of parts that stand on the room's floor."""
    return [
        part.id
        for part in study.design.parts
        if part.place.host == "room" and part.place.fixing == "stands"
    ]


def narrow_ways(study: Study) -> Iterator[Finding]:
    """Find ways through the room and aisles inside that are narrower than asked for.

    A way that is narrow just before the door is told as its walkway.
    """
    told = {row.place: row.value or 0.0 for row in fit_rows(study, "walkway") if row.state in AMISS}
    for row in fit_rows(study, "route"):
        if row.state in AMISS and (row.value or 0.0) < told.get(row.place, math.inf) - GAP:
            yield _finding(
                row, phrase("The {where} is narrow", where=row.where), remedy=_widened(study, row)
            )
    for row in fit_rows(study, "aisle"):
        if row.state in AMISS:
            yield _finding(
                row, phrase("The {where} is narrow", where=row.where), remedy=backed_off(study, row)
            )


@when_settled
def _widened(study: Study, row: Reading) -> Remedy | None:
    """Return a part of the room moved by what the way lacks."""
    lacking = (row.want_low or 0.0) - (row.value or 0.0) + GAP
    shifts = [along(axis, sign * lacking) for axis in (0, 1) for sign in (1.0, -1.0)]
    for key in _of_the_room(study)[:_MOST_TRIED]:
        found = moved_where_better(study, key, shifts)
        if found is not None:
            return found
    return None


def hard_inside(study: Study) -> Iterator[Finding]:
    """Find low heads, high sills and, where it is asked for, doors too narrow for a wheelchair."""
    for row in fit_rows(study, "head-room"):
        if row.state in AMISS:
            title = phrase("Low overhead where one stands inside")
            yield _finding(row, title, remedy=_raised(study, row))
    for row in fit_rows(study, "sill"):
        if row.state in AMISS:
            yield _finding(row, phrase("The {where} is high", where=row.where))
    for row in fit_rows(study, "door-width"):
        if row.state in AMISS:
            yield _finding(row, phrase("{where} is narrow for a wheelchair", where=row.where))


@when_settled
def _raised(study: Study, row: Reading) -> Remedy | None:
    lacking = (row.want_low or 0.0) - (row.value or 0.0) + GAP
    return moved_where_better(study, row.place, [along(2, lacking)])


def far_for_both_hands(study: Study) -> Iterator[Finding]:
    """Find trays that both hands cannot take from one place."""
    for row in fit_rows(study, "hands"):
        if row.state in AMISS:
            yield _finding(
                row,
                phrase("{tray} is hard to take with both hands", tray=row.where),
                state=State.CAUTION,
            )


def at_odd_heights(study: Study) -> Iterator[Finding]:
    """Find shelves that need a step, or that are out of reach from a wheelchair."""
    seated = study.design.targets.seated
    for row in fit_rows(study, "height"):
        if row.state in AMISS:
            words = "Out of reach from a wheelchair: {where}" if seated else "A step for {where}"
            yield _finding(
                row,
                phrase(words, where=row.where),
                state=row.state if seated else State.CAUTION,
            )


def _finding(
    row: Reading,
    title: Phrase,
    detail: Phrase | None = None,
    *,
    remedy: Remedy | None = None,
    state: State | None = None,
) -> Finding:
    return Finding(
        row.name,
        "fit",
        state or row.state,
        row.place,
        title,
        detail or sentence(row.line),
        size=1.0 if row.value is None else distance_out(row),
        remedy=remedy,
    )


RULES = (
    behind_things,
    not_kept_clear,
    narrow_ways,
    hard_inside,
    far_for_both_hands,
    at_odd_heights,
)
