"""Checks of what callers hand to the light engine, with complaints in the house form.

Nothing here computes light; each function returns the checked value in plain floats.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from core.errors import InputError, complaint
from core.language import tr

Vector = tuple[float, float, float]
Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]
Flags = NDArray[np.bool]


def number(thing: str, quantity: str, value: Any, unit: str = "") -> float:
    """Return ``value`` as a finite float, else raise InputError."""
    try:
        result = float(value)
    except (TypeError, ValueError):
        result = math.nan
    if not math.isfinite(result):
        raise refusal(thing, quantity, value, unit, tr("must be a number"), tr("enter a number"))
    return result


def not_negative(thing: str, quantity: str, value: Any, unit: str = "") -> float:
    """Return ``value`` as a float that is zero or more."""
    result = number(thing, quantity, value, unit)
    if result < 0:
        rule, way_out = tr("must not be negative"), tr("enter 0 or more")
        raise refusal(thing, quantity, value, unit, rule, way_out)
    return result


def positive(thing: str, quantity: str, value: Any, unit: str = "") -> float:
    """Return ``value`` as a float above zero."""
    result = number(thing, quantity, value, unit)
    if result <= 0:
        rule, way_out = tr("must be above zero"), tr("enter more than 0")
        raise refusal(thing, quantity, value, unit, rule, way_out)
    return result


def within(thing: str, quantity: str, value: Any, low: float, high: float, unit: str = "") -> float:
    """Return ``value`` as a float from ``low`` to ``high``."""
    result = number(thing, quantity, value, unit)
    if not low <= result <= high:
        rule = tr("must lie between {low} and {high}").format(low=f"{low:g}", high=f"{high:g}")
        raise refusal(thing, quantity, value, unit, rule, tr("enter a value in this range"))
    return result


def vector(thing: str, quantity: str, value: Iterable[Any], unit: str = "m") -> Vector:
    """Return three finite floats."""
    x, y, z = _floats(thing, quantity, value, 3, unit)
    return x, y, z


def size(thing: str, value: Iterable[Any]) -> tuple[float, float]:
    """Return the two side lengths of a lamp, zero or more. [m]"""
    across, along = _floats(thing, tr("size"), value, 2, "m")
    not_negative(thing, tr("size"), across, "m")
    not_negative(thing, tr("size"), along, "m")
    return across, along


def rows_of_three(thing: str, quantity: str, value: Any) -> Floats:
    """Return ``value`` as an array of shape (n, 3) of finite floats."""
    try:
        result = np.atleast_2d(np.asarray(value, dtype=np.float64))
    except (TypeError, ValueError):
        result = np.empty((0, 0))
    if result.ndim != 2 or result.shape[1] != 3 or not np.isfinite(result).all():
        rule = tr("must be rows of three numbers")
        raise refusal(thing, quantity, np.shape(value), "", rule, tr("give shape (n, 3)"))
    return result


def refusal(
    thing: str, quantity: str, value: object, unit: str, rule: str, way_out: str
) -> InputError:
    """Return the InputError for ``value``, told in the house form."""
    return InputError(complaint(thing, quantity, f"{value} {unit}".rstrip(), rule, way_out))


def _floats(
    thing: str, quantity: str, value: Iterable[Any], count: int, unit: str
) -> tuple[float, ...]:
    try:
        result = tuple(float(part) for part in value)
    except (TypeError, ValueError):
        result = ()
    if len(result) != count or not all(math.isfinite(part) for part in result):
        rule = tr("must be {count} numbers").format(count=count)
        raise refusal(thing, quantity, value, unit, rule, tr("enter all of them"))
    return result
