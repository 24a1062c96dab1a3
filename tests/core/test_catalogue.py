"""The catalogue is complete, sound and sourced; a user's own file adds to it or says why not."""

from __future__ import annotations

import json
import math
from itertools import pairwise
from pathlib import Path
from time import perf_counter
from typing import Any

import pytest

from core.catalogue import (
    CLASSES,
    Catalogue,
    Entry,
    free_name,
    load_catalogue,
    new_design,
    with_group,
)
from core.errors import DesignError, FileError, InputError
from core.model import Enclosure, Lamp, Place, Plants, Reservoir, Sheet
from core.model.kinds import FIXTURE_KINDS, PART_KINDS
from core.units import parse

CATALOGUE = load_catalogue()
AIR_DENSITY = 1.2
BY_KEY = {"argvalues": CATALOGUE.entries, "ids": lambda entry: entry.key}


def built(entry: Entry) -> Any:
    design = new_design(groups=CATALOGUE.plant_groups)
    if entry.kind in PART_KINDS:
        return CATALOGUE.make(entry.key, design, Place())
    if entry.kind in FIXTURE_KINDS:
        where: dict[str, Any] = {"wall": 1, "offset": 0.5}
        if entry.kind == "obstacle":
            where = {"x": 0.1, "y": 0.1}
        return CATALOGUE.make_fixture(entry.key, design, **where)
    return CATALOGUE.record(entry.key)


def numbers(value: Any) -> list[float]:
    if isinstance(value, bool):
        return []
    if isinstance(value, int | float):
        return [value]
    if isinstance(value, dict):
        return [number for item in value.values() for number in numbers(item)]
    return [number for item in value for number in numbers(item)] if isinstance(value, list) else []


@pytest.mark.parametrize("entry", **BY_KEY)
def test_every_entry_becomes_what_it_says(entry: Entry) -> None:
    assert isinstance(built(entry), CLASSES[entry.kind])


@pytest.mark.parametrize("entry", **BY_KEY)
def test_every_number_has_a_basis_and_a_quality(entry: Entry) -> None:
    bare = [
        name for name, value in entry.fields.items() if numbers(value) and not entry.basis_of(name)
    ]
    assert not bare
    assert entry.quality in ("published", "secondary", "memory", "common practice")


@pytest.mark.parametrize("entry", **BY_KEY)
def test_every_title_is_filled_in_for_both_systems(entry: Entry) -> None:
    for system in ("metric", "us"):
        assert "{" not in entry.title(system)


def test_titles_do_not_tell_two_entries_of_a_kind_alike() -> None:
    for kind in CLASSES:
        for system in ("metric", "us"):
            offered = [entry for entry in CATALOGUE.of_kind(kind) if system in entry.systems]
            titles = [entry.title(system) for entry in offered]
            if kind != "sheet":
                assert len(titles) == len(set(titles)), kind


def test_keys_are_used_once() -> None:
    keys = [entry.key for entry in CATALOGUE.entries]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize(
    ("kind", "least"),
    [
        ("lamp", 12),
        ("shelf-unit", 6),
        ("tray", 6),
        ("sheet", 12),
        ("cooler", 4),
        ("fogger", 3),
        ("heater", 4),
        ("lead", 4),
        ("strip", 3),
        ("timer", 3),
        ("frame", 6),
        ("liner", 3),
        ("face-door", 3),
        ("enclosure", 5),
        ("reservoir", 4),
        ("platform", 2),
        ("bay", 2),
        ("thermostat", 1),
        ("humidistat", 1),
        ("opening", 3),
        ("room-door", 2),
        ("room-window", 2),
        ("outlet", 2),
        ("obstacle", 2),
        ("plant-group", 14),
    ],
)
def test_there_is_enough_to_choose_from(kind: str, least: int) -> None:
    assert len(CATALOGUE.of_kind(kind)) >= least


def test_there_are_boards_tubes_spots_and_both_sorts_of_fan() -> None:
    for form in ("board", "tube", "spot"):
        assert len(CATALOGUE.of_kind("lamp", form=form)) >= 3
    assert len(CATALOGUE.of_kind("fan")) >= 4
    assert len(CATALOGUE.of_kind("duct-fan")) >= 4


@pytest.mark.parametrize("kind", ["lamp", "fan", "duct-fan", "shelf-unit", "tray", "enclosure"])
def test_sizes_of_the_system_in_use_come_first(kind: str) -> None:
    for system in ("metric", "us"):
        assert system in CATALOGUE.of_kind(kind, system)[0].systems


