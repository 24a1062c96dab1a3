"""A block of the key with a column for the day and one for the night.

What stands in it is decided in `gui.key_climate`.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from core.states import State
from gui.theme import Theme, state_role
from gui.vial import paint_mark

_LINE = 19.0
_MARK = 13.0


@dataclass(frozen=True)
class Level:
    """One mean with its extremes; ``before`` is the mean before an edit, if it was another."""

    value: str
    ends: str = ""
    before: str = ""
    state: State = State.FINE

    @property
    def spoken(self) -> str:
        """What an assistive tool says of it."""
        return f"{self.value}, {self.ends}" if self.ends else self.value


@dataclass(frozen=True)
class LevelRow:
    """One quantity, with a level for each column."""

    name: str
    levels: tuple[Level, ...]


@dataclass(frozen=True)
class LevelTable:
    """Quantities below each other, halves of the day side by side."""

    heads: tuple[str, ...]
    rows: tuple[LevelRow, ...]

    def spoken(self) -> list[str]:
        """Return what an assistive tool says, a sentence for each cell."""
        return [
            f"{row.name} {head}: {level.spoken}"
            for row in self.rows
            for head, level in zip(self.heads, row.levels, strict=False)
        ]

    def paint(self, painter: QPainter, area: QRectF, theme: Theme) -> float:
        """Draw heads and rows, as many as there is room for; return their height. [px]"""
        names = QFontMetricsF(theme.font("second"))
        left = max([64.0, *(names.horizontalAdvance(row.name) + 8 for row in self.rows)])
        column = (area.width() - left) / max(1, len(self.heads))
        painter.setFont(theme.font("drawing"))
        painter.setPen(theme.colour("ink2"))
        for place, head in enumerate(self.heads):
            x = area.left() + left + place * column + _MARK
            painter.drawText(QPointF(x, area.top() + names.ascent()), head)
        shown = self.rows[: max(0, int(area.height() / _LINE) - 1)]
        for number, row in enumerate(shown, start=1):
            base = area.top() + number * _LINE + names.ascent()
            painter.setFont(theme.font("second"))
            painter.setPen(theme.colour("ink2"))
            painter.drawText(QPointF(area.left(), base), row.name)
            for place, level in enumerate(row.levels):
                x = area.left() + left + place * column
                self._paint_level(painter, QPointF(x, base), level, column, theme)
        return (len(shown) + 1) * _LINE

    def _paint_level(
        self, painter: QPainter, at: QPointF, level: Level, width: float, theme: Theme
    ) -> None:
        plain = level.state in (State.FINE, State.UNASKED, State.UNKNOWN)
        if not plain:
            mark = QRectF(at.x(), at.y() - 10, 11, 11)
            paint_mark(painter, mark, level.state, theme.palette)
        role = "pencil" if level.before else "ink" if plain else state_role(level.state)
        painter.setFont(theme.font("second", bold=True))
        painter.setPen(theme.colour(role))
        metrics = QFontMetricsF(painter.font())
        # The unit stands once, after the newer value.
        old = level.before.rsplit(maxsplit=1)[0] if level.before else ""
        text = f"{old} → {level.value}" if old else level.value
        room = width - _MARK - 4
        if metrics.horizontalAdvance(text) > room and not level.before:
            # The unit stands in other lines too.
            text = text.rsplit(maxsplit=1)[0]
        text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, room)
        painter.drawText(at + QPointF(_MARK, 0), text)
        used = metrics.horizontalAdvance(text) + 6
        painter.setFont(theme.font("drawing"))
        if used + QFontMetricsF(painter.font()).horizontalAdvance(level.ends) <= room:
            painter.setPen(theme.colour("ink2"))
            painter.drawText(at + QPointF(_MARK + used, 0), level.ends)
