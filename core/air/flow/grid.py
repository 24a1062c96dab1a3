"""Cells of a scene: which hold air, which of their faces air may cross, and how arrays are laid.

Velocities live on the lower faces of cells (a staggered grid), everything else in their middle.
What drives or slows the air on this grid is in `sources` and `resistance`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.air.flow.scene import AirScene, Solid
from core.arguments import positive
from core.errors import InputError, complaint

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Wholes = NDArray[np.int64]
Counts = tuple[int, int, int]

PAD = 2
"""Layers of cells laid round the scene in every padded array."""

MOST_CELLS = 2_000_000
"""Cells beyond which a flow would fill the memory of a small computer."""

_ON_EDGE = 1e-9
"""A cell whose middle is this near to the edge of a solid is in it. [m]"""


@dataclass(frozen=True, eq=False)
class Grid:
    """Cells of equal size over a scene.

    Padded arrays have ``PAD`` more layers on every side; in those of faces an entry belongs to
    the lower face of the cell in its place.

    Attributes
    ----------
    counts : tuple of int
        Cells along each axis.
    spacing : tuple of float
        Size of a cell. [m]
    periodic : tuple of bool
        Axes whose ends join.
    fluid : ndarray of bool, padded
        Cells that hold air.
    plates : tuple of ndarray of bool, padded
        For each axis, faces shut by a solid thinner than a cell.
    free : tuple of ndarray of bool, padded
        For each axis, faces between two cells of air that nothing shuts.
    """

    counts: Counts
    spacing: tuple[float, float, float]
    periodic: tuple[bool, bool, bool]
    fluid: Flags
    plates: tuple[Flags, Flags, Flags]
    free: tuple[Flags, Flags, Flags]

    @property
    def padded(self) -> Counts:
        """Shape of padded arrays."""
        x, y, z = self.counts
        return (x + 2 * PAD, y + 2 * PAD, z + 2 * PAD)

    @property
    def strides(self) -> Counts:
        """Distance of neighbours along each axis in flattened padded arrays."""
        _, y, z = self.padded
        return (y * z, z, 1)

    @property
    def inner(self) -> tuple[slice, slice, slice]:
        """The scene's own cells within a padded array."""
        x, y, z = self.counts
        return (slice(PAD, PAD + x), slice(PAD, PAD + y), slice(PAD, PAD + z))

    @property
    def cell_volume(self) -> float:
        """[m³]"""
        x, y, z = self.spacing
        return x * y * z

    def face_area(self, axis: int) -> float:
        """Return the area of a cell's face square to an axis. [m²]"""
        return self.cell_volume / self.spacing[axis]

    def flat(self, axis: int) -> bool:
        """Tell whether the scene is a single cell along an axis, which then has no walls."""
        return self.counts[axis] == 1

    def solved(self, axis: int) -> bool:
        """Tell whether air may move along an axis."""
        return not self.flat(axis) or self.periodic[axis]

    def faces(self, axis: int) -> tuple[slice, slice, slice]:
        """Return the faces square to an axis, both ends included, within a padded array."""
        found = list(self.inner)
        found[axis] = slice(PAD, PAD + self.counts[axis] + 1)
        return (found[0], found[1], found[2])

    def end(self, axis: int, side: int, layer: int = 0) -> tuple[slice | int, ...]:
        """Return the faces at one end of an axis, or ``layer`` cells further out."""
        found: list[slice | int] = list(self.inner)
        found[axis] = PAD - layer if side == 0 else PAD + self.counts[axis] + layer
        return tuple(found)

    def zeros(self) -> Floats:
        """Return a padded array of zeros."""
        return np.zeros(self.padded)

    def wrap(self, values: NDArray[np.generic]) -> None:
        """Fill what lies beyond ends that join from the other end."""
        for axis in range(3):
            if self.periodic[axis]:
                turned = np.moveaxis(values, axis, 0)
                count = self.counts[axis]
                for layer in range(PAD):
                    turned[PAD - 1 - layer] = turned[PAD + (count - 1 - layer) % count]
                    turned[PAD + count + layer] = turned[PAD + layer % count]

    def centres(self, axis: int) -> Floats:
        """Return the middles of cells along an axis. [m]"""
        steps = np.arange(self.counts[axis], dtype=float)
        return np.asarray((steps + 0.5) * self.spacing[axis], dtype=float)

    def overlap(self, axis: int, low: float, high: float) -> Floats:
        """Return the share of each cell along an axis between two places given in m."""
        lower = np.arange(self.counts[axis]) * self.spacing[axis]
        upper = lower + self.spacing[axis]
        common = np.minimum(upper, high) - np.maximum(lower, low)
        return np.clip(common / self.spacing[axis], 0.0, 1.0)

    def nearest_plane(self, axis: int, place: float) -> int:
        """Return the number of the plane between cells nearest to a place given in m."""
        plane = int(np.floor(place / self.spacing[axis] + 0.5))
        return min(max(plane, 0), self.counts[axis])


