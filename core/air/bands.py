"""Bands of air speed at leaves and their names; where two bands meet, what is said of a range.

Which speeds a plant group wants is the design's; states follow `core.states`.
"""

from __future__ import annotations

from core.air.reach import STILL
from core.language import tr
from core.phrases import Phrase, phrase

BRISK = 0.5
"""From here on leaves flutter (common practice). [m/s]"""


def band(speed: float, high: float, spread: tuple[float, float]) -> Phrase:
    """Return the name of a speed's band: still, gentle, brisk or too strong.

    Parameters
    ----------
    speed : float
        [m/s]
    high : float
        What the leaves stand at most. [m/s]
    spread : tuple of 2 floats
        Range of the speed. Where it reaches into another band, "borderline" is added. [m/s]
    """
    name = _name(speed, high)
    if all(_name(end, high) == name for end in spread):
        return phrase("{band}", band=name)
    return phrase("{band}, borderline", band=name)


def _name(speed: float, high: float) -> str:
    if speed < STILL:
        return tr("still")
    if speed > high:
        return tr("too strong")
    return tr("gentle") if speed < min(BRISK, high) else tr("brisk")
