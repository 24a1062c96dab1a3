"""What the enclosure of a design is made of: its frame cut from bars, its faces cut from rolls.

The ways to do so are in the sibling modules; the list of placed parts is in
`core.materials.reading`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from core.constants import GRAVITY
from core.language import tr
from core.materials import wares
from core.materials.cutting import TIME_LIMIT, Stock, cut_list, cut_list_mixed
from core.materials.frame import FrameGraph, joined, pieces_of
from core.materials.frame_lines import frame_lines
from core.materials.liner import LinerPlan, liner_plan
from core.materials.master import Progress
from core.materials.plans import (
    CLAMP_SPACING,
    Bend,
    BoardPlan,
    EnclosureMaterials,
    FacePart,
    FramePlan,
    RollPlan,
)
from core.materials.sag import own_load, sag
from core.materials.sheets import (
    OVERLAP,
    FaceSheet,
    Hole,
    Piece,
    boards_for,
    cover_face,
)
from core.materials.stock import (
    FRAME_STOCK,
    FRAME_STOCK_UNKNOWN,
    LAYERS,
    LINER_ROLLS,
    SHEET_STOCK,
    Board,
    FrameStock,
    Roll,
    sheet_stock,
)
from core.model import Design, Enclosure, Face, Prices, System

HEM_MEMBERS = 3.0
"""A sheet goes about this many thicknesses of a member round the frame (common practice)."""

OVER_FRAME_MEMBERS = 3.0
"""A clipped liner goes over the bottom rail by so many thicknesses (common practice)."""


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
    hung = hung_mass(design, box)
    return made_of(box, hung, design.prices, design.units, time_limit=time_limit, progress=progress)


def made_of(
    box: Enclosure,
    hung: float,
    prices: Prices,
    units: System = "metric",
    *,
    time_limit: float = TIME_LIMIT,
    progress: Progress | None = None,
) -> EnclosureMaterials:
    """Return what an enclosure is made of, bought at the least cost where prices are known.

    Parameters
    ----------
    box : Enclosure
    hung : float
        Mass that hangs from its frame. [kg]
    prices : Prices
    units : str, optional
        Sheets are sold in sizes that are round in these.
    time_limit, progress : optional
        As for `enclosure_materials`.
    """
    parts = face_parts(box)
    by_sheet = [
        (key, list(found)) for key, found in groupby(sorted(parts, key=_sheet_key), key=_sheet_key)
    ]
    hem = HEM_MEMBERS * box.frame.member
    plans = [
        _sheet_plan(found, sheet_stock(found[0].sheet, units), hem, prices, time_limit)
        for _, found in by_sheet
    ]
    return EnclosureMaterials(
        frame_plan(box, hung, prices, time_limit=time_limit, progress=progress),
        tuple(plan for plan in plans if isinstance(plan, RollPlan)),
        tuple(plan for plan in plans if isinstance(plan, BoardPlan)),
        _liner(box, LINER_ROLLS[units]),
        _assumptions(box, parts),
    )


READ_TIME = 1.0
"""While a design is read, its cut list is searched for no longer than this. [s]"""


def materials_read(
    design: Design, meanwhile: EnclosureMaterials | None = None
) -> EnclosureMaterials | None:
    """Return what `enclosure_materials` does, kept from one reading to the next.

    Frames and sheets depend on the enclosure, on what hangs from it and on prices of stock, so
    most edits of a design leave them as they are.

    Parameters
    ----------
    design : Design
    meanwhile : EnclosureMaterials, optional
        Returned where all would have to be cut anew, which is too slow for a drag.
    """
    box = design.enclosure
    if box is None:
        return None
    hung = round(hung_mass(design, box), 6)
    key = (bare(box), hung, Prices(stock=design.prices.stock), design.units)
    found = _KEPT.get(key)
    if found is None and meanwhile is not None:
        return meanwhile
    if found is None:
        found = _KEPT[key] = made_of(*key, time_limit=READ_TIME)
        for old in list(_KEPT)[:-KEPT_MOST]:
            _KEPT.pop(old, None)
    return found


KEPT_MOST = 64
"""So many enclosures are kept, the latest."""

_KEPT: dict[tuple[Enclosure, float, Prices, System], EnclosureMaterials] = {}


def bare(box: Enclosure) -> Enclosure:
    """Return an enclosure without its place and name, which nothing here depends on."""
    fields = ("width", "depth", "height", "frame", "covers", "linings", "doors", "liner")
    return Enclosure(id="box", name="Box", **{name: getattr(box, name) for name in fields})


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
    prices: Prices | None = None,
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
    prices : Prices, optional
        Of bars; without prices of every length sold the least length is bought.
    time_limit, progress : optional
        As for `core.materials.cutting.cut_list`.
    """
    stock = frame_stock(box)
    graph = frame_graph(box)
    pieces = pieces_of(graph.members, max(stock.lengths), stock.joint)
    sold = list(_bars(box, stock, prices or Prices()))
    cuts = cut_list_mixed(
        pieces.lengths, sold, stock.kerf, time_limit=time_limit, progress=progress
    )
    return FramePlan(graph, pieces, cuts, bends(box, graph, hung), stock)


