"""What is looked at: subject, level, season, time of day, selection. Not part of the design.

Nothing here can be undone, and nothing here is saved in the design's file.
"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QObject, Signal


class View(QObject):
    """The state of the window that panels and the sheet share.

    Attributes
    ----------
    subject : str or None
        The subject that has colour, one of `core.reading.SUBJECTS`.
    level : tuple of (str, int) or None
        The chosen level: host id and number.
    season : str or None
        Season id; None is the design's first.
    minute : int or None
        The time of day shown; None is the whole day's mean.
    selection : tuple of str
        Ids of the selected parts, the leading one last.
    age : bool
        Whether Air shows the age of the air.
    line : str
        Which line the ribbon shows in Climate: "temperature", "humidity" or "deficit".
    layout : str
        Which drawings are shown: "sheet", "plan", "front" or "side".
    pins : tuple of (float, float, float)
        Places where what is read stays shown. [m]
    pin : int or None
        Number of the pin that keys act on.
    hover : str
        Id of the part under the pointer or lit up by a panel; empty for none.

    Signals
    -------
    subject_changed(), level_changed(), season_changed(), minute_changed(),
    selection_changed(), layout_changed(), hover_changed(), pins_changed(),
    age_changed(), line_changed()
    """

    subject_changed = Signal()
    level_changed = Signal()
    season_changed = Signal()
    minute_changed = Signal()
    selection_changed = Signal()
    layout_changed = Signal()
    hover_changed = Signal()
    pins_changed = Signal()
    age_changed = Signal()
    line_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.subject: str | None = "light"
        self.level: tuple[str, int] | None = None
        self.season: str | None = None
        self.minute: int | None = None
        self.selection: tuple[str, ...] = ()
        self.age = False
        self.line = "temperature"
        self.layout = "sheet"
        self.pins: tuple[tuple[float, float, float], ...] = ()
        self.pin: int | None = None
        self.hover = ""

    def choose_subject(self, subject: str | None) -> None:
        """Give one subject the colour, or none."""
        if subject != self.subject:
            self.subject = subject
            self.subject_changed.emit()

    def choose_level(self, level: tuple[str, int] | None) -> None:
        """Cut the plan at another level."""
        if level != self.level:
            self.level = level
            self.level_changed.emit()

    def choose_season(self, season: str | None) -> None:
        """Read the design in another season."""
        if season != self.season:
            self.season = season
            self.season_changed.emit()

    def choose_minute(self, minute: int | None) -> None:
        """Show another time of day; None for the whole-day mean."""
        if minute != self.minute:
            self.minute = None if minute is None else minute % 1440
            self.minute_changed.emit()

    def select(self, ids: Iterable[str]) -> None:
        """Select exactly these parts."""
        chosen = tuple(ids)
        if chosen and self.pin is not None:
            self.put_pins(self.pins)
        if chosen != self.selection:
            self.selection = chosen
            self.selection_changed.emit()

    def put_pins(
        self, pins: Iterable[tuple[float, float, float]], chosen: int | None = None
    ) -> None:
        """Have exactly these pins; the keys act on the ``chosen`` one, else on parts. [m]"""
        now = tuple(pins), chosen
        if now != (self.pins, self.pin):
            self.pins, self.pin = now
            self.pins_changed.emit()

    def choose_layout(self, layout: str) -> None:
        """Show the whole sheet or one drawing."""
        if layout != self.layout:
            self.layout = layout
            self.layout_changed.emit()

    def show_age(self, age: bool) -> None:
        """Tint Air by the age of the air, or not."""
        if age != self.age:
            self.age = age
            self.age_changed.emit()

    def choose_line(self, line: str) -> None:
        """Show another line of Climate in the ribbon."""
        if line != self.line:
            self.line = line
            self.line_changed.emit()

    def light_up(self, part_id: str) -> None:
        """Light up one part in every drawing, or none."""
        if part_id != self.hover:
            self.hover = part_id
            self.hover_changed.emit()
