"""The pressure of a grid: keeps what the compiled multigrid works on, and asks it.

The method itself is in `pressure_kernels`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.air.flow import pressure_kernels
from core.air.flow.grid import Floats, Grid

_ITERATIONS = 2
"""Conjugate-gradient iterations in each step of a flow."""

_TIGHT = 2e-13
"""Divergence at which the last solve stops. [1/s]"""

_MOST = 200
"""Most iterations of the last solve."""

_PASSES = 6
"""Most times the last solve starts again from what rounding has left."""


class Pressure:
    """Takes the divergence out of velocities on a grid."""

    def __init__(self, grid: Grid) -> None:
        self._grid = grid
        counts = _level_counts(grid.counts)
        sizes = [int(np.prod([(n + 2) | 1 for n in level])) for level in counts]
        offsets = np.concatenate([[0], np.cumsum(sizes)])
        self._levels = np.array(
            [(offset, *level) for offset, level in zip(offsets[:-1], counts, strict=True)],
            dtype=np.int64,
        )
        every, finest = int(offsets[-1]), sizes[0]
        self._links = (np.zeros(every), np.zeros(every), np.zeros(every))
        self._total, self._inverse = np.zeros(every), np.zeros(every)
        self._guess, self._charge = np.zeros(every), np.zeros(every)
        self._answer, self._way, self._image = (np.zeros(finest) for _ in range(3))
        self._per_metre = tuple(1.0 / side for side in grid.spacing)

    def project(self, velocity: Sequence[Floats], step: Sequence[Floats], pressure: Floats) -> None:
        """Take most of the divergence out of a velocity, in place.

        Parameters
        ----------
        velocity : sequence of 3 padded arrays
            [m/s]
        step : sequence of 3 padded arrays
            How far in pseudo-time each of them went. [s]
        pressure : padded array
            Over density; takes up the correction. [m²/s²]
        """
        self._project(velocity, step, pressure, 0.0, _ITERATIONS)

    def project_tightly(self, velocity: Sequence[Floats]) -> float:
        """Take all divergence out of a velocity, in place; return the most that is left. [1/s]"""
        step = [np.where(free, 1.0, 0.0) for free in self._grid.free]
        unused = self._grid.zeros()
        left = divergence(self._grid, velocity)
        for _ in range(_PASSES):
            if left <= _TIGHT:
                break
            self._project(velocity, step, unused, _TIGHT / 2, _MOST)
            left = divergence(self._grid, velocity)
        return left

    def _project(
        self,
        velocity: Sequence[Floats],
        step: Sequence[Floats],
        pressure: Floats,
        enough: float,
        most: int,
    ) -> None:
        grid = self._grid
        u, v, w, step_u, step_v, step_w = (field.reshape(-1) for field in (*velocity, *step))
        pressure_kernels.load(
            u, v, w, step_u, step_v, step_w, grid.counts, grid.strides, self._per_metre,
            self._levels, self._links, self._charge,
        )  # fmt: skip
        pressure_kernels.build(self._levels, self._links, self._total, self._inverse)
        pressure_kernels.solve(
            self._levels, self._links, self._total, self._inverse, self._guess, self._charge,
            self._answer, self._way, self._image, grid.periodic, enough, most,
        )  # fmt: skip
        pressure_kernels.correct(
            u, v, w, step_u, step_v, step_w, pressure.reshape(-1), self._answer,
            grid.counts, grid.strides, self._per_metre, self._levels,
        )  # fmt: skip
        for field in (*velocity, pressure):
            grid.wrap(field)


def divergence(grid: Grid, velocity: Sequence[Floats]) -> float:
    """Return the largest amount of divergence in any cell of air. [1/s]"""
    total = np.zeros(grid.counts)
    for axis in range(3):
        faces = velocity[axis][grid.faces(axis)]
        total += np.diff(faces, axis=axis) / grid.spacing[axis]
    return float(np.abs(total[grid.fluid[grid.inner]]).max(initial=0.0))


def _level_counts(counts: tuple[int, int, int]) -> list[tuple[int, ...]]:
    """Return the cells along each axis on every level, halved until few are left."""
    found: list[tuple[int, ...]] = [counts]
    while max(found[-1]) > 2:
        found.append(tuple((count + 1) // 2 for count in found[-1]))
    return found
