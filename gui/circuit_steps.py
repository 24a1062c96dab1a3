"""In Power, the level rows become the circuit, step by step: breaker, outlet, strip, timer, chain.

The loads and limits come from `core.power`; this shows them as a line with a vial at each step.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from core.language import tr, trn
from core.units import show
from gui.readings_panel import plain_state, state_words
from gui.theme import Theme, state_role
from gui.vial import Vial, spoken

if TYPE_CHECKING:
    from core.power.reading import PowerReadings, PowerStep
    from core.readings import Readings

_VIAL = (72, 12)
_SHORT_VIAL = (48, 11)
_TOP = 34
_X = 12
_LANE = 14
_TEXT = 16
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
        self._lanes: list[int] = []
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
        """Return the height of a step: two lines, or one where not all would have room."""
        room = (self.height() - _TOP - 12) // max(1, len(self._all))
        if room < 2 * self._line() + 4:
            return self._line() + 5
        return min(_TALLEST, room)

    def _vial_size(self) -> tuple[int, int]:
        return _VIAL if self._two_lines() else _SHORT_VIAL

    def _two_lines(self) -> bool:
        return self._pitch() >= 2 * self._line() + 4

    def _line(self) -> int:
        return QFontMetrics(self._theme.font("second")).height()

    def _text_left(self) -> int:
        return _X + _LANE * max(self._lanes, default=0) + _TEXT

    def _fit(self) -> None:
        room = max(1, (self.height() - _TOP - 16) // self._pitch())
        self.steps = self._all[:room]
        self._hidden = len(self._all) - len(self.steps)
        self._lanes = lanes(self.steps)
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
        vial.set_size(self._vial_size())
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
        if step.limit_va is None:
            return show(step.va, "apparent_power", self._system)
        load = show(step.va, "apparent_power", self._system, unit=False)
        limit = show(step.limit_va, "apparent_power", self._system)
        return tr("{load} of {limit}").format(load=load, limit=limit)

    def _spoken(self, step: PowerStep) -> str:
        return spoken(step.name, state_words(step.reading), self._numbers(step))

    def _paint_line(self, painter: QPainter) -> None:
        """Draw a line from each step to the one that feeds it, as wide as the load on it."""
        parents = parents_of(self.steps)
        most = max((step.watts for step in self._all), default=0.0) or 1.0
        for place, parent in parents.items():
            width = _THINNEST + (_THICKEST - _THINNEST) * self.steps[place].watts / most
            painter.setPen(QPen(self._theme.colour("lead"), width, c=Qt.PenCapStyle.FlatCap))
            start, end = self._dot(parent), self._dot(place)
            corner = QPointF(start.x(), end.y())
            painter.drawPolyline([start, corner, end])

    def _dot(self, place: int) -> QPointF:
        x = _X + _LANE * self._lanes[place]
        return QPointF(x, _TOP + place * self._pitch() + self._line() / 2 + 2)

    def _paint_step(self, painter: QPainter, place: int, step: PowerStep) -> None:
        painter.setPen(QPen(self._theme.colour("lead"), 1.6))
        painter.setBrush(self._theme.colour("sheet"))
        painter.drawEllipse(self._dot(place), 6, 6)
        top = _TOP + place * self._pitch()
        left = self._text_left()
        width = self.width() - left - self._vial_size()[0] - 14
        painter.setFont(self._theme.font("second", bold=True))
        painter.setPen(self._theme.colour("ink"))
        name = shortened(step.name, painter.fontMetrics(), width)
        painter.drawText(QRect(left, top, width, self._line() + 4), 0, name)
        if not self._two_lines():
            return
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
            QRect(self._text_left(), top, self.width(), self._line() + 2),
            0,
            text.format(count=self._hidden),
        )


def _title(power: PowerReadings, steps: tuple[PowerStep, ...]) -> str:
    name = next((step.name for step in steps if step.kind == "circuit"), "")
    if not name:
        return power.nothing.render() if not power.steps else tr("The circuit, step by step")
    return tr("{circuit}, step by step").format(circuit=name)


def parents_of(steps: Sequence[PowerStep]) -> dict[int, int]:
    """Return the place of the step that feeds each step, the first one left out."""
    found: dict[int, int] = {}
    for place, step in enumerate(steps):
        above = (i for i in range(place - 1, -1, -1) if steps[i].depth < step.depth)
        parent = next(above, None)
        if parent is not None:
            found[place] = parent
    return found


def lanes(steps: Sequence[PowerStep]) -> list[int]:
    """Return how far to the right each step stands: branches stand beside the line that goes on."""
    parents = parents_of(steps)
    last = {parent: place for place, parent in parents.items()}
    found: list[int] = []
    for place in range(len(steps)):
        parent = parents.get(place)
        if parent is None:
            found.append(0)
        else:
            found.append(found[parent] + (last[parent] != place))
    return found


def shortened(name: str, metrics: QFontMetrics, width: int) -> str:
    """Return a step's name no wider than ``width``; what tells it from others stands at its end."""
    words = name[:1].upper() + name[1:]
    return metrics.elidedText(words, Qt.TextElideMode.ElideMiddle, width)
