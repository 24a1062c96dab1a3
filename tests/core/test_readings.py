"""The reader runs only what an edit touches, and what it keeps equals what it would compute."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace as with_fields
from pathlib import Path
from typing import Any

import pytest

import core.readings
from core.model import Design, Lamp, Place, Tray, replace
from core.reading import SUBJECTS
from core.readings import ENGINES, Reader, read
from core.storage import load

DEMOS = Path(__file__).parents[2] / "resources" / "demos"


@pytest.fixture
def alcove() -> Design:
    return load(DEMOS / "stair-alcove.fern")


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


def moved(design: Design, kind: type[Any], by: float = 0.01) -> Design:
    part = next(design.of(kind))
    place = replace(part.place, x=part.place.x + by)
    return design.with_parts({part.id: replace(part, place=place)})


def test_the_same_design_is_read_once(alcove: Design, runs: Counter[str]) -> None:
    reader = Reader()
    first = reader.update(alcove)
    second = reader.update(alcove)
    assert set(runs.values()) == {1}
    assert all(first.subject(name) is second.subject(name) for name in SUBJECTS)


def test_a_price_changes_cost_and_leaves_light_alone(alcove: Design, runs: Counter[str]) -> None:
    reader = Reader()
    reader.update(alcove)
    dearer = alcove.having(prices=replace(alcove.prices, energy=0.9))
    after = reader.update(dearer)
    assert runs["cost"] == 2
    assert runs["light"] == runs["fit"] == runs["power"] == 1
    assert after.cost.headline != read(alcove).cost.headline


def test_a_renamed_design_is_not_read_again(alcove: Design, runs: Counter[str]) -> None:
    reader = Reader()
    reader.update(alcove)
    reader.update(alcove.having(name="Another name"))
    assert runs["light"] == 1


@pytest.mark.parametrize("kind", [Lamp, Tray])
def test_what_is_kept_equals_what_would_be_computed_afresh(alcove: Design, kind: Any) -> None:
    reader = Reader()
    reader.update(alcove)
    for step in (0.01, 0.02):
        reader.update(moved(alcove, kind, step), quality="coarse")
    after = moved(alcove, kind, 0.03)
    assert reader.update(after).to_json() == read(after).to_json()


def test_findings_stay_while_something_is_dragged_and_follow_after(alcove: Design) -> None:
    reader = Reader()
    before = reader.update(alcove)
    brighter = alcove.with_parts({lamp.id: replace(lamp, dimming=0.01) for lamp in alcove.of(Lamp)})
    assert reader.update(brighter, quality="coarse").findings == before.findings
    assert reader.update(brighter).findings != before.findings


def test_a_first_coarse_reading_has_findings_of_its_own(alcove: Design) -> None:
    assert Reader().update(alcove, quality="coarse").findings


def test_a_season_reads_the_parts_that_are_there_then() -> None:
    nook = load(DEMOS / "basement-nook.fern")
    winter, summer = (read(nook, season=season) for season in ("winter", "summer"))
    assert winter.season == "winter" and summer.season == "summer"
    assert winter.power.headline != summer.power.headline or winter.cost != summer.cost


@pytest.mark.parametrize("demo", sorted(DEMOS.glob("*.fern")), ids=lambda path: path.stem)
def test_every_reading_of_every_demo_explains_itself(demo: Path) -> None:
    found = read(load(demo))
    for row in found.rows():
        assert row.method.method and row.method.source, row
        assert row.value is None or row.low <= row.value <= row.high, row
        assert row.subject in SUBJECTS
        assert row.line.render("metric") and row.line.render("us")
    assert json.loads(json.dumps(found.to_json()))["design"] == found.design.name


def test_an_empty_room_says_what_is_missing_instead_of_numbers() -> None:
    found = read(load(DEMOS / "empty-room.fern"))
    for name in SUBJECTS:
        subject = found.subject(name)
        assert subject.headline is not None or subject.nothing.render()


def test_a_part_far_outside_the_room_is_read_without_a_fault(alcove: Design) -> None:
    tray = next(alcove.of(Tray))
    far = replace(tray, place=Place(host="room", x=90.0, y=90.0, z=50.0))
    loose = {part.id: None for part in alcove.carried(tray.id)}
    assert read(alcove.with_parts({tray.id: far, **loose})).fit.rows
