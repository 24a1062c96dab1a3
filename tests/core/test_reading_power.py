"""Power readings of whole designs: the tree of plugs, limits, hours, chains, drops, energy."""

from __future__ import annotations

from typing import Any

import pytest

from core.model import (
    NORTH_AMERICA,
    Change,
    Circuit,
    Cooler,
    Design,
    Enclosure,
    Fan,
    Fogger,
    Heater,
    Hours,
    Humidistat,
    Lamp,
    Lead,
    Outlet,
    Period,
    Place,
    Plug,
    Practice,
    Reservoir,
    Room,
    Strip,
    Timer,
)
from core.phrases import Phrase
from core.placement import Placement
from core.power.drops import ohm_per_metre
from core.power.reading import PowerReadings, inputs, read
from core.power.tree import PlugTree
from core.power.wiring import (
    below_water,
    coiled_leads,
    full_sockets,
    strips_in_series,
    unprotected,
    without_drip_loop,
)
from core.reading import Reading
from core.states import State
from core.study import study

HALL = Circuit(id="hall", name="Hall circuit", breaker=16.0)


def hours(on: int, off: int, ramp: int = 0) -> Hours:
    return Hours(periods=(Period(on=on * 60, off=off * 60),), ramp=ramp)


def box(kind: Any, part_id: str, **more: Any) -> Any:
    size = {"width": 0.1, "depth": 0.1, "height": 0.1}
    return kind(id=part_id, name=part_id.replace("-", " ").title(), **{**size, **more})


def lamp(part_id: str, watts: float = 40.0, into: str | None = None, **more: Any) -> Lamp:
    plug = Plug(into=into) if into else None
    return box(Lamp, part_id, form="board", watts=watts, plug=plug, **more)


def strip(part_id: str, into: str | None = "wall", **more: Any) -> Strip:
    return box(Strip, part_id, plug=Plug(into=into) if into else None, **more)


def design(
    *parts: Any, circuits: tuple[Circuit, ...] = (HALL,), practice: Practice | None = None
) -> Design:
    outlet = Outlet(id="wall", name="Wall outlet", wall=1, offset=1.0, circuit="hall")
    room = Room(
        outline=((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)),
        fixtures=(outlet,) if circuits else (),
        circuits=circuits,
    )
    return Design(room=room, parts=parts, practice=practice or Practice())


def power(made: Design) -> PowerReadings:
    return read(study(made))


def row(found: PowerReadings, place: str, name: str = "load") -> Reading:
    return next(item for item in found.rows if (item.place, item.name) == (place, name))


def text(words: Phrase) -> str:
    return words.render().replace("\u2009", " ")


def the_day() -> Design:
    """The day of checks/power.md: six devices at 120 V, as parts of a design."""
    circuit = Circuit(id="hall", name="Hall circuit", breaker=15.0)
    return design(
        lamp("lamp-a", 240.0, "strip-a", power_factor=0.95, hours=hours(6, 20)),
        lamp("lamp-b", 240.0, "strip-a", power_factor=0.95, hours=hours(7, 21)),
        box(Fan, "fan", diameter=0.2, flow=0.05, watts=40.0, power_factor=0.6),
        box(Fogger, "fogger", output=1e-4, watts=35.0, power_factor=0.9, duty=0.2),
        box(
            Cooler, "cooler", cooling=2000.0, watts=700.0, power_factor=0.9, duty=0.4,
            hours=hours(22, 6),
        ),
        box(Heater, "mat", watts=100.0, duty=0.5, hours=hours(20, 8)),
        strip("strip-a"),
        circuits=(circuit,),
        practice=NORTH_AMERICA,
    )  # fmt: skip


def test_the_day_of_the_published_check_through_the_model():
    # checks/power.md, own arithmetic: 875 W, 983.3 VA, 22:00-06:00, 10.688 kWh, 325.1 kWh
    found = power(the_day())
    step = next(step for step in found.steps if step.kind == "circuit")

    assert step.watts == pytest.approx(875, abs=1e-9)
    assert step.va == pytest.approx(983.33, abs=0.01)
    assert found.profile.peak_periods == ((22 * 60, 6 * 60),)
    assert found.kwh_per_day == pytest.approx(10.688, abs=5e-4)
    assert found.kwh_per_month == pytest.approx(325.1, abs=0.05)
    assert row(found, "", "energy").value == pytest.approx(10.688 * 3.6e6, rel=1e-4)


