"""Ways to cut one bar: the most valuable one, all of them, and a first plan by first fit.

Everything is in whole numbers, with the saw's kerf already added to pieces and bars; how often
each way is used is chosen in `core.materials.master`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Counts = tuple[int, ...]
"""How many pieces of each size are cut from one bar, in the order of the problem's sizes."""

WORTH = 1e-9
"""A pattern must be worth this much more than its bar to be taken. [1]"""


@dataclass(frozen=True)
class Bar:
    """One stock length of a problem.

    Attributes
    ----------
    room : int
        Its length and one kerf.
    cost : float
        Of one bar, in whatever is to be least.
    available : int or None
        How many there are; None where more can be had.
    """

    room: int
    cost: float
    available: int | None = None


@dataclass(frozen=True)
class Problem:
    """What is to be cut from what.

    Attributes
    ----------
    sizes : tuple of int
        Pieces with their kerf, longest first.
    wanted : tuple of int
        How many of each.
    bars : tuple of Bar
    """

    sizes: tuple[int, ...]
    wanted: Counts
    bars: tuple[Bar, ...]

    def most(self, bar: Bar) -> Counts:
        """Return how many of each size one bar holds at most, never more than are wanted."""
        return tuple(
            min(wanted, bar.room // size)
            for size, wanted in zip(self.sizes, self.wanted, strict=True)
        )


@dataclass(frozen=True)
class Column:
    """A pattern and the bar (by its place in the problem) it is cut from."""

    bar: int
    counts: Counts


@dataclass(frozen=True)
class _Layer:
    """States after one more size: where each came from, and how many of the size it took."""

    item: int
    parent: NDArray[np.int64]
    taken: NDArray[np.int64]


def best_pattern(
    problem: Problem, bar: Bar, worth: Sequence[float], beat: float
) -> tuple[float, Counts] | None:
    """Return the most valuable way to cut a bar, or None where none is worth more than ``beat``.

    A bounded knapsack by dynamic programming over lists of states that no other state dominates
    [1]_. States that cannot beat ``beat`` any more are dropped, so lengths may be as fine as they
    like.

    Parameters
    ----------
    problem : Problem
    bar : Bar
    worth : sequence of float
        Of one piece of each size.
    beat : float

    Returns
    -------
    tuple of float and Counts, or None
        What it is worth, and how many of each size.

    References
    ----------
    .. [1] Kellerer, Pferschy, Pisinger, Knapsack Problems, Springer 2004, section 3.4.
    """
    most = problem.most(bar)
    density = [value / size for value, size in zip(worth, problem.sizes, strict=True)]
    items = sorted((i for i, n in enumerate(most) if n and worth[i] > 1e-12),
                   key=lambda i: -density[i])  # fmt: skip
    used, value = np.zeros(1, dtype=np.int64), np.zeros(1)
    layers: list[_Layer] = []
    for place, item in enumerate(items):
        ahead = density[items[place + 1]] if place + 1 < len(items) else 0.0
        used, value, layer = _with_item(
            used, value, problem.sizes[item], worth[item], most[item], bar.room, item
        )
        alive = value + (bar.room - used) * ahead > beat + WORTH
        if not alive.any():
            return None
        used, value = used[alive], value[alive]
        layers.append(_Layer(item, layer.parent[alive], layer.taken[alive]))
    if not layers:
        return None
    best = int(np.argmax(value))
    return float(value[best]), _traced(layers, best, len(most))


def _with_item(
    used: NDArray[np.int64], value: NDArray[np.float64],
    size: int, worth: float, most: int, room: int, item: int,
) -> tuple[NDArray[np.int64], NDArray[np.float64], _Layer]:  # fmt: skip
    """Return all states with 0 to ``most`` more pieces, without those that another dominates."""
    copies = np.arange(most + 1)
    new_used = (used[:, None] + copies * size).ravel()
    new_value = (value[:, None] + copies * worth).ravel()
    fits = np.flatnonzero(new_used <= room)
    order = fits[np.lexsort((-new_value[fits], new_used[fits]))]
    best_before = np.concatenate(([-1.0], np.maximum.accumulate(new_value[order])[:-1]))
    kept = order[new_value[order] > best_before]
    layer = _Layer(item, kept // (most + 1), kept % (most + 1))
    return new_used[kept], new_value[kept], layer


def _traced(layers: Sequence[_Layer], state: int, sizes: int) -> Counts:
    counts = [0] * sizes
    for layer in reversed(layers):
        counts[layer.item] = int(layer.taken[state])
        state = int(layer.parent[state])
    return tuple(counts)


def all_patterns(problem: Problem, at_most: int) -> list[Column] | None:
    """Return every full way to cut every bar, or None where there are more than ``at_most``.

    A way is full when no further wanted piece would fit; others can be left out, as cutting more
    than is wanted does no harm.
    """
    found: list[Column] = []
    looked_at = 0
    for place, bar in enumerate(problem.bars):
        most = problem.most(bar)
        for counts, left in _fillings(problem.sizes, most, bar.room):
            looked_at += 1
            if looked_at > 10 * at_most or len(found) > at_most:
                return None
            if _is_full(problem.sizes, most, counts, left):
                found.append(Column(place, counts))
    return found


def _fillings(sizes: Sequence[int], most: Counts, room: int) -> Iterator[tuple[Counts, int]]:
    """Iterate over the ways to fill a bar, the last size taken as often as it goes."""
    count = min(most[0], room // sizes[0])
    if len(sizes) == 1:
        yield (count,), room - count * sizes[0]
        return
    for taken in range(count, -1, -1):
        for rest, left in _fillings(sizes[1:], most[1:], room - taken * sizes[0]):
            yield (taken, *rest), left


def _is_full(sizes: Sequence[int], most: Counts, counts: Counts, left: int) -> bool:
    return any(counts) and not any(
        taken < limit and size <= left
        for size, limit, taken in zip(sizes, most, counts, strict=True)
    )


def first_fit(problem: Problem, place: int) -> list[tuple[Column, int]]:
    """Return a plan on one bar alone: the longest pieces first, as many as fit, then the next."""
    bar = problem.bars[place]
    left = list(problem.wanted)
    plan: list[tuple[Column, int]] = []
    while any(left):
        counts = _filled(problem.sizes, left, bar.room)
        times = min(have // n for have, n in zip(left, counts, strict=True) if n)
        left = [have - times * n for have, n in zip(left, counts, strict=True)]
        plan.append((Column(place, counts), times))
    return plan


def _filled(sizes: Sequence[int], left: Sequence[int], room: int) -> Counts:
    counts = []
    for size, have in zip(sizes, left, strict=True):
        count = min(have, room // size)
        room -= count * size
        counts.append(count)
    return tuple(counts)
