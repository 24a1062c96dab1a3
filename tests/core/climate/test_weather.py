"""Weather and sensor files: the published form, common logs, and files that are nothing of it."""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.climate import humidity_ratio
from core.climate.from_design import room_of
from core.climate.weather import (
    RoomRule,
    indoors,
    parse_epw,
    parse_sensor,
    read_epw,
    read_sensor,
    season_of,
    typical_days,
)
from core.climate.weather.epw import HOURS
from core.climate.weather.sun import on_window, position
from core.errors import FileError, InputError
from core.model import WINTER, Design, Room
from core.storage import dumps, loads
from tests.climate_kit import weather_text

# The data line that the format's own documentation shows, with the date's parts as fields
# (US Department of Energy, Auxiliary Programs, EPW CSV format: 26.2 °C, dew point 19.2 °C, 65 %).
DOCUMENTED = (
    "1983,1,1,1,0,C9C9C9C9*0?9?9?9?9?9?9?9*0C8C8C8C8*0*0E8*0*0,26.2,19.2,65,101100,0,1415,412,"
    "0,0,0,0,0,0,0,180,6.5,9,7,23.3,77777,9,999999999,0,0.2300,0,88"
)


# --- EPW


def test_a_whole_year_is_read():
    weather = parse_epw(weather_text())
    assert weather.place == "Middleton, CTY"
    assert (weather.latitude, weather.longitude, weather.zone) == (50.0, 10.0, 1.0)
    assert weather.temperature.shape == (HOURS,)
    assert weather.month[0] == 1 and weather.month[-1] == 12
    assert weather.hour[:25].tolist() == [*range(1, 25), 1]
    assert weather.bridged == 0
    assert 0 < weather.humidity.min() <= weather.humidity.max() <= 1


def test_a_line_of_the_documentation_reads_as_it_says():
    lines = weather_text().splitlines()
    lines[8] = DOCUMENTED
    weather = parse_epw("\n".join(lines))
    assert weather.temperature[0] == 26.2
    assert weather.humidity[0] == 0.65
    assert weather.direct[0] == weather.diffuse[0] == weather.horizontal[0] == 0


def test_missing_values_are_bridged_and_counted():
    lines = weather_text().splitlines()
    for at in (100, 101):
        fields = lines[8 + at].split(",")
        fields[6], fields[14] = "99.9", "9999"
        lines[8 + at] = ",".join(fields)
    whole, weather = parse_epw(weather_text()), parse_epw("\n".join(lines))
    assert weather.bridged == 4
    before, after = whole.temperature[[99, 102]]
    assert weather.temperature[100:102] == pytest.approx(
        [before + (after - before) / 3, before + 2 * (after - before) / 3]
    )


def test_a_leap_day_is_left_out():
    lines = weather_text().splitlines()
    leap = [line.replace("2001,2,28", "2001,2,29") for line in lines if ",2,28," in line[:12]]
    at = next(n for n, line in enumerate(lines) if line.startswith("2001,3,1,"))
    weather = parse_epw("\n".join([*lines[:at], *leap, *lines[at:]]))
    assert weather.temperature.shape == (HOURS,)


def changed(at: int, field: int, text: str) -> str:
    lines = weather_text().splitlines()
    fields = lines[at - 1].split(",")
    fields[field] = text
    lines[at - 1] = ",".join(fields)
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (lambda: "", "‘w.epw’, line 1: must begin with LOCATION"),
        (lambda: "LOCATION,a,b", "line 1: must begin with LOCATION"),
        (lambda: changed(1, 6, "95"), "line 1: latitude = 95 must be from -90 to 90"),
        (lambda: changed(12, 6, "warm"), "line 12: dry-bulb temperature = ‘warm’ must be a number"),
        (lambda: changed(12, 6, "80"), "line 12: dry-bulb temperature = 80 must be from -70 to 70"),
        (lambda: changed(13, 8, "-1"), "line 13: relative humidity = -1 must be from 0 to 110"),
        (lambda: changed(14, 1, "13"), "line 14: month = 13 must be from 1 to 12"),
        (lambda: "\n".join([*weather_text().splitlines()[:20], "1,2"]), "line 21: has 2 fields"),
        (lambda: "\n".join(weather_text().splitlines()[:-1]), "‘w.epw’ has 8759 hours, and a year"),
        (lambda: "x" * 5000, "line 1: is too long"),
    ],
)
def test_what_is_no_weather_file_is_refused_by_its_line(text, words):
    with pytest.raises(FileError) as caught:
        parse_epw(text(), "/somewhere/w.epw")
    assert words in str(caught.value)
    assert "/somewhere" not in str(caught.value)


LINES = weather_text().splitlines()


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 30), st.text(max_size=60) | st.binary(max_size=30).map(repr))
def test_whatever_stands_in_a_line_is_refused_in_words(at, text):
    lines = LINES[:40]
    lines[at] = text
    with pytest.raises(FileError) as caught:
        parse_epw("\n".join(lines))
    # Too short for a year, whatever else.
    assert str(caught.value).endswith(".")


