"""What each circuit, outlet, strip, lead, timer and chain of a design carries, and what it may.

Sentences about it are made in `core.power.reading`; the tree of plugs is in `core.power.tree`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.model import (
    Circuit,
    Cooler,
    DuctFan,
    Fogger,
    Heater,
    Lamp,
    Lead,
    Outlet,
    Powered,
    Strip,
    Timer,
)
from core.power.circuits import continuous_load
from core.power.leads import ChainLimits, chain_limits
from core.power.others import other_va
from core.power.profile import Device, FloatSeries, LoadProfile, load_profile
from core.power.tree import PlugTree, circuit_key, full_watts, lamps_in


@dataclass(frozen=True)
class StepLoad:
    """The load through one step between breaker and device.

    Attributes
    ----------
    kind : str
        ``"circuit"``, ``"outlet"``, ``"strip"``, ``"lead"`` or ``"timer"``.
    id, name : str
        Of the circuit, fixture or part.
    circuit : str
        Id of the circuit it hangs on.
    watts, va : float
        Coincident peak. [W], [VA]
    limit_va : float
        What it may carry of such loads. [VA]
    limit_a : float
        Its current limit, or the breaker's rating. [A]
    taken : bool
        Whether the limit is an assumption.
    other_va : float
        What of it other things take, which are not in the design. [VA]
    """

    kind: str
    id: str
    name: str
    circuit: str
    watts: float
    va: float
    limit_va: float
    limit_a: float
    taken: bool = False
    other_va: float = 0.0


@dataclass(frozen=True)
class ChainLoad:
    """A chain of lamps: how many there are, and how many each limit allows."""

    lamps: tuple[Lamp, ...]
    circuit: str
    count: int
    limits: ChainLimits | None
    watts: float
    va: float

    @property
    def most(self) -> float | None:
        """How many lamps the binding limit allows; None without one."""
        if self.limits is None or math.isinf(self.limits.least):
            return None
        return self.limits.least

    @property
    def head(self) -> Lamp:
        """The lamp at the feed."""
        return self.lamps[0]


class Loads:
    """The loads of a whole design.

    Attributes
    ----------
    tree : PlugTree
    devices : mapping
        Each device as a timed load, by part id.
    """

    def __init__(self, tree: PlugTree) -> None:
        self.tree = tree
        powered = [part for part in tree.parts.values() if isinstance(part, Powered)]
        self.devices: Mapping[str, Device] = {part.id: tree.device(part) for part in powered}
        self._levels = {key: device.level() for key, device in self.devices.items()}

    @cached_property
    def may_rest(self) -> tuple[str, ...]:
        """Ids of devices that a controller switches and whose duty nobody has given."""
        parts = (self.tree.parts[key] for key in self.devices)
        return tuple(
            part.id
            for part in parts
            if isinstance(part, Cooler | Heater | Fogger | DuctFan)
            and part.control is not None
            and part.duty is None
        )

    @cached_property
    def whole(self) -> LoadProfile:
        """The load of everything together."""
        return load_profile(self.devices.values(), self.tree.design.practice.voltage)

    def profile(self, circuit: Circuit) -> LoadProfile:
        """Return the load of what hangs on a circuit by this design."""
        parts = self.tree.devices(circuit_key(circuit.id))
        return load_profile([self.devices[p.id] for p in parts], self.tree.voltage(circuit))

    def peak(self, key: str) -> tuple[float, float]:
        """Return the coincident peak through a step. [W], [VA]"""
        watts, va = self.series(key)
        return float(watts.max()), float(va.max())

    def series(self, key: str) -> tuple[FloatSeries, FloatSeries]:
        """Return the load through a step in each minute, shapes (1440,). [W], [VA]"""
        watts, va = np.zeros((2, 1440))
        for part in self.tree.devices(key):
            device = self.devices[part.id]
            watts += device.watts * self._levels[part.id]
            va += device.apparent_power * self._levels[part.id]
        return watts, va

    def kwh_per_day(self, part_id: str) -> float:
        """Return the energy one device takes in a day. [kWh]"""
        device = self.devices[part_id]
        return float(device.watts * device.duty * self._levels[part_id].sum()) / 60_000

    def steps(self, circuit: Circuit) -> tuple[StepLoad, ...]:
        """Return a circuit and all it feeds that branches, each before what it feeds."""
        keys = list(self.tree.steps(circuit_key(circuit.id)))[1:]
        loaded = [key for key in keys if self.tree.devices(key)]
        found = [self._step(key, circuit) for key in loaded]
        return (self.breaker(circuit), *(step for step in found if step))

    def breaker(self, circuit: Circuit) -> StepLoad:
        """Return what the breaker of a circuit carries, other things on it included."""
        profile, voltage = self.profile(circuit), self.tree.voltage(circuit)
        factor = self.tree.design.practice.continuous_factor
        heaviest = continuous_load(profile, factor=factor)
        other = other_va(circuit, voltage)
        watts, va = profile.peak_watts + other, profile.peak_va + other
        counted = factor * heaviest.continuous_a + heaviest.other_a + circuit.other_load
        full = circuit.breaker * voltage
        limit = va * circuit.breaker / counted if counted > 0 else full
        return StepLoad(
            "circuit", circuit.id, circuit.name, circuit.id,
            watts, va, limit, circuit.breaker, other_va=other,
        )  # fmt: skip

    def _step(self, key: str, circuit: Circuit) -> StepLoad | None:
        thing = self.tree.design.by_id[key]
        if not isinstance(thing, Outlet | Strip | Lead | Timer):
            return None
        practice = self.tree.design.practice
        usual = practice.outlet_limit if isinstance(thing, Outlet) else practice.strip_limit
        amperes = thing.limit or usual
        watts, va = self.peak(key)
        limit = amperes * self.tree.voltage(circuit)
        taken = thing.limit is None
        return StepLoad(
            thing.kind, thing.id, thing.name, circuit.id, watts, va, limit, amperes, taken
        )

    def chains(self, circuit: Circuit) -> tuple[ChainLoad, ...]:
        """Return the chains of lamps on a circuit."""
        here = [c for c in self.tree.chains if self.tree.circuit_of(c[0].id) == circuit]
        return tuple(self._chain(lamps, circuit) for lamps in here)

    def _chain(self, lamps: tuple[Lamp, ...], circuit: Circuit) -> ChainLoad:
        watts, va = self.peak(lamps[0].id)
        limits = self._chain_limits(lamps, circuit)
        return ChainLoad(lamps, circuit.id, lamps_in(lamps), limits, watts, va)

    def _chain_limits(self, lamps: tuple[Lamp, ...], circuit: Circuit) -> ChainLimits | None:
        """Return the limits by the chain's mean lamp, undimmed; None where no maker gives one."""
        counts = [lamp.chain_most for lamp in lamps if lamp.chain_most is not None]
        currents = [lamp.chain_current for lamp in lamps if lamp.chain_current is not None]
        if not counts and not currents:
            return None
        count = lamps_in(lamps)
        watts = sum(full_watts(lamp) for lamp in lamps)
        va = sum(full_watts(lamp) / lamp.power_factor for lamp in lamps)
        feed = self._feed_limit(lamps[0].id, circuit)
        return chain_limits(
            watts / count,
            watts / va if va else 1.0,
            self.tree.voltage(circuit),
            feed,
            min(currents, default=feed),
            min(counts, default=None),
        )

    def _feed_limit(self, key: str, circuit: Circuit) -> float:
        """Return the least current limit between breaker and a part. [A]"""
        steps = [self._step(step, circuit) for step in self.tree.path(key)[1:]]
        return min([circuit.breaker, *(step.limit_a for step in steps if step)])
