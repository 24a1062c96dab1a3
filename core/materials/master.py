"""How often each way to cut a bar is used: column generation, then whole numbers.

The ways themselves come from `core.materials.patterns`; lengths in metres and plans as one reads
them are in `core.materials.cutting`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from time import perf_counter

import numpy as np
from numpy.typing import NDArray

from core.materials.patterns import Bar, Column, Problem, all_patterns, best_pattern, first_fit

Plan = list[tuple[Column, int]]
"""Patterns and how many bars are cut by each."""

Progress = Callable[[float], None]
"""Called with how much of the time allowed is spent, 0 to 1."""

ALL_PATTERNS = 3000
"""Up to so many patterns are tried all together where generated ones prove nothing."""

_NEAR = 1e-6


@dataclass
class Clock:
    """The time a solution may take. [s]"""

    limit: float
    progress: Progress | None = None
    started: float = field(default_factory=perf_counter)

    @property
    def left(self) -> float:
        """What is left of it. [s]"""
        return self.limit - (perf_counter() - self.started)

    def load_solvers(self) -> None:
        """Load what the search is done with, which takes a second once and counts as no search."""
        import scipy.optimize  # noqa: F401

        self.started = perf_counter()

    def tell(self) -> None:
        """Tell whoever waits how much is spent."""
        if self.progress is not None:
            self.progress(min(1.0, max(0.0, 1.0 - self.left / self.limit)))


@dataclass(frozen=True)
class Solution:
    """A plan and what is known of the best one.

    Attributes
    ----------
    plan : list of tuple of Column and int
    cost : float
    bound : float
        No plan costs less.
    relaxation : float
        The least cost if bars could be bought in fractions; or less, where time ran out or a plan
        was at once seen to be the best.
    """

    plan: Plan
    cost: float
    bound: float
    relaxation: float

    @property
    def proven(self) -> bool:
        """Whether no plan can be better."""
        return self.cost <= self.bound + _NEAR * max(1.0, abs(self.bound))


@dataclass(frozen=True)
class _Relaxed:
    """The relaxed master over some columns: its cost, use of each column, and worth of pieces."""

    cost: float
    use: NDArray[np.float64]
    worth: NDArray[np.float64]
    scarcity: NDArray[np.float64]


def solve(problem: Problem, clock: Clock) -> Solution:
    """Return the best plan that is found in the time allowed.

    Column generation [1]_ gives the relaxation; its columns go into an integer program. Where
    that does not meet the bound, columns of what rounding down leaves over are added, and at last
    all patterns if there are few. Farley's bound [2]_ holds where time runs out before. None of
    this is needed where the first plan takes no more than its pieces' length.

    References
    ----------
    .. [1] Gilmore, Gomory, A linear programming approach to the cutting-stock problem,
       Operations Research 9 (1961).
    .. [2] Farley, A note on bounding a class of linear programming problems, including cutting
       stock problems, Operations Research 38 (1990).
    """
    clock.tell()
    plan = first_fit(problem, _usual_bar(problem))
    at_once = _by_length(problem, plan)
    if at_once.proven:
        return at_once
    clock.load_solvers()
    columns = _first_columns(problem)
    relaxed, relaxation = _generate(problem, columns, clock)
    bound = rounded_up(relaxation, [bar.cost for bar in problem.bars])
    best = replace(at_once, bound=bound, relaxation=relaxation)
    best = _better(problem, best, _whole(problem, columns, clock.left / 5)[0])
    if not best.proven and clock.left > 0:
        _add_leftover_columns(problem, columns, relaxed.use, clock)
        best = _better(problem, best, _whole(problem, columns, clock.left / 2)[0])
    return best if best.proven or clock.left <= 0 else _by_all_patterns(problem, best, clock)


def _by_length(problem: Problem, plan: Plan) -> Solution:
    """Return a plan with what the pieces' length alone says of the best one."""
    length = sum(size * n for size, n in zip(problem.sizes, problem.wanted, strict=True))
    least = length * min(bar.cost / bar.room for bar in problem.bars)
    bound = rounded_up(least, [bar.cost for bar in problem.bars])
    return Solution(plan, _cost(problem, plan), bound, least)


def _by_all_patterns(problem: Problem, best: Solution, clock: Clock) -> Solution:
    columns = all_patterns(problem, ALL_PATTERNS)
    if columns is None:
        return best
    clock.tell()
    plan, is_best = _whole(problem, columns, clock.left)
    best = _better(problem, best, plan)
    return replace(best, bound=best.cost) if is_best else best


def _better(problem: Problem, best: Solution, plan: Plan) -> Solution:
    cost = _cost(problem, plan)
    return replace(best, plan=plan, cost=cost) if plan and cost < best.cost - _NEAR else best


def _cost(problem: Problem, plan: Plan) -> float:
    return sum(problem.bars[column.bar].cost * times for column, times in plan)


def rounded_up(bound: float, costs: Sequence[float]) -> float:
    """Return the least sum of whole bars that is not below ``bound``, as far as costs tell.

    Costs that are all multiples of some step sum up to multiples of it.
    """
    fine = [round(cost / _NEAR) for cost in costs]
    if any(abs(cost / _NEAR - whole) > 1e-3 for cost, whole in zip(costs, fine, strict=True)):
        return bound
    step = math.gcd(*fine) * _NEAR
    return bound if step == 0 else math.ceil(bound / step - 1e-5) * step


def _usual_bar(problem: Problem) -> int:
    """Return the bar that can always be had, holds every piece and costs least by length."""
    fit = [
        place
        for place, bar in enumerate(problem.bars)
        if bar.available is None and bar.room >= problem.sizes[0]
    ]
    return min(fit, key=lambda place: problem.bars[place].cost / problem.bars[place].room)


