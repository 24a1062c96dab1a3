"""What a simulated day tells: series by the minute, devices, ledgers.

Numbers only; the words for them, and what plants want, are elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.climate.ledgers import EnergyLedger, MoistureLedger
from core.climate.psychrometrics import dew_point, saturation_pressure
from core.climate.zone import Floats

SHORT_RUN = 120.0
"""A device that runs for less than this at a time cycles too fast (common practice). [s]"""

_LEAST_HUMIDITY = 1e-4
_JOULES_PER_KWH = 3.6e6
_MINUTE = 60.0


@dataclass(frozen=True, eq=False)
class DeviceRun:
    """What one device did.

    Attributes
    ----------
    name, kind : str
        The kind is ``"heater"``, ``"fogger"``, ``"vent"`` or ``"cooler"``.
    duty : ndarray, shape (minutes,)
        Share of each minute that it ran, its hours' level counted in.
    starts : ndarray, shape (minutes,)
        How often it started.
    watts : ndarray, shape (minutes,)
        Mean electricity; a cooler's compressor is counted. [W]
    removed : ndarray, shape (minutes,)
        Heat that a cooler took out, latent heat included. [W]
    water : ndarray, shape (minutes,)
        Fog given off, or water drained from a coil. [kg/s]
    """

    name: str
    kind: str
    duty: Floats
    starts: Floats
    watts: Floats
    removed: Floats
    water: Floats

    @property
    def hours_per_day(self) -> float:
        """[h]"""
        return float(self.duty.mean()) * 24

    @property
    def kwh_per_day(self) -> float:
        """[kWh]"""
        return float(self.watts.mean()) * 86_400 / _JOULES_PER_KWH

    @property
    def litres_per_day(self) -> float:
        """[L]"""
        return float(self.water.mean()) * 86_400

    @property
    def starts_per_hour(self) -> float:
        """Over the hours in which it ran at all; 0 when it never did. [1/h]"""
        busy = self.duty.reshape(-1, 60).any(axis=1)
        return float(self.starts.sum() / busy.sum()) if busy.any() else 0.0

    @property
    def mean_run(self) -> float:
        """Mean time from a start to the next stop; infinite when it never stops. [s]"""
        count = self.starts.sum()
        return float(self.duty.sum() * _MINUTE / count) if count else np.inf

    @property
    def cycles_short(self) -> bool:
        """Whether it switches on for less than two minutes at a time.

        Controllers feel the air at once here; a slow sensor makes runs longer and swings wider.
        """
        return self.mean_run < SHORT_RUN


@dataclass(frozen=True, eq=False)
class DayRun:
    """A zone's air through one day or several, by the minute.

    States are those at the start of each minute, flows are means over it.

    Attributes
    ----------
    temperature, mass_temperature : ndarray, shape (minutes,)
        Of the air and of the slow mass. [°C]
    humidity_ratio : ndarray, shape (minutes,)
        [kg/kg]
    humidity : ndarray, shape (minutes,)
        Relative, 0 to 1.
    surface_temperature : ndarray, shape (minutes, boundaries)
        Of the faces' inner sides. [°C]
    condensing : ndarray, shape (minutes, boundaries)
        Water that each face takes from the air. [kg/s]
    water_temperature, evaporating : ndarray, shape (minutes, trays)
        Of the trays' surfaces. [°C], [kg/s]
    leaf_temperature, transpiring : ndarray, shape (minutes, leaves)
        [°C], [kg/s]
    devices : tuple of DeviceRun
        In the order of the zone's.
    energy : EnergyLedger
    moisture : MoistureLedger
    dry_air_mass : float
        Constant through the run. [kg]
    pressure : float
        [Pa]
    end : tuple of float
        Temperature, temperature of the mass and humidity ratio after the last minute.
        [°C], [°C], [kg/kg]
    """

    temperature: Floats
    mass_temperature: Floats
    humidity_ratio: Floats
    humidity: Floats
    surface_temperature: Floats
    condensing: Floats
    water_temperature: Floats
    evaporating: Floats
    leaf_temperature: Floats
    transpiring: Floats
    devices: tuple[DeviceRun, ...]
    energy: EnergyLedger
    moisture: MoistureLedger
    dry_air_mass: float
    pressure: float
    end: tuple[float, float, float]

    @cached_property
    def dew_point(self) -> Floats:
        """[°C]"""
        return np.asarray(dew_point(self.temperature, np.clip(self.humidity, _LEAST_HUMIDITY, 1.0)))

    @cached_property
    def deficit(self) -> Floats:
        """Vapour pressure deficit of the air. [Pa]"""
        return np.asarray((1 - self.humidity) * saturation_pressure(self.temperature))

    @cached_property
    def leaf_deficit(self) -> Floats:
        """Between each group's leaves and the air, shape (minutes, leaves). [Pa]"""
        vapour = self.humidity * saturation_pressure(self.temperature)
        return np.asarray(saturation_pressure(self.leaf_temperature) - vapour[:, None])

    @cached_property
    def margin(self) -> Floats:
        """How far each face is above the dew point, shape (minutes, boundaries). [K]"""
        return self.surface_temperature - self.dew_point[:, None]

    @property
    def coldest_face(self) -> int | None:
        """The face that comes closest to the dew point, by its number; None without faces."""
        if self.margin.shape[1] == 0:
            return None
        return int(np.argmin(self.margin.min(axis=0)))

    @property
    def least_margin(self) -> Floats:
        """Of the face that is coldest at each minute; infinite without faces. [K]"""
        return np.asarray(self.margin.min(axis=1, initial=np.inf))

    @property
    def wet(self) -> NDArray[np.bool_]:
        """Minutes at which water condenses on some face."""
        return np.asarray((self.condensing > 0).any(axis=1))

    @property
    def kwh_per_day(self) -> float:
        """Electricity of all devices with a switch; lamps are in the ledger. [kWh]"""
        return sum(one.kwh_per_day for one in self.devices)

    @property
    def fog_per_day(self) -> float:
        """[kg]"""
        return self.moisture.fog / self.days

    @property
    def days(self) -> float:
        """Length of the run. [d]"""
        return self.temperature.size / 1440

    @property
    def night_drop(self) -> float:
        """From the highest temperature to the lowest. [K]"""
        return float(self.temperature.max() - self.temperature.min())

    def fighting(self) -> NDArray[np.bool_]:
        """Return the minutes at which a fogger and a cooler whose coil drips both run."""
        fogging = self._running("fogger")
        drying = np.zeros(self.temperature.size, dtype=bool)
        for one in self.devices:
            if one.kind == "cooler":
                drying |= one.water > 0
        return fogging & drying

    def undone(self) -> float:
        """Return the share of the fog that coolers' coils take out again, 0 to 1."""
        fog = self.moisture.fog
        return min(1.0, -self.moisture.coil / fog) if fog > 0 else 0.0

    def outside(self, values: Floats, low: float | None, high: float | None) -> float:
        """Return how many hours a day a series spends outside a range. [h]"""
        out = np.zeros(values.shape, dtype=bool)
        if low is not None:
            out |= values < low
        if high is not None:
            out |= values > high
        return float(out.mean()) * 24

    def _running(self, kind: str) -> NDArray[np.bool_]:
        runs: Sequence[DeviceRun] = [one for one in self.devices if one.kind == kind]
        return (
            np.any([one.duty > 0 for one in runs], axis=0)
            if runs
            else np.zeros(self.temperature.size, dtype=bool)
        )
