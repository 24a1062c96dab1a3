"""Keeps what belongs together on one line: a number and its unit.

Where lines end is the writers' affair.
"""

from __future__ import annotations

import re

_NO_BREAK = "\N{NO-BREAK SPACE}"
_AFTER_NUMBER = re.compile(r"(?<=[\d²³])[ \u2009](?=\S)|(?<=≈)[ \u2009](?=\d)|\u2009")


def bound(text: str) -> str:
    """Return a text whose numbers cannot be parted from the words that follow them.

    Examples
    --------
    >>> bound("want 16 °C").split(" ")
    ['want', '16\\xa0°C']
    """
    return _AFTER_NUMBER.sub(_NO_BREAK, text)
