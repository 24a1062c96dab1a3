"""What lies on the sheet besides the parts: bands, titles, break lines, dimensions, scale bar.

Parts are painted by `gui.items`; what a subject adds, by `gui.overlays`.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from core.drawing.dimensions import break_line, enclosure_dimensions, whole_room
from core.drawing.marks import AXES, VIEWS, Mark, View
from core.drawing.seeing import cut_height
from core.geometry import Box
from core.language import tr
from core.model import Enclosure, ShelfUnit
from core.placement import Level, Placement
from core.study import Study
from core.units import show
from gui.air_cut import cut_words
from gui.camera import RIGHT, Camera
from gui.inks import Inks
from gui.items import picture

_TITLE_ABOVE = 11.0
_BAR = 6.0
_TICK = 5.0
"""How far a dimension's tick reaches beyond its drawing. [px]"""


@dataclass
class Furniture:
    """Paints the sheet's ground and what lies over the parts.

    Attributes
    ----------
    placement : Placement
    camera : Camera
    inks : Inks
    level : (str, int) or None
        The chosen level.
    through : str
        Id of the part that the subject's elevations are cut through; empty for none.
    """

    placement: Placement
    camera: Camera
    inks: Inks
    level: tuple[str, int] | None = None
    through: str = ""

    def chosen(self) -> Level | None:
        """Return the chosen level, resolved."""
        return next(
            (one for one in self.placement.levels if (one.host, one.number) == self.level), None
        )

    def signature(self) -> tuple[object, ...]:
        """Return all that `paint_over` depends on, comparable with ``==``."""
        placement = self.placement
        measured = [
            placement.box(part.id)
            for part in placement.design.parts
            if isinstance(part, Enclosure | ShelfUnit)
        ]
        camera, level = self.camera, self.chosen()
        places = (camera.scale, tuple(camera.origins.values()))
        empty = not placement.design.parts
        titles = tuple(self.title(view) for view in VIEWS)
        return (*measured, places, level, titles, placement.design.units, empty)

    def paint_ground(self, painter: QPainter) -> None:
        """Draw the band of the chosen level across the elevations."""
        level = self.chosen()
        if level is None:
            return
        for view in ("front", "side"):
            pane = self.camera.panes.get(view)
            if pane is not None:
                top, bottom = self.band(level)
                band = QRectF(pane.left(), top, pane.width(), bottom - top) & pane
                painter.fillRect(band, self.inks.theme.colour("pencil_bg"))

    def band(self, level: Level) -> tuple[float, float]:
        """Return the top and the bottom of a level in the elevations. [px]"""
        view: View = "front" if "front" in self.camera.origins else "side"
        if view not in self.camera.origins:
            return 0.0, 0.0
        top = self.camera.to_px(view, 0.0, level.above).y()
        return top, self.camera.to_px(view, 0.0, level.z).y()

    def paint_over(self, painter: QPainter) -> None:
        """Draw break lines, dimensions at rest, titles and the scale bar."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for view in self.camera.panes:
            self._paint_marks(painter, view, self._breaks(view))
            self._paint_dimensions(painter, view)
            self._paint_title(painter, view)
        self._paint_scale_bar(painter)
        if not self.placement.design.parts:
            self._paint_first_step(painter)

    def _paint_first_step(self, painter: QPainter) -> None:
        """Say in an empty room how to begin."""
        pane = next(iter(self.camera.panes.values()))
        painter.setFont(self.inks.theme.font("text"))
        painter.setPen(self.inks.theme.colour("ink2"))
        words = tr("Drag an enclosure from the shelf on the left.")
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(pane.adjusted(12, 12, -12, -12), flags, words)

    def _paint_marks(self, painter: QPainter, view: View, marks: list[Mark]) -> None:
        painter.save()
        painter.translate(*self.camera.origins[view])
        picture(marks, (0.0, 0.0), self.camera.scale, self.inks).paint(painter)
        painter.restore()

    def _breaks(self, view: View) -> list[Mark]:
        """Return break lines at the edges of the pane beyond which the room goes on."""
        room = whole_room(self.placement).seen(*AXES[view])
        x0, y0, x1, y1 = self.camera.seen(view)
        zigzag = 5.0 / self.camera.scale
        edges = (
            (x0 > room.x0 + 1e-3, (x0, y0), (x0, y1)),
            (x1 < room.x1 - 1e-3, (x1, y0), (x1, y1)),
            (y0 > room.y0 + 1e-3, (x0, y0), (x1, y0)),
            (y1 < room.y1 - 1e-3, (x0, y1), (x1, y1)),
        )
        return [break_line(a, b, zigzag) for cut, a, b in edges if cut]

    def _paint_dimensions(self, painter: QPainter, view: View) -> None:
        """Draw the enclosure's sizes, unless the drawing is moved so that they would be cut."""
        area = self.camera.seen(view)
        axes = AXES[view]
        low, high = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
        low[axes[0]], low[axes[1]], high[axes[0]], high[axes[1]] = area
        shown = Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
        marks = enclosure_dimensions(self.placement, view, self.placement.design.units, shown)
        pane = self.camera.panes[view]
        painter.save()
        # Above and below the plan stand titles; sizes along the bottom lie under the elevations.
        painter.setClipRect(pane.adjusted(-20, -_TICK, 26, _TICK if view == "plan" else 36))
        self._paint_marks(painter, view, list(marks))
        painter.restore()

    def _paint_title(self, painter: QPainter, view: View) -> None:
        title, more = self.title(view)
        pane = self.camera.panes[view]
        theme = self.inks.theme
        bold, plain = theme.font("text", bold=True), theme.font("second")
        at = QPointF(pane.left(), pane.top() - _TITLE_ABOVE)
        painter.setFont(bold)
        painter.setPen(theme.colour("ink"))
        painter.drawText(at, title)
        at.setX(at.x() + painter.fontMetrics().horizontalAdvance(title) + 8)
        painter.setFont(plain)
        painter.setPen(theme.colour("ink2"))
        room = int(pane.right() + RIGHT - at.x())
        fitting = painter.fontMetrics().elidedText(more, Qt.TextElideMode.ElideRight, room)
        painter.drawText(at, fitting)

    def title(self, view: View) -> tuple[str, str]:
        """Return a drawing's title and what follows it in second text."""
        cut = cut_words(self.placement, self.through)
        if view == "front":
            return tr("Front"), cut
        if view == "side":
            alone = "front" not in self.camera.panes
            return tr("Side"), cut if alone and cut else tr("from the right")
        level = self.chosen()
        if level is None:
            return tr("Plan"), ""
        design = self.placement.design
        study = Study(design, design.season(None))
        study.__dict__["placement"] = self.placement
        name = study.level_words((level.host, level.number)).render(design.units)
        height = cut_height(self.placement, (level.host, level.number))
        words = tr("{height} up").format(height=show(height, "length", design.units))
        return tr("Plan at {level}").format(level=name), words

    def _paint_scale_bar(self, painter: QPainter) -> None:
        rows = self.camera.rows if not self.camera.rows.isEmpty() else self.camera.key
        us = self.placement.design.units == "us"
        step, count = (0.3048, 3) if us else (0.25, 4)
        length = step * count * self.camera.scale
        words = tr("3 ft") if us else tr("1 m")
        if length > rows.width() - 60:
            step, length = step / 4, length / 4
            words = show(step * count, "length", "us" if us else "metric")
        left, top = float(rows.left()), float(rows.bottom() + 18)
        theme = self.inks.theme
        painter.setPen(QPen(theme.colour("ink"), 1.0))
        for k in range(count):
            piece = QRectF(left + k * length / count, top, length / count, _BAR)
            painter.setBrush(theme.colour("ink" if k % 2 == 0 else "raised"))
            painter.drawRect(piece)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(theme.font("drawing"))
        painter.setPen(theme.colour("ink2"))
        painter.drawText(QPointF(left + length + 8, top + _BAR), words)


class FurnitureItem(QGraphicsItem):
    """Paints the furniture over the parts, kept as a picture until it differs."""

    def __init__(self) -> None:
        super().__init__()
        self.setZValue(120)
        self.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)
        self._furniture: Furniture | None = None
        self._rect = QRectF()
        self._painted: object = None

    def show_furniture(self, furniture: Furniture, rect: QRectF) -> None:
        """Paint other furniture from now on."""
        self.prepareGeometryChange()
        self._furniture, self._rect = furniture, rect
        self.update()

    def follow(self) -> None:
        """Paint anew if what is measured or titled is another than before."""
        if self._furniture is not None and self._furniture.signature() != self._painted:
            self.update()

    def boundingRect(self) -> QRectF:
        return self._rect

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        if self._furniture is not None:
            self._painted = self._furniture.signature()
            self._furniture.paint_over(painter)
