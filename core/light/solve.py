"""Light of a whole scene at given points.

Puts together what comes straight (`direct`) and what surfaces send on (`bounce`); no method of
its own lives here.
"""

from __future__ import annotations

from dataclasses import dataclass

from numpy.typing import ArrayLike

from core.language import tr
from core.light import emitters, given, obstacles
from core.light.bounce import reflected
from core.light.direct import emitter_rows
from core.light.given import Floats
from core.light.receivers import Receivers, receivers
from core.light.scene import Scene


@dataclass(frozen=True, eq=False)
class LightField:
    """Light at points, in parts.

    Attributes
    ----------
    direct : ndarray, shape (points,)
        Straight from lamps and from surfaces with an exitance. [µmol m⁻² s⁻¹]
    reflected : ndarray, shape (points,)
        Sent on by surfaces, however often. [µmol m⁻² s⁻¹]
    total : ndarray, shape (points,)
        Both together. [µmol m⁻² s⁻¹]
    per_lamp : ndarray, shape (lamps, points)
        Straight from each lamp. [µmol m⁻² s⁻¹]
    """

    direct: Floats
    reflected: Floats
    per_lamp: Floats

    @property
    def total(self) -> Floats:
        return self.direct + self.reflected


def solve(scene: Scene, points: ArrayLike, normals: ArrayLike, *, patch: float = 0.1) -> LightField:
    """Return the light at points of a scene.

    Parameters
    ----------
    scene : Scene
    points : array_like, shape (points, 3)
        [m]
    normals : array_like, shape (points, 3) or (3,)
        Directions the points face along.
    patch : float
        Side of the patches on which surfaces exchange light. [m]

    Returns
    -------
    LightField

    Raises
    ------
    InputError
        If points or normals are no rows of three numbers, or ``patch`` is not above zero.
    """
    given.positive(tr("Light"), tr("patch"), patch, "m")
    read_at = receivers([points], [normals])
    per_lamp = emitter_rows(
        emitters.of_lamps(scene.lamps), read_at, obstacles.of_surfaces(scene.surfaces)
    )
    direct = per_lamp.sum(axis=0) + _glow(scene, read_at)
    return LightField(direct, reflected(scene, *read_at.rows(), patch), per_lamp)


def _glow(scene: Scene, read_at: Receivers) -> Floats:
    """Return the light straight from surfaces with an exitance."""
    glowing = emitters.of_surfaces([s for s in scene.surfaces if s.exitance > 0])
    return emitter_rows(glowing, read_at, obstacles.of_surfaces(scene.surfaces)).sum(axis=0)
