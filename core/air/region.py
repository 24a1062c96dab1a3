"""Which part of the room the flow is computed in: the enclosure, or what lies round it.

What stands in that region is for `from_design`; nothing here computes a flow.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from core.air.flow.scene import FACES
from core.geometry import TOUCH, Box, Vector, polygon_contains
from core.model import DuctFan, Enclosure, Fan, Plants, Room
from core.phrases import Amount, Phrase, phrase
from core.placement import Placement

BEFORE_OPEN_FACE = 1.0
"""Depth of room air that is counted before an open face (judgement). [m]"""

ROUND_PLANTS = 1.5
"""Room air that is counted round fans and plants without an enclosure (judgement). [m]"""

LEAST = 0.5
"""A region is no narrower, even where all stands outside the room. [m]"""

ON_FACE = 0.06
"""What is set into a face lies no farther from it. [m]"""


@dataclass(frozen=True)
class Region:
    """A box of air in the room's axes.

    Attributes
    ----------
    box : Box
        [m]
    side : {"enclosure", "room"}
        What duct fans and openings call the air in it.
    assumptions : tuple of Phrase
        What was cut off.
    """

    box: Box
    side: str
    assumptions: tuple[Phrase, ...] = field(default=(), compare=False)

    def holds(self, point: Vector) -> bool:
        """Tell whether a point lies in the region, its faces included."""
        return self.box.contains(Box(point, point))

    def face_of(self, box: Box) -> str | None:
        """Return the face that a flat box is set into; None where it is in none."""
        thinnest = min(range(3), key=lambda axis: box.size[axis])
        for face, (axis, side) in FACES.items():
            plane = self.box.hi[axis] if side else self.box.lo[axis]
            near = box.lo[axis] - ON_FACE <= plane <= box.hi[axis] + ON_FACE
            if near and (axis == thinnest or box.size[axis] > TOUCH) and self._over(box, axis):
                return face
        return None

    def _over(self, box: Box, axis: int) -> bool:
        return all(
            box.hi[other] > self.box.lo[other] + TOUCH
            and box.lo[other] < self.box.hi[other] - TOUCH
            for other in range(3)
            if other != axis
        )


def region_of(placement: Placement) -> Region | None:
    """Return where the flow of a design is computed; None where nothing is to be blown at."""
    room = _room_box(placement.design.room)
    enclosure = placement.design.enclosure
    if enclosure is None:
        return _round_plants(placement, room)
    box = placement.box(enclosure.id)
    opened = [face for face in FACES if face != "bottom" and enclosure.cover(face) is None]  # type: ignore[arg-type]
    if not opened:
        return Region(box, "enclosure")
    return _before_faces(enclosure, box, opened, room)


def _before_faces(enclosure: Enclosure, box: Box, opened: list[str], room: Box) -> Region:
    lo, hi = list(box.lo), list(box.hi)
    for face in opened:
        axis, side = FACES[face]
        if side:
            hi[axis] = max(hi[axis], min(room.hi[axis], hi[axis] + BEFORE_OPEN_FACE))
        else:
            lo[axis] = min(lo[axis], max(room.lo[axis], lo[axis] - BEFORE_OPEN_FACE))
    told = phrase(
        "{name} is open: of the room, only the air up to {depth} from its open faces is counted",
        name=enclosure.name,
        depth=Amount(BEFORE_OPEN_FACE, "length"),
    )
    return Region(_box(lo, hi), "enclosure", (told,))


def _round_plants(placement: Placement, room: Box) -> Region | None:
    parts = [*placement.design.of(Fan), *placement.design.of(DuctFan), *placement.design.of(Plants)]
    if not parts:
        return None
    boxes = [placement.box(part.id) for part in parts]
    lo, hi = list(room.lo), list(room.hi)
    for axis in (0, 1):
        low, high = (fit(box[end][axis] for box in boxes) for end, fit in enumerate((min, max)))
        lo[axis] = max(lo[axis], min(low - ROUND_PLANTS, hi[axis] - LEAST))
        hi[axis] = min(hi[axis], max(high + ROUND_PLANTS, lo[axis] + LEAST))
    box = _box(lo, hi)
    told = phrase(
        "Of the room, only the air up to {distance} from fans and plants is counted",
        distance=Amount(ROUND_PLANTS, "length"),
    )
    return Region(box, "room", () if box == room else (told,))


def _room_box(room: Room) -> Box:
    xs, ys = zip(*room.outline, strict=True)
    return Box((min(xs), min(ys), 0.0), (max(xs), max(ys), room.height))


def _box(lo: list[float], hi: list[float]) -> Box:
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def beyond_walls(room: Room) -> list[Box]:
    """Return boxes that fill a room's box where its outline leaves it; slanting walls in steps."""
    xs, ys = (sorted(set(each)) for each in zip(*room.outline, strict=True))
    return [
        Box((x0, y0, 0.0), (x1, y1, room.height))
        for x0, x1 in pairwise(xs)
        for y0, y1 in pairwise(ys)
        if not polygon_contains(room.outline, (x0 + x1) / 2, (y0 + y1) / 2)
    ]
