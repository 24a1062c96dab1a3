"""Edits as pure functions: from a design and an intention to the parts that become other ones.

Each returns a mapping for `Design.with_parts`. Finding a host for a part is `core.placing`'s work,
what an edit does to the readings the engines'.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import Any

from core.geometry import Box, Rectangle, turn_back, turned_size
from core.model import (
    AnyFixture,
    AnyPart,
    Design,
    Fan,
    FeedLine,
    Obstacle,
    Outlet,
    Part,
    Place,
    Plug,
    RoomDoor,
    RoomWindow,
    ShelfUnit,
    replace,
)
from core.placement import Placement, on_grid, wall_ends, wall_length

Changes = dict[str, AnyPart | AnyFixture | None]
Shift = tuple[float, float, float]
MOVABLE_UNHOSTED = (Obstacle, Outlet, RoomDoor, RoomWindow)


def moved(design: Design, ids: Iterable[str], shift: Shift) -> Changes:
    """Return the parts and fixtures moved by ``shift`` along the room's axes. [m]

    What a moved part carries comes along and is not moved twice; locked parts stay. Parts in a
    face move within it, fixtures along their wall.
    """
    placement = Placement(design)
    return {
        part_id: _moved(placement, part_id, shift)
        for part_id in roots(design, ids)
        if not getattr(design.by_id[part_id], "locked", False)
    }


def roots(design: Design, ids: Iterable[str]) -> tuple[str, ...]:
    """Return those of ``ids`` that no other of them carries."""
    chosen = tuple(dict.fromkeys(part_id for part_id in ids if part_id in design.by_id))
    placement = Placement(design)
    return tuple(part_id for part_id in chosen if not set(placement.hosts(part_id)) & set(chosen))


def with_carried(design: Design, ids: Iterable[str]) -> frozenset[str]:
    """Return the parts and everything they carry."""
    found = set(ids)
    for part_id in tuple(found):
        found |= {part.id for part in design.carried(part_id)}
    return frozenset(found)


def _moved(placement: Placement, part_id: str, shift: Shift) -> AnyPart | AnyFixture:
    thing = placement.design.by_id[part_id]
    if isinstance(thing, MOVABLE_UNHOSTED):
        return _moved_fixture(placement.design, thing, shift)
    place = thing.place
    if place.fixing == "face":
        return _moved_in_face(placement, thing, shift)
    dx, dy = _in_host_axes(placement.frame(place.host).turn, shift)
    up = -shift[2] if place.fixing in ("under", "hung") else shift[2]
    return replace(thing, place=_shifted_place(place, dx, dy, up))


def _shifted_place(place: Place, dx: float, dy: float, dz: float) -> Place:
    x, y, z = on_grid(place.x + dx), on_grid(place.y + dy), on_grid(place.z + dz)
    return replace(place, x=x, y=y, z=z)


def _in_host_axes(turn: int, shift: Shift) -> tuple[float, float]:
    dx, dy = shift[0], shift[1]
    for _ in range(turn % 4):
        dx, dy = dy, -dx
    return dx, dy


def _moved_in_face(placement: Placement, part: AnyPart, shift: Shift) -> AnyPart:
    """Return a part moved along its face; what would lead out of the face is left out."""
    place = part.place
    if place.face in ("top", "bottom"):
        return replace(part, place=_shifted_place(place, shift[0], shift[1], 0.0))
    along = shift[1] if _runs_along_y(placement, part) else shift[0]
    return replace(part, place=_shifted_place(place, along, 0.0, shift[2]))


def _runs_along_y(placement: Placement, part: AnyPart) -> bool:
    if part.place.face is not None:
        return part.place.face in ("left", "right")
    width, depth, _ = placement.box(part.place.host).size
    return depth > width


def _moved_fixture(design: Design, fixture: AnyFixture, shift: Shift) -> AnyFixture:
    if isinstance(fixture, Obstacle):
        return replace(
            fixture,
            x=on_grid(fixture.x + shift[0]),
            y=on_grid(fixture.y + shift[1]),
            z=on_grid(max(0.0, fixture.z + shift[2])),
        )
    (ax, ay), (bx, by) = wall_ends(design.room, fixture.wall)
    length = wall_length(design.room, fixture.wall)
    along = (shift[0] * (bx - ax) + shift[1] * (by - ay)) / length
    most = length - getattr(fixture, "width", 0.0)
    offset = on_grid(min(max(0.0, fixture.offset + along), max(0.0, most)))
    if isinstance(fixture, RoomDoor):
        return replace(fixture, offset=offset)
    if isinstance(fixture, RoomWindow):
        return replace(fixture, offset=offset, sill=on_grid(max(0.0, fixture.sill + shift[2])))
    return replace(fixture, offset=offset, z=on_grid(max(0.0, fixture.z + shift[2])))


def placed_at(design: Design, part_id: str, lo: Shift) -> Changes:
    """Return one part moved so that the lowest corner of its box is at ``lo``. [m]"""
    here = Placement(design).box(part_id).lo
    return moved(design, [part_id], (lo[0] - here[0], lo[1] - here[1], lo[2] - here[2]))


def turned(design: Design, ids: Iterable[str], quarters: int = 1) -> Changes:
    """Return the parts turned by quarter turns about the middles of their boxes.

    What a part carries turns with it. Parts in a face and fixtures of the room do not turn; a
    fan's heading turns with it.
    """
    placement = Placement(design)
    found: Changes = {}
    if quarters % 4 == 0:
        return found
    for part_id in roots(design, ids):
        part = design.by_id[part_id]
        if isinstance(part, Part) and _may_turn(part):
            found[part_id] = _turned(placement, part, quarters)
    found.update(_fans_turned(design, found, quarters))
    return found


def _may_turn(part: Part) -> bool:
    return not part.locked and part.place.fixing != "face" and not isinstance(part, FeedLine)


def _turned(placement: Placement, part: AnyPart, quarters: int) -> AnyPart:
    box = placement.box(part.id)
    place = replace(part.place, turn=(part.place.turn + quarters) % 4)
    width, depth = turned_size(box.size[0], box.size[1], quarters)
    x0, y0 = box.centre[0] - width / 2, box.centre[1] - depth / 2
    host = placement.frame(place.host)
    area = Rectangle(x0, y0, x0 + width, y0 + depth)
    local = turn_back(_shifted(area, host.origin), host.size[0], host.size[1], host.turn)
    return replace(part, place=replace(place, x=on_grid(local.x0), y=on_grid(local.y0)))


def _shifted(area: Rectangle, origin: Shift) -> Rectangle:
    x, y = origin[0], origin[1]
    return Rectangle(area.x0 - x, area.y0 - y, area.x1 - x, area.y1 - y)


def _fans_turned(design: Design, turned_parts: Mapping[str, Any], quarters: int) -> Changes:
    """Return the fans among the turned parts and what they carry, blowing the turned way."""
    concerned = with_carried(design, turned_parts)
    found: Changes = {}
    for fan in design.of(Fan):
        if fan.id in concerned:
            heading = (fan.heading + 90.0 * quarters + 180.0) % 360.0 - 180.0
            found[fan.id] = replace(turned_parts.get(fan.id, fan), heading=heading)
    return found


def deleted(design: Design, ids: Iterable[str]) -> Changes:
    """Return the removal of parts and fixtures with all they carry.

    Feed lines to or from them go too; what was plugged into them, or controlled by them, is
    released.
    """
    gone = with_carried(design, (i for i in ids if i in design.by_id and not _locked(design, i)))
    gone |= {feed.id for feed in design.of(FeedLine) if feed.source in gone or feed.target in gone}
    found: Changes = dict.fromkeys(sorted(gone))
    for part in design.parts:
        if (
            part.id not in gone
            and (loosened := released(part, lambda i: i not in gone)) is not part
        ):
            found[part.id] = loosened
    return found


def _locked(design: Design, part_id: str) -> bool:
    return bool(getattr(design.by_id[part_id], "locked", False))


def released(part: AnyPart, holds: Callable[[str], bool]) -> AnyPart:
    """Return the part without its plug or control where ``holds`` says that one is no more."""
    changes: dict[str, Any] = {}
    plug: Plug | None = getattr(part, "plug", None)
    if plug is not None and not holds(plug.into):
        changes["plug"] = None
    control = getattr(part, "control", None)
    if control is not None and not holds(control):
        changes["control"] = None
    return replace(part, **changes) if changes else part


def renamed(design: Design, part_id: str, name: str) -> Changes:
    """Return a part or fixture with another name; blanks around it are dropped.

    Raises
    ------
    DesignError
        If the name is empty or too long.
    """
    return {part_id: replace(design.by_id[part_id], name=name.strip())}


def on_level(design: Design, ids: Iterable[str], number: int) -> Changes:
    """Return the parts put on, or under the lamps' own shelf of, another level of their unit.

    Parts that are on no shelf unit, or whose unit has no such level, are left out. A lamp for the
    highest level has no shelf above it, and is left out too.
    """
    found: Changes = {}
    for part_id in roots(design, ids):
        part = design.by_id[part_id]
        host = design.by_id.get(part.place.host) if isinstance(part, Part) else None
        if not isinstance(host, ShelfUnit):
            continue
        shelf = number + 1 if part.place.fixing == "under" else number  # type: ignore[union-attr]
        if number >= 1 and shelf <= len(host.levels):
            found[part_id] = replace(
                part,
                place=replace(part.place, level=shelf),  # type: ignore[union-attr]
            )
    return found


def copied(
    design: Design, ids: Iterable[str], *, taken: Collection[str] = ()
) -> tuple[dict[str, AnyPart], tuple[str, ...]]:
    """Return copies of parts with all they carry, under new ids, and the ids of the outermost.

    References among the copied parts are kept among the copies; plugs and controls that lead
    elsewhere stay as they are. Feed lines are copied when both their ends are.
    """
    tops = [i for i in roots(design, ids) if isinstance(design.by_id[i], Part)]
    wanted = with_carried(design, tops)
    inside = [p for p in design.parts if p.id in wanted or _joins(p, wanted)]
    names: dict[str, str] = {}
    for part in inside:
        names[part.id] = design.new_id(stem(part.id), {*taken, *names.values()})
    copies = [readdressed(part, names) for part in inside]
    return {part.id: part for part in copies}, tuple(names[i] for i in tops)


def _joins(part: AnyPart, wanted: Collection[str]) -> bool:
    return isinstance(part, FeedLine) and part.source in wanted and part.target in wanted


def stem(part_id: str) -> str:
    """Return a part id without its trailing number: "board-3" gives "board"."""
    head, _, tail = part_id.rpartition("-")
    return head if head and tail.isdigit() else part_id[:50]


def readdressed(part: AnyPart, names: Mapping[str, str]) -> AnyPart:
    """Return a part whose own id and references are exchanged as ``names`` says."""
    changes: dict[str, Any] = {"id": names.get(part.id, part.id)}
    if part.place.host in names:
        changes["place"] = replace(part.place, host=names[part.place.host])
    plug: Plug | None = getattr(part, "plug", None)
    if plug is not None and plug.into in names:
        changes["plug"] = replace(plug, into=names[plug.into])
    for field in ("control", "source", "target"):
        if getattr(part, field, None) in names:
            changes[field] = names[getattr(part, field)]
    return replace(part, **changes)


def resized(design: Design, part_id: str, box: Box) -> Changes:
    """Return a part whose box is ``box``: its size and its place are both changed. [m]

    Raises
    ------
    DesignError
        If the part cannot have that size.
    """
    placement = Placement(design)
    part = design.part(part_id)
    turn = (placement.frame(part.place.host).turn + part.place.turn) % 4
    width, depth = turned_size(box.size[0], box.size[1], turn)
    sizes: dict[str, Any] = {"width": on_grid(width), "depth": on_grid(depth)}
    if "height" in type(part).model_fields:
        sizes["height"] = on_grid(box.size[2])
    grown = replace(part, **_that_fit(part, sizes))
    return placed_at(design.with_parts({part_id: grown}), part_id, box.lo)


def _that_fit(part: AnyPart, sizes: dict[str, Any]) -> dict[str, Any]:
    """Return the sizes with the unit's shelves kept below its top."""
    if isinstance(part, ShelfUnit):
        top = max(shelf.z for shelf in part.levels)
        sizes["height"] = max(sizes["height"], top)
    return sizes
