"""U-values, linings and what is behind a face."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.climate import Boundary, against, gap_resistance, lined, u_value
from core.climate.balance import INNER_FILM
from core.climate.surfaces import (
    INNER_WALL_U,
    OUTER_WALL_U,
    USUAL_EMISSIVITY,
    WINDOW_U,
    sheet_resistance,
)
from core.errors import InputError

layers = st.floats(0, 3)


@given(layers, layers)
def test_more_layers_let_less_through(one, two):
    assert u_value(one, two) == pytest.approx(u_value(one + two))
    assert u_value(one, two) <= u_value(one)


def test_the_outer_part_is_what_the_inner_film_leaves():
    face = Boundary(1.0, 4.15)
    assert 1 / (1 / face.outer + 1 / face.inner_film) == pytest.approx(4.15)
    assert Boundary(1.0, 0.0).outer == 0


def test_a_plain_lining_changes_nothing_and_a_bright_one_insulates():
    u, film = lined(4.0, emissivity=USUAL_EMISSIVITY)
    assert (u, film) == (pytest.approx(4.0), pytest.approx(INNER_FILM))
    bright, thin_film = lined(4.0, emissivity=0.1)
    assert bright < 4.0
    # The bright lining itself is colder: a larger part of the fall lies in its air film.
    assert bright / thin_film > u / film
    assert lined(4.0, resistance=0.5)[0] == pytest.approx(1 / (1 / 4.0 + 0.5))


def test_a_wall_behind_insulates_more_than_a_window():
    free = 4.16
    window, inner, outer = (
        against(free, beyond, 0.02) for beyond in (WINDOW_U, INNER_WALL_U, OUTER_WALL_U)
    )
    assert free > window > inner > outer


@given(st.floats(0.3, 4.1), st.floats(0.3, 4.1), st.floats(0, 0.1))
def test_a_wider_gap_never_lets_more_through(u, beyond, gap):
    assert against(u, beyond, gap + 0.01) <= against(u, beyond, gap) + 1e-12


def test_gaps_beyond_the_table_stay_at_its_end():
    assert gap_resistance(0.3) == gap_resistance(0.025)
    assert gap_resistance(0) == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: u_value(-1), "Cover: resistance = −1 m² K/W must not be negative"),
        (lambda: sheet_resistance(-1, 1), "Sheet: thickness = −1 m must not be negative"),
        (lambda: sheet_resistance(1, 0), "Sheet: conductivity = 0 W/(m K) must be above 0"),
        (lambda: gap_resistance(-1), "Gap: thickness = −1 m must not be negative"),
        (lambda: lined(0), "Cover: U-value = 0 W/(m² K) must be above 0"),
        (lambda: lined(1, -1), "Lining: resistance = −1 m² K/W must not be negative"),
        (lambda: lined(1, emissivity=2), "Lining: emissivity = 2 must be from 0 to 1"),
        (lambda: against(8.4, 1, 0), "Cover: U-value = 8.4 W/(m² K) must leave room for the air"),
        (lambda: against(1, 9, 0), "Wall: U-value = 9 W/(m² K) must leave room for the air films"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
