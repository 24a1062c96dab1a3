"""What obstacles leave of rays, for whole arrays of rays at once in plain numpy.

Rays run from an origin (a place on a lamp) along a way (to a point); no light is computed here.
"""

from __future__ import annotations

import numpy as np

from core.light.given import Flags, Floats
from core.light.obstacles import Obstacles

NEAR_END, FAR_END = 1e-4, 1.0 - 1e-4
"""Part of a ray on which an obstacle counts, so that nothing shades what lies on it."""

_HAIR = 1.1e-7
"""Added to a ray's components so that none is zero; no difference of two places equals it. [m]"""


def passing(obstacles: Obstacles, obstacle: int, origin: Floats, way: Floats) -> Floats:
    """Return what one obstacle leaves of every ray: all, or its transmittance.

    Parameters
    ----------
    obstacles : Obstacles
    obstacle : int
        Which of them.
    origin, way : ndarray, shapes (..., 3) that broadcast
        Start of each ray, and the vector from there to its end. [m]
    """
    if obstacle < obstacles.boxes:
        hit = _hits_box(obstacles.low[obstacle], obstacles.high[obstacle], origin, way)
    else:
        hit = _hits_panel(obstacles, obstacle - obstacles.boxes, origin, way)
    return np.where(hit, obstacles.transmittance[obstacle], 1.0)


def _hits_box(low: Floats, high: Floats, origin: Floats, way: Floats) -> Flags:
    """Clip each ray by the three pairs of faces; what is left of it lies in the box."""
    enter, leave = np.full(way.shape[:-1], NEAR_END), np.full(way.shape[:-1], FAR_END)
    for axis in range(3):
        inverse = 1.0 / (way[..., axis] + _HAIR)
        first = (low[axis] - origin[..., axis]) * inverse
        second = (high[axis] - origin[..., axis]) * inverse
        enter = np.maximum(enter, np.minimum(first, second))
        leave = np.minimum(leave, np.maximum(first, second))
    return enter <= leave


def _hits_panel(obstacles: Obstacles, panel: int, origin: Floats, way: Floats) -> Flags:
    u, v = obstacles.u[panel], obstacles.v[panel]
    normal = np.cross(u, v)
    rise = way @ normal
    rise = np.where(np.abs(rise) < 1e-12, 1e-12, rise)
    offset = origin - obstacles.corner[panel]
    reached = -(offset @ normal) / rise
    across = (offset @ u + reached * (way @ u)) / (u @ u)
    along = (offset @ v + reached * (way @ v)) / (v @ v)
    inside = (across > 0) & (across < 1) & (along > 0) & (along < 1)
    return inside & (reached > NEAR_END) & (reached < FAR_END)
