"""Dragging a plug to another outlet, strip, lead, timer or lamp: one object from press to release.

Where plugs lie is `gui.plug_marks`'; what a part may be plugged into, `core.power.plugging`'s.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from core.drawing.marks import View
from core.language import tr
from core.power.plugging import Target, plugged_into, targets
from gui.gestures import Proposal
from gui.plug_marks import paint_plug, plug_at, plug_spots
from gui.plug_words import refusal_words, target_words

if TYPE_CHECKING:
    from gui.sheet import Sheet

_ROOM = 6.0
"""How far beside a socket a plug may be let go of. [px]"""
_ABOVE_ALL = 320.0


def plug_under(sheet: Sheet, view: View, at: QPointF) -> str | None:
    """Return whose plug lies under a point, in Power; None elsewhere."""
    if sheet.view.subject != "power":
        return None
    shown = sheet.drawings[view].shown_ids()
    return plug_at(plug_spots(sheet.placement, sheet.camera, view, frozenset(shown)), at)


class PlugDrag(Proposal):
    """Carries a plug; over a socket that takes it the design is shown with it in there.

    Attributes
    ----------
    part : str
        Whose plug it is.
    targets : dict of str to Target
        Everything that takes plugs, by id.
    over : Target or None
        What the plug is over now.
    """

    def __init__(self, sheet: Sheet, view: View, start: QPointF, part: str) -> None:
        super().__init__(sheet, view, start)
        self.part = part
        self.targets = {t.key: t for t in targets(sheet.document.committed, part)}
        self.over: Target | None = None
        self._item: PlugItem | None = None

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        if not self._goes_on(at):
            return
        if self._item is None:
            self._item = PlugItem(self)
            self.sheet.scene().addItem(self._item)
            self.sheet.said.emit(tr("Drop the plug on another socket  ·  Esc: put it back"))
        over = self._target_at(at)
        if over != self.over:
            self.over = over
            self._propose()
        self._item.follow(at)

    def _propose(self) -> None:
        """Show the design as it would be, so that readings tell before the plug is let go of."""
        into = self.over.key if self.over is not None and self.over.open else None
        if into is None:
            self.sheet.document.withdraw()
        else:
            part = plugged_into(self.sheet.document.committed, self.part, into)
            self.sheet.document.propose({self.part: part})
        self.sheet.view.light_up(self.over.key if self.over is not None else "")

    def _target_at(self, at: QPointF) -> Target | None:
        """Return the target about a point of a drawing; of several an open one, the smallest."""
        view = self.sheet.camera.view_at(at)
        if view is None:
            return None
        rects = {key: rect for key, rect in self.rects(view).items() if rect.contains(at)}
        sizes = {key: rect.width() * rect.height() for key, rect in rects.items()}
        key = min(sizes, key=lambda key: (not self.targets[key].open, sizes[key]), default=None)
        return self.targets[key] if key is not None else None

    def rects(self, view: View) -> dict[str, QRectF]:
        """Return where each target that a drawing shows takes plugs. [px]"""
        sheet = self.sheet
        shown = set(sheet.drawings[view].shown_ids())
        boxes = {key: sheet.placement.box(key) for key in self.targets if key in shown}
        found = {key: sheet.camera.box(view, box) for key, box in boxes.items()}
        pane = sheet.camera.panes[view]
        return {
            key: rect.adjusted(-_ROOM, -_ROOM, _ROOM, _ROOM)
            for key, rect in found.items()
            if rect.intersects(pane)
        }

    def words(self) -> str:
        """Return what letting go here would do, or why it cannot be."""
        name = self.sheet.document.committed.by_id[self.part].name
        if self.over is None:
            return tr("{name}: drop the plug on an outlet, a strip, a lead or a timer").format(
                name=name
            )
        if self.over.here:
            return tr("{name} is plugged into {socket}").format(name=name, socket=self.over.name)
        if self.over.refused is not None:
            return refusal_words(self.over)
        return target_words(self.over, self.sheet.document.design.units)

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        if not self._began:
            self.sheet.view.select((self.part,))
            return
        if self._done:
            return
        over = self.over
        if over is None or not over.open:
            if over is not None and over.refused is not None:
                self.sheet.said.emit(refusal_words(over))
            self.cancel()
            return
        self._done = True
        name = self.sheet.document.committed.by_id[self.part].name
        words = tr("Plug {name} into {socket}").format(name=name, socket=over.name)
        self.sheet.document.commit(words)
        self._end()

    def _end(self) -> None:
        if self._item is not None:
            self.sheet.scene().removeItem(self._item)
            self._item = None
        self.sheet.view.light_up("")
        super()._end()


class PlugItem(QGraphicsItem):
    """Paints the plug on its way, what it may go into, and what would come of it."""

    def __init__(self, drag: PlugDrag) -> None:
        super().__init__()
        self._drag = drag
        self._at = drag.start
        self.setZValue(_ABOVE_ALL)

    def follow(self, at: QPointF) -> None:
        """Carry the plug to a point."""
        self._at = at
        self.update()

    def boundingRect(self) -> QRectF:
        return QRectF(self._drag.sheet.viewport().rect())

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for view in self._drag.sheet.camera.panes:
            self._paint_targets(painter, view)
        self._paint_lead(painter)
        self._paint_words(painter)

    def _paint_targets(self, painter: QPainter, view: View) -> None:
        theme, over = self._drag.sheet.theme, self._drag.over
        for key, rect in self._drag.rects(view).items():
            target = self._drag.targets[key]
            if target.open:
                painter.setPen(QPen(theme.colour("pencil"), 2.4 if target is over else 1.4))
            elif target is over and target.refused is not None:
                painter.setPen(QPen(theme.colour("out"), 1.6, Qt.PenStyle.DashLine))
            else:
                continue
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(rect, 5, 5)

    def _paint_lead(self, painter: QPainter) -> None:
        drag = self._drag
        theme, sheet = drag.sheet.theme, drag.sheet
        view = sheet.camera.view_at(self._at)
        painter.setPen(QPen(theme.colour("pencil"), 1.6))
        if view is not None:
            start = sheet.camera.box(view, sheet.placement.box(drag.part)).center()
            painter.drawLine(start, self._at)
        paint_plug(painter, theme, self._at, "pencil", loose=False)

    def _paint_words(self, painter: QPainter) -> None:
        drag = self._drag
        theme, area = drag.sheet.theme, self.boundingRect()
        refused = drag.over is not None and drag.over.refused is not None
        text, font = drag.words(), theme.font("drawing", bold=True)
        metrics = QFontMetricsF(font)
        rect = QRectF(0, 0, metrics.horizontalAdvance(text) + 12, metrics.height() + 6)
        rect.moveTopLeft(self._at + QPointF(12, 12))
        rect.moveRight(min(rect.right(), area.right() - 4))
        rect.moveLeft(max(rect.left(), area.left() + 4))
        if rect.bottom() > area.bottom():
            rect.moveBottom(self._at.y() - 12)
        painter.setPen(QPen(theme.colour("out" if refused else "pencil"), 1))
        painter.setBrush(theme.colour("raised"))
        painter.drawRoundedRect(rect, 4, 4)
        painter.setFont(font)
        painter.setPen(theme.colour("out" if refused else "ink"))
        painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, text)
