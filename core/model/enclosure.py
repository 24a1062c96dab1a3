"""The enclosure: frame, covers, linings, doors and floor liner.

What stands inside it is in `shelving` and the other part modules.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from core.model.base import Boxed, Extent, Face, Fraction, Frozen, Key, Length, Name, Rect, UValue

FACES: tuple[Face, ...] = ("left", "right", "front", "back", "bottom", "top")


class Sheet(Frozen):
    """A sheet material with the numbers the engines need.

    ``reflectance`` and ``transmittance`` are for light (400–700 nm, diffuse); ``u_value`` is that
    of the face covered with it, two still-air films included. [W/(m² K)]
    """

    material: Name
    catalogue: Key | None = None
    reflectance: Fraction = 0.3
    transmittance: Fraction = 0.0
    u_value: UValue | None = None
    thickness: Length = 0.0002

    @model_validator(mode="after")
    def _energy(self) -> Self:
        if self.reflectance + self.transmittance > 1 + 1e-9:
            raise ValueError(
                f"Sheet '{self.material}': reflectance + transmittance = "
                f"{self.reflectance + self.transmittance:.2f} must not be above 1; lower one."
            )
        return self


class Cover(Frozen):
    """What closes one face; cut-outs are holes for ducts, leads or hands."""

    face: Face
    sheet: Sheet
    cutouts: tuple[Rect, ...] = ()


class Lining(Frozen):
    """A sheet inside a face, or on part of it; ``area`` None means the whole face."""

    face: Face
    sheet: Sheet
    area: Rect | None = None


class FaceDoor(Frozen):
    """An opening to reach in by, in a vertical face; only leaves swing.

    ``x`` runs along the face (from the front on the left and right face), ``z`` up, to its lower
    corner nearest the face's start; ``hinge`` "left" is that side. [m]
    """

    face: Literal["left", "right", "front", "back"] = "front"
    style: Literal["zip", "curtain", "leaf"] = "zip"
    x: Length = 0.0
    z: Length = 0.0
    width: Extent
    height: Extent
    leaves: Literal[1, 2] = 1
    hinge: Literal["left", "right"] = "left"


class Liner(Frozen):
    """The waterproof sheet on the floor with its upturned edge.

    ``width`` and ``depth`` None mean the enclosure's own. The lip may differ by edge: water runs
    over the lowest. ``out_of_level`` is how much one side of the floor is lower. [m]
    """

    fixing: Literal["free", "clipped"] = "free"
    width: Extent | None = None
    depth: Extent | None = None
    lip_left: Length = 0.05
    lip_right: Length = 0.05
    lip_front: Length = 0.05
    lip_back: Length = 0.05
    out_of_level: Length = 0.005
    reflectance: Fraction = 0.1

    @property
    def lowest_lip(self) -> float:
        """Height at which water runs over. [m]"""
        return min(self.lip_left, self.lip_right, self.lip_front, self.lip_back)


class Frame(Frozen):
    """The frame's stock: what the members are and how thick they are. [m]"""

    material: Name = "PVC pipe, 25 mm"
    catalogue: Key | None = None
    member: Extent = 0.025
    extra_uprights: Annotated[int, Field(ge=0, le=40)] = 0
    braced: bool = False


class Enclosure(Boxed):
    """The framed, sheeted box. Its lower left front corner is where its contents' axes start.

    ``air_changes_per_hour`` is the leakage with every opening closed. [1/h]
    """

    kind: Literal["enclosure"] = "enclosure"
    frame: Frame = Frame()
    covers: tuple[Cover, ...] = ()
    linings: tuple[Lining, ...] = ()
    doors: tuple[FaceDoor, ...] = ()
    liner: Liner | None = None
    air_changes_per_hour: Annotated[float, Field(ge=0, le=100)] = 0.5

    def cover(self, face: Face) -> Cover | None:
        """Return what closes ``face``, or None when it is open."""
        return next((cover for cover in self.covers if cover.face == face), None)

    def face_size(self, face: Face) -> tuple[float, float]:
        """Return how wide and how high ``face`` is; top and bottom as wide and deep. [m]"""
        if face in ("top", "bottom"):
            return self.width, self.depth
        return (self.width if face in ("front", "back") else self.depth), self.height

    @model_validator(mode="after")
    def _sound(self) -> Self:
        faces = [cover.face for cover in self.covers]
        twice = next((face for face in faces if faces.count(face) > 1), None)
        if twice:
            raise ValueError(f"{self.name}: {twice} face has two covers; keep one.")
        for door in self.doors:
            self._check_door(door)
        return self

    def _check_door(self, door: FaceDoor) -> None:
        face_width, _ = self.face_size(door.face)
        if door.x + door.width > face_width + 1e-6 or door.z + door.height > self.height + 1e-6:
            raise ValueError(
                f"{self.name}: {door.face} door = {door.width:.3f} × {door.height:.3f} m must lie "
                f"within its face of {face_width:.3f} × {self.height:.3f} m; "
                "make it smaller or move it."
            )
