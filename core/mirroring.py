"""Parts mirrored left to right or front to back, with all that they carry, in place or as copies.

Boxes have no handedness: a mirrored part keeps its own shape and faces the mirrored way. Turning
and moving are in `core.changes`, finding a free place for copies in `core.duplicates`.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Literal

from core.changes import Changes, copied, roots, with_carried
from core.duplicates import beside, own_timers
from core.errors import DesignError
from core.geometry import Box, Rectangle, turn_back
from core.language import tr
from core.model import (
    AnyPart,
    Design,
    Enclosure,
    Fan,
    FeedLine,
    Part,
    Place,
    ShelfUnit,
    UnitLining,
    replace,
)
from core.placement import Placement, on_grid

Across = Literal["x", "y"]
"""The room's axis that is turned round: x exchanges left and right, y front and back."""

_FACING: dict[Across, int] = {"x": 0, "y": 2}
"""Quarter turns of what faced the front, by axis."""


def mirrored(
    design: Design, ids: Iterable[str], across: Across = "x", middle: float | None = None
) -> Changes:
    """Return parts mirrored about a plane, with all they carry.

    Parameters
    ----------
    design : Design
    ids : iterable of str
    across : {"x", "y"}
    middle : float, optional
        Where the plane stands; by default in the middle of the parts. [m]

    Returns
    -------
    dict
        Locked parts, parts in a face and fixtures of the room stay as they are.

    Raises
    ------
    DesignError
        If the enclosure is among them.
    """
    placement = Placement(design)
    tops = [part_id for part_id in roots(design, ids) if _may_be_mirrored(design, part_id)]
    if not tops:
        return {}
    if middle is None:
        middle = _middle([placement.box(part_id) for part_id in tops], across)
    found: Changes = {}
    for part_id in tops:
        found[part_id] = _top_mirrored(placement, design.part(part_id), across, middle)
    for part_id in sorted(with_carried(design, tops) - set(tops)):
        found[part_id] = _carried_mirrored(placement, design.part(part_id), across)
    return found


def mirrored_copies(
    design: Design, ids: Iterable[str], across: Across = "x"
) -> tuple[Changes, tuple[str, ...]]:
    """Return mirrored copies of parts, and the ids of the outermost copies.

    They stand opposite: mirrored about the middle of what carries them, or at the nearest free
    place where that one is taken; timers of a shelf unit's own come along. Chains, plugs and
    controls are kept as `core.changes.copied` says, so the copies draw their power at once.

    Raises
    ------
    DesignError
        If the enclosure is among them.
    """
    chosen = [part_id for part_id in ids if _may_be_mirrored(design, part_id)]
    timers = own_timers(design, chosen)
    copies, tops = copied(design, [*chosen, *timers])
    whole = design.with_parts(copies)
    placement = Placement(whole)
    mirrored_tops = tops[: len(tops) - len(timers)]
    for top in mirrored_tops:
        frame = _room_box(placement, whole.part(top).place.host)
        copies.update(_parts(mirrored(whole, [top], across, _middle([frame], across))))
    return beside(design, copies, tops), mirrored_tops


def _parts(changes: Changes) -> dict[str, AnyPart]:
    return {key: part for key, part in changes.items() if isinstance(part, Part)}


def _room_box(placement: Placement, host: str) -> Box:
    """Return a host's box in the room; the room's own for what stands on its floor."""
    if host in placement.design.by_id:
        return placement.box(host)
    width, depth, height = placement.frame(host).size
    return Box((0.0, 0.0, 0.0), (width, depth, height))


def _may_be_mirrored(design: Design, part_id: str) -> bool:
    part = design.by_id.get(part_id)
    if isinstance(part, Enclosure):
        raise DesignError(
            f"{part.name}: {tr('the enclosure is not mirrored; mirror what stands in it.')}"
        )
    return (
        isinstance(part, Part)
        and not part.locked
        and not isinstance(part, FeedLine)
        and part.place.fixing != "face"
    )


def _middle(boxes: list[Box], across: Across) -> float:
    axis = "xy".index(across)
    return (min(box.lo[axis] for box in boxes) + max(box.hi[axis] for box in boxes)) / 2


def _top_mirrored(placement: Placement, part: AnyPart, across: Across, middle: float) -> AnyPart:
    """Return an outermost part at the mirrored place, facing the mirrored way."""
    here = placement.box(part.id)
    x0, x1, y0, y1 = here.lo[0], here.hi[0], here.lo[1], here.hi[1]
    if across == "x":
        x0, x1 = 2 * middle - x1, 2 * middle - x0
    else:
        y0, y1 = 2 * middle - y1, 2 * middle - y0
    host = placement.frame(part.place.host)
    area = Rectangle(
        x0 - host.origin[0], y0 - host.origin[1], x1 - host.origin[0], y1 - host.origin[1]
    )
    local = turn_back(area, host.size[0], host.size[1], host.turn)
    facing = _FACING[across] - (host.turn + part.place.turn)
    turn = (facing - host.turn) % 4
    place = replace(part.place, x=on_grid(local.x0), y=on_grid(local.y0), turn=turn)
    return replace(part, place=place, **_own_mirrored(part, across))


def _carried_mirrored(placement: Placement, part: AnyPart, across: Across) -> AnyPart:
    """Return a carried part mirrored along its host's own x axis.

    Its host already faces the mirrored way, so left and right alone are exchanged on it.
    """
    if isinstance(part, FeedLine):
        return part
    place: Place = part.place
    host = placement.frame(place.host)
    own = part.extent[1] if place.turn % 2 else part.extent[0]
    x = on_grid(host.size[0] - place.x - own)
    place = replace(place, x=x, turn=-place.turn % 4)
    return replace(part, place=place, **_own_mirrored(part, across))


def _own_mirrored(part: AnyPart, across: Across) -> dict[str, Any]:
    """Return the fields of a part that a mirror changes besides its place."""
    if isinstance(part, Fan):
        heading = 180.0 - part.heading if across == "x" else -part.heading
        return {"heading": (heading + 180.0) % 360.0 - 180.0}
    if isinstance(part, ShelfUnit) and part.linings:
        return {"linings": tuple(_lining(part, lining) for lining in part.linings)}
    return {}


def _lining(unit: ShelfUnit, lining: UnitLining) -> UnitLining:
    side = {"left": "right", "right": "left"}.get(lining.side, lining.side)
    area = lining.area
    if area is not None and side == "back":
        area = replace(area, x=on_grid(unit.width - area.x - area.width))
    return replace(lining, side=side, area=area)
