"""Properties of moist air, for single numbers and whole arrays alike.

Air and vapour are taken as ideal gases, as the handbook does; balances that use these properties
are in the other modules of the package.

References
----------
.. [1] ASHRAE Handbook, Fundamentals, chapter 1, Psychrometrics; saturation after Hyland and
   Wexler, "Formulations for the thermodynamic properties of the saturated phases of H2O",
   ASHRAE Transactions 89(2A), 1983.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.arguments import Numbers, above_zero_to_one, not_negative, positive, within
from core.constants import KELVIN, STANDARD_PRESSURE
from core.errors import InputError, complaint

DRY_AIR_HEAT = 1006.0
"""Specific heat of dry air. [J/(kg K)]"""

VAPOUR_HEAT = 1860.0
"""Specific heat of water vapour. [J/(kg K)]"""

LATENT_HEAT_AT_ZERO = 2_501_000.0
"""Heat of evaporation at 0 °C. [J/kg]"""

DRY_AIR_GAS_CONSTANT = 287.042
"""[J/(kg K)]"""

MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air."""

TRIPLE_POINT = 0.01
"""Where ice and water meet. [°C]"""

_COLDEST, _HOTTEST = -100.0, 200.0

# Hyland and Wexler, for the logarithm of the pressure in pascals and absolute temperature.
OVER_ICE = (-5674.5359, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13)
ICE_LOG = 4.1635019
OVER_WATER = (-5800.2206, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8)
WATER_LOG = 6.5459673

# Halving 300 K this often leaves 3e-10 K.
_HALVINGS = 40

FloatArray = NDArray[np.float64]


def saturation_pressure(t: Numbers) -> Numbers:
    """Return the vapour pressure over water, and over ice below the triple point.

    Parameters
    ----------
    t : float or ndarray
        Temperature, -100 to 200. [°C]

    Returns
    -------
    float or ndarray
        [Pa]

    Raises
    ------
    InputError
        If ``t`` is outside -100 to 200.

    References
    ----------
    .. [1] ASHRAE Fundamentals, chapter 1, eq. 5 and 6 (Hyland and Wexler).
    """
    _check_temperature(t)
    return np.exp(log_saturation(np.asarray(t, dtype=float)))[()]


def humidity_ratio(t: Numbers, rh: Numbers, pressure: Numbers = STANDARD_PRESSURE) -> Numbers:
    """Return the mass of vapour for each mass of dry air.

    Parameters
    ----------
    t : float or ndarray
        Temperature. [°C]
    rh : float or ndarray
        Relative humidity, 0 to 1.
    pressure : float or ndarray
        [Pa]

    Returns
    -------
    float or ndarray
        [kg/kg]

    Raises
    ------
    InputError
        If an argument is outside its range, or the vapour alone would reach ``pressure``.

    References
    ----------
    .. [1] ASHRAE Fundamentals, chapter 1, eq. 20 and 22.
    """
    _check_air(t, rh)
    positive("Air", "pressure", pressure, "Pa")
    vapour = np.asarray(rh * saturation_pressure(t))
    if np.any(vapour >= pressure):
        raise InputError(
            complaint(
                "Air",
                "vapour pressure",
                f"{vapour.max():g} Pa",
                "must be below the air pressure",
                "enter a lower temperature or humidity",
            )
        )
    return (MASS_RATIO * vapour / (pressure - vapour))[()]


def dew_point(t: Numbers, rh: Numbers) -> Numbers:
    """Return the temperature at which the air's vapour begins to condense.

    It is the inverse of `saturation_pressure`, found by Newton's method on the logarithm, not
    the handbook's shorter fit; below 0.01 °C it is the frost point.

    Parameters
    ----------
    t : float or ndarray
        Temperature. [°C]
    rh : float or ndarray
        Relative humidity, above 0 and up to 1.

    Returns
    -------
    float or ndarray
        [°C]

    Raises
    ------
    InputError
        If an argument is outside its range, or the dew point would lie below -100 °C.

    References
    ----------
    .. [1] ASHRAE Fundamentals, chapter 1, eq. 5, 6 and 36.
    """
    _check_temperature(t)
    above_zero_to_one("Air", "relative humidity", rh)
    target = np.log(rh) + log_saturation(np.asarray(t, dtype=float))
    if np.any(target < log_saturation(np.asarray(_COLDEST))):
        way_out = "enter a higher humidity"
        shown = f"{np.min(rh):g}"
        rule = f"puts the dew point below −{-_COLDEST:g} °C"
        raise InputError(complaint("Air", "relative humidity", shown, rule, way_out))
    return _invert_log_saturation(target, np.asarray(t, dtype=float))[()]


