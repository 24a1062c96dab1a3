"""What is amiss, worst first: where it is, by how much, and the one edit that mends it.

The rules and the remedies come from `core.findings`; this panel shows, selects and applies them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, QRectF, Qt, Signal
from PySide6.QtGui import (
    QEnterEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from core.errors import FernwrightError
from core.finding import Finding, mended
from core.language import tr, trn
from core.states import State
from gui.document import Document
from gui.first_steps import FirstSteps
from gui.link import Link
from gui.spoken import aloud
from gui.theme import Theme, paint_focus_ring
from gui.vial import paint_mark
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings

EDGE = 16
_TEXT_X = 46
_MARK = 14


class FindingRow(QWidget):
    """One finding: mark, title, numbers, and its remedy as a link.

    Attributes
    ----------
    finding : Finding

    Signals
    -------
    selected(object), mend_asked(object), lit(str)
        The row was chosen; its remedy was; the pointer or the keyboard came to it or left.
    """

    selected = Signal(object)
    mend_asked = Signal(object)
    lit = Signal(str)
    stepped = Signal(int)

    def __init__(
        self, theme: Theme, finding: Finding, system: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.finding = finding
        self._theme = theme
        self._chosen = False
        self.title = QLabel(finding.title.render(system), self)
        self.detail = QLabel(finding.detail.render(system), self)
        for label in (self.title, self.detail):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.link: Link | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._lay_out(system)
        self.setAccessibleName(self._spoken(system))
        self._dress()

    def set_chosen(self, chosen: bool) -> None:
        """Mark the row as the one looked at."""
        self._chosen = chosen
        self.update()

    def enterEvent(self, event: QEnterEvent) -> None:
        """Light the place up."""
        super().enterEvent(event)
        self.lit.emit(self.finding.place)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        """Let the place go dark again."""
        super().leaveEvent(event)
        self.lit.emit("")
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Light the place up for the keyboard too."""
        super().focusInEvent(event)
        self.lit.emit(self.finding.place)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Let the place go dark again."""
        super().focusOutEvent(event)
        self.lit.emit("")
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Wait for the button to be let go."""
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose the finding."""
        inside = self.rect().contains(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and inside:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self.selected.emit(self.finding)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter chooses, Ctrl+Enter mends, Up and Down go to the neighbours."""
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            mend = event.modifiers() & Qt.KeyboardModifier.ControlModifier
            (self.mend_asked if mend else self.selected).emit(self.finding)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(-1 if key == Qt.Key.Key_Up else 1)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark, the line below, and the ring while the keyboard is here."""
        painter = QPainter(self)
        palette = self._theme.palette
        if self._chosen:
            painter.fillRect(self.rect(), self._theme.colour("pencil_bg"))
        elif self.underMouse():
            painter.fillRect(self.rect(), self._theme.colour("raised"))
        top = self.title.y() + (self._theme.font().pixelSize() * 1.4 - _MARK) / 2
        paint_mark(painter, QRectF(EDGE + 2, top, _MARK, _MARK), self.finding.state, palette)
        painter.setPen(self._theme.colour("hair"))
        painter.drawLine(EDGE, self.height() - 1, self.width() - EDGE, self.height() - 1)
        if self.hasFocus():
            paint_focus_ring(painter, QRectF(self.rect()).adjusted(2, 1, -2, -1), palette)

    def _lay_out(self, system: str) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(_TEXT_X, 8, EDGE, 9)
        layout.setSpacing(1)
        layout.addWidget(self.title)
        layout.addWidget(self.detail)
        remedy = self.finding.remedy
        if remedy is not None:
            self.link = Link(self._theme, remedy.words.render(system))
            self.link.clicked.connect(lambda: self.mend_asked.emit(self.finding))
            layout.addWidget(self.link)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)

    def _dress(self) -> None:
        self._theme.dress(self.title, bold=True)
        self._theme.dress(self.detail, "second", "ink2")

    def _spoken(self, system: str) -> str:
        parts = [self.title.text(), self.detail.text()]
        if self.finding.remedy is not None:
            words = self.finding.remedy.words.render(system)
            parts.append(tr("Remedy: {words}").format(words=words))
        return ". ".join(aloud(part).rstrip(".") for part in parts if part)


class FindingsPanel(QScrollArea):
    """The list of findings.

    Attributes
    ----------
    findings : tuple of Finding
        What is shown, worst first.
    rows : list of FindingRow
    chosen : int or None
        Place of the finding looked at.

    Signals
    -------
    refused(str)
        A remedy could not be done, and why.
    """

    refused = Signal(str)

    def __init__(
        self, theme: Theme, document: Document, view: View, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent, widgetResizable=True)
        self._theme = theme
        self._document = document
        self._view = view
        self._system = "metric"
        self.findings: tuple[Finding, ...] = ()
        self.rows: list[FindingRow] = []
        self.chosen: int | None = None
        self._awaited = True
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(tr("Findings"))
        self.more = QLabel(self, textFormat=Qt.TextFormat.PlainText)
        self.more.setAutoFillBackground(True)
        self.more.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._fill()
        self.verticalScrollBar().valueChanged.connect(self._tell_more)
        self.verticalScrollBar().rangeChanged.connect(self._tell_more)
        theme.changed.connect(self._fill)
        document.replaced.connect(self.start_afresh)

    def start_afresh(self) -> None:
        """Wait for the first readings of a design that was opened."""
        self.findings, self._awaited = (), True
        self._fill()

    def show_readings(self, readings: Readings) -> None:
        """Show the findings of these readings; the same ones are left alone.

        A design's first coarse readings may still bring another one's.
        """
        if self._awaited and readings.quality == "coarse":
            return
        self.show_findings(readings.findings, readings.design.units)

    def show_findings(self, findings: tuple[Finding, ...], system: str) -> None:
        """Show findings, in the order given."""
        self._awaited = False
        shown = [_key(item, self._system) for item in self.findings]
        same = shown == [_key(item, system) for item in findings]
        self.findings, self._system = findings, system
        if same:
            # The words are the same, but a remedy holds whole parts, which may be newer.
            for row, finding in zip(self.rows, findings, strict=True):
                row.finding = finding
            self._tell_nothing()
            return
        self._fill()

    def step(self, by: int) -> None:
        """Go to the next (1) or the previous (−1) finding, round and round."""
        if not self.rows:
            return
        start = -1 if by > 0 else 0
        here = start if self.chosen is None else self.chosen
        index = (here + by) % len(self.rows)
        # The keyboard goes first: whoever follows the selection sees where it came from.
        self.rows[index].setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.choose(index)

    def choose(self, index: int) -> None:
        """Show the finding's place: select it, turn the sheet to its subject and its level."""
        self.chosen = index
        for number, row in enumerate(self.rows):
            row.set_chosen(number == index)
        finding = self.findings[index]
        self.ensureWidgetVisible(self.rows[index], 0, 4)
        self._view.choose_subject(finding.subject)
        if finding.level is not None:
            self._view.choose_level(finding.level)
        if finding.place in self._document.design.by_id:
            self._view.select((finding.place,))

    def mend(self, finding: Finding) -> None:
        """Do a finding's remedy as one undo step."""
        if finding.remedy is None:
            return
        words = finding.remedy.words.render(self._document.design.units)
        try:
            self._document.apply(words, mended(self._document.committed, finding))
        except FernwrightError as error:
            self.refused.emit(str(error))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep "more below" at the foot."""
        super().resizeEvent(event)
        self._tell_more()

    def _fill(self) -> None:
        if any(row.underMouse() or row.hasFocus() for row in self.rows):
            self._view.light_up("")
        had_focus = next((i for i, row in enumerate(self.rows) if row.hasFocus()), None)
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.chosen = None
        self.nothing = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self.nothing.setContentsMargins(EDGE, 12, EDGE, 8)
        column.addWidget(self.nothing)
        self.steps = FirstSteps(self._theme)
        column.addWidget(self.steps)
        self.rows = [self._row(finding) for finding in self.findings]
        for row in self.rows:
            column.addWidget(row)
        column.addStretch()
        old = self.takeWidget()
        if old is not None:
            # One of its rows may be in the middle of telling that it was pressed.
            old.hide()
            old.deleteLater()
        self.setWidget(page)
        self._theme.dress(self.nothing, colour="ink2")
        self._theme.dress(self.more, "second", "ink2")
        self._tell_nothing()
        self._tell_more()
        if had_focus is not None and self.rows:
            self.rows[min(had_focus, len(self.rows) - 1)].setFocus()

    def _row(self, finding: Finding) -> FindingRow:
        row = FindingRow(self._theme, finding, self._system)
        row.selected.connect(lambda found: self.choose(self.findings.index(found)))
        row.mend_asked.connect(self.mend)
        row.lit.connect(self._view.light_up)
        row.stepped.connect(self._step_focus)
        return row

    def _step_focus(self, by: int) -> None:
        here = next((i for i, row in enumerate(self.rows) if row.hasFocus()), 0)
        row = self.rows[min(max(here + by, 0), len(self.rows) - 1)]
        row.setFocus(Qt.FocusReason.TabFocusReason)
        self.ensureWidgetVisible(row, 0, 4)

    def _tell_nothing(self) -> None:
        cautions = sum(item.state is State.CAUTION for item in self.findings)
        text = tr("Reading the design…") if self._awaited else tr("Nothing to mend.")
        if cautions:
            text += " " + tr("Cautions: {count}.").format(count=cautions)
        self.nothing.setText(text)
        empty = not self._document.design.parts
        self.steps.setVisible(empty and not self.findings)
        self.nothing.setVisible(cautions == len(self.findings) and not empty)

    def _tell_more(self) -> None:
        """Say how many findings lie below the foot."""
        foot, bar = self.viewport().height(), self.verticalScrollBar()
        last = foot - self.more.sizeHint().height()
        titles = [row.mapTo(self, QPoint(0, 28)).y() for row in self.rows]
        count = sum(y > last for y in titles) if bar.value() < bar.maximum() else 0
        self.more.setText(
            trn("{count} more below", "{count} more below", count).format(count=count)
        )
        self.more.setVisible(count > 0)
        self.more.setContentsMargins(_TEXT_X, 2, EDGE, 4)
        height = self.more.sizeHint().height()
        self.more.setGeometry(0, foot - height, self.viewport().width(), height)


def _key(finding: Finding, system: str) -> tuple[object, ...]:
    """Return all that a row shows of a finding."""
    data = finding.to_json(system)
    return (*data.values(), finding.level)
