"""Adding a part by typing its name: a line, and the list of what fits it.

What there is to add comes from `gui.adding`; where it goes, from the edit that follows.
"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from core.language import tr
from gui.adding import Offer
from gui.icons import icon
from gui.theme import Theme

_WIDTH = 380


def fitting(offers: Iterable[Offer], typed: str) -> list[Offer]:
    """Return the offers whose name has words that begin as typed, in their order."""
    wanted = typed.casefold().split()
    return [offer for offer in offers if _fits(offer, wanted)]


def _fits(offer: Offer, wanted: list[str]) -> bool:
    words = f"{offer.words} {offer.group}".casefold().replace(",", " ").split()
    return all(any(_matches(word, start) for word in words) for start in wanted)


def _matches(word: str, start: str) -> bool:
    """Say whether a word begins as typed; figures may stand anywhere, as 40 in 0.40."""
    return start in word if start[0].isdigit() else word.startswith(start)


class AddByName(QDialog):
    """A small window to type a part's name into.

    Attributes
    ----------
    line : QLineEdit
    none : QLabel
        Says that nothing is called as typed; hidden otherwise.
    found : QListWidget

    Signals
    -------
    picked(str)
        Key of the part that was chosen.
    """

    picked = Signal(str)

    def __init__(
        self, theme: Theme, offers: Iterable[Offer], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(tr("Add by name"))
        self._theme = theme
        self._offers = list(offers)
        self.line = QLineEdit(placeholderText=tr("Type a name, as in board or tray"))
        self.line.setAccessibleName(tr("Name of the part to add"))
        self.none = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self.none.hide()
        self.found = QListWidget()
        self.found.setAccessibleName(tr("Parts that fit the name"))
        self.found.setUniformItemSizes(True)
        marked = f"background: {theme.palette.pencil_bg}; color: {theme.palette.ink};"
        self.found.setStyleSheet(f"QListWidget::item:selected {{ {marked} }}")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 16)
        layout.addWidget(self.line)
        layout.addWidget(self.none)
        layout.addWidget(self.found)
        self.line.textChanged.connect(self._filter)
        self.line.returnPressed.connect(self._pick)
        self.found.itemActivated.connect(self._pick)
        self.found.itemClicked.connect(self._pick)
        self._filter("")
        self.line.setFocus()

    def sizeHint(self) -> QSize:
        """Return the room for a name and a dozen of what fits it."""
        return QSize(_WIDTH, 420)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Up and Down walk through the list while the line keeps the keyboard."""
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()), 0)
        if step and self.line.hasFocus():
            row = min(max(self.found.currentRow() + step, 0), self.found.count() - 1)
            self.found.setCurrentRow(row)
        else:
            super().keyPressEvent(event)

    def _filter(self, typed: str) -> None:
        self.found.clear()
        for offer in fitting(self._offers, typed):
            item = QListWidgetItem(icon(offer.icon, self._theme.colour("ink")), offer.words)
            item.setData(Qt.ItemDataRole.UserRole, offer.key)
            self.found.addItem(item)
        self.found.setCurrentRow(0)
        self._tell_none(typed if self.found.count() == 0 else "")

    def _tell_none(self, typed: str) -> None:
        """Say that nothing is called as typed; nothing for ""."""
        words = tr("Nothing is called {typed}").format(typed=typed.strip()) if typed else ""
        self.none.setText(words)
        self.none.setVisible(bool(words))
        self.line.setAccessibleDescription(words)

    def _pick(self) -> None:
        item = self.found.currentItem()
        if item is not None:
            self.accept()
            self.picked.emit(item.data(Qt.ItemDataRole.UserRole))
