"""Readings of water, gathered: when to refill, what a spill would do, where the water comes from.

The sentences are in `refill_rows`, `spill_rows` and `source_rows`, the numbers in the modules
these name.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from core.climate.results import ClimateReadings
from core.model import Cooler, DuctFan, Fan, Heater, Humidistat, Lamp, Opening, Thermostat
from core.phrases import phrase
from core.power.tree import PlugTree
from core.reading import Reading, SubjectReadings
from core.states import RANK, State
from core.study import Study
from core.water.away import Away, away
from core.water.evaporation import WATER_DENSITY
from core.water.feeds import Feed
from core.water.fortnight import Fortnight, fortnight
from core.water.leaks import Spill, spill_of
from core.water.refill_rows import away_row, refill_rows, whole_row
from core.water.source_rows import (
    Purified,
    feed_rows,
    minerals_rows,
    purified_need,
    purified_row,
)
from core.water.spill_rows import spill_rows
from core.water.use import Draw, Rates, Supply, Use

_NO_PART_IN_WATER = (Lamp, Fan, DuctFan, Opening, Cooler, Heater, Thermostat, Humidistat)
_UNJUDGED = (State.FINE, State.UNASKED, State.UNKNOWN)


@dataclass(frozen=True, kw_only=True, eq=False)
class WaterReadings(SubjectReadings):
    """Water: readings by container, and what is drawn of them.

    Attributes
    ----------
    trays, reservoirs : tuple of Supply
        Containers filled by hand, in the order of the parts; a fogger's own tank is a reservoir.
    spill : Spill
        The worst case.
    feeds : tuple of Feed
        Feed lines that run by gravity.
    away : Away or None
        The days without anybody there; None where nobody asked.
    ahead : Fortnight or None
        The fourteen days to come; None where nothing uses water.
    purified : Purified or None
        What a refill takes of purified water; None where nothing gets any.
    """

    subject: str = "water"
    trays: tuple[Supply, ...] = ()
    reservoirs: tuple[Supply, ...] = ()
    spill: Spill = field(default_factory=Spill)
    feeds: tuple[Feed, ...] = ()
    away: Away | None = None
    ahead: Fortnight | None = None
    purified: Purified | None = None

    @property
    def supplies(self) -> tuple[Supply, ...]:
        """Trays and reservoirs together."""
        return self.trays + self.reservoirs

    @property
    def per_day(self) -> float:
        """Water that all containers use in a day. [m³/d]"""
        return sum(supply.per_day for supply in self.supplies)

    @property
    def water_per_day(self) -> tuple[float, float, float] | None:
        """What a day takes from the tap, its least and its most, with what is rejected. [m³/d]

        None where nothing uses water. Purified water that is bought counts as from the tap.
        """
        days_of = ((one.per_day, one.days) for one in self.supplies)
        used = [(per_day, days) for per_day, days in days_of if days and days.value > 0]
        if not used:
            return None
        value = sum(per_day for per_day, _ in used)
        least = sum(per_day * days.value / days.high for per_day, days in used)
        most = sum(per_day * days.value / days.low for per_day, days in used)
        rejected = self.purified.reject_per_day / value if self.purified and value else 0.0
        return value * (1 + rejected), least * (1 + rejected), most * (1 + rejected)


def inputs(study: Study) -> Any:
    """Return everything water looks at: all parts but lamps, fans and what heats or cools."""
    design = study.design
    parts = tuple(part for part in design.parts if not isinstance(part, _NO_PART_IN_WATER))
    return parts, design.room.fixtures, design.room.height, design.targets, design.tap


def read(study: Study) -> WaterReadings:
    """Return the water readings of a design."""
    use = Use(study.placement, PlugTree(study.design), rates_of(study))
    supplies, targets = use.supplies(), study.design.targets
    gone = away(supplies, targets.away_days, targets.refill_days) if targets.away_days else None
    need, spill = purified_need(study, supplies), spill_of(study.placement)
    refills = tuple(refill_rows(study, supplies))
    others = (
        *spill_rows(study, spill),
        *whole_row(supplies),
        *away_row(gone),
        *feed_rows(study, use.feeds),
        *purified_row(study, need, supplies),
        *minerals_rows(study, use),
    )
    return WaterReadings(
        rows=refills + others,
        headline=_headline(refills, others),
        nothing=phrase("no water yet"),
        trays=tuple(one for one in supplies if one.kind == "tray"),
        reservoirs=tuple(one for one in supplies if one.kind != "tray"),
        spill=spill,
        feeds=use.feeds,
        away=gone,
        ahead=fortnight(supplies),
        purified=need,
    )


def rates_of(study: Study) -> Rates:
    """Return what the climate's day says of trays and foggers; nothing before it is known."""
    climate = study.done.get("climate")
    if not isinstance(climate, ClimateReadings):
        return Rates()
    return Rates(
        {tray.id: _by_mass(tray.per_day, tray.low, tray.high) for tray in climate.trays},
        {
            device.id: _by_mass(
                *(device.litres_per_day * end for end in (1, device.low, device.high))
            )
            for device in climate.devices
            if device.kind == "fogger"
        },
    )


def _by_mass(value: float, low: float, high: float) -> Draw:
    """Return what leaves in a day from masses. [kg/d]"""
    return Draw(value / WATER_DENSITY, low / WATER_DENSITY, high / WATER_DENSITY, "climate")


def _headline(refills: tuple[Reading, ...], others: tuple[Reading, ...]) -> Reading | None:
    """Return the first refill, unless something else is worse off."""
    first = min(refills, key=lambda row: row.value or 0.0, default=None)
    worse = [row for row in others if row.state not in _UNJUDGED]
    found = [*([first] if first else []), *worse] or list(others)
    return min(found, key=lambda row: RANK[row.state], default=None)
