"""Turbulence of a flow by the k-epsilon model, bounded within the jets of fans.

Keeps the model's arrays; its steps are compiled in `turbulence_kernels`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.air.flow import turbulence_kernels as kernels
from core.air.flow.grid import Flags, Floats, Grid
from core.air.flow.resistance import WALL_FRICTION
from core.air.flow.scene import AIR_VISCOSITY, FACES, AirScene
from core.air.flow.sources import jet_bound

_START_SHARE = 0.1
"""k at the start over the reference speed squared; some 0.01 m²/s² in an enclosure."""

_START_LENGTH = 0.05
"""Length of eddies at the start. [m]"""

_INTAKE_SHARE = 0.1
"""Unsteady part of the speed of air let in."""

_INTAKE_LENGTH = 0.007
"""Length of its eddies. [m]"""

_LEAST = 1e-5
"""Least k, and epsilon, over those at the start."""

_STILL = 1e-3
"""Reference speed of a scene in which nothing moves the air. [m/s]"""


class Turbulence:
    """k and epsilon of a flow, and the viscosity that follows.

    Attributes
    ----------
    k : ndarray, padded
        Turbulent energy. [m²/s²]
    epsilon : ndarray, padded
        Its dissipation. [m²/s³]
    viscosity : ndarray, padded
        Of the air and its eddies. [m²/s]
    """

    def __init__(self, scene: AirScene, grid: Grid, openings: Sequence[Flags]) -> None:
        self._grid = grid
        self._friction = WALL_FRICTION
        start = _START_SHARE * max(scene.reference_speed, _STILL) ** 2
        self._least = (_LEAST * start, _LEAST * float(_dissipation(start, _START_LENGTH)))
        self._slowest = max(scene.reference_speed, _STILL) * 1e-6 / min(grid.spacing)
        self.k = np.full(grid.padded, start)
        self.epsilon = np.full(grid.padded, _dissipation(start, _START_LENGTH))
        self._bound = jet_bound(scene, grid)
        self._fluid = grid.fluid.astype(float)
        self._free = [free.astype(float) for free in grid.free]
        self._walls, self._wall_distance = _walls(grid, openings)
        self._sums = [grid.zeros() for _ in range(4)]
        self._strain = grid.zeros()
        self.viscosity = np.full(grid.padded, AIR_VISCOSITY)
        self.begin()

    def begin(self) -> None:
        """Take the viscosity that k and epsilon give at once, without looking back."""
        self._set_viscosity(1.0)

    def let_in(self, scene: AirScene, velocity: Sequence[Floats]) -> None:
        """Give air behind intakes its turbulence."""
        for opening in scene.openings:
            axis, side = FACES[opening.face]
            amount = np.abs(velocity[axis][self._grid.end(axis, side)])
            # A low end's outer cell lies one place before its face, a high end's in its place.
            behind = self._grid.end(axis, side, 1 - side)
            energy = 1.5 * (_INTAKE_SHARE * amount[amount > 0]) ** 2
            self.k[behind][amount > 0] = energy
            self.epsilon[behind][amount > 0] = _dissipation(energy, _INTAKE_LENGTH)

    def step(self, velocity: Sequence[Floats], centred: Sequence[Floats], courant: float) -> None:
        """Take one step in the flow's pseudo-time.

        Parameters
        ----------
        velocity, centred : sequences of 3 padded arrays
            On faces and in the middles of cells. [m/s]
        courant : float
            Part of a cell that anything may cross in one step.
        """
        grid, (counts, strides) = self._grid, (self._grid.counts, self._grid.strides)
        u, v, w, uc, vc, wc = (field.reshape(-1) for field in (*velocity, *centred))
        free_x, free_y, free_z = (field.reshape(-1) for field in self._free)
        k, epsilon, viscosity = (f.reshape(-1) for f in (self.k, self.epsilon, self.viscosity))
        per_metre = tuple(1.0 / side for side in grid.spacing)
        strain = self._strain.reshape(-1)
        kernels.strain(
            u, v, w, uc, vc, wc, free_x, free_y, free_z, counts, strides, per_metre, strain
        )  # fmt: skip
        sums = [field.reshape(-1) for field in self._sums]
        for total in sums:
            total.fill(0.0)
        for axis, wind, free in ((0, u, free_x), (1, v, free_y), (2, w, free_z)):
            if not grid.flat(axis):
                kernels.add_transport(
                    wind, free, viscosity, k, epsilon, AIR_VISCOSITY, counts, strides,
                    strides[axis], per_metre[axis], *sums,
                )  # fmt: skip
        wall_x, wall_y, wall_z = (field.reshape(-1) for field in self._walls)
        kernels.advance(
            strain, self._fluid.reshape(-1), viscosity, k, epsilon, *sums,
            wall_x, wall_y, wall_z, self._wall_distance.reshape(-1), uc, vc, wc,
            counts, strides, AIR_VISCOSITY, self._friction, courant, self._slowest, *self._least,
        )  # fmt: skip
        self._set_viscosity(kernels.RELAXED)
        for field in (self.k, self.epsilon, self.viscosity):
            grid.wrap(field)

    def _set_viscosity(self, relaxed: float) -> None:
        kernels.set_viscosity(
            self.k.reshape(-1), self.epsilon.reshape(-1), self._fluid.reshape(-1),
            self._bound.reshape(-1), AIR_VISCOSITY, relaxed,
            self._grid.counts, self._grid.strides, self.viscosity.reshape(-1),
        )  # fmt: skip


def _dissipation(energy: float | Floats, length: float) -> Floats:
    """Return epsilon of eddies of one length. [m²/s³]"""
    return np.asarray(kernels.C_MU**0.75 * np.asarray(energy) ** 1.5 / length)


def _walls(grid: Grid, openings: Sequence[Flags]) -> tuple[list[Floats], Floats]:
    """Return each cell's share of walls square to each axis, and its distance from them. [m]"""
    beside = [
        grid.zeros() if grid.flat(axis) else _shut_beside(grid, axis, openings[axis])
        for axis in range(3)
    ]
    count = beside[0] + beside[1] + beside[2]
    shares = [part / np.maximum(count, 1.0) for part in beside]
    halves = [share * grid.spacing[axis] / 2 for axis, share in enumerate(shares)]
    distance = np.where(count > 0, halves[0] + halves[1] + halves[2], 1.0)
    return shares, distance


def _shut_beside(grid: Grid, axis: int, openings: Flags) -> Floats:
    shut = ~(grid.free[axis] | openings)
    return ((shut | np.roll(shut, -1, axis)) & grid.fluid).astype(float)
