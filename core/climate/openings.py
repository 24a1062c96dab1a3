"""Air that warm and cold exchange through an opening by buoyancy alone.

Openings that a fan blows through have a flow of their own and are not here.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from core.arguments import not_negative, positive, within
from core.climate.scalar import buoyant_flow
from core.constants import GRAVITY, KELVIN

DISCHARGE = 0.65
"""Coefficient of one of two openings, with flow one way through it (ASHRAE, from memory)."""


def opening_flow(width: float, height: float, t_in: float, t_out: float) -> float:
    """Return the flow each way through one opening in a wall between warm and cold air.

    Warm air leaves through the upper half and cold air enters through the lower; the side that
    is warmer does not matter.

    Parameters
    ----------
    width, height : float
        Clear opening. [m]
    t_in, t_out : float
        Air temperature on either side. [°C]

    Returns
    -------
    float
        C_d (A/3) √(g H ΔT/T) with C_d = 0.40 + 0.0045 ΔT and T that of the inside. [m³/s]

    Raises
    ------
    InputError
        If a size is negative or a temperature outside -100 to 200.

    References
    ----------
    .. [1] Kiel and Wilson, "Combining door swing pumping with density driven flow", ASHRAE
       Transactions 95(2), 1989 (coefficient from memory).
    """
    not_negative("Opening", "width", width, "m")
    not_negative("Opening", "height", height, "m")
    within("Opening", "temperature inside", t_in, -100.0, 200.0, "°C")
    within("Opening", "temperature outside", t_out, -100.0, 200.0, "°C")
    return buoyant_flow(width, height, t_in, t_out)


def buoyant_flows(
    width: float | NDArray[np.float64],
    height: float | NDArray[np.float64],
    t_in: NDArray[np.float64],
    t_out: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return what `opening_flow` does for arrays, which it trusts. [m, m, °C, °C; m³/s]"""
    difference = np.abs(t_in - t_out)
    draught = np.sqrt(GRAVITY * height * difference / (t_in + KELVIN))
    return np.asarray((0.40 + 0.0045 * difference) * width * height / 3 * draught)


def stack_flow(low_area: float, high_area: float, rise: float, t_in: float, t_out: float) -> float:
    """Return the flow through two openings, one above the other: in through one, out the other.

    The neutral level, where inside and outside press alike, lies so that both pass the same.

    Parameters
    ----------
    low_area, high_area : float
        [m²]
    rise : float
        From the middle of the lower to that of the upper. [m]
    t_in, t_out : float
        Air temperature on either side. [°C]

    Returns
    -------
    float
        C_d A √(2 g ΔH ΔT/T) with ΔH from the lower opening to the neutral level. [m³/s]

    Raises
    ------
    InputError
        If an area is not above 0, ``rise`` is negative or a temperature outside -100 to 200.

    References
    ----------
    .. [1] ASHRAE Handbook, Fundamentals, 1997, 25.13, equations 37 and 38 (from secondary copies).
    """
    positive("Opening", "lower area", low_area, "m²")
    positive("Opening", "upper area", high_area, "m²")
    not_negative("Opening", "rise", rise, "m")
    within("Opening", "temperature inside", t_in, -100.0, 200.0, "°C")
    within("Opening", "temperature outside", t_out, -100.0, 200.0, "°C")
    to_neutral = rise / (1 + (low_area / high_area) ** 2)
    warmth = abs(t_in - t_out) / (t_in + KELVIN)
    return DISCHARGE * low_area * math.sqrt(2 * GRAVITY * to_neutral * warmth)
