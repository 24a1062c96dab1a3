"""Rules on climate: air that plants do not want, walls that mist, devices that work in vain.

What the air is like comes from the readings of climate; the edits that may better it are in
`climate_trials`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain
from typing import Any

import numpy as np

from core.climate.day_results import spells
from core.climate.reading import ClimateReadings
from core.climate.results import DeviceDay, Half
from core.climate.rows import spell_words, told_spells
from core.climate.zone import MINUTES
from core.finding import Finding, Remedy
from core.findings import climate_trials as trials
from core.findings.edits import remedy, set_to, when_settled
from core.findings.words import AMISS, sentence
from core.model import (
    AnyPart,
    Cooler,
    Face,
    Fogger,
    Heater,
    Humidistat,
    Thermostat,
)
from core.phrases import Amount, Phrase, percent, phrase
from core.reading import Reading, distance_out
from core.states import LIKELY_OUT, State
from core.study import Study

FIGHT = 30
"""Devices that undo each other's work for less than this a day are let be. [min]"""

TOO_MANY = 10.0
"""Starts of a fogger an hour that wear it out (common practice). [1/h]"""


def _climate(study: Study) -> ClimateReadings | None:
    found = study.done.get("climate")
    return found if isinstance(found, ClimateReadings) else None


# --- Air that plants do not want


def wrong_temperature(study: Study) -> Iterator[Finding]:
    """Find days and nights that are too warm or too cool for the plants."""
    for row in _rows(study, "temperature-"):
        yield _wrong(study, row, _temperature_title(study, row))


def wrong_humidity(study: Study) -> Iterator[Finding]:
    """Find air that is too dry or too humid; by day and by night it is told once, as the worse."""
    rows = sorted(_rows(study, "humidity-"), key=distance_out, reverse=True)
    told = set()
    for row in rows:
        key = (row.want_low, row.want_high, row.value < _middle(row))  # type: ignore[operator]
        if key not in told:
            told.add(key)
            yield _wrong(study, row, _humidity_title(row))


def _rows(study: Study, name: str) -> list[Reading]:
    climate = _climate(study)
    if climate is None or study.design.enclosure is None:
        return []
    return [row for row in climate.rows if row.name.startswith(name) and row.state in AMISS]


def _wrong(study: Study, row: Reading, title: str) -> Finding:
    enclosure, climate = study.design.enclosure, _climate(study)
    assert enclosure is not None and climate is not None
    season = study.season.name
    return Finding(
        row.name,
        "climate",
        row.state,
        enclosure.id,
        phrase(title, box=enclosure.name, where=row.where, season=season),
        _detail(climate, row),
        size=distance_out(row),
        remedy=None if row.state is State.BORDERLINE else _bettered(study, row),
    )


def _detail(climate: ClimateReadings, row: Reading) -> Phrase:
    """Return the reading as a sentence, and what size of device would hold what is wanted."""
    sizes = climate.sizing
    size, words, kind = None, "", "power"
    if sizes is not None and row.name.startswith("temperature"):
        size = sizes.cooler if _over(row) else sizes.heater
        words = "a cooler of {size}" if _over(row) else "a heater of {size}"
    elif sizes is not None and not _over(row):
        size, words, kind = sizes.fogger, "fog of {size}", "water_rate"
    if size is None or size.needed == 0:
        return sentence(row.line)
    device = phrase(words, size=Amount(size.advised, kind))
    return phrase("{line}. It takes {device} to hold that.", line=row.line, device=device)


def _middle(row: Reading) -> float:
    low, high = row.want_low, row.want_high
    if low is not None and high is not None:
        return (low + high) / 2
    # Only one end is wanted, so the value lies beyond that one.
    return float("inf") if high is None else float("-inf")


def _over(row: Reading) -> bool:
    """Tell whether a reading is amiss upwards."""
    assert row.value is not None
    return row.value > _middle(row)


def _temperature_title(study: Study, row: Reading) -> str:
    if row.state is State.BORDERLINE:
        return "Borderline temperature in {box} {where}"
    warm = _over(row)
    if row.state in LIKELY_OUT:
        return "Likely too warm in {box} {where}" if warm else "Likely too cool in {box} {where}"
    if warm and row.name.endswith("night") and _never(study, row):
        return "{box} is never cool enough {where}: {season}"
    return "Too warm in {box} {where}" if warm else "Too cool in {box} {where}"


def _never(study: Study, row: Reading) -> bool:
    """Tell whether a night's air stays above what is wanted all night long."""
    climate = _climate(study)
    night = climate.night if climate else None
    return night is not None and row.want_high is not None and night.temperature.low > row.want_high


