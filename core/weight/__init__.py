"""Weight: what floors and castors carry, and what it takes to tip a shelf unit.

The formulas here know numbers only; `core.weight.reading` turns a design into their arguments.
"""

from core.weight.stability import (
    ANCHOR_SLENDERNESS,
    CHILD,
    WARN_SLENDERNESS,
    centre_of_gravity,
    climb_to_tip,
    push_to_tip,
    slenderness,
    tip_angle,
)
from core.weight.support import castor_load, corner_loads, floor_pressure

__all__ = [
    "ANCHOR_SLENDERNESS",
    "CHILD",
    "WARN_SLENDERNESS",
    "castor_load",
    "centre_of_gravity",
    "climb_to_tip",
    "corner_loads",
    "floor_pressure",
    "push_to_tip",
    "slenderness",
    "tip_angle",
]
