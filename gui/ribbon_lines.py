"""What the day ribbon shows for which subject: lamps' hours and watts, or fourteen days of water.

The series come from the readings; how they are drawn is `gui.day_ribbon`'s work.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from core.hours import DAY, Periods
from core.language import tr
from core.model import Lamp
from core.units import show
from gui.day_ribbon import DayRibbon

if TYPE_CHECKING:
    from core.readings import Readings


def fill_ribbon(ribbon: DayRibbon, subject: str | None, readings: Readings) -> None:
    """Show the lamps' hours and the day's watts; in Water the fourteen days to come."""
    if subject == "water":
        ribbon.show_ahead(readings.water.ahead, readings.design.units)
        return
    ribbon.show_day()
    ribbon.set_lamps(lamp_periods(readings))
    power = readings.power
    if not power.by_device:
        ribbon.clear_series()
        return
    system = readings.design.units
    ribbon.set_series(
        power.profile.watts.tolist(),
        title=tr("Watts"),
        text=lambda watts: tr("{load} by this design").format(load=show(watts, "power", system)),
        colour="lead" if subject == "power" else "edge",
        filled=True,
    )


def lamp_periods(readings: Readings) -> Periods:
    """Return when any lamp is on, timers included."""
    lit = np.zeros(DAY, dtype=bool)
    lamps = {lamp.id for lamp in readings.design.of(Lamp)}
    for device in readings.power.by_device:
        if device.id in lamps:
            lit |= np.asarray(device.series) > 0
    return runs(lit)


def runs(lit: np.ndarray) -> Periods:
    """Return the stretches of a day that are lit, as (on, off) in minutes."""
    if lit.all():
        return ((0, 0),)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], lit.astype(np.int8), [0]])))
    found = [(int(on), int(off)) for on, off in zip(edges[::2], edges[1::2], strict=True)]
    if len(found) > 1 and found[0][0] == 0 and found[-1][1] == DAY:
        found = [*found[1:-1], (found[-1][0], found[0][1])]
    return tuple((on, off % DAY) for on, off in found)
