"""What plugs and leads carry too much of is found, and each remedy takes it away."""

from __future__ import annotations

from typing import Any

import pytest

from core.findings import electric
from core.model import (
    NORTH_AMERICA,
    Change,
    Circuit,
    Cooler,
    Design,
    Heater,
    Hours,
    Lamp,
    Lead,
    Period,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Span,
    Strip,
    Timer,
    replace,
)
from core.states import State
from tests.findings_kit import after_mending, design, look, raised, room, told, unit

DAY = Hours(periods=(Period(on=420, off=1140),))


def lamp(number: int, watts: float = 100.0, into: str | None = None, **fields: Any) -> Lamp:
    usual: dict[str, Any] = {
        "form": "board",
        "width": 0.5,
        "depth": 0.3,
        "height": 0.04,
        "hours": DAY,
        "plug": Plug(into=into) if into else None,
        "place": Place(fixing="hung", x=0.2 + 0.6 * (number % 5), y=0.5, z=0.5),
    }
    return Lamp(id=f"lamp-{number}", name=f"Board {number}", watts=watts, **{**usual, **fields})


def strip(number: int = 1, into: str = "outlet-hall", **fields: Any) -> Strip:
    usual: dict[str, Any] = {"width": 0.3, "depth": 0.06, "height": 0.05, "sockets": 6}
    place = Place(x=1.0, y=2.5)
    name = f"Strip {'ABC'[number - 1]}"
    plug = Plug(into=into)
    return Strip(id=f"strip-{number}", name=name, plug=plug, place=place, **{**usual, **fields})


def heater(watts: float, into: str, **fields: Any) -> Heater:
    size = {"width": 0.3, "depth": 0.2, "height": 0.4, "place": Place(x=3.0, y=1.0)}
    return Heater(
        id="heater", name="Heater", watts=watts, plug=Plug(into=into), **{**size, **fields}
    )


def over_by_heater(**fields: Any) -> Design:
    """A strip of 10 A at 230 V: 2300 VA."""
    return design(strip(limit=10.0), *(lamp(n, 300.0, "strip-1") for n in range(1, 6)), **fields)


# --- limits --------------------------------------------------------------------------------------


def test_a_strip_over_its_limit_gives_the_smallest_load_that_will_do_another_socket():
    made = design(
        strip(limit=5.0),
        lamp(1, 900.0, "strip-1"),
        lamp(2, 300.0, "strip-1"),
    )
    (finding,) = raised(electric.over_limit, made, "power")

    title, detail, mend = told(finding)
    assert finding.state is State.LIKELY_HIGH  # 1200 W less 5 % is below 1150 W
    assert finding.place == "strip-1"
    assert title == "Strip A likely carries more than it may"
    assert detail == "1200 W on Strip A; limit 1150 W."
    # 1200 W − 300 W = 900 W, with 5 % on top 945 W, is within 5 A × 230 V = 1150 VA.
    assert mend == "Plug Board 2 into Outlet den"  # the nearer one
    assert after_mending(electric.over_limit, made, "power") == []


def test_a_strip_within_its_limit_is_left_alone():
    made = design(strip(limit=5.0), lamp(1, 700.0, "strip-1"), lamp(2, 300.0, "strip-1"))
    assert raised(electric.over_limit, made, "power") == []


def test_where_no_other_socket_has_room_the_lamps_are_dimmed():
    hall = Circuit(id="hall", name="Hall circuit", breaker=6.0)
    made = design(
        strip(), *(lamp(n, 400.0, "strip-1") for n in range(1, 5)), room=room(circuits=(hall,))
    )
    (finding,) = raised(electric.over_limit, made, "power")

    # 6 A × 230 V = 1380 VA; less 5 % and shared by 1600 W of lamps: 0.821.
    assert told(finding)[0] == "Hall circuit carries more than it may"
    assert told(finding)[2] == "Dim all 4 boards from 100 % to 82 %"
    assert finding.place == "outlet-hall"
    assert after_mending(electric.over_limit, made, "power") == []


