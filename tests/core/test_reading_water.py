"""Water readings of whole designs: days to refill and the worst spill, by hand arithmetic."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import pytest

from core.climate.results import ClimateReadings, TrayDay
from core.cost.reading import read as read_cost
from core.model import (
    Design,
    Enclosure,
    FaceDoor,
    FeedLine,
    Fogger,
    Hours,
    Humidistat,
    Lamp,
    Liner,
    Obstacle,
    Period,
    Place,
    PlantGroup,
    Plants,
    Platform,
    Pots,
    Reservoir,
    Room,
    TapWater,
    Targets,
    Tray,
)
from core.model import replace as replace_part
from core.reading import Reading
from core.states import State
from core.study import study
from core.water.leaks import spill_of
from core.water.reading import WaterReadings, inputs, read
from core.water.refill_rows import days_words

FERNS = PlantGroup(key="ferns", name="Ferns")
DAY = 86_400.0
STAND = Obstacle(id="stand", name="Stand", x=3.0, y=0.0, width=0.6, depth=0.6, height=0.5)


def enclosure(**liner: Any) -> Enclosure:
    """2.0 × 1.0 m; by default its liner holds 2.0 × (0.05 - 0.005/2) = 95 L."""
    return Enclosure(
        id="box", name="Box", width=2.0, depth=1.0, height=2.0, liner=Liner(**liner)
    )  # fmt: skip


def tray(part_id: str = "tray", **more: Any) -> Tray:
    """1.0 × 0.4 m filled 20 mm: 8 L."""
    given: dict[str, Any] = {
        "width": 1.0,
        "depth": 0.4,
        "height": 0.05,
        "fill": 0.02,
        "place": Place(host="box"),
    }
    return Tray(id=part_id, name=part_id.capitalize(), **{**given, **more})


def reservoir(**more: Any) -> Reservoir:
    """0.5 × 0.4 m filled 0.4 m: 80 L; stands outside, its foot 0.5 m up."""
    given: dict[str, Any] = {
        "width": 0.5,
        "depth": 0.4,
        "height": 0.5,
        "fill": 0.4,
        "place": Place(host="stand"),
    }
    return Reservoir(id="tank", name="Tank", **{**given, **more})


def fogger(**more: Any) -> Fogger:
    """1e-4 kg/s (8.64 L a day at full), standing on the enclosure's floor."""
    size = {"width": 0.2, "depth": 0.2, "height": 0.2}
    given: dict[str, Any] = {"watts": 30.0, "output": 1e-4, "place": Place(host="box", x=1.5)}
    return Fogger(id="fogger", name="Fogger", **{**size, **given, **more})


def feed(**more: Any) -> FeedLine:
    return FeedLine(id="feed", name="Feed line", source="tank", target="fogger", **more)


def design(*parts: Any, refill_days: float = 5.0) -> Design:
    room = Room.rectangle(4.0, 3.0, 2.4).model_copy(update={"fixtures": (STAND,)})
    return Design(room=room, groups=(FERNS,), parts=parts, targets=Targets(refill_days=refill_days))


def water(made: Design) -> WaterReadings:
    return read(study(made))


def row(found: WaterReadings, name: str, place: str) -> Reading:
    return next(item for item in found.rows if (item.name, item.place) == (name, place))


def test_a_tray_lasts_its_depth_over_the_rate():
    # 20 mm at 1.5 mm a day: 13.3 days, 6.7 to 26.7
    found = water(design(enclosure(), tray()))
    refill = row(found, "refill", "tray")

    assert refill.value == pytest.approx(20 / 1.5 * DAY)
    assert (refill.low, refill.high) == pytest.approx((refill.value / 2, refill.value * 2))
    assert refill.state is State.FINE
    assert refill.line.render() == "the enclosure floor: refill in 13 days, 7 to 27; want 5 or more"
    assert "1.5 mm/day" in refill.assumptions[0].render()


