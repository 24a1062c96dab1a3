"""When the day of Climate takes the sheet's place, what stands below it, what it is compared to.

The day itself is drawn by `gui.climate_day`; its ribbon by `gui.ribbon_climate`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QObject, QRect, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QStackedWidget, QVBoxLayout, QWidget

from core.hours import show_clock
from core.language import tr
from gui.climate_day import ClimateDay
from gui.link import Link
from gui.ribbon_lines import fill_ribbon
from gui.subjects import SUBJECTS
from gui.theme import Theme

if TYPE_CHECKING:
    from collections.abc import Callable

    from core.readings import Readings
    from gui.actions import Actions
    from gui.main_window import MainWindow

_APART = 20
_WIDE = 640


class Links(QWidget):
    """A row of links."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.all: list[Link] = []
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(_APART)
        self._row.addStretch()

    def add(self, words: str, do: Callable[[], object]) -> Link:
        """Add a link at the right end."""
        link = Link(self._theme, words, self)
        link.clicked.connect(lambda: do())
        self.all.append(link)
        self._row.insertWidget(self._row.count() - 1, link)
        return link

    def fit(self, width: float) -> None:
        """Leave out links at the end that have no room; the menus have them too."""
        used = 0.0
        for link in self.all:
            offered = bool(link.property("offered") is not False)
            used += link.sizeHint().width() + _APART if offered else 0.0
            link.setVisible(offered and used - _APART <= width)


