"""What is taken over from a weather or sensor file, shown and asked before a season gets it.

Files are read by `core.climate.weather`; the way there is `gui.season_files`'.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from typing import Literal

import numpy as np
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from core.climate.weather import (
    SensorLog,
    TypicalDay,
    Weather,
    season_logged,
    season_of,
    typical_days,
)
from core.language import tr
from core.model import DayProfile, Design, Season
from core.units import show
from gui.fields import ChoiceEdit
from gui.theme import Theme
from gui.weather_fields import MONTHS, WeatherFields


class SeasonDialog(QDialog):
    """Which season gets the air of a file, and what that air is.

    Attributes
    ----------
    season : ChoiceEdit
    facts : QLabel
        What was found and what would be taken.
    use, leave : QPushButton

    Signals
    -------
    taken(object)
        The `Season` that would replace the one of the same id.
    """

    taken = Signal(object)

    def __init__(
        self, theme: Theme, name: str, title: str, design: Design, season_id: str, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self._theme, self._name, self._design = theme, name, design
        options = [(one.id, one.name) for one in design.seasons]
        self.season = ChoiceEdit(theme, tr("For the season"), options)
        self.season.set_value(season_id)
        self.facts = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        theme.dress(self.facts, "second")
        self.use = QPushButton(tr("Use this air"))
        self.use.setProperty("role", "primary")
        self.use.setDefault(True)
        self.leave = QPushButton(tr("Leave it"))
        self.use.clicked.connect(self._take)
        self.leave.clicked.connect(self.reject)
        self.season.committed.connect(lambda _: self.refresh())

    def _lay_out(self, questions: Sequence[QWidget]) -> None:
        head = QLabel(self._name, textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        self._theme.dress(head, "title", bold=True)
        foot = QHBoxLayout()
        foot.addStretch()
        foot.addWidget(self.leave)
        foot.addWidget(self.use)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 12)
        column.setSpacing(10)
        for widget in (head, self.season, *questions, self.facts):
            column.addWidget(widget)
        column.addStretch()
        column.addLayout(foot)
        self.setMinimumWidth(round(440 * max(1.0, self._theme.text_scale)))

    @abstractmethod
    def made(self) -> Season:
        """Return the season that would be taken."""

    @abstractmethod
    def words(self) -> str:
        """Return what was found in the file and what would be taken, in words."""

    def refresh(self) -> None:
        """Say what would be taken now."""
        self.facts.setText(self.words())

    def chosen(self) -> Season:
        """Return the season as it is."""
        return self._design.season(self.season.value)

    def _take(self) -> None:
        self.taken.emit(self.made())
        self.accept()

    def _air(self, profile: DayProfile) -> str:
        system = self._design.units
        ends = (min(profile.temperature), max(profile.temperature))
        low, high = (show(round(value, 1), "temperature", system) for value in ends)
        damp = show(round(float(np.mean(profile.humidity)), 2), "fraction", system)
        return tr("{low} to {high}, {humidity}").format(low=low, high=high, humidity=damp)


class LogDialog(SeasonDialog):
    """A sensor's log: whether it hung in the room or outdoors."""

    def __init__(
        self, theme: Theme, name: str, log: SensorLog, design: Design, season_id: str,
        parent: QWidget,
    ) -> None:  # fmt: skip
        title = tr("Air from a sensor’s log")
        super().__init__(theme, name, title, design, season_id, parent)
        self.log, self.profile = log, log.profile()
        hung = (("room", tr("in the room")), ("outdoors", tr("outdoors")))
        self.hung = ChoiceEdit(theme, tr("The sensor hung"), hung)
        self.hung.set_value("room")
        self.hung.committed.connect(lambda _: self.refresh())
        self._lay_out((self.hung,))
        self.refresh()

    def made(self) -> Season:
        """Return the season with the logged day."""
        source = tr("‘{file}’, {first} to {last}").format(
            file=self._name, first=self.log.first, last=self.log.last
        )
        where: Literal["room", "outdoors"] = "outdoors" if self.hung.value == "outdoors" else "room"
        return season_logged(self.profile, self.chosen(), where, source)

    def words(self) -> str:
        """Return how much was logged, and the day that it comes to."""
        found = tr("{count} values on {days} days, {first} to {last}.").format(
            count=self.log.minute.size, days=self.log.days, first=self.log.first, last=self.log.last
        )
        day = tr("Mean of each hour of the day: {air}.").format(air=self._air(self.profile))
        said = [found, day]
        if self.log.guessed:
            said.append(tr("Dates are taken as month/day."))
        return " ".join(said)


class WeatherDialog(SeasonDialog):
    """A year of weather: which month, and how the room follows outdoors."""

    def __init__(
        self, theme: Theme, name: str, weather: Weather, design: Design, season_id: str,
        parent: QWidget,
    ) -> None:  # fmt: skip
        title = tr("Air from a year of weather")
        super().__init__(theme, name, title, design, season_id, parent)
        self.weather = weather
        self.month = ChoiceEdit(theme, tr("Its typical day in"), list(enumerate(MONTHS, 1)))
        self.room = WeatherFields(theme, design.units)
        self.season.committed.connect(lambda _: self._choose_month())
        self.month.committed.connect(lambda _: self.refresh())
        self.room.changed.connect(self.refresh)
        self._lay_out((self.month, self.room))
        self._choose_month()

    def _choose_month(self) -> None:
        """Choose the month whose outdoor air is most like the season's."""
        season = self.chosen()
        mean = (season.outdoor_day + season.outdoor_night) / 2
        months = [self.weather.temperature[self.weather.month == n].mean() for n in range(1, 13)]
        self.month.set_value(int(np.argmin(np.abs(np.array(months) - mean))) + 1)
        self.refresh()

    def _day(self) -> TypicalDay:
        days = typical_days(self.weather, self.room.looks())
        return days[int(self.month.value) - 1]

    def made(self) -> Season:
        """Return the season with the month's typical day."""
        source = tr("‘{file}’, {place}, {month}").format(
            file=self._name, place=self.weather.place, month=MONTHS[self.month.value - 1]
        )
        sunny = self.room.looks() is not None
        return season_of(self._day(), self.room.rule(), self.chosen(), source, sunny)

    def words(self) -> str:
        """Return what the file holds, and the day that it comes to."""
        made = self.made()
        assert made.room is not None and made.outdoors is not None
        found = tr("{place}: {hours} hours").format(
            place=self.weather.place, hours=self.weather.hour.size
        )
        if self.weather.bridged:
            found += tr(", {count} missing values bridged").format(count=self.weather.bridged)
        said = [
            found + ".",
            tr("Outdoors {air}.").format(air=self._air(made.outdoors)),
            tr("Room {air}.").format(air=self._air(made.room)),
        ]
        if made.sun is not None:
            most = show(max(made.sun), "irradiance", self._design.units, digits=2)
            said.append(tr("Sun on the window up to {most}.").format(most=most))
        return " ".join(said)