def test_pots_and_what_is_displaced_take_water_up():
    # 8 L - 10 round pots of 0.08 m in 20 mm (1.005 L) - 1 L = 5.995 L over 0.6 L a day
    pots = Plants(
        id="plants", name="Plants", species="ferns", width=0.9, depth=0.3,
        pots=Pots(count=10, diameter=0.08), place=Place(host="tray"),
    )  # fmt: skip
    found = water(design(enclosure(), tray(displaced=0.001), pots))

    assert found.trays[0].volume == pytest.approx(5.9947e-3, rel=1e-4)
    assert found.trays[0].days.value == pytest.approx(5.9947 / 0.6, rel=1e-4)


def test_pots_take_up_no_more_than_their_own_height():
    # 20 mm of water over pots 15 mm high and 0.08 m wide: 8 L - 10 × 0.0754 L = 7.246 L
    pots = Plants(
        id="plants", name="Plants", species="ferns", width=0.9, depth=0.3,
        pots=Pots(count=10, diameter=0.08, height=0.015), place=Place(host="tray"),
    )  # fmt: skip
    found = water(design(enclosure(), tray(), pots))

    assert found.trays[0].volume == pytest.approx(7.2460e-3, rel=1e-4)


def test_measured_days_replace_the_rate():
    refill = row(water(design(enclosure(), tray(measured_days=6.0))), "refill", "tray")

    assert refill.value == pytest.approx(6 * DAY)
    assert refill.low == pytest.approx(6 / 1.1 * DAY)
    assert refill.assumptions == ()


def test_measured_days_may_be_a_tenth_more_or_less():
    refill = row(water(design(enclosure(), tray(measured_days=6.0))), "refill", "tray")

    assert (refill.low, refill.high) == pytest.approx((6 / 1.1 * DAY, 6 * 1.1 * DAY))


@pytest.mark.parametrize(("days", "said"), [(0.94, "0.9 days"), (0.96, "1 day"), (1.6, "2 days")])
def test_a_day_is_said_from_the_figure_that_rounds_to_one(days, said):
    assert days_words(days).render() == said


def test_the_headline_is_the_first_refill():
    found = water(design(enclosure(), tray(), tray("shallow", fill=0.005), refill_days=6.0))

    assert found.headline.place == "shallow"
    assert found.state is State.LIKELY_LOW
    assert found.headline.line.render() == (
        "the enclosure floor, Shallow: refill in 3 days, 2 to 7; want 6 or more"
    )


def test_a_dry_tray_is_not_refilled():
    assert water(design(enclosure(), tray(fill=0.0))).headline is None


def test_a_fogger_at_a_known_duty_empties_its_reservoir():
    # 8.64 L a day × 0.5 in 12 of 24 hours: 2.16 L a day; 80 L last 37.0 days
    timed = Hours(periods=(Period(on=0, off=720),))
    made = design(enclosure(), reservoir(), fogger(duty=0.5, hours=timed), feed())
    found = row(water(made), "refill", "tank")

    assert found.value / DAY == pytest.approx(80 / 2.16)
    assert found.low == pytest.approx(found.value / 1.25)


def test_a_humidistats_duty_is_guessed_and_at_worst_always_on():
    control = Humidistat(id="control", name="Control", width=0.1, depth=0.1, height=0.1)
    made = design(enclosure(), reservoir(), control, fogger(control="control"), feed())
    found = row(water(made), "refill", "tank")

    assert found.low / DAY == pytest.approx(80 / 8.64)
    assert found.assumptions[0].render() == "The fogger is taken to run 25\u2009% of the time"


def test_a_tray_that_a_float_valve_fills_draws_on_the_reservoir():
    line = FeedLine(id="feed", name="Feed line", source="tank", target="tray", valve="float")
    found = water(design(enclosure(), reservoir(), tray(), line))

    assert found.trays == ()
    assert row(found, "refill", "tank").value / DAY == pytest.approx(80 / 0.6)


def test_a_fogger_with_its_own_tank_is_filled_by_hand():
    found = water(design(enclosure(), fogger(duty=1.0, tank=0.00864)))
    assert row(found, "refill", "fogger").value / DAY == pytest.approx(1.0)


