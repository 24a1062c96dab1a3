"""Lines of equal value: right on a plane and round a hill, whole blocks keep the mean."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.contours import along, blocks, contour, joined, length, refined

X, Y = np.linspace(0.0, 1.0, 21), np.linspace(0.0, 0.5, 11)


def test_a_plane_is_crossed_along_a_straight_line():
    values = np.broadcast_to(X, (11, 21))

    pieces = contour(X, Y, np.asarray(values), 0.33)

    assert len(pieces) == 10
    assert pieces[..., 0] == pytest.approx(0.33)


def test_a_hill_is_ringed_at_its_radius():
    across, up = np.meshgrid(X, X)
    away = np.hypot(across - 0.5, up - 0.5)

    pieces = contour(X, X, -away, -0.3)

    radius = np.hypot(pieces[..., 0] - 0.5, pieces[..., 1] - 0.5)
    assert radius == pytest.approx(0.3, abs=0.003)
    length = np.hypot(*(pieces[:, 1] - pieces[:, 0]).T).sum()
    assert length == pytest.approx(2 * np.pi * 0.3, rel=0.01)


def test_the_pieces_of_a_ring_join_to_one_closed_line():
    across, up = np.meshgrid(X, X)
    away = np.hypot(across - 0.5, up - 0.5)

    (line,) = joined(contour(X, X, -away, -0.3))

    assert line[0] == pytest.approx(line[-1])
    assert length(line) == pytest.approx(2 * np.pi * 0.3, rel=0.01)


def test_a_ring_cut_by_the_edge_is_as_many_lines_the_longest_first():
    # About (0.5, 0.1) a ring of radius 0.3 keeps an arc of 2 (π/2 + asin(1/3)) inside
    across, up = np.meshgrid(X, Y)
    away = np.hypot(across - 0.5, up - 0.1)
    (arc,) = joined(contour(X, Y, -away, -0.3))
    assert length(arc) == pytest.approx(0.3 * 2 * (np.pi / 2 + np.arcsin(1 / 3)), rel=0.01)
    assert along(arc, 0.5) == pytest.approx((0.5, 0.4), abs=0.01)

    saddle = (across - 0.4) * (up - 0.25)
    lines = joined(contour(X, Y, saddle, 0.02))
    assert len(lines) == 2
    assert length(lines[0]) > length(lines[1])


def test_no_pieces_make_no_lines():
    assert joined(contour(X, Y, np.zeros((11, 21)), 1.0)) == []


def test_nothing_is_crossed_beyond_the_values():
    assert contour(X, Y, np.zeros((11, 21)), 1.0).shape == (0, 2, 2)


@given(st.integers(1, 7), st.integers(1, 9), st.integers(1, 4))
def test_a_finer_grid_stays_within_the_values(rows, columns, factor):
    values = np.random.default_rng(rows * 10 + columns).uniform(0, 100, (rows, columns))

    fine = refined(values, factor)

    assert fine.shape == (rows * factor, columns * factor)
    assert fine.min() >= values.min() - 1e-9
    assert fine.max() <= values.max() + 1e-9


def test_equal_blocks_keep_the_mean():
    values = np.random.default_rng(1).uniform(0, 100, (16, 32))

    coarse = blocks(values, 16, 8)

    assert coarse.shape == (8, 16)
    assert coarse.mean() == pytest.approx(values.mean())
    assert coarse[0, 0] == pytest.approx(values[:2, :2].mean())
