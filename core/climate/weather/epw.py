"""Reads open weather files in the EPW form: a year of outdoor air and sun, hour by hour.

Only what climate uses is read; the reader is our own. Missing values are bridged from the hours
beside them, and counted.
"""

from __future__ import annotations

import os
from dataclasses import dataclass

import numpy as np

from core.climate.weather.lines import lines_of, number, refusal, text_of, within
from core.climate.zone import Floats
from core.errors import FileError
from core.language import tr

HOURS = 8760
"""Hours of a year without a leap day."""

HEADERS = 8
_DRY_BULB, _HUMIDITY, _DIRECT, _DIFFUSE, _GLOBAL = 6, 8, 14, 15, 13
_MONTH, _DAY, _HOUR = 1, 2, 3
_LEAST_FIELDS = 16

# Field: limits, and from where on a value means "missing" (the format's data dictionary).
_FIELDS = (
    (_DRY_BULB, tr("dry-bulb temperature"), -70.0, 70.0, 99.9),
    (_HUMIDITY, tr("relative humidity"), 0.0, 110.0, 999.0),
    (_GLOBAL, tr("global radiation"), 0.0, 2000.0, 9999.0),
    (_DIRECT, tr("direct radiation"), 0.0, 2000.0, 9999.0),
    (_DIFFUSE, tr("diffuse radiation"), 0.0, 2000.0, 9999.0),
)


@dataclass(frozen=True, eq=False)
class Weather:
    """A year of outdoor air and sun at one place.

    Attributes
    ----------
    place : str
        As the file names it.
    latitude, longitude : float
        North and east positive. [degrees]
    zone : float
        Hours that the file's clock is ahead of universal time. [h]
    month, hour : ndarray of int, shape (8760,)
        1 to 12; the hour that ends then, 1 to 24.
    temperature, humidity : ndarray, shape (8760,)
        [°C], 0 to 1
    horizontal, direct, diffuse : ndarray, shape (8760,)
        Sun on the level ground, straight from the sun, and from the sky, each the mean of the
        hour. [W/m²]
    bridged : int
        How many values were missing.
    """

    place: str
    latitude: float
    longitude: float
    zone: float
    month: np.ndarray
    hour: np.ndarray
    temperature: Floats
    humidity: Floats
    horizontal: Floats
    direct: Floats
    diffuse: Floats
    bridged: int = 0


def read_epw(path: str | os.PathLike[str]) -> Weather:
    """Return the year in a weather file that the user chose.

    Raises
    ------
    FileError
        As `parse_epw`, or if the file cannot be read.
    """
    return parse_epw(text_of(path), os.fspath(path))


def parse_epw(text: str, name: str = "weather.epw") -> Weather:
    """Return the year in the text of a weather file.

    Parameters
    ----------
    text : str
        Eight header lines, then a line for each hour.
    name : str
        What errors call the file; it is not opened.

    Returns
    -------
    Weather

    Raises
    ------
    FileError
        If it is not of this form, a number is outside its limits, or the year is not whole; the
        text names the line.

    References
    ----------
    .. [1] US Department of Energy, Auxiliary Programs, "Weather file (EPW) data dictionary":
       fields, units, limits and missing values.
    """
    lines = lines_of(text, name)
    place, latitude, longitude, zone = _location(lines, name)
    rows = [
        _row(name, at, line) for at, line in enumerate(lines[HEADERS:], HEADERS + 1) if line.strip()
    ]
    rows = [row for row in rows if not (row[0] == 2 and row[1] == 29)]
    if len(rows) != HOURS:
        words = tr("has {count} hours, and a year has {whole}; choose a file of a whole year")
        raise FileError(f"‘{os.path.basename(name)}’ {words.format(count=len(rows), whole=HOURS)}.")
    table = np.array(rows)
    columns = [_bridged(column) for column in table[:, 3:].T]
    t, rh, level, direct, diffuse = (values for values, _ in columns)
    return Weather(
        place,
        latitude,
        longitude,
        zone,
        table[:, 0].astype(int),
        table[:, 2].astype(int),
        t,
        np.clip(rh / 100, 0.0, 1.0),
        level,
        direct,
        diffuse,
        sum(count for _, count in columns),
    )


def _location(lines: list[str], name: str) -> tuple[str, float, float, float]:
    fields = lines[0].split(",") if lines else []
    if len(fields) < 10 or fields[0].strip().upper() != "LOCATION":
        words = tr("must begin with LOCATION and the place; choose a weather file in EPW form")
        raise refusal(name, 1, words)
    place = ", ".join(part.strip() for part in (fields[1], fields[3]) if part.strip())
    latitude = within(name, 1, tr("latitude"), fields[6], -90, 90)
    longitude = within(name, 1, tr("longitude"), fields[7], -180, 180)
    return place[:80], latitude, longitude, within(name, 1, tr("time zone"), fields[8], -12, 14)


def _row(name: str, at: int, line: str) -> list[float]:
    """Return month, day, hour, and the values of one line; not a number where one is missing."""
    fields = line.split(",")
    if len(fields) < _LEAST_FIELDS:
        words = tr("has {count} fields of at least {least}; correct it or choose another file")
        raise refusal(name, at, words.format(count=len(fields), least=_LEAST_FIELDS))
    when = [
        within(name, at, tr("month"), fields[_MONTH], 1, 12),
        within(name, at, tr("day"), fields[_DAY], 1, 31),
        within(name, at, tr("hour"), fields[_HOUR], 1, 24),
    ]
    return [*when, *(_value(name, at, fields, *field) for field in _FIELDS)]


def _value(
    name: str, at: int, fields: list[str], field: int, words: str, low: float, high: float,
    missing: float,
) -> float:  # fmt: skip
    text = fields[field].strip()
    value = number(text) if text else None
    if not text or (value is not None and value >= missing):
        return float("nan")
    return within(name, at, words, text, low, high)


def _bridged(values: Floats) -> tuple[Floats, int]:
    """Return values with gaps bridged in straight lines, and how many there were; 0 if all are."""
    gaps = np.isnan(values)
    if gaps.all():
        return np.zeros(values.size), int(values.size)
    at = np.arange(values.size)
    return np.interp(at, at[~gaps], values[~gaps]), int(gaps.sum())