def test_a_reservoir_that_nothing_draws_from_has_no_days():
    found = water(design(enclosure(), reservoir()))

    assert [item.name for item in found.rows] == []
    assert found.reservoirs[0].days is None


def test_all_water_inside_against_the_liner_out_of_level():
    found = water(design(enclosure(), tray(), tray("other", fill=0.01)))
    spill = row(found, "spill", "box")

    assert spill.value == pytest.approx(0.012)
    assert spill.want_high == pytest.approx(0.095)
    assert spill.line.render() == (
        "if everything ran out: 12 L; the liner holds 100 L, 95 L out of level"
    )
    assert row(found, "spill-largest", "tray").value == pytest.approx(0.008)


@pytest.mark.parametrize(
    ("edge", "state"),
    [(0.0085, State.FINE), (0.0083, State.BORDERLINE), (0.0077, State.LIKELY_HIGH)],
)
def test_fill_lines_within_five_percent_make_a_full_liner_borderline(edge, state):
    # 8 and 8 L, 16.8 L at most and 15.2 L at least, against 2 m² × the lowest edge on a level
    # floor: 17.0, 16.6 and 15.4 L.
    liner = {"lip_front": edge, "out_of_level": 0.0}
    spill = row(water(design(enclosure(**liner), tray(), tray("other"))), "spill", "box")

    assert (spill.low, spill.high) == pytest.approx((0.0152, 0.0168))
    assert spill.state is state


def test_the_lowest_edge_counts():
    found = water(design(enclosure(lip_front=0.004, out_of_level=0.0), tray()))
    assert row(found, "spill", "box").want_high == pytest.approx(0.008)


def test_only_the_water_above_the_inlet_runs_in_by_gravity():
    # Water from 0.5 to 0.9 m; the inlet ends 0.6 m up: three quarters of 80 L.
    made = design(enclosure(), reservoir(), fogger(), feed(inlet=0.6))
    spill = water(made).spill

    assert [(leak.id, leak.feed) for leak in spill.onto_liner] == [("tank", "feed")]
    assert spill.total == pytest.approx(0.060)
    assert spill.over == 0
    assert [leak.volume for leak in spill.onto_room_floor] == pytest.approx([0.080])


def test_an_outside_reservoir_can_overfill_the_liner():
    made = design(enclosure(lip_front=0.02), reservoir(), fogger(), feed(), tray())
    found = water(made)
    spill = row(found, "spill", "box")

    # 80 L + 8 L against 2 × (0.02 - 0.0025) = 35 L
    assert spill.value == pytest.approx(0.088)
    assert spill.state is State.HIGH
    assert found.spill.over == pytest.approx(0.053)
    assert found.headline.name == "spill"
    said = " ".join(words.render() for words in spill.assumptions)
    assert "can run in by gravity" in said
    assert "runs onto the room’s floor" in said


@pytest.mark.parametrize(("more", "runs_in"), [
    ({"valve": "none"}, True),
    ({"valve": "tap"}, True),
    ({"valve": "float"}, False),
    ({"drive": "pump"}, False),
    ({"inlet": 0.95}, False),
])  # fmt: skip
def test_what_holds_an_outside_reservoir_back(more, runs_in):
    spill = water(design(enclosure(), reservoir(), fogger(), feed(**more))).spill

    assert (spill.total > 0) is runs_in
    sticks = more == {"valve": "float"}
    assert bool(spill.if_a_valve_sticks) is sticks


def test_water_runs_out_only_once_through_two_lines():
    second = FeedLine(id="second", name="Second", source="tank", target="tray", inlet=0.5)
    spill = water(design(enclosure(), reservoir(), fogger(), feed(), tray(), second)).spill

    assert spill.total == pytest.approx(0.088)


def test_a_reservoir_inside_runs_out_as_a_whole():
    inside = reservoir(place=Place(host="box", x=1.0))
    spill = water(design(enclosure(), inside, fogger(), feed(inlet=0.3))).spill

    assert spill.total == pytest.approx(0.080)
    assert spill.onto_room_floor == ()