def _humidity_title(row: Reading) -> str:
    if row.state is State.BORDERLINE:
        return "Borderline humidity in {box} {where}"
    damp = _over(row)
    if row.state in LIKELY_OUT:
        return "Likely too humid in {box} {where}" if damp else "Likely too dry in {box} {where}"
    return "Too humid in {box} {where}" if damp else "Too dry in {box} {where}"


@when_settled
def _bettered(study: Study, row: Reading) -> Remedy | None:
    """Return the edit that betters a reading most, of those that are of use for it."""
    half: Half = "day" if row.name.endswith("day") else "night"
    if len([one for one in _rows(study, row.name) if one.name == row.name]) > 1:
        return None  # groups that cannot agree: what betters one is worse for another
    made: Iterable[trials.Trial]
    if row.name.startswith("humidity"):
        made = chain(trials.fog_held(study, row), _airing(study) if _over(row) else ())
    elif _over(row):
        by_night = trials.lamps_at_night(study) if half == "day" else ()
        made = chain(
            trials.heat_held(study, row, half), trials.drivers_outside(study), _airing(study),
            by_night,
        )  # fmt: skip
    else:
        made = chain(trials.heat_held(study, row, half), _foam(study), trials.lamps_at_night(study))
    return trials.best(study, row, made)


def _airing(study: Study) -> Iterator[trials.Trial]:
    yield from trials.open_a_hand(study)
    yield from trials.exhaust_all_day(study)


def _foam(study: Study) -> Iterator[trials.Trial]:
    climate = _climate(study)
    if climate is not None and climate.faces:
        worst = min(climate.faces, key=lambda one: float(one.margin.min()))
        faces: tuple[Face, ...] = (worst.face, "back")
        for face in dict.fromkeys(faces):
            yield from trials.foam_behind(study, face)


# --- Walls that mist


def misting(study: Study) -> Iterator[Finding]:
    """Find covers on which water condenses, or may."""
    for row in _rows(study, "margin"):
        enclosure, climate = study.design.enclosure, _climate(study)
        assert enclosure is not None and climate is not None
        told = told_spells(climate.wet)
        sure = row.state is State.LOW
        title = "The walls of {box} mist" if sure else "The walls of {box} may mist"
        if told and not climate.coarse:
            title += ", {spells}"
        yield Finding(
            "misting",
            "climate",
            row.state,
            enclosure.id,
            phrase(title, box=enclosure.name, spells=spell_words(told)),
            _mist_detail(row, climate),
            size=distance_out(row),
            remedy=_dried(study, row),
        )


def _mist_detail(row: Reading, climate: ClimateReadings) -> Phrase:
    assert row.value is not None and row.low is not None and row.high is not None
    margin, off = (
        Amount(value, "temperature_difference")
        for value in (row.value, max(row.high - row.value, row.value - row.low))
    )
    if climate.condensed > 0:
        words = "{water} a day run down the covers; dew margin {margin}, ± {off}."
        water = Amount(climate.condensed * 1e-3, "volume")
        return phrase(words, water=water, margin=margin, off=off)
    return phrase("Dew margin {margin}, ± {off}.", margin=margin, off=off)


@when_settled
def _dried(study: Study, row: Reading) -> Remedy | None:
    made = chain(
        _foam(study), _airing(study), trials.set_points(study, (Fogger,), Humidistat, 0.75, None)
    )
    return trials.best(study, row, made)


# --- Devices that work in vain


def cooler_against_fogger(study: Study) -> Iterator[Finding]:
    """Find coolers whose coil takes out of the air what a fogger puts in."""
    climate = _climate(study)
    run = climate.run if climate else None
    if climate is None or run is None or run.fighting().sum() < FIGHT:
        return
    fogger, cooler = (_first(climate, kind) for kind in ("fogger", "cooler"))
    yield Finding(
        "cooler-against-fogger",
        "climate",
        State.CAUTION,
        cooler.id,
        phrase("{cooler} and {fogger} work against each other", cooler=cooler.name,
               fogger=fogger.name),
        phrase("{spells}: the coil takes {share} of the fog out again.",
               spells=spell_words(told_spells(spells(run.fighting()))),
               share=percent(run.undone())),
        remedy=_peace(study, fogger.id, cooler.id),
    )  # fmt: skip


def exhaust_against_fogger(study: Study) -> Iterator[Finding]:
    """Find exhausts on a controller that blow out what a fogger puts in at the same time."""
    climate = _climate(study)
    if climate is None or climate.run is None:
        return
    fogging = _busy(climate, "fogger")
    for fan in climate.devices:
        both = fogging & (fan.duty > 0)
        if fan.kind != "vent" or not fan.control or both.sum() < FIGHT:
            continue
        fogger = _first(climate, "fogger")
        yield Finding(
            "exhaust-against-fogger",
            "climate",
            State.CAUTION,
            fan.id,
            phrase("{fogger} and {fan} work against each other", fogger=fogger.name, fan=fan.name),
            phrase("Both run within the same minutes, {spells}.",
                   spells=spell_words(told_spells(spells(_smooth(both))))),
        )  # fmt: skip


