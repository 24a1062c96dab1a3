"""Rigid things on their way in: round a corner between two corridors, and tilted upright.

Where things stand once they are in is not asked here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import lru_cache

from core.arguments import not_negative, positive

_GOLDEN = (math.sqrt(5) - 1) / 2
# Each step keeps 0.618 of the interval: 80 leave 2e-17 of a right angle.
_STEPS = 80


@lru_cache(maxsize=512)
def widest_round_corner(a: float, b: float, thickness: float = 0.0) -> float:
    """Return the longest rigid panel that goes level round a right-angled corner.

    Parameters
    ----------
    a, b : float
        Clear widths of the two corridors. [m]
    thickness : float
        Of the panel. [m]

    Returns
    -------
    float
        Least over the angle θ of a/sin θ + b/cos θ - t (tan θ + cot θ), which is
        (a^⅔ + b^⅔)^1.5 for a thin panel; 0 when it is too thick for one of the corridors. [m]

    Raises
    ------
    InputError
        If a width is not above 0 or ``thickness`` is negative.
    """
    positive("Corridor", "width", a, "m")
    positive("Corridor", "width", b, "m")
    not_negative("Panel", "thickness", thickness, "m")
    if thickness >= min(a, b):
        return 0.0

    def longest_at(angle: float) -> float:
        sine, cosine = math.sin(angle), math.cos(angle)
        return (a * cosine + b * sine - thickness) / (sine * cosine)

    return _least(longest_at, 1e-9, math.pi / 2 - 1e-9)


@lru_cache(maxsize=512)
def round_corner(
    size: tuple[float, float, float], before: float, after: float, ceiling: float
) -> tuple[float, float]:
    """Return how long a box is on its best way round a corner, and how long it may be there.

    It is carried on any of its sides, level or with one end raised as far as the ceiling lets it;
    it goes round where the first is at most the second.

    Parameters
    ----------
    size : tuple of float
        Of the box. [m]
    before, after : float
        Clear widths of the two corridors. [m]
    ceiling : float
        Their height. [m]

    Returns
    -------
    tuple of float
        Length seen from above, and `widest_round_corner` for its thickness then; the limit is 0
        where it is too thick for a corridor however it is held below the ceiling. [m]

    Raises
    ------
    InputError
        As `widest_round_corner`.
    """
    ways = [
        (length, limit)
        for thickness, long, high in (size, (size[1], size[0], size[2]), (size[2], *size[:2]))
        if (limit := widest_round_corner(before, after, thickness)) > 0
        for length in _raised(long, high, ceiling)
    ]
    return max(ways, key=lambda way: way[1] - way[0], default=(max(size), 0.0))


def _raised(long: float, high: float, ceiling: float) -> Iterator[float]:
    """Iterate over how long a side-on box is from above, at every turn that may be its shortest.

    Raised by φ it is l cos φ + h sin φ long and l sin φ + h cos φ high. The length is a single
    hump over 0 to 90 degrees, so it is least where the box lies, stands, or meets the ceiling.
    """
    diagonal, start = math.hypot(long, high), math.atan2(high, long)
    turns = [0.0, math.pi / 2]
    if diagonal > ceiling:
        meets = math.asin(ceiling / diagonal)
        turns += [meets - start, math.pi - meets - start]
    for turn in turns:
        within = -1e-12 <= turn <= math.pi / 2 + 1e-12
        if within and long * math.sin(turn) + high * math.cos(turn) <= ceiling + 1e-9:
            yield long * math.cos(turn) + high * math.sin(turn)


def tilt_height(height: float, depth: float) -> float:
    """Return the ceiling needed to tilt a lying unit upright.

    Parameters
    ----------
    height, depth : float
        Of the unit as it stands, seen from the side it turns about. [m]

    Returns
    -------
    float
        √(h² + d²). [m]

    Raises
    ------
    InputError
        If a size is negative or not finite.
    """
    not_negative("Unit", "height", height, "m")
    not_negative("Unit", "depth", depth, "m")
    return math.hypot(height, depth)


def _least(function: Callable[[float], float], low: float, high: float) -> float:
    """Return the least value of a function with one valley, by golden section."""
    for _ in range(_STEPS):
        reach = _GOLDEN * (high - low)
        left, right = high - reach, low + reach
        if function(left) < function(right):
            high = right
        else:
            low = left
    return function((low + high) / 2)
