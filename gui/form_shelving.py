"""Fields of shelf units: the heights of their levels, what a shelf is like, castors.

Plants on a level have a form of their own, `gui.form_plants`.
"""

from __future__ import annotations

from typing import Any

from core.errors import DesignError
from core.language import tr
from core.model import Design, ShelfUnit, replace
from gui.form_general import size_section
from gui.form_paths import (
    FormField,
    Link,
    Section,
    facts_at,
    fresh,
    put_thing,
    quantity,
    tick,
)

_SURFACES = (("wire", "wire"), ("solid", "solid"))
_GAP = 0.40


def unit_sections(design: Design, unit: ShelfUnit) -> tuple[Section, ...]:
    """Return the fields of a shelf unit."""
    heights = tuple(_height_field(unit, place) for place in range(len(unit.levels)))
    links = (
        Link(tr("Add a level"), _add_level),
        Link(tr("Take the highest level away"), _drop_level),
    )
    return (
        size_section(unit),
        Section(tr("Levels, top of each shelf above the foot"), heights, links),
        Section(tr("Shelves"), _shelf_fields(unit)),
        Section(tr("Stand"), _stand_fields(unit)),
    )


def _height_field(unit: ShelfUnit, place: int) -> FormField:
    words = tr("Level {number}").format(number=place + 1)
    return quantity(unit, ("levels", place, "z"), words, tr("Above the unit’s foot."))


def _shelf_fields(unit: ShelfUnit) -> tuple[FormField, ...]:
    """Return fields that hold for all shelves of the unit alike."""
    return (
        _all_shelves(
            unit, "surface", tr("Surface"), tr("Wires let light through to the level below."),
            "choice",
        ),
        _all_shelves(
            unit, "transmittance", tr("Light let through"), tr("Share that passes the wires.")
        ),
        _all_shelves(unit, "reflectance", tr("Light sent back"), tr("Share that is reflected.")),
        _all_shelves(unit, "rating", tr("Carries at most"), tr("The maker’s rating of one shelf.")),
        _all_shelves(unit, "thickness", tr("Thickness"), tr("From top to underside.")),
        _all_shelves(
            unit, "mass", tr("Weighs itself"), tr("Then it counts on its own rating too.")
        ),
    )  # fmt: skip


def _all_shelves(
    unit: ShelfUnit, name: str, label: str, tip: str, kind: str = "quantity"
) -> FormField:
    facts = facts_at(unit.levels[0], (name,))
    options = [(key, tr(words)) for key, words in _SURFACES]
    return FormField(
        f"levels.{name}", label, tip, kind,
        lambda design, thing: _common(fresh(design, thing), name),
        lambda design, thing, value: _put_all(design, thing, name, value),
        facts.unit, facts.low, facts.high, facts.optional,
        options=lambda design, thing: options,
    )  # fmt: skip


def _common(unit: Any, name: str) -> Any:
    """Return what all shelves have in common; None where they differ."""
    found = {getattr(shelf, name) for shelf in unit.levels}
    return found.pop() if len(found) == 1 else None


def _put_all(design: Design, thing: Any, name: str, value: Any) -> Design:
    unit: Any = fresh(design, thing)
    levels = tuple(replace(shelf, **{name: value}) for shelf in unit.levels)
    return put_thing(design, unit, replace(unit, levels=levels))


def _stand_fields(unit: ShelfUnit) -> tuple[FormField, ...]:
    found = [
        quantity(unit, "post", tr("Posts"), tr("Thickness of a post.")),
        quantity(unit, "post_rating", tr("One post carries"), tr("The maker’s rating.")),
        quantity(
            unit, "foot", tr("Foot"), tr("Side of what stands under a post; empty: the post’s.")
        ),
        tick(unit, "anchored", tr("Anchored"), tr("Fixed to the wall, so that it cannot tip.")),
        tick(unit, "castors", tr("On castors"), tr("Rolls, and puts a third of all on one wheel.")),
    ]
    if unit.castors:
        found.append(
            quantity(unit, "castor_rating", tr("One castor carries"), tr("The maker’s rating."))
        )
    return tuple(found)


def _add_level(design: Design, thing: Any) -> Design:
    """Return the design with a level above the highest one, the unit as tall as it needs."""
    unit: Any = fresh(design, thing)
    top = unit.levels[-1]
    gap = top.z - unit.levels[-2].z if len(unit.levels) > 1 else _GAP
    z = top.z + gap
    levels = (*unit.levels, replace(top, z=z))
    return put_thing(design, unit, replace(unit, levels=levels, height=max(unit.height, z)))


def _drop_level(design: Design, thing: Any) -> Design:
    unit: Any = fresh(design, thing)
    number = len(unit.levels)
    there = [p.name for p in design.parts if p.place.host == unit.id and p.place.level == number]
    if there:
        text = tr("{unit}: level {number} still holds {names}; move that first.")
        names = ", ".join(there[:3])
        raise DesignError(text.format(unit=unit.name, number=number, names=names))
    return put_thing(design, unit, replace(unit, levels=unit.levels[:-1]))
