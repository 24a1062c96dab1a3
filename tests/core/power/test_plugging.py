"""Where a part may be plugged in, why not elsewhere, and what would be too much."""

from __future__ import annotations

from typing import Any

from core.model import (
    Circuit,
    Design,
    Heater,
    Lamp,
    Lead,
    Outlet,
    Plug,
    Room,
    Strip,
    Timer,
    replace,
)
from core.power.plugging import Target, is_pluggable, plugged_into, targets
from core.power.reading import read
from core.states import State
from core.study import study

SIZE = {"width": 0.1, "depth": 0.1, "height": 0.1}


def part(kind: Any, key: str, into: str | None, **more: Any) -> Any:
    plug = Plug(into=into) if into else None
    return kind(id=key, name=key.replace("-", " ").capitalize(), plug=plug, **SIZE, **more)


def lamp(key: str, into: str | None, **more: Any) -> Lamp:
    return part(Lamp, key, into, form="board", watts=40.0, **more)


def heater(key: str, watts: float, into: str | None) -> Heater:
    return part(Heater, key, into, watts=watts)


def design(*parts: Any) -> Design:
    outlets = (
        Outlet(id="wall", name="Wall", wall=1, offset=0.5, circuit="hall"),
        Outlet(id="far", name="Far", wall=2, offset=0.5, circuit="den", sockets=1),
    )
    circuits = tuple(
        Circuit(id=key, name=f"{key.capitalize()} circuit", breaker=16.0) for key in ("hall", "den")
    )
    outline = ((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0))
    return Design(room=Room(outline=outline, fixtures=outlets, circuits=circuits), parts=parts)


def found(made: Design, key: str) -> dict[str, Target]:
    return {item.key: item for item in targets(made, key)}


def why(target: Target) -> str:
    assert target.refused is not None
    return target.refused.render()


def test_where_it_is_and_where_else_it_may_be():
    made = design(part(Strip, "strip", "wall"), lamp("lamp", "strip"), heater("heat", 100, None))
    there = found(made, "lamp")
    assert there["strip"].here and not there["strip"].open
    assert there["wall"].open and there["far"].open
    assert set(there) == {"strip", "wall", "far"}  # a heater is no target


def test_nothing_is_plugged_into_what_hangs_on_it():
    made = design(part(Strip, "strip", "wall"), part(Timer, "timer", "strip", sockets=2))
    assert why(found(made, "strip")["timer"]) == "Timer itself hangs on Strip"
    assert "strip" not in found(made, "strip")


def test_a_full_outlet_says_so():
    made = design(heater("heat", 100, "far"), lamp("lamp", "wall"))
    assert why(found(made, "lamp")["far"]) == "Far has no free socket"


def test_strips_and_leads_never_hang_on_each_other_but_a_strip_on_a_lead():
    made = design(
        part(Strip, "strip", "wall"),
        part(Strip, "other", "wall"),
        part(Lead, "lead", "far", sockets=2),
        part(Timer, "timer", "strip"),
    )
    never = "strips and leads are never put one behind the other"
    assert why(found(made, "other")["strip"]) == never
    assert why(found(made, "other")["timer"]) == never  # the timer hangs on a strip
    assert why(found(made, "lead")["strip"]) == never
    assert found(made, "other")["lead"].open


def test_lamps_are_linked_one_after_the_other():
    made = design(lamp("a", "wall"), lamp("b", "a"), lamp("c", "wall"))
    assert why(found(made, "c")["a"]) == "A feeds B already"
    assert found(made, "c")["b"].open
    assert why(found(made, "a")["b"]) == "B itself hangs on A"
    assert found(made, "b")["a"].here


def test_what_would_be_too_much_is_said_and_comes_true():
    # 10 A × 230 V = 2300 VA; 1500 + 1000 are 200 too many.
    made = design(
        part(Strip, "strip", "wall"), heater("heat", 1500, "strip"), heater("more", 1000, None)
    )
    target = found(made, "more")["strip"]
    assert target.open and target.overload is not None
    words = target.overload.render().replace("\u2009", " ")
    assert words == "Strip would carry 200 VA too much"
    after = made.with_parts({"more": plugged_into(made, "more", "strip")})
    step = next(step for step in read(study(after)).steps if step.id == "strip")
    assert step.reading.state is State.HIGH
    assert found(made, "more")["wall"].overload is None


def test_moving_along_the_same_circuit_is_not_counted_twice():
    # 3000 W already run on the hall circuit (3680 VA); moving them within it adds nothing there.
    made = design(part(Lead, "lead", "wall", limit=16.0), heater("heat", 2900, "lead"))
    assert found(made, "heat")["wall"].overload is None


def test_a_new_plug_keeps_its_lead_and_none_takes_it_out():
    made = design(lamp("a", "wall"))
    long = made.with_parts({"a": replace(made.part("a"), plug=Plug(into="wall", lead_length=4.0))})
    assert plugged_into(long, "a", "far").plug == Plug(into="far", lead_length=4.0)
    assert plugged_into(long, "a", None).plug is None
    assert is_pluggable(made, "a") and not is_pluggable(made, "wall")
