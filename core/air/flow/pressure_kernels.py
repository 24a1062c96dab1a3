"""Compiled multigrid and conjugate gradients for the pressure that keeps air from piling up.

Every level has one layer of cells round it and odd side lengths, so that neighbours always differ
in the parity of their flat index: red and black are the even and the odd. All levels share flat
arrays; row l of ``levels`` is (offset, cells along x, y, z).
"""

# numba reads the types of its functions from the arguments of the first call.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

from core.air.flow.compiling import compiled

_COARSEST = 8
"""Sweeps each way on the coarsest level."""

_OVER = 1.8
"""Corrections from a coarser level are constant over its cells, and so too small by this."""

_NOTHING = 1e-300


@compiled
def _odd(count):
    return (count + 2) | 1


@compiled
def _strides(levels, level):
    s1 = _odd(levels[level, 3])
    return _odd(levels[level, 2]) * s1, s1


@compiled
def _part(levels, level):
    s0, _ = _strides(levels, level)
    offset = levels[level, 0]
    return offset, offset + _odd(levels[level, 1]) * s0


@compiled
def load(u, v, w, step_u, step_v, step_w, counts, strides, inverse, levels, links, charge):
    """Fill the finest level: links between cells, and what flows into each less what flows out."""
    s0, s1 = _strides(levels, 0)
    t0, t1 = strides[0], strides[1]
    ix, iy, iz = inverse
    for i in range(counts[0] + 1):
        for j in range(counts[1] + 1):
            to = (i + 1) * s0 + (j + 1) * s1 + 1
            at = (i + 2) * t0 + (j + 2) * t1 + 2
            for k in range(counts[2] + 1):
                n, m = to + k, at + k
                links[0][n] = step_u[m] * ix * ix if counts[0] > 1 else 0.0
                links[1][n] = step_v[m] * iy * iy if counts[1] > 1 else 0.0
                links[2][n] = step_w[m] * iz * iz if counts[2] > 1 else 0.0
                charge[n] = 0.0
                if i < counts[0] and j < counts[1] and k < counts[2]:
                    charge[n] = (
                        (u[m] - u[m + t0]) * ix + (v[m] - v[m + t1]) * iy + (w[m] - w[m + 1]) * iz
                    )


@compiled
def build(levels, links, total, inverse):
    """Sum the links of each level for the next coarser one, and each cell's total."""
    finest = _part(levels, 0)[1]
    links[0][finest:] = 0.0
    links[1][finest:] = 0.0
    links[2][finest:] = 0.0
    for level in range(levels.shape[0]):
        if level > 0:
            for axis in range(3):
                _coarsen(levels, level, links[axis], axis)
        _sum_links(levels, level, links, total, inverse)


@compiled
def _coarsen(levels, level, link, axis):
    if levels[level, 1 + axis] == 1:
        return
    s0, s1 = _strides(levels, level - 1)
    c0, c1 = _strides(levels, level)
    fine = link[levels[level - 1, 0] :]
    coarse = link[levels[level, 0] :]
    n0, n1, n2 = levels[level - 1, 1], levels[level - 1, 2], levels[level - 1, 3]
    e0, e1, e2 = int(axis == 0), int(axis == 1), int(axis == 2)
    for i in range(1, n0 + 1 + e0):
        if e0 and i % 2 == 0 and i <= n0:
            continue
        for j in range(1, n1 + 1 + e1):
            if e1 and j % 2 == 0 and j <= n1:
                continue
            for k in range(1, n2 + 1 + e2):
                if e2 and k % 2 == 0 and k <= n2:
                    continue
                ci = i // 2 + 1 if e0 else (i + 1) // 2
                cj = j // 2 + 1 if e1 else (j + 1) // 2
                ck = k // 2 + 1 if e2 else (k + 1) // 2
                coarse[ci * c0 + cj * c1 + ck] += fine[i * s0 + j * s1 + k]


@compiled
def _sum_links(levels, level, links, total, inverse):
    s0, s1 = _strides(levels, level)
    for i in range(1, levels[level, 1] + 1):
        for j in range(1, levels[level, 2] + 1):
            row = levels[level, 0] + i * s0 + j * s1
            for n in range(row + 1, row + levels[level, 3] + 1):
                amount = links[0][n] + links[0][n + s0] + links[1][n] + links[1][n + s1]
                amount += links[2][n] + links[2][n + 1]
                total[n] = amount
                inverse[n] = 1.0 / amount if amount > _NOTHING else 0.0


