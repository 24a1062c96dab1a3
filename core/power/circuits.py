"""What a circuit and its breaker may carry, and how many devices it can start at once.

Electrical practice is given as numbers (a factor on continuous load, a row of standard sizes)
because the grower may edit them; local code and a licensed electrician decide.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from core.arguments import not_negative, positive
from core.errors import InputError, complaint
from core.power.profile import LoadProfile

NORTH_AMERICAN_FACTOR = 1.25
"""Continuous load counts 1.25 times: NEC 210.19(A), 210.20(A)."""

OTHER_FACTOR = 1.0
"""Elsewhere the plain sum of currents is held against the breaker."""

NORTH_AMERICAN_BREAKERS = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175)
"""Standard ratings up to 175 A, NEC 240.6(A), from memory. [A]"""

OTHER_BREAKERS = (6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125)
"""Preferred ratings of IEC 60898-1, from memory. [A]"""

MAGNETIC_TRIP = {"B": 3.0, "C": 5.0, "D": 10.0}
"""Lower limit of instant tripping over rated current, by breaker type: IEC 60898-1, from memory."""

# Sums of currents that are exact on paper differ in the last bits as floats.
_ROUNDING = 1e-9


class ContinuousLoad(NamedTuple):
    """The two parts of the load that decide a breaker, at the minute that decides it."""

    continuous_a: float
    """Current that lasts three hours or more. [A]"""
    other_a: float
    """The rest of the current at that minute. [A]"""
    minute: int
    """Minute of the day."""


def breaker_size(
    continuous_a: float,
    other_a: float,
    *,
    factor: float = NORTH_AMERICAN_FACTOR,
    sizes: Sequence[float] = NORTH_AMERICAN_BREAKERS,
) -> tuple[float, float]:
    """Return the least breaker rating for a load, and the standard one that covers it.

    Parameters
    ----------
    continuous_a, other_a : float
        Current of the continuous load (three hours or more) and of the rest. [A]
    factor : float
        What the continuous part is multiplied by: 1.25 in North America, 1.0 elsewhere.
    sizes : sequence of float
        Standard ratings. [A]

    Returns
    -------
    minimum_a, standard_a : float
        ``standard_a`` is infinite when no standard size is large enough. [A]

    Raises
    ------
    InputError
        If a current is negative or not finite, or ``factor`` is not above 0.

    References
    ----------
    .. [1] National Electrical Code (NFPA 70), 210.19(A), 210.20(A) and 240.6(A).
    """
    not_negative("Circuit", "continuous current", continuous_a, "A")
    not_negative("Circuit", "other current", other_a, "A")
    positive("Circuit", "factor on continuous load", factor)
    minimum = factor * continuous_a + other_a
    enough = [size for size in sizes if minimum <= size * (1 + _ROUNDING)]
    return minimum, float(min(enough, default=math.inf))


def continuous_capacity(
    breaker_a: float,
    voltage: float,
    other_a: float = 0.0,
    *,
    factor: float = NORTH_AMERICAN_FACTOR,
) -> float:
    """Return the apparent power that may run continuously on a breaker.

    Parameters
    ----------
    breaker_a : float
        Rating. [A]
    voltage : float
        [V]
    other_a : float
        Current of loads on the same circuit that last less than three hours. [A]
    factor : float
        What the continuous part is multiplied by: 1.25 in North America, 1.0 elsewhere.

    Returns
    -------
    float
        0 when the other loads alone fill the breaker. [VA]

    Raises
    ------
    InputError
        If a number is negative or not finite, or ``voltage`` or ``factor`` is 0.

    References
    ----------
    .. [1] National Electrical Code (NFPA 70), 210.20(A).
    """
    not_negative("Circuit", "breaker rating", breaker_a, "A")
    positive("Circuit", "voltage", voltage, "V")
    not_negative("Circuit", "other current", other_a, "A")
    positive("Circuit", "factor on continuous load", factor)
    return max(0.0, breaker_a - other_a) / factor * voltage


def appliance_limit(breaker_a: float, *, fixed: bool = False) -> float:
    """Return the current one appliance may draw on a circuit it shares.

    Parameters
    ----------
    breaker_a : float
        Rating. [A]
    fixed : bool
        True for equipment fastened in place (all of it together 50 %), False for one appliance
        on a plug (80 %).

    Returns
    -------
    float
        [A]

    Raises
    ------
    InputError
        If ``breaker_a`` is negative or not finite.

    References
    ----------
    .. [1] National Electrical Code (NFPA 70), 210.23(A).
    """
    not_negative("Circuit", "breaker rating", breaker_a, "A")
    return breaker_a * (0.5 if fixed else 0.8)


def continuous_load(
    profile: LoadProfile, *, factor: float = NORTH_AMERICAN_FACTOR
) -> ContinuousLoad:
    """Return the continuous and the other current at the minute that asks most of a breaker.

    Continuous is the greater of two readings of "three hours or more", so that neither misses
    a load: the devices whose own timer keeps them on for 180 minutes on end, and the level which
    the sum never leaves for 180 minutes on end (two devices that relieve each other). Devices
    behind a thermostat count in full for as long as their timer lets them run, which is the safe
    side. Each minute is weighed as ``factor`` x continuous + other, and the heaviest is returned,
    ready for `breaker_size`.

    Parameters
    ----------
    profile : LoadProfile
        Load of everything on the circuit.
    factor : float
        What the continuous part is multiplied by.

    Returns
    -------
    ContinuousLoad
        [A], [A], minute of the day

    Raises
    ------
    InputError
        If ``factor`` is not above 0.

    References
    ----------
    .. [1] National Electrical Code (NFPA 70), article 100, "continuous load".
    """
    positive("Circuit", "factor on continuous load", factor)
    other = profile.va - profile.continuous_va
    minute = int(np.argmax(factor * profile.continuous_va + other))
    continuous_a = float(profile.continuous_va[minute]) / profile.voltage
    return ContinuousLoad(continuous_a, float(other[minute]) / profile.voltage, minute)


def inrush_count(
    breaker_a: float, inrush_a: float, curve: str = "B", *, maker_count: int | None = None
) -> int:
    """Return how many equal devices can be switched on at once without tripping a breaker.

    Parameters
    ----------
    breaker_a : float
        Rating. [A]
    inrush_a : float
        Peak inrush of one device. [A]
    curve : {"B", "C", "D"}
        Type of the breaker.
    maker_count : int, optional
        The maker's own count for this breaker, which is returned where it is known.

    Returns
    -------
    int

    Raises
    ------
    InputError
        If a number is not above 0 or ``curve`` is unknown.

    References
    ----------
    .. [1] IEC 60898-1, lower limits of instantaneous tripping (from memory).
    """
    if maker_count is not None:
        not_negative("Circuit", "maker's count per breaker", maker_count)
        return maker_count
    positive("Circuit", "breaker rating", breaker_a, "A")
    positive("Circuit", "inrush", inrush_a, "A")
    if curve not in MAGNETIC_TRIP:
        way_out = "enter one of " + ", ".join(MAGNETIC_TRIP)
        raise InputError(complaint("Circuit", "breaker type", curve, "is not known", way_out))
    return math.floor(breaker_a * MAGNETIC_TRIP[curve] / inrush_a * (1 + _ROUNDING))
