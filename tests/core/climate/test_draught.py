"""Openings one above the other, against the formulas of one and of two."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.climate import opening_flow, stack_flow
from core.climate.draught import Slot, joined

AREAS, EDGES = st.floats(0.001, 0.5), st.floats(0.0, 2.0)


def moved(*slots: Slot, t_in=22.0, t_out=20.0) -> float:
    return opening_flow(*joined(slots), t_in, t_out)


@given(AREAS, AREAS, st.floats(0.2, 3.0))
def test_two_flat_openings_exchange_what_the_neutral_level_lets_them(low, high, rise):
    found = moved(Slot(low, 0.1, 0.1), Slot(high, 0.1 + rise, 0.1 + rise))
    assert found == pytest.approx(stack_flow(low, high, rise, 22, 20), rel=1e-6)


@given(st.floats(0.5, 8.0))
def test_one_stands_for_two_at_any_usual_warmth(warmth):
    found = moved(Slot(0.02, 0.08, 0.18), Slot(0.02, 1.85, 1.95), t_in=20 + warmth, t_out=20)
    assert found == pytest.approx(stack_flow(0.02, 0.02, 1.77, 20 + warmth, 20), rel=0.07)


@given(st.floats(0.02, 0.5), st.floats(0.05, 2.0))
def test_two_beside_each_other_exchange_as_each_does_by_itself(width, height):
    beside = (Slot(width * height, 0.1, 0.1 + height),) * 2
    # `opening_flow` counts 2 % more at 2 K for the warmth than the coefficient used here.
    assert moved(*beside) == pytest.approx(2 * opening_flow(width, height, 22, 20), rel=0.025)


@given(st.lists(st.tuples(AREAS, EDGES, st.floats(0.05, 1.0)), min_size=2, max_size=5))
def test_openings_together_exchange_no_less_than_the_largest_alone(found):
    slots = [Slot(area, low, low + height) for area, low, height in found]
    alone = max(opening_flow(s.area / (s.high - s.low), s.high - s.low, 22, 20) for s in slots)
    assert moved(*slots) >= 0.975 * alone


@given(AREAS, AREAS, EDGES)
def test_upside_down_they_exchange_the_same(first, second, at):
    upright = moved(Slot(first, at, at + 0.2), Slot(second, at + 1.0, at + 1.3))
    turned = moved(Slot(first, 4 - at - 0.2, 4 - at), Slot(second, 4 - at - 1.3, 4 - at - 1.0))
    assert turned == pytest.approx(upright, rel=1e-6)
