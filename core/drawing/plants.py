"""Plants as small tufts, one shape for each habit of growth.

Strokes come from fixed templates, so that the same zone always looks the same.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, pi, radians, sin

from core.drawing.marks import Mark, Path, Pen, Point, Role, View
from core.drawing.shapes import about, seen
from core.geometry import Box, Rectangle
from core.model import Plants
from core.placement import Placement

STROKE = Pen("plant", 1.1)
LEAF = Pen("plant", 1.0)
POT = Pen("edge", 0.8)
_MOST_ACROSS, _MOST_UP = 8, 4
_SMALLEST = 0.05


def plants_marks(placement: Placement, plants: Plants, view: View) -> list[Mark]:
    """Return a zone's tufts: seen from above in plan, standing on their pots in elevation."""
    group = placement.design.group(plants.species)
    habit = group.habit if group else "rosette"
    box = placement.box(plants.id)
    if view == "plan":
        return [_tuft(_FROM_ABOVE[habit], *cell) for cell in _plan_cells(plants, box)]
    return _row(plants, seen(box, view), habit)


def _pitch(plants: Plants) -> float:
    """Return the spacing of tufts that suits the plants' size. [m]"""
    own = plants.pots.diameter if plants.pots else 0.0
    return max(1.1 * own, 0.9 * plants.leaf_high, _SMALLEST)


def _plan_cells(plants: Plants, box: Box) -> list[tuple[Point, float, float]]:
    """Return the middle of every tuft in plan with its width and height. [m]"""
    area, pitch = box.footprint, _pitch(plants)
    columns = min(max(round(area.width / pitch), 1), _MOST_ACROSS)
    rows = min(max(round(area.height / pitch), 1), _MOST_UP)
    size = 0.92 * min(area.width / columns, area.height / rows)
    return [
        (
            (
                area.x0 + (column + 0.5) / columns * area.width,
                area.y0 + (row + 0.5) / rows * area.height,
            ),
            size,
            size,
        )
        for row in range(rows)
        for column in range(columns)
    ]


def _row(plants: Plants, area: Rectangle, habit: str) -> list[Mark]:
    """Return the tufts of an elevation, side by side, on pots where there are any."""
    columns = min(max(round(area.width / _pitch(plants)), 1), _MOST_ACROSS)
    step = area.width / columns
    rim = area.y0 + plants.pot_height
    marks: list[Mark] = []
    for column in range(columns):
        x = area.x0 + (column + 0.5) * step
        if plants.pots:
            marks.append(_pot(x, area.y0, rim, min(plants.pots.diameter, 0.94 * step)))
        height = max(area.y1 - rim, 0.01)
        marks.append(_tuft(_FROM_ASIDE[habit], (x, rim), min(0.98 * step, 2.2 * height), height))
    return marks


def _pot(x: float, foot: float, rim: float, width: float) -> Path:
    top, bottom = width / 2, 0.38 * width
    return Path(((x - top, rim), (x - bottom, foot), (x + bottom, foot), (x + top, rim)), POT)


Template = tuple[tuple[Point, ...], bool]
"""A tuft in a field from −0.5 to 0.5 across and 0 to 1 up (−0.5 to 0.5 in plan), and if filled."""


def _tuft(template: Template, at: Point, width: float, height: float) -> Path:
    points, filled = template
    x, y = at
    fill: Role | None = "plant_bg" if filled else None
    moved = tuple([(x + width * a, y + height * b) for a, b in points])
    return Path(moved, LEAF if filled else STROKE, fill, filled)


def _there_and_back(strokes: list[list[Point]]) -> tuple[Point, ...]:
    """Return strokes that share their first point as one unbroken line."""
    line: list[Point] = []
    for stroke in strokes:
        line += stroke + stroke[-2::-1]
    return tuple(line)


def _arch(reach: float, droop: float) -> list[Point]:
    """Return a frond that rises from the foot and bends over (a parabola by three points)."""
    control, tip = (0.45 * reach, 1.5), (reach, droop)
    shares = (0, 0.25, 0.5, 0.75, 1)
    return [
        (
            2 * (1 - t) * t * control[0] + t * t * tip[0],
            2 * (1 - t) * t * control[1] + t * t * tip[1],
        )
        for t in shares
    ]


