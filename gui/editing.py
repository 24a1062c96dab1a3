"""The edits that are not about the selection: adding a part, changing units.

Edits of the selected parts are `gui.commands`', drags the sheet's, fields the form's.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from core.catalogue import Catalogue
from core.errors import FernwrightError
from core.language import tr
from core.model import Lamp, Plants, ShelfUnit, System, Tray
from core.placement import Placement
from core.placing import Point
from gui.adding import with_added
from gui.document import Document
from gui.view import View


class Editing(QObject):
    """Edits that need the catalogue, or change the whole design.

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

    def add(self, key: str, at: Point | None = None) -> bool:
        """Add a part by its key, at a point or in the chosen level's free middle, and select it.

        Returns whether it could be placed.
        """
        before, level = self._document.committed, self._view.level
        near = self._view.selection[-1] if self._view.selection else None
        try:
            design, part_id = with_added(
                before, self._catalogue, key, level=level, at=at, near=near
            )
        except FernwrightError as error:
            self.refused.emit(str(error))
            return False
        words = tr("Add {name}").format(name=design.by_id[part_id].name)
        self._document.apply(words, design)
        self._view.select((part_id,))
        self._show_level_of(part_id)
        return True

    def _show_level_of(self, part_id: str) -> None:
        """Choose the level that a part went to, or the lowest of a new shelf unit."""
        part = self._document.committed.by_id[part_id]
        if isinstance(part, ShelfUnit):
            self._view.choose_level((part_id, 1))
        elif isinstance(part, Tray | Plants | Lamp):
            level = Placement(self._document.committed).level_of(part_id)
            self._view.choose_level(level or self._view.level)

    def use_units(self, system: System) -> None:
        """Show the design in another system of units; an edit like any other."""
        words = tr("Change units")
        self._document.apply(words, self._document.committed.having(units=system))
