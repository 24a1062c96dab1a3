"""What is rigid and has to be carried in: its size against the room's doors and the corners before.

The formulas are in `carrying`; what goes into the enclosure first is found in `assembly`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.fit.carrying import round_corner
from core.language import tr
from core.materials.stock import SHEET_STOCK, Board
from core.model import (
    AnyPart,
    Cooler,
    Design,
    Enclosure,
    Fogger,
    Heater,
    Lamp,
    Platform,
    Reservoir,
    RoomDoor,
    ShelfUnit,
    Tray,
)
from core.phrases import Phrase, phrase

RIGID = ShelfUnit | Cooler | Heater | Reservoir | Fogger | Tray | Platform | Lamp

Size = tuple[float, float, float]


@dataclass(frozen=True)
class Load:
    """One thing to carry, or several alike; ``size`` from the shortest side up. [m]

    ``part`` is the id of the first, ``kind`` "part", "bar" or "board", ``count`` how many there
    are; 0: as many as it takes.
    """

    part: str
    kind: str
    name: Phrase
    size: Size
    count: int = 1


@dataclass(frozen=True)
class Pass:
    """A place to get a load through: what it takes there and what there is. [m]

    ``door`` is the id of the door it is for, empty for a corner, whose ``number`` counts from 1.
    """

    door: str
    number: int
    needed: float
    limit: float

    @property
    def spare(self) -> float:
        """What is left over, negative where it does not go. [m]"""
        return self.limit - self.needed


@dataclass(frozen=True)
class Carried:
    """A load with the room's easiest door for it, and the tightest corner on the way in."""

    load: Load
    door: Pass | None
    corner: Pass | None

    @property
    def tightest(self) -> Pass | None:
        """The place with least to spare; None where neither door nor corner is drawn."""
        found = [each for each in (self.door, self.corner) if each is not None]
        return min(found, key=lambda each: each.spare, default=None)


def carried_in(design: Design) -> tuple[Carried, ...]:
    """Return everything rigid with the places it must go through, the largest first."""
    loads = sorted(loads_of(design), key=lambda load: (-load.size[2], load.part))
    return tuple(Carried(load, _door(design, load), _corner(design, load)) for load in loads)


def loads_of(design: Design) -> Iterator[Load]:
    """Iterate over what is rigid: parts, the frame's longest bar, whole boards; alike as one."""
    parts: dict[tuple[str, Size], list[AnyPart]] = {}
    for part in design.parts:
        if isinstance(part, RIGID):
            parts.setdefault((part.kind, _sides(part.extent)), []).append(part)
    for (_, size), alike in parts.items():
        first = alike[0]
        name = (
            phrase("{name}", name=first.name)
            if len(alike) == 1
            else phrase("{name} and {more} alike", name=first.name, more=len(alike) - 1)
        )
        yield Load(first.id, "part", name, size, len(alike))
    if design.enclosure is not None:
        yield from _stock(design.enclosure)


def _sides(extent: Size) -> Size:
    least, middle, most = sorted(extent)
    return least, middle, most


def _stock(enclosure: Enclosure) -> Iterator[Load]:
    """Iterate over the enclosure's longest bar, cut to size, and its rigid sheets as bought."""
    member = enclosure.frame.member
    size = _sides((member, member, max(enclosure.extent)))
    yield Load(enclosure.id, "bar", phrase("Longest frame bar"), size, 0)
    for key, sheet in {c.sheet.catalogue: c.sheet for c in enclosure.covers}.items():
        boards = [b for b in SHEET_STOCK.get(key or "", ()) if isinstance(b, Board)]
        if boards:
            largest = max(boards, key=lambda board: board.length)
            size = _sides((sheet.thickness, largest.width, largest.length))
            name = phrase("Board of {material}", material=tr(sheet.material))
            yield Load(enclosure.id, "board", name, size, 0)


def _door(design: Design, load: Load) -> Pass | None:
    """Return the room's door with most to spare, by the tighter of the load's two shorter sides."""
    doors = [item for item in design.room.fixtures if isinstance(item, RoomDoor)]
    least, middle, _ = load.size
    if not doors:
        return None

    def taken(door: RoomDoor) -> float:
        return max(least / door.width, middle / door.height)

    door = min(doors, key=taken)
    upright = middle / door.height > least / door.width
    side, limit = (middle, door.height) if upright else (least, door.width)
    return Pass(door.id, 0, side, limit)


def _corner(design: Design, load: Load) -> Pass | None:
    """Return the corner on the way in that leaves least to spare."""
    found = []
    for number, corner in enumerate(design.room.way_in, start=1):
        ceiling = corner.ceiling or design.room.height
        needed, limit = round_corner(load.size, corner.before, corner.after, ceiling)
        found.append(Pass("", number, needed, limit))
    return min(found, key=lambda each: each.spare, default=None)
