"""A year inside an enclosure: typical days, every hour, giving up; and how wide to open."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from core.climate.from_design import setup
from core.climate.opening_table import WIDEST, opening_table
from core.climate.reading import flags
from core.climate.weather import RoomRule, parse_epw, typical_days
from core.climate.year import season_like, simulate_year, typical_year
from core.errors import CancelledError, InputError
from core.model import (
    Cover,
    Design,
    Enclosure,
    Heater,
    Hours,
    Lamp,
    Period,
    Place,
    Room,
    RoomWindow,
    SetPoint,
    Sheet,
    Span,
    Thermostat,
)
from core.storage import load
from core.study import study
from tests.climate_kit import weather_text

DEMOS = Path(__file__).resolve().parents[3] / "resources" / "demos"
SMALL = {"width": 0.1, "depth": 0.1, "height": 0.1}
SHEET = Sheet(material="Film", u_value=4.0, transmittance=0.8, reflectance=0.1)
RULE = RoomRule(offset=3.0, least=15.0)


def small(*parts, window: bool = False, watts: float = 200.0) -> Design:
    """A box of 2 m³ with one lamp by day; with its back to a window where there is one."""
    faces = ("left", "right", "front", "back", "top")
    place = Place(x=1.0, y=2.95 if window else 1.0)
    box = Enclosure(
        id="box", name="Box", width=1.0, depth=1.0, height=2.0, place=place,
        covers=tuple(Cover(face=face, sheet=SHEET) for face in faces),
    )  # fmt: skip
    lamp = Lamp(
        id="lamp", name="Lamp", form="board", watts=watts, place=Place(host="box"), **SMALL,
        hours=Hours(periods=(Period(on=480, off=1200),)),
    )  # fmt: skip
    glass = RoomWindow(id="win", name="Window", wall=3, offset=2.0, width=1.0, sill=0.5)
    room = Room.rectangle(4.0, 4.0, 2.4).model_copy(update={"fixtures": (glass,) if window else ()})
    return Design(room=room, parts=(box, lamp, *parts))


@pytest.fixture(scope="module")
def weather():
    return parse_epw(weather_text())


@pytest.fixture(scope="module")
def dark(weather):
    """Every hour of a box behind a window, without the sun."""
    return simulate_year(small(window=True), weather, RULE)


def test_typical_days_follow_the_year_and_tell_how_far_they_are(weather):
    shares: list[float] = []
    year = typical_year(small(), typical_days(weather), RULE, watch=shares.append)
    assert [one.month for one in year] == list(range(1, 13))
    assert [one.season for one in year[:2]] == ["winter"] * 2
    assert year[6].season == "summer"
    assert year[6].day.temperature.mean > year[0].day.temperature.mean + 3
    assert shares == pytest.approx(np.arange(1, 13) / 12)


def test_every_hour_of_a_year_agrees_with_its_typical_days(weather, dark):
    months = typical_year(small(window=True), typical_days(weather), RULE)
    year = dark
    assert year.temperature.shape == (8760,)
    july = year.temperature[weather.month == 7].mean()
    assert july == pytest.approx(months[6].series.temperature.mean(), abs=0.3)
    assert year.lit.reshape(365, 24).sum(axis=1).tolist() == [12] * 365
    assert year.hours_outside(None, None) == 0
    assert year.hours_outside(None, 20.0) == int((year.temperature > 20.0).sum())


def test_sun_on_the_window_behind_warms_the_days(weather, dark):
    sunny = simulate_year(small(window=True), weather, RULE, facing=180.0)
    warmer = (sunny.temperature - dark.temperature).reshape(365, 24)
    assert warmer[:, 12].mean() > 0.5
    assert abs(warmer[:, 3].mean()) < 0.5 * warmer[:, 12].mean()


def test_sun_counts_where_a_face_stands_close_to_the_window_only(weather):
    (june,) = (day for day in typical_days(weather, facing=180.0) if day.month == 6)
    (shaded,) = (day for day in typical_days(weather) if day.month == 6)

    def noon(window: bool, day) -> float:
        (found,) = typical_year(small(window=window), (day,), RULE)
        return float(found.series.temperature[720])

    assert noon(True, june) > noon(True, shaded) + 0.5
    assert noon(False, june) == noon(False, shaded)


def test_a_heater_draws_most_in_winter(weather):
    stat = Thermostat(id="stat", name="Stat", set_points=(SetPoint(value=18.0),),
                      place=Place(host="box"), **SMALL)  # fmt: skip
    heater = Heater(id="heat", name="Heat", watts=300.0, control="stat", place=Place(host="box"),
                    **SMALL)  # fmt: skip
    days = typical_days(weather)
    winter, summer = typical_year(small(stat, heater), (days[0], days[6]), RULE)
    assert winter.kwh > 3 * summer.kwh
    assert winter.kwh > 0.5


def test_each_device_has_its_hours_of_the_year(dark):
    assert dark.names == ()
    assert dark.watts.shape == (8760, 0)
    assert dark.kwh.shape == (0,)


def test_a_year_can_be_given_up(weather):
    asked = iter([False, False, True])
    done: list[float] = []
    with pytest.raises(CancelledError):
        simulate_year(small(), weather, watch=done.append, cancel=lambda: next(asked))
    assert done == pytest.approx([1 / 365, 2 / 365])
    with pytest.raises(CancelledError):
        typical_year(small(), typical_days(weather), cancel=lambda: True)


def test_a_year_needs_an_enclosure(weather):
    with pytest.raises(InputError, match="closed above"):
        simulate_year(Design(room=Room.rectangle(4.0, 4.0, 2.4)), weather)


def test_the_parts_of_a_season_are_there_in_the_months_like_it():
    made = load(DEMOS / "basement-nook.fern")
    assert season_like(made, -5.0).id == "winter"
    assert season_like(made, 24.0).id == "summer"


# --- Opening widths


def table(day: Span, night: Span | None = None, watts: float = 300.0, **more):
    made = setup(study(small(watts=watts)))
    assert made is not None
    return made, opening_table(made, day, night or Span(), **more)


def test_the_warmer_it_is_outdoors_the_wider_the_window():
    _, rows = table(Span(high=26.0), outdoors=(-10.0, 0.0, 10.0, 20.0))
    widths = [row.day.width for row in rows]
    known = [width for width in widths if width is not None]
    assert known == sorted(known)
    assert 0 < known[0] < known[-1] <= WIDEST
    for row in rows:
        if row.day.width:
            assert row.day.temperature <= 26.0
            assert row.day.temperature == pytest.approx(26.0, abs=1.0)


def test_a_window_does_not_cool_below_the_outdoors():
    _, (row,) = table(Span(high=24.0), outdoors=(30.0,))
    assert row.day.width is None
    assert row.day.temperature > 24.0


def test_a_night_that_is_cool_already_needs_no_opening():
    made, (row,) = table(Span(high=26.0), Span(low=21.0, high=30.0), outdoors=(0.0,))
    assert len(flags(made)) == 2
    assert row.night is not None
    assert row.night.width == 0
    assert row.night.too_cool