def test_files_are_read_from_where_the_user_says(tmp_path):
    path = tmp_path / "w.epw"
    path.write_text(weather_text(), encoding="latin-1")
    assert read_epw(path).place == "Middleton, CTY"
    with pytest.raises(FileError):
        read_epw(tmp_path / "none.epw")


# --- The sun


def at_place(latitude: float, longitude: float = 0.0, zone: float = 0.0, direct: float = 500.0):
    flat = np.zeros(HOURS)
    return SimpleNamespace(
        latitude=latitude, longitude=longitude, zone=zone, direct=flat + direct, diffuse=flat,
        horizontal=flat,
    )  # fmt: skip


def hour_of(month: int, day: int, hour: int) -> int:
    return (date(2001, month, day) - date(2001, 1, 1)).days * 24 + hour


@pytest.mark.parametrize(
    ("month", "day", "declination"), [(3, 21, 0.0), (6, 21, 23.45), (9, 23, 0.0), (12, 21, -23.45)]
)
def test_the_noon_sun_stands_at_90_degrees_less_latitude_plus_declination(month, day, declination):
    """Declination of the sun at the turns of the seasons: 0 and ± 23.45°."""
    height, azimuth = position(at_place(50.0))
    noon = slice(hour_of(month, day, 9), hour_of(month, day, 15))
    best = int(np.argmax(height[noon]))
    assert np.degrees(height[noon][best]) == pytest.approx(90 - 50 + declination, abs=0.8)
    assert azimuth[noon][best] == pytest.approx(180, abs=20)  # read at the middle of an hour


def test_the_sun_goes_from_east_to_west():
    height, azimuth = position(at_place(50.0))
    morning, evening = hour_of(6, 21, 7), hour_of(6, 21, 17)
    assert 60 < azimuth[morning] < 110
    assert 250 < azimuth[evening] < 300
    assert height[hour_of(6, 21, 0)] < 0
    facing_east, facing_west = (on_window(at_place(50.0), facing) for facing in (90.0, 270.0))
    assert facing_east[morning] > 300 and facing_west[morning] == 0
    assert facing_west[evening] > 300 and facing_east[evening] == 0


def test_a_window_gets_half_of_the_sky():
    place = at_place(50.0, direct=0.0)
    place.diffuse = np.full(HOURS, 100.0)
    assert on_window(place, 0.0) == pytest.approx(np.full(HOURS, 50.0))
    with pytest.raises(InputError):
        on_window(place, 1000.0)


# --- Typical days and the room


def test_typical_days_are_means_of_the_month_at_each_full_hour():
    weather = parse_epw(weather_text())
    days = typical_days(weather)
    assert [day.month for day in days] == list(range(1, 13))
    july = weather.temperature[weather.month == 7].reshape(-1, 24).mean(axis=0)
    assert days[6].temperature[1:] == pytest.approx(july[:-1])
    assert days[6].temperature[0] == pytest.approx(july[-1])
    assert days[6].temperature.mean() > days[0].temperature.mean() + 10


def test_a_room_keeps_the_outdoor_vapour_and_adds_its_own():
    rule = RoomRule(offset=4.0, least=18.0, most=26.0, moist=0.001)
    t, rh = indoors(np.array([0.0, 15.0, 30.0]), np.array([0.8, 0.6, 0.5]), rule)
    assert t.tolist() == [18.0, 19.0, 26.0]
    added = humidity_ratio(t, rh) - humidity_ratio(
        np.array([0.0, 15, 30]), np.array([0.8, 0.6, 0.5])
    )
    assert added == pytest.approx([0.001] * 3, rel=1e-6)


def test_a_season_is_made_of_a_typical_day():
    days = typical_days(parse_epw(weather_text()), facing=180.0)
    made = season_of(days[0], RoomRule(least=19.0), WINTER, "Middleton", sunny=True)
    assert (made.id, made.name, made.source) == ("winter", "Winter day", "Middleton")
    assert made.outdoors is not None and made.room is not None and made.sun is not None
    assert min(made.room.temperature) == 19.0
    assert max(made.sun) > 100
    assert made.outdoor_day > made.outdoor_night


@pytest.mark.parametrize(
    "change", [{"offset": 90.0}, {"least": 99.0}, {"moist": 1.0}, {"least": 20.0, "most": 10.0}]
)
def test_impossible_rooms_are_refused(change):
    with pytest.raises(InputError):
        RoomRule(**change)


# --- Sensors

ISO = "Time,Temperature (°C),Humidity (%)\n" + "".join(
    f"2024-07-{day:02d} {hour:02d}:30:00,{20 + hour / 4:.2f},{70 - hour}\n"
    for day in (1, 2)
    for hour in range(24)
)


