"""Where the three drawings lie on the sheet, and how metres become pixels in each of them.

One scale serves all three, and each room axis is shared: x by plan and front, z by front and side.
Painting is done elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRect, QRectF

from core.drawing.marks import AXES, View
from core.geometry import Box, Rectangle

Range = tuple[float, float]

LEFT, TITLE, BELOW, RIGHT = 34.0, 32.0, 50.0, 20.0
BETWEEN_ROWS, BETWEEN_COLUMNS = 40.0, 27.0
ROWS_WIDTH, ROWS_GAP = 216.0, 14.0
KEY_WIDTH = 300.0
KEY_LEAST = 130.0
"""The plan is at least this high, for the key beside it. [px]"""
FOLDS_UNDER = 640.0
"""Sheets narrower than this leave the side elevation out. [px]"""
BESIDE = 0.25
"""How much the side elevation shows beside the enclosure. [m]"""
_NEARLY = 0.92
"""The whole room is shown when that costs no more than this share of the scale."""


@dataclass(frozen=True)
class Extent:
    """What there is to see, how much of it a cut drawing shows, and what the side looks at. [m]"""

    room: Box
    parts: Box
    inside: Box

    def range(self, axis: int, whole: bool) -> Range:
        """Return the stretch of one axis to show: the room's, or what is needed of it. [m]"""
        box = self.room if whole else self.parts
        return box.lo[axis], box.hi[axis]

    def side_range(self, whole: bool) -> Range:
        """Return the stretch of y that the side elevation shows. [m]"""
        if whole:
            return self.range(1, True)
        low, high = self.inside.lo[1] - BESIDE, self.inside.hi[1] + BESIDE
        return max(low, self.room.lo[1]), min(high, self.room.hi[1])


@dataclass(frozen=True)
class Ranges:
    """The stretch of each axis that is shown, the side's own of y included. [m]"""

    x: Range
    y: Range
    z: Range
    side: Range

    def of(self, view: View) -> tuple[Range, Range]:
        """Return what a drawing shows across and up."""
        return {"plan": (self.x, self.y), "front": (self.x, self.z), "side": (self.side, self.z)}[
            view
        ]


def ranges_of(extent: Extent, whole: bool) -> Ranges:
    """Return the whole room's ranges, or those of a cut sheet."""
    x, y, z = (extent.range(axis, whole) for axis in range(3))
    return Ranges(x, y, z, extent.side_range(whole))


def _length(stretch: Range) -> float:
    return stretch[1] - stretch[0]


@dataclass
class Camera:
    """The scale and the places of the drawings.

    Attributes
    ----------
    scale : float
        Pixels a metre.
    panes : dict of str to QRectF
        The part of the viewport that each shown drawing has.
    origins : dict of str to (float, float)
        Where the axes' zero lies in each drawing. [px]
    key, rows : QRect
        The free quarters: for the key, and for the level rows beside the elevations.
    fit_scale : float
        The scale at which all fits.
    """

    scale: float = 100.0
    panes: dict[View, QRectF] = field(default_factory=dict)
    origins: dict[View, tuple[float, float]] = field(default_factory=dict)
    key: QRect = field(default_factory=QRect)
    rows: QRect = field(default_factory=QRect)
    fit_scale: float = 100.0

    def to_px(self, view: View, across: float, up: float) -> QPointF:
        """Return where a point of a drawing lies in the viewport."""
        x, y = self.origins[view]
        return QPointF(x + across * self.scale, y - up * self.scale)

    def to_metres(self, view: View, at: QPointF) -> tuple[float, float]:
        """Return the point of a drawing under a point of the viewport. [m]"""
        x, y = self.origins[view]
        return (at.x() - x) / self.scale, (y - at.y()) / self.scale

    def rect(self, view: View, area: Rectangle) -> QRectF:
        """Return a rectangle of a drawing in the viewport."""
        return QRectF(self.to_px(view, area.x0, area.y1), self.to_px(view, area.x1, area.y0))

    def box(self, view: View, box: Box) -> QRectF:
        """Return a box's outline in a drawing."""
        return self.rect(view, box.seen(*AXES[view]))

    def view_at(self, at: QPointF) -> View | None:
        """Return the drawing under a point of the viewport."""
        return next((view for view, pane in self.panes.items() if pane.contains(at)), None)

    def seen(self, view: View) -> Rectangle:
        """Return the stretch of both axes that a drawing shows. [m]"""
        pane = self.panes[view]
        left, bottom = self.to_metres(view, pane.bottomLeft())
        right, top = self.to_metres(view, pane.topRight())
        return Rectangle(left, bottom, right, top)

    def zoom(self, factor: float, view: View, at: QPointF) -> None:
        """Change the scale of all drawings about the point under the pointer."""
        new = min(max(self.scale * factor, 0.4 * self.fit_scale), 30.0 * self.fit_scale)
        fixed = self._fixed(view, at)
        for name, (x, y) in self.origins.items():
            across, up = AXES[name]
            shift = self.scale - new
            self.origins[name] = (x + shift * fixed[across], y - shift * fixed[up])
        self.scale = new

    def _fixed(self, view: View, at: QPointF) -> dict[int, float]:
        """Return what stays where it is on each axis: the pointer's place, else the middle. [m]"""
        fixed = dict.fromkeys(range(3), 0.0)
        for name in self.panes:
            across, up = AXES[name]
            area = self.seen(name)
            fixed[across], fixed[up] = area.centre
        across, up = AXES[view]
        fixed[across], fixed[up] = self.to_metres(view, at)
        return fixed

    def pan(self, view: View, dx: float, dy: float) -> None:
        """Shift the drawing under the pointer, and the others along the axes they share. [px]"""
        across, up = AXES[view]
        for name, (x, y) in self.origins.items():
            first, second = AXES[name]
            move = {across: dx, up: -dy}
            self.origins[name] = (x + move.get(first, 0.0), y - move.get(second, 0.0))


