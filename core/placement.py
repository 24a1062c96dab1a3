"""Where everything ends up in the room: absolute boxes, levels and zones of one design.

Works out places from hosts, levels and turns; judges nothing (see `core.fit`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from core.geometry import Box, Rectangle, polygon_area, turn_back, turn_within, turned_size
from core.model import (
    ROOM,
    AnyFixture,
    AnyPart,
    Bay,
    Design,
    Enclosure,
    FeedLine,
    Obstacle,
    Outlet,
    Part,
    Plants,
    Platform,
    Room,
    RoomDoor,
    RoomWindow,
    ShelfUnit,
    Tray,
)

PLATE = 0.02
"""Thickness taken for a platform's top. [m]"""
WALL_DEPTH = 0.10
"""How deep a door or window is drawn into its wall. [m]"""
OUTLET_SIZE = 0.08
"""Width and height taken for a wall outlet. [m]"""


@dataclass(frozen=True)
class Frame:
    """A host's own axes: where its corner is, its turn, and its size before the turn."""

    origin: tuple[float, float, float]
    turn: int
    size: tuple[float, float, float]


@dataclass(frozen=True)
class Level:
    """A surface that plants can stand on.

    ``host`` is the shelf unit, bay, platform or enclosure; ``number`` counts from 1 upwards; ``z``
    is the surface, ``area`` its rectangle seen from above, ``above`` the underside of what comes
    next. [m]
    """

    host: str
    number: int
    z: float
    area: Rectangle
    above: float


@dataclass(frozen=True)
class ZonePlace:
    """A zone resolved: its rectangle and the heights of its lowest and highest leaves. [m]"""

    part: Plants
    area: Rectangle
    base: float
    low: float
    high: float
    level: tuple[str, int] | None


