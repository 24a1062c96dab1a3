"""The exchange of light between patches, and to points, compiled by numba.

The same numbers as `exchange_plain`, many times faster; imported only where numba may be loaded.
"""

# numba reads the types of its functions from the arguments of the first call.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math
from typing import Any

import numpy as np

from core.light import chance
from core.light.compiled import HAIR, ONE, ZERO, board_factor, compiled, shade_box, shade_panel
from core.light.exchange_plain import FAR, FLAT, NEAR, Factors
from core.light.given import Floats
from core.light.obstacles import TOUCH, Obstacles
from core.light.patches import Patches
from core.light.sides import Clusters, Sides, facing

_INVERSE_PI = np.float32(1.0 / math.pi)
_NEAREST2 = np.float32(1e-12)
_NODE = 1.0 / math.sqrt(3.0)
_TILE = 16
"""Rows that are kept back, so that their mirror image is written in whole cache lines."""

_WAYS = np.array(
    [(1, 0, 0), (0, 1, 0), (0, 0, 1)]
    + [(1, s, 0) for s in (1, -1)] + [(1, 0, s) for s in (1, -1)] + [(0, 1, s) for s in (1, -1)]
    + [(2, s, 0) for s in (1, -1)] + [(2, 0, s) for s in (1, -1)] + [(0, 2, s) for s in (1, -1)]
    + [(1, s, 0) for s in (2, -2)] + [(1, 0, s) for s in (2, -2)] + [(0, 1, s) for s in (2, -2)]
    + [(1, s, t) for s in (1, -1) for t in (1, -1)],
    dtype=np.float64,
)  # fmt: skip
"""Directions along which an obstacle may lie apart from all that two boxes span together."""


def between_patches(patches: Patches, sides: Sides, obstacles: Obstacles) -> Factors:
    """Return the factor from every patch to every other, shape (patches, patches)."""
    factors = np.zeros((patches.count, patches.count), dtype=np.float32)
    _fill_factors(
        _columns(patches.centre), patches.start, _sides(sides), np.triu(facing(sides), 1),
        _extents(sides.low, sides.high), _obstacles(obstacles), _spans(obstacles),
        chance.places(patches.count), factors,
    )  # fmt: skip
    return factors


def to_points(
    points: Floats, normals: Floats, groups: Clusters, patches: Patches, sides: Sides,
    obstacles: Obstacles, weights: Floats,
) -> Floats:  # fmt: skip
    """Return for each point the sums of factors times weights, shape (points, weights)."""
    sums = np.zeros((points.shape[0], weights.shape[0]))
    _fill_points(
        _columns(points), _columns(normals), (groups.order, groups.start),
        _extents(groups.low, groups.high), _columns(patches.centre), patches.start,
        _single(sides.corners), _sides(sides), _extents(sides.low, sides.high),
        _obstacles(obstacles), _spans(obstacles),
        chance.places(patches.count), _single(weights), sums,
    )  # fmt: skip
    return sums


def leaking(patches: Patches, sides: Sides, obstacles: Obstacles) -> Floats:
    """Return the share of each side's light that nothing in the scene stops, shape (sides,)."""
    span = FAR * float(np.linalg.norm(np.ptp(sides.corners.reshape(-1, 3), axis=0)))
    shares = np.zeros(patches.sides)
    largest = np.argsort(-np.prod(np.maximum(obstacles.high - obstacles.low, 0.01), axis=1))
    _fill_leaks(
        _single(patches.centre), patches.start, _sides(sides), np.float32(span), largest,
        _obstacles(obstacles), chance.places(patches.count), chance.cosine_spread(),
        chance.RAYS_PER_PLACE, shares,
    )  # fmt: skip
    return shares


def _single(values: Floats) -> np.ndarray[Any, np.dtype[np.float32]]:
    return np.ascontiguousarray(values, dtype=np.float32)


def _columns(rows: Floats) -> tuple[Any, ...]:
    """Return x, y and z apart, each without gaps, so that loops over them run in lanes."""
    return tuple(_single(rows[:, axis]) for axis in range(3))


