"""How large a fan, cooler, fogger or heater the plants ask for, and the rows that say so.

The balances are in `sizing`; what a chosen device really does is told by the simulated day.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from core.climate.day_run import DayRun
from core.climate.from_design import Setup
from core.climate.methods import SIZED
from core.climate.results import Answers, Half
from core.climate.rows import Told
from core.climate.sizing import (
    Sizing,
    cooler_needed,
    fogger_needed,
    heater_needed,
    ventilation_needed,
)
from core.climate.spread import U_SPREAD
from core.climate.wants import Wanted, held
from core.climate.zone import Floats, by_minute
from core.phrases import Amount, Phrase, phrase
from core.reading import Reading, reading
from core.study import Study

USUAL_RISE = 3.0
"""Taken for how warm an enclosure may get above its room, where plants say nothing. [K]"""

LEAST_RISE = 1.0
"""A fan of room air is asked to hold no less than this above the room. [K]"""

USUAL_HUMIDITY = 0.7
"""Taken for the air to hold where plants say nothing."""

OFTEN = 0.5
"""Hours a day outside a range that still count as now and then (common practice). [h]"""

_HALVES: tuple[Half, ...] = ("day", "night")


def answers(study: Study, made: Setup, run: DayRun) -> Answers:
    """Return how large each kind of device must be for the plants inside, as wet as they are."""
    low = {half: held(study, "temperature", half).low for half in _HALVES}
    high = {half: held(study, "temperature", half).high for half in _HALVES}
    moist = {half: held(study, "humidity", half).low for half in _HALVES}
    humidity = _by_half(made, {half: moist[half] or USUAL_HUMIDITY for half in _HALVES})
    zone, room = made.zone, made.room
    warm, cool = (_series(made, ends) for ends in (high, low))
    wet = run.evaporating.sum(axis=1) + run.transpiring.sum(axis=1)
    rise = _rise(made, high["day"])
    return Answers(
        rise=rise,
        ventilation=ventilation_needed(zone, room, rise),
        cooler=None if warm is None else cooler_needed(zone, room, warm, humidity, evaporated=wet),
        heater=None
        if cool is None
        else heater_needed(zone, room, cool, humidity, fogged=False, evaporated=wet),
        fogger=_fogger(made, humidity, warm, cool) if any(moist.values()) else None,
    )


def _rise(made: Setup, high: float | None) -> float:
    """Return the warming that a fan is asked to hold: up to what plants stand, else the usual."""
    room = by_minute("Room", "temperature", made.room.temperature)
    if high is None or high - float(room.max()) < LEAST_RISE:
        return USUAL_RISE
    return high - float(room.max())


def _series(made: Setup, ends: dict[Half, float | None]) -> Floats | None:
    """Return a temperature to hold all day; where one half says nothing, the other's holds."""
    day, night = ends["day"], ends["night"]
    if day is None and night is None:
        return None
    first, second = (a if b is None else b for a, b in ((night, day), (day, night)))
    assert first is not None and second is not None
    return _by_half(made, {"day": first, "night": second})


def _by_half(made: Setup, ends: dict[Half, float]) -> Floats:
    return np.asarray(np.where(made.day > 0, ends["day"], ends["night"]), dtype=float)


def _fogger(made: Setup, humidity: Floats, warm: Floats | None, cool: Floats | None) -> Sizing:
    """Return the fog for the middle of the wanted temperatures, or for the room's own."""
    ends = [one for one in (warm, cool) if one is not None]
    room = by_minute("Room", "temperature", made.room.temperature)
    t = np.mean(ends, axis=0) if ends else room
    return fogger_needed(made.zone, made.room, t, humidity)


def answer_rows(told: Told, found: Answers) -> Iterator[Reading]:
    """Iterate over the sizes of what is there, or would be of use: else the plants are content."""
    kinds = {one.kind for one in told.found.devices}
    hot, cold = (missed(told, "temperature", side) for side in ("high", "low"))
    dry = missed(told, "humidity", "low")
    for asked, name, size, say in (
        ("vent" in kinds or hot, "ventilation", found.ventilation, _ventilation),
        ("cooler" in kinds or hot, "cooler", found.cooler, _cooler),
        ("heater" in kinds or cold, "heater", found.heater, _heater),
        ("fogger" in kinds or dry, "fogger", found.fogger, _fog),
    ):
        if asked and size is not None and size.needed > 0:
            yield _row(told, name, size, *say(found, size))


def missed(told: Told, what: Wanted, side: str) -> bool:
    """Tell whether the air is below or above the range to hold for longer than now and then."""
    series = told.found.series
    out = np.zeros(series.lit.size, dtype=bool)
    for half, when in (("day", series.lit), ("night", ~series.lit)):
        end = getattr(held(told.study, what, half), side)  # type: ignore[arg-type]
        if end is not None:
            values = getattr(series, what)
            out |= when & ((values > end) if side == "high" else (values < end))
    return float(out.mean()) * 24 > OFTEN


def _ventilation(found: Answers, size: Sizing) -> tuple[str, Phrase, Phrase]:
    words = "{needed} of room air holds it within {rise} of the room; take {advised}"
    rise = Amount(found.rise, "temperature_difference")
    line = phrase(words, rise=rise, **_sizes(size, "flow"))
    return "flow", phrase("air for the warmth"), line


def _cooler(found: Answers, size: Sizing) -> tuple[str, Phrase, Phrase]:
    words = "a cooler of {needed} holds the plants’ highest; take {advised}, {btu} BTU/h"
    line = phrase(words, btu=_btu(size), **_sizes(size, "power"))
    return "power", phrase("cooling"), line


def _heater(found: Answers, size: Sizing) -> tuple[str, Phrase, Phrase]:
    words = "a heater of {needed} holds the plants’ lowest; take {advised}"
    return "power", phrase("heating"), phrase(words, **_sizes(size, "power"))


def _fog(found: Answers, size: Sizing) -> tuple[str, Phrase, Phrase]:
    words = "fog of {needed} holds the plants’ lowest humidity; take {advised}"
    return "water_rate", phrase("fog"), phrase(words, **_sizes(size, "water_rate"))


def _row(told: Told, name: str, found: Sizing, kind: str, where: Phrase, line: Phrase) -> Reading:
    needed = found.needed
    return reading(
        "climate", f"sizing-{name}", "", where, needed, kind, line, SIZED,
        spread=(needed * (1 - U_SPREAD), needed * (1 + U_SPREAD)), assumptions=told.taken,
    )  # fmt: skip


def _sizes(found: Sizing, kind: str) -> dict[str, Amount]:
    return {"needed": Amount(found.needed, kind), "advised": Amount(found.advised, kind)}


def _btu(found: Sizing) -> str:
    """Return British thermal units an hour to two figures, as coolers are sold: "2,300"."""
    whole = found.btu_per_hour
    step = 10 ** max(len(f"{whole:.0f}") - 2, 0)
    return f"{round(whole / step) * step:,}"