def test_lamps_are_not_dimmed_to_mend_what_a_heater_does():
    hall = Circuit(id="hall", name="Hall circuit", breaker=10.0)
    made = design(
        heater(2600.0, "outlet-hall"), lamp(1, 40.0, "outlet-hall"), room=room(circuits=(hall,))
    )
    (finding,) = [
        found
        for found in raised(electric.over_limit, made, "power")
        if found.title.values["name"] == "Hall circuit"
    ]
    assert finding.remedy is None


def test_a_heater_that_overloads_a_circuit_beside_the_lamps_heats_by_night():
    # 10 A × 230 V = 2300 VA: 1200 W of lamps by day, 1500 W of heater all day.
    hall = Circuit(id="hall", name="Hall circuit", breaker=10.0)
    lamps = (lamp(n, 400.0, "strip-1") for n in range(1, 4))
    made = design(strip(), *lamps, heater(1500.0, "outlet-hall"), room=room(circuits=(hall,)))
    (finding,) = raised(electric.over_limit, made, "power")
    assert told(finding)[2] == "Run Heater only while the lamps are off"
    mended: Any = finding.remedy.parts["heater"] if finding.remedy else None
    assert mended.hours.periods == (Period(on=1140, off=420),)
    assert after_mending(electric.over_limit, made, "power") == []


def test_lamps_are_not_dimmed_so_far_that_their_plants_go_without():
    hall = Circuit(id="hall", name="Hall circuit", breaker=6.0)
    board = {"place": Place(host="unit", fixing="under", level=2, z=0.1)}
    zone = Plants(
        id="ferns", name="Ferns", species="ferns", width=0.5, depth=0.3,
        place=Place(host="unit", level=1, x=0.0, y=0.0),
    )  # fmt: skip
    made = design(
        unit(),
        zone,
        lamp(1, 1600.0, "outlet-hall", **board),
        room=room(circuits=(hall,)),
        groups=(group(None),),
    )
    light = look(made, "light").done["light"]
    mean = next(row.value for row in light.rows if row.name == "ppfd")
    assert mean is not None
    enough = made.having(groups=(group(Span(low=0.5 * mean)),))
    scarce = made.having(groups=(group(Span(low=0.9 * mean)),))

    assert (
        told(raised(electric.over_limit, enough, "light", "power")[0])[2]
        == "Dim Board 1 from 100 % to 82 %"
    )
    assert raised(electric.over_limit, scarce, "light", "power")[0].remedy is None


def group(ppfd: Span | None) -> PlantGroup:
    return PlantGroup(key="ferns", name="Ferns", ppfd=ppfd)


def test_dimming_set_by_the_season_is_changed_where_it_is_set():
    hall = Circuit(id="hall", name="Hall circuit", breaker=6.0)
    bright = Change(season="winter", settings={"dimming": 1.0})
    lamps = [lamp(n, 400.0, "strip-1", dimming=0.5, when=(bright,)) for n in range(1, 5)]
    made = design(strip(), *lamps, room=room(circuits=(hall,)))
    assert raised(electric.over_limit, made, "power", season="summer") == []
    (finding,) = raised(electric.over_limit, made, "power", season="winter")

    assert finding.remedy is not None
    mended: Any = finding.remedy.parts["lamp-1"]
    assert mended.dimming == 0.5
    assert mended.when[0].settings["dimming"] == pytest.approx(0.82)
    assert after_mending(electric.over_limit, made, "power", season="winter") == []


def test_a_lamp_behind_a_timer_is_not_moved_to_where_it_would_run_at_other_hours():
    clock = Timer(
        id="timer", name="Timer", width=0.1, depth=0.1, height=0.1, limit=1.0,
        hours=DAY, sockets=2, plug=Plug(into="outlet-hall"),
    )  # fmt: skip
    made = design(clock, lamp(1, 200.0, "timer", hours=Hours()), lamp(2, 200.0, "timer"))
    (finding,) = raised(electric.over_limit, made, "power")
    assert told(finding)[2] == "Dim both boards from 100 % to 54 %"