def _sides(sides: Sides) -> tuple[Any, ...]:
    """Return normal, half sides, area and reach of the patches of each side."""
    return (
        _single(sides.normal), _single(sides.half_u), _single(sides.half_v),
        _single(sides.area), _single(NEAR * sides.width),
    )  # fmt: skip


def _obstacles(obstacles: Obstacles) -> tuple[Any, ...]:
    o = obstacles
    return (
        _single(o.low), _single(o.high), _single(o.transmittance),
        _single(o.corner), _single(o.u), _single(o.v),
    )  # fmt: skip


def _extents(low: Floats, high: Floats) -> Floats:
    """Return how far boxes reach along and against the directions, shape (boxes, 2, ways)."""
    up, down = np.maximum(_WAYS, 0.0), np.minimum(_WAYS, 0.0)
    return np.stack([high @ up.T + low @ down.T, -(low @ up.T + high @ down.T)], axis=1)


def _spans(obstacles: Obstacles) -> Floats:
    """Return the extents of obstacles, those that stop nothing as out of all reach."""
    extents = _extents(obstacles.low, obstacles.high)
    extents[obstacles.transmittance >= 1] = -np.inf
    return extents


@compiled
def _hindering(first, second, spans, found):
    """List the obstacles that reach between two boxes, and return how many they are."""
    count = 0
    for obstacle in range(spans.shape[0]):
        apart = False
        for way in range(first.shape[1]):
            high = max(first[0, way], second[0, way]) - TOUCH
            low = max(first[1, way], second[1, way]) - TOUCH
            if -spans[obstacle, 1, way] >= high or -spans[obstacle, 0, way] >= low:
                apart = True
                break
        if not apart:
            found[count] = obstacle
            count += 1
    return count


@compiled
def _fill_factors(centre, start, sides, pairs, extents, obstacles, spans, places, factors):
    normal, half_u, half_v, area, reach = sides
    found = np.empty(spans.shape[0], np.int64)
    most = 0
    for side in range(start.size - 1):
        most = max(most, start[side + 1] - start[side])
    tile, room = np.empty((_TILE, most), np.float32), np.empty((6, most), np.float32)
    for first in range(start.size - 1):
        for second in range(first + 1, start.size - 1):
            if not pairs[first, second]:
                continue
            count = _hindering(extents[first], extents[second], spans, found)
            begin, size = start[second], start[second + 1] - start[second]
            there = _part(centre, begin, size)
            share = area[first] / area[second]
            far = max(reach[first], reach[second])
            for top in range(start[first], start[first + 1], _TILE):
                rows = min(_TILE, start[first + 1] - top)
                for row in range(rows):
                    one = top + row
                    _see(
                        _at(centre, one), normal[first], half_u[first], half_v[first], 4, there,
                        second, sides, extents[second], far, found[:count], obstacles, places, one,
                        room, tile[row][:size],
                    )  # fmt: skip
                    for column in range(size):
                        factors[one, begin + column] = tile[row, column]
                for column in range(size):
                    for row in range(rows):
                        factors[begin + column, top + row] = tile[row, column] * share


@compiled
def _fill_points(
    points, normals, groups, boxes, centre, start, corners, sides, extents, obstacles, spans,
    places, weights, sums,
):  # fmt: skip
    order, group_start = groups
    normal = sides[0]
    nothing = np.zeros(3, np.float32)
    found = np.empty(spans.shape[0], np.int64)
    most = 0
    for side in range(start.size - 1):
        most = max(most, start[side + 1] - start[side])
    seen, room = np.empty(most, np.float32), np.empty((6, most), np.float32)
    for group in range(group_start.size - 1):
        for side in range(start.size - 1):
            begin, size = start[side], start[side + 1] - start[side]
            there, light = _part(centre, begin, size), seen[:size]
            count = _hindering(boxes[group], extents[side], spans, found)
            for place in range(group_start[group], group_start[group + 1]):
                point = order[place]
                here, ahead = _at(points, point), _at(normals, point)
                if not _before(here, ahead, corners[side], normal[side]):
                    continue
                _see(
                    here, ahead, nothing, nothing, 1, there, side, sides, extents[side],
                    sides[4][side], found[:count], obstacles, places, point, room, light,
                )  # fmt: skip
                for kind in range(weights.shape[0]):
                    total = ZERO
                    for column in range(size):
                        total += light[column] * weights[kind, begin + column]
                    sums[point, kind] += total


