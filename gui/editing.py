"""The edits of menus and keys: clipboard, duplicate, delete, turn, nudge, add, change units.

Each is worked out in `core` and becomes one undo step here; drags are the sheet's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication

from core.catalogue import Catalogue
from core.changes import deleted, moved, turned
from core.clipboard import copy_text, pasted
from core.errors import FernwrightError
from core.language import tr
from core.model import Design, System
from core.placing import Point, Wish, duplicated
from core.units import nudge
from gui.adding import with_added
from gui.document import Document
from gui.view import View


class Editing(QObject):
    """Edits of the selected parts.

    Signals
    -------
    refused(str)
        An edit cannot be done, and why.
    """

    refused = Signal(str)

    def __init__(
        self, document: Document, view: View, catalogue: Catalogue, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._view = view
        self._catalogue = catalogue

    @property
    def _design(self) -> Design:
        return self._document.committed

    def selected(self) -> tuple[str, ...]:
        """Return the ids of the selected parts that are still there."""
        return tuple(i for i in self._view.selection if i in self._design.by_id)

    def add(self, key: str, at: Point | None = None) -> None:
        """Add a part by its key, at a point or in the chosen level's free middle, and select it."""
        with self._telling():
            level = self._view.level
            design, part_id = with_added(self._design, self._catalogue, key, level=level, at=at)
            name = design.by_id[part_id].name
            self._document.apply(tr("Add {name}").format(name=name), design)
            self._view.select((part_id,))

    def copy(self) -> None:
        """Put the selected parts on the clipboard."""
        with self._telling():
            text = copy_text(self._design, self.selected())
            QGuiApplication.clipboard().setText(text)

    def cut(self) -> None:
        """Put the selected parts on the clipboard and take them away."""
        with self._telling():
            QGuiApplication.clipboard().setText(copy_text(self._design, self.selected()))
            self._remove(tr("Cut {what}"))

    def paste(self) -> None:
        """Add the parts on the clipboard, and select them."""
        with self._telling():
            text = QGuiApplication.clipboard().text()
            design, tops = pasted(self._design, text, Wish(level=self._view.level))
            self._document.apply(tr("Paste"), design)
            self._view.select(tops)

    def duplicate(self) -> None:
        """Put a copy of the selected parts on the next free place, and select it."""
        with self._telling():
            ids = self.selected()
            if not ids:
                return
            changes, tops = duplicated(self._design, ids)
            words = tr("Duplicate {what}").format(what=self._named(ids))
            self._document.apply_parts(words, changes)
            self._view.select(tops)

    def delete(self) -> None:
        """Take the selected parts away, with all they carry."""
        with self._telling():
            self._remove(tr("Delete {what}"))

    def turn(self, quarters: int) -> None:
        """Turn the selected parts by quarter turns."""
        with self._telling():
            ids = self.selected()
            words = tr("Turn {what}").format(what=self._named(ids))
            self._document.apply_parts(words, turned(self._design, ids, quarters))

    def nudge(self, shift: tuple[float, float, float], size: str = "normal") -> None:
        """Move the selected parts by one step along the axes, as the arrow keys do."""
        with self._telling():
            ids = self.selected()
            step = nudge("length", self._design.units, size)
            by = (shift[0] * step, shift[1] * step, shift[2] * step)
            words = tr("Move {what}").format(what=self._named(ids))
            self._document.apply_parts(words, moved(self._design, ids, by))

    def use_units(self, system: System) -> None:
        """Show the design in another system of units; an edit like any other."""
        with self._telling():
            self._document.apply(tr("Change units"), self._design.having(units=system))

    def select_all(self) -> None:
        """Select every part that is not locked or hidden."""
        parts = self._design.parts
        self._view.select(part.id for part in parts if not (part.locked or part.hidden))

    @contextmanager
    def _telling(self) -> Iterator[None]:
        """Turn what an edit refuses into a sentence for the window."""
        try:
            yield
        except FernwrightError as error:
            self.refused.emit(str(error))

    def _remove(self, words: str) -> None:
        ids = self.selected()
        if ids:
            words = words.format(what=self._named(ids))
            self._document.apply_parts(words, deleted(self._design, ids))
            self._view.select(())

    def _named(self, ids: Iterable[str]) -> str:
        """Return one part's name, or how many there are."""
        chosen = list(ids)
        if len(chosen) == 1:
            return self._design.by_id[chosen[0]].name
        return tr("{count} parts").format(count=len(chosen))
