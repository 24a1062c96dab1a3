"""Reads what a temperature and humidity sensor has logged, in the forms such loggers write.

A reduced day of 24 hours is all that a design keeps; the file itself is never looked at again.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from core.climate.weather.lines import lines_of, number, refusal, text_of, within
from core.climate.zone import Floats
from core.errors import FileError
from core.language import tr
from core.model import DayProfile

FULLEST = 6
"""Hours of the day that may be without a value and are bridged."""

COLDEST, HOTTEST = -60.0, 80.0

_TIME = re.compile(r"time|date|zeit|datum|stamp|heure|fecha|hora", re.IGNORECASE)
_TEMPERATURE = re.compile(r"temp|°\s*[cf]\b|^t$", re.IGNORECASE)
_HUMIDITY = re.compile(r"hum|\brh\b|feucht|r\.h\.|%", re.IGNORECASE)
_FAHRENHEIT = re.compile(r"°\s*f|\bfahrenheit\b|\(f\)|\[f\]|_f\b|\bdeg\s*f", re.IGNORECASE)
_DATE = re.compile(r"(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})")
_CLOCK = re.compile(r"(?:^|[T\s])(\d{1,2}):(\d{2})(?::\d{2}(?:[.,]\d+)?)?\s*([AaPp][Mm])?")
_EPOCH = re.compile(r"\d{10}(\d{3})?")


@dataclass(frozen=True, eq=False)
class SensorLog:
    """What a sensor logged.

    Attributes
    ----------
    minute : ndarray of int
        Of the day, for each line. [min]
    temperature, humidity : ndarray
        [°C], 0 to 1
    days : int
        Days with at least one value.
    first, last : str
        Dates, as year-month-day.
    guessed : bool
        Whether days and months could be told apart by nothing, and months were taken first.
    """

    minute: np.ndarray
    temperature: Floats
    humidity: Floats
    days: int
    first: str
    last: str
    guessed: bool = False

    def profile(self) -> DayProfile:
        """Return the mean at each full hour, half an hour to either side.

        Raises
        ------
        FileError
            If too many hours of the day have no value.
        """
        hour = ((self.minute + 30) // 60) % 24
        known = np.array([np.any(hour == number) for number in range(24)])
        if (~known).sum() > FULLEST:
            words = tr("The log has values in {count} of 24 hours of the day; at least {least} are "
                       "needed; let the sensor run for a whole day.")  # fmt: skip
            raise FileError(words.format(count=int(known.sum()), least=24 - FULLEST))
        t, rh = (
            _closed([values[hour == n].mean() if known[n] else np.nan for n in range(24)])
            for values in (self.temperature, self.humidity)
        )
        return DayProfile(
            temperature=tuple(round(float(value), 2) for value in t),
            humidity=tuple(round(float(value), 4) for value in np.clip(rh, 0.0, 1.0)),
        )


def _closed(values: list[float]) -> Floats:
    """Return a day with its gaps bridged in straight lines, over midnight too."""
    day = np.array(values)
    at = np.flatnonzero(~np.isnan(day))
    return np.interp(np.arange(24), at, day[at], period=24)


def read_sensor(path: str | os.PathLike[str]) -> SensorLog:
    """Return the log in a file that the user chose.

    Raises
    ------
    FileError
        As `parse_sensor`, or if the file cannot be read.
    """
    return parse_sensor(text_of(path), os.fspath(path))


def parse_sensor(text: str, name: str = "log.csv") -> SensorLog:
    """Return what a sensor logged.

    Columns are parted by commas, semicolons or tabs and named in a line of their own: a time (or
    date and time), a temperature in °C or °F, a relative humidity in %. Decimal commas are read
    where columns are not parted by commas. Empty lines and lines before the names are passed over.

    Parameters
    ----------
    text : str
    name : str
        What errors call the file; it is not opened.

    Returns
    -------
    SensorLog

    Raises
    ------
    FileError
        If there are no such columns or a value cannot be; the text names the line.
    """
    lines = lines_of(text, name)
    at, columns = _columns(lines, name)
    rows = [
        (number_, _parted(line, columns.mark))
        for number_, line in enumerate(lines[at + 1 :], at + 2)
        if line.strip()
    ]
    if not rows:
        raise refusal(name, at + 1, tr("no measurements follow; choose a log with values"))
    order, guessed = _date_order(rows, columns)
    found = list(_values(name, rows, columns, order))
    moments = [moment for moment, _, _ in found]
    dates = sorted({moment.date() for moment in moments})
    return SensorLog(
        np.array([moment.hour * 60 + moment.minute for moment in moments]),
        np.array([t for _, t, _ in found]),
        np.array([rh for _, _, rh in found]),
        len(dates),
        dates[0].isoformat(),
        dates[-1].isoformat(),
        guessed,
    )


@dataclass(frozen=True)
class _Columns:
    mark: str
    when: tuple[int, ...]
    temperature: int
    humidity: int
    fahrenheit: bool


def _columns(lines: list[str], name: str) -> tuple[int, _Columns]:
    """Return the line that names the columns, and which they are."""
    for at, line in enumerate(lines[:50]):
        mark = max(";\t,", key=line.count)
        names = _parted(line, mark)
        when = tuple(n for n, one in enumerate(names) if _TIME.search(one))[:2]
        warm = [n for n, one in enumerate(names) if _TEMPERATURE.search(one) and n not in when]
        damp = [
            n
            for n, one in enumerate(names)
            if _HUMIDITY.search(one) and n not in (*when, *warm[:1])
        ]
        if when and warm and damp:
            warmest = names[warm[0]]
            found = _Columns(mark, when, warm[0], damp[0], bool(_FAHRENHEIT.search(warmest)))
            return at, found
    words = tr("no line names a time, a temperature and a humidity; give the columns such names")
    raise refusal(name, 1, words)


def _parted(line: str, mark: str) -> list[str]:
    return [part.strip().strip('"').strip() for part in line.split(mark)]


def _moment_text(fields: list[str], columns: _Columns) -> str:
    return " ".join(fields[n] for n in columns.when if n < len(fields))


def _date_order(rows: list[tuple[int, list[str]]], columns: _Columns) -> tuple[str, bool]:
    """Return in which order dates are written, and whether that is a guess."""
    dotted = False
    for _, fields in rows:
        text = _moment_text(fields, columns)
        found = _DATE.search(text)
        if found is None:
            continue
        if len(found[1]) == 4:
            return "ymd", False
        dotted = dotted or "." in found[0]
        if int(found[1]) > 12:
            return "dmy", False
        if int(found[2]) > 12:
            return "mdy", False
    return ("dmy", False) if dotted else ("mdy", True)


def _values(
    name: str, rows: list[tuple[int, list[str]]], columns: _Columns, order: str
) -> Iterator[tuple[datetime, float, float]]:
    least, most = (-76.0, 176.0) if columns.fahrenheit else (COLDEST, HOTTEST)
    for at, fields in rows:
        if max(columns.temperature, columns.humidity, *columns.when) >= len(fields):
            words = tr("has {count} columns, fewer than the line that names them; correct it or "
                       "leave it out")  # fmt: skip
            raise refusal(name, at, words.format(count=len(fields)))
        warm, damp = fields[columns.temperature], fields[columns.humidity]
        if not warm and not damp:
            continue
        t = within(name, at, tr("temperature"), warm, least, most)
        rh = within(name, at, tr("humidity"), damp, 0.0, 100.0)
        celsius = (t - 32) * 5 / 9 if columns.fahrenheit else t
        yield _moment(name, at, _moment_text(fields, columns), order), celsius, rh / 100


def _moment(name: str, at: int, text: str, order: str) -> datetime:
    if _EPOCH.fullmatch(text):
        seconds = number(text[:10])
        assert seconds is not None
        return datetime.fromtimestamp(seconds, UTC)
    date, clock = _DATE.search(text), _CLOCK.search(text)
    if date is not None and clock is not None:
        parts = dict(zip(order, (int(part) for part in date.groups()), strict=True))
        year = parts["y"] + (2000 if parts["y"] < 100 else 0)
        hour = int(clock[1])
        if clock[3]:
            hour = hour % 12 + (12 if clock[3].lower() == "pm" else 0)
        try:
            return datetime(year, parts["m"], parts["d"], hour, int(clock[2]))
        except ValueError:
            pass
    words = tr("time = ‘{text}’ must be a date and a time, as in 2024-07-01 14:30; correct it or "
               "leave the line out")  # fmt: skip
    raise refusal(name, at, words.format(text=text[:40]))
