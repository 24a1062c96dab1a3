"""Mirroring, lining up and spreading parts from the Edit menu."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from core.model import Lamp, ShelfUnit
from core.placement import Placement
from gui.theme import Theme
from tests.gui.windows import build_window


@pytest.fixture
def window(qtbot, theme: Theme, tmp_path: Path):
    return build_window(qtbot, theme, tmp_path, "garage-bay")


def test_a_mirrored_copy_is_one_step_and_is_selected(window) -> None:
    design = window.document.design
    unit = next(iter(design.of(ShelfUnit)))
    window.view.select([unit.id])
    window.actions_.by_name["duplicate mirrored"].trigger()
    after = window.document.design
    (copy,) = window.view.selection
    assert copy not in design.by_id
    assert len(list(after.carried(copy))) == len(list(design.carried(unit.id)))
    window.document.undo_stack.undo()
    assert window.document.design == design


def test_lining_up_needs_two_parts_and_spreading_three(window) -> None:
    entries = window.actions_.by_name
    lamps = [lamp.id for lamp in window.document.design.of(Lamp)]
    window.view.select(lamps[:1])
    assert entries["mirror x"].isEnabled() and not entries["align left"].isEnabled()
    window.view.select(lamps[:2])
    assert entries["align left"].isEnabled() and not entries["spread x"].isEnabled()
    window.view.select(lamps[:3])
    assert entries["spread x"].isEnabled()


def test_fronts_in_line_moves_units_in_one_step(window) -> None:
    before = window.document.design
    units = [unit.id for unit in before.of(ShelfUnit)]
    window.view.select(units)
    window.actions_.by_name["align front"].trigger()
    placement = Placement(window.document.design)
    assert len({round(placement.box(unit).lo[1], 6) for unit in units}) == 1
    window.document.undo_stack.undo()
    assert window.document.design == before


def test_the_enclosure_is_not_mirrored_and_says_so(window, qtbot) -> None:
    enclosure = window.document.design.enclosure
    window.view.select([enclosure.id])
    said: list[str] = []
    window.sheet.commands.refused.connect(said.append, Qt.ConnectionType.DirectConnection)
    window.actions_.by_name["mirror x"].trigger()
    assert "mirror what stands in it" in said[0]
