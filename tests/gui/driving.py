"""Driving the sheet as a person would: building one, and moving the mouse over it in metres."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from core.drawing.marks import AXES
from core.drawing.marks import View as DrawingName
from core.model import Design
from gui.document import Document
from gui.sheet import Sheet
from gui.theme import Theme
from gui.view import View

NONE = Qt.KeyboardModifier.NoModifier


def build_sheet(qtbot: object, theme: Theme, design: Design, subject: str = "light") -> Sheet:
    """Return a shown sheet with the keyboard's focus."""
    document, view = Document(design), View()
    view.subject = subject
    sheet = Sheet(document, view, theme)
    qtbot.addWidget(sheet)  # type: ignore[attr-defined]
    sheet.resize(796, 630)
    sheet.show()
    document.replaced.emit()
    qtbot.waitExposed(sheet)  # type: ignore[attr-defined]
    sheet.setFocus()
    QApplication.processEvents()
    return sheet


class Mouse:
    """A mouse over one drawing of a sheet; places are given in the drawing's metres."""

    def __init__(self, sheet: Sheet, view: DrawingName) -> None:
        self.sheet = sheet
        self.view = view
        self.at = QPointF()

    def over(self, part_id: str) -> tuple[float, float]:
        """Return the middle of a part in this drawing."""
        centre = self.sheet.placement.box(part_id).centre
        across, up = AXES[self.view]
        return centre[across], centre[up]

    def _send(
        self, kind: QEvent.Type, button: Qt.MouseButton, held: Qt.MouseButton, keys: object
    ) -> None:
        event = QMouseEvent(
            kind,
            self.at,
            self.sheet.viewport().mapToGlobal(self.at),
            button,
            held,
            keys,  # type: ignore[arg-type]
        )
        QApplication.sendEvent(self.sheet.viewport(), event)

    def press(self, across: float, up: float, keys: object = NONE) -> None:
        self.at = self.sheet.camera.to_px(self.view, across, up)
        left = Qt.MouseButton.LeftButton
        self._send(QEvent.Type.MouseButtonPress, left, left, keys)

    def move_px(self, dx: float, dy: float, keys: object = NONE, steps: int = 5) -> None:
        for _ in range(steps):
            self.at = self.at + QPointF(dx / steps, dy / steps)
            none, left = Qt.MouseButton.NoButton, Qt.MouseButton.LeftButton
            self._send(QEvent.Type.MouseMove, none, left, keys)

    def move(self, across: float, up: float, keys: object = NONE, steps: int = 5) -> None:
        scale = self.sheet.camera.scale
        self.move_px(across * scale, -up * scale, keys, steps)

    def release(self, keys: object = NONE) -> None:
        left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
        self._send(QEvent.Type.MouseButtonRelease, left, none, keys)

    def click(self, across: float, up: float, keys: object = NONE) -> None:
        self.press(across, up, keys)
        self.release(keys)


def type_keys(sheet: Sheet, text: str) -> None:
    """Type on the sheet."""
    QTest.keyClicks(sheet, text)
