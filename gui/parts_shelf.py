"""The parts shelf: everything that can be placed, standing on a small drawn shelf unit.

Which parts there are is given as data; placing one is the sheet's work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from PySide6.QtCore import QByteArray, QMimeData, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QDrag,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractButton, QApplication, QFrame, QScrollArea, QWidget

from core.language import tr
from gui.icons import icon_pixmap, paint_icon
from gui.theme import Theme, paint_focus_ring

PART_MIME = "application/x-fernwright-part"
WIDTH = 140
COMPACT_WIDTH = 64

_ICON = 24
_COLUMNS = 2
_TALLEST_CELL = 62
_BESIDE = 6
_POST = 2
_COMPACT_CELL = 32
_AROUND = 8
_SHELF_KEYS = (
    Qt.Key.Key_Left,
    Qt.Key.Key_Right,
    Qt.Key.Key_Up,
    Qt.Key.Key_Down,
    Qt.Key.Key_Home,
    Qt.Key.Key_End,
    Qt.Key.Key_Return,
    Qt.Key.Key_Enter,
)


@dataclass(frozen=True)
class PartEntry:
    """One thing that can be placed.

    Attributes
    ----------
    key : str
        What is dragged and picked.
    icon : str
        Name of its icon (see `gui.icons`).
    label : str
        Its name on the shelf.
    group : str
        Heading under which it stands; entries of one group follow each other.
    """

    key: str
    icon: str
    label: str
    group: str


def part_in(data: QMimeData) -> str:
    """Return the key of the part that is being dragged, or an empty text."""
    return bytes(data.data(PART_MIME).data()).decode("utf-8", "replace")


def mime_for(key: str) -> QMimeData:
    """Return what a drag of the part ``key`` carries."""
    data = QMimeData()
    data.setData(PART_MIME, QByteArray(key.encode()))
    return data


class PartCell(QAbstractButton):
    """One part on the shelf: icon and name, dragged or pressed.

    Attributes
    ----------
    entry : PartEntry
    compact : bool
        Whether only the icon is drawn; the name is then a tooltip.
    """

    def __init__(self, theme: Theme, entry: PartEntry, parent: QWidget) -> None:
        super().__init__(parent)
        self.entry = entry
        self.compact = False
        self._theme = theme
        self._pressed_at: QPoint | None = None
        self.setCheckable(False)
        self.setText(entry.label)
        self.setAccessibleName(entry.label)
        self.setAccessibleDescription(tr("Enter places it; or drag it to the sheet"))
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setToolTip(entry.label)

    def sizeHint(self) -> QSize:
        """Return the size of one place on the shelf."""
        return QSize(_COMPACT_CELL if self.compact else 60, least_cell_height(self._theme))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a drag may begin."""
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed_at = event.position().toPoint()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Begin a drag once the pointer has really moved."""
        if self._pressed_at is None or not event.buttons() & Qt.MouseButton.LeftButton:
            return
        moved = (event.position().toPoint() - self._pressed_at).manhattanLength()
        if moved >= QApplication.startDragDistance():
            self._pressed_at = None
            self.setDown(False)
            self.drag()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Forget the place."""
        self._pressed_at = None
        super().mouseReleaseEvent(event)
        # A button that was dragged from is no longer down and would leave the event to the shelf.
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the arrows and Enter to the shelf, which knows the rows."""
        if event.key() in _SHELF_KEYS:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def drag(self) -> None:
        """Carry the part until it is dropped."""
        drag = QDrag(self)
        drag.setMimeData(mime_for(self.entry.key))
        ratio = self.devicePixelRatioF()
        drag.setPixmap(icon_pixmap(self.entry.icon, self._theme.colour("pencil"), 32, ratio))
        drag.setHotSpot(QPoint(16, 16))
        drag.exec(Qt.DropAction.CopyAction)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw icon and name, the ground under the pointer, and the focus ring."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        area = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        armed = self.isChecked()
        if self.underMouse() or self.isDown() or armed:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._theme.colour("pencil_bg"))
            painter.drawRoundedRect(area, 5, 5)
        ink = self._theme.colour("pencil" if armed else "ink")
        font = self._theme.font("drawing")
        line = 0 if self.compact else QFontMetrics(font).height()
        side = min(_ICON, self.width() - 2)
        top = max(1.0, (self.height() - side - line) / 2)
        place = QRectF((self.width() - side) / 2, top, side, side)
        paint_icon(painter, place, self.entry.icon, ink)
        if not self.compact:
            painter.setFont(font)
            painter.setPen(ink)
            self._paint_name(painter, QRectF(0, top + side, self.width(), line))
        if self.hasFocus():
            paint_focus_ring(painter, area, self._theme.palette)

    def _paint_name(self, painter: QPainter, place: QRectF) -> None:
        metrics = painter.fontMetrics()
        name = metrics.elidedText(self.entry.label, Qt.TextElideMode.ElideRight, int(place.width()))
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, name)


def least_cell_height(theme: Theme) -> int:
    """Return the height below which icon and name would touch. [px]"""
    return _ICON + QFontMetrics(theme.font("drawing")).height() + 4


class _Unit(QWidget):
    """The drawn shelf unit with all cells on it.

    Attributes
    ----------
    cells : list of PartCell
        In the order of the entries.
    rows : list of list of PartCell
        As they stand, from top to bottom.

    Signals
    -------
    picked(str)
        A cell was clicked or entered.
    """

    picked = Signal(str)

    def __init__(self, theme: Theme, entries: Sequence[PartEntry]) -> None:
        super().__init__()
        self._theme = theme
        self.compact = False
        self.cells: list[PartCell] = []
        self.groups: list[tuple[str, list[list[PartCell]]]] = []
        self._heads: list[tuple[str, int]] = []
        self._boards: list[int] = []
        for group, members in groupby(entries, key=lambda entry: entry.group):
            made = [self._cell(entry) for entry in members]
            rows = [made[i : i + _COLUMNS] for i in range(0, len(made), _COLUMNS)]
            self.groups.append((group, rows))
        if self.cells:
            self._make_reachable(self.cells[0])

    @property
    def rows(self) -> list[list[PartCell]]:
        """All rows of all groups, from top to bottom."""
        return [row for _, rows in self.groups for row in rows]

    def _cell(self, entry: PartEntry) -> PartCell:
        cell = PartCell(self._theme, entry, self)
        cell.clicked.connect(lambda: self.picked.emit(entry.key))
        self.cells.append(cell)
        return cell

    def arrange(self, width: int, height: int) -> None:
        """Put the cells into a shelf unit ``width`` wide, as tall as ``height`` allows."""
        head = 0 if self.compact else QFontMetrics(self._head_font()).height() + 3
        board = _POST + (8 if self.compact else 4)
        taken = 2 * _AROUND + len(self.groups) * (head + board)
        cell_height = self._cell_height((height - taken) / max(1, len(self.rows)))
        cell_width = (width - 2 * (_BESIDE + _POST + 1)) // _COLUMNS
        self._heads, self._boards = [], []
        y = _AROUND
        for group, rows in self.groups:
            self._heads.append((group, y))
            y += head
            for row in rows:
                for column, cell in enumerate(row):
                    left = _BESIDE + _POST + 1 + column * cell_width
                    cell.setGeometry(left, y, cell_width, cell_height)
                y += cell_height
            self._boards.append(y + 2)
            y += board
        self.setFixedHeight(max(y + _AROUND, height))
        self.update()

    def _cell_height(self, room: float) -> int:
        if self.compact:
            return _COMPACT_CELL
        return int(min(_TALLEST_CELL, max(least_cell_height(self._theme), room)))

    def _head_font(self) -> QFont:
        return self._theme.font("drawing", bold=True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk along the shelves with the arrows, place with Enter."""
        cell = self.focusWidget()
        if not isinstance(cell, PartCell) or not self._act(cell, event.key()):
            super().keyPressEvent(event)

    def _act(self, cell: PartCell, key: int) -> bool:
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            cell.click()
            return True
        goal = self._neighbour(cell, key)
        if goal is None:
            return False
        self._make_reachable(goal)
        goal.setFocus(Qt.FocusReason.TabFocusReason)
        return True

    def _neighbour(self, cell: PartCell, key: int) -> PartCell | None:
        place = self.cells.index(cell)
        row = next(i for i, cells in enumerate(self.rows) if cell in cells)
        column = self.rows[row].index(cell)
        last = len(self.cells) - 1
        along = {
            Qt.Key.Key_Left: max(0, place - 1),
            Qt.Key.Key_Right: min(last, place + 1),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if key in along:
            return self.cells[along[Qt.Key(key)]]
        if key not in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            return None
        row = min(len(self.rows) - 1, max(0, row + (1 if key == Qt.Key.Key_Down else -1)))
        return self.rows[row][min(column, len(self.rows[row]) - 1)]

    def _make_reachable(self, cell: PartCell) -> None:
        """Let Tab stop at one cell only, the one where the arrows were last."""
        for other in self.cells:
            policy = Qt.FocusPolicy.StrongFocus if other is cell else Qt.FocusPolicy.ClickFocus
            other.setFocusPolicy(policy)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw posts, shelves and headings."""
        if not self._boards:
            return
        painter = QPainter(self)
        painter.setPen(QPen(self._theme.colour("cover"), _POST, c=Qt.PenCapStyle.FlatCap))
        left, right = float(_BESIDE + 1), float(self.width() - _BESIDE - 1)
        foot = self._boards[-1] + 6.0
        for x in (left, right):
            painter.drawLine(QPointF(x, _AROUND), QPointF(x, foot))
        for y in self._boards:
            painter.drawLine(QPointF(left, y), QPointF(right, y))
        if self.compact:
            return
        painter.setFont(self._head_font())
        painter.setPen(self._theme.colour("ink2"))
        rise = QFontMetrics(self._head_font()).ascent()
        for words, y in self._heads:
            painter.drawText(QPointF(left + 9, y + rise + 1), words)


class PartsShelf(QScrollArea):
    """The shelf at the left of the window.

    Attributes
    ----------
    compact : bool
        Whether it shows icons only, 64 px wide, with the names as tooltips.

    Signals
    -------
    picked(str)
        Key of the part that was clicked, or entered with the keyboard.
    """

    picked = Signal(str)

    def __init__(
        self, theme: Theme, entries: Sequence[PartEntry], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.compact = False
        self._unit = _Unit(theme, entries)
        self._unit.picked.connect(self.picked)
        self.setWidget(self._unit)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(tr("Parts"))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._theme = theme
        self.setFixedWidth(self._fitting_width())
        theme.changed.connect(self._dress)

    @property
    def cells(self) -> list[PartCell]:
        """All parts on the shelf, in order."""
        return self._unit.cells

    def set_compact(self, compact: bool) -> None:
        """Show icons only, or icons with names under headings."""
        self.compact = self._unit.compact = compact
        for cell in self.cells:
            cell.compact = compact
        self._dress()

    def set_armed(self, key: str) -> None:
        """Mark the part that the next click on the sheet will place; none for ""."""
        for cell in self.cells:
            cell.setCheckable(cell.entry.key == key)
            cell.setChecked(cell.entry.key == key)

    def focus_shelf(self) -> None:
        """Give the keyboard to the part where it was last."""
        for cell in self.cells:
            if cell.focusPolicy() == Qt.FocusPolicy.StrongFocus:
                cell.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the cells share the height."""
        super().resizeEvent(event)
        self._arrange()

    def _dress(self) -> None:
        self.setFixedWidth(self._fitting_width())
        self._arrange()

    def _fitting_width(self) -> int:
        """Return the usual width, or more where two names would not stand side by side."""
        if self.compact:
            return COMPACT_WIDTH
        metrics = QFontMetrics(self._theme.font("drawing"))
        names = [metrics.horizontalAdvance(cell.entry.label) for cell in self.cells]
        around = 2 * (_BESIDE + _POST + 1)
        return max(WIDTH, _COLUMNS * (max(names, default=0) + 4) + around)

    def _arrange(self) -> None:
        self._unit.arrange(self.viewport().width(), self.viewport().height())
