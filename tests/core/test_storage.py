"""Designs come back from their files as they were; other files are refused and left alone."""

from __future__ import annotations

import errno
import json
import os
import stat
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from core import json_files, storage
from core.catalogue import new_design
from core.errors import DesignError, FileError
from core.model import Change, Design, FeedLine, Part, Variant, replace
from core.storage import dumps, load, loads, migrated, save, with_variant

FOLDER = Path(__file__).parents[2] / "resources" / "demos"
DEMOS = {file.stem: load(file) for file in sorted(FOLDER.glob("*.fern"))}
RICH = (DEMOS["basement-nook"], DEMOS["stair-alcove"], DEMOS["garage-bay"])
TEXTS = {design.name: dumps(design) for design in RICH}

FOREVER = settings(max_examples=200, suppress_health_check=list(HealthCheck))
names = st.text(min_size=1, max_size=80).filter(lambda text: text.isprintable())


@st.composite
def designs(draw: st.DrawFn) -> Design:
    """Return a demo with some numbers, names, settings, order and variants drawn at random."""
    design = draw(st.sampled_from(RICH))
    parts = list(design.parts)
    for _ in range(draw(st.integers(0, 8))):
        index = draw(st.integers(0, len(parts) - 1))
        parts[index] = draw(changed_part(parts[index]))
    parts = draw(st.permutations(parts))
    other = Variant(
        id="drawn", name=draw(names), notes=draw(st.text(max_size=50)), parts=tuple(parts[:3])
    )
    try:
        return design.having(
            name=draw(names),
            units=draw(st.sampled_from(["metric", "us"])),
            parts=tuple(parts),
            others=draw(st.sampled_from([(), (other,), design.others])),
        )
    except DesignError:
        assume(False)
        raise


@st.composite
def changed_part(draw: st.DrawFn, part: Part) -> Part:
    floats = [
        name
        for name, field in type(part).model_fields.items()
        if isinstance(getattr(part, name), float) and field.annotation is float
    ]
    choice = draw(st.sampled_from(["number", "name", "place", "notes", "when"]))
    try:
        match choice:
            case "number" if floats:
                return replace(part, **{draw(st.sampled_from(floats)): draw(st.floats(0, 50))})
            case "name":
                return replace(part, name=draw(names))
            case "place":
                return replace(part, place=replace(part.place, x=draw(st.floats(-100, 100))))
            case "notes":
                return replace(part, notes=draw(st.text(max_size=200)))
        change = Change(season=draw(st.sampled_from([None, "winter"])), settings={"owned": True})
        return replace(part, when=(change,))
    except DesignError:
        return part


# Round trips -------------------------------------------------------------------------------------


@given(designs())
@FOREVER
def test_a_random_design_comes_back_equal_and_with_equal_text(design: Design) -> None:
    text = dumps(design)
    again = loads(text)
    assert again == design
    assert dumps(again) == text


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_comes_back_from_a_file(name: str, tmp_path: Path) -> None:
    file = tmp_path / "Ström · 日本.fern"
    save(DEMOS[name], file)
    assert load(file) == DEMOS[name]


def test_equal_designs_give_equal_bytes(tmp_path: Path) -> None:
    design = DEMOS["starter"]
    same = Design.model_validate_json(design.model_dump_json())
    save(design, tmp_path / "a.fern")
    save(same, tmp_path / "b.fern")
    assert (tmp_path / "a.fern").read_bytes() == (tmp_path / "b.fern").read_bytes()


def test_the_file_is_plain_utf8_json_that_says_what_it_is(tmp_path: Path) -> None:
    save(DEMOS["stair-alcove"], tmp_path / "a.fern")
    text = (tmp_path / "a.fern").read_bytes().decode("utf-8")
    data = json.loads(text)
    assert list(data)[:4] == ["format", "schema", "name", "units"]
    assert (data["format"], data["schema"], data["current"]) == ("fernwright", storage.SCHEMA, "a")
    assert "€" in text
    assert text.endswith("}\n")
    assert "\r" not in text


def test_numbers_are_written_even_when_usual_and_empty_things_are_not() -> None:
    data = json.loads(dumps(new_design()))
    assert data["prices"]["energy"] == 0.3
    assert "energy_night" not in data["prices"]
    assert "notes" not in data["variants"][0]


