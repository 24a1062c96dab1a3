"""Adding parts one after the other as a beginner would: each lands where it makes sense.

Places themselves are tested in tests/core/test_placing.py.
"""

from __future__ import annotations

import pytest

from core.air.flows import JETS
from core.catalogue import free_name, load_catalogue, new_design
from core.model import Design, Fan, Lamp, Plants, ShelfUnit, Tray
from core.placement import Placement
from core.readings import Reader
from core.states import State
from gui.adding import entry_for, shelf_entries, with_added
from gui.document import Document
from gui.editing import Editing
from gui.view import View

CATALOGUE = load_catalogue()
SYSTEMS = ("metric", "us")


def added(system: str, *keys: str) -> tuple[Design, View]:
    document, view = Document(new_design(system, groups=CATALOGUE.plant_groups)), View()
    editing, refused = Editing(document, view, CATALOGUE), []
    editing.refused.connect(refused.append)
    for key in keys:
        assert editing.add(key), refused
    return document.committed, view


@pytest.mark.parametrize("system", SYSTEMS)
def test_enclosure_and_shelf_unit_stand_with_nothing_to_mend(system):
    design, _ = added(system, "enclosure", "shelf-unit")

    unit, *_ = design.of(ShelfUnit)
    assert Placement(design).inside(unit.id)
    found = Reader(flows=JETS).update(design).findings
    assert {item.state for item in found} <= {State.CAUTION}


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("first", [("enclosure", "shelf-unit"), ("shelf-unit",)])
def test_shelf_tray_plants_and_board_make_a_lit_level(system, first):
    design, view = added(system, *first, "tray", "plants", "board")

    unit, tray = next(design.of(ShelfUnit)), next(design.of(Tray))
    plants, lamp = next(design.of(Plants)), next(design.of(Lamp))
    assert (tray.place.host, tray.place.level) == (unit.id, 1)
    assert plants.place.host == tray.id
    assert Placement(design).level_of(lamp.id) == (unit.id, 1) == view.level
    rows = Reader(flows=JETS).update(design).rows()
    zone = next(row for row in rows if row.place == plants.id and row.name == "ppfd")
    assert zone.value > 30.0, zone.value


def test_a_fan_finds_room_beside_the_shelf_unit():
    design, _ = added("metric", "enclosure", "shelf-unit", "tray", "plants", "board", "fan")

    fan = next(design.of(Fan))
    assert Placement(design).inside(fan.id)


def test_trays_fill_the_unit_upward_and_have_names_of_their_own():
    design, _ = added("metric", "enclosure", "shelf-unit", "tray", "tray", "tray")

    trays = sorted(design.of(Tray), key=lambda tray: tray.id)
    assert [tray.name for tray in trays] == ["Tray", "Tray 2", "Tray 3"]
    assert [tray.place.level for tray in trays] == [1, 2, 3]


def test_the_chosen_level_of_the_unit_goes_before_its_lowest():
    design, _ = added("metric", "enclosure", "shelf-unit")
    unit = next(design.of(ShelfUnit))

    design, tray = with_added(design, CATALOGUE, "tray", level=(unit.id, 3))

    assert design.part(tray).place.level == 3


def test_the_selected_unit_goes_before_the_other_ones_level():
    design, _ = added("metric", "shelf-unit", "shelf-unit")
    first, second = design.of(ShelfUnit)

    design, tray = with_added(design, CATALOGUE, "tray", level=(first.id, 2), near=second.id)

    assert (design.part(tray).place.host, design.part(tray).place.level) == (second.id, 1)


def test_plants_go_into_the_selected_tray():
    design, _ = added("metric", "shelf-unit", "tray", "tray")
    trays = list(design.of(Tray))

    for tray in trays:
        made, plants = with_added(design, CATALOGUE, "plants", near=tray.id)
        assert made.part(plants).place.host == tray.id


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_shelf_offers_undemanding_plants(system):
    assert entry_for("plants", CATALOGUE, system).fields["species"] == "ferns"


@pytest.mark.parametrize("system", SYSTEMS)
def test_what_the_shelf_offers_comes_in_the_systems_sizes(system):
    for entry in shelf_entries():
        assert system in entry_for(entry.key, CATALOGUE, system).systems


def test_a_name_in_use_is_counted_on():
    design, _ = added("metric", "shelf-unit", "tray")
    assert free_name("Tray", design) == "Tray 2"
