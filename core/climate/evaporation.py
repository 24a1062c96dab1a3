"""How fast water leaves open surfaces and leaves: formulas for given air, without a balance.

What the lost water does to the air, and the temperature a surface settles at, is for the day run.
"""

from __future__ import annotations

import numpy as np

from core.arguments import Numbers, not_negative, positive, within
from core.climate.psychrometrics import (
    humidity_ratio,
    saturation_pressure,
)
from core.climate.scalar import wet_surface
from core.constants import KELVIN

VAPOUR_GAS_CONSTANT = 461.52
"""[J/(kg K)]"""

LEAST_LEAF_SPEED = 0.05
"""Air in a room never rests (common practice); leaf resistances are for at least this. [m/s]"""


def evaporation(
    water_t: Numbers, air_t: Numbers, rh: Numbers, speed: Numbers = 0.0, activity: Numbers = 1.0
) -> Numbers:
    """Return the evaporation from an open water surface by Carrier's formula.

    It was measured on still basins; take the result as right within a factor of two.

    Parameters
    ----------
    water_t : float or ndarray
        Temperature of the surface, 0 to 100. [°C]
    air_t : float or ndarray
        Temperature of the air. [°C]
    rh : float or ndarray
        Relative humidity of the air, 0 to 1.
    speed : float or ndarray
        Of the air over the surface. [m/s]
    activity : float or ndarray
        1 for a surface in use; 0.74 for an undisturbed one [2]_.

    Returns
    -------
    float or ndarray
        (0.089 + 0.0782 V) Δp/h_fg with kPa and kJ/kg; 0 where the air is too moist for
        evaporation. [kg/(m² s)]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] ASHRAE Handbook, HVAC Applications, natatoriums, after Carrier 1918.
    .. [2] Smith, Löf and Jones, "Rates of evaporation from swimming pools in active use", ASHRAE
       Transactions 104(1), 1998.
    """
    _check_water(water_t, rh, speed)
    not_negative("Water", "activity", activity)
    difference = saturation_pressure(water_t) - rh * saturation_pressure(air_t)
    kilopascals = np.maximum(difference, 0.0) / 1000
    heat_of_evaporation = 2501 - 2.326 * np.asarray(water_t, dtype=float)
    return (activity * (0.089 + 0.0782 * speed) * kilopascals / heat_of_evaporation)[()]


def evaporation_by_convection(
    water_t: float, air_t: float, rh: float, width: float, depth: float, speed: float = 0.0
) -> float:
    """Return the evaporation from a tray by the mass transfer of natural and forced convection.

    Parameters
    ----------
    water_t, air_t : float
        Temperature of the surface and of the air. [°C]
    rh : float
        Relative humidity of the air, 0 to 1.
    width, depth : float
        Of the tray. Natural convection takes area over perimeter, forced the shorter side. [m]
    speed : float
        Of the air over the surface. [m/s]

    Returns
    -------
    float
        Negative where the surface takes up dew; right within a factor of two. [kg/(m² s)]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] McAdams, Heat Transmission, 3rd ed., 1954, horizontal plates (from memory), by the
       analogy of heat and mass transfer; forced laminar flow after Pohlhausen.
    """
    _check_water(water_t, rh, speed)
    positive("Tray", "width", width, "m")
    positive("Tray", "depth", depth, "m")
    lightness = _lightness(water_t, air_t, rh)
    _, conductance = wet_surface(
        lightness, speed, width * depth / (2 * (width + depth)), min(width, depth)
    )
    return float(conductance * (vapour_density(water_t, 1.0) - vapour_density(air_t, rh)))


def _lightness(water_t: float, air_t: float, rh: float) -> float:
    """Return how much lighter the air at a wet surface is, relative to it. [1]"""
    surface = (water_t + KELVIN) * (1 + 0.608 * humidity_ratio(water_t, 1.0))
    air = (air_t + KELVIN) * (1 + 0.608 * humidity_ratio(air_t, rh))
    return float((surface - air) / surface)


