"""Loads: arrows and bars under each shelf, what stands on posts, castors and the floor.

What shelves and posts carry is the engine's; ratings are the design's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from core.drawing.marks import View
from core.geometry import Box
from core.states import State
from core.units import show
from gui.overlay_look import Look, arrow, kept_inside, tag_rect, words
from gui.theme import state_role

if TYPE_CHECKING:
    from core.weight.reading import ShelfLoad
    from core.weight.standing import UnitLoad

_LONG = 13.0
_BAR = 44.0
_HIGH = 6.0
_RATED = 0.7
"""Where the rating stands along a bar, as in the vials of one limit."""
_PAD = 5.0
_BOW = 6.0
"""How far a shelf at its rating bows in the drawing. [px]"""
_ROOMY = 104.0
"""Units narrower than this on the sheet have no room for bar, arrow and words. [px]"""
_SEEN: dict[View, tuple[tuple[int, int], tuple[int, int]]] = {
    "front": ((0, 2), (1, 3)),
    "side": ((0, 1), (2, 3)),
}
"""Which posts stand behind one another at the near and the far end of each elevation."""


def paint_loads(painter: QPainter, view: View, look: Look) -> None:
    """Draw an arrow and a bar at each loaded shelf, and what stands on the floor."""
    taken: list[QRectF] = []
    shelves = [s for s in look.readings.weight.shelves if s.unit in look.shown and s.mass > 0]
    for shelf in shelves:
        _paint_shelf(painter, view, look, shelf)
    for shelf in shelves:
        _write_load(painter, view, look, shelf, taken)
    for unit in look.readings.weight.units:
        if unit.unit in look.shown:
            _paint_stand(painter, view, look, unit, taken)


def _paint_shelf(painter: QPainter, view: View, look: Look, shelf: ShelfLoad) -> None:
    """Draw one shelf's load: an arrow with a bar beside it, in a narrow unit the bar alone."""
    top, wide = _under(view, look, shelf)
    share = shelf.mass / shelf.rating if shelf.rating else None
    _paint_bow(painter, look, top, wide, share or 0.0, _role(shelf))
    if wide < _ROOMY:
        length = min(_BAR, wide - 8)
        bar = QRectF(top.x() - length / 2, top.y() + 4, length, _HIGH)
    else:
        bar = QRectF(top.x() - _BAR - 8, top.y() + 5, _BAR, _HIGH)
        painter.setPen(QPen(look.inks.theme.colour(_role(shelf)), 1.6))
        arrow(painter, top, top + QPointF(0, _LONG), 5.0)
    if share is not None and bar.width() > 2 * _HIGH:
        _paint_bar(painter, look, bar, share, _role(shelf))


