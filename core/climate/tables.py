"""A zone and a room as the plain arrays that the day's kernel reads, with the names of columns.

Nothing is decided here; formulas that depend on the minute alone are worked out in advance.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.climate.balance import INNER_FILM
from core.climate.evaporation import leaf_air_resistance, stomatal_resistance
from core.climate.psychrometrics import dry_air_density, humidity_ratio
from core.climate.scalar import AIR_HEAT, LEWIS
from core.climate.surfaces import CONVECTIVE_FILM, Boundary
from core.climate.zone import (
    MINUTES,
    Cooler,
    Floats,
    Fogger,
    Gap,
    Heater,
    Leaves,
    Room,
    Vent,
    WetTray,
    Zone,
    by_minute,
)

RADIATION = INNER_FILM - CONVECTIVE_FILM
"""Conductance of heat radiation between a surface and what surrounds it. [W/(m² K)]"""

WATER_CONDUCTANCE = 100.0
"""From a tray's surface to the bulk of its water (common practice, no source). [W/(m² K)]"""

COVER, TRAY, LEAF = 0, 1, 2
AREA, OUTER, BEYOND, FREE_LENGTH, FORCED_LENGTH, FACTOR = range(6)
ROOM_T, ROOM_W, ROOM_DENSITY, OUT_T, OUT_W, OUT_DENSITY = range(6)
WATTS, FOG, ROOM_FLOW, OUT_FLOW, COIL_FLOW, CAPACITY, COIL_T, BYPASS, REST = range(9)
ALWAYS, BY_TEMPERATURE, BY_HUMIDITY = 0, 1, 2

# What a surface and a coil do in one step, and the coefficients of the whole zone.
PASSES, SHARE, LATENT, TAKEN, SLOPE, BACK, LIT, TEMPERATURE, BEFORE = range(9)
TOUCHED, RATIO = range(2)
(CARRIES, ROOM, OUTDOORS, ELECTRICITY, FOGGING, FOG_HEAT, DRYING, WETTING, LOSING, WARMING,
 STAGE_W) = range(11)  # fmt: skip

_SECONDS_PER_HOUR = 3600


class Tables(NamedTuple):
    """Everything a simulated day needs; n surfaces, k gaps, d devices, by the minute.

    ``dry_air`` and ``leak`` are [kg] and [kg/s], ``skin`` is for each kilogram of dry air. The
    first axes of ``surface``, ``gap`` and ``device`` are the things themselves, their columns
    those named in this module.
    """

    dry_air: float
    pressure: float
    leak: float
    capacity: float
    coupling: float
    skin: float
    air_watts: Floats
    mass_watts: Floats
    around: Floats
    kind: NDArray[np.int64]
    surface: Floats
    heat: Floats
    vapour: Floats
    absorbed: Floats
    speed: Floats
    gap: Floats
    gap_share: Floats
    device: Floats
    quantity: NDArray[np.int64]
    above: Floats
    on: Floats
    off: Floats
    hours: Floats


class Work(NamedTuple):
    """Room for one step's coefficients, by surface, by device and for the whole zone.

    Also whether each device is on, how long it must rest, and how often it started.
    """

    done: Floats
    cold: Floats
    rates: Floats
    on: Floats
    rest: Floats
    begun: Floats


class Kept(NamedTuple):
    """States by the minute and at the end, surfaces' temperatures and devices' starts."""

    states: Floats
    surfaces: Floats
    starts: Floats


def work(given: Tables) -> Work:
    """Return room for one step."""
    surfaces, devices = given.kind.size, given.quantity.size
    return Work(
        np.zeros((surfaces, BEFORE + 1)),
        np.zeros((devices, RATIO + 1)),
        np.zeros(STAGE_W + 1),
        *(np.zeros(devices) for _ in range(3)),
    )


def kept(given: Tables, minutes: int) -> Kept:
    """Return room for the results of ``minutes``."""
    surfaces, devices = given.kind.size, given.quantity.size
    return Kept(
        np.zeros((minutes + 1, 3)), np.zeros((minutes, surfaces)), np.zeros((minutes, devices))
    )


class _Row(NamedTuple):
    """One surface: kind, columns, and its series by the minute."""

    kind: int
    columns: tuple[float, ...]
    heat: Floats
    vapour: Floats
    absorbed: Floats
    speed: Floats


