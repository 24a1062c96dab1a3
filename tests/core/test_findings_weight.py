"""Shelves, castors, slender units and the floor: found when over, mended by one edit."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import weight
from core.model import Design, Place, Shelf, Tray
from core.states import State
from tests.findings_kit import after_mending, box, design, look, raised, told, unit


def tray(number: int, level: int, fill: float = 0.05, **fields: Any) -> Tray:
    """A tray of 1.0 × 0.4 m: 0.6 kg, and 4 kg of water a centimetre."""
    usual: dict[str, Any] = {"width": 1.0, "depth": 0.4, "height": 0.12, "mass": 0.6}
    place = Place(host="unit", level=level, x=0.1, y=0.05)
    return Tray(
        id=f"tray-{number}", name=f"Tray {number}", fill=fill, place=place, **{**usual, **fields}
    )


def test_a_shelf_over_its_rating_gives_its_heaviest_tray_to_a_lower_one():
    # 0.6 kg + 1.0 × 0.4 × 0.12 m of water = 48.6 kg on 40 kg; less 10 % it is 43.7, above too.
    shelves = (Shelf(z=0.2, rating=80.0), Shelf(z=0.7, rating=40.0), Shelf(z=1.2, rating=40.0))
    made = design(unit(levels=shelves), tray(1, 2, fill=0.12))
    (finding,) = raised(weight.over_rating, made, "weight")

    assert finding.state is State.HIGH
    assert finding.level == ("unit", 2)
    assert told(finding) == (
        "Too much weight on level 2",
        "48.6 kg; its shelf is rated 40 kg.",
        "Move Tray 1 to level 1",
    )
    assert told(finding, "us")[1] == "107 lb; its shelf is rated 88.2 lb."
    assert after_mending(weight.over_rating, made, "weight") == []


def test_a_shelf_close_to_its_rating_is_borderline():
    made = design(unit(), tray(1, 2, fill=0.095))  # 38.6 kg; with 10 % on top 42.5 kg
    (finding,) = raised(weight.over_rating, made, "weight")
    assert finding.state is State.BORDERLINE
    assert told(finding)[0] == "Borderline weight on level 2"
    assert finding.remedy is None  # nor would any other shelf bear it well


def test_a_shelf_well_below_its_rating_or_without_one_is_left_alone():
    assert raised(weight.over_rating, design(unit(), tray(1, 2)), "weight") == []
    bare = unit(levels=(Shelf(z=0.2), Shelf(z=0.7)))
    assert raised(weight.over_rating, design(bare, tray(1, 2, fill=0.12)), "weight") == []


def test_a_tray_goes_beside_what_stands_on_the_lower_shelf_or_stays():
    strong = tuple(Shelf(z=z, rating=r) for z, r in ((0.2, 100.0), (0.7, 20.0)))
    small = {"width": 0.5, "fill": 0.1}
    two = (tray(1, 2, **small), tray(2, 1, **small))
    made = design(unit(levels=strong), *two)
    (finding,) = raised(weight.over_rating, made, "weight")
    assert finding.remedy is not None
    moved: Any = finding.remedy.parts["tray-1"]
    assert moved.place.level == 1
    assert abs(moved.place.x - two[1].place.x) >= 0.5
    assert after_mending(weight.over_rating, made, "weight") == []

    full = design(unit(levels=strong), tray(1, 2, **small), tray(2, 1))
    (finding,) = raised(weight.over_rating, full, "weight")
    assert finding.remedy is None


def test_the_heaviest_load_high_up_comes_down():
    made = design(unit(), tray(1, 3, fill=0.06))
    (finding,) = raised(weight.top_heavy, made, "weight")

    assert finding.state is State.CAUTION
    assert told(finding) == (
        "Rack carries its heaviest load high up",
        "24.6 kg on level 3; 0 kg at most on the lower half.",
        "Move Tray 1 down to level 1",
    )
    assert after_mending(weight.top_heavy, made, "weight") == []


def test_a_unit_heavier_below_or_light_above_is_fine():
    assert raised(weight.top_heavy, design(unit(), tray(1, 3), tray(2, 1)), "weight") == []
    assert raised(weight.top_heavy, design(unit(), tray(1, 3, fill=0.02)), "weight") == []


def test_a_slender_unit_is_anchored():
    made = design(unit(depth=0.35))  # 1.6/0.35 = 4.57
    (finding,) = raised(weight.tips_over, made, "weight")
    assert told(finding)[0] == "Rack can be pushed over"
    assert told(finding)[2] == "Anchor Rack to the wall"
    assert after_mending(weight.tips_over, made, "weight") == []


def test_a_unit_up_to_four_times_as_high_as_deep_stands():
    assert raised(weight.tips_over, design(unit(depth=0.4)), "weight") == []


def test_castors_over_their_rating_are_exchanged_for_feet():
    # (15 + 20.6) / 3 = 11.9 kg
    made = design(unit(castors=True, castor_rating=10.0), tray(1, 1))
    (finding,) = raised(weight.castors, made, "weight")
    assert finding.state is State.HIGH
    assert told(finding)[1] == "11.9 kg on one of them; they are rated 10 kg."
    assert after_mending(weight.castors, made, "weight") == []


def test_strong_or_unrated_castors_are_fine():
    strong = design(unit(castors=True, castor_rating=20.0), tray(1, 1))
    assert raised(weight.castors, strong, "weight") == []
    assert raised(weight.castors, design(unit(castors=True), tray(1, 1)), "weight") == []


def loaded(fill: float) -> Design:
    inside = unit(place=Place(host="box", x=0.1, y=0.2))
    return design(box(), inside, *(tray(n, n, fill=fill) for n in (1, 2, 3)))


def test_much_weight_asks_about_the_floor():
    # 15 + 3 × (0.6 + 48) = 160.8 kg, and the enclosure's frame, taken as 20 m of 25 × 25 mm
    # timber at 370 kg/m³, 4.6 kg: 165.4 kg on 2 m² are 811 Pa.
    (finding,) = raised(weight.floor_strength, loaded(0.12), "weight")
    assert finding.state is State.CAUTION
    assert told(finding) == (
        "The floor’s strength is not known here",
        "165 kg on 2 m²: 0.811 kPa; ask whoever knows the building.",
        "",
    )


def test_little_weight_does_not_ask_about_the_floor():
    # 15 + 3 × (0.6 + 40) + 4.6 = 141.4 kg on 2 m²: 693 Pa.
    assert raised(weight.floor_strength, loaded(0.10), "weight") == []


@pytest.mark.parametrize("rule", weight.RULES)
def test_without_readings_of_weight_every_rule_is_silent(rule):
    assert list(rule(look(design(unit(depth=0.3), tray(1, 3, fill=0.12))))) == []


@pytest.mark.parametrize(("below", "told_of"), [(0.045, True), (0.05, False)])
def test_a_quarter_more_high_up_than_below_is_top_heavy(below, told_of):
    # 0.6 + 24 kg on level 3 against 0.6 + 18 = 18.6 kg (1.32 times) or 20.6 kg (1.19 times).
    made = design(unit(), tray(1, 3, fill=0.06), tray(2, 1, fill=below))
    assert bool(raised(weight.top_heavy, made, "weight")) is told_of


@pytest.mark.parametrize(("fill", "told_of"), [(0.04, True), (0.035, False)])
def test_from_fifteen_kilograms_on_it_matters_where_a_load_stands(fill, told_of):
    # 0.6 + 16 = 16.6 kg, or 14.6 kg, alone on level 3.
    made = design(unit(), tray(1, 3, fill=fill))
    assert bool(raised(weight.top_heavy, made, "weight")) is told_of
