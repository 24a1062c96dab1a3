"""A small covered box in a room of 4 m × 3 m, and what may move or stop the air in it."""

from __future__ import annotations

from typing import Any

from core.model import (
    Cover,
    Design,
    DuctFan,
    Enclosure,
    Fan,
    Opening,
    Place,
    PlantGroup,
    Plants,
    Room,
    Sheet,
    Shelf,
    ShelfUnit,
)

FERNS = PlantGroup(key="ferns", name="Ferns")
FILM = Sheet(material="Film")
FACES = tuple(Cover(face=face, sheet=FILM) for face in ("left", "right", "front", "back", "top"))


def design(*parts: Any, room: Room | None = None) -> Design:
    return Design(room=room or Room.rectangle(4.0, 3.0, 2.4), groups=(FERNS,), parts=parts)


def box(**more: Any) -> Enclosure:
    """2 m × 1.2 m × 1.8 m, covered all round."""
    given: dict[str, Any] = {
        "name": "Box", "width": 2.0, "depth": 1.2, "height": 1.8, "covers": FACES,
        "place": Place(x=1.0, y=0.5),
    }  # fmt: skip
    return Enclosure(id="box", **{**given, **more})


def circulation(part_id: str = "fan", **more: Any) -> Fan:
    """144 m³/h through 0.15 m, its middle 0.2 m from the left and halfway up, to the right."""
    given: dict[str, Any] = {
        "name": "Fan", "width": 0.1, "depth": 0.1, "height": 0.1, "watts": 12.0,
        "diameter": 0.15, "flow": 0.04, "place": Place(host="box", x=0.15, y=0.55, z=0.85),
    }  # fmt: skip
    return Fan(id=part_id, **{**given, **more})


def unit(**more: Any) -> ShelfUnit:
    """A rack with wire shelves at 0.2 m and 0.8 m."""
    given: dict[str, Any] = {
        "name": "Rack", "width": 1.2, "depth": 0.6, "height": 1.0,
        "levels": (Shelf(z=0.2), Shelf(z=0.8)), "place": Place(host="box", x=0.4, y=0.3),
    }  # fmt: skip
    return ShelfUnit(id="unit", **{**given, **more})


def plants(part_id: str = "zone", **more: Any) -> Plants:
    given: dict[str, Any] = {
        "name": "Zone", "species": "ferns", "width": 0.4, "depth": 0.4, "leaf_high": 0.1,
        "place": Place(host="box", x=1.2, y=0.4),
    }  # fmt: skip
    given |= more
    if "host" in more:
        given["place"] = Place(host=given.pop("host"))
    made = Plants(id=part_id, **given)
    return made


def duct(
    part_id: str = "exhaust", face: Any = "left", x: float = 0.3, z: float = 1.5, **more: Any
) -> DuctFan:
    """90 m³/h out through 0.1 m, near the top of the left face."""
    given: dict[str, Any] = {
        "name": part_id.capitalize(), "width": 0.12, "depth": 0.1, "height": 0.12, "watts": 9.0,
        "diameter": 0.1, "flow": 0.025,
        "place": Place(host="box", fixing="face", face=face, x=x, y=x, z=z),
    }  # fmt: skip
    return DuctFan(id=part_id, **{**given, **more})


def flap(part_id: str, width: float, z: float = 0.1) -> Opening:
    return Opening(
        id=part_id, name=part_id.capitalize(), width=width, height=0.1,
        place=Place(host="box", fixing="face", face="right", x=0.2, z=z),
    )  # fmt: skip