def test_without_a_liner_the_spill_is_said_but_not_judged():
    bare = Enclosure(id="box", name="Box", width=2.0, depth=1.0, height=2.0)
    found = row(water(design(bare, tray())), "spill", "box")

    assert found.state is State.UNASKED
    assert found.line.render() == "if everything ran out: 8 L; no floor liner"


def test_water_on_a_platform_in_a_bay_counts_too():
    stand = Platform(
        id="low", name="Low", width=1.0, depth=0.5, height=0.2, place=Place(host="box")
    )
    made = design(enclosure(), stand, tray(place=Place(host="low")))
    found = water(made)

    assert found.trays[0].surface == pytest.approx(0.22)
    assert row(found, "refill", "tray").where.render() == "Low"
    assert spill_of(study(made).placement).total == pytest.approx(0.008)


def test_lamps_are_no_input_of_water_but_fill_is():
    made = design(enclosure(), tray())
    lamp = Lamp(id="lamp", name="Lamp", form="board", width=0.5, depth=0.3, height=0.02, watts=30.0)
    assert inputs(study(made)) == inputs(study(made.with_parts({"lamp": lamp})))
    assert inputs(study(made)) != inputs(study(made.with_parts({"tray": tray(fill=0.01)})))


# --- all together, and while nobody is there -----------------------------------------------------


def test_all_containers_together_wait_for_the_first_of_them():
    # 8 L over 0.6 L a day and 2 L over 0.6 L a day.
    whole = row(water(design(enclosure(), tray(), tray("shallow", fill=0.005))), "refill-whole", "")

    assert whole.value / DAY == pytest.approx(2 / 0.6)
    assert (whole.low, whole.high) == pytest.approx((whole.value / 2, whole.value * 2))
    assert (
        whole.line.render()
        == "all 2: first refill in 3 days, 2 to 7; 10 L fill them, 1.2 L go a day"
    )


def leaving(days: float, *parts: Any) -> WaterReadings:
    targets = Targets(refill_days=3.0, away_days=days)
    return water(design(enclosure(), *parts).having(targets=targets))


def test_nothing_is_asked_of_days_away_that_nobody_gave():
    assert water(design(enclosure(), tray())).away is None


@pytest.mark.parametrize(
    ("days", "state", "top_up", "short"),
    [
        # 6.7 days at least, refilled every third day.
        (3.0, State.FINE, 0, 0),
        (4.0, State.FINE, 1, 0),
        (7.0, State.BORDERLINE, 1, 1),
        (14.0, State.LIKELY_LOW, 1, 1),
        (27.0, State.LOW, 1, 1),
    ],
)
def test_days_away_say_what_to_top_up_and_what_falls_short(days, state, top_up, short):
    found = leaving(days, tray())
    assert row(found, "away", "").state is state
    assert (len(found.away.top_up), len(found.away.short)) == (top_up, short)


def test_topping_up_takes_what_went_since_the_last_refill():
    # Three days at 0.6 L.
    found = leaving(5.0, tray())
    assert found.away.volume == pytest.approx(1.8e-3)
    assert row(found, "away", "").line.render() == (
        "away for 5 days: everything lasts; top up Tray before, 1.8 L at most"
    )


def test_fourteen_days_hold_the_refills_and_how_empty_it_gets():
    # 13 whole days of 13.3, and every third day of 3.3.
    ahead = water(design(enclosure(), tray(), tray("shallow", fill=0.005))).ahead

    assert [refill.day for refill in ahead.refills] == [3, 6, 9, 12, 13]
    assert ahead.refills[0].volume == pytest.approx(1.8e-3)
    assert ahead.emptiest[0] == 1.0
    assert ahead.emptiest[3 * 24] == pytest.approx(0.1)
    assert ahead.emptiest[3 * 24 + 1] == pytest.approx(1 - 73 / 24 / (20 / 1.5))
    assert ahead.at_worst[2 * 24] == 0.0


# --- tubes, climate, purified water, minerals ----------------------------------------------------


