"""Readings of climate: the air of a design's day and night, and what its devices do for it.

The day is simulated, or estimated while something is dragged; sentences are in `rows`,
`device_rows` and `answers`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import numpy as np

from core.climate.answers import answer_rows, answers
from core.climate.day_results import gathered, of_run, of_settled
from core.climate.day_run import DayRun
from core.climate.device_rows import device_rows
from core.climate.estimate import Settled, settle
from core.climate.from_design import Setup, setup
from core.climate.known import known
from core.climate.results import ClimateReadings
from core.climate.rows import Told, air_rows
from core.climate.simulation import kernels_ready, simulate
from core.climate.spread import VARIANTS, spread
from core.model import (
    Design,
    Enclosure,
    Lamp,
    Opening,
    Plants,
    Powered,
    RoomWindow,
    ShelfUnit,
    Tray,
)
from core.model.devices import Reservoir
from core.model.electric import Humidistat, Lead, Strip, Thermostat, Timer
from core.phrases import phrase
from core.reading import Reading, worst
from core.study import Study

__all__ = ["ClimateReadings", "inputs", "read"]

_LOOKED_AT = (Enclosure, Powered, Opening, Plants, Tray, Reservoir, ShelfUnit, Strip, Lead, Timer,
              Thermostat, Humidistat)  # fmt: skip
_OF_NO_WEIGHT = frozenset(
    {"place", "notes", "catalogue", "price", "owned", "locked", "hidden", "group", "inrush"}
)

LONG_MEMORY = 5 * 3600.0
"""An enclosure that keeps warmth for longer needs two days to forget how it began. [s]"""


def inputs(study: Study) -> Any:
    """Return what climate looks at: season, enclosure, what is inside, and what feeds and holds it.

    Where a part stands counts only as far as it is inside, and in or on what. Light and air are
    looked at through their readings.
    """
    design, placement = study.design, study.placement
    enclosure = design.enclosure
    box = placement.box(enclosure.id) if enclosure else None
    windows = tuple(item for item in design.room.fixtures if isinstance(item, RoomWindow))
    seasonal = any(part.when for part in study.drawn.parts)
    return (
        _can_simulate(study),
        study.season,
        box,
        (design.room.outline, windows) if box else None,
        design.groups,
        _parts(design, placement.inside),
        _parts(study.drawn, None) if seasonal else None,
    )


def _parts(design: Design, inside: Callable[[str], bool] | None) -> tuple[Any, ...]:
    return tuple(
        (
            type(part),
            part.place.host,
            inside(part.id) if inside else (part.place.fixing, part.place.face),
            tuple(value for key, value in part.__dict__.items() if key not in _OF_NO_WEIGHT),
        )
        for part in design.parts
        if isinstance(part, _LOOKED_AT)
    )


def _can_simulate(study: Study) -> bool:
    """Tell whether a day can be simulated now.

    The window compiles kernels elsewhere, since that would hold up its own threads.
    """
    elsewhere = study.flows is not None and study.flows.arrives
    return kernels_ready() or not elsewhere


def read(study: Study) -> ClimateReadings:
    """Return the climate readings of a design."""
    enclosure = study.design.enclosure
    if enclosure is None:
        return ClimateReadings(nothing=phrase("no enclosure yet"))
    made = setup(study, known(study))
    if made is None:
        return ClimateReadings(nothing=phrase("open above: its air follows the room's"))
    ends = settle(made.zone, made.room, flags(made), VARIANTS)
    final = study.quality == "final" and _can_simulate(study)
    run = day_of(made, ends) if final else None
    air = of_settled(made, ends) if run is None else of_run(run)
    off = spread(made, ends)
    found = gathered(study.design, made, air, off)
    lamps = any(study.placement.inside(lamp.id) for lamp in study.design.of(Lamp))
    told = Told(study, found, off, run is None, lamps, made.assumptions)
    sizes = answers(study, made, run) if run is not None else None
    rows = (*air_rows(told), *device_rows(told), *(answer_rows(told, sizes) if sizes else ()))
    return ClimateReadings(
        rows=rows,
        headline=headline(rows),
        coarse=run is None,
        sizing=sizes,
        run=run,
        **{name: getattr(found, name) for name in found.__dataclass_fields__},
    )


def flags(made: Setup) -> tuple[np.ndarray, ...]:
    """Return the minutes of day and night, without the half that never is."""
    return tuple(half for half in (made.day, 1 - made.day) if half.any())


def day_of(made: Setup, ends: Settled) -> DayRun:
    """Return the simulated day, begun from the steady night."""
    zone = made.zone
    carried = zone.coupling + sum(one.u * one.area for one in zone.boundaries)
    memory = zone.heat_capacity / carried
    begin = float(ends.temperature[0, -1]), float(ends.humidity_ratio[0, -1])
    start = (begin[0], begin[0], begin[1])
    return simulate(zone, made.room, warm_up=1 if memory < LONG_MEMORY else 2, start=start)


def headline(rows: Iterable[Reading]) -> Reading | None:
    """Return the reading that matters most of those that something is wanted of."""
    rows = tuple(rows)
    asked = tuple(row for row in rows if (row.want_low, row.want_high) != (None, None))
    return worst(asked) or next(iter(rows), None)
