"""The reading of what else may be plugged in: the room left on a circuit at its worst minute.

How much room there is, there and at each socket, is worked out in `core.power.room`.
"""

from __future__ import annotations

from collections.abc import Mapping

from core.hours import show_hours
from core.language import tr
from core.model import Circuit
from core.phrases import Amount, Phrase, phrase
from core.power.device_rows import NAMEPLATE
from core.power.loads import Loads
from core.power.room import Room
from core.power.tree import circuit_key
from core.reading import Method, Reading, reading

ROOM = Method(
    tr(
        "The limit less what runs in the fullest minute of the day, everything at full power. "
        "What is added is taken to run in that minute; if it lasts three hours or more, the "
        "breaker's part is divided by the factor of the electrical practice."
    ),
    tr("NEC 210.20(A) (secondary copy) in North America; elsewhere the plain sum of currents."),
    tr("Nameplate watts of what runs already are taken as right within 5 % (common practice)."),
    (tr("Strips, outlets and leads on the way may leave less; each says so where it is shown."),),
)


def room_reading(loads: Loads, circuit: Circuit, rooms: Mapping[str, Room]) -> Reading:
    """Return what may still be added on a circuit. [VA]"""
    room = rooms[circuit_key(circuit.id)]
    where = phrase("{name}", name=circuit.name)
    off = NAMEPLATE * loads.peak(circuit_key(circuit.id))[1]
    return reading(
        "power", "room", circuit.id, where, room.va, "apparent_power", _line(room, where), ROOM,
        spread=(max(0.0, room.va - off), room.va + off if room.va > 0 else 0.0),
    )  # fmt: skip


def _line(room: Room, where: Phrase) -> Phrase:
    when = (
        phrase("all day")
        if room.at == ((0, 0),)
        else phrase("{hours}", hours=show_hours(room.at[:2]))
    )
    if room.va <= 0:
        return phrase("nothing more may be plugged in on {where}; full {when}",
                      where=where, when=when)  # fmt: skip
    return phrase(
        "{room} more may run on {where}; fullest {when}",
        room=Amount(room.va, "apparent_power"),
        where=where,
        when=when,
    )
