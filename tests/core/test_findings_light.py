"""Zones with too much, too little or uneven light, and the dimming, hours or move that mends it."""

from __future__ import annotations

from dataclasses import replace as with_fields
from typing import Any

import pytest

from core.finding import mended
from core.findings import light
from core.light import warm_up
from core.light.reading import LightReadings
from core.model import (
    Design,
    FromFlux,
    Hours,
    Lamp,
    Period,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Span,
    Timer,
)
from core.states import State
from tests.findings_kit import after_mending, design, look, raised, room, told, unit

DAY = Hours(periods=(Period(on=7 * 60, off=19 * 60),))


def board(number: int = 1, x: float = 0.05, **fields: Any) -> Lamp:
    """A board of 1.1 × 0.4 m, 0.35 m above level 1; entered by its flux."""
    usual: dict[str, Any] = {
        "width": 1.1, "depth": 0.4, "height": 0.03, "watts": 60.0, "hours": DAY,
        "output": FromFlux(ppf=120.0),
    }  # fmt: skip
    place = Place(host="unit", fixing="under", level=2, x=x, y=0.05, z=0.1)
    return Lamp(
        id=f"lamp-{number}", name=f"Board {number}", form="board", place=place,
        **{**usual, **fields},
    )  # fmt: skip


def zone(key: str = "ferns", level: int = 1, x: float = 0.3, width: float = 0.6) -> Plants:
    name = f"{key.title()} {level}"
    return Plants(
        id=f"{key}-{level}", name=name, species=key, width=width, depth=0.3, leaf_high=0.05,
        leaf_low=0.05, place=Place(host="unit", level=level, x=x, y=0.1),
    )  # fmt: skip


def group(low: float | None, high: float | None, key: str = "ferns", **more: Any) -> PlantGroup:
    span = None if (low, high) == (None, None) else Span(low=low, high=high)
    return PlantGroup(key=key, name=key.title(), ppfd=span, **more)


def lit(*parts: Any, groups: tuple[PlantGroup, ...]) -> Design:
    return design(unit(), *parts, groups=groups)


def mean(made: Design, plants: str = "ferns-1") -> float:
    """Return the light over a zone as it is read. [µmol m⁻² s⁻¹]"""
    found = look(made, "light").done["light"]
    assert isinstance(found, LightReadings)
    light_here = found.zone(plants)
    assert light_here is not None
    return light_here.mean


# Whoever runs first, all tests here read light by the compiled kernels.
warm_up()
BARE = lit(board(), zone(), groups=(group(None, None),))
FULL = mean(BARE)


def wanting(low: float, high: float) -> Design:
    """The board over plants that want these multiples of the light it gives."""
    return BARE.having(groups=(group(low * FULL, high * FULL),))


def test_too_much_light_dims_the_lamps_over_it_to_the_middle_of_the_range():
    made = wanting(0.3, 0.6)
    (finding,) = raised(light.off_range, made, "light")

    assert finding.state is State.HIGH
    assert finding.place == "ferns-1"
    assert finding.level == ("unit", 1)
    title, detail, mend = told(finding)
    assert title == "Too much light at level 1"
    assert detail.startswith(f"{mean(made):.0f} where Ferns want ")
    assert mend.startswith("Dim Board 1 from 100 % to ")
    changed: Any = finding.remedy.parts["lamp-1"] if finding.remedy else None
    assert 0.3 < changed.dimming < 0.5
    assert after_mending(light.off_range, made, "light") == []


def test_light_in_the_range_is_left_alone():
    assert raised(light.off_range, wanting(0.6, 1.8), "light") == []


def test_lamps_are_not_dimmed_below_a_tenth():
    (finding,) = raised(light.off_range, wanting(0.01, 0.05), "light")
    assert finding.state is State.HIGH
    assert finding.remedy is None


def test_too_little_light_turns_dimmed_lamps_up():
    made = lit(board(dimming=0.4), zone(), groups=(group(0.6 * FULL, 1.4 * FULL),))
    (finding,) = raised(light.off_range, made, "light")
    assert finding.state is State.LOW
    assert told(finding)[0] == "Too little light at level 1"
    assert told(finding)[2].startswith("Turn Board 1 up from 40 % to ")
    assert after_mending(light.off_range, made, "light") == []


def test_lamps_at_their_full_cannot_be_turned_up():
    (finding,) = raised(light.off_range, wanting(4.0, 6.0), "light")
    assert finding.state is State.LOW
    assert finding.remedy is None


def test_lamps_at_their_full_are_hung_lower():
    made = wanting(1.3, 1.8)
    (finding,) = raised(light.off_range, made, "light")
    assert told(finding)[2].startswith("Hang Board 1 0.")
    assert told(finding)[2].endswith(" m lower")
    assert after_mending(light.off_range, made, "light") == []