class Placement:
    """The resolved places of all parts and fixtures of a design.

    Attributes
    ----------
    design : Design
        What was resolved.
    """

    def __init__(self, design: Design) -> None:
        self.design = design
        self._boxes: dict[str, Box] = {}
        self._frames: dict[str, Frame] = {}
        self._hosts: dict[str, tuple[str, ...]] = {}

    def box(self, part_id: str) -> Box:
        """Return the absolute box of a part or fixture; a feed line has an empty one. [m]"""
        if part_id not in self._boxes:
            thing = self.design.by_id[part_id]
            if isinstance(thing, Obstacle | Outlet | RoomDoor | RoomWindow):
                self._boxes[part_id] = fixture_box(self.design.room, thing)
            else:
                self._boxes[part_id] = self._part_box(thing)
        return self._boxes[part_id]

    def frame(self, host_id: str) -> Frame:
        """Return a host's axes; the room's are the absolute ones."""
        if host_id == ROOM:
            width, depth = _span(self.design.room)
            return Frame((0.0, 0.0, 0.0), 0, (width, depth, self.design.room.height))
        if host_id not in self._frames:
            self._frames[host_id] = self._frame(host_id)
        return self._frames[host_id]

    def _frame(self, host_id: str) -> Frame:
        thing = self.design.by_id[host_id]
        box = self.box(host_id)
        if isinstance(thing, Obstacle | Outlet | RoomDoor | RoomWindow):
            return Frame(box.lo, 0, box.size)
        turn = (self.frame(thing.place.host).turn + thing.place.turn) % 4
        return Frame(box.lo, turn, thing.extent)

    def _part_box(self, part: AnyPart) -> Box:
        host = self.frame(part.place.host)
        if part.place.fixing == "face":
            return self._face_box(part, host)
        width, depth = turned_size(part.extent[0], part.extent[1], part.place.turn)
        x, y = part.place.x, part.place.y
        local = Rectangle(x, y, x + width, y + depth)
        area = turn_within(local, host.size[0], host.size[1], host.turn)
        x0, y0 = area.x0 + host.origin[0], area.y0 + host.origin[1]
        z0 = self._bottom(part, host)
        return Box((x0, y0, z0), (x0 + area.width, y0 + area.height, z0 + part.extent[2]))

    def _bottom(self, part: AnyPart, host: Frame) -> float:
        """Return the height of the part's underside above the room's floor. [m]"""
        place, height = part.place, part.extent[2]
        base, top = host.origin[2], host.origin[2] + host.size[2]
        if place.fixing == "hung":
            return top - place.z - height
        if place.fixing == "under":
            return self._underside(place.host, place.level, top) - place.z - height
        if place.fixing == "clipped":
            return base + place.z
        return self._surface(place.host, place.level, base, top) + place.z

    def _surface(self, host_id: str, level: int | None, base: float, top: float) -> float:
        host = None if host_id == ROOM else self.design.by_id[host_id]
        if isinstance(host, ShelfUnit) and level is not None:
            return base + host.levels[level - 1].z
        if host is None or isinstance(host, Enclosure | ShelfUnit | Bay | Tray):
            return base
        return top

    def _underside(self, host_id: str, level: int | None, top: float) -> float:
        host = self.design.by_id[host_id]
        if isinstance(host, ShelfUnit) and level is not None:
            shelf = host.levels[level - 1]
            return self.box(host_id).lo[2] + shelf.z - shelf.thickness
        return top - PLATE

    def _face_box(self, part: AnyPart, host: Frame) -> Box:
        """Return the box of a part set into a face, centred on it by its depth."""
        face, place = part.place.face or "front", part.place
        width, depth, height = part.extent
        x0, y0, z0 = self.box(place.host).lo
        x1, y1, z1 = self.box(place.host).hi
        if face in ("top", "bottom"):
            z = z1 if face == "top" else z0
            lo = (x0 + place.x, y0 + place.y, z - depth / 2)
            return Box(lo, (lo[0] + width, lo[1] + height, lo[2] + depth))
        along_y = face in ("left", "right") or (y1 - y0 > x1 - x0 and place.face is None)
        if along_y:
            x = {"left": x0, "right": x1}.get(place.face or "", (x0 + x1) / 2)
            lo = (x - depth / 2, y0 + place.x, z0 + place.z)
            return Box(lo, (lo[0] + depth, lo[1] + width, lo[2] + height))
        y = {"front": y0, "back": y1}.get(place.face or "", (y0 + y1) / 2)
        lo = (x0 + place.x, y - depth / 2, z0 + place.z)
        return Box(lo, (lo[0] + width, lo[1] + depth, lo[2] + height))

    def to_host(self, part_id: str, x: float, y: float) -> tuple[float, float]:
        """Return the place (x, y) that puts the lower left corner of a part's box there.

        Parameters
        ----------
        part_id : str
            A part that stands, hangs or is clipped.
        x, y : float
            Wanted corner in the room's axes. [m]

        Returns
        -------
        tuple of float
            ``place.x`` and ``place.y`` in the host's own axes. [m]
        """
        part = self.design.part(part_id)
        return self.in_host(part.place.host, self.box(part_id), x, y)

    def in_host(self, host_id: str, box: Box, x: float, y: float) -> tuple[float, float]:
        """Return where a box moved to (x, y) lies in a host's own axes. [m]"""
        host = self.frame(host_id)
        x, y = x - host.origin[0], y - host.origin[1]
        area = Rectangle(x, y, x + box.size[0], y + box.size[1])
        local = turn_back(area, host.size[0], host.size[1], host.turn)
        return on_grid(local.x0), on_grid(local.y0)

    def hosts(self, part_id: str) -> tuple[str, ...]:
        """Return what a part rests on, nearest first, without the room."""
        if part_id not in self._hosts:
            self._hosts[part_id] = self._host_chain(part_id)
        return self._hosts[part_id]

    def _host_chain(self, part_id: str) -> tuple[str, ...]:
        here = self.design.by_id[part_id]
        if not isinstance(here, Part) or here.place.host == ROOM:
            return ()
        return (here.place.host, *self.hosts(here.place.host))

    def inside(self, part_id: str) -> bool:
        """Tell whether a part is declared inside the enclosure (not in a face of it)."""
        return part_id in self._within

    @cached_property
    def _within(self) -> frozenset[str]:
        """The ids of all parts declared inside the enclosure."""
        enclosure = self.design.enclosure
        if enclosure is None:
            return frozenset()
        return frozenset(
            part.id
            for part in self.design.parts
            if enclosure.id in self.hosts(part.id)
            and not isinstance(part, FeedLine)
            and part.place.fixing != "face"
        )

    @cached_property
    def levels(self) -> tuple[Level, ...]:
        """All levels: the units' shelves, bays' floors, platforms, the enclosure's floor."""
        found: list[Level] = []
        for part in self.design.parts:
            if isinstance(part, ShelfUnit):
                found += self._unit_levels(part)
            elif isinstance(part, Bay):
                found += self._bay_levels(part)
            elif isinstance(part, Platform) and not self._in_bay(part):
                found.append(self._top_level(part.id, part, 1))
            elif isinstance(part, Enclosure):
                box = self.box(part.id)
                found.append(Level(part.id, 1, box.lo[2], box.footprint, box.hi[2]))
        return tuple(found)

    def _unit_levels(self, unit: ShelfUnit) -> list[Level]:
        box = self.box(unit.id)
        ceiling = self._ceiling_above(unit.id)
        undersides = [box.lo[2] + shelf.z - shelf.thickness for shelf in unit.levels[1:]]
        return [
            Level(unit.id, number, box.lo[2] + shelf.z, box.footprint, above)
            for number, (shelf, above) in enumerate(
                zip(unit.levels, [*undersides, ceiling], strict=True), start=1
            )
        ]

    def _bay_levels(self, bay: Bay) -> list[Level]:
        box = self.box(bay.id)
        inside = [p for p in self.design.of(Platform) if p.place.host == bay.id]
        inside.sort(key=lambda platform: self.box(platform.id).hi[2])
        floor = Level(bay.id, 1, box.lo[2], box.footprint, box.hi[2])
        return [floor] + [
            self._top_level(bay.id, platform, number)
            for number, platform in enumerate(inside, start=2)
        ]

    def _top_level(self, host: str, platform: Platform, number: int) -> Level:
        box = self.box(platform.id)
        return Level(host, number, box.hi[2], box.footprint, self._ceiling_above(platform.id))

    def _in_bay(self, platform: Platform) -> bool:
        return isinstance(self.design.by_id.get(platform.place.host), Bay)

    def _ceiling_above(self, part_id: str) -> float:
        enclosure = self.design.enclosure
        if enclosure is not None and self.inside(part_id):
            return self.box(enclosure.id).hi[2]
        return self.design.room.height

    def level_of(self, part_id: str) -> tuple[str, int] | None:
        """Return the (host, number) of the level a part stands on, hangs above or lies in.

        A lamp under shelf k of a unit belongs to level k − 1; one hung above a unit to its
        highest level.
        """
        part = self.design.by_id[part_id]
        if isinstance(part, Obstacle | Outlet | RoomDoor | RoomWindow):
            return None
        host = self.design.by_id.get(part.place.host)
        if isinstance(host, ShelfUnit) and part.place.level is not None:
            down = part.place.fixing == "under"
            number = part.place.level - down
            return (host.id, number) if number >= 1 else None
        if isinstance(host, Platform):
            return next(iter(self._platform_levels(host)), None)
        if isinstance(host, Tray | Plants):
            return self.level_of(host.id)
        return self._level_below(part_id)

    def _platform_levels(self, platform: Platform) -> list[tuple[str, int]]:
        top = self.box(platform.id).hi[2]
        hosts = {platform.id, platform.place.host}
        return [
            (level.host, level.number)
            for level in self.levels
            if level.host in hosts and abs(level.z - top) < 1e-9
        ]

    def _level_below(self, part_id: str) -> tuple[str, int] | None:
        """Return the highest level under the middle of a part."""
        box = self.box(part_id)
        x, y, _ = box.centre
        under = [
            level
            for level in self.levels
            if level.z <= box.lo[2] + 1e-9 and level.area.contains(Rectangle(x, y, x, y))
        ]
        best = max(under, key=lambda level: level.z, default=None)
        return (best.host, best.number) if best else None

    @cached_property
    def zones(self) -> tuple[ZonePlace, ...]:
        """All zones, in the order of the parts."""
        return tuple(self._zone(plants) for plants in self.design.of(Plants))

    def _zone(self, plants: Plants) -> ZonePlace:
        box = self.box(plants.id)
        rim = box.lo[2] + plants.pot_height
        return ZonePlace(
            plants,
            box.footprint,
            box.lo[2],
            rim + plants.leaf_low,
            rim + plants.leaf_high,
            self.level_of(plants.id),
        )


