"""The level rows: beside the elevations, each shelf answers for itself at its own height.

What each level answers is gathered in `gui.level_entries`; where its height is, the sheet says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QRectF, QSignalBlocker, QSize, Qt
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QWidget

from core.language import tr
from core.reading import Reading
from core.states import State
from gui.circuit_steps import CircuitSteps
from gui.level_entries import (
    COLUMNS,
    LevelEntry,
    coarse_columns,
    hosts,
    level_entries,
    short_value,
    spoken_level,
)
from gui.readings_panel import plain_state, state_words
from gui.theme import Theme, paint_focus_ring, state_role
from gui.vial import LEVEL_SIZE, Vial
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings
    from gui.sheet import Sheet

ONE_LINE = 44
_LEFT = 6
_BAR = 4
_NUMBER = 24
_SHORT_VIAL = (44, 11)
_CHEVRON = 32


class LevelRow(QAbstractButton):
    """One level's row: number, plants, three vials with their numbers.

    Attributes
    ----------
    entry : LevelEntry
    vials : dict of str to Vial
        By column: "light", "air", "refill".
    lowest : int
        Height of the lowest row beside it, so that all rows show alike. [px]
    """

    def __init__(self, theme: Theme, entry: LevelEntry, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme
        self.entry = entry
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.vials = {name: Vial(theme, self, size=LEVEL_SIZE) for name in COLUMNS}
        self.lowest = 0
        self._vial_size = LEVEL_SIZE
        self._system = "metric"
        self._coarse: frozenset[str] = frozenset()

    @property
    def plants_shown(self) -> bool:
        """Whether there is room for a line with the plants' names above the vials."""
        return self.lowest >= max(ONE_LINE, 2 * self._line() + LEVEL_SIZE[1] + 8)

    @property
    def values_shown(self) -> bool:
        """Whether there is room for the numbers below the vials."""
        return self.lowest >= self._line() + LEVEL_SIZE[1] + 2

    def _beside(self) -> bool:
        """Whether numbers stand beside their vials, in one line with them."""
        room = self.column(0).width() - _SHORT_VIAL[0] - 6
        metrics = QFontMetrics(self._theme.font("drawing", bold=True))
        return not self.values_shown and room >= metrics.horizontalAdvance("00–00")

    def _line(self) -> int:
        return QFontMetrics(self._theme.font("second")).height()

    def show_entry(self, entry: LevelEntry, system: str, coarse: frozenset[str]) -> None:
        """Show what the level answers; ``coarse`` are the columns that are not final yet."""
        self.entry, self._system, self._coarse = entry, system, coarse
        for name, vial in self.vials.items():
            item = entry.readings.get(name)
            if item is None:
                vial.show_reading(None, name=tr(name))
                vial.hide()
                continue
            vial.show_reading(
                item.value,
                item.low,
                item.high,
                item.want_low,
                item.want_high,
                state=item.state,
                name=tr(name),
                words=state_words(item),
                numbers=short_value(name, item, system),
            )
            vial.show()
        self.setAccessibleName(spoken_level(entry, system))
        self.place_vials()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose with Enter as with Space; Up and Down go from level to level."""
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.focusNextPrevChild(key == Qt.Key.Key_Down)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the vials into their columns."""
        super().resizeEvent(event)
        self.place_vials()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ground, number, plants and values."""
        painter = QPainter(self)
        if self.isChecked():
            painter.fillRect(self.rect(), self._theme.colour("pencil_bg"))
            bar = QRect(self.width() - _BAR, 0, _BAR, self.height())
            painter.fillRect(bar, self._theme.colour("pencil"))
        painter.setPen(self._theme.colour("hair"))
        painter.drawLine(0, 0, self.width(), 0)
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        self._paint_number(painter)
        if self.plants_shown:
            self._paint_plants(painter)
        if self.values_shown or self._beside():
            self._paint_values(painter)
        if self.hasFocus():
            paint_focus_ring(
                painter, QRectF(self.rect()).adjusted(1, 1, -1, -1), self._theme.palette
            )

    def column(self, place: int) -> QRect:
        """Return the column of a vial, from the row's top to its foot."""
        left = _column_left(self.width(), self._numbers_apart(), place)
        width = _column_width(self.width(), self._numbers_apart())
        return QRect(left, 0, width, self.height())

    def _numbers_apart(self) -> bool:
        """Whether the number has a column of its own, since plants have no line."""
        return not self.plants_shown

    def _paint_number(self, painter: QPainter) -> None:
        painter.setFont(self._theme.font(bold=True))
        painter.setPen(self._theme.colour("pencil" if self.isChecked() else "ink"))
        line = painter.fontMetrics().height()
        top = self._top() if self.plants_shown else (self.height() - line) // 2
        box = QRect(_LEFT, top, _NUMBER, line)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, str(self.entry.number))

    def _paint_plants(self, painter: QPainter) -> None:
        number = QFontMetrics(self._theme.font(bold=True))
        left = _LEFT + max(18, number.horizontalAdvance(str(self.entry.number)) + 8)
        painter.setFont(self._theme.font("second"))
        painter.setPen(self._theme.colour("ink" if self.entry.plants else "ink2"))
        box = QRect(left, self._top(), self.width() - left - _BAR - 4, number.height())
        words = self.entry.plants or tr("no plants yet")
        text = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)

    def _paint_values(self, painter: QPainter) -> None:
        line = QFontMetrics(self._theme.font("second")).height()
        for place, name in enumerate(COLUMNS):
            item = self.entry.readings.get(name)
            column = self.column(place)
            if item is None:
                continue
            below = self.vials[name].geometry().bottom() - 1
            box = QRect(column.left(), below, column.width(), line)
            if self._beside():
                left = column.left() + _SHORT_VIAL[0] + 4
                box = QRect(left, (self.height() - line) // 2, column.right() - left, line)
            self._paint_value(painter, box, name, item)

    def _paint_value(self, painter: QPainter, box: QRect, name: str, item: Reading) -> None:
        quiet = plain_state(item.state)
        size = "drawing" if self._beside() else "second"
        painter.setFont(self._theme.font(size, bold=not quiet))
        role = "ink" if item.state is State.FINE else "ink2" if quiet else state_role(item.state)
        painter.setPen(self._theme.colour(role))
        text = short_value(name, item, self._system)
        if self._beside():
            text = text.split("\N{THIN SPACE}")[0]
        if name in self._coarse and item.value is not None:
            text = f"≈ {text}"
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)

    def _top(self) -> int:
        """Return where the first line begins, so that all lines stand in the row's middle."""
        lines = QFontMetrics(self._theme.font("second")).height()
        taken = lines + LEVEL_SIZE[1] + 4 + lines
        return max(1, (self.height() - taken) // 2)

    def place_vials(self) -> None:
        """Put the vials where plants and numbers leave room for them."""
        line = QFontMetrics(self._theme.font("second")).height()
        wanted = _SHORT_VIAL if self._beside() else LEVEL_SIZE
        if wanted != self._vial_size:
            self._vial_size = wanted
            for vial in self.vials.values():
                vial.set_size(wanted)
        size = self.vials["light"].sizeHint()
        if self.plants_shown:
            top = self._top() + line + 1
        elif self.values_shown:
            top = (self.height() - size.height() - line) // 2 + 1
        else:
            top = (self.height() - size.height()) // 2
        for place, name in enumerate(COLUMNS):
            self.vials[name].setGeometry(QRect(QPoint(self.column(place).left(), top), size))


def _column_width(width: int, apart: bool) -> int:
    left = _LEFT + (_NUMBER if apart else 0)
    return (width - left - _BAR) // len(COLUMNS)


def _column_left(width: int, apart: bool, place: int) -> int:
    left = _LEFT + (_NUMBER if apart else 0)
    return left + place * _column_width(width, apart)


class LevelRows(QWidget):
    """All rows of one host, lying on the sheet beside the elevations.

    Attributes
    ----------
    rows : dict of int to LevelRow
        By level number.
    host : str
        Id of the shelf unit, bay, platform or enclosure that is shown.
    """

    def __init__(self, theme: Theme, view: View, sheet: Sheet) -> None:
        super().__init__(sheet.viewport())
        self._theme = theme
        self._view = view
        self._sheet = sheet
        self._readings: Readings | None = None
        self.host = ""
        self.rows: dict[int, LevelRow] = {}
        self.title = QLabel(self, textFormat=Qt.TextFormat.PlainText)
        self.chooser = QComboBox(self)
        self.chooser.setProperty("role", "quiet")
        self.chooser.setAccessibleName(tr("Whose levels"))
        self.chooser.activated.connect(self._choose_host)
        self.heads = {name: QLabel(tr(name), self) for name in COLUMNS}
        self.steps = CircuitSteps(theme, self, sheet.document, view)
        view.level_changed.connect(self.refresh)
        view.subject_changed.connect(self.refresh)
        sheet.laid_out.connect(self.place)
        sheet.document.changed.connect(self._follow)
        theme.changed.connect(self._dress)
        self._dress()

    def show_readings(self, readings: Readings) -> None:
        """Show what the levels answer now."""
        self._readings = readings
        self.steps.show_readings(readings)
        self.refresh()

    def clear(self) -> None:
        """Forget the readings of a design that is no longer open."""
        self._readings = None
        self.refresh()

    def _follow(self) -> None:
        if not self._sheet.document.proposing:
            self.refresh()

    def refresh(self) -> None:
        """Show the rows of the chosen level's host."""
        placement = self._sheet.placement
        known = hosts(placement)
        level = self._view.level
        self.host = level[0] if level and level[0] in known else next(iter(known), "")
        self._fill_chooser(known)
        found = level_entries(placement, self.host, self._readings)
        for number in set(self.rows) - {entry.number for entry in found}:
            self.rows.pop(number).deleteLater()
        system = placement.design.units
        coarse = coarse_columns(self._readings) if self._readings is not None else frozenset()
        for entry in sorted(found, key=lambda entry: -entry.number):
            self._row(entry).show_entry(entry, system, coarse)
        for number, row in self.rows.items():
            row.setChecked(level == (self.host, number))
        self.place()

    def place(self) -> None:
        """Put everything at the heights that the sheet has now."""
        area = self._sheet.rows_area()
        self.setVisible(not area.isEmpty())
        self.setGeometry(area)
        power = self._view.subject == "power" and self._readings is not None
        self.steps.setVisible(power)
        self.steps.setGeometry(0, 0, area.width(), area.height())
        lowest = self._lowest()
        for row in self.rows.values():
            row.lowest = lowest
        tops = [self._place_row(row, area, power) for row in self.rows.values()]
        self._place_heads(area, min((top for top in tops if top is not None), default=None), power)

    def _lowest(self) -> int:
        """Return the height of the lowest band among the host's levels. [px]"""
        bands = [self._sheet.level_y((self.host, number)) for number in self.rows]
        return min((round(band[1] - band[0]) for band in bands if band is not None), default=0)

    def _place_row(self, row: LevelRow, area: QRect, power: bool) -> int | None:
        """Put a row at its level's height; return its top within the area, if it is shown."""
        band = self._sheet.level_y((self.host, row.entry.number))
        row.setVisible(band is not None and not power)
        if band is None:
            return None
        top, bottom = round(band[0]) - area.top(), round(band[1]) - area.top()
        row.setGeometry(0, top, area.width(), max(1, bottom - top))
        row.place_vials()
        return top

    def _place_heads(self, area: QRect, first: int | None, power: bool) -> None:
        line = self.title.sizeHint().height()
        several = self.chooser.count() > 1
        self.title.setVisible(not power and not several and bool(self.rows))
        self.chooser.setVisible(not power and several)
        self.title.setGeometry(_LEFT, 6, area.width() - _LEFT, line)
        self.chooser.setGeometry(0, 2, area.width(), self.chooser.sizeHint().height())
        row = next(iter(self.rows.values()), None)
        for place, (name, head) in enumerate(self.heads.items()):
            head.setVisible(not power and first is not None and first >= 2 * line)
            if row is not None and first is not None:
                left = row.column(place).left()
                head.setGeometry(left, first - line - 4, row.column(place).width(), line)
            head.setAccessibleName(tr(name))

    def _row(self, entry: LevelEntry) -> LevelRow:
        if entry.number not in self.rows:
            row = LevelRow(self._theme, entry, self)
            row.clicked.connect(lambda: self._choose(entry.number))
            self.rows[entry.number] = row
        return self.rows[entry.number]

    def _choose(self, number: int) -> None:
        self._view.choose_level((self.host, number))
        self.refresh()

    def _fill_chooser(self, known: dict[str, str]) -> None:
        names = {key: tr("{name}, level by level").format(name=name) for key, name in known.items()}
        self.title.setText(names.get(self.host, ""))
        room = self._sheet.rows_area().width() - _CHEVRON
        metrics = QFontMetrics(self.chooser.font())
        if any(metrics.horizontalAdvance(words) > room for words in names.values()):
            names = known
        with QSignalBlocker(self.chooser):
            self.chooser.clear()
            for key, words in names.items():
                self.chooser.addItem(words, key)
            self.chooser.setCurrentIndex(list(names).index(self.host) if self.host else -1)

    def _choose_host(self, index: int) -> None:
        host = self.chooser.itemData(index)
        numbers = [one.number for one in self._sheet.placement.levels if one.host == host]
        self._view.choose_level((host, min(numbers)))

    def _dress(self) -> None:
        self._theme.dress(self.title, bold=True)
        self.chooser.setFont(self._theme.font(bold=True))
        for head in self.heads.values():
            self._theme.dress(head, "second", "ink2")

    def sizeHint(self) -> QSize:
        """Return the width that three vials need."""
        return QSize(216, 300)
