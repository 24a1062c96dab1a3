"""What is wrong or risky in how things are plugged in: strips into strips, water, full sockets.

Only facts are found here; which of them become advice is decided in `core.findings`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from core.geometry import Box, rectangle_gap
from core.model import Circuit, Fogger, Lead, Outlet, Powered, Reservoir, Strip, Timer, Tray
from core.placement import Placement
from core.power.tree import Electric, PlugTree

WATER_REACH = 0.5
"""How near beside water a socket counts as within reach of it (common practice). [m]"""

Socket = Outlet | Strip | Lead | Timer


def strips_in_series(tree: PlugTree) -> tuple[tuple[Strip | Lead, Strip | Lead], ...]:
    """Return (upper, lower) strips and leads of which the lower hangs on the upper.

    A timer between the two changes nothing; one extension lead with one strip at its end is
    allowed by most makers and is not listed.
    """
    found = []
    for part in tree.parts.values():
        upper = _strip_or_lead_above(tree, part)
        if isinstance(part, Strip | Lead) and upper and not _lead_with_strip(upper, part):
            found.append((upper, part))
    return tuple(found)


def _strip_or_lead_above(tree: PlugTree, part: Electric) -> Strip | Lead | None:
    above = (tree.parts.get(step) for step in reversed(tree.path(part.id)[:-1]))
    return next((item for item in above if isinstance(item, Strip | Lead)), None)


def _lead_with_strip(upper: Strip | Lead, lower: Strip | Lead) -> bool:
    return isinstance(upper, Lead) and isinstance(lower, Strip)


def coiled_leads(tree: PlugTree) -> tuple[Lead, ...]:
    """Return extension leads that carry something while wound up."""
    leads = (part for part in tree.parts.values() if isinstance(part, Lead) and part.coiled)
    return tuple(lead for lead in leads if tree.devices(lead.id))


def full_sockets(tree: PlugTree) -> tuple[tuple[Socket, int], ...]:
    """Return outlets, strips, leads and timers with more plugs than sockets, and the plugs."""
    counted = ((socket, len(tree.fed.get(socket.id, ()))) for socket in sockets(tree))
    return tuple((socket, plugs) for socket, plugs in counted if plugs > socket.sockets)


def sockets(tree: PlugTree) -> Iterator[Socket]:
    """Iterate over all that things can be plugged into, but lamps."""
    yield from (item for item in tree.design.room.fixtures if isinstance(item, Outlet))
    yield from (part for part in tree.parts.values() if isinstance(part, Strip | Lead | Timer))


def below_water(tree: PlugTree, placement: Placement) -> tuple[tuple[Socket, str], ...]:
    """Return sockets lower than water within `WATER_REACH`, each with the water's part id."""
    found = []
    for socket in sockets(tree):
        box = placement.box(socket.id)
        near = [
            water.id
            for water in _waters(tree)
            if _beside(box, placement.box(water.id)) and box.lo[2] < _surface(placement, water)
        ]
        found += [(socket, water) for water in near[:1]]
    return tuple(found)


def leads_above_water(tree: PlugTree, placement: Placement) -> tuple[tuple[Electric, str], ...]:
    """Return strips, leads and timers right above a reservoir or tray, with the water's id."""
    found = []
    for part in tree.parts.values():
        if not isinstance(part, Strip | Lead | Timer):
            continue
        box = placement.box(part.id)
        under = [
            water.id
            for water in _waters(tree)
            if _above(box, placement.box(water.id)) and not isinstance(water, Fogger)
        ]
        found += [(part, water) for water in under[:1]]
    return tuple(found)


def without_drip_loop(tree: PlugTree, placement: Placement) -> tuple[Electric, ...]:
    """Return parts inside the enclosure whose lead runs down to its socket without a drip loop."""
    return tuple(
        part
        for part in tree.parts.values()
        if part.plug is not None
        and not part.plug.drip_loop
        and placement.inside(part.id)
        and placement.box(part.id).lo[2] > placement.box(part.plug.into).hi[2]
    )


def unprotected(tree: PlugTree, placement: Placement) -> tuple[tuple[Circuit, Powered], ...]:
    """Return circuits that feed something inside the enclosure without leakage protection.

    With the first such device of each; protection at the outlet or on the circuit counts, and
    what nobody said is taken as none.
    """
    found: dict[str, tuple[Circuit, Powered]] = {}
    for part in tree.parts.values():
        if isinstance(part, Powered) and placement.inside(part.id) and part.plug is not None:
            circuit = tree.circuit_of(part.id)
            if not _protected(tree, part, circuit):
                found.setdefault(circuit.id, (circuit, part))
    return tuple(found.values())


def bare_outlets(tree: PlugTree, placement: Placement) -> tuple[tuple[Outlet, str], ...]:
    """Return outlets in use within `WATER_REACH` beside water without leakage protection.

    Each with the water's part id; circuits that `unprotected` returns are left to it.
    """
    told = {circuit.id for circuit, _ in unprotected(tree, placement)}
    found = []
    for outlet in tree.design.room.fixtures:
        if not isinstance(outlet, Outlet) or not tree.devices(outlet.id):
            continue
        circuit = tree.circuit_of(outlet.id)
        if outlet.leakage_protected or circuit.leakage_protected or circuit.id in told:
            continue
        box = placement.box(outlet.id)
        near = [water.id for water in _waters(tree) if _beside(box, placement.box(water.id))]
        found += [(outlet, water) for water in near[:1]]
    return tuple(found)


def _protected(tree: PlugTree, part: Powered, circuit: Circuit) -> bool:
    fixtures = {item.id: item for item in tree.design.room.fixtures}
    outlets = (fixtures.get(step) for step in tree.path(part.id))
    at_outlet = any(isinstance(item, Outlet) and item.leakage_protected for item in outlets)
    return bool(at_outlet or circuit.leakage_protected)


Water = Tray | Reservoir | Fogger


def _waters(tree: PlugTree) -> Iterable[Water]:
    return (part for part in tree.design.parts if isinstance(part, Water))


def _surface(placement: Placement, water: Water) -> float:
    """Return the height of a water line above the room's floor. [m]"""
    box = placement.box(water.id)
    return box.hi[2] if isinstance(water, Fogger) else box.lo[2] + water.fill


def _beside(socket: Box, water: Box) -> bool:
    return rectangle_gap(socket.footprint, water.footprint) <= WATER_REACH


def _above(box: Box, water: Box) -> bool:
    overlap = box.footprint.overlap(water.footprint) is not None
    return overlap and box.lo[2] >= water.hi[2] - 1e-9
