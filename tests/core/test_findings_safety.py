"""Electric things beside water, heat beside sheets: cautions, and the edit that ends each."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import safety
from core.model import (
    NORTH_AMERICA,
    Circuit,
    Cover,
    Design,
    Fogger,
    Heater,
    Lamp,
    Liner,
    Outlet,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Reservoir,
    Sheet,
    Strip,
    Tray,
)
from core.states import State
from tests.findings_kit import after_mending, box, design, raised, room, told, unit

FILM = Sheet(material="Clear film")
FACES: Any = ("left", "right", "front", "back", "top")
COVERS = tuple(Cover(face=face, sheet=FILM) for face in FACES)
LINER = Liner()


def strip(place: Place, into: str = "outlet-hall", **fields: Any) -> Strip:
    return Strip(
        id="strip", name="Strip", width=0.3, depth=0.06, height=0.05, place=place,
        plug=Plug(into=into, **fields),
    )  # fmt: skip


def lamp(into: str = "outlet-hall", **fields: Any) -> Lamp:
    usual: dict[str, Any] = {
        "width": 0.5, "depth": 0.3, "height": 0.04, "watts": 50.0,
        "place": Place(host="box", fixing="hung", x=0.2, y=0.2, z=0.4), "plug": Plug(into=into),
    }  # fmt: skip
    return Lamp(id="lamp", name="Board", form="board", **{**usual, **fields})


def tank(**fields: Any) -> Reservoir:
    usual: dict[str, Any] = {
        "width": 0.4, "depth": 0.4, "height": 0.4, "fill": 0.3, "place": Place(x=3.2, y=0.2),
    }  # fmt: skip
    return Reservoir(id="tank", name="Tank", **{**usual, **fields})


# --- sockets below water -------------------------------------------------------------------------


def test_a_strip_lower_than_the_water_beside_it_is_fixed_higher():
    made = design(box(), strip(Place(x=2.8, y=0.3)), lamp("strip"), tank())
    (finding,) = raised(safety.socket_below_water, made)

    assert finding.state is State.CAUTION
    assert told(finding) == (
        "Strip is lower than the water of Tank",
        "Water within 0.50 m may run down to it.",
        "Fix Strip 0.40 m above the floor",
    )
    assert after_mending(safety.socket_below_water, made) == []


def test_a_strip_far_from_water_above_it_or_unused_is_left_alone():
    far = strip(Place(x=2.3, y=2.0))
    assert raised(safety.socket_below_water, design(box(), far, lamp("strip"), tank())) == []
    high = strip(Place(x=2.8, y=0.3, z=0.35))
    assert raised(safety.socket_below_water, design(box(), high, lamp("strip"), tank())) == []
    idle = strip(Place(x=2.8, y=0.3))
    assert raised(safety.socket_below_water, design(box(), idle, lamp(), tank())) == []


def test_an_outlet_below_water_stays_and_names_who_decides():
    made = design(box(), lamp("outlet-hall"), tank(place=Place(x=3.2, y=2.6, z=0.3)))
    (finding,) = raised(safety.socket_below_water, made)
    assert finding.place == "outlet-hall"
    assert "licensed electrician decides" in told(finding)[1]
    assert finding.remedy is None


def test_a_strip_on_the_liner_is_too_low_and_goes_above_its_edge():
    made = design(box(liner=LINER), strip(Place(host="box", x=0.5, y=0.5)), lamp("strip"))
    (finding,) = raised(safety.socket_in_the_liner, made)
    assert finding.state is State.LOW
    assert told(finding)[0] == "Strip lies where spilt water collects"
    assert told(finding)[2] == "Fix Strip 0.15 m above the floor"
    assert after_mending(safety.socket_in_the_liner, made) == []


def test_a_strip_above_the_liners_edge_or_outside_is_fine():
    above = design(box(liner=LINER), strip(Place(host="box", x=0.5, y=0.5, z=0.05)), lamp("strip"))
    assert raised(safety.socket_in_the_liner, above) == []
    outside = design(box(liner=LINER), strip(Place(x=3.0, y=0.5)), lamp("strip"))
    assert raised(safety.socket_in_the_liner, outside) == []


# --- leads ---------------------------------------------------------------------------------------


def test_leads_out_of_the_enclosure_get_a_drip_loop():
    made = design(box(), lamp(), tank())
    (finding,) = raised(safety.no_drip_loop, made)
    assert told(finding)[0] == "No drip loop: Board"
    assert told(finding)[2] == "Give it a drip loop"
    assert after_mending(safety.no_drip_loop, made) == []


def test_leads_with_a_loop_or_without_water_are_fine():
    looped = lamp(plug=Plug(into="outlet-hall", drip_loop=True))
    assert raised(safety.no_drip_loop, design(box(), looped, tank())) == []
    assert raised(safety.no_drip_loop, design(box(), lamp())) == []


def test_a_strip_above_a_tank_gets_a_drip_loop():
    made = design(strip(Place(x=3.2, y=0.3, z=0.8)), tank())
    (finding,) = raised(safety.hangs_above_water, made)
    assert told(finding)[0] == "Strip hangs above Tank"
    assert "licensed electrician" in told(finding)[1]
    assert after_mending(safety.hangs_above_water, made) == []
    beside = design(strip(Place(x=2.6, y=0.3, z=0.8)), tank())
    assert raised(safety.hangs_above_water, beside) == []


def wired(protected: bool | None, **fields: Any) -> Design:
    hall = Circuit(id="hall", name="Hall circuit", breaker=16.0, leakage_protected=protected)
    return design(box(), lamp(), tank(), room=room(circuits=(hall,)), **fields)


@pytest.mark.parametrize("protected", [None, False])
def test_a_circuit_not_known_to_be_protected_is_named(protected):
    (finding,) = raised(safety.no_leakage_protection, wired(protected))
    assert told(finding)[0] == "No leakage protection is known of on Hall circuit"
    assert "30 mA" in told(finding)[1]
    american = wired(protected, practice=NORTH_AMERICA)
    assert "4 to 6 mA" in told(raised(safety.no_leakage_protection, american)[0])[1]


def test_a_protected_circuit_or_outlet_is_fine():
    assert raised(safety.no_leakage_protection, wired(True)) == []
    made = wired(None)
    outlet = made.by_id["outlet-hall"]
    assert isinstance(outlet, Outlet)
    safe = made.with_parts({"outlet-hall": outlet.model_copy(update={"leakage_protected": True})})
    assert raised(safety.no_leakage_protection, safe) == []


def beside_water(protected: bool | None = None, x: float = 0.5) -> Design:
    """A tank on the room's floor, x from the left; the outlet of the hall is at 0.5 m."""
    hall = Circuit(id="hall", name="Hall circuit", breaker=16.0, leakage_protected=protected)
    hung = lamp(place=Place(fixing="hung", x=1.0, y=1.0, z=1.5))
    return design(hung, tank(place=Place(x=x, y=2.5)), room=room(circuits=(hall,)))


