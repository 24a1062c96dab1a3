"""Rows kept from the last time are those that would be computed again, and only those are kept."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from core.light import field_rows as keeping
from core.light.field_rows import FieldRows, field_rows, grid_points
from core.light.from_design import lamp_sources, shades_of
from core.light.receivers import receivers
from core.light.survey import COARSE_PITCH, survey
from core.model import Design, Lamp, Part, ShelfUnit, Tray, replace
from core.placement import Placement
from core.power.tree import PlugTree
from core.storage import load

ALCOVE = Path(__file__).parents[3] / "resources" / "demos" / "stair-alcove.fern"


@pytest.fixture(scope="module")
def alcove() -> Design:
    return load(ALCOVE)


def rows(design: Design, before: FieldRows | None = None) -> FieldRows:
    """Return the rows over the leaf tops of every zone."""
    placement = Placement(design)
    fields = [keeping.field(zone.area, zone.high, COARSE_PITCH) for zone in placement.zones]
    return field_rows(lamp_sources(placement), fields, shades_of(placement), before)


def moved(design: Design, part_id: str, by: float) -> Design:
    part = design.part(part_id)
    place = replace(part.place, x=part.place.x + by)
    return design.with_parts({part_id: replace(part, place=place)})


def alike(a: FieldRows, b: FieldRows) -> bool:
    return all(np.array_equal(x, y) for x, y in zip(a.maps, b.maps, strict=True))


@pytest.fixture
def computed(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """List how many sources each call to the rows was about."""
    calls: list[int] = []
    direct = keeping.direct_rows

    def counting(sources: list[object], *args: object, **words: object) -> object:
        calls.append(len(sources))
        return direct(sources, *args, **words)  # type: ignore[arg-type]

    monkeypatch.setattr(keeping, "direct_rows", counting)
    return calls


def test_grid_points_are_the_receivers_of_their_cells(alcove: Design) -> None:
    fields = rows(alcove).fields
    quick = grid_points(fields)
    checked = receivers([one.grid.points(one.z) for one in fields])
    for name in ("x", "y", "z", "nx", "ny", "nz", "start", "low", "high", "facing"):
        assert np.array_equal(getattr(quick, name), getattr(checked, name)), name
        assert getattr(quick, name).dtype == getattr(checked, name).dtype, name


def test_nothing_is_computed_when_nothing_has_changed(alcove: Design, computed: list[int]) -> None:
    first = rows(alcove)
    computed.clear()
    second = rows(alcove, first)
    assert computed == []
    assert all(a is b for a, b in zip(first.maps, second.maps, strict=True))


def test_a_dimmed_lamp_computes_nothing(alcove: Design, computed: list[int]) -> None:
    first = rows(alcove)
    computed.clear()
    lamp = next(alcove.of(Lamp))
    second = rows(alcove.with_parts({lamp.id: replace(lamp, dimming=0.3)}), first)
    assert computed == []
    assert all(a is b for a, b in zip(first.maps, second.maps, strict=True))


def test_a_moved_lamp_computes_fewer_lamps_than_there_are(
    alcove: Design, computed: list[int]
) -> None:
    first = rows(alcove)
    computed.clear()
    after = moved(alcove, next(alcove.of(Lamp)).id, 0.02)
    second = rows(after, first)
    assert len(computed) == 1 and computed[0] < sum(len(lamp.sources) for lamp in second.lamps)


@pytest.mark.parametrize("kind", [Lamp, Tray, ShelfUnit])
def test_a_moved_part_gives_the_same_light_as_computed_afresh(
    alcove: Design, kind: type[Part]
) -> None:
    first = rows(alcove)
    after = moved(alcove, next(alcove.of(kind)).id, 0.02)
    second = rows(after, first)
    assert alike(second, rows(after))
    assert not alike(second, first)


def test_one_lamp_more_is_computed_afresh(alcove: Design) -> None:
    first = rows(alcove)
    lamp = next(alcove.of(Lamp))
    place = replace(lamp.place, y=lamp.place.y + 0.05)
    more = alcove.with_parts({"another": replace(lamp, id="another", place=place)})
    assert alike(rows(more, first), rows(more))


def test_zones_that_get_the_same_light_are_kept_as_they_are(alcove: Design) -> None:
    """All of them when nothing has changed; reflections carry a moved lamp's light everywhere."""
    first = survey(Placement(alcove), PlugTree(alcove), coarse=True)
    again = survey(Placement(alcove), PlugTree(alcove), coarse=True, before=first)
    assert all(a is b for a, b in zip(first.zones, again.zones, strict=True))
    after = moved(alcove, next(alcove.of(Lamp)).id, 0.02)
    second = survey(Placement(after), PlugTree(after), coarse=True, before=first)
    assert not any(a is b for a, b in zip(first.zones, second.zones, strict=True))
