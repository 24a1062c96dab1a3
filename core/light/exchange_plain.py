"""The exchange of light between patches, and to points, in plain numpy.

It answers until the compiled exchange (`exchange_compiled`) is ready and is its tests' oracle.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from core.light import chance
from core.light.exact import board_factor
from core.light.given import Flags, Floats, Wholes
from core.light.obstacles import TOUCH, Obstacles
from core.light.patches import Patches
from core.light.shade import passing
from core.light.sides import Clusters, Sides, facing

NEAR = 2.02
"""Pairs closer than this many patch widths take the exact factor instead of that of a point.

Just off the distances that a regular grid has, so that rounding decides nothing."""

CLOSE2 = (1.3 / NEAR) ** 2
"""Square of the part of that distance within which the seeing patch is looked from four places."""

FLAT = 1e-5
"""Least height before a patch for light to reach it; single precision rounds by less. [m]"""

FAR = 1.1
"""Rays that look for a way out of the scene are this many times as long as the scene is."""

_CHUNK = 150_000
"""Most rays looked at in one go, to bound the memory."""

Factors = NDArray[np.float32]


def between_patches(patches: Patches, sides: Sides, obstacles: Obstacles) -> Factors:
    """Return the factor from every patch to every other, shape (patches, patches)."""
    factors = np.zeros((patches.count, patches.count), dtype=np.float32)
    faces = np.triu(facing(sides), 1)
    hindering = _hindering((sides.low, sides.high), (sides.low, sides.high), obstacles)
    for part in _parts(patches.count, patches.count):
        rows = np.arange(part.start, part.stop)
        own = patches.of_side[part]
        half = patches.half_u[part], patches.half_v[part]
        factors[part] = _seen_from(
            rows, patches.centre[part], patches.normal[part], half, patches, sides,
            faces[own], obstacles, hindering[:, own],
        )  # fmt: skip
    mirrored = factors.T * (patches.area / patches.area[:, None])
    return (factors + mirrored).astype(np.float32)


def from_points(
    points: Floats, normals: Floats, groups: Clusters, patches: Patches, sides: Sides,
    obstacles: Obstacles,
) -> Factors:  # fmt: skip
    """Return the factor from every point to every patch, shape (points, patches)."""
    seen = np.zeros((points.shape[0], patches.count), dtype=np.float32)
    hindering = _hindering((groups.low, groups.high), (sides.low, sides.high), obstacles)
    own = np.repeat(np.arange(groups.low.shape[0]), np.diff(groups.start))
    for part in _parts(points.shape[0], patches.count):
        rows = groups.order[part]
        none = np.zeros((rows.size, 3))
        all_faces = np.ones((rows.size, patches.sides), dtype=bool)
        seen[rows] = _seen_from(
            rows, points[rows], normals[rows], (none, none), patches, sides, all_faces,
            obstacles, hindering[:, own[part]],
        )  # fmt: skip
    return seen


def leaking(patches: Patches, sides: Sides, obstacles: Obstacles) -> Floats:
    """Return the share of each side's light that nothing in the scene stops, shape (sides,)."""
    span = FAR * float(np.linalg.norm(np.ptp(sides.corners.reshape(-1, 3), axis=0)))
    shares = np.zeros(patches.sides)
    for number in range(patches.sides):
        part = patches.side(number)
        origin, way = _ways_out(patches, part, number)
        left = np.ones(chance.RAYS)
        for obstacle in range(obstacles.count):
            left *= passing(obstacles, obstacle, origin, span * way)
        shares[number] = left.mean()
    return shares


def _ways_out(patches: Patches, part: slice, number: int) -> tuple[Floats, Floats]:
    """Return where rays start on a side, and unit vectors along them."""
    first = np.arange(chance.RAYS) // chance.RAYS_PER_PLACE * chance.RAYS_PER_PLACE
    patch = part.start + first * (part.stop - part.start) // chance.RAYS
    place = chance.places(patches.count)[:, chance.first_place(first, number)].astype(float)
    u, v = patches.half_u[part.start], patches.half_v[part.start]
    origin = patches.centre[patch] + place[0][:, None] * u + place[1][:, None] * v
    frame = np.stack([u / np.linalg.norm(u), v / np.linalg.norm(v), patches.normal[part.start]])
    return origin, chance.cosine_spread().astype(float) @ frame


