"""Rules on weight: shelves and castors over their rating, units that tip, what the floor bears.

Loads come from the readings of weight; nothing is weighed here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.finding import Finding, Remedy
from core.findings.edits import on_shelf, remedy, set_to, when_settled
from core.findings.words import AMISS, sentence
from core.model import AnyPart, ShelfUnit
from core.phrases import Amount, Phrase, phrase
from core.reading import Reading, distance_out
from core.states import State
from core.study import Study
from core.weight.loads import loads, total, with_carried
from core.weight.reading import ShelfLoad, WeightReadings
from core.weight.stability import ANCHOR_SLENDERNESS, CHILD
from core.weight.stand_rows import SPREAD

HEAVY_ABOVE = 15.0
"""From this load on it matters on which shelf it stands (common practice, no source). [kg]"""
TOP_HEAVY = 1.25
"""A shelf of the upper half that carries this many times the most below (common practice)."""
ASK_ABOUT_FLOOR = 700.0
"""From here on ask about the floor: half of the 30 psf (1436 Pa) of sleeping rooms in IRC table
R301.5, so that furniture and people have their share (judgement). [Pa]"""


def _weight(study: Study) -> WeightReadings | None:
    found = study.done.get("weight")
    return found if isinstance(found, WeightReadings) else None


def over_rating(study: Study) -> Iterator[Finding]:
    """Find shelves that carry more than their rating."""
    weight = _weight(study)
    if weight is None:
        return
    for shelf, row in _shelves(weight):
        if row.state in AMISS and shelf.rating is not None:
            yield Finding(
                "shelf-over-rating",
                "weight",
                row.state,
                shelf.unit,
                phrase(_SHELF_TITLES[row.state], place=row.where),
                phrase(
                    "{mass}; its shelf is rated {rating}.",
                    mass=_kg(shelf.mass),
                    rating=_kg(shelf.rating),
                ),
                level=(shelf.unit, shelf.level),
                size=distance_out(row),
                remedy=_lightened(study, weight, shelf),
            )


_SHELF_TITLES = {
    State.HIGH: "Too much weight on {place}",
    State.LIKELY_HIGH: "Likely too much weight on {place}",
    State.BORDERLINE: "Borderline weight on {place}",
}


def _shelves(weight: WeightReadings) -> Iterator[tuple[ShelfLoad, Reading]]:
    rows = [row for row in weight.rows if row.name == "shelf-load"]
    return zip(weight.shelves, rows, strict=True)


@dataclass(frozen=True)
class _Movable:
    """A part on a shelf and what it weighs with all it carries. [kg]"""

    part: AnyPart
    mass: float


def _standing_on(study: Study, shelf: ShelfLoad) -> list[_Movable]:
    """Return what could be taken off a shelf, heaviest first."""
    found = [
        _Movable(part, total(loads(study.placement, with_carried(study.placement, [part]))))
        for part in study.design.parts
        if part.place.host == shelf.unit
        and part.place.level == shelf.level
        and part.place.fixing == "stands"
        and not part.locked
    ]
    return sorted(found, key=lambda item: -item.mass)


@when_settled
def _lightened(study: Study, weight: WeightReadings, shelf: ShelfLoad) -> Remedy | None:
    """Return the move of the heaviest thing that brings the shelf within its rating."""
    rating = shelf.rating or 0.0
    for item in _standing_on(study, shelf):
        if (shelf.mass - item.mass) * (1 + SPREAD) > rating:
            continue
        found = _moved_to_another(study, weight, shelf, item)
        if found is not None:
            return found
    return None


def _moved_to_another(
    study: Study, weight: WeightReadings, shelf: ShelfLoad, item: _Movable
) -> Remedy | None:
    """Return the move of a thing to the lowest shelf that has room and strength for it."""
    others = [other for other in weight.shelves if other is not shelf]
    for other in sorted(others, key=lambda each: (each.unit != shelf.unit, each.z)):
        if other.rating is None or (other.mass + item.mass) * (1 + SPREAD) > other.rating:
            continue
        edits = on_shelf(study, item.part, (other.unit, other.level))
        if edits is not None:
            level = study.level_words((other.unit, other.level))
            words = phrase("Move {name} to {level}", name=item.part.name, level=level)
            return Remedy(words, edits)
    return None


def top_heavy(study: Study) -> Iterator[Finding]:
    """Find units whose heaviest shelf is in the upper half."""
    weight = _weight(study)
    if weight is None:
        return
    for unit in study.design.of(ShelfUnit):
        box = study.placement.box(unit.id)
        shelves = [shelf for shelf in weight.shelves if shelf.unit == unit.id]
        heaviest = max(shelves, key=lambda shelf: shelf.mass)
        below = [shelf for shelf in shelves if shelf.z < box.centre[2]]
        most_below = max((shelf.mass for shelf in below), default=0.0)
        high_up = heaviest.z >= box.centre[2] and heaviest.mass >= HEAVY_ABOVE
        if high_up and below and heaviest.mass > TOP_HEAVY * most_below:
            yield Finding(
                "top-heavy",
                "weight",
                State.CAUTION,
                unit.id,
                phrase("{name} carries its heaviest load high up", name=unit.name),
                phrase(
                    "{mass} on {place}; {below} at most on the lower half.",
                    mass=_kg(heaviest.mass),
                    place=study.level_words((unit.id, heaviest.level)),
                    below=_kg(most_below),
                ),
                level=(unit.id, heaviest.level),
                size=heaviest.mass / max(most_below, 1.0),
                remedy=_brought_down(study, weight, heaviest, tuple(below)),
            )


@when_settled
def _brought_down(
    study: Study, weight: WeightReadings, high: ShelfLoad, below: tuple[ShelfLoad, ...]
) -> Remedy | None:
    """Return the move of one thing down that leaves the heaviest load in the lower half."""
    for item in _standing_on(study, high):
        for low in sorted(below, key=lambda shelf: shelf.z):
            held = low.mass + item.mass
            too_much = low.rating is not None and held * (1 + SPREAD) > low.rating
            if too_much or high.mass - item.mass > TOP_HEAVY * held:
                continue
            edits = on_shelf(study, item.part, (low.unit, low.level))
            if edits is not None:
                level = study.level_words((low.unit, low.level))
                words = phrase("Move {name} down to {level}", name=item.part.name, level=level)
                return Remedy(words, edits)
    return None


def tips_over(study: Study) -> Iterator[Finding]:
    """Find units that are slender for their height and not held to a wall."""
    for row in _rows(study, "proportion"):
        if row.state in AMISS:
            name = study.design.part(row.place).name
            must = (row.value or 0.0) > ANCHOR_SLENDERNESS
            title = "{name} must be anchored" if must else "{name} can be pushed over"
            yield Finding(
                "tips-over",
                "weight",
                row.state,
                row.place,
                phrase(title, name=name),
                sentence(row.line),
                size=distance_out(row),
                remedy=_anchored(study, row.place, name),
            )


def _anchored(study: Study, unit: str, name: str) -> Remedy:
    words = phrase("Anchor {name} to the wall", name=name)
    return remedy(words, set_to(study, unit, anchored=True))


def climbed(study: Study) -> Iterator[Finding]:
    """Name units that a climbing child tips, unless they are found slender already."""
    slender = {row.place for row in _rows(study, "proportion") if row.state in AMISS}
    for row in _rows(study, "climb"):
        unit = study.design.part(row.place)
        assert isinstance(unit, ShelfUnit)
        if unit.anchored or unit.id in slender or (row.value or 0.0) >= CHILD:
            continue
        yield Finding(
            "climbed",
            "weight",
            State.CAUTION,
            unit.id,
            phrase("{name} tips when a child climbs it", name=unit.name),
            phrase(
                "Once its trays are dry, {mass} hanging on its front tip it; reckon with {child}.",
                mass=_kg(row.value or 0.0),
                child=_kg(CHILD),
            ),
            size=CHILD / max(row.value or 0.0, 1.0),
            remedy=_anchored(study, unit.id, unit.name),
        )


def posts(study: Study) -> Iterator[Finding]:
    """Find posts that carry more than their rating."""
    for row in _rows(study, "post"):
        if row.state in AMISS and row.want_high is not None:
            yield Finding(
                "post-over-rating",
                "weight",
                row.state,
                row.place,
                phrase(_POST_TITLES[row.state], name=study.design.part(row.place).name),
                phrase(
                    "{mass} on the heaviest; a post is rated {rating}.",
                    mass=_kg(row.value or 0.0),
                    rating=_kg(row.want_high),
                ),
                size=distance_out(row),
            )


_POST_TITLES = {
    State.HIGH: "A post of {name} carries too much",
    State.LIKELY_HIGH: "A post of {name} likely carries too much",
    State.BORDERLINE: "Borderline weight on a post of {name}",
}


def castors(study: Study) -> Iterator[Finding]:
    """Find castors that carry more than their rating."""
    for row in _rows(study, "castor"):
        if row.state in AMISS and row.want_high is not None:
            name = study.design.part(row.place).name
            yield Finding(
                "castors-over-rating",
                "weight",
                row.state,
                row.place,
                phrase(_CASTOR_TITLES[row.state], name=name),
                phrase(
                    "{mass} on one of them; they are rated {rating}.",
                    mass=_kg(row.value or 0.0),
                    rating=_kg(row.want_high),
                ),
                size=distance_out(row),
                remedy=remedy(
                    phrase("Stand {name} on feet instead", name=name),
                    set_to(study, row.place, castors=False),
                ),
            )


_CASTOR_TITLES = {
    State.HIGH: "The castors of {name} carry too much",
    State.LIKELY_HIGH: "The castors of {name} likely carry too much",
    State.BORDERLINE: "Borderline weight on the castors of {name}",
}


def floor_strength(study: Study) -> Iterator[Finding]:
    """Find floors that carry more than they bear; where nobody knows, ask if much stands there."""
    weight, row = _weight(study), next(_rows(study, "floor"), None)
    if weight is None or row is None or row.value is None:
        return
    if row.want_high is not None:
        if row.state in AMISS:
            yield _floor(row, row.state, phrase(_FLOOR_TITLES[row.state]), sentence(row.line))
    elif row.value >= ASK_ABOUT_FLOOR:
        title = phrase("The floor’s strength is not known here")
        ask = phrase("{line}; ask whoever knows the building.", line=row.line)
        yield _floor(row, State.CAUTION, title, ask)


def _floor(row: Reading, state: State, title: Phrase, detail: Phrase) -> Finding:
    size = (row.value or 0.0) / ASK_ABOUT_FLOOR if row.want_high is None else distance_out(row)
    return Finding("floor-strength", "weight", state, row.place, title, detail, size=size)


_FLOOR_TITLES = {
    State.HIGH: "More stands on the floor than it carries",
    State.LIKELY_HIGH: "Likely more stands on the floor than it carries",
    State.BORDERLINE: "The floor carries about as much as it can",
}


def _rows(study: Study, name: str) -> Iterator[Reading]:
    weight = _weight(study)
    return (row for row in (weight.rows if weight else ()) if row.name == name)


def _kg(mass: float) -> Amount:
    return Amount(mass, "mass")


RULES = (over_rating, top_heavy, tips_over, climbed, posts, castors, floor_strength)
