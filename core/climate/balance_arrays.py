"""A zone's means over each half of the day as arrays, several variants of it side by side.

Only gathers numbers; the steady state they lead to is found in `estimate`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.climate.evaporation import leaf_air_resistance, stomatal_resistance
from core.climate.psychrometrics import dry_air_density, humidity_ratio
from core.climate.scalar import AIR_HEAT, LEWIS
from core.climate.surfaces import CONVECTIVE_FILM
from core.climate.tables import RADIATION, WATER_CONDUCTANCE
from core.climate.zone import (
    Control,
    Cooler,
    Device,
    Floats,
    Fogger,
    Leaves,
    Room,
    Series,
    Vent,
    WetTray,
    Zone,
)

LEAST_BEHIND = 1.05
"""An uncertain cover still leaves this much of its inner film's resistance. [1]"""

_SECONDS_PER_HOUR = 3600


@dataclass(frozen=True)
class Variant:
    """Factors on what is uncertain: U-values, evaporation, watts, and the flow of duct fans."""

    covers: float = 1.0
    evaporation: float = 1.0
    watts: float = 1.0
    fans: float = 1.0


@dataclass(frozen=True, eq=False)
class Around:
    """Air in the room or outdoors, of shape (cases,). [°C], [kg/kg], [kg/m³]"""

    t: Floats
    w: Floats
    density: Floats


@dataclass(frozen=True, eq=False)
class Surfaces:
    """All faces, trays and leaves, of shape (cases, surfaces) or (surfaces,).

    ``inner`` and ``outer`` are conductances [W/(m² K)], ``vapour`` those of vapour [m/s], ``lit``
    light that is absorbed [W/m²]; ``wet`` tells what loses water, ``tray`` what of it is water.
    """

    area: Floats
    inner: Floats
    outer: Floats
    vapour: Floats
    lit: Floats
    speed: Floats
    behind: Floats
    length: tuple[Floats, Floats]
    factor: Floats
    wet: NDArray[np.bool_]
    tray: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Devices:
    """All devices, of shape (cases, devices) or (devices,).

    ``full`` is the share of power that their hours let through; ``on`` and ``off`` are the ends
    of their controller's band, ``by`` what it feels: 0 nothing, 1 temperature, 2 humidity.
    """

    full: Floats
    on: Floats
    off: Floats
    by: NDArray[np.int64]
    watts: Floats
    fog: Floats
    room: Floats
    outdoors: Floats
    coil: Floats
    cooling: Floats
    coil_t: Floats


@dataclass(frozen=True, eq=False)
class Cases:
    """Everything a steady state depends on; cases are halves within variants."""

    halves: int
    pressure: float
    leak: Floats
    coupling: float
    air_watts: Floats
    mass_watts: Floats
    room: Around
    out: Around
    surfaces: Surfaces
    devices: Devices
    gaps: Floats
    gaps_out: NDArray[np.bool_]
    gap_height: Floats


def cases(zone: Zone, room: Room, flags: Sequence[Floats], variants: Sequence[Variant]) -> Cases:
    """Return the means of a zone over each half, for each variant.

    Parameters
    ----------
    zone, room : Zone, Room
    flags : sequence of ndarray, shape (1440,)
        For each half the minutes that belong to it, as zeros and ones.
    variants : sequence of Variant
    """
    return _Means(np.array([flag / flag.sum() for flag in flags]), tuple(variants)).cases(
        zone, room
    )


