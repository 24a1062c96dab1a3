"""How the enclosure is drawn: frame, posts, covers, linings, doors and floor liner.

What stands in it is drawn by the modules of its own kind.
"""

from __future__ import annotations

from core.drawing.marks import Dot, Mark, Path, Pen, Point, View
from core.drawing.shapes import (
    COVER,
    EDGE,
    SWING,
    TICKS,
    box_mark,
    inset,
    line,
    open_leaf,
    seen,
)
from core.drawing.shelving import side_line
from core.geometry import Rectangle
from core.model import Enclosure, FaceDoor, Liner
from core.placement import Placement

FRAME = Pen("ink", 1.5)
_SIDES = {"right": 0, "back": 1, "left": 2, "front": 3}
_NORMALS: dict[str, Point] = {
    "front": (0.0, -1.0),
    "back": (0.0, 1.0),
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
}
_FLAP_GAP = 0.012


def enclosure_marks(placement: Placement, enclosure: Enclosure, view: View) -> list[Mark]:
    """Return the framed box: cut across in plan, looked into in elevation."""
    area = seen(placement.box(enclosure.id), view)
    marks: list[Mark] = [box_mark(area, FRAME, "raised" if view == "plan" else None)]
    marks += _covers(enclosure, area, view)
    if view == "plan":
        marks += _posts(enclosure, area)
    elif enclosure.liner:
        marks.append(_liner(enclosure.liner, area, view))
    for door in enclosure.doors:
        marks += _door_plan(door, area) if view == "plan" else _door_elevation(door, area, view)
    return marks


def _posts(enclosure: Enclosure, area: Rectangle) -> list[Mark]:
    middle = inset(area, enclosure.frame.member / 2)
    return [Dot((x, y), 5.0) for x in (middle.x0, middle.x1) for y in (middle.y0, middle.y1)]


def _covers(enclosure: Enclosure, area: Rectangle, view: View) -> list[Mark]:
    """Return the covers seen edge-on, inside the frame, and the ticks of linings inside them."""
    sheet = inset(area, enclosure.frame.member)
    ticked = inset(area, 1.6 * enclosure.frame.member)
    marks: list[Mark] = []
    for cover in enclosure.covers:
        marks += _face_line(sheet, cover.face, view, COVER)
    for lining in enclosure.linings:
        marks += _face_line(ticked, lining.face, view, TICKS)
    return marks


def _face_line(area: Rectangle, face: str, view: View, pen: Pen) -> list[Mark]:
    if face in _SIDES:
        return side_line(area, _SIDES[face], view, pen)
    if view == "plan":
        return []
    y = area.y1 if face == "top" else area.y0
    return [line(area.x0, y, area.x1, y, pen)]


def _liner(liner: Liner, area: Rectangle, view: View) -> Path:
    """Return the floor liner with its upturned lips."""
    near, far = (
        (liner.lip_left, liner.lip_right) if view == "front" else (liner.lip_front, liner.lip_back)
    )
    own = liner.width if view == "front" else liner.depth
    spare = (area.width - min(own or area.width, area.width)) / 2
    x0, x1, z = area.x0 + spare + 0.012, area.x1 - spare - 0.012, area.y0 + 0.006
    top = area.y1
    points = ((x0, min(z + near, top)), (x0, z), (x1, z), (x1, min(z + far, top)))
    return Path(points, FRAME)


def _along(door: FaceDoor, area: Rectangle, share: float) -> Point:
    """Return the point of a door's threshold at a share of its width, in plan. [m]"""
    reach = door.x + share * door.width
    if door.face in ("front", "back"):
        return min(area.x0 + reach, area.x1), area.y0 if door.face == "front" else area.y1
    return area.x0 if door.face == "left" else area.x1, min(area.y0 + reach, area.y1)


def _door_plan(door: FaceDoor, area: Rectangle) -> list[Mark]:
    a, b = _along(door, area, 0.0), _along(door, area, 1.0)
    if door.style != "leaf":
        return _flap(door, a, b)
    if door.leaves == 2:
        middle = _along(door, area, 0.5)
        return _leaf(door, a, middle) + _leaf(door, b, middle)
    return _leaf(door, a, b) if door.hinge == "left" else _leaf(door, b, a)


def _flap(door: FaceDoor, a: Point, b: Point) -> list[Mark]:
    """Return a zip or curtain: two lines along the face, outside it."""
    nx, ny = _NORMALS[door.face]
    pen = EDGE if door.style == "zip" else Pen("edge", 0.9, (5, 2))
    offsets = (_FLAP_GAP, 2 * _FLAP_GAP)
    return [line(a[0] + d * nx, a[1] + d * ny, b[0] + d * nx, b[1] + d * ny, pen) for d in offsets]


def _leaf(door: FaceDoor, hinge: Point, closing: Point) -> list[Mark]:
    """Return an open leaf, square to its face, and the arc of its swing."""
    nx, ny = _NORMALS[door.face]
    width = abs(closing[0] - hinge[0]) + abs(closing[1] - hinge[1])
    return open_leaf(hinge, closing, (hinge[0] + nx * width, hinge[1] + ny * width))


def _door_elevation(door: FaceDoor, area: Rectangle, view: View) -> list[Mark]:
    """Return a door seen face-on as an outline, an open leaf seen from beside it."""
    low, high = area.y0 + door.z, min(area.y0 + door.z + door.height, area.y1)
    if (view == "front") == (door.face in ("front", "back")):
        x0, x1 = area.x0 + door.x, min(area.x0 + door.x + door.width, area.x1)
        pen = SWING if door.style == "leaf" else EDGE
        middle = [line((x0 + x1) / 2, low, (x0 + x1) / 2, high, pen)] if door.leaves == 2 else []
        return [box_mark(Rectangle(x0, low, x1, high), pen), *middle]
    if door.style != "leaf":
        return []
    width = door.width / door.leaves
    outwards = door.face in ("back", "right")
    x = area.x1 if outwards else area.x0
    span = (x, x + width) if outwards else (x - width, x)
    return [box_mark(Rectangle(span[0], low, span[1], high), SWING)]
