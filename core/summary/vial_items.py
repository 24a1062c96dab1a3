"""Vials and state marks as drawing items for paper.

Where lines and bubbles lie is worked out in `core.drawing.vial`, as for the window.
"""

from __future__ import annotations

from core.drawing.ink import PAPER, state_role
from core.drawing.marks import Point
from core.drawing.paper import PX, Curve, Item, Shape, rectangle
from core.drawing.vial import (
    OUTLINE,
    POINT,
    PROUD,
    TOWARDS_LOW,
    VialShape,
    mark_kind,
    vial_shape,
)
from core.states import LIKELY_OUT, OUT, State
from core.summary.blocks import VialCell

SIZE = (110.0, 12.0)
SMALL = (84.0, 12.0)
"""Width and height of a vial on paper. [px]"""
MARK = 14.0
"""Width and height of a mark's field. [px]"""


def vial_items(cell: VialCell, size: tuple[float, float] = SIZE) -> tuple[Item, ...]:
    """Return a vial whose glass has its top left corner at (0, 0). [mm]"""
    width, height = size
    shape = vial_shape(
        width, height, cell.value, cell.low, cell.high, cell.want_low, cell.want_high
    )
    edge = PAPER["edge"]
    glass = rectangle(0, 0, width * PX, height * PX, edge, PX, radius=height / 2 * PX)
    if cell.state is State.UNKNOWN:
        return (Shape(glass.points, edge, PX, (1.5 * PX, 2 * PX), None, True, glass.radius),)
    bubble = _bubble(shape, cell.state, height / 2) if shape.bubble else ()
    return (*_wanted(shape, height), glass, *bubble, *_lines(shape, height))


def _wanted(shape: VialShape, height: float) -> tuple[Item, ...]:
    if not shape.lines:
        return ()
    left, right = shape.wanted
    return (
        rectangle(
            left * PX, PX / 2, (right - left) * PX, (height - 1) * PX, None, fill=PAPER["fine_bg"]
        ),
    )


def _lines(shape: VialShape, height: float) -> tuple[Item, ...]:
    ends = (-PROUD * PX, (height + PROUD) * PX)
    return tuple(
        Shape(((x * PX, ends[0]), (x * PX, ends[1])), PAPER["ink"], 1.5 * PX) for x in shape.lines
    )


def _bubble(shape: VialShape, state: State, middle: float) -> tuple[Item, ...]:
    assert shape.bubble is not None
    role, line = state_role(state), OUTLINE.get(state, 0.0)
    start, end = shape.bubble[0] + line / 2, shape.bubble[1] - line / 2
    half = (shape.bubble_height - line) / 2
    box = (start, middle - half, end, middle + half)
    solid = state is State.FINE or state in OUT
    colour = None if solid else PAPER[role]
    fill = PAPER[role if solid else f"{role}_bg"] if state_has_ground(role) else PAPER["raised"]
    if state in OUT or state in LIKELY_OUT:
        points = _pointed(box, left=state in TOWARDS_LOW)
        return (Shape(points, colour, line * PX, (), fill, True),)
    corner = (box[0] * PX, box[1] * PX)
    size = ((end - start) * PX, 2 * half * PX)
    return (rectangle(*corner, *size, colour, line * PX, fill=fill, radius=half * PX),)


def state_has_ground(role: str) -> bool:
    """Tell whether a state's colour has a pale ground of its own."""
    return f"{role}_bg" in PAPER


def _pointed(box: tuple[float, float, float, float], *, left: bool) -> tuple[Point, ...]:
    """Return a box [px] with a point at one end, pointing the way a reading errs. [mm]"""
    x0, y0, x1, y1 = box
    point = min((y1 - y0) * POINT, x1 - x0)
    tip, back = (x0, x1) if left else (x1, x0)
    shoulder = x0 + point if left else x1 - point
    middle = (y0 + y1) / 2
    outline = ((back, y0), (shoulder, y0), (tip, middle), (shoulder, y1), (back, y1))
    return tuple((x * PX, y * PX) for x, y in outline)


def mark_items(state: State) -> tuple[Item, ...]:
    """Return a state's list mark in a field of `MARK` px whose top left corner is (0, 0). [mm]"""
    kind, role = mark_kind(state), state_role(state)
    solid = kind.startswith("solid")
    colour, line = PAPER[role], 1.7 * PX
    fill = colour if solid else PAPER[f"{role}_bg"] if state_has_ground(role) else None
    middle = MARK / 2
    if "point" in kind:
        box = (middle - 5, middle - 4, middle + 5.5, middle + 4)
        shape = _pointed(box, left=kind.endswith("left"))
        return (Shape(shape, None if solid else colour, line, (), fill, True),)
    centre = (middle * PX, middle * PX)
    if "square" in kind:
        side = 9 * PX
        corner = (centre[0] - side / 2, centre[1] - side / 2)
        bar = ((centre[0] - 2 * PX, centre[1]), (centre[0] + 2 * PX, centre[1]))
        return (
            rectangle(*corner, side, side, colour, line, fill=fill, radius=2 * PX),
            Shape(bar, colour, line),
        )
    radius = (3.0 if kind == "small ring" else 4.5) * PX
    dash = (line, 1.2 * line) if kind == "dotted round" else ()
    ring = Curve(centre, radius, 0, 360, None if solid else colour, line, dash, fill)
    if not kind.endswith("with line"):
        return (ring,)
    upright = ((centre[0], centre[1] - 6.5 * PX), (centre[0], centre[1] + 6.5 * PX))
    return (ring, Shape(upright, colour, line))
