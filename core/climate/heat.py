"""An enclosure's heat and what carries it away: devices, covers, leakage, fans and open faces.

Turns a design into the numbers that `balance` weighs; temperatures wanted are in `reading`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.climate.balance import steady_rise
from core.climate.openings import opening_flow
from core.climate.psychrometrics import dry_air_density, heat_capacity, humidity_ratio
from core.geometry import Box
from core.model import (
    FACES,
    Cooler,
    Design,
    DuctFan,
    Enclosure,
    Face,
    Heater,
    Lamp,
    Opening,
    Thermostat,
)
from core.placement import Placement
from core.power.profile import MINUTES
from core.power.reading import PowerReadings

USUAL_U = 4.16
"""Taken for a cover without a U-value: one thin film between two still-air films. [W/(m² K)]"""

FLOOR_U = 1.5
"""Taken for the floor below: a still-air film, liner and the room's own floor, which is at room
temperature (common practice, no source). [W/(m² K)]"""

DRIVER_SHARE = 0.12
"""Share of a lamp's power that its driver turns into heat (common practice, no source)."""

LIGHT_SHARE = 0.45
"""Share of a lamp's power that leaves it as light, for white LED (common practice, no source)."""

LEAST_FLOW = 0.6
"""Share of its free flow that a fan moves behind a duct or filter (common practice, no source)."""

_SECONDS_PER_HOUR = 3600
_HOTTEST = 150.0
_STEPS = 14

Series = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Heat:
    """Mean heat set free inside, and how much of it starts as light. [W]"""

    power: float = 0.0
    light: float = 0.0


@dataclass(frozen=True, eq=False)
class Halves:
    """The minutes of a day at which the lamps inside are at full power, and those they are off.

    ``dark`` is None where they never go off; without lamps ``lit`` is the whole day.
    """

    lit: Flags
    dark: Flags | None
    lamps: bool


@dataclass(frozen=True)
class Losses:
    """What carries heat from an enclosure to the room.

    Attributes
    ----------
    covers : float
        U-value times area, of the covers and the floor. [W/K]
    leakage, fans, least_fans : float
        Air exchanged through gaps, by duct fans at their free flow, and the least these may move:
        behind ducts, or switched off by a controller. [m³/s]
    unswitched : float
        Air that duct fans exchange at their free flow while those with a thermostat rest. [m³/s]
    openings : tuple of (width, height)
        Open upright faces and flaps, each by itself. [m]
    """

    covers: float
    leakage: float = 0.0
    fans: float = 0.0
    least_fans: float = 0.0
    unswitched: float = 0.0
    openings: tuple[tuple[float, float], ...] = ()

    def rise(self, power: float, t: float, rh: float) -> float:
        """Return the steady warming above a room at ``t`` and ``rh``. [K]"""
        ratio = humidity_ratio(t, rh)
        density = float(dry_air_density(t, ratio))
        closed = steady_rise(power, self.covers, (self.leakage + self.fans) * density, t, rh)
        if not self.openings or power == 0:
            return closed
        carried = density * float(heat_capacity(ratio))

        def after(rise: float) -> float:
            drawn = sum(opening_flow(*size, t + rise, t) for size in self.openings)
            return power / (power / closed + drawn * carried)

        return _fixed_point(after, min(closed, _HOTTEST))


def _fixed_point(falling: Callable[[float], float], start: float) -> float:
    """Return the rise that a slowly falling function of the rise gives back. [K]

    The geometric mean of rise and result takes at least half of the error off at each step.
    """
    rise = start
    for _ in range(_STEPS):
        rise = math.sqrt(rise * min(falling(rise), _HOTTEST))
    return rise


def halves(placement: Placement, power: PowerReadings) -> Halves:
    """Return when the lamps inside are at full power and when they are off."""
    lamps = np.zeros(MINUTES)
    for load in power.by_device:
        part = placement.design.part(load.id)
        if isinstance(part, Lamp) and placement.inside(part.id):
            lamps += load.series
    if not lamps.any():
        return Halves(np.ones(MINUTES, dtype=bool), None, lamps=False)
    off = lamps == 0
    return Halves(lamps >= lamps.max() * (1 - 1e-9), off if off.any() else None, lamps=True)


