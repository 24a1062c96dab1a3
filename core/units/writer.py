"""Quantities as text: the unit and the digits in which each system shows a kind.

Reading text back is the work of `reader`; ranges and sentences are the callers'.
"""

from __future__ import annotations

import math

from core.errors import InputError
from core.language import tr
from core.units.clock import clock_text
from core.units.kinds import Display, Kind, Unit
from core.units.numerals import MINUS, show_number
from core.units.table import FOOT, FT, INCH, TABLE
from core.units.wire import gauge_text

_FINE_DIGITS = 1
_LONGEST_IN_INCHES = 1e9


def kind_named(kind: str) -> Kind:
    """Return the kind called ``kind``."""
    if kind not in TABLE:
        known = ", ".join(TABLE)
        raise InputError(f"kind = {kind!r} is not known; use one of {known}.")
    return TABLE[kind]


def display_of(kind: str, system: str) -> Display:
    """Return how ``system`` shows ``kind``."""
    displays = kind_named(kind).displays
    if system not in displays:
        raise InputError(f"system = {system!r} is not known; use 'metric' or 'us'.")
    return displays[system]


def show(
    value: float,
    kind: str,
    system: str = "metric",
    *,
    fine: bool = False,
    digits: int | None = None,
    unit: bool = True,
) -> str:
    """Return ``value`` as text, in the unit and digits of its kind.

    Parameters
    ----------
    value : float
        In the inside unit of the kind (see `core.units`). It must be finite.
    kind : str
        One of `core.units.KINDS`.
    system : str
        "metric" or "us".
    fine : bool
        One digit more; lengths right to 1 mm or 1/16 in, times of day to the second.
    digits : int, optional
        Significant digits instead of the kind's own (whole numbers are never rounded); feet and
        inches are then right to half an inch from 1 ft on.
    unit : bool
        False leaves the unit out and keeps to the unit of `label`; feet and inches, wire gauges
        and clock times cannot do without.

    Returns
    -------
    str
        What `parse` reads back to within the last digit shown.

    Examples
    --------
    >>> show(0.8, "length"), show(2.19075, "length", "us"), show(0.025, "length")
    ('0.80 m', '7 ft 2 1/4 in', '25 mm')
    """
    display = display_of(kind, system)
    if not math.isfinite(value):
        raise InputError(
            tr("{value} is not a finite number and cannot be shown").format(value=value) + "."
        )
    own = _own_text(float(value), kind, system, fine, digits)
    if own is not None:
        return own
    chosen = display.unit_for(value) if unit else display.unit
    number = _number_text(chosen.outside(value), chosen, display, fine, digits)
    return number + chosen.gap + chosen.text if unit else number


def label(kind: str, system: str = "metric") -> str:
    """Return the unit in which a bare number of ``kind`` is read ("m", "ft", "%"; counts "")."""
    if (kind, system) == ("wire_area", "us"):
        return "AWG"
    return display_of(kind, system).unit.text


def nudge(kind: str, system: str = "metric", size: str = "normal") -> float:
    """Return the step of one arrow key, in the inside unit of ``kind``.

    ``size`` is "fine" (Ctrl), "normal" or "coarse" (Shift): for lengths 1 mm, 1 cm, 10 cm, or
    1/16 in, 1/2 in, 6 in.
    """
    return display_of(kind, system).nudges[("fine", "normal", "coarse").index(size)]


def _own_text(value: float, kind: str, system: str, fine: bool, digits: int | None) -> str | None:
    """Return the text of the kinds that are not one number and one unit, else None."""
    if kind == "time_of_day":
        return _time_text(value, fine)
    if (kind, system) == ("length", "us"):
        rough = digits is not None and abs(value) >= FOOT
        return feet_and_inches(value, 16 if fine else 2 if rough else 8)
    if (kind, system) == ("wire_area", "us"):
        return gauge_text(value) or show(value, kind, fine=fine)
    return None


def _number_text(
    number: float, unit: Unit, display: Display, fine: bool, digits: int | None
) -> str:
    extra = _FINE_DIGITS if fine else 0
    fixed = display.least > 0
    least = display.least + extra if fixed and unit == display.unit else 0
    significant = digits or display.digits + (0 if fixed else extra)
    return show_number(number, significant, least, display.most + extra)


def _time_text(seconds: float, fine: bool) -> str:
    text = clock_text(seconds, fine)
    if text is None:
        rule = tr("{value} s lies outside the day; use 0 to 86400 s")
        raise InputError(rule.format(value=show_number(seconds)) + ".")
    return text


def feet_and_inches(value: float, parts: int) -> str:
    """Return a length [m] in feet and inches, right to one of ``parts`` of an inch.

    Examples
    --------
    >>> feet_and_inches(2.1971, 8), feet_and_inches(0.2921, 8)
    ('7 ft 2 1/2 in', '11 1/2 in')
    """
    if abs(value) > _LONGEST_IN_INCHES:
        return f"{show_number(value / FOOT)} {FT.text}"
    count = round(abs(value) / INCH * parts)
    if count == 0:
        return f"{show_number(value / INCH, 2)} in"
    feet, rest = divmod(count, 12 * parts)
    pieces = [f"{feet} ft"] if feet else []
    if rest:
        pieces.append(f"{_mixed(rest, parts)} in")
    return (MINUS if value < 0 else "") + " ".join(pieces)


def _mixed(count: int, parts: int) -> str:
    whole, top = divmod(count, parts)
    shared = math.gcd(top, parts)
    fraction = f"{top // shared}/{parts // shared}" if top else ""
    return " ".join(piece for piece in (str(whole) if whole else "", fraction) if piece)
