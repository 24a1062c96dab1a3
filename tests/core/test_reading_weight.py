"""Loads, pressures and pushes of a design against sums made by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest

from core.model import (
    Cover,
    Design,
    Enclosure,
    Frame,
    Lamp,
    Place,
    PlantGroup,
    Plants,
    Platform,
    Pots,
    Reservoir,
    Room,
    Sheet,
    Shelf,
    ShelfUnit,
    Targets,
    Tray,
)
from core.placement import Placement
from core.reading import Reading
from core.states import State
from core.study import study
from core.water.contents import reservoir_water, tray_brimful, tray_water
from core.weight.reading import WeightReadings, read

FERNS = PlantGroup(key="ferns", name="Ferns")
SHELVES = (Shelf(z=0.2, rating=40.0), Shelf(z=0.8, rating=20.0), Shelf(z=1.4))
POT_AREA = math.pi * 0.1**2 / 4


def unit(**fields: Any) -> ShelfUnit:
    usual: dict[str, Any] = {
        "width": 1.2, "depth": 0.6, "height": 1.8, "levels": SHELVES, "mass": 20.0,
    }  # fmt: skip
    return ShelfUnit(id="unit", name="Rack", **{**usual, **fields})


def tray(level: int = 1, **fields: Any) -> Tray:
    usual: dict[str, Any] = {
        "width": 1.17, "depth": 0.56, "height": 0.06, "fill": 0.04, "mass": 1.0,
        "place": Place(host="unit", level=level),
    }  # fmt: skip
    return Tray(id=f"tray-{level}", name=f"Tray {level}", **{**usual, **fields})


def plants(host: str = "tray-1", z: float = 0.0, **fields: Any) -> Plants:
    pots = Pots(count=20, diameter=0.1, height=0.09, density=700.0)
    usual: dict[str, Any] = {"width": 1.0, "depth": 0.5, "pots": pots}
    usual["place"] = Place(host=host, z=z)
    return Plants(id="plants", name="Ferns", species="ferns", **{**usual, **fields})


def layout(*parts: Any) -> Design:
    return Design(room=Room.rectangle(4.0, 3.0, 2.4), groups=(FERNS,), parts=parts)


def rows(design: Design, name: str) -> list[Reading]:
    return [row for row in read(study(design)).rows if row.name == name]


def water(*parts: Any) -> float:
    design = layout(unit(), *parts)
    return tray_water(Placement(design), design.part("tray-1"))  # type: ignore[arg-type]


def test_a_row_of_lamps_weighs_as_many_times_as_it_has_lamps():
    row = Lamp(
        id="row", name="Row", form="tube", width=1.17, depth=0.03, height=0.04, watts=20.0,
        mass=0.45, count=4, place=Place(host="unit", level=2, fixing="under"),
    )  # fmt: skip

    assert rows(layout(unit(), row), "shelf-load")[1].value == pytest.approx(4 * 0.45)


def test_a_row_whose_mass_nobody_gave_is_taken_by_the_watts_of_all_its_lamps():
    row = Lamp(
        id="row", name="Row", form="tube", width=1.17, depth=0.03, height=0.04, watts=20.0,
        count=4, place=Place(host="unit", level=2, fixing="under"),
    )  # fmt: skip

    # 4 × 20 W at 0.03 kg/W.
    assert rows(layout(unit(), row), "shelf-load")[1].value == pytest.approx(2.4)


# --- contents ------------------------------------------------------------------------------------


def test_a_trays_water_is_its_floor_times_its_fill():
    assert water(tray()) == pytest.approx(1.17 * 0.56 * 0.04, rel=1e-12)


def test_pots_take_their_room_from_the_water():
    # 20 round pots of 0.1 m, 0.04 m deep in water, and a platform of 6 L: the check of
    # water-weight-fit-materials.md with its water at 0.05 m is in tests/published.
    expected = 1.17 * 0.56 * 0.04 - 20 * POT_AREA * 0.04 - 0.006
    assert water(tray(displaced=0.006), plants()) == pytest.approx(expected, rel=1e-12)


def test_pots_on_a_platform_in_a_tray_stand_in_what_reaches_them():
    stand = Platform(
        id="stand", name="Stand", width=1.0, depth=0.5, height=0.03, place=Place(host="tray-1")
    )
    expected = 1.17 * 0.56 * 0.04 - 20 * POT_AREA * 0.01
    assert water(tray(), stand, plants("stand")) == pytest.approx(expected, rel=1e-12)


def test_pots_above_the_water_take_none_of_it():
    assert water(tray(), plants(z=0.05)) == pytest.approx(1.17 * 0.56 * 0.04, rel=1e-12)


def test_a_brimful_tray_drowns_its_pots_to_the_rim():
    design = layout(unit(), tray(), plants())
    expected = 1.17 * 0.56 * 0.06 - 20 * POT_AREA * 0.06
    brimful = tray_brimful(Placement(design), design.part("tray-1"))  # type: ignore[arg-type]
    assert brimful == pytest.approx(expected, rel=1e-12)


def test_more_pots_than_the_tray_holds_leave_no_water_rather_than_less_than_none():
    many = Pots(count=200, diameter=0.1, height=0.09)
    assert water(tray(), plants(pots=many)) == 0.0


def test_a_reservoir_is_full_to_its_fill_and_never_above_its_rim():
    tank: dict[str, Any] = {"id": "tank", "name": "Tank", "width": 0.5, "depth": 0.4, "height": 0.3}
    assert reservoir_water(Reservoir(fill=0.25, **tank)) == pytest.approx(0.05)
    assert reservoir_water(Reservoir(fill=0.4, **tank)) == pytest.approx(0.06)


# --- shelves -------------------------------------------------------------------------------------


def test_a_shelf_carries_the_tray_its_water_and_its_pots():
    level_1, level_2, level_3 = rows(layout(unit(), tray(), plants()), "shelf-load")

    free = (1.17 * 0.56 - 20 * POT_AREA) * 0.04 * 1000
    pots = 20 * POT_AREA * 0.09 * 700
    # 1.0 + 19.93 + 9.90 = 30.8 kg
    assert level_1.value == pytest.approx(1.0 + free + pots, rel=1e-12)
    assert level_1.value == pytest.approx(30.8, abs=0.05)
    assert (level_1.low, level_1.high) == (
        pytest.approx(0.9 * level_1.value), pytest.approx(1.1 * level_1.value),
    )  # fmt: skip
    assert level_2.value == 0.0
    assert level_3.state is State.UNASKED


@pytest.mark.parametrize(
    ("rating", "state"),
    [
        (40.0, State.FINE),
        (30.0, State.FINE),  # 27.2 kg, up to 29.93
        (29.9, State.BORDERLINE),
        (26.0, State.LIKELY_HIGH),  # down to 24.5
        (24.0, State.HIGH),
        (None, State.UNASKED),
    ],
)
def test_a_shelfs_state_follows_its_rating_and_the_spread_of_a_tenth(rating, state):
    shelves = (Shelf(z=0.2, rating=rating),)
    made = layout(unit(levels=shelves), tray())
    (row,) = rows(made, "shelf-load")

    # 1.0 + 1.17 × 0.56 × 0.04 × 1000 = 27.2 kg; with a tenth more 29.93.
    assert row.value == pytest.approx(27.208)
    assert row.state is state


def test_a_lamp_under_a_shelf_hangs_on_that_shelf_and_its_mass_is_taken_from_its_watts():
    lamp = Lamp(
        id="lamp", name="Board", form="board", width=0.5, depth=0.3, height=0.04, watts=100.0,
        place=Place(host="unit", fixing="under", level=2),
    )  # fmt: skip
    _, level_2, _ = rows(layout(unit(), lamp), "shelf-load")

    assert level_2.value == pytest.approx(3.0)  # 0.03 kg/W
    assert [item.render() for item in level_2.assumptions] == ["usual mass taken for Board"]


def test_parts_whose_mass_nobody_gave_are_named():
    from_nowhere = Reservoir(
        id="tank", name="Tank", width=0.2, depth=0.2, height=0.2, fill=0.0,
        place=Place(host="unit", level=1),
    )  # fmt: skip
    level_1, *_ = rows(layout(unit(), from_nowhere), "shelf-load")
    assert "no mass given for Tank" in level_1.assumptions[0].render()


# --- units ---------------------------------------------------------------------------------------


def test_a_unit_presses_on_the_floor_with_all_it_carries():
    # 220 kg on 1.2 × 0.6 m is 2.996 kPa by definition (checks of weight).
    made = layout(unit(mass=220.0))
    (row,) = rows(made, "floor-pressure")

    assert row.value == pytest.approx(2996, abs=0.5)
    assert " and all it carries: 220 kg on the floor" in row.line.render().replace("\u2009", " ")
    assert read(study(made)).floor_mass == pytest.approx(220.0)


def test_the_push_that_tips_a_unit_acts_at_its_top_but_no_higher_than_a_hand():
    # m g (d/2)/h: 60 kg, 0.45 m deep, pushed at 1.8 m: 73.5 N, and the line says how high.
    for height in (1.8, 2.2):
        made = layout(unit(mass=60.0, depth=0.45, height=height))
        (load,) = read(study(made)).units
        assert load.push == pytest.approx(73.55, abs=0.01)
        (row,) = rows(made, "proportion")
        assert "a push of 73.5 N 1.80 m up tips it" in row.line.render()


def test_a_unit_turned_by_a_quarter_tips_over_the_same_short_side():
    turned = layout(unit(depth=0.45, place=Place(turn=1)))
    (row,) = rows(turned, "proportion")
    assert row.value == pytest.approx(1.8 / 0.45)


@pytest.mark.parametrize(
    ("depth", "anchored", "state"),
    [(0.46, False, State.FINE), (0.44, False, State.HIGH), (0.44, True, State.UNASKED)],
)
def test_slender_units_are_out_unless_anchored(depth, anchored, state):
    (row,) = rows(layout(unit(depth=depth, anchored=anchored)), "proportion")
    assert row.state is state


def test_a_third_of_the_weight_rests_on_each_castor():
    made = layout(unit(castors=True, castor_rating=30.0, mass=60.0))
    (row,) = rows(made, "castor")
    assert row.value == pytest.approx(20.0)
    assert row.state is State.FINE
    assert rows(layout(unit()), "castor") == []


def test_a_full_unit_leans_further_than_one_whose_weight_is_at_the_top():
    low, high = (read(study(layout(unit(), tray(level)))).units[0].lean for level in (1, 3))
    assert low > high


def test_a_room_without_a_unit_has_no_weight_yet():
    found = read(study(layout()))
    assert found.rows == ()
    assert found.nothing.render() == "no shelf unit yet"


def test_while_all_is_well_the_headline_is_the_shelf_nearest_its_rating():
    # Shelf 2 (20 kg) carries the fuller share: the tray weighs the same on either.
    found = read(study(layout(unit(), tray(2, fill=0.01), tray(1, fill=0.01))))
    assert found.state is State.FINE
    assert found.headline is not None and found.headline.name == "shelf-load"
    assert found.headline.want_high == 20.0


# --- what a load is made of, and posts ------------------------------------------------------------


def test_a_shelfs_load_is_told_by_what_it_is_made_of():
    lamp = Lamp(
        id="lamp", name="Board", form="board", width=0.5, depth=0.3, height=0.04, watts=100.0,
        mass=2.5, place=Place(host="unit", fixing="under", level=1),
    )  # fmt: skip
    made = layout(unit(levels=(Shelf(z=0.2, rating=40.0, mass=3.0),)), tray(), plants(), lamp)
    (shelf,) = read(study(made)).shelves

    parts = shelf.shares
    assert parts.water == pytest.approx((1.17 * 0.56 - 20 * POT_AREA) * 40.0)
    assert parts.pots == pytest.approx(20 * POT_AREA * 0.09 * 700)
    assert (parts.trays, parts.lamps, parts.others, parts.shelf) == (1.0, 2.5, 0.0, 3.0)
    assert shelf.mass == pytest.approx(parts.total)


def test_shelves_that_weigh_are_the_least_that_a_unit_weighs():
    shelves = tuple(Shelf(z=z, mass=4.0) for z in (0.2, 0.9, 1.6))
    assert read(study(layout(unit(levels=shelves, mass=0.0)))).units[0].mass == pytest.approx(12.0)
    assert read(study(layout(unit(levels=shelves, mass=20.0)))).units[0].mass == 20.0


def off_centre(x: float, **fields: Any) -> WeightReadings:
    """60 kg of unit and a block of 40 kg, 0.2 m wide, at the left of 1.2 × 0.6 m."""
    block = Reservoir(
        id="tank", name="Tank", width=0.2, depth=0.6, height=0.2, fill=0.0, mass=40.0,
        place=Place(host="unit", level=1, x=x),
    )  # fmt: skip
    return read(study(layout(unit(mass=60.0, **fields), block)))


def test_a_load_at_one_end_rests_on_the_posts_there():
    # 100 kg; centre of gravity at (60 × 0.6 + 40 × 0.1)/100 = 0.4 m of 1.2 m: a third of the way.
    (load,) = off_centre(0.0).units
    assert load.corners == pytest.approx((100 / 3, 50 / 3, 100 / 3, 50 / 3))
    assert load.foot_pressure == pytest.approx(100 / 3 * 9.80665 / 0.025**2)


def test_posts_are_held_to_their_rating_and_feet_may_be_wider():
    found = off_centre(0.0, post_rating=30.0, foot=0.05)
    (row,) = (one for one in found.rows if one.name == "post")
    assert row.state is State.LIKELY_HIGH
    assert row.line.render().startswith(
        "Rack: 33.3 kg on its heaviest post, 131 kPa under its foot"
    )


def test_a_unit_tips_more_easily_when_its_trays_are_dry():
    # 20 kg of unit 0.56 m deep; full of water it is heavier and stands firmer.
    full, dry = (
        read(study(layout(unit(mass=20.0), tray(fill=fill)))).units[0] for fill in (0.04, 0.0)
    )
    assert full.push == pytest.approx(dry.push)
    assert full.dry == pytest.approx(21.0)
    assert full.climb == pytest.approx(dry.climb)


@pytest.mark.parametrize(
    ("limit", "state"),
    [(None, State.UNASKED), (900.0, State.FINE), (850.0, State.BORDERLINE), (700.0, State.HIGH)],
)
def test_the_floor_is_held_to_what_somebody_said_it_carries(limit, state):
    # 60 kg on 1.2 × 0.6 m: 817 Pa, 735 to 899.
    made = layout(unit(mass=60.0)).having(targets=Targets(floor_load=limit))
    (row,) = rows(made, "floor")
    assert row.value == pytest.approx(817.2, abs=0.1)
    assert row.state is state


def test_an_enclosures_own_frame_and_covers_stand_on_the_floor_too():
    # 19.2 m of pipe, 25 mm with walls of 1.9 mm, at 1400 kg/m³: 3.71 kg; film on the front,
    # 1.8 × 2.0 m of 0.15 mm at 950 kg/m³: 0.51 kg.
    front = Cover(face="front", sheet=Sheet(material="Film", thickness=0.00015))
    box = Enclosure(
        id="box", name="Box", width=1.8, depth=1.0, height=2.0,
        frame=Frame(catalogue="pipe-25", member=0.025), covers=(front,),
    )  # fmt: skip
    inside = unit(mass=60.0, place=Place(host="box"))
    found = read(study(layout(box, inside)))
    assert found.floor_mass == pytest.approx(60.0 + 3.71 + 0.51, abs=0.02)
    given = read(study(layout(box.model_copy(update={"mass": 9.0}), inside)))
    assert given.floor_mass == pytest.approx(69.0)
