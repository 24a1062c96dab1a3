"""What the enclosure of a design is made of: its frame cut from bars, its faces cut from rolls.

The ways to do so are in the sibling modules; the list of placed parts is in
`core.materials.reading`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from core.constants import GRAVITY
from core.language import tr
from core.materials.cutting import TIME_LIMIT, CutPlan, Stock, cut_list, cut_list_mixed
from core.materials.frame import FrameGraph, Pieces, Span, joined, pieces_of
from core.materials.frame_lines import frame_lines
from core.materials.liner import LinerPlan, liner_plan
from core.materials.master import Progress
from core.materials.sag import SAG_LIMIT, own_load, sag
from core.materials.sheets import (
    OVERLAP,
    FaceSheet,
    Hole,
    Piece,
    boards_for,
    clamp_count,
    cover_face,
)
from core.materials.stock import (
    FRAME_STOCK,
    FRAME_STOCK_UNKNOWN,
    LAYERS,
    LINER_ROLLS,
    SHEET_STOCK,
    SHEET_STOCK_UNKNOWN,
    Board,
    FrameStock,
    Roll,
)
from core.model import Design, Enclosure, Face, Sheet

HEM_MEMBERS = 3.0
"""A sheet goes about this many thicknesses of a member round the frame (common practice)."""

OVER_FRAME_MEMBERS = 3.0
"""A clipped liner goes over the bottom rail by so many thicknesses (common practice)."""

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
        kinds = dict(self.graph.kinds)
        if self.graph.brackets:
            kinds = {"bracket": self.graph.brackets} | {
                kind: count for kind, count in kinds.items() if kind == "brace clamp"
            }
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
    def rolls(self) -> int:
        """How many rolls to buy."""
        return self.cuts.bars

    @property
    def net_area(self) -> float:
        """Covered with it, all layers. [m²]"""
        return self.layers * sum(sheet.net_area for _, sheet in self.faces)

    @property
    def left_over(self) -> float:
        """Bought, but neither on a face nor on a door. [m²]"""
        doors = sum(piece.area for _, sheet in self.faces for piece in sheet.door_pieces)
        bought = self.rolls * self.roll.width * self.roll.length
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

    @property
    def boards(self) -> int:
        """How many boards to buy."""
        return sum(count for _, count in self.faces)

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


def enclosure_materials(
    design: Design, *, time_limit: float = TIME_LIMIT, progress: Progress | None = None
) -> EnclosureMaterials | None:
    """Return what the design's enclosure is made of; None where it has none.

    Parameters
    ----------
    design : Design
    time_limit : float, optional
        For the cut list of the frame. [s]
    progress : callable, optional
        Called with how much of that time is spent, 0 to 1.
    """
    box = design.enclosure
    if box is None:
        return None
    parts = face_parts(box)
    by_sheet = [
        (key, list(found)) for key, found in groupby(sorted(parts, key=_sheet_key), key=_sheet_key)
    ]
    hem = HEM_MEMBERS * box.frame.member
    plans = [_sheet_plan(found, hem) for _, found in by_sheet]
    return EnclosureMaterials(
        frame_plan(box, hung_mass(design, box), time_limit=time_limit, progress=progress),
        tuple(plan for plan in plans if isinstance(plan, RollPlan)),
        tuple(plan for plan in plans if isinstance(plan, BoardPlan)),
        _liner(box),
        _assumptions(box, parts),
    )


def hung_mass(design: Design, box: Enclosure) -> float:
    """Return the mass of what hangs from the enclosure's frame. [kg]"""
    return sum(
        part.own_mass
        for part in design.parts
        if part.place.host == box.id and part.place.fixing == "hung"
    )


def frame_plan(
    box: Enclosure,
    hung: float = 0.0,
    *,
    time_limit: float = TIME_LIMIT,
    progress: Progress | None = None,
) -> FramePlan:
    """Return the frame of an enclosure, cut from the stock lengths that waste least.

    Parameters
    ----------
    box : Enclosure
    hung : float, optional
        Mass that hangs from the top rails, shared by their length. [kg]
    time_limit, progress : optional
        As for `core.materials.cutting.cut_list`.
    """
    stock = FRAME_STOCK.get(box.frame.catalogue or "", FRAME_STOCK_UNKNOWN)
    graph = joined(frame_lines(box), box.frame.member, stock.joint)
    pieces = pieces_of(graph.members, max(stock.lengths), stock.joint)
    sold = [Stock(length) for length in stock.lengths]
    cuts = cut_list_mixed(
        pieces.lengths, sold, stock.kerf, time_limit=time_limit, progress=progress
    )
    return FramePlan(graph, pieces, cuts, _bends(box, graph, stock, hung), stock)


def _bends(box: Enclosure, graph: FrameGraph, stock: FrameStock, hung: float) -> tuple[Bend, ...]:
    own = own_load(stock.area(box.frame.member), stock.density)
    moment = stock.second_moment(box.frame.member)
    top = box.height - box.frame.member
    rails = sum(span.length for span in graph.spans if span.start[2] > top)
    share = hung * GRAVITY / rails if rails else 0.0
    bends = []
    for span in graph.spans:
        load = own + (share if span.start[2] > top else 0.0)
        bends.append(Bend(span, load, sag(load, span.length, stock.stiffness, moment)))
    return tuple(bends)


