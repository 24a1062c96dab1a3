"""Climate readings: the steady warming of an enclosure, worked out by hand from the balance."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from core.climate import dry_air_density, humidity_ratio, opening_flow, steady_rise
from core.climate.reading import ClimateReadings, inputs, read
from core.model import (
    Cover,
    Design,
    DuctFan,
    Enclosure,
    Heater,
    Hours,
    Lamp,
    Opening,
    Period,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Room,
    Season,
    SetPoint,
    Sheet,
    Span,
    Thermostat,
    Timer,
)
from core.power.reading import read as read_power
from core.reading import Reading
from core.states import State
from core.study import study

MILD = Season(id="mild", name="Mild", room_day=20.0, room_night=17.0)
FACES = ("left", "right", "front", "back", "top")
SMALL = {"width": 0.3, "depth": 0.3, "height": 0.05}
# A box of 2 × 1 × 2 m with covers of U 4: 2 (2·2) + 2 (1·2) + 2 = 14 m², 56 W/K; floor 2 m² × 1.5.
UA = 14 * 4.0 + 2 * 1.5


def covers(*faces: Any, u: float | None = 4.0, clear: float = 0.0) -> tuple[Cover, ...]:
    sheet = Sheet(material="Board", u_value=u, reflectance=0.1, transmittance=clear)
    return tuple(Cover(face=face, sheet=sheet) for face in faces)


def box(**more: Any) -> Enclosure:
    fields = {"covers": covers(*FACES), "air_changes_per_hour": 0.0, **more}
    return Enclosure(id="box", name="Box", width=2.0, depth=1.0, height=2.0, **fields)


def lamp(watts: float = 118.0, on: int = 8, off: int = 20, host: str = "box", **more: Any) -> Lamp:
    fixing: Any = "hung"
    hours = Hours(periods=(Period(on=on * 60, off=off * 60),)) if on != off else Hours()
    name = more.pop("id", "lamp")
    return Lamp(
        id=name, name=name.title(), form="board", watts=watts, hours=hours,
        place=Place(host=host, fixing=fixing), **{**SMALL, **more},
    )  # fmt: skip


def ferns(day: Span | None, night: Span | None = None, key: str = "ferns") -> PlantGroup:
    return PlantGroup(key=key, name=key.title(), temperature_day=day, temperature_night=night)


def zone(key: str = "ferns") -> Plants:
    return Plants(
        id=f"zone-{key}", name="Zone", species=key, width=0.2, depth=0.2, place=Place(host="box")
    )


def design(*parts: Any, groups: tuple[PlantGroup, ...] = ()) -> Design:
    return Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=parts, groups=groups, seasons=(MILD,))


def climate(*parts: Any, groups: tuple[PlantGroup, ...] = ()) -> ClimateReadings:
    return read(study(design(*parts, groups=groups)))


def row(found: ClimateReadings, name: str) -> Reading:
    (only,) = [item for item in found.rows if item.name == name]
    return only


def test_lamps_warm_a_closed_box_by_their_watts_over_its_covers() -> None:
    found = climate(box(), lamp())
    assert found.day is not None
    assert found.day.losses.covers == pytest.approx(UA)
    assert row(found, "rise-day").value == pytest.approx(118.0 / UA)
    assert row(found, "rise-day").line.render() == (
        "2 K above the room while the lamps are on; 118 W inside"
    )
    assert row(found, "temperature-day").value == pytest.approx(22.0)
    # Lamps off: nothing else gives heat.
    assert row(found, "rise-night").value == 0.0
    assert row(found, "temperature-night").value == pytest.approx(17.0)
    assert found.headline == row(found, "rise-day")
    assert found.headline.state is State.UNASKED


def test_the_range_comes_from_covers_and_watts() -> None:
    day = climate(box(), lamp()).day
    assert day is not None
    assert day.low == pytest.approx(118.0 * 0.95 / (UA * 1.2))
    assert day.high == pytest.approx(118.0 * 1.05 / (UA * 0.8))


def test_light_that_clear_covers_let_out_widens_the_range_downwards() -> None:
    """Clear on 14 of 16 m²: at most 0.45 × 0.8 × 14/16 of the lamps' power leaves as light."""
    day = climate(box(covers=covers(*FACES, clear=0.8)), lamp()).day
    assert day is not None
    assert day.rise == pytest.approx(118.0 / UA)
    assert day.low == pytest.approx(118.0 * (0.95 - 0.45 * 0.8 * 14 / 16) / (UA * 1.2))


def test_leakage_carries_heat_as_moist_air() -> None:
    """10 air changes an hour of 4 m³ at 20 °C and 50 %."""
    found = climate(box(air_changes_per_hour=10.0), lamp())
    mass_flow = 10 * 4.0 / 3600 * float(dry_air_density(20.0, humidity_ratio(20.0, 0.5)))
    assert row(found, "rise-day").value == pytest.approx(steady_rise(118.0, UA, mass_flow))
    # About 13 W/K beside the 59 of the covers.
    assert row(found, "rise-day").value == pytest.approx(118 / (UA + 13.5), rel=0.01)


