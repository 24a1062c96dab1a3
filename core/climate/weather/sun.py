"""Sun on an upright window, from what falls on the ground and straight from the sun.

Which window, and what of its sun gets into an enclosure, is for `from_design`.
"""

from __future__ import annotations

import numpy as np

from core.arguments import within
from core.climate.weather.epw import HOURS, Weather
from core.climate.zone import Floats

GROUND = 0.2
"""Share of the sun that the ground outside throws back (common practice)."""


def on_window(weather: Weather, facing: float) -> Floats:
    """Return the sun on an upright pane, hour by hour.

    Parameters
    ----------
    weather : Weather
    facing : float
        Where the window looks, clockwise from north: 90 east, 180 south. [degrees]

    Returns
    -------
    ndarray, shape (8760,)
        Direct sun by its angle, half of the sky's and half of the ground's. [W/m²]

    Raises
    ------
    InputError
        If ``facing`` is outside -360 to 360.

    References
    ----------
    .. [1] Duffie and Beckman, Solar Engineering of Thermal Processes, chapters 1 and 2: declination
       and equation of time after Spencer, isotropic sky (from memory).
    """
    within("Window", "facing", facing, -360.0, 360.0, "°")
    height, azimuth = position(weather)
    turned = np.radians(azimuth - facing)
    straight = weather.direct * np.maximum(np.cos(height) * np.cos(turned), 0.0)
    beam = np.where(height > 0, straight, 0.0)
    return np.asarray(beam + 0.5 * weather.diffuse + 0.5 * GROUND * weather.horizontal)


def position(weather: Weather) -> tuple[Floats, Floats]:
    """Return the sun's height [rad] and its azimuth, clockwise from north [degrees].

    At the middle of each hour of a year.
    """
    hours = np.arange(HOURS)
    day, clock = hours // 24 + 1, hours % 24 + 0.5
    angle = 2 * np.pi * (day - 1) / 365
    late = 229.18 * (
        0.000075 + 0.001868 * np.cos(angle) - 0.032077 * np.sin(angle)
        - 0.014615 * np.cos(2 * angle) - 0.04089 * np.sin(2 * angle)
    )  # fmt: skip
    tilt = (
        0.006918 - 0.399912 * np.cos(angle) + 0.070257 * np.sin(angle)
        - 0.006758 * np.cos(2 * angle) + 0.000907 * np.sin(2 * angle)
        - 0.002697 * np.cos(3 * angle) + 0.00148 * np.sin(3 * angle)
    )  # fmt: skip
    solar = clock + (4 * (weather.longitude - 15 * weather.zone) + late) / 60
    turn, north = np.radians(15 * (solar - 12)), np.radians(weather.latitude)
    height = np.arcsin(np.sin(north) * np.sin(tilt) + np.cos(north) * np.cos(tilt) * np.cos(turn))
    east = -np.cos(tilt) * np.sin(turn)
    up_north = np.cos(north) * np.sin(tilt) - np.sin(north) * np.cos(tilt) * np.cos(turn)
    return height, np.degrees(np.arctan2(east, up_north)) % 360
