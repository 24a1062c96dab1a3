"""Air on the sheet: strokes along the flow, jets until it is known, still and draughty places.

Speeds are the engine's. Strokes are laid out by `gui.air_strokes`, jets painted by
`gui.overlay_jets`, the tint of the air's age by `gui.air_age`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

from core.drawing.marks import View
from core.geometry import Rectangle
from core.language import tr
from core.units import show
from gui.air_age import paint_age
from gui.air_cut import depth_of
from gui.air_strokes import WEIGHTS, Floats, Plane, plane_of, strokes_in, weight
from gui.overlay_jets import paint_jets
from gui.overlay_look import Look, hatch_area, kept_inside, tag_rect, words

if TYPE_CHECKING:
    from core.air.coverage import Gap
    from core.air.fields import AirField

DIMMED = 0.35
"""How strongly a flow from before the last change is drawn."""

_HEAD = 2.6
"""Length of an arrow's head beyond twice its stroke's width. [px]"""
_MOST_HEAD = 0.6
"""The most of a stroke that its head takes."""
_LEAST_HEIGHT = 16.0
"""A still place is drawn at least this high in an elevation. [px]"""


def paint_air(painter: QPainter, view: View, look: Look) -> None:
    """Draw what is known of the air: its flow, else the jets; then what is still or too strong."""
    air = look.readings.air
    coarse = look.readings.quality == "coarse"
    field = air.field or air.stale
    if field is not None and view in look.camera.panes:
        painter.save()
        if air.field is None:
            painter.setOpacity(DIMMED)
        paint_flow(painter, view, look, field)
        painter.restore()
    if air.field is None or coarse:
        paint_jets(painter, view, look)
    _paint_gaps(painter, view, look)


def paint_flow(painter: QPainter, view: View, look: Look, field: AirField) -> None:
    """Draw a flow in a drawing's plane: the age of its air where asked for, and its strokes."""
    depth = depth_of(look, view)
    pane = look.camera.panes[view]
    painter.setClipRect(pane, Qt.ClipOperation.IntersectClip)
    if look.age:
        paint_age(painter, view, look, field, depth)
    painter.translate(*look.camera.origins[view])
    _paint_strokes(painter, look, _drawn(field, view, depth, look))


@dataclass(frozen=True, eq=False)
class Drawn:
    """Strokes ready to be painted, in px from where a drawing's axes begin.

    Attributes
    ----------
    window : Rectangle
        What they were laid out for. [m]
    lines : dict of float to list of QPolygonF
        By weight. [px]
    heads : QPainterPath
        Of all arrows.
    """

    window: Rectangle
    lines: dict[float, list[QPolygonF]]
    heads: QPainterPath


_KEPT: WeakKeyDictionary[AirField, dict[tuple[View, float, float], Drawn]] = WeakKeyDictionary()
_MOST_KEPT = 12
_MARGIN = 0.25
"""How much beyond what is seen is laid out, over its size, so that a drawing can be moved."""


def _drawn(field: AirField, view: View, depth: float, look: Look) -> Drawn:
    """Return the strokes of what is seen of a drawing, kept while it is moved."""
    kept = _KEPT.setdefault(field, {})
    scale, seen = look.camera.scale, look.camera.seen(view)
    found = kept.get((view, depth, scale))
    if found is None or not found.window.contains(seen):
        if len(kept) >= _MOST_KEPT:
            kept.clear()
        across, up = _MARGIN * seen.width, _MARGIN * seen.height
        window = Rectangle(seen.x0 - across, seen.y0 - up, seen.x1 + across, seen.y1 + up)
        found = kept[view, depth, scale] = _laid_out(plane_of(field, view, depth), window, scale)
    return found


def _laid_out(plane: Plane, window: Rectangle, scale: float) -> Drawn:
    found = strokes_in(plane, window, scale)
    lines = found.lines * (scale, -scale)
    widths = np.array([weight(speed) for speed in found.speeds.tolist()])
    heads = QPainterPath()
    heads.setFillRule(Qt.FillRule.WindingFill)
    by_weight: dict[float, list[QPolygonF]] = {}
    for _, width in WEIGHTS:
        some = lines[widths == width]
        by_weight[width] = _polygons(some)
        for corners in _polygons(_heads(some, 2 * width + _HEAD)):
            heads.addPolygon(corners)
    return Drawn(window, by_weight, heads)


def _polygons(lines: Floats) -> list[QPolygonF]:
    return [QPolygonF([QPointF(x, y) for x, y in line]) for line in lines.tolist()]


