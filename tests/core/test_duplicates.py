"""Copies have names of their own; where they go is tested in test_changes and test_clipboard."""

from __future__ import annotations

import pytest

from core.catalogue import load_catalogue, name_apart, new_design
from core.clipboard import copy_text, pasted
from core.duplicates import duplicated
from core.model import Design, Place

CATALOGUE = load_catalogue()


def with_tray() -> Design:
    design = new_design()
    unit = CATALOGUE.make("unit-90x45-4", design, Place())
    design = design.with_parts({unit.id: unit})
    tray = CATALOGUE.make("tray-40x30", design, Place(host=unit.id, level=1))
    return design.with_parts({tray.id: tray})


def names(design: Design) -> list[str]:
    return sorted(part.name for part in design.parts)


def test_duplicates_of_duplicates_are_counted_on():
    design, ids = with_tray(), ("tray-1",)
    for _ in range(2):
        changes, ids = duplicated(design, ids)
        design = design.with_parts(changes)

    assert names(design) == ["Shelf unit", "Tray", "Tray 2", "Tray 3"]


def test_what_is_carried_is_named_apart_too():
    design = with_tray()
    changes, _ = duplicated(design, ("shelf-unit-1",))

    assert names(design.with_parts(changes)) == ["Shelf unit", "Shelf unit 2", "Tray", "Tray 2"]


def test_a_pasted_copy_is_named_apart():
    design = with_tray()
    design, _ = pasted(design, copy_text(design, ["tray-1"]))

    assert names(design) == ["Shelf unit", "Tray", "Tray 2"]


@pytest.mark.parametrize(
    ("name", "used", "free"),
    [
        ("Tray", [], "Tray"),
        ("Tray", ["Tray"], "Tray 2"),
        ("Tray 2", ["Tray", "Tray 2"], "Tray 3"),
        ("7", ["7"], "7 2"),
    ],
)
def test_names_are_counted_on(name, used, free):
    assert name_apart(name, used) == free


def test_the_longest_name_keeps_room_for_its_number():
    assert len(name_apart("x" * 80, ["x" * 80])) <= 80
