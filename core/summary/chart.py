"""The wall chart of care: one page that says what to do on which day, with boxes to tick.

Which events there are and how often they come is worked out in `core.summary.care`; the same
events as a calendar file are written by `core.summary.ics`.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from core.drawing.ink import PAPER
from core.drawing.paper import PX, Item, Shape, Text, rectangle
from core.language import tr
from core.model import Design
from core.summary.blocks import Cell, Paragraph, Picture, Section, Summary, Table
from core.summary.care import care_events, refill_events, upkeep_events
from core.summary.ics import Event
from core.summary.settings import settings_table
from core.summary.sheet import Paper, Wishes
from core.summary.wiring import fitting

if TYPE_CHECKING:
    from core.readings import Readings

DAYS, WEEKS = 28, 26
"""So many days stand on the first chart, so many weeks on the second. [d, weeks]"""
_OFTEN = 14
"""What comes at least so often stands on the chart of days. [d]"""
_NAMES, _ROW, _HEAD = 66.0, 6.4, 9.0
"""Width of the names, height of a row and of the dates above. [mm]"""
_SMALL = 10.5 * PX
_NOTES, _HELD = 2, 16
"""So many notes of an event stand in the table, so many containers of a round on the chart."""
_MOST_SETTINGS = 12
"""Up to so many rows of settings fit below the chart."""


def care_table(readings: Readings) -> Table | None:
    """Return what besides refills has to be done how often, and what is known of it."""
    events = upkeep_events(readings, date(2000, 1, 1))
    if not events:
        return None
    rows = tuple(_care_cells(event) for event in events)
    return Table((tr("What"), tr("How often"), tr("Why then")), rows, (0.34, 0.16, 0.5))


def _care_cells(event: Event) -> tuple[Cell, ...]:
    return event.title, every_words(event.every), _told(event, _NOTES)


def _told(event: Event, most: int) -> str:
    """Return an event's notes, or the first of them and how many more there are."""
    told = "; ".join(event.notes[:most])
    left = len(event.notes) - most
    if left > 0:
        told = tr("{told}; {count} more in the calendar").format(told=told, count=left)
    return told


def every_words(days: int) -> str:
    """Return a rhythm in words."""
    return tr("every day") if days == 1 else tr("every {days} days").format(days=days)


def wall_chart(
    design: Design, readings: Readings, start: date, wishes: Wishes | None = None
) -> Summary:
    """Return the page that hangs beside the enclosure.

    Parameters
    ----------
    design : Design
    readings : Readings
    start : date
        The day on which all is full and clean.
    wishes : Wishes, optional

    Returns
    -------
    Summary
        Of a single page.
    """
    paper = (wishes or Wishes()).sheet(design.units)
    events = care_events(readings, start)
    season = design.season(readings.season).name
    sections = _charts(events, start, paper)
    rounds = refill_events(design, readings.water.supplies, start)
    if rounds:
        sections.append(Section(tr("What each round refills"), (_rounds(rounds),)))
    settings = settings_table(design)
    if settings and len(settings.rows) <= _MOST_SETTINGS:
        sections.append(Section(tr("Set to"), (settings,)))
    return Summary(
        title=tr("Care of {name}").format(name=design.name),
        subtitle=tr("As the readings of {season} say; all full and clean on {day}.").format(
            season=season, day=start.isoformat()
        ),
        stamp=start.isoformat(),
        footer=tr("Measured days go before estimated ones: type them, and print this again."),
        sections=tuple(sections),
        paper=paper,
    )


def _rounds(events: tuple[Event, ...]) -> Table:
    rows = tuple((one.title, every_words(one.every), _told(one, _HELD)) for one in events)
    return Table((tr("Round"), tr("How often"), tr("What it holds")), rows, (0.28, 0.16, 0.56))


