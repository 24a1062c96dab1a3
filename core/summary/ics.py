"""Events that come back every so many days as an iCalendar file (RFC 5545).

Which events a design gives is in `core.summary.care`; the same events give the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from uuid import NAMESPACE_OID, uuid5

from core.errors import InputError, complaint

LINE = 75
"""Longest line, in octets (RFC 5545, section 3.1). [1]"""


@dataclass(frozen=True)
class Event:
    """Something to do on a day, and again every so many days.

    Attributes
    ----------
    key : str
        Tells it from all others, and the same one again from file to file.
    title : str
    notes : tuple of str
        Lines of its description.
    first : date
    every : int
        From one time to the next, 1 or more. [d]
    """

    key: str
    title: str
    notes: tuple[str, ...]
    first: date
    every: int


def calendar_text(events: Iterable[Event], *, stamp: date) -> str:
    """Return events as the text of an .ics file, each all day and repeated.

    Parameters
    ----------
    events : iterable of Event
    stamp : date
        When the file is made.

    Raises
    ------
    InputError
        If an event's days from one time to the next are less than 1.

    References
    ----------
    .. [1] RFC 5545, Internet Calendaring and Scheduling Core Object Specification, 2009,
       sections 3.1 (lines), 3.3.11 (text), 3.6.1 (events), 3.8.5.3 (repetition).
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Fernwright//Fernwright//EN",
        "CALSCALE:GREGORIAN",
    ]
    for event in events:
        lines += _event_lines(event, stamp)
    lines.append("END:VCALENDAR")
    return "".join(f"{piece}\r\n" for line in lines for piece in _folded(line))


def _event_lines(event: Event, stamp: date) -> list[str]:
    if event.every < 1:
        rule, way_out = "must be 1 or more", "enter a whole number of days"
        raise InputError(complaint(event.title, "every", f"{event.every} d", rule, way_out))
    notes = [f"DESCRIPTION:{_text(chr(10).join(event.notes))}"] if event.notes else []
    return [
        "BEGIN:VEVENT",
        f"UID:{uuid5(NAMESPACE_OID, event.key)}",
        f"DTSTAMP:{stamp:%Y%m%d}T000000Z",
        f"DTSTART;VALUE=DATE:{event.first:%Y%m%d}",
        f"RRULE:FREQ=DAILY;INTERVAL={event.every}",
        f"SUMMARY:{_text(event.title)}",
        *notes,
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]


def _text(words: str) -> str:
    """Return words with the signs escaped that mean something in a file."""
    for sign in ("\\", ";", ","):
        words = words.replace(sign, f"\\{sign}")
    plain = words.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\\n")
    return "".join(sign for sign in plain if sign == "\t" or (ord(sign) >= 32 and sign != "\x7f"))


def _folded(line: str) -> Iterator[str]:
    """Iterate over a line in pieces that are short enough; a space starts what goes on."""
    piece, size = "", 0
    for sign in line:
        octets = len(sign.encode())
        if size + octets > LINE:
            yield piece
            piece, size = " ", 1
        piece, size = piece + sign, size + octets
    yield piece
