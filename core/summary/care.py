"""What a design has to be looked after for, and when: every event with its days, from the readings.

How the events are written is in `core.summary.ics`; how they hang on a wall, in
`core.summary.chart`. Rhythms without a source are common practice and say so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from core.climate.results import ClimateReadings
from core.language import tr
from core.model import Cooler, Design, DuctFan, Fogger, Lamp, Powered, Tray
from core.phrases import Amount, phrase
from core.power.tree import PlugTree
from core.states import State
from core.summary.ics import Event
from core.water.fortnight import refill_days
from core.water.use import Supply

if TYPE_CHECKING:
    from core.readings import Readings

_NAMED = 3
"""Up to so many containers are all named in an event's title."""

ROUND = 1.25
"""Containers whose rhythms differ by up to so much are refilled in one round, never later than
each asks for. [1]"""
FILTER_HOURS, FILTER_DAYS = 250.0, (14, 90)
"""A filter is cleaned after so many hours of running, within so many days (common practice). [h]"""
WICK_REFILLS, WICK_DAYS = 6, (30, 120)
"""A wick mat is rinsed after so many refills, within so many days (common practice). [1]"""
LAMP_HOURS, DUSTY_LAMP_HOURS, LAMP_DAYS = 1000.0, 500.0, (30, 120)
"""Lamps are wiped after so many hours of light, sooner where a fogger leaves dust (common
practice). [h]"""
FOG_HOURS, FOG_DAYS = 100.0, (7, 30)
"""A fogger is rinsed after so many hours of fog, within so many days (common practice). [h]"""
UNSURE_DAYS, SURE_DAYS, HYGROMETER_DAYS = 30, 90, 180
"""Days from one check of a meter's reading to the next: where the light is not surely as wanted,
where it is, and for the hygrometer (common practice). [d]"""

_UNSURE = frozenset(State) - {State.FINE, State.UNASKED, State.UNKNOWN, State.CAUTION}


def care_events(readings: Readings, start: date) -> tuple[Event, ...]:
    """Return everything that has to be done again and again, refills first.

    Parameters
    ----------
    readings : Readings
    start : date
        The day on which all containers are full and everything is clean.

    Returns
    -------
    tuple of Event
        Each first comes one rhythm after ``start``.
    """
    design, supplies = readings.design, readings.water.supplies
    return refill_events(design, supplies, start) + upkeep_events(readings, start)


def upkeep_events(readings: Readings, start: date) -> tuple[Event, ...]:
    """Return everything but the refills: what is looked at, cleaned and checked."""
    design = readings.design
    supplies = readings.water.supplies
    return (
        *top_up_events(design, supplies, start),
        *_foggers(readings, start),
        *_filters(readings, start),
        *_wicks(design, supplies, start),
        *_lamps(readings, start),
        *_meters(readings, start),
    )


def refill_events(design: Design, supplies: Sequence[Supply], start: date) -> tuple[Event, ...]:
    """Return when to refill what, containers of like rhythms together, the most frequent first.

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
        Each comes back in the whole days that the water is expected to last, at least 1, in the
        first of what is refilled together. What nothing draws from has none.
    """
    rhythms = [(every, supply) for supply in supplies if (every := refill_days(supply)) is not None]
    rhythms.sort(key=lambda pair: pair[0])
    rounds: dict[int, list[Supply]] = {}
    for every, supply in rhythms:
        first = next((one for one in rounds if every <= ROUND * one), every)
        rounds.setdefault(first, []).append(supply)
    return tuple(_event(design, every, together, start) for every, together in rounds.items())


def _event(design: Design, every: int, supplies: Sequence[Supply], start: date) -> Event:
    names = ", ".join(supply.name for supply in supplies)
    title = tr("Refill {names}").format(names=names)
    if len(supplies) > _NAMED:
        text = tr("Refill {first} and {count} more")
        title = text.format(first=supplies[0].name, count=len(supplies) - 1)
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


def top_up_events(design: Design, supplies: Sequence[Supply], start: date) -> tuple[Event, ...]:
    """Return when to look at the water and top it up: as soon as it may be gone before its refill.

    One event for all, in the whole days that the first of them may last at worst; none where no
    container may run dry before it is refilled.
    """
    soon = [
        (max(1, math.floor(supply.days.low + 1e-9)), supply)
        for supply in supplies
        if supply.days and (every := refill_days(supply)) and math.floor(supply.days.low) < every
    ]
    if not soon:
        return ()
    days = min(one for one, _ in soon)
    notes = tuple(
        tr("{name}: may be dry after {days} days").format(name=supply.name, days=one)
        for one, supply in soon
    )
    more = tr("Once you have typed the days you measured, this comes only where it must.")
    title = tr("Look at the water, top up what is low")
    return (_regular(design, "top-up", title, (*notes, more), days, start),)


