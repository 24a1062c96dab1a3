"""What a kind of quantity is made of: its units, their spellings, and how each system shows it.

The kinds themselves are listed in `table`; nothing here reads or writes a text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import permutations, product

from core.units.numerals import plain


@dataclass(frozen=True)
class Unit:
    """One unit of one kind.

    Attributes
    ----------
    text : str
        The unit as shown.
    size : float
        How much of the kind's inside unit one of it is.
    spellings : tuple of str
        Further ways to type it, in plain characters; a trailing ``*`` stands for an optional s.
    offset : float
        Added to a reading before it is scaled; only temperatures have one.
    gap : str
        What stands between number and unit.
    many : str
        Its plural in a sentence, for units that may follow another ("5 ft 14 in").
    """

    text: str
    size: float
    spellings: tuple[str, ...] = ()
    offset: float = 0.0
    gap: str = " "
    many: str = ""

    def inside(self, number: float) -> float:
        """Return ``number`` of this unit in the kind's inside unit."""
        return (number + self.offset) * self.size

    def outside(self, value: float) -> float:
        """Return an inside ``value`` as a number of this unit."""
        return value / self.size - self.offset

    def ways(self) -> Iterator[str]:
        """Yield every spelling of the unit."""
        yield plain(self.text)
        for spelling in self.spellings:
            yield spelling.rstrip("*")
            if spelling.endswith("*"):
                yield spelling[:-1] + "s"


def per(tops: str, *bottoms: str) -> tuple[str, ...]:
    """Return the usual spellings of a quotient, alternatives parted by ``|``.

    Examples
    --------
    >>> per("l", "h")
    ('l/h', 'l h-1')
    >>> per("umol", "m2", "s")[:4]
    ('umol/m2/s', 'umol m-2 s-1', 'umol/(m2 s)', 'umol/m2 s')
    """
    found: dict[str, None] = {}
    for top in tops.split("|"):
        for names in product(*(bottom.split("|") for bottom in bottoms)):
            for order in permutations(names):
                found.update(dict.fromkeys(_quotients(top, order)))
    return tuple(found)


def _quotients(top: str, bottoms: tuple[str, ...]) -> Iterator[str]:
    yield "/".join((top, *bottoms))
    yield " ".join((top, *map(_inverse, bottoms)))
    if len(bottoms) > 1:
        yield f"{top}/({' '.join(bottoms)})"
        yield f"{top}/{' '.join(bottoms)}"


def _inverse(unit: str) -> str:
    return f"{unit[:-1]}-{unit[-1]}" if unit[-1] in "23" else f"{unit}-1"


@dataclass(frozen=True)
class Display:
    """How one system of units shows one kind.

    Attributes
    ----------
    unit : Unit
        The unit of a bare number and of the label.
    nudges : tuple of float
        Fine, normal and coarse step of an arrow key, in the kind's inside unit.
    steps : tuple of (float, Unit)
        Units by size of the inside value, rising; empty where `unit` serves for all.
    digits, least, most : int
        Significant digits, fewest and most decimals.
    """

    unit: Unit
    nudges: tuple[float, float, float]
    steps: tuple[tuple[float, Unit], ...] = ()
    digits: int = 3
    least: int = 0
    most: int = 12

    def unit_for(self, value: float) -> Unit:
        """Return the unit in which an inside ``value`` reads best."""
        if value == 0.0:
            return self.unit
        fitting = [unit for start, unit in self.steps if abs(value) >= start]
        return fitting[-1] if fitting else self.unit


@dataclass(frozen=True)
class Kind:
    """One kind of quantity.

    Attributes
    ----------
    noun : str
        The kind with its article, as used in sentences.
    example : float
        An everyday value, for "for example".
    units : tuple of Unit
        All units that are read.
    displays : dict of str to Display
        By system.
    chains : tuple of tuple of Unit
        Units that may follow each other in one text, each smaller than the one before.
    tails : tuple of Unit
        Units after which a bare number means the next unit of the chain (7' 2).
    lowest : float
        The least value that makes sense in nature. Rules of a part are the model's.
    """

    noun: str
    example: float
    units: tuple[Unit, ...]
    displays: dict[str, Display]
    chains: tuple[tuple[Unit, ...], ...] = ()
    tails: tuple[Unit, ...] = ()
    lowest: float = field(default=float("-inf"))

    @cached_property
    def spelled(self) -> dict[str, Unit]:
        """Every spelling without its spaces, and the unit it means."""
        return {way.replace(" ", ""): unit for unit in self.units for way in unit.ways()}

    @cached_property
    def folded(self) -> dict[str, list[str]]:
        """The spellings that differ only in capitals, by their small form."""
        groups: dict[str, list[str]] = {}
        for way in self.spelled:
            groups.setdefault(way.casefold(), []).append(way)
        return groups

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        """A pattern for any unit of the kind, the longest spelling first."""
        ways = sorted({w for unit in self.units for w in unit.ways()}, key=len, reverse=True)
        return re.compile(f"(?:{'|'.join(map(_loosely, ways))})(?![A-Za-z/^°(])", re.IGNORECASE)

    def find(self, typed: str) -> Unit | None:
        """Return the unit that ``typed`` means, or None; capitals matter only for m and M."""
        typed = typed.replace(" ", "")
        if typed in self.spelled:
            return self.spelled[typed]
        near = [way for way in self.near(typed) if not self._prefix_differs(way, typed)]
        return self.spelled[near[0]] if near else None

    def near(self, typed: str) -> list[str]:
        """Return the spellings that differ from ``typed`` in capitals at most."""
        return self.folded.get(typed.replace(" ", "").casefold(), [])

    def _prefix_differs(self, way: str, typed: str) -> bool:
        """Whether milli would be taken for mega, or the other way round."""
        prefixed = way[0] in "mM" and way[1:].casefold() in self.folded
        return prefixed and typed[0] != way[0]


_LOOSE = {" ": " ?", "/": " ?/ ?", "(": r" ?\( ?", ")": r" ?\)"}


def _loosely(spelling: str) -> str:
    return "".join(_LOOSE.get(char, re.escape(char)) for char in spelling)
