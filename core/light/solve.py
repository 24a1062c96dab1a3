"""Light of a whole scene at given points.

Puts together what comes straight (`direct`) and what surfaces send on (`bounce`); no method of
its own lives here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from core.language import tr
from core.light import given, obstacles
from core.light.bounce import glow, reflected
from core.light.direct import direct_rows
from core.light.given import Floats, Wholes
from core.light.receivers import Receivers, receivers
from core.light.scene import Scene
from core.light.sides import clustered


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
    places, facings = receivers([points], [normals]).rows()
    read_at, back = _grouped(places, facings)
    hindering = obstacles.of_surfaces(scene.surfaces)
    per_lamp = direct_rows(scene.lamps, read_at, hindering)
    direct = per_lamp.sum(axis=0) + glow(scene, read_at, hindering)
    sent_on = reflected(scene, hindering, places, facings, patch)
    return LightField(direct[back], sent_on, per_lamp[:, back])


def _grouped(places: Floats, facings: Floats) -> tuple[Receivers, Wholes]:
    """Return points as receivers in groups that lie together, and the way back to their order."""
    groups = clustered(places)
    parts = np.split(groups.order, groups.start[1:-1])
    read_at = receivers([places[part] for part in parts], [facings[part] for part in parts])
    return read_at, np.argsort(groups.order)
