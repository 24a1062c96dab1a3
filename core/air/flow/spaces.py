"""Spaces that solids divide a scene into, and the rule that each must let out what it lets in.

Loads scipy when asked.
"""

from __future__ import annotations

import numpy as np

from core.air.flow.grid import Flags, Floats, Grid, Wholes
from core.air.flow.scene import FACES, AirScene, check_balance


def spaces_of(grid: Grid) -> Wholes:
    """Return the number of the space each cell belongs to, -1 in solids, shape (nx, ny, nz)."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    air = grid.fluid[grid.inner]
    count = int(air.sum())
    numbers = np.full(grid.padded, -1)
    numbers[grid.inner][air] = np.arange(count)
    grid.wrap(numbers)
    low = [np.roll(numbers, 1, axis)[grid.free[axis]] for axis in range(3)]
    high = [numbers[grid.free[axis]] for axis in range(3)]
    links = (np.concatenate(low), np.concatenate(high))
    joined = coo_array((np.ones(len(links[0])), links), shape=(count, count))
    _, label = connected_components(joined, directed=False)
    spaces = np.full(grid.counts, -1)
    spaces[air] = label
    return spaces


def check_spaces(scene: AirScene, grid: Grid, velocity: list[Floats]) -> None:
    """Raise InputError unless openings balance within every space that solids leave.

    Parameters
    ----------
    scene : AirScene
    grid : Grid
    velocity : list of 3 padded arrays
        With the openings' velocities at the ends of each axis. [m/s]
    """
    whole = grid.fluid[grid.inner].all() and not any(plates.any() for plates in grid.plates)
    if whole or not scene.openings:
        return
    spaces = spaces_of(grid)
    for space in range(int(spaces.max()) + 1):
        check_balance(_flows_into(scene, grid, velocity, spaces == space))


def _flows_into(scene: AirScene, grid: Grid, velocity: list[Floats], space: Flags) -> list[float]:
    flows = []
    for face in sorted({opening.face for opening in scene.openings}):
        axis, side = FACES[face]
        inside = np.take(space, -side, axis)
        through = velocity[axis][grid.end(axis, side)] * inside * grid.face_area(axis)
        flows.append(float(through.sum()) * (1 - 2 * side))
    return flows
