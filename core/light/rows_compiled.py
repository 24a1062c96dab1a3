"""Direct light of every emitter at every receiver, compiled by numba, following a `Plan`.

The same numbers as `rows_plain`, many times faster; imported only where numba may be loaded.
"""

# numba reads the types of its functions from the arguments of the first call.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math
from typing import Any

import numpy as np

from core.light.compiled import HAIR, ONE, ZERO, board_factor, compiled, shade_box, shade_panel
from core.light.emitters import BOARD, LAMBERTIAN, NODES, POINT, POWER, Emitters
from core.light.exact import LEAST_BEFORE
from core.light.given import Floats
from core.light.obstacles import Obstacles
from core.light.plan import Plan
from core.light.receivers import Receivers

_NEAREST2 = np.float32(1e-12)
_HALF_NODES = np.float32((NODES - 1) / 2)
_THIRD_ROOT = 1.0 / math.sqrt(3.0)


def rows(emitters: Emitters, receivers: Receivers, obstacles: Obstacles, todo: Plan) -> Floats:
    """Return direct light, shape (emitters, points). [µmol m⁻² s⁻¹]"""
    result = np.zeros((emitters.count, receivers.count))
    r, e, o = receivers, emitters, obstacles
    _fill_rows(
        (r.x, r.y, r.z, r.nx, r.ny, r.nz), r.start,
        (_plain(e.centre), _plain(e.half_u), _plain(e.half_v)), _plain(e.frame),
        (_plain(e.flux), _plain(e.scale), _plain(e.exponent)),
        (_plain(e.form), _plain(e.spread), _plain(e.table)), _plain(e.tables),
        todo.passing, (todo.steps_u, todo.steps_v), (todo.start, todo.obstacle),
        _single(np.column_stack([o.low, o.high])), _single(o.transmittance),
        (_single(o.corner), _single(o.u), _single(o.v)), result,
    )  # fmt: skip
    return result