def on_grid(length: float) -> float:
    """Return a length to the nanometre, so that sums leave no dust and no negative zero. [m]"""
    return round(length, 9) + 0.0


def wall_ends(room: Room, wall: int) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the two corners of a wall, counted from 1. [m]"""
    corners = room.outline
    return corners[wall - 1], corners[wall % len(corners)]


def wall_length(room: Room, wall: int) -> float:
    """[m]"""
    (ax, ay), (bx, by) = wall_ends(room, wall)
    return float(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5)


def wall_inwards(room: Room, wall: int) -> tuple[float, float]:
    """Return the unit vector square to a wall that points into the room."""
    (ax, ay), (bx, by) = wall_ends(room, wall)
    length = wall_length(room, wall)
    flip = 1.0 if polygon_area(room.outline) > 0 else -1.0
    return -flip * (by - ay) / length, flip * (bx - ax) / length


def along_wall(room: Room, wall: int, offset: float) -> tuple[float, float]:
    """Return the point ``offset`` along a wall from its first corner. [m]"""
    (ax, ay), (bx, by) = wall_ends(room, wall)
    share = offset / wall_length(room, wall)
    return ax + share * (bx - ax), ay + share * (by - ay)


def fixture_box(room: Room, fixture: AnyFixture) -> Box:
    """Return the absolute box of a fixture; those on walls are centred on the wall's line. [m]"""
    if isinstance(fixture, Obstacle):
        lo = (fixture.x, fixture.y, fixture.z)
        return Box(lo, (lo[0] + fixture.width, lo[1] + fixture.depth, lo[2] + fixture.height))
    width, bottom, height, depth = _wall_size(fixture)
    ax, ay = along_wall(room, fixture.wall, fixture.offset)
    bx, by = along_wall(room, fixture.wall, fixture.offset + width)
    half = depth / 2
    thick_x = half if abs(bx - ax) < abs(by - ay) else 0.0
    thick_y = half - thick_x
    return Box(
        (min(ax, bx) - thick_x, min(ay, by) - thick_y, bottom),
        (max(ax, bx) + thick_x, max(ay, by) + thick_y, bottom + height),
    )


def _wall_size(fixture: RoomDoor | RoomWindow | Outlet) -> tuple[float, float, float, float]:
    """Return width along the wall, bottom, height and depth. [m]"""
    if isinstance(fixture, RoomDoor):
        return fixture.width, 0.0, fixture.height, WALL_DEPTH
    if isinstance(fixture, RoomWindow):
        return fixture.width, fixture.sill, fixture.height, WALL_DEPTH
    return OUTLET_SIZE, fixture.z - OUTLET_SIZE / 2, OUTLET_SIZE, 0.04


def _span(room: Room) -> tuple[float, float]:
    return max(x for x, _ in room.outline), max(y for _, y in room.outline)
