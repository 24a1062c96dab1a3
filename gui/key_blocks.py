"""The blocks that the key is made of: a scale, a table, a curve, bars, a legend, notes.

Each is data that paints itself at a place and says how high it became; what stands in them is
decided in `gui.key_pages`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from core.language import tr
from core.states import State
from gui.air_age import ALPHAS, shade
from gui.fit_signs import FloorSigns
from gui.key_table import LevelTable
from gui.light_map import paint_step
from gui.overlay_look import hatch_area
from gui.theme import Theme, state_role
from gui.vial import paint_mark

_LINE = 19.0
_BELOW = 46.0
_WITH_NOTE = 134.0
"""Height from which a legend of five signs leaves room for a note below it. [px]"""
_APART, _BETWEEN, _CLOSE = 24.0, 10.0, 17.0
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Scale:
    """The seven steps of the light map with their breaks, and a bracket over what is wanted."""

    breaks: tuple[str, ...]
    want: str

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw the scale; return its height. [px]"""
        top = area.top()
        painter.setFont(theme.font("drawing"))
        line = painter.fontMetrics().height()
        cell = area.width() / 7
        band = QRectF(area.left(), top + line + 6, area.width(), 16)
        for step in range(7):
            paint_step(painter, QRectF(area.left() + step * cell, band.top(), cell, 16), step)
        painter.setPen(QPen(theme.colour("ink"), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(band)
        if self.want:
            self._paint_bracket(painter, band, cell, theme)
        self._paint_breaks(painter, band, cell, theme)
        return float(line + 6 + 16 + line + 8)

    def _paint_bracket(self, painter: QPainter, band: QRectF, cell: float, theme: Theme) -> None:
        left, right = band.left() + 2 * cell, band.left() + 5 * cell
        y = band.top() - 4
        painter.setPen(QPen(theme.colour("ink"), 1.5))
        painter.drawPolyline(
            QPolygonF(
                [QPointF(left, band.top()), QPointF(left, y), QPointF(right, y),
                 QPointF(right, band.top())]
            )
        )  # fmt: skip
        metrics = QFontMetricsF(painter.font())
        words = metrics.horizontalAdvance(self.want)
        middle = (left + right) / 2
        start = min(max(band.left(), middle - words / 2), band.right() - words)
        painter.drawText(QPointF(start, y - 4), self.want)
        painter.setPen(theme.colour("ink2"))
        little, much = tr("too little"), tr("too much")
        if metrics.horizontalAdvance(little) < start - band.left() - 8:
            painter.drawText(QPointF(band.left(), y - 4), little)
        if metrics.horizontalAdvance(much) < band.right() - start - words - 8:
            place = band.right() - metrics.horizontalAdvance(much)
            painter.drawText(QPointF(place, y - 4), much)

    def _paint_breaks(self, painter: QPainter, band: QRectF, cell: float, theme: Theme) -> None:
        metrics = QFontMetricsF(painter.font())
        painter.setPen(theme.colour("ink"))
        for place, text in enumerate(self.breaks, start=1):
            x = band.left() + place * cell
            painter.drawLine(QPointF(x, band.bottom()), QPointF(x, band.bottom() + 3))
            left = x - metrics.horizontalAdvance(text) / 2
            painter.drawText(QPointF(left, band.bottom() + 4 + metrics.ascent()), text)


@dataclass(frozen=True)
class Fact:
    """One number: its name, its value, what it was before a drag, its unit."""

    name: str
    value: str
    before: str = ""
    unit: str = ""
    state: State = State.FINE


@dataclass(frozen=True)
class Facts:
    """Numbers one below the other."""

    lines: tuple[Fact, ...]
    apart: float = 88.0

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw the numbers, in a second column too where they need it; return their height. [px]

        Where there is no room for all, the last are left out.
        """
        rows = max(0, int(area.height() / _LINE))
        aside = rows < len(self.lines) and 2 * self.width(theme) + _APART <= area.width()
        if aside:
            rows = min(rows, (len(self.lines) + 1) // 2)
        shown = self.lines[: rows * 2 if aside else rows]
        width = area.width() / 2 if aside else area.width()
        names = QFontMetricsF(theme.font("second"))
        apart = max([self.apart, *(names.horizontalAdvance(fact.name) + 12 for fact in shown)])
        for place, fact in enumerate(shown):
            left = area.left() + (place // rows) * width
            y = area.top() + (place % rows) * _LINE + names.ascent()
            painter.setFont(theme.font("second"))
            painter.setPen(theme.colour("ink2"))
            painter.drawText(QPointF(left, y), fact.name)
            self._paint_value(painter, QPointF(left + apart, y), fact, theme, left + width)
        return min(rows, len(shown)) * _LINE

    def width(self, theme: Theme) -> float:
        """Return how wide the numbers are beside something else. [px]"""
        names, bold = (QFontMetricsF(theme.font("second", bold=bold)) for bold in (False, True))
        apart = max([self.apart, *(names.horizontalAdvance(fact.name) + 12 for fact in self.lines)])
        texts = [f"{f.before}  →  {f.value}" if f.before else f.value for f in self.lines]
        return apart + max((bold.horizontalAdvance(text) for text in texts), default=0.0) + 2

    def _paint_value(
        self, painter: QPainter, at: QPointF, fact: Fact, theme: Theme, right: float
    ) -> None:
        moving = bool(fact.before)
        role = "pencil" if moving else "ink"
        if fact.state is not State.FINE and not moving:
            role = state_role(fact.state)
        painter.setFont(theme.font("second", bold=True))
        painter.setPen(theme.colour(role))
        text = f"{fact.before}  →  {fact.value}" if moving else fact.value
        painter.drawText(at, text)
        width = QFontMetricsF(painter.font()).horizontalAdvance(text)
        painter.setFont(theme.font("second"))
        painter.setPen(theme.colour("ink2"))
        end = at.x() + width + 6 + QFontMetricsF(painter.font()).horizontalAdvance(fact.unit)
        if end <= right:
            painter.drawText(at + QPointF(width + 6, 0), fact.unit)


@dataclass(frozen=True)
class Curve:
    """Light from the left end of a level to the right: along its middle, and along its front."""

    middle: tuple[float, ...]
    front: tuple[float, ...]
    want: tuple[float | None, float | None]
    before: tuple[float, ...] = ()

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw both lines over the wanted stretch; return the height. [px]"""
        painter.setFont(theme.font("drawing"))
        line = QFontMetricsF(painter.font()).height()
        box = area.adjusted(0, line + 4, 0, -line - 6)
        top = self._top()
        painter.setClipRect(area.adjusted(-1, -1, 1, 1))
        self._paint_wanted(painter, box, top, theme)
        second = self.before or self.front
        for values, role, style, width in (
            (second, "ink", Qt.PenStyle.DashLine, 1.2),
            (self.middle, "pencil" if self.before else "ink", Qt.PenStyle.SolidLine, 2.0),
        ):
            painter.setPen(QPen(theme.colour(role), width, style))
            painter.drawPolyline(_polyline(values, box, top))
        self._paint_words(painter, area, box, top, theme)
        painter.setClipping(False)
        return area.height()

    def _top(self) -> float:
        wanted = [end for end in self.want if end is not None]
        return max([1.0, *self.middle, *self.front, *self.before, *(1.15 * w for w in wanted)])

    def _paint_wanted(self, painter: QPainter, box: QRectF, top: float, theme: Theme) -> None:
        low, high = self.want
        if low is None and high is None:
            return
        ends = [box.bottom() - box.height() * end / top for end in (low or 0.0, high or top)]
        painter.fillRect(
            QRectF(box.left(), ends[1], box.width(), ends[0] - ends[1]), theme.colour("fine_bg")
        )
        painter.setFont(theme.font("drawing", bold=True))
        painter.setPen(QPen(theme.colour("fine"), 1))
        for end, y, below in ((low, ends[0], True), (high, ends[1], False)):
            if end is not None:
                painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
                rise = QFontMetricsF(painter.font()).ascent() + 1 if below else -3
                painter.drawText(QPointF(box.left() + 3, y + rise), f"{end:.0f}")
        painter.setFont(theme.font("drawing"))

    def _paint_words(
        self, painter: QPainter, area: QRectF, box: QRectF, top: float, theme: Theme
    ) -> None:
        painter.setFont(theme.font("drawing"))
        painter.setPen(QPen(theme.colour("hair"), 1))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        metrics = QFontMetricsF(painter.font())
        painter.setPen(theme.colour("ink2"))
        foot = box.bottom() + metrics.ascent() + 3
        painter.drawText(QPointF(area.left(), foot), tr("left end"))
        right = tr("right end")
        painter.drawText(QPointF(area.right() - metrics.horizontalAdvance(right), foot), right)
        words = tr("before and now") if self.before else tr("along the middle")
        place = box.center().x() - metrics.horizontalAdvance(words) / 2
        peak = box.bottom() - box.height() * max(self.middle, default=0.0) / top
        painter.drawText(QPointF(place, max(area.top() + metrics.ascent(), peak - 5)), words)
        if not self.before and self.front:
            words = tr("along the front")
            lowest = box.bottom() - box.height() * min(self.front) / top
            place = box.center().x() - metrics.horizontalAdvance(words) / 2
            y = min(box.bottom() - 4, lowest + metrics.ascent() + 4)
            painter.drawText(QPointF(place, y), words)


def _polyline(values: Sequence[float], box: QRectF, top: float) -> QPolygonF:
    count = max(1, len(values) - 1)
    return QPolygonF(
        [
            QPointF(box.left() + box.width() * place / count, box.bottom() - box.height() * v / top)
            for place, v in enumerate(values)
        ]
    )


@dataclass(frozen=True)
class Bar:
    """One bar: name, share of the longest, the value at its end, more words at the right."""

    name: str
    share: float
    value: str
    more: str = ""
    state: State = State.FINE


@dataclass(frozen=True)
class Bars:
    """Bars one below the other; ``framed`` ones show how full something is."""

    lines: tuple[Bar, ...]
    role: str
    framed: bool = False

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw the bars, as many as there is room for; return their height. [px]"""
        pitch = 26.0
        fitting = max(1, int((area.height() - _BELOW) / pitch))
        shown = self.lines if len(self.lines) <= fitting else self.lines[: fitting - 1]
        metrics = QFontMetricsF(theme.font("second"))
        names = max((metrics.horizontalAdvance(bar.name) for bar in shown), default=0.0)
        left = area.left() + min(names + 14, 0.42 * area.width())
        more = max((metrics.horizontalAdvance(bar.more) for bar in shown), default=0.0)
        value = max((metrics.horizontalAdvance(bar.value) for bar in shown), default=0.0) * 1.1
        room = area.right() - left - more - value - 30
        if room < 60:
            more, room = 0.0, area.right() - left - value - 14
        wide = more > 0
        for place, bar in enumerate(shown):
            y = area.top() + place * pitch
            name = QRectF(area.left(), y, left - area.left(), pitch)
            shown_bar = bar if wide else replace(bar, more="")
            self._paint_bar(painter, shown_bar, name, room, area, theme)
        rest = len(self.lines) - len(shown)
        if rest:
            y = area.top() + len(shown) * pitch + metrics.ascent()
            painter.drawText(QPointF(area.left(), y), tr("{n} more").format(n=rest))
        return (len(shown) + bool(rest)) * pitch

    def _paint_bar(
        self, painter: QPainter, bar: Bar, name: QRectF, room: float, area: QRectF, theme: Theme
    ) -> None:
        painter.setFont(theme.font("second"))
        painter.setPen(theme.colour("ink"))
        metrics = QFontMetricsF(painter.font())
        base = name.top() + metrics.ascent()
        label = metrics.elidedText(bar.name, Qt.TextElideMode.ElideRight, name.width() - 10)
        painter.drawText(QPointF(name.left(), base), label)
        x, middle = name.right(), name.top() + metrics.height() / 2
        length = max(2.0, room * min(1.0, bar.share))
        painter.setPen(QPen(theme.colour("edge"), 1))
        painter.setBrush(theme.colour("raised"))
        if self.framed:
            painter.drawRoundedRect(QRectF(x, middle - 6, room, 12), 3, 3)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.colour(self.role))
        painter.drawRoundedRect(QRectF(x, middle - 6, length, 12), 3, 3)
        end = x + (room if self.framed else length) + 8
        plain = bar.state is State.FINE
        painter.setFont(theme.font("second", bold=not self.framed or not plain))
        painter.setPen(theme.colour("ink" if plain else state_role(bar.state)))
        painter.drawText(QPointF(end, base), bar.value)
        painter.setFont(theme.font("second"))
        painter.setPen(theme.colour("ink2"))
        right = area.right() - metrics.horizontalAdvance(bar.more)
        painter.drawText(QPointF(right, base), bar.more)


@dataclass(frozen=True)
class Sign:
    """One line of a legend: how a speed is drawn, what it is called, what it means."""

    weight: float
    name: str
    meaning: str
    patch: Literal["", "hatched", "framed"] = ""
    """How a place is marked that the sign stands for; empty: the sign is a stroke."""


@dataclass(frozen=True)
class Legend:
    """What the strokes of Air mean."""

    lines: tuple[Sign, ...]

    def paint(self, painter: QPainter, area: QRectF, theme: Theme, *, pitch: float = 21.0) -> float:
        """Draw sign, name and meaning, a line each ``pitch`` px; return the height. [px]"""
        metrics = QFontMetricsF(theme.font("second"))
        names = max(metrics.horizontalAdvance(sign.name) for sign in self.lines)
        meanings = max(metrics.horizontalAdvance(sign.meaning) for sign in self.lines)
        left = area.left() + 56 + names + 20
        for place, sign in enumerate(self.lines):
            y = area.top() + place * pitch + metrics.height() / 2
            self._paint_sign(painter, QPointF(area.left(), y), sign, theme)
            painter.setFont(theme.font("second"))
            base = y + metrics.ascent() / 2 - 1
            painter.setPen(theme.colour("ink"))
            painter.drawText(QPointF(area.left() + 56, base), sign.name)
            painter.setPen(theme.colour("ink2"))
            if left + meanings <= area.right():
                painter.drawText(QPointF(left, base), sign.meaning)
        return len(self.lines) * pitch

    def widths(self, theme: Theme) -> tuple[float, float]:
        """Return the width of signs with their names, and with what they mean too. [px]"""
        metrics = QFontMetricsF(theme.font("second"))
        names = 56 + max(metrics.horizontalAdvance(sign.name) for sign in self.lines)
        meanings = max(metrics.horizontalAdvance(sign.meaning) for sign in self.lines)
        return names + 1, names + 20 + meanings + 1

    def _paint_sign(self, painter: QPainter, at: QPointF, sign: Sign, theme: Theme) -> None:
        if sign.patch:
            box = QRectF(at.x(), at.y() - 7, 44, 14)
            patch = QPainterPath()
            patch.addRect(box)
            painter.fillPath(patch, theme.colour("out_bg"))
            hatch_area(painter, patch, theme.colour("out"), hatched=sign.patch == "hatched")
            return
        end = at + QPointF(22 + 9 * sign.weight, 0)
        painter.setPen(QPen(theme.colour("air"), sign.weight))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawLine(at, end)
        for dy in (-4, 4):
            painter.drawLine(end, end + QPointF(-6, dy))


@dataclass(frozen=True)
class Beside:
    """Two blocks side by side where there is room for both, else one below the other.

    ``below`` stands in the second one's place where little room is left for more, and closer where
    they are below each other.
    """

    first: Legend
    second: Facts
    below: Facts

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw both; return their height. [px]"""
        narrow, wide = self.first.widths(theme)
        second = self.second if area.height() >= _WITH_NOTE else self.below
        if narrow + _APART + second.width(theme) > area.width():
            second = self.second
        facts = second.width(theme)
        if narrow + _APART + facts > area.width():
            used = self.first.paint(painter, area, theme, pitch=_CLOSE) + _BETWEEN / 2
            rest = QRectF(area.left(), area.top() + used, area.width(), area.height() - used)
            return used + self.below.paint(painter, rest, theme)
        first = min(wide, area.width() - facts - _APART)
        left = QRectF(area.left(), area.top(), first, area.height())
        right = area.adjusted(area.width() - facts, 0, 0, 0)
        return max(self.first.paint(painter, left, theme), second.paint(painter, right, theme))


@dataclass(frozen=True)
class Shades:
    """The steps of a tint from light to dark, with the values between them."""

    title: str
    breaks: tuple[str, ...]

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw title, steps and values; return their height. [px]"""
        painter.setFont(theme.font("drawing"))
        metrics = QFontMetricsF(painter.font())
        title = metrics.horizontalAdvance(self.title) + 12
        cell = min(52.0, (area.width() - title) / len(ALPHAS))
        band = QRectF(area.left() + title, area.top() + 2, cell * len(ALPHAS), 13)
        painter.setPen(theme.colour("ink"))
        painter.drawText(QPointF(area.left(), band.top() + metrics.ascent() - 1), self.title)
        for step in range(len(ALPHAS)):
            piece = QRectF(band.left() + step * cell, band.top(), cell, band.height())
            painter.fillRect(piece, shade(theme, step))
        painter.setPen(QPen(theme.colour("edge"), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(band)
        painter.setPen(theme.colour("ink"))
        for place, text in enumerate(self.breaks, start=1):
            x = band.left() + place * cell
            painter.drawLine(QPointF(x, band.bottom()), QPointF(x, band.bottom() + 3))
            left = x - metrics.horizontalAdvance(text) / 2
            painter.drawText(QPointF(left, band.bottom() + 3 + metrics.ascent()), text)
        return 18.0 + metrics.height()


@dataclass(frozen=True)
class Note:
    """A sentence or two, wrapped; ``short`` where there is no room for all of it."""

    text: str
    short: str = ""

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw the words; return their height. [px]"""
        painter.setFont(theme.font("second"))
        painter.setPen(theme.colour("ink2"))
        flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop
        for text in filter(None, (self.text, self.short)):
            needed = painter.fontMetrics().boundingRect(area.toRect(), flags, text)
            if needed.height() <= area.height() + 2:
                painter.drawText(area, flags, text)
                return float(needed.height() + 4)
        return 0.0


@dataclass(frozen=True)
class Said:
    """Readings as they are said, each with its mark."""

    lines: tuple[tuple[State, str], ...]

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw mark and words, as many readings as there is room for; return the height. [px]"""
        metrics = QFontMetricsF(theme.font("second"))
        room, y = area.width() - 20, area.top()
        flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop
        for state, words in self.lines:
            # Where there is little room the limit goes first; the drawing shows it too.
            text = words if metrics.horizontalAdvance(words) <= room else words.split(";")[0]
            needed = metrics.boundingRect(QRectF(0, 0, room, 400), flags, text).height()
            if y + needed > area.bottom():
                break
            mark = QRectF(area.left(), y + metrics.height() / 2 - 6, 12, 12)
            paint_mark(painter, mark, state, theme.palette)
            painter.setFont(theme.font("second"))
            painter.setPen(theme.colour("ink"))
            painter.drawText(QRectF(area.left() + 20, y, room + 1, needed), flags, text)
            y += needed + 6
        return y - area.top()


Block = (
    Scale | Facts | Curve | Bars | Legend | Beside | Shades | LevelTable | FloorSigns | Note | Said
)
