"""What is plugged into what: circuits, outlets, strips, leads, timers and chains of lamps.

Only the structure and the running hours live here; loads and limits are in `core.power.loads`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from core.language import tr
from core.model import (
    Circuit,
    Design,
    Fan,
    Hours,
    Lamp,
    Lead,
    Outlet,
    Powered,
    Strip,
    Timer,
)
from core.power.profile import MINUTES, Device, FloatSeries, Periods, level_of, periods_of

ASSUMED = "assumed-circuit"
"""Id of the circuit taken for what nobody has plugged in, in a room without circuits."""

Electric = Powered | Strip | Lead | Timer
"""All parts that have a plug."""


def circuit_key(circuit_id: str) -> str:
    """Return the key of a circuit in the tree; it differs from every part's id."""
    return f"circuit/{circuit_id}"


@dataclass(frozen=True)
class PlugTree:
    """The plugs of a design as a tree whose roots are the circuits.

    Outlets, strips, leads, timers and devices go by their ids, circuits by `circuit_key`.
    """

    design: Design

    @cached_property
    def parts(self) -> Mapping[str, Electric]:
        """Every part with a plug, by id."""
        return {part.id: part for part in self.design.parts if isinstance(part, Electric)}

    @cached_property
    def circuits(self) -> tuple[Circuit, ...]:
        """The room's circuits; in a room without any, the assumed one."""
        given = self.design.room.circuits
        if given:
            return given
        breaker = self.design.practice.breaker
        return (Circuit(id=ASSUMED, name=tr("Assumed circuit"), breaker=breaker),)

    @property
    def taken(self) -> Circuit:
        """The circuit on which everything counts whose circuit is not known."""
        return self.circuits[0]

    @cached_property
    def unplugged(self) -> tuple[str, ...]:
        """Ids of devices, strips, leads and timers without a plug."""
        return tuple(part.id for part in self.parts.values() if part.plug is None)

    @cached_property
    def feeds(self) -> Mapping[str, str]:
        """What feeds each outlet and each part: the key of the next step towards the breaker."""
        found = {
            item.id: circuit_key(item.circuit or self.taken.id)
            for item in self.design.room.fixtures
            if isinstance(item, Outlet)
        }
        for part in self.parts.values():
            found[part.id] = part.plug.into if part.plug else circuit_key(self.taken.id)
        return found

    @cached_property
    def fed(self) -> Mapping[str, tuple[str, ...]]:
        """What each step feeds directly."""
        found: dict[str, list[str]] = {}
        for lower, upper in self.feeds.items():
            found.setdefault(upper, []).append(lower)
        return {upper: tuple(lower) for upper, lower in found.items()}

    def path(self, key: str) -> tuple[str, ...]:
        """Return the steps from the circuit down to ``key``, both included."""
        if key not in self._paths:
            upper = self.feeds.get(key)
            self._paths[key] = (key,) if upper is None else (*self.path(upper), key)
        return self._paths[key]

    @cached_property
    def _paths(self) -> dict[str, tuple[str, ...]]:
        """The paths that have been asked for."""
        return {}

    def circuit_of(self, key: str) -> Circuit:
        """Return the circuit that feeds a step."""
        return self._roots[self.path(key)[0]]

    @cached_property
    def _roots(self) -> Mapping[str, Circuit]:
        return {circuit_key(item.id): item for item in self.circuits}

    def voltage(self, circuit: Circuit) -> float:
        """[V]"""
        return circuit.voltage or self.design.practice.voltage

    def steps(self, key: str) -> Iterator[str]:
        """Iterate over a step and all below it, each before what it feeds."""
        yield key
        for lower in self.fed.get(key, ()):
            yield from self.steps(lower)

    def devices(self, key: str) -> tuple[Powered, ...]:
        """Return the devices that draw their power through a step, as `steps` meets them."""
        if key not in self._devices:
            part = self.parts.get(key)
            own = (part,) if isinstance(part, Powered) else ()
            below = (self.devices(lower) for lower in self.fed.get(key, ()))
            self._devices[key] = own + tuple(device for many in below for device in many)
        return self._devices[key]

    @cached_property
    def _devices(self) -> dict[str, tuple[Powered, ...]]:
        """The devices below each step that has been asked for."""
        return {}

    @cached_property
    def chains(self) -> tuple[tuple[Lamp, ...], ...]:
        """Lamps in series on one feed, the one at the feed first; single lamps are no chain.

        The lamps of a row count as linked to each other.
        """
        heads = (part for part in self.parts.values() if isinstance(part, Lamp))
        found = (self._chain(lamp) for lamp in heads if not self._is_link(lamp))
        return tuple(lamps for lamps in found if lamps_in(lamps) > 1)

    def _is_link(self, lamp: Lamp) -> bool:
        return isinstance(self.parts.get(self.feeds[lamp.id]), Lamp)

    def _chain(self, head: Lamp) -> tuple[Lamp, ...]:
        return tuple(part for part in self.devices(head.id) if isinstance(part, Lamp))

    def periods(self, part_id: str) -> Periods:
        """Return when a part has power and its own hours are on. [min of the day]"""
        hours = []
        for step in self.path(part_id):
            part = self.parts.get(step)
            if isinstance(part, Timer) or (isinstance(part, Powered) and step == part_id):
                hours.append(_spans(part.hours))
        return _common(tuple(hours))

    def device(self, part: Powered) -> Device:
        """Return a part as the load it is: its watts, its hours and those of its timers."""
        return Device(
            part.name,
            running_watts(part),
            part.power_factor,
            0,
            0,
            duty=1.0 if part.duty is None else part.duty,
            periods=self.periods(part.id),
            ramp=part.hours.ramp,
        )

    def level(self, part: Powered) -> FloatSeries:
        """Return the share of its power that a part's timers let through, by the minute. [0–1]"""
        return level_of(self.periods(part.id), part.hours.ramp)


