"""Lines of equal value over a grid of cells, and finer grids between them.

What the values mean is the caller's affair; the light map draws the edges of the wanted range
with these.
"""

from __future__ import annotations

import numpy as np

from core.light.given import Floats

# Case of a square (bit 1 lower left, 2 lower right, 4 upper right, 8 upper left is above the
# level) -> pairs of sides that a line crosses; sides: 0 lower, 1 right, 2 upper, 3 left.
_SIDES: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),),
    2: ((0, 1),),
    3: ((3, 1),),
    4: ((1, 2),),
    5: ((3, 2), (0, 1)),
    6: ((0, 2),),
    7: ((3, 2),),
    8: ((2, 3),),
    9: ((0, 2),),
    10: ((3, 0), (1, 2)),
    11: ((1, 2),),
    12: ((1, 3),),
    13: ((0, 1),),
    14: ((3, 0),),
}


def refined(values: Floats, factor: int) -> Floats:
    """Return a grid with ``factor`` times as many cells each way, linear between the centres.

    Cells beyond the outermost centres keep the outermost values.

    Parameters
    ----------
    values : ndarray, shape (rows, columns)
    factor : int

    Returns
    -------
    ndarray, shape (rows * factor, columns * factor)
    """
    rows, columns = values.shape
    wide = _between(values, columns, factor)
    return _between(wide.T, rows, factor).T


def _between(values: Floats, count: int, factor: int) -> Floats:
    """Return the values at ``factor`` places in each cell along the last axis."""
    at = (np.arange(count * factor) + 0.5) / factor - 0.5
    at = np.clip(at, 0, count - 1)
    low = np.minimum(at.astype(int), max(0, count - 2))
    share = at - low
    high = np.minimum(low + 1, count - 1)
    return np.asarray(values[:, low] * (1 - share) + values[:, high] * share)


def blocks(values: Floats, columns: int, rows: int) -> Floats:
    """Return the means over at most ``rows`` × ``columns`` blocks of cells."""
    have_rows, have_columns = values.shape
    ys = np.linspace(0, have_rows, min(rows, have_rows) + 1).astype(int)[:-1]
    xs = np.linspace(0, have_columns, min(columns, have_columns) + 1).astype(int)[:-1]
    sums = np.add.reduceat(np.add.reduceat(values, ys, axis=0), xs, axis=1)
    counts = np.outer(np.diff([*ys, have_rows]), np.diff([*xs, have_columns]))
    return np.asarray(sums / counts)


def contour(x: Floats, y: Floats, values: Floats, level: float) -> Floats:
    """Return the line where the values pass ``level``, as straight pieces (marching squares).

    Parameters
    ----------
    x, y : ndarray
        Places of the columns and rows, rising.
    values : ndarray, shape (rows, columns)
    level : float

    Returns
    -------
    ndarray, shape (pieces, 2, 2)
        Ends of each piece, (x, y).
    """
    above = values > level
    case = above[:-1, :-1] * 1 + above[:-1, 1:] * 2 + above[1:, 1:] * 4 + above[1:, :-1] * 8
    pieces = [np.zeros((0, 2, 2))]
    for number, sides in _SIDES.items():
        rows, columns = np.nonzero(case == number)
        for first, second in sides:
            ends = [_crossing(x, y, values, level, rows, columns, side) for side in (first, second)]
            pieces.append(np.stack(ends, axis=1))
    return np.concatenate(pieces)


def _crossing(
    x: Floats,
    y: Floats,
    values: Floats,
    level: float,
    rows: np.ndarray[tuple[int], np.dtype[np.intp]],
    columns: np.ndarray[tuple[int], np.dtype[np.intp]],
    side: int,
) -> Floats:
    """Return where a side of each square crosses the level, linear between its ends."""
    corners = (((0, 0), (0, 1)), ((0, 1), (1, 1)), ((1, 0), (1, 1)), ((0, 0), (1, 0)))[side]
    (r0, c0), (r1, c1) = corners
    v0, v1 = values[rows + r0, columns + c0], values[rows + r1, columns + c1]
    share = (level - v0) / (v1 - v0)
    x0, x1 = x[columns + c0], x[columns + c1]
    y0, y1 = y[rows + r0], y[rows + r1]
    return np.stack([x0 + share * (x1 - x0), y0 + share * (y1 - y0)], axis=1)


Point = tuple[float, float]


def joined(pieces: Floats) -> list[Floats]:
    """Return straight pieces put together into lines, the longest first.

    Parameters
    ----------
    pieces : ndarray, shape (pieces, 2, 2)
        As from `contour`: pieces that follow each other share an end.

    Returns
    -------
    list of ndarray, each of shape (points, 2)
        A closed line ends where it began.
    """
    pairs = [(_point(first), _point(second)) for first, second in pieces.tolist()]
    ends = [(first, second) for first, second in pairs if first != second]
    meeting: dict[Point, list[int]] = {}
    for number, pair in enumerate(ends):
        for end in pair:
            meeting.setdefault(end, []).append(number)
    left = dict.fromkeys(range(len(ends)))
    found = []
    while left:
        first, second = ends[left.popitem()[0]]
        behind, ahead = (_followed(end, ends, meeting, left) for end in (first, second))
        found.append(np.array([*reversed(behind), *ahead]))
    return sorted(found, key=length, reverse=True)


def _point(at: list[float]) -> Point:
    # Two squares reach a common side by the same sum in another order.
    return round(at[0], 9), round(at[1], 9)


def _followed(
    start: Point,
    ends: list[tuple[Point, Point]],
    meeting: dict[Point, list[int]],
    left: dict[int, None],
) -> list[Point]:
    """Return the points from an end onwards, taking the pieces that follow out of ``left``."""
    line = [start]
    while (number := next((n for n in meeting[line[-1]] if n in left), None)) is not None:
        del left[number]
        first, second = ends[number]
        line.append(second if first == line[-1] else first)
    return line


def length(line: Floats) -> float:
    """Return the length of a line through points."""
    return float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())


def along(line: Floats, share: float) -> Point:
    """Return the point at a share of the way along a line through points."""
    steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
    way = np.concatenate([[0.0], np.cumsum(steps)])
    at = share * way[-1]
    return float(np.interp(at, way, line[:, 0])), float(np.interp(at, way, line[:, 1]))
