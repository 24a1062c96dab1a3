"""The eight readings as rows: icon, subject, state in words, vial, and the number that matters.

Choosing a row chooses what the sheet draws; how a reading was found opens in `gui.how_panel`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from core.language import tr
from core.reading import Reading, SubjectReadings
from core.states import State, words
from gui.icons import paint_icon
from gui.spoken import aloud, sureness
from gui.subjects import SUBJECTS, question, title
from gui.theme import Theme, paint_focus_ring, state_role
from gui.tooltips import plain_tip
from gui.vial import READING_SIZE, Vial, spoken
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings

ROW_HEIGHT = 43
TALL_ROW_HEIGHT = 50
SMALL_VIAL = (64, 12)
EDGE = 16
_TEXT_X = 46
_ICON = 20
_GAP = 10
_NARROWEST = 86


def state_words(item: Reading) -> str:
    """Return the state of a reading in words."""
    one_sided = (item.want_low is None) != (item.want_high is None)
    return tr(item.words) if item.words else words(item.state, item.subject, one_sided=one_sided)


def plain_state(state: State) -> bool:
    """Say whether a state's words stand back, uncoloured: nothing is amiss."""
    return state in (State.FINE, State.UNKNOWN, State.UNASKED)


def narrowed(font: QFont, text: str, width: int) -> QFont:
    """Return a font in which a text that is a little too long fits, its letters set narrower."""
    needed = QFontMetrics(font).horizontalAdvance(text)
    if needed > width:
        font.setStretch(max(_NARROWEST, int(100 * width / needed)))
    return font