def lamps_in(chain: tuple[Lamp, ...]) -> int:
    """Return how many lamps a chain has; each lamp of a row counts."""
    return sum(lamp.count for lamp in chain)


def count_of(part: Powered) -> int:
    """Return how many devices a part stands for: a row of lamps is one part."""
    return part.count if isinstance(part, Lamp) else 1


def full_watts(part: Powered) -> float:
    """Return a device's real power, undimmed, all lamps of a row together. [W]"""
    return part.watts * count_of(part)


def running_watts(part: Powered) -> float:
    """Return a device's real power as it is set: lamps fall with dimming, fans stay full. [W]"""
    return full_watts(part) * (part.dimming if isinstance(part, Lamp) else 1.0)


def slowed(part: Powered) -> bool:
    """Tell whether a part is a fan that is counted at more than it is set to."""
    return isinstance(part, Fan) and part.speed_setting < 1.0


@lru_cache(maxsize=512)
def _common(hours: tuple[Periods, ...]) -> Periods:
    """Return the periods in which all of some hours are on; none at all is ``()``."""
    on = np.ones(MINUTES, dtype=bool)
    for each in hours:
        on &= _on(each)
    return periods_of(on) if on.any() else ()


def _spans(hours: Hours) -> Periods:
    """Return some hours as plain numbers; none at all is the whole day. [min of the day]"""
    return tuple((period.on, period.off) for period in hours.periods)


def _on(periods: Periods) -> NDArray[np.bool_]:
    """Return the minutes of the day within some periods, shape (1440,)."""
    if not periods:
        return np.ones(MINUTES, dtype=bool)
    minute = np.arange(MINUTES)
    on = np.zeros(MINUTES, dtype=bool)
    for start, end in periods:
        length = (end - start) % MINUTES or MINUTES
        on |= (minute - start) % MINUTES < length
    return on
