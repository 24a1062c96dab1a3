"""Which sizes the panels have in a window of which size.

The window applies them; grids and gaps within a panel are the panel's own.
"""

from __future__ import annotations

from dataclasses import dataclass

from gui.day_ribbon import HEIGHT, LEAST_HEIGHT

NARROW = 1100
LOW = 700
WIDE = 1600
HIGH = 1000


@dataclass(frozen=True)
class Sizes:
    """Sizes of one window.

    ``compact`` leaves the parts shelf its icons and the readings their short lines; ``column`` is
    the right column's width, ``ribbon`` the day ribbon's height; ``tall`` gives rows more height.
    """

    compact: bool
    column: int
    ribbon: int
    tall: bool


def sizes_for(width: int, height: int) -> Sizes:
    """Return the sizes for a window. [px]"""
    column = 296 if width < NARROW else 400 if width >= WIDE else 344
    ribbon = LEAST_HEIGHT if height < LOW else 92 if height >= HIGH else HEIGHT
    return Sizes(width < NARROW, column, ribbon, height >= HIGH)
