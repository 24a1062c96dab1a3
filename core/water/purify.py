"""Purified water by membrane: how long a volume takes and what is rejected for it.

The pressure and age of the membrane are taken as those of its rating.
"""

from __future__ import annotations

import math

from core.arguments import not_negative, positive, within
from core.constants import KELVIN

RATED_AT = 25.0
"""Feed water temperature at which makers rate membranes. [°C]"""

TYPICAL_REJECT = 4.0
"""Rejected over purified volume; 5 is typical and 2.3 good (EPA WaterSense, secondary copy)."""

_TEMPERATURE_CONSTANT = 3020.0


def purified_hours(volume: float, rated_per_day: float, t: float = RATED_AT) -> float:
    """Return how long a membrane takes to make a volume of purified water.

    Parameters
    ----------
    volume : float
        [m³]
    rated_per_day : float
        The maker's rating, which holds at 25 °C. [m³/d]
    t : float
        Temperature of the feed water, 0 to 50. [°C]

    Returns
    -------
    float
        [h]

    Raises
    ------
    InputError
        If ``volume`` is negative, ``rated_per_day`` not above 0 or ``t`` outside 0 to 50.

    Notes
    -----
    The rating is multiplied by exp[3020 (1/298.15 - 1/T)]. Above 25 °C makers take 2640 for
    3020, which at 30 °C would give 2 % longer.

    References
    ----------
    .. [1] Membrane makers' temperature correction factor (from memory).
    """
    not_negative("Purifier", "volume", volume, "m³")
    positive("Purifier", "rated output", rated_per_day, "m³/d")
    within("Purifier", "water temperature", t, 0.0, 50.0, "°C")
    colder = 1 / (RATED_AT + KELVIN) - 1 / (t + KELVIN)
    per_hour = rated_per_day / 24 * math.exp(_TEMPERATURE_CONSTANT * colder)
    return volume / per_hour


def reject_volume(volume: float, ratio: float = TYPICAL_REJECT) -> float:
    """Return the water rejected while a volume is purified.

    Parameters
    ----------
    volume : float
        Purified. [m³]
    ratio : float
        Rejected over purified.

    Returns
    -------
    float
        [m³]

    Raises
    ------
    InputError
        If a number is negative or not finite.
    """
    not_negative("Purifier", "volume", volume, "m³")
    not_negative("Purifier", "reject ratio", ratio)
    return volume * ratio
