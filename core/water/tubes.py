"""What flows through a tube under a head of water, slowly or fast.

The head that a known slow flow needs is in `core.water.reservoirs`; which tubes a design has, in
`core.water.feeds`.
"""

from __future__ import annotations

import math

from core.arguments import not_negative, positive
from core.constants import GRAVITY
from core.water.reservoirs import water_density, water_viscosity

ENDS = 1.5
"""Velocity heads lost where a tube begins, 0.5, and where it ends, 1.0 (handbook values)."""

FLOAT_SEAT = 0.5
"""Bore of a float valve's seat over its tube's (common practice, no source)."""

_CONTRACTION = 0.62
"""Area of the jet through a sharp edge over that of the hole (potential flow: π/(π + 2) = 0.61)."""

_HALVINGS = 44


def friction_factor(reynolds: float) -> float:
    """Return the Darcy friction factor of a smooth round tube, slow or fast.

    Parameters
    ----------
    reynolds : float
        Above 0.

    Returns
    -------
    float

    Raises
    ------
    InputError
        If ``reynolds`` is not above 0.

    References
    ----------
    .. [1] S. W. Churchill, "Friction-factor equation spans all fluid-flow regimes", Chemical
       Engineering 84 (1977), with no roughness.
    """
    positive("Tube", "Reynolds number", reynolds)
    return _factor(reynolds)


def _factor(reynolds: float) -> float:
    if reynolds < 1000.0:
        return 64.0 / reynolds
    smooth = (2.457 * 0.9 * math.log(reynolds / 7.0)) ** 16
    rough = (37_530.0 / reynolds) ** 16
    return float(8.0 * ((8.0 / reynolds) ** 12 + (smooth + rough) ** -1.5) ** (1 / 12))


def seat_loss(ratio: float = FLOAT_SEAT) -> float:
    """Return the velocity heads of the tube that are lost in a narrower seat.

    Parameters
    ----------
    ratio : float
        Bore of the seat over that of the tube, above 0.

    Returns
    -------
    float
        (1/(0.62 β²) - 1)²: the jet through the seat spreads over the tube again.

    References
    ----------
    .. [1] Borda and Carnot's loss at a sudden widening.
    """
    positive("Valve", "bore of the seat over the tube's", ratio)
    return (1.0 / (_CONTRACTION * ratio**2) - 1.0) ** 2


def tube_flow(
    head: float, bore: float, length: float, t: float = 20.0, losses: float = ENDS
) -> float:
    """Return what flows through a smooth round tube under a head of water.

    Parameters
    ----------
    head : float
        Water level above the outlet. [m]
    bore : float
        Inside diameter. [m]
    length : float
        [m]
    t : float
        Temperature of the water, 0 to 100. [°C]
    losses : float
        Velocity heads lost at ends, bends and valves.

    Returns
    -------
    float
        [m³/s]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] Darcy and Weisbach's equation; its friction factor is Churchill's.
    """
    not_negative("Tube", "head", head, "m")
    positive("Tube", "bore", bore, "m")
    not_negative("Tube", "length", length, "m")
    not_negative("Tube", "losses", losses)
    if head == 0:
        return 0.0
    slip = water_density(t) * bore / water_viscosity(t)
    low, high = 0.0, math.sqrt(2 * GRAVITY * head / max(losses, 1e-3))
    for _ in range(_HALVINGS):
        speed = (low + high) / 2
        if _head_at(speed, slip, length / bore, losses) > head:
            high = speed
        else:
            low = speed
    return math.pi / 4 * bore**2 * (low + high) / 2


def head_for(
    flow: float, bore: float, length: float, t: float = 20.0, losses: float = ENDS
) -> float:
    """Return the head of water under which a flow runs through a smooth round tube.

    Parameters, errors and source are those of `tube_flow`, with ``flow`` in m³/s.

    Returns
    -------
    float
        Water level above the outlet. [m]
    """
    not_negative("Tube", "flow", flow, "m³/s")
    positive("Tube", "bore", bore, "m")
    not_negative("Tube", "length", length, "m")
    not_negative("Tube", "losses", losses)
    if flow == 0:
        return 0.0
    slip = water_density(t) * bore / water_viscosity(t)
    return _head_at(flow / (math.pi / 4 * bore**2), slip, length / bore, losses)


def _head_at(speed: float, slip: float, slender: float, losses: float) -> float:
    """Return the head lost at a speed; ``slip`` is the Reynolds number at 1 m/s. [m]"""
    return (_factor(slip * speed) * slender + losses) * speed**2 / (2 * GRAVITY)