class SubjectRow(QAbstractButton):
    """One subject's row.

    Signals
    -------
    chosen(str)
        The subject was clicked, or Enter or Space pressed.
    stepped(int)
        Up or Down was pressed.
    """

    chosen = Signal(str)
    stepped = Signal(int)

    def __init__(self, theme: Theme, subject: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.subject = subject
        self.line = question(subject)
        self.words = ""
        self.coarse = False
        self._state = State.UNKNOWN
        self._theme = theme
        self._compact = False
        self.vial = Vial(theme, self, size=READING_SIZE)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(f"{title(subject)}: {self.line}")
        self.clicked.connect(self._clicked)
        theme.changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """Return two lines' height, or a little more where the window is tall."""
        metrics = QFontMetrics(self._theme.font())
        second = QFontMetrics(self._theme.font("second"))
        least = metrics.height() + second.height() + 8
        return QSize(240, max(ROW_HEIGHT, least))

    def set_compact(self, compact: bool) -> None:
        """Use a shorter vial and keep the limit for the tooltip."""
        self._compact = compact
        self.vial.set_size(SMALL_VIAL if compact else READING_SIZE)
        self._place_vial()
        self.update()

    def show_reading(self, found: SubjectReadings, system: str, *, placed: bool = True) -> None:
        """Show a subject's number that matters most; its question while nothing is placed."""
        item = found.headline
        self.coarse = found.coarse
        if item is None:
            self._show_nothing(found.nothing.render(system) if placed else question(self.subject))
            return
        self._state = item.state
        self.words = state_words(item)
        self.line = item.line.render(system)
        extra = sureness(item)
        numbers = aloud(self.line) + (f", {extra}" if extra else "")
        name = title(self.subject)
        self.vial.show_reading(
            item.value,
            item.low,
            item.high,
            item.want_low,
            item.want_high,
            state=item.state,
            name=name,
            words=self.words,
            numbers=numbers,
        )
        self.setAccessibleName(spoken(name, self.words, numbers))
        self.setToolTip(plain_tip(self.line))
        self.update()

    def ask(self) -> None:
        """Show the subject's question, as long as nothing is read."""
        self.coarse = False
        self._show_nothing(question(self.subject))

    def _show_nothing(self, why: str) -> None:
        self._state = State.UNKNOWN
        self.words = ""
        self.line = why
        self.vial.show_reading(None, name=title(self.subject), words=why)
        self.setAccessibleName(f"{title(self.subject)}: {why}")
        self.setToolTip(plain_tip(why))
        self.update()

    def shown_line(self) -> str:
        """Return the second line as it is drawn.

        Where there is little room it says less: first not its limit, then nothing after a comma.
        """
        line = self.line.split(";")[0] if self._compact else self.line
        for mark in (";", ",", ","):
            if self._second().horizontalAdvance(line) > self._line_width() and mark in line:
                line = line.rpartition(mark)[0]
        return f"≈ {line}" if self.coarse and line[:1].isdigit() else line

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose with Enter as with Space; Up and Down go from row to row."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        elif event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(-1 if event.key() == Qt.Key.Key_Up else 1)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the vial at the right end of the first line."""
        super().resizeEvent(event)
        self._place_vial()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ground, icon and both lines; the vial is a widget of its own."""
        painter = QPainter(self)
        self._paint_ground(painter)
        colour = "pencil" if self.isChecked() else "ink"
        icon = QRectF(EDGE, (self.height() - _ICON) / 2, _ICON, _ICON)
        painter.setOpacity(1.0)
        paint_icon(painter, icon, self.subject, self._theme.colour(colour))
        self._paint_first_line(painter)
        self._paint_second_line(painter)
        if self.hasFocus():
            paint_focus_ring(
                painter, QRectF(self.rect()).adjusted(3, 1, -1, -1), self._theme.palette
            )

    def _paint_ground(self, painter: QPainter) -> None:
        bottom = self.height() - 1
        if self.isChecked():
            painter.fillRect(self.rect(), self._theme.colour("pencil_bg"))
            painter.fillRect(0, 0, 4, self.height(), self._theme.colour("pencil"))
        elif self.underMouse():
            painter.fillRect(self.rect(), self._theme.colour("raised"))
        painter.setPen(self._theme.colour("hair"))
        painter.drawLine(EDGE, bottom, self.width() - EDGE, bottom)

    def _paint_first_line(self, painter: QPainter) -> None:
        box = self._first_line()
        painter.setFont(self._theme.font(bold=True))
        painter.setPen(self._theme.colour("ink"))
        name = f"{title(self.subject)} ≈" if self.coarse else title(self.subject)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, name)
        quiet = plain_state(self._state)
        painter.setFont(self._theme.font(bold=not quiet))
        painter.setPen(self._theme.colour("ink2" if quiet else state_role(self._state)))
        right = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        painter.drawText(box, right, self.words)

    def _paint_second_line(self, painter: QPainter) -> None:
        box = QRect(
            _TEXT_X, self._first_line().bottom(), self._line_width(), self._second().height() + 2
        )
        line = self.shown_line()
        font = narrowed(self._theme.font("second"), line, box.width())
        painter.setFont(font)
        painter.setPen(self._theme.colour("ink2"))
        text = QFontMetrics(font).elidedText(line, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)

    def _second(self) -> QFontMetrics:
        return QFontMetrics(self._theme.font("second"))

    def _line_width(self) -> int:
        return self.width() - _TEXT_X - EDGE

    def _first_line(self) -> QRect:
        """Return where subject and state words stand: left of the vial."""
        height = QFontMetrics(self._theme.font()).height() + 2
        both = height + self._second().height()
        top = max(2, (self.height() - both) // 2 - 1)
        right = self.width() - EDGE - self.vial.sizeHint().width() - _GAP
        return QRect(_TEXT_X, top, right - _TEXT_X, height)

    def _place_vial(self) -> None:
        size = self.vial.sizeHint()
        line = self._first_line()
        top = line.center().y() - size.height() // 2
        self.vial.setGeometry(QRect(QPoint(self.width() - EDGE - size.width(), top), size))

    def _clicked(self) -> None:
        # Which row is checked follows the view, not the click.
        self.setChecked(not self.isChecked())
        self.chosen.emit(self.subject)


class ReadingsPanel(QWidget):
    """All eight rows with their heading.

    Attributes
    ----------
    rows : dict of str to SubjectRow
        The rows by subject.

    Signals
    -------
    how_asked(str)
        The grower wants to see how this subject's readings were found.
    """

    how_asked = Signal(str)

    def __init__(self, theme: Theme, view: View, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._view = view
        self._compact = False
        self.heading = QLabel(tr("Readings"), textFormat=Qt.TextFormat.PlainText)
        self.hint = QLabel(textFormat=Qt.TextFormat.PlainText)
        self.rows = {subject: SubjectRow(theme, subject) for subject in SUBJECTS}
        self._lay_out()
        for row in self.rows.values():
            row.chosen.connect(self._choose)
            row.stepped.connect(self._step)
        view.subject_changed.connect(self._follow)
        theme.changed.connect(self._dress)
        self.coarse = self._dragged = self._awaited = False
        self._anything = False
        self._dress()
        self._follow()

    def start_afresh(self, *, awaited: bool) -> None:
        """Ask the questions of a design that was opened; ``awaited`` says that it has parts."""
        self._awaited, self._anything, self.coarse = awaited, False, False
        for row in self.rows.values():
            row.ask()
        self._tell_hint()

    def show_readings(self, readings: Readings, *, dragged: bool = False) -> None:
        """Show finished readings, coarse or final; coarse ones come first, and while dragging."""
        self._awaited, self._dragged = False, dragged
        system = readings.design.units
        self._anything = any(readings.subject(subject).headline for subject in SUBJECTS)
        for subject, row in self.rows.items():
            row.show_reading(readings.subject(subject), system, placed=self._anything)
        self.coarse = readings.quality == "coarse"
        self._tell_hint()

    def set_compact(self, compact: bool) -> None:
        """Fit a narrow column."""
        self._compact = compact
        for row in self.rows.values():
            row.set_compact(compact)
        self._tell_hint()

    def set_tall(self, tall: bool) -> None:
        """Give the rows more height where the window has it."""
        for row in self.rows.values():
            row.setMinimumHeight(TALL_ROW_HEIGHT if tall else 0)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(EDGE, 8, EDGE, 6)
        head.addWidget(self.heading)
        head.addStretch()
        head.addWidget(self.hint)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(head)
        for row in self.rows.values():
            layout.addWidget(row)
        layout.addStretch()

    def _dress(self) -> None:
        self._theme.dress(self.heading, bold=True)
        self._theme.dress(self.hint, "second", "ink2")
        self._tell_hint()

    def _tell_hint(self) -> None:
        self.hint.setText(self._hint())

    def _hint(self) -> str:
        if self._awaited:
            return tr("Reading the design…")
        if self.coarse:
            return tr("coarse while you drag") if self._dragged else tr("coarse, final to come")
        if not self._anything:
            return tr("they fill as you place things")
        return tr("click one to see it") if self._compact else tr("click one to see it drawn")

    def _choose(self, subject: str) -> None:
        if self._view.subject == subject:
            self.how_asked.emit(subject)
        self._view.choose_subject(subject)

    def _step(self, by: int) -> None:
        rows = list(self.rows.values())
        here = next((i for i, row in enumerate(rows) if row.hasFocus()), 0)
        rows[min(max(here + by, 0), len(rows) - 1)].setFocus(Qt.FocusReason.TabFocusReason)

    def _follow(self) -> None:
        for subject, row in self.rows.items():
            row.setChecked(subject == self._view.subject)
