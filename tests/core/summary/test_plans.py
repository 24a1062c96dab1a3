"""Refill plan, worst spill and load table: the readings' own numbers, as tables of words."""

from __future__ import annotations

from pathlib import Path

import pytest

import resources
from core.air.flows import JETS
from core.model import Fogger, TapWater, replace
from core.readings import Reader, Readings
from core.storage import load
from core.summary.blocks import Paragraph, Styled, Table
from core.summary.describe import describe
from core.summary.plans import ahead_table, load_table, refill_plan, refill_table, spill_table
from core.summary.tables import look_of, texts

DEMOS = Path(resources.__file__).parent / "demos"


def readings_of(demo: str, **fields: object) -> Readings:
    design = load(DEMOS / f"{demo}.fern").having(**fields)
    return Reader(flows=JETS).update(design, quality="coarse")


@pytest.fixture(scope="module")
def nook() -> Readings:
    """The nook with a fogger that is known to run a quarter of the time, whatever the climate."""
    parts = load(DEMOS / "basement-nook.fern").parts
    known = tuple(replace(p, duty=0.25) if isinstance(p, Fogger) else p for p in parts)
    return readings_of("basement-nook", parts=known)


def rows(table: Table | None) -> list[tuple[str, ...]]:
    assert table is not None
    return list(texts(table))[1:]


def test_each_container_stands_with_its_rhythm_the_first_to_run_dry_first(nook: Readings) -> None:
    found = rows(refill_table(nook))
    days = [supply.days.value for supply in nook.water.supplies if supply.days]
    assert len(found) == len(days)
    assert found[0][4] == f"{int(min(days))} days"
    assert found == sorted(found, key=lambda row: int(row[4].split()[0]))
    assert found[-1][0] == "Feed reservoir"
    # What a tray holds is less than its floor times its fill: pots stand in it.
    assert found[0][1] == "5.3 L"


def test_the_plan_tells_of_all_together_of_days_away_and_of_purified_water() -> None:
    targets = replace(load(DEMOS / "basement-nook.fern").targets, away_days=10.0)
    tap = TapWater(purified="foggers", made_per_day=0.2)
    blocks = refill_plan(readings_of("basement-nook", targets=targets, tap=tap))
    told = " ".join(block.text for block in blocks if isinstance(block, Paragraph))
    for words in (
        "first refill in",
        "Away for 10 days",
        "L of purified water for a refill",
    ):
        assert words in told


def test_the_fourteen_days_name_what_is_refilled_when(nook: Readings) -> None:
    found = rows(ahead_table(nook))
    assert [row[0] for row in found] == [
        f"Day {refill.day}"
        for refill in nook.water.ahead.refills  # type: ignore[union-attr]
    ]
    assert found[0][1] == ", ".join(nook.water.ahead.refills[0].names)  # type: ignore[union-attr]


def test_each_container_alone_and_all_together_stand_against_the_liner(nook: Readings) -> None:
    found = rows(spill_table(nook))
    names = [row[0] for row in found]
    assert names[0] == "Feed reservoir through Feed line"
    assert found[0][2] == "45.6 L"
    assert found[1][2] == "nothing"
    together = found[names.index("All together")]
    assert (together[1], together[2]) == ("171 L", "96.7 L")
    assert found[-1] == ("Feed reservoir", "120 L", "onto the room’s floor")


def test_without_a_liner_nobody_knows_what_runs_over() -> None:
    design = load(DEMOS / "starter.fern")
    box = design.enclosure
    assert box is not None
    parts = tuple(replace(p, liner=None) if p.id == box.id else p for p in design.parts)
    found = rows(spill_table(readings_of("starter", parts=parts)))
    assert found[-1][2] == "no floor liner"


def test_a_shelfs_load_stands_by_what_it_is_made_of(nook: Readings) -> None:
    table = load_table(nook, look_of(nook))
    assert table is not None
    assert len(table.rows) == len(nook.weight.shelves)
    by_name = {row[0]: row for row in rows(table)}
    shelf = next(s for s in nook.weight.shelves if (s.unit, s.level) == ("unit-c", 2))
    row = by_name["Shelf unit C, level 2"]
    assert row[1] == f"{shelf.shares.water:.3g} kg"
    assert row[6] == "12.3 kg" and row[7] == "40 kg"
    assert sum(float(cell.split()[0]) for cell in row[1:6] if cell) == pytest.approx(12.3, abs=0.1)
    assert isinstance(table.rows[0][6], Styled)


def test_a_summary_has_the_plan_the_spill_and_the_loads_and_leaves_empty_ones_out(
    nook: Readings,
) -> None:
    titles = [section.title for section in describe(nook.design, nook, "1 May").sections]
    for title in ("Refills", "Worst spill", "Loads, shelf by shelf"):
        assert title in titles
    bare = readings_of("empty-room")
    titles = [section.title for section in describe(bare.design, bare, "1 May").sections]
    assert not {"Refills", "Worst spill", "Loads, shelf by shelf"} & set(titles)
