"""Pinned probes: putting them, moving them, stepping through them, taking them away.

They are the `View`'s, so no edit and no undo touches them; what is read there, and how they look,
is told in `gui.probe`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF
from PySide6.QtGui import QAccessible, QAccessibleEvent, QMouseEvent

from core.drawing.marks import AXES, View
from core.language import tr
from core.light.point import Place
from core.units import nudge, show
from gui.gestures import START, Gesture
from gui.spoken import aloud

if TYPE_CHECKING:
    from collections.abc import Callable

    from gui.sheet import Sheet


class Pins(QObject):
    """What mouse and keys do with pins."""

    def __init__(self, sheet: Sheet) -> None:
        super().__init__(sheet)
        self._sheet = sheet
        self._view = sheet.view
        self._view.pins_changed.connect(self._announce)
        sheet.document.replaced.connect(lambda: self._view.put_pins(()))

    def put_at(self, name: View, at: QPointF) -> bool:
        """Pin the place under a point; return whether there is anything to read there."""
        return self._put(self._sheet.probe.place_under(name, at))

    def put_here(self) -> None:
        """Pin the place under the pointer, else the middle of the selected part or the level."""
        pointer = self._sheet.probe.pointer
        if pointer is None or not self.put_at(*pointer):
            self._put(self._middle())

    def _put(self, place: Place) -> bool:
        if not self._sheet.probe.lines(place):
            return False
        self._view.select(())
        self._view.put_pins((*self._view.pins, place), len(self._view.pins))
        return True

    def _middle(self) -> Place:
        """Return the middle of the selected part, else of the chosen level, at its leaves."""
        placement, look = self._sheet.placement, self._sheet.overlays.look
        cut = look.cut if look is not None else 0.0
        if self._view.selection:
            x, y, _ = placement.box(self._view.selection[-1]).centre
            return x, y, cut
        level = self._sheet.furniture.chosen()
        return (*level.area.centre, cut) if level is not None else (0.0, 0.0, cut)

    def take_away(self, number: int) -> None:
        """Remove one pin."""
        pins = self._view.pins
        self._view.put_pins((*pins[:number], *pins[number + 1 :]))

    def take_chosen_away(self) -> bool:
        """Remove the pin that the keys act on; return whether there was one."""
        if self._view.pin is None:
            return False
        self.take_away(self._view.pin)
        return True

    def let_go(self) -> bool:
        """Let the keys act on parts again; with none of either chosen, remove the newest pin."""
        if self._view.pin is not None:
            self._view.put_pins(self._view.pins)
        elif self._view.pins and not self._view.selection:
            self.take_away(len(self._view.pins) - 1)
        else:
            return False
        return True

    def move_to(self, number: int, name: View, at: QPointF) -> None:
        """Put a pin under a point of a drawing, its third coordinate kept."""
        place = list(self._view.pins[number])
        across, up = AXES[name]
        place[across], place[up] = self._sheet.camera.to_metres(name, at)
        self._replace(number, (place[0], place[1], place[2]))

    def nudge(self, direction: Place, size: str) -> bool:
        """Move the chosen pin by one step; return whether there is one."""
        if self._view.pin is None:
            return False
        step = nudge("length", self._sheet.document.design.units, size)
        x, y, z = (
            at + step * way
            for at, way in zip(self._view.pins[self._view.pin], direction, strict=True)
        )
        self._replace(self._view.pin, (x, y, z))
        return True

    def _replace(self, number: int, place: Place) -> None:
        pins = self._view.pins
        self._view.put_pins((*pins[:number], place, *pins[number + 1 :]), number)

    def tab(self, step: int) -> bool:
        """Go to the next part, after the last one to the pins; return False beyond them."""
        if self._view.pin is None:
            return self._sheet.step_selection(step) or (step > 0 and self._choose(0))
        if self._choose(self._view.pin + step):
            return True
        self._view.put_pins(self._view.pins)
        return step < 0 and self._sheet.step_selection(step)

    def _choose(self, number: int) -> bool:
        if not 0 <= number < len(self._view.pins):
            return False
        self._view.select(())
        self._view.put_pins(self._view.pins, number)
        return True

    def words(self, number: int) -> str:
        """Return a pin as an assistive tool says it: which, what is read there, and where."""
        place, system = self._view.pins[number], self._sheet.document.design.units
        said = ", ".join(self._sheet.probe.lines(place)) or tr("nothing to read here")
        words = tr("Pin {number} of {count}: {said}; at {place}").format(
            number=number + 1,
            count=len(self._view.pins),
            said=said,
            place=" × ".join(show(side, "length", system) for side in place),
        )
        return aloud(words)

    def _announce(self) -> None:
        """Say the chosen pin's number, what is read there, and its place."""
        if self._view.pin is None:
            return
        self._sheet.setAccessibleDescription(self.words(self._view.pin))
        if QAccessible.isActive():
            told = QAccessible.Event.DescriptionChanged
            QAccessible.updateAccessibility(QAccessibleEvent(self._sheet, told))


class HoldPin(Gesture):
    """A press on a pin: moved it goes with the pointer, let go at once it is taken away."""

    def __init__(self, sheet: Sheet, view: View, start: QPointF, number: int) -> None:
        super().__init__(sheet, view, start)
        self._number = number
        self._before = sheet.view.pins
        self._moved = False

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        self._moved = self._moved or (at - self.start).manhattanLength() >= START
        if self._moved:
            self.sheet.pins.move_to(self._number, self.view, at)

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        if not self._moved:
            self.sheet.pins.take_away(self._number)

    def cancel(self) -> None:
        self.sheet.view.put_pins(self._before)


class PutPin(Gesture):
    """A press with Shift: let go at once it pins what is read there, moved it is a drag."""

    def __init__(
        self, sheet: Sheet, view: View, start: QPointF, instead: Callable[[], Gesture]
    ) -> None:
        super().__init__(sheet, view, start)
        self._instead = instead

    def move(self, at: QPointF, event: QMouseEvent) -> None:
        if (at - self.start).manhattanLength() >= START:
            self.sheet.hand.gesture = self._instead()
            self.sheet.hand.gesture.move(at, event)

    def release(self, at: QPointF, event: QMouseEvent) -> None:
        self.sheet.pins.put_at(self.view, self.start)