def test_energy_says_what_a_controller_may_keep_off():
    # 35 W all day are 0.84 kWh; a humidistat of unknown duty may keep the fogger off.
    fogger = box(Fogger, "fogger", output=1e-4, watts=35.0, control="stat")
    energy = row(power(design(fogger, box(Humidistat, "stat"))), "", "energy")

    assert energy.value == pytest.approx(0.84 * 3.6e6)
    assert energy.low == 0.0
    assert "Counted as running all of their hours: Fogger" in map(text, energy.assumptions)


def test_north_america_lets_continuous_load_take_four_fifths_of_a_breaker():
    # Every load of that day lasts three hours or more: 1440 VA on 15 A (NEC 210.20(A)).
    circuit = row(power(the_day()), "hall")

    assert circuit.want_high == pytest.approx(1440, abs=1e-6)
    assert circuit.state is State.FINE


def test_short_loads_are_held_against_the_whole_breaker():
    short = design(
        lamp("lamp", 600.0, "wall", hours=hours(8, 10)),
        circuits=(Circuit(id="hall", name="Hall circuit", breaker=15.0),),
        practice=NORTH_AMERICA,
    )
    assert row(power(short), "hall").want_high == pytest.approx(1800)


def test_other_load_of_a_circuit_counts_and_is_named():
    busy = Circuit(id="hall", name="Hall circuit", breaker=16.0, other_load=15.0)
    found = row(power(design(lamp("lamp", 460.0, "wall"), circuits=(busy,))), "hall")

    assert found.value == pytest.approx(460 + 15 * 230)
    assert found.state is State.HIGH
    assert any("Other things on Hall circuit" in text(item) for item in found.assumptions)


def test_the_steps_under_a_circuit_add_up_to_its_load():
    busy = Circuit(id="hall", name="Hall circuit", breaker=16.0, other_load=2.0)
    first, others, outlet = power(design(lamp("lamp", 400.0, "wall"), circuits=(busy,))).steps

    assert (first.kind, others.kind, outlet.kind) == ("circuit", "others", "outlet")
    assert others.name == "other things on this circuit, taken"
    assert (others.va, others.depth) == (460.0, 1)
    assert first.va == others.va + outlet.va
    assert text(first.reading.line).startswith(
        "860 W on Hall circuit: 400 VA by this design and 460 VA by other things; limit "
    )


def test_a_circuit_without_other_things_has_no_step_for_them():
    found = power(design(lamp("lamp", 400.0, "wall")))
    assert [step.kind for step in found.steps] == ["circuit", "outlet"]


def test_load_and_limit_are_said_in_watts():
    found = power(design(strip("strip-a"), lamp("lamp", 612.0, "strip-a")))

    assert text(found.headline.line) == "612 W on Strip A; limit 2300 W"
    assert found.headline.place == "strip-a"
    assert found.circuit == "hall"


def test_apparent_power_is_said_where_it_differs():
    found = power(design(strip("strip-a"), lamp("lamp", 500.0, "strip-a", power_factor=0.5)))
    assert text(row(found, "strip-a").line) == "500 W (1000 VA) on Strip A; limit 2300 VA"


def test_the_binding_limit_is_the_lowest_on_the_way():
    timer = box(Timer, "timer-a", limit=3.0, plug=Plug(into="strip-a"))
    found = power(design(strip("strip-a"), timer, lamp("lamp", 600.0, "timer-a")))

    assert found.headline.place == "timer-a"
    assert found.headline.want_high == pytest.approx(690)
    assert [step.kind for step in found.steps] == ["circuit", "outlet", "strip", "timer"]
    assert [step.depth for step in found.steps] == [0, 1, 2, 3]


def test_a_timer_before_a_lamp_cuts_its_hours():
    timer = box(Timer, "timer-a", hours=hours(8, 12), plug=Plug(into="wall"))
    made = design(timer, lamp("lamp", 100.0, "timer-a", hours=hours(6, 10)))
    found = power(made)

    assert PlugTree(made).periods("lamp") == ((8 * 60, 10 * 60),)
    assert found.kwh_per_day == pytest.approx(0.2)
    assert found.by_device[0].hours == "08:00–10:00"


