"""Parts as text on the clipboard: written from a design, read back into any design.

The text may come from anywhere, so it is read as strictly as a file.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Literal

from pydantic import Field, ValidationError

from core.changes import Changes, copied, readdressed, released, stem
from core.duplicates import beside
from core.errors import DesignError, InputError
from core.language import tr
from core.model import (
    ROOM,
    AnyPart,
    Change,
    Design,
    Enclosure,
    FeedLine,
    Place,
    PlantGroup,
    Plants,
    ShelfUnit,
    replace,
)
from core.model.base import Frozen
from core.placing import Wish, placed

LONGEST = 10_000_000
"""Longest text that is looked at: a hundred lamps with the longest tables. [characters]"""


class Clip(Frozen):
    """What lies on the clipboard."""

    format: Literal["fernwright-parts"] = "fernwright-parts"
    version: Literal[1] = 1
    parts: Annotated[tuple[AnyPart, ...], Field(min_length=1, max_length=500)]
    tops: Annotated[tuple[str, ...], Field(min_length=1, max_length=500)]
    groups: Annotated[tuple[PlantGroup, ...], Field(max_length=500)] = ()


def copy_text(design: Design, ids: Iterable[str]) -> str:
    """Return parts with all they carry, and their plant groups, as text for the clipboard.

    Raises
    ------
    DesignError
        If none of the ids is a part.
    """
    parts, tops = copied(design, ids)
    if not tops:
        raise DesignError(tr("Nothing that can be copied is selected; select a part."))
    wanted = {part.species for part in parts.values() if isinstance(part, Plants)}
    groups = tuple(group for group in design.groups if group.key in wanted)
    return Clip(parts=tuple(parts.values()), tops=tops, groups=groups).model_dump_json()


def read_clip(text: str) -> Clip:
    """Return what a text from the clipboard holds.

    Raises
    ------
    InputError
        If it was not written by `copy_text`, or breaks a rule of the model.
    """
    if len(text) > LONGEST or "fernwright-parts" not in text[:200]:
        raise InputError(tr("The clipboard holds no parts; copy some first."))
    try:
        clip = Clip.model_validate_json(text)
    except (ValidationError, RecursionError):
        raise InputError(
            tr("The clipboard holds parts that cannot be read; copy them again.")
        ) from None
    ids = [part.id for part in clip.parts]
    if len(set(ids)) < len(ids) or not set(clip.tops) <= set(ids) or _rings(clip):
        raise InputError(tr("The clipboard holds parts that cannot be read; copy them again."))
    return clip


def _rings(clip: Clip) -> bool:
    """Tell whether a part rests on itself through others."""
    hosts = {part.id: part.place.host for part in clip.parts}
    for start in hosts:
        here, steps = start, 0
        while here in hosts and steps <= len(hosts):
            here, steps = hosts[here], steps + 1
        if steps > len(hosts):
            return True
    return False


def pasted(design: Design, text: str, wish: Wish | None = None) -> tuple[Design, tuple[str, ...]]:
    """Return the design with the clipboard's parts added, and the ids of the outermost.

    They go where they were copied from, or to the next free place there; where their host is not
    in this design, to where a new part would go. Plugs and controls that lead to nothing here are
    released; feed lines without both ends are left out.

    Raises
    ------
    InputError, DesignError
        If the text holds no parts, or they cannot be in this design.
    """
    clip = read_clip(text)
    names = _new_names(design, clip)
    known = {*design.by_id, *names.values()}
    parts = {
        names[part.id]: _fitting(design, readdressed(part, names), known) for part in clip.parts
    }
    parts = {key: part for key, part in parts.items() if not _loose(part, known)}
    tops = tuple(names[top] for top in clip.tops if names[top] in parts)
    missing = [g for g in clip.groups if design.group(g.key) is None]
    ready = design.having(groups=(*design.groups, *missing)) if missing else design
    for top in tops:
        parts[top] = _hosted(ready, parts[top], wish or Wish())
    changes: Changes = beside(ready, parts, tops)
    return ready.with_parts(changes), tops


def _new_names(design: Design, clip: Clip) -> dict[str, str]:
    names: dict[str, str] = {}
    for part in clip.parts:
        names[part.id] = design.new_id(stem(part.id), names.values())
    return names


def _fitting(design: Design, part: AnyPart, known: set[str]) -> AnyPart:
    """Return the part without references to what this design does not have."""
    part = released(part, lambda target: target in known)
    seasons = {season.id for season in design.seasons}
    kept: tuple[Change, ...] = tuple(
        change for change in part.when if change.season is None or change.season in seasons
    )
    return part if len(kept) == len(part.when) else replace(part, when=kept)


def _loose(part: AnyPart, known: set[str]) -> bool:
    return isinstance(part, FeedLine) and not {part.source, part.target} <= known


def _hosted(design: Design, part: AnyPart, wish: Wish) -> AnyPart:
    """Return an outermost part on a host of this design."""
    if isinstance(part, Enclosure) or not _host_holds(design, part.place):
        return placed(design, part, wish)
    return part


def _host_holds(design: Design, place: Place) -> bool:
    if place.host == ROOM:
        return True
    host = design.by_id.get(place.host)
    if isinstance(host, ShelfUnit) and place.level is not None:
        return place.level <= len(host.levels)
    return host is not None
