"""Days away, tubes, purified water and minerals: what falls short is found and mended."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import supply
from core.model import Design, FeedLine, Fogger, Obstacle, Place, Reservoir, TapWater, Targets, Tray
from core.states import State
from tests.findings_kit import after_mending, box, design, look, raised, room, told, unit


def tray(number: int = 1, fill: float = 0.02, **fields: Any) -> Tray:
    """1.0 × 0.4 m; 20 mm at 1.5 mm a day last 13.3 days, 6.7 to 26.7."""
    usual: dict[str, Any] = {"width": 1.0, "depth": 0.4, "height": 0.06, "mass": 0.6}
    place = Place(host="unit", level=number, x=0.1, y=0.05)
    return Tray(
        id=f"tray-{number}", name=f"Tray {number}", fill=fill, place=place, **{**usual, **fields}
    )


def shelved(*parts: Any, away: float | None = None, **fields: Any) -> Design:
    targets = Targets(refill_days=5.0, away_days=away)
    return design(
        box(), unit(place=Place(host="box", x=0.1, y=0.2)), *parts, targets=targets, **fields
    )


STAND = Obstacle(id="stand", name="Stand", x=3.0, y=0.0, width=0.6, depth=0.6, height=0.5)


def tank(**fields: Any) -> Reservoir:
    """0.5 × 0.4 m filled 0.4 m: 80 L, its foot 0.5 m up."""
    usual: dict[str, Any] = {"width": 0.5, "depth": 0.4, "height": 0.5, "fill": 0.4}
    return Reservoir(id="tank", name="Tank", **{**usual, "place": Place(host="stand"), **fields})


def fogger(**fields: Any) -> Fogger:
    """0.36 L/h, on the enclosure's floor, at full for half of the day: 4.32 L."""
    usual: dict[str, Any] = {"watts": 30.0, "output": 1e-4, "duty": 0.5}
    size = {"width": 0.2, "depth": 0.2, "height": 0.2}
    return Fogger(
        id="fogger", name="Fogger", place=Place(host="box", x=1.5), **size, **{**usual, **fields}
    )


def fed(tap: TapWater | None = None, feed: dict[str, Any] | None = None, **fields: Any) -> Design:
    line = FeedLine(id="feed", name="Feed line", source="tank", target="fogger", **(feed or {}))
    parts = (box(), tank(**fields), fogger(), line)
    return design(*parts, room=room(STAND), tap=tap or TapWater())


# --- away ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("away", "state", "title"),
    [
        (30.0, State.LOW, "Tray 1 runs dry while you are away"),
        (20.0, State.LIKELY_LOW, "Tray 1 likely runs dry while you are away"),
        (8.0, State.BORDERLINE, "Tray 1 may run dry while you are away"),
    ],
)
def test_what_does_not_surely_last_is_told(away, state, title):
    (finding,) = raised(supply.dry_while_away, shelved(tray(), away=away), "water")
    assert finding.state is state
    assert told(finding)[0] == title
    assert told(finding)[1].startswith(f"Away for {away:.0f} days: Tray 1 lasts 13 days, 7 to 27;")


def test_a_deeper_fill_lasts_the_days_away():
    made = shelved(tray(), away=10.0)
    (finding,) = raised(supply.dry_while_away, made, "water")
    # 10 days at twice 1.5 mm a day: 30 mm.
    assert told(finding)[2] == "Fill Tray 1 to 30 mm"
    assert after_mending(supply.dry_while_away, made, "water") == []


def test_what_surely_lasts_or_was_not_asked_about_is_left_alone():
    assert raised(supply.dry_while_away, shelved(tray(), away=6.0), "water") == []
    assert raised(supply.dry_while_away, shelved(tray()), "water") == []


# --- tubes ---------------------------------------------------------------------------------------


def test_a_tube_that_passes_enough_is_fine():
    assert raised(supply.feed_too_slow, fed(), "water") == []


def test_a_tube_too_narrow_is_exchanged_for_a_wider_one():
    made = fed(feed={"bore": 0.0008, "length": 5.0})
    (finding,) = raised(supply.feed_too_slow, made, "water")
    assert finding.state is State.LOW
    assert told(finding)[0] == "Feed line brings too little water"
    assert told(finding)[2] == "Take a tube of 4 mm bore for Feed line"
    assert after_mending(supply.feed_too_slow, made, "water") == []


def test_water_does_not_run_uphill_without_a_pump():
    made = fed(feed={"inlet": 1.2})
    (finding,) = raised(supply.feed_too_slow, made, "water")
    assert told(finding) == (
        "No water runs through Feed line by itself",
        "Feed line: nothing runs, Fogger is 0.30 m above the water.",
        "Drive Feed line by a pump",
    )
    assert after_mending(supply.feed_too_slow, made, "water") == []


def test_water_below_the_open_end_stays_where_it_is():
    # Open end 0.7 m up, water from 0.5 to 0.9 m: half of 80 L, and what its last head wants.
    (finding,) = raised(supply.water_stays, fed(feed={"inlet": 0.7}), "water")
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "Not all the water of Tank arrives"
    assert told(finding)[1].startswith("40")
    assert raised(supply.water_stays, fed(), "water") == []


# --- purified water and minerals -----------------------------------------------------------------


def test_a_membrane_slower_than_the_use_is_told():
    # 80 L last 18.5 days; a membrane of 2 L a day takes 40 days at 25 °C.
    slow = TapWater(purified="foggers", made_per_day=0.002, temperature=25.0)
    (finding,) = raised(supply.purified_too_slow, fed(slow), "water")
    assert finding.state is State.HIGH
    assert "80 L of purified water for a refill take" in told(finding)[1]
    quick = TapWater(purified="foggers", made_per_day=0.2)
    assert raised(supply.purified_too_slow, fed(quick), "water") == []


@pytest.mark.parametrize(
    ("tap", "found"),
    [
        (TapWater(), True),
        (TapWater(hardness=0.2), True),
        (TapWater(hardness=0.06), False),
        (TapWater(hardness=0.2, purified="foggers"), False),
    ],
)
def test_hard_water_in_a_fogger_is_named_until_it_is_purified(tap, found):
    made = fed(tap)
    assert bool(raised(supply.minerals_in_the_air, made, "water")) is found
    if found:
        assert after_mending(supply.minerals_in_the_air, made, "water") == []


def test_the_mass_of_minerals_is_told():
    # 4.32 L a day × 200 mg/L
    (finding,) = raised(supply.minerals_in_the_air, fed(TapWater(hardness=0.2)), "water")
    assert told(finding)[1].startswith("0.864 g a day")


@pytest.mark.parametrize("rule", supply.RULES)
def test_without_readings_of_water_every_rule_is_silent(rule):
    assert list(rule(look(fed(feed={"bore": 0.0005})))) == []
