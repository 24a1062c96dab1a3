"""Light sent on from surface to surface until it is absorbed: radiosity over patches.

The factors come from `exchange`; the direct light on patches and points from `direct`.
"""

from __future__ import annotations

import math

import numpy as np

from core.errors import InputError, complaint
from core.language import tr
from core.light import emitters, exchange, obstacles
from core.light.direct import emitter_rows
from core.light.given import Floats
from core.light.patches import Patches, cut
from core.light.receivers import receivers
from core.light.scene import Scene

_SETTLED = 1e-5
"""Largest share of the light that the next bounce may still add."""

_MOST_BOUNCES = 3000


def reflected(scene: Scene, points: Floats, normals: Floats, patch: float) -> Floats:
    """Return the light sent on by the scene's surfaces at points.

    Parameters
    ----------
    scene : Scene
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
    patches, hindering = cut(scene, patch), obstacles.of_surfaces(scene.surfaces)
    shut = exchange.closed(patches, hindering)
    factors = exchange.between_patches(patches, hindering)
    scale = exchange.balance(factors, patches, shut)
    arriving = _settled(factors, scale, patches.reflectance, _direct(scene, patches))
    to_points = exchange.to_points(points, normals, patches, hindering)
    stretch = exchange.balance_points(to_points, patches, shut)
    return stretch * (to_points @ (patches.reflectance * arriving))


def _direct(scene: Scene, patches: Patches) -> Floats:
    """Return the mean direct light on each patch, over its four Gauss points. [µmol m⁻² s⁻¹]"""
    node = 1.0 / math.sqrt(3.0)
    u, v = node * patches.half_u, node * patches.half_v
    four = patches.centre[:, None] + np.stack([-u - v, v - u, u - v, u + v], axis=1)
    sides = [patches.side(number) for number in range(patches.sides)]
    groups = [four[side].reshape(-1, 3) for side in sides]
    read_at = receivers(groups, [patches.normal[side][:1] for side in sides])
    hindering = obstacles.of_surfaces(scene.surfaces)
    glowing = [surface for surface in scene.surfaces if surface.exitance > 0]
    sources = emitters.of_lamps(scene.lamps), emitters.of_surfaces(glowing)
    rows = [emitter_rows(source, read_at, hindering).sum(axis=0) for source in sources]
    return (rows[0] + rows[1]).reshape(-1, 4).mean(axis=1)


def _settled(
    factors: exchange.Factors, scale: Floats, reflectance: Floats, first: Floats
) -> Floats:
    """Return the light on patches after all bounces, the last ones summed as a series."""
    total, arriving = first.copy(), first
    for _ in range(_MOST_BOUNCES):
        following = scale * (factors @ (scale * reflectance * arriving).astype(np.float32))
        total += following
        shrinking = float(following.sum()) / max(float(arriving.sum()), 1e-300)
        arriving = following
        if arriving.max() <= _SETTLED * (1.0 - min(shrinking, 1.0)) * total.max():
            return total + arriving * shrinking / max(1.0 - shrinking, 1e-9)
    raise InputError(
        complaint(
            tr("Surfaces"), tr("reflectance"), f"{reflectance.max():g}",
            tr("must let some light be absorbed"), tr("enter less than 1"),
        )
    )  # fmt: skip
