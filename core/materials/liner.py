"""The floor liner as it is cut: a blank in one piece, edges folded up, corners folded, not cut.

What it holds is in `core.water.spill`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.arguments import not_negative, positive
from core.materials.stock import Roll
from core.water.spill import LinerBlank


@dataclass(frozen=True)
class LinerPlan:
    """How a liner is cut and folded.

    Attributes
    ----------
    blank : LinerBlank
        The flat sheet. [m]
    folds : tuple of float
        What is turned up at the left, right, front and back edge. [m]
    roll : Roll
        The narrowest that gives the blank in one piece; the widest where none does.
    length : float
        To be cut from it. [m]
    in_one_piece : bool
        A seam in a liner leaks sooner or later.
    """

    blank: LinerBlank
    folds: tuple[float, float, float, float]
    roll: Roll
    length: float
    in_one_piece: bool

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """The rectangles at the four corners that are folded over, not cut, to stay tight. [m]"""
        left, right, front, back = self.folds
        return ((left, front), (right, front), (left, back), (right, back))

    @property
    def left_over(self) -> float:
        """What is trimmed off the roll's width. [m²]"""
        return self.length * self.roll.width - self.blank.area if self.in_one_piece else 0.0


def liner_plan(
    width: float,
    depth: float,
    lips: tuple[float, float, float, float],
    rolls: Sequence[Roll],
    *,
    over_frame: float = 0.0,
) -> LinerPlan:
    """Return the blank of a liner and the roll to cut it from.

    Parameters
    ----------
    width, depth : float
        Floor inside the lips. [m]
    lips : tuple of float
        Height of the left, right, front and back lip. [m]
    rolls : sequence of Roll
        To choose from.
    over_frame : float, optional
        What goes on over the bottom rail beyond each lip, where the liner is clipped to it. [m]

    Returns
    -------
    LinerPlan

    Raises
    ------
    InputError
        If a side is not above 0 or another length is negative.
    """
    positive("Liner", "width", width, "m")
    positive("Liner", "depth", depth, "m")
    not_negative("Liner", "allowance over the frame", over_frame, "m")
    for lip in lips:
        not_negative("Liner", "lip", lip, "m")
    left, right, front, back = (lip + over_frame for lip in lips)
    blank = LinerBlank(width + left + right, depth + front + back)
    short, long = sorted(blank)
    fits = [
        (side * roll.width, roll, side)
        for roll in rolls
        for across, side in ((short, long), (long, short))
        if across <= roll.width + 1e-9 and side <= roll.length + 1e-9
    ]
    folds = (left, right, front, back)
    if not fits:
        widest = max(rolls, key=lambda roll: roll.width)
        return LinerPlan(blank, folds, widest, long, False)
    _, roll, length = min(fits, key=lambda fit: (round(fit[0], 6), fit[1].width, fit[1].length))
    return LinerPlan(blank, folds, roll, length, True)
