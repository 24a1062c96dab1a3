"""How much of what each patch sends out arrives at the others, and at points.

Factors only; the light itself is followed in `bounce`.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from core.light.exact import board_factor
from core.light.given import Flags, Floats, Wholes
from core.light.obstacles import Obstacles
from core.light.patches import Patches
from core.light.shade import passing

_NEAR = 2.0
"""Pairs closer than this many patch widths take the exact factor instead of that of a point."""

_FLAT = 1e-5
"""Least height before a side for light to reach it; single precision rounds by less. [m]"""

_TOUCH = 1e-4
"""Obstacles that reach between two sides by no more than this only touch. [m]"""

_CHUNK = 150_000
"""Most rays looked at in one go, to bound the memory."""

_SEED = 1760
"""Seed of the jitter, fixed so that the same scene always gives the same numbers."""

_DARK = 0.05
"""A row that sums to less sees next to nothing; it is not stretched to 1."""

_LEAK = 1e-3
"""Share of a side's light that may leave the scene for the side still to count as shut."""

_LEAST_RAYS = 2000
"""Fewest rays cast from a side to see whether it is shut."""

Factors = NDArray[np.float32]


def between_patches(patches: Patches, obstacles: Obstacles) -> Factors:
    """Return the factor from every patch to every other, past the obstacles.

    Row i, column j is the share of patch i's hemisphere that patch j fills, times what the
    obstacles leave of it. Areas times factors are symmetric.

    Parameters
    ----------
    patches : Patches
    obstacles : Obstacles
        The surfaces the patches were cut from; what touches a ray's ends does not count.

    Returns
    -------
    ndarray of float32, shape (patches, patches)

    References
    ----------
    .. [1] M. F. Cohen and J. R. Wallace, Radiosity and Realistic Image Synthesis, 1993,
       chapter 4, from memory.
    """
    factors = np.zeros((patches.count, patches.count), dtype=np.float32)
    random = np.random.default_rng(_SEED)
    for first in range(patches.sides):
        for second in range(first + 1, patches.sides):
            here, there = patches.side(first), patches.side(second)
            if _face(patches, here, there):
                block = _block(patches, here, there, obstacles, random)
                share = patches.area[here][:, None] / patches.area[there]
                factors[here, there] = block
                factors[there, here] = (block * share).T
    return factors


