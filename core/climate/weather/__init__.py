"""Weather and sensor files, and the seasons made of them.

What the air inside makes of a season is for the rest of the package.
"""

from core.climate.weather.epw import Weather, parse_epw, read_epw
from core.climate.weather.sensor import SensorLog, parse_sensor, read_sensor
from core.climate.weather.typical import (
    RoomRule,
    TypicalDay,
    indoors,
    season_logged,
    season_of,
    typical_days,
)

__all__ = [
    "RoomRule",
    "SensorLog",
    "TypicalDay",
    "Weather",
    "indoors",
    "parse_epw",
    "parse_sensor",
    "read_epw",
    "read_sensor",
    "season_logged",
    "season_of",
    "typical_days",
]
