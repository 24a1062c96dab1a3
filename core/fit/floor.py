"""Where a person can stand: free squares of floor that connect to a way in, and ways over them.

Exact for upright boxes: the arrangement of their edges is searched, not a grid.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.geometry import TOUCH, Rectangle

Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]
Spot = tuple[float, float]
Cell = tuple[int, int]

_STEPS = 41


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


@lru_cache(maxsize=16)
def way(
    floor: Rectangle,
    blocked: tuple[Rectangle, ...],
    entries: tuple[Rectangle, ...],
    size: float,
    target: Rectangle,
) -> tuple[Spot, ...]:
    """Return where the middle of a square goes from an entry to a line, corner by corner.

    The shortest way along the edges of what stands there, cut short where floor is free; empty
    where there is none. Parameters as `standing_areas`. [m]
    """
    if floor.width < size - TOUCH or floor.height < size - TOUCH:
        return ()
    xs = _stops(floor.x0, floor.x1 - size, [(b.x0 - size, b.x1) for b in (*blocked, target)])
    ys = _stops(floor.y0, floor.y1 - size, [(b.y0 - size, b.y1) for b in (*blocked, target)])
    free = _free(xs, ys, blocked, size)
    start = free & _beside(xs, ys, entries, size)
    cells = _shortest(xs, ys, free, start, free & _beside(xs, ys, (target,), size))
    spots = [(float(xs[i]), float(ys[j])) for i, j in cells]
    return tuple((x + size / 2, y + size / 2) for x, y in _cut_short(spots, blocked, size))


def _shortest(xs: Floats, ys: Floats, free: Bools, start: Bools, goal: Bools) -> list[Cell]:
    """Return the cells of the shortest way over free ones (Dijkstra, 1959)."""
    came: dict[Cell, Cell | None] = {}
    queue: list[tuple[float, Cell, Cell | None]] = [
        (0.0, (int(i), int(j)), None) for i, j in np.argwhere(start)
    ]
    heapq.heapify(queue)
    while queue:
        so_far, cell, before = heapq.heappop(queue)
        if cell in came:
            continue
        came[cell] = before
        if goal[cell]:
            return _traced(came, cell)
        for i, j in _neighbours(cell, free):
            step = abs(xs[i] - xs[cell[0]]) + abs(ys[j] - ys[cell[1]])
            heapq.heappush(queue, (so_far + float(step), (i, j), cell))
    return []


def _neighbours(cell: Cell, free: Bools) -> Iterator[Cell]:
    for di, dj in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        i, j = cell[0] + di, cell[1] + dj
        if 0 <= i < free.shape[0] and 0 <= j < free.shape[1] and free[i, j]:
            yield i, j


def _traced(came: dict[Cell, Cell | None], end: Cell) -> list[Cell]:
    cells: list[Cell] = []
    here: Cell | None = end
    while here is not None:
        cells.append(here)
        here = came[here]
    return cells[::-1]


def _cut_short(spots: list[Spot], blocked: Sequence[Rectangle], size: float) -> list[Spot]:
    """Leave out every corner of a way past which one can go straight."""
    kept = spots[:1]
    at = 0
    while at < len(spots) - 1:
        ahead = range(len(spots) - 1, at, -1)
        at = next((k for k in ahead if _straight(spots[at], spots[k], blocked, size)), at + 1)
        kept.append(spots[at])
    return kept


def _straight(a: Spot, b: Spot, blocked: Sequence[Rectangle], size: float) -> bool:
    """Tell whether a square meets nothing on the straight line between two places."""
    shares = np.linspace(0.0, 1.0, _STEPS)
    xs, ys = a[0] + shares * (b[0] - a[0]), a[1] + shares * (b[1] - a[1])
    return not any(
        bool(
            (
                (xs > area.x0 - size + TOUCH)
                & (xs < area.x1 - TOUCH)
                & (ys > area.y0 - size + TOUCH)
                & (ys < area.y1 - TOUCH)
            ).any()
        )
        for area in blocked
    )


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
