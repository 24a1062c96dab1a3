"""What the day ribbon shows for which subject: lamps' hours and watts, or fourteen days of water.

The series come from the readings; how they are drawn is `gui.day_ribbon`'s work. Climate's line is
`gui.ribbon_climate`'s.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from core.hours import DAY, Periods, show_clock
from core.language import tr
from core.model import Lamp
from core.power.profile import periods_of
from core.units import show
from gui.day_ribbon import DayRibbon
from gui.load_layers import Layer, layers_of, own_limit_watts
from gui.ribbon_climate import fill_climate

if TYPE_CHECKING:
    from core.readings import Readings

_MOST_ABOVE = 2.5
"""Limits more than so many times the peak would flatten the load."""


def fill_ribbon(
    ribbon: DayRibbon, subject: str | None, readings: Readings, line: str = "temperature"
) -> None:
    """Show the lamps' hours and the day's watts, in Water the fourteen days to come.

    In Climate ``line`` says which of its lines is shown.
    """
    if subject == "water":
        ribbon.offer_lines((), "")
        ribbon.show_ahead(readings.water.ahead, readings.design.units)
        return
    ribbon.show_day()
    ribbon.set_lamps(lamp_periods(readings))
    if subject == "climate" and fill_climate(ribbon, readings, line):
        return
    ribbon.offer_lines((), "")
    power = readings.power
    if not power.by_device:
        ribbon.clear_series()
        return
    system = readings.design.units
    stacked = subject == "power"
    layers = layers_of(readings) if stacked else ()
    ribbon.set_series(
        power.profile.watts.tolist(),
        title=tr("Watts"),
        text=lambda watts: tr("{load} by this design").format(load=show(watts, "power", system)),
        want=(None, _near_limit(readings)) if stacked else (None, None),
        colour="lead" if stacked else "edge",
        filled=True,
        layers=[(layer.name, layer.watts) for layer in layers],
        told=lambda minute: _watts_at(readings, layers, minute),
    )


def _near_limit(readings: Readings) -> float | None:
    """Return the limit where the load comes near enough to be drawn to one scale with it. [W]"""
    limit = own_limit_watts(readings)
    near = limit is not None and limit <= _MOST_ABOVE * readings.power.profile.peak_watts
    return limit if near else None


def _watts_at(readings: Readings, layers: Sequence[Layer], minute: int) -> str:
    """Return what draws how much at a minute, the heaviest first."""
    system = readings.design.units
    total = show(float(readings.power.profile.watts[minute]), "power", system)
    lines = [f"{show_clock(minute)}  {total}"]
    drawing = [(layer.name, float(layer.watts[minute])) for layer in layers]
    lines += [f"{name}  {show(watts, 'power', system)}" for name, watts in drawing if watts > 0]
    limit = own_limit_watts(readings)
    if layers and limit is not None:
        lines.append(tr("limit {limit}").format(limit=show(limit, "power", system)))
    return "\n".join(lines)


def lamp_periods(readings: Readings) -> Periods:
    """Return when any lamp is on, timers included."""
    lit = np.zeros(DAY, dtype=bool)
    lamps = {lamp.id for lamp in readings.design.of(Lamp)}
    for device in readings.power.by_device:
        if device.id in lamps:
            lit |= np.asarray(device.series) > 0
    return periods_of(lit)
