"""The parts list: equal parts together, prices added up, nothing counted twice."""

from __future__ import annotations

from typing import Any

import pytest

from core.materials.parts import stem
from core.materials.reading import MaterialsReadings, inputs, read
from core.model import (
    Bay,
    Change,
    Cooler,
    Design,
    Enclosure,
    Lamp,
    Lead,
    Opening,
    Place,
    PlantGroup,
    Plants,
    Pots,
    Room,
    Tray,
)
from core.study import study

FERNS = PlantGroup(key="ferns", name="Ferns")


def tray(name: str, width: float = 1.0, **more: Any) -> Tray:
    key = name.lower().replace(" ", "-").replace("#", "")
    return Tray(id=key, name=name, width=width, depth=0.4, height=0.05, **more)


def listed(*parts: Any) -> MaterialsReadings:
    design = Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=parts, groups=(FERNS,))
    return read(study(design))


def test_equal_parts_are_one_line_and_other_sizes_or_prices_are_not() -> None:
    found = listed(
        tray("Tray 1", price=12.0), tray("Tray 2", price=12.0), tray("Tray B", price=12.0),
        tray("Tray 4", width=0.5, price=12.0), tray("Tray 5", price=9.0),
    )  # fmt: skip
    assert [(item.name, item.count, item.cost) for item in found.items] == [
        ("Tray", 3, 36.0),
        ("Tray", 1, 12.0),
        ("Tray", 1, 9.0),
    ]
    assert found.items[0].ids == ("tray-1", "tray-2", "tray-b")
    assert found.total == pytest.approx(57.0)
    assert found.headline is not None
    assert found.headline.line.render() == "57.00 € for parts"


def test_one_catalogue_entry_is_one_line_whatever_its_parts_are_called() -> None:
    found = listed(tray("Left tray", catalogue="tray-1"), tray("Right tray", catalogue="tray-1"))
    assert [item.count for item in found.items] == [2]


@pytest.mark.parametrize(
    ("name", "short"),
    [
        ("Tray 2", "Tray"),
        ("Tray A1", "Tray"),
        ("Shelf unit B", "Shelf unit"),
        ("Board 1 left", "Board"),
        ("Timer, levels 1 and 2", "Timer"),
        ("Feed reservoir", "Feed reservoir"),
        ("TrayA", "TrayA"),
        ("3 boards", "3 boards"),
        (", left", ", left"),
    ],
)
def test_a_line_is_named_without_the_number_of_its_parts(name: str, short: str) -> None:
    assert stem(name) == short


def test_owned_parts_cost_nothing_and_unpriced_ones_are_counted() -> None:
    found = listed(
        tray("Tray 1", price=12.0), tray("Tray 2", price=12.0, owned=True),
        tray("Basin 1", width=0.6), tray("Basin 2", width=0.6),
        tray("Old 1", width=0.7, owned=True),
    )  # fmt: skip
    trays, basins, old = found.items
    assert (trays.count, trays.owned, trays.to_buy, trays.cost) == (2, 1, 1, 12.0)
    assert (basins.cost, old.cost) == (None, 0.0)
    assert (found.total, found.unpriced) == (12.0, 1)
    assert found.headline is not None
    assert found.headline.line.render() == "12.00 € for parts; no price for 1 of 3 lines"


def test_space_and_holes_are_not_bought_and_pots_are_counted_each() -> None:
    box = Enclosure(id="box", name="Box", width=2.0, depth=1.0, height=2.0)
    zones = [
        Plants(
            id=key, name="Zone", species="ferns", width=0.2, depth=0.2,
            pots=Pots(count=count), place=Place(host="box"), price=price,
        )
        for key, count, price in (("a", 6, None), ("b", 4, 30.0))
    ]  # fmt: skip
    flap = Opening(id="o", name="Flap", width=0.2, height=0.2,
                   place=Place(host="box", fixing="face", face="front"))  # fmt: skip
    found = listed(box, Bay(id="bay", name="Bay", width=0.5, depth=0.5, height=1.0), flap, *zones)
    assert [(item.kind, item.count, item.price) for item in found.items] == [
        ("enclosure", 1, None),
        ("pots", 10, None),
        ("plants", 1, 30.0),
    ]


def test_a_row_of_tubes_counts_its_watts_and_leads_go_by_length() -> None:
    row = Lamp(id="l", name="Tubes", form="tube", width=1.2, depth=0.03, height=0.03, watts=18.0,
               count=4)  # fmt: skip
    lead = Lead(id="lead", name="Lead 1", length=5.0, width=0.1, depth=0.1, height=0.1)
    tubes, leads = listed(row, lead).items
    assert tubes.watts == 72.0
    assert tubes.size.render() == "1.20 m × 0.33 m × 30 mm"
    assert leads.watts is None
    assert leads.size.render() == "5.00 m long"


def test_parts_that_are_absent_in_the_season_are_listed_all_the_same() -> None:
    cooler = Cooler(
        id="c", name="Cooler", width=0.4, depth=0.4, height=0.4, watts=700.0, cooling=2000.0,
        when=(Change(season="winter", absent=True),), price=250.0,
    )  # fmt: skip
    assert listed(cooler).total == 250.0


def test_an_empty_design_says_so() -> None:
    found = listed()
    assert found.headline is None
    assert found.nothing.render() == "no parts yet"


def test_inputs_are_the_parts_and_the_currency() -> None:
    design = Design(room=Room.rectangle(4.0, 3.0, 2.4), parts=(tray("Tray 1"),))
    dearer = design.with_parts({"tray-1": tray("Tray 1", price=3.0)})
    assert inputs(study(design)) == inputs(study(design.having(name="Other")))
    assert inputs(study(design)) != inputs(study(dearer))
