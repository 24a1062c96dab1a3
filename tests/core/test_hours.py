"""Hours of the day: many ways to type them, one way to show them, and what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.hours import ALL_DAY, DAY, lit_minutes, parse_hours, show_clock, show_hours


@pytest.mark.parametrize(
    ("text", "periods"),
    [
        ("07:00–19:00", ((420, 1140),)),
        ("7-19", ((420, 1140),)),
        ("7:30 to 19.15", ((450, 1155),)),
        ("7 am – 7 pm", ((420, 1140),)),
        ("12 am - 12 pm", ((0, 720),)),
        ("22:00–06:00", ((1320, 360),)),
        ("17:00–24:00", ((1020, 0),)),
        ("17:00–22:00, 07:00–09:00", ((420, 540), (1020, 1320))),
        ("7–9 and 17–22", ((420, 540), (1020, 1320))),
        (" All day ", ALL_DAY),
        ("00:00–24:00", ALL_DAY),
        ("7h30–9h", ((450, 540),)),
    ],
)
def test_spoken_hours_are_read(text: str, periods: tuple) -> None:
    assert parse_hours(text) == periods


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "missing"),
        ("07:00", "both"),
        ("seven to nine", "not a time of day"),
        ("07:00–25:00", "past the end"),
        ("07:75–09:00", "past the end"),
        ("7–7", "same time"),
        ("13 pm–14 pm", "half day"),
        ("07:00–12:00, 11:00–13:00", "overlap"),
        ("22:00–06:00, 05:00–07:00", "overlap"),
        ("7–9–11", "both"),
        ("07:00–19:00,", "both"),
    ],
)
def test_unreadable_hours_are_refused_with_the_way_out(text: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        parse_hours(text)


def test_shown_as_in_a_timetable() -> None:
    assert show_hours(((420, 1140),)) == "07:00–19:00"
    assert show_hours(ALL_DAY) == show_hours(()) == "all day"
    assert show_clock(860) == "14:20"


edges = st.lists(st.integers(0, DAY - 1), min_size=2, max_size=8, unique=True)


@given(edges.filter(lambda found: len(found) % 2 == 0).map(sorted), st.booleans())
def test_what_is_shown_reads_back(minutes: list[int], over_midnight: bool) -> None:
    if over_midnight:
        minutes = minutes[1:] + minutes[:1]
    periods = tuple(sorted(zip(minutes[::2], minutes[1::2], strict=True)))
    assert parse_hours(show_hours(periods)) == periods


@given(st.integers(0, DAY - 1), st.integers(0, DAY - 1))
def test_as_many_minutes_are_lit_as_the_period_is_long(on: int, off: int) -> None:
    lit = lit_minutes(((on, off),))
    assert len(lit) == ((off - on) % DAY or DAY)
    assert on in lit
