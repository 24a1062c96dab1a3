"""The menu "Plug into": every place for a part's plug, with its room, or why it cannot go there.

What may be plugged in where is `core.power.plugging`'s; dragging a plug is `gui.plugging`'s.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QMenu, QWidget

from core.errors import FernwrightError
from core.language import tr
from core.power.plugging import Target, is_pluggable, plugged_into, targets
from gui.document import Document
from gui.plug_words import refusal_words, target_words

if TYPE_CHECKING:
    from gui.sheet import Sheet


class PlugMenu(QMenu):
    """Choices for one part's plug; choosing one is one undoable step."""

    def __init__(self, document: Document, part_id: str, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._part = part_id
        part = document.committed.by_id[part_id]
        self.setTitle(tr("Plug {name} into").format(name=part.name))
        self.setAccessibleName(self.title())
        head = self.addAction(self.title())
        head.setEnabled(False)
        self.addSeparator()
        found = sorted(targets(document.committed, part_id), key=lambda t: t.refused is not None)
        for target in found:
            self._add(target)
        self.addSeparator()
        out = self.addAction(tr("nothing: not plugged in"))
        out.setCheckable(True)
        out.setChecked(getattr(part, "plug", None) is None)
        out.triggered.connect(lambda: plug_in(document, part_id, None))
        here = next((action for action in self.actions() if action.isChecked()), None)
        if here is not None:
            self.setActiveAction(here)

    def _add(self, target: Target) -> None:
        words = target_words(target, self._document.committed.units)
        if target.refused is not None:
            words = f"{target.name}: {refusal_words(target)}"
        action = self.addAction(words.replace("&", "&&"))
        action.setEnabled(target.refused is None)
        action.setCheckable(True)
        action.setChecked(target.here)
        action.triggered.connect(lambda: plug_in(self._document, self._part, target))


def plug_in(document: Document, part_id: str, target: Target | None) -> bool:
    """Plug a part in elsewhere as one undo step, or nowhere; return whether anything changed."""
    name = document.committed.by_id[part_id].name
    words = tr("Unplug {name}").format(name=name)
    if target is not None:
        words = tr("Plug {name} into {socket}").format(name=name, socket=target.name)
    try:
        part = plugged_into(document.committed, part_id, target.key if target else None)
        return document.apply_parts(words, {part_id: part})
    except FernwrightError:
        return False  # the part is gone, or something that it hangs on


def show_plug_menu(sheet: Sheet) -> PlugMenu | None:
    """Show the menu of the selected part beside it; say so where nothing selected has a plug."""
    design = sheet.document.committed
    part_id = next((i for i in reversed(sheet.commands.chosen) if is_pluggable(design, i)), None)
    if part_id is None:
        sheet.said.emit(tr("Select a device, strip, lead or timer to plug it in elsewhere"))
        return None
    menu = PlugMenu(sheet.document, part_id, sheet)
    menu.aboutToHide.connect(menu.deleteLater)
    view = sheet.active_view()
    rect = sheet.camera.box(view, sheet.placement.box(part_id))
    at = QPoint(round(rect.right()) + 6, round(rect.top()))
    menu.popup(sheet.viewport().mapToGlobal(at))
    return menu
