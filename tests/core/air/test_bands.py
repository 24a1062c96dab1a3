"""Names of bands, of one speed and of a range."""

from __future__ import annotations

import pytest

from core.air.bands import band


@pytest.mark.parametrize(
    ("speed", "high", "name"),
    [
        # DESIGN: still below 0.10, gentle to 0.50, brisk to 1.0, too strong above (seedlings 0.7).
        (0.0, 1.0, "still"),
        (0.099, 1.0, "still"),
        (0.10, 1.0, "gentle"),
        (0.49, 1.0, "gentle"),
        (0.50, 1.0, "brisk"),
        (1.0, 1.0, "brisk"),
        (1.01, 1.0, "too strong"),
        (0.71, 0.7, "too strong"),
        (0.4, 0.3, "too strong"),
    ],
)
def test_a_speed_has_the_name_of_its_band(speed: float, high: float, name: str) -> None:
    assert band(speed, high, (speed, speed)).render() == name


@pytest.mark.parametrize(
    ("speed", "spread", "name"),
    [
        (0.3, (0.2, 0.4), "gentle"),
        (0.15, (0.05, 0.25), "still to gentle"),
        (0.05, (0.0, 0.15), "still to gentle"),
        (0.9, (0.63, 1.17), "brisk to too strong"),
    ],
)
def test_a_range_that_reaches_into_another_band_names_both(
    speed: float, spread: tuple[float, float], name: str
) -> None:
    assert band(speed, 1.0, spread).render() == name
