"""How fans, openings and the devices of climate and water are drawn.

Their throw over the leaves, their duty and their water are drawn by who shows these subjects.
"""

from __future__ import annotations

from math import atan2, degrees, hypot

from core.drawing.marks import AXES, Mark, Path, Pen, Point, View, Words
from core.drawing.shapes import (
    EDGE,
    INK,
    INK_FINE,
    THROW,
    about,
    box_mark,
    double_line,
    line,
    louvres,
    part_of,
    ring,
    rotor,
    seen,
    seen_from_end,
)
from core.geometry import Box, Rectangle, pointing
from core.model import Cooler, DuctFan, Fan, Fogger, Heater, Opening, Reservoir, RoomWindow
from core.placement import Placement
from core.units import show

FAN = Pen("ink", 1.2)
VESSEL = Pen("ink", 1.1)
LEVEL = Pen("water", 1.6)
_FACE_ON = 0.5
"""A fan whose aim lies in the view with less than this share is seen face-on. [1]"""
_THROW = 0.62
_THINNEST, _THICKEST = 0.03, 0.07
_DROPS = ((0.15, 0.25), (0.4, 0.62), (0.55, 0.2), (0.35, 1.0), (0.75, 0.75), (0.9, 0.4))
_DROP = 0.007
_FOG = 0.16
_HOSE = 0.10


def fan_marks(placement: Placement, fan: Fan, view: View) -> list[Mark]:
    """Return a bar with its throw seen from its edge, a ring with blades seen face-on."""
    across, up = AXES[view]
    aim = pointing(fan.heading, fan.elevation)
    within = hypot(aim[across], aim[up])
    centre = placement.box(fan.id).centre
    at = (centre[across], centre[up])
    if within < _FACE_ON:
        return rotor(at, fan.diameter / 2, FAN)
    turn = degrees(atan2(aim[up], aim[across]))
    return _bar(at, turn, fan.diameter) + throw_marks(at, turn, fan.diameter, within)


def _bar(at: Point, turn: float, diameter: float) -> list[Mark]:
    half, thick = diameter / 2, min(max(0.35 * diameter, _THINNEST), _THICKEST) / 2
    body = about(((-thick, -half), (thick, -half), (thick, half), (-thick, half)), at, turn)
    middle = about(((0.0, -half), (0.0, half)), at, turn)
    return [Path(body, FAN, "raised", True, 2), Path(middle, INK_FINE)]


def throw_marks(at: Point, turn: float, diameter: float, share: float = 1.0) -> list[Mark]:
    """Return the two dashed lines that open from a fan along its aim. [m, degrees]"""
    near, far, reach = 0.45 * diameter, 0.95 * diameter, _THROW * share
    return [Path(about(((0.05, k * near), (reach, k * far)), at, turn), THROW) for k in (-1, 1)]


def duct_fan_marks(placement: Placement, fan: DuctFan, view: View) -> list[Mark]:
    """Return a fan in a duct or face: a ring with blades along its axis, else a flanged box."""
    box = placement.box(fan.id)
    area = seen(box, view)
    axis = _bore_axis(fan, box)
    if axis not in AXES[view]:
        return rotor(area.centre, min(area.width, area.height) / 2, FAN)
    wide = AXES[view][0] == axis
    flanges = (
        [part_of(area, *share) for share in ((0, 0, 0.12, 1), (0.88, 0, 1, 1))]
        if wide
        else [part_of(area, *share) for share in ((0, 0, 1, 0.12), (0, 0.88, 1, 1))]
    )
    middle = part_of(area, 0, 0.12, 1, 0.88) if wide else part_of(area, 0.12, 0, 0.88, 1)
    body = box_mark(middle, FAN, "raised")
    return [body, *(box_mark(flange, INK, "raised") for flange in flanges)]


def _bore_axis(fan: DuctFan, box: Box) -> int:
    """Return the axis a duct fan moves air along: square to its face, else its longest side."""
    if fan.place.fixing == "face":
        faces = {"left": 0, "right": 0, "front": 1, "back": 1, "bottom": 2, "top": 2}
        return faces.get(fan.place.face or "front", 1)
    return max((0, 1, 2), key=lambda axis: box.size[axis])


