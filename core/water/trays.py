"""How much water a tray holds around what stands in it.

How fast it goes is in `core.water.evaporation`.
"""

from __future__ import annotations

import math

from core.arguments import not_negative, positive


def tray_volume(width: float, depth: float, fill: float, displaced: float = 0.0) -> float:
    """Return the water in a tray.

    Parameters
    ----------
    width, depth : float
        Inside. [m]
    fill : float
        Depth of the water. [m]
    displaced : float
        Volume below the water line of all that stands in it. [m³]

    Returns
    -------
    float
        0 where what stands in the tray leaves no room. [m³]

    Raises
    ------
    InputError
        If a side is not above 0, or ``fill`` or ``displaced`` is negative.
    """
    positive("Tray", "width", width, "m")
    positive("Tray", "depth", depth, "m")
    not_negative("Tray", "fill depth", fill, "m")
    not_negative("Tray", "displaced volume", displaced, "m³")
    return max(0.0, width * depth * fill - displaced)


def displaced_by_round_pots(count: int, diameter: float, under_water: float) -> float:
    """Return the volume that round pots take from the water they stand in.

    Pots are taken as closed cylinders, although wet soil holds water too.

    Parameters
    ----------
    count : int
    diameter : float
        [m]
    under_water : float
        Depth to which they stand in water. [m]

    Returns
    -------
    float
        [m³]

    Raises
    ------
    InputError
        If a number is negative or not finite.
    """
    not_negative("Pots", "count", count)
    not_negative("Pots", "diameter", diameter, "m")
    not_negative("Pots", "depth under water", under_water, "m")
    return count * math.pi * diameter**2 / 4 * under_water
