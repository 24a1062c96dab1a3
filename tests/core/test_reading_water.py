"""Water readings of whole designs: days to refill and the worst spill, by hand arithmetic."""

from __future__ import annotations

from typing import Any

import pytest

from core.model import (
    Design,
    Enclosure,
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
    Targets,
    Tray,
)
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
