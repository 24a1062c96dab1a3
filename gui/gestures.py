"""What the mouse does on the sheet, one object a gesture: click, band, pan; the base of the rest.

Dragging parts has a module of its own, `gui.dragging`; the keyboard's commands are in
`gui.commands`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPen
from PySide6.QtWidgets import QGraphicsRectItem

from core.drawing.marks import View
from gui.picking import level_at, things_in

if TYPE_CHECKING:
    from gui.sheet import Sheet

START = 4.0
"""How far the pointer moves before a press becomes a drag. [px]"""


class Gesture:
    """Something done from a press to a release; sees all events in between.

    Attributes
    ----------
    sheet : Sheet
    view : str
        The drawing it began in.
    start : QPointF
        Where it began. [px]
    """

    def __init__(self, sheet: Sheet, view: View, start: QPointF) -> None:
        self.sheet = sheet
        self.view = view
        self.start = start

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        """The pointer is elsewhere."""

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        """The button was let go; the gesture is over."""

    def key(self, event: QKeyEvent) -> bool:
        """A key was pressed; return whether it was meant for the gesture."""
        return False

    def cancel(self) -> None:
        """Put everything back."""


class Proposal(Gesture):
    """A gesture that proposes another design while it lasts and commits it at its end."""

    def __init__(self, sheet: Sheet, view: View, start: QPointF) -> None:
        super().__init__(sheet, view, start)
        self._began = False
        self._done = False

    @property
    def moved(self) -> bool:
        """Whether the pointer went far enough to count."""
        return self._began

    @property
    def lasting(self) -> bool:
        """Whether it began and is not over: a typed distance ends it with the button held."""
        return self._began and not self._done

    def _goes_on(self, at: QPointF) -> bool:
        """Whether the pointer's being at ``at`` counts; begins once it has gone far enough."""
        if self._done:
            return False
        if not self._began and (at - self.start).manhattanLength() >= START:
            self._began = True
            self.sheet.begin_drag()
        return self._began

    def cancel(self) -> None:
        if not self._done:
            self._done = True
            self.sheet.document.withdraw()
            self._end()

    def _commit_as(self, words: str, part_id: str) -> None:
        """End with one undo step, named by ``words`` with the part's name in it."""
        if self._began and not self._done:
            self._done = True
            name = self.sheet.document.committed.by_id[part_id].name
            self.sheet.document.commit(words.format(name=name))
            self._end()

    def _end(self) -> None:
        self.sheet.tape.show_state(None)
        if self._began:
            self.sheet.end_drag()


class Pan(Gesture):
    """Shifts the drawings with the pointer."""

    def __init__(self, sheet: Sheet, view: View, start: QPointF) -> None:
        super().__init__(sheet, view, start)
        self._last = start
        sheet.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        self.sheet.pan(self.view, at.x() - self._last.x(), at.y() - self._last.y())
        self._last = at

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        self.cancel()

    def cancel(self) -> None:
        self.sheet.viewport().unsetCursor()


class Band(Gesture):
    """Selects all parts within a rectangle; a mere click chooses a level, or nothing."""

    def __init__(self, sheet: Sheet, view: View, start: QPointF) -> None:
        super().__init__(sheet, view, start)
        self._item: QGraphicsRectItem | None = None

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        if self._item is None:
            if (at - self.start).manhattanLength() < START:
                return
            self._item = QGraphicsRectItem()
            self._item.setPen(QPen(self.sheet.theme.colour("pencil"), 1.2, Qt.PenStyle.DashLine))
            self._item.setZValue(300)
            self.sheet.scene().addItem(self._item)
        self._item.setRect(QRectF(self.start, at).normalized())

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        adding = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if self._item is None:
            self._click(adding)
            return
        area = self._item.rect()
        self.cancel()
        found = things_in(
            self.sheet.placement,
            self.sheet.camera,
            self.view,
            area,
            self.sheet.drawings[self.view].shown_ids(),
        )
        kept = self.sheet.view.selection if adding else ()
        self.sheet.view.select(dict.fromkeys((*kept, *found)))

    def _click(self, adding: bool) -> None:
        level = level_at(
            self.sheet.placement,
            self.sheet.camera,
            self.view,
            self.start,
            self.sheet.chosen_host(),
        )
        chosen = (level.host, level.number) if level is not None else self.sheet.view.level
        idle = chosen == self.sheet.view.level and not self.sheet.view.selection and not adding
        if idle and self.sheet.pins.put_at(self.view, self.start):
            return
        self.sheet.view.choose_level(chosen)
        if not adding:
            self.sheet.view.select(())

    def cancel(self) -> None:
        if self._item is not None:
            self.sheet.scene().removeItem(self._item)
            self._item = None