def test_false_where_true_is_usual_is_written() -> None:
    design = DEMOS["starter"]
    board = replace(design.part("board"), driver_inside=False)
    design = design.with_parts({"board": board})
    assert loads(dumps(design)) == design


def test_an_empty_list_where_one_is_usual_is_written() -> None:
    feed = next(DEMOS["basement-nook"].of(FeedLine))
    assert loads(dumps(DEMOS["basement-nook"])).part(feed.id) == feed


def test_other_variants_are_kept_and_can_be_opened() -> None:
    design = loads(dumps(DEMOS["stair-alcove"]))
    opened = with_variant(design, design.others[0])
    again = loads(dumps(opened))
    assert again.variant_id == "b"
    assert [other.id for other in again.others] == ["a"]
    assert with_variant(again, again.others[0]) == design


# Files that are refused --------------------------------------------------------------------------


def refused(text: str | bytes, tmp_path: Path, name: str = "stair.fern") -> str:
    """Return what is said of a file with this content, which must be left as it was."""
    file = tmp_path / name
    data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    file.write_bytes(data)
    with pytest.raises(FileError) as caught:
        load(file)
    assert file.read_bytes() == data
    assert list(tmp_path.iterdir()) == [file]
    assert str(caught.value).endswith(". Nothing was changed.")
    return str(caught.value)


def edited(path: str, value: Any, demo: str = "starter") -> str:
    """Return a demo's text with the value at ``path`` ("variants/0/name") replaced."""
    data = json.loads(dumps(DEMOS[demo]))
    here: Any = data
    *way, last = [int(step) if step.isdigit() else step for step in path.split("/")]
    for step in way:
        here = here[step]
    if value is Ellipsis:
        del here[last]
    else:
        here[last] = value
    return json.dumps(data)


def test_a_newer_file_is_told_in_the_words_of_the_house(tmp_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr(storage, "SCHEMA", 3)
    assert refused(edited("schema", 4), tmp_path) == (
        "‘stair.fern’ comes from a newer Fernwright (format 4; this one reads up to 3). "
        "Nothing was changed."
    )


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "cannot be read as JSON (line 1, column 1"),
        ("{\n  'name'", "cannot be read as JSON (line 2, column 3"),
        ("[1, 2]", "is not a Fernwright design"),
        ("null", "is not a Fernwright design"),
        ('{"format": "other", "schema": 1}', "is not a Fernwright design"),
        ('{"format": "fernwright"}', "does not say which format it has"),
        ('{"format": "fernwright", "schema": true}', "does not say which format it has"),
        ('{"format": "fernwright", "schema": 0}', "does not say which format it has"),
        ('{"format": "fernwright", "schema": 1.0}', "does not say which format it has"),
        ('{"format": "fernwright", "schema": 1}', "has no list of variants"),
        ('{"a": 1, "a": 2}', "gives ‘a’ twice in one record"),
        ('{"a": NaN}', "holds NaN, which is no finite number"),
        ('{"a": -Infinity}', "holds -Infinity, which is no finite number"),
        ('{"a": 1e999}', "holds 1e999, which is no finite number"),
        ('{"a": ' + "9" * 5000 + "}", "holds a whole number of 5000 digits"),
        ("[" * 41 + "]" * 41, "is nested more than 40 records deep"),
        ("[" * 100_000 + "]" * 100_000, "is nested more than 40 records deep"),
        ('{"a":' * 100_000, "is nested more than 40 records deep"),
        (json.dumps([0] * 2001), "holds a list of 2001 entries; the most is 2000"),
        (b"\xff\xfe{}", "is not a text file (byte 1 is not UTF-8)"),
        (b"PK\x03\x04\x00\x00\x9f", "is not a text file (byte 7 is not UTF-8)"),
    ],
    ids=range(21),
)
def test_what_is_no_design_is_refused(text: str | bytes, told: str, tmp_path: Path) -> None:
    assert told in refused(text, tmp_path)


