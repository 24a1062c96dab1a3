"""What is carried in and the order of assembly: the readings' own numbers, as words."""

from __future__ import annotations

from pathlib import Path

import resources
from core.air.flows import JETS
from core.model import Corner, replace
from core.readings import Reader, Readings
from core.storage import load
from core.summary.blocks import Table
from core.summary.carrying import carry_table, carrying_in, order_of_assembly
from core.summary.tables import texts

DEMOS = Path(resources.__file__).parent / "demos"


def readings_of(demo: str, *way_in: Corner) -> Readings:
    design = load(DEMOS / f"{demo}.fern")
    room = replace(design.room, way_in=way_in)
    return Reader(flows=JETS).update(design.having(room=room), quality="coarse")


def rows(table: Table | None) -> dict[str, tuple[str, ...]]:
    assert table is not None
    return {row[0]: row for row in list(texts(table))[1:]}


def test_every_rigid_thing_stands_with_the_door_it_goes_through() -> None:
    found = rows(carry_table(readings_of("basement-nook")))
    assert found["Shelf unit A and 1 alike"][1:5] == (
        "1.80 m × 1.20 m × 0.45 m", "Door", "1.20 m", "at most 1.95 m",
    )  # fmt: skip
    assert {"Feed reservoir", "Longest frame bar", "Fogger"} <= set(found)


def test_where_a_corner_is_tighter_than_the_door_the_corner_is_told() -> None:
    """Corridors of 0.7 m under 2.3 m: two of 0.7 m let 1.98 m round, a little less if thick."""
    found = rows(carry_table(readings_of("basement-nook", Corner(before=0.7, after=0.7))))
    assert found["Longest frame bar"][2] == "corner 1"


def test_the_order_of_assembly_is_numbered() -> None:
    steps = [step.text for step in order_of_assembly(readings_of("basement-nook"))]
    assert steps[0] == "1. Put the frame of Enclosure together standing."
    assert steps[-1].startswith(f"{len(steps)}. Then the covers")


def test_an_empty_room_has_nothing_to_carry() -> None:
    assert carrying_in(readings_of("empty-room")) == ()
