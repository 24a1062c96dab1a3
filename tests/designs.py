"""A design to try things on: an alcove with one unit of four levels, as a grower would have it."""

from __future__ import annotations

from typing import Literal

from core.model import (
    AnyPart,
    Circuit,
    Cover,
    Design,
    Enclosure,
    FaceDoor,
    Fan,
    Lamp,
    Liner,
    Obstacle,
    Outlet,
    Place,
    PlantGroup,
    Plants,
    Plug,
    Pots,
    Reservoir,
    Room,
    RoomDoor,
    Sheet,
    Shelf,
    ShelfUnit,
    Span,
    Strip,
    Tray,
)

ORCHIDS = PlantGroup(key="orchids", name="Orchids", ppfd=Span(low=40, high=90))
FERNS = PlantGroup(key="ferns", name="Ferns", habit="fronds", ppfd=Span(low=60, high=120))
HEIGHTS = (0.12, 0.58, 1.04, 1.50)


def alcove(extra_trays: int = 0, units: Literal["metric", "us"] = "metric") -> Design:
    """Return the alcove; ``extra_trays`` small trays fill it up."""
    parts: list[AnyPart] = [_enclosure(), _unit(), *_devices()]
    for level in range(1, 5):
        for side in ("left", "right"):
            parts += _place_of(level, side)
    parts += [_small_tray(i) for i in range(extra_trays)]
    return Design(
        name="Alcove", units=units, room=_room(), groups=(ORCHIDS, FERNS), parts=tuple(parts)
    )


def _room() -> Room:
    return Room(
        name="Hall",
        outline=((0.0, 0.0), (3.2, 0.0), (3.2, 2.2), (0.0, 2.2)),
        height=2.4,
        fixtures=(
            RoomDoor(id="door-1", name="Door", wall=2, offset=0.2),
            Outlet(id="outlet-1", name="Outlet", wall=3, offset=2.9, circuit="hall"),
            Obstacle(id="stair", name="Stair", x=2.3, y=1.0, width=0.9, depth=1.2, height=1.6),
        ),
        circuits=(Circuit(id="hall", name="Hall circuit", breaker=16.0),),
    )


def _enclosure() -> Enclosure:
    film = Sheet(material="White film", reflectance=0.8)
    return Enclosure(
        id="enclosure-1",
        name="Enclosure",
        width=1.9,
        depth=0.9,
        height=2.0,
        place=Place(x=0.15, y=1.25),
        covers=tuple(Cover(face=f, sheet=film) for f in ("left", "right", "back", "top")),
        doors=(FaceDoor(style="leaf", x=0.3, width=1.3, height=1.9, leaves=2),),
        liner=Liner(),
    )


def _unit() -> ShelfUnit:
    return ShelfUnit(
        id="unit-1",
        name="Shelf unit A",
        width=1.2,
        depth=0.6,
        height=1.8,
        levels=tuple(Shelf(z=z, rating=60.0) for z in HEIGHTS),
        place=Place(host="enclosure-1", x=0.1, y=0.22),
    )


def _place_of(level: int, side: str) -> list[AnyPart]:
    """Return a tray, its plants and the board above them."""
    right = side == "right"
    tray = f"tray-{level}-{side}"
    return [
        Tray(
            id=tray,
            name=f"Tray {level} {side}",
            width=0.56,
            depth=0.5,
            height=0.06,
            fill=0.03,
            place=Place(host="unit-1", level=level, x=0.61 if right else 0.03, y=0.05),
        ),
        Plants(
            id=f"plants-{level}-{side}",
            name=f"Zone {level} {side}",
            species="orchids" if level < 4 else "ferns",
            width=0.5,
            depth=0.44,
            leaf_high=0.12,
            pots=Pots(count=8),
            place=Place(host=tray, x=0.03, y=0.03),
        ),
        Lamp(
            id=f"board-{level}-{side}",
            name=f"Board {level} {side}",
            form="board",
            width=0.5,
            depth=0.34,
            height=0.03,
            watts=45.0,
            place=_board_place(level, right),
            plug=Plug(into="strip-1"),
        ),
    ]


def _board_place(level: int, right: bool) -> Place:
    x = 0.66 if right else 0.06
    if level < 4:
        return Place(host="unit-1", fixing="under", level=level + 1, x=x, y=0.13, z=0.02)
    return Place(host="enclosure-1", fixing="hung", x=x + 0.1, y=0.35, z=0.08)


def _devices() -> list[AnyPart]:
    return [
        Strip(
            id="strip-1",
            name="Strip A",
            width=0.3,
            depth=0.06,
            height=0.05,
            place=Place(host="enclosure-1", x=1.5, y=0.8, z=0.3),
            plug=Plug(into="outlet-1"),
        ),
        Fan(
            id="fan-1",
            name="Fan 1",
            width=0.08,
            depth=0.2,
            height=0.2,
            diameter=0.15,
            flow=0.02,
            watts=8.0,
            place=Place(host="unit-1", fixing="clipped", x=-0.08, y=0.0, z=1.2),
            plug=Plug(into="strip-1"),
        ),
        Reservoir(
            id="reservoir-1",
            name="Reservoir",
            width=0.3,
            depth=0.4,
            height=0.4,
            fill=0.3,
            place=Place(host="enclosure-1", x=1.42, y=0.3),
        ),
    ]


def _small_tray(index: int) -> Tray:
    return Tray(
        id=f"small-{index}",
        name=f"Small tray {index}",
        width=0.05,
        depth=0.04,
        height=0.05,
        fill=0.02,
        place=Place(host="unit-1", level=1 + index % 4, x=0.03 + 0.06 * (index // 4), y=0.005),
    )
