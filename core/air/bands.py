"""Bands of air speed at leaves and their names, of one speed and of a range.

Which speeds a plant group wants is the design's; states follow `core.states`.
"""

from __future__ import annotations

from core.air.reach import STILL
from core.language import tr
from core.phrases import Phrase, phrase

BRISK = 0.5
"""From here on leaves flutter (common practice). [m/s]"""

BEST = 0.3
"""From here on gentle air is best (common practice, no source). [m/s]"""


def band(speed: float, high: float, spread: tuple[float, float]) -> Phrase:
    """Return the names of the bands a speed may be in: still, gentle, brisk or too strong.

    Parameters
    ----------
    speed : float
        [m/s]
    high : float
        What the leaves stand at most. [m/s]
    spread : tuple of 2 floats
        Range of the speed, which may reach from one band into others. [m/s]
    """
    low, top = (_name(end, high) for end in (min(speed, *spread), max(speed, *spread)))
    if low == top:
        return phrase("{band}", band=low)
    return phrase("{band} to {other}", band=low, other=top)


def _name(speed: float, high: float) -> str:
    if speed < STILL:
        return tr("still")
    if speed > high:
        return tr("too strong")
    return tr("gentle") if speed < min(BRISK, high) else tr("brisk")
