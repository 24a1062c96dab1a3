"""Where parts go when they are let go of or added, and why one cannot go somewhere.

What can hold a part is listed in `core.supports`; plain moves are in `core.changes`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from core.changes import Changes, roots, with_carried
from core.errors import DesignError
from core.free_places import free_corner, in_the_way, on_support
from core.geometry import Box, Rectangle, turned_size
from core.language import tr
from core.model import (
    ROOM,
    AnyFixture,
    AnyPart,
    Bay,
    Design,
    Enclosure,
    Fan,
    FeedLine,
    Lamp,
    Obstacle,
    Part,
    Place,
    Plants,
    RoomWindow,
    ShelfUnit,
    Tray,
    replace,
)
from core.placement import Placement, on_grid, wall_ends, wall_length
from core.supports import (
    CLIP_REACH,
    FLOATS,
    SLACK,
    Support,
    ceilings,
    held,
    landed,
    may_stand,
    support_for,
    surface_at,
    surface_under,
    surfaces,
)

LAMP_ABOVE = 0.45
"""How high above its level a new lamp hangs at most. [m]"""
_SINK = 0.02 - SLACK
"""Makes up for the slack of what a part's foot may sink through: a pointer is exact. [m]"""
Level = tuple[str, int]
Point = tuple[float | None, float | None, float | None]
"""Where something was dropped; None along the axis that the drawing does not show. [m]"""


def rehosted(
    design: Design, ids: Iterable[str], before: Design, at: Point | None = None
) -> Changes:
    """Return the moved parts on what holds them now, after they were let go of.

    Parts that were only shifted on the same support keep their heights; a part that nothing
    holds keeps its host. ``before`` is the design before the move, ``at`` where the pointer let
    go: plants come into the tray that it is on.
    """
    placement = Placement(design)
    found: Changes = {}
    for part_id in roots(design, ids):
        part = design.by_id[part_id]
        if isinstance(part, Part) and _falls(part):
            tray = _tray_at(placement, part, at) if at is not None else None
            found[part_id] = tray or _let_go(placement, part, before)
    return {key: part for key, part in found.items() if part != design.by_id[key]}


def _tray_at(placement: Placement, part: AnyPart, at: Point) -> AnyPart | None:
    """Return plants put into another tray that the pointer is on, None where it is on none."""
    if not isinstance(part, Plants):
        return None
    box = placement.box(part.id)
    x, y, z = (box.centre[k] if value is None else value for k, value in enumerate(at))
    z = box.lo[2] if at[2] is None else z
    pointer = Box((x, y, z + _SINK), (x, y, z + _SINK))
    support = surface_under(placement, part, pointer, with_carried(placement.design, [part.id]))
    tray = placement.design.by_id.get(support.host) if support is not None else None
    if support is None or not isinstance(tray, Tray) or tray.id == part.place.host:
        return None
    turn = placement.frame(part.place.host).turn + part.place.turn
    return held(placement, part, support, _within(support, box, placement.design), turn % 4)


def _falls(part: Part) -> bool:
    return part.place.fixing != "face" and not part.locked and not isinstance(part, FeedLine)


def _let_go(placement: Placement, part: AnyPart, before: Design) -> AnyPart:
    box = placement.box(part.id)
    but = with_carried(placement.design, [part.id])
    support = support_for(placement, part, box, but)
    place = part.place
    if support is None:
        return part
    same = (support.host, support.fixing, support.level) == (place.host, place.fixing, place.level)
    old = before.by_id.get(part.id)
    lifted = isinstance(old, Part) and old.place.z != place.z
    if (same and not lifted) or (support.fixing == "stands" and _still_clipped(placement, part)):
        return part
    turn = placement.frame(place.host).turn + place.turn
    return held(placement, part, support, box, turn % 4)


def _still_clipped(placement: Placement, part: AnyPart) -> bool:
    """Tell whether a clipped part is still at a side of the enclosure that it was clipped to.

    Frames have members between their corners, which are not drawn.
    """
    place, box = part.place, placement.box(part.id)
    if place.fixing != "clipped" or not isinstance(placement.design.by_id[place.host], Enclosure):
        return False
    frame = placement.box(place.host)
    gaps = [
        abs(a - b) for k in (0, 1) for a, b in ((box.lo[k], frame.lo[k]), (frame.hi[k], box.hi[k]))
    ]
    inside = frame.lo[2] < box.centre[2] < frame.hi[2]
    return inside and min(gaps) <= CLIP_REACH


