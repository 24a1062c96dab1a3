"""What a floor liner holds back, and the sheet it is folded from.

Which containers could empty into it is for whoever knows the design.
"""

from __future__ import annotations

from typing import NamedTuple

from core.arguments import not_negative, positive


class LinerBlank(NamedTuple):
    """The flat sheet of a liner whose edges are folded up."""

    width: float
    """[m]"""
    depth: float
    """[m]"""

    @property
    def area(self) -> float:
        """[m²]"""
        return self.width * self.depth


def spill_capacity(area: float, lip: float, out_of_level: float = 0.0) -> float:
    """Return the volume a rectangular liner holds before it runs over its lowest edge.

    Parameters
    ----------
    area : float
        Floor inside the lip. [m²]
    lip : float
        Height of the lip, the lowest where edges differ. [m]
    out_of_level : float
        Fall of the floor from its highest side to its lowest. [m]

    Returns
    -------
    float
        A(h - δ/2); where the fall δ exceeds the lip h, A h²/(2δ). [m³]

    Raises
    ------
    InputError
        If a number is negative or not finite.
    """
    not_negative("Liner", "area", area, "m²")
    not_negative("Liner", "lip", lip, "m")
    not_negative("Liner", "out of level", out_of_level, "m")
    if out_of_level > lip:
        return area * lip / out_of_level * lip / 2
    return area * (lip - out_of_level / 2)


def liner_blank(width: float, depth: float, lip: float) -> LinerBlank:
    """Return the sheet to cut for a liner whose lip is folded up on all four sides.

    Parameters
    ----------
    width, depth : float
        Floor inside the lip. [m]
    lip : float
        [m]

    Returns
    -------
    LinerBlank
        (width + 2 lip, depth + 2 lip). [m]

    Raises
    ------
    InputError
        If a side is not above 0 or ``lip`` is negative.
    """
    positive("Liner", "width", width, "m")
    positive("Liner", "depth", depth, "m")
    not_negative("Liner", "lip", lip, "m")
    return LinerBlank(width + 2 * lip, depth + 2 * lip)
