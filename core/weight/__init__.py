"""Weight: what floors and castors carry, and what it takes to tip a shelf unit.

The formulas here know numbers only; `core.weight.reading` turns a design into their arguments.
"""

from core.weight.stability import (
    ANCHOR_SLENDERNESS,
    WARN_SLENDERNESS,
    centre_of_gravity,
    push_to_tip,
    slenderness,
    tip_angle,
)
from core.weight.support import castor_load, floor_pressure

__all__ = [
    "ANCHOR_SLENDERNESS",
    "WARN_SLENDERNESS",
    "castor_load",
    "centre_of_gravity",
    "floor_pressure",
    "push_to_tip",
    "slenderness",
    "tip_angle",
]
