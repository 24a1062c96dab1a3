"""How long a volume of water lasts at a rate of loss.

The rates of open surfaces and leaves are those of `core.climate.evaporation`, told on from here.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from core.arguments import not_negative
from core.climate import evaporation
from core.errors import InputError, complaint

__all__ = [
    "ASSUMED_EVAPORATION",
    "RATE_FACTOR",
    "WATER_DENSITY",
    "Days",
    "days_to_refill",
    "evaporation",
    "use_per_day",
]

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
