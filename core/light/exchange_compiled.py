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
from core.light.exchange_plain import CLOSE2, FAR, FLAT, NEAR, Factors
from core.light.given import Floats
from core.light.obstacles import TOUCH, Obstacles
from core.light.patches import Patches
from core.light.sides import Clusters, Sides, before, facing

_INVERSE_PI = np.float32(1.0 / math.pi)
_NEAREST2 = np.float32(1e-12)
_NODE = 1.0 / math.sqrt(3.0)
_BLOCK = 32
"""Rows and columns that are mirrored in one go, so that they stay in the cache."""

_GAP = 48
"""Patches between two runs of patches that are looked at rather than left out."""

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
    boxes = _extents(sides.low, sides.high)
    _fill(
        (_single(patches.centre), _single(patches.normal), _single(patches.half_u),
         _single(patches.half_v), _single(NEAR * patches.width), np.arange(patches.count), 4),
        (patches.start, boxes, np.arange(1, patches.sides + 1)), facing(sides),
        _columns(patches), _sides(patches, sides, boxes), _obstacles(obstacles),
        _spans(obstacles), chance.places(patches.count), factors,
    )  # fmt: skip
    _mirror(factors, _single(patches.area))
    return factors


def from_points(
    points: Floats, normals: Floats, groups: Clusters, patches: Patches, sides: Sides,
    obstacles: Obstacles,
) -> Factors:  # fmt: skip
    """Return the factor from every point to every patch, shape (points, patches)."""
    seen = np.zeros((points.shape[0], patches.count), dtype=np.float32)
    count, order = groups.low.shape[0], groups.order
    nothing = np.zeros((points.shape[0], 3), np.float32)
    here, ahead, boxes = points[order], normals[order], _extents(sides.low, sides.high)
    _fill(
        (_single(here), _single(ahead), nothing, nothing, nothing[:, 0].copy(), order, 1),
        (groups.start, _extents(groups.low, groups.high), np.zeros(count, np.int64)),
        before(here, ahead, groups.start, sides), _columns(patches),
        _sides(patches, sides, boxes), _obstacles(obstacles), _spans(obstacles),
        chance.places(patches.count), seen,
    )  # fmt: skip
    back = np.empty_like(order)
    back[order] = np.arange(order.size)
    return seen[back]


def leaking(patches: Patches, sides: Sides, obstacles: Obstacles) -> Floats:
    """Return the share of each side's light that nothing in the scene stops, shape (sides,)."""
    span = FAR * float(np.linalg.norm(np.ptp(sides.corners.reshape(-1, 3), axis=0)))
    shares = np.zeros(patches.sides)
    largest = np.argsort(-np.prod(np.maximum(obstacles.high - obstacles.low, 0.01), axis=1))
    _fill_leaks(
        _single(patches.centre), patches.start, _single(sides.normal), _single(sides.half_u),
        _single(sides.half_v), np.float32(span), largest, _obstacles(obstacles),
        chance.places(patches.count), chance.cosine_spread(), chance.RAYS_PER_PLACE, shares,
    )  # fmt: skip
    return shares


def _single(values: Floats) -> np.ndarray[Any, np.dtype[np.float32]]:
    return np.ascontiguousarray(values, dtype=np.float32)


def _columns(patches: Patches) -> tuple[Any, ...]:
    """Return centre, normal and half sides, each axis without gaps for loops in lanes; area."""
    each = patches.centre, patches.normal, patches.half_u, patches.half_v
    return (*(_single(rows.T) for rows in each), _single(patches.area))


def _sides(patches: Patches, sides: Sides, boxes: Floats) -> tuple[Any, ...]:
    """Return start, normal, area, reach and box of the patches of each side."""
    return (
        patches.start, _single(sides.normal), _single(sides.area), _single(NEAR * sides.width),
        boxes,
    )  # fmt: skip


