"""What a simulated day starts from: the enclosure as one well-mixed zone, and the room round it.

Plain records with numbers by the minute; how they act on each other is in `day_kernel`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from core.arguments import not_negative, positive, within
from core.climate.surfaces import Boundary
from core.errors import InputError, complaint

MINUTES = 1440
"""Minutes in a day."""

DAY_FROM, DAY_TO = 7 * 60, 22 * 60
"""Hours at which a room is as it is by day (common practice). [min]"""

BTU_PER_HOUR = 3.412142
"""British thermal units an hour in a watt."""

LEAST_DIFFERENTIAL = {"temperature": 0.05, "humidity": 0.002}
"""Between switching on and off; a finer one would chatter. [K], [1]"""

MOST_LIGHT = 1000.0
"""More than any lamp gives, and as much as the sun. [W/m²]"""

MINIMUM_OFF = 180.0
"""A compressor must rest for this long (common practice). [s]"""

Floats = NDArray[np.float64]
Series = float | Sequence[float] | Floats
"""One number for the whole day, or one for each of its 1440 minutes."""

Quantity = Literal["temperature", "humidity"]
Beyond = Literal["room", "outdoors"]


def by_minute(thing: str, quantity: str, values: Series) -> Floats:
    """Return a series of 1440 minutes; a single number holds all day.

    Raises
    ------
    InputError
        If there is another count of numbers.
    """
    found = np.asarray(values, dtype=float)
    if found.shape not in ((), (MINUTES,)):
        rule = f"must be one number or {MINUTES}, one a minute"
        raise InputError(complaint(thing, quantity, f"{found.size} numbers", rule, "enter these"))
    return np.array(np.broadcast_to(found, (MINUTES,)))


def from_hours(values: Sequence[float]) -> Floats:
    """Return a day by the minute between the values of its 24 full hours, in straight lines."""
    if len(values) != 24:
        rule = "must be 24, one for each full hour"
        raise InputError(complaint("Day", "values", f"{len(values)}", rule, "enter 24"))
    return np.interp(np.arange(MINUTES) / 60, np.arange(25), [*values, values[0]])


@dataclass(frozen=True, eq=False)
class Room:
    """The air round the enclosure, by the minute.

    Attributes
    ----------
    temperature, humidity : float or series
        Of the room. [°C], 0 to 1
    outdoor_temperature, outdoor_humidity : float or series
        [°C], 0 to 1

    Raises
    ------
    InputError
        If a number is outside its range.
    """

    temperature: Series = 20.0
    humidity: Series = 0.5
    outdoor_temperature: Series = 5.0
    outdoor_humidity: Series = 0.75

    def __post_init__(self) -> None:
        for thing, t, rh in (
            ("Room", self.temperature, self.humidity),
            ("Outdoors", self.outdoor_temperature, self.outdoor_humidity),
        ):
            within(thing, "temperature", by_minute(thing, "temperature", t), -60.0, 80.0, "°C")
            within(thing, "relative humidity", by_minute(thing, "humidity", rh), 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class Control:
    """A thermostat or humidistat: where its device switches on and off.

    A device that cools, dries or ventilates switches on above: ``on`` is above ``off``; one that
    heats or moistens the other way round.

    Attributes
    ----------
    quantity : {"temperature", "humidity"}
    on, off : float or series
        [°C] or 0 to 1
    minimum_off : float
        How long the device rests at least. [s]
    """

    quantity: Quantity
    on: Series
    off: Series
    minimum_off: float = 0.0

    def __post_init__(self) -> None:
        thing = "Thermostat" if self.quantity == "temperature" else "Humidistat"
        not_negative(thing, "minimum rest", self.minimum_off, "s")
        gap = by_minute(thing, "on", self.on) - by_minute(thing, "off", self.off)
        least = LEAST_DIFFERENTIAL[self.quantity]
        ok = np.all(gap >= least * (1 - 1e-9)) or np.all(gap <= -least * (1 - 1e-9))
        if not ok:
            rule = f"must be at least {least:g}, on the same side all day"
            shown = f"{float(np.abs(gap).min()):g}"
            raise InputError(complaint(thing, "differential", shown, rule, "set it wider"))

    @property
    def above(self) -> bool:
        """Whether the device switches on above rather than below."""
        return bool(by_minute("Controller", "on", self.on)[0] > np.ravel(self.off)[0])

    @classmethod
    def below(
        cls, quantity: Quantity, set_point: Series, differential: float, minimum_off: float = 0.0
    ) -> Control:
        """Return a control that heats or moistens, half the differential either side."""
        centre = np.asarray(set_point, dtype=float)
        return cls(quantity, centre - differential / 2, centre + differential / 2, minimum_off)

    @classmethod
    def beyond(
        cls, quantity: Quantity, set_point: Series, differential: float, minimum_off: float = 0.0
    ) -> Control:
        """Return a control that cools or ventilates, half the differential either side."""
        centre = np.asarray(set_point, dtype=float)
        return cls(quantity, centre + differential / 2, centre - differential / 2, minimum_off)


@dataclass(frozen=True, eq=False, kw_only=True)
class Device:
    """What every device has in common.

    Attributes
    ----------
    name : str
        What messages and results call it.
    watts : float
        Electricity that ends as heat in the air inside while it runs. [W]
    control : Control or None
        None: it runs by its hours alone.
    hours : float or series
        Share of full power it may run at, 0 to 1; a timer is a series of zeros and ones.
    """

    name: str = ""
    watts: float = 0.0
    control: Control | None = None
    hours: Series = 1.0

    def __post_init__(self) -> None:
        not_negative(self.thing, "power", self.watts, "W")
        within(self.thing, "hours", by_minute(self.thing, "hours", self.hours), 0.0, 1.0)

    @property
    def thing(self) -> str:
        """How messages begin."""
        kind = type(self).__name__
        return f"{kind} '{self.name}'" if self.name else kind


@dataclass(frozen=True, eq=False, kw_only=True)
class Heater(Device):
    """A heater; its ``watts`` are its output."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Fogger(Device):
    """Makes fog, which takes its latent heat from the air; ``output`` while on. [kg/s]"""

    output: float

    def __post_init__(self) -> None:
        super().__post_init__()
        not_negative(self.thing, "output", self.output, "kg/s")


