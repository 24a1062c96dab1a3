"""Where a part could be plugged in: every socket and lamp, what it leaves, or why it cannot be.

How much room there is, is worked out in `core.power.room`; the edit itself is a new plug in the
part's record.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.model import AnyPart, Design, Lamp, Lead, Outlet, Plug, Strip, replace
from core.phrases import Amount, Phrase, phrase
from core.power.loads import Loads
from core.power.room import Room, rooms, spare
from core.power.tree import Electric, PlugTree
from core.power.wiring import Socket, sockets


@dataclass(frozen=True)
class Target:
    """One thing that a part could be plugged into.

    Attributes
    ----------
    key, name : str
        Of the outlet, strip, lead, timer or lamp.
    refused : Phrase or None
        Why it cannot be; None where it can.
    overload : Phrase or None
        What would then carry more than it may; it may be done all the same, and is found.
    here : bool
        Whether it is plugged in there now.
    room : Room or None
        What may still be added there by itself; None for lamps.
    """

    key: str
    name: str
    refused: Phrase | None = None
    overload: Phrase | None = None
    here: bool = False
    room: Room | None = None

    @property
    def open(self) -> bool:
        """Whether the part may be plugged in there and is not yet."""
        return self.refused is None and not self.here


def targets(design: Design, part_id: str) -> tuple[Target, ...]:
    """Return everything that takes plugs, as a target for one part.

    Lamps are targets for lamps only, which are then linked in series.
    """
    tree = PlugTree(design)
    part = tree.parts[part_id]
    loads = Loads(tree)
    left = rooms(loads)
    found = [_socket(loads, part, socket, left[socket.id]) for socket in sockets(tree)]
    if isinstance(part, Lamp):
        found += [_lamp(tree, part, lamp) for lamp in design.of(Lamp) if lamp.id != part_id]
    return tuple(item for item in found if item.key != part_id)


def plugged_into(design: Design, part_id: str, into: str | None) -> AnyPart:
    """Return a part plugged in elsewhere with the lead it has; None: not plugged in."""
    part: AnyPart = design.part(part_id)
    old = getattr(part, "plug", None)
    if into is None:
        return replace(part, plug=None)
    return replace(part, plug=replace(old, into=into) if old else Plug(into=into))


def _socket(loads: Loads, part: Electric, socket: Socket, room: Room) -> Target:
    tree = loads.tree
    here = part.plug is not None and part.plug.into == socket.id
    refused = None if here else _refusal(tree, part, socket, room)
    over = None if here or refused else next(_overloads(loads, part, socket.id), None)
    return Target(socket.id, socket.name, refused, over, here, room)


def _refusal(tree: PlugTree, part: Electric, socket: Socket, room: Room) -> Phrase | None:
    if part.id in tree.path(socket.id):
        return phrase("{socket} itself hangs on {name}", socket=socket.name, name=part.name)
    if not room.free:
        return phrase("{socket} has no free socket", socket=socket.name)
    if isinstance(part, Strip | Lead):
        above = _strip_above(tree, socket)
        if above is not None and not (isinstance(above, Lead) and isinstance(part, Strip)):
            return phrase("strips and leads are never put one behind the other")
    return None


def _strip_above(tree: PlugTree, socket: Socket) -> Strip | Lead | None:
    """Return the socket itself, or what it hangs on, where that is a strip or a lead."""
    parts = (tree.parts.get(key) for key in reversed(tree.path(socket.id)))
    return next((item for item in parts if isinstance(item, Strip | Lead)), None)


def _overloads(loads: Loads, part: Electric, key: str) -> Iterator[Phrase]:
    """Yield what would carry more than it may with the part plugged in at ``key``."""
    tree, added = loads.tree, loads.series(part.id)[1]
    before = {*tree.path(part.id)} if part.plug is not None else set()
    for step in reversed(tree.path(key)):
        if step not in before:
            over = -spare(loads, step, added)
            if over > 1e-9:
                yield phrase(
                    "{name} would carry {over} too much",
                    name=_name(tree, step),
                    over=Amount(over, "apparent_power"),
                )


def _name(tree: PlugTree, step: str) -> str:
    thing = tree.design.by_id.get(step)
    return thing.name if thing is not None else tree.circuit_of(step).name


def _lamp(tree: PlugTree, part: Lamp, lamp: Lamp) -> Target:
    here = part.plug is not None and part.plug.into == lamp.id
    feeds = [tree.parts[key] for key in tree.fed.get(lamp.id, ()) if key != part.id]
    refused = None
    if part.id in tree.path(lamp.id):
        refused = phrase("{socket} itself hangs on {name}", socket=lamp.name, name=part.name)
    elif feeds:
        refused = phrase("{lamp} feeds {next} already", lamp=lamp.name, next=feeds[0].name)
    return Target(lamp.id, lamp.name, None if here else refused, None, here)


def is_pluggable(design: Design, part_id: str) -> bool:
    """Tell whether a thing of the design has a plug of its own."""
    thing = design.by_id.get(part_id)
    return thing is not None and not isinstance(thing, Outlet) and hasattr(thing, "plug")
