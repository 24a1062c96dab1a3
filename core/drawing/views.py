"""A whole view of a design as marks, in drawing order: what paper and the first paint show.

The window moves parts one by one and asks `core.drawing.symbols` for each.
"""

from __future__ import annotations

from core.drawing.marks import Mark, View
from core.drawing.seeing import LevelKey, as_seen, depth_order, is_seen
from core.drawing.symbols import fixture_marks, part_marks, plug_marks, room_marks
from core.model import Part
from core.placement import Placement


def view_marks(
    placement: Placement, view: View, level: LevelKey | None = None, unit: str | None = None
) -> tuple[Mark, ...]:
    """Return everything a view shows: room, enclosure, leads (in elevations), parts.

    Parameters
    ----------
    placement : Placement
    view : {"plan", "front", "side"}
    level, unit
        As `core.drawing.seeing.is_seen`.

    Returns
    -------
    tuple of Mark
        The farthest first. [m]
    """
    design = placement.design
    order = sorted(design.by_id, key=lambda one: depth_order(placement, one, view))
    base = [one for one in order if depth_order(placement, one, view)[0] < 2]
    rest = order[len(base) :]
    marks = list(room_marks(placement, view))
    for one in base:
        marks += _thing_marks(placement, one, view, level, unit)
    if view != "plan":
        marks += [mark for part in design.parts for mark in _lead(placement, part, view, unit)]
    for one in rest:
        marks += _thing_marks(placement, one, view, level, unit)
    return tuple(marks)


def _thing_marks(
    placement: Placement, one: str, view: View, level: LevelKey | None, unit: str | None
) -> tuple[Mark, ...]:
    how = is_seen(placement, one, view, level, unit)
    if how is None:
        return ()
    own = isinstance(placement.design.by_id[one], Part)
    marks = part_marks(placement, one, view) if own else fixture_marks(placement, one, view)
    return as_seen(marks, how)


def _lead(placement: Placement, part: Part, view: View, unit: str | None) -> tuple[Mark, ...]:
    if is_seen(placement, part.id, view, None, unit) != "full":
        return ()
    return plug_marks(placement, part.id, view)