def test_lamps_that_cannot_be_dimmed_enough_are_hung_higher():
    # At its least dimming, a tenth, this board is still too bright so near.
    low = board(dimming=0.1).model_copy(
        update={"place": Place(host="unit", fixing="under", level=2, x=0.05, y=0.05, z=0.3)}
    )
    near = mean(lit(low, zone(), groups=(group(None, None),)))
    made = lit(low, zone(), groups=(group(0.55 * near, 0.85 * near),))
    (finding,) = raised(light.off_range, made, "light")
    assert told(finding)[2].endswith(" higher")
    assert after_mending(light.off_range, made, "light") == []


def test_lamps_are_not_hung_where_other_plants_would_suffer():
    # The ferns want more, but the mosses beside them under the same board want just this.
    mosses = zone("mosses", x=0.65, width=0.45)
    ferns = zone(x=0.05, width=0.45)
    kinds = (group(1.3 * FULL, 1.8 * FULL), group(0.8 * FULL, 1.1 * FULL, "mosses"))
    made = lit(board(), ferns, mosses, groups=kinds)
    found = [each for each in raised(light.off_range, made, "light") if each.place == "ferns-1"]
    assert [each.remedy for each in found] == [None]


def test_a_dark_level_is_told_as_one_without_light():
    made = lit(zone(), groups=(group(40.0, 90.0),))
    (finding,) = raised(light.off_range, made, "light")
    assert told(finding)[0] == "No light at level 1"
    assert told(finding)[1] == "0.0 where Ferns want 40–90 µmol/(m² s)."


def test_plants_that_ask_for_daily_light_get_longer_hours():
    short = Hours(periods=(Period(on=8 * 60, off=12 * 60),))
    each_hour = FULL * 0.0036
    daily = group(None, None, daily_light=Span(low=8 * each_hour, high=12 * each_hour))
    made = lit(board(hours=short), zone(), groups=(daily,))
    (finding,) = raised(light.off_range, made, "light")

    assert finding.state is State.LOW
    # The middle of 8 to 12 h
    assert told(finding)[2].startswith("Light Board 1 for ")
    changed: Any = finding.remedy.parts["lamp-1"] if finding.remedy else None
    (period,) = changed.hours.periods
    assert period.on == 8 * 60
    assert period.off == 18 * 60
    assert after_mending(light.off_range, made, "light") == []


def test_where_a_timer_sets_the_hours_the_timer_is_set():
    short = Hours(periods=(Period(on=8 * 60, off=12 * 60),))
    clock = Timer(
        id="timer", name="Timer", width=0.1, depth=0.1, height=0.1, hours=short,
        plug=Plug(into="outlet-hall"),
    )  # fmt: skip
    each_hour = FULL * 0.0036
    daily = group(None, None, daily_light=Span(low=8 * each_hour, high=12 * each_hour))
    lamp = board(hours=Hours(), plug=Plug(into="timer"))
    made = lit(clock, lamp, zone(), groups=(daily,))
    (finding,) = raised(light.off_range, made, "light")
    assert finding.remedy is not None
    assert set(finding.remedy.parts) == {"timer"}
    assert after_mending(light.off_range, made, "light") == []


def test_a_day_longer_than_eighteen_hours_is_not_offered():
    each_hour = FULL * 0.0036
    daily = group(None, None, daily_light=Span(low=22 * each_hour, high=23 * each_hour))
    (finding,) = raised(light.off_range, lit(board(), zone(), groups=(daily,)), "light")
    assert not told(finding)[2].startswith("Light ")


def test_zones_of_one_kind_on_a_level_are_told_once():
    left = zone(x=0.05, width=0.5)
    right = zone(x=0.65, width=0.5).model_copy(update={"id": "more"})
    made = lit(board(), left, right, groups=(group(0.1 * FULL, 0.4 * FULL),))
    (finding,) = raised(light.off_range, made, "light")
    assert told(finding)[0] == "Too much light at level 1"
    assert after_mending(light.off_range, made, "light") == []


def test_dimming_that_would_starve_other_plants_on_the_level_is_not_offered():
    shade, sun = group(0.1 * FULL, 0.3 * FULL), group(0.8 * FULL, 1.5 * FULL, "herbs")
    both = (zone(x=0.05, width=0.5), zone("herbs", x=0.65, width=0.5))
    (finding,) = raised(light.off_range, lit(board(), *both, groups=(shade, sun)), "light")
    assert finding.place == "ferns-1"
    assert finding.remedy is None


# --- uneven --------------------------------------------------------------------------------------


def spot(x: float) -> Lamp:
    return board(x=x, width=0.3, depth=0.3, output=FromFlux(ppf=60.0))


