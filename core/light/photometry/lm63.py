"""Reads LM-63 photometric files of 1986, 1991, 1995, 2002 and 2019.

A tilt file that a photometric file names is never opened, and no keyword is acted upon.

References
----------
.. [1] ANSI/IESNA LM-63-02, Standard file format for the electronic transfer of photometric data;
   IESNA LM-63-1995, LM-63-1991, IES LM-63-1986; ANSI/IES LM-63-19 (all from memory, but for the
   definitions of 2002).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from core.errors import InputError
from core.language import tr
from core.light.distribution import Distribution
from core.light.given import Floats
from core.light.photometry import planes
from core.light.photometry.cursor import MOST_ANGLES, Cursor, widest_gap
from core.light.photometry.openings import opening_of, size_of
from core.light.photometry.record import LampSet, PhotometricFile
from core.light.source import plain

FOOT = 0.3048
"""[m] International foot, exact."""

_VERSIONS = {
    "IESNA91": "1991",
    "IESNA:LM-63-1995": "1995",
    "IESNA:LM-63-2002": "2002",
    "IES:LM-63-2019": "2019",
}
_TAG = re.compile(r"IES(NA)?(\d\d\b|:?\s*LM-63)", re.IGNORECASE)
_TILT = re.compile(r"[ \t]*TILT[ \t]*=(.*)", re.IGNORECASE)
_TILT_LINE = re.compile(r"^[ \t]*TILT[ \t]*=", re.IGNORECASE | re.MULTILINE)
_KEYWORD = re.compile(r"\[([^\]]*)\](.*)")
_MOST_LINES = 5000
"""Most lines before the numbers."""
_MOST_LAMPS = 10_000
_TYPES = {1: "C", 2: "B", 3: "A"}
_RANGES = {"A": (-90.0, 90.0, 90.0), "B": (-90.0, 90.0, 90.0), "C": (0.0, 180.0, 360.0)}
"""Lowest angle, highest vertical one and highest horizontal one by type. [degrees]"""
_WITH_EXTRA_FACTOR = ("1986", "1991")


@dataclass(frozen=True)
class _Head:
    """The numbers between TILT and the angles."""

    lamps: LampSet
    absolute: bool
    factor: float
    vertical: int
    horizontal: int
    kind: str
    dimensions: tuple[float, float, float]


def has_tag(text: str) -> bool:
    """Say whether a text begins with the name of a version of LM-63, a known one or not."""
    return _TAG.match(text.lstrip()) is not None


def has_tilt(text: str) -> bool:
    """Say whether a text holds the line that every LM-63 file must hold."""
    return _TILT_LINE.search(text.replace("\r", "\n")) is not None


def read(text: str, name: str) -> PhotometricFile:
    """Return what an LM-63 file says.

    Parameters
    ----------
    text : str
    name : str
        What complaints call the file.

    Raises
    ------
    InputError
        With the number of the line that cannot be used.
    """
    cursor = Cursor(text, name, separators=",", decimal_comma=False)
    version, keywords, tilt_rule = _labels(cursor)
    tilt = _tilt(cursor, tilt_rule)
    head = _head(cursor, version)
    distribution = _distribution(cursor, head)
    cursor.finish()
    return PhotometricFile(
        format="LM-63", version=version, distribution=distribution, absolute=head.absolute,
        lamp_sets=(head.lamps,), lamp_set=1, opening=opening_of(version, head.dimensions),
        size=size_of(head.dimensions), keywords=keywords, tilt=tilt,
    )  # fmt: skip


def _labels(cursor: Cursor) -> tuple[str, dict[str, str], str]:
    """Return the version, the texts by keyword, and what stands after TILT=."""
    version, tagged = "1986", False
    texts, keyword = dict[str, list[str]](), ""
    for _ in range(_MOST_LINES):
        line = cursor.text_line("TILT")
        tilt = _TILT.match(line)
        if tilt:
            return version, {key: "\n".join(lines) for key, lines in texts.items()}, tilt[1].strip()
        if not tagged and not texts and _TAG.match(line.strip()):
            version, tagged = _version(cursor, line.strip()), True
        elif texts or line.strip():
            keyword = _keep(texts, line, keyword)
    rule, way_out = tr("must come sooner"), tr("choose another file")
    raise cursor.refusal("TILT", tr("line {n}").format(n=cursor.line + 1), rule, way_out)


def _version(cursor: Cursor, tag: str) -> str:
    if tag.upper() in _VERSIONS:
        return _VERSIONS[tag.upper()]
    rule = tr("must be one of {known}, or left out for 1986").format(known=", ".join(_VERSIONS))
    raise cursor.refusal(tr("version"), tag, rule, tr("ask its maker for one of these"))


def _keep(texts: dict[str, list[str]], line: str, last: str) -> str:
    """Add a line to the text of its keyword, and return that keyword."""
    found = _KEYWORD.match(line.strip())
    keyword = plain(found[1]).upper() if found else ""
    if keyword == "MORE":
        keyword = last
    texts.setdefault(keyword, []).append(plain(found[2] if found else line))
    return keyword


def _tilt(cursor: Cursor, rule: str) -> tuple[tuple[float, float], ...]:
    if rule.upper() == "NONE":
        return ()
    if rule.upper() != "INCLUDE":
        raise _other_file(cursor, rule)
    cursor.whole(tr("lamp-to-luminaire geometry"), 1, 3)
    count = cursor.whole(tr("number of tilt angles"), 1, MOST_ANGLES)
    angles = cursor.angles(tr("tilt angle"), count, 0, 180)
    shares = [cursor.positive(tr("tilt factor")) for _ in range(count)]
    return tuple(zip(angles.tolist(), shares, strict=True))


def _other_file(cursor: Cursor, named: str) -> InputError:
    if not named:
        rule, way_out = tr("must not be empty"), tr("write TILT=NONE if nothing depends on tilt")
    else:
        rule = tr("names another file, which is never opened")
        way_out = tr("use a file with TILT=NONE or TILT=INCLUDE")
    return cursor.refusal("TILT", f"‘{named}’", rule, way_out)


def _head(cursor: Cursor, version: str) -> _Head:
    count = cursor.whole(tr("number of lamps"), 1, _MOST_LAMPS)
    lumens = cursor.number(tr("lumens per lamp"))
    factor = cursor.positive(tr("multiplier"))
    vertical = cursor.whole(tr("number of vertical angles"), 2, MOST_ANGLES)
    horizontal = cursor.whole(tr("number of horizontal angles"), 1, MOST_ANGLES)
    kind = _TYPES[cursor.whole(tr("photometric type"), 1, 3)]
    metres = FOOT if cursor.whole(tr("unit of length"), 1, 2) == 1 else 1.0
    width, length, height = (
        metres * cursor.number(name) for name in (tr("width"), tr("length"), tr("height"))
    )
    factor *= _ballast(cursor, version)
    watts = cursor.not_negative(tr("power"))
    lamps = LampSet(count, "", count * lumens if lumens > 0 else None, watts or None)
    dimensions = (width, length, height)
    return _Head(lamps, lumens < 0, factor, vertical, horizontal, kind, dimensions)


def _ballast(cursor: Cursor, version: str) -> float:
    """Return the ballast factor times, up to 1991, the one of ballast and lamp together.

    Later versions keep that place for future use, and that of 2019 for the kind of file.
    """
    factor = cursor.positive(tr("ballast factor"))
    if version in _WITH_EXTRA_FACTOR:
        return factor * cursor.positive(tr("ballast-lamp photometric factor"))
    cursor.number(tr("number after the ballast factor"))
    return factor


def _distribution(cursor: Cursor, head: _Head) -> Distribution:
    cursor.check_table(head.horizontal, head.vertical)
    lowest, down, round_ = _RANGES[head.kind]
    vertical = cursor.angles(tr("vertical angle"), head.vertical, lowest, down)
    if head.kind != "C" and vertical[0] >= 0:
        raise _half_measured(cursor, head.kind, vertical)
    horizontal = cursor.angles(tr("horizontal angle"), head.horizontal, lowest, round_)
    _check_planes(cursor, head.kind, horizontal)
    table = head.factor * cursor.table(head.horizontal, head.vertical)
    if head.kind == "C":
        return Distribution(*_in_c(horizontal, table, vertical))
    return _aimed(head.kind, horizontal, vertical, table)


def _in_c(c: Floats, table: Floats, gamma: Floats) -> tuple[Floats, Floats, Floats]:
    """Return planes of type C as `Distribution` takes them: it mirrors what ends at 90 or 180."""
    if c[0] == 90 and c[-1] == 270:
        c, table = planes.mirrored_at_c90(c, table)
    elif c[-1] > 180:
        c, table = planes.closed(c, table)
    return c, gamma, table


def _aimed(kind: str, horizontal: Floats, vertical: Floats, table: Floats) -> Distribution:
    """Return planes of type A or B; those from 0 on are the same on both sides."""
    if horizontal[0] == 0:
        horizontal, table = planes.mirrored_at_zero(horizontal, table)
    return planes.turned(kind, horizontal, vertical, table)


def _check_planes(cursor: Cursor, kind: str, horizontal: Floats) -> None:
    if _known_range(kind, horizontal):
        return
    if kind == "C":
        allowed = tr("must be 0, or run from 0 to 90, 180 or 360, or from 90 to 270")
    else:
        allowed = tr("must run from 0, or from below 0, to above 0")
    shown = f"{horizontal[0]:g} – {horizontal[-1]:g} °"
    way_out = tr("ask its maker for a file that does")
    raise cursor.refusal(tr("horizontal angles"), shown, allowed, way_out)


def _known_range(kind: str, horizontal: Floats) -> bool:
    first, last = horizontal[0], horizontal[-1]
    if kind != "C":
        return first <= 0 < last
    if horizontal.size == 1:
        return bool(first == 0)
    usual = first == 0 and last in (90, 180, 360)
    all_but_last = first == 0 and last > 180 and 360 - last <= 1.5 * widest_gap(horizontal)
    return bool(usual or all_but_last or (first == 90 and last == 270))


def _half_measured(cursor: Cursor, kind: str, vertical: Floats) -> InputError:
    rule = tr("leave open what is below 0 in type {kind}").format(kind=kind)
    way_out = tr("ask its maker for angles from −90 to 90")
    shown = f"{vertical[0]:g} – {vertical[-1]:g} °"
    return cursor.refusal(tr("vertical angles"), shown, rule, way_out)