@pytest.mark.parametrize(
    ("path", "value", "told"),
    [
        ("room/height", -1, "room height = '-1' must be above 0"),
        ("room/colour", "red", "room colour = 'red' is not known here"),
        ("units", "feet", "units = 'feet' must be one of 'metric' or 'us'"),
        ("seasons", [], "seasons"),
        ("prices/energy", "3", "prices energy = '3' cannot be used"),
        ("name", 3, "name = '3' cannot be used"),
        ("current", "z", "does not hold the variant that it names as current"),
        ("current", ..., "does not hold the variant that it names as current"),
        ("parts", [], "holds ‘parts’ where it is not known"),
        ("variants", {}, "has no list of variants"),
        ("variants/0/colour", 1, "holds ‘colour’ where it is not known"),
        ("variants/0/parts", 3, "parts"),
        ("variants/0/parts/0/kind", "sofa", "must be one of"),
        ("variants/0/parts/0/kind", ..., "parts"),
        ("variants/0/parts/1/width", ..., "parts 2 ‘Shelf unit’: width"),
        ("variants/0/parts/5/watts", -3, "parts 6 ‘Board’: watts = −3 W must not be negative"),
        ("variants/0/parts/5/watts", "3", "parts 6 ‘Board’: watts = '3' cannot be used"),
        ("variants/0/parts/5/watts", True, "parts 6 ‘Board’: watts = 'True' cannot be used"),
        ("variants/0/parts/5/place/host", "roof", "Board: place = 'roof' must be a part"),
        ("variants/0/parts/2/fill", 0.5, "Tray: fill depth = 500 mm must not be above its rim"),
        ("room/fixtures/1/limit", 0, "room fixtures 2 ‘Outlet’: limit"),
        ("variants/0/parts/5/name", "\ud800", "holds a text with half a character in it"),
        (
            "variants/0/parts/5/when",
            [{"settings": {"watts": -1}}],
            "Board: watts = −1 W must not be negative",
        ),
        (
            "variants/0/parts/5/when",
            [{"half": "day", "settings": {"dimming": 0.5}}, {"settings": {"control": "x"}}],
            "Board: setting = 'control' cannot change by season",
        ),
        (
            "variants/0/parts/3/when",
            [{"season": "summer", "settings": {"species": "palms"}}],
            "Ferns: species = 'palms' must be a plant group",
        ),
        (
            "variants/0/parts/5/when",
            [{"season": "winter", "half": "night", "settings": {"watts": "many"}}],
            "Board: watts = 'many' cannot be used",
        ),
    ],
)
def test_what_breaks_a_rule_is_told_with_its_place(
    path: str, value: Any, told: str, tmp_path: Path
) -> None:
    message = refused(edited(path, value), tmp_path)
    assert told in message
    assert message.startswith("‘stair.fern’ ")


def test_a_wrong_part_of_another_variant_is_told(tmp_path: Path) -> None:
    message = refused(edited("variants/1/parts/1/width", -1, "stair-alcove"), tmp_path)
    assert "others 1 parts 2 ‘Shelf unit A’: width" in message


def test_a_variant_that_the_room_has_left_behind_is_kept_and_told_when_opened() -> None:
    design = loads(edited("variants/1/parts/1/place/host", "roof", "stair-alcove"))
    assert loads(dumps(design)) == design
    with pytest.raises(DesignError, match="place = 'roof' must be a part of the design"):
        with_variant(design, design.others[0])


def towers(count: int) -> str:
    data = json.loads(dumps(DEMOS["starter"]))
    below = "room"
    for number in range(count):
        box = {"width": 0.1, "depth": 0.1, "height": 0.1, "id": f"p{number}", "name": f"P{number}"}
        data["variants"][0]["parts"].append({"kind": "platform", "place": {"host": below}, **box})
        below = f"p{number}"
    return json.dumps(data)


def test_a_tower_of_parts_beyond_reason_is_refused(tmp_path: Path) -> None:
    assert loads(towers(30))
    assert "more than 30 parts stand on one another" in refused(towers(31), tmp_path)
    assert "more than 30 parts stand on one another" in refused(towers(1900), tmp_path)


def test_an_endless_chain_of_leads_is_refused(tmp_path: Path) -> None:
    data = json.loads(dumps(DEMOS["starter"]))
    into = "outlet"
    for number in range(300):
        box = {"width": 0.1, "depth": 0.1, "height": 0.1, "id": f"p{number}", "name": f"P{number}"}
        data["variants"][0]["parts"].append({"kind": "lead", "plug": {"into": into}, **box})
        into = f"p{number}"
    assert "more than 250 things are plugged" in refused(json.dumps(data), tmp_path)


