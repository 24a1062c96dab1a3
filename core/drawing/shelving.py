"""How shelf units, bays, platforms and trays are drawn.

Plants are in `core.drawing.plants`, the light map on a shelf belongs to whoever shows it.
"""

from __future__ import annotations

from core.drawing.marks import Dot, Mark, Path, Pen, View
from core.drawing.shapes import (
    EDGE,
    HAIR,
    INK,
    SWING,
    TICKS,
    box_mark,
    cross_lines,
    inset,
    line,
    ring,
    seen,
)
from core.geometry import Rectangle
from core.model import Bay, Platform, Shelf, ShelfUnit, Tray
from core.placement import PLATE, Placement

UNIT = Pen("ink", 1.2)
POST = Pen("ink", 3.0)
WIRE_EDGE = Pen("ink", 0.9, (1.5, 2.5))
WATER_LINE = Pen("water", 1.0)
_WIRE_PITCH = 0.07
_TOP_DRAWN = 0.02
_CASTOR = 0.025


def unit_marks(placement: Placement, unit: ShelfUnit, view: View) -> list[Mark]:
    """Return a rack: outline and posts in plan, posts and shelves in elevation."""
    area = seen(placement.box(unit.id), view)
    if view == "plan":
        return _unit_plan(placement, unit, area)
    marks: list[Mark] = [mark for shelf in unit.levels for mark in _shelf(shelf, area)]
    half = min(unit.post / 2, area.width / 2)
    foot = area.y0 + (_CASTOR if unit.castors else 0.0)
    marks += [line(x, foot, x, area.y1, POST) for x in (area.x0 + half, area.x1 - half)]
    if unit.castors:
        wheels = (area.x0 + _CASTOR / 2, area.x1 - _CASTOR / 2)
        marks += [ring((x, area.y0 + _CASTOR / 2), _CASTOR / 2, INK, "raised") for x in wheels]
    return marks + _unit_linings(placement, unit, area, view)


def _unit_plan(placement: Placement, unit: ShelfUnit, area: Rectangle) -> list[Mark]:
    marks: list[Mark] = [box_mark(area, UNIT, "sheet")]
    if any(shelf.surface == "wire" for shelf in unit.levels):
        marks += cross_lines(area, _WIRE_PITCH, HAIR)
    posts = inset(area, unit.post / 2)
    marks += [Dot((x, y), 4.0) for x in (posts.x0, posts.x1) for y in (posts.y0, posts.y1)]
    return marks + _unit_linings(placement, unit, area, "plan")


def _shelf(shelf: Shelf, area: Rectangle) -> list[Mark]:
    top = area.y0 + shelf.z
    under = top - shelf.thickness
    marks: list[Mark] = [box_mark(Rectangle(area.x0, under, area.x1, top), Pen("ink", 0.6), "ink")]
    if shelf.surface == "wire":
        low = max(under - 0.012, area.y0)
        marks.append(line(area.x0, low, area.x1, low, WIRE_EDGE))
    return marks


def _unit_linings(placement: Placement, unit: ShelfUnit, area: Rectangle, view: View) -> list[Mark]:
    """Return the ticks of reflective sheets on the sides that this view sees edge-on."""
    turn = placement.frame(unit.id).turn
    marks: list[Mark] = []
    for lining in unit.linings:
        # Sides go round with the unit's quarter turns: right, back, left, front.
        side = ({"right": 0, "back": 1, "left": 2}[lining.side] + turn) % 4
        marks += side_line(inset(area, 0.012), side, view, TICKS)
    return marks


def side_line(area: Rectangle, side: int, view: View, pen: Pen) -> list[Mark]:
    """Return a line along one vertical side (0 right, 1 back, 2 left, 3 front), edge-on."""
    x0, y0, x1, y1 = area
    edges = {
        ("plan", 0): (x1, y0, x1, y1),
        ("plan", 1): (x0, y1, x1, y1),
        ("plan", 2): (x0, y0, x0, y1),
        ("plan", 3): (x0, y0, x1, y0),
        ("front", 0): (x1, y0, x1, y1),
        ("front", 2): (x0, y0, x0, y1),
        ("side", 1): (x1, y0, x1, y1),
        ("side", 3): (x0, y0, x0, y1),
    }
    ends = edges.get((view, side))
    return [line(*ends, pen)] if ends else []


def bay_marks(placement: Placement, bay: Bay, view: View) -> list[Mark]:
    """Return a bay: a thin dashed box."""
    return [box_mark(seen(placement.box(bay.id), view), SWING)]


def platform_marks(placement: Placement, platform: Platform, view: View) -> list[Mark]:
    """Return a platform: its top, and two legs where it stands on something."""
    area = seen(placement.box(platform.id), view)
    if view == "plan":
        wires = cross_lines(area, _WIRE_PITCH, HAIR) if platform.surface == "wire" else []
        return [box_mark(area, INK, "raised"), *wires]
    plate = min(PLATE, area.height)
    top = Rectangle(area.x0, area.y1 - plate, area.x1, area.y1)
    inward = min(0.02, area.width / 4)
    legs: list[Mark] = [
        line(x, area.y0, x, top.y0, EDGE) for x in (area.x0 + inward, area.x1 - inward)
    ]
    return [*(legs if area.height > 2 * plate else []), box_mark(top, INK, "raised")]


def tray_marks(placement: Placement, tray: Tray, view: View) -> list[Mark]:
    """Return a tray: a rounded box in plan, an open trough filled to its depth in elevation."""
    area = seen(placement.box(tray.id), view)
    if view == "plan":
        return [box_mark(area, INK, "water_bg" if tray.fill else "raised", 3)]
    slant = min(0.008, area.width / 8)
    trough = (
        (area.x0, area.y1),
        (area.x0 + slant, area.y0),
        (area.x1 - slant, area.y0),
        (area.x1, area.y1),
    )
    water = _water(area, slant, tray.fill) if tray.fill > 0 else []
    mat = _mat(area, tray) if tray.wick_mat else []
    return [*water, *mat, Path(trough, INK)]


def _water(area: Rectangle, slant: float, fill: float) -> list[Mark]:
    level = min(area.y0 + fill, area.y1)
    out = slant * (1 - (level - area.y0) / area.height)
    surface = ((area.x0 + out, level), (area.x1 - out, level))
    body = (*surface, (area.x1 - slant, area.y0), (area.x0 + slant, area.y0))
    return [Path(body, None, "water_bg", True), Path(surface, WATER_LINE)]


def _mat(area: Rectangle, tray: Tray) -> list[Mark]:
    assert tray.wick_mat is not None
    top = min(area.y0 + max(tray.fill, tray.wick_mat.thickness), area.y1)
    x0, x1 = area.x0 + 0.02 * area.width, area.x1 - 0.02 * area.width
    return [line(x0, top, x1, top, Pen("cover", 2.0, (2, 1)))]