def test_uneven_light_moves_the_lamp_to_the_middle():
    wide = zone(x=0.3, width=0.6)
    centred = mean(lit(spot(0.45), wide, groups=(group(None, None),)))
    wants = group(0.55 * centred, 1.6 * centred)
    made = lit(spot(0.2), wide, groups=(wants,))
    found = raised(light.uneven, made, "light")
    assert [item.state for item in found] == [State.BORDERLINE]

    title, detail, mend = told(found[0])
    assert title == "Uneven light at level 1"
    assert " of the leaves get the wanted " in detail
    assert mend == "Move Board 1 0.25 m to the right"
    assert after_mending(light.uneven, made, "light") == []


def test_even_light_is_left_alone():
    assert raised(light.uneven, wanting(0.6, 1.8), "light") == []


def test_uneven_levels_that_nothing_mends_are_told_together():
    narrow = group(0.98 * FULL, 1.02 * FULL)
    second = board(2, height=0.03).model_copy(
        update={"place": Place(host="unit", fixing="under", level=3, x=0.05, y=0.05, z=0.1)}
    )
    made = lit(board(), second, zone(), zone(level=2), groups=(narrow,))
    found = raised(light.uneven, made, "light")
    assert [told(item)[0] for item in found] == ["Uneven light at levels 1 and 2"]


# --- lowest leaves, ranges not entered -----------------------------------------------------------


def tall(low: float) -> Design:
    plants = zone().model_copy(update={"leaf_high": 0.25, "leaf_low": low})
    top = mean(lit(board(), plants, groups=(group(None, None),)))
    return lit(board(), plants, groups=(group(0.7 * top, 2.0 * top),))


def test_the_lowest_leaves_of_tall_plants_may_be_dark():
    (finding,) = raised(light.dark_below, tall(0.01), "light")
    assert finding.state in {State.LOW, State.LIKELY_LOW}
    assert told(finding)[0].lower().endswith("too little light for the lowest leaves at level 1")
    assert told(finding)[1].endswith(" or more.")


def dimmed_tall(most: float) -> Design:
    """A dimmed board over tall plants whose tops want up to a multiple of what they get."""
    plants = zone().model_copy(update={"leaf_high": 0.25, "leaf_low": 0.01})
    top = mean(lit(board(dimming=0.5), plants, groups=(group(None, None),)))
    return lit(board(dimming=0.5), plants, groups=(group(0.8 * top, most * top),))


def test_lamps_are_turned_up_for_the_lowest_leaves_where_the_tops_bear_it():
    made = dimmed_tall(2.5)
    (finding,) = raised(light.dark_below, made, "light")
    assert told(finding)[2].startswith("Turn Board 1 up from 50 % to ")
    assert after_mending(light.dark_below, made, "light") == []
    assert raised(light.off_range, mended(made, finding), "light") == []


def test_lamps_are_not_turned_up_for_the_lowest_leaves_where_the_tops_would_burn():
    (finding,) = raised(light.dark_below, dimmed_tall(1.2), "light")
    assert finding.remedy is None


def test_leaves_close_below_the_tops_are_not_dark():
    assert raised(light.dark_below, tall(0.22), "light") == []


def test_a_group_without_a_range_is_named_once():
    made = lit(board(), zone(), zone(level=2), groups=(group(None, None),))
    (finding,) = raised(light.no_range, made, "light")
    assert finding.state is State.CAUTION
    assert told(finding)[0] == "No light range for Ferns yet"
    assert told(finding)[1].endswith("enter yours.")


def test_a_group_with_a_range_is_not_named():
    assert raised(light.no_range, wanting(0.5, 1.0), "light") == []


@pytest.mark.parametrize("rule", light.RULES)
def test_without_readings_of_light_every_rule_is_silent(rule):
    assert list(rule(look(BARE))) == []


def test_nothing_is_moved_while_something_is_dragged():
    wide = zone(x=0.3, width=0.6)
    centred = mean(lit(spot(0.45), wide, groups=(group(None, None),)))
    made = lit(spot(0.2), wide, groups=(group(0.55 * centred, 1.6 * centred),))
    seen = look(made.having(room=room()), "light")
    (finding,) = light.uneven(with_fields(seen, quality="coarse"))
    assert finding.remedy is None


@pytest.mark.parametrize(("least", "offered"), [(16.5, True), (18.0, False)])
def test_eighteen_hours_of_light_are_offered_and_nineteen_are_not(least, offered):
    # The middle of 16.5 to 18 h of full light is 17.25 h; of 18 to 19.5 h it is 18.75 h.
    each_hour = FULL * 0.0036
    span = Span(low=least * each_hour, high=(least + 1.5) * each_hour)
    daily = group(None, None, daily_light=span)
    (finding,) = raised(light.off_range, lit(board(), zone(), groups=(daily,)), "light")
    assert told(finding)[2].startswith("Light ") is offered
