"""The open design as a Qt object: what changed, what can be undone, whether it is saved.

Edits come from `gui.edits`; files are read and written by `gui.files`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from core.model import AnyFixture, AnyPart, Design
from gui.edits import Edit


class Document(QObject):
    """The design being worked on.

    Attributes
    ----------
    undo_stack : QUndoStack
        Every committed edit.
    path : Path or None
        The file it was opened from or saved to.

    Signals
    -------
    changed(frozenset)
        The design is another; carries the ids that differ (empty: everything may).
    replaced()
        Another design was opened; views start afresh.
    path_changed()
        The file's name is another.
    """

    changed = Signal(object)
    replaced = Signal()
    path_changed = Signal()

    def __init__(self, design: Design, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.undo_stack = QUndoStack(self)
        self.path: Path | None = None
        self._committed = design
        self._proposed: Design | None = None

    @property
    def design(self) -> Design:
        """The design as it is drawn now: with the edit under way, if there is one."""
        return self._proposed or self._committed

    @property
    def committed(self) -> Design:
        """The design without an edit under way."""
        return self._committed

    @property
    def proposing(self) -> bool:
        """Whether an edit is under way (a drag)."""
        return self._proposed is not None

    @property
    def modified(self) -> bool:
        """Whether there is something to save."""
        return not self.undo_stack.isClean()

    def open(self, design: Design, path: Path | None) -> None:
        """Replace the whole document; nothing of the old one can be undone."""
        self._proposed = None
        self._committed = design
        self.undo_stack.clear()
        self.set_path(path)
        self.replaced.emit()
        self.changed.emit(frozenset())

    def set_path(self, path: Path | None) -> None:
        """Remember the file."""
        self.path = path
        self.path_changed.emit()

    def propose(self, parts: Mapping[str, AnyPart | AnyFixture | None]) -> None:
        """Show the committed design with some parts changed, without an undo step."""
        touched = set(parts) | self._proposed_ids()
        self._proposed = self._committed.with_parts(parts)
        self._proposed_parts = frozenset(parts)
        self.changed.emit(frozenset(touched))

    def withdraw(self) -> None:
        """Drop the edit under way."""
        if self._proposed is not None:
            touched = self._proposed_ids()
            self._proposed = None
            self.changed.emit(frozenset(touched))

    def commit(self, words: str) -> bool:
        """Turn the edit under way into one undo step; return whether anything changed."""
        proposed = self._proposed
        if proposed is None:
            return False
        touched = self._proposed_ids()
        self._proposed = None
        if proposed == self._committed:
            self.changed.emit(frozenset(touched))
            return False
        return self.apply(words, proposed)

    def apply(self, words: str, design: Design) -> bool:
        """Make ``design`` the current one as one undo step named ``words``.

        Returns False, with no step, when nothing differs.
        """
        if design == self._committed:
            return False
        self.undo_stack.push(Edit(self, words, self._committed, design))
        return True

    def apply_parts(self, words: str, parts: Mapping[str, AnyPart | AnyFixture | None]) -> bool:
        """Replace, add or remove parts and fixtures as one undo step; see `Design.with_parts`."""
        return self.apply(words, self._committed.with_parts(parts))

    def show(self, design: Design, touched: Iterable[str]) -> None:
        """Take over a design from an edit that is done or undone."""
        self._proposed = None
        self._committed = design
        self.changed.emit(frozenset(touched))

    def _proposed_ids(self) -> set[str]:
        return set(self._proposed_parts) if self._proposed is not None else set()

    _proposed_parts: frozenset[str] = frozenset()
