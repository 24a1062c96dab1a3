"""How targets for a plug are told: the room they have, or why they take none.

Targets come from `core.power.plugging`, room from `core.power.room`.
"""

from __future__ import annotations

from core.language import tr, trn
from core.phrases import capital
from core.power.plugging import Target
from core.power.room import Room
from core.units import show


def target_words(target: Target, system: str) -> str:
    """Return a target with what it has room for: "Strip A: room for 1200 VA, 3 sockets free"."""
    said = room_words(target.room, system) if target.room is not None else tr("next in the chain")
    if target.overload is not None:
        said = target.overload.render(system)
    return tr("{socket}: {said}").format(socket=target.name, said=said)


def refusal_words(target: Target) -> str:
    """Return why a target cannot be, as a sentence."""
    return capital(target.refused.render()) if target.refused is not None else ""


def room_words(room: Room, system: str) -> str:
    """Return what room there is: "room for 1200 VA, 3 sockets free"."""
    left = tr("no room left")
    if room.va > 0:
        left = tr("room for {load}").format(load=show(room.va, "apparent_power", system))
    if room.free is None:
        return left
    free = trn("{count} socket free", "{count} sockets free", room.free)
    return tr("{room}, {sockets}").format(room=left, sockets=free.format(count=room.free))
