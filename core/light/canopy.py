"""Grids of cells over a zone, and what a grower reads off the light on them.

Nothing here computes light; values per cell come from `direct_rows` or `solve`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from core.language import tr
from core.light import given
from core.light.given import Floats

PITCH = 0.05
"""Widest pitch of the grid light is read on. [m]"""


@dataclass(frozen=True, eq=False)
class CellGrid:
    """Centres of equal cells over a rectangle, row after row from the front left.

    Attributes
    ----------
    x, y : ndarray, shape (rows * columns,)
        [m]
    columns, rows : int
        Cells along x and along y.
    """

    x: Floats
    y: Floats
    columns: int
    rows: int

    def points(self, z: float) -> Floats:
        """Return the centres at height ``z``, shape (rows * columns, 3). [m]"""
        return np.stack([self.x, self.y, np.full(self.x.size, z)], axis=1)

    def as_map(self, values: ArrayLike) -> Floats:
        """Return values per cell as a map, shape (rows, columns), the front row first."""
        return np.asarray(values, dtype=np.float64).reshape(self.rows, self.columns)


def cell_grid(x: float, y: float, width: float, depth: float, pitch: float = PITCH) -> CellGrid:
    """Return the grid of equal cells, none wider than ``pitch``, over a rectangle.

    Parameters
    ----------
    x, y : float
        Front left corner. [m]
    width, depth : float
        Sides along x and along y. [m]
    pitch : float
        Widest cell. [m]

    Returns
    -------
    CellGrid

    Raises
    ------
    InputError
        If a side or the pitch is not above zero.
    """
    left, front = given.number(tr("Zone"), "x", x, "m"), given.number(tr("Zone"), "y", y, "m")
    sides = (
        given.positive(tr("Zone"), tr("width"), width, "m"),
        given.positive(tr("Zone"), tr("depth"), depth, "m"),
    )
    step = given.positive(tr("Zone"), tr("pitch"), pitch, "m")
    columns, rows = (max(1, math.ceil(side / step - 1e-9)) for side in sides)
    along = left + (np.arange(columns) + 0.5) * sides[0] / columns
    back = front + (np.arange(rows) + 0.5) * sides[1] / rows
    across, deep = np.meshgrid(along, back)
    return CellGrid(across.ravel(), deep.ravel(), columns, rows)


@dataclass(frozen=True)
class CanopyLight:
    """The light over one zone in four numbers.

    Attributes
    ----------
    minimum, mean, maximum : float
        Over the cells. [µmol m⁻² s⁻¹]
    uniformity : float
        Minimum over mean; 0 in the dark. [0–1]
    """

    minimum: float
    mean: float
    maximum: float
    uniformity: float


def canopy_light(ppfd: ArrayLike) -> CanopyLight:
    """Return minimum, mean, maximum and uniformity over equal cells.

    Parameters
    ----------
    ppfd : array_like
        One value per cell, any shape. [µmol m⁻² s⁻¹]

    Returns
    -------
    CanopyLight

    Raises
    ------
    InputError
        If there is no cell.
    """
    cells = _cells(ppfd)
    mean = float(cells.mean())
    least = float(cells.min())
    return CanopyLight(least, mean, float(cells.max()), least / mean if mean > 0 else 0.0)


def share_in_range(ppfd: ArrayLike, low: float, high: float) -> float:
    """Return the share of equal cells whose light lies from ``low`` to ``high``. [0–1]

    Raises
    ------
    InputError
        If there is no cell, or ``high`` lies below ``low``.
    """
    cells = _cells(ppfd)
    least = given.number(tr("Range of light"), tr("low end"), low, "µmol/(m² s)")
    most = given.number(tr("Range of light"), tr("high end"), high, "µmol/(m² s)")
    if most < least:
        rule = tr("must not lie below the low end, {low}").format(low=f"{least:g}")
        raise given.refusal(
            tr("Range of light"), tr("high end"), high, "µmol/(m² s)", rule, tr("swap the ends")
        )
    return float(np.mean((cells >= least) & (cells <= most)))


def _cells(ppfd: ArrayLike) -> Floats:
    cells = np.asarray(ppfd, dtype=np.float64).ravel()
    if not cells.size or not np.isfinite(cells).all():
        rule = tr("must hold at least one value, all of them numbers")
        raise given.refusal(
            tr("Zone"), tr("cells of light"), cells.size, "", rule, tr("give one value per cell")
        )
    return cells