@dataclass(frozen=True)
class Wish:
    """Where a new part is wanted: on a level, or at the point where it was dropped."""

    level: Level | None = None
    at: Point | None = None


def placed(design: Design, part: AnyPart, wish: Wish) -> AnyPart:
    """Return a new part in its place: host, level and position found.

    Parameters
    ----------
    design : Design
        Without the part.
    part : part
        Its own place is not looked at, apart from the turn.
    wish : Wish
        The level it is wanted on, or the point where its middle was dropped.

    Raises
    ------
    DesignError
        If it cannot go there; the text says why, and what would help.
    """
    if isinstance(part, Enclosure) and design.enclosure is not None:
        raise _refusal(part, tr("there is an enclosure already"), tr("make a variant for another"))
    if isinstance(part, FeedLine):
        return part
    if part.kind in ("opening", "duct-fan"):
        return _in_a_face(design, part, wish)
    if part.kind == "cooler" and part.style == "window":
        window = next((f for f in design.room.fixtures if isinstance(f, RoomWindow)), None)
        if window is not None and wish.at is None:
            return replace(part, place=Place(host=window.id, fixing="face"))
    if wish.at is not None:
        return _dropped(design, part, wish.at, wish.level)
    return _on_free_place(design, part, wish.level)


def _refusal(part: Any, why: str, way_out: str) -> DesignError:
    return DesignError(f"{part.name}: {why}; {way_out}.")


def _dropped(design: Design, part: AnyPart, at: Point, level: Level | None) -> AnyPart:
    """Return the part held by what is at the point; the axis not shown is settled by the host."""
    placement = Placement(design)
    x, y, z = at
    if z is None:
        z = _height_on(placement, part, level)
    pointed = _pointed(placement, part, at)
    if pointed is not None:
        z = pointed.z + part.extent[2] / 2
    target = pointed.area if pointed is not None else _target(placement, x, y, z).footprint
    x = target.centre[0] if x is None else x
    y = target.centre[1] if y is None else y
    box = _box(part, x, y, z)
    support = pointed or support_for(placement, part, box)
    if support is None:
        raise _refusal(part, tr("this is outside the room"), tr("drop it within the walls"))
    if isinstance(part, Plants):
        part = _fitted(part, support)
        box = _box(part, x, y, z)
    box = _within(support, box, placement.design) if support.fixing != "clipped" else box
    made = held(placement, part, support, box, part.place.turn)
    _check_clear(placement, made, landed(part, support, box))
    return made


def _pointed(placement: Placement, part: AnyPart, at: Point) -> Support | None:
    """Return the tray, or what else is smaller than a room, that an elevation's point is on.

    The point decides, not the part's box: a tall zone's foot is far below the pointer.
    """
    x, y, z = at
    if z is None or isinstance(part, Lamp) or part.kind in FLOATS:
        return None
    found = surface_at(placement, part, (x, y, z))
    if found is None or found.host not in placement.design.by_id:
        return None
    # What another unit carries, before or behind, is not meant.
    return found if _contains_middle(_target(placement, x, y, z).footprint, found.area) else None


def _height_on(placement: Placement, part: AnyPart, level: Level | None) -> float:
    """Return the height of a part's middle dropped in plan: just above the chosen level. [m]"""
    chosen = next((i for i in placement.levels if (i.host, i.number) == level), None)
    height = part.extent[2]
    if chosen is None:
        return height / 2
    if isinstance(part, Lamp):
        return max(chosen.z + height / 2, chosen.above - height / 2 - 0.02)
    if part.kind == "fan":
        return chosen.z + max(0.25, height / 2)
    return chosen.z + height / 2


def _target(placement: Placement, x: float | None, y: float | None, z: float) -> Box:
    """Return the box whose middle settles the axis that the drawing does not show."""
    best: Box | None = None
    for part in placement.design.parts:
        if isinstance(part, ShelfUnit | Enclosure | Bay):
            box = placement.box(part.id)
            seen = (x is None or box.lo[0] <= x <= box.hi[0]) and (
                y is None or box.lo[1] <= y <= box.hi[1]
            )
            if seen and box.lo[2] <= z <= box.hi[2] + 0.5 and _smaller(box, best):
                best = box
    if best is not None:
        return best
    xs, ys = zip(*placement.design.room.outline, strict=True)
    return Box((min(xs), min(ys), 0.0), (max(xs), max(ys), placement.design.room.height))


def _smaller(box: Box, other: Box | None) -> bool:
    return other is None or box.volume < other.volume