def test_an_outlet_within_reach_of_water_wants_leakage_protection():
    # wall 3 runs from the right: the outlet's middle lies at about 4.0 − 0.5 m
    (finding,) = raised(safety.outlet_near_water, beside_water(x=3.2))
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "No leakage protection is known of at Outlet hall"
    assert "30 mA" in told(finding)[1] and "a licensed electrician decide" in told(finding)[1]


def test_an_outlet_that_is_protected_or_far_from_water_is_fine():
    assert raised(safety.outlet_near_water, beside_water(True, x=3.2)) == []
    assert raised(safety.outlet_near_water, beside_water(x=0.5)) == []


# --- heat ----------------------------------------------------------------------------------------


def heater(x: float, **fields: Any) -> Heater:
    return Heater(
        id="heater", name="Heater", width=0.3, depth=0.2, height=0.4, watts=800.0,
        place=Place(x=x, y=0.5), **fields,
    )  # fmt: skip


def test_a_heater_close_to_the_covers_is_moved_three_feet_away():
    made = design(box(covers=COVERS), heater(2.4))  # 0.2 m from the right face
    (finding,) = raised(safety.heater_near_covers, made)
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "Heater stands close to the right cover"
    assert told(finding)[1].startswith("0.20 m; a published fire code asks for 0.914 m")
    assert told(finding, "us")[1].startswith("7 7/8 in; a published fire code asks for 3 ft")
    assert told(finding)[2] == "Move Heater 0.715 m to the right"
    assert after_mending(safety.heater_near_covers, made) == []


