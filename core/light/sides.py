"""The sides that patches were cut from, and the boxes of points, as far as the exchange needs them.

Says which sides have parts before each other; no factor is computed here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.light.given import Flags, Floats, Wholes
from core.light.patches import Patches

_FLAT = 1e-5
"""Least height before a side for light to reach it; single precision rounds by less. [m]"""

_CLUSTER = 0.6
"""Points are looked at in boxes of this size, each with the obstacles that matter to it. [m]"""


@dataclass(frozen=True, eq=False)
class Sides:
    """One entry for each side.

    Attributes
    ----------
    corners : ndarray, shape (sides, 4, 3)
        [m]
    normal, half_u, half_v : ndarray, shape (sides, 3)
        Unit vector out of the side, and half sides of its patches. [m]
    area, width : ndarray, shape (sides,)
        Of one patch, and its longer side. [m², m]
    """

    corners: Floats
    normal: Floats
    half_u: Floats
    half_v: Floats
    area: Floats
    width: Floats

    @property
    def low(self) -> Floats:
        """Lowest corner of the box round each side, shape (sides, 3). [m]"""
        return np.asarray(self.corners.min(axis=1))

    @property
    def high(self) -> Floats:
        """Highest corner of the box round each side, shape (sides, 3). [m]"""
        return np.asarray(self.corners.max(axis=1))


@dataclass(frozen=True, eq=False)
class Clusters:
    """Points in groups that lie together.

    Attributes
    ----------
    order : ndarray of int64, shape (points,)
        Numbers of the points, group after group.
    start : ndarray of int64, shape (groups + 1,)
    low, high : ndarray, shape (groups, 3)
        [m]
    """

    order: Wholes
    start: Wholes
    low: Floats
    high: Floats


def sides_of(patches: Patches) -> Sides:
    """Return the sides of patches."""
    first, last = patches.start[:-1], patches.start[1:] - 1
    u, v = patches.half_u[first], patches.half_v[first]
    corner = patches.centre[first] - u - v
    across = patches.centre[last] + u + v - corner
    whole_u = u * ((across * u).sum(axis=1) / (u * u).sum(axis=1))[:, None]
    whole_v = across - whole_u
    corners = np.stack([corner, corner + whole_u, corner + across, corner + whole_v], axis=1)
    return Sides(corners, patches.normal[first], u, v, patches.area[first], patches.width[first])


def facing(sides: Sides) -> Flags:
    """Say for each pair of sides whether they have parts before each other."""
    height = np.einsum("akc,bc->abk", sides.corners, sides.normal).max(axis=2)
    own = (sides.corners[:, 0] * sides.normal).sum(axis=1)
    before = height - own > _FLAT
    both: Flags = before & before.T
    return both


def before(points: Floats, normals: Floats, start: Wholes, sides: Sides) -> Flags:
    """Say for each group of points and each side whether any has parts before the other."""
    own = (sides.corners[:, 0] * sides.normal).sum(axis=1)
    ahead = points @ sides.normal.T - own > _FLAT
    highest = np.max([normals @ sides.corners[:, corner].T for corner in range(4)], axis=0)
    seen = ahead & (highest > (normals * points).sum(axis=1)[:, None])
    found: Flags = np.logical_or.reduceat(seen, start[:-1], axis=0)
    return found


def clustered(points: Floats) -> Clusters:
    """Return points sorted into boxes."""
    if not points.shape[0]:
        return Clusters(np.zeros(0, np.int64), np.zeros(1, np.int64), points, points)
    cell = np.floor((points - points.min(axis=0)) / _CLUSTER).astype(np.int64)
    spans = cell.max(axis=0) + 1
    key = (cell[:, 0] * spans[1] + cell[:, 1]) * spans[2] + cell[:, 2]
    order = np.argsort(key, kind="stable")
    first = np.flatnonzero(np.diff(key[order], prepend=-1))
    sorted_points = points[order]
    low, high = (edge.reduceat(sorted_points, first) for edge in (np.minimum, np.maximum))
    start = np.append(first, points.shape[0])
    return Clusters(order, start.astype(np.int64), low, high)
