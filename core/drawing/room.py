"""How the room is drawn: walls, floor and ceiling, doors, windows, outlets and fixed things.

The enclosure and what is in it are drawn by the modules of their own kind.
"""

from __future__ import annotations

from functools import lru_cache

from core.drawing.marks import Mark, Path, Pen, Point, View, Words
from core.drawing.shapes import EDGE, SWING, box_mark, line, open_leaf, seen
from core.geometry import Rectangle
from core.model import Obstacle, Outlet, Room, RoomDoor, RoomWindow
from core.placement import Placement, wall_ends, wall_inwards, wall_length

WALL = Pen("ink", 2.0)
BAND = 0.05
"""How deep the shaded band behind a wall, floor or ceiling is drawn. [m]"""
_SPIKE = 3.0


def room_marks(placement: Placement, view: View) -> tuple[Mark, ...]:
    """Return the bare room: wall bands, then the lines of walls, floor and ceiling."""
    room = placement.design.room
    return _plan(room) if view == "plan" else _elevation(room, view)


@lru_cache(maxsize=8)
def _plan(room: Room) -> tuple[Mark, ...]:
    count = len(room.outline)
    pieces = [piece for wall in range(1, count + 1) for piece in _wall(room, wall)]
    bands = [band for band, _ in pieces]
    return (*bands, *(edge for _, edge in pieces))


def _wall(room: Room, wall: int) -> list[tuple[Path, Path]]:
    """Return the band and the line of each stretch of a wall between its doors and windows."""
    length = wall_length(room, wall)
    gaps = sorted(
        (item.offset, min(item.offset + item.width, length))
        for item in room.fixtures
        if isinstance(item, RoomDoor | RoomWindow) and item.wall == wall
    )
    ends = [0.0, *(end for gap in gaps for end in gap), length]
    stretches = zip(ends[::2], ends[1::2], strict=True)
    return [_piece(room, wall, a / length, b / length) for a, b in stretches if b - a > 1e-6]


def _piece(room: Room, wall: int, start: float, end: float) -> tuple[Path, Path]:
    inner = wall_ends(room, wall)
    outer = (_outer_corner(room, wall - 1), _outer_corner(room, wall % len(room.outline)))
    a, b = _between(*inner, start), _between(*inner, end)
    # At a corner the band follows the mitre; beside a door it is cut square.
    outwards = _outwards(room, wall)
    c = outer[1] if end >= 1 - 1e-9 else (b[0] + outwards[0] * BAND, b[1] + outwards[1] * BAND)
    d = outer[0] if start <= 1e-9 else (a[0] + outwards[0] * BAND, a[1] + outwards[1] * BAND)
    return Path((a, b, c, d), None, "wall", True), Path((a, b), WALL)


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _outwards(room: Room, wall: int) -> Point:
    """Return the unit vector that points out of the room at a wall."""
    x, y = wall_inwards(room, wall)
    return -x, -y


def _outer_corner(room: Room, index: int) -> Point:
    """Return the corner of the wall band outside corner ``index`` of the outline. [m]"""
    count = len(room.outline)
    x, y = room.outline[index]
    (ax, ay), (bx, by) = _outwards(room, (index - 1) % count + 1), _outwards(room, index + 1)
    share = min(BAND / max(1 + ax * bx + ay * by, 1e-6), _SPIKE * BAND)
    return x + share * (ax + bx), y + share * (ay + by)


def _elevation(room: Room, view: View) -> tuple[Mark, ...]:
    axis = 0 if view == "front" else 1
    low = min(corner[axis] for corner in room.outline)
    high = max(corner[axis] for corner in room.outline)
    top = room.height
    bands = (
        Rectangle(low - BAND, -BAND, low, top + BAND),
        Rectangle(high, -BAND, high + BAND, top + BAND),
        Rectangle(low, -BAND, high, 0.0),
        Rectangle(low, top, high, top + BAND),
    )
    outline = box_mark(Rectangle(low, 0.0, high, top), WALL)
    return (*(box_mark(band, None, "wall") for band in bands), outline)


def door_marks(placement: Placement, door: RoomDoor, view: View) -> list[Mark]:
    """Return a room door: its open leaf and swing in plan, its outline in elevation."""
    room = placement.design.room
    if view != "plan":
        return [box_mark(seen(placement.box(door.id), view), SWING)]
    a, b = _opening(room, door)
    hinge, closing = (a, b) if door.hinge == "near" else (b, a)
    nx, ny = _outwards(room, door.wall)
    way = -1.0 if door.swing == "in" else 1.0
    tip = (hinge[0] + way * nx * door.width, hinge[1] + way * ny * door.width)
    return open_leaf(hinge, closing, tip)


def _opening(room: Room, item: RoomDoor | RoomWindow) -> tuple[Point, Point]:
    ends, length = wall_ends(room, item.wall), wall_length(room, item.wall)
    far = min(item.offset + item.width, length)
    return _between(*ends, item.offset / length), _between(*ends, far / length)


def window_marks(placement: Placement, window: RoomWindow, view: View) -> list[Mark]:
    """Return a window: panes between jambs in plan, a frame with a bar in elevation."""
    if view != "plan":
        area = seen(placement.box(window.id), view)
        x = (area.x0 + area.x1) / 2
        bar = [line(x, area.y0, x, area.y1, EDGE)] if area.width > 0.2 else []
        return [box_mark(area, EDGE), *bar]
    room = placement.design.room
    (ax, ay), (bx, by) = _opening(room, window)
    nx, ny = (BAND * part for part in _outwards(room, window.wall))
    frame = ((ax, ay), (bx, by), (bx + nx, by + ny), (ax + nx, ay + ny))
    pane = ((ax + nx / 2, ay + ny / 2), (bx + nx / 2, by + ny / 2))
    return [Path(frame, EDGE, "raised", True), Path(pane, EDGE)]


def outlet_marks(placement: Placement, outlet: Outlet, view: View) -> list[Mark]:
    """Return a wall outlet: a square with two short bars, or its edge at the wall."""
    area = seen(placement.box(outlet.id), view)
    marks: list[Mark] = [box_mark(area, Pen("ink", 1.2), "raised", 1.5)]
    if view == "plan" or min(area.width, area.height) < 0.05:
        return marks
    y0, y1 = area.y0 + 0.3 * area.height, area.y0 + 0.7 * area.height
    bars = (area.x0 + 0.35 * area.width, area.x0 + 0.65 * area.width)
    return marks + [line(x, y0, x, y1, Pen("ink", 1.2)) for x in bars]


def obstacle_marks(placement: Placement, obstacle: Obstacle, view: View) -> list[Mark]:
    """Return a fixed thing: a thin outline with its name on a halo."""
    area = seen(placement.box(obstacle.id), view)
    name = Words(area.centre, obstacle.name, 11.0, "ink2", halo=True)
    return [box_mark(area, EDGE), name]
