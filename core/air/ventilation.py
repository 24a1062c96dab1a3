"""Air that duct fans bring in and take out: on their curves, against filter, duct, bends and flaps.

What buoyancy alone drives through openings is in `core.climate.openings`; where in the enclosure
fresh air gets to is the flow's.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from core.air.flow.scene import AIR_VISCOSITY
from core.air.jets import AIR_DENSITY
from core.model import DuctFan, Enclosure, Opening
from core.phrases import Amount, Phrase, phrase

ROUGHNESS = 0.003
"""Of a flexible duct pulled straight (ASHRAE Handbook, Fundamentals, duct design, from memory). [m]
"""

BEND = 0.5
"""Pressure lost in a right-angled bend of flexible duct over ½ ρ u² (common practice)."""

ENTRY = 0.5
"""The same where air enters a duct by a sharp edge (Idelchik, from memory)."""

DISCHARGE = 0.6
"""Discharge coefficient of a flap (sharp-edged orifice, textbook value)."""

USUAL_SHUT_OFF = 100.0
"""Pressure at which a duct fan without a curve is taken to stall (common practice). [Pa]"""

HOUR = 3600.0

_TRIES = 60
"""Bound on the steps by which a flow is found; some ten are enough."""


@dataclass(frozen=True)
class DuctFlow:
    """One duct fan at work.

    Attributes
    ----------
    part : str
    inwards : bool
    flow : float
        Through it, against all that is in its way. [m³/s]
    pressure : float
        It works against. [Pa]
    """

    part: str
    inwards: bool
    flow: float
    pressure: float

    @property
    def let_in(self) -> float:
        """Flow into the space; below 0 where it is taken out. [m³/s]"""
        return self.flow if self.inwards else -self.flow


@dataclass(frozen=True)
class Ventilation:
    """Fresh air of one closed space.

    Attributes
    ----------
    volume : float
        [m³]
    fans : tuple of DuctFlow
    made_up : float
        Let in by flaps or leaks to make up for what the fans take out; below 0 where it is let
        out. [m³/s]
    leakage : float
        With every opening shut and no fan running. [m³/s]
    assumptions : tuple of Phrase
    """

    volume: float
    fans: tuple[DuctFlow, ...]
    made_up: float
    leakage: float
    assumptions: tuple[Phrase, ...] = ()

    @property
    def driven(self) -> bool:
        """Whether a fan drives fresh air through."""
        return any(fan.flow > 0 for fan in self.fans)

    @property
    def fresh(self) -> float:
        """Fresh air in all. [m³/s]

        References
        ----------
        .. [1] Modera and Peterson, Simplified methods for combining mechanical ventilation and
           natural infiltration, LBL-18955, 1985 (from memory): unbalanced flow and leakage add as
           squares, balanced flow adds in full.
        """
        into = sum(fan.flow for fan in self.fans if fan.inwards)
        out = sum(fan.flow for fan in self.fans if not fan.inwards)
        return min(into, out) + math.hypot(into - out, self.leakage)

    @property
    def air_changes(self) -> float:
        """[1/h]"""
        return self.fresh * HOUR / self.volume


def ventilation_of(
    enclosure: Enclosure, volume: float, fans: Iterable[DuctFan], flaps: Iterable[Opening]
) -> Ventilation:
    """Return the fresh air that an enclosure's duct fans, flaps and leaks give.

    Parameters
    ----------
    enclosure : Enclosure
    volume : float
        [m³]
    fans : iterable of DuctFan
        Those that join the enclosure to something else; taken to run.
    flaps : iterable of Opening
        Those that do so too.
    """
    fans, flaps = tuple(fans), tuple(flaps)
    held = sum(flap.width * flap.height for flap in flaps)
    inside = _pressure_inside(fans, held)
    found = tuple(_duct_flow(fan, inside) for fan in fans)
    net = sum(fan.let_in for fan in found)
    leakage = enclosure.air_changes_per_hour * volume / HOUR
    return Ventilation(volume, found, -net, leakage, tuple(_assumed(fans, found, held, net)))


def _assumed(
    fans: tuple[DuctFan, ...], found: tuple[DuctFlow, ...], held: float, net: float
) -> Iterable[Phrase]:
    for fan, at_work in zip(fans, found, strict=True):
        if not fan.curve and at_work.pressure > 0.5:
            yield phrase(
                "{name} has no curve: taken to stall at {pressure}",
                name=fan.name, pressure=Amount(USUAL_SHUT_OFF, "fan_pressure"),
            )  # fmt: skip
        if fan.control:
            yield phrase("{name} is taken to run", name=fan.name)
    if held and not fans:
        yield phrase("What warm air moves through open flaps is told with the climate, not here")
    if not held and abs(net) > 0:
        yield phrase("No flap is drawn: leaks are taken to let through what the fans need")


def _duct_flow(fan: DuctFan, inside: float) -> DuctFlow:
    inwards = fan.joins[1] == "enclosure"
    against = inside if inwards else -inside
    flow = duct_fan_flow(fan, against)
    return DuctFlow(fan.id, inwards, flow, against + duct_loss(fan, flow))


def _pressure_inside(fans: tuple[DuctFan, ...], area: float) -> float:
    """Return the pressure inside over that outside at which flaps pass what the fans do not. [Pa]

    Leaks, taken where there is no flap, pass it freely.
    """
    if area <= 0 or not fans:
        return 0.0

    def surplus(inside: float) -> float:
        net = sum(_duct_flow(fan, inside).let_in for fan in fans)
        return net - math.copysign(orifice_flow(area, abs(inside)), inside)

    reach = 1.0 + max(shut_off(fan) for fan in fans)
    return falling_root(surplus, -reach, reach)


def orifice_flow(area: float, pressure: float) -> float:
    """Return what a sharp-edged hole of some m² lets through at a pressure in Pa. [m³/s]"""
    return DISCHARGE * area * math.sqrt(2 * pressure / AIR_DENSITY)


def falling_root(value: Callable[[float], float], low: float, high: float) -> float:
    """Return where a falling function passes zero, or the end that it does not reach.

    References
    ----------
    .. [1] Dowell and Jarratt, BIT 11, 1971: false position, Illinois variant (from memory).
    """
    at_low, at_high = value(low), value(high)
    if at_low <= 0 or at_high >= 0:
        return low if at_low <= 0 else high
    near, before, middle = (high - low) * 1e-12, 0.0, low
    for _ in range(_TRIES):
        last, middle = middle, (low * at_high - high * at_low) / (at_high - at_low)
        found = value(middle)
        if abs(middle - last) < near or found == 0:
            break
        if found > 0:
            low, at_low, at_high = middle, found, at_high / 2 if before > 0 else at_high
        else:
            high, at_high, at_low = middle, found, at_low / 2 if before < 0 else at_low
        before = found
    return middle


def duct_fan_flow(fan: DuctFan, against: float = 0.0) -> float:
    """Return the flow of a duct fan: where its curve meets filter, duct, bends and a pressure.

    Parameters
    ----------
    fan : DuctFan
    against : float
        Pressure between the two spaces it works against; may be negative. [Pa]

    Returns
    -------
    float
        0 where it stalls; never above its free flow. [m³/s]
    """
    if fan.flow <= 0:
        return 0.0
    return falling_root(
        lambda flow: fan_pressure(fan, flow) - duct_loss(fan, flow) - against, 0.0, free_flow(fan)
    )


def free_flow(fan: DuctFan) -> float:
    """Return the flow of a fan against nothing. [m³/s]"""
    return max((point.flow for point in fan.curve), default=fan.flow)


def shut_off(fan: DuctFan) -> float:
    """Return the pressure at which a fan moves nothing. [Pa]"""
    return max((point.pressure for point in fan.curve), default=USUAL_SHUT_OFF)


def fan_pressure(fan: DuctFan, flow: float) -> float:
    """Return the pressure a fan gives at a flow: on its curve, else on a parabola. [Pa]"""
    if not fan.curve:
        return USUAL_SHUT_OFF * (1 - (flow / fan.flow) ** 2)
    points = sorted((point.flow, point.pressure) for point in fan.curve)
    flows, pressures = zip(*points, strict=True)
    return float(np.interp(flow, flows, pressures))


def duct_loss(fan: DuctFan, flow: float) -> float:
    """Return the pressure that filter, duct and bends take at a flow. [Pa]

    A filter's loss grows with the flow, as through a bed (Darcy), from what it is at free flow.
    """
    filtered = fan.filter_drop * flow / fan.flow if fan.flow > 0 else 0.0
    speed = flow / (math.pi * fan.diameter**2 / 4)
    entry = ENTRY if fan.duct_length > 0 else 0.0
    along = friction_factor(speed * fan.diameter / AIR_VISCOSITY, ROUGHNESS / fan.diameter)
    times = along * fan.duct_length / fan.diameter + BEND * fan.bends + entry
    return filtered + times * AIR_DENSITY * speed**2 / 2


def friction_factor(reynolds: float, roughness: float) -> float:
    """Return the Darcy friction factor of a round duct.

    Parameters
    ----------
    reynolds : float
    roughness : float
        Over the diameter.

    Returns
    -------
    float
        64/Re in laminar flow; else by Haaland, within 2 % of Colebrook.

    References
    ----------
    .. [1] Haaland, J. Fluids Eng. 105, 1983: the explicit formula.
    """
    if reynolds <= 0:
        return 0.0
    if reynolds < 2300:
        return 64 / reynolds
    inner = (roughness / 3.7) ** 1.11 + 6.9 / reynolds
    return (-1.8 * math.log10(inner)) ** -2
