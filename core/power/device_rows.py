"""Readings of devices: what each draws and when, and the energy of all in a day, month and year.

Loads of circuits and what stands between are read in `core.power.reading`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from core.hours import show_hours
from core.language import tr
from core.model import Lamp, Powered
from core.phrases import Amount, Phrase, phrase
from core.power.loads import Loads
from core.power.profile import DAYS_PER_MONTH, Device, FloatSeries
from core.power.tree import slowed
from core.reading import Method, Reading, reading

NAMEPLATE = 0.05
"""How far watts on a nameplate are taken to be off, relative (common practice). [1]"""
DAYS_PER_YEAR = 365.0

_JOULE_PER_KWH = 3.6e6

ENERGY = Method(
    tr(
        "The watts of the day summed up, thermostatted devices at the duty entered, else at the "
        "duty that the climate reading finds."
    ),
    tr("Definition; a month is 365/12 days, a year 365 of these days."),
    tr(
        "Nameplate watts within 5 %; the duty is as good as it was guessed or worked out. A "
        "device that a controller switches and whose duty nobody knows may rest all day: the "
        "lower end."
    ),
)


@dataclass(frozen=True, eq=False)
class DeviceLoad:
    """One device in the list by load. [W], [VA], [kWh]

    Attributes
    ----------
    id, name, circuit, hours : str
        The circuit by its id, the hours as they are spoken.
    watts, va : float
        Its own peak.
    duty : float or None
        As the grower gave it.
    kwh_per_day : float
    power : float
        At full power. [W]
    level : ndarray, shape (1440,)
        Share of full power by the minute, by its timers.
    expected : ndarray, shape (1440,), or None
        Watts by the minute as the climate reading expects them.
    energy_range : (float, float)
        Factors between which its energy lies, nameplates taken as right.
    may_rest : bool
        Whether a controller switches it and nothing is known of its duty.
    """

    id: str
    name: str
    circuit: str
    watts: float
    va: float
    hours: str
    duty: float | None
    kwh_per_day: float
    power: float
    level: FloatSeries
    expected: FloatSeries | None = None
    energy_range: tuple[float, float] = (1.0, 1.0)
    may_rest: bool = False

    @property
    def series(self) -> FloatSeries:
        """Watts by the minute at full power, shape (1440,)."""
        return self.power * self.level

    @property
    def mean(self) -> FloatSeries:
        """Watts by the minute as they are expected, shape (1440,)."""
        if self.expected is not None:
            return self.expected
        return self.power * (1.0 if self.duty is None else self.duty) * self.level


def by_device(loads: Loads) -> tuple[DeviceLoad, ...]:
    """Return every device, the heaviest first."""
    found = (_device_load(loads, key, device) for key, device in loads.devices.items())
    return tuple(sorted(found, key=lambda item: -item.watts))


def _device_load(loads: Loads, key: str, device: Device) -> DeviceLoad:
    level = device.level()
    most = loads.peak(key) if not loads.tree.fed.get(key) else _own_peak(device)
    return DeviceLoad(
        key, device.name, loads.tree.circuit_of(key).id, *most,
        hours_words(device), loads.tree.parts[key].duty,  # type: ignore[union-attr]
        loads.kwh_per_day(key), device.watts, level, loads.expected(key),
        loads.duty_range(key), key in loads.may_rest,
    )  # fmt: skip


def _own_peak(device: Device) -> tuple[float, float]:
    most = float(device.level().max())
    return device.watts * most, device.apparent_power * most


def hours_words(device: Device) -> str:
    """Return a device's hours as they are spoken; "never" where its timers leave none."""
    return _spoken(device.all_periods) if device.all_periods else tr("never")


_spoken = lru_cache(maxsize=256)(show_hours)


def energy(loads: Loads, by_halves: str) -> Reading:
    """Return the reading of a day's energy, with a month's and a year's in its line.

    ``by_halves`` names the devices that are set differently by night.
    """
    days = {key: _JOULE_PER_KWH * loads.kwh_per_day(key) for key in loads.devices}
    spans = {key: loads.duty_range(key) for key in days}
    day = sum(days.values())
    low, high = (sum(days[key] * spans[key][end] for key in days) for end in (0, 1))
    line = phrase(
        "{day} a day, {month} a month, {year} a year",
        day=Amount(day, "energy"),
        month=Amount(day * DAYS_PER_MONTH, "energy"),
        year=Amount(day * DAYS_PER_YEAR, "energy"),
    )
    return reading(
        "power", "energy", "", phrase("everything"), day, "energy", line, ENERGY,
        spread=(low * (1 - NAMEPLATE), high * (1 + NAMEPLATE)),
        assumptions=tuple(_energy_assumptions(loads, by_halves)),
    )  # fmt: skip


def _energy_assumptions(loads: Loads, by_halves: str) -> Iterator[Phrase]:
    yield from setting_assumptions(loads.tree.parts.values())
    if by_halves:
        yield phrase("Set differently by night, counted as by day: {names}", names=by_halves)
    parts = loads.tree.parts
    if loads.may_rest:
        names = names_of(parts[key] for key in loads.may_rest)
        yield phrase("Counted as running all of their hours: {names}", names=names)
    if loads.by_climate:
        names = names_of(parts[key] for key in loads.by_climate)
        yield phrase("Counted at the duty that the climate reading finds: {names}", names=names)


def setting_assumptions(parts: Iterable[Any]) -> tuple[Phrase, ...]:
    """Return what is taken of dimmed lamps and slowed fans."""
    devices = [part for part in parts if isinstance(part, Powered)]
    dimmed = [part for part in devices if isinstance(part, Lamp) and part.dimming < 1]
    slow = [part for part in devices if slowed(part)]
    found = []
    if dimmed:
        words = "Watts of a dimmed lamp are taken to fall with its light: {names}"
        found.append(phrase(words, names=names_of(dimmed)))
    if slow:
        found.append(phrase("Fans are counted at full speed: {names}", names=names_of(slow)))
    return tuple(found)


def names_of(parts: Iterable[Any]) -> str:
    """Return the first three names, and how many more there are."""
    names = [part.name for part in parts]
    shown = ", ".join(names[:3])
    more = len(names) - 3
    return shown if more <= 0 else tr("{names} and {more} more").format(names=shown, more=more)
