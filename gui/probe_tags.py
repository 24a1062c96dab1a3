"""How the probe looks: a dark tag with a few lines, and the small ring of a pinned place.

What the lines say comes from the providers in `gui.probe`; where a tag has room is found here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from gui.overlay_look import TAG_GROUND, TAG_TEXT
from gui.theme import Theme

RING = 7.0
"""Radius of a pin's ring, so that it is seen behind a number on its place. [px]"""
PIN_HIT = 9.0
"""How near the pointer has to be to a pin to take hold of it. [px]"""
_AWAY = 14.0
_MARGIN = QPointF(7.0, 4.0)
_HALO_ROOM = 4.0
UNDER_NUMBERS = 205.0
OVER_NUMBERS = 220.0


@dataclass(frozen=True)
class Tag:
    """One tag as it is shown: the place it tells of, its lines, and its own rectangle. [px]

    ``ring`` marks a pinned place, ``chosen`` the one that the keys act on.
    """

    at: QPointF
    lines: tuple[str, ...]
    rect: QRectF
    ring: bool = False
    chosen: bool = False

    def bounds(self) -> QRectF:
        """Return all that it covers."""
        reach = RING + _HALO_ROOM
        mark = QRectF(self.at.x() - reach, self.at.y() - reach, 2 * reach, 2 * reach)
        return self.rect.adjusted(-1, -1, 1, 1) | mark


def tag_size(theme: Theme, lines: Sequence[str]) -> tuple[float, float]:
    """Return the width and height of a tag with some lines. [px]"""
    bold, plain = _metrics(theme)
    widths = [(bold if k == 0 else plain).horizontalAdvance(line) for k, line in enumerate(lines)]
    height = bold.height() + plain.height() * (len(lines) - 1)
    return max(widths, default=0.0) + 2 * _MARGIN.x(), height + 2 * _MARGIN.y()


def _metrics(theme: Theme) -> tuple[QFontMetricsF, QFontMetricsF]:
    return (
        QFontMetricsF(theme.font("drawing", bold=True)),
        QFontMetricsF(theme.font("drawing")),
    )


def free_place(
    at: QPointF, size: tuple[float, float], within: QRectF, taken: Iterable[QRectF]
) -> QRectF:
    """Return where a tag about a point lies: near it, and where it covers least of what is taken.

    Above right first, since a name under the pointer opens below it.
    """
    taken = tuple(taken)
    found = [_kept(rect, within) for rect in _candidates(at, size)]
    point = QRectF(at.x() - RING - 1, at.y() - RING - 1, 2 * RING + 2, 2 * RING + 2)
    covered = [_covered(rect, (*taken, point)) for rect in found]
    return found[covered.index(min(covered))]


def _candidates(at: QPointF, size: tuple[float, float]) -> list[QRectF]:
    width, height = size
    right, left = at.x() + _AWAY, at.x() - _AWAY - width
    middle = at.x() - width / 2
    near = [
        (right, at.y() - _AWAY - height),
        (left, at.y() - _AWAY - height),
        (right, at.y() + _AWAY),
        (left, at.y() + _AWAY),
        (right, at.y() - height / 2),
        (left, at.y() - height / 2),
        (middle, at.y() - 2 * _AWAY - height),
        (middle, at.y() + 2 * _AWAY),
    ]
    far = [(x, y + step * height) for step in (-1.5, 1.5) for x, y in near[:4]]
    return [QRectF(x, y, width, height) for x, y in (*near, *far)]


def _kept(rect: QRectF, within: QRectF) -> QRectF:
    moved = QRectF(rect)
    moved.moveLeft(max(within.left(), min(rect.left(), within.right() - rect.width())))
    moved.moveTop(max(within.top(), min(rect.top(), within.bottom() - rect.height())))
    return moved


def _covered(rect: QRectF, taken: Iterable[QRectF]) -> float:
    parts = (rect.intersected(other) for other in taken)
    return sum(part.width() * part.height() for part in parts if not part.isEmpty())


class TagsItem(QGraphicsItem):
    """Paints tags over everything else on the sheet, or only their rings, under its numbers."""

    def __init__(self, theme: Theme, *, rings: bool = False) -> None:
        super().__init__()
        self.setZValue(UNDER_NUMBERS if rings else OVER_NUMBERS)
        self._rings = rings
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)
        self._theme = theme
        self.tags: tuple[Tag, ...] = ()

    def show_tags(self, tags: Sequence[Tag]) -> None:
        """Paint other tags from now on."""
        if tuple(tags) != self.tags:
            self.prepareGeometryChange()
            self.tags = tuple(tags)
            self.update()

    def boundingRect(self) -> QRectF:
        bounds = QRectF()
        for tag in self.tags:
            bounds |= tag.bounds()
        return bounds

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for tag in self.tags:
            if self._rings and tag.ring:
                self._paint_ring(painter, tag)
            elif not self._rings and tag.lines:
                self._paint_lines(painter, tag)

    def _paint_ring(self, painter: QPainter, tag: Tag) -> None:
        """Draw a ring with a white halo, seen on dark steps and on bright ones."""
        role = "pencil" if tag.chosen else "ink"
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, width in (("raised", 5.0), (role, 2.2)):
            painter.setPen(QPen(self._theme.colour(colour), width))
            painter.drawEllipse(tag.at, RING, RING)

    def _paint_lines(self, painter: QPainter, tag: Tag) -> None:
        ground = QColor(TAG_GROUND)
        ground.setAlphaF(0.92)
        path = QPainterPath()
        path.addRoundedRect(tag.rect, 3, 3)
        painter.fillPath(path, ground)
        painter.strokePath(path, QPen(self._theme.colour("edge"), 1.0))
        painter.setPen(QColor(TAG_TEXT))
        y = tag.rect.top() + _MARGIN.y()
        for metrics, bold, line in self._rows(tag.lines):
            painter.setFont(self._theme.font("drawing", bold=bold))
            painter.drawText(QPointF(tag.rect.left() + _MARGIN.x(), y + metrics.ascent()), line)
            y += metrics.height()

    def _rows(self, lines: Sequence[str]) -> list[tuple[QFontMetricsF, bool, str]]:
        bold, plain = _metrics(self._theme)
        return [(bold if k == 0 else plain, k == 0, line) for k, line in enumerate(lines)]
