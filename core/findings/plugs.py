"""Where another plug finds a free socket and room for its load, and what dimming would free.

Limits themselves are worked out in `core.power.loads`, what may hang on what in
`core.power.wiring`.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from core.model import Circuit, Heater, Lamp, Lead, Outlet, Powered, Strip, Timer
from core.power.device_rows import NAMEPLATE
from core.power.loads import Loads
from core.power.others import counted_other
from core.power.profile import MINUTES, FloatSeries, Periods, periods_of
from core.power.reading import PowerReadings
from core.power.tree import Electric, PlugTree, circuit_key
from core.power.wiring import Socket, sockets
from core.study import Study

HEAVY = 1000.0
"""From this power on a device goes into an outlet of its own, not a strip (common practice). [W]"""

_NOTHING: frozenset[str] = frozenset()


class Sockets:
    """What is plugged in, and where something else could be.

    Loads are held against limits with nameplates 5 % too low, so that what is moved does not come
    back as a borderline load; everything counts as continuous there, which is the safe side.
    """

    def __init__(self, study: Study, power: PowerReadings) -> None:
        self.study = study
        self.tree: PlugTree = power.tree

    @cached_property
    def loads(self) -> Loads:
        """The loads by the minute."""
        return Loads(self.tree)

    def for_part(
        self,
        part: Electric,
        but: frozenset[str] = _NOTHING,
        promised: dict[str, int] | None = None,
        *,
        any_hours: bool = False,
    ) -> Socket | None:
        """Return the nearest socket with room for a part and all it feeds, or None.

        ``but`` are steps that its way to the breaker must not use; ``promised`` counts the plugs
        that each socket has been given beyond those in it. ``any_hours`` lets the part lose its
        timer, or come behind another one.
        """
        free = (
            socket
            for socket in sockets(self.tree)
            if self._is_free(socket, promised or {})
            and self._may_feed(socket, part)
            and (any_hours or self._same_hours(socket, part))
            and not but & {*self.tree.path(socket.id)}
            and self._has_room(socket, part)
        )
        return min(free, key=lambda socket: self._away(socket, part), default=None)

    def _is_free(self, socket: Socket, promised: dict[str, int]) -> bool:
        taken = len(self.tree.fed.get(socket.id, ())) + promised.get(socket.id, 0)
        return taken < socket.sockets

    def _may_feed(self, socket: Socket, part: Electric) -> bool:
        """Tell whether a part may hang on a socket at all."""
        if part.id in self.tree.path(socket.id) or (isinstance(socket, Lead) and socket.coiled):
            return False
        alone = isinstance(part, Strip | Lead) or self.loads.peak(part.id)[0] >= HEAVY
        return isinstance(socket, Outlet) if alone else True

    def _same_hours(self, socket: Socket, part: Electric) -> bool:
        """Tell whether a part would run at its hours on a socket."""
        there = self.tree.path(socket.id)
        return self._timers(there) == self._timers(self.tree.path(part.id)[:-1])

    def _timers(self, path: tuple[str, ...]) -> set[str]:
        return {step for step in path if isinstance(self.tree.parts.get(step), Timer)}

    def _away(self, socket: Socket, part: Electric) -> float:
        place = self.study.placement
        here, there = place.box(part.id).centre, place.box(socket.id).centre
        return sum((a - b) ** 2 for a, b in zip(here, there, strict=True))

    def _has_room(self, socket: Socket, part: Electric) -> bool:
        added = self.loads.series(part.id)[1]
        already = {*self.tree.path(part.id)}
        new = [step for step in self.tree.path(socket.id) if step not in already]
        return all(self.fits(step, self.loads.series(step)[1] + added) for step in new)

    def fits(self, step: str, va: FloatSeries) -> bool:
        """Tell whether a step may carry an apparent power by the minute. [VA]"""
        return bool(va.max() <= self.limit(step))

    def limit(self, step: str) -> float:
        """Return what a step may carry for long, with nameplates 5 % too low. [VA]"""
        circuit = self.tree.circuit_of(step)
        voltage = self.tree.voltage(circuit)
        if step == circuit_key(circuit.id):
            return self._breaker(circuit) * voltage
        passing = self.loads.passing(step, circuit)
        return np.inf if passing is None else passing.limit_va / (1 + NAMEPLATE)

    def _breaker(self, circuit: Circuit) -> float:
        """[A]"""
        factor = self.tree.design.practice.continuous_factor
        other = counted_other(circuit, factor)
        return max(0.0, circuit.breaker / (1 + NAMEPLATE) - other) / factor

    def relief(self, step: str) -> tuple[Electric, Socket] | None:
        """Return the smallest part whose move to another socket brings a step within its limit."""
        whole = self.loads.series(step)[1]
        movable = [part for part in self._below(step) if self._moves(part)]
        for part in sorted(movable, key=lambda item: self.loads.peak(item.id)[1]):
            if self.fits(step, whole - self.loads.series(part.id)[1]):
                socket = self.for_part(part, frozenset({step}))
                if socket is not None:
                    return part, socket
        return None

    def _below(self, step: str) -> list[Electric]:
        found = [self.tree.parts.get(key) for key in self.tree.steps(step) if key != step]
        return [part for part in found if part is not None]

    def _moves(self, part: Electric) -> bool:
        """Tell whether a part hangs on a socket; lamps in a chain hang on their neighbour."""
        return not isinstance(self.tree.parts.get(self.tree.feeds[part.id]), Powered)

    def rested(self, step: str) -> tuple[Heater, Periods] | None:
        """Return a heater and the hours without lamps at which it would spare a step.

        None where no heater below it is enough, or the lamps are never off. [min of the day]
        """
        devices = self.tree.devices(step)
        lit = sum((self.loads.devices[p.id].level() for p in devices if isinstance(p, Lamp)),
                  np.zeros(MINUTES))  # fmt: skip
        dark = lit <= 0
        whole = self.loads.series(step)[1]
        for part in devices:
            if isinstance(part, Heater) and lit.any():
                own = self.loads.series(part.id)[1]
                spared = dark & (own > 0)
                if spared.any() and self.fits(step, whole - np.where(dark, 0.0, own)):
                    return part, periods_of(spared)
        return None

    def dimmed(self, step: str) -> float | None:
        """Return the share of their present light to which all lamps below a step must go.

        Returns
        -------
        float or None
            None where even dark lamps leave too much. [1]
        """
        watts = np.zeros((2, 1440))
        for part in self.tree.devices(step):
            device = self.loads.devices[part.id]
            row = 0 if isinstance(part, Lamp) else 1
            watts[row] += device.apparent_power * device.level()
        lamps, others = watts
        lit = lamps > 0
        if not lit.any() or not self.fits(step, others):
            return None
        return float(((self.limit(step) - others[lit]) / lamps[lit]).min())
