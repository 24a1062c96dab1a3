"""Water: trays, evaporation, reservoirs and their tubes, purified water, spill.

The formulas here know numbers only; `core.water.reading` turns a design into their arguments.
"""

from core.water.evaporation import (
    ASSUMED_EVAPORATION,
    RATE_FACTOR,
    Days,
    days_to_refill,
    evaporation,
    use_per_day,
)
from core.water.minerals import deposit_per_day, hardness_words
from core.water.purify import purified_hours, reject_volume
from core.water.reservoirs import tube_head, tube_pressure, volume_above_inlet, water_viscosity
from core.water.spill import LinerBlank, liner_blank, spill_capacity
from core.water.trays import displaced_by_round_pots, tray_volume
from core.water.tubes import friction_factor, head_for, seat_loss, tube_flow

__all__ = [
    "ASSUMED_EVAPORATION",
    "RATE_FACTOR",
    "Days",
    "LinerBlank",
    "days_to_refill",
    "deposit_per_day",
    "displaced_by_round_pots",
    "evaporation",
    "friction_factor",
    "hardness_words",
    "head_for",
    "liner_blank",
    "purified_hours",
    "reject_volume",
    "seat_loss",
    "spill_capacity",
    "tray_volume",
    "tube_flow",
    "tube_head",
    "tube_pressure",
    "use_per_day",
    "volume_above_inlet",
    "water_viscosity",
]
