"""Who is seen in which view: cut at a level in plan, behind or before the chosen unit in elevation.

Also the order in which parts are drawn over each other; how they look is in
`core.drawing.symbols`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from core.drawing.marks import Arc, Dot, Mark, Path, Pen, View, Words
from core.drawing.shapes import HIDDEN, seen
from core.geometry import Box
from core.model import Bay, Enclosure, Lamp, Obstacle, Outlet, Part, ShelfUnit
from core.placement import Level, Placement

Seen = Literal["full", "faint", "dashed"]
LevelKey = tuple[str, int]

_BARE_CANOPY = 0.15
"""Where a level without plants is cut, above its surface. [m]"""
_FAINT = Pen("hair", 1.0)
_KIND_ORDER = (
    "bay",
    "shelf-unit",
    "lead",
    "platform",
    "tray",
    "reservoir",
    "feed",
    "plants",
    "cooler",
    "heater",
    "lamp",
)


def cut_height(placement: Placement, level: LevelKey) -> float:
    """Return the height at which the plan of a level is cut: its highest leaves. [m]"""
    found = next((one for one in placement.levels if _key(one) == level), None)
    if found is None:
        return placement.design.room.height
    tops = [zone.high for zone in placement.zones if zone.level == level]
    return min(max(tops, default=found.z + _BARE_CANOPY), found.above)


def _key(level: Level) -> LevelKey:
    return level.host, level.number


def is_seen(
    placement: Placement,
    part_id: str,
    view: View,
    level: LevelKey | None = None,
    unit: str | None = None,
) -> Seen | None:
    """Tell whether and how a part or fixture is drawn.

    Parameters
    ----------
    placement : Placement
    part_id : str
        A part or a fixture of the room.
    view : {"plan", "front", "side"}
    level : (host, number), optional
        The level the plan is cut at; by default each unit shows its highest.
    unit : str, optional
        The shelf unit that elevations look at; by default the nearest.

    Returns
    -------
    {"full", "faint", "dashed"} or None
        None: not drawn.
    """
    thing = placement.design.by_id[part_id]
    if isinstance(thing, Part) and thing.hidden:
        return None
    if view == "plan":
        return _seen_in_plan(placement, part_id, level) if isinstance(thing, Part) else "full"
    own = unit_of(placement, part_id) if isinstance(thing, Part) else None
    if own is not None:
        return _seen_of_unit(placement, own, view, unit)
    return "faint" if _before_enclosure(placement, part_id, view) else "full"


def _before_enclosure(placement: Placement, part_id: str, view: View) -> bool:
    """Tell whether something in the room stands before the enclosure and would hide it."""
    enclosure = placement.design.enclosure
    thing = placement.design.by_id[part_id]
    movable = isinstance(thing, Obstacle) or (
        isinstance(thing, Part) and thing.place.fixing != "face" and thing is not enclosure
    )
    if enclosure is None or not movable or placement.inside(part_id):
        return False
    box, whole = placement.box(part_id), placement.box(enclosure.id)
    if _nearness(box, view) <= _nearness(whole, view):
        return False
    return seen(box, view).overlap(seen(whole, view)) is not None


def _seen_in_plan(placement: Placement, part_id: str, level: LevelKey | None) -> Seen | None:
    own = unit_level(placement, part_id)
    if own is not None and own[1] != _level_shown(placement, own[0], level):
        return None
    return "dashed" if isinstance(placement.design.by_id[part_id], Lamp) else "full"


def unit_level(placement: Placement, part_id: str) -> LevelKey | None:
    """Return the unit and level a part goes with; None for what belongs to no level of a unit.

    A lamp under shelf k goes with level k − 1, and what stands on a tray with the tray.
    """
    for one in (part_id, *placement.hosts(part_id)):
        part = placement.design.by_id[one]
        if not isinstance(part, Part):
            return None
        host = placement.design.by_id.get(part.place.host)
        if isinstance(host, ShelfUnit) and part.place.level is not None:
            return host.id, part.place.level - (part.place.fixing == "under")
        if isinstance(part, Lamp):
            found = placement.level_of(one)
            above = placement.design.by_id[found[0]] if found else None
            return found if isinstance(above, ShelfUnit) else None
    return None


def _level_shown(placement: Placement, unit_id: str, level: LevelKey | None) -> int:
    """Return which level of a unit a plan shows: the chosen one, or the one at the same height."""
    own = [one for one in placement.levels if one.host == unit_id]
    if level is None:
        return own[-1].number
    if level[0] == unit_id:
        return level[1]
    cut = cut_height(placement, level)
    return max((one.number for one in own if one.z <= cut), default=own[0].number)


def unit_of(placement: Placement, part_id: str) -> str | None:
    """Return the shelf unit a part is, rests on, or lights from above."""
    if isinstance(placement.design.by_id[part_id], ShelfUnit):
        return part_id
    units = [
        host
        for host in placement.hosts(part_id)
        if isinstance(placement.design.by_id[host], ShelfUnit)
    ]
    own = None if units else unit_level(placement, part_id)
    return units[0] if units else own[0] if own else None


def nearest_unit(placement: Placement, view: View) -> str | None:
    """Return the shelf unit nearest to who looks at an elevation."""
    units = [unit.id for unit in placement.design.of(ShelfUnit)]
    return max(units, key=lambda unit: _nearness(placement.box(unit), view), default=None)


def _nearness(box: Box, view: View) -> float:
    """Return how near a box is to who looks: the front from −y, the side from +x, the plan from +z.

    Rises towards the eye. [m]
    """
    if view == "plan":
        return box.lo[2]
    return -box.lo[1] if view == "front" else box.hi[0]


def _seen_of_unit(placement: Placement, own: str, view: View, unit: str | None) -> Seen | None:
    """Return full, faint before the chosen unit, or None for what the chosen unit hides."""
    chosen = unit or nearest_unit(placement, view)
    if chosen is None or own == chosen:
        return "full"
    mine, other = placement.box(own), placement.box(chosen)
    if not seen(mine, view).overlap(seen(other, view)):
        return "full"
    return "faint" if _nearness(mine, view) > _nearness(other, view) else None


def as_seen(marks: tuple[Mark, ...], how: Seen) -> tuple[Mark, ...]:
    """Return marks as `is_seen` wants them: as they are, faint, or as dashed outlines."""
    if how == "full":
        return marks
    restyle = _faint if how == "faint" else _dashed
    return tuple(one for mark in marks if (one := restyle(mark)) is not None)


def _faint(mark: Mark) -> Mark | None:
    if isinstance(mark, Words):
        return None
    if isinstance(mark, Dot):
        return replace(mark, fill="hair")
    if mark.pen is None and mark.fill != "ink":
        return None
    dash = mark.pen.dash if mark.pen else ()
    return replace(mark, pen=replace(_FAINT, dash=dash), fill=None)


def _dashed(mark: Mark) -> Mark | None:
    """Return an outline in short dashes; what is dashed already keeps its own."""
    if isinstance(mark, Words | Dot):
        return mark
    if not isinstance(mark, Path | Arc) or mark.pen is None:
        return None
    if mark.pen.dash:
        return replace(mark, fill=None)
    return replace(mark, pen=replace(HIDDEN, role=mark.pen.role), fill=None)


def depth_order(placement: Placement, part_id: str, view: View) -> tuple[float, ...]:
    """Return a key that sorts parts and fixtures in drawing order, the farthest first.

    The room comes first, then the enclosure, then outlets over the leads that lie between; a shelf
    unit and all on it stay together.
    """
    thing = placement.design.by_id[part_id]
    if isinstance(thing, Outlet):
        return (2.0, 0.0, 0.0, 0.0)
    if not isinstance(thing, Part):
        return (0.0, 0.0, 0.0, 0.0)
    if isinstance(thing, Enclosure):
        return (1.0, 0.0, 0.0, 0.0)
    layer = 3.0 if isinstance(thing, Bay) else 4.0
    kind = float(_KIND_ORDER.index(thing.kind)) if thing.kind in _KIND_ORDER else 8.5
    own = _nearness(placement.box(part_id), view)
    if view == "plan":
        return (layer, 0.0 if isinstance(thing, ShelfUnit) else 1.0, own, kind)
    unit = unit_of(placement, part_id)
    group = _nearness(placement.box(unit), view) if unit else own
    return (layer, group, kind, own)
