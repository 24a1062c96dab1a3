"""The form: every field of every kind reads and writes the model, one undo step at a time."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from core.catalogue import Catalogue, load_catalogue, new_design
from core.errors import FernwrightError
from core.model import Design, Enclosure, FromFlux, Lamp, ShelfUnit, Strip, replace
from core.model.kinds import FIXTURE_KINDS, PART_KINDS
from core.placement import Placement
from core.storage import load
from core.units import KINDS
from gui.adding import offers, with_added
from gui.document import Document
from gui.fields import ChoiceEdit, Field, LineField, TextEdit, ToggleEdit
from gui.files import DEMOS as DEMO_FOLDER
from gui.form_design import design_sections, fixture_sections
from gui.form_fields import part_sections
from gui.form_paths import FormField, Section
from gui.link import Link
from gui.part_form import PartForm
from gui.quantity_edit import HoursEdit, QuantityEdit
from gui.theme import Theme
from gui.view import View
from tests.gui.windows import DEMOS


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="module")
def demos() -> dict[str, Design]:
    return {name: load(Path(DEMO_FOLDER) / f"{name}.fern") for name in DEMOS}


@pytest.fixture(scope="module")
def everything(catalogue: Catalogue) -> Design:
    """A design with at least one thing of every kind."""
    design = new_design(groups=catalogue.plant_groups)
    added: set[str] = set()
    wanted = [*offers(catalogue, "metric")]
    wanted.sort(key=lambda offer: not offer.key.startswith("box-"))
    for offer in wanted:
        kind = "feed" if offer.key == "feed" else catalogue.get(offer.key).kind
        if kind in added:
            continue
        try:
            design, _ = with_added(design, catalogue, offer.key)
            added.add(kind)
        except FernwrightError:
            continue
    return design


def form(qtbot: QtBot, theme: Theme, catalogue: Catalogue, design: Design) -> PartForm:
    made = PartForm(theme, Document(design), View(), catalogue)
    qtbot.addWidget(made)
    made.resize(344, 500)
    made.show()
    return made


def shown(made: PartForm, *ids: str) -> PartForm:
    made._view.select(ids)
    QApplication.processEvents()
    return made


def document(made: PartForm) -> Document:
    return made._document


def give(qtbot: QtBot, field: Field, text: str) -> None:
    assert isinstance(field, LineField)
    field.editor.setFocus()
    field.editor.selectAll()
    qtbot.keyClicks(field.editor, text)
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)


def choose(field: Field, key: object) -> None:
    assert isinstance(field, ChoiceEdit)
    index = field._keys.index(key)
    field.editor.setCurrentIndex(index)
    field.editor.activated.emit(index)


def all_sections(design: Design, catalogue: Catalogue) -> Iterator[tuple[Any, tuple[Section, ...]]]:
    for part in design.parts:
        yield part, part_sections(design, part, catalogue)
    for fixture in design.room.fixtures:
        yield fixture, fixture_sections(design, fixture)
    yield design, design_sections(design)


def all_fields(design: Design, catalogue: Catalogue) -> Iterator[tuple[Any, FormField]]:
    for thing, sections in all_sections(design, catalogue):
        for section in sections:
            for spec in section.fields:
                yield thing, spec


def test_every_kind_of_the_model_has_a_form(everything: Design, catalogue: Catalogue) -> None:
    kinds = {part.kind for part in everything.parts}
    assert kinds == set(PART_KINDS)
    assert {fixture.kind for fixture in everything.room.fixtures} == set(FIXTURE_KINDS)
    for thing, sections in all_sections(everything, catalogue):
        assert sum(len(section.fields) for section in sections) >= 5, thing


@pytest.mark.parametrize("demo", [*DEMOS, "everything"])
def test_giving_a_field_its_own_value_changes_nothing(
    demos: dict[str, Design], everything: Design, catalogue: Catalogue, demo: str
) -> None:
    design = demos.get(demo, everything)
    for thing, spec in all_fields(design, catalogue):
        value = spec.get(design, thing)
        if spec.kind == "choice" and value not in [k for k, _ in _options(spec, design, thing)]:
            continue
        if spec.key in ("where", "output", "catalogue", "frame.catalogue", "practice.region"):
            continue  # these set other values too
        if value is None and not spec.optional:
            continue  # shelves of one unit that differ
        assert spec.put(design, thing, value) == design or spec.key == "species", spec.key


def _options(spec: FormField, design: Design, thing: Any) -> list[tuple[Any, str]]:
    return list(spec.options(design, thing)) if spec.options else []


def test_every_field_has_words_a_tip_and_a_known_unit(
    everything: Design, catalogue: Catalogue
) -> None:
    for thing, sections in all_sections(everything, catalogue):
        keys = [spec.key for section in sections for spec in section.fields]
        assert len(keys) == len(set(keys)), thing
    for _, spec in all_fields(everything, catalogue):
        assert spec.label and spec.tip and len(spec.tip) < 110, spec.key
        assert spec.kind in ("quantity", "text", "choice", "tick", "hours")
        assert spec.kind != "quantity" or spec.unit in KINDS, spec.key


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_form_of_every_thing_opens_with_names_for_everything(
    qtbot: QtBot, theme: Theme, everything: Design, catalogue: Catalogue, system: str
) -> None:
    design = everything.having(units=system)
    made = form(qtbot, theme, catalogue, design)
    for thing in (*design.parts, *design.room.fixtures):
        shown(made, thing.id)
        assert made.fields["name"].editor.text() == thing.name
        for key, field in made.fields.items():
            assert field.editor.accessibleName(), key
            assert field.editor.toolTip(), key
            assert not field.problem


def test_a_typed_length_becomes_one_undo_step(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = shown(form(qtbot, theme, catalogue, demos["starter"]), "lamp-1")
    doc = document(made)
    before = doc.design
    lamp = next(doc.design.of(Lamp))
    shown(made, lamp.id)
    give(qtbot, made.fields["width"], "52 cm")
    assert doc.design.part(lamp.id).width == pytest.approx(0.52)  # type: ignore[union-attr]
    assert doc.undo_stack.count() == 1
    assert doc.undo_stack.undoText() == f"Length of {lamp.name}"
    doc.undo_stack.undo()
    assert doc.design == before
    assert made.fields["width"].editor.text() == f"{lamp.width:.2f} m"
    doc.undo_stack.redo()
    assert made.fields["width"].editor.text() == "0.52 m"


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("width", "0", "above 0"),
        ("width", "eighty", "length"),
        ("dimming", "140 %", "100"),
        ("count", "2.5", "whole"),
        ("hours", "7 o'clock", "07:00"),
        ("power_factor", "0", "above 0"),
    ],
)
def test_wrong_input_stays_with_the_reason_below_it(
    qtbot: QtBot,
    theme: Theme,
    catalogue: Catalogue,
    demos: dict[str, Design],
    key: str,
    text: str,
    words: str,
) -> None:
    made = form(qtbot, theme, catalogue, demos["starter"])
    lamp = next(document(made).design.of(Lamp))
    shown(made, lamp.id)
    field = made.fields[key]
    give(qtbot, field, text)
    assert words in field.problem
    assert field.editor.accessibleDescription() == field.problem
    assert field.editor.text() == text  # type: ignore[attr-defined]
    assert document(made).undo_stack.count() == 0


def test_a_rule_between_fields_is_told_at_the_field(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    tray = next(p for p in document(made).design.parts if p.kind == "tray")
    shown(made, tray.id)
    give(qtbot, made.fields["fill"], "1 m")
    assert "rim" in made.fields["fill"].problem
    assert document(made).undo_stack.count() == 0


def test_several_parts_are_edited_together_in_one_step(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    doc = document(made)
    lamps = [lamp.id for lamp in doc.design.of(Lamp)][:3]
    shown(made, *lamps)
    assert "name" not in made.fields
    give(qtbot, made.fields["dimming"], "40 %")
    assert doc.undo_stack.count() == 1
    assert {doc.design.part(i).dimming for i in lamps} == {0.4}  # type: ignore[union-attr]
    tray = next(p.id for p in doc.design.parts if p.kind == "tray")
    shown(made, lamps[0], tray)
    assert "dimming" not in made.fields and "price" in made.fields


def test_values_that_differ_show_nothing_and_enter_writes_nothing(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    doc = document(made)
    first, second = list(doc.design.of(Lamp))[:2]
    doc.apply_parts("Dim", {first.id: replace(first, dimming=0.31)})
    shown(made, first.id, second.id)
    field = made.fields["dimming"]
    assert isinstance(field, QuantityEdit) and field.editor.text() == ""
    qtbot.keyClick(field.editor, Qt.Key.Key_Return)
    assert doc.undo_stack.count() == 1


def test_the_drop_is_worked_out_and_moves_the_lamp(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["starter"])
    doc = document(made)
    lamp = next(doc.design.of(Lamp))
    shown(made, lamp.id)
    field = made.fields["drop"]
    assert isinstance(field, QuantityEdit)
    old = field.value
    give(qtbot, field, f"{old - 0.05:.4f} m")
    now = Placement(doc.design)
    assert now.box(lamp.id).lo[2] == pytest.approx(
        Placement(demos["starter"]).box(lamp.id).lo[2] - 0.05, abs=1e-4
    )
    assert field.value == pytest.approx(old - 0.05, abs=1e-4)


def test_the_basis_of_a_lamps_light_brings_its_own_fields(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["starter"])
    doc = document(made)
    lamp = next(doc.design.of(Lamp))
    shown(made, lamp.id)
    for basis, key in (
        ("lumens", "output.lumens"),
        ("reading", "output.ppfd"),
        ("watts", "output.efficacy"),
        ("ppf", "output.ppf"),
    ):
        choose(made.fields["output"], basis)
        assert key in made.fields, basis
    give(qtbot, made.fields["output.ppf"], "112")
    output = doc.design.part(lamp.id).output  # type: ignore[union-attr]
    assert isinstance(output, FromFlux) and output.ppf == 112.0


def test_plugs_chains_and_what_is_taken(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    doc = document(made)
    strip = next(doc.design.of(Strip))
    lamp = next(doc.design.of(Lamp))
    shown(made, lamp.id)
    choose(made.fields["plug"], strip.id)
    assert doc.design.part(lamp.id).plug.into == strip.id  # type: ignore[union-attr]
    assert "plug.lead_length" in made.fields
    choose(made.fields["plug"], ("nothing",))
    assert made.fields["plug"].editor.currentText() == "not plugged in yet"  # type: ignore[attr-defined]
    assert doc.design.part(lamp.id).plug is None  # type: ignore[union-attr]
    doc.apply_parts("Forget", {strip.id: replace(strip, limit=None)})
    shown(made, strip.id)
    limit = made.fields["limit"]
    assert isinstance(limit, QuantityEdit) and limit.taken
    assert limit.editor.text() == "≈ 10 A, taken"


def test_a_ring_of_plugs_is_refused_and_the_choice_goes_back(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    doc = document(made)
    lamps = {lamp.id: lamp for lamp in doc.design.of(Lamp)}
    second = next(lamp for lamp in lamps.values() if lamp.plug and lamp.plug.into in lamps)
    first = lamps[second.plug.into]  # type: ignore[union-attr]
    shown(made, first.id)
    into = made.fields["plug"]
    assert isinstance(into, ChoiceEdit)
    old = into.value
    choose(into, second.id)
    assert "plugged into itself" in into.problem
    assert into.value == old
    assert doc.undo_stack.count() == 0


def test_where_a_part_is_can_be_chosen(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    doc = document(made)
    unit = next(doc.design.of(ShelfUnit))
    tray = next(p for p in doc.design.parts if p.kind == "tray" and p.place.host == unit.id)
    shown(made, tray.id)
    wanted = 4 if tray.place.level != 4 else 3
    choose(made.fields["where"], (unit.id, "stands", wanted, None))
    assert Placement(doc.design).level_of(tray.id) == (unit.id, wanted)
    choose(made.fields["where"], ("room", "stands", None, None))
    assert doc.design.part(tray.id).place.host == "room"
    assert Placement(doc.design).box(tray.id).lo[2] == pytest.approx(0.0)


def test_every_place_that_is_offered_can_be_taken(everything: Design, catalogue: Catalogue) -> None:
    for part in everything.parts:
        for spec in part_sections(everything, part, catalogue)[0].fields:
            if spec.key == "where":
                for where, _ in _options(spec, everything, part):
                    spec.put(everything, part, where)


def test_levels_are_added_moved_and_taken_away(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["starter"])
    doc = document(made)
    unit = next(doc.design.of(ShelfUnit))
    shown(made, unit.id)
    count = len(unit.levels)
    links = {link.text(): link for link in made.findChildren(Link)}
    links["Add a level"].click()
    assert len(doc.design.part(unit.id).levels) == count + 1  # type: ignore[union-attr]
    assert f"levels.{count}.z" in made.fields
    links = {link.text(): link for link in made.widget().findChildren(Link)}
    links["Take the highest level away"].click()
    assert len(doc.design.part(unit.id).levels) == count  # type: ignore[union-attr]
    give(qtbot, made.fields["levels.0.z"], "9 m")
    assert "rise" in made.fields["levels.0.z"].problem


def test_covers_linings_doors_and_liner_of_the_enclosure(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    doc = document(made)
    box = doc.design.enclosure
    assert box is not None
    shown(made, box.id)
    choose(made.fields["cover.back"], "acrylic-3")
    choose(made.fields["lining.back"], "lining-foil")
    now = doc.design.enclosure
    assert isinstance(now, Enclosure) and now.cover("back").sheet.catalogue == "acrylic-3"  # type: ignore[union-attr]
    assert any(x.face == "back" and x.sheet.catalogue == "lining-foil" for x in now.linings)
    choose(made.fields["cover.back"], "open")
    assert doc.design.enclosure.cover("back") is None  # type: ignore[union-attr]
    count = len(box.doors)
    links = {link.text(): link for link in made.widget().findChildren(Link)}
    links["Add a door"].click()
    assert len(doc.design.enclosure.doors) == count + 1  # type: ignore[union-attr]
    assert f"doors.{count}.width" in made.fields


def test_what_a_plant_group_wants_is_the_designs_own(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["starter"])
    doc = document(made)
    plants = next(p for p in doc.design.parts if p.kind == "plants")
    shown(made, plants.id)
    key = f"group.{plants.species}.ppfd"
    give(qtbot, made.fields[f"{key}.high"], "150")
    give(qtbot, made.fields[f"{key}.low"], "50")
    group = doc.design.group(plants.species)
    assert group is not None and group.ppfd is not None
    assert (group.ppfd.low, group.ppfd.high, group.quality) == (50.0, 150.0, "entered")
    give(qtbot, made.fields[f"{key}.low"], "200")
    assert "must not be above" in made.fields[f"{key}.low"].problem
    choose(made.fields["species"], "herbs")
    assert doc.design.part(plants.id).species == "herbs"  # type: ignore[union-attr]


def test_a_part_can_be_away_in_a_season(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["starter"])
    doc = document(made)
    lamp, season = next(doc.design.of(Lamp)), doc.design.seasons[-1].id
    shown(made, lamp.id)
    field = made.fields[f"away.{season}"]
    assert isinstance(field, ToggleEdit)
    field.editor.click()
    assert lamp.id not in doc.design.at(season, "day").by_id
    field.editor.click()
    assert doc.design == demos["starter"]


def test_with_nothing_selected_the_room_and_the_design_can_be_set(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["empty-room"])
    doc = document(made)
    heads = [label.text() for label in made.findChildren(QLabel)]
    assert "Room and design" in heads
    give(qtbot, made.fields["room.side.0"], "4.2 m")
    assert max(x for x, _ in doc.design.room.outline) == pytest.approx(4.2)
    give(qtbot, made.fields["room.height"], "2.3 m")
    give(qtbot, made.fields["targets.walkway"], "75 cm")
    give(qtbot, made.fields["prices.energy"], "0.28")
    give(qtbot, made.fields["prices.night_from"], "21:30")
    choose(made.fields["practice.region"], "north-america")
    assert doc.design.practice.voltage == 120.0
    assert doc.design.prices.night_from == 21 * 60 + 30
    name = made.fields["name"]
    assert isinstance(name, TextEdit)
    give(qtbot, name, "My alcove")
    assert doc.design.name == "My alcove"
    assert doc.undo_stack.count() == 7
    for _ in range(7):
        doc.undo_stack.undo()
    assert doc.design == demos["empty-room"]


def test_circuits_and_seasons_come_and_go(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["empty-room"])
    doc = document(made)
    before = len(doc.design.room.circuits), len(doc.design.seasons)
    for words in ("Add a circuit", "Add a season"):
        {link.text(): link for link in made.widget().findChildren(Link)}[words].click()
    assert (len(doc.design.room.circuits), len(doc.design.seasons)) == (
        before[0] + 1,
        before[1] + 1,
    )
    assert f"room.circuits.{before[0]}.breaker" in made.fields
    for words in ("Take this circuit away", "Take this season away"):
        links = [link for link in made.widget().findChildren(Link) if link.text() == words]
        links[-1].click()
    assert (len(doc.design.room.circuits), len(doc.design.seasons)) == before


def test_fields_follow_a_drag_and_the_hours_read_as_spoken(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["starter"])
    doc = document(made)
    lamp = next(doc.design.of(Lamp))
    shown(made, lamp.id)
    place = replace(lamp.place, x=lamp.place.x + 0.11)
    doc.propose({lamp.id: replace(lamp, place=place)})
    field = made.fields["place.x"]
    assert isinstance(field, QuantityEdit) and field.value == pytest.approx(place.x)
    doc.withdraw()
    assert field.value == pytest.approx(lamp.place.x)
    hours = made.fields["hours"]
    assert isinstance(hours, HoursEdit)
    give(qtbot, hours, "7 to 9, 5 pm-10 pm")
    periods = doc.design.part(lamp.id).hours.periods  # type: ignore[union-attr]
    assert [(p.on, p.off) for p in periods] == [(420, 540), (1020, 1320)]


def test_another_catalogue_entry_keeps_place_name_and_plug(
    qtbot: QtBot, theme: Theme, catalogue: Catalogue, demos: dict[str, Design]
) -> None:
    made = form(qtbot, theme, catalogue, demos["stair-alcove"])
    doc = document(made)
    lamp = next(lamp for lamp in doc.design.of(Lamp) if lamp.form == "board")
    shown(made, lamp.id)
    choose(made.fields["catalogue"], "board-60x40-100w")
    now = doc.design.part(lamp.id)
    assert isinstance(now, Lamp) and now.watts == 100.0
    assert (now.name, now.plug, now.place, now.hours) == (
        lamp.name,
        lamp.plug,
        lamp.place,
        lamp.hours,
    )


def test_a_form_that_nobody_sees_waits_and_then_shows_what_is_selected(
    qtbot: QtBot, theme: Theme
) -> None:
    document, view = Document(load(DEMO_FOLDER / "starter.fern")), View()
    form = PartForm(theme, document, view, load_catalogue())
    qtbot.addWidget(form)
    view.select(("board",))
    assert form.fields == {}

    form.show()

    dimming = form.fields["dimming"]
    assert isinstance(dimming, QuantityEdit) and dimming.value == pytest.approx(0.8)
