"""Climate readings: small enclosures whose day can be worked out by hand, and words for them."""

from __future__ import annotations

import re
from dataclasses import replace as with_fields
from math import hypot
from typing import Any

import numpy as np
import pytest

from core.climate import coil_split, dry_air_density, humidity_ratio, opening_flow, steady_rise
from core.climate.answers import USUAL_HUMIDITY
from core.climate.from_design import LIGHT_AT_COVERS
from core.climate.reading import ClimateReadings, inputs, read
from core.climate.rows import spell_words, told_spells
from core.model import (
    Change,
    Cooler,
    Cover,
    Design,
    DuctFan,
    Enclosure,
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
    Plug,
    Room,
    Season,
    SetPoint,
    Sheet,
    Span,
    Thermostat,
    Timer,
    Tray,
    replace,
)
from core.reading import Reading
from core.readings import Reader
from core.states import State
from core.study import Study, study

EVEN = Season(id="even", name="Even", room_day=20.0, room_night=20.0)
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
    place = Place(x=1.0, y=1.0)
    return Enclosure(id="box", name="Box", width=2.0, depth=1.0, height=2.0, place=place, **fields)


def lamp(watts: float = 118.0, on: int = 0, off: int = 0, host: str = "box", **more: Any) -> Lamp:
    fixing: Any = "hung"
    hours = Hours(periods=(Period(on=on * 60, off=off * 60),)) if on != off else Hours()
    name = more.pop("id", "lamp")
    return Lamp(
        id=name, name=name.title(), form="board", watts=watts, hours=hours,
        place=Place(host=host, fixing=fixing), **{**SMALL, **more},
    )  # fmt: skip


def ferns(day: Span | None = None, night: Span | None = None, key: str = "ferns", **more: Any) -> (
    PlantGroup
):  # fmt: skip
    return PlantGroup(
        key=key, name=key.title(), temperature_day=day, temperature_night=night, **more
    )


def zone(key: str = "ferns", host: str = "box") -> Plants:
    place = Place(host=host)
    return Plants(id=f"zone-{key}", name="Zone", species=key, width=0.2, depth=0.2, place=place)


def tray() -> Tray:
    return Tray(
        id="tray",
        name="Tray",
        width=1.2,
        depth=0.6,
        height=0.05,
        fill=0.02,
        place=Place(host="box"),
    )


def stat(value: float, kind: Any = Thermostat, **more: Any) -> Any:
    name = "stat" if kind is Thermostat else "hygro"
    points = (SetPoint(value=value, **more),)
    return kind(
        id=name, name=name.title(), set_points=points, minimum_off=0, place=Place(host="box"),
        **SMALL,
    )  # fmt: skip


def heater(**more: Any) -> Heater:
    usual = {"watts": 500.0, "control": "stat", **SMALL, **more}
    return Heater(id="heat", name="Heater", place=Place(host="box"), **usual)


def exhaust(flow: float = 0.02, name: str = "exhaust", **more: Any) -> DuctFan:
    return DuctFan(
        id=name, name=name.title(), width=0.1, depth=0.1, height=0.1, watts=0.0, diameter=0.1,
        flow=flow, place=Place(host="box", fixing="face", face="back"), **more,
    )  # fmt: skip


def design(*parts: Any, groups: tuple[PlantGroup, ...] = (), season: Season = EVEN) -> Design:
    return Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=parts, groups=groups, seasons=(season,))


def climate(*parts: Any, quality: Any = "final", **more: Any) -> ClimateReadings:
    return read(study(design(*parts, **more), quality=quality))


def row(found: ClimateReadings, name: str) -> Reading:
    (only,) = [item for item in found.rows if item.name == name]
    return only


def rise(fan_flow: float, power: float = 118.0, ua: float = UA) -> float:
    return steady_rise(
        power, ua, fan_flow * float(dry_air_density(20.0, humidity_ratio(20.0, 0.5)))
    )


# --- Warmth, against closed forms


