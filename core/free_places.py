"""Where on a support there is still room: what blocks what, and the free place nearest to a wish.

What supports there are is `core.supports`' matter; who asks for a place, `core.placing`'s.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import product

from core.changes import with_carried
from core.geometry import Box, Rectangle, polygon_contains_rectangle
from core.model import ROOM, AnyPart, Bay, Enclosure, FeedLine, Plants, ShelfUnit, Tray
from core.placement import Placement
from core.supports import Support


def in_the_way(
    placement: Placement, part: AnyPart, box: Box, but: Collection[str] = ()
) -> Iterator[str]:
    """Iterate over the parts that a new part's box would stand in."""
    for other in placement.design.parts:
        if other.id in but or not blocks(part, other):
            continue
        if box.overlap(placement.box(other.id)) is not None:
            yield other.id


def blocks(part: AnyPart, other: AnyPart) -> bool:
    """Tell whether two kinds of parts cannot share a place; racks are mostly air."""
    if isinstance(other, Enclosure | FeedLine) or isinstance(part, Enclosure):
        return False
    if isinstance(part, ShelfUnit | Bay):
        return isinstance(other, ShelfUnit | Bay | Tray) or other.kind in ("cooler", "reservoir")
    if isinstance(other, ShelfUnit | Bay):
        return False
    if isinstance(part, Plants):
        return isinstance(other, Plants)
    if isinstance(other, Plants):
        return False
    if isinstance(other, Tray):
        return part.kind not in ("platform", "fogger")
    return True


def on_support(support: Support, box: Box) -> Box:
    """Return the box lifted or lowered so that it stands on, or hangs right under, a support."""
    if support.fixing in ("under", "hung"):
        return box.moved(0.0, 0.0, support.z - box.hi[2])
    return box.moved(0.0, 0.0, support.z - box.lo[2])


def free_corner(
    placement: Placement, part: AnyPart, support: Support, wish: Box, but: Collection[str] = ()
) -> Box | None:
    """Return the free box nearest to ``wish`` on a support, at the wish's height.

    Parameters
    ----------
    placement : Placement
    part : part
        What is to be placed; only its kind matters.
    support : Support
    wish : Box
        Where it would best be.
    but : collection of str
        Parts that do not count, besides what the support itself stands on.

    Returns
    -------
    Box or None
        None where nothing is free.
    """
    blocking = _blocking(placement, part, support, but)
    for x0, y0 in _corners(support, wish, blocking):
        box = wish.moved(x0 - wish.lo[0], y0 - wish.lo[1], 0.0)
        if _inside(placement, support, box) and not any(box.overlap(b) for b in blocking):
            return box
    return None


def _blocking(
    placement: Placement, part: AnyPart, support: Support, but: Collection[str]
) -> list[Box]:
    own = with_carried(placement.design, [part.id]) if part.id in placement.design.by_id else ()
    hosts = () if support.host == ROOM else placement.hosts(support.host)
    aside = {*but, *own, support.host, *hosts}
    return [
        placement.box(other.id)
        for other in placement.design.parts
        if other.id not in aside and blocks(part, other)
    ]


def _corners(support: Support, wish: Box, blocking: list[Box]) -> list[tuple[float, float]]:
    """Return corners to try: the wish, the middle, and beside each edge; the nearest first."""
    area, size = support.area, wish.size
    if support.fixing == "clipped":
        y = area.centre[1] - size[1] / 2
        return [(area.x0 - size[0], y), (area.x1, y)]
    xs = {wish.lo[0], area.centre[0] - size[0] / 2, area.x0, area.x1 - size[0]}
    ys = {wish.lo[1], area.centre[1] - size[1] / 2, area.y0, area.y1 - size[1]}
    for box in blocking:
        xs |= {box.hi[0], box.lo[0] - size[0]}
        ys |= {box.hi[1], box.lo[1] - size[1]}
    return sorted(
        product(xs, ys),
        key=lambda at: (round((at[0] - wish.lo[0]) ** 2 + (at[1] - wish.lo[1]) ** 2, 9), at),
    )


def _inside(placement: Placement, support: Support, box: Box) -> bool:
    if support.fixing == "clipped":
        enclosure = placement.design.enclosure
        within = enclosure is None or not placement.inside(support.host)
        return within or placement.box(enclosure.id).contains(box)  # type: ignore[union-attr]
    if support.host == ROOM:
        return polygon_contains_rectangle(placement.design.room.outline, box.footprint)
    if support.fixing in ("under", "hung"):
        return support.area.contains(_not_wider(box.footprint, support.area), 1e-6)
    return support.area.contains(box.footprint, 1e-6)


def _not_wider(footprint: Rectangle, area: Rectangle) -> Rectangle:
    """Return a lamp's footprint without what stands over a smaller shelf on both sides alike."""
    x0, y0, x1, y1 = footprint
    if footprint.width > area.width:
        over = (footprint.width - area.width) / 2
        x0, x1 = x0 + over, x1 - over
    if footprint.height > area.height:
        over = (footprint.height - area.height) / 2
        y0, y1 = y0 + over, y1 - over
    return Rectangle(x0, y0, x1, y1)
