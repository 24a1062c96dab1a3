"""The answer of a flow: velocity, speed and what else a caller may read from it.

A field knows its scene but computes no flow.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import ArrayLike

from core.air.flow.grid import Flags, Floats, Grid
from core.air.flow.scene import AirScene
from core.errors import InputError, complaint


@dataclass(frozen=True, eq=False)
class FlowField:
    """Mean flow of a scene.

    Attributes
    ----------
    scene : AirScene
    grid : Grid
    faces : tuple of 3 ndarrays
        Mean velocity on the faces square to each axis, both ends included. [m/s]
    speed : ndarray, shape (nx, ny, nz)
        Mean of the amount of velocity, which wandering air makes larger than that of the mean.
        [m/s]
    pressure : ndarray, shape (nx, ny, nz)
        Over density, up to a constant. [m²/s²]
    viscosity : ndarray, shape (nx, ny, nz)
        Of the air and its eddies. [m²/s]
    turbulence : tuple of 2 ndarrays or None
        k [m²/s²] and epsilon [m²/s³]; None where the flow is laminar.
    temperature : ndarray or None
        None where the scene has no heat. [°C]
    divergence_max : float
        Most air that piles up in any cell. [1/s]
    steps : int
        Steps taken from its start.
    """

    scene: AirScene
    grid: Grid
    faces: tuple[Floats, Floats, Floats]
    speed: Floats
    pressure: Floats
    viscosity: Floats
    turbulence: tuple[Floats, Floats] | None
    temperature: Floats | None
    divergence_max: float
    steps: int

    @property
    def fluid(self) -> Flags:
        """Cells that hold air, shape (nx, ny, nz)."""
        return self.grid.fluid[self.grid.inner]

    @property
    def velocity(self) -> Floats:
        """Mean velocity in the middle of each cell, shape (3, nx, ny, nz). [m/s]"""
        u, v, w = self.faces
        return np.stack(
            [(u[1:] + u[:-1]) / 2, (v[:, 1:] + v[:, :-1]) / 2, (w[:, :, 1:] + w[:, :, :-1]) / 2]
        )

    def at(self, points: ArrayLike) -> Floats:
        """Return the mean velocity at points, linear between faces.

        Parameters
        ----------
        points : array_like, shape (points, 3)
            Beyond the outermost faces the nearest counts. [m]

        Returns
        -------
        ndarray, shape (points, 3)
            [m/s]

        Raises
        ------
        InputError
            If ``points`` are no rows of three numbers.
        """
        places = np.atleast_2d(np.asarray(points, dtype=float))
        if places.ndim != 2 or places.shape[1] != 3 or not np.isfinite(places).all():
            rule = "must be rows of three numbers"
            raise InputError(complaint("Flow", "points", places.shape, rule, "give shape (n, 3)"))
        return np.stack([self.face_values(axis, places) for axis in range(3)], axis=1)

    def face_values(self, axis: int, places: Floats) -> Floats:
        """Return one component of the velocity at places of shape (..., 3) in m. [m/s]"""
        first = [0.5, 0.5, 0.5]
        first[axis] = 0.0
        return interpolated(self.faces[axis], np.array(first), np.array(self.grid.spacing), places)

    def cell_values(self, values: Floats, places: Floats) -> Floats:
        """Return what is given in the middles of cells at places of shape (..., 3) in m."""
        return interpolated(values, np.full(3, 0.5), np.array(self.grid.spacing), places)


def interpolated(values: Floats, first: Floats, spacing: Floats, places: Floats) -> Floats:
    """Return values at places, linear between nodes and constant beyond the outermost.

    Parameters
    ----------
    values : ndarray, 3-D
    first : ndarray, shape (3,)
        Place of the first node in spacings.
    spacing : ndarray, shape (3,)
        Between nodes. [m]
    places : ndarray, shape (..., 3)
        [m]
    """
    most = np.array(values.shape) - 1
    node = np.clip(places / spacing - first, 0.0, most)
    low = np.minimum(node.astype(int), np.maximum(most - 1, 0))
    high = np.minimum(low + 1, most)
    part = node - low
    total = np.zeros(places.shape[:-1])
    for corner in product((0, 1), repeat=3):
        x, y, z = ((high if upper else low)[..., axis] for axis, upper in enumerate(corner))
        weight = np.where(np.array(corner) == 1, part, 1.0 - part).prod(axis=-1)
        total += weight * values[x, y, z]
    return total
