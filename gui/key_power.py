"""The key of power: the devices by load.

The circuit itself stands beside the elevations (`gui.circuit_steps`), not here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import Amount
from core.units import show
from gui.key_blocks import Bar, Bars, Note
from gui.key_page import KeyPage
from gui.view import View

if TYPE_CHECKING:
    from core.power.reading import DeviceLoad
    from core.readings import Readings


def power_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    power, design = readings.power, readings.design
    head = tr("Load along the circuit")
    unit = show(design.practice.voltage, "voltage")
    if not power.by_device:
        return KeyPage(head, unit, (Note(power.nothing.render()),))
    loads = _loads_together(readings)
    top = max(watts for _, watts, _ in loads) or 1.0
    bars = [Bar(name, watts / top, show(watts, "power"), hours) for name, watts, hours in loads]
    notes = [tr("A lead is drawn as wide as its load.")]
    lasting = Amount(power.continuous_va, "apparent_power").render(design.units)
    notes.append(tr("Lasting three hours or more: {load}.").format(load=lasting))
    notes.append(tr("Local wiring rules and a licensed electrician decide."))
    return KeyPage(head, unit, (Bars(tuple(bars), "lead"), Note(" ".join(notes))))


_ALIKE = {
    "board": "{count} boards",
    "tube": "{count} tubes",
    "spot": "{count} spots",
    "fan": "{count} fans",
    "duct-fan": "{count} duct fans",
    "heater": "{count} heaters",
    "fogger": "{count} foggers",
}


def _loads_together(readings: Readings) -> list[tuple[str, float, str]]:
    """Return (name, watts, hours), devices of one kind and the same hours together."""
    groups: dict[tuple[str, str], list[DeviceLoad]] = {}
    for device in readings.power.by_device:
        thing = readings.design.by_id[device.id]
        kind = getattr(thing, "form", None) or thing.kind
        groups.setdefault((kind if kind in _ALIKE else device.id, device.hours), []).append(device)
    found = []
    for (kind, hours), members in groups.items():
        several = tr(_ALIKE.get(kind, "")).format(count=len(members))
        name = several if len(members) > 1 else members[0].name
        found.append((name, sum(device.watts for device in members), hours))
    return sorted(found, key=lambda load: -load[1])
