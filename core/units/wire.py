"""Wire gauges: the American Wire Gauge beside the square millimetres of the metric world.

Sizes follow ASTM B258: 0.005 in at gauge 36 and a ratio of 92 over 39 steps.
"""

from __future__ import annotations

import math
import re

_GAUGE = re.compile(r"(awg ?|#)?([0-9]{1,2})(/0)? ?(awg|ga|gauge)?", re.IGNORECASE)
_FINEST, _THICKEST = 40, -3


def gauge_area(gauge: int) -> float:
    """Return the cross-section of a gauge; 0 is 1/0, −3 is 4/0. [m²]"""
    diameter = 0.127e-3 * 92 ** ((36 - gauge) / 39)
    return math.pi / 4 * diameter**2


def gauge_in(text: str, bare: bool) -> int | None:
    """Return the gauge that plain ``text`` names, or None; ``bare``: the letters may be missing."""
    found = _GAUGE.fullmatch(text)
    if not found or not (bare or found[1] or found[4]):
        return None
    gauge = 1 - int(found[2]) if found[3] else int(found[2])
    return gauge if _THICKEST <= gauge <= _FINEST else None


def gauge_text(area: float) -> str | None:
    """Return "14 AWG" for an ``area`` [m²] within 1 % of a gauge, else None."""
    if not 1e-9 < area < 1e-3:
        return None
    diameter = math.sqrt(4 * area / math.pi)
    gauge = round(36 - 39 * math.log(diameter / 0.127e-3, 92))
    if not _THICKEST <= gauge <= _FINEST or abs(area / gauge_area(gauge) - 1) > 0.01:
        return None
    return f"{gauge} AWG" if gauge > 0 else f"{1 - gauge}/0 AWG"
