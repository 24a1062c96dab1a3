"""What a set of timed devices draws in each minute of the day.

Limits of circuits are in `core.power.circuits`, prices in `core.power.energy`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.arguments import above_zero_to_one, not_negative, positive, within

MINUTES = 1440
"""Minutes in a day."""

DAYS_PER_MONTH = 365 / 12
"""Days in a mean month."""

CONTINUOUS_MINUTES = 180
"""A load that lasts this long counts as continuous (NEC article 100: three hours or more)."""

FloatSeries = NDArray[np.float64]
Periods = tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Device:
    """One thing that draws power by a timer.

    Attributes
    ----------
    name : str
        What messages call it.
    watts : float
        Real power while on. [W]
    power_factor : float
        Real over apparent power, above 0 and up to 1.
    on, off : int
        Minutes of the day, 0 to 1440. Equal means all day; ``off`` before ``on`` runs past
        midnight.
    duty : float
        Share of its timed hours that a thermostat or humidistat keeps it running, 0 to 1. It
        counts in full for the peak and by this share for energy.
    periods : tuple of (on, off), optional
        Several periods of the day; when given they take the place of ``on`` and ``off``, and
        ``()`` is never on.
    ramp : float
        Minutes of sunrise after each switch-on and of sunset before each switch-off, over which
        power rises and falls in a straight line; none when on all day. [min]

    Raises
    ------
    InputError
        If a number is outside the range given here.
    """

    name: str
    watts: float
    power_factor: float
    on: int
    off: int
    duty: float = 1.0
    periods: Periods | None = None
    ramp: float = 0.0

    def __post_init__(self) -> None:
        thing = f"Device '{self.name}'"
        not_negative(thing, "power", self.watts, "W")
        above_zero_to_one(thing, "power factor", self.power_factor)
        within(thing, "duty", self.duty, 0.0, 1.0)
        within(thing, "ramp", self.ramp, 0.0, MINUTES, "min")
        for on, off in self.all_periods:
            within(thing, "switch-on", on, 0, MINUTES, "min")
            within(thing, "switch-off", off, 0, MINUTES, "min")

    @property
    def all_periods(self) -> Periods:
        """The periods (on, off) in which the timer has the device on. [min]"""
        return ((self.on, self.off),) if self.periods is None else self.periods

    def level(self) -> FloatSeries:
        """Return the share of full power in each minute of the day, shape (1440,); read only."""
        return level_of(self.all_periods, self.ramp)

    @property
    def apparent_power(self) -> float:
        """Apparent power while on. [VA]"""
        return self.watts / self.power_factor


@dataclass(frozen=True, eq=False)
class LoadProfile:
    """The load of a day, minute by minute.

    Attributes
    ----------
    voltage : float
        [V]
    watts, va : ndarray, shape (1440,)
        Real and apparent power with thermostatted devices at full power. [W], [VA]
    mean_watts : ndarray, shape (1440,)
        Real power with thermostatted devices at their duty; energy comes from this. [W]
    continuous_va : ndarray, shape (1440,)
        The part of ``va`` that lasts three hours or more, see
        `core.power.circuits.continuous_load`. [VA]
    """

    voltage: float
    watts: FloatSeries
    va: FloatSeries
    mean_watts: FloatSeries
    continuous_va: FloatSeries

    @property
    def peak_watts(self) -> float:
        """The greatest coincident real power. [W]"""
        return float(self.watts.max())

    @property
    def peak_va(self) -> float:
        """The greatest coincident apparent power. [VA]"""
        return float(self.va.max())

    @property
    def peak_current(self) -> float:
        """The greatest coincident current. [A]"""
        return self.peak_va / self.voltage

    @property
    def peak_minutes(self) -> NDArray[np.int64]:
        """The minutes of the day at which the apparent power is at its peak, ascending."""
        at_peak = self.va >= self.peak_va * (1 - 1e-9)
        return np.flatnonzero(at_peak)

    @property
    def peak_periods(self) -> Periods:
        """The same minutes as periods (on, off); a whole day is ``((0, 0),)``. [min]"""
        at_peak = np.zeros(MINUTES, dtype=bool)
        at_peak[self.peak_minutes] = True
        return periods_of(at_peak)

    @property
    def kwh_per_day(self) -> float:
        """Energy of the day. [kWh]"""
        return float(self.mean_watts.sum()) / 60_000

    @property
    def kwh_per_month(self) -> float:
        """Energy of a month of 365/12 days. [kWh]"""
        return self.kwh_per_day * DAYS_PER_MONTH


def load_profile(devices: Iterable[Device], voltage: float) -> LoadProfile:
    """Return the load of a day of some devices on one feed.

    Apparent powers are added as plain numbers, which is the safe side: currents of different
    power factor add to a little less.

    Parameters
    ----------
    devices : iterable of Device
    voltage : float
        [V]

    Returns
    -------
    LoadProfile

    Raises
    ------
    InputError
        If ``voltage`` is not above 0.
    """
    positive("Load", "voltage", voltage, "V")
    watts, va, mean_watts, continuous = np.zeros((4, MINUTES))
    for device in devices:
        level = device.level()
        apparent = device.apparent_power * level
        watts += device.watts * level
        va += apparent
        mean_watts += device.watts * device.duty * level
        continuous += device.apparent_power * lasting_level(device.all_periods, device.ramp)
    return LoadProfile(voltage, watts, va, mean_watts, continuous_part(continuous, va))


def continuous_part(lasting: FloatSeries, va: FloatSeries) -> FloatSeries:
    """Return the part of a load that lasts three hours or more.

    Parameters
    ----------
    lasting : ndarray, shape (1440,)
        Load of the devices that are on for that long by themselves. [VA]
    va : ndarray, shape (1440,)
        Load of all devices. [VA]

    Returns
    -------
    ndarray, shape (1440,)
        [VA]
    """
    sustained = np.maximum(lasting, _sustained(va, CONTINUOUS_MINUTES))
    return np.minimum(sustained, va)


@lru_cache(maxsize=512)
def level_of(periods: Periods, ramp: float) -> FloatSeries:
    """Return the share of full power by the minute of a timer, shape (1440,); read only."""
    level = np.zeros(MINUTES)
    for on, off in periods:
        np.maximum(level, _period_level(on, off, ramp), out=level)
    level.setflags(write=False)
    return level


@lru_cache(maxsize=512)
def full_minutes(periods: Periods, ramp: float) -> float:
    """Return for how long full power would draw the energy of a timer's day. [min]"""
    return float(level_of(periods, ramp).sum())