def wet_bulb(t: Numbers, rh: Numbers, pressure: Numbers = STANDARD_PRESSURE) -> Numbers:
    """Return the temperature to which evaporating water cools the air.

    The handbook's balance is solved by bisection. Within about a kelvin of 0 °C its two
    equations, over water and over ice, can both hold; then either answer may be returned.

    Parameters
    ----------
    t : float or ndarray
        Temperature. [°C]
    rh : float or ndarray
        Relative humidity, 0 to 1.
    pressure : float or ndarray
        [Pa]

    Returns
    -------
    float or ndarray
        [°C]

    Raises
    ------
    InputError
        As for `humidity_ratio`.

    References
    ----------
    .. [1] ASHRAE Fundamentals, chapter 1, eq. 33 and 35.
    """
    ratio = humidity_ratio(t, rh, pressure)
    dry, total, wanted = np.broadcast_arrays(
        *(np.asarray(each, dtype=float) for each in (t, pressure, ratio))
    )
    low, high = np.full(dry.shape, _COLDEST), np.array(dry)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        too_wet = _ratio_at_wet_bulb(dry, middle, total) > wanted
        high = np.where(too_wet, middle, high)
        low = np.where(too_wet, low, middle)
    return ((low + high) / 2)[()]


def enthalpy(t: Numbers, w: Numbers) -> Numbers:
    """Return the heat content of moist air, from dry air and water at 0 °C.

    Parameters
    ----------
    t : float or ndarray
        Temperature. [°C]
    w : float or ndarray
        Humidity ratio. [kg/kg]

    Returns
    -------
    float or ndarray
        Per kilogram of dry air. [J/kg]

    Raises
    ------
    InputError
        If ``t`` is outside -100 to 200 or ``w`` is negative.

    References
    ----------
    .. [1] ASHRAE Fundamentals, chapter 1, eq. 30.
    """
    _check_temperature(t)
    _check_ratio(w)
    return DRY_AIR_HEAT * t + w * (LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * t)


def vapour_pressure_deficit(t: Numbers, rh: Numbers, leaf_t: Numbers | None = None) -> Numbers:
    """Return how far the air is from saturation, at its own or at the leaf's temperature.

    Parameters
    ----------
    t : float or ndarray
        Air temperature. [°C]
    rh : float or ndarray
        Relative humidity, 0 to 1.
    leaf_t : float or ndarray, optional
        Leaf temperature; that of the air if not given. [°C]

    Returns
    -------
    float or ndarray
        Negative where a cold leaf takes up dew. [Pa]

    Raises
    ------
    InputError
        If an argument is outside its range.
    """
    _check_air(t, rh)
    inside_leaf = saturation_pressure(t if leaf_t is None else leaf_t)
    return inside_leaf - rh * saturation_pressure(t)


def heat_capacity(w: Numbers) -> Numbers:
    """Return the specific heat of moist air.

    Parameters
    ----------
    w : float or ndarray
        Humidity ratio. [kg/kg]

    Returns
    -------
    float or ndarray
        Per kilogram of dry air. [J/(kg K)]

    Raises
    ------
    InputError
        If ``w`` is negative.
    """
    _check_ratio(w)
    return DRY_AIR_HEAT + VAPOUR_HEAT * w


