"""What has to go in first: parts wider than the enclosure's doors, covers that face a wall.

Carrying things into the room is in `way_in`; sentences are made in `rows_carry`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.fit.carrying import tilt_height
from core.fit.fronts import SIDES, STANDING, Side, clear_floor, door_fronts, face_front, open_fronts
from core.fit.way_in import RIGID
from core.model import Enclosure
from core.placement import Placement


@dataclass(frozen=True)
class First:
    """A part that goes through no opening of the enclosure, at the opening it fits best. [m]

    ``face`` is that of the opening, empty where there is none; ``side`` the part's side that is
    tightest there and ``limit`` what the opening has.
    """

    part: str
    face: str
    side: float
    limit: float


@dataclass(frozen=True)
class Close:
    """A covered face with less floor before it than a person takes, and how much. [m]"""

    face: Side
    left: float


@dataclass(frozen=True)
class _Hole:
    face: str
    width: float
    height: float


def goes_first(placement: Placement) -> tuple[First, ...]:
    """Return the rigid parts inside the enclosure that its openings do not let through.

    A part goes through standing, or lying where it can be tilted up inside.
    """
    enclosure = placement.design.enclosure
    if enclosure is None or not enclosure.covers:
        return ()
    holes = _holes(placement, enclosure)
    found = []
    for part in placement.design.parts:
        if isinstance(part, RIGID) and placement.inside(part.id):
            tightest = _tightest(part.extent, holes, enclosure.height)
            if tightest is not None:
                found.append(First(part.id, *tightest))
    return tuple(found)


def _holes(placement: Placement, enclosure: Enclosure) -> list[_Hole]:
    box = placement.box(enclosure.id)
    fronts = (*door_fronts(enclosure, box), *open_fronts(enclosure, box))
    found = [_Hole(f.face, f.end - f.start, f.high - f.low) for f in fronts]
    if enclosure.cover("top") is None:
        found.append(_Hole("top", enclosure.width, enclosure.depth))
    return found


def _tightest(
    extent: tuple[float, float, float], holes: list[_Hole], inner: float
) -> tuple[str, float, float] | None:
    """Return face, side and limit where a part fits best but does not go; None where it does."""
    narrow, wide, height = *sorted(extent[:2]), extent[2]
    least, middle, _ = sorted(extent)
    ways = [(narrow, height)]
    if tilt_height(height, narrow) <= inner:
        ways += [(least, middle), (middle, least)]
    tries = [
        (*_share(a, b, hole), hole.face)
        for hole in holes
        for a, b in ([(narrow, wide), (wide, narrow)] if hole.face == "top" else ways)
    ]
    if not tries:
        return "", narrow, 0.0
    share, side, limit, face = min(tries)
    return None if share <= 1.0 + 1e-9 else (face, side, limit)


def _share(across: float, up: float, hole: _Hole) -> tuple[float, float, float]:
    """Return the tighter of two sides at an opening: its share of the opening, it, the opening."""
    return max(
        (side / limit, side, limit) for side, limit in ((across, hole.width), (up, hole.height))
    )


def close_covers(placement: Placement) -> Iterator[Close]:
    """Iterate over covered upright faces that nobody can stand before once the box is in place."""
    enclosure = placement.design.enclosure
    if enclosure is None:
        return
    box = placement.box(enclosure.id)
    covered = [face for face in SIDES if enclosure.cover(face) is not None]
    for clear in clear_floor(placement, [face_front(enclosure.id, face, box) for face in covered]):
        if clear.depth < STANDING - 1e-9:
            yield Close(clear.front.face, clear.depth)
