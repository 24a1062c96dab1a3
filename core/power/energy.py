"""What the energy of a day costs, by a flat or a day-and-night tariff.

Prices are per kilowatt-hour in whatever currency the design names; no currency is known here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.arguments import not_negative, within
from core.power.profile import DAYS_PER_MONTH, MINUTES, FloatSeries, LoadProfile


@dataclass(frozen=True)
class Tariff:
    """The price of energy.

    Attributes
    ----------
    price : float
        All day, or by day where ``night_price`` is given. [currency/kWh]
    night_price : float, optional
        From ``night_on`` to ``night_off``. [currency/kWh]
    night_on, night_off : int
        Minutes of the day, 0 to 1440; ``night_off`` before ``night_on`` runs past midnight, and
        equal is the whole day.

    Raises
    ------
    InputError
        If a price is negative or a minute is outside the day.
    """

    price: float
    night_price: float | None = None
    night_on: int = 23 * 60
    night_off: int = 7 * 60

    def __post_init__(self) -> None:
        not_negative("Tariff", "price", self.price, "per kWh")
        within("Tariff", "start of night", self.night_on, 0, MINUTES, "min")
        within("Tariff", "end of night", self.night_off, 0, MINUTES, "min")
        if self.night_price is not None:
            not_negative("Tariff", "night price", self.night_price, "per kWh")

    def by_minute(self) -> FloatSeries:
        """Return the price in each minute of the day, shape (1440,). [currency/kWh]"""
        if self.night_price is None:
            return np.full(MINUTES, self.price)
        length = (self.night_off - self.night_on) % MINUTES or MINUTES
        since_night = (np.arange(MINUTES) - self.night_on) % MINUTES
        return np.where(since_night < length, self.night_price, self.price)


def cost_per_day(profile: LoadProfile, tariff: Tariff) -> float:
    """Return what the energy of a day costs, thermostatted devices at their duty.

    Parameters
    ----------
    profile : LoadProfile
    tariff : Tariff

    Returns
    -------
    float
        [currency/d]
    """
    return float(profile.mean_watts @ tariff.by_minute()) / 60_000


def cost_per_month(profile: LoadProfile, tariff: Tariff) -> float:
    """Return what the energy of a month of 365/12 such days costs.

    Parameters
    ----------
    profile : LoadProfile
    tariff : Tariff

    Returns
    -------
    float
        [currency/month]
    """
    return cost_per_day(profile, tariff) * DAYS_PER_MONTH
