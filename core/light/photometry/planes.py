"""From the half planes a file lists to half planes all round the lamp, and from types A and B to C.

Angles and tables in, angles and tables out; no text is read here.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.light.distribution import Distribution, cell, mix
from core.light.given import Flags, Floats

_FINEST, _COARSEST = 0.25, 0.5
"""Steps of gamma between which a turned distribution is sampled. [degrees]"""
_PLANE_STEP = 1.0
"""Step of C at which a turned distribution is sampled. [degrees]"""

Planes = tuple[Floats, Floats]


def closed(c: Floats, table: Floats) -> Planes:
    """Return planes all round as planes that start at 0 or are open there, never mirrored."""
    if c[0] == 0 and c.size > 1 and c[-1] < 360:
        return np.append(c, 360.0), np.vstack([table, table[:1]])
    if c[0] > 0 and c[-1] == 360:
        return np.insert(c, 0, 0.0), np.vstack([table[-1:], table])
    return c, table


def mirrored_at_c90(c: Floats, table: Floats) -> Planes:
    """Return planes all round from those on one side of the plane C90–C270. [degrees]"""
    every = np.round(np.concatenate([c, 180.0 - c]) % 360.0, 9)
    angles, first = np.unique(every, return_index=True)
    return closed(angles, np.vstack([table, table])[first])


def mirrored_at_zero(horizontal: Floats, table: Floats) -> Planes:
    """Return planes on both sides of the horizontal angle 0 from those on one. [degrees]"""
    return np.concatenate([-horizontal[:0:-1], horizontal]), np.vstack([table[:0:-1], table])


def turned(kind: str, horizontal: Floats, vertical: Floats, table: Floats) -> Distribution:
    """Return a distribution of type A or B about the axis at horizontal and vertical zero.

    Parameters
    ----------
    kind : str
        "A" or "B".
    horizontal, vertical : ndarray
        Rising, from −90 up to at most 90. [degrees]
    table : ndarray, shape (horizontal, vertical)

    Returns
    -------
    Distribution
        C0 is where the vertical angle rises to, C270 where the horizontal one does.

    References
    ----------
    .. [1] ANSI/IESNA LM-63-02, section 3 (planes share a vertical axis in type A, a horizontal one
       in type B; horizontal angles run clockwise).
    """
    gamma = np.arange(0.0, 90.0 + 1e-9, _gamma_step(horizontal, vertical))
    c = np.arange(0.0, 360.0 + 1e-9, _PLANE_STEP)
    angles = _TURN[kind](np.radians(c)[:, None], np.radians(gamma)[None, :])
    return Distribution(c, gamma, _read(horizontal, vertical, table, *angles))


def _gamma_step(horizontal: Floats, vertical: Floats) -> float:
    """Return the finest step of the source within limits, a whole part of 90. [degrees]"""
    finest = min(np.diff(horizontal).min(), np.diff(vertical).min())
    return float(90.0 / np.ceil(90.0 / np.clip(finest, _FINEST, _COARSEST)))


def _type_a(c: Floats, gamma: Floats) -> Planes:
    """Return horizontal and vertical angles where planes share the axis C0–C180. [degrees]"""
    ahead, up, right = _direction(c, gamma)
    return np.degrees(np.arctan2(right, ahead)), np.degrees(np.arcsin(up))


def _type_b(c: Floats, gamma: Floats) -> Planes:
    """Return horizontal and vertical angles where planes share the axis C90–C270. [degrees]"""
    ahead, up, right = _direction(c, gamma)
    return np.degrees(np.arcsin(right)), np.degrees(np.arctan2(up, ahead))


_TURN: dict[str, Callable[[Floats, Floats], Planes]] = {"A": _type_a, "B": _type_b}


def _direction(c: Floats, gamma: Floats) -> tuple[Floats, Floats, Floats]:
    """Return parts of a direction: along the axis, towards C0, towards C270."""
    ahead, up, right = np.cos(gamma), np.sin(gamma) * np.cos(c), -np.sin(gamma) * np.sin(c)
    return np.broadcast_to(np.maximum(ahead, 0.0), up.shape), up, right


def _read(
    rows: Floats, columns: Floats, table: Floats, row_at: Floats, column_at: Floats
) -> Floats:
    """Return the table linearly between its angles, and dark beyond them."""
    row, along = cell(rows, row_at)
    column, across = cell(columns, column_at)
    near = mix(table[row, column], table[row, column + 1], across)
    far = mix(table[row + 1, column], table[row + 1, column + 1], across)
    lit = _inside(rows, row_at) & _inside(columns, column_at)
    return np.where(lit, mix(near, far, along), 0.0)


def _inside(edges: Floats, values: Floats) -> Flags:
    slack = 1e-9
    return (values >= edges[0] - slack) & (values <= edges[-1] + slack)
