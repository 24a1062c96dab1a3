"""What lies under the pointer: things of a drawing, levels between shelves, handles.

Pure geometry on resolved places; what is then done with it is `gui.gestures`' affair.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from PySide6.QtCore import QPointF, QRectF

from core.drawing.marks import View
from core.model import Bay, Enclosure, FeedLine, ShelfUnit
from core.placement import Level, Placement
from gui.camera import Camera
from gui.items import HANDLE_HIT, handle_points

_EDGE = 6.0
_LEAST = 10.0
HANDLES = ("nw", "n", "ne", "w", "e", "sw", "s", "se")


def things_at(
    placement: Placement, camera: Camera, view: View, at: QPointF, shown: Iterable[str]
) -> list[str]:
    """Return the things under a point, the likeliest meant first: the smallest.

    Enclosures and bays, and racks in the elevations, are hollow: only their edges count.
    """
    found: list[tuple[float, str]] = []
    for thing_id in shown:
        if isinstance(placement.design.by_id[thing_id], FeedLine):
            continue
        rect = camera.box(view, placement.box(thing_id))
        if _hit(placement, thing_id, view, rect, at):
            found.append((rect.width() * rect.height(), thing_id))
    return [thing_id for _, thing_id in sorted(found)]


def _hit(placement: Placement, thing_id: str, view: View, rect: QRectF, at: QPointF) -> bool:
    wide = max(0.0, _LEAST - rect.width()) / 2
    high = max(0.0, _LEAST - rect.height()) / 2
    if not rect.adjusted(-wide, -high, wide, high).contains(at):
        return bool(
            is_hollow(placement, thing_id, view)
            and rect.adjusted(-_EDGE, -_EDGE, _EDGE, _EDGE).contains(at)
        )
    if not is_hollow(placement, thing_id, view):
        return True
    return not rect.adjusted(_EDGE, _EDGE, -_EDGE, -_EDGE).contains(at)


def is_hollow(placement: Placement, thing_id: str, view: View) -> bool:
    """Tell whether a thing is taken hold of by its edges only in a view."""
    thing = placement.design.by_id[thing_id]
    if isinstance(thing, Enclosure | Bay):
        return True
    return isinstance(thing, ShelfUnit) and view != "plan"


def level_at(
    placement: Placement, camera: Camera, view: View, at: QPointF, near: str | None
) -> Level | None:
    """Return the level between whose shelves a point of an elevation lies.

    Where several levels do, one of the host ``near`` goes first, then the lowest space.
    """
    if view == "plan":
        return None
    across, up = camera.to_metres(view, at)
    axis = 0 if view == "front" else 1
    found = [
        level
        for level in placement.levels
        if level.z <= up <= level.above
        and placement.box(level.host).lo[axis] <= across <= placement.box(level.host).hi[axis]
    ]
    floors = {e.id for e in placement.design.of(Enclosure)}
    return min(
        found,
        key=lambda level: (level.host in floors, level.host != near, level.above - level.z),
        default=None,
    )


def things_in(
    placement: Placement, camera: Camera, view: View, area: QRectF, shown: Collection[str]
) -> list[str]:
    """Return the parts that lie wholly within a rectangle of a drawing."""
    parts = {part.id for part in placement.design.parts}
    return [
        thing_id
        for thing_id in shown
        if thing_id in parts and area.contains(camera.box(view, placement.box(thing_id)))
    ]


def handle_at(rect: QRectF, at: QPointF) -> str | None:
    """Return which handle of a selected thing's outline lies under a point."""
    half = HANDLE_HIT / 2
    # A small thing keeps its middle to be dragged by.
    x, y = min(half, rect.width() / 4), min(half, rect.height() / 4)
    if rect.adjusted(x, y, -x, -y).contains(at):
        return None
    for name, middle in zip(HANDLES, handle_points(rect), strict=True):
        if abs(at.x() - middle.x()) <= half and abs(at.y() - middle.y()) <= half:
            return name
    return None


def next_thing(
    placement: Placement, shown: Mapping[View, Collection[str]], here: str, step: int
) -> str | None:
    """Return the next part in reading order: left to right, lower levels first."""
    ids = {key for keys in shown.values() for key in keys}
    parts = [p.id for p in placement.design.parts if p.id in ids and not isinstance(p, FeedLine)]
    if not parts:
        return None
    parts.sort(key=lambda key: (placement.box(key).lo[2], placement.box(key).lo[0], key))
    if here not in parts:
        return parts[0 if step > 0 else -1]
    place = parts.index(here) + step
    return parts[place] if 0 <= place < len(parts) else None
