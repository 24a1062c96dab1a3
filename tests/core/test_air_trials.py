"""Edits that are tried for a zone's air: found, proven by a longer flow, said, and given up."""

from __future__ import annotations

import threading
from typing import Any

import pytest

from core.air.advice import Advice
from core.air.fields import AirField, Stage
from core.air.flow.field import FlowField
from core.air.flow.scene import AirScene
from core.air.flow.solve import solve_flow
from core.air.flows import Arriving
from core.air.from_design import room_air
from core.air.reading import AirReadings, read
from core.errors import CancelledError
from core.findings import air as rules
from core.findings import air_trials
from core.findings.air_trials import advise
from core.model import Design, Fan, Place
from core.placement import Placement
from core.states import LIKELY_OUT, OUT, State
from core.study import Study, study
from tests.air_kit import box, circulation, design, plants


def weak(**more: Any) -> Fan:
    """22 m³/h through 0.1 m, blowing at the wall behind it; 0.76 m/s at its opening."""
    return circulation(**{"diameter": 0.1, "flow": 0.006, "heading": 180.0, **more})


HIGH = plants(place=Place(host="box", x=1.3, y=0.4, z=0.8))
"""Leaf tops at the fan's height, 1.3 m away."""
STILL = design(box(), weak(), HIGH)


def settled(made: Design, steps: int = 400) -> AirField:
    air = room_air(Placement(made))
    assert air is not None
    return AirField(air, solve_flow(air.scene, air.cell, steps, steps // 2), Stage.SETTLED)


def reading(made: Design) -> AirReadings:
    flows = Arriving()
    flows.put(settled(made))
    look = study(made)
    return read(Study(look.design, look.season, flows=flows))


def state(made: Design, place: str = "zone") -> State:
    return next(
        row.state for row in reading(made).rows if row.place == place and row.name == "speed"
    )


def advice(made: Design, **more: Any) -> list[Advice]:
    return list(advise(study(made), settled(made), **more))


def test_a_fan_is_turned_where_that_lifts_still_air_and_a_longer_flow_agrees() -> None:
    assert state(STILL) in {State.LOW, State.LIKELY_LOW}
    (found,) = advice(STILL)
    assert found.remedy is not None
    words = found.remedy.words.render()
    assert words.startswith("Turn Fan 180° to the right: the enclosure floor from 0.0")
    assert words.endswith(" m/s")
    mended = STILL.with_parts(found.remedy.parts)
    assert state(mended) not in OUT | LIKELY_OUT
    assert found.tried.render().startswith("Edits tried by their jets: ")


def test_a_locked_fan_is_left_alone_and_one_is_added_instead() -> None:
    made = design(box(), weak(locked=True), HIGH)
    (found,) = advice(made)
    assert found.remedy is not None
    assert found.remedy.words.render().startswith("Add a fan: Fan, ")
    (new,) = found.remedy.parts.values()
    assert isinstance(new, Fan)
    assert new.id not in made.by_id
    assert state(made.with_parts(found.remedy.parts)) not in OUT | LIKELY_OUT


def test_a_fan_too_strong_for_leaves_is_turned_or_run_slower() -> None:
    near = plants(place=Place(host="box", x=0.6, y=0.4, z=0.8))
    strong = design(box(), circulation(flow=0.06), near)
    before = reading(strong).zones[0].fast
    (found,) = advice(strong)
    assert found.remedy is not None
    after = reading(strong.with_parts(found.remedy.parts)).zones[0]
    assert after.fast < before
    assert after.fast < 1.0 + 0.3


def test_fine_air_needs_no_advice() -> None:
    assert advice(STILL.with_parts({"fan": circulation(flow=0.012)})) == []


def test_a_search_that_finds_nothing_says_what_was_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(air_trials, "TURNS", (5,))
    monkeypatch.setattr(air_trials, "_added", lambda search: iter(()))
    (found,) = advice(STILL)
    assert found.remedy is None
    assert (
        found.tried.render() == "Edits tried by their jets: 1; the best of them with the flow: 1."
    )


def test_on_fine_cells_edits_are_tried_on_fine_cells(monkeypatch: pytest.MonkeyPatch) -> None:
    cells: list[float] = []

    def solve_roughly(scene: AirScene, cell: float, *steps: int, **more: Any) -> FlowField:
        cells.append(cell)
        return solve_flow(scene, 0.1, *steps, **more)

    monkeypatch.setattr(air_trials, "solve_flow", solve_roughly)
    rough = settled(STILL)
    (found,) = advise(study(STILL), AirField(rough.air, rough.flow, Stage.FINE))
    assert (found.place, found.still) == ("zone", True)
    assert "the best, with the flow on fine cells: " in found.tried.render()
    assert cells == [rough.air.fine_cell] * 3
    assert rough.air.fine_cell < rough.air.cell


def test_what_has_been_sought_is_not_sought_again() -> None:
    field = settled(STILL)
    assert list(advise(study(STILL), field, known={("zone", True)})) == []
    assert len(list(advise(study(STILL), field, known={("zone", False)}))) == 1


def test_the_zone_in_the_strongest_air_is_the_one_that_is_helped() -> None:
    near = plants(place=Place(host="box", x=0.6, y=0.4, z=0.8))
    far = plants("further", name="Further", place=Place(host="box", x=1.1, y=0.4, z=0.8))
    made = design(box(), circulation(flow=0.06), near, far)
    field = settled(made)
    zones = {zone.part: zone.fast for zone in reading(made).zones}
    assert min(zones.values()) > 1.3
    (found,) = advise(study(made), field)
    assert (found.place, found.still) == (max(zones, key=lambda part: zones[part]), False)


def test_a_search_stops_when_it_is_no_longer_wanted() -> None:
    stop = threading.Event()
    stop.set()
    field = settled(STILL, 20)
    with pytest.raises(CancelledError):
        list(advise(study(STILL), field, cancel=stop))
    calls = iter([False] * 30 + [True] * 1000)
    with pytest.raises(CancelledError):
        list(advise(study(STILL), field, cancel=lambda: next(calls)))


def test_what_was_found_becomes_the_remedy_of_the_finding() -> None:
    flows, field = Arriving(), settled(STILL)
    flows.put(field)
    (found,) = advise(study(STILL), field)
    flows.put_advice(field.air, found)
    base = study(STILL)
    look = Study(base.design, base.season, document=STILL, flows=flows)
    look = Study(base.design, base.season, document=STILL, flows=flows, done={"air": read(look)})
    (finding,) = rules.too_weak(look)
    assert finding.remedy is found.remedy
    assert "Edits tried" in finding.detail.render()
