"""Age of air: how long ago the air at each place came in through an intake.

Reads a finished flow; loads scipy when asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from core.air.flow.field import FlowField
from core.air.flow.grid import Flags, Floats, Wholes
from core.air.flow.scene import AIR_VISCOSITY
from core.air.flow.spaces import spaces_of
from core.errors import InputError, complaint

_SCHMIDT = 0.9
"""Eddy viscosity over eddy diffusivity (Launder, in Turbulence, Springer, 1978, from memory)."""

_DIRECT = 12_000
"""Cells up to which the equations are solved by elimination."""

_TIGHT = 1e-12
"""Residual left by iteration, over the right-hand side."""


def mean_age(flow_field: FlowField) -> Floats:
    """Return the mean age of air in each cell.

    Parameters
    ----------
    flow_field : FlowField
        Of a scene with an intake and an exhaust.

    Returns
    -------
    ndarray, shape (nx, ny, nz)
        Infinite where no fresh air comes, not a number in solids. [s]

    Raises
    ------
    InputError
        If the scene lets no air in.

    Notes
    -----
    Upwind finite volumes on the mean flow, with eddies mixing. Whatever the flow, the air that
    leaves has on average the age volume / flow.

    References
    ----------
    .. [1] Sandberg, What is ventilation efficiency?, Building and Environment 16, 1981: age of air
       as a field that grows by a second each second.
    """
    if not any(opening.flow > 0 for opening in flow_field.scene.openings):
        rule, way_out = "must be above zero somewhere", "add an intake and an exhaust"
        raise InputError(complaint("Age of air", "flow let in", "0 m³/s", rule, way_out))
    fed = _fed(flow_field)
    age = np.where(flow_field.fluid, np.inf, np.nan)
    age[fed] = _solved(flow_field, fed)
    return age


def _solved(field: FlowField, fed: Flags) -> Floats:
    """Return the age in the cells that fresh air reaches. [s]"""
    from scipy.sparse import linalg

    numbers = np.full(fed.shape, -1)
    numbers[fed] = np.arange(int(fed.sum()))
    matrix = _matrix(field, numbers)
    volume = np.full(int(fed.sum()), field.grid.cell_volume)
    if len(volume) <= _DIRECT:
        return np.asarray(linalg.spsolve(matrix, volume))
    rough = linalg.spilu(matrix, drop_tol=0.1, fill_factor=2)
    before = linalg.LinearOperator(matrix.shape, rough.solve)
    age, failed = linalg.bicgstab(matrix, volume, rtol=_TIGHT, atol=0.0, maxiter=500, M=before)
    return np.asarray(linalg.spsolve(matrix, volume) if failed else age)


def _matrix(field: FlowField, numbers: Wholes) -> Any:
    """Return what leaves each cell (diagonal) and what neighbours bring (off it). [m³/s]"""
    from scipy.sparse import coo_array

    entries = [entry for axis in range(3) for entry in _entries(field, numbers, axis)]
    rows, columns, values = (np.concatenate(part) for part in zip(*entries, strict=True))
    count = int(numbers.max()) + 1
    return coo_array((values, (rows, columns)), shape=(count, count)).tocsc()


def _entries(
    field: FlowField, numbers: Wholes, axis: int
) -> Iterator[tuple[Wholes, Wholes, Floats]]:
    """Yield rows, columns and values of what passes the faces square to an axis."""
    cells = np.moveaxis(numbers, axis, 0)
    flow = np.moveaxis(field.faces[axis], axis, 0) * field.grid.face_area(axis)
    both = (cells[:-1] >= 0) & (cells[1:] >= 0)
    low, high = cells[:-1][both], cells[1:][both]
    mixing, through = _mixing(field, axis)[both], flow[1:-1][both]
    onward, back = np.maximum(through, 0.0) + mixing, np.maximum(-through, 0.0) + mixing
    yield low, low, onward
    yield high, low, -onward
    yield high, high, back
    yield low, high, -back
    for end, out in ((cells[0], -flow[0]), (cells[-1], flow[-1])):
        inside = end >= 0
        yield end[inside], end[inside], np.maximum(out[inside], 0.0)


def _mixing(field: FlowField, axis: int) -> Floats:
    """Return what eddies exchange through the inner faces square to an axis. [m³/s]"""
    grid = field.grid
    eddies = np.moveaxis(field.viscosity, axis, 0)
    between = 0.5 * (eddies[1:] + eddies[:-1])
    diffusivity = np.maximum(between - AIR_VISCOSITY, 0.0) / _SCHMIDT + AIR_VISCOSITY
    free = np.moveaxis(grid.free[axis][grid.faces(axis)], axis, 0)[1:-1]
    return np.asarray(diffusivity * free * grid.face_area(axis) / grid.spacing[axis])


def _fed(field: FlowField) -> Flags:
    """Tell which cells lie in a space that air is let into."""
    spaces = spaces_of(field.grid)
    fed = np.zeros(spaces.shape, dtype=bool)
    for axis in range(3):
        flow, cells = np.moveaxis(field.faces[axis], axis, 0), np.moveaxis(spaces, axis, 0)
        for through, end in ((flow[0], cells[0]), (-flow[-1], cells[-1])):
            fed |= np.isin(spaces, end[(through > 0) & (end >= 0)])
    return fed
