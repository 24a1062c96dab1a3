"""Fields of a zone: which plants, how high their leaves are, their pots, and what they want.

What the group wants is the design's own: changing it here changes it for every zone of the group.
"""

from __future__ import annotations

from typing import Any

from core.catalogue import Catalogue, with_group
from core.language import tr
from core.model import Design, Plants, Pots, Span, replace
from gui.form_paths import FormField, Section, derived, fresh, put_thing, quantity

# Field of the group, words, unit kind, what it means.
_WANTS = (
    ("ppfd", "Light", "photon_flux_density", "At the leaves; goes before the daily light."),
    ("daily_light", "Light a day", "daily_light", "Summed over the lit hours."),
    ("temperature_day", "Day warmth", "temperature", "Of the air, while lamps are on."),
    ("temperature_night", "Night warmth", "temperature", "Of the air, in the dark."),
    ("humidity", "Humidity", "fraction", "Relative humidity of the air."),
    ("air_speed", "Air", "speed", "At the leaves; empty takes what suits all plants."),
)


def plants_sections(design: Design, plants: Plants, catalogue: Catalogue) -> tuple[Section, ...]:
    """Return the fields of a zone."""
    leaves = (
        _group_field(catalogue),
        quantity(plants, "width", tr("Width"), tr("Of the area they take.")),
        quantity(plants, "depth", tr("Depth"), tr("Of the area they take.")),
        quantity(plants, "leaf_low", tr("Lowest leaves"), tr("Above the pot’s rim.")),
        quantity(plants, "leaf_high", tr("Highest leaves"), tr("Above the pot’s rim.")),
    )
    group = design.group(plants.species)
    name = group.name if group else plants.species
    heading = tr("What {plants} want, in this design").format(plants=name[:1].lower() + name[1:])
    return (
        Section(tr("Plants"), leaves),
        Section(tr("Pots"), _pot_fields(plants)),
        Section(heading, want_fields(plants.species)),
    )


def _group_field(catalogue: Catalogue) -> FormField:
    return derived(
        "species", tr("Plant group"), tr("What they want marks every reading of this place."),
        "choice",
        lambda design, thing: fresh(design, thing).species,  # type: ignore[union-attr]
        lambda design, thing, key: _put_group(design, thing, key, catalogue),
        options=lambda design, thing: _groups(design, catalogue), wide=True,
    )  # fmt: skip


def _groups(design: Design, catalogue: Catalogue) -> list[tuple[str, str]]:
    found = {group.key: group.name for group in (*catalogue.plant_groups, *design.groups)}
    return sorted(found.items(), key=lambda item: item[1].casefold())


def _put_group(design: Design, thing: Any, key: str, catalogue: Catalogue) -> Design:
    plants: Any = fresh(design, thing)
    known = design.group(key) or next(g for g in catalogue.plant_groups if g.key == key)
    ready = with_group(design, known)
    old = design.group(plants.species)
    # A zone still called by its old group follows the new one.
    named = old is not None and plants.name.startswith(old.name)
    name = plants.name.replace(old.name, known.name, 1) if old and named else plants.name
    return put_thing(ready, plants, replace(plants, species=key, name=name))


def _pot_fields(plants: Plants) -> tuple[FormField, ...]:
    has = derived(
        "pots", tr("In pots"), tr("Without pots the leaves stand on the surface itself."), "tick",
        lambda design, thing: fresh(design, thing).pots is not None,  # type: ignore[union-attr]
        _put_pots, wide=True,
    )  # fmt: skip
    if plants.pots is None:
        return (has,)
    return (
        has,
        quantity(plants, "pots.count", tr("How many"), tr("Pots in this zone.")),
        quantity(plants, "pots.diameter", tr("Diameter"), tr("At the rim.")),
        quantity(plants, "pots.height", tr("Height"), tr("From foot to rim.")),
        quantity(plants, "pots.density", tr("Wet substrate"), tr("Its density when well watered.")),
    )


def _put_pots(design: Design, thing: Any, on: bool) -> Design:
    plants: Any = fresh(design, thing)
    return put_thing(design, plants, replace(plants, pots=(plants.pots or Pots()) if on else None))


# What the group wants ----------------------------------------------------------------------------


def want_fields(key: str) -> tuple[FormField, ...]:
    """Return the lowest and highest of everything that a plant group wants."""
    found: list[FormField] = []
    for name, words, unit, tip in _WANTS:
        low = tr("{what}, lowest").format(what=tr(words))
        high = tr("{what}, highest").format(what=tr(words))
        found.append(_end_field(key, name, "low", low, tr(tip), unit))
        found.append(_end_field(key, name, "high", high, tr(tip), unit))
    return tuple(found)


def _end_field(key: str, name: str, end: str, label: str, tip: str, unit: str) -> FormField:
    return derived(
        f"group.{key}.{name}.{end}", label, tip, "quantity",
        lambda design, thing: getattr(_span(design, key, name), end, None),
        lambda design, thing, value: _put_end(design, key, name, end, value),
        unit=unit, optional=True,
    )  # fmt: skip


def _span(design: Design, key: str, name: str) -> Span | None:
    group = design.group(key)
    return getattr(group, name) if group else None


def _put_end(design: Design, key: str, name: str, end: str, value: float | None) -> Design:
    group = design.group(key)
    if group is None:
        return design
    span = _span(design, key, name) or Span()
    ends: dict[str, Any] = {"low": span.low, "high": span.high, end: value}
    wanted = None if ends["low"] is None and ends["high"] is None else replace(span, **ends)
    if wanted == _span(design, key, name):
        return design
    new = replace(group, **{name: wanted}, quality="entered")
    return design.having(groups=tuple(new if g.key == key else g for g in design.groups))