def _parts(rows: int, across: int) -> list[slice]:
    """Return rows in lots that bound the memory."""
    chunk = max(1, _CHUNK // max(across, 1))
    return [slice(start, min(start + chunk, rows)) for start in range(0, rows, chunk)]


def _seen_from(
    rows: Wholes, points: Floats, normals: Floats, halves: tuple[Floats, Floats],
    patches: Patches, sides: Sides, faces: Flags, obstacles: Obstacles, hindering: Flags,
) -> Floats:  # fmt: skip
    """Return factors from points, or patches with half sides ``halves``, to all patches.

    ``faces`` says which sides matter to each row, ``hindering`` which obstacles are between.
    """
    way = patches.centre - points[:, None]
    square = np.maximum((way * way).sum(axis=2), 1e-12)
    onto = np.maximum(np.einsum("ijc,ic->ij", way, normals), 0.0)
    ahead = np.maximum(-np.einsum("ijc,jc->ij", way, patches.normal), 0.0)
    factor = onto * ahead * patches.area / (math.pi * square * square)
    seen = faces[:, patches.of_side]
    own = 2 * np.sqrt(np.maximum(*((half * half).sum(axis=1) for half in halves)))
    reach = NEAR * np.maximum(own[:, None], sides.width[patches.of_side])
    near = np.nonzero(seen & (square < reach * reach))
    close = square[near] < CLOSE2 * (reach * reach)[near]
    factor[near] = _exact(points, normals, halves, patches, near, close)
    factor *= seen
    if hindering.any():
        origin, ray = _rays(rows, points, halves, patches)
        for obstacle in np.flatnonzero(hindering.any(axis=(1, 2))):
            hit = hindering[obstacle][:, patches.of_side]
            factor *= np.where(hit, passing(obstacles, int(obstacle), origin, ray), 1.0)
    return factor


def _rays(
    rows: Wholes, points: Floats, halves: tuple[Floats, Floats], patches: Patches
) -> tuple[Floats, Floats]:
    """Return one ray from a place on each row's patch to a place on each patch."""
    table = chance.places(patches.count).astype(float)
    first = chance.first_place(rows)
    each = first[:, None] + np.arange(patches.count)
    start = table[2][first][:, None] * halves[0] + table[3][first][:, None] * halves[1]
    end = table[0][each][..., None] * patches.half_u + table[1][each][..., None] * patches.half_v
    origin = (points + start)[:, None]
    return origin, patches.centre + end - origin


def _exact(
    points: Floats, normals: Floats, halves: tuple[Floats, Floats], patches: Patches,
    near: tuple[Wholes, ...], close: Flags,
) -> Floats:  # fmt: skip
    """Return the factors of near pairs.

    Close ones are the mean over four Gauss points on the seeing patch, others from its middle.
    """
    rows, columns = near
    corners = patches.corners()[:, columns]
    middle, ahead = patches.centre[columns], patches.normal[columns]

    def seen(across: float, along: float) -> Floats:
        place = (points + across * halves[0] + along * halves[1])[rows]
        lit = ((place - middle) * ahead).sum(axis=1) > FLAT
        return np.where(lit, board_factor(place, normals[rows], corners), 0.0)

    node = 1.0 / math.sqrt(3.0)
    if not halves[0].any():
        return seen(0.0, 0.0)
    four = [seen(a, b) for a in (-node, node) for b in (-node, node)]
    return np.where(close, sum(four) / 4.0, seen(0.0, 0.0))


def _hindering(
    first: tuple[Floats, Floats], second: tuple[Floats, Floats], obstacles: Obstacles
) -> Flags:
    """Say which obstacles reach into the boxes round pairs, shape (obstacles, first, second)."""
    low = np.minimum(first[0][:, None], second[0]) + TOUCH
    high = np.maximum(first[1][:, None], second[1]) - TOUCH
    each = [
        ((top > low) & (bottom < high)).all(axis=2) & (share < 1)
        for bottom, top, share in zip(
            obstacles.low, obstacles.high, obstacles.transmittance, strict=True
        )
    ]
    return np.array(each, dtype=bool).reshape(len(each), *low.shape[:2])
