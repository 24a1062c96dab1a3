"""A year told by months: sums, levels and hours outside, worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from core.climate.results import DaySeries, HalfAir, Levels
from core.climate.year import MonthDay, YearRun
from core.climate.year_months import DAYS, Wanted, months_of_days, months_of_hours
from core.model import Span

WANTED = Wanted(
    (Span(low=20.0, high=26.0), Span(low=16.0, high=18.0)),
    (Span(low=0.6, high=0.8), Span(low=0.6, high=0.8)),
)
MONTH = np.repeat(np.arange(1, 13), np.array(DAYS) * 24)
CLOCK = np.tile(np.arange(24), 365)
LIT = (CLOCK >= 8) & (CLOCK < 20)


def run(**change) -> YearRun:
    """A year of 23 °C by day and 17 °C by night at 70 %, one device of 100 W, 0.02 kg/h of fog."""
    usual = {
        "temperature": np.where(LIT, 23.0, 17.0),
        "humidity": np.full(8760, 0.7),
        "margin": np.full(8760, 2.0),
        "lit": LIT,
        "names": ("fog",),
        "watts": np.full((8760, 1), 100.0),
        "fog": np.full(8760, 0.02),
        "condensed": np.zeros(8760),
        "season": ("winter",) * 12,
    }
    return YearRun(**{**usual, **change})


def test_a_month_that_keeps_all_ranges_has_no_hours_outside_and_sums_what_it_used():
    february = months_of_hours(run(), MONTH, WANTED)[1]
    assert (february.too_warm, february.too_cool, february.damp) == (0.0, 0.0, 0.0)
    assert (february.day, february.night) == (pytest.approx(23.0), pytest.approx(17.0))
    assert february.temperature == Levels(pytest.approx(20.0), 17.0, 23.0)
    assert february.kwh == pytest.approx(0.1 * 24 * 28)
    assert february.fog == pytest.approx(0.02 * 24 * 28)


def test_hours_outside_are_told_by_half_of_the_day():
    """From 10 to 12 o'clock 27 °C is 1 K too warm by day; at 2 and 3 o'clock 15 °C is too cool."""
    warm = np.where(LIT, 23.0, 17.0)
    warm[(CLOCK >= 10) & (CLOCK < 12)] = 27.0
    warm[(CLOCK >= 2) & (CLOCK < 4)] = 15.0
    damp = np.where(CLOCK == 5, 0.85, 0.7)
    damp[CLOCK == 15] = 0.5
    june = months_of_hours(run(temperature=warm, humidity=damp), MONTH, WANTED)[5]
    assert (june.too_warm, june.too_cool, june.damp) == pytest.approx((2.0, 2.0, 2.0))


def test_what_holds_by_day_is_too_warm_by_night():
    always = months_of_hours(run(temperature=np.full(8760, 23.0)), MONTH, WANTED)[0]
    assert always.too_warm == pytest.approx(12.0) and always.too_cool == 0.0


def test_a_typical_day_counts_for_each_day_of_its_month():
    lit = np.arange(1440) >= 720
    flat = np.zeros(1440)
    warm = np.where(lit, 23.0, 19.0)
    series = DaySeries(
        warm, np.full(1440, 0.7), flat, flat, flat, np.full(1440, -0.5), flat, flat, lit
    )
    levels = Levels(0.0, 0.0, 0.0)
    half = HalfAir("day", 12.0, levels, levels, levels, levels, levels, 20.0)
    day = MonthDay(4, "winter", half, half, series, 1.5, 0.3, 0.1)
    (april,) = months_of_days((day,), WANTED)
    assert (april.kwh, april.fog, april.condensed) == pytest.approx((45.0, 9.0, 3.0))
    assert april.too_warm == pytest.approx(12.0)
    assert april.margin == -0.5


def test_where_nothing_is_wanted_no_hour_is_outside():
    months = months_of_hours(run(temperature=np.full(8760, 60.0)), MONTH, Wanted())
    assert all(one.too_warm == one.too_cool == one.damp == 0 for one in months)