def _box(part: AnyPart, x: float, y: float, z: float) -> Box:
    width, depth = turned_size(part.extent[0], part.extent[1], part.place.turn)
    height = part.extent[2]
    lo = (x - width / 2, y - depth / 2, z - height / 2)
    return Box(lo, (lo[0] + width, lo[1] + depth, lo[2] + height))


def _within(support: Support, box: Box, design: Design) -> Box:
    """Return the box pushed to within its support's area, where it fits there at all."""
    shift = [0.0, 0.0]
    for axis, (low, high) in enumerate(
        ((support.area.x0, support.area.x1), (support.area.y0, support.area.y1))
    ):
        if box.size[axis] <= high - low:
            over = max(0.0, low - box.lo[axis]) - max(0.0, box.hi[axis] - high)
            shift[axis] = over
    return box.moved(shift[0], shift[1], 0.0)


def _fitted(part: Plants, support: Support) -> Plants:
    """Return the plants' zone no larger than what it stands on."""
    width = min(part.width, support.area.width)
    depth = min(part.depth, support.area.height)
    return replace(part, width=width, depth=depth)


def _check_clear(placement: Placement, part: AnyPart, box: Box) -> None:
    """Refuse a box that would stand in another part."""
    hit = next(in_the_way(placement, part, box), None)
    if hit is not None:
        name = placement.design.by_id[hit].name
        raise _refusal(
            part, tr("{name} is in the way").format(name=name), tr("drop it beside that")
        )


def _on_free_place(design: Design, part: AnyPart, level: Level | None) -> AnyPart:
    """Return the part at the free place nearest the middle of its level, else of the floor."""
    placement = Placement(design)
    tried: list[Support] = []
    for support in _offers(placement, part, level):
        tried.append(support)
        for turn in (part.place.turn, (part.place.turn + 1) % 4):
            made = _free_on(placement, part, support, turn)
            if made is not None:
                return made
    raise _no_room(design, part, tried)


def _no_room(design: Design, part: AnyPart, tried: list[Support]) -> DesignError:
    if not tried:
        if isinstance(part, Plants | Tray | Lamp):
            return _refusal(
                part, tr("there is no level to put it on"), tr("add a shelf unit first")
            )
        return _refusal(part, tr("nothing here can hold it"), tr("choose another place"))
    host = design.by_id.get(tried[0].host)
    name = host.name if host is not None else tr("the floor")
    why = tr("there is no free place for it on {name}").format(name=name)
    return _refusal(part, why, tr("move something, or choose another level"))


def _offers(placement: Placement, part: AnyPart, level: Level | None) -> Iterator[Support]:
    """Iterate over what may hold a new part: the chosen level first, then the floors."""
    if part.kind == "fan":
        yield from _posts(placement, level)
    chosen = next((i for i in placement.levels if (i.host, i.number) == level), None)
    if isinstance(part, Lamp):
        found = [s for s in ceilings(placement) if chosen is None or _is_over(s, chosen)]
        yield from sorted(found, key=lambda s: (s.host == ROOM, s.z))
        return
    on_level = [
        support
        for support in surfaces(placement)
        if may_stand(placement.design, part, support.host)
        and (chosen is None or _is_on(support, chosen))
    ]
    on_level.sort(key=lambda s: (s.host == ROOM, s.area.area if chosen else 0.0, s.z))
    yield from on_level
    if not isinstance(part, Plants | Tray | Enclosure):
        yield from _floors(placement, part)


def _is_over(support: Support, chosen: Any) -> bool:
    return bool(
        support.z > chosen.z + 1e-6
        and support.z <= chosen.above + 1e-6
        and _contains_middle(support.area, chosen.area)
    )


def _is_on(support: Support, chosen: Any) -> bool:
    near = abs(support.z - chosen.z) < 0.06
    return near and chosen.area.contains(support.area, 1e-6) and support.host != ROOM


def _contains_middle(area: Rectangle, other: Rectangle) -> bool:
    x, y = other.centre
    return area.contains(Rectangle(x, y, x, y))


def _floors(placement: Placement, part: AnyPart) -> Iterator[Support]:
    design = placement.design
    hosts = [ROOM] if design.enclosure is None else [design.enclosure.id, ROOM]
    by_host = {s.host: s for s in surfaces(placement) if s.host in hosts}
    yield from (by_host[host] for host in hosts if may_stand(design, part, host))


