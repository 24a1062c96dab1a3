"""Cut lists: how to saw pieces from bars with the fewest bars, or at the least cost.

Lengths become whole nanometres here, which every decimal and every 64th of an inch is; the search
is in `core.materials.master`. Which pieces a frame needs is in `core.materials.frame`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from core.arguments import finite, not_negative, positive
from core.errors import InputError, complaint
from core.materials.master import Clock, Plan, Progress, Solution, solve
from core.materials.patterns import Bar, Problem

FINE = 1e-9
"""One step of the whole numbers lengths are turned into. [m]"""

TIME_LIMIT = 10.0
"""A search ends after about this long. [s]"""


@dataclass(frozen=True)
class Stock:
    """One length in which stock can be had.

    Attributes
    ----------
    length : float
        [m]
    cost : float or None
        Of one bar, in any unit; None means its length, so that the least length is bought.
        [currency or m]
    available : int or None
        How many there are, as of offcuts at hand; None where more can be bought.
    """

    length: float
    cost: float | None = None
    available: int | None = None


@dataclass(frozen=True)
class Pattern:
    """Bars that are cut alike.

    Attributes
    ----------
    stock : float
        Length of the bar. [m]
    pieces : tuple of tuple of float and int
        Length and count of each piece on one bar, longest first. [m]
    count : int
        How many bars are cut so.
    offcut : float
        What is left of each bar after its last cut. [m]
    """

    stock: float
    pieces: tuple[tuple[float, int], ...]
    count: int
    offcut: float


@dataclass(frozen=True)
class CutPlan:
    """A plan to cut by.

    Attributes
    ----------
    patterns : tuple of Pattern
        Longest stock first, then the most frequent.
    cost : float
        What was made least: the number of bars of one stock length, else what they cost.
    lower_bound : float
        No plan can do with less; in the unit of ``cost``.
    proven : bool
        Whether the plan is known to be the best.
    relaxation : float
        ``cost`` if bars came in fractions; or less, where time ran out or the first plan was seen
        to be the best.
    kerf : float
        What the saw takes at each cut. [m]
    """

    patterns: tuple[Pattern, ...]
    cost: float
    lower_bound: float
    proven: bool
    relaxation: float
    kerf: float

    @property
    def bars(self) -> int:
        """How many bars are cut."""
        return sum(pattern.count for pattern in self.patterns)

    @property
    def gap(self) -> float:
        """How much of the cost a better plan could save at most. [1]"""
        return 0.0 if self.proven else (self.cost - self.lower_bound) / self.cost

    @property
    def bought(self) -> dict[float, int]:
        """How many bars of each stock length are cut. [m]"""
        count: Counter[float] = Counter()
        for pattern in self.patterns:
            count[pattern.stock] += pattern.count
        return dict(count)

    @property
    def offcuts(self) -> dict[float, int]:
        """Lengths of what is left and how often, longest first. [m]"""
        count: Counter[float] = Counter()
        for pattern in self.patterns:
            if pattern.offcut > 0:
                count[pattern.offcut] += pattern.count
        return dict(sorted(count.items(), reverse=True))

    @property
    def pieces(self) -> dict[float, int]:
        """Lengths of all pieces cut, and how many. [m]"""
        count: Counter[float] = Counter()
        for pattern in self.patterns:
            for length, pieces in pattern.pieces:
                count[length] += pieces * pattern.count
        return dict(sorted(count.items(), reverse=True))


def cut_list(
    pieces: Mapping[float, int],
    stock_length: float,
    kerf: float = 0.0,
    *,
    time_limit: float = TIME_LIMIT,
    progress: Progress | None = None,
) -> CutPlan:
    """Return a plan that cuts pieces from the fewest bars of one length.

    Parameters
    ----------
    pieces : mapping of float to int
        How many of each length are needed. [m]
    stock_length : float
        [m]
    kerf : float, optional
        What the saw takes at each cut. [m]
    time_limit : float, optional
        The search ends after about this long, with the best plan so far. [s]
    progress : callable, optional
        Called with how much of that time is spent, 0 to 1.

    Returns
    -------
    CutPlan
        ``cost`` and ``lower_bound`` count bars.

    Raises
    ------
    InputError
        If a length is not above 0, a piece is longer than the stock, a count is no whole number
        of 0 or more, or ``kerf`` is negative.
    """
    plan = cut_list_mixed(
        pieces, [Stock(stock_length, 1.0)], kerf, time_limit=time_limit, progress=progress
    )
    return CutPlan(
        plan.patterns, plan.bars, round(plan.lower_bound), plan.proven, plan.relaxation, kerf
    )


def cut_list_mixed(
    pieces: Mapping[float, int],
    stocks: Sequence[Stock],
    kerf: float = 0.0,
    *,
    time_limit: float = TIME_LIMIT,
    progress: Progress | None = None,
) -> CutPlan:
    """Return a plan that cuts pieces from bars of several lengths at the least cost.

    Parameters
    ----------
    pieces : mapping of float to int
        How many of each length are needed. [m]
    stocks : sequence of Stock
        At least one that holds the longest piece must be unlimited.
    kerf : float, optional
        What the saw takes at each cut. [m]
    time_limit, progress : optional
        As for `cut_list`.

    Returns
    -------
    CutPlan

    Raises
    ------
    InputError
        As for `cut_list`; or if no unlimited stock holds the longest piece.
    """
    _check(pieces, stocks, kerf)
    positive("Cut list", "time limit", time_limit, "s")
    lengths = sorted({_whole(length): length for length, n in pieces.items() if n}.items())[::-1]
    if not lengths:
        return CutPlan((), 0, 0, True, 0.0, kerf)
    _check_longest(lengths[0][1], stocks)
    problem = _problem(pieces, [size for size, _ in lengths], stocks, _whole(kerf))
    solution = solve(problem, Clock(time_limit, progress))
    return _told(problem, solution, [length for _, length in lengths], stocks, kerf)


def _whole(length: float) -> int:
    return round(length / FINE)


def _problem(
    pieces: Mapping[float, int], sizes: Sequence[int], stocks: Sequence[Stock], kerf: int
) -> Problem:
    wanted: Counter[int] = Counter()
    for length, count in pieces.items():
        wanted[_whole(length)] += count
    bars = [
        Bar(_whole(stock.length) + kerf, stock.length if stock.cost is None else stock.cost,
            stock.available)
        for stock in stocks
    ]  # fmt: skip
    return Problem(
        tuple(size + kerf for size in sizes), tuple(wanted[size] for size in sizes), tuple(bars)
    )


def _told(
    problem: Problem,
    solution: Solution,
    lengths: Sequence[float],
    stocks: Sequence[Stock],
    kerf: float,
) -> CutPlan:
    bars = _exactly_wanted(problem, solution.plan)
    patterns = [
        _pattern(problem, counts, lengths, stocks[place], times, kerf)
        for (place, counts), times in bars.items()
    ]
    patterns.sort(key=lambda p: (-p.stock, -p.count, [(-length, -n) for length, n in p.pieces]))
    cost = sum(problem.bars[place].cost * times for (place, _), times in bars.items())
    known = replace(solution, cost=cost)
    return CutPlan(tuple(patterns), cost, known.bound, known.proven, known.relaxation, kerf)


def _exactly_wanted(problem: Problem, plan: Plan) -> Counter[tuple[int, tuple[int, ...]]]:
    """Return bars cut alike, without what was planned beyond the pieces wanted."""
    spare = [-n for n in problem.wanted]
    for column, times in plan:
        spare = [have + times * n for have, n in zip(spare, column.counts, strict=True)]
    bars: Counter[tuple[int, tuple[int, ...]]] = Counter()
    for column, times in plan:
        for _ in range(times):
            dropped = [min(have, n) for have, n in zip(spare, column.counts, strict=True)]
            spare = [have - n for have, n in zip(spare, dropped, strict=True)]
            kept = tuple(n - d for n, d in zip(column.counts, dropped, strict=True))
            bars[column.bar, kept] += any(kept)
    return +bars


def _pattern(
    problem: Problem,
    counts: Sequence[int],
    lengths: Sequence[float],
    stock: Stock,
    times: int,
    kerf: float,
) -> Pattern:
    """Return a pattern in metres; a rest shorter than the kerf is gone with the last cut."""
    used = sum(size * n for size, n in zip(problem.sizes, counts, strict=True))
    left = max(0, _whole(stock.length) - used)
    pieces = tuple((length, n) for length, n in zip(lengths, counts, strict=True) if n)
    return Pattern(stock.length, pieces, times, round(left * FINE, 9))


def _check(pieces: Mapping[float, int], stocks: Sequence[Stock], kerf: float) -> None:
    not_negative("Cut list", "kerf", kerf, "m")
    for stock in stocks:
        positive("Stock", "length", stock.length, "m")
        not_negative("Stock", "cost", stock.cost or 0.0)
        _check_count("Stock", "available", stock.available or 0)
    for length, count in pieces.items():
        positive("Piece", "length", length, "m")
        _check_count(f"Piece of {length:g} m", "count", count)


def _check_count(thing: str, quantity: str, count: int) -> None:
    finite(thing, quantity, count)
    if count < 0 or count != math.floor(count):
        rule = "must be a whole number of 0 or more"
        raise InputError(complaint(thing, quantity, count, rule, "enter such a number"))


def _check_longest(longest: float, stocks: Sequence[Stock]) -> None:
    unlimited = [stock.length for stock in stocks if stock.available is None]
    if not unlimited or _whole(longest) > _whole(max(unlimited)):
        rule = "must not be longer than the longest stock that can be bought"
        limit = f", {max(unlimited):g} m" if unlimited else ""
        way_out = "choose longer stock or join the piece from two"
        raise InputError(complaint("Piece", "length", f"{longest:g} m", rule + limit, way_out))
