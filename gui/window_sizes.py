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
USUAL = (1280, 800)
LEAST = (960, 620)
_FRAME = (4, 34)
"""What a desktop's frame and title bar may take of a screen. [px]"""


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


def first_size(width: int, height: int) -> tuple[int, int]:
    """Return the size of a window that has none yet, on a screen with so much room. [px]"""
    room = (width - _FRAME[0], height - _FRAME[1])
    wide, high = (min(usual, free) for usual, free in zip(USUAL, room, strict=True))
    return max(LEAST[0], wide), max(LEAST[1], high)
