"""Cutting diagrams: bars, and strips along rolls, as they are sawn or cut off one by one.

What is cut from what is decided in `core.materials.cutting`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from core.drawing.ink import PAPER
from core.drawing.paper import LETTER, PX, Drawing, Item, Shape, Text, rectangle
from core.language import tr
from core.materials.cutting import CutPlan, Pattern
from core.materials.plans import RollPlan
from core.units import show

BAR, PITCH = 5.0, 12.0
"""How high a bar is drawn, and from one to the next. [mm]"""
_COUNT = 12.0
_TYPE = 11 * PX
_FOOT = 0.35 * _TYPE
_TICK = 0.6


def cutting_diagram(
    plan: CutPlan, width: float, system: str, letters: Mapping[float, str] | None = None
) -> Drawing:
    """Return one row for bars that are cut alike, all to one scale along.

    Parameters
    ----------
    plan : CutPlan
    width : float
        Of the paper. [mm]
    system : str
        Units in which lengths are told.
    letters : mapping of float to str, optional
        What pieces of each length are called. [m]

    Returns
    -------
    Drawing
        Along a bar, ``width`` less the room for counts is the longest bar.
    """
    longest = max((pattern.stock for pattern in plan.patterns), default=1.0)
    per_metre = (width - _COUNT) / longest
    items: list[Item] = []
    for row, pattern in enumerate(plan.patterns):
        items += _bar(pattern, row * PITCH, per_metre, system, letters or {}, plan.kerf)
    title = tr("Cutting diagram: {count} bars").format(count=plan.bars)
    return Drawing(tuple(items), width, len(plan.patterns) * PITCH, title)


def roll_diagram(plan: RollPlan, width: float, system: str) -> Drawing:
    """Return what is cut off the rolls of one sheet, and in which lengths.

    Parameters
    ----------
    plan : RollPlan
    width : float
        Of the paper. [mm]
    system : str
        Units in which lengths are told.
    """
    drawn = cutting_diagram(plan.cuts, width, system)
    across = show(plan.roll.width, "length", system)
    text = (
        tr("{sheet}, 1 roll {width} wide: lengths to cut off")
        if plan.count == 1
        else tr("{sheet}, {count} rolls {width} wide: lengths to cut off")
    )
    title = text.format(sheet=plan.sheet.material, count=plan.count, width=across)
    return Drawing(drawn.items, width, drawn.height, title)


def _bar(
    pattern: Pattern,
    top: float,
    per_metre: float,
    system: str,
    letters: Mapping[float, str],
    kerf: float,
) -> Iterator[Item]:
    """Iterate over a bar: its count, its pieces with letter and length, and what is left."""
    foot = top + BAR / 2 + _FOOT
    yield Text((0.0, foot), f"{pattern.count} ×", _TYPE, PAPER["ink"], True)
    left = _COUNT
    for length, count in pattern.pieces:
        for _ in range(count):
            wide = length * per_metre
            yield rectangle(left, top, wide, BAR, fill=PAPER["fine_bg"])
            yield from _piece_words(left, top, wide, length, letters.get(length, ""), system)
            left += (length + kerf) * per_metre
    yield from _rest(pattern, left, top, per_metre, system)


def _piece_words(
    left: float, top: float, wide: float, length: float, letter: str, system: str
) -> Iterator[Item]:
    """Iterate over a piece's letter inside it and its length below, where there is room."""
    middle = left + wide / 2
    number = show(length, "length", system, fine=True)
    room = wide / (LETTER * _TYPE)
    if letter and room >= len(letter):
        yield Text((middle, top + BAR / 2 + _FOOT), letter, _TYPE, bold=True, anchor="centre")
    if room >= len(number):
        yield Text((middle, _below(top)), number, _TYPE, PAPER["ink2"], anchor="centre")


def _rest(
    pattern: Pattern, left: float, top: float, per_metre: float, system: str
) -> Iterator[Item]:
    """Iterate over the offcut: an open, dashed end with its length."""
    end = _COUNT + pattern.stock * per_metre
    wide = end - left
    if wide < _TICK:
        return
    corners = ((left, top), (end, top), (end, top + BAR), (left, top + BAR))
    yield Shape(corners, PAPER["edge"], PX, (1.0, 0.8), closed=True)
    words = tr("left {length}").format(length=show(pattern.offcut, "length", system))
    long = LETTER * _TYPE * len(words)
    if wide >= long:
        at = (left + wide / 2, top + BAR / 2 + _FOOT)
        yield Text(at, words, _TYPE, PAPER["ink2"], anchor="centre")
    elif _told_to(pattern, left, system, per_metre) + _TYPE < end - long:
        yield Text((end, _below(top)), words, _TYPE, PAPER["ink2"], anchor="right")


def _told_to(pattern: Pattern, left: float, system: str, per_metre: float) -> float:
    """Return how far right the length below the last piece reaches. [mm]"""
    wide = pattern.pieces[-1][0] * per_metre
    number = LETTER * _TYPE * len(show(pattern.pieces[-1][0], "length", system, fine=True))
    return left - wide / 2 + number / 2 if wide >= number else left - wide


def _below(top: float) -> float:
    """Return the foot of the letters below a bar. [mm]"""
    return top + BAR + _TYPE + 0.4
