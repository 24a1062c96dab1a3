"""Covers and linings cut from rolls or boards, face by face: strips, seams, doors, clamps.

Sheets are plain rectangles here; which faces a design covers with what is in
`core.materials.from_design`, sizes sold in `core.materials.stock`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from core.arguments import not_negative, positive
from core.errors import InputError, complaint
from core.geometry import TOUCH
from core.materials.stock import Board, Roll

Direction = Literal["up", "along"]
"""Which way strips run on a face; on the floor and the ceiling "up" is away from the front."""

DoorStyle = Literal["zip", "curtain", "leaf"]

OVERLAP = 0.05
"""Where strips overlap (common practice). [m]"""

CURTAIN_OVERLAP = 0.10
"""A curtain hangs this far over the edges of its opening (common practice). [m]"""

_Band = tuple[float, float]


@dataclass(frozen=True)
class Hole:
    """A door or a cut-out in a face, from the face's lower corner; ``style`` of a door. [m]"""

    x: float
    y: float
    width: float
    height: float
    style: DoorStyle | None = None
    leaves: int = 1

    @property
    def is_cut(self) -> bool:
        """Whether the sheet is taken out of it: a zip opens the sheet itself."""
        return self.style != "zip"

    @property
    def area(self) -> float:
        """[m²]"""
        return self.width * self.height

    @property
    def zip_length(self) -> float:
        """Zips up both sides, so that the sheet rolls up between them; 0 without zips. [m]"""
        return 2 * self.height if self.style == "zip" else 0.0


@dataclass(frozen=True)
class Piece:
    """A rectangle of sheet. [m]"""

    width: float
    length: float

    @property
    def area(self) -> float:
        """[m²]"""
        return self.width * self.length


@dataclass(frozen=True)
class Strips:
    """A face made of strips from a roll.

    Attributes
    ----------
    direction : str
    roll : Roll
    length : float
        Of each strip, with what goes round the frame. [m]
    seams : tuple of float
        Middles of the overlaps, from the face's edge across the strips. [m]
    overlap : float
        [m]
    seams_in_doors : int
        How many seams could not be kept out of an opening.
    """

    direction: Direction
    roll: Roll
    length: float
    seams: tuple[float, ...]
    overlap: float
    seams_in_doors: int

    @property
    def count(self) -> int:
        """How many strips."""
        return len(self.seams) + 1

    @property
    def area(self) -> float:
        """Of roll used, in full width. [m²]"""
        return self.count * self.length * self.roll.width


@dataclass(frozen=True)
class FaceSheet:
    """What one face takes.

    Attributes
    ----------
    width, height : float
        Of the face. [m]
    strips : Strips
    door_pieces : tuple of Piece
        Curtains and sheets of leaves.
    open_area : float
        What openings take out of the sheet. [m²]
    zips : float
        [m]
    clamps : int
        Round the edges.
    """

    width: float
    height: float
    strips: Strips
    door_pieces: tuple[Piece, ...]
    open_area: float
    zips: float
    clamps: int

    @property
    def net_area(self) -> float:
        """Of the face that stays covered, curtains and leaves not counted. [m²]"""
        return self.width * self.height - self.open_area

    @property
    def left_over(self) -> float:
        """What of the strips is overlap, hem, opening or trimmed off. [m²]"""
        return self.strips.area - self.net_area


def strip_count(width: float, roll: float, overlap: float = 0.0) -> int:
    """Return how many strips of a roll cover a width side by side.

    Parameters
    ----------
    width : float
        To be covered. [m]
    roll : float
        Width of the roll. [m]
    overlap : float, optional
        Of neighbours. [m]

    Returns
    -------
    int
        ⌈(W - o)/(w - o)⌉, at least 1.

    Raises
    ------
    InputError
        If a width is not above 0, or the overlap is negative or not less than the roll is wide.
    """
    _check(width, roll, overlap)
    return max(1, math.ceil((width - overlap) / (roll - overlap) - 1e-9))


def _check(width: float, roll: float, overlap: float) -> None:
    positive("Face", "width", width, "m")
    positive("Roll", "width", roll, "m")
    not_negative("Strips", "overlap", overlap, "m")
    if overlap >= roll:
        rule = f"must be less than the roll is wide, {roll:g} m"
        raise InputError(
            complaint("Strips", "overlap", f"{overlap:g} m", rule, "overlap less or take wider")
        )


def seams(
    width: float, roll: float, overlap: float, keep_clear: Sequence[_Band] = ()
) -> tuple[tuple[float, ...], int]:
    """Return where strips meet on a width, out of the bands to keep clear where they can.

    Each strip reaches as far as the roll is wide or, where the seam would fall in a band, up to
    that band; a band wider than a strip takes the seam all the same.

    Parameters
    ----------
    width : float
        To be covered. [m]
    roll, overlap : float
        [m]
    keep_clear : sequence of tuple of float
        From and to along the width, as a door is. [m]

    Returns
    -------
    tuple of float
        Middles of the overlaps. [m]
    int
        How many of them are in a band.

    Raises
    ------
    InputError
        As for `strip_count`.
    """
    _check(width, roll, overlap)
    half = overlap / 2
    bands = [(low - half, high + half) for low, high in keep_clear]
    found: list[float] = []
    missed = 0
    start = half
    # A strip covers from half an overlap before the last seam to half an overlap after the next.
    while start - half + roll < width - TOUCH:
        furthest = start + roll - overlap
        seam = _clear_of(furthest, bands)
        if seam < furthest and seam <= start + overlap + TOUCH:
            seam, missed = furthest, missed + 1
        found.append(seam)
        start = seam
    return tuple(found), missed


