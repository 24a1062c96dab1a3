"""Light readings of whole designs, held against the engine, closed forms and hand arithmetic."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from core.light import Lamp as Source
from core.light import Scene, solve, warm_up
from core.light.from_design import lamp_sources
from core.light.reading import LightReadings, inputs, read
from core.model import (
    Cover,
    Design,
    Enclosure,
    FromFlux,
    FromLumens,
    FromReading,
    Hours,
    Lamp,
    Period,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Room,
    Sheet,
    Shelf,
    ShelfUnit,
    Span,
    Timer,
    Tray,
)
from core.phrases import Phrase
from core.placement import Placement
from core.reading import Reading
from core.states import State
from core.study import study

DAY = Hours(periods=(Period(on=360, off=1080),))
FERNS = PlantGroup(key="ferns", name="Ferns", ppfd=Span(low=60.0, high=120.0))


def board(part_id: str = "board", **more: Any) -> Lamp:
    """A board of 0.6 × 0.3 m, 60 µmol/s, its lit face 0.40 m above level 1."""
    given: dict[str, Any] = {
        "form": "board",
        "width": 0.6,
        "depth": 0.3,
        "height": 0.02,
        "watts": 30.0,
        "output": FromFlux(ppf=60.0),
        "hours": DAY,
        "place": Place(host="unit", fixing="under", level=2, x=0.3, y=0.1, z=0.06),
    }
    return Lamp(id=part_id, name=part_id.capitalize(), **{**given, **more})


def zone(part_id: str = "zone", x: float = 0.2, width: float = 0.8, **more: Any) -> Plants:
    given: dict[str, Any] = {
        "species": "ferns",
        "depth": 0.4,
        "leaf_low": 0.03,
        "leaf_high": 0.10,
        "place": Place(host="unit", level=1, x=x, y=0.05),
    }
    return Plants(id=part_id, name=part_id.capitalize(), width=width, **{**given, **more})


def unit(**shelf: Any) -> ShelfUnit:
    levels = (Shelf(z=0.2), Shelf(z=0.7, **shelf), Shelf(z=1.2))
    return ShelfUnit(
        id="unit", name="Unit", width=1.2, depth=0.5, height=1.3, levels=levels, place=Place(x=0.5)
    )


def design(*parts: Any, group: PlantGroup = FERNS) -> Design:
    return Design(room=Room.rectangle(4.0, 3.0, 2.4), groups=(group,), parts=parts)


def light(made: Design, quality: Any = "final") -> LightReadings:
    return read(study(made, quality=quality))


def row(found: LightReadings, name: str, place: str = "zone") -> Reading:
    return next(item for item in found.rows if (item.name, item.place) == (name, place))


def straight(found: LightReadings) -> np.ndarray:
    """Return what the first zone gets straight from the lamps, cell by cell."""
    zone = found.zones[0]
    return np.tensordot(zone.weights(None), zone.rows - zone.reflected_rows, axes=1)


def text(words: Phrase) -> str:
    return words.render()


def cells_of(found: LightReadings) -> np.ndarray:
    over = found.zones[0]
    x, y = np.meshgrid(over.x, over.y)
    return np.stack([x.ravel(), y.ravel(), np.full(x.size, over.z)], axis=1)


def test_a_board_over_a_zone_is_what_the_engine_gives():
    found = light(design(unit(), board(), zone()))
    # Lit face: under shelf 2 (0.70 - 0.02), gap 0.06, body 0.02: 0.60 m; unit at x = 0.5.
    lamp = Source((0.5 + 0.3 + 0.3, 0.1 + 0.15, 0.60), (0.6, 0.3), 60.0)
    expected = solve(Scene((), (lamp,)), cells_of(found), (0, 0, 1)).direct

    assert found.zones[0].z == pytest.approx(0.30)
    assert straight(found).ravel() == pytest.approx(expected, rel=1e-6)
    assert row(found, "ppfd").value > expected.mean()


def test_light_under_the_middle_of_a_board_by_its_closed_form():
    # checks/light.md 9: 266.063 under a board 0.3 × 0.3 m at 0.3 m, 100 µmol/s (quadrature)
    lamp = board(
        width=0.3, depth=0.3, output=FromFlux(ppf=100.0),
        place=Place(host="unit", fixing="under", level=2, x=0.35, y=0.1, z=0.06),
    )  # fmt: skip
    small = zone(width=0.02, depth=0.02, place=Place(host="unit", level=1, x=0.49, y=0.24))

    found = light(design(unit(), lamp, small))
    assert straight(found).mean() == pytest.approx(266.0, abs=0.3)


def test_cells_are_at_most_5_cm_wide_and_those_of_drawn_levels_10_cm_while_dragging():
    made = design(unit(), board(), zone())
    fine, coarse = light(made), light(made, "coarse")

    assert coarse.coarse and not fine.coarse
    assert fine.zones[0].rows.shape == coarse.zones[0].rows.shape == (1, 8, 16)
    assert coarse.levels[0].rows.size < fine.levels[0].rows.size / 3


def test_what_is_read_of_a_zone_is_the_same_while_dragging():
    warm_up()
    made = design(unit(), board(), zone())
    fine, coarse = light(made), light(made, "coarse")

    assert straight(coarse) == pytest.approx(straight(fine), rel=1e-9)
    told = [
        {r.name: r.value for r in each.by_zone[0] if r.name in ("ppfd", "ppfd-lowest", "dli")}
        for each in (fine, coarse)
    ]
    # Reflections on patches of 0.25 and of 0.1 m are an eighth of the light here, and by one sixth
    # apart: 2.0 % of the whole was measured.
    assert told[0] == pytest.approx(told[1], rel=0.025)
    assert row(fine, "ppfd").state == row(coarse, "ppfd").state


def test_what_a_turned_unit_carries_turns_with_it():
    made = design(unit(), board(tilt=20.0), zone())
    turned = made.with_parts(
        {"unit": made.part("unit").model_copy(update={"place": Place(x=1.0, y=0.2, turn=1)})}
    )
    assert straight(light(turned)).mean() == pytest.approx(straight(light(made)).mean(), 1e-6)


@pytest.mark.parametrize(("turn", "dx", "dy"), [(0, 0, 1), (1, -1, 0), (2, 0, -1), (3, 1, 0)])
def test_a_tilt_turns_the_light_towards_the_back(turn, dx, dy):
    made = design(unit(), board(tilt=30.0, place=Place(fixing="hung", turn=turn)))
    direction = lamp_sources(Placement(made))[0].sources[0].direction

    expected = (dx * 0.5, dy * 0.5, -math.cos(math.radians(30)))
    assert direction == pytest.approx(expected, abs=1e-12)


def test_a_wire_shelf_between_lets_its_share_through():
    high = board(place=Place(host="unit", fixing="under", level=3, x=0.3, y=0.1, z=0.06))
    low = zone(width=0.1, depth=0.1, place=Place(host="unit", level=1, x=0.55, y=0.2))
    wire = straight(light(design(unit(transmittance=0.7), high, low))).mean()
    solid = straight(light(design(unit(surface="solid"), high, low))).mean()
    scene = Scene((), (Source((1.1, 0.25, 1.10), (0.6, 0.3), 60.0),))
    free = solve(scene, cells_of(light(design(unit(), high, low))), (0, 0, 1)).direct.mean()

    assert wire == pytest.approx(0.7 * free, rel=1e-3)
    assert solid == 0


def test_a_tray_and_another_lamp_shade_but_a_lamp_never_itself():
    high = board(place=Place(host="unit", fixing="under", level=3, x=0.3, y=0.1, z=0.06))
    tray = Tray(
        id="tray", name="Tray", width=1.2, depth=0.5, height=0.05,
        place=Place(host="unit", level=2),
    )  # fmt: skip
    assert straight(light(design(unit(), high, tray, zone()))).mean() < 1

    over = board("dark", output=FromFlux(ppf=0.0), place=Place(
        host="unit", fixing="under", level=2, x=0.3, y=0.1, z=0.20))  # fmt: skip
    both = light(design(unit(), board(), over, zone()))
    alone = light(design(unit(), board(), zone()))
    assert row(both, "ppfd").value < 0.9 * row(alone, "ppfd").value


def test_a_row_of_tubes_is_as_many_strips():
    tubes = board(
        form="tube", depth=0.03, count=3, spacing=0.12, output=FromFlux(ppf=20.0),
        place=Place(host="unit", fixing="under", level=2, x=0.3, y=0.1, z=0.06),
    )  # fmt: skip
    found = light(design(unit(), tubes, zone()))
    strips = tuple(Source((1.1, 0.1 + 0.015 + 0.12 * i, 0.60), (0.6, 0.0), 20.0) for i in range(3))
    expected = solve(Scene((), strips), cells_of(found), (0, 0, 1)).direct.mean()

    assert found.zones[0].rows.shape[0] == 1
    assert straight(found).mean() == pytest.approx(expected, rel=1e-6)


def test_a_spot_falls_to_half_at_its_half_angle():
    spot = board(
        form="spot", width=0.1, depth=0.1, half_angle=20.0, output=FromFlux(ppf=10.0),
        place=Place(host="unit", fixing="under", level=2, x=0.55, y=0.2, z=0.06),
    )  # fmt: skip
    source = lamp_sources(Placement(design(unit(), spot)))[0].sources[0]

    assert source.size == (0, 0)
    assert source.distribution.intensity(0, 20.0) == pytest.approx(0.5)


def test_too_strong_is_said_where_and_how_much():
    strong = light(design(unit(), board(output=FromFlux(ppf=200.0)), zone()))

    assert strong.state is State.HIGH
    assert strong.headline.name == "ppfd"
    value = strong.headline.value
    assert text(strong.headline.line) == f"{value:.0f} at level 1; want 60–120"


def test_too_weak_at_the_lowest_leaves_is_a_reading_of_its_own():
    tall = zone(leaf_low=0.0, leaf_high=0.30)
    found = light(design(unit(), board(output=FromFlux(ppf=32.0)), tall))
    top, lowest = row(found, "ppfd"), row(found, "ppfd-lowest")

    assert lowest.value < top.value
    assert lowest.state is State.LOW
    assert lowest.want_high is None
    assert top.state is not State.LOW
    assert found.headline == lowest


def test_a_mean_inside_with_too_little_area_in_range_is_uneven():
    found = light(design(unit(), board(output=FromFlux(ppf=72.0)), zone(x=0.0, width=1.2)))
    top = row(found, "ppfd")

    assert 60 <= top.value <= 120
    assert found.zones[0].in_range < 0.8
    assert (top.state, top.words) == (State.BORDERLINE, "uneven")


def test_a_group_without_a_range_says_enter_yours():
    bare = PlantGroup(key="ferns", name="Ferns")
    found = light(design(unit(), board(), zone(), group=bare))

    assert found.state is State.UNASKED
    assert text(found.headline.line).endswith("at level 1; Ferns: enter yours")
    assert found.zones[0].in_range is None


def test_daily_light_is_turned_into_ppfd_over_the_lit_hours():
    # 12 h: 4.32 mol = 100 µmol/(m² s) × 12 × 0.0036 (definition)
    daily = PlantGroup(key="ferns", name="Ferns", daily_light=Span(low=4.32, high=8.64))
    found = light(design(unit(), board(), zone(), group=daily))

    assert found.zones[0].want == pytest.approx((100.0, 200.0))
    assert row(found, "dli").want_low == 4.32
    assert row(found, "dli").value == pytest.approx(row(found, "ppfd").value * 12 * 0.0036)


def test_the_day_adds_up_timers_ramps_and_dimming():
    timer = Timer(
        id="timer", name="Timer", width=0.1, depth=0.1, height=0.1,
        hours=Hours(periods=(Period(on=480, off=1440),)),
    )  # fmt: skip
    ramped = Hours(periods=(Period(on=360, off=1080),), ramp=60)
    lamp = board(dimming=0.5, hours=ramped, plug=Plug(into="timer"))
    found = light(design(unit(), lamp, timer, zone()))
    over = found.zones[0]
    full = float(over.rows.mean())

    # On 08:00 to 18:00: ten hours, of which an hour's worth is lost to the two ramps.
    assert over.hours == 10
    assert over.mean == pytest.approx(0.5 * full)
    assert over.dli == pytest.approx(0.5 * full * 9 * 0.0036)
    assert over.at(7 * 60).max() == 0
    assert over.at(12 * 60) == pytest.approx(over.usual)


def test_lamps_of_unlike_hours_count_for_their_share_of_the_lit_hours():
    other = board("other", hours=Hours(periods=(Period(on=360, off=720),)))
    both = light(design(unit(), board(), other, zone())).zones[0]
    first, second = both.rows.mean(axis=(1, 2))

    assert both.mean == pytest.approx(first + second / 2)


def test_stray_light_through_the_night_does_not_halve_the_day():
    night = board("night", output=FromFlux(ppf=0.5), hours=Hours())
    assert light(design(unit(), board(), night, zone())).zones[0].hours == 12


def test_flux_by_watts_lumens_and_a_meter():
    by_watts = light(design(unit(), board(output={"basis": "watts", "efficacy": 2.0}), zone()))
    by_flux = light(design(unit(), board(), zone()))
    by_lumens = light(design(unit(), board(output=FromLumens(lumens=60e3 / 14.3)), zone()))

    # 30 W × 2.0 µmol/J = 60 µmol/s; 60 µmol/s ÷ 14.3 µmol/s per klm (CIE LED-B3)
    assert row(by_watts, "ppfd").value == pytest.approx(row(by_flux, "ppfd").value)
    assert row(by_lumens, "ppfd").value == pytest.approx(row(by_flux, "ppfd").value)
    assert any("Efficacy taken as 2 µmol/J" in text(w) for w in row(by_watts, "ppfd").assumptions)
    assert by_watts.zones[0].flux_uncertainty == pytest.approx(0.10)
    assert by_flux.zones[0].flux_uncertainty == pytest.approx(0.05)


def test_a_meter_reading_is_found_again_below_the_lamp():
    lamp = board(
        width=0.3, depth=0.3, output=FromReading(distance=0.3, ppfd=150.0),
        place=Place(host="unit", fixing="under", level=2, x=0.35, y=0.1, z=0.06),
    )  # fmt: skip
    small = zone(width=0.01, depth=0.01, place=Place(host="unit", level=1, x=0.495, y=0.245))
    assert straight(light(design(unit(), lamp, small))).mean() == pytest.approx(150, rel=1e-3)


def test_a_lamp_whose_reading_is_missing_gives_no_light_and_says_so():
    found = light(design(unit(), board(output=FromReading(distance=0.3)), zone()))
    top = row(found, "ppfd")

    assert top.value == 0
    assert any("No meter reading is entered" in text(words) for words in top.assumptions)


def test_dimming_by_the_factor_brings_the_zone_inside():
    strong = board(output=FromFlux(ppf=200.0))
    small = zone(x=0.45, width=0.3)
    found = light(design(unit(), strong, small))
    factor = found.zones[0].dim_to(found.method)
    mended = light(design(unit(), strong.model_copy(update={"dimming": factor}), small))

    assert factor < 1
    assert row(mended, "ppfd").state is State.FINE


def test_hours_for_the_daily_light():
    daily = PlantGroup(key="ferns", name="Ferns", daily_light=Span(low=3.0, high=6.0))
    over = light(design(unit(), board(), zone(), group=daily)).zones[0]
    low, high = over.hours_for_daily_light()

    assert over.mean * low * 0.0036 == pytest.approx(3.0)
    assert over.mean * high * 0.0036 == pytest.approx(6.0)


def test_reflections_of_a_lined_box_widen_the_upper_end_only():
    white = Sheet(material="White film", reflectance=0.9)
    faces: Any = ("left", "right", "front", "back", "top", "bottom")
    box = Enclosure(
        id="box", name="Box", width=2.0, depth=2.0, height=2.1,
        covers=tuple(Cover(face=face, sheet=white) for face in faces),
    )  # fmt: skip
    inside = unit().model_copy(update={"place": Place(host="box", x=0.5)})
    bare = row(light(design(unit(), board(), zone())), "ppfd")
    lined = row(light(design(box, inside, board(), zone())), "ppfd")

    assert lined.value > 1.1 * bare.value
    share = row(light(design(box, inside, board(), zone())), "reflected").value
    assert share > 0.1


def test_levels_with_lamps_or_plants_have_a_map_of_the_whole_level():
    found = light(design(unit(), board(), zone()))
    level = found.level(("unit", 1))

    assert [one.level for one in found.levels] == [("unit", 1)]
    assert level.rows.shape == (1, 10, 24)
    assert level.z == found.zones[0].z
    assert level.area.width == pytest.approx(1.2)


def test_energy_for_each_mole():
    found = light(design(unit(), board(), zone()))
    moles = found.zones[0].dli * 0.8 * 0.4

    assert found.efficacy == pytest.approx(2.0)
    assert found.kwh_per_mol == pytest.approx(0.36 / moles)


def test_no_lamp_is_not_a_light_of_zero_for_the_headline_to_hide():
    assert text(light(design(unit())).nothing) == "no lamp yet"
    dark = light(design(unit(), zone()))
    assert dark.headline.value == 0
    assert dark.state is State.LOW


def test_plugs_of_others_do_not_touch_the_light_but_places_do():
    made = design(unit(), board(), zone())
    moved = made.with_parts({"board": board(place=board().place.model_copy(update={"x": 0.2}))})

    assert inputs(study(made)) == inputs(study(design(unit(), board(), zone())))
    assert inputs(study(made)) != inputs(study(moved))