def _posts(placement: Placement, level: Level | None) -> Iterator[Support]:
    """Iterate over the shelf units a fan can be clipped to, the chosen level's first."""
    units = list(placement.design.of(ShelfUnit))
    units.sort(key=lambda unit: level is None or unit.id != level[0])
    levels = {(i.host, i.number): i.z for i in placement.levels}
    for unit in units:
        z = levels.get(level or ("", 0), placement.box(unit.id).centre[2])
        area = placement.box(unit.id).footprint
        yield Support(unit.id, "clipped", None, z + 0.12, area)


def _free_on(placement: Placement, part: AnyPart, support: Support, turn: int) -> AnyPart | None:
    """Return the part on a support at its free place nearest the middle, or None."""
    if isinstance(part, Plants):
        part = _fitted(part, support)
    part = replace(part, place=Place(turn=turn))  # type: ignore[arg-type]
    box = on_support(support, _box(part, *support.area.centre, 0.0))
    box = box.moved(0.0, 0.0, -_drop(placement, support, box))
    corner = free_corner(placement, part, support, box)
    if corner is None:
        return None
    if isinstance(part, Fan) and support.fixing == "clipped":
        part = replace(part, heading=0.0 if corner.centre[0] < support.area.centre[0] else 180.0)
    return held(placement, part, support, corner, turn)


def _drop(placement: Placement, support: Support, box: Box) -> float:
    """Return how far a new lamp hangs below a high ceiling: not far above what it lights. [m]"""
    if support.fixing != "hung":
        return 0.0
    below = [
        level.z
        for level in placement.levels
        if level.z < box.lo[2] and _contains_middle(level.area, support.area)
    ]
    return max(0.0, box.lo[2] - max(below, default=box.lo[2]) - LAMP_ABOVE)


def _in_a_face(design: Design, part: AnyPart, wish: Wish) -> AnyPart:
    """Return an opening or duct fan in the enclosure's face nearest to the point."""
    enclosure = design.enclosure
    if enclosure is None:
        raise _refusal(
            part, tr("it goes into a face of the enclosure"), tr("place an enclosure first")
        )
    box = Placement(design).box(enclosure.id)
    x, y, z = wish.at or (box.hi[0], box.centre[1], box.hi[2] - 0.25)
    z = box.centre[2] if z is None else z
    face = _nearest_face(box, x, y)
    along, start = (y, box.lo[1]) if face in ("left", "right") else (x, box.lo[0])
    length = box.size[1] if face in ("left", "right") else box.size[0]
    middle = length / 2 if along is None else along - start
    width, _, height = part.extent
    place = Place(
        host=enclosure.id,
        fixing="face",
        face=face,  # type: ignore[arg-type]
        x=on_grid(min(max(0.0, middle - width / 2), max(0.0, length - width))),
        z=on_grid(min(max(0.0, z - box.lo[2] - height / 2), max(0.0, box.size[2] - height))),
    )
    return replace(part, place=place)


def _nearest_face(box: Box, x: float | None, y: float | None) -> str:
    distances: dict[str, float] = {}
    if x is not None:
        distances |= {"left": abs(x - box.lo[0]), "right": abs(x - box.hi[0])}
    if y is not None:
        distances |= {"front": abs(y - box.lo[1]), "back": abs(y - box.hi[1])}
    return min(distances, key=lambda face: distances[face])


def fixture_placed(design: Design, fixture: AnyFixture, at: Point) -> AnyFixture:
    """Return a fixture of the room at the wall nearest to the point, or standing there. [m]"""
    x, y = at[0] or 0.0, at[1] or 0.0
    if isinstance(fixture, Obstacle):
        x, y = on_grid(x - fixture.width / 2), on_grid(y - fixture.depth / 2)
        return replace(fixture, x=x, y=y, z=fixture.z)
    wall, offset = min(
        (_on_wall(design, number, x, y) for number in range(1, len(design.room.outline) + 1)),
        key=lambda item: item[2],
    )[:2]
    width = getattr(fixture, "width", 0.0)
    most = max(0.0, wall_length(design.room, wall) - width)
    offset = on_grid(min(max(0.0, offset - width / 2), most))
    return replace(fixture, wall=wall, offset=offset)


def _on_wall(design: Design, wall: int, x: float, y: float) -> tuple[int, float, float]:
    """Return the wall, how far along it the point lies, and how far off. [m]"""
    (ax, ay), (bx, by) = wall_ends(design.room, wall)
    length = wall_length(design.room, wall)
    along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length
    along = min(max(0.0, along), length)
    px, py = ax + (bx - ax) * along / length, ay + (by - ay) * along / length
    return wall, along, ((px - x) ** 2 + (py - y) ** 2) ** 0.5
