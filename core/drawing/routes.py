"""The way a lead or a feed line takes through the room, and how it is drawn.

Lengths and limits of leads are the model's and `core.power`'s; routes here are only drawn.
"""

from __future__ import annotations

from itertools import pairwise

from core.drawing.marks import Mark, Path, Pen, View
from core.drawing.shapes import seen_point
from core.geometry import Box
from core.model import Enclosure, FeedLine, Outlet, ShelfUnit
from core.placement import Placement

Spot = tuple[float, float, float]

CABLE = Pen("edge", 1.1)
TUBE = Pen("water", 1.6)
_SKIRTING = 0.06
"""How far above the floor a lead to a wall outlet runs. [m]"""
_CLEAR = 0.03
"""How far beside a post leads run up and down. [m]"""
_NEAR = 0.5
"""Up to this distance a lead runs straight to its outlet. [m]"""
_LOOP = 0.08
"""How deep a drip loop hangs. [m]"""


def plug_route(placement: Placement, part_id: str) -> tuple[Spot, ...]:
    """Return the corners of the lead from a part to what it is plugged into; none for no plug.

    Along the post or frame nearest to the part, then along the floor to an outlet, or straight to
    a strip, timer or lamp; square to the room's axes. [m]
    """
    part = placement.design.part(part_id)
    plug = getattr(part, "plug", None)
    if plug is None:
        return ()
    start = _socket(placement, part_id)
    end = _socket(placement, plug.into)
    riser = _riser(placement, part_id, end)
    to_wall = isinstance(placement.design.by_id[plug.into], Outlet)
    far = abs(end[0] - start[0]) + abs(end[1] - start[1]) > _NEAR
    run = min(_SKIRTING, end[2], start[2]) if to_wall and far else end[2]
    if plug.drip_loop:
        # The lead comes up into its socket from below.
        run = min(run, max(end[2] - _LOOP, 0.0))
    return _without_repeats([start, *_square(start, riser, run, end), end])


def _socket(placement: Placement, part_id: str) -> Spot:
    """Return where leads leave a part: the middle of its underside, an outlet's own middle."""
    box = placement.box(part_id)
    if isinstance(placement.design.by_id[part_id], Outlet):
        return box.centre
    return (box.centre[0], box.centre[1], box.lo[2])


def _riser(placement: Placement, part_id: str, end: Spot) -> tuple[float, float] | None:
    """Return where a lead runs up and down: at the post of its unit or frame nearest the end."""
    for host_id in placement.hosts(part_id):
        host = placement.design.by_id[host_id]
        if isinstance(host, ShelfUnit | Enclosure):
            inside = isinstance(host, Enclosure)
            return _post(placement.box(host_id), end, -_CLEAR if inside else _CLEAR)
    return None


def _post(box: Box, end: Spot, out: float) -> tuple[float, float]:
    """Return the back post nearest the end: beside a shelf unit's, within the enclosure's. [m]"""
    right = end[0] > box.centre[0]
    x = box.hi[0] + out if right else box.lo[0] - out
    return x, box.hi[1] + min(out, 0.0)


def _square(start: Spot, riser: tuple[float, float] | None, run: float, end: Spot) -> list[Spot]:
    """Return the corners between start and end of a way square to the axes."""
    if riser is None:
        return [(start[0], start[1], run), (end[0], start[1], run), (end[0], end[1], run)]
    x, y = riser
    return [
        (start[0], y, start[2]),
        (x, y, start[2]),
        (x, y, run),
        (end[0], y, run),
        (end[0], end[1], run),
    ]


def feed_route(placement: Placement, line: FeedLine) -> tuple[Spot, ...]:
    """Return the corners of a feed line: from the source, over or under, to the inlet. [m]"""
    source, target = placement.box(line.source), placement.box(line.target)
    low = line.drive == "gravity"
    out = source.lo[2] + 0.02 if low else source.hi[2]
    inlet = min(target.lo[2] + line.inlet, target.hi[2])
    high = out if low else max(source.hi[2], target.hi[2]) + _CLEAR
    a, b = source.centre, target.centre
    way = [
        (a[0], a[1], out),
        (a[0], a[1], high),
        (b[0], a[1], high),
        (b[0], b[1], high),
        (b[0], b[1], inlet),
    ]
    return _without_repeats(way)


def _without_repeats(way: list[Spot]) -> tuple[Spot, ...]:
    kept = way[:1]
    for spot in way[1:]:
        if max(abs(a - b) for a, b in zip(spot, kept[-1], strict=True)) > 1e-6:
            kept.append(spot)
    return tuple(kept)


def plug_marks(
    placement: Placement, part_id: str, view: View, pen: Pen = CABLE
) -> tuple[Mark, ...]:
    """Return the lead of a part's plug as one line with rounded corners; none without a plug."""
    return _drawn(plug_route(placement, part_id), view, pen)


def feed_marks(placement: Placement, line: FeedLine, view: View) -> list[Mark]:
    """Return a feed line as a tube."""
    return list(_drawn(feed_route(placement, line), view, TUBE))


def _drawn(route: tuple[Spot, ...], view: View, pen: Pen) -> tuple[Mark, ...]:
    points = [seen_point(spot, view) for spot in route]
    flat = points[:1] + [b for a, b in pairwise(points) if a != b]
    return (Path(tuple(flat), pen, radius=4),) if len(flat) > 1 else ()
