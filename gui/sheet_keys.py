"""The sheet's own keys: what letters, arrows and Tab do while it has the focus.

The commands themselves are in `gui.commands`; window-wide shortcuts in `gui.actions`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from core.drawing.marks import AXES

if TYPE_CHECKING:
    from gui.sheet import Sheet

_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class SheetKeys:
    """Turns key presses on the sheet into commands."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        commands = sheet.commands
        standard = QKeySequence.StandardKey
        self._standard = {
            standard.Copy: commands.copy,
            standard.Cut: commands.cut,
            standard.Paste: commands.paste,
            standard.SelectAll: commands.select_all,
            standard.Delete: self._delete,
        }
        self._plain = {
            Qt.Key.Key_R: lambda: commands.turn(1),
            Qt.Key.Key_PageUp: lambda: commands.change_level(1),
            Qt.Key.Key_PageDown: lambda: commands.change_level(-1),
            Qt.Key.Key_Return: self._edit,
            Qt.Key.Key_Enter: self._edit,
            Qt.Key.Key_Space: lambda: sheet.hand.hold_to_pan(True),
            Qt.Key.Key_Escape: self._escape,
            Qt.Key.Key_P: lambda: sheet.pins.put_here(),
        }
        self._control = {
            Qt.Key.Key_D: commands.duplicate,
            Qt.Key.Key_0: sheet.refit,
            Qt.Key.Key_Plus: sheet.zoom_in,
            Qt.Key.Key_Equal: sheet.zoom_in,
            Qt.Key.Key_Minus: sheet.zoom_out,
        }

    def press(self, event: QKeyEvent) -> bool:
        """Do what a key asks for; return whether it was one of the sheet's."""
        key = Qt.Key(event.key())
        modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if key in _ARROWS:
            return self._nudge(key, modifiers)
        for standard, command in self._standard.items():
            if event.matches(standard):
                command()
                return True
        if modifiers == Qt.KeyboardModifier.ShiftModifier and key == Qt.Key.Key_R:
            self._sheet.commands.turn(-1)
            return True
        control = bool(modifiers & Qt.KeyboardModifier.ControlModifier)
        table = self._control if control else self._plain
        if key not in table or (not control and modifiers):
            return False
        if not (event.isAutoRepeat() and key == Qt.Key.Key_Space):
            table[key]()
        return True

    def _nudge(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        if modifiers & Qt.KeyboardModifier.AltModifier:
            return False
        size = "normal"
        if modifiers & Qt.KeyboardModifier.ShiftModifier:
            size = "coarse"
        elif modifiers & Qt.KeyboardModifier.ControlModifier:
            size = "fine"
        across, up = AXES[self._sheet.active_view()]
        shift = [0.0, 0.0, 0.0]
        shift[across], shift[up] = _ARROWS[key]
        way = (shift[0], shift[1], shift[2])
        if self._sheet.pins.nudge(way, size):
            return True
        if not self._sheet.commands.chosen:
            return False
        self._sheet.commands.nudge(way, size)
        return True

    def _delete(self) -> None:
        if not self._sheet.pins.take_chosen_away():
            self._sheet.commands.delete()

    def _escape(self) -> None:
        if not self._sheet.pins.let_go():
            self._sheet.view.select(())

    def _edit(self) -> None:
        chosen = self._sheet.commands.chosen
        if chosen:
            self._sheet.edit_requested.emit(chosen[-1])

    def tab(self, event: QKeyEvent) -> bool:
        """Step through the parts, or mark the other distance of a drag."""
        if self._sheet.hand.key(event):
            return True
        back = event.key() == Qt.Key.Key_Backtab
        return self._sheet.pins.tab(-1 if back else 1)