def test_hours_that_never_meet_leave_a_lamp_dark():
    timer = box(Timer, "timer-a", hours=hours(8, 12), plug=Plug(into="wall"))
    found = power(design(timer, lamp("lamp", 100.0, "timer-a", hours=hours(13, 15))))

    assert found.kwh_per_day == 0
    assert found.by_device[0].hours == "never"


def test_dimming_lowers_watts_and_is_named():
    found = power(design(lamp("lamp", 100.0, "wall", dimming=0.5, count=3)))

    assert row(found, "wall").value == pytest.approx(150)
    assert any("dimmed" in text(item) for item in row(found, "wall").assumptions)


def test_devices_without_a_plug_count_on_one_named_circuit():
    found = power(design(lamp("lamp-a", 100.0), lamp("lamp-b", 60.0, "wall")))
    hall = row(found, "hall")

    assert hall.value == pytest.approx(160)
    assert found.assumed_circuit == "Hall circuit"
    assert any(
        text(item) == "Lamp A: not plugged in yet, counted on Hall circuit"
        for item in hall.assumptions
    )


def test_a_room_without_circuits_gets_an_assumed_one():
    found = power(design(lamp("lamp", 100.0), circuits=()))

    assert found.assumed_circuit == "Assumed circuit"
    assert found.headline.want_high == pytest.approx(16 * 230)


def test_nothing_that_draws_power_is_not_a_load_of_zero():
    found = power(design(strip("strip-a")))

    assert found.headline is None
    assert found.state is State.UNKNOWN


def chain_of(count: int, **more: Any) -> list[Lamp]:
    feeds = ["wall", *(f"lamp-{i}" for i in range(1, count))]
    return [lamp(f"lamp-{i + 1}", into=into, **more) for i, into in enumerate(feeds)]


def test_five_boards_on_a_chain_that_allows_four():
    found = row(power(design(*chain_of(5, chain_most=4))), "lamp-1", "chain")

    assert (found.value, found.want_high) == (5, 4)
    assert found.state is State.HIGH
    assert text(found.line) == "5 lamps on the chain from Lamp 1; limit 4 by its maker"


def test_a_chain_of_as_many_as_allowed_is_fine():
    assert row(power(design(*chain_of(4, chain_most=4))), "lamp-1", "chain").state is State.FINE


def test_a_chain_is_limited_by_the_current_of_its_lead():
    # 60 W of 230 V in 1 A: three lamps, hand arithmetic
    found = power(design(*chain_of(4, watts=60.0, chain_current=1.0)))
    chain = row(found, "lamp-1", "chain")

    assert chain.want_high == 3
    assert text(chain.line).endswith("limit 3 by the current of its lead")
    assert found.headline == chain


def test_lamps_of_a_row_count_in_their_chain():
    found = power(design(lamp("row", into="wall", count=6, chain_most=4)))
    assert row(found, "row", "chain").state is State.HIGH


def test_a_chain_whose_maker_gives_no_limit_is_not_judged():
    found = power(design(*chain_of(3)))

    assert row(found, "lamp-1", "chain").state is State.UNASKED
    assert found.headline.name == "load"


def test_loads_on_a_chain_fall_from_lamp_to_lamp():
    found = power(design(*chain_of(3)))
    assert [found.loads[f"lamp-{i}"] for i in (1, 2, 3)] == pytest.approx([120, 80, 40])


def test_voltage_drop_of_a_flexible_lead():
    # checks/power.md: 1.5 mm², 20 m, 10 A: 5.32 V (IEC 60228 class 5)
    lead = box(
        Lead,
        "lead-a",
        length=20.0,
        wire_area=1.5e-6,
        plug=Plug(into="wall", lead_length=0.0),
        limit=16.0,
    )
    heater = box(Heater, "heater", watts=2300.0, plug=Plug(into="lead-a", lead_length=0.0))
    found = row(power(design(lead, heater)), "hall", "drop")

    assert found.value * 230 == pytest.approx(5.32, abs=0.005)
    assert found.want_high == 0.03


def test_voltage_drop_along_an_even_chain():
    # I r s N(N + 1)/2 with r both ways: 3 lamps of 230 W (1 A), 2 m apart, 0.75 mm²
    chain = chain_of(3, watts=230.0)
    spaced = [
        item.model_copy(update={"plug": Plug(into=item.plug.into, lead_length=2.0)})
        for item in chain
    ]
    found = row(power(design(*spaced)), "hall", "drop")

    assert found.value * 230 == pytest.approx(2 * 0.026 * 2.0 * 1.0 * 6)


