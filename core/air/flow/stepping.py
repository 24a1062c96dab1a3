"""One flow on its way to rest in the mean: momentum, warmth, turbulence and pressure by turns.

Loads numba. What a caller sees of a flow is in `field`, how long it is stepped in `solve`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.air.flow import momentum_kernels as kernels
from core.air.flow.grid import Floats, Grid
from core.air.flow.multigrid import Pressure
from core.air.flow.resistance import drags, shear_shares
from core.air.flow.scene import FACES, AirScene
from core.air.flow.sources import forces_of, openings_at
from core.air.flow.spaces import check_spaces
from core.air.flow.turbulence import Turbulence
from core.air.flow.warmth import Warmth

COURANT = 0.7
"""Part of a cell that anything may cross in one step."""

_SLOWEST = 0.05
"""Speed over the scene's reference speed that steps allow for even in still air."""


class Stepper:
    """A flow on a grid, one step after the other.

    Attributes
    ----------
    velocity : list of 3 padded arrays
        On the lower faces of cells. [m/s]
    centred : list of 3 padded arrays
        In the middles of cells. [m/s]
    speed : padded array
        Its amount there. [m/s]
    pressure : padded array
        Over density. [m²/s²]
    turbulence : Turbulence or None
        None where the flow is laminar.
    warmth : Warmth or None
        None where no heat is given.
    """

    def __init__(self, scene: AirScene, grid: Grid) -> None:
        self.grid = grid
        self.velocity, places = openings_at(scene, grid)
        check_spaces(scene, grid, self.velocity)
        _hold_still(grid, self.velocity)
        for face, velocity in scene.moving(grid.flat(2)).items():
            _move_face(grid, self.velocity, face, velocity)
        self._next = [field.copy() for field in self.velocity]
        self._step = [grid.zeros() for _ in range(3)]
        self.centred = [grid.zeros() for _ in range(3)]
        self.speed, self.pressure = grid.zeros(), grid.zeros()
        self._forces = forces_of(scene, grid)
        self._drags = drags(scene, grid, places)
        self._free = [free.astype(float) for free in grid.free]
        at_wall = 2.0 if scene.walls == "no-slip" else 0.0
        self._shares = [
            [shear_shares(grid, axis, across, at_wall) for across in range(3)] for axis in range(3)
        ]
        self._slowest = _SLOWEST * scene.reference_speed / min(grid.spacing) + 1e-9
        self._scratch = [grid.zeros() for _ in range(4)]
        self._solver = Pressure(grid)
        self._laminar = np.full(grid.padded, scene.viscosity or 0.0)
        self.turbulence = None if scene.viscosity else Turbulence(scene, grid, places)
        if self.turbulence is not None:
            self.turbulence.let_in(scene, self.velocity)
        self.warmth = None if scene.heat is None else Warmth(scene.heat, grid)
        self.refresh()

    @property
    def viscosity(self) -> Floats:
        """Of the air and its eddies, padded. [m²/s]"""
        return self._laminar if self.turbulence is None else self.turbulence.viscosity

    def refresh(self) -> None:
        """Follow a change of the velocity from outside."""
        for field in self.velocity:
            self.grid.wrap(field)
        self._centre()

    def step(self) -> None:
        """Take one step in pseudo-time."""
        if self.turbulence is not None:
            self.turbulence.step(self.velocity, self.centred, COURANT)
        for axis in range(3):
            if self.grid.solved(axis):
                self._move(axis)
        if self.warmth is not None:
            self._warm(self.warmth)
        self.velocity, self._next = self._next, self.velocity
        for field in (*self.velocity, *self._step):
            self.grid.wrap(field)
        self._solver.project(self.velocity, self._step, self.pressure)
        self._centre()

    def project_tightly(self, velocity: Sequence[Floats]) -> float:
        """Take all divergence out of a velocity, in place; return the most that is left. [1/s]"""
        return self._solver.project_tightly(velocity)

    def _move(self, axis: int) -> None:
        force = self._forces[axis]
        if self.warmth is not None and axis == 2:
            force = force + self.warmth.lift()
        self._carry(
            self.velocity[axis], self._shares[axis], self.viscosity, self.grid.strides[axis]
        )
        self._advance(
            self.velocity[axis], self.pressure, force, self._drags[axis], self.speed,
            self._free[axis], self.grid.strides[axis], 1.0 / self.grid.spacing[axis],
            self._next[axis], self._step[axis],
        )  # fmt: skip

    def _warm(self, warmth: Warmth) -> None:
        still = self.grid.zeros()
        self._carry(warmth.temperature, warmth.shares, warmth.diffusivity, 0)
        self._advance(
            warmth.temperature, still, still, still, still, warmth.fluid, 0, 0.0,
            warmth.next, self.grid.zeros(),
        )  # fmt: skip
        warmth.temperature, warmth.next = warmth.next, warmth.temperature

    def _carry(
        self, carried: Floats, shares: Sequence[Floats], viscosity: Floats, beside: int
    ) -> None:
        """Sum what flows leave in each control volume, into the first two scratch arrays."""
        grid = self.grid
        change, fastest, flux, rate = (field.reshape(-1) for field in self._scratch)
        change.fill(0.0)
        fastest.fill(0.0)
        for across in range(3):
            if not grid.flat(across):
                along, inverse = grid.strides[across], 1.0 / grid.spacing[across]
                kernels.face_fluxes(
                    carried.reshape(-1), self.velocity[across].reshape(-1),
                    viscosity.reshape(-1), shares[across].reshape(-1), grid.counts, grid.strides,
                    along, beside, inverse, flux, rate,
                )  # fmt: skip
                kernels.add_balance(
                    flux, rate, grid.counts, grid.strides, along, inverse, change, fastest
                )  # fmt: skip

    def _advance(
        self,
        old: Floats,
        pressure: Floats,
        force: Floats,
        drag: Floats,
        speed: Floats,
        free: Floats,
        beside: int,
        inverse: float,
        new: Floats,
        step: Floats,
    ) -> None:
        change, fastest, _, _ = (field.reshape(-1) for field in self._scratch)
        told = (field.reshape(-1) for field in (pressure, force, drag, speed, free))
        kernels.advance(
            old.reshape(-1), change, fastest, *told, self.grid.counts, self.grid.strides, beside,
            inverse, COURANT, self._slowest, new.reshape(-1), step.reshape(-1),
        )  # fmt: skip

    def _centre(self) -> None:
        told = (field.reshape(-1) for field in (*self.centred, self.speed))
        u, v, w = (field.reshape(-1) for field in self.velocity)
        kernels.centre(u, v, w, self.grid.counts, self.grid.strides, *told)
        self.grid.wrap(self.speed)


def _hold_still(grid: Grid, velocity: list[Floats]) -> None:
    """Continue what openings let in and out beyond the ends, for the limiter to look at."""
    for axis in range(3):
        for side in (0, 1):
            for layer in (1, 2) if side == 0 else (1,):
                velocity[axis][grid.end(axis, side, layer)] = velocity[axis][grid.end(axis, side)]


def _move_face(
    grid: Grid, velocity: list[Floats], face: str, told: tuple[float, float, float]
) -> None:
    """Let a face slide: give the layers beyond it its velocity, but for the part through it."""
    across, side = FACES[face]
    for axis in range(3):
        if axis != across and grid.solved(axis):
            where = [slice(None)] * 3
            outer = slice(0, 2) if side == 0 else slice(2 + grid.counts[across], None)
            where[across] = outer
            velocity[axis][tuple(where)] = told[axis]
