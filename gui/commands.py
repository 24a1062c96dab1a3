"""The sheet's commands: what keys and menu entries do to the selected parts, one undo step each.

What an edit changes is worked out in `core.changes` and `core.placing`.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication

from core.arranging import Axis, Edge, aligned, spread
from core.changes import Changes, deleted, moved, renamed, turned
from core.clipboard import copy_text, pasted
from core.duplicates import duplicated
from core.errors import FernwrightError
from core.language import tr
from core.mirroring import Across, mirrored, mirrored_copies
from core.model import Part
from core.placement import Placement
from core.placing import Wish
from core.units import nudge
from gui.document import Document
from gui.view import View

Shift = tuple[float, float, float]


class Commands(QObject):
    """Edits of what is selected.

    Signals
    -------
    refused(str)
        Something could not be done; the sentence says why.
    """

    refused = Signal(str)

    def __init__(self, document: Document, view: View, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._view = view

    @property
    def chosen(self) -> tuple[str, ...]:
        """What is selected and still there."""
        return tuple(i for i in self._view.selection if i in self._document.design.by_id)

    def _name(self, one: str, many: str) -> str:
        chosen = self.chosen
        if len(chosen) == 1:
            return one.format(name=self._document.design.by_id[chosen[0]].name)
        return many.format(count=len(chosen))

    def _do(self, words: str, changes: Changes) -> bool:
        try:
            return self._document.apply_parts(words, changes)
        except FernwrightError as error:
            self.refused.emit(str(error))
            return False

    def nudge(self, direction: Shift, size: str = "normal") -> None:
        """Move what is selected by one step along the room's axes."""
        step = nudge("length", self._document.design.units, size)
        shift = (direction[0] * step, direction[1] * step, direction[2] * step)
        design = self._document.committed
        words = self._name(tr("Move {name}"), tr("Move {count} parts"))
        self._do(words, moved(design, self.chosen, shift))

    def turn(self, quarters: int = 1) -> None:
        """Turn what is selected by quarter turns, anticlockwise seen from above."""
        words = self._name(tr("Turn {name}"), tr("Turn {count} parts"))
        self._do(words, turned(self._document.committed, self.chosen, quarters))

    def delete(self) -> None:
        """Remove what is selected with all it carries."""
        words = self._name(tr("Delete {name}"), tr("Delete {count} parts"))
        self._do(words, deleted(self._document.committed, self.chosen))
        self._view.select(i for i in self._view.selection if i in self._document.design.by_id)

    def duplicate(self) -> None:
        """Put a copy of what is selected at the next free place, and select it."""
        words = self._name(tr("Duplicate {name}"), tr("Duplicate {count} parts"))
        self._do_copies(words, duplicated)

    def duplicate_mirrored(self) -> None:
        """Put a mirrored copy of what is selected opposite, left to right, and select it."""
        words = self._name(tr("Mirrored copy of {name}"), tr("Mirrored copies of {count} parts"))
        self._do_copies(words, mirrored_copies)

    def mirror(self, across: Across) -> None:
        """Mirror what is selected, with all it carries, about its own middle."""
        words = self._name(tr("Mirror {name}"), tr("Mirror {count} parts"))
        try:
            self._do(words, mirrored(self._document.committed, self.chosen, across))
        except FernwrightError as error:
            self.refused.emit(str(error))

    def align(self, edge: Edge) -> None:
        """Put an edge of everything selected in line."""
        words = tr("Put {count} parts in line").format(count=len(self.chosen))
        self._do(words, aligned(self._document.committed, self.chosen, edge))

    def spread(self, axis: Axis) -> None:
        """Give what is selected equal gaps along an axis."""
        words = tr("Spread {count} parts").format(count=len(self.chosen))
        self._do(words, spread(self._document.committed, self.chosen, axis))

    def _do_copies(self, words: str, make: Callable[..., tuple[Changes, tuple[str, ...]]]) -> None:
        parts = [i for i in self.chosen if self._is_part(i)]
        try:
            changes, tops = make(self._document.committed, parts)
        except FernwrightError as error:
            self.refused.emit(str(error))
            return
        if self._do(words, changes):
            self._view.select(tops)

    def _is_part(self, part_id: str) -> bool:
        return isinstance(self._document.design.by_id[part_id], Part)

    def copy(self) -> bool:
        """Put what is selected on the clipboard; return whether there was anything."""
        try:
            text = copy_text(self._document.committed, self.chosen)
        except FernwrightError as error:
            self.refused.emit(str(error))
            return False
        QGuiApplication.clipboard().setText(text)
        return True

    def cut(self) -> None:
        """Copy, then remove."""
        if self.copy():
            words = self._name(tr("Cut {name}"), tr("Cut {count} parts"))
            self._do(words, deleted(self._document.committed, self.chosen))
            self._view.select(())

    def paste(self) -> None:
        """Add the clipboard's parts and select them."""
        try:
            design, tops = pasted(
                self._document.committed,
                QGuiApplication.clipboard().text(),
                Wish(self._view.level),
            )
            if self._document.apply(tr("Paste"), design):
                self._view.select(tops)
        except FernwrightError as error:
            self.refused.emit(str(error))

    def select_all(self) -> None:
        """Select every part that is not hidden."""
        self._view.select(part.id for part in self._document.design.parts if not part.hidden)

    def rename(self, part_id: str, name: str) -> bool:
        """Give a part another name."""
        try:
            changes = renamed(self._document.committed, part_id, name)
        except FernwrightError as error:
            self.refused.emit(str(error))
            return False
        return self._do(tr("Rename {name}").format(name=name.strip()), changes)

    def change_level(self, step: int) -> None:
        """Choose the next level up (1) or down (−1) of the same host, then of the next one."""
        levels = sorted(
            Placement(self._document.design).levels, key=lambda one: (one.host, one.number)
        )
        hosts = list(dict.fromkeys(level.host for level in levels))
        here = next((one for one in levels if (one.host, one.number) == self._view.level), None)
        if here is None:
            if levels:
                self._view.choose_level((levels[0].host, levels[0].number))
            return
        wanted = (here.host, here.number + step)
        if any((one.host, one.number) == wanted for one in levels) and here.host in hosts:
            self._view.choose_level(wanted)