def frame_stock(box: Enclosure) -> FrameStock:
    """Return what an enclosure's frame is cut from."""
    return FRAME_STOCK.get(box.frame.catalogue or "", FRAME_STOCK_UNKNOWN)


def frame_graph(box: Enclosure) -> FrameGraph:
    """Return an enclosure's frame, jointed but not yet cut."""
    return joined(frame_lines(box), box.frame.member, frame_stock(box).joint)


def _bars(box: Enclosure, stock: FrameStock, prices: Prices) -> Iterator[Stock]:
    """Iterate over the bars that can be had: those sold, and those at hand for nothing."""
    known = {length: prices.of(wares.bar(box, length).key) for length in stock.lengths}
    priced = all(item.price is not None for item in known.values())
    for length, item in known.items():
        yield Stock(length, item.price if priced else None)
        if item.owned >= 1:
            yield Stock(length, 0.0, int(item.owned))


def bends(box: Enclosure, graph: FrameGraph, hung: float) -> tuple[Bend, ...]:
    """Return how every level member of a frame bends under its own weight and what hangs there.

    Parameters
    ----------
    box : Enclosure
    graph : FrameGraph
    hung : float
        Mass that hangs from the top rails, shared by their length. [kg]
    """
    stock = frame_stock(box)
    own = own_load(stock.area(box.frame.member), stock.density)
    moment = stock.second_moment(box.frame.member)
    top = box.height - box.frame.member
    rails = sum(span.length for span in graph.spans if span.start[2] > top)
    share = hung * GRAVITY / rails if rails else 0.0
    found = []
    for span in graph.spans:
        load = own + (share if span.start[2] > top else 0.0)
        found.append(Bend(span, load, sag(load, span.length, stock.stiffness, moment)))
    return tuple(found)


def face_parts(box: Enclosure) -> tuple[FacePart, ...]:
    """Return all that is covered and lined, with doors and cut-outs as holes."""
    covers = (
        FacePart(cover.face, "cover", *box.face_size(cover.face), _holes(box, cover.face),
                 cover.sheet)
        for cover in box.covers
    )  # fmt: skip
    linings = []
    for lining in box.linings:
        size, holes = box.face_size(lining.face), _holes(box, lining.face)
        if lining.area is not None:
            size, holes = (lining.area.width, lining.area.height), ()
        linings.append(FacePart(lining.face, "lining", *size, holes, lining.sheet))
    return (*covers, *linings)


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


def _sheet_plan(
    parts: Sequence[FacePart],
    sold: Sequence[Roll | Board],
    hem: float,
    prices: Prices,
    time_limit: float,
) -> RollPlan | BoardPlan:
    """Return the plan that buys at the least cost, else the least area, in the fewest pieces."""
    plans = [
        _on_boards(parts, size)
        if isinstance(size, Board)
        else _on_rolls(parts, size, hem, time_limit)
        for size in sold
    ]
    known = [prices.of(plan.ware.key) for plan in plans]
    priced = all(item.price is not None for item in known)

    def rank(number: int) -> tuple[int, float, int]:
        plan, item = plans[number], known[number]
        to_buy = max(0.0, plan.count - item.owned)
        each = item.price if priced and item.price is not None else plan.each
        return plan.seams_in_doors, round(to_buy * each, 6), plan.pieces

    return plans[min(range(len(plans)), key=rank)]


def _on_boards(parts: Sequence[FacePart], board: Board) -> BoardPlan:
    faces = tuple((part, boards_for(part.width, part.height, board)) for part in parts)
    return BoardPlan(parts[0].sheet, board, faces)


def _on_rolls(parts: Sequence[FacePart], roll: Roll, hem: float, time_limit: float) -> RollPlan:
    faces = tuple(
        (part, cover_face(part.width, part.height, roll, overlap=OVERLAP,
                          hem=hem if part.use == "cover" else 0.0, holes=part.holes,
                          clamp_spacing=CLAMP_SPACING))
        for part in parts
    )  # fmt: skip
    layers = LAYERS.get(parts[0].sheet.catalogue or "", 1)
    lengths = _lengths([sheet for _, sheet in faces], roll, layers)
    cuts = cut_list(lengths, roll.length, time_limit=time_limit)
    return RollPlan(parts[0].sheet, roll, faces, layers, cuts)


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


def _liner(box: Enclosure, rolls: Sequence[Roll]) -> LinerPlan | None:
    liner = box.liner
    if liner is None:
        return None
    lips = (liner.lip_left, liner.lip_right, liner.lip_front, liner.lip_back)
    over = OVER_FRAME_MEMBERS * box.frame.member if liner.fixing == "clipped" else 0.0
    width, depth = liner.width or box.width, liner.depth or box.depth
    return liner_plan(width, depth, lips, rolls, over_frame=over)


def _assumptions(box: Enclosure, parts: Iterable[FacePart]) -> tuple[str, ...]:
    taken = [tr("Lengths of bars and sizes of rolls and boards are those sold widely.")]
    if (box.frame.catalogue or "") not in FRAME_STOCK:
        taken.append(tr("The frame's stock is not known: taken as softwood."))
    if any((part.sheet.catalogue or "") not in SHEET_STOCK for part in parts):
        taken.append(tr("A sheet's sizes are not known: taken as film from rolls."))
    return tuple(taken)
