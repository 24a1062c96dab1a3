"""Fields that parts of many kinds have: size, model, mass, price, seasons in which one is away.

Fields of one kind alone stand in `gui.form_fields` and the modules beside it.
"""

from __future__ import annotations

from typing import Any

from core.catalogue import Catalogue
from core.language import tr
from core.model import AnyPart, Change, Design, Part, Powered, replace
from gui.form_paths import FormField, Section, derived, fresh, put_thing, quantity, text, tick

_KEPT = ("name", "when", "notes", "price", "owned", "locked", "hidden", "group")
_KEPT_ELECTRIC = ("hours", "plug", "duty", "control", "dimming", "heading", "elevation", "joins")


def size_section(part: Any) -> Section:
    """Return width, depth and height."""
    along = tr("From left to right, before it is turned.")
    fields = [
        quantity(part, "width", tr("Width"), along),
        quantity(part, "depth", tr("Depth"), tr("From front to back, before it is turned.")),
    ]
    if "height" in type(part).model_fields:
        fields.append(quantity(part, "height", tr("Height"), tr("From its foot to its top.")))
    return Section(tr("Size"), tuple(fields))


def model_field(design: Design, part: AnyPart, catalogue: Catalogue) -> FormField | None:
    """Return the choice among the catalogue's entries of this kind; None where there are none."""
    form = getattr(part, "form", None)
    entries = catalogue.of_kind(part.kind, design.units, form)
    if not entries or part.kind in ("plants", "enclosure"):
        return None
    options: list[tuple[Any, str]] = [(entry.key, entry.title(design.units)) for entry in entries]
    if part.catalogue not in [key for key, _ in options]:
        options.insert(0, (part.catalogue, tr("your own")))
    return derived(
        "catalogue", tr("Started from"),
        tr("Another entry of the catalogue brings its own sizes and numbers."), "choice",
        lambda design, thing: fresh(design, thing).catalogue,  # type: ignore[union-attr]
        lambda design, thing, key: _put_model(design, thing, key, catalogue),
        options=lambda design, thing: options, wide=True,
    )  # fmt: skip


def _put_model(design: Design, thing: Any, key: str | None, catalogue: Catalogue) -> Design:
    part: Any = fresh(design, thing)
    if key is None:
        return put_thing(design, part, replace(part, catalogue=None))
    kept = {name: getattr(part, name) for name in _KEPT}
    made = catalogue.make(key, design, part.place, id=part.id)
    if isinstance(part, Powered):
        known = type(part).model_fields
        kept |= {name: getattr(part, name) for name in _KEPT_ELECTRIC if name in known}
    return put_thing(design, part, replace(made, **kept))


def end_sections(design: Design, part: AnyPart) -> tuple[Section, ...]:
    """Return what stands at the foot of every form."""
    mass = quantity(
        part, "mass", tr("Mass"), tr("Without water and plants; 0 takes the usual one.")
    )
    price = quantity(
        part, "price", tr("Price ({currency})").format(currency=design.prices.currency),
        tr("For one; empty leaves it out of the sum."), "sum",
    )  # fmt: skip
    owned = tick(part, "owned", tr("Owned already"), tr("Need not be bought."))
    locked = tick(part, "locked", tr("Locked"), tr("Cannot be dragged or deleted."))
    away = tuple(_away_field(season.id, season.name) for season in design.seasons)
    notes = text(
        part, "notes", tr("Notes"), tr("For yourself; printed in the summary."), optional=True
    )
    return (
        Section(tr("Seasons"), away),
        Section(tr("Buying"), (mass, price, owned, locked, notes)),
    )


def _away_field(season: str, name: str) -> FormField:
    return derived(
        f"away.{season}", tr("Away on a {season}").format(season=name[:1].lower() + name[1:]),
        tr("Not there in that season; what it carries is away too."), "tick",
        lambda design, thing: any(_is_away(change, season) for change in _changes(design, thing)),
        lambda design, thing, away: _put_away(design, thing, season, away),
        wide=True,
    )  # fmt: skip


def _changes(design: Design, thing: Any) -> tuple[Change, ...]:
    part = fresh(design, thing)
    return part.when if isinstance(part, Part) else ()


def _is_away(change: Change, season: str) -> bool:
    return change.absent and change.season == season and change.half is None


def _put_away(design: Design, thing: Any, season: str, away: bool) -> Design:
    part: Any = fresh(design, thing)
    kept = tuple(change for change in part.when if not _is_away(change, season))
    when = (*kept, Change(season=season, absent=True)) if away else kept
    return put_thing(design, part, replace(part, when=when))
