"""What climate found about a design: series by the minute, halves of the day, devices, trays.

Records only; `day_results` fills them, from a simulated day or from a steady estimate.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from core.climate.day_run import DayRun, DeviceRun
from core.climate.sizing import Sizing
from core.climate.zone import Floats
from core.model import Face
from core.reading import SubjectReadings

Half = Literal["day", "night"]
Flags = NDArray[np.bool_]


class Levels(NamedTuple):
    """A quantity over one half of the day. [as the quantity]"""

    mean: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class DaySeries:
    """The air inside through 24 hours, by the minute, each of shape (1440,).

    Attributes
    ----------
    temperature, humidity, dew_point : ndarray
        [°C], 0 to 1, [°C]
    deficit, leaf_deficit : ndarray
        Vapour pressure deficit of the air, and from leaves to air; alike without plants. [Pa]
    margin : ndarray
        How far the coldest face is above the dew point; infinite without faces. [K]
    room_temperature, room_humidity : ndarray
        [°C], 0 to 1
    lit : ndarray of bool
        While lamps inside are on; without lamps, in the room's own day.
    """

    temperature: Floats
    humidity: Floats
    dew_point: Floats
    deficit: Floats
    leaf_deficit: Floats
    margin: Floats
    room_temperature: Floats
    room_humidity: Floats
    lit: Flags


@dataclass(frozen=True)
class HalfAir:
    """The hours of one half of the day, and what the air is like in them."""

    half: Half
    hours: float
    temperature: Levels
    humidity: Levels
    deficit: Levels
    leaf_deficit: Levels
    margin: Levels
    room: float

    @property
    def rise(self) -> float:
        """Mean warming above the room. [K]"""
        return self.temperature.mean - self.room


@dataclass(frozen=True, eq=False)
class DeviceDay(DeviceRun):
    """One device of a design through the day.

    Attributes
    ----------
    id : str
        Of the part.
    control : bool
        Whether a set-point holds it.
    low, high : float
        Ends of its duty's range, as factors on it.
    """

    id: str = ""
    control: bool = False
    low: float = 1.0
    high: float = 1.0


@dataclass(frozen=True)
class TrayDay:
    """Water that leaves one tray. [kg/d]

    ``evaporated`` is from bare water or mat, ``transpired`` by the leaves that stand in it;
    ``low`` and ``high`` are the ends of the range of ``per_day``.
    """

    id: str
    evaporated: float
    transpired: float
    low: float
    high: float

    @property
    def per_day(self) -> float:
        """[kg/d]"""
        return self.evaporated + self.transpired


@dataclass(frozen=True, eq=False)
class ZoneDay:
    """Leaves of one plant group's place: temperature [°C], deficit to the air [Pa], [kg/d]."""

    id: str
    temperature: Floats
    deficit: Floats
    transpired: float


@dataclass(frozen=True, eq=False)
class FaceDay:
    """One face, or the part of one that has the same behind it.

    ``margin`` is above the dew point [K], ``condensed`` what runs off it. [kg/d]
    """

    face: Face
    temperature: Floats
    margin: Floats
    condensed: float


@dataclass(frozen=True)
class Answers:
    """How large a device must be; None where nothing says what to hold.

    ``ventilation`` of room air [m³/s] keeps within `rise` of the room [K], ``cooler`` and
    ``heater`` [W] hold the plants' range, ``fogger`` [kg/s] their lowest humidity.
    """

    rise: float
    ventilation: Sizing | None = None
    cooler: Sizing | None = None
    fogger: Sizing | None = None
    heater: Sizing | None = None


Named = TypeVar("Named", DeviceDay, TrayDay, ZoneDay)


@dataclass(frozen=True, kw_only=True, eq=False)
class ClimateReadings(SubjectReadings):
    """Climate: readings of the air inside, and all that they were made of.

    Attributes
    ----------
    series : DaySeries or None
        None without an enclosure that is closed above.
    day, night : HalfAir or None
        While lamps are on, and off; ``night`` is None where they never go off.
    devices, trays, zones, faces : tuple
        In the order of the parts.
    wet : tuple of (int, int)
        When water condenses on some face, from minute to minute of the day; may pass midnight.
    sizing : Answers or None
    run : DayRun or None
        The simulated day; None in the steady estimate, which is ``coarse``.
    tried : dict
        What was found for edits that were tried out, by their words; holds as long as these
        readings do.
    """

    subject: str = "climate"
    series: DaySeries | None = None
    day: HalfAir | None = None
    night: HalfAir | None = None
    devices: tuple[DeviceDay, ...] = ()
    trays: tuple[TrayDay, ...] = ()
    zones: tuple[ZoneDay, ...] = ()
    faces: tuple[FaceDay, ...] = ()
    wet: tuple[tuple[int, int], ...] = ()
    sizing: Answers | None = None
    run: DayRun | None = None
    tried: dict[str, Any] = field(default_factory=dict)

    def device(self, part_id: str) -> DeviceDay | None:
        """Return what a device did by its part's id."""
        return _by_id(self.devices, part_id)

    def tray(self, part_id: str) -> TrayDay | None:
        """Return what a tray lost by its part's id."""
        return _by_id(self.trays, part_id)

    def zone(self, part_id: str) -> ZoneDay | None:
        """Return the leaves of one zone by its plants' id."""
        return _by_id(self.zones, part_id)

    @property
    def condensed(self) -> float:
        """Water that runs off all faces. [kg/d]"""
        return sum(face.condensed for face in self.faces)

    @property
    def fog(self) -> float:
        """Water that foggers give off. [kg/d]"""
        return sum(one.litres_per_day for one in self.devices if one.kind == "fogger")

    @property
    def night_drop(self) -> float | None:
        """From the day's mean to the night's; None where there is no night. [K]"""
        if self.day is None or self.night is None:
            return None
        return self.day.temperature.mean - self.night.temperature.mean


def _by_id(found: Iterable[Named], part_id: str) -> Named | None:
    return next((one for one in found if one.id == part_id), None)
