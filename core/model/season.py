"""A season: the typical day round the enclosure, told by day and night or hour by hour.

What the air inside makes of it is worked out in `core.climate`; which parts are there in a season
is said by the parts.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from core.model.base import Fraction, Frozen, Key, Name, Temperature, Text, Unit

HOURS = 24

HourlyTemperature = Annotated[tuple[Temperature, ...], Field(min_length=HOURS, max_length=HOURS)]
HourlyFraction = Annotated[tuple[Fraction, ...], Field(min_length=HOURS, max_length=HOURS)]
Irradiance = Annotated[float, Field(ge=0, le=1400), Unit("irradiance")]
HourlySun = Annotated[tuple[Irradiance, ...], Field(min_length=HOURS, max_length=HOURS)]


class DayProfile(Frozen):
    """Air through a day: its temperature and relative humidity at each full hour. [°C, 0–1]"""

    temperature: HourlyTemperature
    humidity: HourlyFraction


class Season(Frozen):
    """A typical day's surroundings: the room's and the outdoor air, by day and by night.

    ``room`` and ``outdoors`` tell the same hour by hour and go before the numbers by day and
    night; ``sun`` is what falls on the room window that the enclosure stands at, at each full
    hour [W/m²], None where it is not known. ``source`` says in words where they come from.
    """

    id: Key
    name: Name
    room_day: Temperature = 21.0
    room_night: Temperature = 18.0
    room_humidity_day: Fraction = 0.5
    room_humidity_night: Fraction = 0.5
    outdoor_day: Temperature = 5.0
    outdoor_night: Temperature = 0.0
    outdoor_humidity_day: Fraction = 0.75
    outdoor_humidity_night: Fraction = 0.85
    room: DayProfile | None = None
    outdoors: DayProfile | None = None
    sun: HourlySun | None = None
    source: Text = ""


WINTER = Season(id="winter", name="Winter day")
SUMMER = Season(
    id="summer",
    name="Summer day",
    room_day=26.0,
    room_night=22.0,
    outdoor_day=27.0,
    outdoor_night=16.0,
    outdoor_humidity_day=0.55,
    outdoor_humidity_night=0.8,
)