@compiled
def _part(columns, begin, size):
    end = begin + size
    return columns[0][begin:end], columns[1][begin:end], columns[2][begin:end]


@compiled
def _at(columns, one):
    return columns[0][one], columns[1][one], columns[2][one]


@compiled
def _before(place, ahead, corners, normal):
    """Say whether a point and a side have parts before each other."""
    height, highest = ZERO, ZERO
    for corner in range(4):
        dx, dy = corners[corner, 0] - place[0], corners[corner, 1] - place[1]
        dz = corners[corner, 2] - place[2]
        height = -(dx * normal[0] + dy * normal[1] + dz * normal[2])
        highest = max(highest, dx * ahead[0] + dy * ahead[1] + dz * ahead[2])
    return height > FLAT and highest > ZERO


@compiled
def _see(
    place, facing_to, own_u, own_v, nodes, there, side, sides, extent, far, hindering,
    obstacles, places, row, room, light,
):  # fmt: skip
    """Put the factors from one patch or point to the patches of a side into ``light``."""
    normal, half_u, half_v, area, _ = sides
    total = _as_points(place, facing_to, there, normal[side], area[side], room[0], light)
    if _reaches(place, extent, far * far):
        total = ONE
        _near_ones(
            place, facing_to, own_u, own_v, nodes, there, normal[side], half_u[side],
            half_v[side], far * far, room[0], light,
        )  # fmt: skip
    if hindering.size == 0 or total <= ZERO:
        return
    begin = (row * 613 + side * 977) % 8191
    u, v = half_u[side], half_v[side]
    sx = place[0] + places[2, begin] * own_u[0] + places[3, begin] * own_v[0]
    sy = place[1] + places[2, begin] * own_u[1] + places[3, begin] * own_v[1]
    sz = place[2] + places[2, begin] * own_u[2] + places[3, begin] * own_v[2]
    end = begin + light.size
    across, along = places[0][begin:end], places[1][begin:end]
    _end_rays(there[0], u[0], v[0], sx, across, along, room[0], room[3])
    _end_rays(there[1], u[1], v[1], sy, across, along, room[1], room[4])
    _end_rays(there[2], u[2], v[2], sz, across, along, room[2], room[5])
    _shade(hindering, obstacles, sx, sy, sz, room, light)


@compiled
def _reaches(place, extent, far2):
    """Say whether a point is nearer to the box round a side than some distance."""
    distance2 = 0.0
    for axis in range(3):
        outside = max(max(place[axis] - extent[0, axis], -extent[1, axis] - place[axis]), 0.0)
        distance2 += outside * outside
    return distance2 < far2


@compiled
def _as_points(place, facing_to, there, normal, area, square, light):
    """Put the factors to patches taken as points into ``light``, and return their sum."""
    x, y, z = place[0], place[1], place[2]
    ax, ay, az = facing_to[0], facing_to[1], facing_to[2]
    bx, by, bz = normal[0], normal[1], normal[2]
    scale = area * _INVERSE_PI
    total = ZERO
    for column in range(light.size):
        dx, dy, dz = there[0][column] - x, there[1][column] - y, there[2][column] - z
        distance2 = max(dx * dx + dy * dy + dz * dz, _NEAREST2)
        onto = max(dx * ax + dy * ay + dz * az, ZERO)
        ahead = max(-(dx * bx + dy * by + dz * bz), ZERO)
        square[column] = distance2
        light[column] = onto * ahead * scale / (distance2 * distance2)
        total += light[column]
    return total


@compiled
def _end_rays(middle, u, v, begin, across, along, end, inverse):
    """Put where rays end along one axis into ``end``, and 1 / their length along it into the last.

    One axis at a time: with more arrays the loop would no longer run in lanes.
    """
    for column in range(middle.size):
        place = middle[column] + across[column] * u + along[column] * v
        end[column] = place
        inverse[column] = ONE / (place - begin + HAIR)


