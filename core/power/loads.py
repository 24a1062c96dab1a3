"""What each circuit, outlet, strip, lead, timer and chain of a design carries, and what it may.

Sentences about it are made in `core.power.reading`; the tree of plugs is in `core.power.tree`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from core.model import (
    Circuit,
    Lamp,
    Lead,
    Outlet,
    Powered,
    Strip,
    Timer,
)
from core.power.circuits import continuous_load
from core.power.expected import DeviceDay, is_switched
from core.power.leads import ChainLimits, chain_limits
from core.power.others import counted_other, other_va
from core.power.profile import (
    MINUTES,
    Device,
    FloatSeries,
    LoadProfile,
    Periods,
    continuous_part,
    full_minutes,
    lasting_level,
    level_of,
    load_profile,
)
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

    Devices of the same hours share one row of levels, so that a step's load is a weighted sum of
    few rows.

    Parameters
    ----------
    tree : PlugTree
    days : mapping, optional
        What the climate reading expects of the devices it knows, by part id.

    Attributes
    ----------
    tree : PlugTree
    devices : mapping
        Each device as a timed load, by part id.
    """

    def __init__(self, tree: PlugTree, days: Mapping[str, DeviceDay] | None = None) -> None:
        self.tree = tree
        self._days = days or {}
        self._profiles: dict[str, LoadProfile] = {}
        self._passing: dict[str, StepLoad | None] = {}
        powered = [part for part in tree.parts.values() if isinstance(part, Powered)]
        self.devices: Mapping[str, Device] = {part.id: tree.device(part) for part in powered}

    @cached_property
    def may_rest(self) -> tuple[str, ...]:
        """Ids of devices that a controller switches and of whose duty nothing is known."""
        parts = (self.tree.parts[key] for key in self.devices if key not in self._days)
        return tuple(part.id for part in parts if is_switched(part))

    @property
    def by_climate(self) -> tuple[str, ...]:
        """Ids of devices whose duty is the climate reading's."""
        return tuple(key for key in self.devices if key in self._days)

    @cached_property
    def whole(self) -> LoadProfile:
        """The load of everything together, as it is expected."""
        roots = [circuit_key(circuit.id) for circuit in self.tree.circuits]
        weights = np.sum([self._weights[key] for key in roots if key in self._weights], axis=0)
        profile = self._profile(weights, self.tree.design.practice.voltage)
        return replace(profile, mean_watts=self._expected(profile.mean_watts))

    def _expected(self, by_duty: FloatSeries) -> FloatSeries:
        """Return the mean load with the climate reading's devices as that expects them."""
        mean = by_duty.copy()
        for key in self.by_climate:
            device = self.devices[key]
            mean += self._days[key].watts - device.watts * device.duty * device.level()
        return mean

    def profile(self, circuit: Circuit) -> LoadProfile:
        """Return the load of what hangs on a circuit by this design, at the duties entered."""
        if circuit.id not in self._profiles:
            weights = self._weights.get(circuit_key(circuit.id), np.zeros((3, len(self._rows))))
            self._profiles[circuit.id] = self._profile(weights, self.tree.voltage(circuit))
        return self._profiles[circuit.id]

    def _profile(self, weights: FloatSeries, voltage: float) -> LoadProfile:
        """Return the load of some weights of the levels, as `load_profile` would of the devices."""
        if not self._rows:
            return load_profile((), voltage)
        watts, va, mean_watts = weights @ self._levels
        lasting = weights[1] @ np.vstack([lasting_level(*key) for key in self._rows])
        return LoadProfile(voltage, watts, va, mean_watts, continuous_part(lasting, va))

    @cached_property
    def _rows(self) -> Mapping[tuple[Periods, float], int]:
        """The place of each device's hours among the rows of levels."""
        hours = dict.fromkeys((one.all_periods, one.ramp) for one in self.devices.values())
        return {key: place for place, key in enumerate(hours)}

    @cached_property
    def _levels(self) -> FloatSeries:
        """Shape (rows, 1440)."""
        rows = [level_of(*key) for key in self._rows]
        return np.vstack(rows) if rows else np.zeros((0, MINUTES))

    @cached_property
    def _differing(self) -> FloatSeries:
        """The levels at the minutes at which any of them changes, shape (rows, few)."""
        changes = np.any(self._levels[:, 1:] != self._levels[:, :-1], axis=0)
        return self._levels[:, np.concatenate([[True], changes])]

    @cached_property
    def _weights(self) -> Mapping[str, FloatSeries]:
        """Watts, volt-amperes and mean watts through each step by row, shapes (3, rows)."""
        found: dict[str, FloatSeries] = {}
        for key, device in self.devices.items():
            row = self._rows[device.all_periods, device.ramp]
            share = (device.watts, device.apparent_power, device.watts * device.duty)
            for step in self.tree.path(key):
                if step not in found:
                    found[step] = np.zeros((3, len(self._rows)))
                found[step][:, row] += share
        return found

    @cached_property
    def _peaks(self) -> Mapping[str, tuple[float, float]]:
        """The peak through each step that carries something. [W], [VA]"""
        if not self._weights:
            return {}
        weights = np.stack(list(self._weights.values()))[:, :2]
        most = (weights @ self._differing).max(axis=2).tolist()
        return {key: (watts, va) for key, (watts, va) in zip(self._weights, most, strict=True)}

    def peak(self, key: str) -> tuple[float, float]:
        """Return the coincident peak through a step. [W], [VA]"""
        return self._peaks.get(key, (0.0, 0.0))

    def series(self, key: str) -> tuple[FloatSeries, FloatSeries]:
        """Return the load through a step in each minute, shapes (1440,). [W], [VA]"""
        if key not in self._weights:
            return np.zeros(MINUTES), np.zeros(MINUTES)
        watts, va = self._weights[key][:2] @ self._levels
        return watts, va

    def expected(self, part_id: str) -> FloatSeries | None:
        """Return the watts by the minute that the climate reading expects; None: by its duty."""
        day = self._days.get(part_id)
        return day.watts if day is not None else None

    def kwh_per_day(self, part_id: str) -> float:
        """Return the energy one device takes in a day. [kWh]"""
        if part_id in self._days:
            return float(self._days[part_id].watts.sum()) / 60_000
        device = self.devices[part_id]
        return device.watts * device.duty * full_minutes(device.all_periods, device.ramp) / 60_000

    def duty_range(self, part_id: str) -> tuple[float, float]:
        """Return the factors between which a device's energy lies, nameplates taken as right."""
        if part_id in self.may_rest:
            return 0.0, 1.0
        day = self._days.get(part_id)
        if day is None:
            return 1.0, 1.0
        device, drawn = self.devices[part_id], float(day.watts.sum())
        full = device.watts * full_minutes(device.all_periods, device.ramp)
        return min(day.low, 1.0), max(1.0, min(day.high, full / drawn if drawn > 0 else 1.0))

    def steps(self, circuit: Circuit) -> tuple[StepLoad, ...]:
        """Return a circuit and all on it that takes plugs, each before what it feeds."""
        keys = list(self.tree.steps(circuit_key(circuit.id)))[1:]
        found = [self.passing(key, circuit) for key in keys]
        return (self.breaker(circuit), *(step for step in found if step))

    def breaker(self, circuit: Circuit) -> StepLoad:
        """Return what the breaker of a circuit carries, other things on it included."""
        profile, voltage = self.profile(circuit), self.tree.voltage(circuit)
        factor = self.tree.design.practice.continuous_factor
        heaviest = continuous_load(profile, factor=factor)
        other = other_va(circuit, voltage)
        watts, va = profile.peak_watts + other, profile.peak_va + other
        counted = factor * heaviest.continuous_a + heaviest.other_a
        counted += counted_other(circuit, factor)
        full = circuit.breaker * voltage
        limit = va * circuit.breaker / counted if counted > 0 else full
        return StepLoad(
            "circuit", circuit.id, circuit.name, circuit.id,
            watts, va, limit, circuit.breaker, other_va=other,
        )  # fmt: skip

    def passing(self, key: str, circuit: Circuit) -> StepLoad | None:
        """Return the load through what takes plugs; None for devices."""
        if key not in self._passing:
            self._passing[key] = self._through(key, circuit)
        return self._passing[key]

    def _through(self, key: str, circuit: Circuit) -> StepLoad | None:
        thing = self.tree.design.by_id[key]
        if not isinstance(thing, Outlet | Strip | Lead | Timer):
            return None
        amperes, taken = self._limit(thing)
        watts, va = self.peak(key)
        limit = amperes * self.tree.voltage(circuit)
        return StepLoad(
            thing.kind, thing.id, thing.name, circuit.id, watts, va, limit, amperes, taken
        )

    def _limit(self, thing: Outlet | Strip | Lead | Timer) -> tuple[float, bool]:
        """Return what something may carry, and whether it was taken because nobody said. [A]

        What hangs on an outlet by one plug may take the practice's share of that outlet.
        """
        practice = self.tree.design.practice
        usual = practice.outlet_limit if isinstance(thing, Outlet) else practice.strip_limit
        own, taken = thing.limit or usual, thing.limit is None
        above = self.tree.design.by_id.get(self.tree.feeds[thing.id])
        if not isinstance(above, Outlet):
            return own, taken
        by_plug = practice.one_plug * (above.limit or practice.outlet_limit)
        return (own, taken) if own <= by_plug else (by_plug, above.limit is None)

    def chains(self, circuit: Circuit) -> tuple[ChainLoad, ...]:
        """Return the chains of lamps on a circuit."""
        return tuple(chain for chain in self._all_chains if chain.circuit == circuit.id)

    @cached_property
    def _all_chains(self) -> tuple[ChainLoad, ...]:
        chains = self.tree.chains
        return tuple(self._chain(lamps, self.tree.circuit_of(lamps[0].id)) for lamps in chains)

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
        steps = [self.passing(step, circuit) for step in self.tree.path(key)[1:]]
        return min([circuit.breaker, *(step.limit_a for step in steps if step)])
