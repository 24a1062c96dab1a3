"""Where fields come from, and what the reader keeps while they arrive."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace as with_fields
from typing import Any

import pytest

import core.readings
from core.air import flows as module
from core.air.advice import Advice
from core.air.fields import AirField, Stage
from core.air.flow.solve import solve_flow
from core.air.flows import JETS, Arriving, Solving
from core.air.from_design import RoomAir, room_air
from core.model import Design
from core.phrases import phrase
from core.placement import Placement
from core.readings import ENGINES, Reader, read
from core.states import State
from tests.air_kit import box, circulation, design, plants

SEEN = design(box(), circulation(heading=180.0), plants())
"""A fan that blows at the wall: no jet meets the plants."""


def air_of(made: Design) -> RoomAir:
    found = room_air(Placement(made))
    assert found is not None
    return found


def picture(made: Design, stage: Stage, steps: int = 20) -> AirField:
    air = air_of(made)
    return AirField(air, solve_flow(air.scene, 0.2, steps, 5), stage)


@pytest.fixture
def solved(monkeypatch: pytest.MonkeyPatch) -> Counter[RoomAir]:
    """Count what is solved, and solve it quickly."""
    counted: Counter[RoomAir] = Counter()

    def quickly(air: RoomAir) -> AirField:
        counted[air] += 1
        return AirField(air, solve_flow(air.scene, 0.2, 20, 5), Stage.SETTLED)

    monkeypatch.setattr(module, "settled_from_rest", quickly)
    monkeypatch.setattr(Solving, "_known", type(Solving._known)())
    return counted


@pytest.fixture
def runs(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """Count how often each engine runs."""
    counted: Counter[str] = Counter()

    def counting(engine: Any) -> Any:
        def run(study: Any) -> Any:
            counted[engine.subject] += 1
            return engine.read(study)

        return with_fields(engine, read=run)

    monkeypatch.setattr(core.readings, "ENGINES", tuple(map(counting, ENGINES)))
    return counted


def test_a_final_reading_solves_its_flow_and_a_coarse_one_does_not(
    solved: Counter[RoomAir],
) -> None:
    assert read(SEEN, quality="coarse").air.stage is Stage.JETS
    assert not solved
    assert read(SEEN).air.stage is Stage.SETTLED


def test_equal_air_is_solved_once_in_a_process(solved: Counter[RoomAir]) -> None:
    read(SEEN)
    read(SEEN.having(name="Another"))
    read(SEEN.with_parts({"zone": plants(leaf_high=0.3)}))
    assert list(solved.values()) == [1]
    read(SEEN.with_parts({"fan": circulation(heading=90.0)}))
    assert list(solved.values()) == [1, 1]


def test_only_so_many_fields_are_remembered(solved: Counter[RoomAir]) -> None:
    for heading in range(module.KEPT + 3):
        read(SEEN.with_parts({"fan": circulation(heading=float(heading))}))
    assert len(Solving._known) == module.KEPT


def test_jets_alone_never_solve(solved: Counter[RoomAir]) -> None:
    found = read(SEEN, flows=JETS).air
    assert found.stage is Stage.JETS
    assert not found.awaited
    assert not solved


def test_until_the_flow_arrives_zones_are_not_known_and_it_is_awaited() -> None:
    arriving = Arriving()
    found = Reader(arriving).update(SEEN)
    assert found.air.awaited
    assert found.air.passing
    assert found.air.headline is None
    assert found.air.nothing.render() == "the flow is being computed"
    assert not [item for item in found.findings if item.rule == "no-fan-reaches"]
    assert found.air.air == air_of(SEEN)


def test_a_field_that_arrives_is_read_at_once_while_dragging_too() -> None:
    arriving = Arriving()
    reader = Reader(arriving)
    reader.update(SEEN)
    arriving.put(picture(SEEN, Stage.PREVIEW))
    for quality in ("coarse", "final"):
        found = reader.update(SEEN, quality=quality).air
        assert found.stage is Stage.PREVIEW
        assert found.coarse
        assert next(row for row in found.rows if row.name == "speed").state is not State.UNKNOWN


def test_after_an_edit_the_old_field_is_stale_and_not_read() -> None:
    arriving = Arriving()
    reader = Reader(arriving)
    field = picture(SEEN, Stage.SETTLED)
    arriving.put(field)
    assert reader.update(SEEN).air.field is field
    found = reader.update(SEEN.with_parts({"fan": circulation(heading=90.0)})).air
    assert (found.field, found.stale) == (None, field)
    assert found.awaited
    again = reader.update(SEEN).air
    assert again.field is field


def test_pictures_run_no_other_engine_and_a_settled_flow_runs_climate(runs: Counter[str]) -> None:
    arriving = Arriving()
    reader = Reader(arriving)
    reader.update(SEEN)
    for stage in (Stage.MOVING, Stage.MOVING, Stage.PREVIEW):
        arriving.put(picture(SEEN, stage))
        reader.update(SEEN)
    assert runs["air"] == 4
    assert {name: runs[name] for name in runs if name != "air"} == dict.fromkeys(
        (name for name in runs if name != "air"), 1
    )


def test_pictures_keep_findings_and_the_settled_flow_renews_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    arriving = Arriving()
    reader = Reader(arriving)
    first = reader.update(SEEN).findings
    arriving.put(picture(SEEN, Stage.MOVING))
    assert reader.update(SEEN).findings is first
    arriving.put(picture(SEEN, Stage.SETTLED))
    assert reader.update(SEEN).findings is not first


def test_findings_on_air_stay_without_remedies_until_the_flow_is_back() -> None:
    weak = SEEN.with_parts({"fan": circulation(heading=180.0, flow=0.002)})
    arriving = Arriving()
    reader = Reader(arriving)
    arriving.put(picture(weak, Stage.SETTLED))
    arriving.put_advice(air_of(weak), Advice("zone", True, None, phrase("Tried nothing.")))
    still = [item for item in reader.update(weak).findings if item.rule == "air-too-weak"]
    assert len(still) == 1
    assert still[0].detail.render().endswith("Tried nothing. None was enough.")
    edited = weak.with_parts({"fan": circulation(heading=170.0, flow=0.002)})
    kept = [item for item in reader.update(edited).findings if item.rule == "air-too-weak"]
    assert [item.place for item in kept] == ["zone"]
    assert kept[0].remedy is None
    gone = edited.with_parts({"zone": None, "fan": circulation(heading=160.0, flow=0.002)})
    assert not [item for item in reader.update(gone).findings if item.rule == "air-too-weak"]


def test_advice_holds_for_the_air_it_was_found_for() -> None:
    arriving = Arriving()
    advice = Advice("zone", True, None, phrase("Tried."))
    arriving.put_advice(air_of(SEEN), advice)
    assert arriving.advice(air_of(SEEN), "zone", True) is advice
    assert arriving.advice(air_of(SEEN), "zone", False) is None
    assert arriving.advice(air_of(SEEN), "other", True) is None
    other = air_of(SEEN.with_parts({"fan": circulation()}))
    assert arriving.advice(other, "zone", True) is None
