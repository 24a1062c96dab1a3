"""How strips, extension leads, timers and controllers are drawn.

The way a lead takes through the room is laid in `core.drawing.routes`; wall outlets belong to
`core.drawing.room`.
"""

from __future__ import annotations

from math import cos, pi, sin

from core.drawing.marks import Mark, Path, Pen, Point, View
from core.drawing.shapes import INK, INK_FINE, box_mark, line, part_of, ring, seen
from core.geometry import Rectangle
from core.model import Humidistat, Lead, Strip, Thermostat, Timer
from core.placement import Placement

BODY = Pen("ink", 1.1)
CABLE = Pen("edge", 1.1)


def strip_marks(placement: Placement, strip: Strip, view: View) -> list[Mark]:
    """Return a rounded box with three bars across it."""
    area = seen(placement.box(strip.id), view)
    wide = area.width >= area.height
    bars: list[Mark] = []
    for share in (0.25, 0.5, 0.75):
        bar = (
            part_of(area, share, 0.28, share, 0.72)
            if wide
            else part_of(area, 0.28, share, 0.72, share)
        )
        bars.append(line(*bar, BODY))
    return [box_mark(area, BODY, "raised", 3), *bars]


def lead_marks(placement: Placement, lead: Lead, view: View) -> list[Mark]:
    """Return an extension lead: a coil, or a cable lying in bends, and its socket."""
    area = seen(placement.box(lead.id), view)
    if view == "plan":
        return _coil(area) if lead.coiled else _bends(area)
    return [box_mark(area, CABLE, "raised", 3)]


def _coil(area: Rectangle) -> list[Mark]:
    radius = min(area.width, area.height) / 2
    return [ring(area.centre, share * radius, CABLE) for share in (1.0, 0.72)]


def _bends(area: Rectangle) -> list[Mark]:
    y = (area.y0 + area.y1) / 2
    points: tuple[Point, ...] = (
        (area.x0, y),
        (area.x0 + 0.3 * area.width, y),
        (area.x0 + 0.3 * area.width, area.y1),
        (area.x0 + 0.6 * area.width, area.y1),
        (area.x0 + 0.6 * area.width, area.y0),
        (area.x0 + 0.8 * area.width, area.y0),
    )
    return [Path(points, CABLE, radius=4), box_mark(part_of(area, 0.8, 0, 1, 0.5), BODY, "raised")]


def timer_marks(placement: Placement, timer: Timer, view: View) -> list[Mark]:
    """Return a small box with a clock face."""
    area = seen(placement.box(timer.id), view)
    radius = 0.32 * min(area.width, area.height)
    x, y = area.centre
    hands = Path(((x, y + 0.75 * radius), (x, y), (x + 0.6 * radius, y)), INK_FINE)
    return [box_mark(area, BODY, "raised", 2), ring((x, y), radius, INK_FINE), hands]


def thermostat_marks(placement: Placement, control: Thermostat, view: View) -> list[Mark]:
    """Return a small box with a thermometer."""
    area = seen(placement.box(control.id), view)
    x, unit = area.centre[0], 0.1 * min(area.width, area.height)
    bulb = (x, area.centre[1] - 2 * unit)
    stem = line(x, bulb[1], x, area.centre[1] + 3 * unit, INK)
    return [box_mark(area, BODY, "raised", 2), stem, ring(bulb, 1.2 * unit, INK_FINE, "ink")]


def humidistat_marks(placement: Placement, control: Humidistat, view: View) -> list[Mark]:
    """Return a small box with a drop."""
    area = seen(placement.box(control.id), view)
    return [
        box_mark(area, BODY, "raised", 2),
        _drop(area.centre, 0.3 * min(area[2] - area[0], area[3] - area[1])),
    ]


def _drop(at: Point, size: float) -> Path:
    x, y = at
    low = [
        (x + 0.62 * size * cos(pi * k / 6), y - 0.25 * size + 0.62 * size * sin(pi * k / 6))
        for k in range(-6, 1)
    ]
    return Path(((x, y + size), *low), INK_FINE, None, True)
