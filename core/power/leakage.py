"""The current that leaks to earth while all is well, against what leakage protection lets pass.

Whether a circuit is protected at all is asked in `core.power.wiring`.
"""

from __future__ import annotations

from core.model import Circuit, Outlet, Powered
from core.power.tree import PlugTree, circuit_key, count_of

TRIPS_AT = {"north-america": 0.005, "elsewhere": 0.030}
"""Leakage at which protection trips: class A ground-fault devices at 4 to 6 mA (UL 943, from
memory), 30 mA elsewhere (IEC 61008-1). [A]"""

STANDING_SHARE = 0.30
"""The most of it that standing leakage should take; 25 to 30 % are advised (IEC 60364-5-53, from a
secondary copy)."""


def standing_limit(region: str) -> float:
    """Return the standing leakage that protection bears without tripping for nothing. [A]"""
    return STANDING_SHARE * TRIPS_AT[region]


def standing_leakage(tree: PlugTree, circuit: Circuit) -> tuple[float, tuple[Powered, ...]]:
    """Return the leakage known on what protects a circuit, and the devices it is known of. [A]

    Where the circuit itself is not protected, the outlet with the most counts; (0, ()) where
    nothing is known to be protected.
    """
    if circuit.leakage_protected:
        return _known(tree, circuit_key(circuit.id))
    outlets = [
        item.id
        for item in tree.design.room.fixtures
        if isinstance(item, Outlet)
        and item.leakage_protected
        and tree.circuit_of(item.id) == circuit
    ]
    return max(
        (_known(tree, key) for key in outlets), key=lambda found: found[0], default=(0.0, ())
    )


def _known(tree: PlugTree, key: str) -> tuple[float, tuple[Powered, ...]]:
    devices = tuple(part for part in tree.devices(key) if part.leakage is not None)
    total = sum((part.leakage or 0.0) * count_of(part) for part in devices)
    return total, devices
