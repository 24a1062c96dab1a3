"""What can hold a part, and where: surfaces to stand on, undersides to hang from, posts to clip to.

Which of them a part gets is decided in `core.placing`; what is held well is `core.fit`'s matter.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from core.geometry import Box, Rectangle, polygon_contains, rectangle_gap
from core.model import (
    ROOM,
    AnyPart,
    Bay,
    Design,
    Enclosure,
    Lamp,
    Obstacle,
    Place,
    Platform,
    Reservoir,
    ShelfUnit,
    Tray,
    replace,
)
from core.model.base import Fixing
from core.placement import PLATE, Placement, on_grid

SLACK = 0.12
"""How far above a part's foot a surface may lie and still take it; likewise ceilings. [m]"""
_POINTED = 0.02
"""How far below a surface a pointer may be and still mean it. [m]"""
CLIP_REACH = 0.08
"""How far a clamp reaches from a post to the part's nearest side. [m]"""

_FLOORS = (Enclosure, Obstacle, Platform)
_ON_FLOORS = {"enclosure", "shelf-unit", "bay"}
_IN_TRAYS = {"plants", "platform", "fogger"}
FLOATS = {"reservoir", "strip", "lead", "timer", "thermostat", "humidistat", "duct-fan", "fan"}
"""Kinds that may stay at a height of their own: on a wall, or on a stand that is not drawn."""


@dataclass(frozen=True)
class Support:
    """A place that holds parts: ``z`` is the surface stood on, or the one hung from. [m]"""

    host: str
    fixing: Fixing
    level: int | None
    z: float
    area: Rectangle

    def place(self, placement: Placement, box: Box, turn: int) -> Place:
        """Return the place that puts a part's box there, ``turn`` in the room's axes."""
        frame = placement.frame(self.host)
        x, y = placement.in_host(self.host, box, box.lo[0], box.lo[1])
        gap = {
            "stands": box.lo[2] - self.z,
            "clipped": box.lo[2] - frame.origin[2],
        }.get(self.fixing, self.z - box.hi[2])
        quarters = {0: 0, 1: 1, 2: 2, 3: 3}[(turn - frame.turn) % 4]
        return Place(
            host=self.host,
            fixing=self.fixing,
            level=self.level,
            x=x,
            y=y,
            z=on_grid(max(0.0, gap)),
            turn=quarters,  # type: ignore[arg-type]
        )


def surfaces(placement: Placement, but: Collection[str] = ()) -> Iterator[Support]:
    """Iterate over all surfaces that parts can stand on, without those of the parts ``but``."""
    design = placement.design
    yield Support(ROOM, "stands", None, 0.0, _room_area(design))
    for part in design.parts:
        if part.id not in but:
            yield from _surfaces_of(placement, part)
    for fixture in design.room.fixtures:
        if isinstance(fixture, Obstacle):
            box = placement.box(fixture.id)
            yield Support(fixture.id, "stands", None, box.hi[2], box.footprint)


def _surfaces_of(placement: Placement, part: AnyPart) -> Iterator[Support]:
    box = placement.box(part.id)
    if isinstance(part, ShelfUnit):
        for number, shelf in enumerate(part.levels, start=1):
            yield Support(part.id, "stands", number, box.lo[2] + shelf.z, box.footprint)
    elif isinstance(part, Enclosure | Bay | Tray):
        yield Support(part.id, "stands", None, box.lo[2], box.footprint)
    elif isinstance(part, Platform | Reservoir):
        yield Support(part.id, "stands", None, box.hi[2], box.footprint)


def ceilings(placement: Placement, but: Collection[str] = ()) -> Iterator[Support]:
    """Iterate over all that lamps can hang from, without the parts ``but``."""
    design = placement.design
    yield Support(ROOM, "hung", None, design.room.height, _room_area(design))
    for part in design.parts:
        if part.id not in but:
            yield from _ceilings_of(placement, part)


def _ceilings_of(placement: Placement, part: AnyPart) -> Iterator[Support]:
    box = placement.box(part.id)
    if isinstance(part, ShelfUnit):
        for number, shelf in enumerate(part.levels, start=1):
            z = box.lo[2] + shelf.z - shelf.thickness
            yield Support(part.id, "under", number, z, box.footprint)
        # Above the highest shelf lamps hang from the enclosure's frame, where there is one.
        if not placement.inside(part.id) and part.height - part.levels[-1].z > SLACK:
            yield Support(part.id, "hung", None, box.hi[2], box.footprint)
    elif isinstance(part, Enclosure):
        yield Support(part.id, "hung", None, box.hi[2], box.footprint)
    elif isinstance(part, Platform):
        yield Support(part.id, "under", None, box.hi[2] - PLATE, box.footprint)


