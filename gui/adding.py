"""What can be added, from the shelf, the menu or by name, and the design with it added.

Where a new part goes is worked out in `core.placing`; what it starts as, in `core.catalogue`.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from core.catalogue import Catalogue, Entry, free_name, with_group
from core.drawing.seeing import unit_of
from core.errors import DesignError
from core.geometry import Box
from core.language import tr
from core.model import (
    AnyFixture,
    AnyPart,
    Design,
    FeedLine,
    Fogger,
    Lamp,
    Obstacle,
    Place,
    Plants,
    Reservoir,
    ShelfUnit,
    Tray,
    replace,
)
from core.model.kinds import FIXTURE_KINDS, PART_KINDS
from core.placement import Placement, fixture_box, wall_length
from core.placing import Level, Point, Wish, fixture_placed, placed
from gui.parts_shelf import PartEntry

_STEP = 0.05
"""How finely a free stretch of wall is looked for. [m]"""

# Key on the shelf -> icon, words, heading, kind in the catalogue, form of a lamp.
_SHELF: tuple[tuple[str, str, str, str, str, str | None], ...] = (
    ("door", "door", "Door", "Room", "room-door", None),
    ("opening", "opening", "Opening", "Room", "opening", None),
    ("enclosure", "enclosure", "Enclosure", "Frame", "enclosure", None),
    ("shelf-unit", "shelf-unit", "Shelf unit", "Frame", "shelf-unit", None),
    ("bay", "bay", "Bay", "Frame", "bay", None),
    ("platform", "platform", "Platform", "Frame", "platform", None),
    ("board", "board", "Board", "Lamps", "lamp", "board"),
    ("tube", "tube", "Tube", "Lamps", "lamp", "tube"),
    ("spot", "spot", "Spot", "Lamps", "lamp", "spot"),
    ("fan", "circulation-fan", "Fan", "Air", "fan", None),
    ("duct-fan", "duct-fan", "Duct fan", "Air", "duct-fan", None),
    ("heater", "heater", "Heater", "Air", "heater", None),
    ("cooler", "cooler", "Cooler", "Air", "cooler", None),
    ("plants", "plants", "Plants", "Plants and water", "plants", None),
    ("tray", "tray", "Tray", "Plants and water", "tray", None),
    ("reservoir", "reservoir", "Reservoir", "Plants and water", "reservoir", None),
    ("fogger", "fogger", "Fogger", "Plants and water", "fogger", None),
    ("outlet", "outlet", "Outlet", "Power", "outlet", None),
    ("strip", "strip", "Strip", "Power", "strip", None),
    ("timer", "timer", "Timer", "Power", "timer", None),
)
_PLAIN_ICONS = {
    "room-door": "door",
    "room-window": "opening",
    "obstacle": "enclosure",
    "fan": "circulation-fan",
    "lead": "strip",
    "thermostat": "timer",
    "humidistat": "timer",
    "feed": "water",
}
_FIRST = ("zone-ferns", "tray-60x40", "unit-90x45-4", "box-120x60x180")
"""Entries offered before the others of their kind: undemanding, and they fit one another."""
FEED = "feed"
"""Key of the one thing that is offered without a catalogue entry: a tube between two parts."""


@dataclass(frozen=True)
class Offer:
    """One thing to add by name: its key, words, icon and heading."""

    key: str
    words: str
    icon: str
    group: str


def shelf_entries() -> tuple[PartEntry, ...]:
    """Return what stands on the parts shelf."""
    return tuple(
        PartEntry(key, icon, tr(words), tr(group)) for key, icon, words, group, *_ in _SHELF
    )


def icon_of(thing: AnyPart | AnyFixture) -> str:
    """Return the name of the icon that stands for a part or fixture."""
    return icon_for(thing.kind, getattr(thing, "form", None))


def icon_for(kind: str, form: str | None = None) -> str:
    """Return the name of the icon for a kind of part."""
    return form or _PLAIN_ICONS.get(kind, kind)


def offers(catalogue: Catalogue, system: str) -> Iterator[Offer]:
    """Yield all that can be added by name, in the order of the shelf, this system's sizes only."""
    for kind in _kinds():
        form_order = ("board", "tube", "spot") if kind == "lamp" else (None,)
        for form in form_order:
            for entry in _in_order(catalogue.of_kind(kind, system, form), system):
                if system in entry.systems:
                    yield Offer(
                        entry.key, entry.title(system), icon_for(kind, form), group_of(kind)
                    )
    yield Offer(FEED, tr("Feed tube"), icon_for(FEED), group_of("reservoir"))


def _in_order(entries: Iterable[Entry], system: str) -> list[Entry]:
    """Return the entries with the one to begin with before the others."""
    return sorted(entries, key=lambda one: (system not in one.systems, one.key not in _FIRST))


def _kinds() -> list[str]:
    """Return every kind that can be placed: those of the shelf in its order, then the others."""
    known = [kind for *_, kind, _ in _SHELF]
    return list(dict.fromkeys([*known, *FIXTURE_KINDS, *(k for k in PART_KINDS if k != FEED)]))


def group_of(kind: str) -> str:
    """Return the heading that a kind stands under."""
    groups = {kind: group for *_, group, kind, _ in _SHELF}
    others = {"room-window": "Room", "obstacle": "Room", "lead": "Power"}
    others |= {"thermostat": "Air", "humidistat": "Air"}
    return tr(groups.get(kind) or others.get(kind, "Room"))


def entry_for(key: str, catalogue: Catalogue, system: str) -> Entry:
    """Return the catalogue entry that a key of the shelf, or of the catalogue, stands for."""
    for name, _, _, _, kind, form in _SHELF:
        if name == key:
            return _in_order(catalogue.of_kind(kind, system, form), system)[0]
    return catalogue.get(key)


