"""When a standing unit tips: by a push, by a slope, by its proportions.

Units are taken as rigid and standing free; what anchors them is the design's.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from core.arguments import not_negative, positive
from core.constants import GRAVITY
from core.errors import InputError, complaint

WARN_SLENDERNESS = 4.0
"""Height over depth from which to warn (one shelving maker's practice)."""

ANCHOR_SLENDERNESS = 6.0
"""Height over depth from which to anchor (from memory)."""


CHILD = 27.0
"""Somebody small who climbs a unit: the 60 lb of ASTM F2057-23 (from memory). [kg]"""

LEANING_OUT = 0.25
"""How far before the shelves the middle of who climbs them is (judgement). [m]"""


def push_to_tip(mass: float, depth: float, height: float) -> float:
    """Return the level push that begins to tip a unit over its front or back edge.

    Parameters
    ----------
    mass : float
        Its centre of gravity is taken midway in the depth. [kg]
    depth : float
        Of the footprint, along the push. [m]
    height : float
        Above the floor at which the push acts. [m]

    Returns
    -------
    float
        m g (d/2)/h. [N]

    Raises
    ------
    InputError
        If ``mass`` or ``depth`` is negative or ``height`` is not above 0.
    """
    not_negative("Unit", "mass", mass, "kg")
    not_negative("Unit", "depth", depth, "m")
    positive("Unit", "height of the push", height, "m")
    return mass * GRAVITY * depth / 2 / height


def climb_to_tip(mass: float, arm: float, overhang: float) -> float:
    """Return the mass that tips a unit when it hangs out in front of it.

    Parameters
    ----------
    mass : float
        Of the unit. [kg]
    arm : float
        From the edge it tips over back to its centre of gravity. [m]
    overhang : float
        From that edge out to the middle of what hangs there. [m]

    Returns
    -------
    float
        M a/o: moments about the edge. [kg]

    Raises
    ------
    InputError
        If ``mass`` or ``arm`` is negative or ``overhang`` is not above 0.
    """
    not_negative("Unit", "mass", mass, "kg")
    not_negative("Unit", "arm", arm, "m")
    positive("Unit", "overhang", overhang, "m")
    return mass * arm / overhang


def tip_angle(depth: float, cg_height: float) -> float:
    """Return how far a unit can lean before it tips by itself.

    Parameters
    ----------
    depth : float
        Of the footprint, along the lean. [m]
    cg_height : float
        Of the centre of gravity above the floor. [m]

    Returns
    -------
    float
        atan((d/2)/h), from the vertical. [degrees]

    Raises
    ------
    InputError
        If ``depth`` is negative or ``cg_height`` is not above 0.
    """
    not_negative("Unit", "depth", depth, "m")
    positive("Unit", "height of the centre of gravity", cg_height, "m")
    return math.degrees(math.atan2(depth / 2, cg_height))


def slenderness(height: float, depth: float) -> float:
    """Return height over depth, to hold against `WARN_SLENDERNESS` and `ANCHOR_SLENDERNESS`.

    Parameters
    ----------
    height, depth : float
        Of the unit; the depth is the lesser side of its footprint. [m]

    Returns
    -------
    float

    Raises
    ------
    InputError
        If ``height`` is negative or ``depth`` is not above 0.
    """
    not_negative("Unit", "height", height, "m")
    positive("Unit", "depth", depth, "m")
    return height / depth


def centre_of_gravity(masses: Sequence[float], heights: Sequence[float]) -> float:
    """Return the height of the common centre of gravity of several masses.

    Parameters
    ----------
    masses : sequence of float
        [kg]
    heights : sequence of float
        Of each mass above the floor, one for each. [m]

    Returns
    -------
    float
        [m]

    Raises
    ------
    InputError
        If a number is negative, the counts differ or nothing has mass.
    """
    for mass in masses:
        not_negative("Unit", "mass", mass, "kg")
    for height in heights:
        not_negative("Unit", "height", height, "m")
    if len(masses) != len(heights):
        way_out = "give one height for each mass"
        rule = f"must be as many as the masses, {len(masses)}"
        raise InputError(complaint("Unit", "heights", len(heights), rule, way_out))
    positive("Unit", "total mass", math.fsum(masses), "kg")
    moments = (mass * height for mass, height in zip(masses, heights, strict=True))
    return math.fsum(moments) / math.fsum(masses)
