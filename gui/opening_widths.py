"""The table of how wide to open the window for each outdoor temperature.

Widths are worked out by `core.climate.opening_table`; nothing here computes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout

from core.climate.from_design import setup
from core.climate.known import known
from core.climate.opening_table import OpeningRow, opening_table
from core.climate.wants import held
from core.climate.zone import Beyond
from core.errors import InputError
from core.language import tr
from core.model import RoomWindow, Span
from core.states import State
from core.study import Study
from core.units import show
from gui.fields import ChoiceEdit
from gui.quantity_edit import QuantityEdit
from gui.tables import Cell, Line, Table

if TYPE_CHECKING:
    from core.readings import Readings
    from gui.long_work import Cancel, Watch
    from gui.main_window import MainWindow

_HEIGHT = 1.0
_SIZE = QSize(640, 520)


class OpeningWidths(Table):
    """The table with its two questions: how high the opening is, and where it leads.

    Attributes
    ----------
    height_ : QuantityEdit
    beyond : ChoiceEdit
    """

    def __init__(self, window: MainWindow, readings: Readings) -> None:
        super().__init__(window.theme, tr("How wide to open, by outdoor temperature"), window)
        self._window, self._readings = window, readings
        system = readings.design.units
        self.height_ = QuantityEdit(
            window.theme, tr("The opening is high"), "length", system=system, minimum=0.05,
            maximum=3.0,
        )  # fmt: skip
        self.height_.set_value(_first_height(readings))
        leads = (("outdoors", tr("outdoors")), ("room", tr("to the room")))
        self.beyond = ChoiceEdit(window.theme, tr("It leads"), leads)
        self.beyond.set_value("outdoors")
        self.note = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        window.theme.dress(self.note, "second", "ink2")
        questions = QHBoxLayout()
        questions.setSpacing(16)
        questions.addWidget(self.height_)
        questions.addWidget(self.beyond)
        questions.addStretch()
        layout = self.layout()
        assert isinstance(layout, QVBoxLayout)
        layout.insertLayout(0, questions)
        layout.addWidget(self.note)
        self.resize(_SIZE)
        self.height_.committed.connect(lambda _: self.refresh())
        self.beyond.committed.connect(lambda _: self.refresh())
        self.refresh()

    def refresh(self) -> None:
        """Work the table out anew, in the background."""
        height, beyond, readings = self.height_.value, self.beyond.value, self._readings
        self.note.setText(tr("Working out the widths"))

        def job(watch: Watch, cancel: Cancel) -> tuple[OpeningRow, ...]:
            return worked_out(readings, height or _HEIGHT, beyond)

        self._window.work.start(tr("Working out the widths"), job, self.show_rows, self._complain)

    def done(self, result: int) -> None:
        """Give up what nobody would see."""
        self._window.work.stop()
        super().done(result)

    def _complain(self, why: str) -> None:
        self.note.setText(why)

    def show_rows(self, rows: tuple[OpeningRow, ...]) -> None:
        """Show the table."""
        system = self._readings.design.units
        self.fill(heads(rows), lines(rows, system))
        self.note.setText(_note(self._readings))


def show_openings(window: MainWindow) -> OpeningWidths | None:
    """Open the table; None while there are no readings of climate."""
    readings = window.asking.readings
    if readings is None or readings.climate.series is None:
        window.errors.complain(
            tr("Widths need an enclosure that is closed above; add one, or its top.")
        )
        return None
    table = OpeningWidths(window, readings)
    table.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    table.show()
    return table


def study_of(readings: Readings) -> Study:
    """Return the study that readings were made of, with light and air at the plants."""
    season = readings.design.season(readings.season)
    done = {"light": readings.light, "air": readings.air}
    design = readings.design
    return Study(design.at(season.id, "day"), season, done=done, document=design)


def worked_out(readings: Readings, height: float, beyond: str) -> tuple[OpeningRow, ...]:
    """Return the rows of the table.

    Raises
    ------
    InputError
        If the design has no closed enclosure, or nothing says how warm it may be.
    """
    look = study_of(readings)
    made = setup(look, known(look))
    if made is None:
        raise InputError(tr("Widths need an enclosure that is closed above; add one, or its top."))
    day, night = wanted(readings)
    if day.high is None and night.high is None:
        raise InputError(
            tr("Nothing says how warm it may be; set plants inside, or their temperatures.")
        )
    leads: Beyond = "room" if beyond == "room" else "outdoors"
    return opening_table(made, day, night, height, leads)


def wanted(readings: Readings) -> tuple[Span, Span]:
    """Return the warmth to hold by day and by night. [°C]"""
    look = study_of(readings)
    return held(look, "temperature", "day"), held(look, "temperature", "night")


def _first_height(readings: Readings) -> float:
    """Return how high the window is, where the room has one."""
    panes = [one for one in readings.design.room.fixtures if isinstance(one, RoomWindow)]
    return float(panes[0].height) if panes else _HEIGHT


def heads(rows: tuple[OpeningRow, ...]) -> tuple[str, ...]:
    """Return the heads of the columns."""
    found: tuple[str, ...] = (tr("Outdoors"), tr("Open by day"), tr("Then inside"))
    if any(row.night is not None for row in rows):
        found += (tr("Open by night"), tr("Then inside"))
    return found


def lines(rows: tuple[OpeningRow, ...], system: str) -> list[Line]:
    """Return a line for each outdoor temperature."""
    found = []
    for row in rows:
        cells = [Cell(show(row.outdoors, "temperature", system))]
        for half in (row.day, row.night):
            if half is None:
                continue
            if half.width is None:
                cells.append(Cell(tr("too warm even wide open"), State.HIGH))
            elif half.width == 0:
                words = tr("shut; too cool") if half.too_cool else tr("shut")
                cells.append(Cell(words, State.LOW if half.too_cool else State.FINE))
            else:
                cells.append(Cell(show(half.width, "length", system)))
            cells.append(Cell(show(round(half.temperature, 1), "temperature", system)))
        found.append(Line("", tuple(cells)))
    return found


def _note(readings: Readings) -> str:
    system = readings.design.units
    said = []
    for span, words in zip(
        wanted(readings), (tr("by day at most {t}"), tr("by night at most {t}")), strict=True
    ):
        if span.high is not None:
            said.append(words.format(t=show(span.high, "temperature", system)))
    start = tr("The narrowest width that holds what the plants want: {limits}.").format(
        limits=", ".join(said)
    )
    more = tr(
        "Steady estimates with this opening alone, in still air outside and with the season’s "
        "room and lamps; wind moves more air."
    )
    return f"{start} {more}"
