"""Small edits that remedies are made of, written so that they hold in the season that was read.

Edits that the grower makes by hand are in `core.changes`; which of them mends what, in the rules.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any, Concatenate, ParamSpec

from core.changes import moved
from core.errors import DesignError
from core.finding import Remedy
from core.fit.overlaps import outside, overlaps
from core.geometry import Vector
from core.model import ROOM, AnyPart, Change, Design, Part, Plug, replace
from core.phrases import Phrase
from core.placement import Placement
from core.placing import Wish, placed
from core.study import Study

Edits = Mapping[str, AnyPart | None]
P = ParamSpec("P")


def when_settled(
    seek: Callable[Concatenate[Study, P], Remedy | None],
) -> Callable[Concatenate[Study, P], Remedy | None]:
    """Let a search for a remedy find nothing while something is dragged.

    Trying edits out costs more than a frame; the remedy comes when the part is let go of.
    """

    @wraps(seek)
    def settled(study: Study, /, *args: P.args, **kwargs: P.kwargs) -> Remedy | None:
        return None if study.quality == "coarse" else seek(study, *args, **kwargs)

    return settled


def set_to(study: Study, part_id: str, **fields: Any) -> AnyPart:
    """Return a part as drawn with some fields set.

    Where the season that was read sets a field, its own setting is changed, so that the new value
    is the one in force.
    """
    part = study.drawn.part(part_id)
    for name, value in fields.items():
        at = _in_force(part, name, study.season.id)
        if at is None:
            part = replace(part, **{name: value})
        else:
            part = replace(part, when=_with_setting(part.when, at, name, value))
    return part


def _in_force(part: Part, name: str, season: str) -> int | None:
    """Return which of a part's changes sets a field in a season by day; None: the part itself."""
    found = [
        number
        for number, change in enumerate(part.when)
        if change.season in (None, season)
        and change.half in (None, "day")
        and name in change.settings
    ]
    return found[-1] if found else None


def _with_setting(
    changes: tuple[Change, ...], at: int, name: str, value: Any
) -> tuple[Change, ...]:
    new = replace(changes[at], settings={**changes[at].settings, name: value})
    return (*changes[:at], new, *changes[at + 1 :])


def plugged(study: Study, part_id: str, into: str) -> AnyPart:
    """Return a part as drawn, plugged in elsewhere with the lead it has."""
    part: Any = study.drawn.part(part_id)
    plug = replace(part.plug, into=into) if part.plug else Plug(into=into)
    return set_to(study, part_id, plug=plug)


def shifted(study: Study, part_id: str, shift: Vector) -> Edits:
    """Return a part as drawn, moved along the room's axes with all it carries. [m]"""
    found: Any = moved(study.drawn, [part_id], shift)
    return dict(found)


def on_shelf(study: Study, part: AnyPart, level: tuple[str, int]) -> Edits | None:
    """Return a part put on another shelf: right above or below where it was, else where free.

    None where there is no room for it and all it carries.
    """
    drawn = study.drawn.part(part.id)
    if part.place.host == level[0]:
        same: Edits = {part.id: replace(drawn, place=replace(drawn.place, level=level[1]))}
        if is_clear(study, same):
            return same
    try:
        there: Any = placed(study.drawn, drawn, Wish(level=level))
    except DesignError:
        return None
    edits: Edits = {part.id: there}
    on_it = (there.place.host, there.place.level) == level
    return edits if on_it and is_clear(study, edits) else None


def after(study: Study, edits: Edits) -> Design:
    """Return the design in the season that was read with some edits made."""
    return study.drawn.with_parts(edits).at(study.season.id, "day")


def is_clear(study: Study, edits: Edits) -> bool:
    """Tell whether what is moved, with all it carries, fits where it goes."""
    design = after(study, edits)
    placement = Placement(design)
    movers = {p.id for key in edits for p in (design.part(key), *design.carried(key))}
    in_the_way = any((item.a in movers) != (item.b in movers) for item in overlaps(placement))
    return not in_the_way and not any(item.part in movers for item in outside(placement))


def rests_well(study: Study, edits: Edits) -> bool:
    """Tell whether what is moved is still wholly on, in or under its host, if it was before."""
    before, now = study.placement, Placement(after(study, edits))
    return all(_within_host(now, key) or not _within_host(before, key) for key in edits)


def _within_host(placement: Placement, part_id: str) -> bool:
    place = placement.design.part(part_id).place
    if place.host == ROOM or place.fixing == "clipped":
        return True
    host = placement.box(place.host).footprint
    return host.contains(placement.box(part_id).footprint, 1e-6)


def remedy(words: Phrase, *parts: AnyPart) -> Remedy:
    """Return a remedy that replaces or adds parts."""
    return Remedy(words, {part.id: part for part in parts})