# --- chains --------------------------------------------------------------------------------------


def chained(count: int, **fields: Any) -> list[Lamp]:
    return [
        lamp(n, 30.0, "outlet-hall" if n == 1 else f"lamp-{n - 1}", chain_most=4, **fields)
        for n in range(1, count + 1)
    ]


def test_five_lamps_on_a_chain_of_four_give_the_fifth_its_own_lead():
    made = design(*chained(5))
    (finding,) = raised(electric.long_chain, made, "power")

    assert finding.state is State.HIGH
    assert told(finding) == (
        "The chain from Board 1 is too long",
        "5 lamps on the chain from Board 1; limit 4 by its maker.",
        "Give Board 5 a lead of its own to Outlet den",
    )
    assert after_mending(electric.long_chain, made, "power") == []


def test_four_lamps_on_a_chain_of_four_are_fine():
    assert raised(electric.long_chain, design(*chained(4)), "power") == []


def test_a_chain_behind_a_timer_gives_its_tail_a_timer_like_that():
    clock = Timer(
        id="timer", name="Timer", width=0.1, depth=0.1, height=0.1, hours=DAY, sockets=1,
        plug=Plug(into="outlet-hall"), place=Place(x=3.4, y=2.8),
    )  # fmt: skip
    first, *rest = chained(6)
    made = design(clock, replace(first, plug=Plug(into="timer")), *rest)
    (finding,) = raised(electric.long_chain, made, "power")
    # The fifth and sixth go, with one lead.
    assert told(finding)[2] == "Give Board 5 a timer of its own at Outlet den"
    assert after_mending(electric.long_chain, made, "power") == []
    second: Any = finding.remedy.parts["timer-1"] if finding.remedy else None
    assert second.hours == DAY
    assert second.name == "Timer 2"


def test_a_chain_may_be_too_long_by_its_current():
    # 30 W at 230 V is 0.130 A: three fit 0.4 A.
    made = design(*chained(4, chain_current=0.4))
    (finding,) = raised(electric.long_chain, made, "power")
    assert "limit 3 by the current of its lead" in told(finding)[1]
    assert after_mending(electric.long_chain, made, "power") == []


# --- plugs ---------------------------------------------------------------------------------------


def test_a_strip_in_a_strip_goes_to_an_outlet_of_its_own():
    made = design(strip(1), strip(2, "strip-1"), lamp(1, 50.0, "strip-2"))
    (finding,) = raised(electric.strip_in_strip, made, "power")

    assert finding.place == "strip-2"
    assert told(finding)[0] == "Strip B is plugged into Strip A"
    assert told(finding)[2] == "Plug Strip B into Outlet den"
    assert after_mending(electric.strip_in_strip, made, "power") == []


def test_two_strips_in_outlets_of_their_own_are_fine():
    made = design(strip(1), strip(2, "outlet-den"), lamp(1, 50.0, "strip-2"))
    assert raised(electric.strip_in_strip, made, "power") == []


def reel(**fields: Any) -> Lead:
    return Lead(
        id="reel", name="Reel", width=0.3, depth=0.3, height=0.2,
        plug=Plug(into="outlet-hall"), **fields,
    )  # fmt: skip


def test_a_reel_in_use_is_unwound():
    made = design(reel(coiled=True), lamp(1, 50.0, "reel"))
    (finding,) = raised(electric.coiled, made, "power")

    assert finding.state is State.CAUTION
    assert told(finding)[2] == "Unwind Reel"
    assert after_mending(electric.coiled, made, "power") == []


def test_a_reel_that_lies_straight_or_carries_nothing_is_left_alone():
    assert raised(electric.coiled, design(reel(), lamp(1, 50.0, "reel")), "power") == []
    assert raised(electric.coiled, design(reel(coiled=True), lamp(1, 50.0)), "power") == []


