"""Still and draughty places, and how far each fan's jet carries.

Speeds are the engine's; fans themselves and their throw are part of the drawings.
"""

from __future__ import annotations

from PySide6.QtGui import QPainter

from core.drawing.marks import View
from core.model import Plants
from core.states import State
from core.units import show
from gui.overlay_look import Look, hatch, words

_STILL = {State.LOW, State.LIKELY_LOW}
_STRONG = {State.HIGH, State.LIKELY_HIGH}


def paint_air(painter: QPainter, view: View, look: Look) -> None:
    """Hatch the zones whose air is still or too strong, with their speeds."""
    for row in look.readings.air.rows:
        part = look.placement.design.by_id.get(row.place)
        if not isinstance(part, Plants) or part.id not in look.shown:
            continue
        if row.state not in _STILL | _STRONG or row.value is None:
            continue
        rect = look.camera.box(view, look.placement.box(part.id))
        hatch(painter, rect, look.inks.theme.colour("out"))
        speed = show(row.value, "speed", look.system)
        words(painter, look, rect.center(), speed, "out")
