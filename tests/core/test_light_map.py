"""The light map's seven steps: their breaks, their colours, and signs where they belong."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from core.light_map import (
    COLOURS,
    PLACES,
    TOO_LITTLE,
    TOO_MUCH,
    breaks,
    equal_breaks,
    sign_points,
    step_image,
)

CIVIDIS = Path(__file__).parents[2] / "resources" / "colour" / "cividis.csv"


def test_breaks_put_three_steps_into_the_wanted_range() -> None:
    assert np.allclose(breaks(40, 90), (20, 40, 56.6667, 73.3333, 90, 135), atol=1e-3)
    assert equal_breaks(70) == (10, 20, 30, 40, 50, 60)


def test_both_ends_of_the_wanted_range_are_wanted() -> None:
    edge = step_image([[19.9, 20, 39.99, 40, 90, 90.01, 135, 135.01]], breaks(40, 90))
    assert edge.tolist() == [[0, 1, 1, 2, 4, 5, 5, 6]]


def test_colours_are_the_published_map_at_the_seven_places() -> None:
    lines = [s for s in CIVIDIS.read_text(encoding="utf-8").splitlines() if s[:1] in "01"]
    table = np.array([[float(v) for v in line.split(",")] for line in lines if line])
    assert table.shape == (256, 3)
    for place, colour in zip(PLACES, COLOURS, strict=True):
        red, green, blue = np.rint(table[int(place * 255)] * 255).astype(int)
        assert f"#{red:02X}{green:02X}{blue:02X}" == colour


def test_signs_stand_only_on_their_own_steps() -> None:
    steps = np.array([[0, 3], [3, 6]], dtype=np.uint8)
    dots = sign_points(steps, 100, 100, TOO_LITTLE)
    strokes = sign_points(steps, 100, 100, TOO_MUCH)
    assert len(dots) > 20 and len(strokes) > 20
    assert (dots < 50).all()
    assert (strokes >= 50).all()


def test_signs_keep_their_pitch_when_the_picture_grows() -> None:
    steps = np.zeros((3, 5), dtype=np.uint8)
    small, large = (len(sign_points(steps, s, s, TOO_LITTLE)) for s in (80, 160))
    assert 3.5 < large / small < 4.5