def exhaust(flow: float = 0.02, name: str = "exhaust", **more: Any) -> DuctFan:
    return DuctFan(
        id=name, name=name.title(), width=0.1, depth=0.1, height=0.1, watts=0.0, diameter=0.1,
        flow=flow, place=Place(host="box", fixing="face", face="back"), **more,
    )  # fmt: skip


def rise(fan_flow: float, power: float = 118.0, ua: float = UA) -> float:
    return steady_rise(
        power, ua, fan_flow * float(dry_air_density(20.0, humidity_ratio(20.0, 0.5)))
    )


def test_an_exhaust_fan_carries_heat_and_may_move_less_than_its_free_flow() -> None:
    day = climate(box(), lamp(), exhaust()).day
    assert day is not None
    assert day.rise == pytest.approx(rise(0.02))
    assert day.high == pytest.approx(rise(0.6 * 0.02, 118 * 1.05, UA * 0.8))


def test_intake_and_exhaust_serve_each_other() -> None:
    both = climate(box(), lamp(), exhaust(), exhaust(0.03, "intake", joins=("room", "enclosure")))
    assert row(both, "rise-day").value == pytest.approx(rise(0.03))
    beside = climate(box(), lamp(), exhaust(joins=("room", "outdoors")))
    assert row(beside, "rise-day").value == pytest.approx(118 / UA)


def test_a_switched_fan_may_be_off_and_one_on_a_timer_counts_its_hours() -> None:
    thermostat = Thermostat(
        id="stat", name="Stat", width=0.1, depth=0.1, height=0.1, place=Place(host="box")
    )
    switched = climate(box(), lamp(), thermostat, exhaust(control="stat")).day
    assert switched is not None
    assert switched.high == pytest.approx(118 * 1.05 / (UA * 0.8))
    half = Hours(periods=(Period(on=8 * 60, off=14 * 60),))
    timed = climate(box(), lamp(), exhaust(hours=half))
    assert row(timed, "rise-day").value == pytest.approx(rise(0.01))


def stat(value: float) -> Thermostat:
    return Thermostat(
        id="stat", name="Stat", width=0.1, depth=0.1, height=0.1, place=Place(host="box"),
        set_points=(SetPoint(value=value),),
    )  # fmt: skip


def test_a_fan_with_a_thermostat_runs_only_as_far_as_it_holds_the_set_point() -> None:
    """118 W: 2 K above 20 °C without the fan, 1.4 K with it always on."""

    def warmth(set_point: float) -> float | None:
        found = climate(box(), lamp(), stat(set_point), exhaust(control="stat"))
        return row(found, "rise-day").value

    assert rise(0.02) < 1.5
    assert warmth(26.0) == pytest.approx(118 / UA)
    assert warmth(21.7) == pytest.approx(1.7)
    assert warmth(20.5) == pytest.approx(rise(0.02))


def test_inputs_follow_the_set_point_of_a_vent() -> None:
    cold, warm = (design(box(), lamp(), stat(t), exhaust(control="stat")) for t in (21.0, 26.0))
    assert inputs(study(cold)) != inputs(study(warm))


def test_a_fan_by_its_duty_moves_that_share_of_its_flow() -> None:
    """0.02 m³/s for half of the time is 0.01 m³/s, as by its hours above."""
    half = climate(box(), lamp(), exhaust(duty=0.5))
    assert row(half, "rise-day").value == pytest.approx(rise(0.01))


def test_an_open_face_lets_warm_air_out_by_itself() -> None:
    """The rise is where the heat equals covers plus the buoyant flow at that very rise."""
    found = climate(box(covers=covers("left", "right", "back", "top")), lamp())
    warm = row(found, "rise-day").value
    assert warm is not None
    flow = opening_flow(2.0, 2.0, 20.0 + warm, 20.0)
    assert warm == pytest.approx(rise(flow, ua=10 * 4.0 + 3.0), rel=1e-4)
    assert warm < 1.0
    flap = Opening(
        id="flap", name="Flap", width=0.3, height=0.2,
        place=Place(host="box", fixing="face", face="front"),
    )  # fmt: skip
    cracked = row(climate(box(), lamp(), flap), "rise-day").value
    assert cracked is not None
    assert cracked == pytest.approx(rise(opening_flow(0.3, 0.2, 20 + cracked, 20.0)), rel=1e-4)


def test_an_enclosure_open_above_is_not_computed() -> None:
    found = climate(box(covers=covers("left", "right", "back", "front")), lamp())
    assert found.rows == ()
    assert found.nothing.render() == "open above: its air follows the room's"
    assert climate(lamp(host="room")).nothing.render() == "no enclosure yet"


def test_only_what_is_inside_counts_and_drivers_outside_keep_their_share() -> None:
    outside = lamp(id="far", host="room")
    heater = Heater(
        id="heat", name="Heater", watts=500.0, place=Place(host="box"), **SMALL, style="mat"
    )
    found = climate(box(), lamp(driver_inside=False), outside, heater)
    assert found.day is not None
    assert found.day.heat.power == pytest.approx(118 * 0.88)
    told = [item.render() for item in row(found, "rise-day").assumptions]
    assert "left out: Heater" in told
    assert any(words.startswith("drivers outside") for words in told)