def _leaf(length: float, width: float, turn: float, start: float = 0.0) -> list[Point]:
    """Return a pointed leaf from the foot, ``turn`` degrees anticlockwise from upright."""
    half = [(0.0, start), (0.35, 0.25), (0.5, 0.5), (0.3, 0.8)]
    outline = [
        (width * a, start + (length - start) * b if i else start) for i, (a, b) in enumerate(half)
    ]
    back = [(-a, b) for a, b in reversed(outline)]
    return list(about([*outline, (0.0, length), *back], (0.0, 0.0), turn))


def _star(count: int, make: Callable[[float], list[Point]]) -> list[Point]:
    return [point for k in range(count) for point in make(360 / count * k)]


def _ray(angle: float, inner: float, outer: float) -> list[Point]:
    c, s = cos(radians(angle)), sin(radians(angle))
    return [(inner * c, inner * s), (outer * c, outer * s)]


def _dome(steps: int = 12) -> tuple[Point, ...]:
    """Return a low cushion with a scalloped top."""
    points: list[Point] = []
    for k in range(steps + 1):
        angle = pi * (1 - k / steps)
        swell = 1.0 if k % 2 else 0.93
        points.append((0.5 * cos(angle) * swell, sin(angle) ** 0.6 * swell))
    return tuple(points)


def _fit(points: list[Point] | tuple[Point, ...], *, plan: bool) -> tuple[Point, ...]:
    """Scale a tuft so that it fills its field and never leaves it."""
    if plan:
        reach = max(hypot(x, y) for x, y in points) * 2
        return tuple((x / reach, y / reach) for x, y in points)
    across = 2 * max(abs(x) for x, _ in points)
    up = max(y for _, y in points)
    return tuple((x / across, max(y, 0.0) / up) for x, y in points)


_FRONDS = [(-1.0, 0.5), (-0.6, 0.75), (-0.18, 1.0), (0.25, 1.0), (0.65, 0.72), (1.0, 0.45)]
_TRAILS = [(-1.0, 0.05), (-0.72, 0.45), (-0.2, 0.9), (0.3, 0.85), (0.75, 0.4), (1.0, 0.0)]
_BLADES = (32, 12, -10, -30)
_ROSETTE = (60, 30, 0, -30, -60)

_FROM_ASIDE: dict[str, Template] = {
    "fronds": (_fit(_there_and_back([_arch(*f) for f in _FRONDS]), plan=False), False),
    "trailing": (_fit(_there_and_back([_arch(*f) for f in _TRAILS]), plan=False), False),
    "blades": (_fit([p for a in _BLADES for p in _leaf(1.0, 0.17, a)], plan=False), True),
    "rosette": (_fit([p for a in _ROSETTE for p in _leaf(0.8, 0.26, a)], plan=False), True),
    "cushion": (_fit(_dome(), plan=False), True),
}
_FROM_ABOVE: dict[str, Template] = {
    "fronds": (
        _fit(
            _there_and_back([[(0.0, 0.0), *_ray(60 * k + 8, 0.5, 1.0)] for k in range(6)]),
            plan=True,
        ),
        False,
    ),
    "trailing": (
        _fit(
            _there_and_back(
                [
                    [(0.0, 0.0), *_ray(72 * k, 0.5, 0.6), *_ray(72 * k + 25, 0.9, 1.0)]
                    for k in range(5)
                ]
            ),
            plan=True,
        ),
        False,
    ),
    "blades": (_fit(_star(5, lambda a: _leaf(1.0, 0.2, a)), plan=True), True),
    "rosette": (_fit(_star(6, lambda a: _leaf(0.9, 0.42, a)), plan=True), True),
    "cushion": (
        _fit([_ray(30 * k, 1.0 - 0.1 * (k % 2), 1.0)[0] for k in range(12)], plan=True),
        True,
    ),
}
