"""Compiled steps of the k-epsilon model: transport, production, and the eddy viscosity.

Arrays are padded and flattened as in `momentum_kernels`. ``free`` tells for the lower face of each
cell whether air may cross it (1.0) or not (0.0).
"""

# numba reads the types of its functions from the arguments of the first call.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

from core.air.flow.compiling import compiled

C_MU, C_1, C_2, SIGMA_K, SIGMA_EPSILON = 0.09, 1.44, 1.92, 1.0, 1.3
"""Constants of Launder and Spalding, Comput. Methods Appl. Mech. Eng. 3, 1974."""

KARMAN = 0.41
"""Von Kármán's constant."""

MOST_VISCOSITY = 0.05
"""Most eddy viscosity, reached only while a flow settles. [m²/s]"""

RELAXED = 0.7
"""Share of a change in eddy viscosity taken each step."""

_MOST_PRODUCTION = 20.0
"""Most production of turbulence over its dissipation."""


@compiled
def add_transport(
    wind, free, viscosity, k, epsilon, molecular, counts, strides, along, inverse,
    k_in, k_rate, epsilon_in, epsilon_rate,
):  # fmt: skip
    """Add what neighbours along one direction bring to each cell, and at which rate it changes.

    Bounded upwind: the rate [1/s] takes from the cell's own value, the sum adds its neighbours'.
    """
    size = (counts[1] - 1) * strides[1] + counts[2]
    square = inverse * inverse
    for i in range(2, counts[0] + 2):
        a = i * strides[0] + 2 * strides[1] + 2
        b = a + size
        wind0, wind1 = wind[a:b], wind[a + along : b + along]
        free0, free1 = free[a:b], free[a + along : b + along]
        thick0, thick1 = viscosity[a - along : b - along], viscosity[a:b]
        thick2 = viscosity[a + along : b + along]
        k0, k1 = k[a - along : b - along], k[a + along : b + along]
        e0, e1 = epsilon[a - along : b - along], epsilon[a + along : b + along]
        k_sum, k_lost = k_in[a:b], k_rate[a:b]
        e_sum, e_lost = epsilon_in[a:b], epsilon_rate[a:b]
        for n in range(size):
            from0, from1 = max(wind0[n], 0.0) * inverse, max(-wind1[n], 0.0) * inverse
            eddy0 = 0.5 * (thick0[n] + thick1[n]) - molecular
            eddy1 = 0.5 * (thick1[n] + thick2[n]) - molecular
            link0 = from0 + free0[n] * (eddy0 / SIGMA_K + molecular) * square
            link1 = from1 + free1[n] * (eddy1 / SIGMA_K + molecular) * square
            k_sum[n] += link0 * k0[n] + link1 * k1[n]
            k_lost[n] += link0 + link1
            link0 = from0 + free0[n] * (eddy0 / SIGMA_EPSILON + molecular) * square
            link1 = from1 + free1[n] * (eddy1 / SIGMA_EPSILON + molecular) * square
            e_sum[n] += link0 * e0[n] + link1 * e1[n]
            e_lost[n] += link0 + link1


@compiled
def strain(u, v, w, uc, vc, wc, free_x, free_y, free_z, counts, strides, inverse, result):
    """Put 2 S_ij S_ij of the mean flow into ``result``, one-sided beside what is shut. [1/s²]"""
    size = (counts[1] - 1) * strides[1] + counts[2]
    s0, s1 = strides[0], strides[1]
    ix, iy, iz = inverse
    for i in range(2, counts[0] + 2):
        a = i * s0 + 2 * s1 + 2
        b = a + size
        u0, u1, v0, v1 = u[a:b], u[a + s0 : b + s0], v[a:b], v[a + s1 : b + s1]
        w0, w1 = w[a:b], w[a + 1 : b + 1]
        fx0, fx1 = free_x[a:b], free_x[a + s0 : b + s0]
        fy0, fy1 = free_y[a:b], free_y[a + s1 : b + s1]
        fz0, fz1 = free_z[a:b], free_z[a + 1 : b + 1]
        x, y, z, out = uc[a:b], vc[a:b], wc[a:b], result[a:b]
        x_y0, x_y1 = uc[a - s1 : b - s1], uc[a + s1 : b + s1]
        x_z0, x_z1 = uc[a - 1 : b - 1], uc[a + 1 : b + 1]
        y_x0, y_x1 = vc[a - s0 : b - s0], vc[a + s0 : b + s0]
        y_z0, y_z1 = vc[a - 1 : b - 1], vc[a + 1 : b + 1]
        z_x0, z_x1 = wc[a - s0 : b - s0], wc[a + s0 : b + s0]
        z_y0, z_y1 = wc[a - s1 : b - s1], wc[a + s1 : b + s1]
        for n in range(size):
            ux, vy, wz = (u1[n] - u0[n]) * ix, (v1[n] - v0[n]) * iy, (w1[n] - w0[n]) * iz
            dx0, dy0, dz0 = fx0[n] * ix, fy0[n] * iy, fz0[n] * iz
            dx1, dy1, dz1 = fx1[n] * ix, fy1[n] * iy, fz1[n] * iz
            px = 1.0 / max(fx0[n] + fx1[n], 1.0)
            py = 1.0 / max(fy0[n] + fy1[n], 1.0)
            pz = 1.0 / max(fz0[n] + fz1[n], 1.0)
            uy = (dy1 * (x_y1[n] - x[n]) + dy0 * (x[n] - x_y0[n])) * py
            uz = (dz1 * (x_z1[n] - x[n]) + dz0 * (x[n] - x_z0[n])) * pz
            vx = (dx1 * (y_x1[n] - y[n]) + dx0 * (y[n] - y_x0[n])) * px
            vz = (dz1 * (y_z1[n] - y[n]) + dz0 * (y[n] - y_z0[n])) * pz
            wx = (dx1 * (z_x1[n] - z[n]) + dx0 * (z[n] - z_x0[n])) * px
            wy = (dy1 * (z_y1[n] - z[n]) + dy0 * (z[n] - z_y0[n])) * py
            shear = (uy + vx) * (uy + vx) + (uz + wx) * (uz + wx) + (vz + wy) * (vz + wy)
            out[n] = 2.0 * (ux * ux + vy * vy + wz * wz) + shear


