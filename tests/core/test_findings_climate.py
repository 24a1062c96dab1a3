"""Findings of climate: air that plants do not want, walls that mist, devices that work in vain."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import climate
from core.model import (
    Cooler,
    Cover,
    Design,
    DuctFan,
    Fogger,
    Heater,
    Hours,
    Humidistat,
    Lamp,
    Opening,
    Period,
    Place,
    PlantGroup,
    Plants,
    Season,
    SetPoint,
    Sheet,
    Span,
    Thermostat,
    Tray,
)
from core.states import State
from tests.findings_kit import after_mending, box, design, look, raised, told

FACES: Any = ("left", "right", "front", "back", "top")
COVERS = tuple(Cover(face=face, sheet=Sheet(material="Film", u_value=4.0)) for face in FACES)
MILD = Season(id="mild", name="Mild day", room_day=20.0, room_night=17.0)
DAY = Hours(periods=(Period(on=480, off=1200),))
SMALL = {"width": 0.2, "depth": 0.2, "height": 0.2}


def growing(
    *parts: Any,
    day: Span | None = None,
    night: Span | None = None,
    leak: float = 0.0,
    season: Season = MILD,
    **group: Any,
) -> Design:
    """A covered box with one zone on its floor, in the middle of the room."""
    ferns = PlantGroup(
        key="ferns", name="Ferns", temperature_day=day, temperature_night=night, **group
    )
    zone = Plants(
        id="zone", name="Zone", species="ferns", width=0.6, depth=0.4,
        place=Place(host="box", x=1.2, y=0.3),
    )  # fmt: skip
    place = Place(x=1.0, y=1.0)
    enclosure = box(covers=COVERS, air_changes_per_hour=leak, place=place)
    return design(enclosure, zone, *parts, groups=(ferns,), seasons=(season,))


def lamp(watts: float = 590.0, **fields: Any) -> Lamp:
    return Lamp(
        id="lamp", name="Board", form="board", width=0.5, depth=0.3, height=0.04, watts=watts,
        hours=DAY, place=Place(host="box", fixing="hung", x=0.1, y=0.1), **fields,
    )  # fmt: skip


def tray() -> Tray:
    return Tray(
        id="tray", name="Tray", width=1.0, depth=0.5, height=0.05, fill=0.02,
        place=Place(host="box", x=0.1, y=0.2),
    )  # fmt: skip


def thermostat(value: float, **fields: Any) -> Thermostat:
    points = (SetPoint(value=value),)
    return Thermostat(
        id="thermostat", name="Thermostat", set_points=points, place=Place(host="box"),
        **{**SMALL, **fields},
    )  # fmt: skip


def humidistat(value: float, differential: float = 0.06) -> Humidistat:
    points = (SetPoint(value=value, differential=differential),)
    return Humidistat(
        id="humidistat", name="Humidistat", set_points=points, place=Place(host="box", x=0.7),
        **SMALL,
    )  # fmt: skip


def cooler(**fields: Any) -> Cooler:
    return Cooler(
        id="cooler", name="Cooler", watts=600.0, cooling=2000.0, place=Place(x=3.4, y=0.5),
        **SMALL, **fields,
    )  # fmt: skip


def heater(watts: float = 500.0, **fields: Any) -> Heater:
    place = Place(host="box", x=0.5, y=0.5)
    return Heater(id="heater", name="Heater", watts=watts, place=place, **SMALL, **fields)


def fogger(output: float = 1e-4, **fields: Any) -> Fogger:
    place = Place(host="box", x=0.4, y=0.5)
    return Fogger(
        id="fogger", name="Fogger", watts=30.0, output=output, place=place, **SMALL, **fields
    )


# --- Warmth


def test_lamps_that_warm_the_box_too_much_are_told_of_with_the_cooler_it_takes():
    made = growing(lamp(), day=Span(high=22.0))
    (finding,) = raised(climate.wrong_temperature, made, "climate")
    assert finding.state is State.HIGH
    assert finding.place == "box"
    assert told(finding)[0] == "Too warm in Box by day"
    assert "It takes a cooler of" in told(finding)[1]


def test_warmth_within_the_range_is_fine():
    assert raised(climate.wrong_temperature, growing(lamp(), day=Span(high=36.0)), "climate") == []


def test_the_front_left_open_is_offered_where_that_is_enough():
    made = growing(lamp(), day=Span(high=27.0))
    (finding,) = raised(climate.wrong_temperature, made, "climate")
    assert finding.state is State.HIGH
    assert told(finding)[2] == "Leave the front open a hand’s breadth"
    after = after_mending(climate.wrong_temperature, made, "climate")
    assert all(one.state is not State.HIGH for one in after)


def test_an_opening_that_is_there_is_opened_wider():
    flap = Opening(
        id="flap", name="Flap", width=0.02, height=1.5,
        place=Place(host="box", fixing="face", face="front", x=0.2, z=0.2),
    )  # fmt: skip
    made = growing(lamp(driver_inside=False), flap, day=Span(high=26.0))
    (finding,) = raised(climate.wrong_temperature, made, "climate")
    assert told(finding)[2] == "Open Flap a hand’s breadth wider"


def test_a_cool_night_is_told_of_unless_a_heater_holds_it():
    made = growing(lamp(), night=Span(low=21.0))
    (finding,) = raised(climate.wrong_temperature, made, "climate")
    assert told(finding)[0] == "Too cool in Box by night"
    assert "It takes a heater of" in told(finding)[1]
    held = growing(
        lamp(100.0), heater(control="thermostat"), thermostat(22.0, minimum_off=0),
        night=Span(low=21.0),
    )  # fmt: skip
    assert raised(climate.wrong_temperature, held, "climate") == []


def test_a_thermostat_set_too_low_is_set_to_what_the_plants_want():
    made = growing(
        lamp(100.0), heater(control="thermostat"), thermostat(12.0, minimum_off=0),
        night=Span(low=19.0, high=24.0),
    )  # fmt: skip
    (finding,) = raised(climate.wrong_temperature, made, "climate")
    assert told(finding)[2] == "Set Thermostat, which switches Heater, to 20 °C by night"
    assert after_mending(climate.wrong_temperature, made, "climate") == []


def test_a_night_above_its_limit_all_night_long_names_the_season():
    summer = Season(id="summer", name="Summer day", room_day=26.0, room_night=23.0)
    made = growing(lamp(200.0), night=Span(high=18.0), season=summer)
    (finding,) = raised(climate.wrong_temperature, made, "climate")
    assert told(finding)[0] == "Box is never cool enough by night: Summer day"


# --- Humidity and dew


def test_a_closed_wet_box_is_too_humid_and_mists():
    made = growing(lamp(100.0), tray(), humidity=Span(low=0.5, high=0.7))
    found = raised(climate.wrong_humidity, made, "climate")
    assert [told(one)[0][:18] for one in found] == ["Too humid in Box b"]
    (mist,) = raised(climate.misting, made, "climate")
    assert mist.state in (State.LOW, State.LIKELY_LOW)
    assert "The walls of Box" in told(mist)[0]
    assert "dew margin" in told(mist)[1]


def test_dry_air_is_told_of_with_the_fog_it_takes():
    made = growing(lamp(100.0), leak=20.0, humidity=Span(low=0.8))
    (finding,) = raised(climate.wrong_humidity, made, "climate")
    assert told(finding)[0].startswith("Too dry in Box")
    assert "It takes fog of" in told(finding)[1]


def test_a_humidistat_set_too_low_is_set_higher():
    made = growing(
        lamp(100.0), fogger(3e-4, control="humidistat"), humidistat(0.55), leak=4.0,
        humidity=Span(low=0.7, high=0.9),
    )  # fmt: skip
    (finding,) = raised(climate.wrong_humidity, made, "climate")
    assert told(finding)[2] == "Set Humidistat, which switches Fogger, to 80 %"
    assert after_mending(climate.wrong_humidity, made, "climate") == []


def test_a_dry_box_neither_mists_nor_is_told_of():
    made = growing(lamp(100.0), leak=20.0, humidity=Span(low=0.3))
    assert raised(climate.misting, made, "climate") == []
    assert raised(climate.wrong_humidity, made, "climate") == []


# --- Devices that work in vain


def fighting() -> Design:
    warm = Season(id="warm", name="Warm", room_day=27.0, room_night=25.0)
    return growing(
        lamp(400.0), cooler(control="thermostat"), thermostat(21.0),
        fogger(4e-4, control="humidistat"), humidistat(0.85), season=warm,
    )  # fmt: skip


def test_a_cooler_and_a_fogger_fight_where_the_coil_takes_the_fog():
    (finding,) = raised(climate.cooler_against_fogger, fighting(), "climate")
    assert told(finding)[0] == "Cooler and Fogger work against each other"
    assert "of the fog out again" in told(finding)[1]
    mild = growing(cooler(control="thermostat"), thermostat(26.0), fogger(control="humidistat"),
                   humidistat(0.6))  # fmt: skip
    assert raised(climate.cooler_against_fogger, mild, "climate") == []


def test_an_exhaust_blows_out_what_a_fogger_puts_in():
    fan = DuctFan(
        id="fan", name="Exhaust", diameter=0.1, flow=0.02, watts=10.0, control="thermostat",
        place=Place(host="box", fixing="face", face="back"), **SMALL,
    )  # fmt: skip
    made = growing(
        lamp(400.0), fan, thermostat(22.0), fogger(3e-4, control="humidistat"), humidistat(0.85)
    )
    (finding,) = raised(climate.exhaust_against_fogger, made, "climate")
    assert told(finding)[0] == "Fogger and Exhaust work against each other"
    late = growing(lamp(100.0), fan, thermostat(35.0), fogger(control="humidistat"),
                   humidistat(0.85))  # fmt: skip
    assert raised(climate.exhaust_against_fogger, late, "climate") == []


def test_a_strong_fogger_switches_for_moments_and_gets_a_wider_differential():
    made = growing(lamp(100.0), fogger(1e-3, control="humidistat"), humidistat(0.7, 0.02), leak=4.0)
    (finding,) = raised(climate.short_cycles, made, "climate")
    assert told(finding)[0] == "Fogger switches on for moments only"
    weak = growing(lamp(100.0), fogger(6e-5, control="humidistat"), humidistat(0.7), leak=20.0)
    assert raised(climate.short_cycles, weak, "climate") == []


def controllers() -> tuple[Thermostat, Humidistat]:
    size = {"width": 0.1, "depth": 0.05, "height": 0.1}
    return (
        Thermostat(id="thermostat", name="Thermostat", place=Place(host="box"), **size),
        Humidistat(id="humidistat", name="Humidistat", place=Place(host="box", x=0.7), **size),
    )


def test_coolers_and_foggers_that_nothing_switches_get_a_controller_of_the_design():
    made = design(box(), cooler(), fogger(), *controllers())
    found = raised(climate.uncontrolled, made)
    assert [told(item)[0] for item in found] == [
        "Cooler has no thermostat",
        "Fogger has no humidistat",
    ]
    assert "mould" in told(found[1])[1]
    assert told(found[0])[2] == "Let Thermostat switch Cooler"
    assert [told(item)[0] for item in after_mending(climate.uncontrolled, made)] == [
        "Fogger has no humidistat"
    ]


def test_without_a_controller_in_the_design_there_is_no_remedy():
    assert [item.remedy for item in raised(climate.uncontrolled, design(box(), fogger()))] == [None]


def test_controlled_devices_are_fine():
    made = design(box(), cooler(control="thermostat"), fogger(control="humidistat"), *controllers())
    assert raised(climate.uncontrolled, made) == []


# --- How remedies are sought


def test_while_something_is_dragged_no_remedy_is_sought(monkeypatch: pytest.MonkeyPatch):
    from dataclasses import replace

    made = growing(lamp(), day=Span(high=25.0))
    coarse = replace(look(made, "climate"), quality="coarse")
    monkeypatch.setattr("core.findings.climate_trials.sketch", lambda study: 1 / 0)
    (finding,) = climate.wrong_temperature(coarse)
    assert finding.remedy is None


def test_what_was_tried_is_remembered_with_the_readings(monkeypatch: pytest.MonkeyPatch):
    seen = look(growing(lamp(), day=Span(high=25.0)), "climate")
    first = list(climate.wrong_temperature(seen))
    monkeypatch.setattr("core.findings.climate_trials.sketch", lambda study: 1 / 0)
    monkeypatch.setattr("core.findings.climate_trials.read_climate", lambda study: 1 / 0)
    assert list(climate.wrong_temperature(seen)) == first


@pytest.mark.parametrize("rule", climate.RULES[:6])
def test_without_readings_these_rules_are_silent(rule: Any):
    assert raised(rule, growing(lamp(), day=Span(high=20.0))) == []
