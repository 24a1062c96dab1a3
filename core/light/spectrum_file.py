"""Reads a spectrum of one's own from a file of two columns: wavelength and relative power.

What follows from a spectrum is computed in `core.light.spectrum`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from core.errors import InputError
from core.language import tr
from core.light import given
from core.light.given import Floats
from core.light.source import Source, as_number, plain, text_of

LARGEST_FILE = 1_000_000
"""Longest file that is read. [bytes]"""
MOST_ROWS = 20_000
_SHORTEST, _LONGEST = 100.0, 5000.0
"""Wavelengths that are believed. [nm]"""
_LARGEST_POWER = 1e12


@dataclass(frozen=True, eq=False)
class Spectrum:
    """Power by wavelength, linear in between.

    Attributes
    ----------
    wavelength : ndarray
        Rising. [nm]
    power : ndarray
        Per wavelength, in any scale.
    """

    wavelength: Floats
    power: Floats


@dataclass(frozen=True)
class _Row:
    """A row that complaints can name."""

    file: str
    line: int

    def refusal(self, quantity: str, value: str, unit: str, rule: str, way_out: str) -> InputError:
        thing = tr("{name}, line {line}").format(name=self.file, line=self.line)
        return given.refusal(thing, quantity, plain(value)[:40], unit, rule, way_out)


def read_spectrum(source: Source) -> Spectrum:
    """Return the spectrum in a file of two columns.

    Columns are parted by commas, semicolons, tabs or blanks; with the last three a comma may stand
    for the decimal point. Empty lines and lines that start with # are passed over, and so is a
    heading without numbers.

    Parameters
    ----------
    source : path, bytes or str
        A string of more than one line is the file's text, one of a single line a path.

    Raises
    ------
    FileError
        If the path leads to nothing that can be read.
    InputError
        If a line is no pair of numbers, wavelengths do not rise from line to line, a power is
        negative, or no light is left; names the line.
    """
    text, name = text_of(source, tr("Spectrum"), LARGEST_FILE)
    rows: list[tuple[float, float]] = []
    heading_allowed = True
    for number, line in enumerate(re.split("\r\n|\r|\n", text), start=1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        words = _words(line)
        if not (heading_allowed and _is_heading(words)):
            _add(rows, words, _Row(name, number))
        heading_allowed = False
    return _checked(rows, name)


def _words(line: str) -> list[str]:
    """Return a line's columns with decimal points."""
    if ";" in line or "\t" in line:
        return _without_last_blank([word.replace(",", ".") for word in re.split("[;\t]", line)])
    words = [word.replace(",", ".") for word in line.split()]
    if len(words) == 2 and not any(as_number(word) is None for word in words):
        return words
    return _without_last_blank(line.split(",") if "," in line else line.split())


def _without_last_blank(words: list[str]) -> list[str]:
    stripped = [word.strip() for word in words]
    return stripped[:-1] if stripped[-1] == "" else stripped


def _is_heading(words: list[str]) -> bool:
    return not any(as_number(word) is not None for word in words)


def _add(rows: list[tuple[float, float]], words: list[str], row: _Row) -> None:
    if len(words) != 2:
        rule, way_out = tr("must be 2"), tr("give wavelength and power only")
        raise row.refusal(tr("number of columns"), str(len(words)), "", rule, way_out)
    if len(rows) >= MOST_ROWS:
        rule = tr("must not be more than {most}").format(most=MOST_ROWS)
        raise row.refusal(tr("rows"), str(len(rows) + 1), "", rule, tr("give fewer wavelengths"))
    before = rows[-1][0] if rows else 0.0
    rows.append((_wavelength(words[0], before, row), _power(words[1], row)))


def _wavelength(word: str, before: float, row: _Row) -> float:
    value = _number(tr("wavelength"), word, row)
    shown = f"{value:g}"
    if not _SHORTEST <= value <= _LONGEST:
        rule = tr("must lie between {low} and {high}").format(
            low=f"{_SHORTEST:g}", high=f"{_LONGEST:g}"
        )
        raise row.refusal(tr("wavelength"), shown, "nm", rule, tr("give nanometres"))
    if value <= before:
        rule = tr("must be more than the {before} before it").format(before=f"{before:g}")
        way_out = tr("sort the lines and drop doubles")
        raise row.refusal(tr("wavelength"), shown, "nm", rule, way_out)
    return value


def _power(word: str, row: _Row) -> float:
    value = _number(tr("power"), word, row)
    if not 0 <= value <= _LARGEST_POWER:
        rule = tr("must lie between {low} and {high}").format(low=0, high=f"{_LARGEST_POWER:g}")
        raise row.refusal(tr("power"), f"{value:g}", "", rule, tr("give relative power"))
    return value


def _number(quantity: str, word: str, row: _Row) -> float:
    value = as_number(word)
    if value is None:
        rule, way_out = tr("must be a number"), tr("correct the line")
        raise row.refusal(quantity, f"‘{plain(word)[:36]}’", "", rule, way_out)
    return value


def _checked(rows: list[tuple[float, float]], name: str) -> Spectrum:
    if len(rows) < 2:
        rule, way_out = tr("must be 2 or more"), tr("choose a file of wavelengths and powers")
        raise given.refusal(name, tr("rows"), len(rows), "", rule, way_out)
    columns = np.array(rows)
    if not columns[:, 1].any():
        rule, way_out = tr("gives no light"), tr("check the second column")
        raise given.refusal(name, tr("every power"), 0, "", rule, way_out)
    return Spectrum(columns[:, 0].copy(), columns[:, 1].copy())
