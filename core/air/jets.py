"""The free round jet of a fan: speed, width, throw, thrust and power.

Walls, leaves and other jets are not felt here; obstacles are for whoever asks along a line of
sight, and the flow of a whole enclosure is another matter.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.arguments import Numbers, finite, not_negative, positive

AIR_DENSITY = 1.2
"""Density of room air, rounded as in common practice. [kg/m³]"""

CENTRELINE_DECAY = 6.2
"""Centreline speed beyond the core is this times u0 D/x."""

SPREAD = 0.095
"""Half-speed radius for each metre from the fan."""


@dataclass(frozen=True)
class RoundJet:
    """The jet of a fan blowing into still, open air.

    Attributes
    ----------
    flow : float
        Volume flow through the fan. [m³/s]
    diameter : float
        Of the fan's opening. [m]

    Raises
    ------
    InputError
        If ``flow`` is negative or ``diameter`` is not above 0.

    References
    ----------
    .. [1] ASHRAE Handbook, Fundamentals, space air diffusion: K = 6.2 (from memory).
    .. [2] Rajaratnam, Turbulent Jets, Elsevier, 1976, circular jets: slope 0.095 (from memory).
    """

    flow: float
    diameter: float

    def __post_init__(self) -> None:
        not_negative("Fan", "flow", self.flow, "m³/s")
        positive("Fan", "diameter", self.diameter, "m")

    @property
    def area(self) -> float:
        """Area of the opening. [m²]"""
        return math.pi * self.diameter**2 / 4

    @property
    def outlet_speed(self) -> float:
        """Mean speed u0 at the opening. [m/s]"""
        return self.flow / self.area

    @property
    def core_length(self) -> float:
        """Distance over which the centreline keeps the outlet speed. [m]"""
        return CENTRELINE_DECAY * self.diameter

    @property
    def momentum(self) -> float:
        """Momentum flux over density, Q²/A. [m⁴/s²]"""
        return self.flow**2 / self.area

    def thrust(self, density: float = AIR_DENSITY) -> float:
        """Return the force on the fan for an air density in kg/m³. [N]"""
        positive("Air", "density", density, "kg/m³")
        return density * self.momentum

    def air_power(self, density: float = AIR_DENSITY) -> float:
        """Return the power in the moving air, ½ ρ Q u0², for a density in kg/m³. [W]

        A fan whose air power exceeds its electrical watts is an error in its data.
        """
        return 0.5 * self.thrust(density) * self.outlet_speed

    def half_width(self, x: Numbers) -> Numbers:
        """Return the radius at which the speed is half that of the centreline.

        Parameters
        ----------
        x : float or ndarray
            Distance from the opening along the jet. [m]

        Returns
        -------
        float or ndarray
            [m]

        Raises
        ------
        InputError
            If ``x`` is not finite.
        """
        finite("Jet", "distance", x, "m")
        return np.maximum(SPREAD * np.asarray(x, dtype=float), self.diameter / 2)[()]

    def centreline(self, x: Numbers) -> Numbers:
        """Return the speed on the jet's axis, u0 min(1, 6.2 D/x), and 0 behind the fan.

        Parameters
        ----------
        x : float or ndarray
            Distance from the opening along the jet. [m]

        Returns
        -------
        float or ndarray
            [m/s]

        Raises
        ------
        InputError
            If ``x`` is not finite.
        """
        finite("Jet", "distance", x, "m")
        ahead = np.asarray(x, dtype=float)
        speed = self.outlet_speed * self.core_length / np.maximum(ahead, self.core_length)
        return np.where(ahead < 0, 0.0, speed)[()]

    def speed(self, x: Numbers, r: Numbers) -> Numbers:
        """Return the speed at a distance along the jet and beside its axis.

        Parameters
        ----------
        x : float or ndarray
            Distance from the opening along the jet; 0 m/s where it is negative. [m]
        r : float or ndarray
            Distance from the axis. [m]

        Returns
        -------
        float or ndarray
            Centreline speed times exp(-ln 2 (r/b)²), b being the half width. [m/s]

        Raises
        ------
        InputError
            If ``x`` is not finite or ``r`` is negative.
        """
        not_negative("Jet", "distance from the axis", r, "m")
        across = np.asarray(r, dtype=float) / self.half_width(x)
        return (self.centreline(x) * np.exp(-math.log(2) * across**2))[()]

    def throw(self, speed: float) -> float:
        """Return how far along its axis the jet keeps a speed.

        Parameters
        ----------
        speed : float
            Above 0. [m/s]

        Returns
        -------
        float
            0 when the fan never reaches that speed. [m]

        Raises
        ------
        InputError
            If ``speed`` is not above 0.
        """
        positive("Jet", "speed", speed, "m/s")
        if speed > self.outlet_speed:
            return 0.0
        return self.core_length * self.outlet_speed / speed