def tables(zone: Zone, room: Room) -> Tables:
    """Return the arrays of a zone in a room."""
    around = around_of(room, zone.pressure)
    light = zone.light_watts
    rows = [
        *(_boundary(one) for one in zone.boundaries),
        *(_tray(one) for one in zone.trays),
        *(_leaves(one, light) for one in zone.leaves),
    ]
    density = float(around[ROOM_DENSITY].mean())
    return Tables(
        zone.volume * density,
        zone.pressure,
        zone.leakage * zone.volume * density / _SECONDS_PER_HOUR,
        zone.heat_capacity,
        zone.coupling,
        zone.skin / (zone.volume * density),
        zone.air_watts,
        zone.mass_watts,
        around,
        np.array([row.kind for row in rows], dtype=np.int64),
        _matrix([row.columns for row in rows], FACTOR + 1),
        _matrix([row.heat for row in rows]),
        _matrix([row.vapour for row in rows]),
        _matrix([row.absorbed for row in rows]),
        _matrix([row.speed for row in rows]),
        *_gaps(zone.gaps),
        *_devices(zone.devices),
    )


def around_of(room: Room, pressure: float) -> Floats:
    """Return temperature, humidity ratio and density of room and outdoors, by the minute."""
    rows = []
    for thing, t, rh in (
        ("Room", room.temperature, room.humidity),
        ("Outdoors", room.outdoor_temperature, room.outdoor_humidity),
    ):
        temperature = by_minute(thing, "temperature", t)
        ratio = humidity_ratio(temperature, by_minute(thing, "humidity", rh), pressure)
        rows += [temperature, ratio, dry_air_density(temperature, ratio, pressure)]
    return np.array(rows)


def _boundary(one: Boundary) -> _Row:
    columns = (one.area, one.outer, one.outdoor_share, 1.0, 1.0, 1.0)
    vapour = CONVECTIVE_FILM / (AIR_HEAT * LEWIS)
    return _Row(COVER, columns, _all(one.inner_film), _all(vapour), _all(0.0), _all(0.0))


def _tray(one: WetTray) -> _Row:
    area = one.width * one.depth
    columns = (
        area * one.wet,
        WATER_CONDUCTANCE,
        0.0,
        area / (2 * (one.width + one.depth)),
        min(one.width, one.depth),
        one.factor,
    )
    speed = by_minute("Tray", "air speed", one.speed)
    return _Row(TRAY, columns, _all(RADIATION), _all(0.0), _all(0.0), speed)


def _leaves(one: Leaves, light: Floats) -> _Row:
    air = leaf_air_resistance(
        by_minute("Leaves", "speed", one.speed), one.leaf_width, one.leaf_area_index
    )
    pores = stomatal_resistance(by_minute("Leaves", "PPFD", one.ppfd), one.factor)
    index = one.leaf_area_index
    columns = (one.area, RADIATION, 0.0, 1.0, 1.0, 1.0)
    heat, vapour = np.asarray(AIR_HEAT * index / air), np.asarray(index / (pores + air))
    return _Row(LEAF, columns, heat, vapour, one.light_share * light, _all(0.0))


def _gaps(gaps: Sequence[Gap]) -> tuple[Floats, Floats]:
    columns = [(one.width, one.height, float(one.beyond == "outdoors")) for one in gaps]
    shares = [by_minute("Opening", "share", one.share) for one in gaps]
    return _matrix(columns, 3), _matrix(shares)


def _devices(devices: Sequence[Heater | Fogger | Vent | Cooler]) -> tuple[Any, ...]:
    quantity = [_quantity(one) for one in devices]
    above = [1.0 if one.control and one.control.above else -1.0 for one in devices]
    ends = [
        [by_minute(one.thing, "switch", end) for end in (one.control.on, one.control.off)]
        if one.control else [_all(0.0), _all(1.0)]
        for one in devices
    ]  # fmt: skip
    hours = [by_minute(one.thing, "hours", one.hours) for one in devices]
    return (
        _matrix([_device(one) for one in devices], REST + 1),
        np.array(quantity, dtype=np.int64),
        np.array(above),
        _matrix([on for on, _ in ends]),
        _matrix([off for _, off in ends]),
        _matrix(hours),
    )


def _quantity(one: Heater | Fogger | Vent | Cooler) -> int:
    if one.control is None:
        return ALWAYS
    return BY_TEMPERATURE if one.control.quantity == "temperature" else BY_HUMIDITY


def _device(one: Heater | Fogger | Vent | Cooler) -> tuple[float, ...]:
    fog = one.output if isinstance(one, Fogger) else 0.0
    brought = one.flow if isinstance(one, Vent) else 0.0
    coil = (0.0, 0.0, 0.0, 0.0)
    if isinstance(one, Cooler):
        coil = (one.air_flow, one.cooling, one.coil_temperature, one.bypass)
        brought = one.make_up
    outdoors = isinstance(one, Vent | Cooler) and one.source == "outdoors"
    rest = one.control.minimum_off if one.control else 0.0
    from_room, from_outdoors = (0.0, brought) if outdoors else (brought, 0.0)
    return (one.watts, fog, from_room, from_outdoors, *coil, rest)


def _all(value: float) -> Floats:
    return np.full(MINUTES, value)


def _matrix(rows: Sequence[Any], width: int = MINUTES) -> Floats:
    return np.array(rows, dtype=float).reshape(len(rows), width)
