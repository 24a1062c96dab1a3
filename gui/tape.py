"""What is drawn while a part is moved: its old place, projection lines, tapes and guides.

How far things are apart is worked out in `gui.snapping`; when this shows, in `gui.dragging`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from core.drawing.marks import AXES, View
from core.geometry import Box
from gui.camera import Camera
from gui.snapping import Gap, Guide
from gui.theme import Theme

_TICK = 3.5
_STALK = 16.0
_PAD = 3.0


@dataclass(frozen=True)
class Measured:
    """A gap with its number; ``marked`` is the one that typed digits set."""

    gap: Gap
    text: str
    marked: bool = False


@dataclass
class TapeState:
    """All that the tape shows.

    Attributes
    ----------
    before, now : Box
        Where the moving parts were, and are.
    tapes : sequence of Measured
        The distances along the moving axis.
    guides : sequence of Guide
        Those that hold now.
    refused : str
        Why the part cannot be let go of here; empty when it can.
    label : str
        What is being placed or measured.
    only : str or None
        The one drawing that the outline is known in; None for all.
    """

    before: Box | None
    now: Box
    tapes: Sequence[Measured] = ()
    guides: Sequence[Guide] = ()
    refused: str = ""
    label: str = ""
    only: View | None = None


class TapeItem(QGraphicsItem):
    """Paints the tape over all drawings.

    Attributes
    ----------
    numbers : list of (str, QRectF)
        The numbers as they were painted last, with their places. [px]
    """

    def __init__(self, theme: Theme, camera: Camera, size: QRectF) -> None:
        super().__init__()
        self.setZValue(400)
        self._theme = theme
        self._camera = camera
        self._size = size
        self._state: TapeState | None = None
        self.numbers: list[tuple[str, QRectF]] = []

    @property
    def state(self) -> TapeState | None:
        """What is shown; None for nothing."""
        return self._state

    def show_state(self, state: TapeState | None) -> None:
        """Show another state, or nothing."""
        self._state = state
        self.update()

    def boundingRect(self) -> QRectF:
        return self._size

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        self.numbers = []
        state = self._state
        if state is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if state.only is None:
            self._paint_projections(painter, state.now)
        for view in self._camera.panes:
            if state.only not in (None, view):
                continue
            if state.before is not None:
                self._paint_old_place(painter, view, state.before)
            for guide in state.guides:
                self._paint_guide(painter, view, guide)
            for measured in state.tapes:
                if measured.gap.axis in AXES[view]:
                    self._paint_tape(painter, view, state.now, measured)
            if state.refused or state.before is None:
                self._paint_outline(painter, view, state)
        self._paint_words(painter, state)

    def _pencil(self, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
        return QPen(self._theme.colour("pencil"), width, style)

    def _paint_old_place(self, painter: QPainter, view: View, box: Box) -> None:
        painter.setPen(QPen(self._theme.colour("ink2"), 1.0, Qt.PenStyle.DotLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self._camera.box(view, box))

    def _paint_outline(self, painter: QPainter, view: View, state: TapeState) -> None:
        """Draw the outline of a part that is not placed yet, or cannot go here."""
        colour = self._theme.colour("out" if state.refused else "pencil")
        style = Qt.PenStyle.DashLine if state.refused else Qt.PenStyle.SolidLine
        painter.setPen(QPen(colour, 1.8, style))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self._camera.box(view, state.now))

    def _paint_projections(self, painter: QPainter, box: Box) -> None:
        """Draw dashed lines that carry the part's edges from drawing to drawing."""
        panes = self._camera.panes
        painter.setPen(self._pencil(1.0, Qt.PenStyle.DashLine))
        if "plan" in panes and "front" in panes:
            plan, front = self._camera.box("plan", box), self._camera.box("front", box)
            for x in (plan.left(), plan.right()):
                painter.drawLine(QLineF(x, plan.bottom(), x, front.top()))
        if "front" in panes and "side" in panes:
            front, side = self._camera.box("front", box), self._camera.box("side", box)
            for y in (front.top(), front.bottom()):
                painter.drawLine(QLineF(front.right(), y, side.left(), y))

    def _paint_guide(self, painter: QPainter, view: View, guide: Guide) -> None:
        axes = AXES[view]
        if guide.axis not in axes:
            return
        pane = self._camera.panes[view]
        painter.setPen(self._pencil(1.2, Qt.PenStyle.DashDotLine))
        if guide.axis == axes[0]:
            x = self._camera.to_px(view, guide.at, 0.0).x()
            painter.drawLine(QLineF(x, pane.top(), x, pane.bottom()))
        else:
            y = self._camera.to_px(view, 0.0, guide.at).y()
            painter.drawLine(QLineF(pane.left(), y, pane.right(), y))

    def _paint_words(self, painter: QPainter, state: TapeState) -> None:
        """Name the guides, or say why the part cannot go here, beside the moving part."""
        view = state.only or next(iter(self._camera.panes), None)
        if view is None:
            return
        lines = [state.refused] if state.refused else [guide.words for guide in state.guides]
        if state.label and not state.refused:
            lines.insert(0, state.label)
        rect = self._camera.box(view, state.now)
        colour = "out" if state.refused else "pencil"
        y = rect.bottom() + 30
        for words in lines:
            self._tag(painter, QPointF(rect.center().x(), y), words, colour, bold=True)
            y += 18

    def _paint_tape(self, painter: QPainter, view: View, box: Box, measured: Measured) -> None:
        gap, axes = measured.gap, AXES[view]
        other = axes[1] if gap.axis == axes[0] else axes[0]
        across = box.centre[other]
        ends = []
        for at in (gap.low, gap.high):
            point = (at, across) if gap.axis == axes[0] else (across, at)
            ends.append(self._camera.to_px(view, *point))
        painter.setPen(self._pencil(1.6 if measured.marked else 1.2))
        painter.drawLine(QLineF(ends[0], ends[1]))
        for end in ends:
            painter.drawLine(QLineF(end + QPointF(-_TICK, _TICK), end + QPointF(_TICK, -_TICK)))
        self._paint_number(painter, view, box, ends, measured)

    def _paint_number(
        self, painter: QPainter, view: View, box: Box, ends: list[QPointF], measured: Measured
    ) -> None:
        """Write the number on its line, or below it on a stalk where the gap is too small."""
        middle = (ends[0] + ends[1]) / 2
        size = self._text_size(measured.text)
        level = abs(ends[1].y() - ends[0].y()) < abs(ends[1].x() - ends[0].x())
        long = abs(ends[1].x() - ends[0].x()) if level else abs(ends[1].y() - ends[0].y())
        fits = long >= (size.width() if level else size.height()) + 2 * _TICK
        at = middle
        if not fits:
            rect = self._camera.box(view, box)
            at = QPointF(middle.x(), rect.bottom() + _STALK)
            if not level:
                at = QPointF(rect.right() + _STALK + size.width() / 2, middle.y())
            painter.setPen(self._pencil(1.0))
            painter.drawLine(QLineF(middle, at))
        self._tag(painter, at, measured.text, "pencil", bold=True, marked=measured.marked)

    def _text_size(self, text: str) -> QRectF:
        metrics = QFontMetricsF(self._theme.font("drawing", bold=True))
        return QRectF(0, 0, metrics.horizontalAdvance(text) + 2 * _PAD, metrics.height())

    def _tag(
        self,
        painter: QPainter,
        at: QPointF,
        text: str,
        role: str,
        *,
        bold: bool = False,
        marked: bool = False,
    ) -> None:
        """Write a text on a halo about its middle."""
        size = self._text_size(text)
        rect = QRectF(
            at.x() - size.width() / 2, at.y() - size.height() / 2, size.width(), size.height()
        )
        rect.moveLeft(max(2.0, min(rect.left(), self._size.right() - rect.width() - 2)))
        rect.moveTop(max(2.0, min(rect.top(), self._size.bottom() - rect.height() - 2)))
        ground = QColor(self._theme.colour("sheet"))
        ground.setAlphaF(0.92)
        path = QPainterPath()
        path.addRoundedRect(rect, 3, 3)
        painter.fillPath(path, ground)
        if marked:
            painter.setPen(self._pencil(1.2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPath(path)
        painter.setFont(self._theme.font("drawing", bold=bold))
        painter.setPen(self._theme.colour(role))
        painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, text)
        self.numbers.append((text, rect))
