"""Where the water of a design can run out to, at the worst: onto the liner or the room's floor.

Volumes of containers are in `core.water.contents`, what a liner holds in `core.water.spill`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from core.model import Enclosure, FeedLine, Fogger, Reservoir, Tray
from core.placement import Placement
from core.water.contents import reservoir_water, tray_water
from core.water.reservoirs import volume_above_inlet
from core.water.spill import spill_capacity


@dataclass(frozen=True)
class Leak:
    """What one container lets out at the worst.

    Attributes
    ----------
    id, name : str
        Of the tray, reservoir or fogger whose water it is.
    volume : float
        [m³]
    feed : str
        Id of the feed line through which it comes in; empty for a container that itself leaks.
    """

    id: str
    name: str
    volume: float
    feed: str = ""


Wall = Literal["left", "right", "front", "back"]


@dataclass(frozen=True)
class Edge:
    """Where a liner runs over: how high [m], on which side, whether it is a door’s threshold."""

    height: float
    side: Wall
    door: bool = False


@dataclass(frozen=True)
class Spill:
    """All that may run out, against what the floor liner holds.

    Attributes
    ----------
    onto_liner : tuple of Leak
        Containers inside the enclosure, and what runs in from outside by gravity; largest first.
    if_a_valve_sticks : tuple of Leak
        What would run in through feed lines whose float valve is taken to close.
    onto_room_floor : tuple of Leak
        What containers outside the enclosure let out where they stand.
    capacity : float or None
        What the liner holds before its lowest edge, out of level; None without a liner. [m³]
    capacity_level : float or None
        The same if the floor were level. [m³]
    liner : Enclosure or None
        The enclosure whose liner it is.
    edge : Edge or None
        Where the liner runs over.
    """

    onto_liner: tuple[Leak, ...] = ()
    if_a_valve_sticks: tuple[Leak, ...] = ()
    onto_room_floor: tuple[Leak, ...] = ()
    capacity: float | None = None
    capacity_level: float | None = None
    liner: Enclosure | None = None
    edge: Edge | None = None

    @property
    def total(self) -> float:
        """All that may run onto the liner together. [m³]"""
        return sum(leak.volume for leak in self.onto_liner)

    @property
    def largest(self) -> Leak | None:
        """The container that alone lets most out onto the liner."""
        return self.onto_liner[0] if self.onto_liner else None

    @property
    def over(self) -> float:
        """What of the total runs over the liner's edge; 0 where nobody knows of a liner. [m³]"""
        return self.runs_over(self.total)

    def runs_over(self, volume: float) -> float:
        """Return what of a volume runs over the liner's edge; 0 where nobody knows of one. [m³]"""
        return 0.0 if self.capacity is None else max(0.0, volume - self.capacity)


def spill_of(placement: Placement) -> Spill:
    """Return the worst case of a design's water."""
    enclosure = placement.design.enclosure
    inside = [leak for leak in _containers(placement) if placement.inside(leak.id)]
    outside = [leak for leak in _containers(placement) if not placement.inside(leak.id)]
    fed = list(_fed_in(placement))
    open_feeds = [leak for leak, feed in fed if feed.valve != "float"]
    return Spill(
        _largest_first([*inside, *_each_once(open_feeds)]),
        _largest_first(_each_once([leak for leak, feed in fed if feed.valve == "float"])),
        _largest_first(outside),
        liner_capacity(enclosure),
        liner_capacity(enclosure, level=True),
        enclosure if enclosure and enclosure.liner else None,
        lowest_edge(enclosure),
    )


def liner_capacity(enclosure: Enclosure | None, *, level: bool = False) -> float | None:
    """Return what an enclosure's liner holds, as far out of level as it is; None without. [m³]"""
    liner, edge = (enclosure.liner if enclosure else None), lowest_edge(enclosure)
    if enclosure is None or liner is None or edge is None:
        return None
    area = (liner.width or enclosure.width) * (liner.depth or enclosure.depth)
    return spill_capacity(area, edge.height, 0.0 if level else liner.out_of_level)


def lowest_edge(enclosure: Enclosure | None) -> Edge | None:
    """Return where an enclosure's liner runs over; None without a liner.

    A liner that is clipped up hangs free across a doorway, so there it counts only up to the
    door's threshold; one that stands by itself counts with its full edge.
    """
    liner = enclosure.liner if enclosure else None
    if enclosure is None or liner is None:
        return None
    sides: dict[Wall, float] = {
        "left": liner.lip_left,
        "right": liner.lip_right,
        "front": liner.lip_front,
        "back": liner.lip_back,
    }
    edges = [Edge(height, side) for side, height in sides.items()]
    if liner.fixing == "clipped":
        edges += [
            Edge(door.z, door.face, door=True)
            for door in enclosure.doors
            if door.z < sides[door.face]
        ]
    return min(edges, key=lambda edge: edge.height)


def _containers(placement: Placement) -> Iterator[Leak]:
    for part in placement.design.parts:
        if isinstance(part, Tray):
            yield Leak(part.id, part.name, tray_water(placement, part))
        elif isinstance(part, Reservoir):
            yield Leak(part.id, part.name, reservoir_water(part))
        elif isinstance(part, Fogger) and part.tank > 0:
            yield Leak(part.id, part.name, part.tank)


def _fed_in(placement: Placement) -> Iterator[tuple[Leak, FeedLine]]:
    """Iterate over what runs into the enclosure by gravity from reservoirs outside."""
    for feed in placement.design.of(FeedLine):
        into = placement.inside(feed.target) and not placement.inside(feed.source)
        volume = above_inlet(placement, feed) if into and feed.drive == "gravity" else 0.0
        if volume > 0:
            yield Leak(feed.source, placement.design.part(feed.source).name, volume, feed.id), feed


def above_inlet(placement: Placement, feed: FeedLine) -> float:
    """Return the water in a feed line's reservoir that stands above its inlet. [m³]"""
    source = placement.design.part(feed.source)
    if not isinstance(source, Reservoir) or source.fill <= 0:
        return 0.0
    base = placement.box(source.id).lo[2]
    inlet = placement.box(feed.target).lo[2] + feed.inlet
    return volume_above_inlet(reservoir_water(source), base, base + source.fill, inlet)


def _each_once(leaks: list[Leak]) -> list[Leak]:
    """Keep the largest leak of each reservoir: its water can run out only once."""
    best: dict[str, Leak] = {}
    for leak in leaks:
        if leak.id not in best or leak.volume > best[leak.id].volume:
            best[leak.id] = leak
    return list(best.values())


def _largest_first(leaks: list[Leak]) -> tuple[Leak, ...]:
    return tuple(sorted((leak for leak in leaks if leak.volume > 0), key=lambda one: -one.volume))
