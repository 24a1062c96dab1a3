"""What stands under a load: posts, castors and the floor.

Ratings of shelves and floors are the design's; an engineer decides on floors.
"""

from __future__ import annotations

from core.arguments import not_negative, positive, within
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


def corner_loads(total: float, x: float, y: float) -> tuple[float, float, float, float]:
    """Return what each of four posts carries of a load that need not stand in the middle.

    Parameters
    ----------
    total : float
        Mass of the unit with everything on it. [kg]
    x, y : float
        Where its centre of gravity stands in the footprint, as shares of width and depth, 0 to 1.

    Returns
    -------
    tuple of float
        Left front, right front, left back, right back: m(1-x)(1-y), m x(1-y), … A rigid unit on
        four feet is one foot too many for statics; this shares as a plate between its edges. [kg]

    Raises
    ------
    InputError
        If ``total`` is negative or a share is outside 0 to 1.
    """
    not_negative("Posts", "total mass", total, "kg")
    within("Posts", "place of the load along the width", x, 0.0, 1.0)
    within("Posts", "place of the load along the depth", y, 0.0, 1.0)
    return (
        total * (1 - x) * (1 - y),
        total * x * (1 - y),
        total * (1 - x) * y,
        total * x * y,
    )


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
