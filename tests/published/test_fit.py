"""Carrying in, against closed forms."""

import pytest

from core.fit import tilt_height, widest_round_corner


def test_a_thin_panel_round_a_corner():
    # Closed form (a^⅔ + b^⅔)^1.5
    assert widest_round_corner(0.9, 1.2) == pytest.approx(2.960, abs=5e-4)


def test_a_thick_panel_round_the_same_corner():
    # Least over θ of a/sin θ + b/cos θ - t (tan θ + cot θ)
    assert widest_round_corner(0.9, 1.2, 0.05) == pytest.approx(2.859, abs=5e-4)


def test_the_ceiling_needed_to_tilt_a_unit_up():
    # Pythagoras, √(h² + d²)
    assert tilt_height(2.1, 0.6) == pytest.approx(2.184, abs=5e-4)