@compiled
def _near_ones(
    place, facing_to, own_u, own_v, nodes, there, normal, half_u, half_v, far2, square, light
):
    """Replace the factors to near patches by exact ones, over ``nodes`` Gauss points."""
    corner = np.empty((4, 3))
    toward = (float(facing_to[0]), float(facing_to[1]), float(facing_to[2]))
    for column in range(light.size):
        if square[column] >= far2:
            continue
        middles = (float(there[0][column]), float(there[1][column]), float(there[2][column]))
        for axis in range(3):
            middle = middles[axis]
            corner[0, axis] = middle - half_u[axis] - half_v[axis]
            corner[1, axis] = middle + half_u[axis] - half_v[axis]
            corner[2, axis] = middle + half_u[axis] + half_v[axis]
            corner[3, axis] = middle - half_u[axis] + half_v[axis]
        total = 0.0
        for node in range(nodes):
            across = _NODE if node & 1 else -_NODE
            along = _NODE if node & 2 else -_NODE
            px = place[0] + across * own_u[0] + along * own_v[0]
            py = place[1] + across * own_u[1] + along * own_v[1]
            pz = place[2] + across * own_u[2] + along * own_v[2]
            ahead = (
                (px - there[0][column]) * normal[0]
                + (py - there[1][column]) * normal[1]
                + (pz - there[2][column]) * normal[2]
            )
            if ahead > FLAT:
                total += board_factor(px, py, pz, toward, corner)
        light[column] = total / nodes


@compiled
def _fill_leaks(centre, start, sides, span, order, obstacles, places, ways, each, shares):
    normal, half_u, half_v, _, _ = sides
    room, left = np.empty((6, each), np.float32), np.empty(each, np.float32)
    for side in range(start.size - 1):
        n, u, v = normal[side], half_u[side], half_v[side]
        across = span / np.sqrt(u[0] * u[0] + u[1] * u[1] + u[2] * u[2])
        along = span / np.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2])
        size, total = start[side + 1] - start[side], 0.0
        for first in range(0, ways.shape[0], each):
            patch = start[side] + first * size // ways.shape[0]
            begin = (first * 613 + side * 977) % 8191
            a, b = places[0, begin], places[1, begin]
            sx = centre[patch, 0] + a * u[0] + b * v[0]
            sy = centre[patch, 1] + a * u[1] + b * v[1]
            sz = centre[patch, 2] + a * u[2] + b * v[2]
            for ray in range(each):
                one = ways[first + ray]
                a, b, c = across * one[0], along * one[1], span * one[2]
                room[0, ray] = sx + a * u[0] + b * v[0] + c * n[0]
                room[1, ray] = sy + a * u[1] + b * v[1] + c * n[1]
                room[2, ray] = sz + a * u[2] + b * v[2] + c * n[2]
                room[3, ray] = ONE / (room[0, ray] - sx + HAIR)
                room[4, ray] = ONE / (room[1, ray] - sy + HAIR)
                room[5, ray] = ONE / (room[2, ray] - sz + HAIR)
                left[ray] = ONE
            _shade(order, obstacles, sx, sy, sz, room, left)
            for ray in range(each):
                total += left[ray]
        shares[side] = total / ways.shape[0]


@compiled
def _shade(hindering, obstacles, sx, sy, sz, room, light):
    """Dim rays from one place; ``room`` holds where they end, and 1 / their lengths by axis."""
    low, high, transmittance, corner, panel_u, panel_v = obstacles
    boxes = low.shape[0] - corner.shape[0]
    ends, inverse = (room[0], room[1], room[2], room[0], room[1], room[2]), room[3:]
    for obstacle in hindering:
        share = transmittance[obstacle]
        if obstacle < boxes:
            shade_box(low[obstacle], high[obstacle], share, sx, sy, sz, inverse, light)
        else:
            panel = obstacle - boxes
            shade_panel(
                corner[panel], panel_u[panel], panel_v[panel], share, ends, sx, sy, sz, light
            )
