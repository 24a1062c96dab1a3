"""The `.fern` file: a design as JSON, its format, schema number and migrations.

How bytes get to and from the disk is the work of `core.json_files`; the rules of the records are
in `core.model`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from core.errors import DesignError, FernwrightError, FileError
from core.json_files import parse, read_text, refusal, write_text
from core.language import tr
from core.model import ROOM, Design, Variant
from core.model.building import sentence
from core.model.kinds import FIXTURE_KINDS, PART_KINDS

FORMAT = "fernwright"
SCHEMA = 2
"""Number of the form that files are written in."""
ENDING = ".fern"

Record = dict[str, Any]
Migration = Callable[[Record], Record]

MIGRATIONS: Mapping[int, Migration] = {1: dict}
"""What turns the content of a file of schema n into that of schema n + 1, by n.

Schema 2 only has more fields than 1, each of which may be missing.
"""

HIGHEST_STACK = 30
"""Most parts that may stand on one another."""
LONGEST_CHAIN = 250
"""Most things plugged one into the next."""

_VARIANT = ("id", "name", "notes", "parts")
_KINDS = {**PART_KINDS, **FIXTURE_KINDS}


def load(path: str | os.PathLike[str]) -> Design:
    """Return the design in a file, with its current variant open.

    Raises
    ------
    FileError
        If the file cannot be read or is not a design of this or an earlier schema; the text says
        where and what. The file is never touched.
    """
    return loads(read_text(path), Path(path).name)


def save(design: Design, path: str | os.PathLike[str]) -> None:
    """Write a design to a file; the old content stays until the new is safely on the disk.

    Raises
    ------
    FileError
        If it could not be written.
    """
    write_text(path, dumps(design))


def dumps(design: Design) -> str:
    """Return a design as the text of a file; equal designs give equal text.

    What is empty is left out. A number is written even where it is the usual one, so that a later
    change of what is usual never changes a design that was saved before.
    """
    fields = _plain(design)
    current = {key: fields.pop(f"variant_{key}", None) for key in _VARIANT[:-1]}
    current["parts"] = fields.pop("parts", [])
    others = fields.pop("others", [])
    data = {
        "format": FORMAT,
        "schema": SCHEMA,
        **fields,
        "current": design.variant_id,
        "variants": [
            {key: value for key, value in variant.items() if value is not None}
            for variant in (current, *others)
        ],
    }
    return json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _plain(value: Any) -> Any:
    if isinstance(value, BaseModel):
        items = (
            (key, getattr(value, key), field) for key, field in type(value).model_fields.items()
        )
        return {
            key: _plain(item)
            for key, item, field in items
            if not (_is_empty(item) and item == field.default)
        }
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return value


def _is_empty(value: Any) -> bool:
    return value is None or value is False or value in ("", (), {})


def loads(text: str, name: str = "design") -> Design:
    """Return the design that the text of a file holds; ``name`` is the file's, for messages.

    Raises
    ------
    FileError
        As `load`.
    """
    data = _checked_form(parse(text, name), name)
    data = migrated(data, name)
    return _checked(_opened(data, name), name)


def _checked_form(data: Any, name: str) -> Record:
    """Return the file's outer record if it says that it is a design of a schema known here."""
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise refusal(name, tr("is not a Fernwright design"))
    schema = data.get("schema")
    if not isinstance(schema, int) or isinstance(schema, bool) or schema < 1:
        raise refusal(name, tr("does not say which format it has"))
    if schema > SCHEMA:
        text = tr("comes from a newer Fernwright (format {schema}; this one reads up to {known})")
        raise refusal(name, text.format(schema=schema, known=SCHEMA))
    return data


def migrated(
    data: Record,
    name: str,
    migrations: Mapping[int, Migration] = MIGRATIONS,
    schema: int = SCHEMA,
) -> Record:
    """Return a file's content brought to ``schema`` step by step.

    Raises
    ------
    FileError
        If an old file is not as its schema says, so that a step cannot be taken.
    """
    while data["schema"] < schema:
        number = data["schema"]
        try:
            data = {**migrations[number](data), "schema": number + 1}
        except (KeyError, TypeError, ValueError, AttributeError, IndexError):
            text = tr("says that it has format {schema}, but is not in that form")
            raise refusal(name, text.format(schema=number)) from None
    return data


