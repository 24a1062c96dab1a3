"""Strokes along moving air in one drawing's plane: where they begin, how they bend, how long.

Plain numbers without Qt; `gui.overlay_air` paints them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from core.drawing.marks import AXES, View
from core.geometry import Rectangle

if TYPE_CHECKING:
    from core.air.fields import AirField

Floats = NDArray[np.float64]

PITCH = 21.0
"""Strokes begin this far apart, whatever the zoom. [px]"""
LEAST, MOST = 7.0, 30.0
"""Length of a stroke in air that hardly moves, and in air of `FULL` or more. [px]"""
FULL = 0.6
"""Speed from which strokes grow no longer. [m/s]"""
FAINTEST = 0.02
"""Air slower than this has no direction worth a stroke. [m/s]"""
WEIGHTS = ((0.5, 2.4), (0.3, 1.5), (0.0, 1.0))
"""Speed from which a stroke has its weight. [m/s, px]"""
MOST_STROKES = 1500
"""Strokes in one drawing; only a sheet on a very large screen comes near."""

_BENDS = 2
"""Straight pieces on either side of a stroke's middle."""
_MOST_PLANES = 12
_KEPT: WeakKeyDictionary[AirField, dict[tuple[View, float], Plane]] = WeakKeyDictionary()


def weight(speed: float) -> float:
    """Return how wide a stroke is drawn for a speed in m/s. [px]"""
    return next(width for least, width in WEIGHTS if speed >= least)


@dataclass(frozen=True, eq=False)
class Plane:
    """Velocity on a grid of places in one drawing's plane.

    Attributes
    ----------
    start, pitch : tuple of 2 floats
        First place and distance of places, across and up. [m]
    across, up : ndarray, shape (ups, acrosses)
        Velocity in the plane, 0 where there is no air. [m/s]
    speed : ndarray, shape (ups, acrosses)
        As it is read: the mean amount of velocity, along all three axes. [m/s]
    air : ndarray of bool
        Where there is air.
    """

    start: tuple[float, float]
    pitch: tuple[float, float]
    across: Floats
    up: Floats
    speed: Floats
    air: NDArray[np.bool_]


def plane_of(field: AirField, view: View, depth: float) -> Plane:
    """Return the plane of a drawing that lies ``depth`` m along the axis it looks along.

    It is kept as long as its field, since a drawing that is moved asks for the same one again.
    """
    kept = _KEPT.setdefault(field, {})
    if (view, depth) not in kept:
        if len(kept) >= _MOST_PLANES:
            kept.clear()
        kept[view, depth] = _plane(field, view, depth)
    return kept[view, depth]


def _plane(field: AirField, view: View, depth: float) -> Plane:
    axes = AXES[view]
    points, shape = points_of(field, view, depth)
    velocity = field.velocity_at(points)
    air = np.isfinite(velocity).all(axis=1)
    across, up, speed = (
        np.where(air, values, 0.0).reshape(shape)
        for values in (velocity[:, axes[0]], velocity[:, axes[1]], field.speed_at(points))
    )
    start = (float(points[0, axes[0]]), float(points[0, axes[1]]))
    spacing = field.flow.grid.spacing
    pitch = (spacing[axes[0]], spacing[axes[1]])
    return Plane(start, pitch, across, up, speed, air.reshape(shape))


def points_of(field: AirField, view: View, depth: float) -> tuple[Floats, tuple[int, ...]]:
    """Return the middles of a field's cells in a plane, row by row, and rows × columns. [m]"""
    axes = AXES[view]
    grid, corner = field.flow.grid, field.air.box.lo
    acrosses, ups = np.meshgrid(*(corner[axis] + grid.centres(axis) for axis in axes))
    points = np.full((ups.size, 3), depth)
    points[:, axes[0]], points[:, axes[1]] = acrosses.ravel(), ups.ravel()
    return points, ups.shape


@dataclass(frozen=True, eq=False)
class Strokes:
    """Strokes of one drawing.

    Attributes
    ----------
    lines : ndarray, shape (strokes, points, 2)
        From tail to head. [m]
    speeds : ndarray, shape (strokes,)
        In their middles. [m/s]
    """

    lines: Floats
    speeds: Floats


