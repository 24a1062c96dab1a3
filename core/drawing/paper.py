"""Drawings in paper millimetres: lines, arcs and words with their colours, ready for any writer.

Also turns marks of a view, which are in metres, into these; file formats belong to the writers in
`core.summary`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from core.drawing.ink import PAPER
from core.drawing.marks import Arc, Dot, Mark, Path, Pen, Point, Words

PX = 0.25
"""One px of a pen or of type on paper. [mm]"""
_MIDDLE = 0.35
"""How far below its middle the foot of a line of type lies, as a share of its size. [1]"""


@dataclass(frozen=True)
class Shape:
    """Straight lines; x runs right and y down from the page's top left corner. [mm]

    ``colour`` None: no outline; ``fill`` None: no fill; ``radius`` rounds the corners.
    """

    points: tuple[Point, ...]
    colour: str | None = PAPER["ink"]
    width: float = PX
    dash: tuple[float, ...] = ()
    fill: str | None = None
    closed: bool = False
    radius: float = 0.0


@dataclass(frozen=True)
class Curve:
    """Part of a circle; angles in degrees, anticlockwise as seen, from the right. [mm]"""

    centre: Point
    radius: float
    start: float = 0.0
    span: float = 360.0
    colour: str | None = PAPER["ink"]
    width: float = PX
    dash: tuple[float, ...] = ()
    fill: str | None = None


@dataclass(frozen=True)
class Text:
    """A line of type that starts, is centred or ends at ``at``, the foot of its letters. [mm]

    ``turn`` is anticlockwise about ``at``, in degrees; ``halo`` the colour round the letters.
    """

    at: Point
    text: str
    size: float = 11 * PX
    colour: str = PAPER["ink"]
    bold: bool = False
    anchor: Literal["left", "centre", "right"] = "left"
    turn: float = 0.0
    halo: str | None = None


@dataclass(frozen=True)
class Clip:
    """Items of which only what lies within a rectangle shows. [mm]"""

    corner: Point
    width: float
    height: float
    items: tuple[Item, ...]


Item = Shape | Curve | Text | Clip


LETTER = 0.62
"""About how wide a letter is, as a share of the size of type. [1]"""


@dataclass(frozen=True)
class Drawing:
    """Items laid out from (0, 0) at the top left corner of a piece of paper. [mm]

    ``title`` says what it shows; ``scale`` is the denominator, 25 for 1:25; None: not to scale.
    """

    items: tuple[Item, ...]
    width: float
    height: float
    title: str
    scale: int | None = None


@dataclass(frozen=True)
class Frame:
    """Where a view lies on the page: ``at`` is the page's place of ``origin`` in the view.

    ``scale`` is the denominator: 25 for 1:25.
    """

    at: Point
    origin: Point
    scale: float

    def point(self, place: Point) -> Point:
        """Return a point of the view [m] on the page [mm]."""
        k = self.size(1.0)
        return (
            self.at[0] + (place[0] - self.origin[0]) * k,
            self.at[1] - (place[1] - self.origin[1]) * k,
        )

    def size(self, length: float) -> float:
        """Return a length of the view [m] on the page [mm]."""
        return 1000 * length / self.scale

    def items(self, marks: Iterable[Mark]) -> tuple[Item, ...]:
        """Return marks as items on the page."""
        return tuple(self._item(mark) for mark in marks)

    def _item(self, mark: Mark) -> Item:
        if isinstance(mark, Path):
            return self._path(mark)
        if isinstance(mark, Arc):
            centre, radius = self.point(mark.centre), self.size(mark.radius)
            stroke = _stroke(mark.pen)
            return Curve(centre, radius, mark.start, mark.span, *stroke, _ink(mark.fill))
        if isinstance(mark, Dot):
            return self._dot(mark)
        return self._words(mark)

    def _path(self, mark: Path) -> Shape:
        points = tuple([self.point(place) for place in mark.points])
        stroke = _stroke(mark.pen)
        return Shape(points, *stroke, _ink(mark.fill), mark.closed, mark.radius * PX)

    def _dot(self, mark: Dot) -> Shape:
        x, y = self.point(mark.at)
        half = mark.size * PX / 2
        return rectangle(x - half, y - half, 2 * half, 2 * half, None, fill=PAPER[mark.fill])

    def _words(self, mark: Words) -> Text:
        x, y = self.point(mark.at)
        size = mark.size * PX
        drop = _MIDDLE * size
        foot = (x + drop, y) if mark.turn == 90 else (x, y + drop)
        halo = PAPER["sheet"] if mark.halo else None
        colour = PAPER[mark.role]
        return Text(foot, mark.text, size, colour, mark.bold, mark.anchor, mark.turn, halo)


def _stroke(pen: Pen | None) -> tuple[str | None, float, tuple[float, ...]]:
    if pen is None:
        return None, 0.0, ()
    return PAPER[pen.role], pen.width * PX, tuple(length * PX for length in pen.dash)


def _ink(role: str | None) -> str | None:
    return PAPER[role] if role else None


def rectangle(
    x: float,
    y: float,
    width: float,
    height: float,
    colour: str | None = PAPER["ink"],
    line: float = PX,
    *,
    fill: str | None = None,
    radius: float = 0.0,
) -> Shape:
    """Return a rectangle from its top left corner. [mm]"""
    points = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Shape(points, colour, line, (), fill, True, radius)


def moved(item: Item, dx: float, dy: float) -> Item:
    """Return an item shifted on the page. [mm]"""
    if isinstance(item, Shape):
        return replace(item, points=tuple((x + dx, y + dy) for x, y in item.points))
    if isinstance(item, Curve):
        return replace(item, centre=(item.centre[0] + dx, item.centre[1] + dy))
    if isinstance(item, Text):
        return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
    inner = tuple(moved(one, dx, dy) for one in item.items)
    return replace(item, corner=(item.corner[0] + dx, item.corner[1] + dy), items=inner)
