"""Air that warm and cold exchange through an opening by buoyancy alone.

Openings that a fan blows through have a flow of their own and are not here.
"""

from __future__ import annotations

from core.arguments import not_negative, within
from core.climate.scalar import buoyant_flow


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
