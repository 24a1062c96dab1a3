"""Electricity: timers and the load of a day, circuits, leads and chains, inrush, energy and cost.

The formulas here know numbers only; `core.power.reading` turns a design into their arguments.
"""

from core.power.circuits import (
    NORTH_AMERICAN_BREAKERS,
    NORTH_AMERICAN_FACTOR,
    OTHER_BREAKERS,
    OTHER_FACTOR,
    ContinuousLoad,
    appliance_limit,
    breaker_size,
    continuous_capacity,
    continuous_load,
    inrush_count,
)
from core.power.energy import Tariff, cost_per_day, cost_per_month
from core.power.leads import (
    CONDUCTORS,
    ChainLimits,
    Conductor,
    chain_drop,
    chain_limit,
    chain_limits,
    current,
    drop_share,
    resistance_at,
    voltage_drop,
)
from core.power.profile import DAYS_PER_MONTH, MINUTES, Device, LoadProfile, load_profile

__all__ = [
    "CONDUCTORS",
    "DAYS_PER_MONTH",
    "MINUTES",
    "NORTH_AMERICAN_BREAKERS",
    "NORTH_AMERICAN_FACTOR",
    "OTHER_BREAKERS",
    "OTHER_FACTOR",
    "ChainLimits",
    "Conductor",
    "ContinuousLoad",
    "Device",
    "LoadProfile",
    "Tariff",
    "appliance_limit",
    "breaker_size",
    "chain_drop",
    "chain_limit",
    "chain_limits",
    "continuous_capacity",
    "continuous_load",
    "cost_per_day",
    "cost_per_month",
    "current",
    "drop_share",
    "inrush_count",
    "load_profile",
    "resistance_at",
    "voltage_drop",
]