@pytest.mark.parametrize(
    "entry", [*CATALOGUE.of_kind("fan"), *CATALOGUE.of_kind("duct-fan")], ids=lambda e: e.key
)
def test_no_fan_blows_more_power_than_it_draws(entry: Entry) -> None:
    # Kinetic power of the air, Q³ρ/(2A²): a definition (checks/air.md 10).
    flow, area = entry.fields["flow"], math.pi * entry.fields["diameter"] ** 2 / 4
    assert flow**3 * AIR_DENSITY / (2 * area**2) < 0.5 * entry.fields["watts"]


@pytest.mark.parametrize("entry", CATALOGUE.of_kind("duct-fan"), ids=lambda e: e.key)
def test_duct_fan_curves_fall_from_free_flow_to_stall(entry: Entry) -> None:
    curve = entry.fields["curve"]
    assert curve[0] == {"pressure": 0.0, "flow": entry.fields["flow"]}
    assert curve[-1]["flow"] == 0.0
    assert all(a["pressure"] < b["pressure"] for a, b in pairwise(curve))
    assert all(a["flow"] > b["flow"] for a, b in pairwise(curve))
    assert all(p["pressure"] * p["flow"] < 0.5 * entry.fields["watts"] for p in curve)


@pytest.mark.parametrize("entry", CATALOGUE.of_kind("cooler"), ids=lambda e: e.key)
def test_coolers_move_two_to_four_times_their_watts(entry: Entry) -> None:
    # An efficiency ratio of 9 to 12 BTU/(h W) divided by 3.412: common practice, no source.
    assert 9 / 3.412 < entry.fields["cooling"] / entry.fields["watts"] < 12 / 3.412


@pytest.mark.parametrize(
    ("key", "u_value"),
    [
        # Two still-air films of 0.12 m² K/W and the sheet's resistance: climate check values.
        ("film-clear", 4.16),
        ("glass-4", 4.10),
        ("acrylic-3", 3.91),
        ("film-bubble", 2.56),
        ("film-double", 2.38),
        ("board-eps-25", 1.09),
        ("board-xps-25", 0.91),
        ("board-pir-25", 0.75),
    ],
)
def test_u_values_are_the_checked_ones(key: str, u_value: float) -> None:
    sheet = CATALOGUE.record(key)
    assert isinstance(sheet, Sheet)
    assert sheet.u_value == u_value
    assert sheet.catalogue == key


@pytest.mark.parametrize("sheet", CATALOGUE.sheets, ids=lambda sheet: str(sheet.catalogue))
def test_a_sheets_u_value_is_not_better_than_two_air_films_and_its_stuff_allow(
    sheet: Sheet,
) -> None:
    if sheet.u_value is not None:
        # Closed form: no sheet without resistance of its own beats 1/0.24 W/(m² K).
        assert sheet.u_value <= 1 / 0.24
        assert 1 / sheet.u_value - 0.24 <= sheet.thickness / 0.02 + 0.005


def test_plant_groups_say_where_their_ranges_come_from() -> None:
    for group in CATALOGUE.plant_groups:
        assert group.source
        assert group.quality in ("secondary", "memory", "common practice")


@pytest.mark.parametrize(
    "key", ["jewel-orchids", "low-light-orchids", "gesneriads", "rex-begonias"]
)
def test_a_group_without_a_known_light_range_has_none_and_says_so(key: str) -> None:
    group = next(group for group in CATALOGUE.plant_groups if group.key == key)
    assert group.ppfd is None
    assert group.daily_light is None
    assert "enter yours" in group.source


def test_plant_ranges_are_those_of_the_check_values() -> None:
    groups = {group.key: group for group in CATALOGUE.plant_groups}
    ferns, seedlings = groups["ferns"], groups["seedlings"]
    assert (ferns.temperature_day.low, ferns.temperature_day.high) == (18.0, 27.0)
    assert (ferns.humidity.low, ferns.humidity.high) == (0.6, None)
    assert (ferns.daily_light.low, ferns.daily_light.high) == (4.0, 6.0)
    assert (seedlings.daily_light.low, seedlings.daily_light.high) == (10.0, 12.0)
    assert seedlings.seedlings
    assert groups["lowland-pitchers"].temperature_night.low == 21.0


