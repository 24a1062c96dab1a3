"""In Power, the level rows become the circuit, step by step: breaker, outlet, strip, timer, chain.

The loads and limits come from `core.power`; this shows them as a line with a vial at each step.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from core.language import tr, trn
from core.reading import Reading
from core.units import show
from gui.readings_panel import plain_state, state_words
from gui.theme import Theme, state_role
from gui.vial import Vial, spoken

if TYPE_CHECKING:
    from core.power.reading import PowerReadings, PowerStep
    from core.readings import Readings

_VIAL = (72, 12)
_TOP = 34
_X = 12
_TEXT = 28
_TALLEST = 47
_THINNEST, _THICKEST = 1.1, 7.1


class CircuitSteps(QWidget):
    """The steps of the circuit nearest its limit.

    Attributes
    ----------
    steps : tuple of PowerStep
        What is shown, the breaker first.
    """

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme
        self._system = "metric"
        self._title = ""
        self._hidden = 0
        self.steps: tuple[PowerStep, ...] = ()
        self._all: tuple[PowerStep, ...] = ()
        self._vials: list[Vial] = []
        theme.changed.connect(self.update)
        self.hide()

    def show_readings(self, readings: Readings) -> None:
        """Show the circuit of the reading that matters most."""
        power = readings.power
        self._system = readings.design.units
        self._all = tuple(step for step in power.steps if step.circuit == power.circuit)
        self._title = _title(power, self._all)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as many steps as there is room for."""
        super().resizeEvent(event)
        self._fit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw title, line, circles and words."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._theme.font(bold=True))
        painter.setPen(self._theme.colour("ink"))
        title = painter.fontMetrics().elidedText(
            self._title, Qt.TextElideMode.ElideRight, self.width() - 6
        )
        painter.drawText(QRect(6, 6, self.width() - 6, 20), Qt.AlignmentFlag.AlignVCenter, title)
        self._paint_line(painter)
        for place, step in enumerate(self.steps):
            self._paint_step(painter, place, step)
        if self._hidden:
            self._paint_rest(painter)

    def _pitch(self) -> int:
        least = self._line() * 2 + 4
        room = (self.height() - _TOP - 12) // max(1, len(self._all))
        return min(max(least, _TALLEST), max(least, room))

    def _line(self) -> int:
        return QFontMetrics(self._theme.font("second")).height()

    def _fit(self) -> None:
        room = max(1, (self.height() - _TOP - 16) // self._pitch())
        self.steps = self._all[:room]
        self._hidden = len(self._all) - len(self.steps)
        for vial in self._vials[len(self.steps) :]:
            vial.hide()
        for place, step in enumerate(self.steps):
            self._show_vial(place, step)
        self.setAccessibleName(". ".join([self._title, *(self._spoken(s) for s in self.steps)]))
        self.update()

    def _show_vial(self, place: int, step: PowerStep) -> None:
        if place == len(self._vials):
            self._vials.append(Vial(self._theme, self, size=_VIAL))
        vial, item = self._vials[place], step.reading
        vial.show_reading(
            item.value,
            item.low,
            item.high,
            item.want_low,
            item.want_high,
            state=item.state,
            name=step.name,
            words=state_words(item),
            numbers=self._numbers(step),
        )
        size = vial.sizeHint()
        left = self.width() - size.width() - 6
        top = _TOP + place * self._pitch() + (self._line() - size.height()) // 2 + 2
        vial.setGeometry(QRect(QPoint(left, top), size))
        vial.show()

    def _numbers(self, step: PowerStep) -> str:
        item = step.reading
        if step.kind == "chain":
            most = f"{item.want_high:.0f}" if item.want_high is not None else tr("no limit given")
            return tr("{count} of {most} in series").format(count=f"{item.value:.0f}", most=most)
        load = show(step.watts, "power", self._system, unit=False)
        if step.limit_va is None:
            return show(step.watts, "power", self._system)
        limit = show(step.limit_va, "power", self._system)
        return tr("{load} of {limit}").format(load=load, limit=limit)

    def _spoken(self, step: PowerStep) -> str:
        return spoken(step.name, state_words(step.reading), self._numbers(step))

    def _paint_line(self, painter: QPainter) -> None:
        """Draw the line from step to step, as wide as the load on it."""
        for place in range(1, len(self.steps)):
            step = self.steps[place]
            share = _share(step.reading)
            width = _THINNEST + (_THICKEST - _THINNEST) * share
            painter.setPen(QPen(self._theme.colour("lead"), width))
            painter.drawLine(self._dot(place - 1), self._dot(place))

    def _dot(self, place: int) -> QPointF:
        return QPointF(_X, _TOP + place * self._pitch() + self._line() / 2 + 2)

    def _paint_step(self, painter: QPainter, place: int, step: PowerStep) -> None:
        painter.setPen(QPen(self._theme.colour("lead"), 1.6))
        painter.setBrush(self._theme.colour("sheet"))
        painter.drawEllipse(self._dot(place), 6, 6)
        top = _TOP + place * self._pitch()
        left = _TEXT
        width = self.width() - left - _VIAL[0] - 14
        painter.setFont(self._theme.font("second", bold=True))
        painter.setPen(self._theme.colour("ink"))
        name = painter.fontMetrics().elidedText(step.name, Qt.TextElideMode.ElideRight, width)
        painter.drawText(QRect(left, top, width, self._line() + 4), 0, name)
        quiet = plain_state(step.reading.state)
        painter.setFont(self._theme.font("second", bold=not quiet))
        role = "ink2" if quiet else state_role(step.reading.state)
        painter.setPen(self._theme.colour(role))
        area = QRect(left, top + self._line() + 1, self.width() - left, self._line() + 2)
        painter.drawText(area, 0, self._numbers(step))

    def _paint_rest(self, painter: QPainter) -> None:
        text = trn("{count} more step", "{count} more steps", self._hidden)
        painter.setFont(self._theme.font("second"))
        painter.setPen(self._theme.colour("ink2"))
        top = _TOP + len(self.steps) * self._pitch() - 4
        painter.drawText(
            QRect(_TEXT, top, self.width(), self._line() + 2), 0, text.format(count=self._hidden)
        )


def _title(power: PowerReadings, steps: tuple[PowerStep, ...]) -> str:
    name = next((step.name for step in steps if step.kind == "circuit"), "")
    if not name:
        return power.nothing.render() if not power.steps else tr("The circuit, step by step")
    return tr("{circuit}, step by step").format(circuit=name)


def _share(item: Reading) -> float:
    """Return a load as a share of its limit, 0 to 1."""
    if item.value is None or not item.want_high:
        return 0.3
    return min(1.0, item.value / item.want_high)
