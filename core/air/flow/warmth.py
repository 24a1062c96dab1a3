"""Warmth that a flow carries, and the lift it gives (Boussinesq).

Its steps are those of any carried quantity and are taken in `stepping`.
"""

from __future__ import annotations

import numpy as np

from core.air.flow.grid import Floats, Grid
from core.air.flow.scene import FACES, Heat
from core.constants import GRAVITY


class Warmth:
    """Temperature of the air on a grid between faces kept warm or cool.

    Attributes
    ----------
    temperature, next : ndarray, padded
        Now, and room for that after a step. [°C]
    shares : list of 3 padded arrays
        How diffusivity counts at the lower face of each cell, for each axis.
    diffusivity : ndarray, padded
        [m²/s]
    fluid : ndarray, padded
        1 in cells of air.
    """

    def __init__(self, heat: Heat, grid: Grid) -> None:
        self._grid = grid
        self._middle = heat.middle
        self._lift = GRAVITY * heat.expansion
        self.temperature = np.full(grid.padded, heat.middle)
        self.shares = [free.astype(float) for free in grid.free]
        for face, temperature in heat.faces.items():
            self._hold(face, temperature)
        self.next = self.temperature.copy()
        self.diffusivity = np.full(grid.padded, heat.diffusivity)
        self.fluid = grid.fluid.astype(float)

    def lift(self) -> Floats:
        """Return the force per mass on the faces square to z. [m/s²]"""
        warm = self.temperature - self._middle
        return self._lift * 0.5 * (warm + np.roll(warm, 1, 2))

    def _hold(self, face: str, temperature: float) -> None:
        """Keep a face at a temperature: half a cell from the air, so that it counts twice."""
        axis, side = FACES[face]
        for layer in (1, 2) if side == 0 else (0, 1):
            self.temperature[self._grid.end(axis, side, layer)] = temperature
        self.shares[axis][self._grid.end(axis, side)] = 2.0