def fitted(size: tuple[float, float], extent: Extent, layout: str) -> Camera:
    """Return the camera that shows everything needed in a viewport of ``size``. [px]"""
    if layout == "sheet":
        return _sheet(size, extent)
    return _alone(size, extent, layout)  # type: ignore[arg-type]


def _sheet(size: tuple[float, float], extent: Extent) -> Camera:
    width, height = size
    folded = width < FOLDS_UNDER
    across = width - LEFT - RIGHT - ROWS_WIDTH - BETWEEN_COLUMNS - (0 if folded else ROWS_GAP)
    down = height - TITLE - BETWEEN_ROWS - BELOW
    ranges, scale = _best(extent, across, down, folded)
    x_width, z_height = _length(ranges.x) * scale, _length(ranges.z) * scale
    # A short plan is made no lower than the key beside it.
    plan = QRectF(LEFT, TITLE, x_width, max(KEY_LEAST, _length(ranges.y) * scale))
    front = QRectF(LEFT, plan.bottom() + BETWEEN_ROWS, x_width, z_height)
    panes: dict[View, QRectF] = {"plan": plan, "front": front}
    right = front.right()
    if not folded:
        panes["side"] = QRectF(
            right + BETWEEN_COLUMNS, front.top(), _length(ranges.side) * scale, z_height
        )
        right = panes["side"].right()
    # Without the side, the height's dimension stands between front and rows.
    gap = BETWEEN_COLUMNS if folded else ROWS_GAP
    rows_left = min(right + gap, width - ROWS_WIDTH - RIGHT)
    rows = QRectF(
        rows_left, plan.bottom() + 8, width - rows_left - RIGHT, height - plan.bottom() - 48
    )
    key_left = plan.right() + BETWEEN_COLUMNS
    key = QRectF(key_left, 8, width - key_left - RIGHT, plan.bottom() - 8)
    return _camera(scale, panes, ranges, key, rows)


def _best(extent: Extent, across: float, down: float, folded: bool) -> tuple[Ranges, float]:
    """Return what to show and at what scale: the whole room where that costs little."""
    whole, cut = ranges_of(extent, True), ranges_of(extent, False)
    whole_scale, cut_scale = (_scale(ranges, across, down, folded) for ranges in (whole, cut))
    if whole_scale >= _NEARLY * cut_scale:
        return whole, whole_scale
    return _filled(cut, whole, (across / cut_scale, down / cut_scale), folded), cut_scale


def _scale(ranges: Ranges, across: float, down: float, folded: bool) -> float:
    """Return the largest scale at which all fits, the plan no lower than the key beside it."""
    wide = _length(ranges.x) + (0.0 if folded else _length(ranges.side))
    y, z = _length(ranges.y), _length(ranges.z)
    scale = min(across / wide, down / (y + z))
    if y * scale < KEY_LEAST:
        scale = min(across / wide, (down - KEY_LEAST) / z)
    return max(10.0, scale)


def _filled(cut: Ranges, whole: Ranges, free: tuple[float, float], folded: bool) -> Ranges:
    """Return the ranges with the spare room given to x, y and z, as far as the room goes. [m]"""
    wide = _length(cut.x) + (0.0 if folded else _length(cut.side))
    x = _grown(cut.x, free[0] - wide, whole.x)
    spare = free[1] - _length(cut.y) - _length(cut.z)
    y = _grown(cut.y, spare, whole.y)
    z = _grown(cut.z, spare - (_length(y) - _length(cut.y)), whole.z)
    return Ranges(x, y, z, cut.side)


def _grown(stretch: Range, by: float, limit: Range) -> Range:
    """Return a stretch made longer at its far end, then at its near end, within a limit. [m]"""
    low, high = stretch
    more = min(max(0.0, by), max(0.0, limit[1] - high))
    less = min(max(0.0, by - more), max(0.0, low - limit[0]))
    return low - less, high + more


def _alone(size: tuple[float, float], extent: Extent, view: View) -> Camera:
    width, height = size
    beside = KEY_WIDTH if view == "plan" else ROWS_WIDTH
    free = (width - LEFT - RIGHT - beside - BETWEEN_COLUMNS, height - TITLE - BELOW)
    whole, cut = ranges_of(extent, True), ranges_of(extent, False)
    scales = [_scale_alone(ranges.of(view), free) for ranges in (whole, cut)]
    as_whole = scales[0] >= _NEARLY * scales[1]
    ranges, scale = (whole, scales[0]) if as_whole else (cut, scales[1])
    across, up = (_length(stretch) for stretch in ranges.of(view))
    pane = QRectF(LEFT, TITLE, across * scale, up * scale)
    right = QRectF(width - beside - RIGHT, 8, beside, height - 48)
    key, rows = (right, QRectF()) if view == "plan" else (QRectF(), right)
    return _camera(scale, {view: pane}, ranges, key, rows)


def _scale_alone(ranges: tuple[Range, Range], free: tuple[float, float]) -> float:
    across, up = (_length(stretch) for stretch in ranges)
    return max(10.0, min(free[0] / across, free[1] / up))


def _camera(
    scale: float, panes: dict[View, QRectF], ranges: Ranges, key: QRectF, rows: QRectF
) -> Camera:
    origins: dict[View, tuple[float, float]] = {}
    for view, pane in panes.items():
        across, up = ranges.of(view)
        origins[view] = (pane.left() - across[0] * scale, pane.bottom() + up[0] * scale)
    return Camera(scale, panes, origins, key.toRect(), rows.toRect(), scale)
