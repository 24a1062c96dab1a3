"""The hand on the sheet: mouse and drop events, each given to the gesture they belong to.

What gestures do is in their own modules; this one only decides which begins, and keeps it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDragMoveEvent,
    QDropEvent,
    QKeyEvent,
    QMouseEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QToolTip

from core.drawing.marks import AXES
from core.drawing.marks import View as DrawingName
from core.language import tr
from gui.aiming import Aim, stem_hit, stem_of
from gui.dragging import Drag
from gui.dropping import Drop, FileDrop, dropped_path
from gui.gestures import Band, Gesture, Pan, Proposal
from gui.parts_shelf import PART_MIME, part_in
from gui.picking import handle_at, things_at
from gui.pins import HoldPin, PutPin
from gui.plugging import PlugDrag, plug_under
from gui.resizing import Resize, may_resize
from gui.season_asks import is_season_file
from gui.tooltips import plain_tip

if TYPE_CHECKING:
    from gui.sheet import Sheet

_WHEEL_STEP = 1.0015
_NAME_AFTER = 300
_CURSORS = {
    "nw": Qt.CursorShape.SizeFDiagCursor,
    "se": Qt.CursorShape.SizeFDiagCursor,
    "ne": Qt.CursorShape.SizeBDiagCursor,
    "sw": Qt.CursorShape.SizeBDiagCursor,
    "n": Qt.CursorShape.SizeVerCursor,
    "s": Qt.CursorShape.SizeVerCursor,
    "w": Qt.CursorShape.SizeHorCursor,
    "e": Qt.CursorShape.SizeHorCursor,
}


class Hand(QObject):
    """Begins gestures and passes events on to the one under way.

    Attributes
    ----------
    gesture : Gesture or None
        What the mouse is doing, from press to release.
    active : str
        The drawing last worked in.
    panning : bool
        Whether the left button pans, while Space is held.

    Signals
    -------
    file_dropped(Path, tuple)
        A file was let go over the lamp with this id.
    """

    file_dropped = Signal(object, tuple)

    def __init__(self, sheet: Sheet) -> None:
        super().__init__(sheet)
        self._sheet = sheet
        self.gesture: Gesture | None = None
        self.active: DrawingName = "plan"
        self.panning = False
        self._drop: Drop | FileDrop | None = None
        self._again = ""
        self._name_timer = QTimer(self)
        self._name_timer.setSingleShot(True)
        self._name_timer.setInterval(_NAME_AFTER)
        self._name_timer.timeout.connect(self._show_name)

    @property
    def dragging(self) -> bool:
        """Whether parts are being moved, sized or turned with the mouse."""
        return isinstance(self.gesture, Proposal) and self.gesture.lasting

    def cancel(self) -> None:
        """Put back whatever the mouse is doing."""
        gesture, self.gesture = self.gesture, None
        if gesture is not None:
            gesture.cancel()

    def key(self, event: QKeyEvent) -> bool:
        """Give a key to the gesture under way; return whether it took it."""
        if self.gesture is None:
            return False
        if event.key() == Qt.Key.Key_Escape:
            self.cancel()
            return True
        # Nothing else is done by keys while something is moved.
        return self.gesture.key(event) or getattr(self.gesture, "moved", False)

    def hold_to_pan(self, on: bool) -> None:
        """Let the left button pan, while Space is held."""
        self.panning = on
        viewport = self._sheet.viewport()
        if on:
            viewport.setCursor(Qt.CursorShape.OpenHandCursor)
        else:
            viewport.unsetCursor()

    def things_under(self, at: QPointF) -> list[str]:
        """Return the things under a point, the likeliest meant first."""
        name = self._sheet.camera.view_at(at)
        if name is None:
            return []
        shown = self._sheet.drawings[name].shown_ids()
        return things_at(self._sheet.placement, self._sheet.camera, name, at, shown)

    # --- pressing and moving ---------------------------------------------------------------

    def press(self, event: QMouseEvent) -> None:
        """A button went down."""
        at = event.position()
        name = self._sheet.camera.view_at(at)
        if self.gesture is not None or name is None:
            return
        self.active = name
        left = event.button() == Qt.MouseButton.LeftButton
        if event.button() == Qt.MouseButton.MiddleButton or (left and self.panning):
            self.gesture = Pan(self._sheet, name, at)
        elif left:
            keys = event.modifiers()
            adding = bool(keys & Qt.KeyboardModifier.ControlModifier)
            pinning = bool(keys & Qt.KeyboardModifier.ShiftModifier)
            self.gesture = (
                self._pin(name, at, pinning)
                or self._plug(name, at)
                or self._aim(name, at)
                or self._resize(name, at)
                or self._left_press(name, at, adding)
            )
        self._sheet.probe.leave()

    def _pin(self, name: DrawingName, at: QPointF, pinning: bool) -> Gesture | None:
        """Return what a press does to a pin, or the putting of a new one."""
        pin = self._sheet.probe.pin_under(name, at)
        if pin is not None:
            return HoldPin(self._sheet, name, at, pin)
        if pinning and self._sheet.probe.lines(self._sheet.probe.place_under(name, at)):
            return PutPin(self._sheet, name, at, lambda: self._left_press(name, at, False))
        return None

    def _plug(self, name: DrawingName, at: QPointF) -> Gesture | None:
        """Return a drag of the plug that was pressed, where plugs are drawn."""
        part = plug_under(self._sheet, name, at)
        return PlugDrag(self._sheet, name, at, part) if part is not None else None

    def _aim(self, name: DrawingName, at: QPointF) -> Gesture | None:
        """Return a turn when the round handle of the selected part was pressed."""
        chosen = self._sheet.view.selection
        if len(chosen) != 1 or self._sheet.drawings[name].position(chosen[0]) is None:
            return None
        stem = stem_of(self._sheet.placement, self._sheet.camera, name, chosen[0])
        return Aim(self._sheet, name, at, chosen[0]) if stem_hit(stem, at) else None

    def _resize(self, name: DrawingName, at: QPointF) -> Gesture | None:
        """Return a resize when a handle of the selected part was pressed."""
        handle = self._handle(name, at)
        if handle is None:
            return None
        return Resize(self._sheet, name, at, self._sheet.view.selection[0], handle)

    def _handle(self, name: DrawingName, at: QPointF) -> str | None:
        """Return the handle of the selected part under a point."""
        chosen = self._sheet.view.selection
        if len(chosen) != 1 or not may_resize(self._sheet.placement.design, chosen[0]):
            return None
        if self._sheet.drawings[name].position(chosen[0]) is None:
            return None
        box = self._sheet.placement.box(chosen[0])
        return handle_at(self._sheet.camera.box(name, box), at)

    def _left_press(self, name: DrawingName, at: QPointF, adding: bool) -> Gesture:
        found = self.things_under(at)
        if not found:
            return Band(self._sheet, name, at)
        self._select_pressed(found, adding)
        known = self._sheet.placement.design.by_id
        ids = tuple(i for i in self._sheet.view.selection if i in known)
        return Drag(self._sheet, name, at, ids) if ids else Band(self._sheet, name, at)

    def _select_pressed(self, found: list[str], adding: bool) -> None:
        """Select what was pressed; with Ctrl add it, or take it away."""
        view = self._sheet.view
        chosen = view.selection
        self._again = ""
        if adding:
            kept = tuple(i for i in chosen if i != found[0])
            view.select(kept if found[0] in chosen else (*kept, found[0]))
            return
        held = next((thing_id for thing_id in found if thing_id in chosen), None)
        if held is None:
            view.select((found[0],))
        elif len(chosen) == 1 and len(found) > 1:
            # A second click at the same place takes what lies behind.
            self._again = found[(found.index(held) + 1) % len(found)]

    def move(self, event: QMouseEvent) -> None:
        """The pointer moved."""
        at = event.position()
        self._point(at)
        if self.gesture is not None:
            self.gesture.move(at, event)
            return
        name = self._sheet.camera.view_at(at)
        self._sheet.probe.hover(None if self.panning else name, at)
        found = self.things_under(at)
        plug = plug_under(self._sheet, name, at) if name is not None else None
        self._sheet.view.light_up(plug or (found[0] if found else ""))
        self._name_timer.start()
        if not self.panning:
            self._show_cursor(at, bool(found))

    def _show_cursor(self, at: QPointF, over_thing: bool) -> None:
        """Show by the pointer's shape what pressing here would do."""
        name = self._sheet.camera.view_at(at)
        handle = self._handle(name, at) if name is not None else None
        if name is not None and plug_under(self._sheet, name, at) is not None:
            self._sheet.viewport().setCursor(Qt.CursorShape.PointingHandCursor)
        elif handle is not None:
            self._sheet.viewport().setCursor(_CURSORS[handle])
        elif over_thing:
            self._sheet.viewport().setCursor(Qt.CursorShape.SizeAllCursor)
        else:
            self._sheet.viewport().unsetCursor()

    def release(self, event: QMouseEvent) -> None:
        """The button was let go."""
        gesture, self.gesture = self.gesture, None
        if gesture is None:
            return
        gesture.release(event.position(), event)
        if self._again and isinstance(gesture, Drag) and not gesture.moved:
            self._sheet.view.select((self._again,))
        self._again = ""

    def double_click(self, event: QMouseEvent) -> None:
        """A part's form is wanted."""
        found = self.things_under(event.position())
        if found:
            self._sheet.view.select((found[0],))
            self._sheet.edit_requested.emit(found[0])

    def leave(self) -> None:
        """The pointer left the sheet."""
        self._sheet.view.light_up("")
        self._sheet.probe.leave()
        self._sheet.pointed.emit(None)
        self._name_timer.stop()

    def wheel(self, event: QWheelEvent) -> None:
        """The wheel was turned: nearer or farther, about the pointer."""
        if self.gesture is None:
            self._sheet.zoom(_WHEEL_STEP ** event.angleDelta().y(), event.position())
        event.accept()

    def _point(self, at: QPointF) -> None:
        name = self._sheet.camera.view_at(at)
        if name is None:
            self._sheet.pointed.emit(None)
            return
        place: list[float | None] = [None, None, None]
        across, up = AXES[name]
        place[across], place[up] = self._sheet.camera.to_metres(name, at)
        self._sheet.pointed.emit(tuple(place))

    def _show_name(self) -> None:
        thing = self._sheet.placement.design.by_id.get(self._sheet.view.hover)
        if thing is not None and self._sheet.underMouse() and self.gesture is None:
            at = self._sheet.cursor().pos()
            QToolTip.showText(at, plain_tip(thing.name), self._sheet.viewport())

    # --- dropping -----------------------------------------------------------------------------

    def drag_enter(self, event: QDragEnterEvent) -> None:
        """Something is dragged onto the sheet: a part of the shelf, or a lamp's file."""
        catalogue = self._sheet.catalogue
        path = dropped_path(event)
        if catalogue is not None and event.mimeData().hasFormat(PART_MIME):
            self._drop = Drop(self._sheet, catalogue, part_in(event.mimeData()))
        elif path is not None:
            self._drop = FileDrop(self._sheet, path)
        else:
            event.ignore()
            return
        event.acceptProposedAction()

    def drag_move(self, event: QDragMoveEvent) -> None:
        """It is dragged over the sheet."""
        if self._drop is not None:
            self._drop.move(event.position())
            event.acceptProposedAction()

    def drag_leave(self) -> None:
        """It left the sheet again."""
        if self._drop is not None:
            self._drop.cancel()
            self._drop = None

    def drop(self, event: QDropEvent) -> None:
        """It was let go."""
        drop, self._drop = self._drop, None
        if drop is None:
            return
        event.acceptProposedAction()
        if isinstance(drop, FileDrop):
            self._drop_file(drop, event.position())
        else:
            drop.release(event.position())
            self._sheet.setFocus(Qt.FocusReason.MouseFocusReason)

    def _drop_file(self, drop: FileDrop, at: QPointF) -> None:
        lamp = drop.lamp_at(at)
        drop.cancel()
        if not lamp and is_season_file(drop.path):
            self.file_dropped.emit(drop.path, ())
        elif lamp:
            self._sheet.view.select((lamp,))
            self.file_dropped.emit(drop.path, (lamp,))
        else:
            self._sheet.said.emit(tr("No lamp lies there; drop the file on a lamp"))