def test_resistance_follows_the_nearest_conductor():
    assert ohm_per_metre(2.0811e-6) == pytest.approx(3.14 / 304.8)
    assert ohm_per_metre(6e-6) == pytest.approx(1.24 / 304.8 * 5.2612 / 6)


def test_strips_into_strips_leads_coiled_and_sockets_full():
    upper, lower = strip("strip-a", sockets=1), strip("strip-b", "strip-a")
    lead = box(Lead, "lead-a", plug=Plug(into="strip-a"), coiled=True)
    tree = PlugTree(design(upper, lower, lead, lamp("lamp", into="lead-a")))

    assert [(a.id, b.id) for a, b in strips_in_series(tree)] == [
        ("strip-a", "strip-b"),
        ("strip-a", "lead-a"),
    ]
    assert [item.id for item in coiled_leads(tree)] == ["lead-a"]
    assert [(item.id, plugs) for item, plugs in full_sockets(tree)] == [("strip-a", 2)]


def test_a_strip_at_the_end_of_one_lead_is_allowed():
    lead = box(Lead, "lead-a", plug=Plug(into="wall"))
    assert strips_in_series(PlugTree(design(lead, strip("strip-a", "lead-a")))) == ()


def test_moving_a_part_changes_no_input_of_power():
    made = design(lamp("lamp", into="wall"))
    moved = made.with_parts({"lamp": made.part("lamp").model_copy(update={"place": Place(x=1.0)})})
    dimmed = made.with_parts({"lamp": made.part("lamp").model_copy(update={"dimming": 0.5})})

    assert inputs(study(made)) == inputs(study(moved))
    assert inputs(study(made)) != inputs(study(dimmed))


@pytest.mark.parametrize(
    ("part", "field", "value"),
    [
        ("lamp", "inrush", 30.0),
        ("lamp", "inrush_most", 4),
        ("lamp", "leakage", 0.002),
        ("lead-a", "coiled", True),
    ],
)
def test_whatever_findings_go_by_in_the_tree_of_plugs_is_an_input_of_power(part, field, value):
    made = design(box(Lead, "lead-a", plug=Plug(into="wall")), lamp("lamp", into="lead-a"))
    typed = made.with_parts({part: made.part(part).model_copy(update={field: value})})
    assert inputs(study(made)) != inputs(study(typed))


def wet_place(strip_height: float, **plug: Any) -> tuple[PlugTree, Placement]:
    """An enclosure with a reservoir filled to 0.3 m, a strip beside it and a lamp above both."""
    reservoir = box(Reservoir, "reservoir", fill=0.3, place=Place(host="box"))
    beside = strip("strip-a", place=Place(host="box", x=0.3, z=strip_height))
    above = box(
        Lamp,
        "lamp",
        form="board",
        watts=40.0,
        plug=Plug(into="strip-a", **plug),
        place=Place(host="box", fixing="hung", x=1.0),
    )
    enclosure = Enclosure(id="box", name="Box", width=2.0, depth=1.0, height=2.0)
    made = design(enclosure, reservoir.model_copy(update={"height": 0.4}), beside, above)
    return PlugTree(made), Placement(made)


def test_a_strip_lower_than_water_beside_it():
    assert [(s.id, w) for s, w in below_water(*wet_place(0.1))] == [("strip-a", "reservoir")]
    assert below_water(*wet_place(0.5)) == ()


def test_a_lead_that_runs_down_to_its_socket_needs_a_drip_loop():
    assert [part.id for part in without_drip_loop(*wet_place(0.1))] == ["lamp"]
    assert without_drip_loop(*wet_place(0.1, drip_loop=True)) == ()


def test_what_stands_in_the_enclosure_wants_leakage_protection():
    tree, placement = wet_place(0.1)
    safe = HALL.model_copy(update={"leakage_protected": True})
    room = tree.design.room.model_copy(update={"circuits": (safe,)})

    assert [(c.id, part.id) for c, part in unprotected(tree, placement)] == [("hall", "lamp")]
    assert unprotected(PlugTree(tree.design.having(room=room)), placement) == ()


def test_a_device_that_is_away_by_night_is_named():
    change = Change(half="night", absent=True)
    found = row(power(design(lamp("lamp", into="wall", when=(change,)))), "", "energy")

    assert [text(words) for words in found.assumptions] == [
        "Set differently by night, counted as by day: Lamp"
    ]
