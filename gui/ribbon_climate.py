"""The day ribbon in Climate: temperature, humidity or VPD, what plants want, and what devices do.

The lines are `gui.climate_day_lines`'; how the ribbon draws them is `gui.time_axis`' affair.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from gui.climate_day_lines import LINES, Flags, Span, Track, line_title, strokes, told_at, track
from gui.time_axis import DayLine, stretches

if TYPE_CHECKING:
    from core.readings import Readings
    from gui.day_ribbon import DayRibbon

_MOST_DEVICES = 4
_BRIDGED = 4


def fill_climate(ribbon: DayRibbon, readings: Readings, line: str) -> bool:
    """Show one line of the climate and offer the others; False where there is no day to show."""
    found = track(readings, line)
    if found is None:
        ribbon.offer_lines((), "")
        return False
    ribbon.offer_lines([(key, line_title(key)) for key in LINES], line)
    ribbon.set_line(day_line(found, readings))
    return True


def day_line(found: Track, readings: Readings) -> DayLine:
    """Return a line of the climate as the ribbon draws it."""
    return DayLine(
        found.values,
        found.low,
        found.high,
        found.title,
        found.text,
        (None, None),
        "air",
        filled=False,
        told=lambda minute: told_at(readings, minute),
        spans=tuple(_spans(found.lit, found.day)) + tuple(_spans(~found.lit, found.night)),
        ends=found.scale,
        strokes=tuple(
            tuple(strokes(one, _BRIDGED)) for one in readings.climate.devices[:_MOST_DEVICES]
        ),
    )


def _spans(
    when: Flags, spans: tuple[Span, ...]
) -> Iterator[tuple[int, int, float | None, float | None]]:
    for start, end in stretches(when):
        for low, high in spans if len(spans) == 1 else ():
            yield start, end, low, high
