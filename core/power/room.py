"""How much more may be plugged in at each place: the room left at the worst minute of the day.

Limits themselves are worked out in `core.power.loads`; whether a plug may hang somewhere at all,
in `core.power.wiring`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from core.model import Circuit
from core.power.loads import Loads
from core.power.others import counted_other
from core.power.profile import FloatSeries, Periods, periods_of
from core.power.tree import circuit_key
from core.power.wiring import sockets

_ROUNDING = 1e-9


@dataclass(frozen=True)
class Room:
    """What may be added at one place, held against its own limit and all limits above it.

    Attributes
    ----------
    key : str
        The circuit's key in the tree of plugs, or the id of an outlet, strip, lead or timer.
    va : float
        What may run for three hours or more; 0 where nothing may. [VA]
    short_va : float
        What may run for less than three hours. [VA]
    binding : str
        Key of the step whose limit is the nearest.
    at : tuple of (on, off)
        The minutes of the day at which least is left there.
    free : int or None
        Sockets without a plug; None for a circuit.
    """

    key: str
    va: float
    short_va: float
    binding: str
    at: Periods
    free: int | None = None


@dataclass(frozen=True, eq=False)
class _Left:
    """What one step by itself leaves in each minute, shape (1440,), and what of it may last."""

    va: FloatSeries
    factor: float

    @cached_property
    def least(self) -> float:
        """[VA]"""
        return max(0.0, float(self.va.min()))

    @cached_property
    def at(self) -> Periods:
        """The minutes at which least is left."""
        return periods_of(self.va <= self.va.min() + _ROUNDING * max(1.0, abs(self.va.max())))


def rooms(loads: Loads) -> Mapping[str, Room]:
    """Return the room left on every circuit and at everything that takes plugs, by key."""
    tree = loads.tree
    left = {circuit_key(item.id): _on_breaker(loads, item) for item in tree.circuits}
    free: dict[str, int] = {}
    for socket in sockets(tree):
        left[socket.id] = _at_socket(loads, socket.id)
        free[socket.id] = max(0, socket.sockets - len(tree.fed.get(socket.id, ())))
    return {key: _room(loads, key, left, free.get(key)) for key in left}


def spare(loads: Loads, step: str, added: FloatSeries) -> float:
    """Return what one step by itself would leave with something more on it. [VA]

    Parameters
    ----------
    loads : Loads
    step : str
        Key of a circuit, or id of an outlet, strip, lead or timer; anything else has no limit.
    added : ndarray, shape (1440,)
        The load that comes to it, taken as lasting. [VA]

    Returns
    -------
    float
        Negative where it would be overloaded. [VA]
    """
    circuit = loads.tree.circuit_of(step)
    if step == circuit_key(circuit.id):
        left = _on_breaker(loads, circuit)
    elif loads.passing(step, circuit) is not None:
        left = _at_socket(loads, step)
    else:
        return math.inf
    return float((left.va - left.factor * added).min())


def _on_breaker(loads: Loads, circuit: Circuit) -> _Left:
    profile, voltage = loads.profile(circuit), loads.tree.voltage(circuit)
    factor = loads.tree.design.practice.continuous_factor
    lasting = profile.continuous_va
    counted = factor * lasting + (profile.va - lasting)
    other = counted_other(circuit, factor) * voltage
    return _Left(circuit.breaker * voltage - other - counted, factor)


def _at_socket(loads: Loads, key: str) -> _Left:
    step = loads.passing(key, loads.tree.circuit_of(key))
    assert step is not None  # sockets have limits
    return _Left(step.limit_va - loads.series(key)[1], 1.0)


def _room(loads: Loads, key: str, left: Mapping[str, _Left], free: int | None) -> Room:
    """Return the least of what a step and all above it leave; a coming load may need each."""
    path = [step for step in loads.tree.path(key) if step in left]
    binding = min(reversed(path), key=lambda step: left[step].least / left[step].factor)
    va = left[binding].least / left[binding].factor
    short = min(left[step].least for step in path)
    return Room(key, va, short, binding, left[binding].at, free)
