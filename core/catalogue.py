"""Generic parts, sheets and plant groups to start from, each number with its source and quality.

The entries are data in ``resources/catalogue`` and in a file of the user's own; the rules of the
records they become are in `core.model`.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from string import Formatter
from typing import Any, cast

from pydantic import BaseModel, ValidationError

from core.errors import DesignError, FernwrightError, FileError, InputError
from core.json_files import parse, read_text, refusal
from core.language import tr
from core.model import (
    EUROPE,
    NORTH_AMERICA,
    AnyFixture,
    AnyPart,
    Design,
    FaceDoor,
    Frame,
    Liner,
    Place,
    PlantGroup,
    Prices,
    Room,
    Sheet,
    System,
)
from core.model.base import Unit
from core.model.building import replace, sentence
from core.model.kinds import FIXTURE_KINDS, PART_KINDS
from core.phrases import Amount, Value, phrase

FOLDER = Path(__file__).resolve().parent.parent / "resources" / "catalogue"
FORMAT = "fernwright-catalogue"
SCHEMA = 1

RECORD_KINDS: Mapping[str, type[BaseModel]] = {
    "sheet": Sheet,
    "frame": Frame,
    "liner": Liner,
    "face-door": FaceDoor,
    "plant-group": PlantGroup,
}
"""Kinds of entries that are no parts but belong into one, or into the design."""
CLASSES: Mapping[str, type[BaseModel]] = {**PART_KINDS, **FIXTURE_KINDS, **RECORD_KINDS}

_REQUIRED = {"key": str, "kind": str, "name": str, "fields": dict}
_OPTIONAL = {
    "part": str,
    "group": str,
    "systems": list,
    "fixing": str,
    "basis": dict,
    "quality": str,
}
_FIXINGS = ("stands", "under", "hung", "clipped", "face")
_ENTERED = "entered"


@dataclass(frozen=True)
class Entry:
    """One thing to choose from.

    Attributes
    ----------
    key : str
        Stable name for programs and files.
    kind : str
        Kind of the part, fixture or record that it becomes; see `CLASSES`.
    name : str
        Its name with gaps for its fields, as "Board, {width} × {depth}"; see `title`.
    fields : mapping
        The values it starts with, in SI. Sheets and frame stock may be given by their keys.
    part : str
        What one such part is called in a design.
    group : str
        The heading it stands under.
    basis : mapping
        Where each field's numbers come from; ``"rest"`` speaks for the fields not named.
    quality : str
        How good that is: published, secondary, memory, common practice or entered.
    systems : tuple of str
        The unit systems whose sizes it comes in.
    fixing : str
        How it is usually fixed (see `core.model.Place`).
    """

    key: str
    kind: str
    name: str
    fields: Mapping[str, Any]
    part: str
    group: str = "parts"
    basis: Mapping[str, str] = field(default_factory=dict)
    quality: str = _ENTERED
    systems: tuple[str, ...] = ("metric", "us")
    fixing: str = "stands"

    @property
    def form(self) -> str | None:
        """A lamp's form, board, tube or spot; None for all else."""
        form = self.fields.get("form")
        return str(form) if form else None

    def title(self, system: str = "metric") -> str:
        """Return its name with its sizes in the units of ``system``."""
        return phrase(self.name, **self._gaps()).render(system)

    def basis_of(self, name: str) -> str:
        """Return where the numbers of a field come from."""
        return self.basis.get(name, self.basis.get("rest", ""))

    def _gaps(self) -> dict[str, Value]:
        known = CLASSES[self.kind].model_fields
        gaps: dict[str, Value] = {}
        for name, value in self.fields.items():
            unit = next((item for item in known[name].metadata if isinstance(item, Unit)), None)
            if unit is not None and isinstance(value, int | float):
                gaps[name] = Amount(float(value), unit.kind)
            elif isinstance(value, int | str):
                gaps[name] = value
            elif name == "levels":
                gaps["shelves"] = len(value)
        if self.kind == "reservoir":
            volume = self.fields["width"] * self.fields["depth"] * self.fields["fill"]
            gaps["volume"] = Amount(volume, "volume")
        return gaps | self._optional_gaps()

    def _optional_gaps(self) -> dict[str, Value]:
        """Return the gaps whose unit stands in a union with None."""
        kinds = {"limit": "current", "half_angle": "angle"}
        values = {name: self.fields.get(name) for name in kinds}
        return {name: Amount(value, kinds[name]) for name, value in values.items() if value}


