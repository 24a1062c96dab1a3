"""Light sent on from surface to surface until it is absorbed: radiosity over patches.

The factors come from `exchange`; the direct light on patches and points from `direct`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.errors import InputError, complaint
from core.language import tr
from core.light import emitters, exchange
from core.light.direct import emitter_rows
from core.light.emitters import Emitters
from core.light.exchange_plain import Factors
from core.light.given import Flags, Floats, Wholes
from core.light.obstacles import Obstacles
from core.light.patches import Patches, cut
from core.light.receivers import Receivers, receivers
from core.light.scene import Lamp, Scene

UNSETTLED = 1e-3
"""Share of the light that may be unaccounted for when bounces are no longer followed."""

_LEAST_ABSORBED = 1e-6
"""Share of the light that must be absorbed at each bounce; single precision errs by less."""

_MOST_ROUNDS = 300

_LOT = 4
"""Rows multiplied in one go; single precision rounds alike in lots of one size."""

_STEPS = 3.0
"""Steps of lit faces per distance, behind obstacles: patches average over more than one ray."""

_LEAST_MET = 0.05
"""Share of a lamp's light that must meet patches; one that is buried in a thing meets fewer."""

_READINGS_PER_PATCH = 1.4
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
    inside = interior(patches, hindering, shut)
    arriving = inside.settled(_first(scene, inside))
    places, facings, which = _thinned(points, normals, patch / _READINGS_PER_PATCH)
    return inside.seen_from(places, facings)(arriving)[0][which]


@dataclass(frozen=True, eq=False)
class Interior:
    """Patches and the exchange between them, from which every lamp's reflected light follows.

    Attributes
    ----------
    patches : Patches
    hindering : Obstacles
        What the patches were cut from.
    shut : ndarray of bool, shape (patches,)
        Whether all that leaves a patch is stopped somewhere in the scene.
    factors : ndarray of float32, shape (patches, patches)
    scale : ndarray, shape (patches,)
        What balances the factors, see `exchange.balance`.
    """

    patches: Patches
    hindering: Obstacles
    shut: Flags
    factors: Factors
    scale: Floats

    @cached_property
    def places(self) -> Receivers:
        """Four Gauss points on each patch, side by side."""
        node = 1.0 / math.sqrt(3.0)
        u, v = node * self.patches.half_u, node * self.patches.half_v
        four = self.patches.centre[:, None] + np.stack([-u - v, v - u, u - v, u + v], axis=1)
        sides = [self.patches.side(number) for number in range(self.patches.sides)]
        groups = [four[side].reshape(-1, 3) for side in sides]
        return receivers(groups, [self.patches.normal[side][:1] for side in sides])

    def lit_by(self, lamps: Sequence[Lamp], owners: Sequence[int] | None = None) -> Floats:
        """Return the mean direct light of each lamp on each patch, shape (lamps, patches).

        [µmol m⁻² s⁻¹]
        """
        return self.lit_by_emitters(emitters.of_lamps(lamps, owners))

    def lit_by_emitters(self, shining: Emitters) -> Floats:
        """Return the mean direct light of each emitter on each patch, shape (emitters, patches).

        Where everything is shut all that it sends out arrives; what sampling lost or added is
        put right. [µmol m⁻² s⁻¹]
        """
        rows = emitter_rows(shining, self.places, self.hindering, steps=_STEPS)
        light: Floats = rows.reshape(shining.count, self.patches.count, 4).mean(axis=2)
        if not self.shut.all():
            return light
        stopped = light @ (self.patches.area * (1.0 - self.patches.transmittance))
        met = stopped > _LEAST_MET * shining.flux
        return light * np.where(met, shining.flux / np.where(met, stopped, 1.0), 1.0)[:, None]

    def settled(self, first: Floats, share: float = UNSETTLED) -> Floats:
        """Return the light on patches after all bounces, for each row of first light.

        ``share`` of the light may still be unaccounted for. [µmol m⁻² s⁻¹]
        """
        return _settled(self.factors, self.scale, self.patches, first, share)

    def seen_from(self, points: Floats, normals: Floats) -> Seen:
        """Return what points see of the patches."""
        seen = exchange.from_points(points, normals, self.patches, self.hindering)
        stopped = (1.0 - self.patches.transmittance).astype(np.float32)
        whole, gaps = ((seen @ part).astype(float) for part in (stopped, stopped * ~self.shut))
        even = exchange.stretch(whole, gaps).astype(np.float32)
        return Seen(seen * even[:, None], self.patches)


