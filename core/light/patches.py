"""Surfaces cut into patches, on each side that anything can be seen from.

A surface's back is a side of its own that absorbs: without it the light it stops would count as
gone past. The exchange between patches is computed in `exchange`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.light.given import Floats, Vector, Wholes
from core.light.obstacles import NOBODY, Obstacles, of_plates
from core.light.scene import Scene

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
    lost : ndarray, shape (patches,)
        Share of the light on this side that is lost to the growing space. [0–1]
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
    lost: Floats
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
    def of_side(self) -> Wholes:
        """The number of each patch's side, shape (patches,)."""
        return np.repeat(np.arange(self.sides), np.diff(self.start))

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


@dataclass(frozen=True)
class Pane:
    """A rectangle and what it does with light on both sides.

    Attributes
    ----------
    origin, u, v : Vector
        One corner and the two sides from there, square to each other. [m]
    front, back : float or None
        Share sent back on the side that u × v points to, and on the other; None where no light
        can come. [0–1]
    transmittance : float
        Share that passes straight on. [0–1]
    coarse : tuple of float
        How many times as wide as elsewhere the patches of both sides may be.
    lost : tuple of float
        Share of the light on either side that is lost to the growing space there, though it is
        stopped for the exchange. [0–1]
    owner : int
        The lamp whose casing this is, or NOBODY.
    """

    origin: Vector
    u: Vector
    v: Vector
    front: float | None
    back: float | None
    transmittance: float = 0.0
    coarse: tuple[float, float] = (1.0, 1.0)
    lost: tuple[float, float] = (0.0, 0.0)
    owner: int = NOBODY


def cut(scene: Scene, patch: float) -> Patches:
    """Return the patches of all sides from which another surface or a lamp can be seen.

    Parameters
    ----------
    scene : Scene
    patch : float
        Side of a patch; widened where more than ``MOST`` would come of it. [m]
    """
    panes = [Pane(s.origin, s.u, s.v, s.reflectance, 0.0, s.transmittance) for s in scene.surfaces]
    return cut_panes(panes, [lamp.centre for lamp in scene.lamps], patch)


def cut_panes(
    panes: Sequence[Pane], lamps: Sequence[Vector], patch: float, most: int = MOST
) -> Patches:
    """Return the patches of all sides from which another pane or a lamp can be seen.

    Parameters
    ----------
    panes : sequence of Pane
    lamps : sequence of Vector
        Middles of the lamps. [m]
    patch : float
        Side of a patch. [m]
    most : int
        Patches are widened where many more than these would come of it.
    """
    sides = _sides(panes, lamps)
    width = patch * sides.coarse
    length_u, length_v = np.linalg.norm(sides.u, axis=1), np.linalg.norm(sides.v, axis=1)
    wanted = float((length_u * length_v / width**2).sum())
    width = width * max(1.0, math.sqrt(wanted / most))
    across = np.maximum(1, np.round(length_u / width)).astype(np.int64)
    along = np.maximum(1, np.round(length_v / width)).astype(np.int64)
    counts = across * along
    start = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
    of_side = np.repeat(np.arange(counts.size), counts)
    number = np.arange(start[-1]) - start[of_side]
    half_u, half_v = sides.u / across[:, None] / 2, sides.v / along[:, None] / 2
    steps_u = (2 * (number // along[of_side]) + 1)[:, None] * half_u[of_side]
    steps_v = (2 * (number % along[of_side]) + 1)[:, None] * half_v[of_side]
    return Patches(
        centre=sides.origin[of_side] + steps_u + steps_v,
        half_u=half_u[of_side],
        half_v=half_v[of_side],
        normal=sides.normal[of_side],
        area=(length_u * length_v / counts)[of_side],
        reflectance=sides.reflectance[of_side],
        transmittance=sides.transmittance[of_side],
        lost=sides.lost[of_side],
        start=start,
    )


def obstacles_of(panes: Sequence[Pane]) -> Obstacles:
    """Return panes as obstacles."""
    return of_plates([((p.origin, p.u, p.v), p.transmittance, p.owner) for p in panes])


@dataclass(frozen=True, eq=False)
class _Sides:
    """Both sides of panes, as far as anything can be seen from them."""

    origin: Floats
    u: Floats
    v: Floats
    normal: Floats
    reflectance: Floats
    transmittance: Floats
    coarse: Floats
    lost: Floats


def _sides(panes: Sequence[Pane], lamps: Sequence[Vector]) -> _Sides:
    origin, first, second = (
        np.array([getattr(pane, name) for pane in panes], dtype=float).reshape(-1, 3)
        for name in ("origin", "u", "v")
    )
    u, v = (np.stack(both, axis=1).reshape(-1, 3) for both in ((first, second), (second, first)))
    corner = np.repeat(origin, 2, axis=0)
    normal = np.cross(u, v)
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    places = np.concatenate(
        [origin, origin + first, origin + second, origin + first + second,
         np.array(lamps, dtype=float).reshape(-1, 3)]
    )  # fmt: skip
    height = normal @ places.T - (normal * corner).sum(axis=1)[:, None]
    there = np.array([share is not None for p in panes for share in (p.front, p.back)], dtype=bool)
    kept = there & (height.max(axis=1, initial=0.0) > _BEFORE)
    values = [
        (share or 0.0, pane.transmittance, coarse, lost)
        for pane in panes
        for share, coarse, lost in zip((pane.front, pane.back), pane.coarse, pane.lost, strict=True)
    ]
    each = np.array(values, dtype=float).reshape(-1, 4)[kept].T
    return _Sides(corner[kept], u[kept], v[kept], normal[kept], *each)
