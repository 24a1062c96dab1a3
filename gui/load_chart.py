"""The chart of a day's load: what draws how much when, in layers, against the circuit's limit.

The layers are `gui.load_layers`'; the small copy below the sheet is the day ribbon's.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QComboBox, QDialog, QLabel, QVBoxLayout, QWidget

from core.hours import DAY, show_clock
from core.language import tr
from core.power.profile import FloatSeries
from core.units import show
from gui.load_layers import Layer, layers_of, limit_va
from gui.theme import Theme, paint_focus_ring
from gui.time_axis import layer_tint

if TYPE_CHECKING:
    from core.readings import Readings
    from gui.asking import Asking

_LEFT, _TOP, _BELOW, _LEGEND = 62.0, 14.0, 24.0, 210.0
_STEP = 15
_SWATCH = 12.0


class LoadChart(QWidget):
    """The chart itself; the pointer, or Left and Right, read it at one minute.

    Attributes
    ----------
    layers : tuple of Layer
        The lowest first.
    total : ndarray, shape (1440,)
        All layers together. [VA]
    limit : float or None
        [VA]
    minute : int or None
        The minute that is read; None: each layer's own peak.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._system = "metric"
        self.layers: tuple[Layer, ...] = ()
        self.total: FloatSeries = np.zeros(DAY)
        self._top = 1.0
        self.limit: float | None = None
        self.minute: int | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        theme.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return a size in which layers can be told apart."""
        return QSize(860, 380)

    def show_layers(self, layers: tuple[Layer, ...], limit: float | None, system: str) -> None:
        """Show other layers and their limit."""
        self.layers, self.limit, self._system = layers, limit, system
        self.total = sum((layer.va for layer in layers), np.zeros(DAY))
        # A round value above load and limit is the top of the axis. [VA]
        self._top = round_above(1.06 * max(float(self.total.max()), limit or 0.0, 1.0))
        self.setAccessibleName(self.words())
        self.update()

    def value(self, layer: Layer) -> float:
        """Return what a layer draws at the minute read, else at its peak. [VA]"""
        return self._read(layer.va)

    def _read(self, va: FloatSeries) -> float:
        return float(va.max() if self.minute is None else va[self.minute])

    def _when(self) -> str:
        return tr("at the peak") if self.minute is None else show_clock(self.minute)

    def words(self) -> str:
        """Return what is read, in words."""
        whole = self._va(self._read(self.total))
        said = [tr("{load} {when}").format(load=whole, when=self._when())]
        if self.limit is not None:
            said.append(tr("limit {limit}").format(limit=self._va(self.limit)))
        drawing = [layer for layer in self.layers if self.value(layer) > 0]
        said += [f"{layer.name} {self._va(self.value(layer))}" for layer in drawing]
        return ", ".join(said)

    def _va(self, value: float) -> str:
        return show(value, "apparent_power", self._system)

    # --- reading -----------------------------------------------------------------------------

    def read_at(self, minute: int | None) -> None:
        """Read the chart at a minute of the day; None: at the peaks."""
        self.minute = minute
        self.setAccessibleName(self.words())
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Read what lies under the pointer."""
        plot = self._plot()
        share = (event.position().x() - plot.left()) / plot.width()
        self.read_at(int(share * DAY) if 0 <= share < 1 else None)

    def leaveEvent(self, event: object) -> None:
        """Read the peaks again."""
        self.read_at(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step a quarter of an hour with Left and Right; Home and End go to midnight."""
        now = 12 * 60 if self.minute is None else self.minute
        ways = {
            Qt.Key.Key_Left: max(0, now - _STEP),
            Qt.Key.Key_Right: min(DAY - 1, now + _STEP),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: DAY - 1,
        }
        minute = ways.get(Qt.Key(event.key()))
        if minute is None:
            super().keyPressEvent(event)
        else:
            self.read_at(minute)

    # --- painting ----------------------------------------------------------------------------

    def _plot(self) -> QRectF:
        width = max(1.0, self.width() - _LEFT - _LEGEND - 12)
        return QRectF(_LEFT, _TOP, width, max(1.0, self.height() - _TOP - _BELOW))

    def _y(self, value: float) -> float:
        plot = self._plot()
        return plot.bottom() - value / self._top * plot.height()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw axes, layers, limit, what is read, and the legend."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._theme.font("drawing"))
        plot = self._plot()
        painter.fillRect(plot, self._theme.colour("sheet"))
        self._paint_axes(painter, plot)
        self._paint_layers(painter, plot)
        self._paint_limit(painter, plot)
        if self.minute is not None:
            x = plot.left() + (self.minute + 0.5) / DAY * plot.width()
            painter.setPen(QPen(self._theme.colour("pencil"), 1.6))
            painter.drawLine(QPointF(x, plot.top()), QPointF(x, plot.bottom()))
        self._paint_legend(painter, plot)
        if self.hasFocus():
            paint_focus_ring(painter, QRectF(self.rect()), self._theme.palette)

    def _paint_axes(self, painter: QPainter, plot: QRectF) -> None:
        for step in range(5):
            value = self._top * step / 4
            y = self._y(value)
            painter.setPen(QPen(self._theme.colour("hair"), 1))
            painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
            painter.setPen(self._theme.colour("ink2"))
            area = QRectF(0, y - 9, _LEFT - 6, 18)
            right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(area, right, self._va(value))
        for hour in range(0, 25, 3):
            x = plot.left() + hour / 24 * plot.width()
            area = QRectF(x - 20, plot.bottom() + 4, 40, _BELOW - 4)
            painter.drawText(area, Qt.AlignmentFlag.AlignHCenter, f"{hour:02d}")

    def _paint_layers(self, painter: QPainter, plot: QRectF) -> None:
        below = np.zeros(DAY)
        lead = self._theme.colour("lead")
        for place, layer in enumerate(self.layers):
            above = below + layer.va
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(layer_tint(lead, place))
            points = [*self._steps(above, plot), *reversed(self._steps(below, plot))]
            painter.drawPolygon(QPolygonF(points))
            below = above
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(lead, 1.8))
        painter.drawPolyline(self._steps(below, plot))

    def _steps(self, values: FloatSeries, plot: QRectF) -> list[QPointF]:
        """Return a line that is level in each minute, with corners where it changes."""
        jumps = np.flatnonzero(np.diff(values)) + 1
        starts, ends = [0, *jumps.tolist()], [*jumps.tolist(), DAY]
        found = []
        for start, end in zip(starts, ends, strict=True):
            y = self._y(float(values[start]))
            found.append(QPointF(plot.left() + start / DAY * plot.width(), y))
            found.append(QPointF(plot.left() + end / DAY * plot.width(), y))
        return found

    def _paint_limit(self, painter: QPainter, plot: QRectF) -> None:
        if self.limit is None:
            return
        y = self._y(self.limit)
        painter.setPen(QPen(self._theme.colour("ink"), 1.5))
        painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
        words = tr("limit {limit}").format(limit=self._va(self.limit))
        painter.setFont(self._theme.font("drawing", bold=True))
        painter.drawText(QPointF(plot.left() + 6, y - 4), words)
        painter.setFont(self._theme.font("drawing"))

    def _paint_legend(self, painter: QPainter, plot: QRectF) -> None:
        left, line = plot.right() + 16, painter.fontMetrics().height() + 6
        rows = [(self._when(), self._va(self._read(self.total)), -1)]
        order = reversed(list(enumerate(self.layers)))
        rows += [(layer.name, self._va(self.value(layer)), place) for place, layer in order]
        for number, (name, value, place) in enumerate(rows):
            top = plot.top() + number * line
            painter.setPen(Qt.PenStyle.NoPen)
            if place >= 0:
                painter.setBrush(layer_tint(self._theme.colour("lead"), place))
                painter.drawRect(QRectF(left, top + 2, _SWATCH, _SWATCH))
            painter.setFont(self._theme.font("drawing", bold=place < 0))
            painter.setPen(self._theme.colour("ink"))
            metrics = painter.fontMetrics()
            taken = metrics.horizontalAdvance(value)
            start = left + (_SWATCH + 6 if place >= 0 else 0)
            room = int(self.width() - 8 - start - taken - 8)
            text = metrics.elidedText(name, Qt.TextElideMode.ElideMiddle, room)
            base = top + metrics.ascent()
            painter.drawText(QPointF(start, base), text)
            painter.drawText(QPointF(self.width() - 8 - taken, base), value)


class LoadDialog(QDialog):
    """The chart with a choice of circuit; it follows the readings while it is open."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(tr("Load over the day"))
        self._readings: Readings | None = None
        self.circuits = QComboBox()
        self.circuits.setAccessibleName(tr("Circuit"))
        self.circuits.activated.connect(self._show)
        self.chart = LoadChart(theme)
        self._note = QLabel(textFormat=Qt.TextFormat.PlainText, wordWrap=True)
        theme.dress(self._note, "second", "ink2")
        layout = QVBoxLayout(self)
        layout.addWidget(self.circuits, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addWidget(self.chart, 1)
        layout.addWidget(self._note)
        self._note.setText(
            tr(
                "Everything at full power, thermostatted devices too. Point at the chart to read "
                "it. Local wiring rules and a licensed electrician decide."
            )
        )

    def show_readings(self, readings: Readings) -> None:
        """Show the load of these readings; the choice stays where it is still there."""
        chosen = self.circuits.currentData()
        self._readings = readings
        self.circuits.clear()
        for circuit in readings.power.tree.circuits:
            self.circuits.addItem(circuit.name, circuit.id)
        if self.circuits.count() > 1:
            self.circuits.addItem(tr("All circuits together"), None)
        at = self.circuits.findData(chosen or readings.power.circuit)
        self.circuits.setCurrentIndex(max(0, at))
        self._show()

    def _show(self) -> None:
        if self._readings is not None:
            circuit = self.circuits.currentData()
            limit = limit_va(self._readings, circuit) if circuit else None
            layers = layers_of(self._readings, circuit)
            self.chart.show_layers(layers, limit, self._readings.design.units)


def show_load(theme: Theme, asking: Asking, parent: QWidget) -> LoadDialog | None:
    """Open the chart, which follows new readings; None while there are no readings."""
    if asking.readings is None:
        return None
    dialog = LoadDialog(theme, parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.show_readings(asking.readings)
    asking.arrived.connect(dialog.show_readings)
    dialog.show()
    return dialog


def round_above(value: float) -> float:
    """Return the least of 1, 2, 2.4, 4, 5, 6, 8 or 10 times a power of ten that is not below."""
    power = 10.0 ** math.floor(math.log10(value))
    return next(step * power for step in (1, 2, 2.4, 4, 5, 6, 8, 10) if step * power >= value)
