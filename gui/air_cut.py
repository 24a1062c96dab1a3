"""Where the drawings cut the air: the plan at the chosen leaves, elevations through one part.

That part is a fan that is selected or pointed at, else the shelf unit looked at, or the enclosure.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from core.drawing.marks import AXES, View
from core.language import tr
from core.model import Fan
from core.placement import Placement

if TYPE_CHECKING:
    from gui.overlay_look import Look


def part_cut(placement: Placement, looked_at: Iterable[str], unit: str | None) -> str:
    """Return the id of the part that elevations are cut through, empty where there is none.

    Parameters
    ----------
    placement : Placement
    looked_at : iterable of str
        What is selected or pointed at, the last first.
    unit : str or None
        The shelf unit that elevations look at.
    """
    design = placement.design
    for part_id in looked_at:
        if isinstance(design.by_id.get(part_id), Fan):
            return part_id
    if unit is not None and unit in design.by_id:
        return unit
    return design.enclosure.id if design.enclosure is not None else ""


def cut_words(placement: Placement, through: str) -> str:
    """Return where elevations are cut, in words: "through Fan 2"."""
    thing = placement.design.by_id.get(through)
    return tr("through {name}").format(name=thing.name) if thing is not None else ""


def depth_of(look: Look, view: View) -> float:
    """Return where a drawing cuts the air, along the axis that it looks along. [m]"""
    if view == "plan":
        return look.cut
    across, up = AXES[view]
    placement = look.placement
    box = placement.box(look.through) if look.through in placement.design.by_id else None
    middle = box.centre if box is not None else _middle(look)
    return middle[3 - across - up]


def _middle(look: Look) -> tuple[float, float, float]:
    air = look.readings.air
    field = air.field or air.stale
    return field.air.box.centre if field is not None else (0.0, 0.0, 0.0)
