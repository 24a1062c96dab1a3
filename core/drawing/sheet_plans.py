"""Sheet plans to scale: every covered or lined face with its strips, doors and clamps; the liner.

How a face is covered is decided in `core.materials.sheets`, how a liner is folded in
`core.materials.liner`; lengths to cut off a roll are drawn in `core.drawing.cutting`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from core.drawing.dimensions import dimension_marks
from core.drawing.ink import PAPER
from core.drawing.marks import Dot, Mark, Path, Pen, Words
from core.drawing.paper import LETTER, PX, Drawing, Frame, Item, Text
from core.drawing.shapes import EDGE, HAIR, HIDDEN, INK, INK_FINE, box_mark, line
from core.drawing.third_angle import scale_words, usual_scales
from core.geometry import Rectangle
from core.language import tr
from core.materials.liner import LinerPlan
from core.materials.plans import BoardPlan, EnclosureMaterials, FacePart, RollPlan
from core.materials.sheets import CURTAIN_OVERLAP, FaceSheet, Hole, boards_across
from core.materials.stock import Board
from core.units import show

TITLE, MARGIN, BESIDE, APART = 7.0, 12.0, 5.0, 7.5
"""Height of the title, room round a face for its dimensions, and where these run: whole sides, and
what they are divided into, whose numbers may stand between. [mm]"""
_TICK = 0.7
_TYPE = 11 * PX
_OUTLINE = Pen("ink", 1.5)
_ZIP = Pen("ink", 2.4)
_CURTAIN = Pen("ink", 1.0, (6, 3))
_CUT = Pen("cover", 0.9, (6, 2))
_FOLD = Pen("ink", 0.8, (8, 3, 2, 3))


def sheet_drawings(
    made: EnclosureMaterials, width: float, height: float, system: str
) -> tuple[Drawing, ...]:
    """Return every face that is covered or lined, then the floor liner.

    Parameters
    ----------
    made : EnclosureMaterials
    width, height : float
        Each drawing is at the largest usual scale at which it fits within. [mm]
    system : str
        Units in which lengths are told.
    """
    found = [
        face_drawing(plan, part, sheet, width, height, system)
        for plan in made.rolls
        for part, sheet in plan.faces
    ]
    found += [
        board_drawing(plan, part, width, height, system)
        for plan in made.boards
        for part, _ in plan.faces
    ]
    if made.liner is not None:
        found.append(liner_drawing(made.liner, width, height, system))
    return tuple(found)


def face_drawing(
    plan: RollPlan, part: FacePart, sheet: FaceSheet, width: float, height: float, system: str
) -> Drawing:
    """Return a face as it is covered with strips from a roll. [mm]"""
    hem = _hem(sheet)
    strips = sheet.strips
    area = Rectangle(-hem, -hem, part.width + hem, part.height + hem)
    words = _strip_words(plan, part, sheet, system)
    marks = (
        *_strips(sheet, hem),
        box_mark(Rectangle(0, 0, part.width, part.height), _OUTLINE),
        *(mark for hole in part.holes for mark in _hole(hole)),
        *_clamps(part.width, part.height, sheet.clamps),
    )
    cuts = (0.0, *strips.seams, part.width if strips.direction == "up" else part.height)
    return _laid_out(marks, area, part, cuts, strips.direction == "up", words, width, height,
                     system)  # fmt: skip


def board_drawing(
    plan: BoardPlan, part: FacePart, width: float, height: float, system: str
) -> Drawing:
    """Return a face as it is covered with rigid boards edge to edge. [mm]"""
    area = Rectangle(0.0, 0.0, part.width, part.height)
    across, up = boards_across(part.width, part.height, plan.board)
    xs = _steps(part.width, across)
    marks = (
        *(line(x, 0.0, x, part.height, INK_FINE) for x in xs[1:-1]),
        *(line(0.0, y, part.width, y, INK_FINE) for y in _steps(part.height, up)[1:-1]),
        box_mark(area, _OUTLINE),
        *(mark for hole in part.holes for mark in _hole(hole)),
    )
    words = tr("{face}: {sheet}, boards {size}").format(
        face=face_title(part), sheet=part.sheet.material, size=_size(plan.board, system)
    )
    return _laid_out(marks, area, part, xs, True, words, width, height, system)


def liner_drawing(plan: LinerPlan, width: float, height: float, system: str) -> Drawing:
    """Return the blank of the floor liner with its folds; corners are folded over, not cut. [mm]"""
    left, right, front, back = plan.folds
    blank = Rectangle(0.0, 0.0, plan.blank.width, plan.blank.depth)
    floor = Rectangle(left, front, blank.x1 - right, blank.y1 - back)
    corners = (
        ((0.0, 0.0), (floor.x0, floor.y0)), ((blank.x1, 0.0), (floor.x1, floor.y0)),
        ((0.0, blank.y1), (floor.x0, floor.y1)), ((blank.x1, blank.y1), (floor.x1, floor.y1)),
    )  # fmt: skip
    marks: tuple[Mark, ...] = (
        box_mark(blank, _OUTLINE),
        *(line(x, 0.0, x, blank.y1, _FOLD) for x in (floor.x0, floor.x1)),
        *(line(0.0, y, blank.x1, y, _FOLD) for y in (floor.y0, floor.y1)),
        *(Path(corner, HIDDEN) for corner in corners),
        Words((blank.x1 / 2, blank.y1 / 2), tr("floor"), 11.0, "ink2"),
    )
    words = tr("Floor liner, seen from above; fold the corners over, do not cut them")
    cuts = (0.0, floor.x0, floor.x1, blank.x1)
    return _laid_out(marks, blank, blank, cuts, True, words, width, height, system)


def face_title(part: FacePart) -> str:
    """Return what a covered or lined face is called."""
    face = {
        "left": tr("Left"), "right": tr("Right"), "front": tr("Front"), "back": tr("Back"),
        "bottom": tr("Bottom"), "top": tr("Top"),
    }[part.face]  # fmt: skip
    use = tr("cover") if part.use == "cover" else tr("lining")
    return tr("{face}, {use}").format(face=face, use=use)


def _strip_words(plan: RollPlan, part: FacePart, sheet: FaceSheet, system: str) -> str:
    strips = sheet.strips
    way = tr("upright") if strips.direction == "up" else tr("level")
    if part.face in ("bottom", "top"):
        way = tr("front to back") if strips.direction == "up" else tr("left to right")
    text = (
        tr("{face}: {sheet}, 1 strip {way}, {length} long, from a roll {width} wide")
        if strips.count == 1
        else tr("{face}: {sheet}, {count} strips {way}, {length} long, from a roll {width} wide")
    )
    layers = tr(", {count} layers").format(count=plan.layers) if plan.layers > 1 else ""
    return text.format(
        face=face_title(part), sheet=part.sheet.material, count=strips.count, way=way,
        length=show(strips.length, "length", system, fine=True),
        width=show(plan.roll.width, "length", system),
    ) + layers  # fmt: skip


def _size(board: Board, system: str) -> str:
    return f"{show(board.width, 'length', system)} × {show(board.length, 'length', system)}"


# Marks -------------------------------------------------------------------------------------------


def _hem(sheet: FaceSheet) -> float:
    """Return what goes round the frame at each edge, as its strips are longer. [m]"""
    along = sheet.height if sheet.strips.direction == "up" else sheet.width
    return max(0.0, (sheet.strips.length - along) / 2)


def _strips(sheet: FaceSheet, hem: float) -> Iterator[Mark]:
    """Iterate over the sheet with what goes round the frame, and where strips overlap."""
    strips, half = sheet.strips, sheet.strips.overlap / 2
    yield box_mark(Rectangle(-hem, -hem, sheet.width + hem, sheet.height + hem), _CUT)
    for seam in strips.seams:
        if strips.direction == "up":
            band = Rectangle(seam - half, -hem, seam + half, sheet.height + hem)
        else:
            band = Rectangle(-hem, seam - half, sheet.width + hem, seam + half)
        yield box_mark(band, HAIR, "wall")


def _hole(hole: Hole) -> Iterator[Mark]:
    x0, y0, x1, y1 = hole.x, hole.y, hole.x + hole.width, hole.y + hole.height
    area = Rectangle(x0, y0, x1, y1)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    if hole.style == "zip":
        yield from (line(x, y0, x, y1, _ZIP) for x in (x0, x1))
        yield line(x0, y1, x1, y1, HIDDEN)
        yield Words(middle, tr("zips"), 11.0, "ink2", halo=True)
        return
    yield box_mark(area, INK)
    if hole.style == "curtain":
        by = CURTAIN_OVERLAP
        yield box_mark(Rectangle(x0 - by, y0, x1 + by, y1 + by), _CURTAIN)
        yield Words(middle, tr("curtain over it"), 11.0, "ink2", halo=True)
    elif hole.style == "leaf":
        leaf = hole.width / hole.leaves
        yield from (line(x0 + k * leaf, y0, x0 + k * leaf, y1, INK) for k in range(1, hole.leaves))
        words = tr("leaf") if hole.leaves == 1 else tr("two leaves")
        yield Words(middle, words, 11.0, "ink2", halo=True)
    else:
        yield from (line(x0, a, x1, b, EDGE) for a, b in ((y0, y1), (y1, y0)))


def _clamps(width: float, height: float, count: int) -> Iterator[Mark]:
    """Iterate over the clamps of a face, evenly spaced round its edges."""
    edges = 2 * (width + height)
    share = [max(1, round(count * edge / edges)) for edge in (width, height)]
    for k in range(share[0]):
        x = width * k / share[0]
        yield from (Dot((x, 0.0), 3.0), Dot((width - x, height), 3.0))
    for k in range(share[1]):
        y = height * k / share[1]
        yield from (Dot((0.0, height - y), 3.0), Dot((width, y), 3.0))


def _steps(length: float, step: float) -> tuple[float, ...]:
    """Return 0, every step, and the length. [m]"""
    count = math.ceil(length / step - 1e-9)
    return (*(k * step for k in range(count)), length)


# On paper ----------------------------------------------------------------------------------------


def _laid_out(
    marks: Sequence[Mark],
    area: Rectangle,
    part: FacePart | Rectangle,
    cuts: Sequence[float],
    across: bool,
    words: str,
    width: float,
    height: float,
    system: str,
) -> Drawing:
    """Return marks with dimensions under a title, at the largest usual scale that fits. [mm]"""
    room = (width - 2 * MARGIN, height - TITLE - 2 * MARGIN)
    scale = _scale(area, room, system)
    tall = 1000 * area.height / scale
    frame = Frame((MARGIN, TITLE + MARGIN + tall), (area.x0, area.y0), scale)
    dimensions = _dimensions(part, area, cuts, across, scale, system)
    told = tr("{what} · {scale}").format(what=words, scale=scale_words(scale, system))
    items: tuple[Item, ...] = (
        Text((0.0, _TYPE + 0.5), told, _TYPE, PAPER["ink"], True),
        *frame.items((*marks, *dimensions)),
    )
    return Drawing(items, width, TITLE + 2 * MARGIN + tall, words, scale)


def _scale(area: Rectangle, room: tuple[float, float], system: str) -> int:
    needed = max(1000 * area.width / room[0], 1000 * area.height / room[1])
    return next((one for one in usual_scales(system) if one >= needed), math.ceil(needed))


def _dimensions(
    part: FacePart | Rectangle,
    area: Rectangle,
    cuts: Sequence[float],
    across: bool,
    scale: int,
    system: str,
) -> Iterator[Mark]:
    """Iterate over the face's width below and height at the right; where it is divided opposite."""
    mm = scale / 1000
    tick, beside = _TICK * mm, BESIDE * mm

    def measured(a: tuple[float, float], b: tuple[float, float], offset: float) -> tuple[Mark, ...]:
        length = math.dist(a, b)
        text = show(length, "length", system, fine=True)
        tight = length / mm < LETTER * _TYPE * len(text)
        return dimension_marks(a, b, offset, text, tick=tick, below=3.5 * mm if tight else 0.0)

    yield from measured((0.0, area.y0), (part.width, area.y0), -beside)
    yield from measured((area.x1, 0.0), (area.x1, part.height), beside)
    for a, b in pairwise(cuts) if len(cuts) > 2 else ():
        if across:
            yield from measured((a, area.y1), (b, area.y1), APART * mm)
        else:
            yield from measured((area.x0, a), (area.x0, b), -APART * mm)