def test_more_plugs_than_sockets_are_spread_out():
    lamps = [lamp(n, 30.0, "outlet-hall") for n in range(1, 5)]
    (finding,) = raised(electric.too_many_plugs, design(*lamps), "power")

    assert told(finding) == (
        "Outlet hall has more plugs than sockets",
        "4 plugs, 2 sockets.",
        "Plug Board 3 and Board 4 into Outlet den",
    )
    assert after_mending(electric.too_many_plugs, design(*lamps), "power") == []


def test_plugs_that_find_no_other_socket_get_no_remedy():
    lamps = [lamp(n, 30.0, "outlet-hall") for n in range(1, 6)]
    (finding,) = raised(electric.too_many_plugs, design(*lamps), "power")
    assert finding.remedy is None


def test_as_many_plugs_as_sockets_are_fine():
    lamps = [lamp(n, 30.0, "outlet-hall") for n in range(1, 3)]
    assert raised(electric.too_many_plugs, design(*lamps), "power") == []


def test_what_has_no_plug_is_named_with_the_circuit_it_counts_on():
    made = design(lamp(1), lamp(2), lamp(3, 100.0, "outlet-hall"))
    (finding,) = raised(electric.not_plugged_in, made, "power")

    assert finding.state is State.CAUTION
    assert told(finding)[0] == "Not plugged in yet: Board 1 and Board 2"
    assert told(finding)[1] == "Counted on Hall circuit, with its breaker of 16 A."
    assert after_mending(electric.not_plugged_in, made, "power") == []


def test_what_is_plugged_in_is_not_named():
    made = design(lamp(1, 100.0, "outlet-hall"))
    assert raised(electric.not_plugged_in, made, "power") == []


# --- voltage, starts, single appliances ----------------------------------------------------------


def far_lamp(length: float) -> Design:
    # 1.0 mm²: 0.0195 Ω/m; 500 W at 120 V is 4.167 A; 2 × 40 m × 4.167 A × 0.0195 = 6.5 V (5.4 %).
    long = Lead(
        id="lead", name="Lead A", width=0.1, depth=0.1, height=0.1, length=length,
        wire_area=1.0e-6, plug=Plug(into="outlet-hall", lead_length=0.0),
    )  # fmt: skip
    far = lamp(1, 500.0, plug=Plug(into="lead", lead_length=0.0))
    hall = Circuit(id="hall", name="Hall circuit", breaker=15.0)
    return design(long, far, room=room(circuits=(hall,)), practice=NORTH_AMERICA)


def test_a_long_thin_lead_loses_much_voltage_and_a_thicker_one_does_not():
    made = far_lamp(40.0)
    (finding,) = raised(electric.voltage_lost, made, "power")

    assert finding.state is State.HIGH
    assert told(finding)[0] == "Much voltage is lost on the way to Board 1"
    assert "5.42 %" in told(finding)[1]
    # 14 AWG: 2 × 40 m × 4.167 A × 3.14/304.8 Ω/m = 3.43 V, 2.9 % and with 5 % more above 3 %;
    # 12 AWG: 2.17 V.
    assert told(finding, "us")[2].startswith("Take a lead of ")
    changed: Any = finding.remedy.parts["lead"] if finding.remedy else None
    assert changed.wire_area == pytest.approx(3.3088e-6)
    assert after_mending(electric.voltage_lost, made, "power") == []


def test_a_short_lead_loses_little():
    assert raised(electric.voltage_lost, far_lamp(10.0), "power") == []


def cooler(watts: float, into: str = "outlet-hall") -> Cooler:
    return Cooler(
        id="cooler", name="Cooler", width=0.4, depth=0.4, height=0.6, watts=watts,
        cooling=3 * watts, power_factor=0.9, starts_hard=True, plug=Plug(into=into),
    )  # fmt: skip


def american(watts: float) -> Design:
    circuits = tuple(
        Circuit(id=key, name=f"{name} circuit", breaker=breaker)
        for key, name, breaker in (("hall", "Hall", 15.0), ("den", "Den", 20.0))
    )
    made = design(cooler(watts), lamp(1, 50.0, "outlet-hall"))
    return made.having(practice=NORTH_AMERICA, room=room(circuits=circuits))