def test_a_gravity_feed_has_the_head_above_its_open_end():
    # The reservoir's water stands from 0.5 to 0.9 m, the open end 0.1 m up.
    found = water(design(enclosure(), reservoir(), fogger(), feed(inlet=0.1)))
    (line,) = found.feeds

    assert (line.head_low, line.head_full) == pytest.approx((0.4, 0.8))
    assert line.flow_low < line.flow_full
    assert line.needed == 1e-4
    assert row(found, "feed-flow", "feed").state is State.FINE
    assert water(design(enclosure(), reservoir(), fogger(), feed(drive="pump"))).feeds == ()


def test_a_float_valve_passes_less_than_an_open_end():
    open_end, valve = (
        water(design(enclosure(), reservoir(), fogger(), feed(bore=0.004, length=0.3, valve=kind)))
        for kind in ("none", "float")
    )
    assert valve.feeds[0].flow_full < open_end.feeds[0].flow_full


def test_water_that_no_tube_brings_out_does_not_last_any_days():
    # Open end 0.7 m up: half of 80 L arrives, less a little for the tube's own head.
    made = design(enclosure(), reservoir(), fogger(duty=1.0), feed(inlet=0.7))
    found = water(made)

    assert found.reservoirs[0].stays == pytest.approx(0.040, rel=0.03)
    usable = 0.080 - found.reservoirs[0].stays
    assert row(found, "refill", "tank").value / DAY == pytest.approx(usable / 8.64e-3)
    assert (
        "stay below what its tube can bring" in row(found, "refill", "tank").assumptions[0].render()
    )


@dataclass(frozen=True)
class Fogged:
    """What the climate says of a fogger, as far as water asks: litres, and factors on them."""

    id: str
    litres_per_day: float
    low: float = 0.5
    high: float = 2.0
    kind: str = "fogger"


def in_climate(made: Design, **found: Any) -> WaterReadings:
    return read(replace(study(made), done={"climate": ClimateReadings(**found)}))


def test_the_climates_evaporation_goes_before_the_usual_rate_and_measured_days_before_both():
    trays = (TrayDay("tray", evaporated=0.3, transpired=0.1, low=0.3, high=0.8),)
    found = row(in_climate(design(enclosure(), tray()), trays=trays), "refill", "tray")
    assert [end / DAY for end in (found.value, found.low, found.high)] == pytest.approx(
        [20.0, 10.0, 80 / 3]
    )
    assert found.assumptions == ()
    measured = in_climate(design(enclosure(), tray(measured_days=6.0)), trays=trays)
    assert row(measured, "refill", "tray").value / DAY == pytest.approx(6.0)


def test_the_climates_fog_empties_the_reservoir_unless_a_duty_was_given():
    devices = (Fogged("fogger", 4.0),)
    made = design(enclosure(), reservoir(), fogger(), feed())
    found = row(in_climate(made, devices=devices), "refill", "tank")
    assert [end / DAY for end in (found.value, found.low, found.high)] == pytest.approx(
        [20, 10, 40]
    )
    given = design(enclosure(), reservoir(), fogger(duty=1.0), feed())
    assert row(in_climate(given, devices=devices), "refill", "tank").value / DAY == pytest.approx(
        80 / 8.64
    )


def test_a_fogger_that_the_climate_never_runs_empties_nothing():
    made = design(enclosure(), reservoir(), fogger(), feed())
    found = in_climate(made, devices=(Fogged("fogger", 0.0),))
    assert found.reservoirs[0].days is None
    assert not [one for one in found.rows if one.name in ("refill", "minerals")]


def purified(**tap: Any) -> Reading:
    made = design(enclosure(), tray(), reservoir(), fogger(duty=1.0), feed())
    return row(water(made.having(tap=TapWater(**tap))), "purified", "")


def test_purified_water_for_all_or_for_the_foggers_alone():
    # 80 L, or 88 L with the tray; 100 L a day at 25 °C: 19.2 and 21.12 h.
    rated: dict[str, Any] = {"made_per_day": 0.1, "temperature": 25.0}
    assert purified(purified="foggers", **rated).value / 3600 == pytest.approx(19.2)
    everything = purified(purified="everything", **rated)
    assert everything.value / 3600 == pytest.approx(21.12)
    assert everything.line.render() == (
        "88 L of purified water for a refill take 21.12 h; 352 L are rejected"
    )


