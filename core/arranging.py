"""Several parts put in line, spread with equal gaps, or repeated in rows.

Each function returns what becomes of the parts, moved as `core.changes` moves them; nothing here
asks whether they fit.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from core.changes import Changes, Shift, copied, moved, roots
from core.duplicates import named_apart
from core.errors import DesignError
from core.language import tr
from core.model import AnyPart, Design, Enclosure
from core.placement import Placement

Edge = Literal["left", "right", "front", "back", "bottom", "top", "middle x", "middle y"]
Axis = Literal["x", "y", "z"]

MOST_COPIES = 100
"""Most copies that one command makes."""

_AXIS = {"x": 0, "y": 1, "z": 2}
_SIDES: dict[Edge, tuple[int, int]] = {
    "left": (0, -1),
    "right": (0, 1),
    "front": (1, -1),
    "back": (1, 1),
    "bottom": (2, -1),
    "top": (2, 1),
    "middle x": (0, 0),
    "middle y": (1, 0),
}
"""Edge -> its axis, and -1 for the low end, 1 for the high end, 0 for the middle."""

EDGES: tuple[Edge, ...] = tuple(_SIDES)


def aligned(design: Design, ids: Sequence[str], edge: Edge) -> Changes:
    """Return parts moved so that an edge of each lies where the outermost one's does.

    Middles come to lie in the middle of all of them together.

    Parameters
    ----------
    design : Design
    ids : sequence of str
        Two or more parts; with fewer nothing changes.
    edge : str
        An `Edge`.
    """
    placement = Placement(design)
    chosen = roots(design, ids)
    axis, side = _SIDES[edge]
    spans = {i: _span(placement, i, axis) for i in chosen}
    if len(spans) < 2:
        return {}
    lows, highs = [low for low, _ in spans.values()], [high for _, high in spans.values()]
    line = {-1: min(lows), 1: max(highs), 0: (min(lows) + max(highs)) / 2}[side]
    found: Changes = {}
    for part_id, (low, high) in spans.items():
        here = {-1: low, 1: high, 0: (low + high) / 2}[side]
        found |= moved(design, [part_id], _along(axis, line - here))
    return found


def spread(design: Design, ids: Sequence[str], axis: Axis) -> Changes:
    """Return parts moved so that the gaps between neighbours along an axis are equal.

    They keep the order of their middles, and the first and the last of them stay. Gaps are below
    zero where those between are longer than the stretch.

    Parameters
    ----------
    design : Design
    ids : sequence of str
        Three or more parts; with fewer nothing changes.
    axis : {"x", "y", "z"}
    """
    placement = Placement(design)
    along = _AXIS[axis]
    spans = {part_id: _span(placement, part_id, along) for part_id in roots(design, ids)}
    if len(spans) < 3:
        return {}
    order = sorted(spans, key=lambda part_id: (sum(spans[part_id]), part_id))
    first, *between, last = order
    lengths = sum(spans[part_id][1] - spans[part_id][0] for part_id in between)
    at = spans[first][1]
    gap = (spans[last][0] - at - lengths) / (len(order) - 1)
    found: Changes = {}
    for part_id in between:
        low, high = spans[part_id]
        found |= moved(design, [part_id], _along(along, at + gap - low))
        at += gap + high - low
    return found


def repeated(
    design: Design, ids: Iterable[str], counts: tuple[int, int], step: tuple[float, float]
) -> tuple[Changes, tuple[str, ...]]:
    """Return copies of parts in rows, beside the originals, and the ids of the outermost copies.

    Parameters
    ----------
    design : Design
    ids : iterable of str
    counts : tuple of int
        How many there shall be along x and along y, the originals counted.
    step : tuple of float
        From one to the next along x and along y. [m]

    Raises
    ------
    DesignError
        If there would be too many, or an enclosure among them.
    """
    chosen = tuple(ids)
    if any(isinstance(design.by_id.get(part_id), Enclosure) for part_id in chosen):
        raise DesignError(tr("A layout has one enclosure; make a variant for another."))
    number = counts[0] * counts[1] - 1
    if min(counts) < 1 or number > MOST_COPIES:
        text = tr("Rows of copies: copies = {number} must be from 1 to {most}; enter fewer.")
        raise DesignError(text.format(number=number, most=MOST_COPIES))
    whole = design
    tops: list[str] = []
    copies: Changes = {}
    for row in range(counts[1]):
        for column in range(counts[0]):
            if row == column == 0:
                continue
            new, here = _copy(whole, design, chosen, (column * step[0], row * step[1], 0.0))
            whole = whole.with_parts(new)
            copies |= new
            tops += here
    return copies, tuple(tops)


def _copy(
    whole: Design, design: Design, ids: Sequence[str], shift: Shift
) -> tuple[dict[str, AnyPart], tuple[str, ...]]:
    """Return one set of copies that stand aside by a shift, named apart from all others."""
    taken = {part.id for part in whole.parts}
    copies, tops = copied(design, ids, taken=taken)
    copies = named_apart(whole.with_parts(copies), copies)
    there = moved(whole.with_parts(copies), tops, shift)
    for part_id in tops:
        part = there.get(part_id, copies[part_id])
        if isinstance(part, type(copies[part_id])):
            copies[part_id] = part
    return copies, tops


def _span(placement: Placement, part_id: str, axis: int) -> tuple[float, float]:
    box = placement.box(part_id)
    return box.lo[axis], box.hi[axis]


def _along(axis: int, by: float) -> Shift:
    shift = [0.0, 0.0, 0.0]
    shift[axis] = by
    return shift[0], shift[1], shift[2]


__all__ = ["EDGES", "MOST_COPIES", "Axis", "Edge", "aligned", "repeated", "spread"]
