"""Light at one place read off a map: exact on planes, lamp by lamp, on the right level."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from core.air.flows import JETS
from core.geometry import Rectangle
from core.light.maps import Lighting, LightMap
from core.light.point import light_at, lux_of_point, map_at
from core.light.zone_meter import zone_meter
from core.placement import Placement
from core.readings import Reader, Readings
from core.storage import load

# On from 06:00 to 18:00, the second at half of that; both dimmed to a half.
DAY = np.zeros((2, 1440))
DAY[0, 360:1080] = DAY[1, 360:720] = 1.0
LIGHTING = Lighting(("a", "b"), np.array([0.5, 0.5]), DAY, np.zeros(2), np.array([10.0, 10.0]))


def sloping() -> LightMap:
    """Lamp a gives 100 + 10 x + 20 y, lamp b 40 everywhere; a tenth of each is reflected."""
    x, y = np.array([0.5, 1.5, 2.5]), np.array([0.5, 1.5])
    across, up = np.meshgrid(x, y)
    rows = np.stack([100 + 10 * across + 20 * up, np.full_like(across, 40.0)])
    return LightMap(Rectangle(0, 0, 3, 2), x, y, 1.0, rows, rows / 10, LIGHTING)


def test_between_cells_a_plane_is_read_exactly():
    found = light_at(sloping(), 1.2, 0.9, minute=400)
    assert found.ppfd == pytest.approx(0.5 * (100 + 12 + 18 + 40))
    assert found.direct_share == pytest.approx(0.9)


def test_each_lamp_is_told_for_itself_the_strongest_first():
    noon, evening = (light_at(sloping(), 1.2, 0.9, minute) for minute in (400, 900))
    assert noon.lamps == (("a", pytest.approx(65.0)), ("b", pytest.approx(20.0)))
    assert evening.lamps == (("a", pytest.approx(65.0)),)
    assert light_at(sloping(), 1.2, 0.9, 0).direct_share is None


def test_the_light_of_a_day_is_the_sum_of_its_minutes():
    # 65 µmol/(m² s) for 12 h and 20 for 6 h: definition, 0.0036 mol per µmol/(m² s) and hour
    assert light_at(sloping(), 1.2, 0.9, 0).daily == pytest.approx(0.0036 * (65 * 12 + 20 * 6))


def test_beyond_the_outermost_centres_their_values_hold():
    assert light_at(sloping(), 0.0, 0.0, 900).ppfd == light_at(sloping(), 0.5, 0.5, 900).ppfd
    assert light_at(sloping(), 9.0, 9.0, 900).ppfd == light_at(sloping(), 2.5, 1.5, 900).ppfd


@cache
def alcove() -> Readings:
    return Reader(flows=JETS).update(load("resources/demos/stair-alcove.fern"))


def test_every_cell_of_every_zone_is_read_back_from_its_own_map():
    light, placement = alcove().light, Placement(alcove().design)
    for zone in light.zones:
        for row, column in ((0, 0), (1, 2), (-1, -1)):
            x, y = float(zone.x[column]), float(zone.y[row])
            over = map_at(light.zones, light.levels, placement, (x, y, zone.z))
            assert over is zone
            assert light_at(over, x, y).ppfd == pytest.approx(float(zone.usual[row, column]))


def test_the_lux_of_a_place_are_those_that_the_zone_is_said_to_have():
    # Summed over the cells of a zone they are the zone's own, found lamp by lamp from its means.
    light = alcove().light
    zone = light.zones[0]
    lamps = light.survey.lamps
    cells = [lux_of_point(light_at(zone, x, y), lamps) for y in zone.y for x in zone.x]
    assert np.mean(cells) == pytest.approx(zone_meter(zone, lamps).lux)


def test_beside_the_plants_the_map_of_the_level_answers():
    light, placement = alcove().light, Placement(alcove().design)
    for level in light.levels:
        zones = [zone for zone in light.zones if zone.level == level.level]
        x, y = level.area.x0 + 1e-3, level.area.y0 + 1e-3
        inside = any(z.area.x0 <= x <= z.area.x1 and z.area.y0 <= y <= z.area.y1 for z in zones)
        over = map_at(light.zones, light.levels, placement, (x, y, level.z))
        assert (over in zones) if inside else (over is level)


def test_off_the_shelves_there_is_no_map():
    light, placement = alcove().light, Placement(alcove().design)
    assert map_at(light.zones, light.levels, placement, (-5.0, -5.0, 1.0)) is None
    above = placement.design.room.height + 1.0
    x, y = light.levels[0].area.centre
    assert map_at(light.zones, light.levels, placement, (x, y, above)) is None
