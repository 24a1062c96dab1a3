"""Going from pane to pane with the keyboard, and the ring round the pane that was gone to.

Which panes there are, and in which order, the window says.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QRegion
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QTabBar, QWidget

from gui.theme import Theme, paint_focus_ring

_REASON = Qt.FocusReason.ShortcutFocusReason
_THICK = 3


class Ring(QWidget):
    """A ring that lies over a pane's edge and lets everything through to it."""

    def __init__(self, theme: Theme, window: QWidget) -> None:
        super().__init__(window)
        self._theme = theme
        self.pane: QWidget | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()

    def lie_round(self, pane: QWidget | None) -> None:
        """Lie round this pane, or nowhere."""
        if self.pane is not None:
            self.pane.removeEventFilter(self)
        self.pane = pane
        self.setVisible(pane is not None)
        if pane is not None:
            pane.installEventFilter(self)
            self._follow()
            self.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the pane's size and place."""
        if event.type() in (QEvent.Type.Resize, QEvent.Type.Move):
            self._follow()
        return False

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the ring."""
        painter = QPainter(self)
        paint_focus_ring(painter, QRectF(self.rect()), self._theme.palette, radius=2)

    def _follow(self) -> None:
        if self.pane is None:
            return
        corner = self.pane.mapTo(self.window(), QPoint(0, 0))
        self.setGeometry(QRect(corner, self.pane.size()))
        # Only the edge is the ring's, so that what is drawn within is not composed twice.
        within = self.rect().adjusted(_THICK, _THICK, -_THICK, -_THICK)
        self.setMask(QRegion(self.rect()).subtracted(QRegion(within)))


class Panes(QObject):
    """The panes that the keyboard goes round.

    Attributes
    ----------
    panes : list of QWidget
        In their order.
    ring : Ring
        Round the pane that the keyboard was given to, until it leaves.
    """

    def __init__(self, theme: Theme, window: QWidget, panes: Sequence[QWidget]) -> None:
        super().__init__(window)
        self.panes = list(panes)
        self.ring = Ring(theme, window)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._leave)

    def next(self) -> None:
        """Give the keyboard to the pane after the one that has it, round and round."""
        here = next((i for i, pane in enumerate(self.panes) if _has_keyboard(pane)), -1)
        for step in range(1, len(self.panes) + 1):
            if self.give(self.panes[(here + step) % len(self.panes)]):
                return

    def give(self, pane: QWidget) -> bool:
        """Give the keyboard to a pane and ring it; return whether anything in it takes that."""
        taker = _taker(pane)
        if taker is None:
            return False
        taker.setFocus(_REASON)
        self.ring.lie_round(pane)
        return True

    def _leave(self, _: QWidget | None, now: QWidget | None) -> None:
        pane = self.ring.pane
        if pane is not None and now is not None and not _holds(pane, now):
            self.ring.lie_round(None)


def _has_keyboard(pane: QWidget) -> bool:
    focused = pane.window().focusWidget()
    return focused is not None and _holds(pane, focused)


def _holds(pane: QWidget, widget: QWidget) -> bool:
    return widget is pane or pane.isAncestorOf(widget)


def _taker(pane: QWidget) -> QWidget | None:
    """Return a pane that takes the keyboard, else the first thing seen in it that does."""
    if isinstance(pane, QAbstractScrollArea) and _takes(pane):
        return pane
    within = [one for one in pane.findChildren(QWidget) if _takes(one)]
    # What a tab shows is wanted, rather than the tabs above it.
    within.sort(key=lambda one: isinstance(one, QTabBar))
    return next(iter(within), None)


def _takes(widget: QWidget) -> bool:
    wants = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.isEnabled()
    return wants and in_sight(widget)


def in_sight(widget: QWidget) -> bool:
    """Say whether some of a widget is shown, not scrolled away or squeezed to nothing."""
    seen, here, around = widget.rect(), widget, widget.parentWidget()
    while around is not None and not here.isWindow():
        seen = seen.translated(here.pos()).intersected(around.rect())
        here, around = around, around.parentWidget()
    return widget.isVisible() and seen.isValid()
