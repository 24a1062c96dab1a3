"""Cut lists: every plan can be sawn, gives what is wanted, and tells what it knows of the best."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.materials import CutPlan, Stock, cut_list, cut_list_mixed
from core.materials.cutting import _exactly_wanted
from core.materials.master import rounded_up
from core.materials.patterns import Bar, Column, Problem, all_patterns, best_pattern, first_fit

millimetres = st.dictionaries(st.integers(150, 2000), st.integers(1, 9), min_size=1, max_size=6)


def assert_can_be_sawn(plan: CutPlan, pieces: dict[float, int]) -> None:
    assert plan.pieces == pytest.approx({length: n for length, n in pieces.items() if n})
    for pattern in plan.patterns:
        cuts = sum(n for _, n in pattern.pieces)
        used = sum(length * n for length, n in pattern.pieces)
        assert cuts >= 1
        assert used + (cuts - 1) * plan.kerf <= pattern.stock + 1e-9
        rest = pattern.stock - used - cuts * plan.kerf
        assert pattern.offcut == pytest.approx(max(0.0, rest), abs=1e-9)


@given(millimetres, st.integers(2000, 6000), st.integers(0, 5))
@settings(max_examples=40)
def test_every_plan_can_be_sawn_and_gives_what_is_wanted(
    wanted: dict[int, int], stock: int, kerf: int
) -> None:
    pieces = {mm / 1000: n for mm, n in wanted.items()}
    plan = cut_list(pieces, stock / 1000, kerf / 1000, time_limit=2)
    assert_can_be_sawn(plan, pieces)
    assert plan.relaxation - 1e-6 <= plan.lower_bound <= plan.bars
    assert plan.proven == (plan.lower_bound == plan.bars)
    material = sum((mm + kerf) * n for mm, n in wanted.items()) / (stock + kerf)
    assert plan.lower_bound >= material - 1e-6


@given(millimetres, st.integers(2000, 4000), st.integers(1, 2000), st.integers(0, 4))
@settings(max_examples=25)
def test_a_second_length_never_costs_more(
    wanted: dict[int, int], stock: int, more: int, kerf: int
) -> None:
    pieces = {mm / 1000: n for mm, n in wanted.items()}
    short, long = Stock(stock / 1000), Stock((stock + more) / 1000)
    both = cut_list_mixed(pieces, [short, long], kerf / 1000, time_limit=2)
    alone = [cut_list_mixed(pieces, [one], kerf / 1000, time_limit=2) for one in (short, long)]
    assert_can_be_sawn(both, pieces)
    assert both.lower_bound <= min(plan.cost for plan in alone) + 1e-9
    if both.proven:
        assert both.cost <= min(plan.cost for plan in alone) + 1e-9


@given(st.dictionaries(st.integers(3, 30), st.integers(1, 3), min_size=1, max_size=4),
       st.integers(30, 60), st.data())  # fmt: skip
@settings(max_examples=60)
def test_the_best_pattern_is_the_best_of_all(
    wanted: dict[int, int], room: int, data: st.DataObject
) -> None:
    sizes = tuple(sorted(wanted, reverse=True))
    problem = Problem(sizes, tuple(wanted[s] for s in sizes), (Bar(room, 1.0),))
    worth = [data.draw(st.floats(0.0, 1.0)) for _ in sizes]
    ways = itertools.product(*(range(wanted[s] + 1) for s in sizes))
    values = [
        sum(w * n for w, n in zip(worth, way, strict=True))
        for way in ways
        if sum(s * n for s, n in zip(sizes, way, strict=True)) <= room
    ]
    found = best_pattern(problem, problem.bars[0], worth, 0.2)
    if max(values) > 0.2 + 1e-6:
        assert found is not None
        assert found[0] == pytest.approx(max(values))
        assert sum(w * n for w, n in zip(worth, found[1], strict=True)) == pytest.approx(found[0])
        assert sum(s * n for s, n in zip(sizes, found[1], strict=True)) <= room
    if found is None:
        assert max(values) <= 0.2 + 1e-6


def test_all_patterns_are_full_and_there_are_not_too_many() -> None:
    problem = Problem((50, 30, 20), (2, 3, 5), (Bar(100, 1.0),))
    found = all_patterns(problem, 100)
    assert found is not None
    assert sorted(column.counts for column in found) == [
        (0, 0, 5), (0, 1, 3), (0, 2, 2), (0, 3, 0), (1, 0, 2), (1, 1, 1), (2, 0, 0),
    ]  # fmt: skip
    assert all_patterns(problem, 5) is None


def test_first_fit_takes_the_longest_pieces_first() -> None:
    problem = Problem((60, 40, 30), (2, 1, 2), (Bar(100, 1.0),))
    plan = [(column.counts, times) for column, times in first_fit(problem, 0)]
    assert plan == [((1, 1, 0), 1), ((1, 0, 1), 1), ((0, 0, 1), 1)]


def test_the_kerf_counts_between_pieces_and_not_after_the_last() -> None:
    # Three pieces of 0.666 m and two cuts of 1 mm are just 2 m
    assert cut_list({0.666: 3}, 2.0, 0.001).bars == 1
    assert cut_list({0.666: 3}, 2.0, 0.0011).bars == 2
    assert cut_list({2.0: 2}, 2.0, 0.003).bars == 2


def test_fractions_of_an_inch_fit_exactly() -> None:
    inch = 0.0254
    assert cut_list({(6 + 1 / 16) * inch: 16}, 97 * inch).bars == 1
    assert cut_list({(1 + 1 / 64) * inch: 64}, 65 * inch).bars == 1


def test_equal_lengths_written_differently_are_one() -> None:
    plan = cut_list({0.3: 2, 0.1 + 0.2: 1}, 1.0)
    assert plan.bars == 1
    assert list(plan.pieces.values()) == [3]


def test_offcuts_are_listed_and_the_rest_of_a_kerf_is_dust() -> None:
    plan = cut_list({0.9: 1, 0.498: 2}, 1.0, 0.003)
    assert plan.offcuts == {0.097: 1}


def test_at_hand_offcuts_are_used_before_bars_are_bought() -> None:
    pieces = {0.7: 3}
    stocks = [Stock(2.0, 8.0), Stock(0.75, 0.0, available=1)]
    plan = cut_list_mixed(pieces, stocks)
    assert plan.bought == {2.0: 1, 0.75: 1}
    assert (plan.cost, plan.proven) == (8.0, True)


def test_no_more_offcuts_are_used_than_there_are() -> None:
    plan = cut_list_mixed({0.7: 9}, [Stock(1.4, 5.0), Stock(0.8, 1.0, available=3)], 0.0)
    assert plan.bought == {1.4: 3, 0.8: 3}
    assert (plan.cost, plan.proven) == (18.0, True)
    # Each offcut saves 1.50 of the 2.50 that a piece is worth; the relaxation knows
    assert plan.relaxation == pytest.approx(18.0)


def test_the_cheaper_way_is_taken_and_not_the_fewer_bars() -> None:
    pieces = {1.0: 3}
    cheap_long = cut_list_mixed(pieces, [Stock(1.0, 2.0), Stock(3.0, 5.0)])
    cheap_short = cut_list_mixed(pieces, [Stock(1.0, 1.0), Stock(3.0, 5.0)])
    assert (cheap_long.bought, cheap_short.bought) == ({3.0: 1}, {1.0: 3})


def test_a_plan_cut_short_still_can_be_sawn_and_tells_its_gap() -> None:
    pieces = {0.2 + i * 0.0371: 7 for i in range(30)}
    plan = cut_list(pieces, 6.0, 0.003, time_limit=0.01)
    assert_can_be_sawn(plan, pieces)
    assert plan.lower_bound <= plan.bars
    if not plan.proven:
        assert plan.gap == (plan.bars - plan.lower_bound) / plan.bars > 0


def test_bars_with_nothing_wanted_on_them_are_not_counted() -> None:
    problem = Problem((60, 40), (1, 1), (Bar(100, 1.0),))
    plan = [(Column(0, (1, 1)), 1), (Column(0, (0, 2)), 2)]
    assert _exactly_wanted(problem, plan) in ({(0, (1, 1)): 1}, {(0, (1, 0)): 1, (0, (0, 1)): 1})


def test_progress_is_told() -> None:
    told: list[float] = []
    cut_list({0.7: 3, 0.5: 4, 0.31: 9}, 2.0, progress=told.append)
    assert told
    assert all(0 <= share <= 1 for share in told)
    assert told == sorted(told)


@pytest.mark.parametrize("pieces", [{}, {0.5: 0}])
def test_nothing_wanted_takes_no_bars(pieces: dict[float, int]) -> None:
    plan = cut_list(pieces, 2.0)
    assert (plan.bars, plan.patterns, plan.proven, plan.gap) == (0, (), True, 0.0)


def test_the_same_pieces_give_the_same_plan() -> None:
    pieces = {1.9: 4, 0.85: 8, 0.4: 6}
    assert cut_list(pieces, 3.0, 0.003) == cut_list(dict(reversed(pieces.items())), 3.0, 0.003)


@pytest.mark.parametrize(
    ("bound", "costs", "least"),
    [
        (452.25, [1.0], 453.0),
        (5.0000001, [1.0], 5.0),
        (12.1, [2.0, 3.0], 13.0),
        (12.1, [2.4, 3.0], 12.6),
        (12.1, [2.0, 0.0], 14.0),
        (12.1, [0.0], 12.1),
        (12.1, [2**0.5], 12.1),
    ],
)
def test_a_bound_is_rounded_up_to_what_bars_can_cost(
    bound: float, costs: list[float], least: float
) -> None:
    assert rounded_up(bound, costs) == pytest.approx(least, abs=1e-9)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (({3.1: 1}, 3.0), "Piece: length = 3.1 m must not be longer than the longest stock"),
        (({-1.0: 1}, 3.0), "Piece: length = −1 m must be above 0"),
        (({1.0: -1}, 3.0), "Piece of 1 m: count = -1 must be a whole number of 0 or more"),
        (({1.0: 1.5}, 3.0), "Piece of 1 m: count = 1.5 must be a whole number"),
        (({1.0: 1}, 0.0), "Stock: length = 0 m must be above 0"),
        (({1.0: 1}, float("nan")), "Stock: length = nan m must be a finite number"),
        (({1.0: 1}, 3.0, -0.001), "Cut list: kerf = −0.001 m must not be negative"),
    ],
)
def test_what_cannot_be_cut_is_refused(arguments: Any, told: str) -> None:
    with pytest.raises(InputError) as caught:
        cut_list(*arguments)
    assert told in str(caught.value)


def test_stock_that_runs_out_alone_is_refused() -> None:
    with pytest.raises(InputError, match="longest stock that can be bought"):
        cut_list_mixed({1.0: 1}, [Stock(2.0, available=3)])
