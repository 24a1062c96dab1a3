"""What is sawn and cut: cutting diagrams of bars and rolls, faces and liner to scale.

The diagrams are drawn by `core.drawing.cutting` and `core.drawing.sheet_plans`; the tables beside
them are in `core.summary.shopping`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from core.drawing.cutting import cutting_diagram, roll_diagram
from core.drawing.paper import Drawing, Item, moved
from core.drawing.sheet_plans import sheet_drawings
from core.summary.blocks import Picture
from core.summary.sheet import Paper

if TYPE_CHECKING:
    from core.readings import Readings

_GAP = 8.0
"""Between drawings side by side. [mm]"""
_HIGH = 84.0
"""How high the drawing of a face may be. [mm]"""


def bar_pictures(readings: Readings, paper: Paper) -> tuple[Picture, ...]:
    """Return the cutting diagram of the frame; none without a frame."""
    made = readings.materials.made
    if made is None or not made.frame.cuts.patterns:
        return ()
    letters = {piece.length: piece.letter for piece in readings.materials.pieces}
    width, system = paper.room[0], readings.design.units
    return (_picture(cutting_diagram(made.frame.cuts, width, system, letters)),)


def sheet_pictures(readings: Readings, paper: Paper) -> tuple[Picture, ...]:
    """Return what is cut off each roll, then every face and the liner, two side by side."""
    made = readings.materials.made
    if made is None:
        return ()
    width, system = paper.room[0], readings.design.units
    rolls = tuple(_picture(roll_diagram(plan, width, system)) for plan in made.rolls)
    faces = sheet_drawings(made, (width - _GAP) / 2, _HIGH, system)
    return (*rolls, *in_pairs(faces, width))


def _picture(drawing: Drawing) -> Picture:
    return Picture(drawing.items, drawing.width, drawing.height, drawing.title, drawing.scale)


def in_pairs(drawings: Iterable[Drawing], width: float) -> Iterator[Picture]:
    """Yield drawings two by two, as one picture as wide as the page. [mm]"""
    waiting = list(drawings)
    while waiting:
        pair, waiting = waiting[:2], waiting[2:]
        items: list[Item] = [*pair[0].items]
        for other in pair[1:]:
            items += [moved(item, (width + _GAP) / 2, 0.0) for item in other.items]
        title = "; ".join(drawing.title for drawing in pair)
        scales = {drawing.scale for drawing in pair}
        scale = scales.pop() if len(scales) == 1 else None
        yield Picture(tuple(items), width, max(one.height for one in pair), title, scale)