def _paint_bow(
    painter: QPainter, look: Look, top: QPointF, wide: float, share: float, role: str
) -> None:
    """Draw a line that bows below the shelf as it nears its rating; not to scale."""
    if share <= 0:
        return
    end = QPointF(wide / 2, 0)
    bow = QPainterPath(top - end)
    bow.quadTo(top + QPointF(0, 2 * _BOW * min(share, 1.5)), top + end)
    painter.setPen(QPen(look.inks.theme.colour(role), 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(bow)


def _write_load(
    painter: QPainter, view: View, look: Look, shelf: ShelfLoad, taken: list[QRectF]
) -> None:
    """Write one shelf's load right of its arrow, of a narrow unit beside the unit."""
    top, wide = _under(view, look, shelf)
    text = show(shelf.mass, "mass", look.system)
    aside = 34.0 if wide >= _ROOMY else wide / 2 + tag_rect(look, top, text).width() / 2 + 2
    _write(painter, view, look, top + QPointF(aside, 8), text, _role(shelf), taken)


def _under(view: View, look: Look, shelf: ShelfLoad) -> tuple[QPointF, float]:
    """Return the middle of a shelf in an elevation, and how wide its unit is there. [px]"""
    box = look.placement.box(shelf.unit)
    middle = box.centre[0 if view == "front" else 1]
    return look.camera.to_px(view, middle, shelf.z), look.camera.box(view, box).width()


def _role(shelf: ShelfLoad) -> str:
    quiet = shelf.state in (State.FINE, State.UNASKED)
    return "ink" if quiet else state_role(shelf.state)


def _write(
    painter: QPainter,
    view: View,
    look: Look,
    at: QPointF,
    text: str,
    role: str,
    taken: list[QRectF],
) -> None:
    """Write words within their drawing where nothing is written yet."""
    place = kept_inside(look, view, at, text)
    rect = tag_rect(look, place, text)
    if any(rect.intersects(other) for other in taken):
        return
    taken.append(rect)
    words(painter, look, place, text, role)


def _paint_bar(painter: QPainter, look: Look, frame: QRectF, share: float, role: str) -> None:
    """Draw a load as a bar, its rating as a line across it."""
    theme = look.inks.theme
    painter.setPen(QPen(theme.colour("edge"), 1))
    painter.setBrush(theme.colour("raised"))
    painter.drawRoundedRect(frame, 2, 2)
    length = min(share * _RATED, 1.0) * frame.width()
    filled = QRectF(frame.left(), frame.top(), length, frame.height())
    painter.fillRect(filled, theme.colour("ink2" if role == "ink" else role))
    line = frame.left() + _RATED * frame.width()
    painter.setPen(QPen(theme.colour("ink"), 1.5))
    painter.drawLine(QPointF(line, frame.top() - 2), QPointF(line, frame.bottom() + 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _paint_stand(
    painter: QPainter, view: View, look: Look, unit: UnitLoad, taken: list[QRectF]
) -> None:
    """Draw a pad or a castor under each post that is seen, with the heavier load behind it."""
    box = look.placement.box(unit.unit)
    axis = 0 if view == "front" else 1
    for (one, other), at in zip(_SEEN[view], (box.lo[axis], box.hi[axis]), strict=True):
        foot = look.camera.to_px(view, at, box.lo[2])
        _paint_pad(painter, look, foot, castor=unit.castor is not None)
        mass = max(unit.corners[one], unit.corners[other])
        side = look.camera.to_px(view, box.centre[axis], box.lo[2]).x()
        out = -26.0 if foot.x() < side else 26.0
        text = show(mass, "mass", look.system)
        _write(painter, view, look, foot + QPointF(out, -8), text, "ink", taken)


def _paint_pad(painter: QPainter, look: Look, foot: QPointF, *, castor: bool) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.inks.theme.colour("ink"))
    if castor:
        painter.drawEllipse(foot - QPointF(0, _PAD / 2), _PAD / 2 + 1, _PAD / 2 + 1)
    else:
        painter.drawRect(QRectF(foot.x() - _PAD, foot.y() - 1, 2 * _PAD, 4))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def paint_feet(painter: QPainter, view: View, look: Look) -> None:
    """Draw in the plan what each post carries, and the pressure under each unit."""
    taken: list[QRectF] = []
    for unit in look.readings.weight.units:
        if unit.unit in look.shown:
            box = look.placement.box(unit.unit)
            middle = look.camera.box(view, box).center()
            pressure = show(unit.pressure, "pressure", look.system)
            _write(painter, view, look, middle, pressure, "ink", taken)
            _paint_posts(painter, view, look, unit, taken)


def _paint_posts(
    painter: QPainter, view: View, look: Look, unit: UnitLoad, taken: list[QRectF]
) -> None:
    """Draw a unit's posts, and what they carry where it is wide enough."""
    box = look.placement.box(unit.unit)
    roomy = look.camera.box(view, box).width() >= _ROOMY
    radius = _PAD if roomy else _PAD / 2
    for (right, back), mass in zip(((0, 0), (1, 0), (0, 1), (1, 1)), unit.corners, strict=True):
        at = look.camera.box(view, _corner(box, right, back)).center()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(look.inks.theme.colour("ink"))
        painter.drawEllipse(at, radius, radius)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if roomy:
            inward = QPointF(-26.0 if right else 26.0, 9.0 if back else -9.0)
            text = show(mass, "mass", look.system)
            _write(painter, view, look, at + inward, text, "ink", taken)


def _corner(box: Box, right: int, back: int) -> Box:
    """Return a corner of a footprint as a box without size."""
    x = box.hi[0] if right else box.lo[0]
    y = box.hi[1] if back else box.lo[1]
    return Box((x, y, box.lo[2]), (x, y, box.lo[2]))
