"""The colours of the sheet's lines and fills: one subject at a time has colour, all else is ink.

Which role a mark has is said in `core.drawing`; the palettes are in `gui.theme`.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPen

from core.drawing.marks import Pen
from gui.theme import Theme

COLOURED: dict[str | None, frozenset[str]] = {
    "light": frozenset({"lamp", "plant", "plant_bg"}),
    "air": frozenset({"air"}),
    "power": frozenset({"lead"}),
    "water": frozenset({"water", "water_bg"}),
}
"""Subject -> the roles that keep their colour."""

_PLAIN = {
    "lamp": "raised",
    "water": "edge",
    "water_bg": "raised",
    "air": "edge",
    "lead": "edge",
    "plant": "edge",
    "plant_bg": "raised",
}
"""Role -> what it is drawn with while another subject has the colour."""
_PLAIN_LINES = {**_PLAIN, "lamp": "ink", "water": "ink"}


class Inks:
    """Pens and brushes for one subject in the theme's palette."""

    def __init__(self, theme: Theme, subject: str | None) -> None:
        self.theme = theme
        self.subject = subject
        self._kept = COLOURED.get(subject, frozenset())

    def line_colour(self, role: str) -> QColor:
        """Return the colour of a line or word of ``role``."""
        return self._colour(role, _PLAIN_LINES)

    def fill_colour(self, role: str) -> QColor:
        """Return the colour of an area of ``role``."""
        return self._colour(role, _PLAIN)

    def _colour(self, role: str, plain: dict[str, str]) -> QColor:
        name = role if role in self._kept else plain.get(role, role)
        return self.theme.colour(name)

    def pen(self, pen: Pen | None) -> QPen:
        """Return Qt's pen for a mark's."""
        if pen is None:
            return QPen(Qt.PenStyle.NoPen)
        made = QPen(self.line_colour(pen.role), pen.width)
        made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        made.setCapStyle(Qt.PenCapStyle.FlatCap)
        if pen.dash:
            made.setDashPattern([length / max(pen.width, 0.1) for length in pen.dash])
        return made

    def brush(self, role: str | None) -> QBrush:
        """Return Qt's brush for a mark's fill."""
        return QBrush(self.fill_colour(role)) if role else QBrush(Qt.BrushStyle.NoBrush)