def dry_air_density(t: Numbers, w: Numbers, pressure: Numbers = STANDARD_PRESSURE) -> Numbers:
    """Return the mass of dry air in a volume of moist air.

    Parameters
    ----------
    t : float or ndarray
        Temperature. [°C]
    w : float or ndarray
        Humidity ratio. [kg/kg]
    pressure : float or ndarray
        [Pa]

    Returns
    -------
    float or ndarray
        [kg/m³]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] ASHRAE Fundamentals, chapter 1, eq. 26.
    """
    _check_temperature(t)
    _check_ratio(w)
    positive("Air", "pressure", pressure, "Pa")
    return pressure / (DRY_AIR_GAS_CONSTANT * (t + KELVIN) * (1 + w / MASS_RATIO))


def vapour_pressure(w: FloatArray, pressure: float = STANDARD_PRESSURE) -> FloatArray:
    """Return the pressure of the vapour in moist air; trusts its arguments. [Pa]

    Parameters
    ----------
    w : ndarray
        Humidity ratio. [kg/kg]
    pressure : float
        Of the moist air. [Pa]

    References
    ----------
    .. [1] ASHRAE Fundamentals, chapter 1, eq. 20, solved for the vapour.
    """
    return pressure * w / (MASS_RATIO + w)


def log_saturation(t: FloatArray) -> FloatArray:
    """Return the logarithm of `saturation_pressure`; trusts its argument. [°C]"""
    kelvin = t + KELVIN
    water = _polynomial(kelvin, OVER_WATER) + WATER_LOG * np.log(kelvin)
    cold = t <= TRIPLE_POINT
    if not cold.any():
        return water
    return np.where(cold, _polynomial(kelvin, OVER_ICE) + ICE_LOG * np.log(kelvin), water)


def log_saturation_slope(t: FloatArray) -> FloatArray:
    """Return how `log_saturation` rises with temperature; trusts its argument. [1/K]"""
    kelvin = t + KELVIN
    water = _polynomial_slope(kelvin, OVER_WATER) + WATER_LOG / kelvin
    cold = t <= TRIPLE_POINT
    if not cold.any():
        return water
    return np.where(cold, _polynomial_slope(kelvin, OVER_ICE) + ICE_LOG / kelvin, water)


def _polynomial(kelvin: FloatArray, coefficients: tuple[float, ...]) -> FloatArray:
    """Return the sum of c_n T^(n-1), the first term being c_0/T."""
    total = np.zeros_like(kelvin)
    for coefficient in reversed(coefficients):
        total = total * kelvin + coefficient
    return total / kelvin


def _polynomial_slope(kelvin: FloatArray, coefficients: tuple[float, ...]) -> FloatArray:
    slopes = [(power - 1) * each for power, each in enumerate(coefficients)]
    return _polynomial(kelvin, tuple(slopes)) / kelvin


def _invert_log_saturation(target: FloatArray, start: FloatArray) -> FloatArray:
    t = np.broadcast_to(start, target.shape)
    for _ in range(20):
        step = (log_saturation(t) - target) / log_saturation_slope(t)
        t = np.clip(t - step, _COLDEST, _HOTTEST)
        if np.all(np.abs(step) < 1e-9):
            break
    return t


def _ratio_at_wet_bulb(t: FloatArray, bulb: FloatArray, pressure: FloatArray) -> FloatArray:
    """Return the humidity ratio of air at ``t`` whose wet bulb is ``bulb`` (eq. 33 and 35)."""
    saturation = np.exp(log_saturation(bulb))
    boiling = saturation >= pressure
    room_for_air = np.where(boiling, np.inf, pressure - saturation)
    saturated = MASS_RATIO * saturation / room_for_air
    water = ((2501 - 2.326 * bulb) * saturated - 1.006 * (t - bulb)) / (
        2501 + 1.86 * t - 4.186 * bulb
    )
    ice = ((2830 - 0.24 * bulb) * saturated - 1.006 * (t - bulb)) / (2830 + 1.86 * t - 2.1 * bulb)
    return np.where(boiling, np.inf, np.where(bulb >= 0, water, ice))


def _check_temperature(t: Numbers) -> None:
    within("Air", "temperature", t, _COLDEST, _HOTTEST, "°C")


def _check_air(t: Numbers, rh: Numbers) -> None:
    _check_temperature(t)
    within("Air", "relative humidity", rh, 0.0, 1.0)


def _check_ratio(w: Numbers) -> None:
    not_negative("Air", "humidity ratio", w, "kg/kg")
