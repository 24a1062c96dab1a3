"""How a room follows the weather outside, as fields: shared by seasons and by the year.

The rule itself is `core.climate.weather.RoomRule`.
"""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from core.climate.weather import RoomRule
from core.errors import InputError
from core.language import tr
from gui.fields import ChoiceEdit
from gui.quantity_edit import QuantityEdit
from gui.theme import Theme

MONTHS = (
    tr("January"),
    tr("February"),
    tr("March"),
    tr("April"),
    tr("May"),
    tr("June"),
    tr("July"),
    tr("August"),
    tr("September"),
    tr("October"),
    tr("November"),
    tr("December"),
)

_UNCOUNTED = "not counted"
_FACING = (
    (_UNCOUNTED, tr("sun not counted")),
    (0.0, tr("north")),
    (45.0, tr("north-east")),
    (90.0, tr("east")),
    (135.0, tr("south-east")),
    (180.0, tr("south")),
    (225.0, tr("south-west")),
    (270.0, tr("west")),
    (315.0, tr("north-west")),
)


class WeatherFields(QWidget):
    """Four questions: how much warmer the room is, within which limits, where its window looks.

    Signals
    -------
    changed()
        Something was answered anew.
    """

    changed = Signal()

    def __init__(self, theme: Theme, system: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        usual = RoomRule()
        self.offset = QuantityEdit(
            theme, tr("Room warmer than outdoors by"), "temperature_difference", system=system,
            minimum=-30, maximum=40,
        )  # fmt: skip
        self.least = QuantityEdit(
            theme, tr("Heated to at least"), "temperature", system=system, minimum=-60, maximum=80
        )
        self.most = QuantityEdit(
            theme, tr("Cooled to at most"), "temperature", system=system, minimum=-60, maximum=80
        )
        self.facing = ChoiceEdit(theme, tr("The window looks"), _FACING)
        self.offset.set_value(usual.offset)
        self.least.set_value(usual.least)
        self.most.set_value(usual.most)
        self.facing.set_value(_UNCOUNTED)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(8)
        for place, field in enumerate((self.offset, self.facing, self.least, self.most)):
            grid.addWidget(field, place // 2, place % 2)
            field.committed.connect(self._check)

    def rule(self) -> RoomRule:
        """Return the rule that the fields tell.

        Raises
        ------
        InputError
            If the limits exclude each other.
        """
        usual = RoomRule()
        return RoomRule(
            _or(self.offset.value, usual.offset),
            _or(self.least.value, usual.least),
            _or(self.most.value, usual.most),
        )

    def looks(self) -> float | None:
        """Return where the window looks, clockwise from north; None: its sun is not counted."""
        value = self.facing.value
        return float(value) if isinstance(value, float) else None

    def _check(self, _: object) -> None:
        try:
            self.rule()
        except InputError as error:
            self.most.set_problem(str(error))
            return
        self.most.set_problem("")
        self.changed.emit()


def _or(value: float | None, usual: float) -> float:
    return usual if value is None else value