class Catalogue:
    """All entries, by key and by kind.

    Attributes
    ----------
    entries : tuple of Entry
        In the order of the files.
    """

    def __init__(self, entries: Iterable[Entry]) -> None:
        self.entries = tuple(entries)
        self._by_key = {entry.key: entry for entry in self.entries}

    def get(self, key: str) -> Entry:
        """Return the entry with this key.

        Raises
        ------
        InputError
            If there is none.
        """
        if key not in self._by_key:
            raise InputError(
                tr("catalogue: key = ‘{key}’ is not known; choose another entry.").format(key=key)
            )
        return self._by_key[key]

    def of_kind(
        self, kind: str, system: str | None = None, form: str | None = None
    ) -> tuple[Entry, ...]:
        """Return the entries of a kind (and form), those in the sizes of ``system`` first."""
        found = [
            entry for entry in self.entries if entry.kind == kind and form in (None, entry.form)
        ]
        if system is not None:
            found.sort(key=lambda entry: system not in entry.systems)
        return tuple(found)

    @cached_property
    def plant_groups(self) -> tuple[PlantGroup, ...]:
        """What each plant group wants; a group without a light range has none."""
        groups = (self.record(entry.key) for entry in self.of_kind("plant-group"))
        return tuple(cast(PlantGroup, group) for group in groups)

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheet materials for covers and linings."""
        return tuple(cast(Sheet, self.record(entry.key)) for entry in self.of_kind("sheet"))

    def make(
        self, key: str, design: Design, place: Place, id: str | None = None, **changes: Any
    ) -> AnyPart:
        """Return a new part made from an entry; the design is not changed.

        Parameters
        ----------
        key : str
            The entry's key.
        design : Design
            Where the part will go: its id and name are free there.
        place : Place
        id : str, optional
            By default a free one made from the entry's kind.
        **changes
            Values that go before the entry's own.

        Raises
        ------
        InputError
            If there is no such entry, or it is not one of a part.
        DesignError
            If a value breaks a rule of the part.
        """
        entry = self.get(key)
        if entry.kind not in PART_KINDS:
            raise InputError(
                tr("catalogue: ‘{key}’ is not a part; choose another entry.").format(key=key)
            )
        values = {
            "id": id or design.new_id(entry.kind),
            "name": free_name(tr(entry.part), design),
            "catalogue": key,
        }
        part = cast(AnyPart, self._built(entry, values))
        return replace(part, place=place, **changes)

    def make_fixture(
        self, key: str, design: Design, id: str | None = None, **where: Any
    ) -> AnyFixture:
        """Return a new fixture of the room; ``where`` gives its wall and offset, or x and y."""
        entry = self.get(key)
        values = {
            "id": id or design.new_id(entry.kind),
            "name": free_name(tr(entry.part), design),
            **where,
        }
        return cast(AnyFixture, self._built(entry, values))

    def record(self, key: str) -> BaseModel:
        """Return the sheet, frame stock, liner, door face or plant group of an entry."""
        entry = self.get(key)
        values = {"sheet": "catalogue", "frame": "catalogue", "plant-group": "key"}
        name = values.get(entry.kind)
        return self._built(entry, {name: key} if name else {})

    def _built(self, entry: Entry, values: Mapping[str, Any]) -> BaseModel:
        kind = CLASSES[entry.kind]
        text = json.dumps({**self._spelled_out(entry.fields), **values})
        try:
            return kind.model_validate_json(text)
        except ValidationError as error:
            raise DesignError(sentence(error, kind, f"‘{entry.key}’")) from None

    def _spelled_out(self, value: Any) -> Any:
        """Return fields with the sheets and frames that are given by key written out."""
        if isinstance(value, Mapping):
            return {
                name: self._record_fields(item)
                if name in ("sheet", "frame") and isinstance(item, str)
                else self._spelled_out(item)
                for name, item in value.items()
            }
        return [self._spelled_out(item) for item in value] if isinstance(value, list) else value

    def _record_fields(self, key: str) -> dict[str, Any]:
        return {**self.get(key).fields, "catalogue": key}


def free_name(name: str, design: Design) -> str:
    """Return ``name``, or "name 2" and so on where it is in use."""
    return name_apart(name, {thing.name for thing in design.by_id.values()})


def name_apart(name: str, used: Collection[str]) -> str:
    """Return ``name``, or it with the next free number where it is among the used ones."""
    if name not in used:
        return name
    head, _, tail = name.rpartition(" ")
    # Room for the number is left in names that are as long as names may be.
    start = (head if head and tail.isdecimal() else name)[:70]
    return next(new for i in range(2, 100_000) if (new := f"{start} {i}") not in used)


def with_group(design: Design, group: PlantGroup) -> Design:
    """Return the design with a plant group added, unless it holds one of that key."""
    if design.group(group.key) is not None:
        return design
    return design.having(groups=(*design.groups, group))


def load_catalogue(user_file: Path | str | None = None) -> Catalogue:
    """Return the built-in catalogue, with the entries of the user's own file added.

    Such a file is JSON of the form told in ``resources/catalogue/README.md``.

    Raises
    ------
    FileError
        If the user's file cannot be read, or an entry in it cannot be used; the text says which
        and why.
    """
    entries = [
        entry
        for file in sorted(FOLDER.glob("*.json"))
        for entry in _entries(_records(file), file.name)
    ]
    if user_file is None:
        return Catalogue(entries)
    file = Path(user_file)
    added = _entries(_records(file), file.name)
    _check_keys(entries, added, file.name)
    catalogue = Catalogue((*entries, *added))
    for entry in added:
        _check_entry(entry, catalogue, file.name)
    return catalogue


def _records(file: Path) -> list[Any]:
    data = parse(read_text(file), file.name)
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise refusal(file.name, tr("is not a Fernwright catalogue"))
    if data.get("schema") != SCHEMA:
        text = tr("has catalogue format {schema}; this program reads {known}")
        raise refusal(file.name, text.format(schema=data.get("schema"), known=SCHEMA))
    entries = data.get("entries")
    if not isinstance(entries, list):
        raise refusal(file.name, tr("has no list of entries"))
    return entries


def _entries(records: list[Any], name: str) -> list[Entry]:
    return [_entry(record, number, name) for number, record in enumerate(records, start=1)]


def _entry(record: Any, number: int, name: str) -> Entry:
    trouble = _trouble(record)
    if trouble:
        raise refusal(name, tr("entry {number}: {trouble}").format(number=number, trouble=trouble))
    values = {"part": record["name"].split(",")[0], **record}
    if "systems" in values:
        values["systems"] = tuple(values["systems"])
    return Entry(**values)


def _trouble(record: Any) -> str:
    """Return what is wrong with the outer form of an entry; empty when nothing is."""
    if not isinstance(record, dict):
        return tr("it must be a record")
    allowed = {**_REQUIRED, **_OPTIONAL}
    for key in _REQUIRED:
        if key not in record:
            return tr("‘{key}’ is missing").format(key=key)
    for key, value in record.items():
        if key not in allowed:
            return tr("‘{key}’ is not known here; leave it out").format(key=key[:60])
        if not isinstance(value, allowed[key]):
            return tr("‘{key}’ has the wrong type").format(key=key)
    if record["kind"] not in CLASSES:
        return tr("kind = ‘{kind}’ must be one of {known}").format(
            kind=record["kind"][:60], known=", ".join(CLASSES)
        )
    return _trouble_inside(record)


def _trouble_inside(record: Mapping[str, Any]) -> str:
    known = CLASSES[record["kind"]].model_fields
    strange = next((key for key in record["fields"] if key not in known), None)
    if strange is not None:
        return tr("field ‘{key}’ is not known here; leave it out").format(key=strange[:60])
    if record.get("fixing", "stands") not in _FIXINGS:
        return tr("fixing must be one of {known}").format(known=", ".join(_FIXINGS))
    if not set(record.get("systems", [])) <= {"metric", "us"}:
        return tr("systems must be metric, us or both")
    if not all(isinstance(text, str) for text in record.get("basis", {}).values()):
        return tr("‘{key}’ has the wrong type").format(key="basis")
    if not _has_plain_gaps(record["name"]):
        return tr("its name has gaps that are no field names")
    return ""


def _has_plain_gaps(name: str) -> bool:
    try:
        gaps = list(Formatter().parse(name))
    except ValueError:
        return False
    return all(
        gap is None or (gap.isidentifier() and not (spec or how)) for _, gap, spec, how in gaps
    )


def _check_keys(built_in: Iterable[Entry], added: Iterable[Entry], name: str) -> None:
    taken = {entry.key for entry in built_in}
    for entry in added:
        if entry.key in taken:
            text = tr("gives the key ‘{key}’ to a second entry; choose another")
            raise refusal(name, text.format(key=entry.key[:60]))
        taken.add(entry.key)


def _check_entry(entry: Entry, catalogue: Catalogue, name: str) -> None:
    """Build what the entry would become, so that a wrong number shows when the file is read."""
    try:
        _trial(entry, catalogue)
        entry.title()
    except (KeyError, FernwrightError) as error:
        told = str(error) if isinstance(error, FernwrightError) else tr("its name has unknown gaps")
        text = tr("entry ‘{key}’ cannot be used: {told}")
        raise refusal(name, text.format(key=entry.key, told=told.rstrip("."))) from None


def _trial(entry: Entry, catalogue: Catalogue) -> None:
    empty = new_design()
    if entry.kind in PART_KINDS:
        catalogue.make(entry.key, empty, Place())
    elif entry.kind in FIXTURE_KINDS:
        on_wall: dict[str, Any] = {"wall": 1, "offset": 0.0}
        where = {"x": 0.0, "y": 0.0} if entry.kind == "obstacle" else on_wall
        catalogue.make_fixture(entry.key, empty, **where)
    else:
        catalogue.record(entry.key)


def new_design(
    units: System = "metric",
    size: tuple[float, float, float] | None = None,
    groups: tuple[PlantGroup, ...] = (),
) -> Design:
    """Return the design that File ▸ New starts with: an empty room.

    Parameters
    ----------
    units : {"metric", "us"}
        Also chooses the electrical practice and the currency to start from.
    size : tuple of float, optional
        Width, depth and height of the room; by default 4 × 3 × 2.5 m, or 12 × 10 × 8 ft. [m]
    groups : tuple of PlantGroup
        Those that the design may use, usually the catalogue's.
    """
    us = units == "us"
    width, depth, height = size or ((3.6576, 3.048, 2.4384) if us else (4.0, 3.0, 2.5))
    return Design(
        name=tr("New design"),
        units=units,
        room=Room.rectangle(width, depth, height, tr("Room")),
        practice=NORTH_AMERICA if us else EUROPE,
        prices=Prices(currency="$", energy=0.17, water=2.0) if us else Prices(),
        groups=groups,
    )


__all__ = [
    "CLASSES",
    "Catalogue",
    "Entry",
    "FileError",
    "free_name",
    "load_catalogue",
    "name_apart",
    "new_design",
    "with_group",
]