def _plain(values: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """Return rows without gaps, the one layout the kernel is compiled for."""
    return np.ascontiguousarray(values)


def _single(values: Floats) -> np.ndarray[Any, np.dtype[np.float32]]:
    return np.ascontiguousarray(values, dtype=np.float32)


@compiled
def _fill_rows(
    receivers, group_start, faces, frames, strengths, kinds, tables,
    passing, steps, lists, solid, transmittance, panels, result,
):  # fmt: skip
    pair_start, pair_obstacle = lists
    for lamp in range(passing.shape[0]):
        for group in range(passing.shape[1]):
            if passing[lamp, group] <= 0.0:
                continue
            pair = lamp * passing.shape[1] + group
            hindering = pair_obstacle[pair_start[pair] : pair_start[pair + 1]]
            part = slice(group_start[group], group_start[group + 1])
            x, y, z, nx, ny, nz = receivers
            points = (x[part], y[part], z[part], nx[part], ny[part], nz[part])
            row = result[lamp, part]
            count = (steps[0][lamp, group], steps[1][lamp, group])
            exact = kinds[1][lamp] == LAMBERTIAN and kinds[0][lamp] != POINT
            if exact:
                _closed_form(points, faces, frames, strengths, kinds, lamp, row)
            if hindering.size > 0 or not exact:
                whole, seen = _sampled(
                    points, faces, frames, strengths, kinds, tables, lamp, count,
                    hindering, solid, transmittance, panels,
                )  # fmt: skip
                _put(row, whole, seen, exact)
            for point in range(row.size):
                row[point] *= passing[lamp, group]


@compiled
def _put(row, whole, seen, exact):
    for point in range(row.size):
        if not exact:
            row[point] = seen[point]
        elif whole[point] > ZERO:
            row[point] *= seen[point] / whole[point]


@compiled
def _sampled(
    points, faces, frames, strengths, kinds, tables, lamp, count,
    hindering, solid, transmittance, panels,
):  # fmt: skip
    """Return the sum over samples of the lit face without and with the obstacles."""
    size = points[0].size
    whole, seen = np.zeros(size, np.float32), np.zeros(size, np.float32)
    light = np.empty(size, np.float32)
    inverse = np.empty((3, size), np.float32)
    centre, half_u, half_v = faces
    scale = np.float32(strengths[1][lamp] / (count[0] * count[1]))
    for step in range(count[0] * count[1]):
        across = _node(step // count[1], count[0])
        along = _node(step % count[1], count[1])
        sx = np.float32(centre[lamp, 0] + across * half_u[lamp, 0] + along * half_v[lamp, 0])
        sy = np.float32(centre[lamp, 1] + across * half_u[lamp, 1] + along * half_v[lamp, 1])
        sz = np.float32(centre[lamp, 2] + across * half_u[lamp, 2] + along * half_v[lamp, 2])
        _weigh(points, sx, sy, sz, frames[lamp], scale, light)
        _spread(points, sx, sy, sz, frames[lamp], strengths, kinds, tables, lamp, light)
        for point in range(size):
            whole[point] += light[point]
        if hindering.size > 0:
            _invert(points, sx, sy, sz, inverse)
        for obstacle in hindering:
            panel = obstacle - (solid.shape[0] - panels[0].shape[0])
            if panel < 0:
                shade_box(solid, obstacle, transmittance[obstacle], sx, sy, sz,
                          inverse[0], inverse[1], inverse[2], light, 0, size)  # fmt: skip
            else:
                shade_panel(panels[0][panel], panels[1][panel], panels[2][panel],
                             transmittance[obstacle], points, sx, sy, sz, light)  # fmt: skip
        for point in range(size):
            seen[point] += light[point]
    return whole, seen


@compiled
def _node(step, count):
    """Return one node of the two-point Gauss rule in every pair of steps, from −1 to 1."""
    if count == 1:
        return 0.0
    side = 1.0 if step % 2 else -1.0
    return ((step // 2) * 4.0 + 2.0 + side * 2.0 * _THIRD_ROOT) / count - 1.0


@compiled
def _weigh(points, sx, sy, sz, frame, scale, light):
    """Put Lambertian intensity × cosine at the receiver / distance² into ``light``."""
    x, y, z, nx, ny, nz = points
    ax, ay, az = np.float32(frame[2, 0]), np.float32(frame[2, 1]), np.float32(frame[2, 2])
    for point in range(light.size):
        dx, dy, dz = x[point] - sx, y[point] - sy, z[point] - sz
        inverse2 = ONE / max(dx * dx + dy * dy + dz * dz, _NEAREST2)
        ahead = max(dx * ax + dy * ay + dz * az, ZERO)
        onto = max(-(dx * nx[point] + dy * ny[point] + dz * nz[point]), ZERO)
        light[point] = scale * ahead * onto * inverse2 * inverse2


@compiled
def _spread(points, sx, sy, sz, frame, strengths, kinds, tables, lamp, light):
    """Turn Lambertian light into that of the lamp's own spread; nothing to do for Lambertian."""
    spread = kinds[1][lamp]
    if spread == LAMBERTIAN:
        return
    x, y, z = points[0], points[1], points[2]
    power = np.float32(strengths[2][lamp] - 1.0)
    for point in range(light.size):
        if light[point] <= ZERO:
            continue
        dx, dy, dz = x[point] - sx, y[point] - sy, z[point] - sz
        distance = np.sqrt(dx * dx + dy * dy + dz * dz)
        ahead = (dx * frame[2, 0] + dy * frame[2, 1] + dz * frame[2, 2]) / distance
        if spread == POWER:
            light[point] *= np.float32(ahead) ** power
        else:
            right = (dx * frame[0, 0] + dy * frame[0, 1] + dz * frame[0, 2]) / distance
            back = (dx * frame[1, 0] + dy * frame[1, 1] + dz * frame[1, 2]) / distance
            light[point] *= _looked_up(tables[kinds[2][lamp]], right, back, ahead) / ahead


@compiled
def _looked_up(table, right, back, ahead):
    """Return the intensity along a direction in the lamp's own frame, linear between nodes."""
    reach = abs(right) + abs(back) + ahead
    first = ((right + back) / reach + 1.0) * _HALF_NODES
    second = ((right - back) / reach + 1.0) * _HALF_NODES
    i, j = min(max(int(first), 0), NODES - 2), min(max(int(second), 0), NODES - 2)
    a, b = np.float32(first - i), np.float32(second - j)
    near = table[i, j] * (ONE - b) + table[i, j + 1] * b
    return near * (ONE - a) + (table[i + 1, j] * (ONE - b) + table[i + 1, j + 1] * b) * a


@compiled
def _invert(points, sx, sy, sz, inverse):
    x, y, z = points[0], points[1], points[2]
    for point in range(x.size):
        inverse[0, point] = ONE / (x[point] - sx + HAIR)
        inverse[1, point] = ONE / (y[point] - sy + HAIR)
        inverse[2, point] = ONE / (z[point] - sz + HAIR)


@compiled
def _closed_form(points, faces, frames, strengths, kinds, lamp, row):
    """Put the unhindered light of a Lambertian board or strip into ``row``."""
    centre, half_u, half_v = faces[0][lamp], faces[1][lamp], faces[2][lamp]
    ahead = frames[lamp, 2]
    length = 2.0 * math.sqrt(half_u[0] ** 2 + half_u[1] ** 2 + half_u[2] ** 2)
    width = 2.0 * math.sqrt(half_v[0] ** 2 + half_v[1] ** 2 + half_v[2] ** 2)
    board = kinds[0][lamp] == BOARD
    scale = strengths[0][lamp] / (length * (width if board else math.pi))
    corner = np.empty((4, 3))
    for axis in range(3):
        corner[0, axis] = centre[axis] - half_u[axis] - half_v[axis]
        corner[1, axis] = centre[axis] + half_u[axis] - half_v[axis]
        corner[2, axis] = centre[axis] + half_u[axis] + half_v[axis]
        corner[3, axis] = centre[axis] - half_u[axis] + half_v[axis]
    x, y, z, nx, ny, nz = points
    for point in range(row.size):
        px, py, pz = float(x[point]), float(y[point]), float(z[point])
        ox, oy, oz = px - centre[0], py - centre[1], pz - centre[2]
        before = ox * ahead[0] + oy * ahead[1] + oz * ahead[2]
        facing = (float(nx[point]), float(ny[point]), float(nz[point]))
        if before <= LEAST_BEFORE:
            row[point] = 0.0
        elif board:
            row[point] = scale * board_factor(px, py, pz, facing, corner)
        else:
            row[point] = scale * before * _strip_integral(ox, oy, oz, facing, half_u, length / 2)


@compiled
def _strip_integral(ox, oy, oz, facing, half, reach):
    """Return the integral along a strip without its constant cosine (see `exact`)."""
    foot = (ox * half[0] + oy * half[1] + oz * half[2]) / reach
    slope = (facing[0] * half[0] + facing[1] * half[1] + facing[2] * half[2]) / reach
    distance2 = max(ox * ox + oy * oy + oz * oz - foot * foot, 1e-18)
    level = foot * slope - (ox * facing[0] + oy * facing[1] + oz * facing[2])
    low, high = -reach - foot, reach - foot
    if slope > 0.0:
        low = max(low, -level / slope)
    elif slope < 0.0:
        high = min(high, -level / slope)
    elif level <= 0.0:
        high = low
    if high <= low:
        return 0.0
    return _up_to(high, level, slope, distance2) - _up_to(low, level, slope, distance2)


@compiled
def _up_to(s, level, slope, distance2):
    distance = math.sqrt(distance2)
    spread2 = s * s + distance2
    even = s / (2.0 * distance2 * spread2) + math.atan(s / distance) / (2.0 * distance2 * distance)
    return level * even - slope / (2.0 * spread2)
