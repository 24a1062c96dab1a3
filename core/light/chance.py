"""The fixed random numbers that spread visibility rays, the same for every way to compute.

An edge of a shade that falls on the middles of patches would fall on all of them alike; rays
between random places inside the patches do not have that. Numbers only, no rays.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.light.given import Wholes

Singles = NDArray[np.float32]

_SEED = 1760
_LENGTH = 8191
"""Places where a row may begin in the table; a prime, so that rows seldom coincide."""
_ROOM = 8192
"""Patches of one side are many, but the table grows by whole lots of this many."""
RAYS, RAYS_PER_PLACE = 2000, 20
"""Rays cast from a side to see whether it is shut, and how many of them start at one place."""


@lru_cache(maxsize=4)
def _table(lots: int) -> Singles:
    random = np.random.default_rng(_SEED)
    return random.uniform(-1.0, 1.0, (4, _LENGTH + lots * _ROOM)).astype(np.float32)


def places(patches: int) -> Singles:
    """Return random places from −1 to 1 inside patches, enough for ``patches`` of them.

    Returns
    -------
    ndarray of float32, shape (4, many)
        Across and along the patch a ray ends on, across and along the one it starts from.
    """
    return _table(1 + patches // _ROOM)


def first_place(row: Wholes | int, side: int = 0) -> Wholes:
    """Return where in the table the rays from a patch or point, or those of a side, begin."""
    return np.asarray((row * 613 + side * 977) % _LENGTH)


@lru_cache(maxsize=1)
def cosine_spread() -> Singles:
    """Return unit vectors about (0, 0, 1), as a Lambertian surface sends its light.

    Returns
    -------
    ndarray of float32, shape (RAYS, 3)
    """
    ball = np.random.default_rng(_SEED).normal(size=(RAYS, 3))
    way = ball / np.linalg.norm(ball, axis=1, keepdims=True) + (0.0, 0.0, 1.0)
    return (way / np.linalg.norm(way, axis=1, keepdims=True)).astype(np.float32)
