"""The two ledgers of a simulated day: where heat and water came from and where they went.

Names of the entries, and whether they close; what fills them is the day's kernel.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from core.climate.zone import Floats

# Entries of either ledger share their columns where they mean the same path.
AIR, COVERS, COIL, ELECTRIC, WATER = range(5)
FOGGED, TRAYS, LEAVES, RAIN = 3, 4, 5, 6
ENERGY_ENTRIES, MOISTURE_ENTRIES = 5, 7


class Flows(NamedTuple):
    """What moved: in one step, or by the minute with minutes as the first axis. [J], [kg], [s]"""

    energy: Floats
    moisture: Floats
    taken: Floats
    running: Floats
    removed: Floats
    dripped: Floats


@dataclass(frozen=True)
class EnergyLedger:
    """Heat of a run, positive where it came in. [J]

    Attributes
    ----------
    electric : float
        Lamps, devices, heaters and fans; light that leaves through covers is not in it.
    covers : float
        Through the faces, latent heat of what condensed on them included.
    air : float
        With exchanged air, sensible and latent.
    coil : float
        To coolers' coils, sensible and latent.
    water : float
        Of liquid water that came in less what drained, above 0 °C.
    stored : float
        Change of the heat in the air and in the slow mass.
    """

    electric: float
    covers: float
    air: float
    coil: float
    water: float
    stored: float

    @property
    def gap(self) -> float:
        """What does not close; rounding only. [J]"""
        return self.electric + self.covers + self.air + self.coil + self.water - self.stored

    @property
    def turnover(self) -> float:
        """Sum of all entries' sizes, against which the gap is judged. [J]"""
        return sum(abs(value) for value in vars(self).values())


@dataclass(frozen=True)
class MoistureLedger:
    """Vapour of a run, positive where it came into the air. [kg]

    Attributes
    ----------
    fog, trays, leaves : float
        Evaporated.
    air : float
        With exchanged air.
    covers : float
        Condensed on the faces.
    coil : float
        Condensed on coolers' coils.
    rain : float
        Fog that saturated air could not hold.
    stored : float
        Change of the vapour in the air.
    """

    fog: float
    trays: float
    leaves: float
    air: float
    covers: float
    coil: float
    rain: float
    stored: float

    @property
    def gap(self) -> float:
        """What does not close; rounding only. [kg]"""
        moved = self.fog + self.trays + self.leaves + self.air
        return moved + self.covers + self.coil + self.rain - self.stored

    @property
    def turnover(self) -> float:
        """Sum of all entries' sizes. [kg]"""
        return sum(abs(value) for value in vars(self).values())
