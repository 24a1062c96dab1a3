"""What stands under a load: castors and the floor.

Ratings of shelves and floors are the design's; an engineer decides on floors.
"""

from __future__ import annotations

from core.arguments import not_negative, positive
from core.constants import GRAVITY

CASTORS_THAT_CARRY = 3
"""On an uneven floor one of four castors may hang free, so three carry (common trade rule)."""


def castor_load(total: float) -> float:
    """Return the load each of four castors must be rated for.

    Parameters
    ----------
    total : float
        Mass of the unit with everything on it. [kg]

    Returns
    -------
    float
        A third of the total. [kg]

    Raises
    ------
    InputError
        If ``total`` is negative or not finite.
    """
    not_negative("Castors", "total mass", total, "kg")
    return total / CASTORS_THAT_CARRY


def floor_pressure(mass: float, width: float, depth: float) -> float:
    """Return the mean pressure of a load on the floor under its footprint.

    Parameters
    ----------
    mass : float
        [kg]
    width, depth : float
        Footprint. [m]

    Returns
    -------
    float
        [Pa]

    Raises
    ------
    InputError
        If ``mass`` is negative or a side is not above 0.
    """
    not_negative("Floor", "mass", mass, "kg")
    positive("Floor", "width", width, "m")
    positive("Floor", "depth", depth, "m")
    return mass * GRAVITY / (width * depth)
