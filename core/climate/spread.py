"""How far climate's numbers may be off: the steady state with each uncertain thing at its ends.

The ends move the simulated day by as much as they move the steady one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.climate.balance_arrays import Variant
from core.climate.estimate import Settled
from core.climate.from_design import Setup
from core.climate.psychrometrics import dew_point, saturation_pressure, vapour_pressure
from core.climate.results import Half
from core.climate.zone import Floats

EVAPORATION_FACTOR = 2.0
"""Evaporation is right within this factor (checked against trays that growers watch)."""

U_SPREAD = 0.20
"""Relative uncertainty of U-values: thin film passes thermal infrared (from memory)."""

WATTS_SPREAD = 0.05
"""Relative uncertainty of nameplate watts (common practice)."""

LEAST_FLOW = 0.6
"""Share of its free flow that a fan moves behind a duct or filter (common practice, no source)."""

AIR_OFF, HUMIDITY_OFF = 0.5, 0.03
"""What one well-mixed air and a room told in a few numbers leave open (common practice).
[K], [1]"""

PAIRS = (
    (Variant(covers=1 - U_SPREAD), Variant(covers=1 + U_SPREAD)),
    (Variant(evaporation=1 / EVAPORATION_FACTOR), Variant(evaporation=EVAPORATION_FACTOR)),
    (Variant(watts=1 - WATTS_SPREAD), Variant(watts=1 + WATTS_SPREAD)),
    (Variant(fans=LEAST_FLOW), Variant()),
)
"""Both ends of each uncertain thing."""

VARIANTS = (Variant(), *(end for pair in PAIRS for end in pair))
"""As it is taken, then the ends."""


class Off(NamedTuple):
    """How far below and above a value the truth may be, both at least 0. [as the value]"""

    below: float
    above: float

    def ends(self, value: float, least: float = -np.inf, most: float = np.inf) -> (
        tuple[float, float]
    ):  # fmt: skip
        """Return the ends of a value's range, within what is possible."""
        return max(value - self.below, min(least, value)), min(value + self.above, max(most, value))


@dataclass(frozen=True, eq=False)
class Spread:
    """How far off each number is.

    Attributes
    ----------
    temperature, humidity, deficit, leaf_deficit, margin : dict
        By half of the day. [K], 0 to 1, [Pa], [Pa], [K]
    duty : dict
        Mean of the day by part id. 0 to 1
    condensed : Off
        [kg/d]
    """

    temperature: dict[Half, Off]
    humidity: dict[Half, Off]
    deficit: dict[Half, Off]
    leaf_deficit: dict[Half, Off]
    margin: dict[Half, Off]
    duty: dict[str, Off]
    condensed: Off


def spread(made: Setup, found: Settled) -> Spread:
    """Return how far off the numbers of a day may be.

    Parameters
    ----------
    made : Setup
    found : Settled
        Of all `VARIANTS`.
    """
    t, w = found.temperature, found.humidity_ratio
    vapour = vapour_pressure(w, made.zone.pressure)
    most = np.asarray(saturation_pressure(t))
    faces, leaves = len(made.boundaries), len(made.boundaries) + len(made.trays)
    coldest = found.surfaces[:, :, :faces].min(axis=2, initial=1e3)
    dew = np.asarray(dew_point(t, np.clip(vapour / most, 1e-4, 1.0)))
    halves = np.array([made.day.mean(), 1 - made.day.mean()])[: t.shape[1]]
    ran = found.taken[:, :, :faces].sum(axis=2) @ halves * 86_400.0
    duty = np.einsum("vhd,h->vd", found.duty, halves)
    own = {part_id: [n for n, other in enumerate(made.devices) if other == part_id]
           for part_id in made.devices}  # fmt: skip
    humidity, leaf = vapour / most, found.surfaces[:, :, leaves:]
    # The dew point goes with the logarithm of the humidity, by about 1 K for 6 % of it.
    dew_off = np.hypot(AIR_OFF, HUMIDITY_OFF / np.maximum(humidity[0], 0.05) / 0.06)
    dry_off = HUMIDITY_OFF * most[0]
    return Spread(
        _halves(t, np.full(t.shape[1], AIR_OFF)),
        _halves(humidity, np.full(t.shape[1], HUMIDITY_OFF)),
        _halves(most - vapour, dry_off),
        _halves(_leaf_deficit(made, leaf, most, vapour), dry_off),
        _halves(coldest - dew, dew_off),
        {part_id: _off(duty[:, numbers].sum(axis=1)) for part_id, numbers in own.items()},
        _off(ran),
    )


def _leaf_deficit(made: Setup, leaves: Floats, most: Floats, vapour: Floats) -> Floats:
    weights = np.array([one.area for one in made.zone.leaves])
    if weights.sum() == 0:
        return most - vapour
    own = np.asarray(saturation_pressure(leaves)) @ weights / weights.sum()
    return np.asarray(own - vapour)


def _halves(values: Floats, always: Floats) -> dict[Half, Off]:
    names: tuple[Half, Half] = ("day", "night")
    columns = zip(names, values.T, always, strict=False)
    return {half: _off(column, float(own)) for half, column, own in columns}


def _off(values: Floats, always: float = 0.0) -> Off:
    """Return the root sum of squares of what each pair of ends adds and takes away.

    ``always`` joins on both sides.
    """
    change = (values[1:] - values[0]).reshape(-1, 2)
    above = np.maximum(change.max(axis=1), 0.0)
    below = np.maximum(-change.min(axis=1), 0.0)
    return Off(_root([*below, always]), _root([*above, always]))


def _root(parts: Iterable[float]) -> float:
    return float(np.sqrt(sum(part**2 for part in parts)))
