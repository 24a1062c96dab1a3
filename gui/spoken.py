"""What assistive tools say: the signs of a line put into words.

Which things have a name is decided where they are made; `gui.vial` says a whole reading.
"""

from __future__ import annotations

import re

from core.language import tr
from core.reading import Reading

# Longer units first, so that "m/s" is not read as metres.
_UNITS = (
    ("µmol/(m² s)", "micromoles per square metre and second"),
    ("mol/(m² d)", "moles per square metre and day"),
    ("m³/h", "cubic metres per hour"),
    ("m/s", "metres per second"),
    ("ft/min", "feet per minute"),
    ("kPa", "kilopascals"),
    ("kg", "kilograms"),
    ("°C", "degrees Celsius"),
    ("°F", "degrees Fahrenheit"),
    ("%", "percent"),
    ("±", "plus or minus"),
    ("×", "by"),
    ("≈", "about"),
)
_RANGE = re.compile(r"(?<=\d)–(?=[\d−-])")
_WANT = re.compile(r"(?:(?<=; )|^)want ")
_UNIT_AFTER = r"(?<![^\W\d_])"


def aloud(line: str) -> str:
    """Return a line with its signs in words.

    Examples
    --------
    >>> aloud("184 at level 4; want 60–120")
    '184 at level 4, wanted 60 to 120'
    """
    text = _RANGE.sub(tr(" to "), line)
    text = _WANT.sub(tr("wanted "), text).replace(";", ",")
    for sign, words in _UNITS:
        after = r"(?![^\W\d_])" if sign[-1].isalpha() else ""
        text = re.sub(_UNIT_AFTER + re.escape(sign) + after, f" {tr(words)} ", text)
    return " ".join(text.split()).replace(" ,", ",")


def sureness(item: Reading) -> str:
    """Return how sure a reading is: "plus or minus 8 percent", or its lowest and highest.

    Empty where it has no spread.
    """
    if item.value is None or item.low is None or item.high is None or item.high <= item.low:
        return ""
    down, up = item.value - item.low, item.high - item.value
    if item.value > 0 and abs(up - down) <= 0.05 * max(up, down):
        share = max(1, round(100 * up / item.value))
        return tr("plus or minus {share} percent").format(share=share)
    return ""
