"""The parts of a design as a list: equal ones together, with size, watts, price and what is owned.

What is bought besides is in `core.materials.wares`; both make up `core.materials.shopping`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from core.language import tr
from core.model import (
    AnyPart,
    Bay,
    Design,
    FeedLine,
    Lamp,
    Lead,
    Opening,
    Plants,
    Powered,
)
from core.phrases import Amount, Phrase, phrase

NOT_BOUGHT = Bay | Opening
"""Space and holes."""

# A word with a digit in it, or one capital: "Tray 2", "Shelf unit B", "Board A1 left".
_NUMBER = re.compile(r"\S*\d\S*|[A-Z]")


@dataclass(frozen=True)
class Item:
    """One line of the list.

    Attributes
    ----------
    kind, name : str
        What it is; the name is that of its parts without their numbers.
    catalogue : str or None
        Its catalogue entry.
    extent : tuple of float
        Width, depth and height; of a lead or tube its length and twice 0. [m]
    count, owned : int
        How many there are, and how many of them need not be bought.
    price : float or None
        For one. [currency]
    watts : float or None
        For one; None where it draws none. [W]
    ids : tuple of str
        The parts it stands for.
    """

    kind: str
    name: str
    catalogue: str | None
    extent: tuple[float, float, float]
    count: int
    owned: int
    price: float | None
    watts: float | None
    ids: tuple[str, ...]

    @property
    def to_buy(self) -> int:
        """How many are still needed."""
        return self.count - self.owned

    @property
    def cost(self) -> float | None:
        """What these take; None where the price is not known and some are needed. [currency]"""
        if self.to_buy == 0:
            return 0.0
        return None if self.price is None else self.price * self.to_buy

    @property
    def size(self) -> Phrase:
        """Its size in words."""
        width, depth, height = (Amount(value, "length") for value in self.extent)
        if self.extent[1] == 0:
            return phrase("{length} long", length=width)
        return phrase("{w} × {d} × {h}", w=width, d=depth, h=height)


def parts_list(design: Design) -> tuple[Item, ...]:
    """Return the list of parts, equal ones together."""
    found: dict[Any, Item] = {}
    for item in _single_items(design.parts):
        key = (item.kind, item.catalogue or item.name, item.extent, item.watts, item.price)
        known = found.get(key)
        found[key] = item if known is None else _together(known, item)
    return tuple(found.values())


def _together(first: Item, more: Item) -> Item:
    return replace(
        first,
        count=first.count + more.count,
        owned=first.owned + more.owned,
        ids=(*first.ids, *more.ids),
    )


def _single_items(parts: Iterable[AnyPart]) -> Iterator[Item]:
    for part in parts:
        if isinstance(part, Plants):
            yield from _plant_items(part)
        elif not isinstance(part, NOT_BOUGHT):
            yield _item(part, _extent(part), 1)


def _plant_items(plants: Plants) -> Iterator[Item]:
    """Iterate over the plants of a zone where they have a price, and their pots."""
    if plants.price is not None:
        yield _item(plants, plants.extent, 1)
    if plants.pots is not None:
        size = (plants.pots.diameter, plants.pots.diameter, plants.pots.height)
        pots = _item(plants, size, plants.pots.count)
        yield replace(pots, kind="pots", name=tr("Pot"), catalogue=None, price=None)


def _item(part: AnyPart, extent: tuple[float, float, float], count: int) -> Item:
    return Item(
        part.kind,
        stem(part.name),
        part.catalogue,
        extent,
        count,
        count if part.owned else 0,
        part.price,
        _watts(part),
        (part.id,),
    )


def stem(name: str) -> str:
    """Return a part's name without its number and what comes after it.

    Examples
    --------
    >>> stem("Shelf unit B"), stem("Board 1 left"), stem("Fan, left"), stem("3 boards")
    ('Shelf unit', 'Board', 'Fan', '3 boards')
    """
    words = name.split(",")[0].split()
    numbers = [index for index, word in enumerate(words) if _NUMBER.fullmatch(word)]
    return " ".join(words[: numbers[0]] if numbers and numbers[0] else words) or name


def _extent(part: AnyPart) -> tuple[float, float, float]:
    if isinstance(part, Lead | FeedLine):
        return part.length, 0.0, 0.0
    return part.extent


def _watts(part: AnyPart) -> float | None:
    if not isinstance(part, Powered):
        return None
    return part.watts * (part.count if isinstance(part, Lamp) else 1)
