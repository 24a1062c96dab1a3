"""Steady balances of heat: warming, the ventilation that limits it, and cold surfaces.

Nothing here runs through time; one well-mixed zone is weighed at rest.
"""

from __future__ import annotations

import math

from core.arguments import not_negative, positive, within
from core.climate.psychrometrics import (
    dew_point,
    dry_air_density,
    heat_capacity,
    humidity_ratio,
)

INNER_FILM = 8.29
"""Conductance of still air at a vertical surface, radiation included (ASHRAE). [W/(m² K)]"""


def ventilation_for_rise(power: float, rise: float, t: float = 20.0, rh: float = 0.5) -> float:
    """Return the air flow that carries a heat away at a given warming.

    Parameters
    ----------
    power : float
        Heat set free in the air. [W]
    rise : float
        Warming from intake to exhaust, above 0. [K]
    t : float
        Temperature of the incoming air, whose volume is counted. [°C]
    rh : float
        Relative humidity of the incoming air, 0 to 1.

    Returns
    -------
    float
        Moist air at the intake. [m³/s]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] Q = P/(ρ c_p ΔT) with the moist-air properties of ASHRAE Fundamentals, chapter 1.
    """
    not_negative("Enclosure", "heat", power, "W")
    positive("Enclosure", "temperature rise", rise, "K")
    ratio = humidity_ratio(t, rh)
    return float(power / (dry_air_density(t, ratio) * heat_capacity(ratio) * rise))


def steady_rise(
    power: float, ua: float, mass_flow: float, t_in: float = 20.0, rh_in: float = 0.5
) -> float:
    """Return how far an enclosure warms above its surroundings under a steady heat.

    The surroundings and the incoming air have the same temperature; no water evaporates.

    Parameters
    ----------
    power : float
        Heat set free in the air. [W]
    ua : float
        Conductance of the covers: U-value times area, summed. [W/K]
    mass_flow : float
        Air exchanged, as dry air. [kg/s]
    t_in, rh_in : float
        Temperature and relative humidity of the incoming air. [°C], 0 to 1

    Returns
    -------
    float
        Infinite when nothing carries the heat away. [K]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] Steady heat balance, P = (UA + ṁ c_p) ΔT.
    """
    not_negative("Enclosure", "heat", power, "W")
    not_negative("Enclosure", "conductance of the covers", ua, "W/K")
    not_negative("Enclosure", "air exchange", mass_flow, "kg/s")
    losses = ua + mass_flow * float(heat_capacity(humidity_ratio(t_in, rh_in)))
    if losses == 0:
        return math.inf if power > 0 else 0.0
    return power / losses


def surface_margin(
    t_in: float, rh_in: float, t_out: float, u: float, inner_film: float = INNER_FILM
) -> float:
    """Return how far a cover's inner surface stays above the dew point.

    Parameters
    ----------
    t_in : float
        Air temperature inside. [°C]
    rh_in : float
        Relative humidity inside, above 0 and up to 1.
    t_out : float
        Air temperature outside the cover. [°C]
    u : float
        U-value of the cover with both films; at most ``inner_film``. [W/(m² K)]
    inner_film : float
        Conductance of the air film inside. [W/(m² K)]

    Returns
    -------
    float
        Negative where dew forms. [K]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] ASHRAE Handbook, Fundamentals, surface film conductances (from memory).
    """
    positive("Cover", "inner film", inner_film, "W/(m² K)")
    within("Cover", "U-value", u, 0.0, inner_film, "W/(m² K)")
    within("Cover", "temperature outside", t_out, -100.0, 200.0, "°C")
    dew = float(dew_point(t_in, rh_in))
    return t_in - u / inner_film * (t_in - t_out) - dew
