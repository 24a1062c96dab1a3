"""What is dropped on the sheet: a new part from the shelf with its outline, or a lamp's file.

Where a part may go is worked out in `core.placing`, what it starts as in `gui.adding`; files are
read by `gui.lamp_files`.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF
from PySide6.QtGui import QDropEvent

from core.catalogue import Catalogue
from core.drawing.marks import AXES, View
from core.errors import FernwrightError
from core.geometry import Box
from core.language import tr
from core.model import ROOM, Design, Lamp, Part
from core.placement import Placement
from core.placing import Point
from core.storage import ENDING
from gui.adding import FEED, entry_for, with_added
from gui.season_asks import is_season_file
from gui.tape import TapeState

if TYPE_CHECKING:
    from gui.sheet import Sheet

_SIZE_UNKNOWN = 0.3


class Drop:
    """One part on its way from the shelf to the sheet."""

    def __init__(self, sheet: Sheet, catalogue: Catalogue, key: str) -> None:
        self._sheet = sheet
        self._catalogue = catalogue
        self._key = key

    def move(self, at: QPointF) -> None:
        """Show where the part would go, or that it cannot."""
        view = self._sheet.camera.view_at(at)
        if view is None:
            self._sheet.tape.show_state(None)
            return
        host = ""
        try:
            design, part_id = self._added(view, at)
        except FernwrightError as error:
            state = TapeState(None, self._outline(view, at), refused=str(error), only=view)
        else:
            host = _host_of(design, part_id)
            words = _words_on(design, part_id, host)
            state = TapeState(None, Placement(design).box(part_id), label=words)
        self._sheet.view.light_up(host)
        self._sheet.tape.show_state(state)

    def _added(self, view: View, at: QPointF) -> tuple[Design, str]:
        return with_added(
            self._sheet.document.committed,
            self._catalogue,
            self._key,
            level=self._sheet.view.level,
            at=self._point(view, at),
        )

    def _point(self, view: View, at: QPointF) -> Point:
        place: list[float | None] = [None, None, None]
        across, up = AXES[view]
        place[across], place[up] = self._sheet.camera.to_metres(view, at)
        return place[0], place[1], place[2]

    def _outline(self, view: View, at: QPointF) -> Box:
        """Return a box of the part's size about the pointer."""
        size = self._size()
        point = self._point(view, at)
        middle = [0.0 if value is None else value for value in point]
        lo = [middle[k] - size[k] / 2 for k in range(3)]
        hi = [middle[k] + size[k] / 2 for k in range(3)]
        return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))

    def _size(self) -> tuple[float, float, float]:
        if self._key == FEED:
            return (_SIZE_UNKNOWN, _SIZE_UNKNOWN, _SIZE_UNKNOWN)
        fields = entry_for(self._key, self._catalogue, self._sheet.document.design.units).fields
        width, depth, height = (
            float(fields.get(name, _SIZE_UNKNOWN)) for name in ("width", "depth", "height")
        )
        return width, depth, height

    def release(self, at: QPointF) -> None:
        """Place the part as one undo step and select it, or say why not."""
        self.cancel()
        view = self._sheet.camera.view_at(at)
        if view is None:
            return
        try:
            design, part_id = self._added(view, at)
        except FernwrightError as error:
            self._sheet.said.emit(str(error))
            return
        words = tr("Add {name}").format(name=design.by_id[part_id].name)
        self._sheet.document.apply(words, design)
        self._sheet.view.select((part_id,))

    def cancel(self) -> None:
        """Take the outline away."""
        self._sheet.view.light_up("")
        self._sheet.tape.show_state(None)


class FileDrop:
    """A file on its way to a lamp on the sheet."""

    def __init__(self, sheet: Sheet, path: Path) -> None:
        self._sheet = sheet
        self.path = path

    def move(self, at: QPointF) -> None:
        """Light up the lamp that would take it, or say that it wants one."""
        lamp = self.lamp_at(at)
        self._sheet.view.light_up(lamp)
        season = is_season_file(self.path)
        words = tr("Drop it for the season’s air") if season else tr("Drop the file on a lamp")
        self._sheet.said.emit("" if lamp else words)

    def lamp_at(self, at: QPointF) -> str:
        """Return the id of the lamp under a point, empty for none."""
        known = self._sheet.document.committed.by_id
        found = self._sheet.hand.things_under(at)
        return next((i for i in found if isinstance(known.get(i), Lamp)), "")

    def cancel(self) -> None:
        """Let the lamp go out."""
        self._sheet.view.light_up("")
        self._sheet.said.emit("")


def design_path(event: QDropEvent) -> Path | None:
    """Return the first design's file that is dropped, None for none."""
    paths = (Path(url.toLocalFile()) for url in event.mimeData().urls())
    return next((path for path in paths if path.suffix == ENDING), None)


def dropped_path(event: QDropEvent) -> Path | None:
    """Return the one file that is dropped, None for a design's, or several, or none."""
    urls = event.mimeData().urls()
    path = Path(urls[0].toLocalFile()) if len(urls) == 1 and urls[0].isLocalFile() else None
    return None if path is None or path.suffix == ENDING else path


def _host_of(design: Design, part_id: str) -> str:
    """Return the id of what takes the part; empty for the room, and for a fixture of it."""
    thing = design.by_id[part_id]
    return thing.place.host if isinstance(thing, Part) and thing.place.host != ROOM else ""


def _words_on(design: Design, part_id: str, host: str) -> str:
    """Return what is being placed and on what: "Jewel orchids on Tray 2"."""
    name = design.by_id[part_id].name
    if not host:
        return name
    return tr("{name} on {host}").format(name=name, host=design.by_id[host].name)
