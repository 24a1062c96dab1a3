"""What every model class shares: frozen pydantic records, quantity types, places, presence.

The types say the unit kind and the allowed range of each number; which parts exist is said in the
sibling modules.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

ROOM = "room"
"""The host id of things that stand on the room's floor or hang from its ceiling."""

Face = Literal["left", "right", "front", "back", "bottom", "top"]
Half = Literal["day", "night"]
Side = Literal["enclosure", "room", "outdoors"]
Fixing = Literal["stands", "under", "hung", "clipped", "face"]


@dataclass(frozen=True)
class Unit:
    """Annotation that gives a float its unit kind (see `core.units`)."""

    kind: str


class Frozen(BaseModel):
    """Base of all model records: immutable, no unknown keys, no NaN or infinity, no coercion."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, strict=True)


Length = Annotated[float, Field(ge=0, le=100), Unit("length")]
Extent = Annotated[float, Field(gt=0, le=100), Unit("length")]
Offset = Annotated[float, Field(ge=-100, le=100), Unit("length")]
WireArea = Annotated[float, Field(gt=0, le=1e-4), Unit("wire_area")]
Mass = Annotated[float, Field(ge=0, le=5000), Unit("mass")]
Density = Annotated[float, Field(gt=0, le=3000), Unit("density")]
Hardness = Annotated[float, Field(ge=0, le=5), Unit("hardness")]
Temperature = Annotated[float, Field(ge=-60, le=80), Unit("temperature")]
Power = Annotated[float, Field(ge=0, le=20000), Unit("power")]
Current = Annotated[float, Field(gt=0, le=200), Unit("current")]
Voltage = Annotated[float, Field(gt=0, le=480), Unit("voltage")]
Flow = Annotated[float, Field(ge=0, le=10), Unit("flow")]
Pressure = Annotated[float, Field(ge=0, le=10000), Unit("pressure")]
Fraction = Annotated[float, Field(ge=0, le=1), Unit("fraction")]
Angle = Annotated[float, Field(ge=-360, le=360), Unit("angle")]
UValue = Annotated[float, Field(ge=0, le=20), Unit("u_value")]
WaterRate = Annotated[float, Field(ge=0, le=1), Unit("water_rate")]
PhotonFlux = Annotated[float, Field(ge=0, le=20000), Unit("photon_flux")]
PhotonFluxDensity = Annotated[float, Field(ge=0, le=5000), Unit("photon_flux_density")]
LuminousFlux = Annotated[float, Field(ge=0, le=1e6), Unit("luminous_flux")]
Illuminance = Annotated[float, Field(ge=0, le=300000), Unit("illuminance")]
PhotonEfficacy = Annotated[float, Field(gt=0, le=6), Unit("photon_efficacy")]
Days = Annotated[float, Field(gt=0, le=3650), Unit("count")]
Minute = Annotated[int, Field(ge=0, le=1440)]

PartId = Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,59}$")]
Key = Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,59}$")]
Name = Annotated[str, Field(min_length=1, max_length=80)]
Text = Annotated[str, Field(max_length=4000)]


class Span(Frozen):
    """A wanted range; either end may be open.

    The unit is that of the field that holds it.
    """

    low: float | None = None
    high: float | None = None

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(
                f"lowest = {self.low:g} must not be above the highest, {self.high:g}; "
                "swap them or widen the range."
            )
        return self


class Rect(Frozen):
    """A rectangle on a face in the face's own two axes: x before y before z, from its corner. [m]

    On the front and back face ``x`` runs along x and ``y`` up z; on the left and right along y
    and up z; on the bottom and top along x and along y.
    """

    x: Offset
    y: Offset
    width: Extent
    height: Extent


class Place(Frozen):
    """Where a part is: on, under or in its host, in the host's own (unturned) axes.

    ``host`` is `ROOM` or a part's id. ``fixing`` and ``z`` belong together:

    - ``stands``: ``z`` above the surface (of shelf ``level``, where the host has levels);
    - ``under``: ``z`` is the gap below the underside of shelf ``level``;
    - ``hung``: ``z`` is the gap below the host's top;
    - ``clipped``: ``z`` above the host's base, at a post or frame member;
    - ``face``: in face ``face`` of the enclosure, or in a room window: ``x`` along it (from the
      front on the left and right face), ``z`` up; on the bottom and top ``x`` and ``y``.

    ``x``, ``y`` give the lower left corner of the part's footprint after its quarter turns
    (``turn``, anticlockwise seen from above). [m]
    """

    host: str = ROOM
    fixing: Fixing = "stands"
    level: Annotated[int, Field(ge=1, le=40)] | None = None
    face: Face | None = None
    x: Offset = 0.0
    y: Offset = 0.0
    z: Offset = 0.0
    turn: Literal[0, 1, 2, 3] = 0


class Change(Frozen):
    """How a part differs in one season, by day or by night: absent, or with other settings.

    ``season`` None means every season, ``half`` None means day and night. ``settings`` maps field
    names of the part to the value they take then.
    """

    season: Key | None = None
    half: Half | None = None
    absent: bool = False
    settings: dict[str, float | int | bool | str | None] = {}


class Part(Frozen):
    """Anything placed. ``kind`` tells the classes apart in files.

    ``price`` is for one such part, in the design's currency; ``owned`` parts need not be bought.
    """

    id: PartId
    name: Name
    place: Place = Place()
    when: tuple[Change, ...] = ()
    notes: Text = ""
    catalogue: Key | None = None
    price: Annotated[float, Field(ge=0, le=1e6)] | None = None
    owned: bool = False
    locked: bool = False
    hidden: bool = False
    group: Key | None = None
    mass: Mass = 0.0

    @property
    def own_mass(self) -> float:
        """Mass of the whole part, empty, as far as it is given. [kg]"""
        return self.mass

    @property
    def extent(self) -> tuple[float, float, float]:
        """Width, depth and height before any turn. [m]"""
        return (0.0, 0.0, 0.0)


class Boxed(Part):
    """A part that fills an upright box."""

    width: Extent
    depth: Extent
    height: Extent

    @property
    def extent(self) -> tuple[float, float, float]:
        return (self.width, self.depth, self.height)