@compiled
def advance(
    strained, fluid, viscosity, k, epsilon, k_in, k_rate, epsilon_in, epsilon_rate,
    wall_x, wall_y, wall_z, wall_distance, uc, vc, wc,
    counts, strides, molecular, friction, courant, slowest, least_k, least_epsilon,
):  # fmt: skip
    """Take one step of k and epsilon in place; sinks act at the step's end.

    Cells at a wall take their production from its friction and their epsilon from k (equilibrium of
    the log layer). ``wall_x`` and its like are shares of the walls of a cell square to each axis.
    """
    size = (counts[1] - 1) * strides[1] + counts[2]
    quarter, three_quarters = C_MU**0.25, C_MU**0.75
    for i in range(2, counts[0] + 2):
        a = i * strides[0] + 2 * strides[1] + 2
        b = a + size
        s2, air, thick = strained[a:b], fluid[a:b], viscosity[a:b]
        k_now, e_now = k[a:b], epsilon[a:b]
        k_sum, k_lost = k_in[a:b], k_rate[a:b]
        e_sum, e_lost = epsilon_in[a:b], epsilon_rate[a:b]
        at_x, at_y, at_z = wall_x[a:b], wall_y[a:b], wall_z[a:b]
        away, x, y, z = wall_distance[a:b], uc[a:b], vc[a:b], wc[a:b]
        for n in range(size):
            xx, yy, zz = x[n] * x[n], y[n] * y[n], z[n] * z[n]
            past = at_x[n] * math.sqrt(yy + zz) + at_y[n] * math.sqrt(xx + zz)
            past += at_z[n] * math.sqrt(xx + yy)
            at_wall = at_x[n] + at_y[n] + at_z[n] > 0.0
            root = math.sqrt(k_now[n])
            rubbed = friction * past * past * quarter * root / (KARMAN * away[n])
            free = min((thick[n] - molecular) * s2[n], _MOST_PRODUCTION * e_now[n])
            made = rubbed if at_wall else free
            turnover = e_now[n] / k_now[n]
            time = courant / (k_lost[n] + slowest)
            new_k = k_now[n] + time * (k_sum[n] - k_lost[n] * k_now[n] + made)
            new_k = max(new_k / (1.0 + time * turnover), least_k)
            time = courant / (e_lost[n] + slowest)
            new_e = e_now[n] + time * (e_sum[n] - e_lost[n] * e_now[n] + C_1 * made * turnover)
            new_e = new_e / (1.0 + time * C_2 * turnover)
            held = three_quarters * new_k * math.sqrt(new_k) / (KARMAN * away[n])
            new_e = max(held if at_wall else new_e, least_epsilon)
            k_now[n] = new_k if air[n] > 0.0 else k_now[n]
            e_now[n] = new_e if air[n] > 0.0 else e_now[n]


@compiled
def set_viscosity(k, epsilon, fluid, bound, molecular, relaxed, counts, strides, viscosity):
    """Move the viscosity of each cell of air towards that of its turbulence, within its bound."""
    size = (counts[1] - 1) * strides[1] + counts[2]
    for i in range(2, counts[0] + 2):
        a = i * strides[0] + 2 * strides[1] + 2
        b = a + size
        k_now, e_now, air, most, thick = (
            k[a:b],
            epsilon[a:b],
            fluid[a:b],
            bound[a:b],
            viscosity[a:b],
        )
        for n in range(size):
            eddy = min(C_MU * k_now[n] * k_now[n] / e_now[n], MOST_VISCOSITY)
            moved = thick[n] + relaxed * (molecular + eddy - thick[n])
            thick[n] = molecular + air[n] * (min(moved, molecular + most[n]) - molecular)
