"""Typical days of a year of weather, the room that follows it, and the season made of both.

What the enclosure makes of them is for `core.climate.year`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.arguments import within
from core.climate.psychrometrics import humidity_ratio, saturation_pressure, vapour_pressure
from core.climate.weather.epw import Weather
from core.climate.weather.sun import on_window
from core.climate.zone import DAY_FROM, DAY_TO, Floats
from core.errors import InputError, complaint
from core.model import DayProfile, Season, replace

MOIST = 0.002
"""Vapour that people and plants add to a room's air (common practice). [kg/kg]"""

MOST_HUMID = 0.95
"""A room is not wetter than this (common practice)."""


@dataclass(frozen=True)
class RoomRule:
    """How a room follows the outdoor air.

    Attributes
    ----------
    offset : float
        How much warmer the room is than outdoors. [K]
    least, most : float
        What heating and cooling hold it to. [°C]
    moist : float
        Vapour added to the outdoor air. [kg/kg]

    Raises
    ------
    InputError
        If a number is outside its range or ``least`` is above ``most``.
    """

    offset: float = 3.0
    least: float = 18.0
    most: float = 35.0
    moist: float = MOIST

    def __post_init__(self) -> None:
        within("Room", "offset from outdoors", self.offset, -30.0, 40.0, "K")
        within("Room", "lowest temperature", self.least, -60.0, 80.0, "°C")
        within("Room", "added vapour", self.moist, 0.0, 0.02, "kg/kg")
        if self.most < self.least:
            rule = f"must not be below the lowest, {self.least:g} °C"
            raise InputError(
                complaint("Room", "highest temperature", f"{self.most:g} °C", rule, "enter more")
            )


@dataclass(frozen=True, eq=False)
class TypicalDay:
    """The mean of a month's days at each hour, shape (24,). [°C], 0 to 1, [W/m²]"""

    month: int
    temperature: Floats
    humidity: Floats
    sun: Floats


def typical_days(weather: Weather, facing: float | None = None) -> tuple[TypicalDay, ...]:
    """Return the typical day of each month.

    Parameters
    ----------
    weather : Weather
    facing : float, optional
        Where the enclosure's window looks, clockwise from north; None: no sun. [degrees]

    Returns
    -------
    tuple of TypicalDay
        January first.
    """
    sun = np.zeros(weather.hour.size) if facing is None else on_window(weather, facing)
    vapour = weather.humidity * np.asarray(saturation_pressure(weather.temperature))
    days = []
    for month in range(1, 13):
        t, wet, lit = (_by_hour(weather, month, values)
                       for values in (weather.temperature, vapour, sun))  # fmt: skip
        humidity = np.clip(wet / np.asarray(saturation_pressure(t)), 0.0, 1.0)
        days.append(TypicalDay(month, t, humidity, lit))
    return tuple(days)


def _by_hour(weather: Weather, month: int, values: Floats) -> Floats:
    """Return means at each full hour from 0: hours are told by their ends, so 24 comes first."""
    means = [
        values[(weather.month == month) & (weather.hour == hour)].mean() for hour in range(1, 25)
    ]
    return np.roll(np.array(means), 1)


def indoors(t: Floats, rh: Floats, rule: RoomRule) -> tuple[Floats, Floats]:
    """Return the room's air that follows outdoor air.

    Parameters
    ----------
    t, rh : ndarray
        Outdoors. [°C], 0 to 1
    rule : RoomRule

    Returns
    -------
    t, rh : ndarray
        The room takes the outdoor air's vapour and some of its own.
    """
    inside = np.clip(np.asarray(t) + rule.offset, rule.least, rule.most)
    ratio = np.asarray(humidity_ratio(t, rh)) + rule.moist
    humidity = vapour_pressure(ratio) / np.asarray(saturation_pressure(inside))
    return inside, np.clip(humidity, 0.0, MOST_HUMID)


def season_of(
    day: TypicalDay, rule: RoomRule, season: Season, source: str = "", sunny: bool = False
) -> Season:
    """Return a season with the air of a typical day, its id and name kept.

    Parameters
    ----------
    day : TypicalDay
    rule : RoomRule
    season : Season
    source : str
        Where the day comes from, in words.
    sunny : bool
        Whether the day's sun on the window is taken too.

    Returns
    -------
    Season
    """
    t, rh = indoors(day.temperature, day.humidity, rule)
    return Season(
        id=season.id,
        name=season.name,
        **_levels("room", t, rh),
        **_levels("outdoor", day.temperature, day.humidity),
        room=_profile(t, rh),
        outdoors=_profile(day.temperature, day.humidity),
        sun=tuple(round(float(value), 1) for value in day.sun) if sunny else None,
        source=source,
    )


def season_logged(
    profile: DayProfile, season: Season, where: Literal["room", "outdoors"], source: str = ""
) -> Season:
    """Return a season with a logged day as its room's or its outdoor air, all else kept.

    Parameters
    ----------
    profile : DayProfile
    season : Season
    where : {"room", "outdoors"}
        Where the sensor hung.
    source : str
        Where the day comes from, in words.

    Returns
    -------
    Season
    """
    t, rh = np.array(profile.temperature), np.array(profile.humidity)
    levels = _levels("room" if where == "room" else "outdoor", t, rh)
    return replace(season, **levels, **{where: profile}, source=source)


def _profile(t: Floats, rh: Floats) -> DayProfile:
    return DayProfile(
        temperature=tuple(round(float(value), 2) for value in t),
        humidity=tuple(round(float(value), 4) for value in rh),
    )


def _levels(name: str, t: Floats, rh: Floats) -> dict[str, float]:
    """Return what a day is by day and by night: the means from 7 to 22 o'clock and of the rest."""
    minute = np.arange(24) * 60
    by_day = (minute >= DAY_FROM) & (minute < DAY_TO)
    humid = "room_humidity" if name == "room" else "outdoor_humidity"
    return {
        f"{name}_day": round(float(t[by_day].mean()), 2),
        f"{name}_night": round(float(t[~by_day].mean()), 2),
        f"{humid}_day": round(float(rh[by_day].mean()), 4),
        f"{humid}_night": round(float(rh[~by_day].mean()), 4),
    }
