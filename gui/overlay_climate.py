"""Where water condenses on the enclosure's faces, and when, beside the sheet's level rows.

The numbers are `core.climate`'s; the day itself is drawn by `gui.climate_day`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPen

from core.climate.day_results import spells
from core.climate.rows import spell_words, told_spells
from core.drawing.marks import View
from core.geometry import Box
from core.language import tr
from core.units import show
from gui.overlay_look import Look, kept_inside, tag_rect, words
from gui.theme import state_role

if TYPE_CHECKING:
    from core.climate.results import FaceDay

_SEEN = {
    "plan": ("left", "right", "front", "back"),
    "front": ("left", "right", "top"),
    "side": ("front", "back", "top"),
}
"""Faces that a drawing shows from their edge."""
_WIDE, _PITCH = 6.0, 6.0


def paint_wet_faces(painter: QPainter, view: View, look: Look) -> None:
    """Draw drops along faces that are wet at the time shown, or at some time of the day."""
    enclosure = look.readings.design.enclosure
    if enclosure is None or enclosure.id not in look.shown:
        return
    frame, margins = look.placement.box(enclosure.id), []
    for face, margin in _margins(look.readings.climate.faces):
        if face not in _SEEN[view]:
            continue
        wet = margin.min() < 0 if look.minute is None else margin[look.minute] < 0
        if wet:
            margins.append(margin)
            _paint_drops(painter, look, _edge(look, view, face, frame))
    if margins:
        _write_when(painter, look, view, look.camera.box(view, frame), np.min(margins, axis=0))


def _margins(faces: tuple[FaceDay, ...]) -> Iterator[tuple[str, np.ndarray]]:
    """Yield each face with its least margin above the dew point by the minute. [K]"""
    for name in dict.fromkeys(face.face for face in faces):
        yield name, np.min([face.margin for face in faces if face.face == name], axis=0)


def _edge(look: Look, view: View, face: str, box: Box) -> QRectF:
    """Return where a face stands in a drawing, a few px deep and inside the frame."""
    axis = {"left": 0, "right": 0, "front": 1, "back": 1, "top": 2}[face]
    at = box.lo[axis] if face in ("left", "front") else box.hi[axis]
    lo, hi = list(box.lo), list(box.hi)
    lo[axis] = hi[axis] = at
    thin = Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))
    line, whole = look.camera.box(view, thin), look.camera.box(view, box)
    middle = whole.center()
    if line.width() < line.height():
        left = line.left() if line.left() < middle.x() else line.left() - _WIDE
        return QRectF(left, line.top(), _WIDE, line.height())
    top = line.top() if line.top() < middle.y() else line.top() - _WIDE
    return QRectF(line.left(), top, line.width(), _WIDE)


def _paint_drops(painter: QPainter, look: Look, edge: QRectF) -> None:
    """Draw short strokes one after the other, as drops hang on a pane."""
    painter.setPen(QPen(look.inks.theme.colour("air"), 1.6))
    upright = edge.height() > edge.width()
    length = edge.height() if upright else edge.width()
    for n in range(int(length / _PITCH)):
        step = (n + 0.5) * _PITCH
        at = QPointF(edge.left() + 1.5 + (n % 2) * 2.5, edge.top() + step) if upright else (
            QPointF(edge.left() + step, edge.top() + 1 + (n % 2) * 2)
        )  # fmt: skip
        painter.drawLine(at, at + QPointF(0, 3))


def _write_when(
    painter: QPainter, look: Look, view: View, frame: QRectF, margin: np.ndarray
) -> None:
    """Write when the faces are wet, or by how much at the time shown, at the top of the frame."""
    for text in _words(look, margin):
        rect = tag_rect(look, QPointF(), text)
        if rect.width() > frame.width() - 4 * _WIDE:
            continue
        at = QPointF(frame.center().x(), frame.top() + _WIDE + 4 + rect.height() / 2)
        rows = look.readings.climate.rows
        state = next((row.state for row in rows if row.name == "margin"), None)
        role = state_role(state) if state is not None else "ink"
        words(painter, look, kept_inside(look, view, at, text), text, role)
        return


def _words(look: Look, margin: np.ndarray) -> tuple[str, ...]:
    """Return what is said, the longest first."""
    if look.minute is not None:
        value = show(round(float(margin[look.minute]), 1), "temperature_difference", look.system)
        return tr("walls mist, {margin}").format(margin=value), tr("mists")
    if look.readings.climate.coarse:
        return (tr("≈ walls mist"),)
    when = told_spells(spells(margin < 0))
    if when == ((0, 1440),):
        return tr("walls mist all day"), tr("mists")
    if not when:
        return (tr("walls mist for moments"), tr("mists"))
    return tr("walls mist {when}").format(when=spell_words(when)), tr("mists")
