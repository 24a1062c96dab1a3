"""A year told by months: levels of the air, hours outside what is wanted, electricity and water.

Out of typical days or of every hour; what an enclosure makes of weather is worked out in `year`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.climate.results import Levels
from core.climate.wants import held
from core.climate.year import MonthDay, YearRun
from core.climate.zone import Floats
from core.model import Span
from core.study import Study

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of each month of a year without a leap day."""


@dataclass(frozen=True)
class Wanted:
    """What suits the plants inside by day and by night: warmth [°C] and humidity [0 to 1]."""

    warm: tuple[Span, Span] = (Span(), Span())
    damp: tuple[Span, Span] = (Span(), Span())


@dataclass(frozen=True)
class MonthAir:
    """One month.

    Attributes
    ----------
    month : int
        1 to 12.
    season : str
        Id of the season whose parts were there.
    temperature, humidity : Levels
        [°C], 0 to 1
    day, night : float or None
        Mean temperature while lamps are on, and off. [°C]
    margin : float
        How far the coldest face is above the dew point at the least. [K]
    too_warm, too_cool, damp : float
        Hours a day above and below the wanted warmth, and outside the wanted humidity. [h/d]
    kwh, fog, condensed : float
        In the whole month. [kWh], [kg], [kg]
    """

    month: int
    season: str
    temperature: Levels
    humidity: Levels
    day: float | None
    night: float | None
    margin: float
    too_warm: float
    too_cool: float
    damp: float
    kwh: float
    fog: float
    condensed: float


def wanted_inside(study: Study) -> Wanted:
    """Return what suits the plants inside the enclosure."""
    return Wanted(
        (held(study, "temperature", "day"), held(study, "temperature", "night")),
        (held(study, "humidity", "day"), held(study, "humidity", "night")),
    )


def months_of_days(days: Iterable[MonthDay], wanted: Wanted) -> tuple[MonthAir, ...]:
    """Return the months of typical days, each as long as its month."""
    return tuple(
        _month(
            one.month, one.season, one.series.temperature, one.series.humidity, one.series.margin,
            one.series.lit, wanted,
            tuple(value * DAYS[one.month - 1] for value in (one.kwh, one.fog, one.condensed)),
        )
        for one in days
    )  # fmt: skip


def months_of_hours(run: YearRun, month: np.ndarray, wanted: Wanted) -> tuple[MonthAir, ...]:
    """Return the months of every hour of a year.

    Parameters
    ----------
    run : YearRun
    month : ndarray of int, shape (8760,)
        1 to 12, of each hour.
    wanted : Wanted
    """
    found = []
    for number in range(1, 13):
        now = month == number
        sums = (run.watts[now].sum() / 1000, run.fog[now].sum(), run.condensed[now].sum())
        found.append(
            _month(
                number, run.season[number - 1], run.temperature[now], run.humidity[now],
                run.margin[now], run.lit[now], wanted, tuple(float(value) for value in sums),
            )
        )  # fmt: skip
    return tuple(found)


def _month(
    month: int, season: str, t: Floats, rh: Floats, margin: Floats, lit: np.ndarray,
    wanted: Wanted, sums: tuple[float, ...],
) -> MonthAir:  # fmt: skip
    (low, high), (dry, wet) = _limits(wanted.warm, lit), _limits(wanted.damp, lit)
    return MonthAir(
        month,
        season,
        _levels(t),
        _levels(rh),
        float(t[lit].mean()) if lit.any() else None,
        float(t[~lit].mean()) if (~lit).any() else None,
        float(margin.min()),
        24 * float((t > high).mean()),
        24 * float((t < low).mean()),
        24 * float(((rh < dry) | (rh > wet)).mean()),
        *sums,
    )


def _levels(values: Floats) -> Levels:
    return Levels(float(values.mean()), float(values.min()), float(values.max()))


def _limits(spans: tuple[Span, Span], lit: np.ndarray) -> tuple[Floats, Floats]:
    """Return the lowest and the highest wanted at each time; infinite where nothing is."""
    day, night = spans
    low = [-np.inf if span.low is None else span.low for span in (day, night)]
    high = [np.inf if span.high is None else span.high for span in (day, night)]
    return np.where(lit, *low), np.where(lit, *high)
