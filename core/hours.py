"""Hours of the day as they are spoken ("07:00–19:00", "all day"), read and shown.

A single time of day is a quantity like any other and belongs to `core.units`; what the hours
switch, to the model.
"""

from __future__ import annotations

import re

from core.errors import InputError
from core.language import tr

DAY = 24 * 60
Periods = tuple[tuple[int, int], ...]
ALL_DAY: Periods = ((0, 0),)

_CLOCK = re.compile(r"(\d{1,2})(?:[:h.](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.|h)?", re.IGNORECASE)
_DASH = re.compile(r"\s*(?:[-–—−]|\bto\b|\buntil\b)\s*", re.IGNORECASE)
_JOIN = re.compile(r"\s*(?:[,;]|\band\b)\s*", re.IGNORECASE)
_ALL_DAY = re.compile(r"all day|always|24 ?h", re.IGNORECASE)


def parse_hours(text: str) -> Periods:
    """Return the periods that ``text`` names, earliest first.

    Parameters
    ----------
    text : str
        One period or several, parted by commas: "7–19", "7:30 to 9:00, 5 pm–10 pm", "all day".

    Returns
    -------
    tuple of (on, off)
        Minutes of the day, 0 to 1439. ``off`` at or before ``on`` means over midnight; the whole
        day is ``((0, 0),)``. [min]

    Raises
    ------
    InputError
        If a time cannot be read, a period has no length, or two periods overlap.
    """
    spoken = text.strip()
    if _ALL_DAY.fullmatch(spoken):
        return ALL_DAY
    if not spoken:
        raise InputError(tr("Hours are missing; enter 07:00–19:00, or all day."))
    periods = tuple(sorted(_period(part) for part in _JOIN.split(spoken)))
    _refuse_overlap(periods)
    return periods


def show_hours(periods: Periods) -> str:
    """Return ``periods`` as `parse_hours` reads them; no period at all is the whole day.

    Examples
    --------
    >>> show_hours(((420, 540), (1020, 0)))
    '07:00–09:00, 17:00–24:00'
    """
    if not periods or any(on == off for on, off in periods):
        return tr("all day")
    return ", ".join(f"{show_clock(on)}–{show_clock(off or DAY)}" for on, off in periods)


def show_clock(minute: int) -> str:
    """Return a minute of the day as "14:20"; 1440 is "24:00"."""
    return f"{minute // 60:02d}:{minute % 60:02d}"


def lit_minutes(periods: Periods) -> set[int]:
    """Return every minute of the day that lies within ``periods``. [min]"""
    return {
        minute % DAY for on, off in periods for minute in range(on, off if off > on else off + DAY)
    }


def _period(part: str) -> tuple[int, int]:
    ends = _DASH.split(part)
    if len(ends) != 2:
        rule = tr("“{text}” is not a beginning and an end; enter both, as in 07:00–19:00.")
        raise InputError(rule.format(text=part))
    on, off = (_minute(end) for end in ends)
    if on == off:
        rule = tr("“{text}” begins and ends at the same time; enter two times, or all day.")
        raise InputError(rule.format(text=part))
    return on % DAY, off % DAY


def _minute(text: str) -> int:
    found = _CLOCK.fullmatch(text.strip())
    if not found:
        rule = tr("“{text}” is not a time of day; enter it as in 07:00 or 7 pm.")
        raise InputError(rule.format(text=text.strip()))
    hour, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "").lower()
    if half[:1] in ("a", "p"):
        hour = _from_half_day(hour, half, text)
    if minute > 59 or hour * 60 + minute > DAY:
        rule = tr("“{text}” is past the end of the day; enter a time from 00:00 to 24:00.")
        raise InputError(rule.format(text=text.strip()))
    return hour * 60 + minute


def _from_half_day(hour: int, half: str, text: str) -> int:
    if not 1 <= hour <= 12:
        rule = tr("“{text}” is not an hour of a half day; enter 1 to 12 with am or pm.")
        raise InputError(rule.format(text=text.strip()))
    return hour % 12 + (12 if half.startswith("p") else 0)


def _refuse_overlap(periods: Periods) -> None:
    lengths = sum((off - on) % DAY or DAY for on, off in periods)
    if lengths > len(lit_minutes(periods)):
        rule = tr("{hours} overlap; enter periods that follow each other.")
        raise InputError(rule.format(hours=show_hours(periods)))
