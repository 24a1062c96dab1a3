"""A year of an enclosure's air: twelve typical days, or every hour of a year of weather.

Each month takes the parts of the season that its outdoor air is most like; what one day makes of
a room is in `simulation`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from core.climate.assumed import Known
from core.climate.day_results import gathered, of_run
from core.climate.day_run import DayRun
from core.climate.estimate import settle
from core.climate.from_design import Setup, setup
from core.climate.reading import day_of, flags
from core.climate.results import DaySeries, HalfAir
from core.climate.simulation import Stepper
from core.climate.spread import VARIANTS, spread
from core.climate.weather.epw import HOURS, Weather
from core.climate.weather.sun import on_window
from core.climate.weather.typical import RoomRule, TypicalDay, indoors, season_of
from core.climate.zone import MINUTES, Floats, Room
from core.errors import CancelledError, InputError
from core.language import tr
from core.model import Design, Season
from core.study import Study

Watch = Callable[[float], None]
Cancel = Callable[[], bool]


def unwatched(share: float) -> None:
    """Take no notice of progress."""


def never() -> bool:
    """Go on to the end."""
    return False


@dataclass(frozen=True, eq=False)
class MonthDay:
    """The typical day of one month.

    Attributes
    ----------
    month : int
        1 to 12.
    season : str
        Id of the season whose parts were there.
    day, night : HalfAir or None
    series : DaySeries
    kwh, fog, condensed : float
        Of climate devices, given off by foggers, and run off the covers, in a day. [kWh], [kg],
        [kg]
    """

    month: int
    season: str
    day: HalfAir
    night: HalfAir | None
    series: DaySeries
    kwh: float
    fog: float
    condensed: float


@dataclass(frozen=True, eq=False)
class YearRun:
    """Every hour of a year, means over each.

    Attributes
    ----------
    temperature, humidity, margin : ndarray, shape (8760,)
        Of the air inside, and how far the coldest face is above its dew point at the least.
        [°C], 0 to 1, [K]
    lit : ndarray of bool, shape (8760,)
    names : tuple of str
        Ids of the climate devices.
    watts : ndarray, shape (8760, devices)
        [W]
    fog, condensed : ndarray, shape (8760,)
        [kg]
    season : tuple of str
        Id of the season whose parts were there, by month.
    """

    temperature: Floats
    humidity: Floats
    margin: Floats
    lit: np.ndarray
    names: tuple[str, ...]
    watts: Floats
    fog: Floats
    condensed: Floats
    season: tuple[str, ...]

    @property
    def kwh(self) -> Floats:
        """Of each climate device in the year. [kWh]"""
        return np.asarray(self.watts.sum(axis=0) / 1000)

    def hours_outside(self, low: float | None, high: float | None) -> int:
        """Return how many hours the temperature is outside a range."""
        below = self.temperature < (-np.inf if low is None else low)
        return int((below | (self.temperature > (np.inf if high is None else high))).sum())


def typical_year(
    design: Design,
    days: tuple[TypicalDay, ...],
    rule: RoomRule | None = None,
    *,
    known: Known | None = None,
    watch: Watch = unwatched,
    cancel: Cancel = never,
) -> tuple[MonthDay, ...]:
    """Return the air inside on the typical day of each month.

    Parameters
    ----------
    design : Design
    days : tuple of TypicalDay
    rule : RoomRule, optional
        How the room follows outdoors.
    known : Known, optional
        Light and air at the plants.
    watch : callable, optional
        Called with the share done, 0 to 1.
    cancel : callable, optional
        Asked before each month whether to give up.

    Returns
    -------
    tuple of MonthDay

    Raises
    ------
    InputError
        If the design has no enclosure that is closed above.
    CancelledError
        If ``cancel`` says so.
    """
    rule = rule or RoomRule()
    found = []
    for number, day in enumerate(days):
        _go_on(cancel)
        base = season_like(design, float(np.mean(day.temperature)))
        season = season_of(day, rule, base, sunny=bool(day.sun.any()))
        found.append(_month(design, day.month, season, known))
        watch((number + 1) / len(days))
    return tuple(found)


def _go_on(cancel: Cancel) -> None:
    if cancel():
        raise CancelledError(tr("The year was given up."))


def season_like(design: Design, outdoors: float) -> Season:
    """Return the season whose outdoor air is most like a mean temperature. [°C]"""
    return min(
        design.seasons, key=lambda one: abs((one.outdoor_day + one.outdoor_night) / 2 - outdoors)
    )


def _made(design: Design, season: Season, known: Known | None) -> tuple[Study, Setup]:
    look = Study(design.at(season.id, "day"), season, document=design)
    made = setup(look, known)
    if made is None:
        words = tr("A year needs an enclosure that is closed above; add one, or its top.")
        raise InputError(words)
    return look, made


def _month(design: Design, month: int, season: Season, known: Known | None) -> MonthDay:
    look, made = _made(design, season, known)
    ends = settle(made.zone, made.room, flags(made), VARIANTS)
    run = day_of(made, ends)
    found = gathered(look.design, made, of_run(run), spread(made, ends))
    return MonthDay(
        month,
        season.id,
        found.day,
        found.night,
        found.series,
        run.kwh_per_day,
        run.fog_per_day,
        sum(face.condensed for face in found.faces),
    )


def simulate_year(
    design: Design,
    weather: Weather,
    rule: RoomRule | None = None,
    *,
    facing: float | None = None,
    known: Known | None = None,
    watch: Watch = unwatched,
    cancel: Cancel = never,
) -> YearRun:
    """Return every hour of a year of weather inside the enclosure.

    Parameters
    ----------
    design : Design
    weather : Weather
    rule : RoomRule, optional
        How the room follows outdoors.
    facing : float, optional
        Where the enclosure's window looks, clockwise from north; None: no sun. [degrees]
    known : Known, optional
        Light and air at the plants.
    watch : callable, optional
        Called with the share done after each day, 0 to 1.
    cancel : callable, optional
        Asked before each day whether to give up.

    Returns
    -------
    YearRun

    Raises
    ------
    InputError
        If the design has no enclosure that is closed above.
    CancelledError
        If ``cancel`` says so.
    """
    rule = rule or RoomRule()
    sun = np.zeros(HOURS) if facing is None else on_window(weather, facing)
    months = tuple(
        season_like(design, float(weather.temperature[weather.month == month].mean()))
        for month in range(1, 13)
    )
    hours = []
    for number, rows in enumerate(_days(design, weather, rule, sun, months, known, cancel)):
        hours.append(rows)
        watch((number + 1) / 365)
    return _joined(hours, tuple(one.id for one in months))


@dataclass(frozen=True, eq=False)
class _Day:
    """One day by the hour."""

    temperature: Floats
    humidity: Floats
    margin: Floats
    lit: np.ndarray
    watts: dict[str, Floats]
    fog: Floats
    condensed: Floats


def _days(
    design: Design,
    weather: Weather,
    rule: RoomRule,
    sun: Floats,
    months: tuple[Season, ...],
    known: Known | None,
    cancel: Cancel,
) -> Iterator[_Day]:
    """Iterate over the days; each begins where the one before ended."""
    inside, damp = indoors(weather.temperature, weather.humidity, rule)
    steppers: dict[str, tuple[Setup, Stepper]] = {}
    state: tuple[float, float, float] | None = None
    for day in range(365):
        _go_on(cancel)
        season = months[int(weather.month[day * 24]) - 1]
        if season.id not in steppers:
            plain = season.model_copy(update={"room": None, "outdoors": None, "sun": None})
            _, made = _made(design, plain, known)
            steppers[season.id] = made, Stepper(made.zone, made.room)
        made, stepper = steppers[season.id]
        room = Room(*(_by_minute(values, day) for values in
                      (inside, damp, weather.temperature, weather.humidity)))  # fmt: skip
        heat = made.sun_share * _by_minute(sun, day)
        run = stepper.day(room, heat, state)
        state = run.end
        yield _hourly(made, run)


def _by_minute(values: Floats, day: int) -> Floats:
    """Return a day by the minute out of hourly means, in straight lines between their middles."""
    at = day * 24 + (np.arange(MINUTES) + 0.5) / 60
    return np.interp(at, np.arange(HOURS) + 0.5, values, period=HOURS)


def _hourly(made: Setup, run: DayRun) -> _Day:
    def mean(values: Floats) -> Floats:
        return np.asarray(values.reshape(24, 60).mean(axis=1))

    watts: dict[str, Floats] = {}
    for part_id, one in zip(made.devices, run.devices, strict=True):
        watts[part_id] = watts.get(part_id, np.zeros(24)) + mean(one.watts)
    fog = sum((one.water for one in run.devices if one.kind == "fogger"), np.zeros(MINUTES))
    return _Day(
        mean(run.temperature),
        mean(run.humidity),
        run.least_margin.reshape(24, 60).min(axis=1),
        (made.day > 0).reshape(24, 60)[:, 30],
        watts,
        mean(fog) * 3600,
        mean(run.condensing.sum(axis=1)) * 3600,
    )


def _joined(days: list[_Day], seasons: tuple[str, ...]) -> YearRun:
    names = tuple(dict.fromkeys(name for day in days for name in day.watts))
    watts = [np.array([day.watts.get(name, np.zeros(24)) for name in names]).reshape(-1, 24).T
             for day in days]  # fmt: skip

    def all_of(name: str) -> Floats:
        return np.concatenate([getattr(day, name) for day in days])

    return YearRun(
        all_of("temperature"),
        all_of("humidity"),
        all_of("margin"),
        all_of("lit"),
        names,
        np.concatenate(watts),
        all_of("fog"),
        all_of("condensed"),
        seasons,
    )
