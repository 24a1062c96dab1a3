"""What runs dry or over is found; deeper fills, higher edges, valves and liners mend it."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import water
from core.model import Design, FeedLine, Liner, Place, Reservoir, Shelf, Targets, Tray
from core.states import State
from tests.findings_kit import after_mending, box, design, look, raised, told, unit

# Trays lose 1.5 mm a day, taken ×/÷ 2: water of 10 mm lasts 6.7 days, 3.3 to 13.3.


def tray(number: int = 1, fill: float = 0.03, level: int = 1, **fields: Any) -> Tray:
    usual: dict[str, Any] = {"width": 1.0, "depth": 0.4, "height": 0.06, "mass": 0.6}
    place = Place(host="unit", level=level, x=0.1, y=0.05)
    return Tray(
        id=f"tray-{number}", name=f"Tray {number}", fill=fill, place=place, **{**usual, **fields}
    )


def shelved(*parts: Any, ask: float = 5.0, liner: Liner | None = None, **fields: Any) -> Design:
    inside = unit(place=Place(host="box", x=0.1, y=0.2), **fields)
    return design(box(liner=liner), inside, *parts, targets=Targets(refill_days=ask))


WIDE = Liner(lip_left=0.1, lip_right=0.1, lip_front=0.1, lip_back=0.1, out_of_level=0.01)
"""2 × 1 m, 0.1 m high, 10 mm out of level: 190 L."""


# --- runs dry ------------------------------------------------------------------------------------


def test_a_tray_that_may_run_dry_early_is_filled_deeper():
    made = shelved(tray(fill=0.01))
    (finding,) = raised(water.runs_dry, made, "water")

    assert finding.state is State.BORDERLINE
    assert finding.level == ("unit", 1)
    # 5 days at twice 1.5 mm a day: 15 mm.
    assert told(finding) == (
        "Tray 1 runs dry first",
        "In 7 days, 3 to 13; you asked for 5 or more.",
        "Fill Tray 1 to 15 mm",
    )
    assert after_mending(water.runs_dry, made, "water") == []


def test_a_tray_that_surely_lasts_is_left_alone():
    assert raised(water.runs_dry, shelved(tray(fill=0.016)), "water") == []


def test_several_trays_are_told_as_one_and_filled_in_one_edit():
    made = shelved(tray(1, 0.01), tray(2, 0.012, level=2), tray(3, 0.05, level=3))
    (finding,) = raised(water.runs_dry, made, "water")
    assert told(finding)[1].endswith(" So may another.")
    assert told(finding)[2] == "Fill these 2 trays to 15 mm"
    assert after_mending(water.runs_dry, made, "water") == []


def test_a_shallow_tray_is_filled_to_last_as_it_is_reckoned_where_it_cannot_surely():
    # Half a day's water; asked for 30 days: 45 mm as reckoned, 90 mm surely, the rim is at 60.
    made = shelved(tray(fill=0.001), ask=30.0)
    (finding,) = raised(water.runs_dry, made, "water")
    assert finding.state is State.LOW
    assert told(finding)[2] == "Fill Tray 1 to 45 mm"
    (still,) = after_mending(water.runs_dry, made, "water")
    assert still.state is State.BORDERLINE


def test_a_tray_is_not_filled_over_its_rim_nor_over_the_shelfs_rating_nor_over_the_liner():
    high_asked = shelved(tray(fill=0.01), ask=60.0)
    assert raised(water.runs_dry, high_asked, "water")[0].remedy is None

    weak = shelved(tray(fill=0.01), levels=(Shelf(z=0.2, rating=5.0), Shelf(z=0.7)))
    assert raised(water.runs_dry, weak, "water", "weight")[0].remedy is None
    assert raised(water.runs_dry, weak, "water")[0].remedy is not None

    small = Liner(lip_left=0.005, lip_right=0.01, lip_front=0.01, lip_back=0.01, out_of_level=0.004)
    shallow = shelved(tray(fill=0.01), liner=small)  # 4 L in the tray, 6 L in the liner
    assert raised(water.runs_dry, shallow, "water")[0].remedy is None


def test_measured_days_are_the_growers_and_no_fill_is_reckoned_from_them():
    (finding,) = raised(water.runs_dry, shelved(tray(measured_days=3.0)), "water")
    assert finding.state is State.LOW
    assert finding.remedy is None


def test_in_feet_and_inches_a_fill_is_one_that_a_ruler_shows():
    made = shelved(tray(fill=0.01)).having(units="us")
    (finding,) = raised(water.runs_dry, made, "water")
    assert told(finding, "us")[2] == "Fill Tray 1 to 3/4 in"


# --- spills --------------------------------------------------------------------------------------


def test_more_water_than_the_liner_holds_raises_its_edges():
    low = Liner(
        lip_left=0.03, lip_right=0.02, lip_front=0.03, lip_back=0.03, out_of_level=0.01
    )  # 2 m² × (20 − 5) mm = 30 L
    made = shelved(*(tray(n, 0.05, level=n) for n in (1, 2, 3)), liner=low)
    (finding,) = raised(water.spills_over, made, "water")

    assert finding.state is State.HIGH
    assert told(finding) == (
        "A spill would run over the floor liner of Box",
        "If everything ran out: 60 L. The floor liner holds 40 L, but 30 L as far out of level "
        "as it is. 30 L would run over.",
        # 1.05 × 60 L / 2 m² + 5 mm = 36.5 mm
        "Raise the edges of the floor liner to 40 mm",
    )
    assert after_mending(water.spills_over, made, "water") == []


def test_a_liner_that_holds_everything_is_fine():
    made = shelved(*(tray(n, 0.05, level=n) for n in (1, 2, 3)), liner=WIDE)
    assert raised(water.spills_over, made, "water") == []


def tank(fill: float = 0.5, z: float = 1.0) -> Reservoir:
    """0.25 m² across, 1 m up, outside the enclosure."""
    place = Place(x=3.0, y=0.2, z=z)
    return Reservoir(
        id="tank", name="Tank", width=0.5, depth=0.5, height=0.6, fill=fill, place=place
    )


def feed(valve: str = "none") -> FeedLine:
    return FeedLine(
        id="feed", name="Feed line", source="tank", target="tray-1", inlet=0.05,
        valve=valve,
    )  # fmt: skip


def fed(valve: str = "none", liner: Liner | None = WIDE) -> Design:
    return shelved(tray(), tank(), feed(valve), liner=liner)


NARROW = Liner(lip_left=0.03, lip_right=0.03, lip_front=0.03, lip_back=0.03, out_of_level=0.0)
"""60 L."""


def test_a_tank_outside_that_runs_in_by_gravity_overfills_the_liner_until_it_has_a_valve():
    made = fed(liner=NARROW)
    (finding,) = raised(water.spills_over, made, "water")

    assert finding.rule == "feed-overfills-liner"
    assert finding.place == "tank"
    assert told(finding) == (
        "Tank can overfill the liner through Feed line",
        "125 L of it can run in by gravity, 137 L with all that is inside. The floor liner holds "
        "60 L. 77 L would run over.",
        "Give Feed line a float valve",
    )
    assert after_mending(water.spills_over, made, "water") == []


def test_a_liner_that_takes_the_tank_too_is_fine():
    assert raised(water.spills_over, fed(), "water") == []


def test_a_float_valve_that_alone_saves_the_liner_is_named():
    (finding,) = raised(water.valve_that_sticks, fed("float", NARROW), "water")
    assert finding.state is State.CAUTION
    assert "125 L of Tank would run in" in told(finding)[1]
    assert raised(water.valve_that_sticks, fed("float"), "water") == []
    assert raised(water.valve_that_sticks, fed(liner=NARROW), "water") == []


def test_a_tank_outside_leaks_onto_the_rooms_floor():
    (finding,) = raised(water.onto_the_room_floor, fed(), "water")
    assert told(finding) == (
        "Tank stands outside the floor liner",
        "Its own leak, 125 L, runs onto the room’s floor.",
        "",
    )
    assert raised(water.onto_the_room_floor, shelved(tray(), liner=WIDE), "water") == []


def test_water_without_a_liner_gets_one_that_holds_it():
    made = shelved(*(tray(n, 0.05, level=n) for n in (1, 2, 3)))
    (finding,) = raised(water.no_liner, made, "water")
    assert told(finding) == (
        "Box has no floor liner",
        "60 L could run onto the room’s floor.",
        "Lay a floor liner with edges of 50 mm",
    )
    assert after_mending(water.no_liner, made, "water") == []
    assert raised(water.spills_over, made, "water") == []


def test_an_enclosure_without_water_needs_no_liner():
    assert raised(water.no_liner, shelved(), "water") == []


@pytest.mark.parametrize("rule", water.RULES)
def test_without_readings_of_water_every_rule_is_silent(rule):
    assert list(rule(look(fed(liner=None)))) == []


def test_a_valve_is_not_what_keeps_a_liner_that_runs_over_anyway():
    # 12 L in the tray, and 2 m² × 5 mm = 10 L in the liner.
    tiny = Liner(lip_left=0.005, lip_right=0.005, lip_front=0.005, lip_back=0.005, out_of_level=0.0)
    assert raised(water.valve_that_sticks, fed("float", tiny), "water") == []


@pytest.mark.parametrize(
    ("depth", "mend"), [(0.57, "Raise the edges of the floor liner to 0.30 m"), (0.58, "")]
)
def test_edges_are_raised_up_to_thirty_centimetres_and_no_higher(depth, mend):
    # 570 or 580 L on 2 m², 5 % more and up to half a centimetre: 0.30 m or 0.305 m.
    big = Reservoir(
        id="big", name="Big tank", width=1.0, depth=depth, height=1.2, fill=1.0,
        place=Place(host="box"),
    )  # fmt: skip
    (finding,) = raised(water.spills_over, shelved(big, liner=NARROW), "water")
    assert told(finding)[2] == mend
