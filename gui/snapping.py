"""Guides and tapes for a part that is being moved: what it lines up with, how far it is from what.

Plain geometry without Qt; drawing them is `gui.tape`'s work, moving parts `core.changes`'.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from math import isfinite

from core.geometry import TOUCH, Box, Rectangle
from core.language import tr
from core.model import (
    ROOM,
    AnyPart,
    Bay,
    Design,
    Enclosure,
    FeedLine,
    Lamp,
    Obstacle,
    Plants,
    Platform,
    ShelfUnit,
    Tray,
)
from core.placement import Placement
from core.supports import ceilings, surfaces


@dataclass(frozen=True)
class Gap:
    """A stretch of free space beside a box, along one axis.

    ``side`` is −1 towards lower coordinates, +1 towards higher; ``low`` and ``high`` are the
    stretch's ends. [m]
    """

    axis: int
    side: int
    low: float
    high: float

    @property
    def length(self) -> float:
        """[m]"""
        return self.high - self.low

    def shift_for(self, length: float) -> float:
        """Return how far the box moves along the axis for the gap to become ``length``. [m]"""
        return (length - self.length) * -self.side


@dataclass(frozen=True)
class Guide:
    """A position that a box can snap to.

    ``shift`` takes it there, ``at`` is the coordinate of the guide's line; lower ``rank`` goes
    first among guides equally near. [m]
    """

    axis: int
    shift: float
    at: float
    words: str
    rank: int = 0


class Surroundings:
    """What is around the parts that move, resolved once when the move begins.

    Attributes
    ----------
    start : Box
        The box around all moving parts before the move.
    """

    def __init__(self, placement: Placement, ids: Collection[str]) -> None:
        self._placement = placement
        design = placement.design
        self._ids = tuple(ids)
        self._moving = {*ids, *(part.id for i in ids for part in design.carried(i))}
        self.start = union(placement.box(i) for i in ids)
        self._hosts = _common_hosts(placement, ids)
        self._solids = dict(self._solid_boxes(design))
        self._containers = {i: placement.box(i) for i in self._hosts}
        self._levels_z = self._heights()

    def _solid_boxes(self, design: Design) -> Iterator[tuple[str, Box]]:
        """Iterate over all that the moving parts can stand beside."""
        movers = [design.by_id[i] for i in self._ids]
        plants = all(isinstance(part, Plants) for part in movers)
        racks = any(isinstance(part, ShelfUnit | Bay) for part in movers)
        for part in design.parts:
            if part.id in self._moving or part.id in self._hosts:
                continue
            if isinstance(part, FeedLine | Enclosure) or isinstance(part, Plants) != plants:
                continue
            if isinstance(part, Bay) and not racks:
                continue
            yield part.id, self._placement.box(part.id)
        for fixture in design.room.fixtures:
            if isinstance(fixture, Obstacle) and fixture.id not in self._moving:
                yield fixture.id, self._placement.box(fixture.id)

    def _heights(self) -> list[tuple[float, Rectangle, bool]]:
        """Return all surfaces (True) and undersides (False): height and area."""
        found = [(s.z, s.area, True) for s in surfaces(self._placement, self._moving)]
        found += [(s.z, s.area, False) for s in ceilings(self._placement, self._moving)]
        return found

    def gaps(self, box: Box, axis: int) -> tuple[Gap | None, Gap | None]:
        """Return the free space below and above a box along an axis, to whatever is nearest.

        The ends are the nearest part beside it, the end of what holds it, or a wall; along z a
        surface or an underside. None where the box sticks out of everything.
        """
        lows: list[float] = []
        highs: list[float] = []
        for other in self._beside(box, axis):
            if other.hi[axis] <= box.lo[axis] + TOUCH:
                lows.append(other.hi[axis])
            elif other.lo[axis] >= box.hi[axis] - TOUCH:
                highs.append(other.lo[axis])
        ends = self._height_ends(box) if axis == 2 else self._container_ends(box, axis)
        for low, high in ends:
            if isfinite(low) and low <= box.lo[axis] + TOUCH:
                lows.append(low)
            if isfinite(high) and high >= box.hi[axis] - TOUCH:
                highs.append(high)
        below = Gap(axis, -1, max(lows), box.lo[axis]) if lows else None
        above = Gap(axis, 1, box.hi[axis], min(highs)) if highs else None
        return below, above

    def _beside(self, box: Box, axis: int) -> Iterator[Box]:
        """Iterate over the solids that a box would meet if it moved along the axis."""
        others = [k for k in range(3) if k != axis]
        for solid in self._solids.values():
            if all(
                solid.lo[k] < box.hi[k] - TOUCH and solid.hi[k] > box.lo[k] + TOUCH for k in others
            ):
                yield solid

    def _container_ends(self, box: Box, axis: int) -> Iterator[tuple[float, float]]:
        for container in self._containers.values():
            yield container.lo[axis], container.hi[axis]
        yield from walls_around(self._placement.design.room.outline, box, axis)

    def _height_ends(self, box: Box) -> Iterator[tuple[float, float]]:
        x, y, _ = box.centre
        middle = Rectangle(x, y, x, y)
        for z, area, is_floor in self._levels_z:
            if area.contains(middle):
                yield (z, float("inf")) if is_floor else (float("-inf"), z)

    def guides(self, box: Box, axes: Iterable[int], tolerance: float) -> dict[int, Guide]:
        """Return the nearest guide within ``tolerance`` for each axis that has one. [m]"""
        found: dict[int, Guide] = {}
        for axis in axes:
            near = [g for g in self._offered(box, axis) if abs(g.shift) <= tolerance + 1e-12]
            if near:
                found[axis] = min(near, key=lambda g: (round(abs(g.shift), 6), g.rank))
        return found

    def _offered(self, box: Box, axis: int) -> Iterator[Guide]:
        if axis < 2:
            yield from self._flush_with_hosts(box, axis)
            yield from self._in_line(box, axis)
            yield from self._equal_gaps(box, axis)
        else:
            yield from self._same_height(box)

    def _flush_with_hosts(self, box: Box, axis: int) -> Iterator[Guide]:
        for host_id, host in self._containers.items():
            ends, middle = host_words(self._placement.design, host_id)
            yield Guide(axis, host.lo[axis] - box.lo[axis], host.lo[axis], ends, 0)
            yield Guide(axis, host.hi[axis] - box.hi[axis], host.hi[axis], ends, 0)
            centre = host.centre[axis]
            yield Guide(axis, centre - box.centre[axis], centre, middle, 1)
        for low, high in walls_around(self._placement.design.room.outline, box, axis):
            flush = tr("flush with the wall")
            yield Guide(axis, low - box.lo[axis], low, flush, 3)
            yield Guide(axis, high - box.hi[axis], high, flush, 3)

    def _in_line(self, box: Box, axis: int) -> Iterator[Guide]:
        """Offer the edges and middles of what stands at the same height."""
        for solid_id, solid in self._solids.items():
            if solid.hi[2] < box.lo[2] or solid.lo[2] > box.hi[2]:
                continue
            name = self._placement.design.by_id[solid_id].name
            line = tr("in line with {name}").format(name=name)
            touching = tr("against {name}").format(name=name)
            lo, hi = solid.lo[axis], solid.hi[axis]
            yield Guide(axis, lo - box.lo[axis], lo, line, 2)
            yield Guide(axis, hi - box.hi[axis], hi, line, 2)
            yield Guide(axis, hi - box.lo[axis], hi, touching, 2)
            yield Guide(axis, lo - box.hi[axis], lo, touching, 2)
            yield Guide(axis, solid.centre[axis] - box.centre[axis], solid.centre[axis], line, 4)

    def _equal_gaps(self, box: Box, axis: int) -> Iterator[Guide]:
        below, above = self.gaps(box, axis)
        if below is not None and above is not None:
            shift = (above.length - below.length) / 2
            yield Guide(axis, shift, box.centre[axis] + shift, tr("equal gaps"), 5)

    def _same_height(self, box: Box) -> Iterator[Guide]:
        design = self._placement.design
        lamps = all(isinstance(design.by_id[i], Lamp) for i in self._ids)
        kinds = {design.by_id[i].kind for i in self._ids}
        for solid_id, solid in self._solids.items():
            thing = design.by_id[solid_id]
            if thing.kind not in kinds:
                continue
            words = tr("same drop as {name}") if lamps else tr("level with {name}")
            at = self._height_like(solid_id, solid) if lamps else solid.lo[2]
            if at is not None:
                yield Guide(2, at - box.lo[2], at, words.format(name=thing.name), 0)
        for z, area, is_floor in self._levels_z:
            x, y, _ = box.centre
            if is_floor and not lamps and area.contains(Rectangle(x, y, x, y)):
                yield Guide(2, z - box.lo[2], z, tr("standing on it"), 1)

    def _height_like(self, lamp_id: str, box: Box) -> float | None:
        """Return where the moving lamp's underside is as high above its own level as another's."""
        mine = self._placement.level_of(self._ids[0])
        theirs = self._placement.level_of(lamp_id)
        heights = {(one.host, one.number): one.z for one in self._placement.levels}
        if mine not in heights or theirs not in heights:
            return None
        return box.lo[2] - heights[theirs] + heights[mine]


def union(boxes: Iterable[Box]) -> Box:
    """Return the smallest box around some boxes; there must be one."""
    all_ = list(boxes)
    lo = [min(box.lo[k] for box in all_) for k in range(3)]
    hi = [max(box.hi[k] for box in all_) for k in range(3)]
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def _common_hosts(placement: Placement, ids: Iterable[str]) -> tuple[str, ...]:
    """Return the hosts that all the parts have, the nearest first."""
    chains = [placement.hosts(part_id) for part_id in ids]
    fixtures = {f.id for f in placement.design.room.fixtures}
    return tuple(
        host
        for host in chains[0]
        if host != ROOM and host not in fixtures and all(host in chain for chain in chains)
    )


def host_words(design: Design, host_id: str) -> tuple[str, str]:
    """Return the words for being flush with a host, and for being in its middle."""
    host: AnyPart = design.part(host_id)
    if isinstance(host, ShelfUnit):
        return tr("flush with shelf end"), tr("centred on the shelf")
    if isinstance(host, Enclosure):
        return tr("flush with the enclosure"), tr("centred in the enclosure")
    if isinstance(host, Tray):
        return tr("flush with the tray"), tr("centred in the tray")
    if isinstance(host, Platform):
        return tr("flush with the platform"), tr("centred on the platform")
    name = host.name
    return tr("flush with {name}").format(name=name), tr("centred on {name}").format(name=name)


def walls_around(
    outline: Collection[tuple[float, float]], box: Box, axis: int
) -> Iterator[tuple[float, float]]:
    """Iterate over the (low, high) coordinates of the walls that face a box along x or y. [m]"""
    other = 1 - axis
    corners = list(outline)
    lows: list[float] = []
    highs: list[float] = []
    middle = box.centre[axis]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        low, high = min(a[other], b[other]), max(a[other], b[other])
        if high <= box.lo[other] + TOUCH or low >= box.hi[other] - TOUCH or low == high:
            continue
        for at in (max(low, box.lo[other]), min(high, box.hi[other])):
            share = (at - a[other]) / (b[other] - a[other])
            where = a[axis] + share * (b[axis] - a[axis])
            (lows if where <= middle else highs).append(where)
    if lows and highs:
        yield max(lows), min(highs)