@dataclass(frozen=True, eq=False, kw_only=True)
class Vent(Device):
    """A fan that changes air with the room or with outdoors, whichever way it blows.

    ``flow`` is counted in the air that comes in. [m³/s]
    """

    flow: float
    source: Beyond = "room"

    def __post_init__(self) -> None:
        super().__post_init__()
        not_negative(self.thing, "flow", self.flow, "m³/s")


@dataclass(frozen=True, eq=False, kw_only=True)
class Cooler(Device):
    """A cooler whose air passes a cold coil; ``watts`` is its fan inside.

    The coil is told by its temperature and the share of air that passes it untouched.

    Attributes
    ----------
    cooling : float
        Nameplate, the most heat it removes, sensible and latent together. [W]
    air_flow : float
        Over the coil. [m³/s]
    coil_temperature : float
        [°C]
    bypass : float
        Share of the air that the coil does not touch, 0 to 1.
    cop : float
        Heat removed over electricity; EER/3.412. [W/W]
    make_up : float
        Air that a single-hose portable draws in from ``source`` in place of what it blows out.
        [m³/s]
    source : {"room", "outdoors"}
    """

    cooling: float
    air_flow: float
    coil_temperature: float = 8.0
    bypass: float = 0.2
    cop: float = 2.9
    make_up: float = 0.0
    source: Beyond = "room"

    def __post_init__(self) -> None:
        super().__post_init__()
        not_negative(self.thing, "cooling", self.cooling, "W")
        not_negative(self.thing, "air flow", self.air_flow, "m³/s")
        within(self.thing, "coil temperature", self.coil_temperature, -20.0, 30.0, "°C")
        within(self.thing, "bypass", self.bypass, 0.0, 1.0)
        positive(self.thing, "coefficient of performance", self.cop)
        not_negative(self.thing, "make-up air", self.make_up, "m³/s")