def _busy(climate: ClimateReadings, kind: str) -> np.ndarray:
    busy = np.zeros(MINUTES, dtype=bool)
    for one in climate.devices:
        if one.kind == kind:
            busy |= one.duty > 0
    return busy


def _smooth(flags: np.ndarray) -> np.ndarray:
    """Return flags with gaps of less than a quarter of an hour closed."""
    near = sum(np.roll(flags, shift).astype(int) for shift in range(-7, 8))
    return np.asarray(near > 0)


def _first(climate: ClimateReadings, kind: str) -> DeviceDay:
    """Return the device of a kind that runs longest."""
    of_kind = (one for one in climate.devices if one.kind == kind)
    return max(of_kind, key=lambda one: one.hours_per_day)


@when_settled
def _peace(study: Study, fogger_id: str, cooler_id: str) -> Remedy | None:
    """Return a lower humidity to hold, where that ends the fight for the most part."""
    fogger: Any = study.design.part(fogger_id)
    stat: Any = study.design.by_id.get(fogger.control or "")
    if not isinstance(stat, Humidistat):
        return None
    for value in _lower(stat):
        for trial in trials.set_points(study, (Fogger,), Humidistat, value, None):
            run = trials.tried(study, trial).run
            if run is not None and run.fighting().sum() < FIGHT:
                return trial.remedy
    return None


def _lower(stat: Humidistat) -> tuple[float, ...]:
    highest = max((point.value for point in stat.set_points), default=0.0)
    return tuple(value for value in (highest - 0.10, highest - 0.20) if value >= 0.4)


def short_cycles(study: Study) -> Iterator[Finding]:
    """Find foggers that switch on and off many times an hour, for moments only."""
    climate = _climate(study)
    for one in climate.devices if climate else ():
        busy = one.starts_per_hour > TOO_MANY
        if one.kind == "fogger" and one.cycles_short and busy:
            yield Finding(
                "fogger-short-cycles",
                "climate",
                State.CAUTION,
                one.id,
                phrase("{name} switches on for moments only", name=one.name),
                phrase("{starts} times an hour, for {length} each; it is strong for this air.",
                       starts=round(one.starts_per_hour),
                       length=Amount(max(5.0, round(one.mean_run / 5) * 5.0), "duration")),
                level=study.placement.level_of(one.id),
                remedy=_longer(study, one.id),
            )  # fmt: skip


@when_settled
def _longer(study: Study, part_id: str) -> Remedy | None:
    """Return a wider differential, where that makes runs long enough."""
    for factor in (2.0, 3.0):
        for trial in trials.wider_differential(study, part_id, factor):
            now = trials.tried(study, trial).device(part_id)
            if now is not None and not (now.cycles_short and now.starts_per_hour > TOO_MANY):
                return trial.remedy
    return None


def uncontrolled(study: Study) -> Iterator[Finding]:
    """Find coolers, heaters and foggers that nothing switches off in time."""
    devices = (p for p in study.design.parts if isinstance(p, Cooler | Heater | Fogger))
    for part in devices:
        if part.control is None and (part.watts > 0 or isinstance(part, Fogger)):
            yield _uncontrolled(study, part)


def _uncontrolled(study: Study, part: Cooler | Heater | Fogger) -> Finding:
    fogger = isinstance(part, Fogger)
    words = {
        "cooler": "It cools for as long as its hours last, and may chill the plants.",
        "heater": "It heats for as long as its hours last, and may overheat the plants.",
        "fogger": "It fogs for as long as its hours last; wet leaves and covers grow mould.",
    }
    title = "{name} has no humidistat" if fogger else "{name} has no thermostat"
    return Finding(
        "no-controller",
        "climate",
        State.CAUTION,
        part.id,
        phrase(title, name=part.name),
        phrase(words[part.kind]),
        level=study.placement.level_of(part.id),
        remedy=_controlled(study, part, Humidistat if fogger else Thermostat),
    )


def _controlled(study: Study, part: AnyPart, kind: Any) -> Remedy | None:
    """Return the device put behind a controller of the design, where there is one."""
    controller: Any = next(iter(study.design.of(kind)), None)
    if controller is None:
        return None
    words = phrase("Let {controller} switch {name}", controller=controller.name, name=part.name)
    return remedy(words, set_to(study, part.id, control=controller.id))


RULES = (
    wrong_temperature,
    wrong_humidity,
    misting,
    cooler_against_fogger,
    exhaust_against_fogger,
    short_cycles,
    uncontrolled,
)
