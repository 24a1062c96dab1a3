"""What devices are expected to draw: by the grower's duty, else by the climate reading's.

The worst case, everything at full power, is `core.power.loads`' affair.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol, runtime_checkable

from core.model import Cooler, DuctFan, Fogger, Heater, Powered
from core.power.profile import FloatSeries
from core.power.tree import PlugTree
from core.study import Study


class DeviceDay(Protocol):
    """What the climate reading knows of one device.

    Attributes
    ----------
    watts : ndarray, shape (1440,)
        Mean electric power in each minute. [W]
    low, high : float
        Factors on its energy for its range.
    """

    @property
    def watts(self) -> FloatSeries: ...
    @property
    def low(self) -> float: ...
    @property
    def high(self) -> float: ...


@runtime_checkable
class KnowsDevices(Protocol):
    """Readings that know when devices run."""

    def device(self, part_id: str) -> DeviceDay | None:
        """Return a device's day; None where it is not known."""


def expected_days(study: Study, tree: PlugTree) -> Mapping[str, DeviceDay]:
    """Return the days of controlled devices by the climate reading, by part id.

    A duty that the grower has given goes before; without a climate reading there are none.
    """
    climate: object = study.done.get("climate")
    if not isinstance(climate, KnowsDevices):
        return {}
    found = {part.id: climate.device(part.id) for part in tree.parts.values() if is_switched(part)}
    return {key: day for key, day in found.items() if day is not None}


def is_switched(part: object) -> bool:
    """Tell whether a controller switches a part and nobody has given its duty."""
    return (
        isinstance(part, Powered)
        and isinstance(part, Cooler | Heater | Fogger | DuctFan)
        and part.control is not None
        and part.duty is None
    )
