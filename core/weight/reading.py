"""Readings of weight: each shelf against its rating, units on the floor, castors and proportion.

Loads are worked out in `loads`, the formulas in `support` and `stability`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from core.model import AnyPart, Plants, Reservoir, ShelfUnit
from core.model.building import values
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, SubjectReadings, reading, worst
from core.states import State
from core.study import Study
from core.weight.loads import Load, loads, resting_on, total, with_carried
from core.weight.stability import (
    WARN_SLENDERNESS,
    centre_of_gravity,
    push_to_tip,
    slenderness,
    tip_angle,
)
from core.weight.support import castor_load, floor_pressure

SPREAD = 0.10
"""Relative uncertainty of a load: fill levels and wet substrate. Common practice, no source."""

SHELF_METHOD = Method(
    "Sum of water (fill depth × free area), pots (volume × wet density), trays, lamps hung "
    "below and devices, compared with the shelf's rating for an even load.",
    "Geometry and density; ratings are the maker's.",
    "±10 % for fill depth and how wet the substrate is (common practice, no source).",
    ("A load that stands at the middle or front edge strains a shelf more than an even one.",),
)
FLOOR_METHOD = Method(
    "Weight of the unit with all it carries over its footprint.",
    "Definition of pressure.",
    "±10 % for fill depth and how wet the substrate is (common practice, no source).",
    ("The floor's own strength is not known here; ask whoever knows the building.",),
)
CASTOR_METHOD = Method(
    "A third of the whole weight on each castor, since uneven floors leave one idle.",
    "Trade rule for castors: total / 3 (secondary source).",
    "±10 % as the weight.",
)
TIP_METHOD = Method(
    "Height over depth, and the push at the top (at most 1.8 m up) that lifts the front feet.",
    "Statics: F = m g (d/2) / h; the limit of 4 is one shelving maker's practice (secondary "
    "source).",
    "±10 % as the weight.",
    ("Climbing children and pets push harder than any reading here.",),
)


@dataclass(frozen=True)
class ShelfLoad:
    """One shelf's load. [kg]"""

    unit: str
    level: int
    z: float
    mass: float
    rating: float | None


@dataclass(frozen=True)
class UnitLoad:
    """One unit on the floor. [kg, Pa, N, degrees]"""

    unit: str
    mass: float
    pressure: float
    castor: float | None
    push: float
    lean: float
    proportion: float


@dataclass(frozen=True, kw_only=True)
class WeightReadings(SubjectReadings):
    """Weight, with the loads that the drawing writes beside each shelf.

    ``floor_mass`` is everything inside the enclosure, or all parts without one. [kg]
    """

    subject: str = "weight"
    shelves: tuple[ShelfLoad, ...] = ()
    units: tuple[UnitLoad, ...] = ()
    floor_mass: float = 0.0


def inputs(study: Study) -> Any:
    """Return what weight looks at: every part, since anything may weigh, but not where it is.

    What counts of a place is what it is on and how high, not how far along.
    """
    return tuple(_but_for_its_spot(part) for part in study.design.parts)


def _but_for_its_spot(part: AnyPart) -> Any:
    fields, place = values(part), part.place
    fields["place"] = (place.host, place.fixing, place.level, place.face, place.z, place.turn)
    return fields


def read(study: Study) -> WeightReadings:
    """Return the weight readings of a design."""
    units = list(study.design.of(ShelfUnit))
    if not units:
        return WeightReadings(nothing=Phrase("no shelf unit yet"))
    shelves: list[ShelfLoad] = []
    floors: list[UnitLoad] = []
    rows: list[Reading] = []
    for unit in units:
        for shelf, row in _shelf_rows(study, unit):
            shelves.append(shelf)
            rows.append(row)
        floor = _unit_load(study, unit)
        floors.append(floor)
        rows += _unit_rows(study, unit, floor)
    return WeightReadings(
        rows=tuple(rows),
        headline=_headline(tuple(rows)),
        shelves=tuple(shelves),
        units=tuple(floors),
        floor_mass=_floor_mass(study),
    )


def _headline(rows: tuple[Reading, ...]) -> Reading | None:
    """Return what is worst; while all is well, the shelf nearest its rating."""
    found = worst(rows)
    rated = tuple(row for row in rows if row.name == "shelf-load" and row.want_high is not None)
    if rated and found is not None and found.state is State.FINE:
        return worst(rated)
    return found


def _floor_mass(study: Study) -> float:
    box = study.design.enclosure
    parts = [part for part in study.design.parts if box is None or study.placement.inside(part.id)]
    return total(loads(study.placement, parts))


