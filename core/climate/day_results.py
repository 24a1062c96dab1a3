"""From a simulated day, or from a steady estimate, to what the parts of a design did and lost.

Sentences are made in `rows` and its neighbours; the air itself comes from `simulation`, `estimate`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields

import numpy as np

from core.climate.day_run import DayRun, DeviceRun
from core.climate.estimate import Settled
from core.climate.from_design import Setup
from core.climate.psychrometrics import dew_point, saturation_pressure, vapour_pressure
from core.climate.results import (
    DaySeries,
    DeviceDay,
    FaceDay,
    Flags,
    Half,
    HalfAir,
    Levels,
    TrayDay,
    ZoneDay,
)
from core.climate.spread import EVAPORATION_FACTOR, Spread
from core.climate.zone import MINUTES, Cooler, Floats, Fogger, by_minute
from core.model import Design, DuctFan, Plants
from core.model import Fogger as FoggerPart
from core.power.profile import periods_of

_DAY = 86_400.0
_DRIEST = 1e-4


@dataclass(frozen=True, eq=False)
class Air:
    """The air, all surfaces and all devices by the minute, however they were found.

    ``surfaces`` and ``taken`` have the faces, the trays and the leaves in this order, shape
    (1440, surfaces). [°C], [kg/kg], [Pa], [°C], [kg/s]
    """

    temperature: Floats
    humidity_ratio: Floats
    pressure: float
    surfaces: Floats
    taken: Floats
    devices: tuple[DeviceRun, ...]


def of_run(run: DayRun) -> Air:
    """Return a simulated day."""
    return Air(
        run.temperature,
        run.humidity_ratio,
        run.pressure,
        np.hstack([run.surface_temperature, run.water_temperature, run.leaf_temperature]),
        np.hstack([run.condensing, -run.evaporating, -run.transpiring]),
        run.devices,
    )


def of_settled(made: Setup, found: Settled, variant: int = 0) -> Air:
    """Return a day that is steady while lamps are on, and again while they are off."""
    half = (made.day == 0).astype(int) if found.temperature.shape[1] > 1 else np.zeros(MINUTES, int)
    duty, removed, dripped = (
        part[variant][half] for part in (found.duty, found.removed, found.dripped)
    )
    runs = []
    for number, one in enumerate(made.zone.devices):
        share, cold = duty[:, number], removed[:, number]
        watts = one.watts * share + (cold / one.cop if isinstance(one, Cooler) else 0.0)
        water = one.output * share if isinstance(one, Fogger) else dripped[:, number]
        kind = type(one).__name__.lower()
        runs.append(DeviceRun(one.name, kind, share, np.zeros(MINUTES), watts, cold, water))
    return Air(
        found.temperature[variant][half],
        found.humidity_ratio[variant][half],
        made.zone.pressure,
        found.surfaces[variant][half],
        found.taken[variant][half],
        tuple(runs),
    )


@dataclass(frozen=True, eq=False)
class Gathered:
    """What `ClimateReadings` holds of a day, without its rows."""

    series: DaySeries
    day: HalfAir
    night: HalfAir | None
    devices: tuple[DeviceDay, ...]
    trays: tuple[TrayDay, ...]
    zones: tuple[ZoneDay, ...]
    faces: tuple[FaceDay, ...]
    wet: tuple[tuple[int, int], ...]


def gathered(design: Design, made: Setup, air: Air, off: Spread) -> Gathered:
    """Return what each part of a design did in a day.

    Parameters
    ----------
    design : Design
    made : Setup
        The zone, and which part each of its pieces is.
    air : Air
    off : Spread
        How far off its numbers may be.

    Returns
    -------
    Gathered
    """
    faces = len(made.boundaries)
    leaves = air.surfaces[:, faces + len(made.trays) :]
    series = _series(made, air, leaves)
    zones = tuple(_zones(made, air, leaves, series))
    lit = series.lit
    return Gathered(
        series=series,
        day=half_air("day", series, lit),
        night=half_air("night", series, ~lit) if not lit.all() else None,
        devices=tuple(_devices(design, made, air, off)),
        trays=tuple(_trays(design, made, air, zones)),
        zones=zones,
        faces=tuple(_faces(made, air, series)),
        wet=spells(np.asarray((air.taken[:, :faces] > 0).any(axis=1))),
    )


def half_air(half: Half, series: DaySeries, when: Flags) -> HalfAir:
    """Return means and extremes over the minutes of one half."""

    def levels(values: Floats) -> Levels:
        part = values[when]
        return Levels(float(part.mean()), float(part.min()), float(part.max()))

    return HalfAir(
        half,
        float(when.sum()) / 60,
        levels(series.temperature),
        levels(series.humidity),
        levels(series.deficit),
        levels(series.leaf_deficit),
        levels(series.margin),
        float(series.room_temperature[when].mean()),
    )


def _series(made: Setup, air: Air, leaves: Floats) -> DaySeries:
    vapour = vapour_pressure(air.humidity_ratio, air.pressure)
    most = np.asarray(saturation_pressure(air.temperature))
    humidity = vapour / most
    dew = np.asarray(dew_point(air.temperature, np.clip(humidity, _DRIEST, 1.0)))
    coldest = air.surfaces[:, : len(made.boundaries)].min(axis=1, initial=np.inf)
    weights = np.array([one.area for one in made.zone.leaves])
    deficit = most - vapour
    if weights.sum() > 0:
        own = np.asarray(saturation_pressure(leaves)) - vapour[:, None]
        leaf_deficit = own @ weights / weights.sum()
    else:
        leaf_deficit = deficit
    return DaySeries(
        air.temperature,
        humidity,
        dew,
        deficit,
        leaf_deficit,
        coldest - dew,
        by_minute("Room", "temperature", made.room.temperature),
        by_minute("Room", "humidity", made.room.humidity),
        made.day > 0,
    )


def _zones(made: Setup, air: Air, leaves: Floats, series: DaySeries) -> Iterator[ZoneDay]:
    vapour = np.asarray(saturation_pressure(air.temperature)) - series.deficit
    first = len(made.boundaries) + len(made.trays)
    for number, part_id in enumerate(made.leaves):
        own = leaves[:, number]
        lost = -float(air.taken[:, first + number].mean()) * _DAY
        yield ZoneDay(part_id, own, np.asarray(saturation_pressure(own)) - vapour, lost)


def _trays(design: Design, made: Setup, air: Air, zones: tuple[ZoneDay, ...]) -> Iterator[TrayDay]:
    """Iterate over the trays; what leaves lose comes from the tray that their plants stand in."""
    lost = {zone.id: zone.transpired for zone in zones}
    for number, part_id in enumerate(made.trays):
        bare = -float(air.taken[:, len(made.boundaries) + number].mean()) * _DAY
        standing = [part.id for part in design.carried(part_id) if isinstance(part, Plants)]
        drunk = sum(lost.get(plants, 0.0) for plants in standing)
        total = bare + drunk
        ends = sorted((total / EVAPORATION_FACTOR, total * EVAPORATION_FACTOR))
        yield TrayDay(part_id, bare, drunk, *ends)


def _faces(made: Setup, air: Air, series: DaySeries) -> Iterator[FaceDay]:
    for number, face in enumerate(made.boundaries):
        surface = air.surfaces[:, number]
        ran = float(air.taken[:, number].mean()) * _DAY
        yield FaceDay(face, surface, surface - series.dew_point, ran)


def _devices(design: Design, made: Setup, air: Air, off: Spread) -> Iterator[DeviceDay]:
    """Iterate over the parts; one set otherwise by day and by night is two devices of the zone.

    To the zone a device that stands outside has no watts; here it has what it draws.
    """
    for part_id in dict.fromkeys(made.devices):
        own = [n for n, other in enumerate(made.devices) if other == part_id]
        runs = [air.devices[n] for n in own]
        control = any(made.zone.devices[n].control is not None for n in own)
        first = runs[0]
        sums = {
            field.name: sum(getattr(run, field.name) for run in runs)
            for field in fields(DeviceRun)
            if field.name not in ("name", "kind")
        }
        part = design.by_id.get(part_id)
        if isinstance(part, DuctFan | FoggerPart) and not any(
            made.zone.devices[n].watts for n in own
        ):
            sums["watts"] = part.watts * sums["duty"]
        duty = float(np.mean(sums["duty"]))
        low, high = off.duty[part_id].ends(duty, 0.0, 1.0)
        yield DeviceDay(
            name=first.name,
            kind=first.kind,
            **sums,
            id=part_id,
            control=control,
            low=low / duty if duty > 0 else 1.0,
            high=high / duty if duty > 0 else 1.0,
        )


def spells(when: Flags) -> tuple[tuple[int, int], ...]:
    """Return the spells of a day in which something holds, from minute to minute.

    One that passes midnight ends after it began, by more than 1440. All day is (0, 1440).
    """
    return tuple((on, off if off > on else off + MINUTES) for on, off in periods_of(when))