def _room_area(design: Design) -> Rectangle:
    xs, ys = zip(*design.room.outline, strict=True)
    return Rectangle(min(xs), min(ys), max(xs), max(ys))


def may_stand(design: Design, part: AnyPart, host: str) -> bool:
    """Tell whether a kind of part may stand on a host: a rack on floors only, a pot in a tray."""
    thing = design.by_id.get(host)
    if part.kind in _ON_FLOORS:
        return thing is None or (isinstance(thing, _FLOORS) and part.kind != "enclosure")
    if isinstance(thing, Tray):
        return part.kind in _IN_TRAYS
    if isinstance(thing, Reservoir):
        return part.kind not in {"tray", "plants", "platform", "reservoir"}
    return True


def surface_under(
    placement: Placement, part: AnyPart, box: Box, but: Collection[str] = ()
) -> Support | None:
    """Return the highest surface under the middle of a box, or None outside the room.

    Of surfaces at one height the smallest takes the part: a tray before its shelf, the enclosure's
    floor before the room's.
    """
    x, y, _ = box.centre
    found = [
        support
        for support in surfaces(placement, but)
        if support.z <= box.lo[2] + SLACK
        and _over(placement.design, support, x, y)
        and may_stand(placement.design, part, support.host)
    ]
    return max(found, key=lambda support: (round(support.z, 4), -support.area.area), default=None)


def ceiling_over(placement: Placement, box: Box, but: Collection[str] = ()) -> Support | None:
    """Return the lowest thing above the middle of a box that a lamp can hang from."""
    x, y, _ = box.centre
    found = [
        support
        for support in ceilings(placement, but)
        if support.z >= box.hi[2] - SLACK and _over(placement.design, support, x, y)
    ]
    return min(found, key=lambda support: (round(support.z, 4), support.area.area), default=None)


def surface_at(
    placement: Placement, part: AnyPart, at: tuple[float | None, float | None, float]
) -> Support | None:
    """Return the highest surface under a point of an elevation that the part may stand on.

    Parameters
    ----------
    at : (x, y, z)
        The point; None along the axis that the elevation does not show. [m]
    """
    x, y, z = at
    found = [
        support
        for support in surfaces(placement)
        if support.z <= z + _POINTED
        and (x is None or support.area.x0 <= x <= support.area.x1)
        and (y is None or support.area.y0 <= y <= support.area.y1)
        and may_stand(placement.design, part, support.host)
    ]
    return max(found, key=lambda support: (round(support.z, 4), -support.area.area), default=None)


def _over(design: Design, support: Support, x: float, y: float) -> bool:
    if support.host == ROOM:
        return polygon_contains(design.room.outline, x, y)
    return support.area.contains(Rectangle(x, y, x, y))


def post_near(placement: Placement, box: Box, but: Collection[str] = ()) -> Support | None:
    """Return the post of a shelf unit or of the enclosure that a part can be clipped to."""
    near: list[tuple[float, Support]] = []
    for part in placement.design.parts:
        if isinstance(part, ShelfUnit | Enclosure) and part.id not in but:
            host = placement.box(part.id)
            gap = _gap_to_posts(host.footprint, box.footprint)
            if gap <= CLIP_REACH and host.lo[2] < box.centre[2] < host.hi[2]:
                near.append((gap, Support(part.id, "clipped", None, 0.0, host.footprint)))
    return min(near, key=lambda item: item[0], default=(0.0, None))[1]


def _gap_to_posts(host: Rectangle, area: Rectangle) -> float:
    posts = ((x, y) for x in (host.x0, host.x1) for y in (host.y0, host.y1))
    return min(rectangle_gap(Rectangle(x, y, x, y), area) for x, y in posts)


def support_for(
    placement: Placement, part: AnyPart, box: Box, but: Collection[str] = ()
) -> Support | None:
    """Return what would hold a part whose box is let go of at ``box``; None: nothing does."""
    if isinstance(part, Lamp):
        return ceiling_over(placement, box, but)
    if part.kind == "fan":
        post = post_near(placement, box, but)
        if post is not None:
            return post
    return surface_under(placement, part, box, but)


def landed(part: AnyPart, support: Support, box: Box) -> Box:
    """Return the box after the part was let go of: what stands falls onto its surface."""
    if support.fixing == "stands":
        down = box.lo[2] - support.z
        floats = part.kind in FLOATS and down > 0
        return box if floats else box.moved(0.0, 0.0, -down)
    if support.fixing in ("under", "hung"):
        return box.moved(0.0, 0.0, min(0.0, support.z - box.hi[2]))
    return box


def held(placement: Placement, part: AnyPart, support: Support, box: Box, turn: int) -> AnyPart:
    """Return the part held by ``support``, its box as near to ``box`` as that allows."""
    return replace(part, place=support.place(placement, landed(part, support, box), turn))
