"""Fields for quantities and for hours, typed as they are spoken and shown in the design's units.

Reading and showing is `core.units`' and `core.hours`' work; the look and the manners of a typed
field come from `gui.fields`.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from core import units
from core.errors import InputError
from core.hours import Periods, parse_hours, show_hours
from core.language import tr
from gui.fields import Check, LineField
from gui.theme import Theme


class QuantityEdit(LineField):
    """A field for one quantity: any unit is read, the design's system is shown.

    Attributes
    ----------
    kind : str
        Kind of quantity, as `core.units` names it.
    system : str
        "metric" or "us".
    value : float or None
        In the kind's inside unit (SI; temperatures °C).
    minimum, maximum : float or None
        Least and greatest value that is taken.

    Signals
    -------
    committed(object)
        The value that the user gave, a float; None when an optional field was emptied.
    """

    def __init__(
        self,
        theme: Theme,
        label: str,
        kind: str,
        parent: QWidget | None = None,
        *,
        system: str = "metric",
        minimum: float | None = None,
        maximum: float | None = None,
        optional: bool = False,
        check: Check | None = None,
    ) -> None:
        super().__init__(theme, label, parent, optional=optional, check=check)
        self.kind = kind
        self.system = system
        self.minimum = minimum
        self.maximum = maximum
        self.editor.steps = True
        self.editor.stepped.connect(self._step)

    def set_system(self, system: str) -> None:
        """Show the value in another system of units; text that is being typed stays."""
        self.system = system
        if not self.editor.touched:
            self.put_back()

    def read(self, text: str) -> float:
        """Return the quantity that ``text`` means, within the field's limits."""
        value = units.parse(self._bare(text), self.kind, self.system)
        self._refuse_outside(value)
        return value

    def shown(self, value: float) -> str:
        """Return the quantity in the design's units."""
        return units.show(value, self.kind, self.system)

    def _bare(self, text: str) -> str:
        """Return ``text`` without the words that mark a taken value, which may be left standing."""
        before, after = tr("≈ {value}, taken").split("{value}")
        return text.strip().removeprefix(before.strip()).removesuffix(after.strip()).strip()

    def _refuse_outside(self, value: float) -> None:
        limit, rule = self.minimum, tr("{label} = {value} is too small; enter {limit} or more.")
        if limit is None or value >= limit:
            limit, rule = self.maximum, tr("{label} = {value} is too large; enter {limit} or less.")
            if limit is None or value <= limit:
                return
        raise InputError(
            rule.format(label=self.label.text(), value=self.shown(value), limit=self.shown(limit))
        )

    def _step(self, direction: int, modifiers: Qt.KeyboardModifier) -> None:
        """Move the value by the nudge, a coarse one with Shift and a fine one with Ctrl."""
        if self.editor.touched:
            self.commit()
        if self.value is None or self.problem:
            return
        step = units.nudge(self.kind, self.system, _nudge_size(modifiers))
        value = self.value + direction * step
        if self.minimum is not None:
            value = max(value, self.minimum)
        if self.maximum is not None:
            value = min(value, self.maximum)
        # Sums of decimal steps would otherwise drift away from the figures that are shown.
        self.give(float(f"{value:.12g}"))


def _nudge_size(modifiers: Qt.KeyboardModifier) -> str:
    if modifiers & Qt.KeyboardModifier.ShiftModifier:
        return "coarse"
    return "fine" if modifiers & Qt.KeyboardModifier.ControlModifier else "normal"


class HoursEdit(LineField):
    """A field for hours of the day: "07:00–19:00", several parted by commas, or "all day".

    Attributes
    ----------
    value : tuple of (on, off) or None
        As `core.hours.parse_hours` gives it. [min]

    Signals
    -------
    committed(object)
        The periods that the user gave.
    """

    def read(self, text: str) -> Periods:
        """Return the periods that ``text`` names."""
        return parse_hours(text)

    def shown(self, value: Periods) -> str:
        """Return the periods as in a timetable."""
        return show_hours(value)
