"""Rays and factors one at a time, compiled by numba: the pieces that both kinds of kernel share.

The same formulas as `shade` and `exact`; imported only where numba may be loaded.
"""

# numba reads the types of its functions from the arguments of the first call.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numba
import numpy as np

ONE, ZERO = np.float32(1.0), np.float32(0.0)
HAIR = np.float32(1.1e-7)
"""Added to a ray's components so that none is zero. [m]"""

_NEAR_END, _FAR_END = np.float32(1e-4), np.float32(1.0 - 1e-4)
_LEAST_RISE = np.float32(1e-12)

compiled: Callable[[Any], Any] = numba.njit(
    nogil=True,
    cache=True,
    error_model="numpy",
    fastmath={"reassoc", "contract", "arcp", "nsz", "nnan", "ninf"},
)


@compiled
def shade_box(boxes, box, transmittance, sx, sy, sz, ix, iy, iz, light, begin, end):
    """Dim the rays from ``begin`` to ``end`` that pass through a box, without branches.

    ``boxes`` holds lowest and highest corners in rows; ix, iy, iz are 1 / the rays' lengths by
    axis. Unsigned counting tells the compiler that no index is negative, so the loop runs in lanes.
    """
    x0, x1, y0, y1 = boxes[box, 0] - sx, boxes[box, 3] - sx, boxes[box, 1] - sy, boxes[box, 4] - sy
    z0, z1 = boxes[box, 2] - sz, boxes[box, 5] - sz
    for point in range(np.uint64(begin), np.uint64(end)):
        first, second = x0 * ix[point], x1 * ix[point]
        enter, leave = max(_NEAR_END, min(first, second)), min(_FAR_END, max(first, second))
        first, second = y0 * iy[point], y1 * iy[point]
        enter, leave = max(enter, min(first, second)), min(leave, max(first, second))
        first, second = z0 * iz[point], z1 * iz[point]
        enter, leave = max(enter, min(first, second)), min(leave, max(first, second))
        light[point] *= transmittance if enter <= leave else ONE


@compiled
def shade_panel(corner, u, v, transmittance, points, sx, sy, sz, light):
    """Dim every ray that crosses a tilted panel."""
    x, y, z = points[0], points[1], points[2]
    nx, ny, nz = u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]
    u2, v2 = u[0] * u[0] + u[1] * u[1] + u[2] * u[2], v[0] * v[0] + v[1] * v[1] + v[2] * v[2]
    ox, oy, oz = sx - corner[0], sy - corner[1], sz - corner[2]
    height = ox * nx + oy * ny + oz * nz
    across0 = (ox * u[0] + oy * u[1] + oz * u[2]) / u2
    along0 = (ox * v[0] + oy * v[1] + oz * v[2]) / v2
    for point in range(light.size):
        dx, dy, dz = x[point] - sx, y[point] - sy, z[point] - sz
        rise = dx * nx + dy * ny + dz * nz
        rise = rise if abs(rise) > _LEAST_RISE else _LEAST_RISE
        reached = -height / rise
        across = across0 + reached * (dx * u[0] + dy * u[1] + dz * u[2]) / u2
        along = along0 + reached * (dx * v[0] + dy * v[1] + dz * v[2]) / v2
        outside = max(max(-across, across - ONE), max(-along, along - ONE))
        outside = max(outside, max(_NEAR_END - reached, reached - _FAR_END))
        light[point] *= transmittance if outside < ZERO else ONE


@compiled
def board_factor(px, py, pz, facing, corner):
    """Return the factor from a point to a rectangle by Lambert's formula, cut at the horizon."""
    total, crossings = 0.0, 0
    leaving, entering = (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)
    start = (corner[3, 0] - px, corner[3, 1] - py, corner[3, 2] - pz)
    height = start[0] * facing[0] + start[1] * facing[1] + start[2] * facing[2]
    for k in range(4):
        end = (corner[k, 0] - px, corner[k, 1] - py, corner[k, 2] - pz)
        height_end = end[0] * facing[0] + end[1] * facing[1] + end[2] * facing[2]
        if height >= 0.0 and height_end >= 0.0:
            total += turn(start, end, facing)
        elif height >= 0.0 or height_end >= 0.0:
            share = height / (height - height_end)
            crossing = (start[0] + share * (end[0] - start[0]),
                        start[1] + share * (end[1] - start[1]),
                        start[2] + share * (end[2] - start[2]))  # fmt: skip
            crossings += 1
            if height >= 0.0:
                leaving = crossing
                total += turn(start, crossing, facing)
            else:
                entering = crossing
                total += turn(crossing, end, facing)
        start, height = end, height_end
    if crossings:
        total += turn(leaving, entering, facing)
    return abs(total) / (2.0 * math.pi)


@compiled
def turn(start, end, facing):
    """Return the angle an edge spans, seen from the point, times its tilt to the normal."""
    cx = start[1] * end[2] - start[2] * end[1]
    cy = start[2] * end[0] - start[0] * end[2]
    cz = start[0] * end[1] - start[1] * end[0]
    length = math.sqrt(cx * cx + cy * cy + cz * cz)
    if length < 1e-150:
        return 0.0
    angle = math.atan2(length, start[0] * end[0] + start[1] * end[1] + start[2] * end[2])
    return angle * (cx * facing[0] + cy * facing[1] + cz * facing[2]) / length