def _regular(
    design: Design, name: str, title: str, notes: Iterable[str], every: int, start: date
) -> Event:
    key = f"fernwright {name} {design.name}"
    return Event(key, title, tuple(notes), start + timedelta(days=every), every)


def within(days: float, limits: tuple[int, int]) -> int:
    """Return whole days, not fewer and not more than the limits. [d]"""
    return min(max(int(days), limits[0]), limits[1])


def _hours(readings: Readings, part: Powered) -> float:
    """Return how long a device runs in a day as the climate found it, else its hours. [h/d]"""
    climate = readings.climate
    found = climate.device(part.id) if isinstance(climate, ClimateReadings) else None
    if found is not None:
        return found.hours_per_day
    duty = getattr(part, "duty", None)
    share = float(PlugTree(readings.design).level(part).mean())
    return share * 24.0 * (1.0 if duty is None else duty)


def _foggers(readings: Readings, start: date) -> Iterator[Event]:
    for fogger in readings.design.of(Fogger):
        hours = _hours(readings, fogger)
        if hours > 0:
            days = within(FOG_HOURS / hours, FOG_DAYS)
            title = tr("Rinse {name} and wipe off lime").format(name=fogger.name)
            notes = (tr("It runs {hours} h a day.").format(hours=f"{hours:.3g}"),)
            yield _regular(readings.design, f"fogger {fogger.id}", title, notes, days, start)


def _filters(readings: Readings, start: date) -> Iterator[Event]:
    """Yield the cleaning of coolers' filters and of duct fans' filters, by hours of running."""
    design = readings.design
    filtered = [fan for fan in design.of(DuctFan) if fan.filter_drop > 0]
    for part in (*design.of(Cooler), *filtered):
        hours = _hours(readings, part)
        if hours > 0:
            days = within(FILTER_HOURS / hours, FILTER_DAYS)
            title = tr("Clean the filter of {name}").format(name=part.name)
            notes = (tr("It runs {hours} h a day.").format(hours=f"{hours:.3g}"),)
            yield _regular(design, f"filter {part.id}", title, notes, days, start)


def _wicks(design: Design, supplies: Sequence[Supply], start: date) -> Iterator[Event]:
    """Yield the rinsing of wick mats, after so many refills of the tray that is refilled most."""
    matted = {tray.id: tray.name for tray in design.of(Tray) if tray.wick_mat is not None}
    refills = [days for one in supplies if one.id in matted and (days := refill_days(one))]
    if refills:
        days = within(WICK_REFILLS * min(refills), WICK_DAYS)
        title = tr("Rinse the wick mats")
        yield _regular(design, "wicks", title, (", ".join(matted.values()),), days, start)


def _lamps(readings: Readings, start: date) -> Iterator[Event]:
    """Yield the wiping of lamps: dust and lime take light, and nothing in the readings sees it."""
    design = readings.design
    hours = max((_hours(readings, lamp) for lamp in design.of(Lamp)), default=0.0)
    if hours <= 0:
        return
    dusty = design.tap.purified == "nothing" and any(
        _hours(readings, fogger) > 0 for fogger in design.of(Fogger)
    )
    days = within((DUSTY_LAMP_HOURS if dusty else LAMP_HOURS) / hours, LAMP_DAYS)
    notes = [tr("They shine {hours} h a day.").format(hours=f"{hours:.3g}")]
    if dusty:
        notes.append(tr("The fogger’s minerals settle on them: wipe them sooner."))
    title = tr("Wipe the lamps, unplugged and cool")
    yield _regular(design, "lamps", title, notes, days, start)


def _meters(readings: Readings, start: date) -> Iterator[Event]:
    """Yield the checks with meters in hand, sooner where a reading is not surely as wanted."""
    design = readings.design
    leaves = [row for row in readings.light.rows if row.name == "ppfd"]
    if leaves:
        unsure = any(row.state in _UNSURE for row in leaves)
        notes = [row.line.render(design.units) for row in leaves]
        title = tr("Measure the light at the leaves")
        days = UNSURE_DAYS if unsure else SURE_DAYS
        yield _regular(design, "light meter", title, notes, days, start)
    if readings.climate.rows:
        title, how = tr("Check the hygrometer"), tr("Beside a second one, or over salt.")
        yield _regular(design, "hygrometer", title, (how,), HYGROMETER_DAYS, start)
