"""Mirroring parts with all they carry, in place and as copies."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.duplicates import duplicated
from core.errors import DesignError
from core.fit.overlaps import overlaps
from core.geometry import Box, pointing
from core.mirroring import mirrored, mirrored_copies
from core.model import Design, Fan, Lamp, Part, Plants, Rect, ShelfUnit, Timer, UnitLining, replace
from core.placement import Placement
from core.power.reading import read
from core.storage import load
from core.study import study

FOLDER = Path(__file__).parents[2] / "resources" / "demos"
DEMOS = {file.stem: load(file) for file in sorted(FOLDER.glob("*.fern"))}
AXES: tuple[Literal["x", "y"], ...] = ("x", "y")
axes = st.sampled_from(AXES)
with_units = st.sampled_from([demo for demo in DEMOS.values() if any(demo.of(ShelfUnit))])


def unit_of(design: Design) -> ShelfUnit:
    return next(iter(design.of(ShelfUnit)))


def reflected(box: Box, axis: int, middle: float) -> tuple[float, ...]:
    lo, hi = list(box.lo), list(box.hi)
    lo[axis], hi[axis] = 2 * middle - hi[axis], 2 * middle - lo[axis]
    return (*lo, *hi)


def turned_unit(design: Design, turn: int) -> Design:
    unit = unit_of(design)
    place = replace(unit.place, turn=turn)
    return design.with_parts({unit.id: replace(unit, place=place)})


@given(with_units, axes, st.integers(0, 3))
def test_every_carried_box_is_reflected_in_the_units_own_middle(demo, across, turn):
    design = turned_unit(demo, turn)
    unit = unit_of(design)
    before = Placement(design)
    after = Placement(design.with_parts(mirrored(design, [unit.id], across)))
    axis = "xy".index(across)
    middle = before.box(unit.id).centre[axis]
    for part in (unit, *design.carried(unit.id)):
        if part.kind == "feed":
            continue
        expected = reflected(before.box(part.id), axis, middle)
        found = after.box(part.id)
        assert (*found.lo, *found.hi) == pytest.approx(expected, abs=1e-8), part.id


@given(with_units, axes, st.integers(0, 3))
def test_mirroring_twice_puts_everything_back(demo, across, turn):
    design = turned_unit(demo, turn)
    unit = unit_of(design)
    once = design.with_parts(mirrored(design, [unit.id], across))
    twice = once.with_parts(mirrored(once, [unit.id], across))
    before, after = Placement(design), Placement(twice)
    for part in (unit, *design.carried(unit.id)):
        was, now = design.part(part.id), twice.part(part.id)
        assert now.place.turn == was.place.turn
        assert after.box(part.id).lo == pytest.approx(before.box(part.id).lo, abs=1e-8)


@pytest.mark.parametrize("across", AXES)
def test_fans_blow_the_mirrored_way(across: Literal["x", "y"]) -> None:
    design = DEMOS["basement-nook"]
    fans = list(design.of(Fan))
    after = design.with_parts(mirrored(design, [fan.id for fan in fans], across))
    axis = "xy".index(across)
    assert fans
    for fan in fans:
        was = list(pointing(fan.heading, fan.elevation))
        was[axis] = -was[axis]
        new = after.part(fan.id)
        assert pointing(new.heading, new.elevation) == pytest.approx(was)


def test_a_units_linings_change_sides_with_it() -> None:
    design = DEMOS["basement-nook"]
    unit = unit_of(design)
    sheet = design.enclosure.covers[0].sheet
    part_of_back = UnitLining(side="back", sheet=sheet, area=Rect(x=0.1, y=0, width=0.2, height=1))
    lined = replace(unit, linings=(UnitLining(side="left", sheet=sheet), part_of_back))
    design = design.with_parts({unit.id: lined})
    left, back = design.with_parts(mirrored(design, [unit.id], "x")).part(unit.id).linings
    assert left.side == "right"
    assert (back.side, back.area.x) == ("back", pytest.approx(unit.width - 0.3))


def test_the_enclosure_is_not_mirrored() -> None:
    design = DEMOS["basement-nook"]
    with pytest.raises(DesignError, match="mirror what stands in it"):
        mirrored(design, [design.enclosure.id])


def test_locked_parts_stay() -> None:
    design = DEMOS["basement-nook"]
    unit = unit_of(design)
    locked = design.with_parts({unit.id: replace(unit, locked=True)})
    assert mirrored(locked, [unit.id]) == {}


def test_a_mirrored_copy_brings_contents_and_its_load_shows_at_once() -> None:
    design = DEMOS["garage-bay"]
    unit = unit_of(design)
    carried = {part.id for part in design.carried(unit.id)}
    changes, (top,) = mirrored_copies(design, [unit.id], "x")
    after = design.with_parts(changes)
    assert len(list(after.carried(top))) == len(carried)
    lamps = [lamp for lamp in design.of(Lamp) if lamp.id in carried]
    added = sum(lamp.watts * lamp.count * lamp.dimming for lamp in lamps if lamp.plug)
    was, now = (
        sum(device.watts for device in read(study(one)).by_device) for one in (design, after)
    )
    assert added > 0
    assert now - was >= added - 1e-6


def test_chains_among_copies_stay_chains() -> None:
    design = DEMOS["garage-bay"]
    unit = unit_of(design)
    changes, _ = mirrored_copies(design, [unit.id], "x")
    after = design.with_parts(changes)
    carried = {part.id: part for part in design.carried(unit.id)}
    lamps = [part for part in carried.values() if isinstance(part, Lamp)]
    chained = [lamp for lamp in lamps if lamp.plug and lamp.plug.into in carried]
    copies = [lamp for lamp in after.of(Lamp) if lamp.id in changes and lamp.plug]
    into = [after.by_id[lamp.plug.into] for lamp in copies if lamp.plug.into in changes]
    assert sum(isinstance(other, Lamp) for other in into) == len(chained) > 0


def test_a_timer_that_times_only_the_unit_comes_along_and_times_the_copies() -> None:
    """Timer A of the garage bay hangs in the room and feeds two rows of unit A alone."""
    design = DEMOS["garage-bay"]
    unit = unit_of(design)
    for changes, tops in (mirrored_copies(design, [unit.id]), duplicated(design, [unit.id])):
        after = design.with_parts(changes)
        (timer,) = (timer for timer in after.of(Timer) if timer.id in changes)
        timed = [lamp for lamp in after.of(Lamp) if lamp.plug and lamp.plug.into == timer.id]
        assert len(timed) == 2 and {lamp.id for lamp in timed} <= set(changes)
        assert timer.hours == design.part("timer-a").hours  # type: ignore[union-attr]
        assert len(tops) == 1 and isinstance(after.by_id[tops[0]], ShelfUnit)


def test_a_timer_that_times_something_else_too_stays_alone() -> None:
    design = DEMOS["garage-bay"]
    unit = unit_of(design)
    other = next(lamp for lamp in design.of(Lamp) if lamp.plug and lamp.plug.into == "timer-b")
    shared = design.with_parts({other.id: replace(other, plug=replace(other.plug, into="timer-a"))})
    changes, _ = duplicated(shared, [unit.id])
    assert not any(isinstance(part, Timer) for part in changes.values())


def test_a_mirrored_copy_overlaps_nothing_where_there_is_room() -> None:
    design = DEMOS["starter"]
    plants = next(iter(design.of(Plants)))
    small = replace(plants, width=0.1, depth=0.1, place=replace(plants.place, x=0.0, y=0.0))
    design = design.with_parts({plants.id: small})
    changes, (top,) = mirrored_copies(design, [plants.id], "x")
    after = design.with_parts(changes)
    here, there = Placement(design).box(plants.id), Placement(after).box(top)
    host = Placement(design).frame(plants.place.host)
    assert there.hi[0] == pytest.approx(2 * host.origin[0] + host.size[0] - here.lo[0])
    assert not [pair for pair in overlaps(Placement(after)) if top in (pair.a, pair.b)]
    assert all(isinstance(part, Part) for part in changes.values())
