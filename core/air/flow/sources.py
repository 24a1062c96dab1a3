"""What drives the air on a grid: fans as momentum, openings as flow, and the bounds of fan jets.

What slows it is in `resistance`; nothing here advances a flow.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product

import numpy as np

from core.air.flow.grid import PAD, Flags, Floats, Grid
from core.air.flow.scene import FACES, AirScene, Fan, Opening
from core.errors import InputError, complaint

_HEADINGS = 9
"""Headings by which a fan's swing is averaged."""

_DISC = 12
"""Fewest points across a fan's disc that its momentum is spread over."""

JET_VISCOSITY = 0.0171
"""Eddy viscosity of a developed round jet over the root of its momentum flux (Rajaratnam, 1976,
from memory)."""

JET_LENGTH = 8.0
"""Diameters over which a fan's jet is bounded."""

JET_SPREAD = 0.15
"""Growth of the bounded cone's radius for each metre."""

_LEAST_AREA = 1e-12
"""Below any opening's area, so that nothing is divided by zero. [m²]"""

_UNBOUNDED = 1e9
"""[m²/s]"""


def headings(fan: Fan) -> list[Floats]:
    """Return the unit vectors a fan blows along, each for an equal share of the time."""
    x, y, z = fan.heading
    if fan.swing == 0.0:
        return [np.array(fan.heading)]
    shares = (np.arange(_HEADINGS) + 0.5) / _HEADINGS - 0.5
    turns = np.radians(fan.swing * shares)
    cosines, sines = np.cos(turns), np.sin(turns)
    return [
        np.array([x * c - y * s, x * s + y * c, z]) for c, s in zip(cosines, sines, strict=True)
    ]


def forces_of(scene: AirScene, grid: Grid) -> list[Floats]:
    """Return the force per mass on the faces of each axis, padded arrays. [m/s²]

    Summed over the cells' volume each fan gives its whole momentum flux Q²/A, whatever its heading
    and wherever it stands on the grid. So does each intake, together with what its even speed over
    whole cells carries: one that covers only part of a cell would else come in too slowly.
    """
    forces = [grid.zeros() for _ in range(3)]
    for fan in scene.fans:
        ways = headings(fan)
        for way in ways:
            _add_jet(grid, forces, fan, way, fan.momentum / len(ways))
    for opening in scene.openings:
        if opening.flow > 0.0:
            _add_intake(grid, forces, opening)
    for axis, push in enumerate(scene.body_force or ()):
        forces[axis] += push * grid.free[axis]
    for force in forces:
        grid.wrap(force)
    return forces


def _add_jet(grid: Grid, forces: list[Floats], fan: Fan, way: Floats, momentum: float) -> None:
    points = _disc(grid, fan, way)
    for axis in range(3):
        if way[axis] != 0.0 and grid.free[axis].any():
            weights = _spread(grid, axis, points)
            weights[~grid.free[axis]] = 0.0
            if weights.sum() == 0.0:
                weights[_nearest_free(grid, axis, fan)] = 1.0
            part = momentum * way[axis] / (weights.sum() * grid.cell_volume)
            forces[axis] += part * weights


def _disc(grid: Grid, fan: Fan, way: Floats) -> Floats:
    """Return points spread evenly over a fan's opening, shape (points, 3). [m]"""
    count = max(_DISC, math.ceil(4 * fan.diameter / min(grid.spacing)))
    steps = (np.arange(count) + 0.5) / count * 2 - 1
    right, up = (part.ravel() for part in np.meshgrid(steps, steps))
    inside = right**2 + up**2 <= 1
    helper = np.eye(3)[int(np.argmin(np.abs(way)))]
    across = np.cross(way, helper)
    across /= np.linalg.norm(across)
    along = np.cross(way, across)
    offsets = right[inside, None] * across + up[inside, None] * along
    return np.asarray(fan.position + offsets * (fan.diameter / 2))


def _spread(grid: Grid, axis: int, points: Floats) -> Floats:
    """Return the weight of points on the faces of an axis, shared linearly among neighbours."""
    offset = np.full(3, 0.5)
    offset[axis] = 0.0
    place = points / np.array(grid.spacing) - offset + PAD
    low, high = np.zeros(3), np.array(grid.padded) - 1.001
    if not grid.flat(axis):
        # A fan at a wall pushes the air before it: the wall's own face is shut.
        low[axis], high[axis] = PAD + 1, PAD + grid.counts[axis] - 1
    place = np.clip(place, low, high)
    first = np.floor(place).astype(int)
    part = place - first
    weights = grid.zeros()
    for corner in product((0, 1), repeat=3):
        share = np.where(np.array(corner) == 1, part, 1.0 - part).prod(axis=1)
        x, y, z = (first + corner).T
        np.add.at(weights, (x, y, z), share)
    return weights