@compiled
def _wrap_row(values, start, stride, count, times):
    """Copy the first and last of ``count`` entries beyond each other, ``times`` over."""
    for other in range(times):
        place = start + other
        values[place] = values[place + count * stride]
        values[place + (count + 1) * stride] = values[place + stride]


@compiled
def wrap(values, counts, s0, s1, periodic):
    """Fill the layer beyond ends that join from the other end."""
    if periodic[0]:
        _wrap_row(values, 0, s0, counts[0], s0)
    if periodic[1]:
        for row in range(0, (counts[0] + 2) * s0, s0):
            _wrap_row(values, row, s1, counts[1], s1)
    if periodic[2]:
        for row in range(0, (counts[0] + 2) * s0, s1):
            _wrap_row(values, row, 1, counts[2], 1)


@compiled
def _relax(guess, charge, links, inverse, counts, s0, s1, periodic, colour):
    """Solve every second cell for its neighbours as they are."""
    first = s0 + s1 + 1
    size = guess.size - 2 * first
    here, right, inv = guess[first:], charge[first:], inverse[first:]
    x0, x1 = guess[first - s0 :], guess[first + s0 :]
    y0, y1 = guess[first - s1 :], guess[first + s1 :]
    z0, z1 = guess[first - 1 :], guess[first + 1 :]
    a0, a1 = links[0][first:], links[0][first + s0 :]
    b0, b1 = links[1][first:], links[1][first + s1 :]
    c0, c1 = links[2][first:], links[2][first + 1 :]
    for k in range((first + colour) & 1, size, 2):
        inflow = right[k] + a0[k] * x0[k] + a1[k] * x1[k] + b0[k] * y0[k] + b1[k] * y1[k]
        here[k] = inv[k] * (inflow + c0[k] * z0[k] + c1[k] * z1[k])
    if periodic[0] or periodic[1] or periodic[2]:
        wrap(guess, counts, s0, s1, periodic)


