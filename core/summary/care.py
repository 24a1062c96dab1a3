"""What a design has to be looked after for, and when: so far refills, as their readings say.

How the events are written is in `core.summary.ics`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta
from itertools import groupby

from core.language import tr
from core.model import Design
from core.phrases import Amount, phrase
from core.summary.ics import Event
from core.water.fortnight import refill_days
from core.water.use import Supply

_NAMED = 3
"""Up to so many containers are named in an event's title."""


def refill_events(design: Design, supplies: Sequence[Supply], start: date) -> tuple[Event, ...]:
    """Return when to refill what, containers of one rhythm together, the most frequent first.

    Parameters
    ----------
    design : Design
    supplies : sequence of Supply
        Containers as the water readings have them; see `core.water.reading.WaterReadings`.
    start : date
        The day on which all are full.

    Returns
    -------
    tuple of Event
        Each comes back in the whole days that the water is expected to last, at least 1. What
        nothing draws from has none.
    """
    rhythms = [(every, supply) for supply in supplies if (every := refill_days(supply)) is not None]
    rhythms.sort(key=lambda pair: pair[0])
    return tuple(
        _event(design, every, [supply for _, supply in together], start)
        for every, together in groupby(rhythms, key=lambda pair: pair[0])
    )


def _event(design: Design, every: int, supplies: Sequence[Supply], start: date) -> Event:
    names = ", ".join(supply.name for supply in supplies)
    title = tr("Refill {names}").format(names=names)
    if len(supplies) > _NAMED:
        title = tr("Refill {count} containers").format(count=len(supplies))
    key = f"fernwright refill {design.name} {' '.join(supply.id for supply in supplies)}"
    notes = tuple(_note(supply, design.units) for supply in supplies)
    return Event(key, title, notes, start + timedelta(days=every), every)


def _note(supply: Supply, system: str) -> str:
    assert supply.days is not None
    return phrase(
        "{name}: {volume}, lasts {low} to {high} days",
        name=supply.name,
        volume=Amount(supply.volume, "volume"),
        low=max(0, math.floor(supply.days.low + 1e-9)),
        high=math.ceil(supply.days.high - 1e-9),
    ).render(system)
