"""Times of day: read in the ways they are written, shown by the 24-hour clock.

Durations are ordinary quantities and live in `table`.
"""

from __future__ import annotations

import re

_TIME = re.compile(
    r"([0-9]{1,2})(?:[:h]([0-9]{2})(?::([0-9]{2}))?|h)? ?(am|pm|a\.m\.|p\.m\.)?", re.IGNORECASE
)
_DAY = 24 * 3600


def seconds_in(text: str) -> float | None:
    """Return the seconds after midnight of plain ``text`` (24:00 is the day's end), or None."""
    found = _TIME.fullmatch(text)
    if not found:
        return None
    hour, minute, second = (int(part or 0) for part in found.groups()[:3])
    if found[4]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found[4][0] in "pP" else 0)
    seconds = hour * 3600 + minute * 60 + second
    return float(seconds) if minute < 60 and second < 60 and seconds <= _DAY else None


def clock_text(seconds: float, fine: bool = False) -> str | None:
    """Return "14:20", with seconds if ``fine``; None outside 0 to 24 hours."""
    if not 0 <= seconds <= _DAY:
        return None
    step = 1 if fine else 60
    minutes, second = divmod(round(seconds / step) * step, 60)
    text = f"{minutes // 60:02d}:{minutes % 60:02d}"
    return f"{text}:{second:02d}" if fine else text