def _shelf_rows(study: Study, unit: ShelfUnit) -> Iterator[tuple[ShelfLoad, Reading]]:
    base = study.placement.box(unit.id).lo[2]
    for level, shelf in enumerate(unit.levels, start=1):
        found = resting_on(study.placement, unit, level)
        mass = total(found)
        where = study.level_words((unit.id, level))
        limit = (
            phrase("{mass} on {place}; limit {limit}", mass=_kg(mass), place=where,
                   limit=_kg(shelf.rating))
            if shelf.rating is not None
            else phrase("{mass} on {place}; no rating given", mass=_kg(mass), place=where)
        )  # fmt: skip
        row = reading(
            "weight",
            "shelf-load",
            unit.id,
            where,
            mass,
            "mass",
            limit,
            SHELF_METHOD,
            spread=_spread(mass),
            want=(None, shelf.rating),
            assumptions=_taken(study, found),
        )
        yield ShelfLoad(unit.id, level, base + shelf.z, mass, shelf.rating), row


def _taken(study: Study, found: tuple[Load, ...]) -> tuple[Phrase, ...]:
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


def _unit_load(study: Study, unit: ShelfUnit) -> UnitLoad:
    """Return how a unit with all it carries stands on the floor."""
    carried = loads(study.placement, with_carried(study.placement, [unit]))
    mass = total(carried)
    box = study.placement.box(unit.id)
    depth = min(box.size[0], box.size[1])
    heavy = [(load.total, _height(study, load) - box.lo[2]) for load in carried if load.total > 0]
    centre = (
        centre_of_gravity([m for m, _ in heavy], [max(h, 0.0) for _, h in heavy])
        if heavy
        else unit.height / 2
    )
    return UnitLoad(
        unit.id,
        mass,
        floor_pressure(mass, box.size[0], box.size[1]),
        castor_load(mass) if unit.castors else None,
        push_to_tip(mass, depth, min(unit.height, 1.8)),
        tip_angle(depth, max(centre, 1e-3)),
        slenderness(unit.height, depth),
    )


def _height(study: Study, load: Load) -> float:
    """Return the height of a load's middle; water and pots lie low in their box. [m]"""
    box = study.placement.box(load.part.id)
    if isinstance(load.part, Plants):
        return box.lo[2] + load.part.pot_height / 2
    if isinstance(load.part, Reservoir):
        return box.lo[2] + load.part.fill / 2
    return box.centre[2]


def _unit_rows(study: Study, unit: ShelfUnit, load: UnitLoad) -> Iterator[Reading]:
    where = phrase("{name}", name=unit.name)
    yield reading(
        "weight",
        "floor-pressure",
        unit.id,
        where,
        load.pressure,
        "pressure",
        phrase(
            "{name} and all it carries: {mass} on the floor, {pressure}",
            name=unit.name,
            mass=_kg(load.mass),
            pressure=Amount(load.pressure, "pressure"),
        ),
        FLOOR_METHOD,
        spread=_spread(load.pressure),
        assumptions=_own_mass(unit),
    )
    if load.castor is not None:
        yield _castor_row(unit, load, where)
    limit = None if unit.anchored else WARN_SLENDERNESS
    yield reading(
        "weight",
        "proportion",
        unit.id,
        where,
        load.proportion,
        "count",
        phrase(
            "{name}: {ratio} times as high as deep; a push of {push} at the top tips it",
            name=unit.name,
            ratio=Amount(load.proportion, "count"),
            push=Amount(load.push, "force"),
        ),
        TIP_METHOD,
        want=(None, limit),
    )


def _castor_row(unit: ShelfUnit, load: UnitLoad, where: Phrase) -> Reading:
    each = load.castor or 0.0
    return reading(
        "weight",
        "castor",
        unit.id,
        where,
        each,
        "mass",
        phrase("{name}: {mass} on a castor", name=unit.name, mass=_kg(each)),
        CASTOR_METHOD,
        spread=_spread(each),
        want=(None, unit.castor_rating),
        assumptions=_own_mass(unit),
    )


def _own_mass(unit: ShelfUnit) -> tuple[Phrase, ...]:
    if unit.mass:
        return ()
    return (phrase("no mass given for {name} itself: counted as nothing", name=unit.name),)


def _spread(value: float) -> tuple[float, float]:
    return value * (1 - SPREAD), value * (1 + SPREAD)


def _kg(mass: float) -> Amount:
    return Amount(mass, "mass")
