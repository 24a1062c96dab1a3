"""The air that a steady day and a steady night lead to: at once, while the day is simulated.

Devices with a controller run as far as it asks, in proportion over its band; what swings within
an hour, and what the slow mass carries from day into night, is for the simulated day.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.climate.balance_arrays import Cases, Variant, cases
from core.climate.evaporation import VAPOUR_GAS_CONSTANT
from core.climate.openings import buoyant_flows
from core.climate.psychrometrics import (
    DRY_AIR_HEAT,
    LATENT_HEAT_AT_ZERO,
    MASS_RATIO,
    VAPOUR_HEAT,
    log_saturation,
    log_saturation_slope,
)
from core.climate.scalar import (
    AIR_HEAT,
    LEWIS,
    VAPOUR_DIFFUSIVITY,
    VISCOSITY,
)
from core.climate.zone import Floats, Room, Zone
from core.constants import GRAVITY, KELVIN

TURNS = 14
"""Most Newton steps taken; the longest halves where it turns back, as between controllers."""

_CLOSE = 0.01
"""Two steps running as small as this end the search: one may be so by chance, while surfaces still
follow. [K]"""

WATER_HEAT = 4186.0
"""Specific heat of liquid water. [J/(kg K)]"""

_STRIDE, _STRIDE_W = 8.0, 0.008
"""Furthest that the air moves in the first turn. [K], [kg/kg]"""


@dataclass(frozen=True, eq=False)
class Settled:
    """Steady states; the first axis is that of the variants, the second that of the halves.

    Attributes
    ----------
    temperature, humidity_ratio : ndarray, shape (variants, halves)
        [°C], [kg/kg]
    surfaces, taken : ndarray, shape (variants, halves, surfaces)
        Temperatures of faces, trays and leaves, in this order, and the vapour each takes. [°C],
        [kg/s]
    duty, removed, dripped : ndarray, shape (variants, halves, devices)
        Share of full power, hours counted in; heat and water that coils take. [W], [kg/s]
    """

    temperature: Floats
    humidity_ratio: Floats
    surfaces: Floats
    taken: Floats
    duty: Floats
    removed: Floats
    dripped: Floats


def settle(
    zone: Zone, room: Room, flags: tuple[Floats, ...], variants: tuple[Variant, ...] = (Variant(),)
) -> Settled:
    """Return the steady state of each half of the day, for each variant.

    Parameters
    ----------
    zone, room : Zone, Room
    flags : tuple of ndarray, shape (1440,)
        For each half the minutes that belong to it, as zeros and ones; none may be empty.
    variants : tuple of Variant

    Returns
    -------
    Settled
    """
    given = cases(zone, room, flags, variants)
    state = _State(given)
    before = np.inf
    for _ in range(TURNS):
        moved = state.turn()
        if max(before, moved) < _CLOSE:
            break
        before = moved
    return state.settled(len(variants))


def _strided(wish: Floats, last: Floats, stride: Floats) -> tuple[Floats, Floats]:
    """Return the step that is taken, and the longest from now on: half where it turned back."""
    turned = wish * last < 0
    shorter = np.where(turned, stride / 2, stride)
    return np.clip(wish, -shorter, shorter), shorter


def _saturation(t: Floats) -> tuple[Floats, Floats]:
    """Return the saturation pressure and its slope. [Pa, Pa/K]"""
    pressure = _pressure(t)
    return pressure, pressure * log_saturation_slope(t)


def _pressure(t: Floats) -> Floats:
    return np.asarray(np.exp(log_saturation(t)))


class _State:
    """The states of all cases on their way to rest, and what was found in the last turn."""

    def __init__(self, given: Cases) -> None:
        self.given = given
        self.t = given.room.t + 1.0
        self.w = given.room.w * 1.1
        self.mass = self.t.copy()
        self.stride = np.full(self.t.size, _STRIDE)
        self.last = np.zeros(self.t.size)
        self.stride_w = np.full(self.t.size, _STRIDE_W)
        self.last_w = np.zeros(self.t.size)
        self.surface = np.repeat(self.t[:, None], given.surfaces.area.size, axis=1)
        self.pressure = _pressure(self.t)
        cold = _pressure(given.devices.coil_t)
        self.cold_w = MASS_RATIO * cold / (given.pressure - cold)

    def turn(self) -> float:
        """Take all coefficients at the present state, go where they lead, and say how far. [K]"""
        self._run_devices()
        self._exchange()
        self._touch_surfaces()
        given, fog = self.given, (self.duty * self.given.devices.fog).sum(axis=1)
        drying = self.coming.sum(axis=0) + self.slope.sum(axis=1) + self.chilled.sum(axis=1)
        wetting = (self.coming[0] * given.room.w + self.coming[1] * given.out.w + fog
                   + self.slope.sum(axis=1) * self.w - self.taken.sum(axis=1)
                   + (self.chilled * self.coil_w).sum(axis=1))  # fmt: skip
        swing = self._swing_by_humidity()
        new_w = (wetting + swing * self.w) / np.maximum(drying + swing, 1e-12)
        new_t = self._warmed(new_w, fog)
        moved, self.stride = _strided(new_t - self.t, self.last, self.stride)
        self.t, self.last = self.t + moved, moved
        self.pressure = most = _pressure(self.t)
        wetter, self.stride_w = _strided(new_w - self.w, self.last_w, self.stride_w)
        before, self.last_w = self.w, wetter
        self.w = np.clip(self.w + wetter, 1e-6, MASS_RATIO * most / (given.pressure - most))
        # A kilogram of vapour weighs in the heat of air like 2,500 K.
        return float(max(np.abs(moved).max(), 2500 * np.abs(self.w - before).max()))

    def _run_devices(self) -> None:
        """Find how much each device runs, and how that changes with what its controller feels."""
        devices, given = self.given.devices, self.given
        self.rh = given.pressure * self.w / (MASS_RATIO + self.w) / self.pressure
        felt = np.where(devices.by == 1, self.t[:, None], self.rh[:, None])
        middle = (devices.on + devices.off) / 2
        width = devices.on - devices.off
        asked = (felt - middle) / width + 0.5
        free = devices.by > 0
        self.duty = devices.full * np.where(free, np.clip(asked, 0.0, 1.0), 1.0)
        within = free & (asked > 0) & (asked < 1)
        self.change = np.where(within, devices.full / width, 0.0)

    def _exchange(self) -> None:
        """Find the dry air that comes in from room and outdoors, and what touches coils."""
        given, devices = self.given, self.given.devices
        room, out = given.room, given.out
        fans = (
            given.leak + (self.duty * devices.room).sum(axis=1) * room.density,
            (self.duty * devices.outdoors).sum(axis=1) * out.density,
        )
        gaps = self._through_gaps()
        self.gap_rate = DRY_AIR_HEAT * gaps.sum(axis=1)
        by_gaps = (gaps[:, ~given.gaps_out].sum(axis=1), gaps[:, given.gaps_out].sum(axis=1))
        self.coming = np.array([fans[0] + by_gaps[0], fans[1] + by_gaps[1]])
        self._chill()

    def _through_gaps(self) -> Floats:
        """Return the dry air that each gap exchanges. [kg/s]"""
        given = self.given
        if given.gap_height.size == 0:
            return np.zeros((self.t.size, 0))
        beyond_t = np.where(given.gaps_out, given.out.t[:, None], given.room.t[:, None])
        density = np.where(given.gaps_out, given.out.density[:, None], given.room.density[:, None])
        return buoyant_flows(given.gaps, given.gap_height, self.t[:, None], beyond_t) * density

    def _chill(self) -> None:
        """Find how much air touches each coil as a dry-air flow, within the cooling it can give."""
        given, devices = self.given, self.given.devices
        t, w = self.t[:, None], self.w[:, None]
        self.coil_w = np.minimum(w, self.cold_w)
        content = _enthalpy(t, w) - _enthalpy(devices.coil_t, self.coil_w)
        dry = devices.coil * given.room.density[:, None]
        limited = np.minimum(dry, devices.cooling / np.maximum(content, 1.0))
        self.full_chill = np.where(content > 0, limited, 0.0)
        self.chilled = self.duty * self.full_chill

    def _touch_surfaces(self) -> None:
        """Take one Newton step to each surface's temperature, and find the vapour it takes."""
        given, faces = self.given, self.given.surfaces
        t, w = self.t[:, None], self.w[:, None]
        pressure, rise = _saturation(self.surface)
        gas = VAPOUR_GAS_CONSTANT * (self.surface + KELVIN)
        answer = (rise - pressure / (self.surface + KELVIN)) / gas
        thickness = given.pressure / ((MASS_RATIO + w) * VAPOUR_GAS_CONSTANT * (t + KELVIN))
        inner, vapour = self._conductances(pressure)
        both = inner + faces.outer
        back = self._behind()
        dry = (inner * t + faces.outer * back + faces.lit) / both
        taken = vapour * (thickness * w - pressure / gas)
        latent = LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * t - WATER_HEAT * self.surface
        moved = (both * (dry - self.surface) + latent * taken) / (both + latent * vapour * answer)
        taken = taken - vapour * answer * moved
        stays_dry = ~faces.wet & (taken <= 0)
        self.surface = np.where(stays_dry, dry, self.surface + moved)
        self.taken = np.where(stays_dry, 0.0, taken) * faces.area
        slope = vapour * thickness / (1 + vapour * answer * latent / both)
        self.slope = np.where(stays_dry, 0.0, slope) * faces.area
        self.passes = inner * faces.outer / both * faces.area
        self.share, self.latent, self.back = inner / both, latent, back

    def _behind(self) -> Floats:
        behind = self.given.surfaces.behind
        rest = self.surface.shape[1] - behind.shape[1]
        return np.concatenate([behind, np.repeat(self.mass[:, None], rest, axis=1)], axis=1)

    def _conductances(self, pressure: Floats) -> tuple[Floats, Floats]:
        """Return those of heat and vapour at each surface; `scalar.wet_surface` for the trays."""
        faces = self.given.surfaces
        if not faces.tray.any():
            return faces.inner, faces.vapour
        tray = faces.tray
        wet = pressure[:, tray]
        ratio = MASS_RATIO * wet / (self.given.pressure - wet)
        above = (self.surface[:, tray] + KELVIN) * (1 + 0.608 * ratio)
        lightness = 1 - ((self.t + KELVIN) * (1 + 0.608 * self.w))[:, None] / above
        free, forced = (one[tray] for one in faces.length)
        number = GRAVITY * np.abs(lightness) * free**3 / (VISCOSITY * VAPOUR_DIFFUSIVITY)
        root = number**0.25
        light = np.maximum(0.54 * root, 0.15 * number ** (1 / 3))
        natural = np.where(lightness > 0, light, 0.27 * root) / free
        schmidt = (VISCOSITY / VAPOUR_DIFFUSIVITY) ** (1 / 3)
        driven = 0.664 * np.sqrt(faces.speed[:, tray] * forced / VISCOSITY) * schmidt / forced
        vapour = (natural**3 + driven**3) ** (1 / 3) * VAPOUR_DIFFUSIVITY
        inner, through = faces.inner.copy(), faces.vapour.copy()
        inner[:, tray] += vapour * AIR_HEAT * LEWIS
        through[:, tray] = vapour * faces.factor[:, tray]
        return inner, through

    def _swing_by_humidity(self) -> Floats:
        """Return how much more foggers and fans dry for each unit of humidity ratio. [kg/s]"""
        given, devices = self.given, self.given.devices
        by = devices.by == 2
        if not by.any():
            return np.zeros(self.t.size)
        change = np.where(by, self.change, 0.0) * (self.rh / self.w)[:, None]
        removed = (devices.room * (given.room.density * (self.w - given.room.w))[:, None]
                   + devices.outdoors * (given.out.density * (self.w - given.out.w))[:, None]
                   - devices.fog)  # fmt: skip
        return np.asarray(np.maximum(change * removed, 0.0).sum(axis=1))

    def _warmed(self, new_w: Floats, fog: Floats) -> Floats:
        """Return the temperature that the heat of all things leads to, and move the slow mass."""
        given, devices = self.given, self.given.devices
        carries = DRY_AIR_HEAT + VAPOUR_HEAT * self.w
        rate = (self.coming * carries).sum(axis=0) + self.chilled.sum(axis=1) * carries
        heat = (self.coming[0] * given.room.t + self.coming[1] * given.out.t) * carries
        heat += (self.chilled * devices.coil_t).sum(axis=1) * carries
        # The draught of a gap grows with the warming, so its heat grows half as fast again.
        rate += 0.5 * self.gap_rate
        heat += 0.5 * self.gap_rate * self.t
        heat += given.air_watts + (self.duty * devices.watts).sum(axis=1)
        steam = LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * self.t
        heat -= fog * (steam - WATER_HEAT * self.mass)
        swing = self._swing_by_warmth(carries)
        taken = self.taken + self.slope * (new_w - self.w)[:, None]
        released = given.surfaces.lit * given.surfaces.area + self.latent * taken
        wet = given.surfaces.wet
        to_mass = self.passes[:, wet].sum(axis=1) + given.coupling
        gain = given.mass_watts + ((1 - self.share) * released)[:, wet].sum(axis=1)
        rate = rate + self.passes[:, ~wet].sum(axis=1) + swing
        heat = heat + (self.passes * self.back)[:, ~wet].sum(axis=1) + swing * self.t
        heat = heat + (self.share * released).sum(axis=1) + gain
        new_t = heat / np.maximum(rate, 1e-9)
        self.mass = new_t + gain / to_mass
        return np.asarray(new_t)

    def _swing_by_warmth(self, carries: Floats) -> Floats:
        """Return how much more heat devices with a thermostat carry for each kelvin. [W/K]"""
        given, devices = self.given, self.given.devices
        by = devices.by == 1
        if not by.any():
            return np.zeros(self.t.size)
        warmer = np.array([self.t - given.room.t, self.t - given.out.t]) * carries
        room, out = warmer * np.array([given.room.density, given.out.density])
        removed = (
            devices.room * room[:, None]
            + devices.outdoors * out[:, None]
            + self.full_chill * (carries[:, None] * (self.t[:, None] - devices.coil_t))
            - devices.watts
        )
        return np.asarray(np.maximum(np.where(by, self.change, 0.0) * removed, 0.0).sum(axis=1))

    def settled(self, variants: int) -> Settled:
        devices = self.given.devices
        t, w = self.t[:, None], self.w[:, None]
        removed = self.chilled * (_enthalpy(t, w) - _enthalpy(devices.coil_t, self.coil_w))
        dripped = self.chilled * (w - self.coil_w)
        by_half = (variants, self.given.halves, -1)
        one = by_half[:2]
        return Settled(
            self.t.reshape(one),
            self.w.reshape(one),
            self.surface.reshape(by_half) if self.surface.size else self.surface.reshape(*one, 0),
            *(
                part.reshape(*one, part.shape[1])
                for part in (self.taken, self.duty, removed, dripped)
            ),
        )


def _enthalpy(t: Floats, w: Floats) -> Floats:
    return DRY_AIR_HEAT * t + w * (LATENT_HEAT_AT_ZERO + VAPOUR_HEAT * t)