def face_parts(box: Enclosure) -> tuple[FacePart, ...]:
    """Return all that is covered and lined, with doors and cut-outs as holes."""
    covers = (
        FacePart(cover.face, "cover", *_face_size(box, cover.face), _holes(box, cover.face),
                 cover.sheet)
        for cover in box.covers
    )  # fmt: skip
    linings = []
    for lining in box.linings:
        size, holes = _face_size(box, lining.face), _holes(box, lining.face)
        if lining.area is not None:
            size, holes = (lining.area.width, lining.area.height), ()
        linings.append(FacePart(lining.face, "lining", *size, holes, lining.sheet))
    return (*covers, *linings)


def _face_size(box: Enclosure, face: Face) -> tuple[float, float]:
    if face in ("front", "back"):
        return box.width, box.height
    return (box.depth, box.height) if face in ("left", "right") else (box.width, box.depth)


def _holes(box: Enclosure, face: Face) -> tuple[Hole, ...]:
    doors = [
        Hole(door.x, door.z, door.width, door.height, door.style, door.leaves)
        for door in box.doors
        if door.face == face
    ]
    cover = box.cover(face)
    cutouts = cover.cutouts if cover else ()
    return (*doors, *(Hole(cut.x, cut.y, cut.width, cut.height) for cut in cutouts))


def _sheet_key(part: FacePart) -> tuple[str, str]:
    return part.sheet.catalogue or "", part.sheet.material


def _sheet_plan(parts: Sequence[FacePart], hem: float) -> RollPlan | BoardPlan:
    """Return the plan that buys the least area of a sheet, then in the fewest pieces."""
    sold = SHEET_STOCK.get(parts[0].sheet.catalogue or "", SHEET_STOCK_UNKNOWN)
    boards = [_on_boards(parts, size) for size in sold if isinstance(size, Board)]
    if boards:
        return min(boards, key=lambda p: (p.boards * p.board.width * p.board.length, p.boards))
    rolls = [_on_rolls(parts, size, hem) for size in sold if isinstance(size, Roll)]
    return min(rolls, key=_roll_rank)


def _roll_rank(plan: RollPlan) -> tuple[int, float, int]:
    in_doors = sum(sheet.strips.seams_in_doors for _, sheet in plan.faces)
    bought = plan.rolls * plan.roll.width * plan.roll.length
    return in_doors, round(bought, 6), sum(sheet.strips.count for _, sheet in plan.faces)


def _on_boards(parts: Sequence[FacePart], board: Board) -> BoardPlan:
    faces = tuple((part, boards_for(part.width, part.height, board)) for part in parts)
    return BoardPlan(parts[0].sheet, board, faces)


def _on_rolls(parts: Sequence[FacePart], roll: Roll, hem: float) -> RollPlan:
    faces = tuple(
        (part, cover_face(part.width, part.height, roll, overlap=OVERLAP,
                          hem=hem if part.use == "cover" else 0.0, holes=part.holes,
                          clamp_spacing=CLAMP_SPACING))
        for part in parts
    )  # fmt: skip
    layers = LAYERS.get(parts[0].sheet.catalogue or "", 1)
    lengths = _lengths([sheet for _, sheet in faces], roll, layers)
    return RollPlan(parts[0].sheet, roll, faces, layers, cut_list(lengths, roll.length))


def _lengths(faces: Iterable[FaceSheet], roll: Roll, layers: int) -> Mapping[float, int]:
    """Return what is cut off the rolls; strips longer than a roll are joined of equal parts."""
    found: dict[float, int] = {}
    for face in faces:
        doors = [(_door_length(piece, roll), 1) for piece in face.door_pieces]
        for length, count in ((face.strips.length, face.strips.count), *doors):
            parts = max(1, -int(-(length - 1e-9) // roll.length))
            piece = round(length / parts, 4)
            found[piece] = found.get(piece, 0) + parts * count * layers
    return found


def _door_length(piece: Piece, roll: Roll) -> float:
    """Return what a door piece takes of a roll: laid across if it fits, else along."""
    sides = sorted((piece.width, piece.length))
    if sides[1] <= roll.width:
        return sides[0]
    return sides[1] if sides[0] <= roll.width else sides[1] * -int(-sides[0] // roll.width)


def _liner(box: Enclosure) -> LinerPlan | None:
    liner = box.liner
    if liner is None:
        return None
    lips = (liner.lip_left, liner.lip_right, liner.lip_front, liner.lip_back)
    over = OVER_FRAME_MEMBERS * box.frame.member if liner.fixing == "clipped" else 0.0
    width, depth = liner.width or box.width, liner.depth or box.depth
    return liner_plan(width, depth, lips, LINER_ROLLS, over_frame=over)


def _assumptions(box: Enclosure, parts: Iterable[FacePart]) -> tuple[str, ...]:
    taken = [tr("Lengths of bars and sizes of rolls and boards are those sold widely.")]
    if (box.frame.catalogue or "") not in FRAME_STOCK:
        taken.append(tr("The frame's stock is not known: taken as softwood."))
    if any((part.sheet.catalogue or "") not in SHEET_STOCK for part in parts):
        taken.append(tr("A sheet's sizes are not known: taken as film from rolls."))
    return tuple(taken)
