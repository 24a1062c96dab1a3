"""How much water a design's containers hold just after a refill.

Shared by the readings of water and of weight; the plain formulas are in `trays`.
"""

from __future__ import annotations

from core.model import AnyPart, Design, Plants, Platform, Reservoir, Tray
from core.placement import Placement
from core.water.trays import displaced_by_round_pots, tray_volume


def tray_water(placement: Placement, tray: Tray) -> float:
    """Return the water in a tray, less what its pots and other contents take up. [m³]"""
    return _water_to(placement, tray, tray.fill)


def tray_brimful(placement: Placement, tray: Tray) -> float:
    """Return the water a tray holds when full to its rim. [m³]"""
    return _water_to(placement, tray, tray.height)


def _water_to(placement: Placement, tray: Tray, depth: float) -> float:
    displaced = sum(
        _under_water(placement, tray, part, depth) for part in placement.design.carried(tray.id)
    )
    whole = tray.width * tray.depth * depth
    return tray_volume(tray.width, tray.depth, depth, min(tray.displaced + displaced, whole))


def _under_water(placement: Placement, tray: Tray, part: AnyPart, depth: float) -> float:
    """Return the water that something carried by a tray takes up. [m³]"""
    if isinstance(part, Plants) and _stands_in(placement.design, part, tray):
        return _pots_under_water(placement, tray, part, depth)
    if isinstance(part, Platform) and part.place.host == tray.id:
        wet = min(max(depth - _foot(placement, tray, part), 0.0), part.height)
        return part.displaced * wet / part.height
    return 0.0


def _foot(placement: Placement, tray: Tray, part: AnyPart) -> float:
    """Return how far above a tray's floor something stands. [m]"""
    return placement.box(part.id).lo[2] - placement.box(tray.id).lo[2]


def _pots_under_water(placement: Placement, tray: Tray, plants: Plants, depth: float) -> float:
    if plants.pots is None:
        return 0.0
    foot = _foot(placement, tray, plants)
    wet = min(max(depth - foot, 0.0), plants.pots.height)
    return displaced_by_round_pots(plants.pots.count, plants.pots.diameter, wet)


def _stands_in(design: Design, plants: Plants, tray: Tray) -> bool:
    """Tell whether plants stand in a tray, directly or on a platform in it."""
    host = design.by_id.get(plants.place.host)
    if isinstance(host, Platform):
        return host.place.host == tray.id
    return plants.place.host == tray.id


def reservoir_water(reservoir: Reservoir) -> float:
    """Return the water in a full reservoir. [m³]"""
    return reservoir.width * reservoir.depth * min(reservoir.fill, reservoir.height)