def test_purified_water_that_is_bought_takes_no_time():
    assert purified(purified="foggers").line.render().startswith("80 L of purified water for a ")


def test_minerals_go_with_the_fog_and_a_membrane_keeps_most_back():
    # 8.64 L a day × 200 mg/L, and a twentieth of it.
    made = design(enclosure(), reservoir(), fogger(duty=1.0), feed())
    hard = row(water(made.having(tap=TapWater(hardness=0.2))), "minerals", "fogger")
    assert hard.value * 1e6 == pytest.approx(8.64 * 200)
    assert hard.line.render().endswith("into the air, from very hard water of 200 mg/L")
    pure = TapWater(hardness=0.2, purified="foggers")
    assert row(water(made.having(tap=pure)), "minerals", "fogger").value * 1e6 == pytest.approx(
        8.64 * 200 / 20
    )


# --- where a liner runs over ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fixing", "threshold", "litres"),
    [("clipped", 0.03, 60.0), ("clipped", 0.08, 100.0), ("free", 0.03, 100.0)],
)
def test_a_clipped_liner_holds_up_to_a_doors_threshold(fixing, threshold, litres):
    # 2 m² × 50 mm, or × the threshold where the liner hangs free across the doorway.
    door = FaceDoor(face="front", x=0.2, z=threshold, width=0.8, height=1.6)
    box = replace_part(enclosure(fixing=fixing, out_of_level=0.0), doors=(door,))
    found = row(water(design(box, tray())), "spill", "box")
    assert found.want_high * 1000 == pytest.approx(litres)
    said = " ".join(words.render() for words in found.assumptions)
    assert ("over its threshold" in said) is (litres == 60.0)


def test_what_runs_over_is_said():
    found = water(design(enclosure(lip_front=0.003, out_of_level=0.0), tray()))
    assert row(found, "spill", "box").line.render() == (
        "if everything ran out: 8 L; the liner holds 6 L, 2 L run over"
    )


def test_a_platforms_body_takes_up_the_water_it_stands_in():
    # 8 L less half of 2 L: the platform is 40 mm high, the water 20 mm deep.
    stand = Platform(
        id="stand-1", name="Stand", width=0.5, depth=0.3, height=0.04, displaced=0.002,
        place=Place(host="tray"),
    )  # fmt: skip
    assert water(design(enclosure(), tray(), stand)).trays[0].volume == pytest.approx(7e-3)


def test_what_a_day_takes_from_the_tap_goes_into_its_cost():
    # 0.6 L from the tray, ×/÷ 2, and 8.64 L of fog, ×/÷ 1.25; purified, four parts are rejected.
    made = design(enclosure(), tray(), reservoir(), fogger(duty=1.0), feed())
    assert water(made).water_per_day == pytest.approx(
        (9.24e-3, 0.3e-3 + 8.64e-3 / 1.25, 1.2e-3 + 8.64e-3 * 1.25)
    )
    tap = TapWater(purified="foggers", made_per_day=0.1)
    found = water(made.having(tap=tap)).water_per_day
    assert found[0] == pytest.approx(9.24e-3 + 4 * 8.64e-3)
    assert water(design(enclosure())).water_per_day is None
    crowded = tray(displaced=0.5)
    assert water(design(enclosure(), crowded)).water_per_day is None
    day = read_cost(replace(study(made), done={"water": water(made)}))
    assert day.water_per_day == pytest.approx(9.24e-3 * made.prices.water)


def test_days_that_would_read_as_what_is_wanted_are_told_finer():
    # 2.8 days at least, where 3 are wanted: "3 to 11; want 3 or more" would read as enough.
    found = water(design(enclosure(), tray(fill=0.0084), refill_days=3.0))
    refill = row(found, "refill", "tray")
    assert refill.state is State.BORDERLINE
    assert refill.line.render().endswith("refill in 6 days, 2.8 to 11; want 3 or more")
