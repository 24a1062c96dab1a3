"""What slows the air on a grid: friction at walls and solids, panels, and which cells share shear.

Fans and openings, which drive it, are in `sources`; nothing here advances a flow.
"""

from __future__ import annotations

import numpy as np

from core.air.flow.grid import PAD, Flags, Floats, Grid
from core.air.flow.scene import AirScene, Panel

WALL_FRICTION = 0.005
"""Half the friction coefficient of a wall, Cf/2; the log law gives 0.0034 to 0.006 for cells of
5 to 10 cm. Shear stress over density is this times the square of the speed beside the wall."""

ALONG_PANEL = 0.15
"""Loss of air that moves along a panel over that of air through it (judgement)."""


def shear_shares(grid: Grid, axis: int, across: int, at_wall: float) -> Floats:
    """Return how the viscosity between faces counts, for one velocity and one direction.

    Parameters
    ----------
    grid : Grid
    axis : int
        Axis of the velocity.
    across : int
        Direction of its neighbours; an entry stands for the edge towards the lower one.
    at_wall : float
        Share where only one of the two is free: 0 where friction takes the place of viscosity,
        2 where walls do not slip, half a cell from the face.

    Returns
    -------
    ndarray, padded
        1 between free faces.
    """
    if axis == across:
        return np.ones(grid.padded)
    if grid.flat(across):
        return grid.zeros()
    free = grid.free[axis]
    beside = np.roll(free, 1, across)
    between = (free & beside & ~_plate_at(grid, axis, across)).astype(float)
    return between + at_wall * (free ^ beside)


def _plate_at(grid: Grid, axis: int, across: int) -> Flags:
    plate = grid.plates[across]
    return plate & np.roll(plate, 1, axis)


def drags(scene: AirScene, grid: Grid, openings: tuple[Flags, Flags, Flags]) -> list[Floats]:
    """Return the drag on each velocity: force per mass over speed times velocity. [1/m]

    Parameters
    ----------
    scene : AirScene
    grid : Grid
    openings : tuple of ndarray of bool, padded
        For each axis, faces through which openings let air; they cause no friction.
    """
    found = [grid.zeros() for _ in range(3)]
    for axis in range(3):
        if scene.walls == "friction":
            for across in range(3):
                found[axis] += _friction(grid, axis, across, openings[across])
        for panel in scene.panels:
            found[axis] += _panel_drag(grid, panel, axis)
        found[axis] *= grid.free[axis]
        grid.wrap(found[axis])
    return found


def _friction(grid: Grid, axis: int, across: int, openings: Flags) -> Floats:
    if axis == across or grid.flat(across):
        return grid.zeros()
    free = grid.free[axis]
    shut = (free ^ np.roll(free, 1, across)) | _plate_at(grid, axis, across)
    shut &= ~(openings | np.roll(openings, 1, axis))
    walls = shut.astype(float) + np.roll(shut, -1, across)
    return walls * (WALL_FRICTION / grid.spacing[across])


def _panel_drag(grid: Grid, panel: Panel, axis: int) -> Floats:
    """Return the drag of a panel on one velocity, whole through it and little along it. [1/m]"""
    shares = [grid.overlap(a, panel.lo[a], panel.hi[a]) for a in range(3)]
    place = (panel.lo[panel.axis] + panel.hi[panel.axis]) / 2
    plane = grid.nearest_plane(panel.axis, place)
    loss = panel.loss / (2 * grid.spacing[panel.axis])
    found = grid.zeros()
    if axis == panel.axis:
        shares[axis] = np.ones(1)
        where = list(grid.inner)
        where[axis] = slice(PAD + plane, PAD + plane + 1)
        found[tuple(where)] = loss * _product(shares)
        return found
    layers = np.zeros(grid.counts[panel.axis])
    layers[max(plane - 1, 0) : plane + 1] = ALONG_PANEL * loss
    shares[panel.axis] = layers
    found[grid.inner] = _product(shares)
    return 0.5 * (found + np.roll(found, 1, axis))


def _product(shares: list[Floats]) -> Floats:
    x, y, z = shares
    return x[:, None, None] * y[None, :, None] * z[None, None, :]
