"""Undoable edits: the model values before and after, never graphics items.

What an edit changes is worked out in `core.changes`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QUndoCommand

from core.model import AnyPart, Design

if TYPE_CHECKING:
    from gui.document import Document


class Edit(QUndoCommand):
    """One step from a design to the next.

    Both designs are kept whole: they are frozen and share every part that did not change.
    """

    def __init__(self, document: Document, words: str, before: Design, after: Design) -> None:
        super().__init__(words)
        self._document = document
        self._before = before
        self._after = after
        self._touched = differing(before, after)

    def redo(self) -> None:
        """Show the design after the edit."""
        self._document.show(self._after, self._touched)

    def undo(self) -> None:
        """Show the design before the edit."""
        self._document.show(self._before, self._touched)


def differing(before: Design, after: Design) -> frozenset[str]:
    """Return the ids of parts that differ; empty when more than parts differs."""
    if any(getattr(before, name) != getattr(after, name) for name in _OTHER_FIELDS):
        return frozenset()
    old: dict[str, AnyPart] = {part.id: part for part in before.parts}
    new: dict[str, AnyPart] = {part.id: part for part in after.parts}
    return frozenset(
        part_id for part_id in old.keys() | new.keys() if old.get(part_id) != new.get(part_id)
    )


_OTHER_FIELDS = tuple(name for name in Design.model_fields if name != "parts")
