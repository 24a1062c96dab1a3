"""Direct light of every emitter at every receiver in plain numpy, following a `Plan`.

It answers until the compiled rows (`rows_compiled`) are ready and is the oracle of their tests.
"""

from __future__ import annotations

import math

import numpy as np

from core.light.emitters import BOARD, LAMBERTIAN, NODES, POINT, POWER, Emitters
from core.light.exact import LEAST_BEFORE, board_factor, strip_integral
from core.light.given import Floats, Wholes
from core.light.obstacles import Obstacles
from core.light.plan import Plan
from core.light.receivers import Receivers
from core.light.shade import passing

_CHUNK = 400_000
"""Most rays looked at in one go, to bound the memory."""


def rows(emitters: Emitters, receivers: Receivers, obstacles: Obstacles, todo: Plan) -> Floats:
    """Return direct light, shape (emitters, points). [µmol m⁻² s⁻¹]"""
    result = np.zeros((emitters.count, receivers.count))
    points, normals = receivers.rows()
    for lamp, group in zip(*np.nonzero(todo.passing), strict=True):
        part = receivers.part(group)
        pair = lamp * receivers.groups + group
        hindering = todo.obstacle[todo.start[pair] : todo.start[pair + 1]]
        steps = int(todo.steps_u[lamp, group]), int(todo.steps_v[lamp, group])
        light = _pair(emitters, lamp, points[part], normals[part], obstacles, hindering, steps)
        result[lamp, part] = light * todo.passing[lamp, group]
    return result


def _pair(
    emitters: Emitters, lamp: int, points: Floats, normals: Floats,
    obstacles: Obstacles, hindering: Wholes, steps: tuple[int, int],
) -> Floats:  # fmt: skip
    """Return one emitter's light at one group's points."""
    exact = emitters.spread[lamp] == LAMBERTIAN and emitters.form[lamp] != POINT
    if not exact:
        return _sampled(emitters, lamp, points, normals, obstacles, hindering, steps)[1]
    light = _closed_form(emitters, lamp, points, normals)
    if not hindering.size:
        return light
    whole, seen = _sampled(emitters, lamp, points, normals, obstacles, hindering, steps)
    return light * np.divide(seen, whole, out=np.ones_like(whole), where=whole > 0)


def _closed_form(emitters: Emitters, lamp: int, points: Floats, normals: Floats) -> Floats:
    centre, half_u, half_v = emitters.centre[lamp], emitters.half_u[lamp], emitters.half_v[lamp]
    ahead, flux = emitters.frame[lamp, 2], emitters.flux[lamp]
    length = 2 * float(np.linalg.norm(half_u))
    if emitters.form[lamp] == BOARD:
        area = length * 2 * float(np.linalg.norm(half_v))
        corners = centre + np.array(
            [-half_u - half_v, half_u - half_v, half_u + half_v, half_v - half_u]
        )
        factor = board_factor(points, normals, corners)
        return np.where((points - centre) @ ahead > LEAST_BEFORE, factor, 0.0) * flux / area
    return strip_integral(points, normals, centre, half_u, ahead) * flux / (math.pi * length)


def _sampled(
    emitters: Emitters, lamp: int, points: Floats, normals: Floats,
    obstacles: Obstacles, hindering: Wholes, steps: tuple[int, int],
) -> tuple[Floats, Floats]:  # fmt: skip
    """Return the sum over samples of the lit face without and with the obstacles."""
    samples = _samples(emitters, lamp, steps)
    whole, seen = np.zeros(points.shape[0]), np.zeros(points.shape[0])
    chunk = max(1, _CHUNK // max(points.shape[0], 1))
    for first in range(0, samples.shape[0], chunk):
        origin = samples[first : first + chunk]
        way = points - origin[:, None]
        light = _weights(emitters, lamp, way, normals) / samples.shape[0]
        whole += light.sum(axis=0)
        for obstacle in hindering:
            light *= passing(obstacles, int(obstacle), origin[:, None], way)
        seen += light.sum(axis=0)
    return whole, seen


def _samples(emitters: Emitters, lamp: int, steps: tuple[int, int]) -> Floats:
    """Return the two-point Gauss nodes of a lit face divided into steps. [m]"""
    across, along = np.meshgrid(nodes(steps[0]), nodes(steps[1]), indexing="ij")
    offset = across.reshape(-1, 1) * emitters.half_u[lamp]
    return emitters.centre[lamp] + offset + along.reshape(-1, 1) * emitters.half_v[lamp]


def nodes(count: int) -> Floats:
    """Return the nodes of a two-point Gauss rule in every pair of steps, from −1 to 1.

    All nodes weigh the same, so a half-hidden lamp is counted evenly, and the error falls with
    the fourth power of the step.
    """
    if count == 1:
        return np.zeros(1)
    middle = (np.arange(count // 2) + 0.5) * 4.0 / count - 1.0
    reach = 2.0 / (count * math.sqrt(3.0))
    return np.stack([middle - reach, middle + reach], axis=1).ravel()


def _weights(emitters: Emitters, lamp: int, way: Floats, normals: Floats) -> Floats:
    """Return intensity × cosine at the receiver / distance² for every ray."""
    distance2 = np.maximum((way * way).sum(axis=2), 1e-12)
    distance = np.sqrt(distance2)
    ahead = np.maximum((way @ emitters.frame[lamp, 2]) / distance, 0.0)
    onto = np.maximum(-np.einsum("spc,pc->sp", way, normals) / distance, 0.0)
    return _intensity(emitters, lamp, way, ahead) * onto / distance2


def _intensity(emitters: Emitters, lamp: int, way: Floats, ahead: Floats) -> Floats:
    scale = emitters.scale[lamp]
    if emitters.spread[lamp] == LAMBERTIAN:
        return scale * ahead
    if emitters.spread[lamp] == POWER:
        return np.where(ahead > 0, scale * ahead ** emitters.exponent[lamp], 0.0)
    table = emitters.tables[emitters.table[lamp]].astype(np.float64)
    return np.where(ahead > 0, scale * _looked_up(table, way @ emitters.frame[lamp].T), 0.0)


def _looked_up(table: Floats, way: Floats) -> Floats:
    """Return the intensity along directions in the lamp's own frame, linear between nodes."""
    folded = way[..., :2] / np.abs(way).sum(axis=2, keepdims=True)
    first = (folded[..., 0] + folded[..., 1] + 1) * (NODES - 1) / 2
    second = (folded[..., 0] - folded[..., 1] + 1) * (NODES - 1) / 2
    i, j = np.clip(first.astype(int), 0, NODES - 2), np.clip(second.astype(int), 0, NODES - 2)
    a, b = first - i, second - j
    near = table[i, j] * (1 - b) + table[i, j + 1] * b
    return near * (1 - a) + (table[i + 1, j] * (1 - b) + table[i + 1, j + 1] * b) * a
