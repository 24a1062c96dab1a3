"""Moving parts with the mouse: one object from press to release, one undo step.

Distances and guides come from `gui.snapping`, their drawing from `gui.tape`; where a part ends up
when it is let go of, from `core.placing`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QApplication

from core.changes import Changes, moved, roots
from core.drawing.marks import AXES, View
from core.errors import DesignError, InputError
from core.geometry import Box
from core.language import tr
from core.model import Plants
from core.placing import Point, rehosted
from core.units import parse, show
from gui.gestures import Proposal
from gui.snapping import Gap, Guide, Surroundings
from gui.tape import Measured, TapeState

if TYPE_CHECKING:
    from gui.sheet import Sheet

SNAP = 6.0
"""How near a guide must be to hold. [px]"""
TOUCHING = 0.0005
"""Gaps below this are not measured. [m]"""
STILL = 0.5
"""Movements shorter than this count as none. [px]"""
_HOLD = {Qt.Key.Key_X: 0, Qt.Key.Key_Y: 1, Qt.Key.Key_Z: 2}
_TYPED = "0123456789.,'\"/ -"
Shift = tuple[float, float, float]


def words_for(sheet: Sheet, ids: tuple[str, ...], one: str, many: str) -> str:
    """Return the name of an undo step: "Move Board 2", "Move 3 parts"."""
    if len(ids) == 1:
        return one.format(name=sheet.document.committed.by_id[ids[0]].name)
    return many.format(count=len(ids))


class Drag(Proposal):
    """Moves the selected parts with the pointer.

    Attributes
    ----------
    shift : tuple of float
        How far the parts have been moved. [m]
    guides : dict of int to Guide
        The guides that hold now, by axis.
    """

    def __init__(self, sheet: Sheet, view: View, start: QPointF, ids: tuple[str, ...]) -> None:
        super().__init__(sheet, view, start)
        self.ids = roots(sheet.document.committed, ids)
        self.around = Surroundings(sheet.placement, self.ids)
        self.shift: Shift = (0.0, 0.0, 0.0)
        self.guides: dict[int, Guide] = {}
        self._held: int | None = None
        self._typed = ""
        self._marked = -1
        self._last = start
        self._pointing = True

    @property
    def box(self) -> Box:
        """The box around the parts where they are now."""
        return self.around.start.moved(*self.shift)

    @property
    def axis(self) -> int:
        """The axis they move along: the one held, or the one they were moved farther along."""
        if self._held is not None:
            return self._held
        across, up = AXES[self.view]
        return up if abs(self.shift[up]) > abs(self.shift[across]) else across

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        if not self._goes_on(at):
            return
        self._last, self._pointing = at, True
        free = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        self._follow(at, free)

    def _follow(self, at: QPointF, free: bool) -> None:
        shift = self._pulled(at)
        # An axis along which the pointer has not moved keeps its place, whatever is near.
        axes = [axis for axis in AXES[self.view] if shift[axis] != 0.0]
        box = self.around.start.moved(*shift)
        self.guides = {} if free else self.around.guides(box, axes, SNAP / self.sheet.camera.scale)
        snapped = [
            value + (self.guides[k].shift if k in self.guides else 0.0)
            for k, value in enumerate(shift)
        ]
        self._go((snapped[0], snapped[1], snapped[2]))

    def _pulled(self, at: QPointF) -> Shift:
        """Return how far the pointer has pulled the parts. [m]"""
        scale = self.sheet.camera.scale
        across, up = AXES[self.view]
        shift = [0.0, 0.0, 0.0]
        shift[across] = (at.x() - self.start.x()) / scale
        shift[up] = (self.start.y() - at.y()) / scale
        if self._held is not None:
            shift = [value if k == self._held else 0.0 for k, value in enumerate(shift)]
        shift = [value if abs(value) * scale >= STILL else 0.0 for value in shift]
        return shift[0], shift[1], shift[2]

    def _go(self, shift: Shift) -> None:
        """Put the parts there, in all drawings."""
        self.shift = shift
        self.sheet.document.propose(self._changes())
        self._show()

    def _changes(self) -> Changes:
        if self.shift == (0.0, 0.0, 0.0):
            return {}
        return moved(self.sheet.document.committed, self.ids, self.shift)

    def gaps(self) -> list[Gap]:
        """Return the gaps on both sides along the moving axis, where there are any."""
        return [gap for gap in self.around.gaps(self.box, self.axis) if gap is not None]

    def _show(self) -> None:
        system = self.sheet.document.design.units
        gaps = self.gaps()
        marked = self._marked_gap(gaps)
        tapes = []
        for gap in gaps:
            if gap.length < TOUCHING and not (gap is marked and self._typed):
                continue
            text = show(gap.length, "length", system, fine=True)
            if gap is marked and self._typed:
                text = self._typed + "|"
            tapes.append(Measured(gap, text, marked=gap is marked))
        host = self._new_host()
        name = self.sheet.document.design.by_id[host].name if host else ""
        label = tr("into {host}").format(host=name) if host else ""
        self.sheet.view.light_up(host)
        guides = tuple(self.guides.values())
        self.sheet.tape.show_state(
            TapeState(self.around.start, self.box, tapes, guides, label=label)
        )

    def _new_host(self) -> str:
        """Return what would take plants let go of now, empty when that is what holds them."""
        known = self.sheet.document.committed.by_id
        design = self.sheet.document.design
        if len(self.ids) != 1 or not isinstance(known[self.ids[0]], Plants):
            return ""
        ahead = rehosted(design, self.ids, self.sheet.document.committed, self._pointed())
        part = ahead.get(self.ids[0])
        if not isinstance(part, Plants) or part.place.host not in design.by_id:
            return ""
        return "" if part.place.host == design.part(part.id).place.host else part.place.host

    def marked(self) -> Gap | None:
        """Return the gap that typed digits set."""
        return self._marked_gap(self.gaps())

    def _marked_gap(self, gaps: list[Gap]) -> Gap | None:
        """Return the gap that typed digits set: the nearer one until Tab changes it."""
        if not gaps:
            return None
        if self._marked < 0:
            return min(gaps, key=lambda gap: (gap.length < TOUCHING, gap.length))
        return gaps[self._marked % len(gaps)]

    def key(self, event: QKeyEvent) -> bool:
        if not self._began or self._done:
            return False
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._enter()
        elif key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
            self._mark_next()
        elif key == Qt.Key.Key_Backspace:
            self._typed = self._typed[:-1]
            self._show()
        elif key in _HOLD and not self._typed:
            self._hold(_HOLD[key])
        elif event.text() and (event.text() in _TYPED or (self._typed and event.text().isalpha())):
            self._typed = (self._typed + event.text())[:20]
            self._show()
        else:
            return False
        return True

    def _hold(self, axis: int) -> None:
        if axis in AXES[self.view]:
            self._held = None if self._held == axis else axis
            free = bool(QApplication.keyboardModifiers() & Qt.KeyboardModifier.ShiftModifier)
            self._follow(self._last, free)

    def _mark_next(self) -> None:
        gaps = self.gaps()
        marked = self._marked_gap(gaps)
        if marked is not None:
            self._marked = (gaps.index(marked) + 1) % len(gaps)
            self._show()

    def _enter(self) -> None:
        """Set the marked distance to what was typed and let go; without digits just let go."""
        marked = self._marked_gap(self.gaps())
        if self._typed and marked is not None:
            system = self.sheet.document.design.units
            try:
                length = parse(self._typed.strip(), "length", system)
                if length < 0:
                    raise InputError(tr("A distance must not be negative; enter 0 or more."))
            except InputError as error:
                self.sheet.said.emit(str(error))
                return
            shift = list(self.shift)
            shift[marked.axis] += marked.shift_for(length)
            self.guides = {}
            self._typed = ""
            self._pointing = False
            self._go((shift[0], shift[1], shift[2]))
        self._finish()

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        if self._began and not self._done:
            self._finish()

    def _pointed(self) -> Point | None:
        """Return where the pointer lets go of a single part, None when a typed distance did. [m]"""
        if not self._pointing or len(self.ids) != 1:
            return None
        place: list[float | None] = [None, None, None]
        across, up = AXES[self.view]
        place[across], place[up] = self.sheet.camera.to_metres(self.view, self._last)
        return place[0], place[1], place[2]

    def _finish(self) -> None:
        """Let go: the parts rest on what is under them now, as one undo step."""
        self._done = True
        document = self.sheet.document
        words = words_for(self.sheet, self.ids, tr("Move {name}"), tr("Move {count} parts"))
        try:
            if self.shift != (0.0, 0.0, 0.0):
                changes = self._changes()
                at = self._pointed()
                changes.update(rehosted(document.design, self.ids, document.committed, at))
                document.propose(changes)
            document.commit(words)
        except DesignError as error:
            document.withdraw()
            self.sheet.said.emit(str(error))
        self._end()

    def _end(self) -> None:
        self.sheet.view.light_up("")
        super()._end()