def _obstacles(obstacles: Obstacles) -> tuple[Any, ...]:
    o = obstacles
    return (
        _single(np.column_stack([o.low, o.high])), _single(o.transmittance),
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
def _hinders(first, second, span):
    """Say whether an obstacle reaches between two boxes."""
    for way in range(first.shape[1]):
        high = max(first[0, way], second[0, way]) - TOUCH
        low = max(first[1, way], second[1, way]) - TOUCH
        if -span[1, way] >= high or -span[0, way] >= low:
            return False
    return True


@compiled
def _runs(box, faces, first, start, extents, spans, runs):
    """List obstacles with the patches they may hide from a box, and return how many runs.

    Short gaps are closed: to look at a few patches more is quicker than to begin another run.
    """
    count = 0
    for obstacle in range(spans.shape[0]):
        end = -_GAP - 1
        for side in range(first, start.size - 1):
            if faces[side] and _hinders(box, extents[side], spans[obstacle]):
                if start[side] - end > _GAP:
                    runs[count, 0], runs[count, 1] = obstacle, start[side]
                    count += 1
                end = start[side + 1]
                runs[count - 1, 2] = end
    return count


@compiled
def _fill(rows, groups, faces, columns, sides, obstacles, spans, places, out):
    """Put the factors from rows, patches or points, to all patches of later sides into ``out``."""
    group_start, boxes, first = groups
    place, ahead, own_u, own_v, reach, number, nodes = rows
    start, extents, count = sides[0], sides[4], sides[0].size - 1
    square, room = np.empty(out.shape[1], np.float32), np.empty((6, out.shape[1]), np.float32)
    runs = np.empty(((count // 2 + 1) * spans.shape[0], 3), np.int64)
    for group in range(group_start.size - 1):
        left = start[first[group]]
        some = _runs(boxes[group], faces[group], first[group], start, extents, spans, runs)
        for row in range(group_start[group], group_start[group + 1]):
            light = out[row]
            _as_points(place[row], ahead[row], columns, left, square, light)
            for side in range(first[group], count):
                far = max(reach[row], sides[3][side])
                if faces[group, side] and _reaches(place[row], extents[side], far * far):
                    _near_ones(place[row], ahead[row], own_u[row], own_v[row], nodes, columns,
                               sides, side, far * far, square, light)  # fmt: skip
            if some > 0:
                _hide(place[row], own_u[row], own_v[row], number[row], columns, left, runs[:some],
                      obstacles, places, room, light)  # fmt: skip


@compiled
def _as_points(place, facing_to, columns, begin, square, light):
    """Put the factors to all patches from ``begin`` on, taken as points, into ``light``."""
    x, y, z = place[0], place[1], place[2]
    ax, ay, az = facing_to[0], facing_to[1], facing_to[2]
    middle, normal, area = columns[0][:, begin:], columns[1][:, begin:], columns[4][begin:]
    cx, cy, cz, bx, by, bz = middle[0], middle[1], middle[2], normal[0], normal[1], normal[2]
    apart, found = square[begin:], light[begin:]
    for column in range(found.size):
        dx, dy, dz = cx[column] - x, cy[column] - y, cz[column] - z
        apart[column] = max(dx * dx + dy * dy + dz * dz, _NEAREST2)
        onto = max(dx * ax + dy * ay + dz * az, ZERO)
        ahead = max(-(dx * bx[column] + dy * by[column] + dz * bz[column]), ZERO)
        found[column] = onto * ahead
    for column in range(found.size):
        found[column] *= area[column] * _INVERSE_PI / (apart[column] * apart[column])


@compiled
def _reaches(place, extent, far2):
    """Say whether a point is nearer to the box round a side than some distance."""
    distance2 = 0.0
    for axis in range(3):
        outside = max(max(place[axis] - extent[0, axis], -extent[1, axis] - place[axis]), 0.0)
        distance2 += outside * outside
    return distance2 < far2


@compiled
def _near_ones(place, facing_to, own_u, own_v, nodes, columns, sides, side, far2, square, light):
    """Replace the factors to near patches of a side by exact ones, over some Gauss points."""
    middle, half_u, half_v = columns[0], columns[2], columns[3]
    normal, corner = sides[1][side], np.empty((4, 3))
    toward = (float(facing_to[0]), float(facing_to[1]), float(facing_to[2]))
    for column in range(sides[0][side], sides[0][side + 1]):
        if square[column] >= far2:
            continue
        for axis in range(3):
            m, u, v = middle[axis, column], half_u[axis, column], half_v[axis, column]
            corner[0, axis], corner[1, axis] = m - u - v, m + u - v
            corner[2, axis], corner[3, axis] = m + u + v, m - u + v
        several = nodes if square[column] < CLOSE2 * far2 else 1
        total = 0.0
        for node in range(several):
            across = 0.0 if several == 1 else (_NODE if node & 1 else -_NODE)
            along = 0.0 if several == 1 else (_NODE if node & 2 else -_NODE)
            px = place[0] + across * own_u[0] + along * own_v[0]
            py = place[1] + across * own_u[1] + along * own_v[1]
            pz = place[2] + across * own_u[2] + along * own_v[2]
            ahead = (px - middle[0, column]) * normal[0] + (py - middle[1, column]) * normal[1]
            if ahead + (pz - middle[2, column]) * normal[2] > FLAT:
                total += board_factor(px, py, pz, toward, corner)
        light[column] = total / several


@compiled
def _hide(place, own_u, own_v, number, columns, left, runs, obstacles, places, room, light):
    """Dim the factors from one row to patches from ``left`` on by what the rays meet."""
    begin = (number * 613) % 8191
    a, b = places[2, begin], places[3, begin]
    sx, sy, sz = place[0] + a * own_u[0], place[1] + a * own_u[1], place[2] + a * own_u[2]
    sx, sy, sz = sx + b * own_v[0], sy + b * own_v[1], sz + b * own_v[2]
    for axis, source in enumerate((sx, sy, sz)):
        _end_rays(
            columns[0][axis, left:], columns[2][axis, left:], columns[3][axis, left:], source,
            places[0, begin + left :], places[1, begin + left :], room[axis, left:],
            room[3 + axis, left:],
        )  # fmt: skip
    _shade(runs, obstacles, sx, sy, sz, room, light)


@compiled
def _end_rays(middle, half_u, half_v, begin, across, along, end, inverse):
    """Put where rays end along one axis into ``end``, and 1 / their length along it into the last.

    One axis at a time: with more arrays the loop would no longer run in lanes.
    """
    for column in range(middle.size):
        end[column] = middle[column] + across[column] * half_u[column]
    for column in range(middle.size):
        end[column] += along[column] * half_v[column]
        inverse[column] = ONE / (end[column] - begin + HAIR)


@compiled
def _mirror(factors, area):
    """Fill in the lower half: areas times factors are the same both ways."""
    count = area.size
    for top in range(0, count, _BLOCK):
        for left in range(top, count, _BLOCK):
            for row in range(top, min(top + _BLOCK, count)):
                for column in range(max(left, row + 1), min(left + _BLOCK, count)):
                    factors[column, row] = factors[row, column] * (area[row] / area[column])


@compiled
def _fill_leaks(
    centre, start, normal, half_u, half_v, span, order, obstacles, places, ways, each, shares
):
    room, left = np.empty((6, each), np.float32), np.empty(each, np.float32)
    runs = np.empty((order.size, 3), np.int64)
    runs[:, 0], runs[:, 1], runs[:, 2] = order, 0, each
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
            _shade(runs, obstacles, sx, sy, sz, room, left)
            for ray in range(each):
                total += left[ray]
        shares[side] = total / ways.shape[0]


@compiled
def _shade(runs, obstacles, sx, sy, sz, room, light):
    """Dim rays from one place: ``runs`` names an obstacle, and the first and the end of the rays.

    ``room`` holds where rays end, and 1 / their lengths by axis.
    """
    box, transmittance, corner, panel_u, panel_v = obstacles
    boxes = box.shape[0] - corner.shape[0]
    ix, iy, iz = room[3], room[4], room[5]
    for run in range(runs.shape[0]):
        obstacle, begin, end = runs[run, 0], runs[run, 1], runs[run, 2]
        share = transmittance[obstacle]
        if obstacle < boxes:
            shade_box(box, obstacle, share, sx, sy, sz, ix, iy, iz, light, begin, end)
        else:
            ends = room[0, begin:end], room[1, begin:end], room[2, begin:end]
            panel, seen = obstacle - boxes, light[begin:end]
            shade_panel(
                corner[panel], panel_u[panel], panel_v[panel], share, ends, sx, sy, sz, seen
            )