def _opened(data: Record, name: str) -> Record:
    """Return the content as the fields of a `Design`: the current variant's parts on top."""
    fields = {key: value for key, value in data.items() if key not in ("format", "schema")}
    current, variants = fields.pop("current", None), fields.pop("variants", None)
    if not isinstance(variants, list) or not all(isinstance(item, dict) for item in variants):
        raise refusal(name, tr("has no list of variants"))
    open_one = next((item for item in variants if item.get("id") == current), None)
    if current is None or open_one is None:
        raise refusal(name, tr("does not hold the variant that it names as current"))
    reserved = {"parts", "others", "variant_id", "variant_name", "variant_notes"}
    strange = (reserved & fields.keys()) or (open_one.keys() - set(_VARIANT))
    if strange:
        text = tr("holds ‘{key}’ where it is not known")
        raise refusal(name, text.format(key=min(strange)[:60]))
    fields |= {f"variant_{key}": open_one[key] for key in _VARIANT[:-1] if key in open_one}
    fields["parts"] = open_one.get("parts", [])
    fields["others"] = [item for item in variants if item is not open_one]
    return fields


def _checked(fields: Record, name: str) -> Design:
    try:
        design = Design.model_validate_json(json.dumps(fields))
        _check_lengths(design)
    except ValidationError as error:
        raise refusal(name, _told(error, fields)) from None
    except FernwrightError as error:
        raise refusal(name, _where(str(error))) from None
    return design


def _where(text: str) -> str:
    return tr("cannot be used: {text}").format(text=text.rstrip("."))


def with_variant(design: Design, variant: Variant) -> Design:
    """Return the design with one of its other variants open and the open one put aside.

    Raises
    ------
    DesignError
        If the variant's parts do not hold together, as when the room has changed since.
    """
    aside = Variant(
        id=design.variant_id,
        name=design.variant_name,
        notes=design.variant_notes,
        parts=design.parts,
    )
    opened = design.having(
        variant_id=variant.id,
        variant_name=variant.name,
        variant_notes=variant.notes,
        parts=variant.parts,
        others=tuple(aside if item.id == variant.id else item for item in design.others),
    )
    _check_lengths(opened)
    return opened


def _check_lengths(design: Design) -> None:
    """Raise `DesignError` for towers and chains that no grower builds and no engine can climb."""
    hosts = {part.id: part.place.host for part in design.parts}
    plugs = {part.id: plug.into for part in design.parts if (plug := getattr(part, "plug", None))}
    if _longest(hosts) > HIGHEST_STACK:
        raise DesignError(
            tr("more than {most} parts stand on one another").format(most=HIGHEST_STACK)
        )
    if _longest(plugs) > LONGEST_CHAIN:
        raise DesignError(
            tr("more than {most} things are plugged one into the next").format(most=LONGEST_CHAIN)
        )


def _longest(links: Mapping[str, str]) -> int:
    """Return the length of the longest way along links that form no ring."""
    lengths: dict[str, int] = {ROOM: 0}
    for start in links:
        way = []
        here = start
        while here not in lengths and here in links:
            way.append(here)
            here = links[here]
        length = lengths.get(here, 0)
        for step, item in enumerate(reversed(way), start=1):
            lengths[item] = length + step
    return max(lengths.values())


def _told(error: ValidationError, fields: Record) -> str:
    """Return where in the file the first thing wrong is, and what, as one clause."""
    first = error.errors(include_url=False)[0]
    if first["type"] == "value_error":
        return _where(str(first["ctx"]["error"]))
    if first["type"] == "json_invalid":
        return tr("holds a text with half a character in it, as \\ud800")
    thing, raw = _innermost(first["loc"], fields)
    kind = _KINDS.get(str(raw.get("kind"))) if raw is not None else None
    if kind is not None:
        try:
            kind.model_validate_json(json.dumps(raw))
        except ValidationError as inner:
            return _where(sentence(inner, kind, thing))
    return _where(sentence(error, Design, tr("design")))


def _innermost(steps: tuple[int | str, ...], fields: Record) -> tuple[str, Record | None]:
    """Return the innermost part or fixture on the way to an error, and how to find it."""
    here: Any = fields
    way: list[str] = []
    found: tuple[str, Record | None] = ("", None)
    for step in steps:
        if isinstance(step, int) and isinstance(here, list) and step < len(here):
            here = here[step]
            way.append(str(step + 1))
        elif isinstance(step, str) and isinstance(here, dict) and step in here:
            here = here[step]
            way.append(step)
        if isinstance(here, dict) and str(here.get("kind")) in _KINDS:
            found = (f"{' '.join(way)} ‘{str(here.get('name', ''))[:60]}’", here)
    return found


__all__ = [
    "ENDING",
    "FORMAT",
    "MIGRATIONS",
    "SCHEMA",
    "FileError",
    "dumps",
    "load",
    "loads",
    "migrated",
    "save",
    "with_variant",
]
