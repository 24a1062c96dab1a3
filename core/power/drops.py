"""Voltage lost along the leads between a circuit and what it feeds.

Resistance by cross-section is taken from the conductors of `core.power.leads`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache

from core.model import Lead
from core.power.leads import CONDUCTORS, voltage_drop
from core.power.tree import PlugTree, circuit_key

_MM2 = 1e-6

AREAS: Mapping[str, float] = {
    "18 AWG": 0.8230 * _MM2,
    "16 AWG": 1.3087 * _MM2,
    "14 AWG": 2.0811 * _MM2,
    "12 AWG": 3.3088 * _MM2,
    "10 AWG": 5.2612 * _MM2,
    "0.75 mm²": 0.75 * _MM2,
    "1.0 mm²": 1.0 * _MM2,
    "1.5 mm²": 1.5 * _MM2,
    "2.5 mm²": 2.5 * _MM2,
}
"""Cross-section of the conductors; gauges by ASTM B258's definition. [m²]"""

TAKEN_AREA = 0.75 * _MM2
"""Cross-section taken for a device's own lead when nobody says. [m²]"""


@lru_cache(maxsize=128)
def ohm_per_metre(area: float) -> float:
    """Return the resistance of one copper conductor.

    Parameters
    ----------
    area : float
        Cross-section, above 0. [m²]

    Returns
    -------
    float
        That of the conductor nearest in size, scaled by the areas. [Ω/m]
    """
    nearest = min(AREAS, key=lambda name: abs(math.log(AREAS[name] / area)))
    return CONDUCTORS[nearest].ohm_per_metre * AREAS[nearest] / area


def drops(tree: PlugTree, currents: Mapping[str, float]) -> dict[str, float]:
    """Return the voltage lost between the outlet and each part.

    Parameters
    ----------
    tree : PlugTree
    currents : mapping
        Peak current through each part, by id. [A]

    Returns
    -------
    dict
        Along the leads of the part itself and of all that feed it, by id. [V]
    """
    found: dict[str, float] = {}
    for circuit in tree.circuits:
        for key in tree.steps(circuit_key(circuit.id)):
            before = found.get(tree.feeds.get(key, ""), 0.0)
            found[key] = before + _own_drop(tree, key, currents.get(key, 0.0))
    return {key: drop for key, drop in found.items() if key in tree.parts}


def _own_drop(tree: PlugTree, key: str, current: float) -> float:
    part = tree.parts.get(key)
    if part is None:
        return 0.0
    lost = 0.0
    if part.plug is not None:
        area = part.plug.wire_area or TAKEN_AREA
        lost += voltage_drop(current, part.plug.lead_length, ohm_per_metre(area))
    if isinstance(part, Lead):
        lost += voltage_drop(current, part.length, ohm_per_metre(part.wire_area))
    return lost
