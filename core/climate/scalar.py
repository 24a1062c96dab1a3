"""Formulas of single numbers in plain Python, which the day's kernel compiles as they stand.

Each calls nothing but `math`, and trusts its arguments: the public functions beside it check them.
"""

from __future__ import annotations

import math

from core.climate.psychrometrics import (
    ICE_LOG,
    OVER_ICE,
    OVER_WATER,
    TRIPLE_POINT,
    WATER_LOG,
)
from core.constants import GRAVITY, KELVIN

VISCOSITY = 1.53e-5
"""Kinematic viscosity of air at 22 °C (from memory). [m²/s]"""

HEAT_DIFFUSIVITY = 2.16e-5
"""Thermal diffusivity of air at 22 °C (from memory). [m²/s]"""

VAPOUR_DIFFUSIVITY = 2.53e-5
"""Diffusivity of water vapour in air at 22 °C (from memory). [m²/s]"""

AIR_HEAT = 1215.0
"""Heat capacity of a volume of room air at 22 °C. [J/(m³ K)]"""

LEWIS = (HEAT_DIFFUSIVITY / VAPOUR_DIFFUSIVITY) ** (2 / 3)
"""Convective heat conductance over that of vapour times `AIR_HEAT` (Chilton and Colburn)."""

_SCHMIDT_ROOT = (VISCOSITY / VAPOUR_DIFFUSIVITY) ** (1 / 3)


def saturation(t: float) -> tuple[float, float]:
    """Return the saturation pressure and its slope. [°C -> Pa, Pa/K]

    The scalar twin of `psychrometrics.saturation_pressure`.
    """
    kelvin = t + KELVIN
    if t <= TRIPLE_POINT:
        a, b, c, d, e, f = OVER_ICE
        g = ICE_LOG
    else:
        a, b, c, d, e = OVER_WATER
        f = 0.0
        g = WATER_LOG
    powers = b + kelvin * (c + kelvin * (d + kelvin * (e + kelvin * f)))
    slopes = c + kelvin * (2 * d + kelvin * (3 * e + kelvin * 4 * f))
    pressure = math.exp(a / kelvin + powers + g * math.log(kelvin))
    return pressure, pressure * (slopes - a / kelvin**2 + g / kelvin)


def buoyant_flow(width: float, height: float, t_in: float, t_out: float) -> float:
    """Return the flow each way through one opening; see `openings.opening_flow`. [m³/s]"""
    difference = abs(t_in - t_out)
    discharge = 0.40 + 0.0045 * difference
    draught = math.sqrt(GRAVITY * height * difference / (t_in + KELVIN))
    return discharge * width * height / 3 * draught


def wet_surface(
    lightness: float, speed: float, free_length: float, forced_length: float
) -> tuple[float, float]:
    """Return how readily heat and vapour leave a wet surface that faces up.

    Natural convection after McAdams (0.54 Ra^¼ and 0.15 Ra^⅓, whichever is more, where the air at
    the surface is lighter; 0.27 Ra^¼ where it is heavier) and forced laminar flow along a plate
    (0.664 Re^½ Sc^⅓), blended as the cube root of the sum of cubes.

    Parameters
    ----------
    lightness : float
        How much lighter the air at the surface is, relative; negative where heavier. [1]
    speed : float
        Of the air over the surface. [m/s]
    free_length, forced_length : float
        Area over perimeter, and the length along the wind. [m]

    Returns
    -------
    heat, vapour : float
        Convective conductances. [W/(m² K), m/s]
    """
    grashof_schmidt = GRAVITY * abs(lightness) * free_length**3 / (VISCOSITY * VAPOUR_DIFFUSIVITY)
    if lightness > 0:
        free = max(0.54 * grashof_schmidt**0.25, 0.15 * grashof_schmidt ** (1 / 3))
    else:
        free = 0.27 * grashof_schmidt**0.25
    forced = 0.664 * math.sqrt(speed * forced_length / VISCOSITY) * _SCHMIDT_ROOT
    natural = free * VAPOUR_DIFFUSIVITY / free_length
    driven = forced * VAPOUR_DIFFUSIVITY / forced_length
    vapour = (natural**3 + driven**3) ** (1 / 3)
    return vapour * AIR_HEAT * LEWIS, vapour


def relaxed(start: float, source: float, rate: float, capacity: float, time: float) -> (
    tuple[float, float]
):  # fmt: skip
    """Return where capacity · dx/dt = source - rate · x leads, and the mean of x on the way.

    Exact for constant coefficients, whatever the step; a rate of 0 is a straight line.
    """
    z = rate * time / capacity
    if abs(z) < 1e-4:
        moved = 1 - z / 2 + z * z / 6
        mean = 0.5 - z / 6 + z * z / 24
    else:
        moved = -math.expm1(-z) / z
        mean = (1 - moved) / z
    drive = (source - rate * start) * time / capacity
    return start + drive * moved, start + drive * mean