def test_one_appliance_may_take_four_fifths_of_a_shared_circuit():
    # NEC 210.23(A): 80 % of 15 A is 12 A; 1350 W/(0.9 × 120 V) = 12.5 A.
    made = american(1350.0)
    (finding,) = raised(electric.one_appliance, made, "power")
    assert told(finding)[1] == "12.5 A; one plug on a shared circuit may take 12 A."
    assert told(finding)[2] == "Plug Cooler into Outlet den"
    assert after_mending(electric.one_appliance, made, "power") == []


def test_an_appliance_below_four_fifths_or_alone_is_fine():
    assert raised(electric.one_appliance, american(1250.0), "power") == []
    alone = american(1350.0).with_parts({"lamp-1": None})
    assert raised(electric.one_appliance, alone, "power") == []


def test_elsewhere_than_in_north_america_the_rule_for_one_appliance_is_silent():
    made = american(1350.0).having(practice=replace(NORTH_AMERICA, region="elsewhere"))
    assert raised(electric.one_appliance, made, "power") == []


@pytest.mark.parametrize("rule", electric.RULES)
def test_without_readings_of_power_every_rule_is_silent(rule):
    assert list(rule(look(over_by_heater()))) == []


def test_one_plug_may_take_four_fifths_of_a_north_american_outlet():
    # NEC 210.21(B)(2), secondary copy: 12 A at a receptacle of 15 A, also on a circuit of 20 A;
    # 1350 W/(0.9 × 120 V) = 12.5 A.
    circuits = (Circuit(id="den", name="Den circuit", breaker=20.0),)
    made = design(cooler(1350.0, "outlet-den"))
    made = made.having(practice=NORTH_AMERICA, room=room(circuits=circuits))
    (finding,) = raised(electric.one_plug, made, "power")
    assert told(finding)[0] == "Cooler takes too much of Outlet den for one plug"
    assert told(finding)[1] == "12.5 A; one plug may take 12 A at an outlet of 15 A."


def test_below_four_fifths_or_where_practice_lets_one_plug_take_all_it_is_fine():
    circuits = (Circuit(id="den", name="Den circuit", breaker=20.0),)
    small = design(cooler(1250.0, "outlet-den"))
    small = small.having(practice=NORTH_AMERICA, room=room(circuits=circuits))
    assert raised(electric.one_plug, small, "power") == []
    allowed = replace(NORTH_AMERICA, plug_share=1.0)
    large = design(cooler(1350.0, "outlet-den"))
    large = large.having(practice=allowed, room=room(circuits=circuits))
    assert raised(electric.one_plug, large, "power") == []


def test_lamps_are_dimmed_to_four_fifths_of_a_north_american_breaker():
    # NEC 210.20(A): 15 A/1.25 × 120 V = 1440 W; less 5 % and shared by 1600 W: 0.857.
    hall = Circuit(id="hall", name="Hall circuit", breaker=15.0)
    made = design(strip(limit=20.0), *(lamp(n, 400.0, "strip-1") for n in range(1, 5)))
    made = made.having(practice=NORTH_AMERICA, room=room(circuits=(hall,)))
    found = raised(electric.over_limit, made, "power")
    (finding,) = [item for item in found if item.title.values["name"] == "Hall circuit"]
    assert told(finding)[2] == "Dim all 4 boards from 100 % to 85 %"


@pytest.mark.parametrize(("watts", "socket"), [(990.0, "Strip A"), (1010.0, "Outlet den")])
def test_from_a_kilowatt_on_a_device_gets_an_outlet_of_its_own(watts, socket):
    near = heater(watts, "strip-1", place=Place(x=1.0, y=2.3)).model_copy(update={"plug": None})
    (finding,) = raised(electric.not_plugged_in, design(strip(), near), "power")
    assert told(finding)[2] == f"Plug Heater into {socket}"