def to_points(points: Floats, normals: Floats, patches: Patches, obstacles: Obstacles) -> Factors:
    """Return the share of each point's hemisphere that every patch fills, past the obstacles."""
    factors = np.zeros((points.shape[0], patches.count), dtype=np.float32)
    random = np.random.default_rng(_SEED)
    for number in range(patches.sides):
        there = patches.side(number)
        chunk = max(1, _CHUNK // max(there.stop - there.start, 1))
        for first in range(0, points.shape[0], chunk):
            part = slice(first, first + chunk)
            zero = np.zeros_like(points[part])
            factors[part, there] = _seen_from(
                points[part], normals[part], (zero, zero), patches, there, obstacles, random
            )
    return factors


def closed(patches: Patches, obstacles: Obstacles) -> Flags:
    """Say for each patch whether all that leaves its side is stopped somewhere in the scene."""
    random = np.random.default_rng(_SEED)
    result = np.zeros(patches.count, dtype=bool)
    span = np.ptp(patches.corners().reshape(-1, 3), axis=0)
    for number in range(patches.sides):
        part = patches.side(number)
        pick = random.integers(
            part.start, part.stop, max(_LEAST_RAYS, 2 * (part.stop - part.start))
        )
        shift = _jitter(random, pick.shape, patches.half_u[pick], patches.half_v[pick])
        way = _cosine_spread(random, patches.normal[pick]) * float(np.linalg.norm(span)) * 1.1
        left = np.ones(pick.size)
        for obstacle in range(obstacles.count):
            left *= passing(obstacles, obstacle, patches.centre[pick] + shift, way)
        result[part] = left.mean() < _LEAK
    return result


def balance(factors: Factors, patches: Patches, shut: Flags) -> Floats:
    """Return d such that the rows of d_i F_ij d_j, weighed by what patches stop, sum to 1.

    Only the patches that are ``shut`` are scaled, those whose light all stays in the scene; the
    scaled factors stay symmetric.
    """
    stopping = 1.0 - patches.transmittance
    scale = np.ones(patches.count)
    for _ in range(12):
        sums = scale * (factors @ (stopping * scale))
        fit = shut & (sums > _DARK)
        scale = np.where(fit, scale / np.sqrt(np.maximum(sums, _DARK)), scale)
    return scale


def balance_points(factors: Factors, patches: Patches, shut: Flags) -> Floats:
    """Return for each point the factor that makes its row sum to 1, where all it sees is shut."""
    stopped = 1.0 - patches.transmittance
    sums, open_sums = factors @ stopped, factors @ (stopped * ~shut)
    fit = (sums > _DARK) & (open_sums < _LEAK * sums)
    return np.where(fit, 1.0 / np.maximum(sums, _DARK), 1.0)


def _face(patches: Patches, here: slice, there: slice) -> bool:
    """Say whether two sides have parts before each other."""
    first, second = patches.corners()[:, here], patches.corners()[:, there]
    seen = (second - patches.centre[here][0]) @ patches.normal[here][0]
    back = (first - patches.centre[there][0]) @ patches.normal[there][0]
    return bool(seen.max() > _FLAT and back.max() > _FLAT)


def _block(
    patches: Patches, here: slice, there: slice, obstacles: Obstacles, random: np.random.Generator
) -> Floats:
    """Return the factors from the patches of one side to those of another."""
    chunk = max(1, _CHUNK // (there.stop - there.start))
    rows = []
    for first in range(here.start, here.stop, chunk):
        part = slice(first, min(first + chunk, here.stop))
        half = patches.half_u[part], patches.half_v[part]
        rows.append(
            _seen_from(
                patches.centre[part], patches.normal[part], half, patches, there, obstacles, random
            )
        )
    return np.concatenate(rows)


def _seen_from(
    points: Floats, normals: Floats, halves: tuple[Floats, Floats], patches: Patches,
    there: slice, obstacles: Obstacles, random: np.random.Generator,
) -> Floats:  # fmt: skip
    """Return factors from points, or patches with half sides ``halves``, to one side's patches."""
    way = patches.centre[there] - points[:, None]
    square = np.maximum((way * way).sum(axis=2), 1e-12)
    onto = np.maximum(np.einsum("ijc,ic->ij", way, normals), 0.0)
    ahead = np.maximum(-(way @ patches.normal[there][0]), 0.0)
    factor = onto * ahead * patches.area[there] / (math.pi * square * square)
    own = 2 * np.sqrt(np.maximum(*((half * half).sum(axis=1) for half in halves)))
    reach = _NEAR * np.maximum(own[:, None], patches.width[there])
    near = np.nonzero(square < reach * reach)
    factor[near] = _exact(points, normals, halves, patches, there, near)
    hindering = _hindering(points, patches.corners()[:, there], obstacles)
    if hindering.size:
        origin = points[:, None] + _jitter(random, factor.shape, *(h[:, None] for h in halves))
        shift = _jitter(random, factor.shape, patches.half_u[there], patches.half_v[there])
        ray = patches.centre[there] + shift - origin
        for obstacle in hindering:
            factor *= passing(obstacles, int(obstacle), origin, ray)
    return factor


def _exact(
    points: Floats, normals: Floats, halves: tuple[Floats, Floats], patches: Patches,
    there: slice, near: tuple[Wholes, ...],
) -> Floats:  # fmt: skip
    """Return the factors of near pairs, the mean over four Gauss points on the seeing patch."""
    rows, columns = near
    corners = patches.corners()[:, there][:, columns]
    middle, ahead = patches.centre[there][columns], patches.normal[there][columns]
    node = 1.0 / math.sqrt(3.0)
    total = np.zeros(rows.size)
    for across, along in ((-node, -node), (-node, node), (node, -node), (node, node)):
        place = (points + across * halves[0] + along * halves[1])[rows]
        lit = ((place - middle) * ahead).sum(axis=1) > _FLAT
        total += np.where(lit, board_factor(place, normals[rows], corners), 0.0) / 4.0
    return total


def _hindering(points: Floats, corners: Floats, obstacles: Obstacles) -> Wholes:
    """Return the obstacles that reach into the box round the points and the patches."""
    places = np.concatenate([points, corners.reshape(-1, 3)])
    low, high = places.min(axis=0), places.max(axis=0)
    reaches: Flags = (obstacles.high > low + _TOUCH) & (obstacles.low < high - _TOUCH)
    return np.nonzero(reaches.all(axis=1) & (obstacles.transmittance < 1))[0]


def _jitter(random: np.random.Generator, shape: tuple[int, ...], u: Floats, v: Floats) -> Floats:
    """Return one place inside each patch, so that no edge of a shade falls on all middles alike."""
    first, second = random.uniform(-1.0, 1.0, (2, *shape, 1))
    return first * u + second * v


def _cosine_spread(random: np.random.Generator, normals: Floats) -> Floats:
    """Return unit vectors about each normal, as a Lambertian surface sends its light."""
    ball = random.normal(size=normals.shape)
    way = normals + ball / np.linalg.norm(ball, axis=1, keepdims=True)
    return way / np.linalg.norm(way, axis=1, keepdims=True)
