"""Weight against statics and trade rules; the source stands beside each value."""

import pytest

from core.weight import castor_load, floor_pressure, push_to_tip, slenderness, tip_angle

POUND_FORCE_PER_SQUARE_FOOT = 47.880259  # NIST SP 811


def test_a_push_high_up_tips_a_shallow_unit():
    # Statics, m g (d/2)/h with g = 9.80665 m/s²
    assert push_to_tip(60, 0.45, 1.8) == pytest.approx(73.5, abs=0.05)


def test_the_lean_at_which_a_unit_tips():
    # Statics, atan((d/2)/h)
    assert tip_angle(0.4572, 0.95) == pytest.approx(13.53, abs=5e-3)


def test_the_pressure_under_a_loaded_unit():
    # Definition, m g/A
    pressure = floor_pressure(220, 1.2, 0.6)
    assert pressure / 1000 == pytest.approx(2.996, abs=5e-4)
    assert pressure / POUND_FORCE_PER_SQUARE_FOOT == pytest.approx(62.6, abs=0.05)


def test_three_castors_carry():
    # Trade rule: rating of each at least a third of the total (seen in a secondary copy)
    assert castor_load(240) == pytest.approx(80)


def test_slenderness_is_height_over_depth():
    # Definition; warn above 4 (one shelving maker's practice), anchor above 6 (from memory)
    assert slenderness(1.8, 0.45) == pytest.approx(4.0)
