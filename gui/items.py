"""Graphics items that paint marks: a part in one drawing, a lead, the room, what is chosen.

What a part looks like is told in `core.drawing`; which items there are, in `gui.drawing`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from core.drawing.marks import Arc, Dot, Mark, Path, Point, Words
from gui.inks import Inks

HANDLE = 7.0
HANDLE_HIT = 14.0
_HALO_ROOM = 12.0
_CACHED_UP_TO = 700.0
"""Items longer than this are painted anew each time rather than kept as a picture. [px]"""


@dataclass
class Stroke:
    """A path with its pen and brush, ready to paint."""

    path: QPainterPath
    pen: QPen
    brush: QBrush


@dataclass
class Label:
    """A line of text with its baseline's start, ready to paint."""

    at: QPointF
    text: str
    font: QFont
    colour: QColor
    turn: float
    rect: QRectF
    halo: QColor | None


@dataclass
class Picture:
    """Marks turned into strokes and labels, in px from their anchor."""

    strokes: list[Stroke] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def bounds(self) -> QRectF:
        """Return the rectangle that everything lies in, lines included. [px]"""
        bounds = QRectF()
        for stroke in self.strokes:
            half = stroke.pen.widthF() / 2 + 1
            bounds |= stroke.path.controlPointRect().adjusted(-half, -half, half, half)
        for label in self.labels:
            bounds |= _turned_rect(label)
        return bounds

    def paint(self, painter: QPainter) -> None:
        """Draw strokes, then labels."""
        for stroke in self.strokes:
            painter.setPen(stroke.pen)
            painter.setBrush(stroke.brush)
            painter.drawPath(stroke.path)
        for label in self.labels:
            _paint_label(painter, label)


def _turned_rect(label: Label) -> QRectF:
    if not label.turn:
        return label.rect.translated(label.at)
    reach = math.hypot(label.rect.width(), label.rect.height()) + 4
    return QRectF(label.at.x() - reach, label.at.y() - reach, 2 * reach, 2 * reach)


def _paint_label(painter: QPainter, label: Label) -> None:
    painter.save()
    painter.translate(label.at)
    painter.rotate(-label.turn)
    if label.halo is not None:
        painter.fillRect(label.rect, label.halo)
    painter.setFont(label.font)
    painter.setPen(label.colour)
    painter.drawText(QPointF(label.rect.left() + 2, -_text_middle(label.font)), label.text)
    painter.restore()


def _text_middle(font: QFont) -> float:
    metrics = QFontMetricsF(font)
    return -(metrics.ascent() - metrics.descent()) / 2


def picture(marks: Iterable[Mark], anchor: Point, scale: float, inks: Inks) -> Picture:
    """Return marks as strokes and labels in px from ``anchor``, up turned to Qt's down."""
    maker = _Maker(anchor, scale, inks)
    for mark in marks:
        maker.add(mark)
    return maker.picture


class _Maker:
    """Turns marks into a picture; consecutive lines of one pen become one path."""

    def __init__(self, anchor: Point, scale: float, inks: Inks) -> None:
        self.picture = Picture()
        self._anchor = anchor
        self._scale = scale
        self._inks = inks
        self._last: tuple[object, Stroke] | None = None

    def add(self, mark: Mark) -> None:
        """Take one more mark."""
        if isinstance(mark, Words):
            self.picture.labels.append(self._label(mark))
            return
        path = self._path(mark)
        pen = None if isinstance(mark, Dot) else mark.pen
        if mark.fill is None and self._last is not None and self._last[0] == pen:
            self._last[1].path.addPath(path)
            return
        stroke = Stroke(path, self._inks.pen(pen), self._inks.brush(mark.fill))
        self.picture.strokes.append(stroke)
        self._last = (pen, stroke) if mark.fill is None else None

    def _px(self, point: Point) -> QPointF:
        return QPointF(
            (point[0] - self._anchor[0]) * self._scale,
            (self._anchor[1] - point[1]) * self._scale,
        )

    def _path(self, mark: Path | Arc | Dot) -> QPainterPath:
        path = QPainterPath()
        if isinstance(mark, Dot):
            at, half = self._px(mark.at), mark.size / 2
            path.addRect(QRectF(at.x() - half, at.y() - half, mark.size, mark.size))
        elif isinstance(mark, Arc):
            self._add_arc(path, mark)
        else:
            add_line(path, [self._px(point) for point in mark.points], mark.closed, mark.radius)
        return path

    def _add_arc(self, path: QPainterPath, mark: Arc) -> None:
        at, r = self._px(mark.centre), mark.radius * self._scale
        rect = QRectF(at.x() - r, at.y() - r, 2 * r, 2 * r)
        if abs(mark.span) >= 360:
            path.addEllipse(rect)
            return
        path.arcMoveTo(rect, mark.start)
        path.arcTo(rect, mark.start, mark.span)

    def _label(self, mark: Words) -> Label:
        font = self._inks.theme.font("drawing", bold=mark.bold)
        font.setPixelSize(max(font.pixelSize(), round(font.pixelSize() * mark.size / 11)))
        metrics = QFontMetricsF(font)
        width, height = metrics.horizontalAdvance(mark.text) + 4, metrics.height()
        left = {"left": 0.0, "centre": -width / 2, "right": -width}[mark.anchor]
        rect = QRectF(left, -height / 2, width, height)
        halo = self._inks.theme.colour("sheet") if mark.halo else None
        if halo is not None:
            halo.setAlphaF(0.8)
        colour = self._inks.line_colour(mark.role)
        return Label(self._px(mark.at), mark.text, font, colour, mark.turn, rect, halo)


