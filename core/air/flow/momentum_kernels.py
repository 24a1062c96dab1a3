"""Compiled steps of what moving air carries: velocity and warmth on a staggered grid.

Arrays are padded and flattened; ``counts`` and ``strides`` are those of the `Grid`. Loops run over
one plane of cells at a time, padding between its rows included, so that they run in lanes.
"""

# numba reads the types of its functions from the arguments of the first call.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

from core.air.flow.compiling import compiled

_SIXTH = 1.0 / 6.0


@compiled
def face_fluxes(
    carried, wind, viscosity, share, counts, strides, along, beside, inverse, flux, rate
):  # fmt: skip
    """Put what passes the lower edge of each control volume into ``flux``.

    Advection takes Koren's limited third-order value, bounded by its neighbours' values.

    Parameters
    ----------
    carried : values carried, on places ``beside`` apart from those of cells (0: cells)
    wind : velocity along the direction of the edge. [m/s]
    viscosity, share : of cells [m²/s]; share of it that counts at each edge
    along, beside : strides of the direction and of the places of ``carried``
    inverse : 1 over the cell's size along the direction. [1/m]
    flux, rate : results; [carried · m/s] and the share of a cell's content changed in time [1/s]

    References
    ----------
    Koren, in Numerical Methods for Advection-Diffusion Problems, Vieweg, 1993: the limiter
    min(2r, (1 + 2r)/3, 2), here times the slope so that nothing is divided.
    """
    size = counts[1] * strides[1] + counts[2] + 1
    low, high = (along, along) if beside == along else (0, along + beside)
    for i in range(2, counts[0] + 3):
        a = i * strides[0] + 2 * strides[1] + 2
        b = a + size
        behind2, behind = carried[a - 2 * along : b - 2 * along], carried[a - along : b - along]
        ahead, ahead2 = carried[a:b], carried[a + along : b + along]
        wind0, wind1 = wind[a:b], wind[a - beside : b - beside]
        thick0, thick1 = viscosity[a - low : b - low], viscosity[a - beside : b - beside]
        thick2, thick3 = viscosity[a - along : b - along], viscosity[a - high : b - high]
        part, through, changed = share[a:b], flux[a:b], rate[a:b]
        for k in range(size):
            speed = 0.5 * (wind0[k] + wind1[k])
            onward = speed > 0.0
            far = behind2[k] if onward else ahead2[k]
            near = behind[k] if onward else ahead[k]
            next_ = ahead[k] if onward else behind[k]
            d, e = near - far, next_ - near
            m = (d + 2.0 * e) * _SIXTH
            slope = max(0.0, min(d, min(e, m))) + min(0.0, max(d, max(e, m)))
            mixing = 0.25 * (thick0[k] + thick1[k] + thick2[k] + thick3[k]) * part[k] * inverse
            through[k] = speed * (near + slope) - mixing * (ahead[k] - behind[k])
            changed[k] = (abs(speed) + 2.0 * mixing) * inverse


@compiled
def add_balance(flux, rate, counts, strides, along, inverse, change, fastest):
    """Add what fluxes along one direction leave in each control volume."""
    size = (counts[1] - 1) * strides[1] + counts[2]
    for i in range(2, counts[0] + 2):
        a = i * strides[0] + 2 * strides[1] + 2
        b = a + size
        flux0, flux1 = flux[a:b], flux[a + along : b + along]
        rate0, rate1 = rate[a:b], rate[a + along : b + along]
        gained, limit = change[a:b], fastest[a:b]
        for k in range(size):
            gained[k] -= (flux1[k] - flux0[k]) * inverse
            limit[k] += max(rate0[k], rate1[k])


@compiled
def advance(
    old, change, fastest, pressure, force, drag, speed, free, counts, strides, beside, inverse,
    courant, slowest, new, step,
):  # fmt: skip
    """Take one step in pseudo-time, as long as each place bears; drag acts at the step's end.

    ``step`` receives how far in time each place went, 0 where nothing moves. [s]
    """
    size = (counts[1] - 1) * strides[1] + counts[2]
    for i in range(2, counts[0] + 2):
        a = i * strides[0] + 2 * strides[1] + 2
        b = a + size
        was, gained, limit, is_free = old[a:b], change[a:b], fastest[a:b], free[a:b]
        p0, p1 = pressure[a:b], pressure[a - beside : b - beside]
        speed0, speed1 = speed[a:b], speed[a - beside : b - beside]
        pushed, slowed, now, took = force[a:b], drag[a:b], new[a:b], step[a:b]
        for k in range(size):
            time = courant / (limit[k] + slowest)
            resisted = slowed[k] * 0.5 * (speed0[k] + speed1[k])
            time = is_free[k] * time / (1.0 + time * resisted)
            pull = gained[k] + pushed[k] - (p0[k] - p1[k]) * inverse - resisted * was[k]
            now[k] = was[k] + time * pull
            took[k] = time


@compiled
def centre(u, v, w, counts, strides, uc, vc, wc, speed):
    """Put the velocity in the middle of each cell, and its amount, into the last four arrays."""
    size = (counts[1] - 1) * strides[1] + counts[2]
    s0, s1 = strides[0], strides[1]
    for i in range(2, counts[0] + 2):
        a = i * s0 + 2 * s1 + 2
        b = a + size
        u0, u1, v0, v1 = u[a:b], u[a + s0 : b + s0], v[a:b], v[a + s1 : b + s1]
        w0, w1 = w[a:b], w[a + 1 : b + 1]
        x, y, z, amount = uc[a:b], vc[a:b], wc[a:b], speed[a:b]
        for k in range(size):
            x[k] = 0.5 * (u0[k] + u1[k])
            y[k] = 0.5 * (v0[k] + v1[k])
            z[k] = 0.5 * (w0[k] + w1[k])
            amount[k] = math.sqrt(x[k] * x[k] + y[k] * y[k] + z[k] * z[k])
