"""What Air reads under the pointer: how fast the air is, which way it moves, how old it is.

The numbers are the engine's field; nothing is solved here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from core.air.flow.sources import JET_LENGTH
from core.air.reach import LEAST_OFF
from core.air.rows import OFF
from core.language import tr
from core.units import show
from gui.air_words import way_words
from gui.overlay_look import Look

if TYPE_CHECKING:
    from core.air.reach import Jet
    from core.light.point import Place


def air_lines(look: Look, place: Place) -> tuple[str, ...]:
    """Return what is known of the air at a place; nothing outside the flow, or without one."""
    air = look.readings.air
    field = air.field
    if field is None or not field.covers(place):
        return ()
    point = np.array([place])
    speed = float(field.speed_at(point)[0])
    if not math.isfinite(speed):
        return ()
    speed = max([speed, *_jets_at(air.jets, place)])
    sign = "≈ " if air.coarse else ""
    lines = [sign + show(speed, "speed", look.system, digits=2)]
    off = max([LEAST_OFF, OFF * speed, *(zone.off for zone in air.zones)])
    lines.append(tr("±\u00a0{off}").format(off=show(off, "speed", look.system, digits=1)))
    way = way_words(field.velocity_at(point)[0].tolist())
    if way:
        lines.append(way)
    ages = field.age_at(point)
    if ages is not None and math.isfinite(ages[0]):
        age = show(_rounded(float(ages[0])), "duration", look.system, digits=2)
        lines.append(tr("air {age} old").format(age=age))
    return tuple(lines)


def _jets_at(jets: tuple[Jet, ...], place: Place) -> Iterator[float]:
    """Iterate over the speeds of the jets near whose fans a place lies.

    Cells are too large to resolve these. [m/s]
    """
    for jet in jets:
        way = np.subtract(place, jet.origin)
        ahead = float(way @ np.array(jet.direction))
        if jet.sweep == 0 and 0 < ahead <= min(jet.end, JET_LENGTH * jet.jet.diameter):
            beside = math.sqrt(max(float(way @ way) - ahead * ahead, 0.0))
            yield float(jet.jet.speed(ahead, beside))


def _rounded(seconds: float) -> float:
    """Return a time as finely as it is known: whole minutes, or tens of seconds. [s]"""
    step = 60.0 if seconds >= 300 else 10.0
    return max(step, round(seconds / step) * step)
