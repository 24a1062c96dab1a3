"""Every part's and fixture's look as marks, by kind: the one table the window and paper draw from.

The shapes themselves are in the modules named here; who is seen when, in `core.drawing.seeing`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from core.drawing.devices import (
    cooler_marks,
    duct_fan_marks,
    fan_marks,
    fogger_marks,
    heater_marks,
    opening_marks,
    reservoir_marks,
)
from core.drawing.electric import (
    humidistat_marks,
    lead_marks,
    strip_marks,
    thermostat_marks,
    timer_marks,
)
from core.drawing.enclosure import enclosure_marks
from core.drawing.lamps import lamp_marks
from core.drawing.marks import Mark, View
from core.drawing.plants import plants_marks
from core.drawing.room import (
    door_marks,
    obstacle_marks,
    outlet_marks,
    room_marks,
    window_marks,
)
from core.drawing.routes import feed_marks, plug_marks
from core.drawing.shelving import bay_marks, platform_marks, tray_marks, unit_marks
from core.placement import Placement

__all__ = ["fixture_marks", "part_marks", "plug_marks", "room_marks"]

Draw = Callable[[Placement, Any, View], list[Mark]]

PARTS: Mapping[str, Draw] = {
    "enclosure": enclosure_marks,
    "shelf-unit": unit_marks,
    "bay": bay_marks,
    "platform": platform_marks,
    "tray": tray_marks,
    "plants": plants_marks,
    "lamp": lamp_marks,
    "fan": fan_marks,
    "duct-fan": duct_fan_marks,
    "opening": opening_marks,
    "reservoir": reservoir_marks,
    "feed": feed_marks,
    "fogger": fogger_marks,
    "cooler": cooler_marks,
    "heater": heater_marks,
    "strip": strip_marks,
    "lead": lead_marks,
    "timer": timer_marks,
    "thermostat": thermostat_marks,
    "humidistat": humidistat_marks,
}
FIXTURES: Mapping[str, Draw] = {
    "room-door": door_marks,
    "room-window": window_marks,
    "outlet": outlet_marks,
    "obstacle": obstacle_marks,
}


def part_marks(placement: Placement, part_id: str, view: View) -> tuple[Mark, ...]:
    """Return a part's look in a view, in drawing order.

    Parameters
    ----------
    placement : Placement
        The design with its places resolved.
    part_id : str
    view : {"plan", "front", "side"}

    Returns
    -------
    tuple of Mark
        In the view's axes (see `core.drawing.marks.AXES`), absolute in the room. [m]
    """
    part = placement.design.part(part_id)
    return tuple(PARTS[part.kind](placement, part, view))


def fixture_marks(placement: Placement, fixture_id: str, view: View) -> tuple[Mark, ...]:
    """Return the look of a door, window, outlet or fixed thing; as `part_marks`."""
    fixture: Any = placement.design.by_id[fixture_id]
    return tuple(FIXTURES[fixture.kind](placement, fixture, view))
