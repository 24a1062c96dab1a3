"""Air: jets of fans, the flow through a whole enclosure, and what moving air does for leaves.

The formulas here know numbers only; `core.air.reading` turns a design into their arguments. What
belongs to the flow loads when it is first named.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from core.air.jets import AIR_DENSITY, RoundJet
from core.air.leaves import leaf_conductance

if TYPE_CHECKING:
    from core.air.flow.age import mean_age
    from core.air.flow.field import FlowField
    from core.air.flow.scene import AirScene, Fan, Heat, Opening, Panel, Solid
    from core.air.flow.solve import Progress, solve_flow

_LATE = {
    "AirScene": "scene",
    "Fan": "scene",
    "FlowField": "field",
    "Heat": "scene",
    "Opening": "scene",
    "Panel": "scene",
    "Progress": "solve",
    "Solid": "scene",
    "mean_age": "age",
    "solve_flow": "solve",
}
"""Name -> module of `core.air.flow` that holds it."""

__all__ = [
    "AIR_DENSITY",
    "AirScene",
    "Fan",
    "FlowField",
    "Heat",
    "Opening",
    "Panel",
    "Progress",
    "RoundJet",
    "Solid",
    "leaf_conductance",
    "mean_age",
    "solve_flow",
]


def __getattr__(name: str) -> object:
    if name not in _LATE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"core.air.flow.{_LATE[name]}"), name)
