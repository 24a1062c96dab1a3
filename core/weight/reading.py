"""Readings of weight: each shelf against its rating, and how units stand on the floor.

Loads are worked out in `loads`, the stand of units in `standing` and `stand_rows`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from core.language import tr
from core.model import Plants, ShelfUnit
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, SubjectReadings, reading, worst
from core.states import State
from core.study import Study
from core.weight.loads import Load, Shares, resting_on, shares
from core.weight.stand_rows import SPREAD, floor_mass, floor_row, unit_rows
from core.weight.standing import UnitLoad, unit_load

SHELF_METHOD = Method(
    tr(
        "Sum of water (fill depth × free area), pots (volume × wet density), trays, lamps hung "
        "below, devices and the shelf itself where its mass is given, compared with the shelf’s "
        "rating for an even load."
    ),
    tr("Geometry and density; ratings are the maker’s."),
    tr("±10 % for fill depth and how wet the substrate is (common practice, no source)."),
    (tr("A load that stands at the middle or front edge strains a shelf more than an even one."),),
)


@dataclass(frozen=True)
class ShelfLoad:
    """One shelf's load, and what it is made of. [kg]"""

    unit: str
    level: int
    z: float
    mass: float
    rating: float | None
    shares: Shares = field(default_factory=Shares)
    state: State = State.UNASKED


@dataclass(frozen=True, kw_only=True)
class WeightReadings(SubjectReadings):
    """Weight, with the loads that the drawing writes beside each shelf.

    ``floor_mass`` is the enclosure and everything inside, or all parts without one. [kg]
    """

    subject: str = "weight"
    shelves: tuple[ShelfLoad, ...] = ()
    units: tuple[UnitLoad, ...] = ()
    floor_mass: float = 0.0


def inputs(study: Study) -> Any:
    """Return what weight looks at: every part, since anything may weigh, and what is asked."""
    return study.design.parts, study.design.targets.floor_load


def read(study: Study) -> WeightReadings:
    """Return the weight readings of a design."""
    units = list(study.design.of(ShelfUnit))
    if not units:
        return WeightReadings(nothing=Phrase("no shelf unit yet"))
    shelves: list[ShelfLoad] = []
    stands: list[UnitLoad] = []
    rows: list[Reading] = []
    for unit in units:
        for shelf, row in _shelf_rows(study, unit):
            shelves.append(shelf)
            rows.append(row)
        stands.append(unit_load(study, unit))
        rows += unit_rows(study, unit, stands[-1])
    mass = floor_mass(study)
    rows += floor_row(study, mass)
    return WeightReadings(
        rows=tuple(rows),
        headline=_headline(tuple(rows)),
        shelves=tuple(shelves),
        units=tuple(stands),
        floor_mass=mass,
    )


def _headline(rows: tuple[Reading, ...]) -> Reading | None:
    """Return what is worst; while all is well, the shelf nearest its rating."""
    found = worst(rows)
    rated = tuple(row for row in rows if row.name == "shelf-load" and row.want_high is not None)
    if rated and found is not None and found.state is State.FINE:
        return worst(rated)
    return found


def _shelf_rows(study: Study, unit: ShelfUnit) -> Iterator[tuple[ShelfLoad, Reading]]:
    base = study.placement.box(unit.id).lo[2]
    for level, shelf in enumerate(unit.levels, start=1):
        found = resting_on(study.placement, unit, level)
        parts = shares(found, shelf.mass or 0.0)
        row = _shelf_row(study, (unit.id, level), parts.total, shelf.rating, _taken(found))
        load = ShelfLoad(
            unit.id, level, base + shelf.z, parts.total, shelf.rating, parts, row.state
        )
        yield load, row


def _shelf_row(
    study: Study,
    level: tuple[str, int],
    mass: float,
    rating: float | None,
    taken: tuple[Phrase, ...],
) -> Reading:
    where, shown = study.level_words(level), Amount(mass, "mass")
    line = phrase("{mass} on {place}; no rating given", mass=shown, place=where)
    if rating is not None:
        limit = Amount(rating, "mass")
        line = phrase("{mass} on {place}; limit {limit}", mass=shown, place=where, limit=limit)
    return reading(
        "weight", "shelf-load", level[0], where, mass, "mass", line, SHELF_METHOD,
        spread=(mass * (1 - SPREAD), mass * (1 + SPREAD)), want=(None, rating), assumptions=taken,
    )  # fmt: skip


def _taken(found: tuple[Load, ...]) -> tuple[Phrase, ...]:
    """Name what was assumed: masses nobody gave, pots and reservoirs without any."""
    taken = [load.part.name for load in found if load.taken]
    nothing = [
        load.part.name for load in found if load.total == 0 and not isinstance(load.part, Plants)
    ]
    phrases = []
    if taken:
        phrases.append(phrase("usual mass taken for {names}", names=_names(taken)))
    if nothing:
        phrases.append(phrase("no mass given for {names}: counted as nothing",
                              names=_names(nothing)))  # fmt: skip
    return tuple(phrases)


def _names(names: list[str]) -> str:
    return ", ".join(dict.fromkeys(names))
