"""Fog in closed form: what holds a humidity, and how a humidistat switches around it.

Temperature is held constant here; fog that cools the air is for a simulated day.
"""

from __future__ import annotations

import math

from core.arguments import not_negative, positive, within
from core.climate.psychrometrics import dry_air_density, humidity_ratio
from core.errors import InputError, complaint

_SECONDS_PER_HOUR = 3600


def fog_rate(
    volume: float,
    air_changes_per_hour: float,
    t_in: float,
    rh_in: float,
    t_out: float,
    rh_out: float,
) -> float:
    """Return the water to add so that incoming air reaches the humidity held inside.

    Parameters
    ----------
    volume : float
        Air in the enclosure. [m³]
    air_changes_per_hour : float
        Volumes of incoming air, at its own temperature. [1/h]
    t_in, rh_in : float
        Temperature and relative humidity held inside. [°C], 0 to 1
    t_out, rh_out : float
        The same of the incoming air. [°C], 0 to 1

    Returns
    -------
    float
        ρ V n ΔW; 0 where the incoming air brings enough. [kg/s]

    Raises
    ------
    InputError
        If an argument is outside its range.

    References
    ----------
    .. [1] Mass balance of vapour, ASHRAE Fundamentals, chapter 1, for ρ and W.
    """
    not_negative("Enclosure", "volume", volume, "m³")
    not_negative("Enclosure", "air changes", air_changes_per_hour, "per hour")
    outside = float(humidity_ratio(t_out, rh_out))
    missing = max(0.0, float(humidity_ratio(t_in, rh_in)) - outside)
    air = volume * float(dry_air_density(t_out, outside))
    return air * air_changes_per_hour / _SECONDS_PER_HOUR * missing


def humidistat_cycle(
    dry_air_mass: float,
    mass_flow: float,
    fog: float,
    low: float,
    high: float,
    room_rh: float,
    t: float,
) -> tuple[float, float]:
    """Return how long a fogger runs and rests while a humidistat holds a band of humidity.

    Parameters
    ----------
    dry_air_mass : float
        Dry air in the enclosure. [kg]
    mass_flow : float
        Dry air exchanged with the room. [kg/s]
    fog : float
        Water given off while on. [kg/s]
    low, high : float
        Relative humidity at which the fogger starts and stops, 0 to 1.
    room_rh : float
        Relative humidity of the room, 0 to 1.
    t : float
        Temperature of both. [°C]

    Returns
    -------
    on_s, off_s : float
        Infinite where the humidity never reaches the switching point. [s]

    Raises
    ------
    InputError
        If an argument is outside its range or ``high`` is not above ``low``.

    References
    ----------
    .. [1] Closed form of the first-order response of one well-mixed zone.
    """
    positive("Enclosure", "dry air", dry_air_mass, "kg")
    not_negative("Enclosure", "air exchange", mass_flow, "kg/s")
    not_negative("Fogger", "output", fog, "kg/s")
    within("Humidistat", "stop", high, 0.0, 1.0)
    if not low < high:
        rule = f"must be below the stop, {high:g}"
        raise InputError(complaint("Humidistat", "start", f"{low:g}", rule, "enter a lower start"))
    start, stop, room = (float(humidity_ratio(t, rh)) for rh in (low, high, room_rh))
    on_s = _time_between(start, stop, room, fog, dry_air_mass, mass_flow)
    return on_s, _time_between(stop, start, room, 0.0, dry_air_mass, mass_flow)


def _time_between(
    begin: float, end: float, room: float, fog: float, dry_air_mass: float, mass_flow: float
) -> float:
    """Return the time in which the humidity ratio goes from ``begin`` to ``end``. [s]"""
    if mass_flow == 0:
        return dry_air_mass * (end - begin) / fog if fog > 0 and end > begin else math.inf
    rest = room + fog / mass_flow
    reaches_end = begin < end < rest or begin > end > rest
    if not reaches_end:
        return math.inf
    return dry_air_mass / mass_flow * math.log((rest - begin) / (rest - end))
