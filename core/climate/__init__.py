"""Climate: moist air, steady balances, fog and openings, and the day simulated by the minute.

The formulas here know numbers only; `core.climate.reading` turns a design into their arguments.
"""

from core.climate.balance import steady_rise, surface_margin, ventilation_for_rise
from core.climate.day_run import DayRun, DeviceRun
from core.climate.evaporation import (
    evaporation,
    evaporation_by_convection,
    leaf_air_resistance,
    stomatal_resistance,
    transpiration,
)
from core.climate.fogging import fog_rate, humidistat_cycle
from core.climate.ledgers import EnergyLedger, MoistureLedger
from core.climate.openings import opening_flow, stack_flow
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
from core.climate.simulation import kernels_ready, simulate, warm_up
from core.climate.sizing import (
    Sizing,
    coil_split,
    cooler_needed,
    fogger_needed,
    heater_needed,
    ventilation_needed,
)
from core.climate.surfaces import Boundary, against, gap_resistance, lined, u_value
from core.climate.zone import (
    Control,
    Cooler,
    Fogger,
    Gap,
    Heater,
    LampHeat,
    Leaves,
    Room,
    Vent,
    WetTray,
    Zone,
    from_hours,
)

__all__ = [
    "Boundary",
    "Control",
    "Cooler",
    "DayRun",
    "DeviceRun",
    "EnergyLedger",
    "Fogger",
    "Gap",
    "Heater",
    "LampHeat",
    "Leaves",
    "MoistureLedger",
    "Room",
    "Sizing",
    "Vent",
    "WetTray",
    "Zone",
    "against",
    "coil_split",
    "cooler_needed",
    "dew_point",
    "dry_air_density",
    "enthalpy",
    "evaporation",
    "evaporation_by_convection",
    "fog_rate",
    "fogger_needed",
    "from_hours",
    "gap_resistance",
    "heat_capacity",
    "heater_needed",
    "humidistat_cycle",
    "humidity_ratio",
    "kernels_ready",
    "leaf_air_resistance",
    "lined",
    "opening_flow",
    "saturation_pressure",
    "simulate",
    "stack_flow",
    "steady_rise",
    "stomatal_resistance",
    "surface_margin",
    "transpiration",
    "u_value",
    "vapour_pressure_deficit",
    "ventilation_for_rise",
    "ventilation_needed",
    "warm_up",
    "wet_bulb",
]
