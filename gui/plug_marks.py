"""Where the plugs of all leads are drawn on the sheet, how they look, and which lies under a point.

What is done with a plug is `gui.plugging`'s affair; what it may go into, `core.power.plugging`'s.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from core.drawing.marks import View
from core.placement import Placement
from core.power.plugging import is_pluggable
from gui.camera import Camera
from gui.theme import Theme

HIT = 9.0
"""How near a plug's middle counts as on it. [px]"""
_APART = 12.0
_BELOW = 9.0
_ROWS = 4
_WIDE, _HIGH, _PRONG = 8.0, 6.0, 3.5


def plug_spots(
    placement: Placement, camera: Camera, view: View, shown: Collection[str]
) -> Mapping[str, QPointF]:
    """Return the middle of each plug in a drawing, by the id of the part it belongs to. [px]

    Plugs in one socket stand in a row below it, or above where the drawing ends; the plug of what
    is not plugged in hangs below the thing itself.
    """
    rows: dict[str, list[str]] = {}
    design = placement.design
    for part in design.parts:
        if part.id in shown and is_pluggable(design, part.id):
            plug = part.plug  # type: ignore[union-attr]
            socket = plug.into if plug is not None else part.id
            if socket in shown:
                rows.setdefault(socket, []).append(part.id)
    found: dict[str, QPointF] = {}
    for socket, parts in rows.items():
        box, pane = camera.box(view, placement.box(socket)), camera.panes[view]
        if box.intersects(pane):
            found.update(zip(parts, _row(box, pane, len(parts), found.values()), strict=True))
    return found


def _row(socket: QRectF, pane: QRectF, count: int, taken: Collection[QPointF]) -> list[QPointF]:
    """Return a row of places by a socket that no plug has taken: below it, else above."""
    half = (count - 1) / 2 * _APART
    left, right = pane.left() + half + _WIDE, pane.right() - half - _WIDE
    middle = min(max(socket.center().x(), left), max(left, right))
    places: list[QPointF] = []
    for y in _heights(socket, pane):
        places = [QPointF(middle - half + k * _APART, y) for k in range(count)]
        if not any(_close(place, other) for place in places for other in taken):
            break
    return places


def _heights(socket: QRectF, pane: QRectF) -> Iterator[float]:
    below = [socket.bottom() + _BELOW + k * _APART for k in range(_ROWS)]
    above = [socket.top() - _BELOW - k * _APART for k in range(_ROWS)]
    yield from (y for y in below if y + _HIGH <= pane.bottom())
    yield from (y for y in above if y - _HIGH >= pane.top())
    yield socket.center().y()


def _close(a: QPointF, b: QPointF) -> bool:
    return abs(a.x() - b.x()) < _APART - 1 and abs(a.y() - b.y()) < _APART - 1


def plug_at(spots: Mapping[str, QPointF], at: QPointF) -> str | None:
    """Return whose plug lies under a point, the nearest where several do."""
    near = {key: math.hypot(*(spot - at).toTuple()) for key, spot in spots.items()}
    key = min(near, key=lambda key: near[key], default=None)
    return key if key is not None and near[key] <= HIT else None


def paint_plug(painter: QPainter, theme: Theme, at: QPointF, role: str, *, loose: bool) -> None:
    """Draw a plug: its body with two prongs up; dashed where it is in no socket."""
    pen = QPen(theme.colour(role), 1.3)
    if loose:
        pen.setDashPattern([2, 2])
    painter.setPen(pen)
    painter.setBrush(theme.colour("sheet"))
    body = QRectF(at.x() - _WIDE / 2, at.y() - _HIGH / 2 + 1, _WIDE, _HIGH)
    painter.drawRoundedRect(body, 2, 2)
    painter.setPen(QPen(theme.colour(role), 1.5, c=Qt.PenCapStyle.FlatCap))
    for x in (at.x() - 2, at.x() + 2):
        painter.drawLine(QPointF(x, body.top()), QPointF(x, body.top() - _PRONG))
