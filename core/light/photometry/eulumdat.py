"""Reads EULUMDAT photometric files: one value a line, half planes thinned out by symmetry.

Several lamp sets are taken as ways to equip the same luminaire, so one of them is read.

References
----------
.. [1] A. Stockmar, EULUMDAT – ein Leuchtendatenformat für den europäischen Beleuchtungsplaner,
   Licht '90, 1990 (from memory).
.. [2] Handling of absolute photometry data in EULUMDAT files, 2009 (negative number of lamps; from
   a secondary copy).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from core.errors import InputError
from core.language import tr
from core.light import given
from core.light.distribution import Distribution
from core.light.given import Floats
from core.light.photometry import planes
from core.light.photometry.cursor import MOST_ANGLES, Cursor, widest_gap
from core.light.photometry.record import LampSet, Opening, PhotometricFile
from core.light.source import as_number, plain

_MILLIMETRE = 1e-3
_PER_KILOLUMEN = 1e-3
_MOST_SETS = 100
_LINES_PER_SET = 6
_RATIOS = 10
"""Direct ratios for ten room indices; read over."""
_MOST_LAMPS = 10_000
_NO_SYMMETRY, _ROUND, _C0_C180, _C90_C270, _BOTH = range(5)
_NUMBERED_LINES = {2: False, 3: True, 4: True, 5: False, 6: True, 7: False}
"""Lines near the start that hold a number, and whether they must."""


@dataclass(frozen=True)
class _Grid:
    """How the intensities are laid out."""

    symmetry: int
    planes: int
    angles: int


@dataclass(frozen=True)
class _Body:
    """The numbers between the names and the lamp sets."""

    opening: Opening
    size: tuple[float, float, float]
    conversion: float


def looks_like(text: str) -> bool:
    """Say whether numbers stand in the lines where EULUMDAT has them."""
    lines = re.split("\r\n|\r|\n", text[:5000])
    if len(lines) <= max(_NUMBERED_LINES):
        return False
    return all(
        _number_of(lines[line - 1]) is not None or not (needed or lines[line - 1].strip())
        for line, needed in _NUMBERED_LINES.items()
    )


def read(text: str, name: str, lamp_set: int) -> PhotometricFile:
    """Return what a EULUMDAT file says.

    Parameters
    ----------
    text : str
    name : str
        What complaints call the file.
    lamp_set : int
        Which of the lamp sets the luminaire is equipped with, from 1.

    Raises
    ------
    InputError
        With the number of the line that cannot be used.
    """
    cursor = Cursor(text, name, separators=";", decimal_comma=True)
    keywords, grid = _names(cursor)
    body = _body(cursor)
    sets, absolute = _lamp_sets(cursor)
    given.within(name, tr("lamp set"), lamp_set, 1, len(sets))
    lumens = sets[lamp_set - 1].lumens or 0.0
    factor = body.conversion * lumens * _PER_KILOLUMEN
    distribution = _distribution(cursor, grid, factor)
    cursor.finish()
    return PhotometricFile(
        format="EULUMDAT", version="", distribution=distribution, absolute=absolute,
        lamp_sets=sets, lamp_set=lamp_set, opening=body.opening, size=body.size, keywords=keywords,
    )  # fmt: skip


def _names(cursor: Cursor) -> tuple[dict[str, str], _Grid]:
    """Return the texts and the layout of lines 1 to 12."""
    keywords = {"COMPANY": plain(cursor.text_line(tr("company")))}
    cursor.line_number(tr("type"), blank=0)
    grid = _grid(cursor)
    for key in ("REPORT", "LUMINAIRE", "NUMBER", "FILE", "DATE"):
        keywords[key] = plain(cursor.text_line(tr("text")))
    return keywords, grid


def _grid(cursor: Cursor) -> _Grid:
    symmetry = _whole_line(cursor, tr("symmetry"), _NO_SYMMETRY, _BOTH)
    count = _whole_line(cursor, tr("number of planes"), 1, MOST_ANGLES)
    cursor.line_number(tr("step of planes"), blank=0)
    angles = _whole_line(cursor, tr("number of angles"), 2, MOST_ANGLES)
    cursor.line_number(tr("step of angles"), blank=0)
    return _Grid(symmetry, count, angles)


def _whole_line(cursor: Cursor, quantity: str, low: int, high: int) -> int:
    return cursor.checked_whole(quantity, cursor.line_number(quantity), low, high)


def _body(cursor: Cursor) -> _Body:
    """Return what lines 13 to 25 say: sizes, shares, conversion, tilt of the measurement."""
    for quantity in (tr("length"), tr("width"), tr("height")):
        _extent(cursor, quantity)
    along = _extent(cursor, tr("length of the luminous area"))
    across = _extent(cursor, tr("width of the luminous area"))
    height = max(_extent(cursor, tr("height of the luminous area")) for _ in range(4))
    cursor.line_number(tr("downward share"), blank=0)
    cursor.line_number(tr("light output ratio"), blank=0)
    conversion = cursor.positive(tr("conversion factor"), cursor.line_number)
    cursor.line_number(tr("tilt"), blank=0)
    return _Body(*_opening(along, across, height), conversion)


def _extent(cursor: Cursor, quantity: str) -> float:
    """Return one dimension, 0 if it is left open. [m]"""
    value = cursor.line_number(quantity, blank=0)
    if value < 0:
        rule, way_out = tr("must not be negative"), tr("correct the file")
        raise cursor.refusal(quantity, f"{value:g} mm", rule, way_out)
    return value * _MILLIMETRE


def _opening(
    along: float, across: float, height: float
) -> tuple[Opening, tuple[float, float, float]]:
    """Return shape and size of the lit part; its length runs along C90, a width of 0 is round."""
    if along == 0:
        shape = Opening.POINT if across == height == 0 else Opening.OTHER
        return shape, (across, along, height)
    if across == 0:
        return (Opening.UPRIGHT_CYLINDER if height else Opening.DISC), (along, along, height)
    return (Opening.BOX if height else Opening.RECTANGLE), (across, along, height)


def _lamp_sets(cursor: Cursor) -> tuple[tuple[LampSet, ...], bool]:
    """Return the lamp sets, and whether the light was measured without rated lamps."""
    count = _whole_line(cursor, tr("number of lamp sets"), 1, _MOST_SETS)
    lines = []
    for _ in range(count * _LINES_PER_SET):
        text = cursor.text_line(tr("lamp set"))
        lines.append((cursor.line, text))
    if _is_by_value(lines, count):
        lines = [lines[value * count + one] for one in range(count) for value in range(6)]
    blocks = [lines[at : at + _LINES_PER_SET] for at in range(0, len(lines), _LINES_PER_SET)]
    absolute = (_number_of(blocks[0][0][1]) or 0) < 0
    return tuple(_lamp_set(cursor, block) for block in blocks), absolute


def _is_by_value(lines: list[tuple[int, str]], count: int) -> bool:
    """Say whether each value is listed for all sets before the next one, not set after set."""

    def numbers(first: list[tuple[int, str]]) -> bool:
        return all(_number_of(text) is not None for _, text in first)

    set_after_set = numbers(lines[::_LINES_PER_SET]) and numbers(lines[2::_LINES_PER_SET])
    return not set_after_set and numbers(lines[:count]) and numbers(lines[2 * count : 3 * count])


def _lamp_set(cursor: Cursor, block: list[tuple[int, str]]) -> LampSet:
    count = _value(cursor, tr("number of lamps"), block[0])
    cursor.check_range(tr("number of lamps"), count, -_MOST_LAMPS, _MOST_LAMPS)
    lumens = _value(cursor, tr("luminous flux of the lamps"), block[2])
    if lumens <= 0:
        rule, way_out = tr("must be above zero"), tr("correct the file")
        raise cursor.refusal(tr("luminous flux of the lamps"), f"{lumens:g} lm", rule, way_out)
    watts = _number_of(block[5][1])
    known = watts if watts is not None and watts > 0 else None
    return LampSet(abs(int(count)), plain(block[1][1]), lumens, known)


def _value(cursor: Cursor, quantity: str, line: tuple[int, str]) -> float:
    """Return the number on a line that was read before."""
    cursor.line = line[0]
    return cursor.number_in(quantity, line[1].strip())


def _distribution(cursor: Cursor, grid: _Grid, factor: float) -> Distribution:
    for _ in range(_RATIOS):
        cursor.number(tr("direct ratio"))
    c = cursor.angles(tr("angle of plane"), grid.planes, 0, 360)
    gamma_degrees = cursor.angles(tr("angle"), grid.angles, 0, 180)
    c = _listed(cursor, grid.symmetry, c)
    cursor.check_table(c.size, grid.angles)
    table = factor * cursor.table(c.size, grid.angles)
    return Distribution(*_all_round(grid.symmetry, c, table, gamma_degrees))


def _listed(cursor: Cursor, symmetry: int, c: Floats) -> Floats:
    """Return the planes whose intensities the file lists, in its order. [degrees]"""
    if symmetry == _ROUND:
        return c[:1]
    if symmetry == _C90_C270:
        listed = np.concatenate([c[(c >= 270) & (c < 360)], c[c <= 90]])
        ends = (270.0, 90.0)
    else:
        last = {_NO_SYMMETRY: 360.0, _C0_C180: 180.0, _BOTH: 90.0}[symmetry]
        listed, ends = c[c <= last], (0.0, last)
    if not listed.size or not _reach(symmetry, listed, ends):
        raise _wrong_planes(cursor, symmetry, c, ends)
    return listed


def _reach(symmetry: int, listed: Floats, ends: tuple[float, float]) -> bool:
    if symmetry != _NO_SYMMETRY:
        return bool(listed[0] == ends[0] and listed[-1] == ends[1])
    seam = listed[0] + 360 - listed[-1]
    return listed.size > 1 and bool(seam <= 1.5 * widest_gap(listed))


def _wrong_planes(
    cursor: Cursor, symmetry: int, c: Floats, ends: tuple[float, float]
) -> InputError:
    rule = tr("must hold C{first:g} to C{last:g} for symmetry {number}").format(
        first=ends[0], last=ends[1], number=symmetry
    )
    shown = f"C{c[0]:g} – C{c[-1]:g}"
    return cursor.refusal(tr("planes"), shown, rule, tr("ask its maker for a sound file"))


def _all_round(
    symmetry: int, c: Floats, table: Floats, gamma: Floats
) -> tuple[Floats, Floats, Floats]:
    """Return planes as `Distribution` takes them: it mirrors what ends at 90 or 180."""
    if symmetry == _ROUND:
        c = np.zeros(1)
    elif symmetry == _C90_C270:
        c, table = planes.mirrored_at_c90(c, table)
    elif symmetry == _NO_SYMMETRY:
        c, table = planes.closed(c, table)
    return c, gamma, table


def _number_of(line: str) -> float | None:
    return as_number(line.strip().replace(",", "."))