@pytest.mark.parametrize("quality", ["coarse", "final"])
def test_lamps_warm_a_closed_box_by_their_watts_over_its_covers(quality: Any) -> None:
    found = climate(box(), lamp(), quality=quality)
    assert row(found, "rise-day").value == pytest.approx(118.0 / UA, rel=1e-3)
    assert row(found, "rise-day").line.render() == "2 K above the room while the lamps are on"
    assert row(found, "temperature-day").value == pytest.approx(22.0, abs=0.01)
    assert found.coarse == (quality == "coarse")
    assert found.night is None


def test_the_range_is_the_root_of_squares_of_covers_watts_and_method() -> None:
    """U − 20 % gives 2.5 K, watts + 5 % 2.1 K, and 0.5 K is always left open."""
    day = row(climate(box(), lamp()), "rise-day")
    assert day.value is not None and day.high is not None and day.low is not None
    assert day.high - day.value == pytest.approx(hypot(0.5, 0.1, 0.5), rel=1e-2)
    assert day.value - day.low == pytest.approx(hypot(2 - 2 / 1.2, 0.1, 0.5), rel=1e-2)


def test_light_that_clear_covers_let_out_does_not_warm() -> None:
    """Clear on 14 of 16 m² of faces."""
    found = climate(box(covers=covers(*FACES, clear=0.8)), lamp())
    out = 2.2 / 4.6 * LIGHT_AT_COVERS * 0.8 * 14 / 16  # 2.2 µmol/J, 4.6 µmol a joule of light
    assert row(found, "rise-day").value == pytest.approx(118.0 * (1 - out) / UA, rel=2e-3)


@pytest.mark.parametrize("quality", ["coarse", "final"])
def test_leakage_carries_heat_as_moist_air(quality: Any) -> None:
    """10 air changes an hour of 4 m³ at 20 °C and 50 %."""
    found = climate(box(air_changes_per_hour=10.0), lamp(), quality=quality)
    mass_flow = 10 * 4.0 / 3600 * float(dry_air_density(20.0, humidity_ratio(20.0, 0.5)))
    assert row(found, "rise-day").value == pytest.approx(
        steady_rise(118.0, UA, mass_flow), rel=2e-3
    )


@pytest.mark.parametrize("quality", ["coarse", "final"])
def test_exhaust_and_intake_serve_each_other(quality: Any) -> None:
    one = climate(box(), lamp(), exhaust(), quality=quality)
    assert row(one, "rise-day").value == pytest.approx(rise(0.02), rel=2e-3)
    intake = exhaust(0.03, "intake", joins=("room", "enclosure"))
    both = climate(box(), lamp(), exhaust(), intake, quality=quality)
    assert row(both, "rise-day").value == pytest.approx(rise(0.03), rel=2e-3)
    beside = climate(box(), lamp(), exhaust(joins=("room", "outdoors")), quality=quality)
    assert row(beside, "rise-day").value == pytest.approx(118 / UA, rel=2e-3)


def test_a_fan_behind_a_duct_may_move_less() -> None:
    day = row(climate(box(), lamp(), exhaust(0.2)), "rise-day")
    assert day.high is not None and day.value is not None
    least = rise(0.6 * 0.2) - rise(0.2)
    assert day.high - day.value > hypot(least, 0.5) - 1e-3


def test_a_fan_by_its_duty_moves_that_share_of_its_flow() -> None:
    half = climate(box(), lamp(), exhaust(duty=0.5))
    assert row(half, "rise-day").value == pytest.approx(rise(0.01), rel=2e-3)
    (fan,) = half.devices
    assert fan.hours_per_day == pytest.approx(12)


def test_a_fan_outside_draws_its_watts_and_warms_nothing() -> None:
    fan = replace(exhaust(), watts=30.0, place=Place(x=3.4, y=0.2))
    found = climate(box(), lamp(), fan)
    (one,) = found.devices
    assert one.kwh_per_day == pytest.approx(30 * 24 / 1000)
    assert row(found, "rise-day").value == pytest.approx(rise(0.02), rel=2e-3)


