"""Air and climate devices: fans, openings, cooler, heater, fogger, reservoir, feed line.

Their physics is in `core.air`, `core.climate` and `core.water`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from core.model.base import (
    Angle,
    Boxed,
    Extent,
    Flow,
    Fraction,
    Frozen,
    Length,
    Part,
    PartId,
    Power,
    Pressure,
    Side,
    WaterRate,
)
from core.model.electric import Powered


class Fan(Powered):
    """A circulation fan.

    ``heading`` is where it blows, in degrees anticlockwise from the x axis seen from above;
    ``elevation`` is upwards from level; ``sweep`` the whole angle an oscillating fan covers.
    """

    kind: Literal["fan"] = "fan"
    diameter: Extent
    flow: Flow
    heading: Angle = 0.0
    elevation: Annotated[float, Field(ge=-90, le=90)] = 0.0
    sweep: Annotated[float, Field(ge=0, le=180)] = 0.0
    speed_setting: Fraction = 1.0


class CurvePoint(Frozen):
    """One point of a fan curve. [Pa, m³/s]"""

    pressure: Pressure
    flow: Flow


class DuctFan(Powered):
    """A fan in a duct or cut-out that moves air between two spaces, from the first to the second.

    ``filter_drop`` is the filter's pressure drop at the free flow. [Pa]
    """

    kind: Literal["duct-fan"] = "duct-fan"
    diameter: Extent
    flow: Flow
    joins: tuple[Side, Side] = ("enclosure", "room")
    curve: Annotated[tuple[CurvePoint, ...], Field(max_length=30)] = ()
    duct_length: Length = 0.0
    bends: Annotated[int, Field(ge=0, le=20)] = 0
    filter_drop: Pressure = 0.0
    control: PartId | None = None


class Opening(Part):
    """A cracked window or a flap: ``width`` × ``height`` in a face or a room window. [m]"""

    kind: Literal["opening"] = "opening"
    width: Extent
    height: Extent
    joins: tuple[Side, Side] = ("enclosure", "room")

    @property
    def extent(self) -> tuple[float, float, float]:
        return (self.width, 0.0, self.height)


class Reservoir(Boxed):
    """A feed reservoir; ``fill`` is the water's height when full. [m]"""

    kind: Literal["reservoir"] = "reservoir"
    fill: Length


class FeedLine(Part):
    """A tube from a reservoir to a fogger, tray or other reservoir.

    ``inlet`` is the height of its open end above the target's base; a float valve closes at the
    target's fill line. Water above the inlet can run out by itself when the feed is by gravity.
    """

    kind: Literal["feed"] = "feed"
    source: PartId
    target: PartId
    drive: Literal["gravity", "pump"] = "gravity"
    valve: Literal["none", "tap", "float"] = "none"
    inlet: Length = 0.0
    bore: Extent = 0.004
    length: Extent = 2.0


class Fogger(Powered):
    """Makes fog from water; ``output`` at full power. [kg/s]"""

    kind: Literal["fogger"] = "fogger"
    output: WaterRate
    tank: Annotated[float, Field(ge=0, le=1)] = 0.0
    control: PartId | None = None


class Cooler(Powered):
    """A window or portable air conditioner; ``cooling`` is its nameplate heat removal. [W]

    It takes heat from the first of ``joins`` and gives it to the second.
    """

    kind: Literal["cooler"] = "cooler"
    style: Literal["window", "portable"] = "window"
    cooling: Power
    air_flow: Flow = 0.08
    joins: tuple[Side, Side] = ("enclosure", "outdoors")
    starts_hard: bool = True
    control: PartId | None = None


class Heater(Powered):
    """A heater or heat mat."""

    kind: Literal["heater"] = "heater"
    style: Literal["convector", "mat", "tube"] = "convector"
    control: PartId | None = None