def strokes_in(plane: Plane, window: Rectangle, scale: float) -> Strokes:
    """Return the strokes of a plane within a window.

    They begin at places fixed in the room for each scale, so that nothing flickers while the
    drawing is moved.

    Parameters
    ----------
    plane : Plane
    window : Rectangle
        What is seen of the drawing. [m]
    scale : float
        [px/m]
    """
    seeds = _seeds(_common(plane, window), PITCH / scale)
    across, up, speed = _sample(plane, seeds)
    moving = speed >= FAINTEST
    seeds, speed = seeds[moving], speed[moving]
    flat = np.hypot(across[moving], up[moving])
    # Air that comes out of the drawing is foreshortened, as a stick would be.
    seen = np.clip(flat / np.maximum(speed, 1e-9), 0.3, 1.0)
    length = (LEAST + (MOST - LEAST) * np.minimum(1.0, speed / FULL)) * seen
    step = length / scale / (2 * _BENDS)
    ahead, behind = _follow(plane, seeds, step), _follow(plane, seeds, -step)
    lines = np.stack([*behind[::-1], seeds, *ahead], axis=1)
    return Strokes(lines, speed)


def _common(plane: Plane, window: Rectangle) -> Rectangle:
    ups, acrosses = plane.speed.shape
    left, bottom = (
        start - pitch / 2 for start, pitch in zip(plane.start, plane.pitch, strict=True)
    )
    right, top = left + acrosses * plane.pitch[0], bottom + ups * plane.pitch[1]
    return Rectangle(
        max(left, window.x0), max(bottom, window.y0), min(right, window.x1), min(top, window.y1)
    )


def _seeds(area: Rectangle, pitch: float) -> Floats:
    """Return places about ``pitch`` apart, not quite in rows, always the same for a pitch. [m]"""
    if area.x1 <= area.x0 or area.y1 <= area.y0:
        return np.empty((0, 2))
    pitch = max(pitch, math.sqrt((area.x1 - area.x0) * (area.y1 - area.y0) / MOST_STROKES))
    columns = np.arange(math.floor(area.x0 / pitch), math.ceil(area.x1 / pitch))
    rows = np.arange(math.floor(area.y0 / pitch), math.ceil(area.y1 / pitch))
    row, column = (each.ravel() for each in np.meshgrid(rows, columns, indexing="ij"))
    off = np.stack([_noise(column, row), _noise(row + 4099, column)], axis=1)
    places = (np.stack([column, row], axis=1) + 0.5 + 0.6 * (off - 0.5)) * pitch
    inside = (places >= (area.x0, area.y0)).all(axis=1) & (places <= (area.x1, area.y1)).all(axis=1)
    return places[inside]


def _noise(a: NDArray[np.int64], b: NDArray[np.int64]) -> Floats:
    """Return numbers from 0 to 1 that look random and are the same for the same a and b."""
    value = np.sin(a * 12.9898 + b * 78.233) * 43758.5453
    return np.asarray(value - np.floor(value))


def _sample(plane: Plane, places: Floats) -> tuple[Floats, Floats, Floats]:
    """Return velocity across and up, and its amount, 0 outside the air. [m/s]"""
    ups, acrosses = plane.speed.shape
    node = (places - plane.start) / plane.pitch
    near = np.rint(node).astype(int)
    inside = (near >= 0).all(axis=1) & (near[:, 0] < acrosses) & (near[:, 1] < ups)
    near = np.clip(near, 0, (acrosses - 1, ups - 1))
    inside &= plane.air[near[:, 1], near[:, 0]]
    node = np.clip(node, 0, (acrosses - 1, ups - 1))
    low = np.minimum(node.astype(int), np.maximum((acrosses - 2, ups - 2), 0))
    high = np.minimum(low + 1, (acrosses - 1, ups - 1))
    part = node - low
    found = []
    for values in (plane.across, plane.up, plane.speed):
        lower, upper = (
            values[row, low[:, 0]] * (1 - part[:, 0]) + values[row, high[:, 0]] * part[:, 0]
            for row in (low[:, 1], high[:, 1])
        )
        found.append((lower * (1 - part[:, 1]) + upper * part[:, 1]) * inside)
    return found[0], found[1], found[2]


def _follow(plane: Plane, places: Floats, step: Floats) -> list[Floats]:
    """Return the places reached along the flow, step by step; a stroke ends where the air does."""
    found = []
    for _ in range(_BENDS):
        middle = places + _direction(plane, places) * (step / 2)[:, None]
        places = places + _direction(plane, middle) * step[:, None]
        found.append(places)
    return found


def _direction(plane: Plane, places: Floats) -> Floats:
    across, up, _ = _sample(plane, places)
    amount = np.hypot(across, up)
    scale = np.where(amount > 1e-6, 1 / np.maximum(amount, 1e-6), 0.0)
    return np.stack([across * scale, up * scale], axis=1)
