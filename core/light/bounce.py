"""Light sent on from surface to surface until it is absorbed: radiosity over patches.

The factors come from `exchange`; the direct light on patches and points from `direct`.
"""

from __future__ import annotations

import math

import numpy as np

from core.errors import InputError, complaint
from core.language import tr
from core.light import emitters, exchange
from core.light.direct import direct_rows, emitter_rows
from core.light.exchange_plain import Factors
from core.light.given import Floats, Wholes
from core.light.obstacles import Obstacles
from core.light.patches import Patches, cut
from core.light.receivers import Receivers, receivers
from core.light.scene import Scene

_SETTLED = 1e-5
"""Share of the light that may still be unaccounted for."""

_LEAST_ABSORBED = 1e-6
"""Share of the light that must be absorbed at each bounce; single precision errs by less."""

_MOST_ROUNDS = 300

_READINGS_PER_PATCH = 4.0
"""Reflected light is read at places this many times as close as the patches are wide."""


def reflected(
    scene: Scene, hindering: Obstacles, points: Floats, normals: Floats, patch: float
) -> Floats:
    """Return the light sent on by the scene's surfaces at points.

    Parameters
    ----------
    scene : Scene
    hindering : Obstacles
        The scene's surfaces.
    points, normals : ndarray, shape (points, 3)
        Positions [m] and unit vectors the points face along.
    patch : float
        Side of the patches. [m]

    Returns
    -------
    ndarray, shape (points,)
        [µmol m⁻² s⁻¹]

    Raises
    ------
    InputError
        If the surfaces of a closed scene absorb so little that the light never settles.

    References
    ----------
    .. [1] C. M. Goral et al., Modeling the interaction of light between diffuse surfaces,
       SIGGRAPH 1984.
    """
    if not any(surface.reflectance > 0 for surface in scene.surfaces):
        return np.zeros(points.shape[0])
    patches = cut(scene, patch)
    shut = exchange.closed(patches, hindering)
    factors = exchange.between_patches(patches, hindering)
    scale = exchange.balance(factors, patches, shut)
    arriving = _settled(factors, scale, patches, _direct(scene, patches, hindering))
    stopped = 1.0 - patches.transmittance
    weights = np.stack([patches.reflectance * arriving, stopped, stopped * ~shut])
    places, facings, which = _thinned(points, normals, patch / _READINGS_PER_PATCH)
    seen = exchange.from_points(places, facings, patches, hindering)
    sent, stopping, stopping_open = (seen @ weights.T.astype(np.float32)).T
    return (exchange.stretch(stopping, stopping_open) * sent)[which]


def _thinned(points: Floats, normals: Floats, cell: float) -> tuple[Floats, Floats, Wholes]:
    """Return one place for all points of a cell that face alike, and which place is whose.

    What surfaces send on is even within a patch, so points much closer than that share a reading.
    """
    key = np.column_stack([np.floor(points / cell), np.round(normals, 3)])
    order = np.lexsort(key.T)
    new = np.ones(order.size, dtype=bool)
    new[1:] = (np.diff(key[order], axis=0) != 0).any(axis=1)
    which = np.empty(order.size, dtype=np.int64)
    which[order] = np.cumsum(new) - 1
    counts = np.bincount(which)
    columns = [np.bincount(which, weights=points[:, axis]) / counts for axis in range(3)]
    return np.column_stack(columns), normals[order[new]], which


def _direct(scene: Scene, patches: Patches, hindering: Obstacles) -> Floats:
    """Return the mean direct light on each patch, over its four Gauss points. [µmol m⁻² s⁻¹]"""
    node = 1.0 / math.sqrt(3.0)
    u, v = node * patches.half_u, node * patches.half_v
    four = patches.centre[:, None] + np.stack([-u - v, v - u, u - v, u + v], axis=1)
    sides = [patches.side(number) for number in range(patches.sides)]
    groups = [four[side].reshape(-1, 3) for side in sides]
    read_at = receivers(groups, [patches.normal[side][:1] for side in sides])
    rows = direct_rows(scene.lamps, read_at, hindering)
    light = rows.sum(axis=0) + glow(scene, read_at, hindering)
    return light.reshape(-1, 4).mean(axis=1)


def glow(scene: Scene, points: Receivers, hindering: Obstacles) -> Floats:
    """Return the light straight from surfaces with an exitance at points. [µmol m⁻² s⁻¹]"""
    glowing = [surface for surface in scene.surfaces if surface.exitance > 0]
    if not glowing:
        return np.zeros(points.count)
    return emitter_rows(emitters.of_surfaces(glowing), points, hindering).sum(axis=0)


def _settled(factors: Factors, scale: Floats, patches: Patches, first: Floats) -> Floats:
    """Return the light on patches after all bounces, by conjugate gradients.

    Light is weighed by the root of reflectance × area, which makes the exchange symmetric.

    References
    ----------
    .. [1] M. R. Hestenes and E. Stiefel, Methods of conjugate gradients for solving linear
       systems, Journal of Research of the NBS 49, 1952.
    """
    out = np.sqrt(patches.reflectance / patches.area)
    back = patches.area * out

    def following(sent: Floats) -> Floats:
        return scale * (factors @ (scale * sent).astype(np.float32))

    settled = np.zeros_like(first)
    rest = way = back * first
    square = enough = float(rest @ rest)
    for _ in range(_MOST_ROUNDS):
        if square <= _SETTLED**2 * enough:
            return first + following(out * settled)
        image = way - back * following(out * way)
        kept = float(way @ image)
        if kept <= _LEAST_ABSORBED * float(way @ way):
            break
        settled = settled + square / kept * way
        rest = rest - square / kept * image
        before, square = square, float(rest @ rest)
        way = rest + square / before * way
    raise InputError(
        complaint(
            tr("Surfaces"), tr("reflectance"), f"{patches.reflectance.max():g}",
            tr("must let some light be absorbed"), tr("enter less than 1"),
        )
    )  # fmt: skip