@lru_cache(maxsize=512)
def lasting_level(periods: Periods, ramp: float) -> FloatSeries:
    """Return `level_of` where the timer is on for three hours or more on end, else 0."""
    level = level_of(periods, ramp)
    lasting = np.where(_lasting(level > 0), level, 0.0)
    lasting.setflags(write=False)
    return lasting


def periods_of(active: NDArray[np.bool_]) -> Periods:
    """Return the periods (on, off) in which ``active`` holds, across midnight where it does."""
    if active.all():
        return ((0, 0),)
    starts = np.flatnonzero(active & ~np.roll(active, 1))
    ends = np.flatnonzero(~active & np.roll(active, 1))
    if starts.size and ends[0] < starts[0]:
        ends = np.roll(ends, -1)
    return tuple(zip(starts.tolist(), ends.tolist(), strict=True))


def _period_level(on: int, off: int, ramp: float) -> FloatSeries:
    length = (off - on) % MINUTES
    if length == 0:
        return np.ones(MINUTES)
    since_on = (np.arange(MINUTES) - on) % MINUTES + 0.5
    lit = since_on < length
    if ramp == 0:
        return lit.astype(float)
    to_an_end = np.minimum(since_on, length - since_on)
    return np.where(lit, np.clip(to_an_end / ramp, 0.0, 1.0), 0.0)


def _lasting(active: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Keep of ``active`` the stretches that last `CONTINUOUS_MINUTES` or more."""
    return _sustained(active.astype(float), CONTINUOUS_MINUTES) > 0


def _sustained(series: FloatSeries, minutes: int) -> FloatSeries:
    """Return for each minute the highest level held for ``minutes`` on end that include it."""
    lowest = _over_window(np.minimum, series, minutes)
    return np.roll(_over_window(np.maximum, lowest, minutes), minutes - 1)


def _over_window(
    join: Callable[[FloatSeries, FloatSeries], FloatSeries], series: FloatSeries, minutes: int
) -> FloatSeries:
    """Return the least or greatest of each minute and the ``minutes - 1`` after it, round midnight.

    Windows are doubled until they are as long as wanted.
    """
    joined = np.concatenate([series, series[: minutes - 1]])
    span = 1
    while 2 * span <= minutes:
        joined = join(joined[:-span], joined[span:])
        span *= 2
    rest = minutes - span
    return join(joined[:-rest], joined[rest:]) if rest else joined