def test_every_plant_group_has_a_zone_to_place() -> None:
    species = {entry.fields["species"] for entry in CATALOGUE.of_kind("plants")}
    assert species == {group.key for group in CATALOGUE.plant_groups}


@pytest.mark.parametrize("entry", CATALOGUE.of_kind("plants"), ids=lambda e: e.key)
def test_the_pots_of_a_zone_fit_into_it(entry: Entry) -> None:
    fields = entry.fields
    pots = fields["pots"]
    across = math.floor(fields["width"] / pots["diameter"] + 1e-9)
    deep = math.floor(fields["depth"] / pots["diameter"] + 1e-9)
    assert pots["count"] <= across * deep


def test_a_made_part_has_a_free_id_and_name_and_the_wanted_changes() -> None:
    design = new_design()
    box = CATALOGUE.make("box-190x90x200", design, Place())
    design = design.with_parts({box.id: box})
    first = CATALOGUE.make("board-50x34-50w", design, Place(host=box.id, fixing="hung", z=0.1))
    design = design.with_parts({first.id: first})
    second = CATALOGUE.make("board-50x34-50w", design, first.place, dimming=0.5)
    assert (first.name, second.name) == ("Board", "Board 2")
    assert first.id != second.id
    assert isinstance(second, Lamp)
    assert (second.dimming, second.catalogue) == (0.5, "board-50x34-50w")
    design.with_parts({second.id: second})


def test_an_enclosure_comes_with_its_sheets_written_out() -> None:
    box = CATALOGUE.make("box-90x50x180", new_design(), Place())
    assert isinstance(box, Enclosure)
    assert [cover.sheet.u_value for cover in box.covers] == [4.16] * 5
    assert box.frame.catalogue == "pipe-25"
    assert box.liner is not None
    assert len(box.doors) == 1


def test_a_reservoirs_title_tells_its_volume() -> None:
    for entry in CATALOGUE.of_kind("reservoir"):
        tank = built(entry)
        assert isinstance(tank, Reservoir)
        assert tank.fill <= tank.height
        told = parse(entry.title().split(", ")[1], "volume")
        assert told == pytest.approx(tank.width * tank.depth * tank.fill, rel=0.01)


def test_unknown_keys_and_wrong_changes_are_told() -> None:
    with pytest.raises(InputError, match="key = ‘nothing’ is not known"):
        CATALOGUE.get("nothing")
    with pytest.raises(InputError, match="is not a part"):
        CATALOGUE.make("film-clear", new_design(), Place())
    with pytest.raises(DesignError, match="watts = −3 W must not be negative"):
        CATALOGUE.make("spot-9w", new_design(), Place(), watts=-3)


def test_with_group_adds_a_group_once() -> None:
    group = CATALOGUE.plant_groups[0]
    design = with_group(new_design(), group)
    assert design.groups == (group,)
    assert with_group(design, group) is design


def test_a_zone_goes_into_a_design_that_holds_its_group() -> None:
    design = new_design(groups=CATALOGUE.plant_groups)
    zone = CATALOGUE.make("zone-ferns", design, Place())
    assert isinstance(zone, Plants)
    assert design.with_parts({zone.id: zone}).group("ferns") is not None


def test_free_names_count_up() -> None:
    design = new_design()
    fan = CATALOGUE.make("fan-15cm-150", design, Place())
    design = design.with_parts({"fan": fan})
    assert free_name("Fan", design) == "Fan 2"


@pytest.mark.parametrize(("units", "volts"), [("metric", 230.0), ("us", 120.0)])
def test_a_new_design_is_an_empty_room_in_its_system(units: Any, volts: float) -> None:
    design = new_design(units)
    assert design.units == units
    assert design.practice.voltage == volts
    assert design.parts == ()


def test_loading_is_cheap() -> None:
    # The start-up budget is about 10 ms; a busy machine may take several times that.
    times = []
    for _ in range(5):
        start = perf_counter()
        load_catalogue()
        times.append(perf_counter() - start)
    assert min(times) < 0.05


# A user's own file -------------------------------------------------------------------------------


def own(tmp_path: Path, *entries: Any, **outer: Any) -> Path:
    file = tmp_path / "mine.json"
    data = {"format": "fernwright-catalogue", "schema": 1, "entries": list(entries), **outer}
    file.write_text(json.dumps(data), encoding="utf-8")
    return file


