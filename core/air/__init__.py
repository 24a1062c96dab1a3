"""Air: jets of fans and what moving air does for leaves.

The formulas here know numbers only; `core.air.reading` turns a design into their arguments.
"""

from core.air.jets import AIR_DENSITY, RoundJet
from core.air.leaves import leaf_conductance

__all__ = ["AIR_DENSITY", "RoundJet", "leaf_conductance"]
