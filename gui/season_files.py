"""Taking a season's air over from a file: a sensor's log or a year of weather, chosen or dropped.

What is asked about a file stands in `gui.season_dialog`; files are read by `core.climate.weather`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Qt

from core.climate.weather import SensorLog, Weather, read_epw, read_sensor
from core.errors import FernwrightError
from core.language import tr
from core.model import Design, Season
from gui.season_asks import ASK_LOG, ASK_WEATHER, WEATHER_ENDING, is_season_file
from gui.season_dialog import LogDialog, SeasonDialog, WeatherDialog

if TYPE_CHECKING:
    from gui.long_work import Job
    from gui.main_window import MainWindow


class SeasonFiles(QObject):
    """Follows what the form asks for, and what is dropped on the window.

    Attributes
    ----------
    weather : Weather or None
        The year that was read last; the year's dialogue begins with it.
    weather_name : str
        Name of its file.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._folder = Path.home()
        self.weather: Weather | None = None
        self.weather_name = ""
        window.form.asked.connect(self.ask)
        window.form.dropped.connect(self.take_dropped)
        window.sheet.hand.file_dropped.connect(self.take_dropped)

    def ask(self, what: str, ids: Sequence[str]) -> None:
        """Ask for a file for a season, and take it over."""
        for start, take in ((ASK_LOG, self.take_log), (ASK_WEATHER, self.take_weather)):
            if what.startswith(start):
                path = self.ask_for(weather=start == ASK_WEATHER)
                if path is not None:
                    take(path, what.removeprefix(start))

    def ask_for(self, *, weather: bool) -> Path | None:
        """Ask for a weather file or a sensor's log."""
        questions = self._window.files.questions
        asked = questions.file_of_weather if weather else questions.file_of_log
        path = asked(self._folder)
        self._folder = path.parent if path is not None else self._folder
        return path

    def take_dropped(self, path: Path, ids: Sequence[str] = ()) -> None:
        """Take over a file that was dropped where no lamp takes it."""
        if any(ids) or not is_season_file(path):
            return
        season = self._window.ribbon.season or self._window.document.design.seasons[0].id
        if path.suffix.lower() == WEATHER_ENDING:
            self.take_weather(path, season)
        else:
            self.take_log(path, season)

    def take_log(self, path: Path, season_id: str) -> None:
        """Show what a sensor logged, and ask which season gets it."""

        def ask(log: SensorLog) -> None:
            window = self._window
            try:
                dialog = LogDialog(window.theme, path.name, log, self._design, season_id, window)
            except FernwrightError as error:
                window.errors.complain(str(error))
                return
            self._open(dialog)

        self._read(path, lambda watch, cancel: read_sensor(path), ask)

    def take_weather(self, path: Path, season_id: str) -> None:
        """Show a year of weather, and ask which season gets which month."""

        def ask(weather: Weather) -> None:
            window = self._window
            self._open(
                WeatherDialog(window.theme, path.name, weather, self._design, season_id, window)
            )

        self.read_weather(path, ask)

    def read_weather(self, path: Path, then: Callable[[Weather], object]) -> None:
        """Read a year of weather and go on with it, or say why it cannot be used."""

        def keep(weather: Weather) -> None:
            self.weather, self.weather_name = weather, path.name
            then(weather)

        self._read(path, lambda watch, cancel: read_epw(path), keep)

    def _read(self, path: Path, job: Job, then: Callable[[Any], object]) -> None:
        """Read a file beside the window: a year has 8760 lines, and a log may have many more."""
        self._window.errors.put_away()
        self._window.work.start(tr("Reading {name}").format(name=path.name), job, then)

    @property
    def _design(self) -> Design:
        return self._window.document.committed

    def _open(self, dialog: SeasonDialog) -> None:
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.taken.connect(self._apply)
        dialog.open()

    def _apply(self, season: Season) -> None:
        design = self._design
        if season.id not in {one.id for one in design.seasons}:
            return
        seasons = tuple(season if one.id == season.id else one for one in design.seasons)
        words = tr("Air of {season} from a file").format(season=season.name)
        try:
            self._window.document.apply(words, design.having(seasons=seasons))
        except FernwrightError as error:
            self._window.errors.complain(str(error))
            return
        self._window.view.choose_season(season.id)
        self._window.ribbon.set_season(season.id)