def heat(placement: Placement, power: PowerReadings, when: Flags) -> Heat:
    """Return the mean heat of all devices inside; coolers and heaters are left out."""
    total, light = 0.0, 0.0
    for load in power.by_device:
        part = placement.design.part(load.id)
        if isinstance(part, Cooler | Heater) or not placement.inside(part.id):
            continue
        watts = float(load.series[when].mean()) * (1.0 if load.duty is None else load.duty)
        outside = isinstance(part, Lamp) and not part.driver_inside
        total += watts * (1 - DRIVER_SHARE if outside else 1.0)
        light += watts * LIGHT_SHARE if isinstance(part, Lamp) else 0.0
    return Heat(total, light)


def losses(placement: Placement, enclosure: Enclosure, power: PowerReadings, when: Flags) -> Losses:
    """Return what carries heat from an enclosure that is covered above."""
    box = placement.box(enclosure.id)
    sides = [(_across(box, face), box.size[2]) for face in open_sides(enclosure)]
    flaps = [(flap.width, flap.height) for flap in flaps_to_the_room(placement.design)]
    fans = duct_fans(placement.design)
    free = [(fan, fan.flow * _share_on(fan, power, when)) for fan in fans]
    least = [(fan, 0.0 if fan.control else LEAST_FLOW * flow) for fan, flow in free]
    vents = {fan.id for fan in thermostatted(placement.design)}
    return Losses(
        sum(u_value(enclosure, face) * area(box, face) for face in FACES),
        enclosure.air_changes_per_hour * box.volume / _SECONDS_PER_HOUR,
        _through(free),
        _through(least),
        _through((fan, flow) for fan, flow in free if fan.id not in vents),
        (*sides, *flaps),
    )


def _share_on(fan: DuctFan, power: PowerReadings, when: Flags) -> float:
    on = float(power.tree.level(fan)[when].mean())
    return on * (1.0 if fan.duty is None else fan.duty)


def _through(flows: Iterable[tuple[DuctFan, float]]) -> float:
    """Return the air that goes through: intakes and exhausts serve each other. [m³/s]"""
    flows = tuple(flows)
    out = sum(flow for fan, flow in flows if fan.joins[0] == "enclosure")
    into = sum(flow for fan, flow in flows if fan.joins[1] == "enclosure")
    return max(out, into)


def open_sides(enclosure: Enclosure) -> tuple[Face, ...]:
    """Return the upright faces that nothing covers."""
    upright = (face for face in FACES if face not in ("top", "bottom"))
    return tuple(face for face in upright if enclosure.cover(face) is None)


def flaps_to_the_room(design: Design) -> tuple[Opening, ...]:
    """Return openings between enclosure and room."""
    return tuple(item for item in design.of(Opening) if set(item.joins) == {"enclosure", "room"})


def duct_fans(design: Design) -> tuple[DuctFan, ...]:
    """Return the fans that move air into or out of the enclosure."""
    fans = design.of(DuctFan)
    return tuple(fan for fan in fans if fan.joins.count("enclosure") == 1)


def thermostatted(design: Design) -> tuple[DuctFan, ...]:
    """Return the duct fans that a thermostat of the design switches."""
    controls = {part.id for part in design.of(Thermostat)}
    return tuple(fan for fan in duct_fans(design) if fan.control in controls)


def area(box: Box, face: Face) -> float:
    """Return the area of one face. [m²]"""
    if face in ("top", "bottom"):
        return box.footprint.area
    return _across(box, face) * box.size[2]


def _across(box: Box, face: Face) -> float:
    return box.size[0] if face in ("front", "back") else box.size[1]


def u_value(enclosure: Enclosure, face: Face) -> float:
    """Return a face's U-value; 0 where it is open and air alone carries heat. [W/(m² K)]"""
    cover = enclosure.cover(face)
    if cover is None:
        return FLOOR_U if face == "bottom" else 0.0
    return USUAL_U if cover.sheet.u_value is None else cover.sheet.u_value


def transmittance(enclosure: Enclosure, box: Box) -> float:
    """Return the share of light that the faces let out, averaged over their area. [0–1]"""
    weighted = sum(_clear(enclosure, face) * area(box, face) for face in FACES)
    return weighted / sum(area(box, face) for face in FACES)


def _clear(enclosure: Enclosure, face: Face) -> float:
    cover = enclosure.cover(face)
    if cover is None:
        return 0.0 if face == "bottom" else 1.0
    return cover.sheet.transmittance