@dataclass(frozen=True, eq=False)
class Gap:
    """A cracked window, flap or open face that warm and cold air flow through by themselves.

    ``share`` is how far it is open by the minute, 0 to 1; ``height`` stays. [m]
    """

    width: float
    height: float
    beyond: Beyond = "room"
    share: Series = 1.0

    def __post_init__(self) -> None:
        not_negative("Opening", "width", self.width, "m")
        not_negative("Opening", "height", self.height, "m")
        within("Opening", "share open", by_minute("Opening", "share", self.share), 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class LampHeat:
    """A lamp's electricity and where it goes.

    Attributes
    ----------
    watts : float or series
        By the minute, dimming included. [W]
    light_share : float
        Share that leaves the lamp as light.
    driver_share : float
        Share that the driver turns into heat.
    driver_inside : bool
        A driver outside keeps its heat out.
    """

    watts: Series
    light_share: float = 0.45
    driver_share: float = 0.12
    driver_inside: bool = True

    def __post_init__(self) -> None:
        not_negative("Lamp", "power", by_minute("Lamp", "power", self.watts), "W")
        not_negative("Lamp", "share of light", self.light_share)
        not_negative("Lamp", "share of the driver", self.driver_share)
        within("Lamp", "shares", self.light_share + self.driver_share, 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class WetTray:
    """A free water surface or wet mat. [m]

    ``speed`` is of the air over it [m/s]; ``wet`` the share of its area that is bare and wet;
    ``factor`` what the grower measured over what the formula gives.
    """

    width: float
    depth: float
    speed: Series = 0.1
    wet: float = 1.0
    factor: float = 1.0

    def __post_init__(self) -> None:
        positive("Tray", "width", self.width, "m")
        positive("Tray", "depth", self.depth, "m")
        not_negative("Tray", "air speed", by_minute("Tray", "air speed", self.speed), "m/s")
        within("Tray", "wet share", self.wet, 0.0, 1.0)
        positive("Tray", "factor on evaporation", self.factor)


@dataclass(frozen=True, eq=False)
class Leaves:
    """The leaves of one plant group.

    Attributes
    ----------
    area : float
        Ground that they cover. [m²]
    leaf_area_index : float
        Leaf area over that ground.
    ppfd : float or series
        Light that opens their pores. [µmol/(m² s)]
    light_share : float
        Share of the light left inside that they absorb, 0 to 1.
    speed : float or series
        Of the air. [m/s]
    leaf_width : float
        [m]
    factor : float
        On the pores' resistance: above 1 for plants that close more than lettuce (assumption).
    """

    area: float
    leaf_area_index: float = 3.0
    ppfd: Series = 0.0
    light_share: float = 0.0
    speed: Series = 0.2
    leaf_width: float = 0.05
    factor: float = 1.0

    def __post_init__(self) -> None:
        not_negative("Leaves", "area", self.area, "m²")
        positive("Leaves", "leaf area index", self.leaf_area_index)
        not_negative("Leaves", "PPFD", by_minute("Leaves", "PPFD", self.ppfd), "µmol/(m² s)")
        within("Leaves", "share of light", self.light_share, 0.0, 1.0)
        not_negative("Leaves", "air speed", by_minute("Leaves", "speed", self.speed), "m/s")
        positive("Leaves", "width", self.leaf_width, "m")
        positive("Leaves", "factor on pore resistance", self.factor)


@dataclass(frozen=True, eq=False, kw_only=True)
class Zone:
    """An enclosure as one well-mixed air and one slow mass (water, shelves, pots, walls).

    Attributes
    ----------
    volume : float
        Of the air. [m³]
    boundaries : sequence of Boundary
        All faces.
    leakage : float
        Air changes with the room through gaps, openings closed. [1/h]
    lamps : sequence of LampHeat
    light_out : float
        Share of their light that leaves through clear covers, 0 to 1.
    other_watts : float or series
        Other electricity that ends as heat in the air: fans, pumps. [W]
    heat_capacity : float
        Of the slow mass. [J/K]
    coupling : float
        From the air to the slow mass. [W/K]
    skin : float
        Heat capacity of what is always as warm as the air: films, leaves, thin wire. [J/K]
    trays : sequence of WetTray
    leaves : sequence of Leaves
    gaps : sequence of Gap
    devices : sequence of Heater, Fogger, Vent or Cooler
    pressure : float
        [Pa]

    Raises
    ------
    InputError
        If a number is outside its range.
    """

    volume: float
    boundaries: Sequence[Boundary] = ()
    leakage: float = 0.5
    lamps: Sequence[LampHeat] = ()
    light_out: float = 0.0
    other_watts: Series = 0.0
    heat_capacity: float = 4.2e5
    coupling: float = 60.0
    skin: float = 0.0
    trays: Sequence[WetTray] = ()
    leaves: Sequence[Leaves] = ()
    gaps: Sequence[Gap] = ()
    devices: Sequence[Heater | Fogger | Vent | Cooler] = ()
    pressure: float = 101_325.0

    def __post_init__(self) -> None:
        positive("Enclosure", "volume", self.volume, "m³")
        not_negative("Enclosure", "air changes", self.leakage, "per hour")
        within("Enclosure", "share of light let out", self.light_out, 0.0, 1.0)
        positive("Enclosure", "heat capacity", self.heat_capacity, "J/K")
        positive("Enclosure", "coupling to its mass", self.coupling, "W/K")
        not_negative("Enclosure", "heat capacity of its skin", self.skin, "J/K")
        within("Enclosure", "pressure", self.pressure, 50_000.0, 110_000.0, "Pa")
        watts = by_minute("Enclosure", "heat of devices", self.other_watts)
        not_negative("Enclosure", "heat of devices", watts, "W")
        taken = sum(one.light_share for one in self.leaves)
        within("Leaves", "shares of light together", taken, 0.0, 1 + 1e-9)
        self._check_light()

    def _check_light(self) -> None:
        brightest = float(self.light_watts.max())
        for one in self.leaves:
            light = one.light_share * brightest
            if light > MOST_LIGHT * one.area:
                shown = f"{light:g} W on {one.area:g} m²"
                rule = f"must not be above {MOST_LIGHT:g} W/m²"
                way_out = "enter a smaller share or a larger area"
                raise InputError(complaint("Leaves", "light", shown, rule, way_out))

    @cached_property
    def air_watts(self) -> Floats:
        """Heat of lamps (without their light) and other devices, by the minute. [W]"""
        total = by_minute("Enclosure", "heat of devices", self.other_watts)
        for lamp in self.lamps:
            kept = 1 - lamp.light_share - (0.0 if lamp.driver_inside else lamp.driver_share)
            total = total + kept * by_minute("Lamp", "power", lamp.watts)
        return total

    @cached_property
    def light_watts(self) -> Floats:
        """Light that stays inside and ends as heat, by the minute. [W]"""
        total = np.zeros(MINUTES)
        for lamp in self.lamps:
            total += lamp.light_share * by_minute("Lamp", "power", lamp.watts)
        return total * (1 - self.light_out)

    @cached_property
    def mass_watts(self) -> Floats:
        """The part of `light_watts` that the slow mass absorbs. [W]"""
        taken = sum(one.light_share for one in self.leaves)
        return self.light_watts * max(1 - taken, 0.0)
