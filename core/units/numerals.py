"""Characters and numbers: the many ways to type a sign or a fraction, and the one to show it.

Nothing here knows a unit; `reader` and `writer` put units to the numbers.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass

from core.errors import InputError
from core.language import tr

MINUS = "\N{MINUS SIGN}"

_VULGAR = "½¼¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_ALIKE = str.maketrans(
    {
        **dict.fromkeys("\N{MINUS SIGN}\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{EN DASH}", "-"),
        **dict.fromkeys(
            "\N{PRIME}\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}", "'"
        ),
        **dict.fromkeys(
            "\N{DOUBLE PRIME}\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}", '"'
        ),
        **dict.fromkeys("\N{MICRO SIGN}\N{GREEK SMALL LETTER MU}", "u"),
        **dict.fromkeys("\N{OHM SIGN}\N{GREEK CAPITAL LETTER OMEGA}", "ohm"),
        **dict.fromkeys("\N{MASCULINE ORDINAL INDICATOR}\N{RING ABOVE}", "°"),
        "\N{KELVIN SIGN}": "K",
        "\N{DEGREE CELSIUS}": "°C",
        "\N{DEGREE FAHRENHEIT}": "°F",
        "\N{FRACTION SLASH}": "/",
    }
)
_RAISED = str.maketrans("⁻¹²³", "-123")

_TIDY = (
    (re.compile("''"), '"'),
    (re.compile(rf" ?([{_VULGAR}])"), lambda m: " " + unicodedata.normalize("NFKC", m[1])),
    (re.compile("(?<=[A-Za-z])⁻?[¹²³]"), lambda m: m[0].translate(_RAISED)),
    (re.compile(r"(?<=[A-Za-z])\^(?=-?[123])"), ""),
    (re.compile("(?<=[A-Za-z0-9]) ?[·⋅∙] ?(?=[A-Za-z°])"), " "),
    (re.compile("° (?=[CFcf])"), "°"),
    (re.compile("(?<=[A-Za-z]) per (?=[A-Za-z])"), "/"),
)


def plain(text: str) -> str:
    """Return ``text`` in the few characters that the reader knows.

    Only the characters change, never what they mean: a raised digit after a number ("10²") stays
    as it is, so that it is refused instead of being read as 102.
    """
    text = " ".join(text.split()).translate(_ALIKE)
    for pattern, instead in _TIDY:
        text = pattern.sub(instead, text)
    return text.translate(_ALIKE).strip()


@dataclass(frozen=True)
class Numeral:
    """A number without sign as it was typed: its text, its value, and where the text goes on."""

    text: str
    value: float
    end: int

    @property
    def whole(self) -> bool:
        """Whether the number has no fraction and no decimals."""
        return self.text.isdigit()


_MIXED = re.compile(r"(?:([0-9]+)(?: |-))?([0-9]+) ?/ ?([0-9]+)")
_DECIMAL = re.compile(r"[0-9.,]*[0-9][0-9.,]*(?:[eE][+-]?[0-9]+)?")
_PROPER = re.compile(r"(?:[0-9]+(?:[.,][0-9]+)?|[0-9]+\.|[.,][0-9]+)(?:[eE].*)?")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def numeral_at(text: str, start: int) -> Numeral | None:
    """Return the number that begins at ``start`` of plain ``text``, or None if none does.

    Raises
    ------
    InputError
        If the number is ambiguous, malformed or not finite; the text is the reason and the way
        out, without the typed text in front and without a full stop.
    """
    mixed = _MIXED.match(text, start)
    if mixed:
        return Numeral(mixed[0], _mixed_value(mixed), mixed.end())
    decimal = _DECIMAL.match(text, start)
    if decimal:
        return Numeral(decimal[0], _decimal_value(decimal[0]), decimal.end())
    return None


def _mixed_value(found: re.Match[str]) -> float:
    whole, top, bottom = int(found[1] or 0), int(found[2]), int(found[3])
    if bottom == 0:
        raise InputError(tr("divides by zero; enter a fraction such as 1/2"))
    if found[1] and top >= bottom:
        rule = tr("has a fraction of 1 or more beside a whole number; enter {total}")
        raise InputError(rule.format(total=show_number(whole + top / bottom, 6)))
    return whole + top / bottom


def _decimal_value(text: str) -> float:
    if _THOUSANDS.fullmatch(text):
        rule = tr("can be read in two ways; enter {thousands}, or {decimal}")
        raise InputError(
            rule.format(
                thousands=text.replace(",", ""),
                decimal=show_number(float(text.replace(",", ".")), 7),
            )
        )
    if not _PROPER.fullmatch(text):
        raise InputError(
            tr("has more commas or points than one number can have; enter a number such as 1200.5")
        )
    value = float(text.replace(",", "."))
    if not math.isfinite(value):
        raise InputError(tr("is too large for a number; enter a smaller one"))
    return value


def show_number(value: float, digits: int = 3, least: int = 0, most: int = 12) -> str:
    """Return ``value`` as shown: true minus, no needless zeros, whole numbers never rounded.

    Parameters
    ----------
    value : float
        A finite number.
    digits : int
        Significant digits.
    least, most : int
        Fewest and most decimals; ``most`` yields where it would turn the number into 0.

    Examples
    --------
    >>> show_number(2345.6), show_number(0.04567), show_number(0.8, least=2)
    ('2346', '0.0457', '0.80')
    """
    size = abs(float(value))
    if not math.isfinite(size):
        raise InputError(
            tr("{value} is not a finite number and cannot be shown").format(value=value)
        )
    sign = MINUS if value < 0 else ""
    if size == 0.0:
        return "0"
    if not 1e-9 <= size < 1e15:
        return sign + _powered(size, digits)
    return sign + _shown(size, digits, least, most)


def _powered(size: float, digits: int) -> str:
    mantissa, power = f"{size:.{digits - 1}e}".split("e")
    if "." in mantissa:
        mantissa = mantissa.rstrip("0").rstrip(".")
    return f"{mantissa}e{int(power)}".replace("-", MINUS)


def _shown(size: float, digits: int, least: int, most: int) -> str:
    magnitude = math.floor(math.log10(size))
    decimals = max(0, least, min(digits - 1 - magnitude, most))
    if round(size, decimals) == 0.0:
        decimals = -magnitude
    text = f"{size:.{decimals}f}"
    surplus = decimals - least
    zeros = len(text) - len(text.rstrip("0")) if decimals else 0
    return text[: len(text) - min(zeros, surplus)].rstrip(".") if surplus > 0 else text
