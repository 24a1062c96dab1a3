"""The state rule: inside, borderline, likely out, out, and the cases without a limit or a value."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.states import RANK, State, judge, judge_spread, words


def test_at_a_limit_without_uncertainty_is_inside() -> None:
    assert judge(60, 60, 60, 60, 120) is State.FINE
    assert judge(120, 120, 120, 60, 120) is State.FINE
    assert judge(120, want_high=120) is State.FINE
    assert judge(60, want_low=60) is State.FINE


def test_rounding_beside_a_limit_is_forgiven_but_a_millionth_is_not() -> None:
    assert judge(0.1 + 0.2, want_high=0.3) is State.FINE
    assert judge(0.3 * (1 + 1e-6), want_high=0.3) is State.HIGH


def test_a_range_that_touches_the_limit_from_outside_is_only_likely_out() -> None:
    assert judge(50, 40, 60, 60, 120) is State.LIKELY_LOW
    assert judge(50, 40, 59, 60, 120) is State.LOW


def test_no_limit_is_unasked_and_no_value_is_unknown() -> None:
    assert judge(5) is State.UNASKED
    assert judge(None, want_low=1) is State.UNKNOWN
    assert judge(math.nan, want_low=1) is State.UNKNOWN
    assert judge(None) is State.UNKNOWN


def test_asymmetric_range_decides_by_its_own_ends() -> None:
    assert judge(6, 3, 12, want_low=5) is State.BORDERLINE
    assert judge(6, 5.5, 12, want_low=5) is State.FINE


def test_crossed_limits_are_refused_with_the_way_out() -> None:
    with pytest.raises(InputError, match="exchange the two"):
        judge(5, 5, 5, 10, 1)


@given(
    value=st.floats(-1e6, 1e6),
    below=st.floats(0, 1e6),
    above=st.floats(0, 1e6),
    limits=st.tuples(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6)).map(sorted),
)
def test_the_rule_mirrors(value: float, below: float, above: float, limits: list[float]) -> None:
    mirror = {
        State.LOW: State.HIGH,
        State.HIGH: State.LOW,
        State.LIKELY_LOW: State.LIKELY_HIGH,
        State.LIKELY_HIGH: State.LIKELY_LOW,
    }
    seen = judge(value, value - below, value + above, *limits)
    turned = judge(-value, -value - above, -value + below, -limits[1], -limits[0])
    assert turned is mirror.get(seen, seen)


@given(value=st.floats(-1e6, 1e6), spread=st.floats(0, 1e6), more=st.floats(0, 1e6))
def test_more_uncertainty_never_makes_a_reading_surer(
    value: float, spread: float, more: float
) -> None:
    sure = {State.FINE, State.LOW, State.HIGH}
    narrow = judge(value, value - spread, value + spread, -1.0, 1.0)
    wide = judge(value, value - spread - more, value + spread + more, -1.0, 1.0)
    assert narrow in sure or wide not in sure


def test_uneven_area_is_borderline_and_nothing_else_changes() -> None:
    assert judge_spread(State.FINE, 0.79) is State.BORDERLINE
    assert judge_spread(State.FINE, 0.80) is State.FINE
    assert judge_spread(State.HIGH, 0.1) is State.HIGH


def test_rank_puts_the_worst_first() -> None:
    order = sorted(State, key=RANK.__getitem__)
    assert set(order[:2]) == {State.LOW, State.HIGH}
    assert order[4:6] == [State.BORDERLINE, State.CAUTION]
    assert order[-1] is State.FINE


def test_words_by_subject_and_side() -> None:
    assert words(State.LIKELY_LOW, "air") == "likely still"
    assert words(State.HIGH, "light") == "too strong"
    assert words(State.HIGH, "power", one_sided=True) == "over the limit"
    assert words(State.FINE, "power", one_sided=True) == "within the limit"
    assert words(State.FINE, "light") == "within the range"
    assert words(State.BORDERLINE, "light", uneven=True) == "uneven"
    assert words(State.LOW, "fit") == "does not fit"


def test_a_range_that_reaches_a_limit_of_nought_is_only_likely_out() -> None:
    assert judge(-1, -2, 0, want_low=0) is State.LIKELY_LOW
    assert judge(1, 0, 2, want_high=0) is State.LIKELY_HIGH