def with_added(
    design: Design,
    catalogue: Catalogue,
    key: str,
    *,
    level: Level | None = None,
    at: Point | None = None,
    near: str | None = None,
) -> tuple[Design, str]:
    """Return the design with one new part or fixture, and its id.

    Parameters
    ----------
    design : Design
    catalogue : Catalogue
    key : str
        Of the shelf ("board") or of a catalogue entry.
    level : tuple of (str, int), optional
        The level it is wanted on.
    at : tuple of float or None, optional
        Where its middle was dropped. [m]
    near : str, optional
        The part it goes to: the shelf unit it stands in, or the tray that takes plants.

    Raises
    ------
    DesignError
        If it cannot go there; the text says why.
    """
    if key == FEED:
        feed = new_feed(design)
        return design.with_parts({feed.id: feed}), feed.id
    entry = entry_for(key, catalogue, design.units)
    if entry.kind in FIXTURE_KINDS:
        fixture = _new_fixture(design, catalogue, entry, at)
        return design.with_parts({fixture.id: fixture}), fixture.id
    ready = _with_plant_group(design, catalogue, entry)
    part = catalogue.make(entry.key, ready, Place())
    wishes = [Wish(level, at)] if at is not None else wished(ready, part, level, near)
    part = _at_first_free(ready, part, wishes)
    return ready.with_parts({part.id: part}), part.id


def _at_first_free(design: Design, part: AnyPart, wishes: list[Wish]) -> AnyPart:
    """Return the part at the first wish that can be had; refuse as the last one is refused."""
    for wish in wishes[:-1]:
        with contextlib.suppress(DesignError):
            return placed(design, part, wish)
    return placed(design, part, wishes[-1])


def wished(design: Design, part: AnyPart, level: Level | None, near: str | None) -> list[Wish]:
    """Return where a part added by keyboard is wanted, the best first.

    Trays, plants and lamps go to a shelf unit where there is one: to the chosen level of it, else
    upward from its lowest; plants into the tray that is selected.
    """
    plain = [Wish(level)]
    unit = _unit_meant(Placement(design), level, near)
    if unit is None or not isinstance(part, Plants | Tray | Lamp):
        return plain
    numbers = range(1, len(unit.levels) + 1)
    first = [level] if level is not None and level[0] == unit.id else []
    levels = dict.fromkeys([*first, *((unit.id, number) for number in numbers)])
    return [*_into_tray(design, part, near), *(Wish(one) for one in levels), *plain]


def _unit_meant(placement: Placement, level: Level | None, near: str | None) -> ShelfUnit | None:
    """Return the selected part's shelf unit, else the chosen level's, else the only one."""
    design = placement.design
    selected = unit_of(placement, near) if near in design.by_id and near else None
    units = {unit.id: unit for unit in design.of(ShelfUnit)}
    for host in (selected, level[0] if level else None):
        if host in units:
            return units[host]
    return next(iter(units.values())) if len(units) == 1 else None


def _into_tray(design: Design, part: AnyPart, near: str | None) -> list[Wish]:
    tray = design.by_id.get(near or "")
    if not isinstance(part, Plants) or not isinstance(tray, Tray):
        return []
    box = Placement(design).box(tray.id)
    x, y, _ = box.centre
    return [Wish(at=(x, y, box.lo[2] + part.extent[2] / 2))]


def new_feed(design: Design) -> FeedLine:
    """Return a tube from a reservoir to the fogger, tray or reservoir it can feed.

    Raises
    ------
    DesignError
        If there are not two such parts.
    """
    source = next(design.of(Reservoir), None)
    targets = [*design.of(Fogger), *design.of(Tray), *design.of(Reservoir)]
    target = next((part for part in targets if source and part.id != source.id), None)
    if source is None or target is None:
        raise DesignError(
            tr("Feed tube: it needs a reservoir and a fogger or tray; place both first.")
        )
    name = free_name(tr("Feed tube"), design)
    return FeedLine(id=design.new_id(FEED), name=name, source=source.id, target=target.id)


def _with_plant_group(design: Design, catalogue: Catalogue, entry: Entry) -> Design:
    if entry.kind != "plants":
        return design
    species = entry.fields["species"]
    group = next((g for g in catalogue.plant_groups if g.key == species), None)
    return with_group(design, group) if group else design


def _new_fixture(
    design: Design, catalogue: Catalogue, entry: Entry, at: Point | None
) -> AnyFixture:
    if entry.kind == "obstacle":
        fixture = catalogue.make_fixture(entry.key, design, x=0.0, y=0.0)
    else:
        fixture = catalogue.make_fixture(entry.key, design, wall=1, offset=0.0)
    if at is not None:
        return fixture_placed(design, fixture, at)
    return fixture if isinstance(fixture, Obstacle) else _on_free_wall(design, fixture)


def _on_free_wall(design: Design, fixture: AnyFixture) -> AnyFixture:
    """Return a fixture on the first stretch of wall, front wall first, that no other takes."""
    others = [fixture_box(design.room, other) for other in design.room.fixtures]
    for wall in range(1, len(design.room.outline) + 1):
        most = wall_length(design.room, wall) - getattr(fixture, "width", _STEP)
        for step in range(int(max(0.0, most - 0.1) / _STEP) + 1):
            tried: AnyFixture = replace(fixture, wall=wall, offset=0.1 + step * _STEP)
            if not any(_meet(fixture_box(design.room, tried), other) for other in others):
                return tried
    return fixture


def _meet(first: Box, second: Box) -> bool:
    return first.overlap(second) is not None
