"""Turning a fan, or tilting a lamp, by the handle on its stem: one object, one undo step.

The handle points where the part blows or shines in that drawing; painting it is `gui.items`' work.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QMouseEvent

from core.drawing.marks import AXES, View
from core.errors import DesignError
from core.language import tr
from core.model import AnyPart, Fan, Lamp, replace
from core.placement import Placement
from core.units import show
from gui.camera import Camera
from gui.gestures import Proposal
from gui.tape import TapeState

if TYPE_CHECKING:
    from gui.sheet import Sheet

STEM = 16.0
_HIT = 7.0
_STEP = 5.0
"""Angles go by whole steps unless Shift is held. [degrees]"""
_MOST = 90.0
_BACK: dict[int, tuple[float, float]] = {0: (0, 1), 1: (-1, 0), 2: (0, -1), 3: (1, 0)}
"""Where the back of a lamp lies, x and y, after its quarter turns."""

Stem = tuple[QPointF, QPointF]


def pointing(placement: Placement, part_id: str, view: View) -> tuple[float, float] | None:
    """Return where a part points in a drawing, across and up, or None where that is not turned."""
    part = placement.design.by_id.get(part_id)
    if isinstance(part, Fan):
        up, heading = math.radians(part.elevation), math.radians(part.heading)
        way = (math.cos(up) * math.cos(heading), math.cos(up) * math.sin(heading), math.sin(up))
    elif isinstance(part, Lamp) and view == _section_view(placement, part):
        back = _BACK[placement.frame(part.id).turn]
        tilt = math.radians(part.tilt)
        way = (math.sin(tilt) * back[0], math.sin(tilt) * back[1], -math.cos(tilt))
    else:
        return None
    across, up_axis = AXES[view]
    length = math.hypot(way[across], way[up_axis])
    return None if length < 0.1 else (way[across] / length, way[up_axis] / length)


def _section_view(placement: Placement, lamp: Lamp) -> View:
    """Return the elevation that shows a lamp's section, and so its tilt."""
    return "side" if placement.frame(lamp.id).turn % 2 == 0 else "front"


def stem_of(placement: Placement, camera: Camera, view: View, part_id: str) -> Stem | None:
    """Return the foot and the tip of a part's handle in a drawing. [px]"""
    way = pointing(placement, part_id, view)
    if way is None or view not in camera.panes:
        return None
    rect = camera.box(view, placement.box(part_id))
    centre, flat = rect.center(), QPointF(way[0], -way[1])
    reach = min(
        rect.width() / 2 / max(abs(flat.x()), 1e-9), rect.height() / 2 / max(abs(flat.y()), 1e-9)
    )
    foot = centre + flat * reach
    return foot, foot + flat * STEM


def stem_hit(stem: Stem | None, at: QPointF) -> bool:
    """Tell whether a point is on the handle."""
    return stem is not None and math.hypot(*(at - stem[1]).toTuple()) <= _HIT


class Aim(Proposal):
    """Turns a fan or tilts a lamp towards the pointer."""

    def __init__(self, sheet: Sheet, view: View, start: QPointF, part_id: str) -> None:
        super().__init__(sheet, view, start)
        self._id = part_id

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        if not self._goes_on(at):
            return
        document = self.sheet.document
        part = document.committed.part(self._id)
        free = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        turned, words = self._aimed(part, at, free)
        try:
            document.propose({self._id: turned})
        except DesignError as error:
            self.sheet.said.emit(str(error))
            return
        box = self.sheet.placement.box(self._id)
        self.sheet.tape.show_state(TapeState(box, box, label=words))

    def _aimed(self, part: AnyPart, at: QPointF, free: bool) -> tuple[AnyPart, str]:
        """Return the part pointing at the pointer, and its angle in words."""
        rect = self.sheet.camera.box(self.view, self.sheet.placement.box(self._id))
        across, up = at.x() - rect.center().x(), rect.center().y() - at.y()
        step = 0.0 if free else _STEP
        if isinstance(part, Lamp):
            tilt = _rounded(self._tilt(part, across, up), step)
            return replace(part, tilt=tilt), show(tilt, "angle")
        if self.view == "plan":
            heading = _rounded(math.degrees(math.atan2(up, across)), step)
            return replace(part, heading=heading), show(heading, "angle")
        elevation = _rounded(math.degrees(math.atan2(up, abs(across))), step)
        return replace(part, elevation=elevation), show(elevation, "angle")

    def _tilt(self, lamp: Lamp, across: float, up: float) -> float:
        """Return the tilt that points a lamp at the pointer, at most level. [degrees]"""
        placement = self.sheet.placement
        back = _BACK[placement.frame(lamp.id).turn][1 if self.view == "side" else 0]
        tilt = math.degrees(math.atan2(across * back, max(-up, 0.0)))
        return max(-_MOST, min(_MOST, tilt))

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        self._commit_as(tr("Turn {name}"), self._id)


def _rounded(angle: float, step: float) -> float:
    return round(angle / step) * step if step else angle
