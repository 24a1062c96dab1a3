"""The fourteen days to come: when each container is refilled, and how full it is in between.

All are full today, and each is refilled in the whole days that it is expected to last.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.water.use import Supply

DAYS = 14
PER_DAY = 24
"""Steps of a day in which levels are told."""

Series = NDArray[np.float64]


@dataclass(frozen=True)
class Refill:
    """One day's refills. ``volume`` is what they take, as it is expected. [m³]"""

    day: int
    ids: tuple[str, ...]
    names: tuple[str, ...]
    volume: float


@dataclass(frozen=True, eq=False)
class Fortnight:
    """Levels and refills of the fourteen days to come.

    Attributes
    ----------
    emptiest : ndarray, shape (14 × 24 + 1,)
        Share left in the emptiest container, 0 to 1, hour by hour.
    at_worst : ndarray, shape (14 × 24 + 1,)
        The same if all used as much as they may.
    refills : tuple of Refill
        The first soonest.
    """

    emptiest: Series
    at_worst: Series
    refills: tuple[Refill, ...]


def refill_days(supply: Supply) -> int | None:
    """Return the whole days after which a container is refilled; None where it lasts for ever."""
    if supply.days is None or not math.isfinite(supply.days.value):
        return None
    return max(1, math.floor(supply.days.value + 1e-9))


def fortnight(supplies: Sequence[Supply]) -> Fortnight | None:
    """Return the fourteen days to come; None where nothing uses water."""
    every = {s.id: days for s in supplies if (days := refill_days(s)) is not None}
    used = [s for s in supplies if s.id in every]
    if not used:
        return None
    hours = np.arange(DAYS * PER_DAY + 1)
    expected = [_level(hours, every[s.id], s.days.value) for s in used if s.days]
    worst = [_level(hours, every[s.id], s.days.low) for s in used if s.days]
    return Fortnight(
        np.minimum.reduce(expected), np.minimum.reduce(worst), tuple(_refills(used, every))
    )


def _level(hours: NDArray[np.int64], every: int, lasts: float) -> Series:
    """Return the share left hour by hour; at the hour of a refill as it was just before."""
    since = (hours - 1) % (every * PER_DAY) + 1
    since[0] = 0
    return np.maximum(0.0, 1.0 - since / PER_DAY / max(lasts, 1 / PER_DAY / 60))


def _refills(used: Sequence[Supply], every: dict[str, int]) -> list[Refill]:
    found = []
    for day in range(1, DAYS + 1):
        due = [s for s in used if day % every[s.id] == 0]
        if due:
            volume = sum(min(s.volume, s.per_day * every[s.id]) for s in due)
            names = tuple(s.name for s in due)
            found.append(Refill(day, tuple(s.id for s in due), names, volume))
    return found