def add_line(
    path: QPainterPath, points: Sequence[QPointF], closed: bool, radius: float = 0.0
) -> None:
    """Add straight lines through points to a path, their corners rounded by ``radius``. [px]"""
    if len(points) < 2:
        return
    if radius <= 0 or len(points) < 3:
        path.moveTo(points[0])
        for point in points[1:]:
            path.lineTo(point)
        if closed:
            path.closeSubpath()
        return
    _add_rounded(path, points, closed, radius)


def _add_rounded(
    path: QPainterPath, points: Sequence[QPointF], closed: bool, radius: float
) -> None:
    count = len(points)
    corners = range(count) if closed else range(1, count - 1)
    if not closed:
        path.moveTo(points[0])
    for step, index in enumerate(corners):
        here = points[index]
        before, after = points[index - 1], points[(index + 1) % count]
        enter, leave = _towards(here, before, radius), _towards(here, after, radius)
        if closed and step == 0:
            path.moveTo(enter)
        else:
            path.lineTo(enter)
        path.quadTo(here, leave)
    if closed:
        path.closeSubpath()
    else:
        path.lineTo(points[-1])


def _towards(start: QPointF, end: QPointF, by: float) -> QPointF:
    length = math.hypot(end.x() - start.x(), end.y() - start.y())
    share = min(by / length, 0.5) if length > 0 else 0.0
    return start + (end - start) * share


class MarksItem(QGraphicsItem):
    """Paints a picture; ``anchor`` is the point of the drawing that its origin stands for. [m]"""

    def __init__(self, parent: QGraphicsItem | None = None) -> None:
        super().__init__(parent)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)
        self._picture = Picture()
        self._bounds = QRectF()

    def show_picture(self, picture: Picture) -> None:
        """Paint another picture from now on."""
        self.prepareGeometryChange()
        self._picture = picture
        self._bounds = picture.bounds()
        small = max(self._bounds.width(), self._bounds.height()) <= _CACHED_UP_TO
        mode = QGraphicsItem.CacheMode
        self.setCacheMode(mode.DeviceCoordinateCache if small else mode.NoCache)
        self.update()

    def boundingRect(self) -> QRectF:
        return self._bounds

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._picture.paint(painter)


@dataclass(frozen=True)
class Highlight:
    """An outline to draw over a drawing, with handles where ``handles``. [px]"""

    rect: QRectF
    strong: bool
    handles: bool = False
    stem: tuple[QPointF, QPointF] | None = None


def handle_points(rect: QRectF) -> list[QPointF]:
    """Return the middles of the eight handles: row by row from the upper left. [px]"""
    xs = (rect.left(), rect.center().x(), rect.right())
    ys = (rect.top(), rect.center().y(), rect.bottom())
    return [QPointF(x, y) for y in ys for x in xs if (x, y) != (xs[1], ys[1])]


def handles_shown(rect: QRectF) -> list[QPointF]:
    """Return the handles that a thing has room for: on small ones the corners, or none. [px]"""
    points = handle_points(rect)
    if min(rect.width(), rect.height()) >= 3 * HANDLE:
        return points
    if max(rect.width(), rect.height()) < 2 * HANDLE:
        return []
    return [points[k] for k in (0, 2, 5, 7)]


class HighlightsItem(QGraphicsItem):
    """The outlines of what is chosen and of what is under the pointer, in one drawing."""

    def __init__(self, inks: Inks, parent: QGraphicsItem | None = None) -> None:
        super().__init__(parent)
        self.setZValue(200)
        self.inks = inks
        self._highlights: tuple[Highlight, ...] = ()

    def show_highlights(self, highlights: Sequence[Highlight]) -> None:
        """Outline other things from now on."""
        if tuple(highlights) != self._highlights:
            self.prepareGeometryChange()
            self._highlights = tuple(highlights)
            self.update()

    def boundingRect(self) -> QRectF:
        bounds = QRectF()
        for highlight in self._highlights:
            room = _HALO_ROOM
            bounds |= highlight.rect.adjusted(-room, -room, room, room)
            if highlight.stem is not None:
                tip = highlight.stem[1]
                bounds |= QRectF(tip.x() - room, tip.y() - room, 2 * room, 2 * room)
        return bounds

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for highlight in self._highlights:
            self._paint_one(painter, highlight)

    def _paint_one(self, painter: QPainter, highlight: Highlight) -> None:
        theme = self.inks.theme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        halo, line = (3.5, 2.2) if highlight.strong else (2.0, 1.2)
        painter.setPen(QPen(theme.colour("raised"), line + halo))
        painter.drawRect(highlight.rect)
        painter.setPen(QPen(theme.colour("pencil"), line))
        painter.drawRect(highlight.rect)
        if highlight.stem is not None:
            self._paint_stem(painter, *highlight.stem)
        if highlight.handles:
            painter.setPen(QPen(theme.colour("pencil"), 1.4))
            painter.setBrush(theme.colour("raised"))
            half = HANDLE / 2
            for at in handles_shown(highlight.rect):
                painter.drawRect(QRectF(at.x() - half, at.y() - half, HANDLE, HANDLE))

    def _paint_stem(self, painter: QPainter, foot: QPointF, tip: QPointF) -> None:
        """Draw the round handle that turns a fan or tilts a lamp."""
        painter.setPen(QPen(self.inks.theme.colour("pencil"), 1.4))
        painter.drawLine(foot, tip)
        painter.setBrush(self.inks.theme.colour("raised"))
        painter.drawEllipse(tip, HANDLE / 2 + 1, HANDLE / 2 + 1)
        painter.setBrush(Qt.BrushStyle.NoBrush)
