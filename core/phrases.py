"""Sentences with quantities in them, kept apart from the units they are shown in.

An engine says what is so in SI; the window, the summary and the command line render the sentence
in the design's own units and language.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Union

from core.language import tr
from core.units import show


@dataclass(frozen=True)
class Amount:
    """A quantity in a sentence.

    ``value`` is in SI (see `core.units` for each ``kind``); ``fine`` asks for more digits, and
    without ``unit`` it stands bare, as the first of a range. ``digits`` are significant ones, for
    what is not known any better.
    """

    value: float
    kind: str
    fine: bool = False
    unit: bool = True
    digits: int | None = None

    def render(self, system: str) -> str:
        """Return the quantity in words."""
        return show(
            self.value, self.kind, system, fine=self.fine, unit=self.unit, digits=self.digits
        )


Value = Union[Amount, "Phrase", str, int]


@dataclass(frozen=True)
class Phrase:
    """A sentence with named gaps: ``Phrase("{place} is dim: {light}", {...})``.

    ``text`` must be marked with `core.language.tr` where it is written only if it has no gaps;
    a phrase translates itself when it is rendered.
    """

    text: str
    values: Mapping[str, Value] = field(default_factory=dict)

    def render(self, system: str = "metric") -> str:
        """Return the sentence in the language in use and the given unit system."""
        return tr(self.text).format(
            **{name: _render(value, system) for name, value in self.values.items()}
        )


def phrase(text: str, **values: Value) -> Phrase:
    """Return a `Phrase`; the gaps are given by name."""
    return Phrase(text, values)


def percent(share: float, *, unit: bool = True) -> Amount:
    """Return a share in whole percent: "41 %"."""
    return Amount(round(share, 2), "fraction", unit=unit)


def capital(text: str) -> str:
    """Return a sentence with its first letter large."""
    return text[:1].upper() + text[1:]


def _render(value: Value, system: str) -> str:
    if isinstance(value, Amount | Phrase):
        return value.render(system)
    return tr(value) if isinstance(value, str) else str(value)
