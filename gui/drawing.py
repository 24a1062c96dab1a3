"""One of the three drawings: a clipped group of items kept in step with the design.

Where it lies is the camera's, what a part looks like `core.drawing`'s, what is done with the mouse
`gui.gestures`' affair.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from core.drawing.marks import AXES, View
from core.drawing.seeing import Seen, as_seen, depth_order
from core.drawing.symbols import fixture_marks, part_marks, plug_marks, room_marks
from core.geometry import Box
from core.model import AnyFixture, AnyPart, FeedLine, Part
from core.placement import Placement
from gui.aiming import stem_of
from gui.camera import Camera
from gui.inks import Inks
from gui.items import Highlight, HighlightsItem, MarksItem, Picture, picture

LEADS = 2.5
"""Leads run over outlets and behind everything else; see `core.drawing.seeing.depth_order`."""


@dataclass(frozen=True)
class Look:
    """What an item was painted from."""

    thing: AnyPart | AnyFixture
    box: Box
    turn: int
    how: Seen


class Drawing(QGraphicsItem):
    """The items of one view.

    Attributes
    ----------
    view : str
        "plan", "front" or "side".
    """

    def __init__(self, view: View, camera: Camera, inks: Inks) -> None:
        super().__init__()
        self.view = view
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemClipsChildrenToShape)
        self._camera = camera
        self._inks = inks
        self._items: dict[str, MarksItem] = {}
        self._looks: dict[str, Look] = {}
        self._leads: dict[str, MarksItem] = {}
        self._room = MarksItem(self)
        self._room.setZValue(-10)
        self.highlights = HighlightsItem(inks, self)

    def boundingRect(self) -> QRectF:
        return self._camera.panes.get(self.view, QRectF())

    def shape(self) -> QPainterPath:
        path = QPainterPath()
        path.addRect(self.boundingRect())
        return path

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Nothing: the items paint themselves."""

    def redraw(
        self, placement: Placement, seen: Mapping[str, Seen], camera: Camera, inks: Inks
    ) -> None:
        """Paint everything anew: another scale, palette, subject or design."""
        self.prepareGeometryChange()
        self._camera, self._inks = camera, inks
        self.highlights.inks = inks
        self.setVisible(self.view in camera.panes)
        self._forget(())
        if not self.isVisible():
            return
        marks = room_marks(placement, self.view)
        self._room.show_picture(picture(marks, (0.0, 0.0), camera.scale, inks))
        self._room.setPos(*camera.origins[self.view])
        self.follow(placement, seen)
        self.put_in_order(placement)

    def put_in_order(self, placement: Placement) -> None:
        """Stack the items as they lie before the eye."""
        ranks = {key: depth_order(placement, key, self.view) for key in self._items}
        for step, key in enumerate(sorted(ranks, key=lambda key: ranks[key])):
            behind_leads = ranks[key][0] < LEADS
            z = ranks[key][0] + step / 1e4 if behind_leads else LEADS + 1 + step
            self._items[key].setZValue(z)

    def slide(self, camera: Camera) -> None:
        """Move all items to where the camera puts them now, the scale unchanged."""
        self._camera = camera
        if not self.isVisible():
            return
        for item in (self._room, *self._leads.values()):
            item.setPos(*camera.origins[self.view])
        for key, item in self._items.items():
            item.setPos(self._at(self._looks[key].box))

    def follow(self, placement: Placement, seen: Mapping[str, Seen]) -> None:
        """Bring the items in step with the design: repaint what differs, move what moved."""
        if not self.isVisible():
            return
        moved = {key for key, how in seen.items() if self._follow_one(placement, key, how)}
        self._forget(seen)
        if self.view != "plan":
            self._follow_leads(placement, seen, moved)

    def _forget(self, seen: Collection[str]) -> None:
        for thing_id in [key for key in self._items if key not in seen]:
            del self._looks[thing_id]
            self._remove(self._items.pop(thing_id))
        for part_id in [key for key in self._leads if key not in seen]:
            self._remove(self._leads.pop(part_id))

    def _remove(self, item: QGraphicsItem) -> None:
        scene = item.scene()
        if scene is not None:
            scene.removeItem(item)

    def _follow_one(self, placement: Placement, thing_id: str, how: Seen) -> bool:
        """Return whether the thing moved or looks different now."""
        thing = placement.design.by_id[thing_id]
        now = Look(thing, placement.box(thing_id), placement.frame(thing_id).turn, how)
        old = self._looks.get(thing_id)
        if old is not None and not isinstance(thing, FeedLine) and _same(old, now):
            return False
        item = self._items.get(thing_id)
        if item is None:
            item = self._items[thing_id] = MarksItem(self)
        self._looks[thing_id] = now
        if old is None or not _only_shifted(old, now):
            item.show_picture(self._picture(placement, now))
        item.setPos(self._at(now.box))
        return True

    def _picture(self, placement: Placement, look: Look) -> Picture:
        draw = part_marks if isinstance(look.thing, Part) else fixture_marks
        marks = as_seen(draw(placement, look.thing.id, self.view), look.how)
        return picture(marks, _anchor(look.box, self.view), self._camera.scale, self._inks)

    def _at(self, box: Box) -> QPointF:
        return self._camera.to_px(self.view, *_anchor(box, self.view))

    def _follow_leads(
        self, placement: Placement, seen: Mapping[str, Seen], moved: Collection[str]
    ) -> None:
        for part_id, how in seen.items():
            plug = getattr(placement.design.by_id[part_id], "plug", None)
            if plug is None or how != "full":
                if part_id in self._leads:
                    self._remove(self._leads.pop(part_id))
            elif part_id in moved or plug.into in moved or part_id not in self._leads:
                self._paint_lead(placement, part_id)

    def _paint_lead(self, placement: Placement, part_id: str) -> None:
        item = self._leads.get(part_id)
        if item is None:
            item = self._leads[part_id] = MarksItem(self)
            item.setZValue(LEADS)
        marks = plug_marks(placement, part_id, self.view)
        item.show_picture(picture(marks, (0.0, 0.0), self._camera.scale, self._inks))
        item.setPos(*self._camera.origins[self.view])

    def position(self, thing_id: str) -> QPointF | None:
        """Return where a thing's item lies, or None when it is not shown here. [px]"""
        item = self._items.get(thing_id)
        return item.pos() if item is not None else None

    def how(self, thing_id: str) -> Seen | None:
        """Return how a thing is drawn, None when it is not."""
        look = self._looks.get(thing_id)
        return look.how if look is not None else None

    def shown_ids(self) -> list[str]:
        """Return what is drawn, the nearest to the eye last."""
        return sorted(self._items, key=lambda key: self._items[key].zValue())

    def height_below(self, placement: Placement, z: float) -> float:
        """Return a stacking height over all that stands lower than ``z``, under what hangs. [m]"""
        heights = [
            item.zValue()
            for key, item in self._items.items()
            if placement.box(key).lo[2] < z - 1e-6
        ]
        return max(heights, default=0.0) + 0.5

    def highlight(self, chosen: Collection[str], hover: str, placement: Placement) -> None:
        """Outline the selected things and the one under the pointer."""
        if self.view not in self._camera.panes:
            self.highlights.show_highlights(())
            return
        made = []
        for thing_id in (hover, *chosen):
            if thing_id in placement.design.by_id and (thing_id in chosen or thing_id == hover):
                rect = self._camera.box(self.view, placement.box(thing_id))
                strong = thing_id in chosen
                alone = strong and len(chosen) == 1
                shown = alone and thing_id in self._items
                stem = stem_of(placement, self._camera, self.view, thing_id) if shown else None
                made.append(Highlight(_at_least(rect), strong, alone, stem))
        self.highlights.show_highlights(made)


def _at_least(rect: QRectF, size: float = 6.0) -> QRectF:
    """Return the rectangle, widened about its middle to a size that can be seen. [px]"""
    wide, high = max(0.0, size - rect.width()) / 2, max(0.0, size - rect.height()) / 2
    return rect.adjusted(-wide, -high, wide, high)


def _anchor(box: Box, view: View) -> tuple[float, float]:
    across, up = AXES[view]
    return box.lo[across], box.lo[up]


def _same(old: Look, new: Look) -> bool:
    return (
        old.thing is new.thing
        and old.box == new.box
        and old.turn == new.turn
        and old.how == new.how
    )


def _only_shifted(old: Look, new: Look) -> bool:
    """Tell whether a thing looks as before, only elsewhere."""
    if old.turn != new.turn or old.how != new.how:
        return False
    if any(abs(a - b) > 1e-9 for a, b in zip(old.box.size, new.box.size, strict=True)):
        return False
    was, now = old.thing, new.thing
    if isinstance(now, FeedLine) or not isinstance(was, Part) or not isinstance(now, Part):
        return False
    if was is now:
        return True
    same_way = was.place.model_copy(update={"x": now.place.x, "y": now.place.y}) == now.place
    return same_way and was.model_copy(update={"place": now.place}) == now
