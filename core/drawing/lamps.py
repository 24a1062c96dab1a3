"""How lamps are drawn: dashed in plan, since they hang above the cut; filled in elevation.

How much light they give is worked out in `core.light`.
"""

from __future__ import annotations

from core.drawing.marks import Mark, Path, Pen, Point, View
from core.drawing.shapes import INK, INK_FINE, about, box_mark, line, ring, seen
from core.geometry import Box, Rectangle
from core.model import Lamp
from core.placement import Placement

ABOVE = Pen("ink", 1.1, (5, 3))
_CAP = 0.02
_SPOT_FOOT = 0.55


def lamp_marks(placement: Placement, lamp: Lamp, view: View) -> list[Mark]:
    """Return a board, a row of tubes, or a spot."""
    box = placement.box(lamp.id)
    turned = placement.frame(lamp.id).turn % 2 == 1
    if view == "plan":
        return _from_above(lamp, box.footprint, turned)
    # Seen along its length, a lamp shows its section; that is where its tilt shows.
    from_end = (view == "side") != turned
    area = seen(box, view)
    body = _section(lamp, area) if from_end else _aside(lamp, area)
    return [*_hangers(placement, lamp, box, area, from_end), *body]


def _from_above(lamp: Lamp, area: Rectangle, turned: bool) -> list[Mark]:
    if lamp.form == "spot":
        return [ring(area.centre, min(area.width, area.height) / 2, ABOVE)]
    radius = 6.0 if lamp.form == "tube" else 0.0
    return [box_mark(one, ABOVE, None, radius) for one in _singles(lamp, area, turned)]


def _singles(lamp: Lamp, area: Rectangle, turned: bool) -> list[Rectangle]:
    """Return the lamps of a row, which lie side by side across the row's length. [m]"""
    steps = [k * lamp.spacing for k in range(lamp.count)]
    if turned:
        return [
            Rectangle(area.x0 + step, area.y0, area.x0 + step + lamp.depth, area.y1)
            for step in steps
        ]
    return [
        Rectangle(area.x0, area.y0 + step, area.x1, area.y0 + step + lamp.depth) for step in steps
    ]


def _aside(lamp: Lamp, area: Rectangle) -> list[Mark]:
    """Return a lamp seen from its long side."""
    if lamp.form == "spot":
        return [_spot(area)]
    if lamp.form == "board":
        return [box_mark(area, INK, "lamp", 1)]
    cap = min(_CAP, area.width / 4)
    ends = [line(x, area.y0, x, area.y1, INK_FINE) for x in (area.x0 + cap, area.x1 - cap)]
    return [box_mark(area, INK, "lamp", 4), *ends]


def _section(lamp: Lamp, area: Rectangle) -> list[Mark]:
    """Return a lamp seen from its end, tilted."""
    if lamp.form == "spot":
        return [_tilted(_spot(area), area, lamp.tilt)]
    if lamp.form == "board":
        return [_tilted(box_mark(area, INK, "lamp", 1), area, lamp.tilt)]
    radius = min(lamp.depth, area.height) / 2
    y = (area.y0 + area.y1) / 2
    middles = [area.x0 + lamp.depth / 2 + k * lamp.spacing for k in range(lamp.count)]
    return [ring((x, y), radius, INK, "lamp") for x in middles]


def _spot(area: Rectangle) -> Path:
    inner = (1 - _SPOT_FOOT) / 2 * area.width
    points = (
        (area.x0 + inner, area.y1),
        (area.x0, area.y0),
        (area.x1, area.y0),
        (area.x1 - inner, area.y1),
    )
    return Path(points, INK, "lamp", True)


def _tilted(body: Path, area: Rectangle, tilt: float) -> Path:
    if tilt == 0:
        return body
    x, y = area.centre
    points: list[Point] = [(px - x, py - y) for px, py in body.points]
    return Path(about(points, (x, y), tilt), body.pen, body.fill, True, body.radius)


def _hangers(
    placement: Placement, lamp: Lamp, box: Box, area: Rectangle, from_end: bool
) -> list[Mark]:
    """Return what a lamp hangs by: two lines up to what holds it, one for a spot or an end."""
    if lamp.place.fixing not in ("hung", "under") or lamp.place.z < 0.005:
        return []
    shares = (0.5,) if from_end or lamp.form == "spot" else (0.15, 0.85)
    xs = [area.x0 + share * area.width for share in shares]
    return [line(x, area.y1, x, area.y1 + lamp.place.z, INK_FINE) for x in xs]
