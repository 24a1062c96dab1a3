"""Changing the size of a part by its handles: one object from press to release, one undo step.

What a part of another size becomes is worked out in `core.changes`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QMouseEvent

from core.changes import resized
from core.drawing.marks import AXES, View
from core.errors import DesignError
from core.geometry import Box
from core.language import tr
from core.model import Bay, Design, Enclosure, Plants, Platform, ShelfUnit, Tray
from core.units import nudge, show
from gui.gestures import Proposal
from gui.tape import TapeState

if TYPE_CHECKING:
    from gui.sheet import Sheet

_LEAST = 0.02
_RESIZABLE = (Enclosure, ShelfUnit, Bay, Platform, Tray, Plants)


def may_resize(design: Design, thing_id: str) -> bool:
    """Tell whether handles change a thing's size."""
    thing = design.by_id.get(thing_id)
    return isinstance(thing, _RESIZABLE) and not thing.locked


class Resize(Proposal):
    """Moves one or two edges of a part with the pointer."""

    def __init__(self, sheet: Sheet, view: View, start: QPointF, part_id: str, handle: str) -> None:
        super().__init__(sheet, view, start)
        self._id = part_id
        self._handle = handle
        self._box = sheet.placement.box(part_id)

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        if not self._goes_on(at):
            return
        free = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        box = self._pulled(at, free)
        document = self.sheet.document
        try:
            document.propose(resized(document.committed, self._id, box))
        except DesignError as error:
            self._show(box, str(error))
            return
        self._show(self.sheet.placement.box(self._id), "")

    def _show(self, box: Box, refused: str) -> None:
        system = self.sheet.document.design.units
        across, up = AXES[self.view]
        sizes = [show(box.size[k], "length", system) for k in (across, up)]
        label = " × ".join(sizes)
        self.sheet.tape.show_state(TapeState(self._box, box, refused=refused, label=label))

    def _pulled(self, at: QPointF, free: bool) -> Box:
        """Return the box with its pulled edges at the pointer, on whole nudges unless free."""
        lo, hi = list(self._box.lo), list(self._box.hi)
        across, up = AXES[self.view]
        where = self.sheet.camera.to_metres(self.view, at)
        for axis, value, low, high in (
            (across, where[0], "w", "e"),
            (up, where[1], "s", "n"),
        ):
            if low in self._handle:
                size = self._size(self._box.hi[axis] - value, free)
                lo[axis] = self._box.hi[axis] - size
            elif high in self._handle:
                size = self._size(value - self._box.lo[axis], free)
                hi[axis] = self._box.lo[axis] + size
        return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))

    def _size(self, size: float, free: bool) -> float:
        step = nudge("length", self.sheet.document.design.units)
        return max(_LEAST, size if free else round(size / step) * step)

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        self._commit_as(tr("Resize {name}"), self._id)
