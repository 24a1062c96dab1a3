"""The points light is read at, as a structure of arrays in groups that lie together.

A group is one zone's grid or one surface's patches; obstacles are sorted out once for each group.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.language import tr
from core.light import given
from core.light.given import Floats

Singles = NDArray[np.float32]

_UP = (0.0, 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class Receivers:
    """Points with the way each one faces, grouped.

    Attributes
    ----------
    x, y, z : ndarray of float32, shape (points,)
        Positions, group after group. [m]
    nx, ny, nz : ndarray of float32, shape (points,)
        Unit vectors the points face along.
    start : ndarray of int64, shape (groups + 1,)
        Where each group starts, and the number of points at the end.
    low, high : ndarray, shape (groups, 3)
        The box round each group. [m]
    facing : ndarray, shape (groups, 3)
        The common unit normal of each group, or zeros where a group has several.
    """

    x: Singles
    y: Singles
    z: Singles
    nx: Singles
    ny: Singles
    nz: Singles
    start: NDArray[np.int64]
    low: Floats
    high: Floats
    facing: Floats

    @property
    def count(self) -> int:
        """Number of points."""
        return self.x.size

    @property
    def groups(self) -> int:
        """Number of groups."""
        return self.start.size - 1

    def rows(self) -> tuple[Floats, Floats]:
        """Return positions [m] and normals as rows, each of shape (points, 3)."""
        points = np.stack([self.x, self.y, self.z], axis=1).astype(np.float64)
        return points, np.stack([self.nx, self.ny, self.nz], axis=1).astype(np.float64)

    def part(self, group: int) -> slice:
        """Return where one group's points lie in the arrays."""
        return slice(int(self.start[group]), int(self.start[group + 1]))


def receivers(points: Sequence[ArrayLike], normals: Sequence[ArrayLike] | None = None) -> Receivers:
    """Return receivers from one array of points per group.

    Parameters
    ----------
    points : sequence of array_like, each of shape (n, 3)
        Positions, one array per group. [m]
    normals : sequence of array_like, each of shape (n, 3) or (3,), optional
        Directions the points face along; the default is straight up.

    Returns
    -------
    Receivers

    Raises
    ------
    InputError
        If a position or a normal is no row of three numbers, or a normal has no length.
    """
    name = tr("Receivers")
    places = [given.rows_of_three(name, tr("points"), group) for group in points]
    if normals is None:
        normals = [_UP] * len(places)
    if len(normals) != len(places):
        rule = tr("must be as many as groups of points")
        raise given.refusal(name, tr("groups of normals"), len(normals), "", rule, tr("match them"))
    facings = [_unit(facing, place) for facing, place in zip(normals, places, strict=True)]
    return _packed(places, facings)


def _unit(normals: ArrayLike, places: Floats) -> Floats:
    rows = given.rows_of_three(tr("Receivers"), tr("normals"), normals)
    length = np.linalg.norm(rows, axis=1)
    if rows.shape[0] not in (1, places.shape[0]) or (length <= 0).any():
        rule = tr("must be one row with a length, or one for each point")
        raise given.refusal(
            tr("Receivers"), tr("normals"), rows.shape, "", rule, tr("give shape (n, 3)")
        )
    return np.broadcast_to(rows / length[:, None], places.shape)


def _packed(places: list[Floats], facings: list[Floats]) -> Receivers:
    start = np.zeros(len(places) + 1, dtype=np.int64)
    start[1:] = np.cumsum([place.shape[0] for place in places])
    columns = np.concatenate(places).T if places else np.empty((3, 0))
    across = np.concatenate(facings).T if facings else np.empty((3, 0))
    # Each column without gaps, the one layout over which the kernels run in lanes.
    x, y, z, nx, ny, nz = np.ascontiguousarray(np.concatenate([columns, across]), dtype=np.float32)
    bounds = np.array([_bounds(place) for place in places]).reshape(-1, 2, 3)
    common = np.array([_common(facing) for facing in facings]).reshape(-1, 3)
    return Receivers(x, y, z, nx, ny, nz, start, bounds[:, 0], bounds[:, 1], common)


def _bounds(place: Floats) -> Floats:
    """Return lowest and highest corner; an empty group is a point at the origin."""
    if place.shape[0] == 0:
        return np.zeros((2, 3))
    return np.stack([place.min(axis=0), place.max(axis=0)])


def _common(facing: Floats) -> Floats:
    if facing.shape[0] and np.abs(facing - facing[0]).max() < 1e-9:
        return np.asarray(facing[0])
    return np.zeros(3)