def opening_marks(placement: Placement, opening: Opening, view: View) -> list[Mark]:
    """Return an opening: a gap with jambs and a flap ajar, or its outline seen face-on."""
    area = seen(placement.box(opening.id), view)
    if min(area.width, area.height) > 1e-6:
        return [
            box_mark(area, INK, "raised"),
            line(area.x0, area.y0, area.x1, area.y1, Pen("ink", 0.8, (4, 3))),
        ]
    x0, y0, x1, y1 = area
    gap = line(x0, y0, x1, y1, Pen("sheet", 4.0))
    upright = area.height > area.width
    tick = 0.015
    ends = ((x0, y0), (x1, y1))
    jambs = [
        line(x - tick, y, x + tick, y) if upright else line(x, y - tick, x, y + tick)
        for x, y in ends
    ]
    return [gap, *jambs, line(x0, y0, x1, y1, Pen("ink", 0.8, (2, 2)))]


def reservoir_marks(placement: Placement, tank: Reservoir, view: View) -> list[Mark]:
    """Return a reservoir: filled in plan; in elevation its level line and how much it holds."""
    area = seen(placement.box(tank.id), view)
    if view == "plan":
        return [box_mark(area, INK, "water_bg", 3)]
    level = min(area.y0 + tank.fill, area.y1)
    marks: list[Mark] = [box_mark(area, None, "raised", 3)]
    if tank.fill > 0:
        water = Rectangle(area.x0, area.y0, area.x1, level)
        marks += [box_mark(water, None, "water_bg", 2), line(area.x0, level, area.x1, level, LEVEL)]
    marks.append(box_mark(area, VESSEL, None, 3))
    volume = tank.width * tank.depth * tank.fill
    words = show(volume, "volume", placement.design.units)
    return [*marks, Words((area.centre[0], (area.y0 + level) / 2), words)]


def fogger_marks(placement: Placement, fogger: Fogger, view: View) -> list[Mark]:
    """Return a small box; in elevation with drops above it."""
    area = seen(placement.box(fogger.id), view)
    body = box_mark(area, INK, "raised", 2)
    if view == "plan":
        return [body, ring(area.centre, 0.22 * min(area.width, area.height), INK_FINE)]
    drops = [
        ring((area.x0 + a * area.width, area.y1 + b * _FOG + _DROP), _DROP, None, "water")
        for a, b in _DROPS
    ]
    return [body, *drops]


def cooler_marks(placement: Placement, cooler: Cooler, view: View) -> list[Mark]:
    """Return a box with two louvre lines, and a portable one's hose to its opening."""
    area = seen(placement.box(cooler.id), view)
    body: list[Mark] = [box_mark(area, VESSEL, "raised", 2), *louvres(area)]
    return [*_hose(placement, cooler, view), *body] if cooler.style == "portable" else body


def _hose(placement: Placement, cooler: Cooler, view: View) -> list[Mark]:
    """Return the double line from a portable cooler to the nearest way outdoors."""
    box = placement.box(cooler.id)
    start = (box.centre[0], box.centre[1], box.lo[2] + 0.8 * box.size[2])
    ways = [placement.box(part_id).centre for part_id in _ways_out(placement)]
    if not ways:
        return []
    end = min(ways, key=lambda way: hypot(way[0] - start[0], way[1] - start[1]))
    across, up = AXES[view]
    return double_line((start[across], start[up]), (end[across], end[up]), _HOSE, EDGE)


def _ways_out(placement: Placement) -> list[str]:
    design = placement.design
    openings = [item.id for item in design.of(Opening) if "outdoors" in item.joins]
    windows = [item.id for item in design.room.fixtures if isinstance(item, RoomWindow)]
    return openings or windows


def heater_marks(placement: Placement, heater: Heater, view: View) -> list[Mark]:
    """Return a heater: three ribs in elevation, louvres in plan, a winding for a mat."""
    box = placement.box(heater.id)
    area = seen(box, view)
    if heater.style == "tube":
        radius = 6.0 if view == "plan" or not seen_from_end(box, view) else 4.0
        return [box_mark(area, VESSEL, "raised", radius)]
    body = box_mark(area, VESSEL, "raised", 2)
    if view == "plan":
        return [body, *(_winding(area) if heater.style == "mat" else louvres(area))]
    y0, y1 = area.y0 + 0.2 * area.height, area.y1 - 0.2 * area.height
    xs = [area.x0 + share * area.width for share in (0.25, 0.5, 0.75)]
    return [body, *(line(x, y0, x, y1, INK_FINE) for x in xs)]


def _winding(area: Rectangle, turns: int = 5) -> list[Mark]:
    """Return a heat mat's wire: one line to and fro."""
    inner = part_of(area, 0.08, 0.12, 0.92, 0.88)
    points: list[Point] = []
    for k in range(turns + 1):
        x = inner.x0 + k / turns * inner.width
        ends = [(x, inner.y0), (x, inner.y1)]
        points += ends if k % 2 == 0 else ends[::-1]
    return [Path(tuple(points), INK_FINE, radius=2)]
