"""Dimensions to build by, only on paper: where units stand in the enclosure, how high levels are.

The overall dimensions, which the window shows too, are in `core.drawing.dimensions`.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import inf

from core.drawing.dimensions import dimension_marks
from core.drawing.marks import Mark, Path, Pen, View, Words
from core.drawing.seeing import nearest_unit
from core.geometry import Box
from core.model import ShelfUnit
from core.placement import Placement
from core.units import show

CHAIN = 5.0
"""How far below the plan the chain of widths runs. [mm]"""
_TICK, _NUMBER = 0.8, 11.0
"""Half an end tick; the room for a height's number, at the left of the side. [mm]"""
_BELOW = 3.2
"""How far below its line a number stands that does not fit on it. [mm]"""
_SIZE = 11.0
_LETTER = 1.7
"""Mean width of a letter of that size. [mm]"""
_LEAST = 0.004
"""Gaps below this are not measured. [m]"""


def build_dimensions(
    placement: Placement, view: View, shown: Box, unit: str | None, scale: int
) -> tuple[Mark, ...]:
    """Return the chain of widths below the plan, or the heights of levels at the side.

    Parameters
    ----------
    placement : Placement
    view : {"plan", "front", "side"}
    shown : Box
        What the sheet shows of the room. [m]
    unit : str or None
        The shelf unit that elevations look at; None: the nearest.
    scale : int
        Of the drawing: distances on paper do not change with it.
    """
    mm = scale / 1000
    if view == "plan":
        return tuple(_chain(placement, shown, mm))
    if view == "side":
        return tuple(_heights(placement, shown, unit, mm))
    return ()


def _chain(placement: Placement, shown: Box, mm: float) -> Iterator[Mark]:
    """Yield widths from side to side of the enclosure: gaps and units in turn."""
    y = shown.lo[1] - CHAIN * mm
    free = -inf
    for a, b in pairwise(chain_edges(placement)):
        text = show(b - a, "length", placement.design.units)
        half = (_LETTER * len(text) + 1.0) * mm / 2
        below = 0.0 if b - a > 2 * half else _BELOW * mm
        marks = dimension_marks((a, y), (b, y), 0.0, text, tick=_TICK * mm, size=_SIZE, below=below)
        if below and (a + b) / 2 - half < free:  # no room beside the number before it
            marks = tuple(mark for mark in marks if not isinstance(mark, Words))
        elif below:
            free = (a + b) / 2 + half
        yield from marks


def chain_edges(placement: Placement) -> list[float]:
    """Return where units and the enclosure begin and end across the plan, from the left. [m]"""
    design = placement.design
    if design.enclosure is None:
        return []
    whole = placement.box(design.enclosure.id)
    inside = [unit for unit in design.of(ShelfUnit) if placement.inside(unit.id)]
    boxes = [placement.box(unit.id) for unit in inside]
    edges = sorted({x for box in (whole, *boxes) for x in (box.lo[0], box.hi[0])})
    found: list[float] = []
    for x in edges:
        if not found or x - found[-1] > _LEAST:
            found.append(x)
    return found if boxes else []


def _heights(placement: Placement, shown: Box, unit: str | None, mm: float) -> Iterator[Mark]:
    """Yield how high the top of each of a unit's levels is above the floor.

    The numbers stand at the left of the side elevation, where only doors swing; a thin line leads
    from each to its shelf.
    """
    chosen = unit or nearest_unit(placement, "side")
    if chosen is None:
        return
    x, shelf = shown.lo[1] + mm, placement.box(chosen).lo[1]
    for level in placement.levels:
        if level.host == chosen:
            start = min(x + _NUMBER * mm, shelf)
            yield Path(((start, level.z), (shelf, level.z)), Pen("ink2", 0.7, (1.0, 2.0)))
            text = show(level.z, "length", placement.design.units)
            yield Words((x, level.z), text, _SIZE, "ink2", anchor="left", halo=True)
