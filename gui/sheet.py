"""The sheet: plan, front and side in one graphics view, kept in step with document and view.

Drawings are painted by `gui.drawing`, mouse work is done by gestures, edits by `gui.commands`;
this module wires them together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPixmapCache,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QGraphicsScene, QGraphicsView, QWidget

from core.catalogue import Catalogue
from core.drawing.dimensions import shown_box, whole_room
from core.drawing.marks import VIEWS
from core.drawing.marks import View as DrawingName
from core.drawing.seeing import Seen, is_seen, unit_of
from core.language import tr, trn
from core.model import ShelfUnit
from core.placement import Placement
from core.units import show
from gui.air_cut import part_cut
from gui.camera import Camera, Extent, fitted
from gui.commands import Commands
from gui.document import Document
from gui.drawing import Drawing
from gui.furniture import Furniture, FurnitureItem
from gui.gestures import Gesture
from gui.hand import Hand
from gui.inks import Inks
from gui.overlays import Overlays
from gui.picking import next_thing
from gui.pins import Pins
from gui.probe import Probe
from gui.sheet_keys import SheetKeys
from gui.tape import TapeItem
from gui.theme import Theme
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings

QPixmapCache.setCacheLimit(64 * 1024)


class Sheet(QGraphicsView):
    """Plan, front and side of the design.

    Attributes
    ----------
    document, view, theme
        What it shows, and how.
    commands : Commands
        The edits that keys and menus do to the selection.
    camera : Camera
        Where the drawings lie.
    placement : Placement
        Every part's resolved place in the design as drawn now.

    Signals
    -------
    laid_out()
        The free quarters or the levels' bands are elsewhere.
    edit_requested(str)
        The part's form is wanted (Enter, double click).
    pointed(object)
        (x, y, z) under the pointer in metres, None along the axis not shown; None outside.
    said(str)
        A sentence for the status line.
    dragging_changed(bool)
        A drag began or ended.
    """

    laid_out = Signal()
    edit_requested = Signal(str)
    pointed = Signal(object)
    said = Signal(str)
    dragging_changed = Signal(bool)

    def __init__(
        self,
        document: Document,
        view: View,
        theme: Theme,
        parent: QWidget | None = None,
        catalogue: Catalogue | None = None,
    ) -> None:
        super().__init__(parent)
        self.catalogue = catalogue
        self.document = document
        self.view = view
        self.theme = theme
        self.commands = Commands(document, view, self)
        self.commands.refused.connect(self.said)
        self.placement = Placement(document.design)
        self.camera = Camera()
        self.inks = Inks(theme, view.subject)
        self.furniture = Furniture(self.placement, self.camera, self.inks)
        self.drawings = {name: Drawing(name, self.camera, self.inks) for name in VIEWS}
        self.overlays = Overlays(self.drawings)
        self.hand = Hand(self)
        self._unit_drawn: str | None = None
        self._keys = SheetKeys(self)
        self.setAccessibleName(self.accessible_words())
        self._build_scene()
        self.probe = Probe(self)
        self.pins = Pins(self)
        self._connect()
        self.refit()

    def _build_scene(self) -> None:
        scene = QGraphicsScene(self)
        scene.setItemIndexMethod(QGraphicsScene.ItemIndexMethod.NoIndex)
        self.setScene(scene)
        for drawing in self.drawings.values():
            scene.addItem(drawing)
        self.over = FurnitureItem()
        scene.addItem(self.over)
        self.tape = TapeItem(self.theme, self.camera, QRectF())
        scene.addItem(self.tape)
        self.setFrameShape(QGraphicsView.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.SmartViewportUpdate)
        self.setOptimizationFlag(QGraphicsView.OptimizationFlag.DontSavePainterState)
        self.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAcceptDrops(True)
        self.setMinimumSize(300, 240)

    def _connect(self) -> None:
        self.document.changed.connect(self._follow)
        self.document.replaced.connect(self._start_afresh)
        self.view.selection_changed.connect(self._outline)
        self.view.selection_changed.connect(self._announce)
        self.view.hover_changed.connect(self._outline)
        self.view.selection_changed.connect(self._cut_air_elsewhere)
        self.view.hover_changed.connect(self._cut_air_elsewhere)
        self.view.level_changed.connect(self._cut_elsewhere)
        self.view.season_changed.connect(self._follow_season)
        self.view.subject_changed.connect(self._recolour)
        self.view.minute_changed.connect(self._overlay)
        self.view.age_changed.connect(self._overlay)
        self.view.layout_changed.connect(self.refit)
        self.theme.changed.connect(self._recolour)

    # --- what others ask -------------------------------------------------------------------

    def show_readings(self, readings: Readings | None) -> None:
        """Draw the chosen subject from these readings."""
        self.overlays.readings = readings
        self._overlay()

    def key_area(self) -> QRect:
        """Return the free quarter for the key; empty when there is none. [px]"""
        return QRect(self.camera.key)

    def rows_area(self) -> QRect:
        """Return the free quarter for the level rows; empty when there is none. [px]"""
        return QRect(self.camera.rows)

    def level_y(self, level: tuple[str, int]) -> tuple[float, float] | None:
        """Return the top and the bottom of a level's band, None when it is not shown. [px]"""
        if "front" not in self.camera.panes and "side" not in self.camera.panes:
            return None
        found = next(
            (one for one in self.placement.levels if (one.host, one.number) == level), None
        )
        return self.furniture.band(found) if found else None

    def chosen_host(self) -> str | None:
        """Return the host of the chosen level."""
        return self.view.level[0] if self.view.level else None

    def active_view(self) -> DrawingName:
        """Return the drawing that was last worked in: arrows move along its axes."""
        names = list(self.camera.panes)
        return self.hand.active if self.hand.active in names else names[0]

    @property
    def gesture(self) -> Gesture | None:
        """What the mouse is doing, from press to release."""
        return self.hand.gesture

    @property
    def dragging(self) -> bool:
        """Whether parts are being moved or sized with the mouse."""
        return self.hand.dragging

    # --- following the document and the view -----------------------------------------------

    def _start_afresh(self) -> None:
        self.hand.cancel()
        self.placement = Placement(self.document.design)
        self.view.select(())
        self.view.choose_level(default_level(self.placement))
        self.refit()

    def refit(self) -> None:
        """Show everything that is needed, as large as it goes."""
        self.placement = Placement(self.document.design)
        size = self.viewport().size()
        extent = extent_of(self.placement)
        layout = self.view.layout
        self.camera = fitted((size.width(), size.height()), extent, layout)
        gesture = self.hand.gesture
        if gesture is not None and gesture.view not in self.camera.panes:
            self.hand.cancel()  # its drawing is folded away
        self._redraw()

    def _redraw(self) -> None:
        """Paint everything anew."""
        self.inks = Inks(self.theme, self.view.subject)
        self.furniture = Furniture(self.placement, self.camera, self.inks, self.view.level)
        rect = QRectF(self.viewport().rect())
        self.scene().setSceneRect(rect)
        self.over.show_furniture(self.furniture, rect)
        self.scene().removeItem(self.tape)
        self.tape = TapeItem(self.theme, self.camera, rect)
        self.scene().addItem(self.tape)
        for name, drawing in self.drawings.items():
            drawing.redraw(self.placement, self._seen(name), self.camera, self.inks)
        self._outline()
        self._overlay()
        self.viewport().update()
        self.laid_out.emit()

    def _overlay(self) -> None:
        """Draw what the chosen subject has to show."""
        through = self._part_cut()
        if through != self.furniture.through:
            self.furniture.through = through
            self.over.follow()
        self.overlays.refresh(
            self.placement,
            self.camera,
            self.inks,
            self.view.level,
            self.view.minute,
            through,
            age=self.view.age,
        )
        self.probe.refresh()

    def _part_cut(self) -> str:
        """Return the part that Air's elevations are cut through; empty in other subjects."""
        if self.view.subject != "air":
            return ""
        looked_at = (*reversed(self.view.selection), self.view.hover)
        return part_cut(self.placement, looked_at, self._unit_looked_at())

    def _cut_air_elsewhere(self) -> None:
        if self._part_cut() != self.furniture.through:
            self._overlay()

    def _seen(self, name: DrawingName) -> dict[str, Seen]:
        """Return what a drawing shows, and how."""
        if name not in self.camera.panes:
            return {}
        unit, design = self._unit_looked_at(), self.placement.design
        here = design.at(design.season(self.view.season).id, "day").by_id
        found: dict[str, Seen] = {}
        for thing_id in design.by_id:
            how = is_seen(self.placement, thing_id, name, self.view.level, unit)
            if how is not None:
                found[thing_id] = how if thing_id in here else "dashed"
        return found

    def _unit_looked_at(self) -> str | None:
        """Return the shelf unit that elevations look at: the selected one, else the level's."""
        for part_id in reversed(self.view.selection):
            if part_id in self.placement.design.by_id:
                unit = unit_of(self.placement, part_id)
                if unit is not None:
                    return unit
        host = self.chosen_host()
        thing = self.placement.design.by_id.get(host or "")
        return host if isinstance(thing, ShelfUnit) else None

    def _follow(self, changed: frozenset[str]) -> None:
        """Bring the drawings in step with the design."""
        self.setAccessibleName(self.accessible_words())
        self.placement = Placement(self.document.design)
        self.furniture.placement = self.placement
        self.over.follow()
        if not changed:
            self._keep_view_valid()
            self._redraw()
            return
        for name, drawing in self.drawings.items():
            drawing.follow(self.placement, self._seen(name))
            if not self.document.proposing:
                drawing.put_in_order(self.placement)
        self._outline()
        if not self.document.proposing:
            self._keep_view_valid()
            self._overlay()
            self.viewport().update()
            self.laid_out.emit()

    def _keep_view_valid(self) -> None:
        """Drop what is selected or chosen and no longer there."""
        design = self.document.design
        self.view.select(i for i in self.view.selection if i in design.by_id)
        levels = {(one.host, one.number) for one in self.placement.levels}
        if self.view.level not in levels:
            self.view.choose_level(default_level(self.placement))

    def _outline(self) -> None:
        if self.view.selection:
            self._follow_unit()
        for drawing in self.drawings.values():
            drawing.highlight(self.view.selection, self.view.hover, self.placement)

    def _follow_unit(self) -> None:
        """Draw the selected part's shelf unit full, those in front of it faint."""
        unit = self._unit_looked_at()
        if unit != self._unit_drawn:
            self._unit_drawn = unit
            for name in ("front", "side"):
                drawing = self.drawings[name]
                drawing.follow(self.placement, self._seen(name))
                drawing.put_in_order(self.placement)

    def _cut_elsewhere(self) -> None:
        self.furniture.level = self.view.level
        self.over.follow()
        for name, drawing in self.drawings.items():
            drawing.follow(self.placement, self._seen(name))
            drawing.put_in_order(self.placement)
        self._outline()
        self._overlay()
        self.viewport().update()
        self.laid_out.emit()

    def _follow_season(self) -> None:
        """Draw dashed what is away in the season shown."""
        for name, drawing in self.drawings.items():
            drawing.follow(self.placement, self._seen(name))

    def _recolour(self) -> None:
        self._redraw()

    def _announce(self) -> None:
        """Say the selected part's name, size and place."""
        if len(self.view.selection) == 1:
            self.setAccessibleDescription(self.words_of(self.view.selection[0]))
            if QAccessible.isActive():
                told = QAccessible.Event.DescriptionChanged
                QAccessible.updateAccessibility(QAccessibleEvent(self, told))

    def words_of(self, thing_id: str) -> str:
        """Return a thing's name, size and place in one line."""
        thing = self.placement.design.by_id.get(thing_id)
        if thing is None:
            return ""
        box, system = self.placement.box(thing_id), self.placement.design.units
        sizes = " × ".join(show(size, "length", system) for size in box.size)
        return tr("{name}, {sizes}").format(name=thing.name, sizes=sizes)

    def accessible_words(self) -> str:
        """Return the sheet's accessible name: "Sheet, plan, front and side; 23 parts"."""
        count = len(self.document.design.parts)
        parts = trn("{count} part", "{count} parts", count).format(count=count)
        return tr("Sheet, plan, front and side; {parts}").format(parts=parts)

    # --- zoom and pan ----------------------------------------------------------------------

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Draw everything larger or smaller about a point."""
        at = at or QPointF(self.viewport().rect().center())
        view = self.camera.view_at(at) or next(iter(self.camera.panes))
        if view is not None:
            self.camera.zoom(factor, view, at)
        self._redraw()

    def zoom_in(self) -> None:
        """Nearer."""
        self.zoom(1.25)

    def zoom_out(self) -> None:
        """Farther."""
        self.zoom(0.8)

    def pan(self, view: DrawingName, dx: float, dy: float) -> None:
        """Shift a drawing, and the others along the axes they share. [px]"""
        self.camera.pan(view, dx, dy)
        for drawing in self.drawings.values():
            drawing.slide(self.camera)
        self.over.follow()
        self._outline()
        self._overlay()
        self.viewport().update()
        self.laid_out.emit()

    # --- gestures --------------------------------------------------------------------------

    def begin_drag(self) -> None:
        """A drag has gone far enough to be one."""
        self.dragging_changed.emit(True)

    def end_drag(self) -> None:
        """The drag is over, one way or the other."""
        self.dragging_changed.emit(False)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.hand.press(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.hand.move(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.hand.release(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.hand.double_click(event)

    def leaveEvent(self, event: QEvent) -> None:
        self.hand.leave()

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.hand.wheel(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        self.hand.drag_enter(event)

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        self.hand.drag_move(event)

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self.hand.drag_leave()

    def dropEvent(self, event: QDropEvent) -> None:
        self.hand.drop(event)

    # --- keyboard --------------------------------------------------------------------------

    def event(self, event: QEvent) -> bool:
        # Tab steps through the parts, and while dragging marks the other distance.
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            tabs = (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)
            if event.key() in tabs and self._keys.tab(event):
                return True
        if event.type() == QEvent.Type.ShortcutOverride and self.dragging:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.hand.key(event) and not self._keys.press(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.hand.hold_to_pan(False)
        super().keyReleaseEvent(event)

    def step_selection(self, step: int) -> bool:
        """Select the next part; return False at the end of the row."""
        shown = {name: drawing.shown_ids() for name, drawing in self.drawings.items()}
        here = self.view.selection[-1] if self.view.selection else ""
        found = next_thing(self.placement, shown, here, step)
        if found is not None:
            self.view.select((found,))
        return found is not None

    # --- painting --------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.refit()

    def drawBackground(self, painter: QPainter, rect: QRectF | QRect) -> None:
        painter.fillRect(rect, self.theme.colour("sheet"))
        self.furniture.paint_ground(painter)


def extent_of(placement: Placement) -> Extent:
    """Return what there is to see of a design."""
    enclosure = placement.design.enclosure
    shown = shown_box(placement)
    inside = placement.box(enclosure.id) if enclosure is not None else shown
    return Extent(whole_room(placement), shown, inside)


def default_level(placement: Placement) -> tuple[str, int] | None:
    """Return the level shown first: the middle one of the first shelf unit."""
    units = [one for one in placement.levels if _is_unit(placement, one.host)]
    first = [one for one in units if one.host == units[0].host]
    levels = first or list(placement.levels)
    if not levels:
        return None
    middle = levels[len(levels) // 2]
    return middle.host, middle.number


def _is_unit(placement: Placement, host: str) -> bool:
    return isinstance(placement.design.by_id[host], ShelfUnit)
