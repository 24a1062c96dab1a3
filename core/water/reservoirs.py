"""Reservoirs that feed by gravity: the head a tube needs, and what can run out by itself.

What is left open or shut is the design's.
"""

from __future__ import annotations

import math

from core.arguments import finite, not_negative, positive, within
from core.constants import GRAVITY, KELVIN
from core.errors import InputError, complaint

LAMINAR_LIMIT = 2300.0
"""Reynolds number up to which flow in a tube is surely laminar."""

_VISCOSITY_TERMS = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))


def water_viscosity(t: float) -> float:
    """Return the dynamic viscosity of water.

    Parameters
    ----------
    t : float
        Temperature, 0 to 100. [°C]

    Returns
    -------
    float
        [Pa s]

    Raises
    ------
    InputError
        If ``t`` is outside 0 to 100.

    References
    ----------
    .. [1] Pátek, Hrubý, Klomfar, Součková and Harvey, "Reference correlations for thermophysical
       properties of liquid water at 0.1 MPa", J. Phys. Chem. Ref. Data 38, 2009.
    """
    within("Water", "temperature", t, 0.0, 100.0, "°C")
    reduced = (t + KELVIN) / 300
    return 1e-6 * sum(factor * reduced**power for factor, power in _VISCOSITY_TERMS)


def tube_pressure(flow: float, bore: float, length: float, t: float = 20.0) -> float:
    """Return the pressure that drives a slow flow of water through a tube.

    Parameters
    ----------
    flow : float
        [m³/s]
    bore : float
        Inside diameter. [m]
    length : float
        [m]
    t : float
        Temperature of the water, 0 to 100. [°C]

    Returns
    -------
    float
        128 μ L Q/(π D⁴). [Pa]

    Raises
    ------
    InputError
        If an argument is outside its range, or the flow would not be laminar.

    References
    ----------
    .. [1] Hagen-Poiseuille law for laminar flow in a round tube.
    """
    not_negative("Tube", "flow", flow, "m³/s")
    positive("Tube", "bore", bore, "m")
    not_negative("Tube", "length", length, "m")
    viscosity = water_viscosity(t)
    _check_laminar(flow, bore, viscosity, t)
    return 128 * viscosity * length * flow / (math.pi * bore**4)


def tube_head(flow: float, bore: float, length: float, t: float = 20.0) -> float:
    """Return the height of water that drives a slow flow through a tube.

    Parameters and errors are those of `tube_pressure`.

    Returns
    -------
    float
        Above the outlet. [m]
    """
    return tube_pressure(flow, bore, length, t) / (water_density(t) * GRAVITY)


def volume_above_inlet(volume: float, base: float, level: float, inlet: float) -> float:
    """Return the part of a reservoir's water that can run out through an inlet elsewhere.

    The reservoir is taken as upright, of one cross-section, with its tube drawing from the
    bottom: only water above the inlet it feeds can run out by gravity.

    Parameters
    ----------
    volume : float
        Water in the reservoir. [m³]
    base, level : float
        Height of its inner bottom and of its water line. [m]
    inlet : float
        Height at which its tube ends, on the same scale. [m]

    Returns
    -------
    float
        [m³]

    Raises
    ------
    InputError
        If ``volume`` is negative, a height is not finite or ``level`` is not above ``base``.
    """
    not_negative("Reservoir", "volume", volume, "m³")
    finite("Reservoir", "height of the inlet", inlet, "m")
    positive("Reservoir", "depth of water", level - base, "m")
    above = (level - max(base, inlet)) / (level - base)
    return volume * max(0.0, above)


def _check_laminar(flow: float, bore: float, viscosity: float, t: float) -> None:
    reynolds = 4 * water_density(t) * flow / (math.pi * bore * viscosity)
    if reynolds > LAMINAR_LIMIT:
        rule = f"is turbulent (Reynolds number {reynolds:.0f} above {LAMINAR_LIMIT:.0f})"
        way_out = "enter a lower flow or a wider bore"
        raise InputError(complaint("Tube", "flow", f"{flow:g} m³/s", rule, way_out))


def water_density(t: float) -> float:
    """Return the density of water after Kell, J. Chem. Eng. Data 20, 1975. [kg/m³]"""
    terms = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
    return sum(each * t**power for power, each in enumerate(terms)) / (1 + 16.87985e-3 * t)
