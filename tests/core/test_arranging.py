"""Parts in line, spread with equal gaps, and repeated in rows."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.arranging import MOST_COPIES, aligned, repeated, spread
from core.errors import DesignError
from core.model import Bay, Design, Lamp, Place, ShelfUnit
from core.placement import Placement
from core.storage import load

FOLDER = Path(__file__).parents[2] / "resources" / "demos"
EMPTY = load(FOLDER / "empty-room.fern")
GARAGE = load(FOLDER / "garage-bay.fern")

GRID = 4e-9
"""Places are kept to the nanometre, and sums of some of them compared. [m]"""

places = st.tuples(
    st.floats(0, 3), st.floats(0, 3), st.floats(0.1, 1), st.floats(0.1, 1), st.floats(0.1, 1)
)


def boxes_at(*sizes: tuple[float, float, float, float, float]) -> Design:
    """Return a room with bays of (x, y, width, depth, height)."""
    bays = {
        f"bay-{n}": Bay(
            id=f"bay-{n}", name=f"Bay {n}", place=Place(x=x, y=y), width=w, depth=d, height=h
        )
        for n, (x, y, w, d, h) in enumerate(sizes)
    }
    return EMPTY.with_parts(bays)


def spans(design: Design, axis: int) -> list[tuple[float, float]]:
    placement = Placement(design)
    boxes = [placement.box(bay.id) for bay in design.of(Bay)]
    return [(box.lo[axis], box.hi[axis]) for box in boxes]


def ids(design: Design) -> list[str]:
    return [bay.id for bay in design.of(Bay)]


@given(st.lists(places, min_size=2, max_size=6))
def test_edges_in_line_lie_where_the_outermost_did(sizes):
    design = boxes_at(*sizes)
    for edge, axis, end, pick in (
        ("left", 0, 0, min),
        ("right", 0, 1, max),
        ("front", 1, 0, min),
        ("back", 1, 1, max),
    ):
        line = pick(span[end] for span in spans(design, axis))
        after = design.with_parts(aligned(design, ids(design), edge))
        assert [span[end] for span in spans(after, axis)] == pytest.approx(
            [line] * len(sizes), abs=GRID
        )
        for now, was in zip(spans(after, 1 - axis), spans(design, 1 - axis), strict=True):
            assert now == pytest.approx(was, abs=GRID)


@given(st.lists(places, min_size=2, max_size=6))
def test_middles_in_line_lie_in_the_middle_of_all(sizes):
    design = boxes_at(*sizes)
    found = spans(design, 0)
    middle = (min(low for low, _ in found) + max(high for _, high in found)) / 2
    after = design.with_parts(aligned(design, ids(design), "middle x"))
    assert [(a + b) / 2 for a, b in spans(after, 0)] == pytest.approx(
        [middle] * len(sizes), abs=GRID
    )


@given(st.lists(places, min_size=3, max_size=6))
def test_spread_parts_have_equal_gaps_and_the_outermost_stay(sizes):
    design = boxes_at(*sizes)
    before = spans(design, 0)
    order = sorted(range(len(sizes)), key=lambda n: (sum(before[n]), f"bay-{n}"))
    after = spans(design.with_parts(spread(design, ids(design), "x")), 0)
    gaps = [after[b][0] - after[a][1] for a, b in pairwise(order)]
    assert gaps == pytest.approx([gaps[0]] * len(gaps), abs=GRID)
    assert after[order[0]] == before[order[0]]
    assert after[order[-1]] == before[order[-1]]


def test_one_part_is_in_line_with_itself_and_two_need_no_spreading() -> None:
    design = boxes_at((0, 0, 1, 1, 1), (2, 1, 1, 1, 1))
    assert aligned(design, ["bay-0"], "left") == {}
    assert spread(design, ["bay-0", "bay-1"], "x") == {}


def test_rows_of_copies_stand_a_step_apart_with_all_they_carry() -> None:
    unit = next(iter(GARAGE.of(ShelfUnit)))
    carried = len(list(GARAGE.carried(unit.id)))
    changes, tops = repeated(GARAGE, [unit.id], (3, 2), (1.5, 0.9))
    after = GARAGE.with_parts(changes)
    here, placement = Placement(GARAGE).box(unit.id).lo, Placement(after)
    shifts = {
        tuple(round(a - b, 6) for a, b in zip(placement.box(top).lo, here, strict=True))
        for top in tops
    }
    assert shifts == {
        (1.5, 0, 0), (3.0, 0, 0), (0, 0.9, 0), (1.5, 0.9, 0), (3.0, 0.9, 0)
    }  # fmt: skip
    assert [len(list(after.carried(top))) for top in tops] == [carried] * 5
    names = [part.name for part in after.parts]
    assert len(names) - len(set(names)) == len(GARAGE.parts) - len({p.name for p in GARAGE.parts})
    assert len(list(after.of(Lamp))) > len(list(GARAGE.of(Lamp)))


@pytest.mark.parametrize("counts", [(0, 1), (MOST_COPIES, 2)])
def test_no_or_too_many_copies_are_refused(counts: tuple[int, int]) -> None:
    unit = next(iter(GARAGE.of(ShelfUnit)))
    with pytest.raises(DesignError, match="must be from 1 to"):
        repeated(GARAGE, [unit.id], counts, (1.0, 1.0))


def test_the_enclosure_is_not_repeated() -> None:
    with pytest.raises(DesignError, match="one enclosure"):
        repeated(GARAGE, [GARAGE.enclosure.id], (2, 1), (1.0, 1.0))
