"""The year: what each month is like inside, by typical days or by every hour of a year of weather.

The sums are `core.climate.year`'s and `year_months`'; the thread is `gui.long_work`'s.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
)

from core.climate.known import known
from core.climate.simulation import kernels_ready
from core.climate.weather import RoomRule, Weather, typical_days
from core.climate.year import simulate_year, typical_year
from core.climate.year_months import (
    MonthAir,
    Wanted,
    months_of_days,
    months_of_hours,
    wanted_inside,
)
from core.errors import InputError
from core.language import tr
from core.states import State
from core.units import show
from gui.link import Link
from gui.opening_widths import study_of
from gui.tables import Cell, Line, Table
from gui.weather_fields import MONTHS, WeatherFields

if TYPE_CHECKING:
    from core.readings import Readings
    from gui.long_work import Cancel, Watch
    from gui.main_window import MainWindow

_KWH = 3.6e6
_LITRE = 1e-3
_POLL = 300
_SIZE = QSize(1120, 680)
_COMPILED_SOON = tr("The day’s sums are still being compiled; the year begins when they are.")


class YearDialog(Table):
    """The year's table, the weather it comes from, and what starts it.

    Attributes
    ----------
    room : WeatherFields
    choose : Link
        Asks for another weather file.
    days, hours, stop : QPushButton
    bar : QProgressBar
    note : QLabel
    months : tuple of MonthAir
        What the table shows.
    """

    def __init__(self, window: MainWindow, readings: Readings) -> None:
        super().__init__(window.theme, tr("The year"), window)
        self._window, self._readings = window, readings
        self.months: tuple[MonthAir, ...] = ()
        self._next = ""
        theme = window.theme
        self.place = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        theme.dress(self.place, bold=True)
        self.choose = Link(theme, "")
        self.room = WeatherFields(theme, readings.design.units)
        self.days = QPushButton(tr("Twelve typical days"))
        self.hours = QPushButton(tr("Every hour"))
        self.stop = QPushButton(tr("Stop"))
        self.bar = QProgressBar(maximum=200, textVisible=False)
        self.bar.setAccessibleName(tr("Progress"))
        self.note = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        theme.dress(self.note, "second", "ink2")
        self._waiting = QTimer(self, interval=_POLL)
        self._arrange()
        self._connect()
        self._show_weather()
        self._rest()
        self.resize(_SIZE)

    def _arrange(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.place, 1)
        head.addWidget(self.choose)
        go = QHBoxLayout()
        for widget in (self.days, self.hours, self.bar, self.stop):
            go.addWidget(widget)
        go.addStretch()
        layout = self.layout()
        assert isinstance(layout, QVBoxLayout)
        layout.insertLayout(0, head)
        layout.insertWidget(1, self.room)
        layout.insertLayout(2, go)
        layout.addWidget(self.note)

    def _connect(self) -> None:
        self.choose.clicked.connect(self._ask_weather)
        self.days.clicked.connect(lambda: self.start("days"))
        self.hours.clicked.connect(lambda: self.start("hours"))
        self.stop.clicked.connect(self.give_up)
        self._waiting.timeout.connect(self._begin_when_compiled)
        self._window.work.progressed.connect(self._show_share)
        self._window.work.ended.connect(self._rest)

    # --- weather ---------------------------------------------------------------------------

    @property
    def weather(self) -> Weather | None:
        """The year of weather that was read last."""
        return self._window.season_files.weather

    def _ask_weather(self) -> None:
        files = self._window.season_files
        path = files.ask_for(weather=True)
        if path is not None:
            files.read_weather(path, lambda weather: self._show_weather())

    def _show_weather(self) -> None:
        weather = self.weather
        if weather is None:
            self.place.setText(tr("No weather chosen yet"))
            self.choose.setText(tr("Choose a weather file (EPW)…"))
            self.note.setText(
                tr("Weather services give away years of hourly weather as EPW files.")
            )
        else:
            name = self._window.season_files.weather_name
            self.place.setText(tr("{place}  ·  ‘{file}’").format(place=weather.place, file=name))
            self.choose.setText(tr("Another weather file…"))
        self.choose.setAccessibleName(self.choose.text())
        for button in (self.days, self.hours):
            button.setEnabled(weather is not None)

    # --- working out -----------------------------------------------------------------------

    def start(self, what: str) -> None:
        """Work out the year by "days" or "hours", once the kernel is compiled."""
        self._next = what
        self.note.setText(_COMPILED_SOON)
        self._begin_when_compiled()

    def _begin_when_compiled(self) -> None:
        if not self._next or not kernels_ready():
            self._waiting.start()
            return
        self._waiting.stop()
        what, self._next = self._next, ""
        weather = self.weather
        if weather is not None:
            self._begin(what, weather)

    def _begin(self, what: str, weather: Weather) -> None:
        readings, facing = self._readings, self.room.looks()
        try:
            rule = self.room.rule()
        except InputError as error:
            self.note.setText(str(error))
            return
        words = tr("The year, day by day") if what == "hours" else tr("The year, month by month")

        def job(watch: Watch, cancel: Cancel) -> tuple[MonthAir, ...]:
            return year_of(readings, weather, rule, facing, what == "hours", watch, cancel)

        self.note.setText(words)
        for widget in (self.days, self.hours):
            widget.setEnabled(False)
        self.bar.setValue(0)
        self.bar.show()
        self.stop.show()
        self._window.work.start(words, job, self.show_months, self.note.setText)

    def give_up(self) -> None:
        """Stop what is under way; the table stays as it is."""
        self._next = ""
        self._waiting.stop()
        if self._window.work.stop():
            self.note.setText(tr("Stopped; the table is from before."))

    def done(self, result: int) -> None:
        """Give up what nobody would see."""
        self.give_up()
        super().done(result)

    def _show_share(self, share: float) -> None:
        self.bar.setValue(round(200 * share))

    def _rest(self) -> None:
        self.bar.hide()
        self.stop.hide()
        for button in (self.days, self.hours):
            button.setEnabled(self.weather is not None)

    # --- showing ---------------------------------------------------------------------------

    def show_months(self, months: tuple[MonthAir, ...]) -> None:
        """Show the months, and the whole year below them."""
        self.months = months
        design = self._readings.design
        names = {season.id: season.name for season in design.seasons}
        self.fill(heads(design.units), lines(months, names, design.units))
        self.note.setText(
            tr(
                "Each month takes the parts of the season whose outdoor air is most like its own. "
                "One well-mixed air; covers within 20 %, evaporation within a factor of two."
            )
        )


def show_year(window: MainWindow) -> YearDialog | None:
    """Open the year; None while there is no enclosure to work it out for."""
    readings = window.asking.readings
    if readings is None or readings.climate.series is None:
        words = tr("A year needs an enclosure that is closed above; add one, or its top.")
        window.errors.complain(words)
        return None
    dialog = YearDialog(window, readings)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.show()
    return dialog


def year_of(
    readings: Readings, weather: Weather, rule: RoomRule, facing: float | None, hourly: bool,
    watch: Watch, cancel: Cancel,
) -> tuple[MonthAir, ...]:  # fmt: skip
    """Return the months of a year inside the enclosure; runs in a thread of its own."""
    look = study_of(readings)
    found = known(look)
    wanted: Wanted = wanted_inside(look)
    if hourly:
        run = simulate_year(
            readings.design, weather, rule, facing=facing, known=found, watch=watch, cancel=cancel
        )
        return months_of_hours(run, weather.month, wanted)
    days = typical_days(weather, facing)
    return months_of_days(
        typical_year(readings.design, days, rule, known=found, watch=watch, cancel=cancel), wanted
    )


def heads(system: str) -> tuple[str, ...]:
    """Return the heads of the columns."""
    return (
        tr("Month"),
        tr("Season"),
        tr("Day, night"),
        tr("Lowest to highest"),
        tr("Humidity"),
        tr("Too warm"),
        tr("Too cool"),
        tr("Too dry or damp"),
        tr("Dew margin"),
        tr("Devices"),
        tr("Fog"),
        tr("Runs off covers"),
    )


def lines(months: tuple[MonthAir, ...], seasons: dict[str, str], system: str) -> list[Line]:
    """Return a line for each month, and one for the year."""
    found = [_line(one, seasons.get(one.season, ""), system) for one in months]
    total = [sum(getattr(one, name) for one in months) for name in ("kwh", "fog", "condensed")]
    year = [Cell(tr("Year")), *[Cell("")] * 8, *_sums(total[0], total[1], total[2], system)]
    return [*found, Line("", tuple(year))]


def _line(one: MonthAir, season: str, system: str) -> Line:
    def warm(value: float) -> str:
        return show(round(value, 1), "temperature", system)

    def damp(value: float) -> str:
        return show(round(value, 2), "fraction", system)

    halves = [warm(value) for value in (one.day, one.night) if value is not None]
    low, high = damp(one.humidity.low), damp(one.humidity.high)
    cells = [
        Cell(MONTHS[one.month - 1]),
        Cell(season),
        Cell(", ".join(halves)),
        Cell(f"{warm(one.temperature.low)} – {warm(one.temperature.high)}"),
        Cell(f"{damp(one.humidity.mean)}, {low} – {high}"),
        _hours(one.too_warm),
        _hours(one.too_cool),
        _hours(one.damp),
        Cell(
            show(round(one.margin, 1), "temperature_difference", system),
            State.LOW if one.margin < 0 else State.FINE,
        ),
        *_sums(one.kwh, one.fog, one.condensed, system),
    ]
    return Line("", tuple(cells))


def _hours(value: float) -> Cell:
    return Cell(tr("{hours} h a day").format(hours=f"{value:.1f}") if value >= 0.05 else "–")


def _sums(kwh: float, fog: float, condensed: float, system: str) -> list[Cell]:
    return [
        Cell(show(kwh * _KWH, "energy", system, digits=3)),
        *(Cell(show(value * _LITRE, "volume", system, digits=2) if value > 1e-3 else "–")
          for value in (fog, condensed)),
    ]  # fmt: skip
