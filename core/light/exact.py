"""Closed forms for the light of an evenly spread (Lambertian) board or strip with nothing between.

Vectorised over points in plain numpy; the compiled rows hold the same formulas for one point.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from core.light.given import Floats

LEAST_BEFORE = 1e-5
"""Least height before a lit face for its light to arrive; single precision rounds by less. [m]"""

_NEAREST = 1e-9
"""Closer than this to an emitter's own line the closed form of a strip has no value. [m]"""


def board_factor(points: Floats, normals: Floats, corners: Floats) -> Floats:
    """Return the configuration factor from each point to a polygon, cut at the point's horizon.

    Parameters
    ----------
    points, normals : ndarray, shape (points, 3)
        Positions [m] and unit vectors the points face along.
    corners : ndarray, shape (corners, 3) or (corners, points, 3)
        Corners in turn of one flat convex polygon, or of one for each point. [m]

    Returns
    -------
    ndarray, shape (points,)
        Irradiance over exitance, 0 to 1. Both sides of the polygon count.

    References
    ----------
    .. [1] J. H. Lambert, Photometria, 1760; in the form of Baum, Rushmeier and Winget, Improving
       radiosity solutions through the use of analytically determined form factors, SIGGRAPH 1989.
    """
    polygons = corners if corners.ndim == 3 else corners[:, None]
    start = polygons - points
    height = np.einsum("kpc,pc->kp", start, normals)
    end, height_end = np.roll(start, -1, axis=0), np.roll(height, -1, axis=0)
    above, above_end = height >= 0, height_end >= 0
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (height / (height - height_end))[..., None]
        crossing = np.where((above != above_end)[..., None], start + share * (end - start), 0.0)
    edge_start = np.where(above[..., None], start, crossing)
    edge_end = np.where(above_end[..., None], end, crossing)
    turn = _turn(edge_start, edge_end, normals).sum(axis=0)
    leaving = (crossing * (above & ~above_end)[..., None]).sum(axis=0)
    entering = (crossing * (~above & above_end)[..., None]).sum(axis=0)
    return np.abs(turn + _turn(leaving, entering, normals)) / (2.0 * math.pi)


def strip_integral(
    points: Floats, normals: Floats, centre: Floats, half: Floats, ahead: Floats
) -> Floats:
    """Return ∫ cos(emitter) cos(receiver) / r² along a strip for each point it faces. [m⁻¹]

    Parameters
    ----------
    points, normals : ndarray, shape (points, 3)
        Positions [m] and unit vectors the points face along.
    centre, half : ndarray, shape (3,)
        Middle of the strip, and the vector from there to its end. [m]
    ahead : ndarray, shape (3,)
        Unit vector the strip shines along, square to ``half``.

    References
    ----------
    .. [1] Elementary integration of the inverse-square and cosine laws along a line; under the
       middle it is (a + sin a cos a) / d with a = atan(l / 2 d).
    """
    length = float(np.linalg.norm(half))
    along = half / length
    offset = points - centre
    before = offset @ ahead
    foot = offset @ along
    distance2 = np.maximum((offset * offset).sum(axis=1) - foot * foot, _NEAREST**2)
    slope = normals @ along
    level = foot * slope - (offset * normals).sum(axis=1)
    low, high = _lit_stretch(level, slope, -length - foot, length - foot)
    value = _antiderivative(high, level, slope, distance2)
    value = value - _antiderivative(low, level, slope, distance2)
    return np.where((before > LEAST_BEFORE) & (high > low), value * before, 0.0)


def _turn(start: Floats, end: Floats, normals: Floats) -> Any:
    """Return the angle each edge spans, seen from the point, times its tilt to the normal."""
    across = np.cross(start, end)
    length = np.linalg.norm(across, axis=-1)
    angle = np.arctan2(length, (start * end).sum(axis=-1))
    tilt = (across * normals).sum(axis=-1)
    return np.divide(angle * tilt, length, out=np.zeros_like(length), where=length > 1e-300)


def _lit_stretch(level: Floats, slope: Floats, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Return the stretch of the strip above each point's horizon, empty where there is none."""
    with np.errstate(divide="ignore", invalid="ignore"):
        horizon = -level / slope
    low = np.where(slope > 0, np.maximum(low, horizon), low)
    high = np.where(slope < 0, np.minimum(high, horizon), high)
    return low, np.where((slope == 0) & (level <= 0), low, high)


def _antiderivative(s: Floats, level: Floats, slope: Floats, distance2: Floats) -> Floats:
    """Return the integral of (level + slope s) / (s² + distance²)² up to ``s``."""
    distance = np.sqrt(distance2)
    spread2 = s * s + distance2
    even = s / (2 * distance2 * spread2) + np.arctan(s / distance) / (2 * distance2 * distance)
    return level * even - slope / (2 * spread2)