def _clear_of(place: float, bands: Sequence[_Band]) -> float:
    """Return the last place up to ``place`` that is in no band."""
    hit = [low for low, high in bands if low + TOUCH < place < high - TOUCH]
    return _clear_of(min(hit), bands) if hit else place


def face_strips(
    width: float,
    height: float,
    roll: Roll,
    direction: Direction,
    *,
    overlap: float = OVERLAP,
    hem: float = 0.0,
    holes: Sequence[Hole] = (),
) -> Strips:
    """Return a face's strips in one direction.

    Parameters
    ----------
    width, height : float
        Of the face. [m]
    roll : Roll
    direction : str
        ``"up"`` or ``"along"``.
    overlap : float, optional
        [m]
    hem : float, optional
        What goes round the frame at each edge. [m]
    holes : sequence of Hole, optional
        Seams are kept out of doors.
    """
    positive("Face", "height", height, "m")
    not_negative("Strips", "hem", hem, "m")
    doors = [hole for hole in holes if hole.style is not None]
    if direction == "up":
        across, length = width, height
        bands = [(door.x, door.x + door.width) for door in doors]
    else:
        across, length = height, width
        bands = [(door.y, door.y + door.height) for door in doors]
    shifted = [(low + hem, high + hem) for low, high in bands]
    middles, missed = seams(across + 2 * hem, roll.width, overlap, shifted)
    on_face = tuple(middle - hem for middle in middles)
    return Strips(direction, roll, length + 2 * hem, on_face, overlap, missed)


def cover_face(
    width: float,
    height: float,
    roll: Roll,
    *,
    overlap: float = OVERLAP,
    hem: float = 0.0,
    holes: Sequence[Hole] = (),
    clamp_spacing: float = 0.4,
) -> FaceSheet:
    """Return how a face is covered from a roll, its strips the better way round.

    First no seam in a door, then the least of the roll, then the fewest strips, then upward.

    Parameters
    ----------
    width, height : float
        Of the face. [m]
    roll : Roll
    overlap, hem : float, optional
        Of neighbouring strips, and what goes round the frame at each edge. [m]
    holes : sequence of Hole, optional
        Doors and cut-outs.
    clamp_spacing : float, optional
        Clamps, staples or screws round the edges are no further apart. [m]

    Returns
    -------
    FaceSheet

    Raises
    ------
    InputError
        If a length is negative, or 0 where it must not be.
    """
    ways: tuple[Direction, ...] = ("up", "along")
    options = [
        face_strips(width, height, roll, way, overlap=overlap, hem=hem, holes=holes) for way in ways
    ]
    best = min(options, key=lambda s: (s.seams_in_doors, round(s.area, 6), s.count))
    return FaceSheet(
        width,
        height,
        best,
        tuple(piece for hole in holes for piece in door_pieces(hole, hem)),
        sum(hole.area for hole in holes if hole.is_cut),
        sum(hole.zip_length for hole in holes),
        clamp_count((width, height, width, height), clamp_spacing),
    )


def door_pieces(hole: Hole, hem: float = 0.0) -> tuple[Piece, ...]:
    """Return the sheets that close a door: a curtain over its edges, or one for each leaf.

    Parameters
    ----------
    hole : Hole
    hem : float, optional
        What goes round a leaf's frame at each edge. [m]
    """
    if hole.style == "curtain":
        return (Piece(hole.width + 2 * CURTAIN_OVERLAP, hole.height + CURTAIN_OVERLAP),)
    if hole.style == "leaf":
        return (Piece(hole.width / hole.leaves + 2 * hem, hole.height + 2 * hem),) * hole.leaves
    return ()


def clamp_count(edges: Sequence[float], spacing: float) -> int:
    """Return how many clamps hold a closed ring of edges, one at each corner among them.

    Parameters
    ----------
    edges : sequence of float
        [m]
    spacing : float
        The furthest they are apart. [m]
    """
    positive("Clamps", "spacing", spacing, "m")
    return sum(math.ceil(edge / spacing - 1e-9) for edge in edges)


def boards_for(width: float, height: float, board: Board) -> int:
    """Return how many whole boards cover a face edge to edge, laid the better of two ways.

    Parameters
    ----------
    width, height : float
        Of the face. [m]
    board : Board
    """
    return _whole_boards(width, height, *boards_across(width, height, board))


def boards_across(width: float, height: float, board: Board) -> tuple[float, float]:
    """Return how wide and how high boards lie on a face, the better of two ways. [m]"""
    positive("Face", "width", width, "m")
    positive("Face", "height", height, "m")
    ways = ((board.width, board.length), (board.length, board.width))
    return min(ways, key=lambda way: _whole_boards(width, height, *way))


def _whole_boards(width: float, height: float, across: float, up: float) -> int:
    return math.ceil(width / across - 1e-9) * math.ceil(height / up - 1e-9)
