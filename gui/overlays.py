"""What the chosen subject draws on the sheet: one item over each drawing, painted from readings.

Each subject's painting is in a module of its own; the numbers are the engines'.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from core.drawing.marks import VIEWS, View
from gui.camera import Camera
from gui.drawing import Drawing
from gui.inks import Inks
from gui.overlay_air import paint_air
from gui.overlay_climate import paint_wet_faces
from gui.overlay_cost import paint_costs
from gui.overlay_fit import paint_fit
from gui.overlay_light import number_rects, paint_map, paint_numbers, paint_strips, paint_values
from gui.overlay_look import Look
from gui.overlay_power import paint_leads
from gui.overlay_water import paint_water
from gui.overlay_weight import paint_feet, paint_loads

if TYPE_CHECKING:
    from core.placement import Placement
    from core.readings import Readings

Paint = Callable[[QPainter, View, Look], None]

OVER_ALL = 150.0
OVER_HANDLES = 210.0
PAINTS: dict[tuple[str, View], Paint] = {
    ("light", "plan"): paint_map,
    ("light", "front"): paint_strips,
    ("light", "side"): paint_strips,
    **{("air", view): paint_air for view in VIEWS},
    **{("power", view): paint_leads for view in VIEWS},
    ("weight", "plan"): paint_feet,
    ("weight", "front"): paint_loads,
    ("weight", "side"): paint_loads,
    **{("fit", view): paint_fit for view in VIEWS},
    **{("water", view): paint_water for view in VIEWS},
    **{("climate", view): paint_wet_faces for view in VIEWS},
    ("cost", "front"): paint_costs,
}
VALUES: dict[tuple[str, View], Paint] = {("light", "plan"): paint_values}
"""What lies over the lamps' outlines, under the handles."""
NUMBERS: dict[tuple[str, View], Paint] = {("light", "plan"): paint_numbers}
"""What lies over the lamps' outlines and the handles, so that it can be read."""


TAKEN: dict[tuple[str, View], Callable[[Look], list[QRectF]]] = {("light", "plan"): number_rects}
"""Where those numbers stand. [px]"""


class OverlayItem(QGraphicsItem):
    """Paints one subject over one drawing; kept as a picture until something differs."""

    def __init__(self, view: View, parent: QGraphicsItem) -> None:
        super().__init__(parent)
        self._view = view
        self._rect = QRectF()
        self._paint: Paint | None = None
        self._look: Look | None = None
        self.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)

    def show_look(self, paint: Paint | None, look: Look | None, rect: QRectF) -> None:
        """Paint something else from now on; None for nothing."""
        self.prepareGeometryChange()
        self._paint, self._look, self._rect = paint, look, rect
        self.setVisible(paint is not None and look is not None)
        self.update()

    def boundingRect(self) -> QRectF:
        return self._rect

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        if self._paint is not None and self._look is not None:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint(painter, self._view, self._look)


class Overlays:
    """The overlays of all drawings, kept in step with readings, level, subject and time."""

    def __init__(self, drawings: dict[View, Drawing]) -> None:
        self._drawings = drawings
        self._items = {view: OverlayItem(view, drawing) for view, drawing in drawings.items()}
        self._values = {view: OverlayItem(view, drawing) for view, drawing in drawings.items()}
        self._numbers = {view: OverlayItem(view, drawing) for view, drawing in drawings.items()}
        self.readings: Readings | None = None
        self.look: Look | None = None
        self._taken: list[QRectF] | None = None

    def refresh(
        self,
        placement: Placement,
        camera: Camera,
        inks: Inks,
        level: tuple[str, int] | None,
        minute: int | None,
        through: str = "",
        *,
        age: bool = False,
    ) -> None:
        """Paint everything anew from the readings kept."""
        self.look = self._taken = None
        for view, drawing in self._drawings.items():
            item, values, numbers = self._items[view], self._values[view], self._numbers[view]
            if self.readings is None or view not in camera.panes:
                for each in (item, values, numbers):
                    each.show_look(None, None, QRectF())
                continue
            shown = frozenset(drawing.shown_ids())
            look = Look(self.readings, placement, camera, inks, level, minute, shown, through, age)
            subject = inks.subject or ""
            self.look = self.look or look
            item.show_look(PAINTS.get((subject, view)), look, camera.panes[view])
            item.setZValue(self._height(view, subject, look))
            values.show_look(VALUES.get((subject, view)), look, camera.panes[view])
            values.setZValue(OVER_ALL)
            numbers.show_look(NUMBERS.get((subject, view)), look, camera.panes[view])
            numbers.setZValue(OVER_HANDLES)

    def taken(self) -> list[QRectF]:
        """Return where numbers stand that nothing else may cover. [px]"""
        if self._taken is None:
            self._taken = list(self._numbers_places())
        return list(self._taken)

    def _numbers_places(self) -> Iterator[QRectF]:
        if self.look is None:
            return
        for (subject, view), find in TAKEN.items():
            if subject == self.look.inks.subject and view in self.look.camera.panes:
                yield from find(self.look)

    def height_of(self, view: View) -> float:
        """Return the stacking height of a drawing's overlay."""
        return self._items[view].zValue()

    def height_of_numbers(self, view: View) -> float:
        """Return the stacking height of a drawing's numbers."""
        return self._numbers[view].zValue()

    def _height(self, view: View, subject: str, look: Look) -> float:
        """Return the stacking height: the light map lies under the lamps, all else over all.

        Clearances lie over the handles of what is selected, since those would hide the numbers.
        """
        if subject == "fit":
            return OVER_HANDLES
        if (subject, view) != ("light", "plan"):
            return OVER_ALL
        return self._drawings[view].height_below(look.placement, look.cut)
