"""Going from pane to pane with the keyboard.

Which panes there are, and in which order, the window says.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

_REASON = Qt.FocusReason.ShortcutFocusReason


def give_to_next(panes: Sequence[QWidget]) -> None:
    """Give the keyboard to the pane after the one that has it, round and round."""
    here = next((i for i, pane in enumerate(panes) if _has_keyboard(pane)), -1)
    for step in range(1, len(panes) + 1):
        if _give(panes[(here + step) % len(panes)]):
            return


def _has_keyboard(pane: QWidget) -> bool:
    focused = pane.window().focusWidget()
    return focused is not None and (focused is pane or pane.isAncestorOf(focused))


def _give(pane: QWidget) -> bool:
    """Give the keyboard to a pane, or to the first thing within it that takes it."""
    if isinstance(pane, QAbstractScrollArea) and _takes(pane):
        pane.setFocus(_REASON)
        return True
    child = next((one for one in pane.findChildren(QWidget) if _takes(one)), None)
    if child is not None:
        child.setFocus(_REASON)
    return child is not None


def _takes(widget: QWidget) -> bool:
    wants = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
    return wants and widget.isVisible() and widget.isEnabled()