def spacing_of(scene: AirScene, cell: float) -> tuple[float, float, float]:
    """Return the sides of the cells that come nearest to cubes of side ``cell``. [m]"""
    x, y, z = _counts(scene, cell)
    return scene.size[0] / x, scene.size[1] / y, scene.size[2] / z


def _counts(scene: AirScene, cell: float) -> tuple[int, int, int]:
    x, y, z = (max(1, round(side / cell)) for side in scene.size)
    return x, y, z


def make_grid(scene: AirScene, cell: float) -> Grid:
    """Return the grid whose cells come nearest to cubes of side ``cell`` in m.

    Raises
    ------
    InputError
        If ``cell`` is not above 0 or gives too many cells, or walls that do not slip meet a solid
        thinner than a cell.
    """
    positive("Flow", "cell", cell, "m")
    x, y, z = _counts(scene, cell)
    if x * y * z > MOST_CELLS:
        rule, way_out = f"must not exceed {MOST_CELLS}", "use larger cells"
        raise InputError(complaint("Flow", "cells", x * y * z, rule, way_out))
    spacing = spacing_of(scene, cell)
    blank = np.zeros((x + 2 * PAD, y + 2 * PAD, z + 2 * PAD), dtype=bool)
    plates = (blank.copy(), blank.copy(), blank.copy())
    grid = Grid((x, y, z), spacing, scene.periodic, blank, plates, plates)
    grid.fluid[grid.inner] = True
    for solid in scene.solids:
        _put_solid(grid, solid, scene.walls == "no-slip")
    grid.wrap(grid.fluid)
    free = tuple(_free_faces(grid, axis) for axis in range(3))
    return Grid(
        grid.counts, spacing, grid.periodic, grid.fluid, plates, (free[0], free[1], free[2])
    )


def _put_solid(grid: Grid, solid: Solid, no_slip: bool) -> None:
    covered = [_covered(grid, axis, solid) for axis in range(3)]
    thin = [axis for axis in range(3) if not covered[axis].any()]
    if not thin:
        grid.fluid[grid.inner] &= ~_block(covered)
    elif len(thin) == 1 and _reaches_in(grid, thin[0], solid):
        if no_slip:
            thickness = f"{solid.hi[thin[0]] - solid.lo[thin[0]]:g} m"
            rule = "must reach the middle of a cell where walls do not slip"
            raise InputError(complaint("Solid", "thickness", thickness, rule, "use finer cells"))
        _put_plate(grid, thin[0], solid, covered)


def _covered(grid: Grid, axis: int, solid: Solid) -> Flags:
    centres = grid.centres(axis)
    low, high = solid.lo[axis] - _ON_EDGE, solid.hi[axis] + _ON_EDGE
    return np.asarray((centres >= low) & (centres <= high))


def _reaches_in(grid: Grid, axis: int, solid: Solid) -> bool:
    length = grid.counts[axis] * grid.spacing[axis]
    return solid.hi[axis] > 0.0 and solid.lo[axis] < length


def _put_plate(grid: Grid, axis: int, solid: Solid, covered: list[Flags]) -> None:
    plane = grid.nearest_plane(axis, (solid.lo[axis] + solid.hi[axis]) / 2)
    if 0 < plane < grid.counts[axis]:
        covered = [np.ones(1, bool) if a == axis else covered[a] for a in range(3)]
        where = list(grid.inner)
        where[axis] = slice(PAD + plane, PAD + plane + 1)
        grid.plates[axis][tuple(where)] |= _block(covered)


def _block(covered: list[Flags]) -> Flags:
    x, y, z = covered
    return x[:, None, None] & y[None, :, None] & z[None, None, :]


def _free_faces(grid: Grid, axis: int) -> Flags:
    free = np.zeros(grid.padded, dtype=bool)
    if grid.solved(axis):
        before = np.roll(grid.fluid, 1, axis)
        free[grid.faces(axis)] = (grid.fluid & before & ~grid.plates[axis])[grid.faces(axis)]
        grid.wrap(free)
    return free
