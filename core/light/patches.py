"""Surfaces cut into patches, on each side that anything can be seen from.

A surface's back is a side of its own that absorbs: without it the light it stops would count as
gone past. The exchange between patches is computed in `exchange`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.light.given import Floats, Wholes
from core.light.scene import Scene, Surface

MOST = 4000
"""Most patches in a scene; beyond it patches are widened, since their exchange grows squared."""

_BEFORE = 1e-5
"""Least height before a side for a thing to be seen from it. [m]"""


@dataclass(frozen=True, eq=False)
class Patches:
    """Structure of arrays, side after side.

    Attributes
    ----------
    centre, half_u, half_v : ndarray, shape (patches, 3)
        Middle and half sides. [m]
    normal : ndarray, shape (patches, 3)
        Unit vector out of the side.
    area : ndarray, shape (patches,)
        [m²]
    reflectance, transmittance : ndarray, shape (patches,)
        Share of the light on this side that is sent back, and that passes. [0–1]
    start : ndarray of int64, shape (sides + 1,)
        Where each side's patches start.
    """

    centre: Floats
    half_u: Floats
    half_v: Floats
    normal: Floats
    area: Floats
    reflectance: Floats
    transmittance: Floats
    start: Wholes

    @property
    def count(self) -> int:
        """Number of patches."""
        return self.area.size

    @property
    def sides(self) -> int:
        """Number of sides."""
        return self.start.size - 1

    @property
    def width(self) -> Floats:
        """The longer side of each patch. [m]"""
        return 2 * np.maximum(
            np.linalg.norm(self.half_u, axis=1), np.linalg.norm(self.half_v, axis=1)
        )

    def side(self, number: int) -> slice:
        """Return where one side's patches lie in the arrays."""
        return slice(int(self.start[number]), int(self.start[number + 1]))

    def corners(self) -> Floats:
        """Return the corners in turn, shape (4, patches, 3). [m]"""
        u, v = self.half_u, self.half_v
        return self.centre + np.stack([-u - v, u - v, u + v, v - u])


def cut(scene: Scene, patch: float) -> Patches:
    """Return the patches of all sides from which another surface or a lamp can be seen.

    Parameters
    ----------
    scene : Scene
    patch : float
        Side of a patch; widened where more than ``MOST`` would come of it. [m]
    """
    corners = [surface.corners for surface in scene.surfaces]
    seen = np.concatenate([*corners, np.reshape([lamp.centre for lamp in scene.lamps], (-1, 3))])
    sides = [
        side
        for surface in scene.surfaces
        for side in (surface, _back(surface))
        if _sees_any(side, seen)
    ]
    whole = sum(side.area for side in sides)
    width = max(patch, math.sqrt(whole / MOST))
    return _packed(sides, [_divisions(side, width) for side in sides])


def _back(surface: Surface) -> Surface:
    """Return the other side, which absorbs what it stops."""
    return Surface(surface.origin, surface.v, surface.u, 0.0, surface.transmittance)


def _sees_any(side: Surface, places: Floats) -> bool:
    return bool(np.max((places - np.array(side.origin)) @ side.normal, initial=0.0) > _BEFORE)


def _divisions(side: Surface, width: float) -> tuple[int, int]:
    across, along = math.hypot(*side.u) / width, math.hypot(*side.v) / width
    return max(1, round(across)), max(1, round(along))


def _packed(sides: Sequence[Surface], divisions: Sequence[tuple[int, int]]) -> Patches:
    counts = np.array([across * along for across, along in divisions], dtype=np.int64)
    rows = [_middles(side, *count) for side, count in zip(sides, divisions, strict=True)]
    half_u = np.array([np.array(s.u) / d[0] / 2 for s, d in zip(sides, divisions, strict=True)])
    half_v = np.array([np.array(s.v) / d[1] / 2 for s, d in zip(sides, divisions, strict=True)])
    of_side = np.repeat(np.arange(len(sides)), counts)
    return Patches(
        centre=np.concatenate(rows) if rows else np.empty((0, 3)),
        half_u=half_u.reshape(-1, 3)[of_side],
        half_v=half_v.reshape(-1, 3)[of_side],
        normal=np.array([side.normal for side in sides]).reshape(-1, 3)[of_side],
        area=np.array([side.area for side in sides])[of_side] / counts[of_side],
        reflectance=np.array([side.reflectance for side in sides], dtype=float)[of_side],
        transmittance=np.array([side.transmittance for side in sides], dtype=float)[of_side],
        start=np.concatenate([[0], np.cumsum(counts)]).astype(np.int64),
    )


def _middles(side: Surface, across: int, along: int) -> Floats:
    first, second = np.meshgrid(
        (np.arange(across) + 0.5) / across, (np.arange(along) + 0.5) / along, indexing="ij"
    )
    offset = first.reshape(-1, 1) * np.array(side.u) + second.reshape(-1, 1) * np.array(side.v)
    return np.array(side.origin) + offset