def _paint_strokes(painter: QPainter, look: Look, drawn: Drawn) -> None:
    """Draw strokes one by one: as one path, wide ones would take several times as long."""
    colour = look.inks.theme.colour("air")
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for width, lines in drawn.lines.items():
        painter.setPen(QPen(colour, width, c=Qt.PenCapStyle.RoundCap))
        for line in lines:
            painter.drawPolyline(line)
    painter.fillPath(drawn.heads, colour)


def _heads(lines: Floats, size: float) -> Floats:
    """Return the triangles at the ends of strokes, shape (strokes, 3, 2). [px]"""
    tips, way = lines[:, -1], lines[:, -1] - lines[:, -2]
    angle = np.arctan2(way[:, 1], way[:, 0])
    # A short stroke must not be all head.
    whole = np.linalg.norm(np.diff(lines, axis=1), axis=2).sum(axis=1)
    sizes = np.minimum(size, _MOST_HEAD * whole)[:, None]
    corners = [tips]
    for turn in (2.6, -2.6):
        side = np.stack([np.cos(angle + turn), np.sin(angle + turn)], axis=1)
        corners.append(tips + sizes * side)
    return np.stack(corners, axis=1)


def _paint_gaps(painter: QPainter, view: View, look: Look) -> None:
    """Outline the places where the air is still or too strong, and say how fast it is there."""
    pane = look.camera.panes[view]
    shown = [gap for gap in look.readings.air.gaps if gap.part in look.shown]
    outlines = [(gap, _outline(view, look, gap)) for gap in shown]
    seen = [(gap, path) for gap, path in outlines if path.intersects(pane)]
    painter.save()
    painter.setClipRect(pane, Qt.ClipOperation.IntersectClip)
    for gap, path in seen:
        colour = look.inks.theme.colour("out")
        hatch_area(painter, path, colour, hatched=gap.kind == "still")
    painter.restore()
    taken: list[QRectF] = []
    for gap, path in sorted(seen, key=lambda pair: -_area(pair[1].boundingRect())):
        if view == "plan" or (gap.level == look.level and gap.kind == "still"):
            _paint_words(painter, view, look, gap, path, taken)


def _outline(view: View, look: Look, gap: Gap) -> QPainterPath:
    path = QPainterPath()
    for area in gap.areas:
        path.addRect(_seen(view, look, gap, area))
    return path.simplified()


def _seen(view: View, look: Look, gap: Gap, area: Rectangle) -> QRectF:
    """Return one piece of a place in a drawing; in an elevation as high as its plants."""
    if view == "plan":
        return look.camera.rect("plan", area)
    low, high = (area.x0, area.x1) if view == "front" else (area.y0, area.y1)
    foot = look.placement.box(gap.part).lo[2]
    rect = look.camera.rect(view, Rectangle(low, foot, high, max(gap.z, foot)))
    more = max(0.0, _LEAST_HEIGHT - rect.height())
    return rect.adjusted(0, -more, 0, 0)


def _paint_words(
    painter: QPainter, view: View, look: Look, gap: Gap, path: QPainterPath, taken: list[QRectF]
) -> None:
    """Write what is amiss about the middle of a place, in fewer words where others stand."""
    for text in _gap_words(view, look, gap):
        at = kept_inside(look, view, _beside(look, path, text), text)
        rect = tag_rect(look, at, text)
        if not any(rect.intersects(other) for other in taken):
            words(painter, look, at, text, "out")
            taken.append(rect)
            return


def _beside(look: Look, path: QPainterPath, text: str) -> QPointF:
    """Return where words about a place go: into it, or below it where they would hide it."""
    middle, room = _middle(path), path.boundingRect()
    tag = tag_rect(look, middle, text)
    if tag.width() <= room.width() and 2 * tag.height() <= room.height():
        return middle
    return QPointF(room.center().x(), room.bottom() + tag.height() / 2 + 1)


def _middle(path: QPainterPath) -> QPointF:
    """Return a place for words: the middle of the place, or of its largest piece."""
    middle = path.boundingRect().center()
    if path.contains(middle):
        return middle
    pieces = (piece.boundingRect() for piece in path.toFillPolygons())
    return max(pieces, key=_area, default=QRectF()).center()


def _area(rect: QRectF) -> float:
    return rect.width() * rect.height()


def _gap_words(view: View, look: Look, gap: Gap) -> tuple[str, ...]:
    """Return what to write at a place, the fullest words first."""
    name = tr("still") if gap.kind == "still" else tr("too strong")
    if view != "plan":
        return (name,)
    speed = show(gap.speed, "speed", look.system, unit=False, digits=2)
    if look.readings.air.passing:
        speed = f"≈ {speed}"
    return tr("{name}, {speed}").format(name=name, speed=speed), speed
