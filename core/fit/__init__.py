"""Fit: carrying an enclosure in and standing it up.

The formulas here know numbers only; `core.fit.reading` turns a design into their arguments.
"""

from core.fit.carrying import tilt_height, widest_round_corner

__all__ = ["tilt_height", "widest_round_corner"]