def test_a_plain_log_is_read():
    log = parse_sensor(ISO)
    assert log.days == 2
    assert (log.first, log.last) == ("2024-07-01", "2024-07-02")
    assert log.temperature[4] == 21.0
    assert log.humidity[10] == pytest.approx(0.6)
    day = log.profile()
    # Half past eleven belongs to twelve o'clock.
    assert day.temperature[12] == pytest.approx(20 + 11 / 4)


@pytest.mark.parametrize(
    ("text", "when", "t", "rh"),
    [
        ("Datum;Temperatur;Feuchte\n31.12.2023 14:05;21,5;48,5", "2023-12-31", 21.5, 0.485),
        ("date\ttime\ttemp_f\trh\n7/4/2024\t2:30 PM\t77\t50", "2024-07-04", 25.0, 0.5),
        ('"Timestamp","Temp(°F)","RH%"\n"2024-01-02T03:04","50","40"', "2024-01-02", 10.0, 0.4),
        ("logger 7\n\nnr,time,t,rel. humidity\n1,2024/5/6 0:00,-3.5,90", "2024-05-06", -3.5, 0.9),
        ("timestamp,temperature,humidity\n1704067200,20,50", "2024-01-01", 20.0, 0.5),
        ("time,temperature,humidity\n25/12/2024 12:00,20,50", "2024-12-25", 20.0, 0.5),
    ],
)
def test_common_forms_of_logs_are_read(text, when, t, rh):
    log = parse_sensor(text)
    assert log.first == when
    assert log.temperature[0] == pytest.approx(t)
    assert log.humidity[0] == pytest.approx(rh)


def test_dates_that_could_be_either_way_are_said_to_be_guessed():
    assert parse_sensor("time,temp,rh\n3/4/2024 12:00,20,50").guessed
    assert not parse_sensor("time,temp,rh\n3/13/2024 12:00,20,50").guessed
    assert not parse_sensor("time;temp;rh\n3.4.2024 12:00;20;50").guessed


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "line 1: no line names a time"),
        ("a,b,c\n1,2,3", "line 1: no line names a time"),
        ("time,temp,rh\n", "line 1: no measurements follow"),
        ("time,temp,rh\n2024-01-01 10:00,warm,50", "line 2: temperature = ‘warm’ must be a number"),
        ("time,temp,rh\n2024-01-01 10:00,99,50", "line 2: temperature = 99 must be from -60 to 80"),
        ("time,temp,rh\n\n2024-01-01 10:00,20,150", "line 3: humidity = 150 must be from 0 to 100"),
        ("time,temp,rh\nyesterday,20,50", "line 2: time = ‘yesterday’ must be a date and a time"),
        ("time,temp,rh\n2024-13-45 10:00,20,50", "line 2: time = ‘2024-13-45 10:00’"),
        ("time,temp,rh\n2024-01-01 10:00,20", "line 2: has 2 columns"),
    ],
)
def test_logs_that_cannot_be_are_refused_by_their_line(text, words):
    with pytest.raises(FileError) as caught:
        parse_sensor(text, "/home/me/log.csv")
    assert words in str(caught.value)
    assert "‘log.csv’" in str(caught.value)


def test_a_log_of_a_few_hours_makes_no_day():
    short = parse_sensor("\n".join(ISO.splitlines()[:10]))
    with pytest.raises(FileError, match=r"values in \d+ of 24 hours"):
        short.profile()


def test_gaps_of_a_day_are_bridged_over_midnight():
    lines = ISO.splitlines()
    holed = "\n".join(lines[:1] + [line for line in lines[1:] if " 23:" not in line])
    day = parse_sensor(holed).profile()
    assert min(day.temperature[23], day.temperature[1]) <= day.temperature[0] <= day.temperature[23]


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_in_words(text):
    try:
        parse_sensor("time,temp,rh\n" + text).profile()
    except FileError as error:
        assert str(error).endswith(".")


def test_logs_in_other_letters_are_read(tmp_path):
    path = tmp_path / "log.csv"
    path.write_bytes("Zeit;Temperatur °C;Feuchte %\n1.2.2024 10:00;20,5;50".encode("utf-16"))
    assert read_sensor(path).temperature[0] == 20.5
    path.write_bytes("Zeit;Temperatur °C;Feuchte %\n1.2.2024 10:00;20,5;50".encode("latin-1"))
    assert read_sensor(path).temperature[0] == 20.5


def test_a_season_told_by_the_hour_is_kept_in_the_file_and_read_by_the_day():
    days = typical_days(parse_epw(weather_text()), facing=180.0)
    hourly = season_of(days[6], RoomRule(), WINTER, "Middleton", sunny=True)
    design = Design(room=Room.rectangle(4.0, 3.0, 2.4), seasons=(hourly,))
    assert loads(dumps(design)) == design
    assert hourly.room is not None and hourly.outdoors is not None
    around = room_of(hourly)
    assert around.temperature[13 * 60] == pytest.approx(hourly.room.temperature[13])
    assert around.outdoor_humidity[90] == pytest.approx(sum(hourly.outdoors.humidity[1:3]) / 2)