def vapour_density(t: Numbers, rh: Numbers) -> Numbers:
    """Return the mass of vapour in a volume of air. [kg/m³]"""
    return rh * saturation_pressure(t) / (VAPOUR_GAS_CONSTANT * (t + KELVIN))


def stomatal_resistance(ppfd: Numbers, factor: Numbers = 1.0) -> Numbers:
    """Return the resistance of leaf pores to vapour, which light opens.

    Parameters
    ----------
    ppfd : float or ndarray
        [µmol/(m² s)]
    factor : float or ndarray
        1 for lettuce; plants of deep shade close more.

    Returns
    -------
    float or ndarray
        60 (1500 + PPFD)/(200 + PPFD). [s/m]

    Raises
    ------
    InputError
        If ``ppfd`` is negative or ``factor`` not above 0.

    References
    ----------
    .. [1] Graamans, van den Dobbelsteen, Meinen and Stanghellini, "Plant factories; crop
       transpiration and energy balance", Agricultural Systems 153, 2017 (coefficients from
       memory).
    """
    not_negative("Leaf", "PPFD", ppfd, "µmol/(m² s)")
    positive("Leaf", "factor on pore resistance", factor)
    return factor * 60 * (1500 + ppfd) / (200 + ppfd)


def leaf_air_resistance(speed: Numbers, leaf_width: Numbers, leaf_area_index: Numbers) -> Numbers:
    """Return the resistance of the air at a canopy's leaves.

    Parameters
    ----------
    speed : float or ndarray
        Of the air; taken as `LEAST_LEAF_SPEED` at least. [m/s]
    leaf_width : float or ndarray
        Mean leaf diameter. [m]
    leaf_area_index : float or ndarray
        Leaf area over ground area.

    Returns
    -------
    float or ndarray
        350 √(l/u)/LAI. [s/m]

    Raises
    ------
    InputError
        If ``speed`` is negative or another argument not above 0.

    References
    ----------
    .. [1] As for `stomatal_resistance`.
    """
    not_negative("Leaf", "air speed", speed, "m/s")
    positive("Leaf", "width", leaf_width, "m")
    positive("Leaf", "leaf area index", leaf_area_index)
    moving = np.maximum(speed, LEAST_LEAF_SPEED)
    return (350 * np.sqrt(leaf_width / moving) / leaf_area_index)[()]


def transpiration(
    leaf_area_index: Numbers,
    deficit: Numbers,
    t: Numbers,
    pore_resistance: Numbers,
    air_resistance: Numbers,
) -> Numbers:
    """Return the vapour that leaves give off, counted for the ground they cover.

    Parameters
    ----------
    leaf_area_index : float or ndarray
        Leaf area over ground area.
    deficit : float or ndarray
        Vapour pressure in the leaf above that of the air. [Pa]
    t : float or ndarray
        Temperature. [°C]
    pore_resistance, air_resistance : float or ndarray
        See `stomatal_resistance` and `leaf_air_resistance`. [s/m]

    Returns
    -------
    float or ndarray
        LAI Δχ/(r_s + r_a). [kg/(m² s)]

    Raises
    ------
    InputError
        If ``leaf_area_index`` is negative or a resistance not above 0.

    References
    ----------
    .. [1] As for `stomatal_resistance`.
    """
    not_negative("Leaf", "leaf area index", leaf_area_index)
    within("Leaf", "temperature", t, -100.0, 200.0, "°C")
    positive("Leaf", "pore resistance", pore_resistance, "s/m")
    positive("Leaf", "air resistance", air_resistance, "s/m")
    density = deficit / (VAPOUR_GAS_CONSTANT * (t + KELVIN))
    return leaf_area_index * density / (pore_resistance + air_resistance)


def _check_water(water_t: Numbers, rh: Numbers, speed: Numbers) -> None:
    within("Water", "temperature", water_t, 0.0, 100.0, "°C")
    within("Air", "relative humidity", rh, 0.0, 1.0)
    not_negative("Air", "speed", speed, "m/s")