def _nearest_free(grid: Grid, axis: int, fan: Fan) -> tuple[int, ...]:
    """Return the free face nearest to a fan that a coarse grid has buried in a solid."""
    free = np.argwhere(grid.free[axis])
    offset = np.full(3, 0.5)
    offset[axis] = 0.0
    away = (free - PAD + offset) * np.array(grid.spacing) - np.array(fan.position)
    return tuple(free[int(np.argmin((away**2).sum(axis=1)))])


def _add_intake(grid: Grid, forces: list[Floats], opening: Opening) -> None:
    """Push the air behind an intake by the momentum that its cells do not carry."""
    axis, side = FACES[opening.face]
    weights = _opening_weights(grid, opening)
    speeds = opening.flow * weights / max(weights.sum() * grid.face_area(axis), _LEAST_AREA)
    lacking = opening.flow**2 / opening.area - (speeds**2).sum() * grid.face_area(axis)
    behind = grid.end(axis, side, -1)
    weights *= grid.free[axis][behind]
    if lacking > 0.0 and weights.any():
        inward = lacking if side == 0 else -lacking
        forces[axis][behind] += inward * weights / (weights.sum() * grid.cell_volume)


def openings_at(scene: AirScene, grid: Grid) -> tuple[list[Floats], tuple[Flags, Flags, Flags]]:
    """Return the velocity through openings, and where they are, for each axis.

    Returns
    -------
    velocities : list of ndarray, padded
        On the faces at the ends of each axis. [m/s]
    places : tuple of ndarray of bool, padded

    Raises
    ------
    InputError
        If solids cover an opening.
    """
    velocities = [grid.zeros() for _ in range(3)]
    places = [np.zeros(grid.padded, dtype=bool) for _ in range(3)]
    for opening in scene.openings:
        axis, side = FACES[opening.face]
        weights = _opening_weights(grid, opening)
        if weights.sum() == 0.0:
            place = f"{opening.face} {opening.lo} to {opening.hi}"
            way_out = "move it or use finer cells"
            raise InputError(complaint("Opening", "place", place, "is covered", way_out))
        inward = opening.flow if side == 0 else -opening.flow
        velocities[axis][grid.end(axis, side)] += (
            inward * weights / (weights.sum() * grid.face_area(axis))
        )
        places[axis][grid.end(axis, side)] |= weights > 0.0
    return velocities, (places[0], places[1], places[2])


def _opening_weights(grid: Grid, opening: Opening) -> Floats:
    """Return the share of each cell at a face that an opening covers."""
    axis, side = FACES[opening.face]
    first, second = (other for other in range(3) if other != axis)
    shares = np.outer(
        grid.overlap(first, opening.lo[0], opening.hi[0]),
        grid.overlap(second, opening.lo[1], opening.hi[1]),
    )
    behind = np.take(grid.fluid[grid.inner], 0 if side == 0 else -1, axis)
    return np.asarray(shares * behind)


def jet_bound(scene: AirScene, grid: Grid) -> Floats:
    """Return the most eddy viscosity in each cell, bounded within the first part of fan jets.

    Returns
    -------
    ndarray, padded
        Far above any eddy viscosity outside the jets. [m²/s]

    References
    ----------
    .. [1] Rajaratnam, Turbulent Jets, Elsevier, 1976 (from memory): a round jet mixes by a constant
       eddy viscosity that follows from its momentum; k-epsilon on coarse cells mixes it too fast.
    """
    bound = np.full(grid.padded, _UNBOUNDED)
    middles = np.stack(np.meshgrid(*(grid.centres(a) for a in range(3)), indexing="ij"), axis=-1)
    for fan, way in _jets(scene):
        from_fan = middles - np.array(fan.position)
        ahead = from_fan @ way
        aside = np.linalg.norm(from_fan - ahead[..., None] * way, axis=-1)
        length = JET_LENGTH * fan.diameter
        inside = (ahead > 0) & (ahead < length)
        inside &= aside < fan.diameter / 2 + JET_SPREAD * ahead
        most = JET_VISCOSITY * math.sqrt(fan.momentum) * np.clip(ahead / length, 0.1, 1.0)
        bound[grid.inner][inside] = np.minimum(bound[grid.inner], most)[inside]
    return bound


def _jets(scene: AirScene) -> Iterator[tuple[Fan, Floats]]:
    for fan in scene.fans:
        for way in headings(fan):
            yield fan, way