@pytest.mark.parametrize("quality", ["coarse", "final"])
def test_a_fan_with_a_thermostat_runs_only_as_far_as_it_holds_the_set_point(quality: Any) -> None:
    """118 W: 2 K above 20 °C without the fan, 1.4 K with it always on."""

    def warmth(set_point: float) -> float | None:
        parts = (box(), lamp(), stat(set_point, differential=0.2), exhaust(control="stat"))
        return row(climate(*parts, quality=quality), "rise-day").value

    assert rise(0.02) < 1.5
    assert warmth(26.0) == pytest.approx(118 / UA, rel=2e-3)
    assert warmth(21.7) == pytest.approx(1.7, abs=0.11)
    assert warmth(20.5) == pytest.approx(rise(0.02), rel=5e-3)


@pytest.mark.parametrize("quality", ["coarse", "final"])
def test_an_open_face_lets_warm_air_out_by_itself(quality: Any) -> None:
    """The rise is where the heat equals covers plus the buoyant flow at that very rise."""
    parts = (box(covers=covers("left", "right", "back", "top")), lamp())
    warm = row(climate(*parts, quality=quality), "rise-day").value
    assert warm is not None
    flow = opening_flow(2.0, 2.0, 20.0 + warm, 20.0)
    # The open face lets light out as well: a quarter of the faces, half of the light meets them.
    power = 118 * (1 - 0.45 * LIGHT_AT_COVERS * 4 / 16)
    assert warm == pytest.approx(rise(flow, power, ua=10 * 4.0 + 3.0), rel=5e-3)
    assert warm < 1.0


def test_a_heater_holds_the_night_by_as_much_as_the_covers_lose() -> None:
    """25 °C in a room of 20: 5 K × 59 W/K of 500 W."""
    found = climate(box(), stat(25.0), heater())
    (one,) = found.devices
    assert float(one.duty.mean()) == pytest.approx(5 * UA / 500, rel=0.03)
    assert one.kwh_per_day == pytest.approx(5 * UA * 24 / 1000, rel=0.03)
    told = row(found, "duty").line.render()
    assert told.startswith("Heater runs 14 h a day, ")
    assert told.endswith(" kWh a day")
    coarse = climate(box(), stat(25.0), heater(), quality="coarse")
    assert float(coarse.devices[0].duty.mean()) == pytest.approx(5 * UA / 500, abs=0.06)


def test_drivers_outside_keep_their_share_out() -> None:
    found = climate(box(), lamp(driver_inside=False), lamp(id="far", host="room"))
    assert row(found, "rise-day").value == pytest.approx(118 * 0.88 / UA, rel=2e-3)


def test_day_is_while_any_lamp_is_on_and_night_while_all_are_off() -> None:
    found = climate(box(), lamp(60.0, 8, 20), lamp(58.0, 12, 22, id="second"), season=MILD)
    assert found.day is not None and found.night is not None
    assert (found.day.hours, found.night.hours) == (14, 10)
    drop = row(found, "night-drop")
    assert drop.value == pytest.approx(found.day.temperature.mean - found.night.temperature.mean)
    assert "cooler than days" in drop.line.render()


def test_timers_and_dimming_count() -> None:
    timer = Timer(
        id="timer", name="Timer", width=0.1, depth=0.1, height=0.1,
        hours=Hours(periods=(Period(on=480, off=1200),)),
    )  # fmt: skip
    found = climate(box(), timer, lamp(dimming=0.5, plug=Plug(into="timer")))
    assert found.day is not None and found.series is not None
    assert found.day.hours == 12
    assert found.series.temperature.max() == pytest.approx(20 + 59 / UA, abs=0.02)


def test_an_enclosure_open_above_is_not_computed() -> None:
    found = climate(box(covers=covers("left", "right", "back", "front")), lamp())
    assert found.rows == ()
    assert found.nothing.render() == "open above: its air follows the room's"
    assert climate(lamp(host="room")).nothing.render() == "no enclosure yet"


# --- What plants want