def test_a_file_too_large_is_refused_unread(tmp_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr(Path, "read_bytes", lambda _: pytest.fail("it was read"))
    with open(tmp_path / "big.fern", "wb") as file:
        file.truncate(20_000_001)
    with pytest.raises(FileError, match=r"too large.*\(21 MB; this program reads up to 20 MB\)"):
        load(tmp_path / "big.fern")


def test_a_byte_order_mark_is_let_pass(tmp_path: Path) -> None:
    (tmp_path / "a.fern").write_text(dumps(DEMOS["starter"]), encoding="utf-8-sig")
    assert load(tmp_path / "a.fern") == DEMOS["starter"]


def test_missing_files_folders_and_devices_are_told(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"There is no file ‘.*gone\.fern’"):
        load(tmp_path / "gone.fern")
    with pytest.raises(FileError, match="is a folder"):
        load(tmp_path)
    (tmp_path / "plain").touch()
    with pytest.raises(FileError, match="There is no file"):
        load(tmp_path / "plain" / "a.fern")
    with pytest.raises(FileError, match="cannot be read"):
        load(tmp_path / ("x" * 400))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_a_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.fern")
    with pytest.raises(FileError, match="is a device, not a file"):
        load(tmp_path / "pipe.fern")
    with pytest.raises(FileError, match="was not saved"):
        save(DEMOS["starter"], tmp_path / "pipe.fern")


def test_a_file_closed_to_this_user_is_told(tmp_path: Path, monkeypatch: Any) -> None:
    file = tmp_path / "a.fern"
    save(DEMOS["starter"], file)

    def closed(_: Path) -> bytes:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", closed)
    with pytest.raises(FileError, match=r"‘a.fern’ cannot be read: this user is not allowed to"):
        load(file)


# Mutated files -----------------------------------------------------------------------------------

pieces = st.sampled_from(
    [
        *("", "{", "}", "[", "]", ",", ":", '"', "null", "true", "-1", "1e999", "NaN", "0"),
        *('"kind"', '"room"', '"id"', "\x00", "1e308", "[[[[", '{"a":1,"a":1}', "é", "\\"),
        *("\\ud800", "99999999"),
    ]
)


@given(
    name=st.sampled_from(sorted(TEXTS)),
    cuts=st.lists(st.tuples(st.floats(0, 1), st.integers(0, 40), pieces), min_size=1, max_size=5),
)
@FOREVER
def test_a_mutated_file_is_read_or_refused_and_never_changed(
    name: str, cuts: list[tuple[float, int, str]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    text = TEXTS[name]
    for share, length, piece in cuts:
        start = int(share * len(text))
        text = text[:start] + piece + text[start + length :]
    _read_or_refused(text, tmp_path_factory.getbasetemp() / "mutated.fern")


def ways(data: Any, way: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    items: Any = data.items() if isinstance(data, dict) else enumerate(data)
    found = []
    for key, value in items:
        found.append((*way, key))
        if isinstance(value, dict | list):
            found += ways(value, (*way, key))
    return found


WAYS = {name: ways(json.loads(text)) for name, text in TEXTS.items()}
junk = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=20)
    | st.sampled_from(["room", "box", "outlet", "winter", "a", "lamp", 0, -1, 1e9, "unit-a"]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=5,
)


@given(data=st.data(), name=st.sampled_from(sorted(TEXTS)))
@FOREVER
def test_a_file_with_values_swapped_for_others_is_read_or_refused(
    data: st.DataObject, name: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    content = json.loads(TEXTS[name])
    for _ in range(data.draw(st.integers(1, 3))):
        *way, last = data.draw(st.sampled_from(WAYS[name]))
        here = content
        try:
            for step in way:
                here = here[step]
            here[last] = data.draw(junk)
        except (KeyError, IndexError, TypeError):
            continue
    _read_or_refused(json.dumps(content), tmp_path_factory.getbasetemp() / "swapped.fern")


def test_a_point_without_its_numbers_is_refused(tmp_path: Path) -> None:
    content = json.loads(TEXTS["Basement nook"])
    content["room"]["outline"][1] = []
    file = tmp_path / "short.fern"
    file.write_text(json.dumps(content), encoding="utf-8")
    with pytest.raises(FileError, match=r"short\.fern"):
        load(file)


def _read_or_refused(text: str, file: Path) -> None:
    before = text.encode("utf-8", "surrogatepass")
    file.write_bytes(before)
    try:
        design = load(file)
    except FileError as error:
        assert str(error).startswith("‘")
    else:
        assert loads(dumps(design)) == design
    assert file.read_bytes() == before


OLD_FILES = sorted((Path(__file__).parent / "files").glob("schema-*.fern"))


# Migrations --------------------------------------------------------------------------------------


def test_old_files_are_brought_forward_step_by_step() -> None:
    steps = {
        1: lambda data: {**data, "trail": [*data.get("trail", []), 1]},
        2: lambda data: {**data, "trail": [*data["trail"], 2]},
    }
    assert migrated({"schema": 1}, "a.fern", steps, 3) == {"schema": 3, "trail": [1, 2]}
    assert migrated({"schema": 2, "trail": []}, "a.fern", steps, 3)["trail"] == [2]
    assert migrated({"schema": 3}, "a.fern", steps, 3) == {"schema": 3}


def test_an_old_file_that_is_not_in_its_form_is_refused() -> None:
    steps = {1: lambda data: {"name": data["title"].upper()}}
    for data in ({"schema": 1}, {"schema": 1, "title": 3}):
        with pytest.raises(FileError, match="says that it has format 1, but is not in that form"):
            migrated(data, "a.fern", steps, 2)


def test_a_step_is_taken_when_a_file_is_read(monkeypatch: Any, tmp_path: Path) -> None:
    def renamed(data: dict[str, Any]) -> dict[str, Any]:
        return {
            **{key: value for key, value in data.items() if key != "title"},
            "name": data["title"],
        }

    monkeypatch.setattr(storage, "SCHEMA", 2)
    monkeypatch.setattr(migrated, "__defaults__", ({1: renamed}, 2))
    data = json.loads(dumps(DEMOS["starter"]))
    data["title"] = data.pop("name")
    file = tmp_path / "old.fern"
    file.write_text(json.dumps({**data, "schema": 1}), encoding="utf-8")
    before = file.read_bytes()
    assert load(file) == DEMOS["starter"]
    assert file.read_bytes() == before


def test_every_old_schema_has_its_step_and_files_as_it_wrote_them() -> None:
    earlier = set(range(1, storage.SCHEMA))
    assert set(storage.MIGRATIONS) == earlier
    assert {int(file.name.split("-")[1]) for file in OLD_FILES} == earlier


@pytest.mark.parametrize("file", OLD_FILES, ids=lambda file: file.stem)
def test_files_of_earlier_schemas_open_with_all_they_held(file: Path, tmp_path: Path) -> None:
    held = json.loads(file.read_text(encoding="utf-8"))
    save(load(file), tmp_path / "new.fern")
    new = json.loads((tmp_path / "new.fern").read_text(encoding="utf-8"))
    assert new["schema"] == storage.SCHEMA
    assert _holds(new, {**held, "schema": storage.SCHEMA})


def _holds(new: Any, old: Any) -> bool:
    """Tell whether everything in ``old`` is in ``new`` with the same value."""
    if isinstance(old, dict):
        return all(key in new and _holds(new[key], value) for key, value in old.items())
    if isinstance(old, list):
        return len(new) == len(old) and all(map(_holds, new, old))
    return bool(new == old)


# Saving ------------------------------------------------------------------------------------------


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    file = tmp_path / "design.fern"
    save(DEMOS["starter"], file)
    return file


def test_saving_leaves_no_other_file_behind(saved: Path) -> None:
    save(DEMOS["garage-bay"], saved)
    assert load(saved) == DEMOS["garage-bay"]
    assert list(saved.parent.iterdir()) == [saved]


@pytest.mark.skipif(os.name == "nt", reason="permissions are another matter there")
def test_permissions_are_kept_and_new_files_get_the_usual_ones(saved: Path) -> None:
    mask = os.umask(0)
    os.umask(mask)
    assert stat.S_IMODE(saved.stat().st_mode) == 0o666 & ~mask
    saved.chmod(0o640)
    save(DEMOS["garage-bay"], saved)
    assert stat.S_IMODE(saved.stat().st_mode) == 0o640


@pytest.mark.skipif(os.name == "nt", reason="links are another matter there")
def test_a_link_stays_a_link_and_its_target_is_saved(saved: Path) -> None:
    link = saved.parent / "link.fern"
    link.symlink_to(saved.name)
    save(DEMOS["garage-bay"], link)
    assert link.is_symlink()
    assert load(saved) == DEMOS["garage-bay"]
    loop = saved.parent / "loop.fern"
    loop.symlink_to("loop.fern")
    with pytest.raises(FileError, match="cannot be read"):
        load(loop)
    with pytest.raises(FileError, match="was not saved"):
        save(DEMOS["starter"], loop)


@pytest.mark.parametrize("step", ["fsync", "replace", "chmod"])
@pytest.mark.parametrize(
    ("code", "told"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "this user may not write"),
        (errno.EIO, "input/output error"),
    ],
)
def test_a_save_that_fails_says_so_and_keeps_the_old_file(
    saved: Path, monkeypatch: Any, step: str, code: int, told: str
) -> None:
    def fails(*_: Any) -> None:
        raise OSError(code, os.strerror(code))

    before = saved.read_bytes()
    monkeypatch.setattr(json_files.os, step, fails)
    with pytest.raises(FileError) as caught:
        save(DEMOS["garage-bay"], saved)
    monkeypatch.undo()
    assert str(caught.value).startswith("The design was not saved: " + told)
    assert str(caught.value).endswith("It is still open here; save it to another place.")
    assert saved.read_bytes() == before
    assert list(saved.parent.iterdir()) == [saved]


def test_a_full_disk_is_told_in_the_words_of_the_house(saved: Path, monkeypatch: Any) -> None:
    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(json_files.os, "fsync", full)
    with pytest.raises(FileError) as caught:
        save(DEMOS["starter"], saved)
    assert str(caught.value) == (
        "The design was not saved: the disk is full. "
        "It is still open here; save it to another place."
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_a_really_full_disk_is_told(saved: Path, monkeypatch: Any) -> None:
    def onto_full(**_: Any) -> tuple[int, str]:
        part = saved.parent / "x.part"
        part.touch()
        return os.open("/dev/full", os.O_WRONLY), str(part)

    monkeypatch.setattr(json_files.tempfile, "mkstemp", onto_full)
    with pytest.raises(FileError, match="the disk is full"):
        save(DEMOS["starter"], saved)
    assert list(saved.parent.iterdir()) == [saved]


def test_places_that_cannot_be_saved_to_are_told(saved: Path) -> None:
    with pytest.raises(FileError, match=r"there is no folder ‘.*nowhere’"):
        save(DEMOS["starter"], saved.parent / "nowhere" / "a.fern")
    with pytest.raises(FileError, match="is a folder"):
        save(DEMOS["starter"], saved.parent)
    with pytest.raises(FileError, match="there is no folder"):
        save(DEMOS["starter"], saved / "a.fern")


def test_a_write_protected_file_is_not_replaced(saved: Path, monkeypatch: Any) -> None:
    before = saved.read_bytes()
    monkeypatch.setattr(json_files.os, "access", lambda *_: False)
    with pytest.raises(FileError, match="this user may not write"):
        save(DEMOS["garage-bay"], saved)
    assert saved.read_bytes() == before


def test_an_interrupted_save_leaves_nothing_behind(saved: Path, monkeypatch: Any) -> None:
    def interrupted(*_: Any) -> None:
        raise KeyboardInterrupt

    before = saved.read_bytes()
    monkeypatch.setattr(json_files.os, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        save(DEMOS["garage-bay"], saved)
    assert saved.read_bytes() == before
    assert list(saved.parent.iterdir()) == [saved]


def test_reading_a_demo_is_quick() -> None:
    import time

    start = time.perf_counter()
    loads(TEXTS["Basement nook"])
    assert time.perf_counter() - start < 0.5


def test_recursion_in_json_is_caught_at_any_limit() -> None:
    limit = sys.getrecursionlimit()
    sys.setrecursionlimit(100_000)
    try:
        with pytest.raises(FileError, match="is nested more than"):
            loads("[" * 5000 + "]" * 5000)
    finally:
        sys.setrecursionlimit(limit)
