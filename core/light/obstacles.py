"""What stands in the way of light: boxes along the axes, and flat panels at any tilt.

Whether a ray is stopped is decided in the row computations; here the obstacles are only held.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.language import tr
from core.light import given
from core.light.given import Floats, Vector
from core.light.scene import Surface

NOBODY = -1
"""Owner of an obstacle that belongs to no lamp."""

TOUCH = 1e-4
"""Obstacles that reach into the space between lamp and receiver by no more only touch it. [m]"""

_SKIN = 1e-5
"""Boxes are drawn in by this much, so that what merely touches them is not in their shade. [m]"""

_THIN = 1e-4
"""Boxes thinner than this are sheets and keep their thickness. [m]"""


Plate = tuple[Vector, Vector, Vector]
"""A flat rectangle at any tilt: one corner and its two sides. [m]"""


@dataclass(frozen=True, eq=False)
class Obstacles:
    """Boxes first, then tilted panels.

    Attributes
    ----------
    low, high : ndarray, shape (obstacles, 3)
        The box of each obstacle, for a panel the box round it. [m]
    transmittance : ndarray, shape (obstacles,)
        Share of the light that passes: 0 opaque, about 0.7 for a wire shelf. [0–1]
    owner : ndarray of int64, shape (obstacles,)
        The lamp (by its number) that an obstacle belongs to and does not shade, or NOBODY.
    corner, u, v : ndarray, shape (panels, 3)
        Corner and sides of the tilted panels. [m]
    """

    low: Floats
    high: Floats
    transmittance: Floats
    owner: NDArray[np.int64]
    corner: Floats
    u: Floats
    v: Floats

    @property
    def count(self) -> int:
        """Number of obstacles."""
        return self.low.shape[0]

    @property
    def boxes(self) -> int:
        """Number of boxes, which come before the panels."""
        return self.count - self.corner.shape[0]


def boxes(
    low: ArrayLike, high: ArrayLike, transmittance: ArrayLike = 0.0, owner: ArrayLike = NOBODY
) -> Obstacles:
    """Return obstacles from boxes along the axes.

    Parameters
    ----------
    low, high : array_like, shape (n, 3)
        Lowest and highest corners; a thickness of zero makes a sheet. [m]
    transmittance : array_like, shape (n,) or one number
        Share of the light that passes. [0–1]
    owner : array_like of int, shape (n,) or one number
        The lamp that a box belongs to and does not shade.

    Returns
    -------
    Obstacles

    Raises
    ------
    InputError
        If a box ends before it starts or a transmittance lies outside 0 to 1.
    """
    name = tr("Obstacle")
    lowest = given.rows_of_three(name, tr("low"), low) if np.size(low) else np.empty((0, 3))
    highest = given.rows_of_three(name, tr("high"), high) if np.size(high) else np.empty((0, 3))
    if lowest.shape != highest.shape or (highest < lowest).any():
        rule = tr("must not lie below the low corner")
        raise given.refusal(
            name, tr("high corner"), highest.shape, "", rule, tr("swap the corners")
        )
    count = lowest.shape[0]
    none = np.empty((0, 3))
    owners = np.broadcast_to(np.asarray(owner, dtype=np.int64), (count,))
    share = _shares(name, transmittance, count)
    return Obstacles(*_drawn_in(lowest, highest), share, owners, none, none, none)


def with_panels(found: Obstacles, panels: Sequence[tuple[Plate, float, int]]) -> Obstacles:
    """Return boxes together with tilted plates, each with what passes it and its owner."""
    if not panels:
        return found
    sides = np.array([plate for plate, _, _ in panels], dtype=float)
    corner, u, v = sides[:, 0], sides[:, 1], sides[:, 2]
    corners = corner[:, None] + np.stack([0 * u, u, v, u + v], axis=1)
    shares = np.array([share for _, share, _ in panels], dtype=float)
    owners = np.array([owner for _, _, owner in panels], dtype=np.int64)
    return Obstacles(
        np.concatenate([found.low, corners.min(axis=1)]),
        np.concatenate([found.high, corners.max(axis=1)]),
        np.concatenate([found.transmittance, shares]),
        np.concatenate([found.owner, owners]),
        corner, u, v,
    )  # fmt: skip


def of_surfaces(surfaces: Sequence[Surface]) -> Obstacles:
    """Return the surfaces as obstacles, see `of_plates`."""
    return of_plates([((s.origin, s.u, s.v), s.transmittance, NOBODY) for s in surfaces])


def of_plates(plates: Sequence[tuple[Plate, float, int]]) -> Obstacles:
    """Return flat rectangles as obstacles: sheets where they follow the axes, else panels.

    Each comes with what passes it and its owner.
    """
    straight = [each for each in plates if _follows_axes(each[0])]
    tilted = [each for each in plates if not _follows_axes(each[0])]
    sides = np.array([plate for plate, _, _ in straight], dtype=float).reshape(-1, 3, 3)
    ends = np.stack([sides[:, 0], sides.sum(axis=1)])
    found = boxes(
        ends.min(axis=0), ends.max(axis=0),
        [share for _, share, _ in straight], [owner for _, _, owner in straight],
    )  # fmt: skip
    return with_panels(found, tilted)


def _shares(name: str, transmittance: ArrayLike, count: int) -> Floats:
    shares = np.broadcast_to(np.asarray(transmittance, dtype=np.float64), (count,))
    for share in np.unique(shares):
        given.within(name, tr("transmittance"), share, 0, 1)
    return shares


def _drawn_in(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    skin = np.where(high - low > _THIN, _SKIN, 0.0)
    return low + skin, high - skin


def _follows_axes(plate: Plate) -> bool:
    _, u, v = plate
    return all(sum(abs(part) > _SKIN for part in side) == 1 for side in (u, v))