def test_plants_of_several_groups_want_the_range_that_suits_all() -> None:
    groups = (
        ferns(Span(low=18.0, high=27.0), Span(low=16.0, high=18.0)),
        ferns(Span(low=20.0, high=30.0), Span(low=13.0), key="orchids"),
    )
    found = climate(box(), lamp(on=8, off=20), zone(), zone("orchids"), groups=groups)
    day, night = row(found, "temperature-day"), row(found, "temperature-night")
    assert (day.want_low, day.want_high) == (20.0, 27.0)
    assert (night.want_low, night.want_high) == (16.0, 18.0)
    assert day.state is State.FINE
    assert night.state is State.HIGH
    assert "; want 20 to 27\N{THIN SPACE}°C; from " in day.line.render()
    assert found.headline == night


def test_groups_that_cannot_agree_are_judged_each_by_itself() -> None:
    groups = (ferns(Span(low=16.0, high=19.0)), ferns(Span(low=27.0), key="orchids"))
    found = climate(box(), lamp(), zone(), zone("orchids"), groups=groups)
    days = [item for item in found.rows if item.name == "temperature-day"]
    assert [item.state for item in days] == [State.HIGH, State.LOW]
    assert "; Orchids want at least 27\N{THIN SPACE}°C; from " in days[1].line.render()


def test_a_day_near_its_limit_is_borderline() -> None:
    day = climate(box(), lamp(), zone(), groups=(ferns(Span(high=22.3)),))
    assert row(day, "temperature-day").state is State.BORDERLINE
    out = climate(box(), lamp(), zone(), groups=(ferns(Span(high=20.5)),))
    assert row(out, "temperature-day").state is State.HIGH


def test_hours_outside_a_range_are_counted_by_group() -> None:
    """Lamps for 12 h warm a light box by 2 K; ferns stand 21 °C, and here want it dry."""
    group = ferns(Span(high=21.0), humidity=Span(high=0.2))
    found = climate(box(), lamp(on=8, off=20), zone(), groups=(group,))
    out = row(found, "outside-ferns")
    assert out.value == pytest.approx(24 * 3600)
    by_warmth = ferns(Span(high=21.0))
    warm = row(climate(box(), lamp(on=8, off=20), zone(), groups=(by_warmth,)), "outside-ferns")
    assert warm.value is not None
    assert 8 < warm.value / 3600 < 12
    assert warm.line.render().startswith("Ferns: ")


# --- Water


def test_a_tray_moistens_a_closed_box_until_it_mists() -> None:
    """It loses what runs off the covers: nothing else leaves, and the box stays near saturation."""
    found = climate(box(), lamp(on=8, off=20), tray(), season=MILD)
    humidity, margin = row(found, "humidity-day"), row(found, "margin")
    assert humidity.value is not None and humidity.value > 0.85
    assert margin.state in (State.LOW, State.LIKELY_LOW)
    assert "walls mist" in margin.line.render()
    assert found.condensed == pytest.approx(found.trays[0].per_day, rel=0.05)
    assert found.condensed > 0.02
    (one,) = found.trays
    assert one.id == "tray" and one.transpired == 0
    assert (one.low, one.high) == (one.per_day / 2, one.per_day * 2)
    assert "condense on the covers" in row(found, "condensed").line.render()


def test_numbers_and_what_is_wanted_stand_first_in_the_sentences_of_the_air() -> None:
    """Where there is little room sentences are cut from their ends."""
    found = climate(box(), lamp(on=8, off=20), tray(), season=MILD)
    margin = row(found, "margin").line.render("us")
    assert re.match(r"[0-9.]+\s°F (below|above) the dew point at the \w+ face, walls ", margin)
    assert margin.endswith("; want above it")


def test_a_dry_box_stays_dry() -> None:
    found = climate(box(), lamp())
    margin = row(found, "margin")
    assert margin.state is State.FINE
    assert "walls stay dry" in margin.line.render()
    assert found.wet == ()
    assert found.condensed == 0


def test_leaves_drink_from_the_tray_that_they_stand_in() -> None:
    found = climate(
        box(air_changes_per_hour=2.0), lamp(), tray(), zone(host="tray"), groups=(ferns(),)
    )
    (one,), (leaves,) = found.trays, found.zones
    assert one.transpired == pytest.approx(leaves.transpired)
    assert leaves.transpired > 0
    assert row(found, "evaporation").value == pytest.approx(one.per_day * 1e-3)
    assert leaves.deficit.shape == (1440,)
    assert found.zone("zone-ferns") is leaves and found.tray("tray") is one


