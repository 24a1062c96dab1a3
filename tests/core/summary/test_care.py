"""Care: refills come when the water is expected to be gone, in a file every calendar reads."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from uuid import NAMESPACE_OID, uuid5

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.model import Design, Room
from core.storage import load
from core.study import study
from core.summary.care import refill_events
from core.summary.ics import LINE, Event, calendar_text
from core.water import Days
from core.water.fortnight import refill_days
from core.water.reading import read
from core.water.use import Supply

START = date(2026, 3, 1)
DEMOS = Path(__file__).parents[3] / "resources" / "demos"


def supply(name: str, days: float | None, volume: float = 0.01) -> Supply:
    band = None if days is None else Days(days, days / 2, days * 2)
    return Supply(
        name.lower().replace(" ", "-"), name, "tray", None, volume, 0.001, band, 0.5, "rate"
    )


def events(*supplies: Supply) -> tuple[Event, ...]:
    design = Design(name="Hall", room=Room.rectangle(3.0, 2.0, 2.4))
    return refill_events(design, supplies, START)


@pytest.mark.parametrize(
    ("days", "every"), [(6.9, 6), (6.0, 6), (0.4, 1), (None, None), (float("inf"), None)]
)
def test_a_refill_is_due_before_the_water_is_gone(days: float | None, every: int | None) -> None:
    assert refill_days(supply("Tray", days)) == every


def test_what_has_one_rhythm_is_one_event_and_the_most_frequent_comes_first() -> None:
    found = events(supply("Reservoir", 12.0), supply("Tray 1", 6.2), supply("Tray 2", 6.8),
                   supply("Spare", None))  # fmt: skip
    assert [(event.title, event.every) for event in found] == [
        ("Refill Tray 1, Tray 2", 6),
        ("Refill Reservoir", 12),
    ]
    assert found[0].first == START + timedelta(days=6)
    assert found[0].notes[0] == "Tray 1: 10 L, lasts 3 to 13 days"


def test_many_containers_are_counted_and_each_stands_in_the_notes() -> None:
    (event,) = events(*(supply(f"Tray {i}", 5.0) for i in range(1, 6)))
    assert event.title == "Refill Tray 1 and 4 more"
    assert len(event.notes) == 5


def test_the_file_is_as_the_standard_writes_it() -> None:
    event = Event("a key", "Refill Tray 1, Tray 2; both", ("first", "second \\ line"), START, 6)
    text = calendar_text([event], stamp=date(2026, 2, 28))
    assert text.split("\r\n") == [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Fernwright//Fernwright//EN",
        "CALSCALE:GREGORIAN",
        "BEGIN:VEVENT",
        f"UID:{uuid5(NAMESPACE_OID, 'a key')}",
        "DTSTAMP:20260228T000000Z",
        "DTSTART;VALUE=DATE:20260301",
        "RRULE:FREQ=DAILY;INTERVAL=6",
        "SUMMARY:Refill Tray 1\\, Tray 2\\; both",
        "DESCRIPTION:first\\nsecond \\\\ line",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
        "END:VCALENDAR",
        "",
    ]


def test_an_event_that_never_comes_again_is_refused() -> None:
    with pytest.raises(InputError, match="Water: every = 0 d must be 1 or more"):
        calendar_text([Event("k", "Water", (), START, 0)], stamp=START)


@given(st.text(max_size=200), st.lists(st.text(max_size=80), max_size=4), st.integers(1, 400))
def test_lines_are_short_and_every_reader_finds_the_words_again(
    title: str, notes: list[str], every: int
) -> None:
    text = calendar_text([Event("k", title, tuple(notes), START, every)], stamp=START)
    assert all(len(line.encode()) <= LINE for line in text.split("\r\n"))
    unfolded = text.replace("\r\n ", "")
    assert unfolded.count("\r\n") == 13 + bool(notes)


def test_the_icalendar_library_reads_the_refills_of_a_demo() -> None:
    icalendar = pytest.importorskip("icalendar")
    design = load(DEMOS / "stair-alcove.fern")
    supplies = read(study(design)).supplies
    found = refill_events(design, supplies, START)
    text = calendar_text(found, stamp=START)
    assert text == calendar_text(refill_events(design, supplies, START), stamp=START)
    calendar = icalendar.Calendar.from_ical(text)
    assert calendar["VERSION"] == "2.0"
    read_back = calendar.walk("VEVENT")
    assert len(read_back) == len(found) > 0
    assert not [error for event in read_back for error in event.errors]
    for event, component in zip(found, read_back, strict=True):
        assert str(component["SUMMARY"]) == event.title
        assert str(component.get("DESCRIPTION", "")) == "\n".join(event.notes)
        assert component["DTSTART"].dt == event.first
        assert component["RRULE"] == {"FREQ": ["DAILY"], "INTERVAL": [event.every]}
    assert len({str(component["UID"]) for component in read_back}) == len(found)


def test_the_icalendar_library_reads_any_words() -> None:
    icalendar = pytest.importorskip("icalendar")
    title = "Größe; 5 × 2, \\ and ½ – " * 8
    text = calendar_text([Event("k", title, ("a, b", "c; d"), START, 3)], stamp=START)
    (component,) = icalendar.Calendar.from_ical(text).walk("VEVENT")
    assert str(component["SUMMARY"]) == title
    assert str(component["DESCRIPTION"]) == "a, b\nc; d"