class DayFoot(QWidget):
    """What stands below the day in the ribbon's place: the time, how to change it, and links."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.clock = QLabel(textFormat=Qt.TextFormat.PlainText)
        self.hint = QLabel(
            tr("Drag the violet line, or press Alt+Left and Alt+Right for a quarter hour."),
            textFormat=Qt.TextFormat.PlainText,
        )
        self.links = Links(theme)
        words = QHBoxLayout()
        words.setSpacing(14)
        words.addWidget(self.clock)
        words.addWidget(self.hint, 1)
        self.hint.setMinimumWidth(10)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 2, 0, 2)
        layout.setSpacing(2)
        layout.addLayout(words)
        layout.addWidget(self.links)
        layout.addStretch()
        theme.changed.connect(self._dress)
        self._dress()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out the hint where it has no room."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        needed = self.clock.sizeHint().width() + self.hint.sizeHint().width() + 24
        self.hint.setVisible(needed <= self.width())
        self.links.fit(self.width())

    def show_time(self, minute: int | None) -> None:
        """Say which time the sheet would show."""
        shown = tr("the whole-day mean") if minute is None else show_clock(minute)
        self.clock.setText(tr("Sheet at {time}").format(time=shown))
        self._fit()

    def _dress(self) -> None:
        self._theme.dress(self.clock, "second", "pencil", bold=True)
        self._theme.dress(self.hint, "second", "ink2")


class ClimateShow(QObject):
    """Lets the sheet give way to the day, and come back.

    Attributes
    ----------
    day : ClimateDay
    stack : QStackedWidget
        The sheet, or the day.
    foot : DayFoot
    links : Links
        At the foot of the key.
    before : Readings or None
        Readings from before the last edit that changed the climate.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._view = window.view
        self._wanted = True
        self._settled: Readings | None = None
        self.before: Readings | None = None
        self.day = ClimateDay(window.theme)
        self.stack = QStackedWidget()
        self.stack.addWidget(window.sheet)
        self.stack.addWidget(self.day)
        self.foot = DayFoot(window.theme)
        self.foot.hide()
        self.links = Links(window.theme, window.sheet.viewport())
        self.links.hide()
        self._add_links()
        self._connect()

    @property
    def shown(self) -> bool:
        """Whether the day is shown in the sheet's place."""
        return self.stack.currentWidget() is self.day

    def _add_links(self) -> None:
        self.foot.links.add(tr("Bring the sheet back"), self.leave)
        self.links.add(tr("Show the day"), self.choose)
        for links in (self.foot.links, self.links):
            links.add(tr("The year…"), lambda: self._do("year"))
            links.add(tr("Opening widths…"), lambda: self._do("opening widths"))
        self._aside = tuple(
            links.add(tr("Compare no more"), self.compare_no_more)
            for links in (self.foot.links, self.links)
        )

    def _do(self, name: str) -> None:
        self._window.actions_.by_name[name].trigger()

    def _connect(self) -> None:
        window, view = self._window, self._view
        view.subject_changed.connect(self._follow_subject)
        view.minute_changed.connect(self._show_time)
        view.season_changed.connect(self.compare_no_more)
        view.line_changed.connect(self._show_line)
        window.ribbon.line_chosen.connect(view.choose_line)
        window.sheet.laid_out.connect(self._place_links)
        window.head.layout_chosen.connect(self.leave)
        window.head.day.clicked.connect(self._turn)
        window.shelf.picked.connect(self.leave)
        window.document.replaced.connect(self._start_afresh)
        self.day.time_chosen.connect(view.choose_minute)
        self.day.left.connect(self.leave)
        self._show_time()

    def give_keys(self, actions: Actions) -> None:
        """Let the digits that choose a subject act while the day has the keyboard."""
        names = (*SUBJECTS, "none")
        self.day.addActions([actions.by_name[f"subject {name}"] for name in names])
        actions.tick(f"line {self._view.line}")
        self._view.line_changed.connect(lambda: actions.tick(f"line {self._view.line}"))

    # --- showing ---------------------------------------------------------------------------

    def choose(self) -> None:
        """Choose Climate and show the day, again too."""
        self._wanted = True
        self._view.choose_subject("climate")
        self._place()

    def leave(self) -> None:
        """Bring the sheet back; Climate stays chosen."""
        if self._view.subject == "climate":
            self._wanted = False
            self._place()

    def show_readings(self, readings: Readings) -> None:
        """Show newer readings, and keep those from before the last edit."""
        self._keep(readings)
        self.day.show_day(readings, self.before)
        self._window.key.show_earlier(self.before)
        self._place()

    def compare_no_more(self) -> None:
        """Let go of what was before the last edit."""
        self._settled, self.before = None, None
        readings = self._window.asking.readings
        if readings is not None:
            self._window.key.show_earlier(None)
            self.day.show_day(readings)
            self._keep(readings)
        self._place()

    def _keep(self, readings: Readings) -> None:
        if readings.quality != "final" or readings.climate.coarse:
            return
        last = self._settled
        if last is not None and readings.climate is last.climate:
            return
        other_season = last is not None and last.season != readings.season
        if other_season:
            self.before = None
        elif last is not None and readings.design is not last.design and _differ(last, readings):
            self.before = last
        self._settled = readings

    def _start_afresh(self) -> None:
        self._settled, self.before = None, None
        self.day.show_day(None)
        self._place()

    def _follow_subject(self) -> None:
        self._wanted = True
        self._place()

    def _turn(self) -> None:
        if self.shown:
            self.leave()
        else:
            self.choose()

    def _show_line(self) -> None:
        readings = self._window.asking.readings
        if readings is not None:
            fill_ribbon(self._window.ribbon, self._view.subject, readings, self._view.line)

    def _show_time(self) -> None:
        self.day.show_time(self._view.minute)
        self.foot.show_time(self._view.minute)

    def _place(self) -> None:
        """Show the day or the sheet, whichever is wanted and can be."""
        can = self._view.subject == "climate" and bool(self.day.tracks)
        shown = can and self._wanted
        self._window.head.show_day(can, shown)
        for link in self._aside:
            link.setProperty("offered", self.day.compared)
        self.foot.links.fit(self.foot.width() or _WIDE)
        if shown != self.shown:
            self._exchange(self.day if shown else self._window.sheet)
        self._window.ribbon.set_aside(self.foot if shown else None)
        self._place_links()

    def _exchange(self, now: QWidget) -> None:
        before = self.stack.currentWidget()
        focused = before is not None and before.hasFocus()
        self.stack.setCurrentWidget(now)
        if focused:
            now.setFocus()

    def _place_links(self) -> None:
        """Lie at the foot of the key, where there is one and the sheet is shown."""
        window = self._window
        area = window.sheet.key_area()
        can = self._view.subject == "climate" and bool(self.day.tracks) and not area.isEmpty()
        self.links.fit(area.width())
        height = self.links.sizeHint().height()
        window.key.leave_room(height + 6 if can else 0, "climate")
        self.links.setVisible(can)
        foot = min(area.bottom(), window.sheet.viewport().height()) - height
        self.links.setGeometry(QRect(area.left(), foot, area.width(), height))


def _differ(one: Readings, other: Readings) -> bool:
    """Say whether two readings tell of different air."""
    first, second = one.climate.series, other.climate.series
    if first is None or second is None:
        return first is not second
    return not (
        np.array_equal(first.temperature, second.temperature)
        and np.array_equal(first.humidity, second.humidity)
    )
