"""How fast water leaves an open surface, and how long a volume lasts.

Leaves are not in here: a planted tray loses more than the bare surface that `evaporation` gives.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from core.arguments import Numbers, not_negative, within
from core.climate import saturation_pressure
from core.errors import InputError, complaint

ASSUMED_EVAPORATION = 1.5 / 86_400
"""Loss of a planted tray before climate is known, 1.5 mm/d (common practice). [kg/(m² s)]"""

RATE_FACTOR = 2.0
"""Honest band of a computed rate: from half of it to twice."""

WATER_DENSITY = 1000.0
"""Rounded, for volumes of water. [kg/m³]"""

_SECONDS_PER_DAY = 86_400


class Days(NamedTuple):
    """How long a volume lasts; infinite where nothing is used."""

    value: float
    """[d]"""
    low: float
    """[d]"""
    high: float
    """[d]"""


def evaporation(
    water_t: Numbers, air_t: Numbers, rh: Numbers, speed: Numbers = 0.0, activity: Numbers = 1.0
) -> Numbers:
    """Return the evaporation from an open water surface by Carrier's formula.

    It was measured on still basins; take the result as right within a factor of two.

    Parameters
    ----------
    water_t : float or ndarray
        Temperature of the surface, 0 to 100. [°C]
    air_t : float or ndarray
        Temperature of the air. [°C]
    rh : float or ndarray
        Relative humidity of the air, 0 to 1.
    speed : float or ndarray
        Of the air over the surface. [m/s]
    activity : float or ndarray
        1 for a surface in use; 0.74 for an undisturbed one [2]_.

    Returns
    -------
    float or ndarray
        (0.089 + 0.0782 V) Δp/h_fg with kPa and kJ/kg; 0 where the air is too moist for
        evaporation. [kg/(m² s)]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] ASHRAE Handbook, HVAC Applications, natatoriums, after Carrier 1918.
    .. [2] Smith, Löf and Jones, "Rates of evaporation from swimming pools in active use", ASHRAE
       Transactions 104(1), 1998.
    """
    within("Water", "temperature", water_t, 0.0, 100.0, "°C")
    within("Air", "relative humidity", rh, 0.0, 1.0)
    not_negative("Air", "speed", speed, "m/s")
    not_negative("Water", "activity", activity)
    difference = saturation_pressure(water_t) - rh * saturation_pressure(air_t)
    kilopascals = np.maximum(difference, 0.0) / 1000
    heat_of_evaporation = 2501 - 2.326 * np.asarray(water_t, dtype=float)
    return (activity * (0.089 + 0.0782 * speed) * kilopascals / heat_of_evaporation)[()]


def use_per_day(area: float, rate: float = ASSUMED_EVAPORATION) -> float:
    """Return the volume a wet area loses in a day.

    Parameters
    ----------
    area : float
        [m²]
    rate : float
        Evaporation. [kg/(m² s)]

    Returns
    -------
    float
        [m³/d]

    Raises
    ------
    InputError
        If a number is negative or not finite.
    """
    not_negative("Tray", "area", area, "m²")
    not_negative("Tray", "evaporation", rate, "kg/(m² s)")
    return area * rate * _SECONDS_PER_DAY / WATER_DENSITY


def days_to_refill(volume: float, rate_per_day: float, factor: float = RATE_FACTOR) -> Days:
    """Return how many days a volume lasts, with the band of the rate.

    Parameters
    ----------
    volume : float
        [m³]
    rate_per_day : float
        [m³/d]
    factor : float
        The rate may be this many times higher or lower, 1 or more; 1 for a measured rate.

    Returns
    -------
    Days
        [d]

    Raises
    ------
    InputError
        If ``volume`` or ``rate_per_day`` is negative or ``factor`` is below 1.
    """
    not_negative("Tray", "volume", volume, "m³")
    not_negative("Tray", "use", rate_per_day, "m³/d")
    not_negative("Tray", "factor on use", factor)
    if factor < 1:
        shown = f"{factor:g}"
        raise InputError(
            complaint("Tray", "factor on use", shown, "must be at least 1", "enter 1 or more")
        )
    days = volume / rate_per_day if rate_per_day > 0 else math.inf
    return Days(days, days / factor, days * factor)