def test_a_fogger_drinks_while_it_runs() -> None:
    fogger = Fogger(
        id="fog", name="Fogger", watts=20.0, output=1e-4, control="hygro", place=Place(host="box"),
        **SMALL,
    )  # fmt: skip
    found = climate(
        box(air_changes_per_hour=3.0), lamp(), stat(0.8, Humidistat, differential=0.06), fogger
    )
    (one,) = found.devices
    assert one.litres_per_day == pytest.approx(float(one.duty.mean()) * 8.64, rel=1e-6)
    assert found.fog == one.litres_per_day
    assert row(found, "fog").value == pytest.approx(found.fog * 1e-3)
    assert row(found, "humidity-day").value == pytest.approx(0.8, abs=0.03)
    assert "times an hour for" in row(found, "duty").line.render()


def test_light_and_air_that_others_found_open_the_leaves() -> None:
    made = design(
        box(air_changes_per_hour=2.0), lamp(), tray(), zone(host="tray"), groups=(ferns(),)
    )
    look = study(made)
    plain = read(look)
    found = Reader().update(made)
    assert found.light.zones and found.climate.zones
    assert found.climate.zones[0].transpired != plain.zones[0].transpired
    told = [item.render() for item in found.climate.rows[0].assumptions]
    assert not any("light at the plants is taken" in words for words in told)


# --- Sizes


def test_sizes_are_told_where_plants_are_not_content() -> None:
    group = ferns(Span(high=21.0), Span(low=18.5))
    look = study(design(box(), lamp(on=8, off=20), zone(), groups=(group,), season=MILD))
    found = read(look)
    assert found.sizing is not None and found.sizing.cooler and found.sizing.heater
    made = row(found, "sizing-cooler")
    assert made.value == found.sizing.cooler.needed > 0
    assert "BTU/h" in made.line.render()
    assert row(found, "sizing-heater").value == found.sizing.heater.needed > 0
    content = read(study(design(box(), lamp(), zone(), groups=(ferns(Span(low=5, high=40)),))))
    assert not [item for item in content.rows if item.name.startswith("sizing")]


def test_sizes_are_those_of_the_balance_at_the_worst_minute() -> None:
    """Held at 21 °C in a room of 20 by day: 118 W less 1 K × 59 W/K go to the coil."""
    group = ferns(Span(high=21.0))
    found = read(study(design(box(), lamp(), zone(), groups=(group,))))
    assert found.sizing is not None and found.sizing.cooler is not None
    sensible, latent = coil_split(21.0, USUAL_HUMIDITY)
    assert found.run is not None
    evaporated = 2.5382e6 * found.run.transpiring.sum(axis=1).min()
    expected = (118 - UA - evaporated) * (sensible + latent) / sensible
    assert found.sizing.cooler.needed == pytest.approx(expected, rel=1e-5)
    assert found.sizing.ventilation is not None
    assert found.sizing.rise == pytest.approx(1.0)


# --- How it hangs together


def test_the_estimate_is_near_the_simulated_day() -> None:
    parts = (box(air_changes_per_hour=1.0), lamp(on=8, off=20), tray())
    coarse, final = (climate(*parts, quality=q, season=MILD) for q in ("coarse", "final"))
    for half in ("day", "night"):
        for name, off in (("temperature", 1.0), ("humidity", 0.06)):
            a, b = (row(one, f"{name}-{half}").value for one in (coarse, final))
            assert a is not None
            assert a == pytest.approx(b, abs=off)
    assert coarse.run is None and coarse.sizing is None and final.run is not None


def test_unknown_covers_are_named_as_taken() -> None:
    found = climate(box(covers=covers(*FACES, u=None)), lamp())
    assert row(found, "rise-day").value == pytest.approx(118 / (14 * 4.16 + 3.0), rel=2e-3)
    told = [item.render() for item in row(found, "rise-day").assumptions]
    assert any("covers without a U-value" in words for words in told)