def _first_columns(problem: Problem) -> list[Column]:
    """Return one column for each size, as often as the usual bar holds it."""
    place = _usual_bar(problem)
    most = problem.most(problem.bars[place])
    sizes = range(len(most))
    return [Column(place, tuple(most[i] if i == j else 0 for j in sizes)) for i in sizes]


def _generate(problem: Problem, columns: list[Column], clock: Clock) -> tuple[_Relaxed, float]:
    """Add columns until none would help; return the relaxed master and a bound of its cost."""
    bound = 0.0
    while True:
        clock.tell()
        relaxed = _relax(problem, columns)
        added, ratio = _worthwhile(problem, relaxed)
        bound = max(bound, _farley(problem, relaxed, ratio))
        new = [column for column in added if column not in columns]
        if not new or clock.left <= 0:
            return relaxed, bound
        columns += new


def _worthwhile(problem: Problem, relaxed: _Relaxed) -> tuple[list[Column], float]:
    """Return the best column of each bar worth more than it costs, and the largest such ratio."""
    found: list[Column] = []
    ratio = 1.0
    for place, bar in enumerate(problem.bars):
        price = bar.cost - float(relaxed.scarcity[place])
        best = best_pattern(problem, bar, list(relaxed.worth), price)
        if best is not None:
            found.append(Column(place, best[1]))
            ratio = max(ratio, best[0] / price if price > 0 else math.inf)
    return found, ratio


def _farley(problem: Problem, relaxed: _Relaxed, ratio: float) -> float:
    """Return a bound of the relaxation from worths that are ``ratio`` times too high."""
    rents = [
        bar.available * rent
        for bar, rent in zip(problem.bars, relaxed.scarcity, strict=True)
        if bar.available is not None
    ]
    return float(np.dot(relaxed.worth, problem.wanted)) / ratio + float(sum(rents))


def _relax(problem: Problem, columns: Sequence[Column]) -> _Relaxed:
    from scipy.optimize import linprog

    scarce, held, limits = _limits(problem, columns)
    made = _made(columns)
    result = linprog(
        _costs(problem, columns),
        A_ub=np.vstack([-made, held]),
        b_ub=np.concatenate([-np.array(problem.wanted, dtype=float), limits]),
        method="highs",
    )
    marginal = result.ineqlin.marginals
    scarcity = np.zeros(len(problem.bars))
    scarcity[scarce] = np.minimum(marginal[len(problem.wanted) :], 0.0)
    worth = np.maximum(-marginal[: len(problem.wanted)], 0.0)
    return _Relaxed(float(result.fun), result.x, worth, scarcity)


def _whole(problem: Problem, columns: Sequence[Column], seconds: float) -> tuple[Plan, bool]:
    """Return the best plan in whole bars with these columns, and whether it is sure to be that."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    _, held, limits = _limits(problem, columns)
    rules = [LinearConstraint(_made(columns), np.array(problem.wanted, dtype=float), np.inf)]
    if len(limits):
        rules.append(LinearConstraint(held, -np.inf, limits))
    result = milp(
        _costs(problem, columns),
        constraints=rules,
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, np.inf),
        options={"time_limit": max(0.05, seconds), "mip_rel_gap": 0.0},
    )
    if result.x is None:
        return [], False
    use = [round(float(times)) for times in result.x]
    plan = [(column, times) for column, times in zip(columns, use, strict=True) if times]
    return plan, result.status == 0


def _made(columns: Sequence[Column]) -> NDArray[np.float64]:
    return np.array([column.counts for column in columns], dtype=float).T


def _costs(problem: Problem, columns: Sequence[Column]) -> NDArray[np.float64]:
    return np.array([problem.bars[column.bar].cost for column in columns])


def _limits(
    problem: Problem, columns: Sequence[Column]
) -> tuple[list[int], NDArray[np.float64], NDArray[np.float64]]:
    """Return the bars of which there are only so many, who uses them, and how many there are."""
    scarce = [place for place, bar in enumerate(problem.bars) if bar.available is not None]
    held = np.zeros((len(scarce), len(columns)))
    for row, place in enumerate(scarce):
        held[row] = [column.bar == place for column in columns]
    limits = [float(bar.available) for bar in problem.bars if bar.available is not None]
    return scarce, held, np.array(limits)


def _add_leftover_columns(
    problem: Problem, columns: list[Column], use: NDArray[np.float64], clock: Clock
) -> None:
    """Add the columns that are best for what is left after rounding the relaxed plan down."""
    times = np.floor(use + _NEAR).astype(int)
    left = np.array(problem.wanted) - (_made(columns[: len(times)]) @ times).astype(int)
    kept = [i for i, n in enumerate(left) if n > 0]
    if not kept:
        return
    rest = _of_sizes(problem, kept, [int(left[i]) for i in kept])
    found = _first_columns(rest)
    _generate(rest, found, clock)
    more = [Column(c.bar, _spread(c.counts, kept, len(left))) for c in found]
    columns += [column for column in more if column not in columns]


def _of_sizes(problem: Problem, kept: Sequence[int], wanted: Sequence[int]) -> Problem:
    bars = tuple(Bar(bar.room, bar.cost) for bar in problem.bars)
    return Problem(tuple(problem.sizes[i] for i in kept), tuple(wanted), bars)


def _spread(counts: Sequence[int], kept: Sequence[int], sizes: int) -> tuple[int, ...]:
    wide = [0] * sizes
    for i, count in zip(kept, counts, strict=True):
        wide[i] = count
    return tuple(wide)