def test_heaters_far_off_mats_and_bare_frames_are_fine():
    covered = box(covers=COVERS)
    assert raised(safety.heater_near_covers, design(covered, heater(3.12))) == []
    assert raised(safety.heater_near_covers, design(covered, heater(2.4, style="mat"))) == []
    assert raised(safety.heater_near_covers, design(box(), heater(2.4))) == []


def test_a_heater_inside_has_nowhere_to_go():
    inside = heater(2.4).model_copy(update={"place": Place(host="box", x=0.8, y=0.4)})
    (finding,) = raised(safety.heater_near_covers, design(box(covers=COVERS), inside))
    assert finding.remedy is None


def hot(drop: float, leaf: float = 0.1) -> Design:
    ferns = Plants(
        id="ferns", name="Ferns", species="ferns", width=0.5, depth=0.3, leaf_high=leaf,
        place=Place(host="box", x=0.2, y=0.2),
    )  # fmt: skip
    spot = lamp(surface_hot=True, place=Place(host="box", fixing="hung", x=0.2, y=0.2, z=drop))
    group = PlantGroup(key="ferns", name="Ferns")
    return design(box(covers=COVERS), ferns, spot, groups=(group,))


def test_a_hot_lamp_close_to_leaves_is_raised_and_one_close_to_a_cover_lowered():
    # 2 m high: leaves up to 0.1 m; hung 1.77 m down, the lamp ends 0.19 − 0.1 = 0.09 m above them.
    (finding,) = raised(safety.hot_lamp_near, hot(1.77))
    assert told(finding) == (
        "Board gets hot close to Ferns",
        "90 mm; 0.15 m taken as safe, its maker decides.",
        "Raise Board by 60 mm",
    )
    assert after_mending(safety.hot_lamp_near, hot(1.77)) == []

    (finding,) = raised(safety.hot_lamp_near, hot(0.05))
    assert told(finding)[0] == "Board gets hot close to the top cover"
    assert told(finding)[2] == "Lower Board by 0.10 m"
    assert after_mending(safety.hot_lamp_near, hot(0.05)) == []


def test_a_hot_lamp_well_clear_or_a_cool_one_is_fine():
    assert raised(safety.hot_lamp_near, hot(0.8)) == []
    cool = hot(1.77).with_parts({"lamp": lamp(place=hot(1.77).part("lamp").place)})
    assert raised(safety.hot_lamp_near, cool) == []


# --- tanks above ---------------------------------------------------------------------------------


def stacked(x: float) -> Design:
    rack = unit(place=Place(x=0.5, y=0.5))
    board = lamp(place=Place(host="unit", fixing="under", level=2, x=0.1, y=0.1))
    return design(rack, board, tank(width=0.3, depth=0.3, place=Place(host="unit", level=2, x=x)))


def test_a_tank_above_a_lamp_is_moved_beside_it():
    (finding,) = raised(safety.tank_above_devices, stacked(0.3))
    assert told(finding)[0] == "Tank stands above Board"
    assert told(finding)[2].startswith("Move Tank ")
    assert after_mending(safety.tank_above_devices, stacked(0.3)) == []


def test_a_tank_beside_a_lamp_or_above_a_fogger_is_fine():
    assert raised(safety.tank_above_devices, stacked(0.7)) == []
    fogger = Fogger(
        id="fogger", name="Fogger", width=0.1, depth=0.1, height=0.1, watts=30.0, output=1e-4,
        place=Place(x=3.3, y=0.3),
    )  # fmt: skip
    above = tank(place=Place(x=3.2, y=0.2, z=0.5))
    assert raised(safety.tank_above_devices, design(fogger, above)) == []


def test_trays_alone_are_no_tanks():
    tray = Tray(
        id="tray", name="Tray", width=0.5, depth=0.3, height=0.05, place=Place(host="unit", level=2)
    )
    board = lamp(place=Place(host="unit", fixing="under", level=2, x=0.1, y=0.1))
    assert raised(safety.tank_above_devices, design(unit(), board, tray)) == []
