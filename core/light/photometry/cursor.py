"""A place in a photometric text: lines and numbers one after the other, each with its line number.

Knows nothing of any format; what the numbers mean is said by the readers.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

import numpy as np

from core.errors import InputError
from core.language import tr
from core.light import given
from core.light.given import Floats
from core.light.source import LONGEST_NUMBER, as_number, plain

MOST_ANGLES = 4000
"""Most angles in one list, planes in one file, or pairs of a tilt table."""
LARGEST_TABLE = 500_000
"""Most intensities in one file."""
LARGEST_NUMBER = 1e9
"""Largest number that is believed."""

_FILLING = " \t\n\f\v\0\x1a"
"""What may follow the last number: blanks, and the end marks of old systems."""


class Cursor:
    """Reads a text from its first line on.

    Parameters
    ----------
    text : str
        Lines end with a line feed, a carriage return, or both.
    name : str
        What complaints call the text.
    separators : str
        Characters that part numbers besides white space.
    decimal_comma : bool
        True if a comma stands for the decimal point.
    """

    def __init__(self, text: str, name: str, separators: str, decimal_comma: bool) -> None:
        self._text = text.replace("\r\n", "\n").replace("\r", "\n").rstrip(_FILLING)
        self._name = name
        self._word = re.compile(rf"[^\s{re.escape(separators)}]+")
        self._decimal_comma = decimal_comma
        self._at = 0
        self._next_line = 1
        self.line = 1

    @property
    def thing(self) -> str:
        """The place last read, as complaints name it."""
        return tr("{name}, line {line}").format(name=self._name, line=self.line)

    def refusal(self, quantity: str, value: object, rule: str, way_out: str) -> InputError:
        """Return the error for what was last read."""
        shown = plain(str(value))[:LONGEST_NUMBER]
        return given.refusal(self.thing, quantity, shown, "", rule, way_out)

    def text_line(self, quantity: str) -> str:
        """Return the next line without its end."""
        self.line = self._next_line
        if self._at >= len(self._text):
            raise self._ended(quantity)
        end = self._text.find("\n", self._at)
        end = len(self._text) if end < 0 else end
        line = self._text[self._at : end]
        self._at, self._next_line = end + 1, self._next_line + 1
        return line

    def line_number(self, quantity: str, *, blank: float | None = None) -> float:
        """Return the number that has the next line to itself; ``blank`` is for an empty one."""
        word = self.text_line(quantity).strip()
        return blank if not word and blank is not None else self.number_in(quantity, word)

    def number(self, quantity: str) -> float:
        """Return the next number, on whatever line it is."""
        found = self._word.search(self._text, self._at)
        if found is None:
            raise self._ended(quantity)
        self._next_line += self._text.count("\n", self._at, found.start())
        self.line, self._at = self._next_line, found.end()
        return self.number_in(quantity, found[0])

    def whole(self, quantity: str, low: int, high: int) -> int:
        """Return the next number, which must be whole and from ``low`` to ``high``."""
        return self.checked_whole(quantity, self.number(quantity), low, high)

    def checked_whole(self, quantity: str, value: float, low: int, high: int) -> int:
        """Return the number last read as a whole one from ``low`` to ``high``."""
        self.check_range(quantity, value, low, high)
        if value != int(value):
            raise self.refusal(quantity, value, tr("must be a whole number"), _correct())
        return int(value)

    def check_range(
        self, quantity: str, value: float, low: float, high: float, unit: str = ""
    ) -> None:
        """Raise InputError unless the number last read lies from ``low`` to ``high``."""
        if low <= value <= high:
            return
        rule = tr("must lie between {low} and {high}").format(low=f"{low:g}", high=f"{high:g}")
        raise self.refusal(quantity, f"{value:g} {unit}".rstrip(), rule, _correct())

    def positive(self, quantity: str, read: Callable[[str], float] | None = None) -> float:
        """Return the next number, which must be above zero."""
        value = (read or self.number)(quantity)
        if value <= 0:
            raise self.refusal(quantity, f"{value:g}", tr("must be above zero"), _correct())
        return value

    def not_negative(self, quantity: str) -> float:
        """Return the next number, which must be zero or more."""
        value = self.number(quantity)
        if value < 0:
            raise self.refusal(quantity, f"{value:g}", tr("must not be negative"), _correct())
        return value

    def check_table(self, planes: int, angles: int) -> None:
        """Raise InputError if a table would hold more than one file may, before it is made."""
        self.check_range(tr("number of intensities"), planes * angles, 2, LARGEST_TABLE)

    def angles(self, quantity: str, count: int, low: float, high: float) -> Floats:
        """Return ``count`` rising angles from ``low`` to ``high``. [degrees]"""
        values: list[float] = []
        for _ in range(count):
            value = self.number(quantity)
            self.check_range(quantity, value, low, high, "°")
            if values and value <= values[-1]:
                rule = tr("must be more than the {before} before it").format(
                    before=f"{values[-1]:g}"
                )
                raise self.refusal(quantity, f"{value:g} °", rule, _correct())
            values.append(value)
        return np.array(values)

    def table(self, planes: int, angles: int) -> Floats:
        """Return ``planes`` rows of ``angles`` intensities, zero or more."""
        quantity = tr("intensity")
        values = np.empty(planes * angles)
        for index in range(values.size):
            values[index] = self.not_negative(quantity)
        if not values.any():
            raise self.refusal(tr("every intensity"), 0, tr("gives no light"), _correct())
        return values.reshape(planes, angles)

    def finish(self) -> None:
        """Raise InputError if anything but filling follows."""
        rest = self._word.search(self._text, self._at)
        if rest is None:
            return
        self.line = self._next_line + self._text.count("\n", self._at, rest.start())
        rule = tr("follows after the last number that the file announces")
        raise self.refusal(tr("text"), rest[0], rule, tr("check the counts of angles and planes"))

    def number_in(self, quantity: str, word: str) -> float:
        """Return the number that a word of the line last read says."""
        value = as_number(word.replace(",", ".") if self._decimal_comma else word)
        if value is None:
            raise self.refusal(quantity, f"‘{word[:80]}’", tr("must be a number"), _correct())
        if abs(value) > LARGEST_NUMBER:
            rule = tr("must not be beyond {most}").format(most=f"{LARGEST_NUMBER:g}")
            raise self.refusal(quantity, word, rule, _correct())
        return value

    def _ended(self, quantity: str) -> InputError:
        self.line = self._text.count("\n") + 1
        rule, way_out = tr("comes too early"), tr("ask its maker for the whole file")
        return self.refusal(quantity, tr("end of the file"), rule, way_out)


def widest_gap(angles: Floats) -> float:
    """Return the widest step between neighbours, 0 if there is one angle only. [degrees]"""
    return max((float(after - before) for before, after in pairwise(angles)), default=0.0)


def _correct() -> str:
    return tr("correct the file or ask its maker for a sound one")
