"""Refuse numbers that an engine cannot use, with a message in the house form.

Ranges that follow from a design live in the model and in the findings; here are only the rules of
a single argument: finite, not negative, above zero, between two ends.
"""

from __future__ import annotations

import math
from typing import TypeGuard

import numpy as np
from numpy.typing import NDArray

from core.errors import InputError, complaint

Numbers = float | NDArray[np.float64]


def _plain(value: Numbers) -> TypeGuard[float]:
    """Tell whether a value is one finite number, which most are and which needs no arrays."""
    return isinstance(value, float | int) and math.isfinite(value)


def finite(thing: str, quantity: str, value: Numbers, unit: str = "") -> None:
    """Raise InputError unless every number in ``value`` is finite."""
    if _plain(value):
        return
    numbers = _as_numbers(thing, quantity, value)
    bad = ~np.isfinite(numbers)
    _refuse(thing, quantity, numbers, bad, unit, "must be a finite number", "enter a number")


def not_negative(thing: str, quantity: str, value: Numbers, unit: str = "") -> None:
    """Raise InputError unless every number in ``value`` is finite and 0 or more."""
    if _plain(value) and value >= 0:
        return
    finite(thing, quantity, value, unit)
    numbers = np.asarray(value, dtype=float)
    _refuse(thing, quantity, numbers, numbers < 0, unit, "must not be negative", "enter 0 or more")


def positive(thing: str, quantity: str, value: Numbers, unit: str = "") -> None:
    """Raise InputError unless every number in ``value`` is finite and above 0."""
    if _plain(value) and value > 0:
        return
    finite(thing, quantity, value, unit)
    numbers = np.asarray(value, dtype=float)
    _refuse(thing, quantity, numbers, numbers <= 0, unit, "must be above 0", "enter more than 0")


def within(
    thing: str, quantity: str, value: Numbers, low: float, high: float, unit: str = ""
) -> None:
    """Raise InputError unless every number in ``value`` lies between ``low`` and ``high``."""
    if _plain(value) and low <= value <= high:
        return
    finite(thing, quantity, value, unit)
    numbers = np.asarray(value, dtype=float)
    outside = (numbers < low) | (numbers > high)
    rule = f"must be from {_shown(low, unit)} to {_shown(high, unit)}"
    _refuse(thing, quantity, numbers, outside, unit, rule, "enter a value in this range")


def above_zero_to_one(thing: str, quantity: str, value: Numbers) -> None:
    """Raise InputError unless every number in ``value`` is a fraction above 0 and up to 1."""
    positive(thing, quantity, value)
    within(thing, quantity, value, 0.0, 1.0)


def _as_numbers(thing: str, quantity: str, value: Numbers) -> NDArray[np.float64]:
    try:
        return np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        message = complaint(thing, quantity, repr(value), "must be a number", "enter a number")
        raise InputError(message) from None


def _refuse(
    thing: str,
    quantity: str,
    numbers: NDArray[np.float64],
    bad: NDArray[np.bool_],
    unit: str,
    rule: str,
    way_out: str,
) -> None:
    if np.any(bad):
        first = float(np.atleast_1d(numbers)[np.atleast_1d(bad)][0])
        raise InputError(complaint(thing, quantity, _shown(first, unit), rule, way_out))


def _shown(value: float, unit: str) -> str:
    return f"{value:g} {unit}".rstrip().replace("-", "−", 1)
