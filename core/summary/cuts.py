"""What is sawn and cut: cutting diagrams of bars and rolls, faces and liner to scale.

The diagrams are drawn by `core.drawing.cutting` and `core.drawing.sheet_plans`; the tables beside
them are in `core.summary.shopping`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from textwrap import wrap
from typing import TYPE_CHECKING

from core.drawing.cutting import cutting_diagram, roll_diagram
from core.drawing.paper import LETTER, PX, Drawing, Item, Text, moved
from core.drawing.sheet_plans import sheet_drawings
from core.summary.blocks import Picture
from core.summary.sheet import Paper
from core.summary.typesetting import bound

if TYPE_CHECKING:
    from core.readings import Readings

GAP = 8.0
"""Between drawings side by side. [mm]"""
_HIGH = 125.0
"""How high the drawing of a face may be. [mm]"""
_SMALLEST = 50
"""What would be drawn smaller than 1:50 gets the page's whole width."""
_TYPE, _LINE = 11 * PX, 4.0
"""Size of type, and distance of lines. [mm]"""


def bar_pictures(readings: Readings, paper: Paper) -> tuple[Picture, ...]:
    """Return the cutting diagram of the frame; none without a frame."""
    made = readings.materials.made
    if made is None or not made.frame.cuts.patterns:
        return ()
    letters = {piece.length: piece.letter for piece in readings.materials.pieces}
    width, system = paper.room[0], readings.design.units
    return (_headed(cutting_diagram(made.frame.cuts, width, system, letters)),)


def sheet_pictures(readings: Readings, paper: Paper) -> tuple[Picture, ...]:
    """Return what is cut off each roll, then every face and the liner."""
    made = readings.materials.made
    if made is None:
        return ()
    width, system = paper.room[0], readings.design.units
    rolls = tuple(_headed(roll_diagram(plan, width, system)) for plan in made.rolls)
    half, whole = (sheet_drawings(made, room, _HIGH, system) for room in ((width - GAP) / 2, width))
    faces = (
        large if small.scale and small.scale > _SMALLEST else small
        for small, large in zip(half, whole, strict=True)
    )
    return (*rolls, *in_pairs(faces, width))


def _headed(drawing: Drawing) -> Picture:
    """Return a diagram under its title."""
    head = Text((0.0, _TYPE), drawing.title, _TYPE, bold=True)
    items = (head, *(moved(item, 0.0, _LINE + 2.0) for item in drawing.items))
    return Picture(items, drawing.width, drawing.height + _LINE + 2.0, drawing.title)


def in_pairs(drawings: Iterable[Drawing], width: float) -> Iterator[Picture]:
    """Yield drawings as pictures as wide as the page, two by two where they are narrow. [mm]"""
    each = (width - GAP) / 2
    waiting = [wrapped(one, each if one.width <= each else width) for one in drawings]
    while waiting:
        count = 2 if all(one.width <= each for one in waiting[:2]) else 1
        pair, waiting = waiting[:count], waiting[count:]
        items: list[Item] = [*pair[0].items]
        for other in pair[1:]:
            items += [moved(item, each + GAP, 0.0) for item in other.items]
        title = "; ".join(drawing.title for drawing in pair)
        scales = {drawing.scale for drawing in pair}
        scale = scales.pop() if len(scales) == 1 else None
        yield Picture(tuple(items), width, max(one.height for one in pair), title, scale)


def wrapped(drawing: Drawing, width: float) -> Drawing:
    """Return a drawing whose title, its only bold words, goes on in as many lines as it needs."""
    most = int(width / (LETTER * _TYPE))
    title = next((one for one in drawing.items if isinstance(one, Text) and one.bold), None)
    lines = wrap(bound(title.text), most) if title else []
    if title is None or len(lines) < 2:
        return drawing
    x, y = title.at
    down = _LINE * (len(lines) - 1)
    heads = (replace(title, at=(x, y + k * _LINE), text=line) for k, line in enumerate(lines))
    rest = (moved(item, 0.0, down) for item in drawing.items if item is not title)
    return replace(drawing, items=(*heads, *rest), height=drawing.height + down)
