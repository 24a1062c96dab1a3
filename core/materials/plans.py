"""What a frame, its sheets and its liner are: the plans that an enclosure is built by.

How they come about from a design is in `core.materials.from_design`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from core.materials import wares
from core.materials.cutting import CutPlan
from core.materials.frame import FrameGraph, Pieces, Span
from core.materials.liner import LinerPlan
from core.materials.sag import SAG_LIMIT
from core.materials.sheets import FaceSheet, Hole, clamp_count
from core.materials.stock import Board, FrameStock, Roll
from core.model import Face, Sheet

CLAMP_SPACING = 0.4
"""Clamps, staples or screws are no further apart (common practice). [m]"""


@dataclass(frozen=True)
class Bend:
    """How a level member of the frame bends down.

    Attributes
    ----------
    span : Span
    load : float
        Its own weight and its share of what hangs from the frame. [N/m]
    depth : float
        Of the bend in its middle. [m]
    """

    span: Span
    load: float
    depth: float

    @property
    def is_long(self) -> bool:
        """Whether the member bends more than it should."""
        return self.depth > SAG_LIMIT * self.span.length


@dataclass(frozen=True)
class FramePlan:
    """The frame: what to saw, join and look out for.

    Attributes
    ----------
    graph : FrameGraph
    pieces : Pieces
    cuts : CutPlan
    bends : tuple of Bend
    stock : FrameStock
    """

    graph: FrameGraph
    pieces: Pieces
    cuts: CutPlan
    bends: tuple[Bend, ...]
    stock: FrameStock

    @property
    def fittings(self) -> dict[str, int]:
        """What joins the members, by kind; of butted members brackets in place of fittings."""
        kinds = self.graph.fittings_of_stock
        return kinds | ({"coupler": self.pieces.couplers} if self.pieces.couplers else {})


@dataclass(frozen=True)
class FacePart:
    """A face, or the part of one, that is covered or lined.

    Attributes
    ----------
    face : str
    use : str
        ``"cover"`` or ``"lining"``.
    width, height : float
        [m]
    holes : tuple of Hole
    sheet : Sheet
    """

    face: Face
    use: str
    width: float
    height: float
    holes: tuple[Hole, ...]
    sheet: Sheet


@dataclass(frozen=True)
class RollPlan:
    """All that is cut from rolls of one sheet.

    Attributes
    ----------
    sheet : Sheet
    roll : Roll
    faces : tuple of FacePart and FaceSheet
    layers : int
        How many layers of the roll the sheet is made of; `faces` tell one.
    cuts : CutPlan
        Strips and door pieces along the roll; its bars are rolls.
    """

    sheet: Sheet
    roll: Roll
    faces: tuple[tuple[FacePart, FaceSheet], ...]
    layers: int
    cuts: CutPlan

    @property
    def count(self) -> int:
        """How many rolls are cut."""
        return self.cuts.bars

    @property
    def ware(self) -> wares.Ware:
        """What is bought."""
        return wares.roll(self.sheet, self.roll)

    @property
    def each(self) -> float:
        """Area of one roll. [m²]"""
        return self.roll.width * self.roll.length

    @property
    def pieces(self) -> int:
        """How many strips there are in one layer."""
        return sum(sheet.strips.count for _, sheet in self.faces)

    @property
    def seams_in_doors(self) -> int:
        """How many seams could not be kept out of a door."""
        return sum(sheet.strips.seams_in_doors for _, sheet in self.faces)

    @property
    def seams(self) -> float:
        """Length of all seams. [m]"""
        return self.layers * sum(
            (sheet.strips.count - 1) * sheet.strips.length for _, sheet in self.faces
        )

    @property
    def net_area(self) -> float:
        """Covered with it, all layers. [m²]"""
        return self.layers * sum(sheet.net_area for _, sheet in self.faces)

    @property
    def left_over(self) -> float:
        """Bought, but neither on a face nor on a door. [m²]"""
        doors = sum(piece.area for _, sheet in self.faces for piece in sheet.door_pieces)
        bought = self.count * self.each
        return bought - self.net_area - self.layers * doors

    @property
    def zips(self) -> float:
        """Length of zip. [m]"""
        return sum(sheet.zips for _, sheet in self.faces)

    @property
    def clamps(self) -> int:
        """Clamps, staples or screws round the edges."""
        return sum(sheet.clamps for _, sheet in self.faces)


@dataclass(frozen=True)
class BoardPlan:
    """All faces covered with one rigid sheet, each from boards of its own.

    Attributes
    ----------
    sheet : Sheet
    board : Board
    faces : tuple of FacePart and int
        How many boards each takes.
    """

    sheet: Sheet
    board: Board
    faces: tuple[tuple[FacePart, int], ...]

    seams_in_doors: ClassVar[int] = 0

    @property
    def count(self) -> int:
        """How many boards are cut."""
        return sum(count for _, count in self.faces)

    @property
    def pieces(self) -> int:
        """How many pieces lie side by side; each is from a board of its own."""
        return self.count

    @property
    def ware(self) -> wares.Ware:
        """What is bought."""
        return wares.board(self.sheet, self.board)

    @property
    def each(self) -> float:
        """Area of one board. [m²]"""
        return self.board.width * self.board.length

    @property
    def net_area(self) -> float:
        """Covered with it. [m²]"""
        return sum(
            part.width * part.height - sum(hole.area for hole in part.holes if hole.is_cut)
            for part, _ in self.faces
        )

    @property
    def left_over(self) -> float:
        """Cut off, openings among it. [m²]"""
        return self.count * self.each - self.net_area

    @property
    def clamps(self) -> int:
        """Clamps or screws round the edges."""
        return sum(
            clamp_count((part.width, part.height) * 2, CLAMP_SPACING) for part, _ in self.faces
        )


@dataclass(frozen=True)
class EnclosureMaterials:
    """What an enclosure is made of.

    Attributes
    ----------
    frame : FramePlan
    rolls : tuple of RollPlan
    boards : tuple of BoardPlan
    liner : LinerPlan or None
    assumptions : tuple of str
        What was taken where the design says nothing.
    """

    frame: FramePlan
    rolls: tuple[RollPlan, ...]
    boards: tuple[BoardPlan, ...]
    liner: LinerPlan | None
    assumptions: tuple[str, ...]

    @property
    def sheets(self) -> tuple[RollPlan | BoardPlan, ...]:
        """All sheets, those from rolls first."""
        return (*self.rolls, *self.boards)
