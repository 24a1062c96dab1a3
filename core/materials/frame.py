"""An enclosure's frame as a graph: members between nodes, fittings at them, lengths to cut.

Where the members run is in `core.materials.frame_lines`, what stock they are of in
`core.materials.stock`, how they bend in `core.materials.sag`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.arguments import positive
from core.geometry import Vector
from core.materials.frame_lines import Line, Role
from core.materials.stock import COUPLER_STOP, SOCKET_STOP, Joint

Way = tuple[int, int]
"""An axis (0 x, 1 y, 2 z) and a direction along it (1 or -1)."""

DIGITS = 4
"""Cut lengths are told to a tenth of a millimetre."""

_TOUCH = 1e-6
_UP = 2


@dataclass(frozen=True)
class Member:
    """One piece of the frame.

    Attributes
    ----------
    role : str
    start, end : tuple of float
        The nodes it runs between, or for a brace the corners of its gap. [m]
    cut : float
        How long it is cut. [m]
    """

    role: Role
    start: Vector
    end: Vector
    cut: float


@dataclass(frozen=True)
class Fitting:
    """What joins the members that meet at a node.

    Attributes
    ----------
    kind : str
        ``"elbow"``, ``"tee"``, ``"corner"``, ``"cross"``, ``"side tee"``, ``"five-way"``,
        ``"six-way"``, ``"straight"`` or ``"end"``; ``"brace clamp"`` at the end of a brace.
    at : tuple of float
        [m]
    ways : tuple of Way
        Where members leave it; empty for a brace clamp.
    """

    kind: str
    at: Vector
    ways: tuple[Way, ...]


@dataclass(frozen=True)
class Span:
    """A part of a level member between two things that hold it up. [m]"""

    role: Role
    start: Vector
    end: Vector

    @property
    def length(self) -> float:
        """[m]"""
        return math.dist(self.start, self.end)


@dataclass(frozen=True)
class FrameGraph:
    """A jointed frame.

    Attributes
    ----------
    members : tuple of Member
    fittings : tuple of Fitting
    spans : tuple of Span
        Of all level members above the floor.
    brackets : int
        Ends that stop against the side of another member, each held by an angle bracket; 0 where
        fittings do.
    """

    members: tuple[Member, ...]
    fittings: tuple[Fitting, ...]
    spans: tuple[Span, ...]
    brackets: int

    @property
    def kinds(self) -> dict[str, int]:
        """How many fittings of each kind there are."""
        return dict(Counter(fitting.kind for fitting in self.fittings))

    @property
    def fittings_of_stock(self) -> dict[str, int]:
        """What joins the members, by kind; of butted members brackets in place of fittings."""
        if not self.brackets:
            return self.kinds
        clamps = self.kinds.get("brace clamp", 0)
        return {"bracket": self.brackets} | ({"brace clamp": clamps} if clamps else {})

    @property
    def length(self) -> float:
        """All cut lengths together. [m]"""
        return sum(member.cut for member in self.members)


@dataclass(frozen=True)
class Pieces:
    """What is sawn for a frame.

    Attributes
    ----------
    lengths : dict of float to int
        [m]
    couplers : int
        Straight joints of members that are longer than the longest bar.
    spliced : tuple of Member
        Those members.
    roles : dict of float to tuple of str
        What pieces of each length are for.
    """

    lengths: dict[float, int]
    couplers: int
    spliced: tuple[Member, ...]
    roles: dict[float, tuple[Role, ...]]


def joined(lines: Sequence[Line], member: float, joint: Joint) -> FrameGraph:
    """Return lines as a jointed frame.

    In sockets and on plugs members end at every node; butted, a member that passes a node is not
    cut there, uprights pass corners, and what stops there ends at its side.

    Parameters
    ----------
    lines : sequence of Line
        Along the axes, but for braces.
    member : float
        Thickness of the members. [m]
    joint : Joint
    """
    positive("Frame", "member", member, "m")
    straight = [line for line in lines if line.role != "brace"]
    on_line = {line: _nodes_on(line, straight) for line in straight}
    ways = _ways(on_line)
    members: list[Member] = []
    for line, nodes in on_line.items():
        parts = [(nodes[0], nodes[-1])] if joint == "butt" else pairwise(nodes)
        for start, end in parts:
            short = sum(_allowance(ways[n], _axis(line), member, joint) for n in (start, end))
            members.append(Member(line.role, start, end, _cut(math.dist(start, end) - short)))
    braces = [line for line in lines if line.role == "brace"]
    members += [Member("brace", b.start, b.end, _cut(math.dist(b.start, b.end))) for b in braces]
    spans = [span for line, nodes in on_line.items() for span in _spans(line, nodes, ways)]
    stops = sum(_passing(ways[n[i]]) != _axis(a) for a, n in on_line.items() for i in (0, -1))
    return FrameGraph(
        tuple(members),
        (*_fittings(ways), *_clamps(braces)),
        tuple(spans),
        stops if joint == "butt" else 0,
    )


def pieces_of(members: Iterable[Member], longest: float, joint: Joint) -> Pieces:
    """Return the pieces to saw; members longer than the longest bar are joined of equal parts.

    Parameters
    ----------
    members : iterable of Member
    longest : float
        The longest bar that can be bought. [m]
    joint : Joint
        A coupler takes its ridge out of the length of members in sockets.
    """
    positive("Frame stock", "length", longest, "m")
    lengths: Counter[float] = Counter()
    roles: dict[float, dict[Role, None]] = {}
    spliced: list[Member] = []
    couplers = 0
    ridge = COUPLER_STOP if joint == "socket" else 0.0
    for member in members:
        parts = max(1, math.ceil(member.cut / longest - _TOUCH))
        piece = _cut((member.cut - (parts - 1) * ridge) / parts)
        lengths[piece] += parts
        roles.setdefault(piece, {})[member.role] = None
        couplers += parts - 1
        if parts > 1:
            spliced.append(member)
    return Pieces(
        dict(sorted(lengths.items(), reverse=True)),
        couplers,
        tuple(spliced),
        {length: tuple(found) for length, found in roles.items()},
    )


def _cut(length: float) -> float:
    return round(length, DIGITS)


def _node(point: Vector) -> Vector:
    return (round(point[0], 6), round(point[1], 6), round(point[2], 6))


def _axis(line: Line) -> int:
    return max(range(3), key=lambda axis: abs(line.end[axis] - line.start[axis]))


def _nodes_on(line: Line, lines: Sequence[Line]) -> list[Vector]:
    """Return the ends of a line and where others end on it, in order."""
    axis = _axis(line)
    ends = {_node(point) for other in lines for point in (other.start, other.end)}
    return sorted((point for point in ends if _lies_on(point, line, axis)), key=lambda p: p[axis])


def _lies_on(point: Vector, line: Line, axis: int) -> bool:
    beside = any(abs(point[i] - line.start[i]) > _TOUCH for i in range(3) if i != axis)
    return not beside and line.start[axis] - _TOUCH <= point[axis] <= line.end[axis] + _TOUCH


def _ways(on_line: dict[Line, list[Vector]]) -> dict[Vector, frozenset[Way]]:
    ways: dict[Vector, set[Way]] = {}
    for line, nodes in on_line.items():
        for before, after in pairwise(nodes):
            ways.setdefault(before, set()).add((_axis(line), 1))
            ways.setdefault(after, set()).add((_axis(line), -1))
    return {node: frozenset(found) for node, found in ways.items()}


def _through(ways: Iterable[Way]) -> list[int]:
    """Return the axes along which members leave on both sides."""
    axes = Counter(axis for axis, _ in ways)
    return [axis for axis, count in axes.items() if count == 2]


def _passing(ways: frozenset[Way]) -> int:
    """Return the axis of the member that passes a butted node: a straight one, else an upright."""
    straight = _through(ways)
    axes = {axis for axis, _ in ways}
    return min(straight) if straight else _UP if _UP in axes else min(axes)


def _allowance(ways: frozenset[Way], axis: int, member: float, joint: Joint) -> float:
    """Return what a member is shorter at a node than from its middle, or longer if negative. [m]"""
    if joint == "butt":
        return -member / 2 if _passing(ways) == axis else member / 2
    return member / 2 + (SOCKET_STOP if joint == "socket" else 0.0)


def _fittings(ways: dict[Vector, frozenset[Way]]) -> Iterator[Fitting]:
    for node, found in sorted(ways.items()):
        yield Fitting(fitting_kind(found), node, tuple(sorted(found)))


def _clamps(braces: Iterable[Line]) -> Iterator[Fitting]:
    for brace in braces:
        yield from (Fitting("brace clamp", _node(at), ()) for at in (brace.start, brace.end))


def fitting_kind(ways: Iterable[Way]) -> str:
    """Return what kind of fitting joins members that leave a node in these ways.

    Examples
    --------
    >>> fitting_kind([(0, 1), (1, 1), (2, 1)]), fitting_kind([(0, 1), (0, -1), (2, 1)])
    ('corner', 'tee')
    """
    found = set(ways)
    straight = len(_through(found))
    kinds = {
        (1, 0): "end",
        (2, 1): "straight",
        (2, 0): "elbow",
        (3, 1): "tee",
        (3, 0): "corner",
        (4, 2): "cross",
        (4, 1): "side tee",
        (5, 2): "five-way",
        (6, 3): "six-way",
    }
    return kinds[len(found), straight]


def _spans(line: Line, nodes: Sequence[Vector], ways: dict[Vector, frozenset[Way]]) -> list[Span]:
    """Return the spans of a level line above the floor, between members that rise to it."""
    if _axis(line) == _UP:
        return []
    held = [node for node in nodes if (_UP, -1) in ways[node]]
    return [Span(line.role, before, after) for before, after in pairwise(held)]
