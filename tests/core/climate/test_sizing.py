"""How large devices must be: each answer, put into the zone, holds what was asked for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.climate import (
    Boundary,
    Control,
    Cooler,
    Fogger,
    Gap,
    Heater,
    LampHeat,
    Vent,
    coil_split,
    cooler_needed,
    fogger_needed,
    heater_needed,
    simulate,
    ventilation_for_rise,
    ventilation_needed,
)
from core.climate.sizing import litres_per_hour
from core.errors import InputError
from tests.climate_kit import LIT, bare, cool_room, humidistat, zone

HOT = zone(lamps=(LampHeat(600.0),), light_out=0.0, boundaries=(Boundary(27, 1.5),), trays=())


def test_a_fan_of_the_size_found_holds_the_rise():
    size = ventilation_needed(HOT, cool_room(), 4.0)
    assert size.needed > 0
    assert size.advised == pytest.approx(1.25 * size.needed)
    vented = replace(HOT, devices=(Vent(flow=size.needed),))
    assert simulate(vented, cool_room()).temperature[-1] - 18 == pytest.approx(4.0, abs=0.05)


def test_without_covers_the_fan_is_that_of_the_closed_form():
    box = bare(boundaries=(), leakage=0.0, other_watts=300.0)
    size = ventilation_needed(box, cool_room(temperature=20.0), 5.0)
    assert size.needed == pytest.approx(ventilation_for_rise(300, 5, 20, 0.5), rel=1e-6)


def test_a_cool_enclosure_needs_no_fan():
    assert ventilation_needed(zone(lamps=()), cool_room(), 5.0).needed == 0


def test_a_heater_of_the_size_found_holds_the_night():
    cold = cool_room(temperature=10.0)
    made = zone(trays=(), leakage=2.0, heat_capacity=1e4)
    size = heater_needed(made, cold, 18.0, 0.5, fogged=False)
    assert LIT[size.minute] == 0
    held = replace(made, devices=(Heater(watts=size.needed, hours=1 - LIT),))
    night = simulate(held, cold).temperature[-60:]
    assert night == pytest.approx(18.0, abs=0.1)
    weak = replace(made, devices=(Heater(watts=0.8 * size.needed, hours=1 - LIT),))
    assert simulate(weak, cold).temperature[-1] < 17
    assert heater_needed(made, cold, 18.0, 0.8).needed > size.needed


def test_a_fogger_of_the_size_found_holds_the_humidity():
    made = zone(trays=(), lamps=(), other_watts=0.0, leakage=3.0)
    room = cool_room(humidity=0.4)
    cool = simulate(replace(made, devices=(Fogger(output=1e-3, control=humidistat()),)), room)
    size = fogger_needed(made, room, cool.temperature, 0.83)
    for share, reached in ((1.1, True), (0.8, False)):
        fog = Fogger(output=share * size.needed, control=humidistat(0.83, 0.01))
        run = simulate(replace(made, devices=(fog,)), room)
        assert (run.humidity.max() > 0.82) == reached
    assert litres_per_hour(size.needed) == pytest.approx(3600 * size.needed)


def test_gaps_and_cold_covers_ask_for_more_fog():
    room = cool_room(humidity=0.4)
    plain = fogger_needed(zone(), room, 20.0, 0.8).needed
    assert fogger_needed(zone(gaps=(Gap(0.1, 1.0),)), room, 20.0, 0.8).needed > plain
    frosty = cool_room(humidity=0.4, outdoor_temperature=-15.0)
    assert fogger_needed(zone(), frosty, 20.0, 0.8).needed > plain


def test_a_damp_room_needs_no_fog():
    damp = cool_room(temperature=20.0, humidity=0.9, outdoor_temperature=20.0)
    assert fogger_needed(zone(), damp, 20.0, 0.6).needed == 0


def test_a_cooler_of_the_size_found_holds_the_day():
    warm = cool_room(temperature=26.0, outdoor_temperature=26.0)
    # Enough skin that the compressor's rests of three minutes do not warm it by much
    made = zone(lamps=(LampHeat(600.0),), trays=(), boundaries=(Boundary(27, 1.5),), skin=1e5)
    size = cooler_needed(made, warm, 22.0, 0.5)
    assert size.btu_per_hour == pytest.approx(size.advised * 3.412142)
    control = Control.beyond("temperature", 22.0, 1.0, 180.0)
    for share, held in ((1.25, True), (0.5, False)):
        power = share * size.needed
        sensible, latent = coil_split(22.0, 0.5)
        flow = power / (sensible + latent) / 1.15
        cold = Cooler(cooling=power, air_flow=flow, control=control)
        run = simulate(replace(made, devices=(cold,)), warm)
        assert (run.temperature[-120:].mean() < 22.6) == held


def test_a_coil_takes_water_only_from_damp_air():
    sensible, latent = coil_split(25.0, 0.6)
    assert sensible == pytest.approx(0.8 * 1018 * 17, rel=0.01)
    assert latent > 0
    assert coil_split(25.0, 0.2)[1] == 0
    assert coil_split(5.0, 0.9) == (0.0, 0.0)


def test_set_points_may_differ_by_day_and_night():
    cold = cool_room(temperature=10.0)
    night = np.where(LIT > 0, 10.0, 18.0)
    assert LIT[heater_needed(zone(), cold, night, 0.5).minute] == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: ventilation_needed(HOT, cool_room(), 0), "temperature rise = 0 K must be above"),
        (lambda: cooler_needed(HOT, cool_room(), 8.0, 0.5), "coil below the temperature to hold"),
        (lambda: fogger_needed(HOT, cool_room(), 20, 80), "relative humidity = 80 must be from"),
        (lambda: coil_split(20, 0.5, bypass=2), "bypass = 2 must be from 0 to 1"),
        (lambda: litres_per_hour(-1), "output = −1 kg/s must not be negative"),
    ],
)
def test_bad_calls_say_what_is_wrong(call, words):
    with pytest.raises(InputError) as caught:
        call()
    assert words in str(caught.value)