@dataclass(frozen=True, eq=False)
class Seen:
    """What points see of patches, shape (points, patches)."""

    factors: Factors
    patches: Patches

    def __call__(self, arriving: Floats) -> Floats:
        """Return the light sent on to the points, shape (rows, points). [µmol m⁻² s⁻¹]"""
        sent = (self.patches.reflectance * arriving).astype(np.float32)
        return _in_lots(sent, self.factors.T).astype(np.float64)


def interior(patches: Patches, hindering: Obstacles, shut: Flags) -> Interior:
    """Return the exchange between patches, balanced where they are shut."""
    factors = exchange.between_patches(patches, hindering)
    return Interior(patches, hindering, shut, factors, exchange.balance(factors, patches, shut))


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


def _first(scene: Scene, inside: Interior) -> Floats:
    """Return the direct light of a whole scene on its patches, shape (1, patches)."""
    lamps = [half for lamp in scene.lamps for half in lamp.halves()]
    glowing = [surface for surface in scene.surfaces if surface.exitance > 0]
    light = inside.lit_by(lamps).sum(axis=0)
    return (light + inside.lit_by_emitters(emitters.of_surfaces(glowing)).sum(axis=0))[None]


def _in_lots(rows: Factors, columns: Factors) -> Factors:
    """Return a matrix product in lots of as many rows, so that none depends on the others."""
    found = np.empty((rows.shape[0], columns.shape[1]), np.float32)
    for start in range(0, rows.shape[0], _LOT):
        lot = np.zeros((_LOT, rows.shape[1]), np.float32)
        part = rows[start : start + _LOT]
        lot[: len(part)] = part
        found[start : start + _LOT] = (lot @ columns)[: len(part)]
    return found


def glow(scene: Scene, points: Receivers, hindering: Obstacles) -> Floats:
    """Return the light straight from surfaces with an exitance at points. [µmol m⁻² s⁻¹]"""
    glowing = [surface for surface in scene.surfaces if surface.exitance > 0]
    if not glowing:
        return np.zeros(points.count)
    return emitter_rows(emitters.of_surfaces(glowing), points, hindering).sum(axis=0)


def _settled(
    factors: Factors, scale: Floats, patches: Patches, first: Floats, share: float
) -> Floats:
    """Return the light on patches after all bounces, by conjugate gradients, row by row at once.

    Light is weighed by the root of reflectance × area, which makes the exchange symmetric.

    References
    ----------
    .. [1] M. R. Hestenes and E. Stiefel, Methods of conjugate gradients for solving linear
       systems, Journal of Research of the NBS 49, 1952.
    """
    out = np.sqrt(patches.reflectance / patches.area)
    back = patches.area * out

    def following(sent: Floats) -> Floats:
        return scale * _in_lots((scale * sent).astype(np.float32), factors.T)

    settled = np.zeros_like(first)
    rest = way = back * first
    square = (rest * rest).sum(axis=1)
    enough = share**2 * square
    for _ in range(_MOST_ROUNDS):
        if (square <= enough).all():
            return first + following(out * settled)
        image = way - back * following(out * way)
        kept, whole = (way * image).sum(axis=1), (way * way).sum(axis=1)
        if (kept < _LEAST_ABSORBED * whole).any():
            break
        # A row that has settled stays, so that the others do not change it.
        step = np.where(square > enough, square / np.where(kept > 0, kept, 1.0), 0.0)
        settled = settled + step[:, None] * way
        rest = rest - step[:, None] * image
        before, square = square, np.where(square > enough, (rest * rest).sum(axis=1), square)
        way = rest + (square / np.where(before > 0, before, 1.0))[:, None] * way
    raise InputError(
        complaint(
            tr("Surfaces"), tr("reflectance"), f"{patches.reflectance.max():g}",
            tr("must let some light be absorbed"), tr("enter less than 1"),
        )
    )  # fmt: skip
