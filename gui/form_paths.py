"""What a field of a form is: a place in a record, its kind, its limits, and how it is changed.

Limits and units are read off the model's own annotations; which fields there are is listed in
`gui.form_fields` and `gui.form_design`.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from PySide6.QtWidgets import QWidget

from core.errors import InputError
from core.language import tr
from core.model import AnyFixture, AnyPart, Design, replace
from core.model.base import Unit
from gui.theme import Theme

Thing = AnyPart | AnyFixture | Design
Path = tuple[str | int, ...]
Get = Callable[[Design, Thing], Any]
Put = Callable[[Design, Thing, Any], Design]
Options = Callable[[Design, Thing], Sequence[tuple[Any, str]]]


class Picture(QWidget):
    """What shows a thing in its form, without being a field."""

    def show_thing(self, design: Design, thing: Thing) -> None:
        """Show the thing as it is now."""
        raise NotImplementedError


@dataclass(frozen=True)
class Facts:
    """What the model says of one field."""

    unit: str = ""
    low: float | None = None
    high: float | None = None
    optional: bool = False
    whole: bool = False


@dataclass(frozen=True)
class FormField:
    """One field of a form.

    Attributes
    ----------
    key : str
        Tells the fields of a form apart; fields of one key are edited together.
    label, tip : str
        Words above it; what it means and what it does, for whoever does not know.
    kind : str
        "quantity", "text", "choice", "tick" or "hours".
    get, put : callable
        The value in a design; the design with another value.
    unit : str
        Unit kind of a quantity.
    low, high : float or None
        Its limits.
    optional, whole : bool
        Whether it may be empty; whether it is a whole number.
    options : callable or None
        The choices, as (key, words).
    taken : callable or None
        What the engines take where nothing is given.
    wide : bool
        Whether it spans both columns.
    asks : str
        Key of the option that changes nothing itself but asks the window for something: a file.
    """

    key: str
    label: str
    tip: str
    kind: str
    get: Get
    put: Put
    unit: str = ""
    low: float | None = None
    high: float | None = None
    optional: bool = False
    whole: bool = False
    options: Options | None = None
    taken: Get | None = None
    wide: bool = False
    asks: str = ""


@dataclass(frozen=True)
class Link:
    """An edit of a form that is no field: adding a shelf, taking a door away.

    One with ``asks`` does nothing itself but asks the window for something: a file.
    """

    words: str
    do: Callable[[Design, Thing], Design] = lambda design, thing: design
    asks: str = ""


@dataclass(frozen=True)
class Section:
    """Fields under one heading.

    Attributes
    ----------
    note : callable or None
        A line below the fields, worked out from the thing.
    picture : callable or None
        Makes a widget above the fields; its ``show_thing(design, thing)`` shows the thing as it is.
    """

    heading: str
    fields: tuple[FormField, ...]
    links: tuple[Link, ...] = field(default=())
    note: Callable[[Design, Thing], str] | None = None
    picture: Callable[[Theme], Picture] | None = None


# Reading and writing a place in a record ---------------------------------------------------------


def get_at(record: Any, path: Path) -> Any:
    """Return the value at a path of field names and places in tuples; None past a missing one."""
    for step in path:
        if record is None:
            return None
        record = record[step] if isinstance(step, int) else getattr(record, step)
    return record


def set_at(record: Any, path: Path, value: Any) -> Any:
    """Return the record with another value at a path, every record on the way checked anew."""
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(step, int):
        items = list(record)
        items[step] = set_at(items[step], rest, value)
        return tuple(items)
    return replace(record, **{step: set_at(getattr(record, step), rest, value)})


def put_thing(design: Design, thing: Thing, changed: Thing) -> Design:
    """Return the design with a part, a fixture or the design itself exchanged."""
    if isinstance(changed, Design):
        return changed
    if isinstance(thing, Design):
        return design
    return design.with_parts({thing.id: changed})


def fresh(design: Design, thing: Thing) -> Thing:
    """Return the thing as it is in the design, which may be newer."""
    return design if isinstance(thing, Design) else design.by_id[thing.id]


# What the model says -----------------------------------------------------------------------------


def facts_at(record: BaseModel, path: Path) -> Facts:
    """Return unit, limits and type of the field at a path."""
    holder: Any = record
    for step in path[:-1]:
        holder = holder[step] if isinstance(step, int) else getattr(holder, step)
    name = str(path[-1])
    if not isinstance(holder, BaseModel) or name not in type(holder).model_fields:
        return Facts()
    return _facts(type(holder).model_fields[name])


def _facts(info: FieldInfo) -> Facts:
    marks = [*info.metadata, *_marks(info.annotation)]
    unit = next((mark.kind for mark in marks if isinstance(mark, Unit)), "")
    low = next((mark.ge for mark in marks if getattr(mark, "ge", None) is not None), None)
    high = next((mark.le for mark in marks if getattr(mark, "le", None) is not None), None)
    kinds = list(_types(info.annotation))
    return Facts(unit, low, high, type(None) in kinds, int in kinds and float not in kinds)


def _marks(annotation: Any) -> Iterator[Any]:
    """Yield what annotates the members of a union."""
    for member in get_args(annotation):
        for mark in getattr(member, "__metadata__", ()):
            yield from mark.metadata if isinstance(mark, FieldInfo) else (mark,)


def _types(annotation: Any) -> Iterator[Any]:
    """Yield the plain types that an annotation allows."""
    if get_origin(annotation) in (Union, types.UnionType):
        for member in get_args(annotation):
            yield from _types(member)
    elif hasattr(annotation, "__metadata__"):
        yield from _types(get_args(annotation)[0])
    else:
        yield annotation


# Making fields -----------------------------------------------------------------------------------


def quantity(
    thing: Thing,
    path: str | Path,
    label: str,
    tip: str,
    unit: str = "",
    *,
    taken: Get | None = None,
    key: str = "",
    wide: bool = False,
) -> FormField:
    """Return a field for a number; ``unit`` only where the model does not say it."""
    steps = as_path(path)
    facts = facts_at(thing, steps)
    return FormField(
        key or _key(steps), label, tip, "quantity", _getter(steps), _putter(steps, facts.whole),
        unit or facts.unit or "count", facts.low, facts.high, facts.optional, facts.whole,
        taken=taken, wide=wide,
    )  # fmt: skip


def text(
    thing: Thing, path: str | Path, label: str, tip: str, *, optional: bool = False
) -> FormField:
    """Return a field for words."""
    steps = as_path(path)
    return FormField(
        _key(steps),
        label,
        tip,
        "text",
        _getter(steps),
        _putter(steps),
        optional=optional,
        wide=True,
    )


def tick(thing: Thing, path: str | Path, label: str, tip: str) -> FormField:
    """Return a field for yes or no."""
    steps = as_path(path)
    return FormField(_key(steps), label, tip, "tick", _getter(steps), _putter(steps))


def choice(
    thing: Thing,
    path: str | Path,
    label: str,
    tip: str,
    options: Sequence[tuple[Any, str]],
    *,
    wide: bool = False,
) -> FormField:
    """Return a field for one of several fixed things."""
    steps = as_path(path)
    return FormField(
        _key(steps), label, tip, "choice", _getter(steps), _putter(steps),
        options=lambda design, thing: options, wide=wide,
    )  # fmt: skip


def derived(
    key: str, label: str, tip: str, kind: str, get: Get, put: Put, **more: Any
) -> FormField:
    """Return a field that is not one value of the model."""
    return FormField(key, label, tip, kind, get, put, **more)


def as_path(path: str | Path) -> Path:
    """Return "place.x" as a path."""
    return tuple(path.split(".")) if isinstance(path, str) else path


def _key(path: Path) -> str:
    return ".".join(str(step) for step in path)


def _getter(path: Path) -> Get:
    return lambda design, thing: get_at(thing, path)


def _putter(path: Path, whole: bool = False) -> Put:
    def put(design: Design, thing: Thing, value: Any) -> Design:
        now = fresh(design, thing)
        return put_thing(design, now, set_at(now, path, as_whole(value) if whole else value))

    return put


def as_whole(value: float | None) -> int | None:
    """Return a typed number as a whole one.

    Raises
    ------
    InputError
        If it is not whole.
    """
    if value is None:
        return None
    if abs(value - round(value)) > 1e-9:
        raise InputError(tr("{value} is not a whole number; enter one.").format(value=f"{value:g}"))
    return round(value)
