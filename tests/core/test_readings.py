"""The reader runs only what an edit touches, and what it keeps equals what it would compute."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from dataclasses import replace as with_fields
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pytest

import core.readings
from core.air.flows import JETS
from core.errors import DesignError
from core.light.reflected_rows import FINE
from core.model import Design, Lamp, Place, Plants, Tray, replace
from core.reading import SUBJECTS
from core.readings import ENGINES, Reader, Readings, read
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


def test_what_moves_along_its_shelf_is_weighed_again_since_it_leans_on_other_posts(
    alcove: Design, runs: Counter[str]
) -> None:
    reader = Reader()
    reader.update(alcove)
    for kind in (Lamp, Tray):
        reader.update(moved(alcove, kind), quality="coarse")
    assert runs["power"] == 1
    assert runs["fit"] == runs["weight"] == 3


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


def edited(design: Design, chance: Random) -> Design:
    """Return the design with one part moved, turned, set otherwise, doubled or taken away."""
    part = chance.choice(design.parts)
    place = part.place
    aside = {"x": place.x + chance.uniform(-0.2, 0.2), "y": place.y + chance.uniform(-0.2, 0.2)}
    more = {"id": design.new_id("more"), "place": replace(place, **aside)}
    edit = chance.choice(("move", "move", "turn", "set", "double", "remove"))
    new = {
        "move": lambda: replace(part, place=replace(place, **aside)),
        "turn": lambda: replace(part, place=replace(place, turn=(place.turn + 1) % 4)),
        "set": lambda: reset(part, chance),
        "double": lambda: replace(part, **more),
        "remove": lambda: None,
    }[edit]
    try:
        made = new()
        return design.with_parts({part.id if made is None else made.id: made})
    except DesignError:
        return design


def reset(part: Any, chance: Random) -> Any:
    if isinstance(part, Lamp):
        return replace(part, dimming=chance.uniform(0.1, 1.0))
    if isinstance(part, Plants):
        return replace(part, leaf_high=part.leaf_high + chance.uniform(0.0, 0.1))
    return replace(part, mass=chance.uniform(0.0, 5.0))


def same(a: Any, b: Any) -> bool:
    """Compare plain data, numbers to 1e-9."""
    if isinstance(a, dict):
        return a.keys() == b.keys() and all(same(a[key], b[key]) for key in a)
    if isinstance(a, list):
        return len(a) == len(b) and all(map(same, a, b))
    if isinstance(a, float) and isinstance(b, float):
        return a == pytest.approx(b, rel=1e-9, abs=1e-12)
    return bool(a == b)


def maps(found: Readings) -> list[Any]:
    """Return every array that a drawing shows."""
    light = [one.rows for one in (*found.light.zones, *found.light.levels)]
    lowest = [zone.lowest.rows for zone in found.light.zones]
    return [*light, *lowest, *(zone.speeds for zone in found.air.zones), found.power.profile.watts]


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("demo", sorted(DEMOS.glob("*.fern")), ids=lambda path: path.stem)
def test_after_any_edits_what_is_kept_equals_what_would_be_computed_afresh(
    demo: Path, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Findings are left out: they are made of all this, and stay during a drag on purpose."""
    monkeypatch.setattr(core.readings, "find", lambda look: ())
    chance, design, reader = Random(seed), load(demo), Reader()
    for _ in range(8 if design.parts else 0):
        design = edited(design, chance)
        season = chance.choice(design.seasons).id
        kept = reader.update(design, quality="coarse", season=season)
        fresh = read(design, quality="coarse", season=season)
        assert same(kept.to_json(), fresh.to_json())
        for a, b in zip(maps(kept), maps(fresh), strict=True):
            np.testing.assert_allclose(a, b, rtol=1e-9, atol=1e-12)


def test_going_back_to_where_a_drag_began_reads_nothing_again(
    alcove: Design, runs: Counter[str]
) -> None:
    reader = Reader()
    before = reader.update(alcove)
    reader.update(moved(alcove, Lamp), quality="coarse")
    runs.clear()
    assert reader.update(alcove).light is before.light
    assert runs["light"] == 0


def test_findings_stay_while_something_is_dragged_and_follow_after(alcove: Design) -> None:
    reader = Reader()
    before = reader.update(alcove)
    brighter = alcove.with_parts({lamp.id: replace(lamp, dimming=0.01) for lamp in alcove.of(Lamp)})
    assert reader.update(brighter, quality="coarse").findings == before.findings
    assert reader.update(brighter).findings != before.findings


def test_a_first_coarse_reading_has_findings_of_its_own(alcove: Design) -> None:
    assert Reader().update(alcove, quality="coarse").findings


def test_the_first_final_reading_of_a_program_is_as_fine_as_any() -> None:
    """In a fresh process nothing is compiled yet, and nobody else will see to it."""
    top = Path(core.readings.__file__).parents[1]
    told = subprocess.run(
        [sys.executable, "-c", _FIRST], cwd=top, capture_output=True, text=True, check=True
    )
    assert float(told.stdout) <= FINE


_FIRST = """
from core.readings import read
from core.storage import load
print(read(load("resources/demos/starter.fern")).light.survey.reflected.patch)
"""


def test_a_season_reads_the_parts_that_are_there_then() -> None:
    nook = load(DEMOS / "basement-nook.fern")
    winter, summer = (read(nook, season=season, flows=JETS) for season in ("winter", "summer"))
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
