"""The feed lines of a design that run by gravity: their head, what flows, what stays behind.

Flow through a tube is in `core.water.tubes`; what may run out by mistake, in `core.water.leaks`.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.model import FeedLine, Reservoir, Tray
from core.placement import Placement
from core.water.contents import reservoir_water
from core.water.evaporation import WATER_DENSITY
from core.water.reservoirs import volume_above_inlet
from core.water.tubes import ENDS, head_for, seat_loss, tube_flow

FLOW_SPREAD = (0.7, 1.3)
"""Honest band of a flow: a bore 5 % wider or narrower gives a fifth more or less (judgement)."""

_TEMPERATURE = 20.0


@dataclass(frozen=True)
class Feed:
    """A feed line that runs by gravity.

    Attributes
    ----------
    id, name, source, target : str
    head_full, head_low : float
        Water level above the outlet with the reservoir full, and at the end; negative where the
        level is below the outlet. [m]
    flow_full, flow_low : float
        What runs then. [kg/s]
    needed : float
        Most that its target takes. [kg/s]
    usable : float
        Water of the reservoir that arrives fast enough. [m³]
    stays : float
        Water of the reservoir that does not. [m³]
    """

    id: str
    name: str
    source: str
    target: str
    head_full: float
    head_low: float
    flow_full: float
    flow_low: float
    needed: float
    usable: float
    stays: float


def gravity_feed(placement: Placement, line: FeedLine, needed: float) -> Feed | None:
    """Return how a feed line runs by gravity; None for a pumped one, or an empty reservoir.

    Parameters
    ----------
    placement : Placement
    line : FeedLine
    needed : float
        Most that its target takes. [kg/s]
    """
    source = placement.design.part(line.source)
    if line.drive != "gravity" or not isinstance(source, Reservoir) or source.fill <= 0:
        return None
    base, outlet = placement.box(source.id).lo[2], _outlet(placement, line)
    full, low = base + min(source.fill, source.height) - outlet, base - outlet
    held = reservoir_water(source)
    least = head_for(needed / WATER_DENSITY, line.bore, line.length, _TEMPERATURE, _losses(line))
    end = max(base, outlet + least)
    usable = volume_above_inlet(held, base, base + min(source.fill, source.height), end)
    return Feed(
        line.id, line.name, line.source, line.target, full, low,
        _flow(line, full), _flow(line, low), needed, usable, held - usable,
    )  # fmt: skip


def _outlet(placement: Placement, line: FeedLine) -> float:
    """Return the level against which a feed line runs: its open end, or the water it fills. [m]"""
    target = placement.design.part(line.target)
    under_water = target.fill if isinstance(target, Tray) and line.valve == "float" else 0.0
    return placement.box(target.id).lo[2] + max(line.inlet, under_water)


def _losses(line: FeedLine) -> float:
    return ENDS + (seat_loss() if line.valve == "float" else 0.0)


def _flow(line: FeedLine, head: float) -> float:
    """Return what runs through a feed line under a head. [kg/s]"""
    if head <= 0:
        return 0.0
    flow = tube_flow(head, line.bore, line.length, _TEMPERATURE, _losses(line))
    return flow * WATER_DENSITY
