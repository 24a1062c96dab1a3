"""Climate: the properties of moist air, steady balances, fog and openings.

The formulas here know numbers only; `core.climate.reading` turns a design into their arguments.
"""

from core.climate.balance import steady_rise, surface_margin, ventilation_for_rise
from core.climate.fogging import fog_rate, humidistat_cycle
from core.climate.openings import opening_flow
from core.climate.psychrometrics import (
    dew_point,
    dry_air_density,
    enthalpy,
    heat_capacity,
    humidity_ratio,
    saturation_pressure,
    vapour_pressure_deficit,
    wet_bulb,
)

__all__ = [
    "dew_point",
    "dry_air_density",
    "enthalpy",
    "fog_rate",
    "heat_capacity",
    "humidistat_cycle",
    "humidity_ratio",
    "opening_flow",
    "saturation_pressure",
    "steady_rise",
    "surface_margin",
    "vapour_pressure_deficit",
    "ventilation_for_rise",
    "wet_bulb",
]
