"""Zones and rooms made from designs: the demos, and small designs with one thing in them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from core.climate import Cooler, Fogger, Heater, Vent, opening_flow, simulate, stack_flow
from core.climate.assumed import Known
from core.climate.from_design import LIGHT_AT_LEAVES, Setup, setup
from core.climate.from_devices import USUAL_COP, in_force, light_share
from core.climate.heat import LIGHT_SHARE, area
from core.climate.known import known
from core.light.reading import read as read_light
from core.model import (
    Change,
    Design,
    DuctFan,
    Enclosure,
    FromFlux,
    FromReading,
    Lamp,
    Opening,
    Period,
    PlantGroup,
    Plants,
    RoomWindow,
    Thermostat,
)
from core.model import Cooler as CoolerPart
from core.model.base import Place
from core.model.electric import Hours, SetPoint
from core.model.enclosure import Cover, Sheet
from core.model.room import Room as RoomModel
from core.storage import load
from core.study import study

DEMOS = Path(__file__).resolve().parents[3] / "resources" / "demos"
NAMES = ("starter", "stair-alcove", "garage-bay", "basement-nook")
FILM = Sheet(material="Clear film", transmittance=0.88, reflectance=0.08, u_value=4.16)
FACES = ("left", "right", "front", "back", "top")
SIZE = {"width": 0.1, "depth": 0.1, "height": 0.1}


def demo(name: str, season: str | None = None) -> Setup:
    made = setup(study(load(DEMOS / f"{name}.fern"), season=season))
    assert made is not None
    return made


def box(faces=FACES, **change) -> Enclosure:
    usual = {"id": "box", "name": "Box", "width": 1.0, "depth": 1.0, "height": 2.0}
    place = Place(host="room", x=1.0, y=1.0)
    covers = tuple(Cover(face=face, sheet=FILM) for face in faces)
    return Enclosure(**{**usual, "covers": covers, "place": place, **change})


def design(*parts, fixtures=(), enclosure=None) -> Design:
    room = RoomModel.rectangle(4.0, 4.0, 2.4).model_copy(update={"fixtures": fixtures})
    ferns = PlantGroup(key="ferns", name="Ferns")
    return Design(room=room, parts=(enclosure or box(), *parts), groups=(ferns,))


def made(*parts, season=None, **change) -> Setup:
    found = setup(study(design(*parts, **change), season=season))
    assert found is not None
    return found


def lamp(**change) -> Lamp:
    usual = {"id": "lamp", "name": "Lamp", "form": "board", "watts": 100.0, **SIZE}
    hours = Hours(periods=(Period(on=480, off=1200),))
    return Lamp(**{**usual, "hours": hours, "place": Place(host="box"), **change})


def fan(part_id="fan", joins=("enclosure", "room"), **change) -> DuctFan:
    place = Place(host="box", fixing="face", face="left")
    usual = {"id": part_id, "name": "Fan", "diameter": 0.1, "flow": 0.05, "watts": 20.0, **SIZE}
    return DuctFan(**{**usual, "joins": joins, "place": place, **change})


def thermostat(*points: SetPoint) -> Thermostat:
    return Thermostat(id="stat", name="Stat", set_points=points, place=Place(host="box"), **SIZE)


def cooler(**change) -> CoolerPart:
    usual = {"id": "cool", "name": "Cool", "cooling": 1500.0, "watts": 500.0, **SIZE}
    return CoolerPart(**{**usual, "control": "stat", **change})


def kinds(found: Setup) -> list[type]:
    return [type(device) for device in found.zone.devices]


# --- The demos


@pytest.mark.parametrize("name", NAMES)
def test_every_demo_has_a_believable_day_in_every_season(name):
    document = load(DEMOS / f"{name}.fern")
    for season in document.seasons:
        found = demo(name, season.id)
        run = simulate(found.zone, found.room)
        assert season.room_night - 4 < run.temperature.min()
        heated = [np.max(one.control.off) for one in found.zone.devices if isinstance(one, Heater)]
        assert run.temperature.max() < max(season.room_day, *heated, 0) + 8
        assert 0.3 < run.humidity.mean() <= 1
        assert abs(run.energy.gap) <= 1e-9 * run.energy.turnover
        assert abs(run.moisture.gap) <= 1e-9 * run.moisture.turnover
        wet = sum(tray.width * tray.depth for tray in found.zone.trays)
        # Growers: a planted tray loses 1 to 2 mm a day in humid air, x/÷ 2; less where it is wetter
        lost = (run.moisture.trays + run.moisture.leaves) / wet
        assert 0.2 < lost < 4


def test_a_room_without_an_enclosure_has_no_zone():
    assert setup(study(load(DEMOS / "empty-room.fern"))) is None
    assert setup(study(design(enclosure=box(faces=FACES[:4])))) is None


def test_a_cooler_in_the_window_is_there_in_summer_only():
    assert Cooler not in kinds(demo("basement-nook", "winter"))
    summer = demo("basement-nook", "summer")
    assert Cooler in kinds(summer)
    run = simulate(summer.zone, summer.room)
    without = simulate(demo_without(summer, Cooler), summer.room)
    assert run.temperature.max() < without.temperature.max()


def demo_without(found: Setup, kind: type):
    kept = tuple(one for one in found.zone.devices if not isinstance(one, kind))
    return replace(found.zone, devices=kept)


def test_a_heater_has_set_points_by_day_and_night():
    found = demo("garage-bay")
    heater = next(one for one in found.zone.devices if isinstance(one, Heater))
    assert kinds(found).count(Heater) == 1
    middle = (np.asarray(heater.control.on) + np.asarray(heater.control.off)) / 2
    assert middle[found.day > 0] == pytest.approx(22.2222)
    assert middle[found.day == 0] == pytest.approx(17.7778)
    assert Vent in kinds(found)


def test_a_fogger_goes_by_its_humidistat():
    found = demo("stair-alcove")
    fogger = next(one for one in found.zone.devices if isinstance(one, Fogger))
    assert not fogger.control.above
    assert np.mean([fogger.control.on, fogger.control.off]) == pytest.approx(0.75)


# --- Faces


def test_faces_in_the_open_have_their_own_u_value():
    found = made()
    assert found.boundaries == ("left", "right", "front", "back", "bottom", "top")
    assert {round(one.u, 2) for one in found.zone.boundaries} == {4.16, 1.5}
    assert sum(one.area for one in found.zone.boundaries) == pytest.approx(10.0)
    assert found.zone.volume == pytest.approx(2.0)


def test_a_face_close_to_a_wall_is_insulated_by_it():
    near = box(place=Place(host="room", x=1.0, y=2.98))
    back = [one for one in made(enclosure=near).zone.boundaries if one.name == "back"]
    assert [one.u < 2 for one in back] == [True]
    assert back[0].outdoor_share == 0
    assert back[0].area == pytest.approx(2.0)


def test_a_window_behind_a_face_lets_the_outdoors_in():
    near = box(place=Place(host="room", x=1.0, y=2.98))
    # Wall 3 is the back one and runs from the right: the window spans x 1.5 to 2.5, z 0.9 to 2.1.
    window = RoomWindow(id="window", name="Window", wall=3, offset=1.5)
    found = made(enclosure=near, fixtures=(window,))
    glass = [one for one in found.zone.boundaries if one.outdoor_share == 1]
    assert [one.area for one in glass] == [pytest.approx(0.5 * 1.1)]
    back = sum(one.area for one in found.zone.boundaries if one.name == "back")
    assert back == pytest.approx(2.0)


def test_an_open_face_is_a_gap():
    found = made(enclosure=box(faces=("left", "right", "back", "top")))
    (gap,) = found.zone.gaps
    assert (gap.width, gap.height) == (pytest.approx(1.0), pytest.approx(2.0))
    assert "front" not in found.boundaries


def test_a_flap_open_by_night_only():
    flap = Opening(
        id="flap", name="Flap", width=0.3, height=0.2,
        place=Place(host="box", fixing="face", face="front"),
        when=(Change(half="day", absent=True),),
    )  # fmt: skip
    found = made(flap, lamp())
    (gap,) = found.zone.gaps
    np.testing.assert_array_equal(np.asarray(gap.share), 1 - found.day)


def flap(part_id: str, z: float, **change) -> Opening:
    place = Place(host="box", fixing="face", face="front", x=0.4, z=z)
    return Opening(id=part_id, name="Flap", width=0.2, height=0.1, place=place, **change)


def test_flaps_one_above_the_other_exchange_as_two_openings():
    gap, by_night = made(flap("low", 0.1), flap("high", 1.7)).zone.gaps
    assert gap.height == by_night.height
    found = opening_flow(gap.width, gap.height, 23, 20)
    assert found == pytest.approx(stack_flow(0.02, 0.02, 1.6, 23, 20), rel=0.02)


def test_flaps_at_one_height_exchange_each_by_itself():
    gaps = made(flap("left", 0.1), flap("right", 0.1)).zone.gaps
    assert [(gap.width, gap.height) for gap in gaps] == [(0.2, 0.1)] * 4


def test_a_flap_shut_by_night_leaves_the_other_by_itself():
    by_day = Change(half="night", absent=True)
    day, night = made(flap("low", 0.1), flap("high", 1.7, when=(by_day,)), lamp()).zone.gaps
    assert day.height == pytest.approx(1.7)
    assert (night.width, night.height) == (0.2, 0.1)


# --- Heat, light, day


def test_day_is_while_lamps_are_on():
    found = made(lamp())
    assert found.day.sum() == 720
    assert made().day.sum() == 15 * 60
    total = found.zone.air_watts + found.zone.light_watts / (1 - found.zone.light_out)
    assert total.max() == pytest.approx(100)
    assert total[0] == 0


def test_a_lamp_dimmed_by_night_has_both_watts():
    night = lamp(hours=Hours(), when=(Change(half="night", settings={"dimming": 0.5}),))
    other = lamp(id="timed")
    found = made(other, night)
    watts = sum(np.asarray(one.watts) for one in found.zone.lamps)
    # The undimmed lamp is on all day, so all of it is day.
    assert found.day.all()
    assert watts[600] == pytest.approx(200)


def test_leaves_take_the_light_that_falls_on_them():
    """100 µmol/(m² s) of white light are 21.7 W/m², of which leaves absorb nine tenths."""
    found = demo("basement-nook")
    light = float(found.zone.light_watts.max())
    for one in found.zone.leaves:
        assert one.light_share * light / one.area == pytest.approx(0.9 * 100 / 4.6, rel=1e-6)


def test_light_that_is_known_to_leave_warms_nothing():
    found = setup(study(design(lamp())), Known(lost=0.6))
    assert found is not None
    watts = np.asarray(found.zone.lamps[0].watts)[600]
    assert found.zone.light_watts[600] == pytest.approx(0.4 * 2.2 / 4.6 * watts)


def test_the_light_engine_says_how_much_leaves():
    """It follows light to the room's walls; half of the covers' share is taken without it."""
    look = study(load(DEMOS / "starter.fern"))
    look = replace(look, done={"light": read_light(look)})
    found = known(look).lost
    assert found == next(row.value for row in look.done["light"].rows if row.name == "lost")
    assert setup(look, known(look)).zone.light_out == found


def test_leaves_take_no_more_light_than_there_is():
    plants = Plants(
        id="p", name="P", species="ferns", width=0.9, depth=0.9, place=Place(host="box")
    )
    dim = made(plants, lamp(watts=5.0))
    assert sum(one.light_share for one in dim.zone.leaves) == pytest.approx(LIGHT_AT_LEAVES)
    bright = Known(ppfd={"p": 1500.0})
    found = setup(study(design(plants, lamp(watts=2000.0))), bright)
    assert found is not None
    assert sum(one.light_share for one in found.zone.leaves) <= LIGHT_AT_LEAVES


def test_what_other_engines_know_is_taken():
    document = load(DEMOS / "starter.fern")
    plain = demo("starter")
    first = plain.leaves[0]
    known = Known(speed={first: 0.4}, ppfd={first: 222.0})
    found = setup(study(document), known)
    assert found is not None
    assert float(np.max(found.zone.leaves[0].ppfd)) == 222
    assert found.zone.leaves[0].speed == 0.4
    assert len(found.assumptions) < len(plain.assumptions)


def test_the_room_is_warm_by_day_and_eases_over():
    found = made()
    temperature = np.asarray(found.room.temperature)
    season = study(design()).season
    assert temperature[720] == pytest.approx(season.room_day)
    assert temperature[120] == pytest.approx(season.room_night)
    assert np.abs(np.diff(temperature)).max() < 0.05
    outdoors = np.asarray(found.room.outdoor_temperature)
    assert int(np.argmax(outdoors)) == 15 * 60
    assert outdoors.min() == pytest.approx(season.outdoor_night)


# --- Devices


def test_exhausts_bring_in_what_intakes_do_not_serve():
    intake = fan("in", ("outdoors", "enclosure"), flow=0.02)
    found = made(fan("out"), intake)
    out, into = found.zone.devices
    assert (out.flow, out.source) == (pytest.approx(0.03), "room")
    assert (into.flow, into.source) == (pytest.approx(0.02), "outdoors")
    assert found.devices == ("out", "in")


def test_a_fan_by_its_duty_runs_at_a_share():
    found = made(fan(duty=0.25))
    assert np.max(found.zone.devices[0].hours) == pytest.approx(0.25)


def test_a_fan_slower_by_night_is_two_devices():
    slow = fan(when=(Change(half="night", settings={"flow": 0.01}),))
    found = made(slow, lamp())
    assert [one.flow for one in found.zone.devices] == [0.05, 0.01]
    assert found.devices == ("fan", "fan")
    np.testing.assert_array_equal(sum(np.asarray(d.hours) for d in found.zone.devices), 1)


def test_a_cooler_rests_and_knows_its_efficiency():
    found = made(thermostat(SetPoint(value=24.0)), cooler())
    (device,) = found.zone.devices
    assert device.cop == pytest.approx(1500 / 450)
    assert device.watts == pytest.approx(50)
    assert device.control.minimum_off == 180
    assert device.control.above
    (bare,) = made(thermostat(SetPoint(value=24.0)), cooler(watts=0.0)).zone.devices
    assert bare.cop == USUAL_COP
    (hose,) = made(thermostat(SetPoint(value=24.0)), cooler(style="portable")).zone.devices
    assert hose.make_up > 0


def test_a_cooler_of_the_room_is_not_one_of_the_enclosure():
    assert made(cooler(joins=("room", "outdoors"), control=None)).zone.devices == ()


def test_the_set_point_that_says_most_is_in_force():
    plain, night = SetPoint(value=20.0), SetPoint(value=15.0, half="night")
    summer = SetPoint(value=12.0, half="night", season="summer")
    points = (plain, night, summer)
    assert in_force(points, "winter", "day") is plain
    assert in_force(points, "winter", "night") is night
    assert in_force(points, "summer", "night") is summer
    assert in_force((night,), "winter", "day") is None


def test_a_device_with_a_set_point_by_night_only_runs_free_by_day():
    found = made(thermostat(SetPoint(value=15.0, half="night")), cooler(), lamp())
    assert [one.control is None for one in found.zone.devices] == [True, False]


def test_faces_add_up_whatever_is_behind():
    placed = box(place=Place(host="room", x=0.0, y=0.0))
    found = made(enclosure=placed)
    for face in ("left", "front"):
        parts = [one.area for one in found.zone.boundaries if one.name == face]
        assert sum(parts) == pytest.approx(area(study(design()).placement.box("box"), face))


def test_light_leaves_a_lamp_by_its_photons_and_their_energy():
    # A mole of photons of 570 nm carries N_A h c / λ (CODATA 2018); white light differs by some %.
    photon = 6.02214076e23 * 6.62607015e-34 * 299792458 / 570e-9 * 1e-6
    given = lamp(watts=100.0, output=FromFlux(ppf=200.0))
    assert light_share(given) == pytest.approx(200 * photon / 100, rel=0.05)
    assert light_share(lamp(watts=10.0, output=FromFlux(ppf=200.0))) <= 1.0
    unread = lamp(watts=100.0, output=FromReading(distance=0.5))
    assert light_share(unread) == LIGHT_SHARE
