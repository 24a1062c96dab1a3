"""Readings of how shelf units stand: floor, posts, castors, proportion, pushed and climbed.

The numbers are found in `standing`; the loads of shelves are in `reading`.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.constants import GRAVITY
from core.language import tr
from core.model import ShelfUnit
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, reading
from core.study import Study
from core.weight.loads import load_of, loads, total
from core.weight.stability import WARN_SLENDERNESS
from core.weight.standing import UnitLoad

SPREAD = 0.10
"""Relative uncertainty of a load: fill levels and wet substrate. Common practice, no source."""

_TEN_PERCENT = tr("±10 % for fill depth and how wet the substrate is (common practice, no source).")
FLOOR_METHOD = Method(
    tr("Weight of all that stands there over its footprint."),
    tr(
        "Definition of pressure. Floors of dwellings are meant for 40 psf, bedrooms for 30 (IRC "
        "table R301.5), or 1.5 to 2.0 kN/m² (EN 1991-1-1, from memory)."
    ),
    _TEN_PERCENT,
    (tr("The floor’s own strength is not known here; whoever knows the building decides."),),
)
POST_METHOD = Method(
    tr(
        "The whole weight shared between four posts by where its centre of gravity stands, and "
        "that of the heaviest over the area of its foot."
    ),
    tr("Statics of a plate between its edges; definition of pressure."),
    _TEN_PERCENT,
    (tr("On an uneven floor one foot hangs free and two may carry nearly all."),),
)
CASTOR_METHOD = Method(
    tr("A third of the whole weight on each castor, since uneven floors leave one idle."),
    tr("Trade rule for castors: total / 3 (secondary source)."),
    tr("±10 % as the weight."),
)
TIP_METHOD = Method(
    tr(
        "Height over depth, and the push at the top, or 1.8 m up where it is taller, that lifts "
        "the feet of one side; full or with its trays dry, whichever tips more easily."
    ),
    tr(
        "Statics: F = m g a / h with the arm a from the centre of gravity to the nearer edge, d/2 "
        "where all stands in the middle; the limit of 4 is one shelving maker’s practice, "
        "anchoring from 6 on from memory."
    ),
    tr("±10 % as the weight."),
    (tr("Climbing children and pets push harder than a hand does."),),
)
CLIMB_METHOD = Method(
    tr(
        "Moments about the feet, its trays dry: somebody who climbs the shelves, 0.25 m before "
        "them, against the unit’s own weight; and a pull at the highest shelf."
    ),
    tr("Statics; 27 kg stand for a child that climbs (60 lb in ASTM F2057-23, from memory)."),
    tr("±10 % as the weight."),
)


def unit_rows(study: Study, unit: ShelfUnit, load: UnitLoad) -> Iterator[Reading]:
    """Yield all that is read of how one unit stands."""
    where = phrase("{name}", name=unit.name)
    yield _floor_row(unit, load, where)
    yield _post_row(unit, load, where)
    if load.castor is not None:
        yield _castor_row(unit, load, where)
    yield _proportion_row(unit, load, where)
    yield _climb_row(unit, load, where)


def _floor_row(unit: ShelfUnit, load: UnitLoad, where: Phrase) -> Reading:
    line = phrase(
        "{name} and all it carries: {mass} on the floor, {pressure}",
        name=unit.name,
        mass=_kg(load.mass),
        pressure=Amount(load.pressure, "pressure"),
    )
    return reading(
        "weight", "floor-pressure", unit.id, where, load.pressure, "pressure", line, FLOOR_METHOD,
        spread=_spread(load.pressure), assumptions=_own_mass(unit),
    )  # fmt: skip


def _post_row(unit: ShelfUnit, load: UnitLoad, where: Phrase) -> Reading:
    line = phrase("{name}: {mass} on its heaviest post", name=unit.name, mass=_kg(load.post))
    if load.foot_pressure is not None:
        line = phrase(
            "{line}, {pressure} under its foot of {side}",
            line=line,
            pressure=Amount(load.foot_pressure, "pressure"),
            side=Amount(unit.foot or unit.post, "length"),
        )
    if unit.post_rating is not None:
        line = phrase("{line}; limit {limit}", line=line, limit=_kg(unit.post_rating))
    taken = (phrase("feet are taken as wide as the posts"),) if unit.foot is None else ()
    return reading(
        "weight", "post", unit.id, where, load.post, "mass", line, POST_METHOD,
        spread=_spread(load.post), want=(None, unit.post_rating),
        assumptions=(*_own_mass(unit), *(taken if load.foot_pressure is not None else ())),
    )  # fmt: skip


def _castor_row(unit: ShelfUnit, load: UnitLoad, where: Phrase) -> Reading:
    each = load.castor or 0.0
    line = phrase("{name}: {mass} on a castor", name=unit.name, mass=_kg(each))
    if unit.castor_rating is not None:
        line = phrase("{line}; limit {limit}", line=line, limit=_kg(unit.castor_rating))
    return reading(
        "weight", "castor", unit.id, where, each, "mass", line, CASTOR_METHOD,
        spread=_spread(each), want=(None, unit.castor_rating), assumptions=_own_mass(unit),
    )  # fmt: skip


def _proportion_row(unit: ShelfUnit, load: UnitLoad, where: Phrase) -> Reading:
    line = phrase(
        "{name}: {ratio} times as high as deep; a push of {push} {height} up tips it",
        name=unit.name,
        ratio=Amount(load.proportion, "count"),
        push=Amount(load.push, "force"),
        height=Amount(load.push_height, "length"),
    )
    limit = None if unit.anchored else WARN_SLENDERNESS
    return reading(
        "weight", "proportion", unit.id, where, load.proportion, "count", line, TIP_METHOD,
        want=(None, limit),
    )  # fmt: skip


def _climb_row(unit: ShelfUnit, load: UnitLoad, where: Phrase) -> Reading:
    line = phrase(
        "{name}: {mass} climbing on its front tip it, or a pull of {pull} at its top shelf",
        name=unit.name,
        mass=_kg(load.climb),
        pull=Amount(load.pull, "force"),
    )
    if unit.anchored:
        line = phrase("{name} is anchored: climbing does not tip it", name=unit.name)
    return reading(
        "weight", "climb", unit.id, where, load.climb, "mass", line, CLIMB_METHOD,
        spread=_spread(load.climb), assumptions=_own_mass(unit),
    )  # fmt: skip


def floor_row(study: Study, mass: float) -> Iterator[Reading]:
    """Yield everything on the floor of the enclosure, or under all units, against what it bears."""
    box = study.design.enclosure
    places = [box.id] if box else [unit.id for unit in study.design.of(ShelfUnit)]
    area = sum(study.placement.box(place).footprint.area for place in places)
    limit, pressure = study.design.targets.floor_load, mass * GRAVITY / area
    line = phrase("{mass} on {area}: {pressure}", mass=_kg(mass), area=Amount(area, "area"),
                  pressure=Amount(pressure, "pressure"))  # fmt: skip
    if limit is not None:
        line = phrase("{line}; the floor carries {limit}", line=line,
                      limit=Amount(limit, "pressure"))  # fmt: skip
    where = phrase("{name}", name=box.name) if box else phrase("all units")
    taken = box is not None and load_of(study.placement, box).taken
    assumptions = (phrase("usual mass taken for {names}", names=box.name),) if box and taken else ()
    yield reading(
        "weight", "floor", places[0], where, pressure, "pressure", line, FLOOR_METHOD,
        spread=_spread(pressure), want=(None, limit), assumptions=assumptions,
    )  # fmt: skip


def floor_mass(study: Study) -> float:
    """Return the mass of the enclosure and all inside; without one, of all parts. [kg]"""
    box = study.design.enclosure
    parts = [
        part
        for part in study.design.parts
        if box is None or part.id == box.id or study.placement.inside(part.id)
    ]
    return total(loads(study.placement, parts))


def _own_mass(unit: ShelfUnit) -> tuple[Phrase, ...]:
    if unit.mass or any(shelf.mass for shelf in unit.levels):
        return ()
    return (phrase("no mass given for {name} itself: counted as nothing", name=unit.name),)


def _spread(value: float) -> tuple[float, float]:
    return value * (1 - SPREAD), value * (1 + SPREAD)


def _kg(mass: float) -> Amount:
    return Amount(mass, "mass")
