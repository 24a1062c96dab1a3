"""Dimension lines, the scale bar, break lines, and how much of the room a sheet shows.

Tapes that run while a part is dragged are built from the same dimension marks by the window.
"""

from __future__ import annotations

from math import hypot

from core.drawing.marks import Mark, Path, Pen, Point, Role, View, Words
from core.drawing.room import BAND
from core.drawing.shapes import EDGE, INK, box_mark, seen
from core.geometry import Box, Rectangle
from core.language import tr
from core.model import (
    Enclosure,
    FaceDoor,
    FeedLine,
    Humidistat,
    Lead,
    ShelfUnit,
    Strip,
    Thermostat,
    Timer,
)
from core.placement import Placement
from core.units import show

TICK = 0.028
"""Half the length of a dimension's slanted end tick, by default. [m]"""
BESIDE = 0.11
"""How far from what it measures a dimension line runs. [m]"""
_TEXT = 11.0
_NEAR_WALL = 0.6
_MARGIN = 0.3
_TIGHT_WALL, _TIGHT_MARGIN = 0.2, 0.12
_ZIGZAG = 0.04
_FOOT = 0.3048
_BAR_HEIGHT = 0.035


def dimension_marks(
    a: Point,
    b: Point,
    offset: float,
    text: str,
    *,
    role: Role = "ink2",
    tick: float = TICK,
    size: float = _TEXT,
    bold: bool = False,
    below: float = 0.0,
) -> tuple[Mark, ...]:
    """Return a dimension line with slanted end ticks and its number on a halo.

    Parameters
    ----------
    a, b : Point
        What is measured; an upright distance has its number turned to read from the right. [m]
    offset : float
        How far the line runs beside a and b: above a level distance, to the right of an upright
        one, when positive. [m]
    text : str
        The number with its unit.
    role : str
        Colour of line and number.
    tick : float
        Half the length of an end tick, along each axis. [m]
    below : float
        When above 0, the number stands this far beside the line on a short stalk, for gaps too
        small to hold it. [m]
    """
    upright = abs(b[1] - a[1]) > abs(b[0] - a[0])
    dx, dy = (offset, 0.0) if upright else (0.0, offset)
    ends = ((a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy))
    middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
    pen = Pen(role, 1.0)
    ticks = [Path(((x - tick, y - tick), (x + tick, y + tick)), Pen(role, 1.3)) for x, y in ends]
    at, stalk = middle, []
    if below > 0:
        at = (middle[0] + below, middle[1]) if upright else (middle[0], middle[1] - below)
        stalk = [Path((middle, at), pen)]
    words = Words(at, text, size, role, bold, "centre", 90.0 if upright else 0.0, True)
    return (Path(ends, pen), *ticks, *stalk, words)


def enclosure_dimensions(
    placement: Placement, view: View, system: str, shown: Box | None = None
) -> tuple[Mark, ...]:
    """Return width, depth and height of the enclosure, each once in the three views.

    Depth stands beside the plan and under the side, width and height at the front. Without an
    enclosure the shelf units are measured. ``shown`` is what the sheet shows of the room; lines
    run outside it where given.
    """
    box = _measured(placement)
    if box is None:
        return ()
    area = seen(box, view)
    limits = seen(shown, view) if shown else area
    sizes = [show(size, "length", system) for size in (area.width, area.height)]
    level = dimension_marks((area.x0, area.y0), (area.x1, area.y0), -BESIDE, sizes[0])
    corner = (area.x1, area.y0), (area.x1, area.y1)
    outside = limits.x1 - area.x1 + BESIDE
    if view == "plan":
        roomy = limits.x1 - area.x1 > 2 * BESIDE
        return dimension_marks(*corner, BESIDE if roomy else outside, sizes[1])
    if view == "side":
        return level
    return (*level, *dimension_marks(*corner, outside, sizes[1]))


def _measured(placement: Placement) -> Box | None:
    enclosure = placement.design.enclosure
    if enclosure is not None:
        return placement.box(enclosure.id)
    return around([placement.box(unit.id) for unit in placement.design.of(ShelfUnit)])


def around(boxes: list[Box]) -> Box | None:
    """Return the smallest box that holds all the others, None for no boxes. [m]"""
    if not boxes:
        return None
    lo = tuple(min(box.lo[axis] for box in boxes) for axis in range(3))
    hi = tuple(max(box.hi[axis] for box in boxes) for axis in range(3))
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def whole_room(placement: Placement) -> Box:
    """Return the room with the bands behind its walls. [m]"""
    room = placement.design.room
    xs, ys = [x for x, _ in room.outline], [y for _, y in room.outline]
    return Box(
        (min(xs) - BAND, min(ys) - BAND, -BAND),
        (max(xs) + BAND, max(ys) + BAND, room.height + BAND),
    )


