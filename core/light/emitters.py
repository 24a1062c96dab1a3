"""Lamps and glowing surfaces as plain arrays, the form the row computations read.

No light is computed here; measured distributions are resampled once onto a hemi-octahedral grid.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.light.distribution import Distribution
from core.light.given import Floats
from core.light.obstacles import NOBODY
from core.light.scene import Lamp, Surface

LAMBERTIAN, POWER, TABLE = 0, 1, 2
"""How an emitter's intensity falls off: evenly spread, power of the cosine, or from a table."""

POINT, STRIP, BOARD = 0, 1, 2
"""The form of an emitter's lit face."""

NODES = 129
"""Nodes along each side of a resampled distribution."""

_NO_TABLES = np.zeros((1, 2, 2), dtype=np.float32)


@dataclass(frozen=True, eq=False)
class Emitters:
    """Structure of arrays with one entry per emitter.

    Attributes
    ----------
    centre : ndarray, shape (emitters, 3)
        [m]
    half_u, half_v : ndarray, shape (emitters, 3)
        Half sides of the lit face; a strip lies along ``half_u``. [m]
    frame : ndarray, shape (emitters, 3, 3)
        Unit vectors along the lamp's x side, y side and direction, one per row.
    flux : ndarray, shape (emitters,)
        [µmol s⁻¹]
    form, spread : ndarray of int64, shape (emitters,)
        POINT, STRIP or BOARD; LAMBERTIAN, POWER or TABLE.
    scale : ndarray, shape (emitters,)
        What the unscaled intensity is multiplied with. [µmol s⁻¹ sr⁻¹]
    exponent : ndarray, shape (emitters,)
        Power of the cosine, for POWER.
    table : ndarray of int64, shape (emitters,)
        Row in ``tables``, for TABLE.
    tables : ndarray of float32, shape (tables, NODES, NODES)
        Intensities on the hemi-octahedral grid. [µmol s⁻¹ sr⁻¹]
    owner : ndarray of int64, shape (emitters,)
        Number by which obstacles name the lamp they belong to.
    """

    centre: Floats
    half_u: Floats
    half_v: Floats
    frame: Floats
    flux: Floats
    form: NDArray[np.int64]
    spread: NDArray[np.int64]
    scale: Floats
    exponent: Floats
    table: NDArray[np.int64]
    tables: NDArray[np.float32]
    owner: NDArray[np.int64]

    @property
    def count(self) -> int:
        """Number of emitters."""
        return self.centre.shape[0]

    @property
    def reach(self) -> Floats:
        """Half the extent of each lit face along the scene's axes, shape (emitters, 3). [m]"""
        return np.abs(self.half_u) + np.abs(self.half_v)


def of_lamps(lamps: Sequence[Lamp], owners: Sequence[int] | None = None) -> Emitters:
    """Return the lamps as arrays; ``owners`` are the numbers obstacles call them by."""
    frame = np.array([lamp.axes() for lamp in lamps]).reshape(-1, 3, 3)
    size = np.array([lamp.size for lamp in lamps], dtype=float).reshape(-1, 2)
    half_u, half_v = 0.5 * size[:, :1] * frame[:, 0], 0.5 * size[:, 1:] * frame[:, 1]
    swap = size[:, 0] == 0
    half_u[swap], half_v[swap] = half_v[swap], half_u[swap]
    flux = np.array([lamp.flux for lamp in lamps], dtype=float)
    shapes = [lamp.distribution for lamp in lamps]
    measured = list({id(s): s for s in shapes if s is not None and _spread(s) == TABLE}.values())
    return Emitters(
        centre=np.array([lamp.centre for lamp in lamps], dtype=float).reshape(-1, 3),
        half_u=half_u,
        half_v=half_v,
        frame=frame,
        flux=flux,
        form=np.count_nonzero(size, axis=1).astype(np.int64),
        spread=np.array([_spread(shape) for shape in shapes], dtype=np.int64),
        scale=flux / np.array([math.pi if s is None else s.flux for s in shapes], dtype=float),
        exponent=np.array([_exponent(shape) for shape in shapes], dtype=float),
        table=np.array([_place(shape, measured) for shape in shapes], dtype=np.int64),
        tables=np.stack([_hemisphere(s) for s in measured]) if measured else _NO_TABLES,
        owner=np.full(len(lamps), NOBODY) if owners is None else np.array(owners, dtype=np.int64),
    )


def of_surfaces(surfaces: Sequence[Surface]) -> Emitters:
    """Return glowing surfaces as Lambertian boards."""
    corners = np.array([surface.corners for surface in surfaces]).reshape(-1, 4, 3)
    u, v = corners[:, 1] - corners[:, 0], corners[:, 3] - corners[:, 0]
    normal = np.array([surface.normal for surface in surfaces]).reshape(-1, 3)
    along = v / np.linalg.norm(v, axis=1, keepdims=True)
    flux = np.array([surface.exitance * surface.area for surface in surfaces], dtype=float)
    count = len(surfaces)
    return Emitters(
        centre=corners.mean(axis=1), half_u=u / 2, half_v=v / 2,
        frame=np.stack([np.cross(along, normal), along, normal], axis=1),
        flux=flux, form=np.full(count, BOARD), spread=np.full(count, LAMBERTIAN),
        scale=flux / math.pi, exponent=np.ones(count), table=np.zeros(count, dtype=np.int64),
        tables=_NO_TABLES, owner=np.full(count, NOBODY),
    )  # fmt: skip


def _place(shape: Distribution | None, measured: list[Distribution]) -> int:
    return measured.index(shape) if shape in measured else 0


def _exponent(distribution: Distribution | None) -> float:
    power = 1.0 if distribution is None else distribution.exponent
    return 1.0 if power is None else power


def _spread(distribution: Distribution | None) -> int:
    if distribution is not None and distribution.exponent is None:
        return TABLE
    return LAMBERTIAN if _exponent(distribution) == 1.0 else POWER


@lru_cache(maxsize=64)
def _hemisphere(distribution: Distribution) -> NDArray[np.float32]:
    """Resample a distribution onto the grid that folds the half space into a square.

    References
    ----------
    .. [1] Cigolle et al., A survey of efficient representations for independent unit vectors,
       Journal of Computer Graphics Techniques 3(2), 2014, section 3.3, from memory.
    """
    node = np.linspace(-1.0, 1.0, NODES)
    first, second = np.meshgrid(node, node, indexing="ij")
    x, y = (first + second) / 2, (first - second) / 2
    z = np.maximum(1.0 - np.abs(x) - np.abs(y), 0.0)
    gamma = np.degrees(np.arctan2(np.hypot(x, y), z))
    return distribution.intensity(np.degrees(np.arctan2(y, x)), gamma).astype(np.float32)
