"""The tree of circuits as it is drawn: rows that are read, selected, and dragged onto each other.

What the rows say is `gui.circuit_rows`'; what may be plugged in where, `core.power.plugging`'s.
"""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QToolTip, QWidget

from core.phrases import capital
from core.power.plugging import Target, is_pluggable, targets
from gui.circuit_rows import Row, lanes, parents_of
from gui.document import Document
from gui.plug_menu import PlugMenu, plug_in
from gui.plug_words import refusal_words, target_words
from gui.readings_panel import plain_state, state_words
from gui.theme import Theme, paint_focus_ring, state_role
from gui.tooltips import plain_tip
from gui.vial import Vial
from gui.view import View

_VIAL = (72, 12)
_SHORT_VIAL = (48, 11)
_X = 12
_LANE = 14
_TEXT = 14
_TALLEST = 47
_THINNEST, _THICKEST = 1.1, 7.1
_START = 5


class CircuitTree(QWidget):
    """The rows of all circuits.

    Attributes
    ----------
    rows : tuple of Row
    current : int
        The row that keys act on.

    Signals
    -------
    moved_to(QRect)
        The row that keys act on, which should be seen.
    """

    moved_to = Signal(QRect)

    def __init__(self, theme: Theme, document: Document, view: View) -> None:
        super().__init__()
        self._theme = theme
        self._document = document
        self._view = view
        self.rows: tuple[Row, ...] = ()
        self.current = 0
        self._room = 0
        self._vials: list[Vial] = []
        self._lanes: list[int] = []
        self._pressed: QPoint | None = None
        self._dragged = ""
        self._targets: dict[str, Target] = {}
        self._over = -1
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        theme.changed.connect(self.update)
        view.selection_changed.connect(self.update)
        view.hover_changed.connect(self.update)

    # --- what is shown ---------------------------------------------------------------------

    def show_rows(self, rows: tuple[Row, ...], room: int) -> None:
        """Show rows; ``room`` is the height there is, which decides on one line each or two."""
        self.rows, self._room = rows, room
        self._lanes = lanes(rows)
        self.current = min(self.current, max(0, len(rows) - 1))
        self.setMinimumHeight(self._pitch() * len(rows) + 4)
        for vial in self._vials[len(rows) :]:
            vial.hide()
        for place, row in enumerate(rows):
            self._show_vial(place, row)
        self.setAccessibleName(". ".join(row.words for row in rows))
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the vials at the right."""
        super().resizeEvent(event)
        for place, row in enumerate(self.rows):
            self._show_vial(place, row)

    def _pitch(self) -> int:
        """Return the height of a row: two lines, or one where not all would have room."""
        room = self._room // max(1, len(self.rows))
        if room < 2 * self._line() + 4:
            return self._line() + 5
        return min(_TALLEST, room)

    def _two_lines(self) -> bool:
        return self._pitch() >= 2 * self._line() + 4

    def _vial_size(self) -> tuple[int, int]:
        return _VIAL if self._two_lines() else _SHORT_VIAL

    def _line(self) -> int:
        return QFontMetrics(self._theme.font("second")).height()

    def row_rect(self, place: int) -> QRect:
        """Return where a row lies."""
        return QRect(0, place * self._pitch(), self.width(), self._pitch())

    def row_at(self, y: int) -> int:
        """Return the row at a height, −1 beside all rows."""
        place = y // self._pitch() if self.rows else -1
        return place if 0 <= place < len(self.rows) else -1

    def _show_vial(self, place: int, row: Row) -> None:
        while place >= len(self._vials):
            self._vials.append(Vial(self._theme, self, size=_VIAL))
        vial = self._vials[place]
        vial.setVisible(row.step is not None)
        if row.step is None:
            return
        item = row.step.reading
        vial.set_size(self._vial_size())
        vial.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        vial.show_reading(
            item.value,
            item.low,
            item.high,
            item.want_low,
            item.want_high,
            state=item.state,
            name=row.name,
            words=state_words(item),
            numbers=row.numbers,
        )
        size = vial.sizeHint()
        top = self.row_rect(place).top() + (self._line() - size.height()) // 2 + 2
        vial.setGeometry(QRect(QPoint(self.width() - size.width() - 6, top), size))

    # --- painting --------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ground, line, circles and words."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for place, row in enumerate(self.rows):
            self._paint_ground(painter, place, row)
        self._paint_line(painter)
        for place, row in enumerate(self.rows):
            self._paint_row(painter, place, row)
        if self.hasFocus() and self.rows:
            rect = QRectF(self.row_rect(self.current)).adjusted(2, 1, -2, -1)
            paint_focus_ring(painter, rect, self._theme.palette)

    def _paint_ground(self, painter: QPainter, place: int, row: Row) -> None:
        rect = self.row_rect(place).adjusted(1, 0, -1, -1)
        if row.thing and row.thing in self._view.selection:
            painter.fillRect(rect, self._theme.colour("pencil_bg"))
        target = self._targets.get(row.socket) if self._dragged else None
        if target is None or not (target.open or place == self._over):
            return
        pen = QPen(self._theme.colour("pencil"), 2.0 if place == self._over else 1.2)
        if not target.open:
            pen = QPen(self._theme.colour("out"), 1.4, Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(QRectF(rect).adjusted(1, 1, -1, -1), 4, 4)

    def _paint_line(self, painter: QPainter) -> None:
        """Draw a line from each row to the one that feeds it, as wide as the load on it."""
        most = max((row.watts for row in self.rows), default=0.0) or 1.0
        for place, parent in parents_of(self.rows).items():
            width = _THINNEST + (_THICKEST - _THINNEST) * self.rows[place].watts / most
            painter.setPen(QPen(self._theme.colour("lead"), width, c=Qt.PenCapStyle.FlatCap))
            start, end = self._dot(parent), self._dot(place)
            painter.drawPolyline([start, QPointF(start.x(), end.y()), end])

    def _dot(self, place: int) -> QPointF:
        x = _X + _LANE * self._lanes[place]
        return QPointF(x, self.row_rect(place).top() + self._line() / 2 + 2)

    def _paint_row(self, painter: QPainter, place: int, row: Row) -> None:
        painter.setPen(QPen(self._theme.colour("lead"), 1.6))
        painter.setBrush(self._theme.colour("sheet"))
        radius = 6.0 if row.step is not None else 3.0
        painter.drawEllipse(self._dot(place), radius, radius)
        left = _X + _LANE * self._lanes[place] + _TEXT
        top, right = self.row_rect(place).top(), self.width() - 6
        painter.setFont(self._theme.font("second"))
        taken = (
            self._vial_size()[0] if row.step is not None else self._paint_watts(painter, top, row)
        )
        painter.setFont(self._theme.font("second", bold=row.step is not None))
        painter.setPen(self._theme.colour("ink"))
        width = right - left - taken - 8
        name = shortened(row.name, painter.fontMetrics(), width)
        painter.drawText(QRect(left, top, width, self._line() + 4), 0, name)
        if self._two_lines():
            self._paint_numbers(painter, QRect(left, top + self._line() + 1, right - left, 99), row)

    def _paint_watts(self, painter: QPainter, top: int, row: Row) -> int:
        """Write a device's watts at the right; return their width."""
        painter.setPen(self._theme.colour("ink2"))
        width = painter.fontMetrics().horizontalAdvance(row.numbers)
        area = QRect(self.width() - 6 - width, top, width + 2, self._line() + 4)
        painter.drawText(area, 0, row.numbers)
        return width

    def _paint_numbers(self, painter: QPainter, area: QRect, row: Row) -> None:
        quiet = row.step is None or plain_state(row.step.reading.state)
        role = "ink2"
        if row.step is not None and not quiet:
            role = state_role(row.step.reading.state)
        painter.setFont(self._theme.font("second", bold=not quiet))
        painter.setPen(self._theme.colour(role))
        numbers = row.numbers if row.step is not None else ""
        words = "; ".join(part for part in (numbers, row.more) if part)
        text = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, area.width())
        painter.drawText(area, 0, text)

    # --- mouse -----------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a row."""
        place = self.row_at(event.position().toPoint().y())
        if event.button() == Qt.MouseButton.LeftButton and place >= 0:
            self._pressed, self.current = event.position().toPoint(), place
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Light up what lies under the pointer, or carry a plug."""
        at = event.position().toPoint()
        place = self.row_at(at.y())
        if self._pressed is None:
            self._point(place, event)
            return
        if not self._dragged and (at - self._pressed).manhattanLength() >= _START:
            self._begin_drag()
        if self._dragged:
            self._over = place
            self._tell(event.globalPosition().toPoint())
            self.update()

    def _point(self, place: int, event: QMouseEvent) -> None:
        row = self.rows[place] if place >= 0 else None
        self._view.light_up(row.thing if row is not None else "")
        tip = plain_tip(row.words) if row is not None else ""
        QToolTip.showText(event.globalPosition().toPoint(), tip, self)

    def _begin_drag(self) -> None:
        row, design = self.rows[self.current], self._document.committed
        if is_pluggable(design, row.thing):
            self._dragged = row.thing
            self._targets = {target.key: target for target in targets(design, row.thing)}
            self.setCursor(Qt.CursorShape.ClosedHandCursor)

    def _tell(self, at: QPoint) -> None:
        target = self._target()
        words = ""
        if target is not None:
            refused = target.refused is not None
            system = self._document.design.units
            words = refusal_words(target) if refused else target_words(target, system)
        QToolTip.showText(at, plain_tip(words), self)

    def _target(self) -> Target | None:
        """Return what the row under the carried plug would take it into."""
        return self._targets.get(self.rows[self._over].socket) if self._over >= 0 else None

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go: a click selects, a carried plug goes in where it may."""
        dragged, target = self._dragged, self._target() if self._dragged else None
        pressed, self._pressed = self._pressed, None
        self.cancel()
        if dragged and target is not None and target.open:
            plug_in(self._document, dragged, target)
        elif pressed is not None and not dragged:
            self._select()

    def cancel(self) -> None:
        """Put a carried plug back."""
        self._dragged, self._targets, self._over = "", {}, -1
        self.unsetCursor()
        self.update()

    def leaveEvent(self, event: object) -> None:
        """Nothing is under the pointer any more."""
        self._view.light_up("")

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer where the row could be plugged in."""
        keyboard = event.reason() == QContextMenuEvent.Reason.Keyboard
        place = self.current if keyboard else self.row_at(event.pos().y())
        if place >= 0:
            self.current = place
            self.show_menu()

    # --- keyboard --------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down go from row to row, Space selects, Enter offers other sockets."""
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        key = Qt.Key(event.key())
        if key in steps and self.rows:
            self.current = min(max(0, self.current + steps[key]), len(self.rows) - 1)
            self.moved_to.emit(self.row_rect(self.current))
            self.update()
        elif key == Qt.Key.Key_Space:
            self._select()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.show_menu()
        elif key == Qt.Key.Key_Escape and self._dragged:
            self._pressed = None
            self.cancel()
        else:
            super().keyPressEvent(event)

    def _select(self) -> None:
        row = self.rows[self.current] if self.rows else None
        if row is not None and row.thing:
            self._view.select((row.thing,))

    def show_menu(self) -> PlugMenu | None:
        """Offer where the current row could be plugged in; None where it has no plug."""
        row = self.rows[self.current] if self.rows else None
        if row is None or not is_pluggable(self._document.committed, row.thing):
            return None
        menu = PlugMenu(self._document, row.thing, self)
        menu.aboutToHide.connect(menu.deleteLater)
        rect = self.row_rect(self.current)
        menu.popup(self.mapToGlobal(rect.bottomLeft() + QPoint(_X, 0)))
        return menu


def shortened(name: str, metrics: QFontMetrics, width: int) -> str:
    """Return a row's name no wider than ``width``; what tells it from others stands at its end."""
    return metrics.elidedText(capital(name), Qt.TextElideMode.ElideMiddle, width)
