"""Where a person can stand inside: free squares of floor that connect to a way in.

Exact for upright boxes: the arrangement of their edges is searched, not a grid.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.geometry import TOUCH, Rectangle

Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]


@lru_cache(maxsize=16)
def standing_areas(
    floor: Rectangle,
    blocked: tuple[Rectangle, ...],
    entries: tuple[Rectangle, ...],
    size: float,
) -> tuple[Rectangle, ...]:
    """Return rectangles that together are all the floor a person may take up.

    Parameters
    ----------
    floor : Rectangle
        All there is. [m]
    blocked : tuple of Rectangle
        What stands on it. [m]
    entries : tuple of Rectangle
        Lines on the floor's edge through which one walks in. [m]
    size : float
        Side of the square a person takes. [m]

    Returns
    -------
    tuple of Rectangle
        Empty where no square of that size can be reached from an entry. [m]
    """
    if floor.width < size - TOUCH or floor.height < size - TOUCH:
        return ()
    xs = _stops(floor.x0, floor.x1 - size, [(b.x0 - size, b.x1) for b in blocked])
    ys = _stops(floor.y0, floor.y1 - size, [(b.y0 - size, b.y1) for b in blocked])
    free = _free(xs, ys, blocked, size)
    start = free & _beside(xs, ys, entries, size)
    return tuple(_areas(_connected(start, free), xs, ys, size))


def _stops(low: float, high: float, spans: Sequence[tuple[float, float]]) -> Floats:
    """Return the places where something begins or ends, and the middles between them."""
    ends = np.array([low, high, *(end for span in spans for end in span)])
    ends = np.unique(np.clip(ends, low, max(low, high)))
    middles = (ends[:-1] + ends[1:]) / 2
    return np.sort(np.concatenate([ends, middles]))


def _free(xs: Floats, ys: Floats, blocked: Sequence[Rectangle], size: float) -> Bools:
    """Tell at which lower left corners the square meets nothing, shape (x, y)."""
    free = np.ones((len(xs), len(ys)), dtype=bool)
    for area in blocked:
        across = (xs > area.x0 - size + TOUCH) & (xs < area.x1 - TOUCH)
        along = (ys > area.y0 - size + TOUCH) & (ys < area.y1 - TOUCH)
        free &= ~(across[:, None] & along[None])
    return free


def _beside(xs: Floats, ys: Floats, entries: Sequence[Rectangle], size: float) -> Bools:
    """Tell at which corners the square touches a way in over more than a point."""
    found = np.zeros((len(xs), len(ys)), dtype=bool)
    for line in entries:
        wide = line.width > line.height
        across = _meets(xs, line.x0, line.x1, size, inner=wide)
        along = _meets(ys, line.y0, line.y1, size, inner=not wide)
        found |= across[:, None] & along[None]
    return found


def _meets(at: Floats, low: float, high: float, size: float, *, inner: bool) -> Bools:
    slack = -TOUCH if inner else TOUCH
    return (at < high + slack) & (at + size > low - slack)


def _connected(start: Bools, free: Bools) -> Bools:
    """Grow ``start`` over all that is free beside it, step by step."""
    seen = start
    while True:
        grown = seen.copy()
        grown[1:] |= seen[:-1]
        grown[:-1] |= seen[1:]
        grown[:, 1:] |= seen[:, :-1]
        grown[:, :-1] |= seen[:, 1:]
        grown &= free
        if (grown == seen).all():
            return seen
        seen = grown


def _areas(found: Bools, xs: Floats, ys: Floats, size: float) -> list[Rectangle]:
    """Return what the squares cover, row by row; each middle stands for all up to its ends."""
    areas = []
    for j in range(len(ys)):
        low, high = ys[j - j % 2], ys[j + j % 2]
        for first, last in _runs(found[:, j]):
            left, right = xs[first - first % 2], xs[last + last % 2]
            areas.append(_area(left, low, right + size, high + size))
    return [a for a in areas if not any(b != a and b.contains(a) for b in areas)]


def _area(x0: float, y0: float, x1: float, y1: float) -> Rectangle:
    return Rectangle(float(x0), float(y0), float(x1), float(y1))


def _runs(row: Bools) -> list[tuple[int, int]]:
    """Return first and last index of each stretch that holds."""
    steps = np.diff(np.concatenate([[False], row, [False]]).astype(int))
    return list(zip(np.flatnonzero(steps == 1), np.flatnonzero(steps == -1) - 1, strict=True))
