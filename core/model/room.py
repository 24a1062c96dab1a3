"""The room as the grower finds it: walls, doors, windows, fixed things, outlets and circuits.

Nothing here is bought or built for the enclosure.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from core.geometry import polygon_area, polygon_is_simple
from core.model.base import (
    Current,
    Extent,
    Frozen,
    Key,
    Length,
    Name,
    Offset,
    PartId,
    Text,
    Voltage,
)


class Fixture(Frozen):
    """Anything that belongs to the room."""

    id: PartId
    name: Name
    notes: Text = ""


class OnWall(Fixture):
    """A fixture in a wall.

    ``wall`` counts the sides of the outline from 1; ``offset`` runs along that side from its
    first corner to the fixture's near edge. [m]
    """

    wall: Annotated[int, Field(ge=1, le=60)]
    offset: Length


class RoomDoor(OnWall):
    """A hinged door; ``hinge`` is the end of the opening, seen along the wall."""

    kind: Literal["room-door"] = "room-door"
    width: Extent = 0.8
    height: Extent = 2.0
    hinge: Literal["near", "far"] = "near"
    swing: Literal["in", "out"] = "in"


class RoomWindow(OnWall):
    """A window; ``sill`` is its lower edge above the floor. [m]"""

    kind: Literal["room-window"] = "room-window"
    width: Extent = 1.0
    height: Extent = 1.2
    sill: Length = 0.9


class Outlet(OnWall):
    """A wall outlet on a circuit; ``limit`` is the current it may carry. [A]"""

    kind: Literal["outlet"] = "outlet"
    z: Length = 0.3
    circuit: Key | None = None
    sockets: Annotated[int, Field(ge=1, le=12)] = 2
    limit: Current | None = None
    leakage_protected: bool | None = None


class Obstacle(Fixture):
    """A fixed thing in the room: a stair, a radiator, furniture, an electrical panel.

    ``worked_at`` is the side at which somebody works on it; clear floor is kept there,
    ``clear_depth`` out from it and ``clear_width`` along it. The defaults are those of an
    electrical panel, 36 and 30 in: NEC 110.26 (from memory). [m]
    """

    kind: Literal["obstacle"] = "obstacle"
    x: Offset
    y: Offset
    z: Length = 0.0
    width: Extent
    depth: Extent
    height: Extent
    worked_at: Literal["left", "right", "front", "back"] | None = None
    clear_depth: Extent = 0.9144
    clear_width: Extent = 0.762


class Corner(Frozen):
    """A right-angled corner on the way to the room: the corridors before and after it. [m]

    ``ceiling`` is their height; None: the room's own.
    """

    before: Extent = 1.0
    after: Extent = 1.0
    ceiling: Extent | None = None


class Circuit(Frozen):
    """A branch circuit of the building and what else hangs on it. [A, V]

    ``trip`` is the breaker's type by its instant tripping, ``other_lasts`` whether what else hangs
    on it runs for three hours or more; None: nobody has said.
    """

    id: Key
    name: Name
    breaker: Current
    voltage: Voltage | None = None
    trip: Literal["B", "C", "D"] | None = None
    other_load: Annotated[float, Field(ge=0, le=200)] = 0.0
    other_lasts: bool | None = None
    leakage_protected: bool | None = None


AnyFixture = Annotated[RoomDoor | RoomWindow | Outlet | Obstacle, Field(discriminator="kind")]
Point = tuple[Offset, Offset]


class Room(Frozen):
    """The room: its outline seen from above, anticlockwise or clockwise, and its height. [m]

    ``way_in`` lists the corners that everything is carried round, from outdoors to the room.
    """

    name: Name = "Room"
    outline: Annotated[tuple[Point, ...], Field(min_length=3, max_length=60)]
    height: Extent = 2.4
    fixtures: tuple[AnyFixture, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    way_in: Annotated[tuple[Corner, ...], Field(max_length=20)] = ()

    @model_validator(mode="after")
    def _sound(self) -> Self:
        if not polygon_is_simple(self.outline) or abs(polygon_area(self.outline)) < 1e-4:
            raise ValueError(
                f"Room '{self.name}': outline = {len(self.outline)} corners must enclose an area "
                "without crossing itself; list the corners in order along the walls."
            )
        for fixture in self.fixtures:
            self._check_fixture(fixture)
        return self

    def _check_fixture(self, fixture: AnyFixture) -> None:
        if isinstance(fixture, Obstacle):
            return
        if fixture.wall > len(self.outline):
            raise ValueError(
                f"{fixture.name}: wall = {fixture.wall} must be one of the {len(self.outline)} "
                f"walls; enter 1 to {len(self.outline)}."
            )
        if isinstance(fixture, Outlet) and fixture.circuit not in (
            None,
            *(circuit.id for circuit in self.circuits),
        ):
            raise ValueError(
                f"{fixture.name}: circuit = '{fixture.circuit}' must be a circuit of the room; "
                "add the circuit or choose another."
            )

    @staticmethod
    def rectangle(width: float, depth: float, height: float, name: str = "Room") -> Room:
        """Return a plain room; wall 1 is the front, then right, back, left. [m]"""
        outline = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
        return Room(name=name, outline=outline, height=height)