def _charts(events: tuple[Event, ...], start: date, paper: Paper) -> list[Section]:
    """Return what comes often day by day, and the rest week by week."""
    often = tuple(event for event in events if event.every <= _OFTEN)
    rest = tuple(event for event in events if event.every > _OFTEN)
    width = paper.room[0]
    found = []
    if often:
        found.append(Section(tr("Four weeks, day by day"), (_days(often, start, width),)))
    if rest:
        found.append(Section(tr("Half a year, week by week"), (_weeks(rest, start, width),)))
    nothing = Paragraph(tr("Nothing has to be done again and again."))
    return found or [Section(tr("Care"), (nothing,))]


def _days(events: tuple[Event, ...], start: date, width: float) -> Picture:
    """Return tasks by days, with a box to tick on each day on which something is due."""
    step = (width - _NAMES) / DAYS
    items: list[Item] = []
    for number in range(DAYS):
        day = start + timedelta(days=number + 1)
        items += _day(day, number, _NAMES + number * step, step, len(events))
    for row, event in enumerate(events):
        items += _name(event, row, width)
        due = range(event.every, DAYS + 1, event.every)
        items += [_box(row, _NAMES + (day - 0.5) * step, step) for day in due]
    return Picture(tuple(items), width, _HEAD + len(events) * _ROW + 1.0, _spoken(events))


def _day(day: date, number: int, x: float, step: float, count: int) -> list[Item]:
    """Return a day's number, the month above its first, and a shade on the weekend."""
    items: list[Item] = []
    if day.weekday() >= 5:
        size = (step, _ROW * count + _HEAD - 4.0)
        items.append(rectangle(x, 4.0, *size, None, fill=PAPER["fine_bg"]))
    items.append(Text((x + step / 2, 7.6), str(day.day), _SMALL, anchor="centre"))
    if day.day == 1 or (number == 0 and day.day < 26):
        items.append(Text((x, 3.2), f"{day:%Y-%m}", _SMALL, PAPER["ink2"]))
    return items


def _weeks(events: tuple[Event, ...], start: date, width: float) -> Picture:
    """Return tasks by weeks, with the day of the month in each box."""
    step = (width - _NAMES) / WEEKS
    items: list[Item] = []
    month = 0
    for week in range(WEEKS):
        day, x = start + timedelta(days=7 * week + 1), _NAMES + week * step
        if day.month != month:
            month = day.month
            foot = _HEAD + len(events) * _ROW
            items.append(Shape(((x, 4.0), (x, foot)), PAPER["hair"], PX))
            if week or day.day < 8:  # else the next month's name stands in the way
                items.append(Text((x + 0.8, 7.0), f"{day:%Y-%m}", _SMALL, PAPER["ink2"]))
    for row, event in enumerate(events):
        items += _name(event, row, width)
        for due in range(event.every, 7 * WEEKS + 1, event.every):
            x = _NAMES + ((due - 1) // 7 + 0.5) * step
            day = start + timedelta(days=due)
            foot = _HEAD + (row + 0.5) * _ROW + 0.36 * _SMALL
            items.append(_box(row, x, step))
            items.append(Text((x, foot), str(day.day), _SMALL, PAPER["ink2"], anchor="centre"))
    return Picture(tuple(items), width, _HEAD + len(events) * _ROW + 1.0, _spoken(events))


def _name(event: Event, row: int, width: float) -> list[Item]:
    y = _HEAD + row * _ROW
    name = fitting(event.title, _NAMES - 3.0, 11 * PX)
    return [
        Shape(((0.0, y + _ROW), (width, y + _ROW)), PAPER["hair"], PX),
        Text((0.0, y + _ROW / 2 + 0.36 * 11 * PX), name, 11 * PX),
    ]


def _box(row: int, middle: float, step: float) -> Shape:
    side = min(step - 0.6, _ROW - 1.4)
    y = _HEAD + (row + 0.5) * _ROW
    return rectangle(middle - side / 2, y - side / 2, side, side, fill=PAPER["raised"])


def _spoken(events: tuple[Event, ...]) -> str:
    told = "; ".join(f"{event.title}: {every_words(event.every)}" for event in events)
    return tr("Boxes to tick on the days on which they are due. {list}").format(list=told)
