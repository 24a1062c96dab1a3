"""Several openings that join the same two airs, as the one opening that exchanges as much.

Warm air leaves through the higher ones and cold air enters through the lower, which moves far
more than each by itself. What one opening moves is in `openings`; fans are not looked at here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.climate.openings import DISCHARGE, opening_flow
from core.constants import GRAVITY, KELVIN

BOTH_WAYS = 0.40
"""Discharge coefficient of an opening that passes as much out as in, see `opening_flow`."""

_AT = (22.0, 20.0)
"""Inside and outside temperature at which the one opening moves what the several do; it moves
1 % less at 1 K and 7 % more at 8 K. [°C]"""

_HALVINGS = 50
_FLAT = 1e-6


@dataclass(frozen=True)
class Slot:
    """An opening as buoyancy sees it: its area, its lower and its upper edge. [m², m, m]

    One that lies flat has both edges at one height.
    """

    area: float
    low: float
    high: float

    def passes(self, neutral: float) -> tuple[float, float]:
        """Return what goes out above a height and comes in below it, over √(g ΔT/T). [m^2.5]

        Inside and outside press alike at that height; from there the difference grows in a line.
        """
        if self.high - self.low < _FLAT:
            speed = math.sqrt(2 * abs(self.low - neutral))
            out, into = (speed, 0.0) if self.low > neutral else (0.0, speed)
            share = self.area
        else:
            out = max(self.high - neutral, 0.0) ** 1.5 - max(self.low - neutral, 0.0) ** 1.5
            into = max(neutral - self.low, 0.0) ** 1.5 - max(neutral - self.high, 0.0) ** 1.5
            share = 2 / 3 * math.sqrt(2) * self.area / (self.high - self.low)
        coefficient = _coefficient(out, into)
        return coefficient * share * out, coefficient * share * into


def _coefficient(out: float, into: float) -> float:
    """Return the discharge coefficient: lower the more two ways of flow hinder each other."""
    both = out + into
    one_way = abs(out - into) / both if both > 0 else 0.0
    return BOTH_WAYS + (DISCHARGE - BOTH_WAYS) * one_way


def joined(slots: Sequence[Slot]) -> tuple[float, float]:
    """Return width and height of the one upright opening that exchanges as much as several.

    Parameters
    ----------
    slots : sequence of Slot
        At least one of them upright, or not all at one height.

    Returns
    -------
    width, height : float
        For `opening_flow`; the height is from the lowest edge to the highest. [m]

    References
    ----------
    .. [1] ASHRAE Handbook, Fundamentals, 1997, 25.13, equations 37 and 38 (from secondary
       copies): the neutral level lies so that as much enters as leaves.
    """
    low, high = min(slot.low for slot in slots), max(slot.high for slot in slots)
    height = high - low
    inside, outside = _AT
    moved = _exchanged(slots, low, high)
    moved *= math.sqrt(GRAVITY * (inside - outside) / (inside + KELVIN))
    return moved / opening_flow(1.0, height, inside, outside), height


def _exchanged(slots: Sequence[Slot], low: float, high: float) -> float:
    """Return what leaves, where as much enters, over √(g ΔT/T). [m^2.5]"""
    for _ in range(_HALVINGS):
        neutral = (low + high) / 2
        out, into = _through(slots, neutral)
        low, high = (neutral, high) if out > into else (low, neutral)
    return sum(_through(slots, (low + high) / 2)) / 2


def _through(slots: Sequence[Slot], neutral: float) -> tuple[float, float]:
    passed = [slot.passes(neutral) for slot in slots]
    return sum(out for out, _ in passed), sum(into for _, into in passed)
