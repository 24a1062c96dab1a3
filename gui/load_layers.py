"""A day's load in layers, devices of one kind and the same hours together, and its limit.

The series come from `core.power`; the ribbon (`gui.ribbon_lines`) and the chart of a day's load
(`gui.load_chart`) draw them, the key of power lists them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from core.language import tr
from core.power.profile import MINUTES, FloatSeries

if TYPE_CHECKING:
    from core.power.device_rows import DeviceLoad
    from core.power.reading import PowerStep
    from core.readings import Readings

_ALIKE = {
    "board": "{count} boards",
    "tube": "{count} tubes",
    "spot": "{count} spots",
    "fan": "{count} fans",
    "duct-fan": "{count} duct fans",
    "heater": "{count} heaters",
    "fogger": "{count} foggers",
}


@dataclass(frozen=True, eq=False)
class Layer:
    """Devices that belong together.

    Attributes
    ----------
    name, hours : str
    watts, va : ndarray, shape (1440,)
        By the minute, everything at full power. [W], [VA]
    """

    name: str
    hours: str
    watts: FloatSeries
    va: FloatSeries


def layers_of(readings: Readings, circuit: str | None = None) -> tuple[Layer, ...]:
    """Return the layers of everything, or of one circuit with what else runs on it.

    The heaviest first.
    """
    groups: dict[tuple[str, str], list[DeviceLoad]] = {}
    for device in readings.power.by_device:
        if circuit in (None, device.circuit):
            thing = readings.design.by_id[device.id]
            kind = getattr(thing, "form", None) or thing.kind
            key = (kind if kind in _ALIKE else device.id, device.hours)
            groups.setdefault(key, []).append(device)
    found = [_layer(kind, hours, members) for (kind, hours), members in groups.items()]
    found.sort(key=lambda layer: -float(layer.watts.max()))
    return (*found, *_others(readings, circuit))


def _layer(kind: str, hours: str, members: list[DeviceLoad]) -> Layer:
    name = members[0].name
    if len(members) > 1:
        name = tr(_ALIKE.get(kind, "{count}")).format(count=len(members))
    return Layer(
        name,
        hours,
        _total(one.series for one in members),
        _total(one.series * _apparent(one) for one in members),
    )


def _total(series: Iterable[FloatSeries]) -> FloatSeries:
    total = np.zeros(MINUTES)
    for one in series:
        total += one
    return total


def _apparent(device: DeviceLoad) -> float:
    """Return volt-amperes a watt."""
    return device.va / device.watts if device.watts > 0 else 1.0


def _others(readings: Readings, circuit: str | None) -> tuple[Layer, ...]:
    step = _step(readings, "others", circuit)
    if circuit is None or step is None:
        return ()
    level = np.full(MINUTES, step.va)
    return (Layer(tr("other things on this circuit, taken"), tr("all day"), level, level),)


def limit_va(readings: Readings, circuit: str | None) -> float | None:
    """Return what a circuit may carry of loads like these; None for several circuits. [VA]"""
    step = _step(readings, "circuit", circuit)
    return step.limit_va if step is not None else None


def own_limit_watts(readings: Readings) -> float | None:
    """Return what this design may draw at its peak where all of it hangs on one circuit. [W]"""
    used = {device.circuit for device in readings.power.by_device}
    circuit = next(iter(used), None)
    step = _step(readings, "circuit", circuit)
    if len(used) != 1 or step is None or step.limit_va is None:
        return None
    other = _step(readings, "others", circuit)
    taken = other.va if other is not None else 0.0
    own_va = step.va - taken
    share = (step.watts - taken) / own_va if own_va > 0 else 1.0
    return max(0.0, step.limit_va - taken) * share


def _step(readings: Readings, kind: str, circuit: str | None) -> PowerStep | None:
    steps = readings.power.steps
    return next((one for one in steps if (one.kind, one.circuit) == (kind, circuit)), None)