@compiled
def _restrict(guess, charge, links, total, levels, level, coarse):
    """Sum what the red cells still lack into the next coarser level; black ones lack nothing."""
    s0, s1 = _strides(levels, level)
    c0, c1 = _strides(levels, level + 1)
    x, y, z = links[0], links[1], links[2]
    coarse[:] = 0.0
    for i in range(1, levels[level, 1] + 1):
        for j in range(1, levels[level, 2] + 1):
            row = i * s0 + j * s1
            to = ((i + 1) // 2) * c0 + ((j + 1) // 2) * c1
            for k in range(1 + ((row + 1) & 1), levels[level, 3] + 1, 2):
                n = row + k
                lack = charge[n] - total[n] * guess[n]
                lack += x[n] * guess[n - s0] + x[n + s0] * guess[n + s0]
                lack += y[n] * guess[n - s1] + y[n + s1] * guess[n + s1]
                lack += z[n] * guess[n - 1] + z[n + 1] * guess[n + 1]
                coarse[to + (k + 1) // 2] += lack


@compiled
def _correct(guess, levels, level, coarse):
    s0, s1 = _strides(levels, level)
    c0, c1 = _strides(levels, level + 1)
    for i in range(1, levels[level, 1] + 1):
        for j in range(1, levels[level, 2] + 1):
            row = i * s0 + j * s1
            of = ((i + 1) // 2) * c0 + ((j + 1) // 2) * c1
            for k in range(1, levels[level, 3] + 1):
                guess[row + k] += _OVER * coarse[of + (k + 1) // 2]


@compiled
def _cut(links, a, b):
    return links[0][a:b], links[1][a:b], links[2][a:b]


@compiled
def _sweep(levels, level, links, total, inverse, guess, charge, periodic, order):
    a, b = _part(levels, level)
    s0, s1 = _strides(levels, level)
    counts = (levels[level, 1], levels[level, 2], levels[level, 3])
    for colour in (order, 1 - order):
        _relax(
            guess[a:b], charge[a:b], _cut(links, a, b), inverse[a:b],
            counts, s0, s1, periodic, colour,
        )  # fmt: skip


@compiled
def _cycle(levels, links, total, inverse, guess, charge, periodic):
    """Put one V-cycle's answer to ``charge`` on the finest level into ``guess``."""
    last = levels.shape[0] - 1
    guess[:] = 0.0
    for level in range(last):
        a, b = _part(levels, level)
        c, d = _part(levels, level + 1)
        _sweep(levels, level, links, total, inverse, guess, charge, periodic, 0)
        _restrict(
            guess[a:b], charge[a:b], _cut(links, a, b), total[a:b], levels, level, charge[c:d]
        )
    for order in (0, 1):
        for _ in range(_COARSEST):
            _sweep(levels, last, links, total, inverse, guess, charge, periodic, order)
    for level in range(last - 1, -1, -1):
        a, b = _part(levels, level)
        c, d = _part(levels, level + 1)
        _correct(guess[a:b], levels, level, guess[c:d])
        if periodic[0] or periodic[1] or periodic[2]:
            s0, s1 = _strides(levels, level)
            counts = (levels[level, 1], levels[level, 2], levels[level, 3])
            wrap(guess[a:b], counts, s0, s1, periodic)
        _sweep(levels, level, links, total, inverse, guess, charge, periodic, 1)


@compiled
def _apply(values, links, total, s0, s1, image):
    """Put what flows out of each cell under a pressure ``values`` into ``image``."""
    first = s0 + s1 + 1
    size = values.size - 2 * first
    x0, x1 = values[first - s0 :], values[first + s0 :]
    y0, y1 = values[first - s1 :], values[first + s1 :]
    z0, z1 = values[first - 1 :], values[first + 1 :]
    here, amount, out = values[first:], total[first:], image[first:]
    a0, a1 = links[0][first:], links[0][first + s0 :]
    b0, b1 = links[1][first:], links[1][first + s1 :]
    c0, c1 = links[2][first:], links[2][first + 1 :]
    for k in range(size):
        inflow = a0[k] * x0[k] + a1[k] * x1[k] + b0[k] * y0[k] + b1[k] * y1[k]
        inflow += c0[k] * z0[k] + c1[k] * z1[k]
        out[k] = amount[k] * here[k] - inflow if amount[k] > 0.0 else 0.0


@compiled
def _dot(a, b):
    total = 0.0
    for k in range(a.size):
        total += a[k] * b[k]
    return total


@compiled
def _largest(values):
    found = 0.0
    for k in range(values.size):
        found = max(found, abs(values[k]))
    return found


@compiled
def solve(
    levels, links, total, inverse, guess, charge, answer, way, image, periodic, enough, most
):  # fmt: skip
    """Solve for the finest level's ``charge`` by conjugate gradients; return the charge left.

    Stops at ``enough`` or after ``most`` iterations, each of one V-cycle.
    """
    size = answer.size
    s0, s1 = _strides(levels, 0)
    counts = (levels[0, 1], levels[0, 2], levels[0, 3])
    left, preconditioned = charge[:size], guess[:size]
    answer[:] = 0.0
    way[:] = 0.0
    before = 0.0
    lacking = _largest(left)
    for iteration in range(most):
        if lacking <= enough:
            break
        _cycle(levels, links, total, inverse, guess, charge, periodic)
        now = _dot(left, preconditioned)
        follow = now / before if iteration > 0 else 0.0
        before = now
        for k in range(size):
            way[k] = preconditioned[k] + follow * way[k]
        _apply(way, _cut(links, 0, size), total[:size], s0, s1, image)
        reach = _dot(way, image)
        if reach <= 0.0:
            break
        length = now / reach
        for k in range(size):
            answer[k] += length * way[k]
            left[k] -= length * image[k]
        lacking = _largest(left)
    wrap(answer, counts, s0, s1, periodic)
    return lacking


@compiled
def correct(u, v, w, step_u, step_v, step_w, pressure, answer, counts, strides, inverse, levels):
    """Take from the velocities what the answer's slope drives, and add the answer to pressure."""
    s0, s1 = _strides(levels, 0)
    t0, t1 = strides[0], strides[1]
    for i in range(counts[0]):
        for j in range(counts[1]):
            of = (i + 1) * s0 + (j + 1) * s1 + 1
            at = (i + 2) * t0 + (j + 2) * t1 + 2
            for k in range(counts[2]):
                n, m = of + k, at + k
                here = answer[n]
                pressure[m] += here
                u[m] -= step_u[m] * (here - answer[n - s0]) * inverse[0]
                v[m] -= step_v[m] * (here - answer[n - s1]) * inverse[1]
                w[m] -= step_w[m] * (here - answer[n - 1]) * inverse[2]