def test_a_part_of_one_season_only_counts_in_it() -> None:
    flap = Opening(
        id="flap", name="Flap", width=0.5, height=1.0,
        place=Place(host="box", fixing="face", face="front"),
        when=(Change(season="even", absent=True),),
    )  # fmt: skip
    two = design(box(), lamp(), flap).having(seasons=(EVEN, replace(EVEN, id="other")))
    shut, opened = (read(study(two, season=season)) for season in ("even", "other"))
    assert row(shut, "rise-day").value == pytest.approx(118 / UA, rel=2e-3)
    assert row(opened, "rise-day").value < 1.6  # type: ignore[operator]


def test_inputs_ignore_what_stands_where_and_follow_what_counts() -> None:
    first = design(box(), lamp(), stat(22.0), zone(), groups=(ferns(Span(high=22.0)),))
    board = first.part("lamp")
    moved = first.with_parts({"lamp": replace(board, place=replace(board.place, x=0.4))})
    assert inputs(study(first)) == inputs(study(moved))
    others = (
        first.having(groups=(ferns(Span(high=23.0)),)),
        first.with_parts({"box": box(covers=covers(*FACES, u=1.0))}),
        first.with_parts({"stat": stat(23.0)}),
        first.with_parts({"lamp": lamp(119.0)}),
        first.with_parts({"zone-ferns": replace(zone(), width=0.3)}),
        first.having(seasons=(MILD,)),
    )
    for other in others:
        assert inputs(study(first)) != inputs(study(other))


def test_a_drag_keeps_the_simulated_day_until_something_of_climate_changes() -> None:
    first = design(box(), lamp(), zone(), groups=(ferns(),))
    board = first.part("lamp")
    moved = first.with_parts({"lamp": replace(board, place=replace(board.place, x=0.4))})
    reader = Reader()
    final = reader.update(first).climate
    assert reader.update(moved, quality="coarse").climate is final
    wider = first.with_parts({"box": replace(box(), air_changes_per_hour=2.0)})
    assert reader.update(wider, quality="coarse").climate.coarse


def test_kernels_that_compile_elsewhere_are_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    class Elsewhere:
        arrives = True

    look: Study = with_fields(study(design(box(), lamp())), flows=Elsewhere())  # type: ignore[arg-type]
    monkeypatch.setattr("core.climate.reading.kernels_ready", lambda: False)
    assert read(look).coarse
    assert not read(with_fields(look, flows=None)).coarse
    monkeypatch.setattr("core.climate.reading.kernels_ready", lambda: True)
    assert not read(look).coarse


def test_spells_are_joined_over_midnight_and_short_ones_left_out() -> None:
    assert told_spells(((60, 180), (185, 300), (700, 703))) == ((60, 300),)
    assert told_spells(((0, 30), (1400, 1439))) == ((1400, 1470),)
    assert spell_words(((1400, 1470),)) == "23:20–00:30"
    assert spell_words(((0, 1440),)) == "all day"
    assert told_spells(((0, 1435),)) == ((0, 1440),)


def test_every_reading_can_be_told_in_both_systems() -> None:
    cooler = Cooler(
        id="cool", name="Cooler", watts=500.0, cooling=1500.0, control="stat",
        place=Place(host="box"), **SMALL,
    )  # fmt: skip
    group = ferns(Span(low=18.0, high=20.5), humidity=Span(low=0.99))
    leaky = box(air_changes_per_hour=1.0)
    found = climate(leaky, lamp(300.0), zone(), tray(), stat(20.0), cooler, groups=(group,))
    names = {item.name for item in found.rows}
    assert {"drain", "duty", "outside-ferns", "sizing-cooler", "sizing-fogger"} <= names
    for item in found.rows:
        for system in ("metric", "us"):
            words = item.to_json(system)["line"]
            assert words and not set("{}") & set(words)
            assert "nan" not in words
        assert item.method.source
        assert item.low is None or item.low <= item.value <= item.high  # type: ignore[operator]
    assert np.isfinite([item.value for item in found.rows]).all()  # type: ignore[arg-type]
