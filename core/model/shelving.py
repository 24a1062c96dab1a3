"""What carries plants: shelf units, bays, platforms, trays, and the plants' own places.

Lamps, fans and water devices are in their own modules.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from core.model.base import (
    Boxed,
    Days,
    Density,
    Extent,
    Fraction,
    Frozen,
    Key,
    Length,
    Mass,
    Name,
    Part,
    Rect,
    Span,
)
from core.model.enclosure import Sheet


class Shelf(Frozen):
    """One shelf of a unit; ``z`` is its top above the unit's foot. [m]

    ``transmittance`` is the share of light that passes between its wires; ``rating`` the load it
    may carry, evenly spread. ``mass`` is the shelf's own, which is part of the unit's; where it is
    given it counts on its rating too. [kg]
    """

    z: Extent
    thickness: Extent = 0.02
    surface: Literal["wire", "solid"] = "wire"
    transmittance: Fraction = 0.7
    reflectance: Fraction = 0.4
    rating: Mass | None = None
    mass: Mass | None = None


class UnitLining(Frozen):
    """A reflective sheet on a shelf unit's back or side, or on part of it."""

    side: Literal["back", "left", "right"]
    sheet: Sheet
    area: Rect | None = None


class ShelfUnit(Boxed):
    """A rack. ``levels`` lists its shelves from the lowest up; level 1 is the first.

    ``post_rating`` is what one post may carry, ``castor_rating`` one castor. ``foot`` is the side
    of what stands under each post; None: as wide as the post. [kg, m]
    """

    kind: Literal["shelf-unit"] = "shelf-unit"
    levels: Annotated[tuple[Shelf, ...], Field(min_length=1, max_length=40)]
    post: Extent = 0.025
    post_rating: Mass | None = None
    foot: Extent | None = None
    castors: bool = False
    castor_rating: Mass | None = None
    anchored: bool = False
    linings: tuple[UnitLining, ...] = ()

    @model_validator(mode="after")
    def _levels_in_order(self) -> Self:
        heights = [shelf.z for shelf in self.levels]
        if any(b - a < 0.02 for a, b in pairwise(heights)):
            raise ValueError(
                f"{self.name}: shelf heights = {', '.join(f'{z:.3f}' for z in heights)} m must "
                "rise by at least 0.02 m from level to level; move one up or down."
            )
        if heights[-1] > self.height + 1e-6:
            raise ValueError(
                f"{self.name}: highest shelf = {heights[-1]:.3f} m must not be above the unit's "
                f"height, {self.height:.3f} m; lower it or make the unit taller."
            )
        return self


class Bay(Boxed):
    """Space kept free of shelf units, for tall plants or devices."""

    kind: Literal["bay"] = "bay"


class Platform(Boxed):
    """A small stand; its top is a level of its own.

    ``displaced`` is the volume of its own body, which takes up water where it stands in a tray.
    [m³]
    """

    kind: Literal["platform"] = "platform"
    surface: Literal["wire", "solid"] = "solid"
    transmittance: Fraction = 0.0
    rating: Mass | None = None
    displaced: Annotated[float, Field(ge=0, le=1)] = 0.0


class WickMat(Frozen):
    """A mat that carries water up to the pots. [m]"""

    thickness: Extent = 0.004


class Tray(Boxed):
    """A water tray.

    ``fill`` is the water's depth just after a refill, ``displaced`` the volume taken up by what
    stands in it besides the pots (a platform), ``measured_days`` what the grower found between
    refills; it replaces the estimate. [m, m³, days]
    """

    kind: Literal["tray"] = "tray"
    fill: Length = 0.02
    displaced: Annotated[float, Field(ge=0, le=1)] = 0.0
    wick_mat: WickMat | None = None
    reflectance: Fraction = 0.08
    measured_days: Days | None = None

    @model_validator(mode="after")
    def _fill_below_rim(self) -> Self:
        if self.fill > self.height + 1e-9:
            raise ValueError(
                f"{self.name}: fill depth = {self.fill * 1000:.0f} mm must not be above its rim, "
                f"{self.height * 1000:.0f} mm; fill less or take a deeper tray."
            )
        return self


class Pots(Frozen):
    """The pots of a zone, all alike. ``density`` is that of wet substrate. [m, kg/m³]"""

    count: Annotated[int, Field(ge=1, le=2000)] = 1
    diameter: Extent = 0.08
    height: Extent = 0.08
    density: Density = 700.0


class Plants(Part):
    """A zone: the rectangle that one plant group takes on a level, tray or platform.

    Leaf heights are above the pot's rim (above what the zone stands on where there are no pots).
    [m]
    """

    kind: Literal["plants"] = "plants"
    species: Key
    width: Extent
    depth: Extent
    leaf_low: Length = 0.03
    leaf_high: Length = 0.10
    pots: Pots | None = None

    @property
    def pot_height(self) -> float:
        """[m]"""
        return self.pots.height if self.pots else 0.0

    @property
    def extent(self) -> tuple[float, float, float]:
        return (self.width, self.depth, self.pot_height + self.leaf_high)

    @model_validator(mode="after")
    def _leaves_in_order(self) -> Self:
        if self.leaf_low > self.leaf_high:
            raise ValueError(
                f"{self.name}: lowest leaf = {self.leaf_low:.3f} m must not be above the highest, "
                f"{self.leaf_high:.3f} m; swap them."
            )
        return self


class PlantGroup(Frozen):
    """What a kind of plant wants; ``ppfd`` given by the grower goes before ``daily_light``.

    Ranges: ppfd [µmol m⁻² s⁻¹], daily_light [mol m⁻² d⁻¹], temperatures [°C], humidity [0–1],
    air speed [m/s]. ``basis`` says where the numbers come from, by quality.
    """

    key: Key
    name: Name
    habit: Literal["fronds", "rosette", "blades", "trailing", "cushion"] = "rosette"
    ppfd: Span | None = None
    daily_light: Span | None = None
    temperature_day: Span | None = None
    temperature_night: Span | None = None
    humidity: Span | None = None
    air_speed: Span | None = None
    seedlings: bool = False
    source: Annotated[str, Field(max_length=400)] = ""
    quality: Literal["published", "secondary", "memory", "common practice", "entered"] = (
        "common practice"
    )