def shown_box(placement: Placement, *, tight: bool = False) -> Box:
    """Return how much of the room a sheet shows: all parts, and walls that are near. [m]

    ``tight`` leaves out of account the electric things that stand about in the room, so that the
    enclosure is drawn larger.
    """
    room = whole_room(placement)
    needed = around(_needed(placement, tight))
    if needed is None:
        return room
    lo, hi = list(room.lo), list(room.hi)
    near, margin = (_TIGHT_WALL, _TIGHT_MARGIN) if tight else (_NEAR_WALL, _MARGIN)
    for axis in range(3):
        if axis < 2 and needed.lo[axis] - room.lo[axis] > near:
            lo[axis] = needed.lo[axis] - margin
        if room.hi[axis] - needed.hi[axis] > near:
            hi[axis] = needed.hi[axis] + margin
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def _needed(placement: Placement, tight: bool) -> list[Box]:
    """Return the boxes of parts, of doors as they swing, and of the outlets in use."""
    design = placement.design
    drawn = [p for p in design.parts if not p.hidden and not isinstance(p, FeedLine)]
    if tight and design.enclosure is not None:
        electric = (Strip, Lead, Timer, Thermostat, Humidistat)
        drawn = [p for p in drawn if not isinstance(p, electric) or placement.inside(p.id)]
    boxes = [placement.box(part.id) for part in drawn]
    if not tight:
        plugs = (getattr(part, "plug", None) for part in design.parts)
        boxes += [placement.box(plug.into) for plug in plugs if plug is not None]
    for enclosure in design.of(Enclosure):
        whole = placement.box(enclosure.id)
        boxes += [_swept(whole, door) for door in enclosure.doors if door.style == "leaf"]
    return boxes


def _swept(box: Box, door: FaceDoor) -> Box:
    """Return an enclosure grown by the room its door leaf swings through. [m]"""
    reach = door.width / door.leaves
    lo, hi = list(box.lo), list(box.hi)
    axis = 0 if door.face in ("left", "right") else 1
    if door.face in ("left", "front"):
        lo[axis] -= reach
    else:
        hi[axis] += reach
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def break_line(a: Point, b: Point, zigzag: float = _ZIGZAG) -> Path:
    """Return a thin line with two small zigzags: the drawing goes on beyond it. [m]"""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy) or 1.0
    ux, uy = dx / length, dy / length
    points = [a]
    for share in (1 / 3, 2 / 3):
        x, y = a[0] + share * dx, a[1] + share * dy
        for along, aside in ((-1.0, 0.0), (-0.4, 0.8), (0.4, -0.8), (1.0, 0.0)):
            s, t = along * zigzag, aside * zigzag
            points.append((x + s * ux - t * uy, y + s * uy + t * ux))
    return Path((*points, b), EDGE)


def break_marks(placement: Placement, shown: Box, view: View) -> tuple[Mark, ...]:
    """Return break lines along the edges where ``shown`` cuts the room short."""
    area, room = seen(shown, view), seen(whole_room(placement), view)
    x0, y0, x1, y1 = area
    edges = (
        (x0 > room.x0 + 1e-6, (x0, y0), (x0, y1)),
        (x1 < room.x1 - 1e-6, (x1, y0), (x1, y1)),
        (y0 > room.y0 + 1e-6, (x0, y0), (x1, y0)),
        (y1 < room.y1 - 1e-6, (x0, y1), (x1, y1)),
    )
    return tuple(break_line(a, b) for cut, a, b in edges if cut)


def scale_bar_marks(system: str, at: Point = (0.0, 0.0), words: str = "") -> tuple[Mark, ...]:
    """Return a bar of 1 m in four quarters, or of 3 ft in feet, from its lower left corner.

    ``words`` follow the bar; by default its length.
    """
    steps, step = (3, _FOOT) if system == "us" else (4, 0.25)
    x, y = at
    pieces = [
        box_mark(
            Rectangle(x + k * step, y, x + (k + 1) * step, y + _BAR_HEIGHT),
            INK,
            "ink" if k % 2 == 0 else "raised",
        )
        for k in range(steps)
    ]
    text = words or (tr("3 ft") if system == "us" else tr("1 m"))
    end = (x + steps * step + 0.06, y + _BAR_HEIGHT / 2)
    return (*pieces, Words(end, text, _TEXT, "ink2", anchor="left"))
