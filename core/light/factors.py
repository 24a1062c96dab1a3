"""View factors between rectangles: closed lines where nothing is between, sampled shade else.

Only the geometry of exchange lives here; radiosity builds on it elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from core.language import tr
from core.light import given, obstacles
from core.light.given import Floats, Wholes
from core.light.obstacles import TOUCH, Obstacles
from core.light.scene import Surface
from core.light.shade import passing

_NODES = 24
"""Gauss nodes on each piece of an edge."""

_MOST_PATCHES = 1600
"""Most patches a side is divided into when shade is sampled."""

_CHUNK = 200_000
"""Most rays looked at in one go, to bound the memory."""

_SEED = 20_24
"""Seed of the jitter, fixed so that the same surfaces always give the same number."""


def view_factor(
    a: Surface, b: Surface, between: Iterable[Surface] = (), *, patch: float = 0.05
) -> float:
    """Return the share of the light leaving ``a``'s lit side that arrives on ``b``'s lit side.

    Parameters
    ----------
    a, b : Surface
        From and to; only the sides their u × v point to count.
    between : iterable of Surface
        What stands between; each passes on its transmittance. ``a`` and ``b`` may be among them.
    patch : float
        Side of the patches on which shade is sampled; without shade the factor is exact. [m]

    Returns
    -------
    float
        0 to 1.

    Raises
    ------
    InputError
        If ``patch`` is not above zero.

    References
    ----------
    .. [1] E. M. Sparrow and R. D. Cess, Radiation Heat Transfer, 1978, chapter 4: contour
       integration.
    .. [2] J. R. Howell, A Catalog of Radiation Heat Transfer Configuration Factors.
    """
    side = given.positive(tr("View factor"), tr("patch"), patch, "m")
    fore, aft = _before(a.corners, b), _before(b.corners, a)
    if len(fore) < 3 or len(aft) < 3:
        return 0.0
    factor = polygon_exchange(fore, aft) / a.area
    hindering = _hindering(a, b, obstacles.of_surfaces(tuple(between)))
    return factor * _seen(a, b, *hindering, side) if hindering[1].size else factor


def polygon_exchange(fore: Floats, aft: Floats) -> float:
    """Return area × view factor of two flat polygons that face each other in all their parts.

    Double contour integral of the logarithm of the distance: the inner one in closed form, the
    outer one by Gauss nodes that crowd where edges may meet.

    Parameters
    ----------
    fore, aft : ndarray, shape (corners, 3)
        Corners in turn, anticlockwise seen from the lit side. [m]

    Returns
    -------
    float
        [m²]
    """
    total = 0.0
    for start, end in zip(fore, np.roll(fore, -1, axis=0), strict=True):
        places, weights = _along(start, end, aft)
        for other, stop in zip(aft, np.roll(aft, -1, axis=0), strict=True):
            cosine_lengths = float((end - start) @ (stop - other))
            if cosine_lengths:
                mean_log = _log_integral(places, other, stop) / np.linalg.norm(stop - other)
                total += cosine_lengths * float(weights @ mean_log)
    return abs(total) / (2.0 * math.pi)


def _before(corners: Floats, surface: Surface) -> Floats:
    """Return the part of a polygon that lies before a surface's lit side."""
    height = (corners - np.array(surface.origin)) @ surface.normal
    kept: list[Floats] = []
    for k in range(len(corners)):
        following = (k + 1) % len(corners)
        if height[k] >= 0:
            kept.append(corners[k])
        if height[k] * height[following] < 0:
            share = height[k] / (height[k] - height[following])
            kept.append(corners[k] + share * (corners[following] - corners[k]))
    return np.array(kept) if np.max(height) > TOUCH * 1e-5 else np.empty((0, 3))


