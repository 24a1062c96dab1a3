"""Current, voltage drop and count along leads and along chains of lamps.

Breakers and circuits are in `core.power.circuits`.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from core.arguments import above_zero_to_one, not_negative, positive, within

COPPER_COEFFICIENT = 0.00393
"""Rise of copper's resistance per kelvin, of its value at 20 °C (IEC 60028). [1/K]"""

ADVISED_DROP = 0.03
"""Share of the supply voltage that a branch should not exceed (NEC note to 210.19, from memory)."""

_PER_THOUSAND_FEET = 1 / 304.8
_PER_KILOMETRE = 1e-3
_ROUNDING = 1e-9


class Conductor(NamedTuple):
    """Resistance of one copper conductor, one way."""

    ohm_per_metre: float
    """[Ω/m]"""
    temperature: float
    """Conductor temperature the value holds at. [°C]"""
    source: str


def _gauge(ohm_per_thousand_feet: float) -> Conductor:
    source = "NEC chapter 9, table 8, stranded copper"
    return Conductor(ohm_per_thousand_feet * _PER_THOUSAND_FEET, 75.0, source)


def _metric(ohm_per_kilometre: float) -> Conductor:
    source = "IEC 60228, class 5, flexible copper"
    return Conductor(ohm_per_kilometre * _PER_KILOMETRE, 20.0, source)


CONDUCTORS = {
    "18 AWG": _gauge(7.95),
    "16 AWG": _gauge(4.99),
    "14 AWG": _gauge(3.14),
    "12 AWG": _gauge(1.98),
    "10 AWG": _gauge(1.24),
    "0.75 mm²": _metric(26.0),
    "1.0 mm²": _metric(19.5),
    "1.5 mm²": _metric(13.3),
    "2.5 mm²": _metric(7.98),
}
"""Copper conductors by size."""


class ChainLimits(NamedTuple):
    """How many lamps each limit lets stand on one feed."""

    maker: float
    """The lamp maker's own limit; infinite when none is given."""
    feed: float
    """By the current of the feed; infinite when a lamp draws none."""
    lead: float
    """By the current of the lead between lamps; infinite when a lamp draws none."""

    @property
    def least(self) -> float:
        """The least of the three."""
        return min(self)

    @property
    def binding(self) -> str:
        """Which limit is the least: "maker", "feed" or "lead"; of equals the first."""
        return self._fields[self.index(self.least)]


def current(power: float, power_factor: float, voltage: float) -> float:
    """Return the current of a device.

    Parameters
    ----------
    power : float
        Real power. [W]
    power_factor : float
        Above 0 and up to 1.
    voltage : float
        [V]

    Returns
    -------
    float
        [A]

    Raises
    ------
    InputError
        If a number is outside its range.
    """
    not_negative("Device", "power", power, "W")
    above_zero_to_one("Device", "power factor", power_factor)
    positive("Device", "voltage", voltage, "V")
    return power / (power_factor * voltage)


def resistance_at(
    ohm_per_metre: float, temperature: float, *, given_at: float, alpha: float = COPPER_COEFFICIENT
) -> float:
    """Return a conductor's resistance at another temperature.

    Parameters
    ----------
    ohm_per_metre : float
        Resistance at ``given_at``. [Ω/m]
    temperature, given_at : float
        Conductor temperature, -100 to 200. [°C]
    alpha : float
        Rise per kelvin of the value at 20 °C. [1/K]

    Returns
    -------
    float
        [Ω/m]

    Raises
    ------
    InputError
        If a number is outside its range.
    """
    not_negative("Lead", "resistance", ohm_per_metre, "Ω/m")
    within("Lead", "temperature", temperature, -100.0, 200.0, "°C")
    within("Lead", "temperature", given_at, -100.0, 200.0, "°C")
    not_negative("Lead", "temperature coefficient", alpha, "1/K")
    return ohm_per_metre * (1 + alpha * (temperature - 20)) / (1 + alpha * (given_at - 20))


def voltage_drop(current: float, length: float, ohm_per_metre: float) -> float:
    """Return the voltage lost along a lead, out and back.

    Parameters
    ----------
    current : float
        [A]
    length : float
        One way. [m]
    ohm_per_metre : float
        Resistance of one conductor. [Ω/m]

    Returns
    -------
    float
        2 L I R. [V]

    Raises
    ------
    InputError
        If a number is negative or not finite.
    """
    not_negative("Lead", "current", current, "A")
    not_negative("Lead", "length", length, "m")
    not_negative("Lead", "resistance", ohm_per_metre, "Ω/m")
    return 2 * length * current * ohm_per_metre


def drop_share(drop: float, voltage: float) -> float:
    """Return a voltage drop as a fraction of the supply; `ADVISED_DROP` is the advice.

    Parameters
    ----------
    drop, voltage : float
        [V]

    Returns
    -------
    float

    Raises
    ------
    InputError
        If ``drop`` is negative or ``voltage`` is not above 0.
    """
    not_negative("Lead", "voltage drop", drop, "V")
    positive("Lead", "voltage", voltage, "V")
    return drop / voltage


def chain_drop(lamp_current: float, count: int, spacing: float, ohm_per_metre: float) -> float:
    """Return the voltage lost at the last lamp of an evenly spaced chain.

    The first lead carries the current of all lamps, the last that of one: two-way resistance
    times I s N(N + 1)/2.

    Parameters
    ----------
    lamp_current : float
        Current of one lamp. [A]
    count : int
        Lamps in the chain.
    spacing : float
        Lead from the feed to the first lamp and from each lamp to the next, one way. [m]
    ohm_per_metre : float
        Resistance of one conductor, as for `voltage_drop`. [Ω/m]

    Returns
    -------
    float
        [V]

    Raises
    ------
    InputError
        If a number is negative or not finite.
    """
    not_negative("Chain", "lamps", count)
    return voltage_drop(lamp_current, spacing, ohm_per_metre) * count * (count + 1) / 2


def chain_limits(
    power: float,
    power_factor: float,
    voltage: float,
    feed_a: float,
    lead_a: float,
    max_count: int | None = None,
) -> ChainLimits:
    """Return how many lamps may be linked in one chain by each of its limits.

    Parameters
    ----------
    power : float
        Real power of one lamp. [W]
    power_factor : float
        Above 0 and up to 1.
    voltage : float
        [V]
    feed_a, lead_a : float
        Current that the feed and the linking lead may carry. [A]
    max_count : int, optional
        The lamp maker's limit.

    Returns
    -------
    ChainLimits

    Raises
    ------
    InputError
        If a number is outside its range.
    """
    lamp_a = current(power, power_factor, voltage)
    not_negative("Chain", "feed", feed_a, "A")
    not_negative("Chain", "lead", lead_a, "A")
    if max_count is not None:
        not_negative("Chain", "largest count", max_count)
    by_maker = math.inf if max_count is None else float(max_count)
    return ChainLimits(by_maker, _how_many(feed_a, lamp_a), _how_many(lead_a, lamp_a))


def chain_limit(
    power: float,
    power_factor: float,
    voltage: float,
    feed_a: float,
    lead_a: float,
    max_count: int,
) -> int:
    """Return how many lamps may be linked in one chain; arguments as for `chain_limits`.

    Returns
    -------
    int
        min(max_count, ⌊feed/I⌋, ⌊lead/I⌋)
    """
    return int(chain_limits(power, power_factor, voltage, feed_a, lead_a, max_count).least)


def _how_many(limit: float, each: float) -> float:
    # A limit that is an exact multiple on paper must not lose a lamp to the last bit.
    return math.inf if each == 0 else math.floor(limit / each * (1 + _ROUNDING))
