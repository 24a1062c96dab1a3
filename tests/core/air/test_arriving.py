"""Air read from fields that another thread sends: awaited, passing, settled, and done without."""

from __future__ import annotations

from core.air.flows import Arriving
from core.air.stage import Stage
from core.model import Design, Fan, replace
from core.readings import Reader, Readings
from tests.air_fields import even, field_of
from tests.designs import alcove


def alcove_with_fan_turned(by: float) -> Design:
    design = alcove()
    fan = next(iter(design.of(Fan)))
    return design.with_parts({fan.id: replace(fan, heading=fan.heading + by)})


def speeds(readings: Readings) -> set[float]:
    rows = [row for row in readings.air.rows if row.name == "speed"]
    return {round(row.value or 0.0, 3) for row in rows}


def test_a_flow_that_is_to_come_is_awaited_and_its_pictures_pass_until_it_settles():
    arriving, design = Arriving(), alcove()
    reader = Reader(flows=arriving)
    told = [reader.update(design).air]
    for stage in (Stage.MOVING, Stage.PREVIEW, Stage.SETTLED):
        arriving.put(field_of(design, even(0.3, 0.0, 0.0), stage))
        told.append(reader.update(design).air)

    assert [air.awaited for air in told] == [True, False, False, False]
    assert [air.passing for air in told] == [True, True, True, False]
    assert [air.stage for air in told] == list(Stage)[:4]


def test_after_a_change_the_last_flow_is_stale_and_not_read():
    arriving = Arriving()
    reader = Reader(flows=arriving)
    arriving.put(field := field_of(alcove(), even(0.3, 0.0, 0.0)))
    changed = reader.update(alcove_with_fan_turned(20.0))

    assert changed.air.field is None
    assert changed.air.stale is field
    assert changed.air.stage is Stage.JETS


def test_done_without_the_last_settled_flow_is_read_and_says_that_it_is_from_before():
    arriving, changed = Arriving(), alcove_with_fan_turned(20.0)
    reader = Reader(flows=arriving)
    arriving.put(settled := field_of(alcove(), even(0.3, 0.0, 0.0)))
    arriving.put(field_of(changed, even(0.5, 0.0, 0.0), Stage.MOVING))
    arriving.arrives = False
    found = reader.update(changed)

    assert found.air.stale is settled
    # Near fans the jet is read where it is faster.
    assert min(speeds(found)) == 0.3
    assert not found.air.passing
    taken = {one.render() for row in found.air.rows for one in row.assumptions}
    assert "The flow is from before the last change" in taken


def test_done_without_the_first_flow_jets_answer_and_nothing_passes():
    arriving = Arriving()
    arriving.arrives = False
    found = Reader(flows=arriving).update(alcove())

    assert found.air.stage is Stage.JETS
    assert not found.air.passing


def test_fields_of_another_design_are_forgotten():
    arriving, design = Arriving(), alcove()
    reader = Reader(flows=arriving)
    arriving.put(field_of(design, even(0.3, 0.0, 0.0)))
    arriving.forget()
    found = reader.update(design)

    assert (found.air.field, found.air.stale) == (None, None)
