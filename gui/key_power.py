"""The key of power: the devices by load, and what else can be plugged in.

The circuit itself stands beside the elevations (`gui.circuit_steps`), not here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import Amount
from core.power.tree import circuit_key
from core.units import show
from gui.key_blocks import Bar, Bars, Fact, Facts, Note
from gui.key_page import KeyPage
from gui.load_layers import layers_of
from gui.plug_words import room_words
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings


def power_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    power, design = readings.power, readings.design
    head = tr("Load along the circuit")
    unit = show(design.practice.voltage, "voltage")
    if not power.by_device:
        return KeyPage(head, unit, (Note(power.nothing.render()),))
    loads = [(layer.name, float(layer.watts.max()), layer.hours) for layer in layers_of(readings)]
    top = max(watts for _, watts, _ in loads) or 1.0
    bars = [Bar(name, watts / top, show(watts, "power"), hours) for name, watts, hours in loads]
    lasting = Amount(power.continuous_va, "apparent_power").render(design.units)
    notes = [
        tr("Lasting three hours or more: {load}.").format(load=lasting),
        tr("Drag a plug to another socket."),
        tr("Local wiring rules and a licensed electrician decide."),
    ]
    room = Facts(_room_left(readings))
    return KeyPage(
        head,
        unit,
        (
            Bars(tuple(bars), "lead"),
            Note(tr("What else can be plugged in, at the fullest minute")),
            room,
            Note(" ".join(notes)),
        ),
    )


def _room_left(readings: Readings) -> tuple[Fact, ...]:
    """Return what may still be plugged in: on each circuit, and at sockets that are free."""
    power, system = readings.power, readings.design.units
    found = []
    for circuit in power.tree.circuits:
        found.append(Fact(circuit.name, room_words(power.rooms[circuit_key(circuit.id)], system)))
        for key in power.tree.steps(circuit_key(circuit.id)):
            room = power.rooms.get(key)
            if room is not None and room.free and room.va > 0:
                name = readings.design.by_id[key].name
                found.append(Fact(name, room_words(room, system)))
    return tuple(found[:_MOST_ROOMS])


_MOST_ROOMS = 5
