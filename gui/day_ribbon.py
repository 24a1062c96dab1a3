"""The day ribbon: one day with its lamps, one line with its band, and the time that is shown.

What the line shows and which time that concerns is decided elsewhere (`gui.view`); nothing here
computes a series. In Water it holds fourteen days instead, which `gui.ribbon_water` draws.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from core.hours import DAY, Periods, show_clock
from core.language import tr
from gui.ribbon_water import WaterAxis
from gui.theme import Theme
from gui.time_axis import DayLine, Series, TimeAxis

if TYPE_CHECKING:
    from core.water.fortnight import Fortnight

HEIGHT = 76
LEAST_HEIGHT = 54


class DayRibbon(QWidget):
    """Season, time shown and the day's line, side by side.

    Attributes
    ----------
    time : int or None
        Minute of the day that is shown; None for the whole-day mean.
    season : str
        Key of the chosen season.

    Signals
    -------
    time_changed(object)
        The user chose a minute of the day (int), or the whole-day mean (None).
    season_changed(str)
        The user chose the season with this key.
    line_chosen(str)
        The user chose another of the lines offered.
    """

    time_changed = Signal(object)
    season_changed = Signal(str)
    line_chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._keys: list[str] = []
        self.seasons = QComboBox()
        self.seasons.setProperty("role", "quiet")
        self.seasons.setAccessibleName(tr("Season"))
        self.lines = QComboBox()
        self.lines.setProperty("role", "quiet")
        self.lines.setAccessibleName(tr("Line of the day"))
        self._instead: QWidget | None = None
        self._clock = QLabel(textFormat=Qt.TextFormat.PlainText)
        self._shown = QLabel(textFormat=Qt.TextFormat.PlainText)
        self.mean_link = QPushButton()
        self.mean_link.setProperty("role", "link")
        self.axis = TimeAxis(theme)
        self.fortnight = WaterAxis(theme)
        self.fortnight.hide()
        self._lay_out()
        self.seasons.activated.connect(self._season_chosen)
        self.lines.activated.connect(lambda: self.line_chosen.emit(self.lines.currentData()))
        self.mean_link.clicked.connect(self._turn)
        self.axis.time_changed.connect(self._time_chosen)
        theme.changed.connect(self._dress)
        self._dress()
        self._tell_time()

    @property
    def time(self) -> int | None:
        """The minute of the day that is shown; None for the whole-day mean."""
        return self.axis.time

    @property
    def season(self) -> str:
        """Key of the chosen season; empty while there is none."""
        index = self.seasons.currentIndex()
        return self._keys[index] if index >= 0 else ""

    def sizeHint(self) -> QSize:
        """Return the usual height; 54 and 92 serve small and large windows."""
        return QSize(600, HEIGHT)

    def set_seasons(self, seasons: Sequence[tuple[str, str]]) -> None:
        """Offer seasons as (key, name); the choice stays if it is among them."""
        before = self.season
        with QSignalBlocker(self.seasons):
            self.seasons.clear()
            self._keys = [key for key, _ in seasons]
            self.seasons.addItems([name for _, name in seasons])
        self.set_season(before)

    def set_season(self, key: str) -> None:
        """Show the season ``key`` as chosen; an unknown key shows the first."""
        with QSignalBlocker(self.seasons):
            self.seasons.setCurrentIndex(self._keys.index(key) if key in self._keys else 0)

    def set_lamps(self, periods: Periods) -> None:
        """Show when lamps are on: (on, off) in minutes, equal for all day; none: no lamps."""
        self.axis.set_lamps(periods)

    def set_series(
        self,
        values: Sequence[float],
        low: Sequence[float] | None = None,
        high: Sequence[float] | None = None,
        *,
        title: str,
        text: Callable[[float], str],
        want: tuple[float | None, float | None] = (None, None),
        colour: str = "air",
        filled: bool = False,
        layers: Sequence[tuple[str, Series]] = (),
        told: Callable[[int], str] | None = None,
    ) -> None:
        """Show one line over the day.

        Parameters
        ----------
        values : sequence of float
            Evenly over the day, usually one a minute. [any unit]
        low, high : sequence of float, optional
            Ends of the values' own range.
        title : str
            What the line is, for tooltips and assistive tools.
        text : callable
            A value as the user reads it, with its unit.
        want : (float or None, float or None)
            The wanted range, drawn behind the line.
        colour : str
            Role of the line's colour in the palette.
        filled : bool
            Whether the ground under the line is filled and the scale begins at nought (watts).
        layers : sequence of (str, ndarray), optional
            What the line is the sum of, drawn on top of each other, the lowest first.
        told : callable, optional
            What the pointer reads at a minute of the day; by default the line's value.
        """
        line = DayLine.of(values, low, high, title, text, want, colour, filled)
        self.axis.set_line(replace(line, layers=tuple(layers), told=told))

    def set_line(self, line: DayLine) -> None:
        """Show a line that was put together elsewhere."""
        self.axis.set_line(line)

    def offer_lines(self, lines: Sequence[tuple[str, str]], chosen: str) -> None:
        """Offer other lines to show, as (key, name); none takes the choice away."""
        with QSignalBlocker(self.lines):
            if [self.lines.itemData(n) for n in range(self.lines.count())] != [
                key for key, _ in lines
            ]:
                self.lines.clear()
                for key, name in lines:
                    self.lines.addItem(name, key)
            self.lines.setCurrentIndex(max(0, self.lines.findData(chosen)))
        self._fit_link()

    def set_aside(self, instead: QWidget | None) -> None:
        """Show something else in place of the axis, as long as the day itself is shown large."""
        if instead is self._instead:
            return
        if self._instead is not None:
            self._instead.hide()
        self._instead = instead
        if instead is not None:
            if self._row.indexOf(instead) < 0:
                self._row.addWidget(instead, 1)
            instead.show()
        self.axis.setVisible(instead is None and not self.ahead)
        self._fit_link()

    @property
    def ahead(self) -> bool:
        """Whether fourteen days are shown instead of one."""
        return not self.fortnight.isHidden()

    def show_ahead(self, days: Fortnight | None, system: str) -> None:
        """Show fourteen days of water in a system of units instead of one day."""
        self.fortnight.show_ahead(days, system)
        self._turn_to(ahead=True)

    def show_day(self) -> None:
        """Show one day again."""
        self._turn_to(ahead=False)

    def _turn_to(self, *, ahead: bool) -> None:
        if ahead == self.ahead:
            return
        shown, hidden = (self.fortnight, self.axis) if ahead else (self.axis, self.fortnight)
        focused = hidden.hasFocus()
        hidden.hide()
        shown.setVisible(self._instead is None)
        if focused:
            shown.setFocus()
        self._tell_time()
        self._fit_link()

    def clear_series(self) -> None:
        """Show no line."""
        self.axis.set_line(None)

    def set_time(self, minute: int | None) -> None:
        """Show a minute of the day, or None for the whole-day mean, telling nobody."""
        self.axis.set_time(minute)
        self._tell_time()

    def step(self, minutes: int) -> None:
        """Move the time shown, across midnight too, as Alt+Left and Alt+Right do."""
        self.axis.choose((self.axis.last_time + minutes) % DAY)

    def show_mean(self) -> None:
        """Choose the whole-day mean."""
        self.axis.choose(None)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the link out where three lines have no room."""
        super().resizeEvent(event)
        self._fit_link()

    def _fit_link(self) -> None:
        offered = self.lines.count() > 0 and self._instead is None
        last = self.lines if offered else self.mean_link
        lines = (self.seasons, self._clock, last)
        needed = sum(line.sizeHint().height() for line in lines)
        fits = self.height() >= needed and not self.ahead
        self.mean_link.setVisible(fits and not offered)
        self.lines.setVisible(fits and offered)

    def _lay_out(self) -> None:
        words = QHBoxLayout()
        words.setContentsMargins(4, 0, 0, 0)
        words.setSpacing(6)
        words.addWidget(self._clock)
        words.addWidget(self._shown)
        words.addStretch()
        self._left = QWidget()
        left = QVBoxLayout(self._left)
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(0)
        left.addWidget(self.seasons, 0, Qt.AlignmentFlag.AlignLeft)
        left.addLayout(words)
        left.addWidget(self.mean_link, 0, Qt.AlignmentFlag.AlignLeft)
        left.addWidget(self.lines, 0, Qt.AlignmentFlag.AlignLeft)
        left.addStretch()
        layout = self._row = QHBoxLayout(self)
        layout.setContentsMargins(14, 4, 10, 0)
        layout.setSpacing(4)
        layout.addWidget(self._left)
        layout.addWidget(self.axis, 1)
        layout.addWidget(self.fortnight, 1)
        self.setMinimumHeight(LEAST_HEIGHT)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def _dress(self) -> None:
        self.seasons.setFont(self._theme.font(bold=True))
        self.mean_link.setFont(self._theme.font("second"))
        self._theme.dress(self._clock, "text", "pencil", bold=True)
        self._theme.dress(self._shown, "second", "ink2")
        # The axis keeps its place when the words change.
        mean = QFontMetrics(self._clock.font()).horizontalAdvance(tr("Whole-day mean"))
        self._left.setMinimumWidth(mean + 20)

    def _tell_time(self) -> None:
        """Say the time shown, and offer the other choice as a link."""
        if self.ahead:
            self._clock.setText(tr("Fourteen days"))
            self._shown.setText(tr("emptiest"))
            return
        if self.time is None:
            self._clock.setText(tr("Whole-day mean"))
            self._shown.setText("")
            self.mean_link.setText(tr("Show {time}").format(time=show_clock(self.axis.last_time)))
            return
        self._clock.setText(show_clock(self.time))
        self._shown.setText(tr("shown"))
        self.mean_link.setText(tr("Whole-day mean"))

    def _turn(self) -> None:
        self.axis.choose(self.axis.last_time if self.time is None else None)

    def _time_chosen(self, minute: int | None) -> None:
        self._tell_time()
        self.time_changed.emit(minute)

    def _season_chosen(self, index: int) -> None:
        self.season_changed.emit(self._keys[index])