BOARD = {
    "key": "my-board",
    "kind": "lamp",
    "name": "My board, {width} × {depth}",
    "fields": {
        "form": "board",
        "width": 0.6,
        "depth": 0.3,
        "height": 0.04,
        "watts": 80,
        "output": {"basis": "ppf", "ppf": 190},
    },
}


def test_a_users_file_adds_to_the_catalogue(tmp_path: Path) -> None:
    catalogue = load_catalogue(own(tmp_path, BOARD))
    assert len(catalogue.entries) == len(CATALOGUE.entries) + 1
    entry = catalogue.get("my-board")
    assert entry.title() == "My board, 0.60 m × 0.30 m"
    assert entry.quality == "entered"
    board = catalogue.make("my-board", new_design(), Place())
    assert board.name == "My board"


def test_the_example_in_the_readme_can_be_used(tmp_path: Path) -> None:
    folder = Path(__file__).parents[2] / "resources" / "catalogue"
    text = (folder / "README.md").read_text(encoding="utf-8")
    file = tmp_path / "example.json"
    file.write_text(text.split("```json\n")[1].split("```")[0], encoding="utf-8")
    assert isinstance(load_catalogue(file).make("my-board", new_design(), Place()), Lamp)


def test_a_users_plant_group_and_sheet_are_offered(tmp_path: Path) -> None:
    group = {"key": "mosses", "kind": "plant-group", "name": "Mosses", "fields": {"name": "Mosses"}}
    sheet = {
        "key": "canvas",
        "kind": "sheet",
        "name": "Canvas",
        "fields": {"material": "Canvas", "reflectance": 0.6},
    }
    catalogue = load_catalogue(own(tmp_path, group, sheet))
    assert catalogue.plant_groups[-1].key == "mosses"
    assert catalogue.sheets[-1].material == "Canvas"


def changed(**changes: Any) -> dict[str, Any]:
    return {key: value for key, value in {**BOARD, **changes}.items() if value is not None}


@pytest.mark.parametrize(
    ("entry", "told"),
    [
        ("text", "entry 1: it must be a record"),
        (changed(kind=None), "entry 1: ‘kind’ is missing"),
        (changed(kind="sofa"), "entry 1: kind = ‘sofa’ must be one of"),
        (changed(colour="red"), "entry 1: ‘colour’ is not known here"),
        (changed(fields=3), "entry 1: ‘fields’ has the wrong type"),
        (changed(fields={"weight": 3}), "entry 1: field ‘weight’ is not known here"),
        (changed(systems=["imperial"]), "systems must be metric, us or both"),
        (changed(fixing="glued"), "fixing must be one of"),
        (changed(basis={"watts": 3}), "‘basis’ has the wrong type"),
        (changed(key="spot-9w"), "gives the key ‘spot-9w’ to a second entry"),
        (changed(key="My Board"), "entry ‘My Board’ cannot be used: ‘My Board’: catalogue"),
        (changed(name="Board {nonsense}"), "its name has unknown gaps"),
        (changed(name="Board {width.__class__}"), "its name has gaps that are no field names"),
        (changed(name="Board {width:>9999}"), "its name has gaps that are no field names"),
        (changed(name="Board {"), "its name has gaps that are no field names"),
        (changed(fields={**BOARD["fields"], "watts": -8}), "watts = −8 W must not be negative"),  # type: ignore[dict-item]
        (changed(fields={"form": "board"}), "width"),
    ],
)
def test_a_wrong_entry_is_named_with_what_is_wrong(tmp_path: Path, entry: Any, told: str) -> None:
    file = own(tmp_path, entry)
    before = file.read_bytes()
    with pytest.raises(FileError) as caught:
        load_catalogue(file)
    assert told in str(caught.value)
    assert str(caught.value).startswith("‘mine.json’ ")
    assert file.read_bytes() == before


def test_a_file_of_another_form_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="is not a Fernwright catalogue"):
        load_catalogue(own(tmp_path, format="other"))
    with pytest.raises(FileError, match="has catalogue format 2; this program reads 1"):
        load_catalogue(own(tmp_path, schema=2))
    with pytest.raises(FileError, match="has no list of entries"):
        load_catalogue(own(tmp_path, entries=3))
    with pytest.raises(FileError, match="There is no file"):
        load_catalogue(tmp_path / "absent.json")


def test_a_catalogue_can_be_empty() -> None:
    assert Catalogue(()).entries == ()