def test_full_power_is_when_all_lamps_overlap() -> None:
    """60 W from 8 to 20 h and 58 W from 12 to 16 h: 118 W at noon."""
    found = climate(box(), lamp(60.0), lamp(58.0, 12, 16, id="second"))
    assert row(found, "rise-day").value == pytest.approx(118 / UA)


def test_night_is_only_while_every_lamp_is_off() -> None:
    """From 8 to 12 h one lamp of two is lit: that is neither full power nor night."""
    found = climate(box(), lamp(60.0), lamp(58.0, 12, 16, id="second"))
    assert row(found, "rise-night").value == 0.0


def test_timers_and_dimming_count() -> None:
    timer = Timer(
        id="timer", name="Timer", width=0.1, depth=0.1, height=0.1,
        hours=Hours(periods=(Period(on=480, off=1200),)),
    )  # fmt: skip
    found = climate(box(), timer, lamp(on=0, off=0, dimming=0.5, plug=Plug(into="timer")))
    assert row(found, "rise-day").value == pytest.approx(59 / UA)
    assert row(found, "rise-night").value == 0.0


def test_lamps_that_never_go_off_have_no_night() -> None:
    found = climate(box(), lamp(on=0, off=0))
    assert found.night is None
    assert [item.name for item in found.rows] == ["rise-day", "temperature-day"]


def test_a_box_without_lamps_is_as_warm_as_its_room() -> None:
    found = climate(box())
    assert row(found, "temperature-day").value == 20.0
    assert row(found, "rise-day").line.render() == "0 K above the room all day; 0 W inside"


def test_plants_of_several_groups_want_the_range_that_suits_all() -> None:
    groups = (
        ferns(Span(low=18.0, high=27.0), Span(low=16.0, high=18.0)),
        ferns(Span(low=20.0, high=30.0), Span(low=13.0), key="orchids"),
    )
    found = climate(box(), lamp(), zone(), zone("orchids"), groups=groups)
    day, night = row(found, "temperature-day"), row(found, "temperature-night")
    assert (day.want_low, day.want_high) == (20.0, 27.0)
    assert (night.want_low, night.want_high) == (16.0, 18.0)
    assert day.state is State.FINE
    assert day.line.render() == (
        "22 °C while the lamps are on, 2 K above the room; want 20 °C to 27 °C"
    ).replace(" °", "\N{THIN SPACE}°")
    assert found.headline in (day, night)


def test_groups_that_cannot_agree_are_judged_each_by_itself() -> None:
    groups = (ferns(Span(low=16.0, high=19.0)), ferns(Span(low=27.0), key="orchids"))
    found = climate(box(), lamp(), zone(), zone("orchids"), groups=groups)
    days = [item for item in found.rows if item.name == "temperature-day"]
    assert [item.state for item in days] == [State.HIGH, State.LOW]
    assert days[1].line.render().endswith("Orchids want at least 27\N{THIN SPACE}°C")


def test_a_day_near_its_limit_is_borderline() -> None:
    """22.0 °C, 21.6 to 22.6 by its range."""
    day = climate(box(), lamp(), zone(), groups=(ferns(Span(high=22.3)),))
    assert row(day, "temperature-day").state is State.BORDERLINE
    out = climate(box(), lamp(), zone(), groups=(ferns(Span(high=21.0)),))
    assert row(out, "temperature-day").state is State.HIGH


def test_unknown_covers_are_named_as_taken() -> None:
    found = climate(box(covers=covers(*FACES, u=None)), lamp())
    assert row(found, "rise-day").value == pytest.approx(118 / (14 * 4.16 + 3.0))
    told = [item.render() for item in row(found, "rise-day").assumptions]
    assert any("covers without a U-value" in words for words in told)


def test_the_readings_of_power_are_used_where_they_are_done() -> None:
    first = study(design(box(), lamp()))
    power = read_power(study(design(box(), lamp(59.0))))
    given = replace(first, done={"power": power})
    assert row(read(given), "rise-day").value == pytest.approx(59 / UA)
    assert inputs(first) != inputs(given)


def test_inputs_ignore_what_stands_where() -> None:
    first = design(box(), lamp(), zone(), groups=(ferns(Span(high=22.0)),))
    moved = first.with_parts({"zone-ferns": zone().model_copy(update={"name": "Other"})})
    assert inputs(study(first)) == inputs(study(moved))
    other = first.having(groups=(ferns(Span(high=23.0)),))
    assert inputs(study(first)) != inputs(study(other))
    thicker = first.with_parts({"box": box(covers=covers(*FACES, u=1.0))})
    assert inputs(study(first)) != inputs(study(thicker))


def test_every_reading_can_be_told_in_both_systems() -> None:
    found = climate(box(), lamp(), zone(), groups=(ferns(Span(low=18.0, high=27.0)),))
    for item in found.rows:
        assert item.to_json("metric")["line"]
        assert item.to_json("us")["line"]
        assert item.method.source