def _along(start: Floats, end: Floats, corners: Floats) -> tuple[Floats, Floats]:
    """Return nodes on an edge with weights that sum to 1, crowded at its ends and at the feet of
    the other polygon's corners, where the integrand bends."""
    side = end - start
    feet = np.clip((corners - start) @ side / (side @ side), 0.0, 1.0)
    cuts = np.unique(np.concatenate([[0.0], feet, [1.0]]).round(12))
    node, weight = np.polynomial.legendre.leggauss(_NODES)
    node, weight = (node + 1) / 2, weight / 2
    crowded = node**3 * (10 - 15 * node + 6 * node**2)
    crowding = 30 * node**2 * (1 - node) ** 2
    pieces = np.diff(cuts)[:, None]
    share = (cuts[:-1, None] + pieces * crowded).ravel()
    return start + share[:, None] * side, (pieces * weight * crowding).ravel()


def _log_integral(places: Floats, start: Floats, end: Floats) -> Floats:
    """Return the integral of ln(distance) along a segment, seen from each place. [m]"""
    length = float(np.linalg.norm(end - start))
    along = (end - start) / length
    offset = places - start
    foot = offset @ along
    apart = np.linalg.norm(offset - foot[:, None] * along, axis=1)
    return _log_up_to(length - foot, apart) + _log_up_to(foot, apart) - length


def _log_up_to(s: Floats, apart: Floats) -> Floats:
    square = s * s + apart * apart
    safe = np.where(square > 0, square, 1.0)
    return np.where(square > 0, s / 2 * np.log(safe) + apart * np.arctan2(s, apart), 0.0)


def _hindering(a: Surface, b: Surface, found: Obstacles) -> tuple[Obstacles, Wholes]:
    """Return the obstacles, and which of them reach into the box round both surfaces."""
    corners = np.concatenate([a.corners, b.corners])
    low, high = corners.min(axis=0), corners.max(axis=0)
    reaches = (found.high > low + TOUCH) & (found.low < high - TOUCH)
    return found, np.nonzero(reaches.all(axis=1) & (found.transmittance < 1))[0]


def _seen(a: Surface, b: Surface, found: Obstacles, hindering: Wholes, patch: float) -> float:
    """Return the share of the exchange that passes the obstacles, jittered inside each patch."""
    random = np.random.default_rng(_SEED)
    whole = seen = 0.0
    targets, reach_u, reach_v = _patches(b, patch)
    sources, step_u, step_v = _patches(a, patch)
    chunk = max(1, _CHUNK // len(targets))
    for first in range(0, len(sources), chunk):
        places = sources[first : first + chunk, None]
        shape = (places.shape[0], len(targets), 1)
        origin = places + _jitter(random, shape, step_u, step_v)
        way = targets + _jitter(random, shape, reach_u, reach_v) - origin
        light = _kernel(way, a.normal, b.normal)
        whole += float(light.sum())
        for obstacle in hindering:
            light *= passing(found, int(obstacle), origin, way)
        seen += float(light.sum())
    return seen / whole if whole > 0 else 1.0


def _patches(surface: Surface, patch: float) -> tuple[Floats, Floats, Floats]:
    """Return the patches' middles and the two sides of one patch. [m]"""
    u, v = np.array(surface.u), np.array(surface.v)
    side = max(patch, math.sqrt(surface.area / _MOST_PATCHES))
    across = max(1, round(float(np.linalg.norm(u)) / side))
    along = max(1, round(float(np.linalg.norm(v)) / side))
    first, second = np.meshgrid(np.arange(across) + 0.5, np.arange(along) + 0.5, indexing="ij")
    offset = first.reshape(-1, 1) * u / across + second.reshape(-1, 1) * v / along
    return np.array(surface.origin) + offset, u / across, v / along


def _jitter(
    random: np.random.Generator, shape: tuple[int, int, int], u: Floats, v: Floats
) -> Floats:
    return (random.random(shape) - 0.5) * u + (random.random(shape) - 0.5) * v


def _kernel(way: Floats, leaving: Floats, facing: Floats) -> Floats:
    """Return cos × cos / distance² without its constant."""
    square = np.maximum((way * way).sum(axis=2), 1e-12)
    return np.maximum(way @ leaving, 0.0) * np.maximum(-(way @ facing), 0.0) / (square * square)
