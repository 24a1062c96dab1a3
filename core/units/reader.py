"""Typed quantities: a strict reader that takes the units growers write and says what it refuses.

The text is never handed to an evaluator; only spellings listed in `table` are understood.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import NoReturn

from core.errors import InputError
from core.language import tr
from core.units.clock import seconds_in
from core.units.kinds import Kind, Unit
from core.units.numerals import Numeral, numeral_at, plain, show_number
from core.units.rare import rare_unit
from core.units.table import TABLE
from core.units.wire import gauge_area, gauge_in
from core.units.writer import display_of, kind_named, show

LONGEST = 80
_QUOTED = 24
_NOT_FINITE = re.compile("[+-]?(nan|inf|infinity|∞)([^a-z].*)?", re.IGNORECASE)
_SIGN = re.compile("[+-] ?")
_BETWEEN = re.compile("-(?=[0-9])| ?, ?(?=[0-9])| ?")
_PLACES_OF_NATURE = 1e-6


@dataclass(frozen=True)
class _Amount:
    """One number and its unit; None where no unit was typed."""

    number: Numeral
    unit: Unit | None


@dataclass(frozen=True)
class _Entry:
    """What was typed, and what it should be."""

    typed: str
    plain: str
    name: str
    system: str

    @property
    def kind(self) -> Kind:
        return TABLE[self.name]

    def refuse(self, reason: str, way_out: str = "") -> NoReturn:
        """Raise the sentence: what was typed, what is wrong with it, the way out."""
        raise InputError(f"{self.typed} {reason}; {way_out or self.way_out()}.")

    def way_out(self) -> str:
        """Return the advice that always holds: an example."""
        example = show(self.kind.example, self.name, self.system)
        return tr("enter {noun}, for example {example}").format(
            noun=tr(self.kind.noun), example=example
        )


def parse(text: str, kind: str, system: str = "metric") -> float:
    """Return the quantity that was typed, in the inside unit of its kind.

    Parameters
    ----------
    text : str
        A number with a unit of the kind, or a bare number in the unit of `label`.
    kind : str
        One of `core.units.KINDS`.
    system : str
        "metric" or "us"; it decides only what a bare number means.

    Returns
    -------
    float
        See `core.units` for the inside unit of each kind.

    Raises
    ------
    InputError
        If the text is not exactly one finite quantity of the kind; the sentence begins with the
        text and ends with a way out.

    Examples
    --------
    >>> parse("0.80", "length"), parse("77 %", "fraction"), parse("68 °F", "temperature")
    (0.8, 0.77, 20.0)
    """
    entry = _entry(text, kind, system)
    if kind == "time_of_day":
        return _time(entry)
    if kind == "wire_area":
        gauge = gauge_in(entry.plain, bare=system == "us")
        if gauge is not None:
            return gauge_area(gauge)
    return _finite(entry, _sum(entry))


def number(text: str) -> float:
    """Return a number without a unit, read as strictly as a quantity."""
    return parse(text, "count")


def _entry(text: str, kind: str, system: str) -> _Entry:
    kind_named(kind)
    display_of(kind, system)
    if len(text) > LONGEST:
        shortened = " ".join(text[:_QUOTED].split()) + "…"
        reason = tr("is too long to read ({count} characters, at most {limit})")
        entry = _Entry(shortened, "", kind, system)
        entry.refuse(reason.format(count=len(text), limit=LONGEST))
    entry = _Entry(" ".join(text.split()), plain(text), kind, system)
    if not entry.plain:
        raise InputError(
            tr("Nothing is entered here; {way_out}").format(way_out=entry.way_out()) + "."
        )
    if _NOT_FINITE.fullmatch(entry.plain):
        entry.refuse(tr("is not a finite number"))
    return entry


def _time(entry: _Entry) -> float:
    seconds = seconds_in(entry.plain)
    if seconds is None:
        entry.refuse(
            tr("is not a time of day from 00:00 to 24:00"),
            tr("enter one, for example 14:20 or 2:20 pm"),
        )
    return seconds


def _finite(entry: _Entry, value: float) -> float:
    if not math.isfinite(value):
        entry.refuse(tr("is not a finite number"))
    if value < entry.kind.lowest - _PLACES_OF_NATURE:
        lowest = show(entry.kind.lowest, entry.name, entry.system, fine=True, digits=5)
        entry.refuse(tr("is less than nature allows, {lowest}").format(lowest=lowest))
    return value


def _sum(entry: _Entry) -> float:
    sign = _SIGN.match(entry.plain)
    start = sign.end() if sign else 0
    factor = -1.0 if entry.plain[0] == "-" else 1.0
    amounts = _amounts(entry, start)
    if len(amounts) > 1:
        return factor * _chain(entry, amounts)
    unit = amounts[0].unit or _bare_unit(entry)
    return unit.inside(factor * amounts[0].number.value)


def _bare_unit(entry: _Entry) -> Unit:
    if (entry.name, entry.system) == ("wire_area", "us"):
        entry.refuse(tr("is not a wire gauge"), tr("enter a gauge such as 14, or 2.5 mm²"))
    return display_of(entry.name, entry.system).unit


def _amounts(entry: _Entry, position: int) -> list[_Amount]:
    """Return the numbers and units from ``position`` to the end of the text."""
    amounts: list[_Amount] = []
    while position < len(entry.plain):
        amount, position = _amount(entry, position)
        amounts.append(amount)
        pattern = _BETWEEN if amount.unit else re.compile(" ?")
        position = _end(pattern, entry.plain, position)
    if not amounts:
        entry.refuse(tr("has no number"))
    return amounts


def _amount(entry: _Entry, position: int) -> tuple[_Amount, int]:
    try:
        found = numeral_at(entry.plain, position)
    except InputError as trouble:
        raise InputError(f"{entry.typed} {trouble}.") from None
    if found is None:
        _refuse_missing_number(entry, position)
    position = found.end + (entry.plain[found.end : found.end + 1] == " ")
    match = entry.kind.pattern.match(entry.plain, position)
    if _is_foreign(entry, position):
        _refuse_tail(entry, position)
    if match and match[0]:
        unit = entry.kind.find(match[0]) or _refuse_capitals(entry, match[0])
        return _Amount(found, unit), match.end()
    if position < len(entry.plain) and not entry.plain[position].isdigit():
        rare = rare_unit(entry.plain[position:], entry.name) or _refuse_tail(entry, position)
        return _Amount(found, rare), len(entry.plain)
    return _Amount(found, None), position


def _is_foreign(entry: _Entry, position: int) -> bool:
    """Whether the rest is a unit of another kind, though it may begin like one of this (m, m²)."""
    tail = entry.plain[position:]
    return " " not in tail and not entry.kind.near(tail) and bool(_owner(tail))


def _end(pattern: re.Pattern[str], text: str, position: int) -> int:
    """Return where the longest match at ``position`` ends; two spaces never follow each other."""
    match = pattern.match(text, position)
    return match.end() if match else position


def _chain(entry: _Entry, amounts: list[_Amount]) -> float:
    """Return the sum of units that may follow each other, such as feet and inches."""
    units = _chain_units(entry, amounts)
    for place, amount in enumerate(amounts):
        if place < len(amounts) - 1 and not amount.number.whole:
            entry.refuse(tr("has a fraction before its last number"))
        if place and amount.number.value >= _limit(units, place):
            _refuse_overflow(entry, amounts, units, place)
    return sum(
        unit.inside(amount.number.value) for unit, amount in zip(units, amounts, strict=True)
    )


def _limit(units: list[Unit], place: int) -> int:
    return round(units[place - 1].size / units[place].size)


def _chain_units(entry: _Entry, amounts: list[_Amount]) -> list[Unit]:
    """Return the unit of every amount, if they follow a chain of the kind in its order."""
    if amounts[0].unit is None:
        entry.refuse(tr("reads as more than one number"))
    units = [amounts[0].unit]
    for amount in amounts[1:]:
        unit = amount.unit or _next_unit(entry.kind, units[-1])
        if unit is None:
            reason = tr("has a number without a unit after {unit}")
            entry.refuse(reason.format(unit=units[-1].text))
        units.append(unit)
    if not any(_runs_along(units, chain) for chain in entry.kind.chains):
        reason = tr("adds {units}, which do not go together")
        entry.refuse(reason.format(units=tr(" and ").join(unit.text for unit in units)))
    return units


def _next_unit(kind: Kind, unit: Unit) -> Unit | None:
    """Return the unit of a bare number after ``unit``, where the trade leaves it out (7' 2)."""
    chain = next((chain for chain in kind.chains if unit in chain), ())
    if unit not in kind.tails:
        return None
    return chain[chain.index(unit) + 1]


def _runs_along(units: list[Unit], chain: tuple[Unit, ...]) -> bool:
    places = [chain.index(unit) for unit in units if unit in chain]
    return len(places) == len(units) and places == sorted(set(places))


def _refuse_overflow(
    entry: _Entry, amounts: list[_Amount], units: list[Unit], place: int
) -> NoReturn:
    """Refuse "5 ft 14 in" and offer both ways of saying it."""
    upper, lower, limit = units[place - 1], units[place], _limit(units, place)
    count = amounts[place].number.value
    total = amounts[place - 1].number.value * limit + count
    over = (
        tr("reads as more than {limit} {units}")
        if count > limit
        else tr("reads as {limit} {units} or more")
    )
    whole, rest = divmod(total, limit)
    split = f"{show_number(whole)} {upper.text}"
    if rest:
        split += f" {show_number(rest, 6)} {lower.text}"
    way_out = tr("enter {split}, or {total} {unit}").format(
        split=split, total=show_number(total, 6), unit=lower.text
    )
    entry.refuse(over.format(limit=limit, units=tr(lower.many)), way_out)


def _refuse_capitals(entry: _Entry, typed: str) -> NoReturn:
    reason = tr("uses {unit}, and here m is a thousandth, M a million")
    known = tr(" or ").join(entry.kind.near(typed))
    entry.refuse(reason.format(unit=typed), tr("enter {unit}").format(unit=known))


def _refuse_missing_number(entry: _Entry, position: int) -> NoReturn:
    if not any(char in "0123456789" for char in entry.plain):
        entry.refuse(tr("has no number"))
    _refuse_tail(entry, position)


def _refuse_tail(entry: _Entry, position: int) -> NoReturn:
    """Refuse what stands where a unit or a number should be."""
    tail = entry.plain[position:]
    word = next((word for word in (tail, re.split(" (?=[0-9])", tail)[0]) if _owner(word)), "")
    if word and not entry.kind.near(word):
        reason = tr("uses {unit}, which is for {other}, not for {noun}")
        entry.refuse(reason.format(unit=word, other=tr(_owner(word)), noun=tr(entry.kind.noun)))
    unknown = re.match("[A-Za-z°][^ ]*", tail)
    if unknown and position:
        reason = tr("uses {unit}, which is not a unit known here")
        entry.refuse(reason.format(unit=unknown[0]))
    entry.refuse(tr("cannot be read as {noun}").format(noun=tr(entry.kind.noun)))


def _owner(word: str) -> str:
    """Return the noun of the first kind that has ``word`` as a unit, or an empty text."""
    owners = (kind.noun for kind in TABLE.values() if word.strip() and kind.find(word))
    return next(owners, "")
