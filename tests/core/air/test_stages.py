"""A flow stage by stage: what is shown on the way, what is gone on from, and when it stops."""

from __future__ import annotations

import threading
from typing import Any

import numpy as np
import pytest

from core.air import stages
from core.air.fields import AirField, Stage
from core.air.from_design import RoomAir, room_air
from core.air.stages import StageProgress, settled_from_rest, solve_stages
from core.errors import CancelledError
from core.model import Fan, Obstacle, Place, Room, replace
from core.placement import Placement
from tests.air_kit import box, circulation, design, duct, flap


@pytest.fixture(autouse=True)
def _few_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    """So few that tests are quick; how many are enough is measured in the benchmarks."""
    for name in ("AT_ROUGH", "FROM_REST", "RESTARTED", "SETTLING", "FINELY"):
        monkeypatch.setattr(stages, name, (6, 3))
    monkeypatch.setattr(stages, "PICTURES", 0.0)


def air_of(*parts: object, room: Room | None = None) -> RoomAir:
    small = box(width=0.8, depth=0.6, height=0.7)
    found = room_air(Placement(design(small, fan(), *parts, room=room)))
    assert found is not None
    return found


def fan(z: float = 0.3, **more: Any) -> Fan:
    return circulation(place=Place(host="box", x=0.15, y=0.2, z=z), **more)


def shown(air: RoomAir, **more: object) -> list[AirField]:
    fields: list[AirField] = []
    solve_stages(air, show=fields.append, **more)  # type: ignore[arg-type]
    return fields


def test_pictures_come_first_and_cells_get_finer() -> None:
    air = air_of()
    fields = shown(air, refine=True)
    order = [field.stage for field in fields]
    assert order[0] is Stage.MOVING
    assert [stage for stage in order if stage is not Stage.MOVING] == [
        Stage.PREVIEW, Stage.SETTLED, Stage.FINE, Stage.REFINED,
    ]  # fmt: skip
    last = [field.cell for field in fields if field.stage.settled]
    assert last[0] >= last[1] >= last[2]
    assert last[0] == pytest.approx(air.cell, rel=0.2)
    assert all(field.air is air for field in fields)


def test_nothing_is_refined_that_nobody_asked_for() -> None:
    assert shown(air_of(), fine=False)[-1].stage is Stage.SETTLED
    assert shown(air_of())[-1].stage is Stage.FINE


def test_equal_air_is_gone_on_from_where_it_was() -> None:
    air = air_of()
    settled = shown(air, fine=False)[-1]
    on = shown(air_of(), start=settled)
    assert {field.stage for field in on} == {Stage.FINE}
    assert shown(air, start=on[-1]) == []


def test_a_small_edit_starts_from_the_last_flow() -> None:
    before = shown(air_of(), fine=False)[-1]
    turned = air_of(fan(0.5, part_id="two", heading=90.0))
    first = shown(turned, start=before, fine=False)[0]
    assert first.cell == pytest.approx(before.cell)
    assert first.flow.speed.mean() > 0.5 * before.flow.speed.mean()


def test_cancelling_stops_within_a_step() -> None:
    stop = threading.Event()
    fields: list[AirField] = []

    def show(field: AirField) -> None:
        fields.append(field)
        stop.set()

    with pytest.raises(CancelledError):
        solve_stages(air_of(), show=show, cancel=stop)
    assert len(fields) == 1


def test_progress_is_told_by_stage() -> None:
    told: list[StageProgress] = []
    shown(air_of(), tell=told.append)
    assert {one.stage for one in told} >= {Stage.PREVIEW, Stage.SETTLED, Stage.FINE}
    assert all(0 < one.share < 1 for one in told)


def test_progress_tells_the_cells_that_the_field_then_has() -> None:
    told: list[StageProgress] = []
    fields = shown(air_of(), tell=told.append)
    cells = {field.stage: field.cell for field in fields if field.stage is not Stage.MOVING}
    for stage, cell in cells.items():
        assert {one.cell for one in told if one.stage is stage} == {cell}


def test_ages_come_with_the_settled_flow_and_stay() -> None:
    fields = shown(air_of(duct(x=0.2, z=0.4), flap("flap", 0.3)))
    by_stage = {field.stage: field for field in fields}
    assert by_stage[Stage.PREVIEW].ages is None
    assert by_stage[Stage.SETTLED].ages is not None
    assert by_stage[Stage.FINE].ages is by_stage[Stage.SETTLED].ages


def test_from_rest_the_same_air_gives_the_same_flow() -> None:
    one, two = settled_from_rest(air_of()), settled_from_rest(air_of())
    np.testing.assert_array_equal(one.flow.speed, two.flow.speed)


def test_openings_walled_off_from_each_other_are_left_out() -> None:
    wall = Obstacle(id="wall", name="Wall", x=1.3, y=0.0, z=0.0, width=0.25, depth=2.0, height=2.0)
    room = replace(Room.rectangle(4.0, 3.0, 2.4), fixtures=(wall,))
    air = air_of(duct(x=0.2, z=0.4), flap("flap", 0.3), room=room)
    assert air.scene.openings
    field = settled_from_rest(air)
    assert field.flow.scene.openings == ()
    assert field.ages is None
