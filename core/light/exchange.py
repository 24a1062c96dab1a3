"""How much of what each patch sends out arrives at the others, and at points.

Chooses between the compiled exchange and its plain twin, and balances what either gives; the
light itself is followed in `bounce`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from core import kernels
from core.light import exchange_plain
from core.light.exchange_plain import Factors
from core.light.given import Flags, Floats
from core.light.obstacles import Obstacles, boxes
from core.light.patches import Patches, cut
from core.light.scene import Scene, Surface
from core.light.sides import Clusters, Sides, clustered, sides_of

_DARK = 0.05
"""A row that sums to less sees next to nothing; it is not stretched to 1."""

_LEAK = 1e-3
"""Share of a side's light that may leave the scene for the side still to count as shut."""

_BALANCED = 2e-4
"""Mean distance of a row's sum from 1 at which rows count as balanced."""

_MOST_ROUNDS = 12


@dataclass(frozen=True)
class _Ways:
    """The three computations that have a compiled form."""

    between_patches: Callable[[Patches, Sides, Obstacles], Factors]
    from_points: Callable[[Floats, Floats, Clusters, Patches, Sides, Obstacles], Factors]
    leaking: Callable[[Patches, Sides, Obstacles], Floats]


_PLAIN = _Ways(exchange_plain.between_patches, exchange_plain.from_points, exchange_plain.leaking)
_compiled: _Ways | None = None


def warm_up() -> None:
    """Compile the exchange, or load it from the cache; meant for a background thread."""
    global _compiled
    if _compiled is not None:
        return
    kernels.prepare_cache()
    from core.light import exchange_compiled

    ways = _Ways(
        exchange_compiled.between_patches, exchange_compiled.from_points, exchange_compiled.leaking
    )
    floor = Surface((0, 0, 0), (1, 0, 0), (0, 1, 0), 0.5)
    patches = cut(Scene((floor, Surface((0, 0, 1), (0, 1, 0), (1, 0, 0), 0.5)), ()), 1.0)
    sides, shelf = sides_of(patches), boxes([(0, 0, 0.5)], [(1, 1, 0.6)])
    points = np.array([[0.5, 0.5, 0.1]])
    ways.between_patches(patches, sides, shelf)
    ways.leaking(patches, sides, shelf)
    ways.from_points(points, np.array([[0, 0, 1.0]]), clustered(points), patches, sides, shelf)
    _compiled = ways


def between_patches(
    patches: Patches, obstacles: Obstacles, *, compiled: bool | None = None
) -> Factors:
    """Return the factor from every patch to every other, past the obstacles.

    Row i, column j is the share of patch i's hemisphere that patch j fills, times what the
    obstacles leave of it. Areas times factors are symmetric.

    Parameters
    ----------
    patches : Patches
    obstacles : Obstacles
        The surfaces the patches were cut from; what touches a ray's ends does not count.
    compiled : bool, optional
        True compiles first if need be, False takes the plain numpy twin; by default whatever is
        ready.

    Returns
    -------
    ndarray of float32, shape (patches, patches)

    References
    ----------
    .. [1] M. F. Cohen and J. R. Wallace, Radiosity and Realistic Image Synthesis, 1993,
       chapter 4, from memory.
    """
    return _ways(compiled).between_patches(patches, sides_of(patches), obstacles)


def from_points(
    points: Floats, normals: Floats, patches: Patches, obstacles: Obstacles,
    *, compiled: bool | None = None,
) -> Factors:  # fmt: skip
    """Return the factor from every point to every patch, past the obstacles.

    Parameters
    ----------
    points, normals : ndarray, shape (points, 3)
        Positions [m] and unit vectors the points face along.
    patches : Patches
    obstacles : Obstacles
    compiled : bool, optional
        As for `between_patches`.

    Returns
    -------
    ndarray of float32, shape (points, patches)
        Share of the point's hemisphere that the patch fills, times what the obstacles leave.
    """
    if points.shape[0] == 0 or patches.count == 0:
        return np.zeros((points.shape[0], patches.count), dtype=np.float32)
    return _ways(compiled).from_points(
        points, normals, clustered(points), patches, sides_of(patches), obstacles
    )


def closed(patches: Patches, obstacles: Obstacles, *, compiled: bool | None = None) -> Flags:
    """Say for each patch whether all that leaves its side is stopped somewhere in the scene."""
    if patches.count == 0:
        return np.zeros(0, dtype=bool)
    leaks = _ways(compiled).leaking(patches, sides_of(patches), obstacles)
    return np.repeat(leaks < _LEAK, np.diff(patches.start))


def balance(factors: Factors, patches: Patches, shut: Flags) -> Floats:
    """Return d such that the rows of d_i F_ij d_j, weighed by what patches stop, sum to 1.

    Only the patches that are ``shut`` are scaled, those whose light all stays in the scene; the
    scaled factors stay symmetric.
    """
    stopping = 1.0 - patches.transmittance
    scale = np.ones(patches.count)
    for _ in range(_MOST_ROUNDS):
        sums = scale * (factors @ (stopping * scale).astype(np.float32))
        fit = shut & (sums > _DARK)
        scale = np.where(fit, scale / np.sqrt(np.maximum(sums, _DARK)), scale)
        if float(np.abs(sums - 1.0)[fit].mean() if fit.any() else 0.0) < _BALANCED:
            break
    return scale


def stretch(stopped: Floats, stopped_open: Floats) -> Floats:
    """Return for each point the factor that makes its row sum to 1, where all it sees is shut.

    Parameters
    ----------
    stopped, stopped_open : ndarray, shape (points,)
        What arrives when each patch sends out the share it stops, from all patches and from
        those that are not shut.
    """
    fit = (stopped > _DARK) & (stopped_open < _LEAK * stopped)
    return np.where(fit, 1.0 / np.maximum(stopped, _DARK), 1.0)


def _ways(compiled: bool | None) -> _Ways:
    if compiled:
        warm_up()
    return _PLAIN if compiled is False or _compiled is None else _compiled
