"""The rules between parts: ids, hosts, levels, plugs, feeds, controllers, plant groups.

Each raises `ValueError` with a whole sentence, which the builder passes on as a `DesignError`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from core.model.base import ROOM, Half
from core.model.building import replace

if TYPE_CHECKING:
    from core.model.design import Design

STANDS_ON = {
    "enclosure",
    "shelf-unit",
    "bay",
    "platform",
    "tray",
    "reservoir",
    "obstacle",
}
HANGS_UNDER = {"shelf-unit", "platform"}
HANGS_FROM = {"enclosure", "bay", "shelf-unit"}
CLIPS_TO = {"enclosure", "shelf-unit", "obstacle"}
LIES_IN = {"enclosure", "room-window"}
HOSTS: Mapping[str, set[str]] = {
    "stands": STANDS_ON,
    "under": HANGS_UNDER,
    "hung": HANGS_FROM,
    "clipped": CLIPS_TO,
    "face": LIES_IN,
}
HALVES: tuple[Half, ...] = ("day", "night")
FEEDS = {"strip", "lead", "timer", "outlet"}
"""Kinds that other things may be plugged into."""


def check_references(design: Design) -> None:
    """Raise `ValueError` at the first reference that does not hold."""
    things: dict[str, Any] = {}
    for thing in (*design.room.fixtures, *design.parts):
        if thing.id in things or thing.id == ROOM:
            raise ValueError(
                f"{thing.name}: id = '{thing.id}' must be used once; give one part another id."
            )
        things[thing.id] = thing
    _check_enclosures(design)
    for part in design.parts:
        _check_host(part, things)
        _check_links(part, things, design)
        _check_changes(part, {season.id for season in design.seasons})
        for changed in _changed(part, design):
            _check_links(changed, things, design)
    _check_rings(design.parts, lambda part: [part.place.host], "rests on itself")
    _check_rings(design.parts, _feeds_of, "is plugged into itself through others")
    _check_unique("season", [season.id for season in design.seasons])
    _check_unique("plant group", [group.key for group in design.groups])
    _check_unique("circuit", [circuit.id for circuit in design.room.circuits])
    _check_unique("variant", [design.variant_id, *(other.id for other in design.others)])


def _check_unique(what: str, ids: list[str]) -> None:
    twice = next((name for name in ids if ids.count(name) > 1), None)
    if twice:
        raise ValueError(f"Design: {what} = '{twice}' must be used once; rename one of them.")


def _check_enclosures(design: Design) -> None:
    boxes = [part for part in design.parts if part.kind == "enclosure"]
    if len(boxes) > 1:
        raise ValueError(
            f"{boxes[1].name}: enclosures = {len(boxes)} must not be more than 1 in a layout; "
            "put the second one into a variant of its own."
        )


def _check_host(part: Any, things: Mapping[str, Any]) -> None:
    place = part.place
    if place.host == ROOM:
        if place.fixing not in ("stands", "hung", "clipped"):
            raise ValueError(
                f"{part.name}: fixing = '{place.fixing}' must have a part to hold it; "
                "choose the part, or let it stand or hang."
            )
        return
    host = things.get(place.host)
    if host is None:
        raise ValueError(
            f"{part.name}: place = '{place.host}' must be a part of the design; "
            "place it on something that exists."
        )
    if host.kind not in HOSTS[place.fixing]:
        raise ValueError(
            f"{part.name}: place = '{host.name}' cannot hold a part that is fixed as "
            f"'{place.fixing}'; choose another place."
        )
    _check_level(part, host)


def _check_level(part: Any, host: Any) -> None:
    place = part.place
    if host.kind == "shelf-unit" and place.fixing in ("stands", "under"):
        if place.level is not None and place.level > len(host.levels):
            raise ValueError(
                f"{part.name}: level = {place.level} must be one of the {len(host.levels)} levels "
                f"of {host.name}; enter 1 to {len(host.levels)}."
            )
        if place.fixing == "under" and place.level is None:
            raise ValueError(
                f"{part.name}: level = none must name the shelf it hangs under; "
                f"enter 1 to {len(host.levels)}."
            )
    if place.fixing == "face" and host.kind == "enclosure" and place.face is None:
        raise ValueError(f"{part.name}: face = none must name a face; choose one of the six.")


def _check_links(part: Any, things: Mapping[str, Any], design: Design) -> None:
    if part.kind == "plants" and design.group(part.species) is None:
        raise ValueError(
            f"{part.name}: species = '{part.species}' must be a plant group of the design; "
            "add the group or choose another."
        )
    plug = getattr(part, "plug", None)
    if plug is not None:
        kinds = FEEDS | ({"lamp"} if part.kind == "lamp" else set())
        _check_link(part, "plug", plug.into, things, kinds)
    control = getattr(part, "control", None)
    if control is not None:
        _check_link(part, "control", control, things, {"thermostat", "humidistat"})
    if part.kind == "feed":
        _check_link(part, "source", part.source, things, {"reservoir"})
        _check_link(part, "target", part.target, things, {"fogger", "tray", "reservoir"})


def _check_link(
    part: Any, field: str, target: str, things: Mapping[str, Any], kinds: set[str]
) -> None:
    thing = things.get(target)
    if thing is None or thing.kind not in kinds:
        raise ValueError(
            f"{part.name}: {field} = '{target}' must be a {' or '.join(sorted(kinds))} of the "
            "design; choose one that exists, or none."
        )


def _check_changes(part: Any, seasons: set[str]) -> None:
    for change in part.when:
        if change.season is not None and change.season not in seasons:
            raise ValueError(
                f"{part.name}: season = '{change.season}' must be a season of the design; "
                f"choose one of {', '.join(sorted(seasons))}."
            )
        unknown = next((key for key in change.settings if not _may_change(part, key)), None)
        if unknown:
            raise ValueError(
                f"{part.name}: setting = '{unknown}' cannot change by season; leave it out."
            )


def _changed(part: Any, design: Design) -> list[Any]:
    """Return the part as it is in each season by day and by night, where it differs.

    Its own rules are checked on the way.
    """
    if not part.when:
        return []
    times = [(season.id, half) for season in design.seasons for half in HALVES]
    changed = (part_at(part, season, half) for season, half in times)
    return [version for version in changed if version is not None]


def part_at(part: Any, season: str | None, half: Half | None) -> Any:
    """Return a part as it is in one season by day or night; None when it is absent.

    Raises
    ------
    DesignError
        If a setting breaks a rule of the part.
    """
    for change in part.when:
        if change.season in (None, season) and change.half in (None, half):
            if change.absent:
                return None
            part = replace(part, **change.settings)
    return part


def _may_change(part: Any, field: str) -> bool:
    fixed = {"id", "kind", "place", "when", "name"}
    return field in type(part).model_fields and field not in fixed


def _feeds_of(part: Any) -> list[str]:
    plug = getattr(part, "plug", None)
    return [plug.into] if plug else []


def _check_rings(parts: Iterable[Any], onward: Callable[[Any], list[str]], complaint: str) -> None:
    """Follow each part's single onward link; meeting a part twice means a ring."""
    links = {part.id: onward(part) for part in parts}
    names = {part.id: part.name for part in parts}
    safe: set[str] = set()
    for start in links:
        trail: list[str] = []
        here = start
        while here in links and here not in safe:
            if here in trail:
                raise ValueError(f"{names[here]}: {complaint}; choose another place.")
            trail.append(here)
            here = next(iter(links[here]), "")
        safe.update(trail)
