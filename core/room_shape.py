"""The room's walls moved while doors, windows and outlets stay where they are seen to be.

A fixture's place runs along its wall from the wall's first corner; here it is found anew when that
corner moves.
"""

from __future__ import annotations

import math

from core.model import AnyFixture, Obstacle, Room, RoomDoor, RoomWindow, replace
from core.placement import along_wall, on_grid, wall_ends, wall_length

Outline = tuple[tuple[float, float], ...]


def with_outline(room: Room, outline: Outline) -> Room:
    """Return the room with its corners moved.

    Parameters
    ----------
    room : Room
    outline : tuple of (float, float)
        As many corners as before, in the same order. [m]

    Returns
    -------
    Room
        Each fixture in a wall stays square before the place where it was, or as near as the wall
        goes; fixed things stay.

    Raises
    ------
    DesignError
        If the corners do not enclose an area.
    """
    bare = replace(room, outline=outline, fixtures=())
    fixtures = tuple(_kept(room, bare, fixture) for fixture in room.fixtures)
    return replace(bare, fixtures=fixtures)


def _kept(room: Room, moved: Room, fixture: AnyFixture) -> AnyFixture:
    if isinstance(fixture, Obstacle):
        return fixture
    x, y = along_wall(room, fixture.wall, fixture.offset)
    (ax, ay), (bx, by) = wall_ends(moved, fixture.wall)
    length = wall_length(moved, fixture.wall)
    if math.isclose(length, 0.0):
        return fixture
    along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length
    width = fixture.width if isinstance(fixture, RoomDoor | RoomWindow) else 0.0
    return replace(fixture, offset=on_grid(min(max(0.0, along), max(0.0, length - width))))
