"""The probe: what the chosen subject reads under the pointer, and at the places that are pinned.

What is read at a place is said by a provider for each subject; how tags look, by
`gui.probe_tags`; what is done with pins, by `gui.pins`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF, QRectF, QTimer

from core.drawing.marks import AXES
from core.drawing.marks import View as DrawingName
from core.language import tr
from core.light.point import Place
from gui.air_cut import depth_of
from gui.items import HANDLE_HIT, handle_points
from gui.overlay_look import Look
from gui.picking import level_at
from gui.probe_air import air_lines
from gui.probe_light import light_lines
from gui.probe_tags import PIN_HIT, Tag, TagsItem, free_place, tag_size

if TYPE_CHECKING:
    from gui.sheet import Sheet

Provider = Callable[[Look, Place], tuple[str, ...]]
"""Says in a few lines what a subject reads at a place; the first is what matters most.

No lines where it has nothing to say. It is asked at every move of the pointer, so it reads off
what is there and computes nothing. In the elevations the place is half way into the level, in Air
where the drawing cuts it.
"""

PROVIDERS: dict[str, Provider] = {"light": light_lines, "air": air_lines}

_BEYOND = 24.0
"""How far a tag may reach beyond its drawing. [px]"""
_REST_MS = 300
"""After this long at rest the tag says all it knows; while the pointer moves, its first line."""


class Probe(QObject):
    """Shows what is read under the pointer and at the pins.

    Attributes
    ----------
    pointer : (str, QPointF) or None
        The drawing and the point that the pointer is at; None while something is under way.
    tip : Tag or None
        The tag under the pointer.
    """

    def __init__(self, sheet: Sheet) -> None:
        super().__init__(sheet)
        self._sheet = sheet
        self._pins = TagsItem(sheet.theme)
        self._rings = TagsItem(sheet.theme, rings=True)
        # Apart from the pins, so that a move of the pointer repaints its own tag only.
        self._tips = TagsItem(sheet.theme)
        for item in (self._rings, self._pins, self._tips):
            sheet.scene().addItem(item)
        self.pointer: tuple[DrawingName, QPointF] | None = None
        self._resting = QTimer(self, singleShot=True, interval=_REST_MS)
        self._resting.timeout.connect(self._tell_all)
        self._hinted = False
        self.tip: Tag | None = None
        sheet.view.pins_changed.connect(self.refresh)
        sheet.view.selection_changed.connect(self.refresh)

    # --- the pointer -----------------------------------------------------------------------

    def hover(self, name: DrawingName | None, at: QPointF) -> None:
        """The pointer is at a point of a drawing, with nothing under way."""
        self.pointer = (name, at) if name is not None else None
        self._resting.start()
        self._show_tip()

    def leave(self) -> None:
        """The pointer left the sheet, or something is being dragged."""
        self._resting.stop()
        if self.pointer is not None:
            self.pointer = None
            self._show_tip()

    def tags(self) -> tuple[Tag, ...]:
        """Return what is shown: the pins, in each drawing, and the tag under the pointer last."""
        return (*self._pins.tags, *self._tips.tags)

    def refresh(self) -> None:
        """Read everything anew: other readings, another level, subject, time or scale.

        A drawing may have been folded away under the pointer.
        """
        if self.pointer is not None and self.pointer[0] not in self._sheet.camera.panes:
            self.pointer = None
        tags = tuple(self._pin_tags(self._taken()))
        self._rings.show_tags(tags)
        self._pins.show_tags(tags)
        self._show_tip()

    # --- reading ---------------------------------------------------------------------------

    def lines(self, place: Place) -> tuple[str, ...]:
        """Return what the chosen subject says of a place."""
        look = self._sheet.overlays.look
        provider = PROVIDERS.get(self._sheet.view.subject or "")
        return provider(look, place) if look is not None and provider is not None else ()

    def pin_under(self, name: DrawingName, at: QPointF) -> int | None:
        """Return the number of the pin under a point of a drawing."""
        found = [
            ((spot - at).manhattanLength(), number)
            for number, spot in self._spots(name)
            if (spot - at).manhattanLength() <= PIN_HIT
        ]
        return min(found)[1] if found else None

    def place_under(self, name: DrawingName, at: QPointF) -> Place:
        """Return the place under a point: in plan at the leaves, else half way into the level."""
        across, up = AXES[name]
        hidden = 3 - across - up
        place = [0.0, 0.0, 0.0]
        place[across], place[up] = self._sheet.camera.to_metres(name, at)
        place[hidden] = self._depth(name, at, hidden)
        return place[0], place[1], place[2]

    def _depth(self, name: DrawingName, at: QPointF, hidden: int) -> float:
        sheet = self._sheet
        if name == "plan":
            return sheet.overlays.look.cut if sheet.overlays.look is not None else 0.0
        if sheet.view.subject == "air" and sheet.overlays.look is not None:
            return depth_of(sheet.overlays.look, name)
        level = level_at(sheet.placement, sheet.camera, name, at, sheet.chosen_host())
        if level is not None:
            return level.area.centre[hidden]
        enclosure = sheet.placement.design.enclosure
        return sheet.placement.box(enclosure.id).centre[hidden] if enclosure else 0.0

    # --- showing ---------------------------------------------------------------------------

    def _spots(self, name: DrawingName) -> list[tuple[int, QPointF]]:
        """Return where the pins lie in a drawing; in plan those of the level it is cut at."""
        sheet = self._sheet
        pane = sheet.camera.panes.get(name)
        if pane is None or sheet.view.subject not in PROVIDERS:
            return []
        across, up = AXES[name]
        found = []
        for number, place in enumerate(sheet.view.pins):
            spot = sheet.camera.to_px(name, place[across], place[up])
            if pane.contains(spot) and (name != "plan" or self._on_level(place)):
                found.append((number, spot))
        return found

    def _on_level(self, place: Place) -> bool:
        chosen = self._sheet.furniture.chosen()
        return chosen is None or chosen.z - 1e-6 <= place[2] <= chosen.above + 1e-6

    def _tell_all(self) -> None:
        """The pointer rests: say all there is, and the first time how to keep it."""
        self._show_tip()
        if self.tip is not None and not self._hinted:
            self._hinted = True
            self._sheet.said.emit(tr("Shift and a click, or P: pin this reading"))

    def _show_tip(self) -> None:
        """Read what is under the pointer; the pins stay as they are."""
        self.tip = self._tip()
        self._tips.show_tags((self.tip,) if self.tip is not None else ())

    def _pin_tags(self, taken: list[QRectF]) -> Iterator[Tag]:
        """Iterate over the rings of the pins; each is told in the first drawing that shows it."""
        told: set[int] = set()
        used = list(taken)
        for name in self._sheet.camera.panes:
            for number, spot in self._spots(name):
                lines = self.lines(self._sheet.view.pins[number])[:1] if number not in told else ()
                rect = self._free(name, spot, lines, used) if lines else QRectF(spot, spot)
                used.append(rect)
                told.add(number)
                yield Tag(spot, lines, rect, ring=True, chosen=number == self._sheet.view.pin)

    def _tip(self) -> Tag | None:
        if self.pointer is None:
            return None
        name, at = self.pointer
        pin = self.pin_under(name, at)
        place = self.place_under(name, at) if pin is None else self._sheet.view.pins[pin]
        lines = self.lines(place)
        if not lines:
            return None
        if self._resting.isActive():
            lines = lines[:1]
        taken = [*self._taken(), *(tag.rect for tag in self._pins.tags)]
        return Tag(at, lines, self._free(name, at, lines, taken))

    def _free(
        self, name: DrawingName, at: QPointF, lines: tuple[str, ...], taken: list[QRectF]
    ) -> QRectF:
        """Return where a tag lies: about its drawing, beside the key and the level rows. [px]"""
        camera = self._sheet.camera
        within = camera.panes[name].adjusted(-_BEYOND, -_BEYOND, _BEYOND, _BEYOND)
        beside = camera.key if name == "plan" else camera.rows
        if not beside.isEmpty():
            within.setRight(min(within.right(), beside.left() - 4.0))
        within &= QRectF(self._sheet.viewport().rect()).adjusted(2, 2, -2, -2)
        return free_place(at, tag_size(self._sheet.theme, lines), within, taken)

    def _taken(self) -> list[QRectF]:
        """Return what no tag may cover: the numbers of the drawings, handles of what is chosen."""
        sheet = self._sheet
        found = sheet.overlays.taken()
        for name in sheet.camera.panes:
            for part in sheet.view.selection:
                if part in sheet.placement.design.by_id:
                    rect = sheet.camera.box(name, sheet.placement.box(part))
                    found += [_about(point) for point in handle_points(rect)]
        return found


def _about(point: QPointF) -> QRectF:
    half = HANDLE_HIT / 2
    return QRectF(point.x() - half, point.y() - half, HANDLE_HIT, HANDLE_HIT)
