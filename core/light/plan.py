"""What has to be computed for each pair of emitter and receiver group, sorted out beforehand.

Decides which obstacles matter and how finely a lit face is divided; computes no light itself, so
the compiled rows and their plain twin follow one and the same plan.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.light.emitters import LAMBERTIAN, STRIP, Emitters
from core.light.given import Flags, Floats, Wholes
from core.light.obstacles import TOUCH, Obstacles
from core.light.receivers import Receivers

STEPS_PER_DISTANCE = 6.0
"""A lit face is divided into steps of at most its distance over this, where all must be exact."""

_MOST_ON_BOARD, _MOST_ON_STRIP = 16, 64
"""Most steps along one side of a board, and along a strip."""


@dataclass(frozen=True, eq=False)
class Plan:
    """Instructions for every pair, emitters down and groups across.

    Attributes
    ----------
    passing : ndarray, shape (emitters, groups)
        Share left by obstacles that lie right across the way of all rays; 0 also where the two
        do not face each other, so that nothing needs to be computed. [0–1]
    steps_u, steps_v : ndarray of int64, shape (emitters, groups)
        Number of samples along the sides of the lit face, 1 or even.
    start : ndarray of int64, shape (emitters * groups + 1,)
        Where the list of a pair's obstacles starts in ``obstacle``.
    obstacle : ndarray of int64
        Obstacles that some rays of the pair may meet and others not.
    """

    passing: Floats
    steps_u: Wholes
    steps_v: Wholes
    start: Wholes
    obstacle: Wholes


def plan(
    emitters: Emitters, receivers: Receivers, obstacles: Obstacles,
    steps: float = STEPS_PER_DISTANCE,
) -> Plan:  # fmt: skip
    """Return the plan for all pairs of emitters and receiver groups.

    A lit face is divided into steps of at most its distance over ``steps``; behind obstacles into
    that many at least, since they may hide any part of it.
    """
    low = emitters.centre - emitters.reach
    high = emitters.centre + emitters.reach
    lit = _facing(emitters, receivers, low, high)
    between = _between(low, high, receivers, obstacles, lit)
    between &= (obstacles.owner != emitters.owner[:, None])[:, None, :] | (obstacles.owner < 0)
    lamp, group, box = np.nonzero(between)
    missed, covered = _outline(
        (low[lamp], high[lamp]),
        (receivers.low[group], receivers.high[group]),
        (obstacles.low[box], obstacles.high[box]),
        box < obstacles.boxes,
    )
    passing = lit.astype(np.float64)
    across = covered & ~missed
    np.multiply.at(passing, (lamp[across], group[across]), obstacles.transmittance[box[across]])
    partly = ~missed & ~covered & (passing[lamp, group] > 0)
    pair = lamp[partly] * receivers.groups + group[partly]
    counts = np.bincount(pair, minlength=emitters.count * receivers.groups)
    start = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
    steps_u, steps_v = _steps(emitters, low, high, receivers, steps)
    # A spread without a closed form is sampled alike with and without obstacles.
    sampled = (counts.reshape(lit.shape) > 0) | (emitters.spread != LAMBERTIAN)[:, None]
    least = 2 * int(np.ceil(steps / 2)) * sampled
    has_u, has_v = (np.abs(half).max(axis=1) > 0 for half in (emitters.half_u, emitters.half_v))
    steps_u = np.maximum(steps_u, least * has_u[:, None])
    steps_v = np.maximum(steps_v, least * has_v[:, None])
    return Plan(passing, steps_u, steps_v, start, box[partly].astype(np.int64))


def _facing(emitters: Emitters, receivers: Receivers, low: Floats, high: Floats) -> Flags:
    """Say which groups have a part before the emitter, and face it in some part."""
    ahead = emitters.frame[:, 2][:, None]
    group_low, group_high = receivers.low[None], receivers.high[None]
    farthest = np.where(ahead > 0, group_high, group_low) - emitters.centre[:, None]
    before = (farthest * ahead).sum(axis=2) > 0
    facing = receivers.facing[None]
    nearest = np.where(facing > 0, high[:, None] - group_low, low[:, None] - group_high)
    several = ~receivers.facing.any(axis=1)
    return before & (((nearest * facing).sum(axis=2) > 0) | several)


def _between(
    low: Floats, high: Floats, receivers: Receivers, obstacles: Obstacles, lit: Flags
) -> Flags:
    """Say which obstacles reach into the box round an emitter and a group, of pairs that face."""
    reaches = np.repeat(lit[:, :, None], obstacles.count, axis=2)
    for axis in range(3):
        hull_low = np.minimum(low[:, None, axis], receivers.low[:, axis])[:, :, None]
        hull_high = np.maximum(high[:, None, axis], receivers.high[:, axis])[:, :, None]
        reaches &= obstacles.high[:, axis] > hull_low + TOUCH
        reaches &= obstacles.low[:, axis] < hull_high - TOUCH
    return reaches


_Box = tuple[Floats, Floats]
"""Lowest and highest corners, shape (cases, 3)."""


def _outline(lamp: _Box, group: _Box, box: _Box, upright: Flags) -> tuple[Flags, Flags]:
    """Say which obstacles all rays of a pair miss, and which all of them meet.

    At a height between the two the rays fill a rectangle that blends from the group's to the
    lamp's, for lamps above a group. An obstacle beside that rectangle at all its heights is
    missed by every ray; an ``upright`` one that holds the whole rectangle at a single height is
    met by every ray.
    """
    apart = lamp[0][:, 2] > group[1][:, 2] + TOUCH
    bottom, _ = _way_up(box[0][:, 2], group, lamp)
    _, top = _way_up(box[1][:, 2], group, lamp)
    missed = np.zeros_like(apart)
    covered = apart & upright & _strictly_between(box, group, lamp)
    middle = _way_up((box[0][:, 2] + box[1][:, 2]) / 2, group, lamp)
    for axis in (0, 1):
        least, most = _span(axis, bottom, top, group, lamp)
        beside = (box[0][:, axis] >= most - TOUCH) | (box[1][:, axis] <= least + TOUCH)
        missed |= apart & beside & (most - least > TOUCH)
        least, most = _span(axis, *middle, group, lamp)
        covered &= (box[0][:, axis] <= least) & (box[1][:, axis] >= most)
    return missed, covered


def _way_up(height: Floats, group: _Box, lamp: _Box) -> tuple[Floats, Floats]:
    """Return the least and the greatest share of the way up that a ray has come at ``height``."""
    floor, ceiling = group[0][:, 2], lamp[1][:, 2]
    near, far = group[1][:, 2], lamp[0][:, 2]
    with np.errstate(divide="ignore", invalid="ignore"):
        least = np.minimum((height - near) / (ceiling - near), (height - near) / (far - near))
        most = np.maximum((height - floor) / (ceiling - floor), (height - floor) / (far - floor))
    return np.clip(least, 0.0, 1.0), np.clip(most, 0.0, 1.0)


def _span(axis: int, start: Floats, end: Floats, group: _Box, lamp: _Box) -> tuple[Floats, Floats]:
    """Return the extent of the rays along one axis over a stretch of the way up."""
    low, high = group[0][:, axis], group[1][:, axis]
    rise_low, rise_high = lamp[0][:, axis] - low, lamp[1][:, axis] - high
    least = low + np.minimum(rise_low * start, rise_low * end)
    most = high + np.maximum(rise_high * start, rise_high * end)
    return least, most


def _strictly_between(box: _Box, group: _Box, lamp: _Box) -> Flags:
    above = box[0][:, 2] > group[1][:, 2] + TOUCH
    return above & (box[1][:, 2] < lamp[0][:, 2] - TOUCH)


def _steps(
    emitters: Emitters, low: Floats, high: Floats, receivers: Receivers, steps: float
) -> tuple[Wholes, Wholes]:
    """Return samples along both sides: even numbers that keep a step to distance / ``steps``."""
    gap = np.maximum(low[:, None] - receivers.high, receivers.low - high[:, None])
    distance = np.linalg.norm(np.maximum(gap, 0.0), axis=2)
    most = np.where(emitters.form == STRIP, _MOST_ON_STRIP, _MOST_ON_BOARD)[:, None]
    sides = [
        2 * np.linalg.norm(half, axis=1)[:, None] for half in (emitters.half_u, emitters.half_v)
    ]
    wanted = [side * steps / np.maximum(distance, 1e-6) for side in sides]
    even = [2 * np.ceil(np.minimum(count, most) / 2 - 1e-9).astype(np.int64) for count in wanted]
    return np.maximum(even[0], 1), np.maximum(even[1], 1)
