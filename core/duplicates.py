"""Copies of parts: beside what they were copied from, or on the next level, where there is room.

Copying itself is in `core.changes`, the clipboard's text in `core.clipboard`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from core.catalogue import name_apart
from core.changes import Changes, copied, moved, with_carried
from core.errors import DesignError
from core.free_places import free_corner
from core.language import tr
from core.model import (
    AnyPart,
    Design,
    Enclosure,
    FeedLine,
    Powered,
    ShelfUnit,
    Timer,
    replace,
)
from core.placement import Placement
from core.supports import Support, ceilings, held, support_for, surfaces

_ASIDE = 0.05
"""How far beside its original a copy goes that finds no free place. [m]"""


def duplicated(design: Design, ids: Iterable[str]) -> tuple[Changes, tuple[str, ...]]:
    """Return copies of parts at the next free places, and the ids of the outermost copies.

    Timers of a shelf unit's own come along (see `own_timers`), but are not among the ids.

    Raises
    ------
    DesignError
        If one of them cannot be there twice.
    """
    chosen = list(ids)
    timers = own_timers(design, chosen)
    copies, tops = copied(design, [*chosen, *timers])
    double = next((copies[top] for top in tops if isinstance(copies[top], Enclosure)), None)
    if double is not None:
        raise DesignError(
            f"{double.name}: {tr('a layout has one enclosure; make a variant for another.')}"
        )
    return beside(design, copies, tops), tops[: len(tops) - len(timers)]


def own_timers(design: Design, chosen: Sequence[str]) -> list[str]:
    """Return the timers that time nothing but what shelf units among some parts hold.

    One that hangs on a wall beside a unit is as much the unit's own as one clipped to it, which
    is among what the unit carries and not told here.
    """
    units = [key for key in chosen if isinstance(design.by_id.get(key), ShelfUnit)]
    held = with_carried(design, units)
    plugged: dict[str, list[str]] = {}
    for part in design.parts:
        if isinstance(part, Powered) and part.plug is not None and part.plug.into is not None:
            plugged.setdefault(part.plug.into, []).append(part.id)
    return [
        timer.id
        for timer in design.of(Timer)
        if timer.id not in {*held, *chosen}
        and plugged.get(timer.id)
        and held.issuperset(plugged[timer.id])
    ]


def beside(design: Design, copies: dict[str, AnyPart], tops: tuple[str, ...]) -> Changes:
    """Return the copies, named apart, the outermost moved one by one to where nothing stands."""
    copies = named_apart(design, copies)
    whole = design.with_parts(copies)
    found: Changes = dict(copies)
    for number, top in enumerate(tops):
        waiting = with_carried(whole, tops[number + 1 :])
        changes = _aside(whole, top, waiting)
        whole = whole.with_parts(changes)
        found.update(changes)
    return found


def named_apart(design: Design, copies: dict[str, AnyPart]) -> dict[str, AnyPart]:
    """Return the copies with names that no other part has: "Tray 2" beside "Tray"."""
    used = {thing.name for key, thing in design.by_id.items() if key not in copies}
    found: dict[str, AnyPart] = {}
    for key, part in copies.items():
        name = name_apart(part.name, used)
        used.add(name)
        found[key] = part if name == part.name else replace(part, name=name)
    return found


def _aside(design: Design, part_id: str, waiting: Collection[str]) -> Changes:
    """Return the part at the nearest free place on its own support, or on one like it."""
    placement = Placement(design)
    part, box = design.part(part_id), placement.box(part_id)
    if isinstance(part, FeedLine) or part.place.fixing == "face":
        return moved(design, [part_id], (_ASIDE, 0.0, -_ASIDE))
    own = support_for(placement, part, box, with_carried(design, [part_id]))
    if own is not None:
        turn = (placement.frame(part.place.host).turn + part.place.turn) % 4
        for support in (own, *_like(placement, own)):
            rise = support.z - own.z
            there = free_corner(placement, part, support, box.moved(0.0, 0.0, rise), waiting)
            if there is not None:
                return {part_id: held(placement, part, support, there, turn)}
    return moved(design, [part_id], (_ASIDE, _ASIDE, 0.0))


def _like(placement: Placement, own: Support) -> Iterator[Support]:
    """Iterate over the other levels of what holds the part, the nearest first."""
    if own.level is None:
        return
    all_ = surfaces(placement) if own.fixing == "stands" else ceilings(placement)
    others = [
        support
        for support in all_
        if (support.host, support.fixing) == (own.host, own.fixing) and support.level != own.level
    ]
    yield from sorted(others, key=lambda support: abs(support.z - own.z))