@dataclass(frozen=True, eq=False)
class _Means:
    weights: Floats
    variants: tuple[Variant, ...]

    def of(self, values: Series) -> Floats:
        """Return the mean over each half, repeated for each variant."""
        found = np.asarray(values, dtype=float)
        means = self.weights @ found if found.ndim else np.full(len(self.weights), float(found))
        return np.tile(means, len(self.variants))

    def each(self, name: str) -> Floats:
        """Return one factor of the variants, for each case."""
        return np.repeat([getattr(one, name) for one in self.variants], len(self.weights))

    def table(self, columns: Sequence[Floats]) -> Floats:
        cases = len(self.weights) * len(self.variants)
        return np.array(columns).T if columns else np.zeros((cases, 0))

    def cases(self, zone: Zone, room: Room) -> Cases:
        inside = self.around(room.temperature, room.humidity, zone.pressure)
        out = self.around(room.outdoor_temperature, room.outdoor_humidity, zone.pressure)
        watts = self.each("watts")
        gaps = zone.gaps
        return Cases(
            len(self.weights),
            zone.pressure,
            zone.leakage * zone.volume * inside.density / _SECONDS_PER_HOUR,
            zone.coupling,
            self.of(zone.air_watts) * watts,
            self.of(zone.mass_watts) * watts,
            inside,
            out,
            self.surfaces(zone, inside, out),
            self.devices(zone.devices),
            self.table([gap.width * self.of(gap.share) for gap in gaps]),
            np.array([gap.beyond == "outdoors" for gap in gaps], dtype=bool),
            np.array([gap.height for gap in gaps], dtype=float),
        )

    def around(self, t: Series, rh: Series, pressure: float) -> Around:
        ratio = humidity_ratio(np.asarray(t, float), np.asarray(rh, float), pressure)
        mean_t, mean_w = self.of(t), self.of(ratio)
        return Around(mean_t, mean_w, np.asarray(dry_air_density(mean_t, mean_w, pressure)))

    def surfaces(self, zone: Zone, inside: Around, out: Around) -> Surfaces:
        faces, trays, leaves = zone.boundaries, zone.trays, zone.leaves
        few = (len(faces), len(trays), len(leaves))
        wetness = self.each("evaporation")
        leaf = [self._leaf(one) for one in leaves]
        light = self.of(zone.light_watts) * self.each("watts")
        zero, cases = [np.zeros(light.size)], light.size
        film = [np.full(cases, one.inner_film) for one in faces]
        return Surfaces(
            area=np.array([*(f.area for f in faces), *(t.width * t.depth * t.wet for t in trays),
                           *(leaf.area for leaf in leaves)]),
            inner=self.table([*film, *[zero[0] + RADIATION] * few[1], *(heat for heat, _ in leaf)]),
            outer=self.table([*(self._outer(one.u, one.inner_film) for one in faces),
                              *[zero[0] + WATER_CONDUCTANCE] * few[1],
                              *[zero[0] + RADIATION] * few[2]]),
            vapour=self.table([*[zero[0] + CONVECTIVE_FILM / (AIR_HEAT * LEWIS)] * few[0],
                               *zero * few[1], *(vapour * wetness for _, vapour in leaf)]),
            lit=self.table([*zero * (few[0] + few[1]),
                            *(one.light_share * light / max(one.area, 1e-9) for one in leaves)]),
            speed=self.table([*zero * few[0], *(self.of(one.speed) for one in trays),
                              *zero * few[2]]),
            behind=self.table([inside.t + one.outdoor_share * (out.t - inside.t) for one in faces]),
            length=(_lengths(few, trays, free=True), _lengths(few, trays, free=False)),
            factor=self.table([*zero * few[0], *(one.factor * wetness for one in trays),
                               *zero * few[2]]),
            wet=np.repeat([False, True, True], few),
            tray=np.repeat([False, True, False], few),
        )  # fmt: skip

    def _outer(self, u: float, film: float) -> Floats:
        uncertain = np.minimum(u * self.each("covers"), film / LEAST_BEHIND)
        return np.asarray(1 / (1 / np.maximum(uncertain, 1e-9) - 1 / film))

    def _leaf(self, one: Leaves) -> tuple[Floats, Floats]:
        air = leaf_air_resistance(self.of(one.speed), one.leaf_width, one.leaf_area_index)
        pores = stomatal_resistance(self.of(one.ppfd), one.factor)
        index = one.leaf_area_index
        return np.asarray(AIR_HEAT * index / air), np.asarray(index / (pores + air))

    def devices(self, devices: Sequence[Device]) -> Devices:
        coolers = [one if isinstance(one, Cooler) else None for one in devices]
        fans = self.each("fans")
        out = [isinstance(one, Vent | Cooler) and one.source == "outdoors" for one in devices]
        flow = [_brought(one) for one in devices]
        return Devices(
            full=self.table([self.of(one.hours) for one in devices]),
            on=self.table([self._end(one.control, "on", 0.0) for one in devices]),
            off=self.table([self._end(one.control, "off", -1.0) for one in devices]),
            by=np.array([_felt(one.control) for one in devices], dtype=np.int64),
            watts=np.array([one.watts for one in devices]),
            fog=np.array([one.output if isinstance(one, Fogger) else 0.0 for one in devices]),
            room=self.table([fans * f * (not o) for f, o in zip(flow, out, strict=True)]),
            outdoors=self.table([fans * f * o for f, o in zip(flow, out, strict=True)]),
            coil=np.array([one.air_flow * (1 - one.bypass) if one else 0.0 for one in coolers]),
            cooling=np.array([one.cooling if one else 0.0 for one in coolers]),
            coil_t=np.array([one.coil_temperature if one else 0.0 for one in coolers]),
        )

    def _end(self, control: Control | None, end: str, usual: float) -> Floats:
        return self.of(getattr(control, end) if control else usual)


def _lengths(few: tuple[int, int, int], trays: Sequence[WetTray], *, free: bool) -> Floats:
    sizes = [
        one.width * one.depth / (2 * (one.width + one.depth)) if free else min(one.width, one.depth)
        for one in trays
    ]
    return np.array([*[1.0] * few[0], *sizes, *[1.0] * few[2]])


def _brought(one: Device) -> float:
    """Return the air that a device brings in while it runs. [m³/s]"""
    if isinstance(one, Vent):
        return one.flow
    return one.make_up if isinstance(one, Cooler) else 0.0


def _felt(control: Control | None) -> int:
    if control is None:
        return 0
    return 1 if control.quantity == "temperature" else 2
