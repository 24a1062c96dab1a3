"""Rules on climate: too warm or cool for the plants, and devices that nothing holds back.

Temperatures come from the readings of climate; humidity is not computed yet.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from core.climate.reading import ClimateReadings
from core.climate.reading import read as read_climate
from core.finding import Finding, Remedy
from core.findings.dimming import lamps_words
from core.findings.edits import after, remedy, set_to, when_settled
from core.findings.words import AMISS, sentence
from core.model import (
    AnyPart,
    Cooler,
    Fogger,
    Heater,
    Humidistat,
    Lamp,
    Part,
    Thermostat,
)
from core.phrases import Phrase, phrase
from core.reading import Reading, distance_out
from core.states import LIKELY_OUT, RANK, State
from core.study import Study


def _climate(study: Study) -> ClimateReadings | None:
    found = study.done.get("climate")
    return found if isinstance(found, ClimateReadings) else None


def wrong_temperature(study: Study) -> Iterator[Finding]:
    """Find days and nights that the lamps make too warm, or that stay too cool.

    Where a cooler or heater is at work the balance, which leaves both out, settles nothing.
    """
    climate = _climate(study)
    enclosure = study.design.enclosure
    if climate is None or enclosure is None:
        return
    for row in climate.rows:
        amiss = row.name.startswith("temperature-") and row.state in AMISS
        if amiss and not _is_held(study, row):
            yield Finding(
                "temperature",
                "climate",
                row.state,
                enclosure.id,
                phrase(_temperature_title(row), box=enclosure.name, where=row.where),
                sentence(row.line),
                size=distance_out(row),
                remedy=_drivers_outside(study, row),
            )


def _is_held(study: Study, row: Reading) -> bool:
    """Tell whether a device that the balance leaves out works against what is amiss."""
    too_warm = _too_warm(row)
    kind = Cooler if too_warm else Heater
    return any(_serves_enclosure(study, part) for part in study.design.of(kind))


def _serves_enclosure(study: Study, part: Part) -> bool:
    joins = getattr(part, "joins", None)
    return "enclosure" in joins if joins else study.placement.inside(part.id)


def _too_warm(row: Reading) -> bool:
    middle = (row.want_low or -273.15, row.want_high or 273.15)
    value = row.value or 0.0
    return abs(value - middle[1]) < abs(value - middle[0]) or value > middle[1]


def _temperature_title(row: Reading) -> str:
    if row.state is State.BORDERLINE:
        return "Borderline temperature in {box} {where}"
    warm = _too_warm(row)
    if row.state in LIKELY_OUT:
        return "Likely too warm in {box} {where}" if warm else "Likely too cool in {box} {where}"
    return "Too warm in {box} {where}" if warm else "Too cool in {box} {where}"


@when_settled
def _drivers_outside(study: Study, row: Reading) -> Remedy | None:
    """Return the lamps' drivers put outside, where that is enough to better the reading."""
    lamps = [
        lamp
        for lamp in study.design.of(Lamp)
        if lamp.driver_inside and study.placement.inside(lamp.id)
    ]
    if not lamps or not _too_warm(row):
        return None
    new = [set_to(study, lamp.id, driver_inside=False) for lamp in lamps]
    design = after(study, {part.id: part for part in new})
    rows = read_climate(Study(design, study.season, study.quality)).rows
    now = next(item for item in rows if (item.name, item.where) == (row.name, row.where))
    if RANK[now.state] <= RANK[row.state]:
        return None
    words = phrase("Put the drivers of {lamps} outside", lamps=lamps_words(lamps))
    return remedy(words, *new)


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


def cooler_against_fogger(study: Study) -> Iterator[Finding]:
    """Find coolers that dry the air a fogger moistens."""
    foggers = [part for part in study.design.of(Fogger) if study.placement.inside(part.id)]
    coolers = [part for part in study.design.of(Cooler) if _serves_enclosure(study, part)]
    if foggers and coolers:
        yield Finding(
            "cooler-against-fogger",
            "climate",
            State.CAUTION,
            coolers[0].id,
            _against(coolers[0].name, foggers[0].name),
            phrase("A cold coil takes water out of the air; expect both to run longer."),
        )


def _against(cooler: str, fogger: str) -> Phrase:
    return phrase("{cooler} and {fogger} work against each other", cooler=cooler, fogger=fogger)


RULES = (wrong_temperature, uncontrolled, cooler_against_fogger)
