"""Readings of water: days until each container is empty, and what a spill would do.

The numbers are found in `core.water.use` and `core.water.leaks`; here they become sentences.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from core.language import tr
from core.model import Cooler, DuctFan, Fan, FeedLine, Heater, Humidistat, Lamp, Opening, Thermostat
from core.phrases import Amount, Phrase, phrase
from core.power.tree import PlugTree
from core.reading import Method, Reading, SubjectReadings, reading
from core.states import RANK, State
from core.study import Study
from core.water.evaporation import ASSUMED_EVAPORATION
from core.water.leaks import Leak, Spill, spill_of
from core.water.use import GUESSED_DUTY, Supply, Use

FILLED = 0.05
"""How well fill lines are kept, relative (common practice). [1]"""

_DAY = 86_400.0
_NO_PART_IN_WATER = (Lamp, Fan, DuctFan, Opening, Cooler, Heater, Thermostat, Humidistat)

REFILL = Method(
    tr(
        "The water just after a refill, less what pots and platforms take up, over what leaves in "
        "a day: for a tray its area at a rate, or the days measured; for a fogger its output while "
        "it runs."
    ),
    tr("Geometry; a loss of 1.5 mm a day from a planted tray is common practice, no source."),
    tr(
        "The rate may be half or twice as high: half to twice the days. Measured days: 10 %. A "
        "fogger on a humidistat: a quarter to four times the days; at a known duty 25 %."
    ),
    (tr("The climate does not change the rate yet; watering of pots from above is not counted."),),
)
SPILL = Method(
    tr(
        "All water inside the enclosure runs out, with what runs in by gravity from reservoirs "
        "outside: only the water above the inlet. The floor liner holds its area times its lowest "
        "edge, less half of what it is out of level."
    ),
    tr("Geometry; A(h - δ/2), or A h²/2δ where the fall δ exceeds the edge h."),
    tr("Fill lines are taken as kept within 5 % (common practice)."),
    (
        tr("What stands on the liner takes some of its room up."),
        tr("A pump that siphons is not counted."),
    ),
)


@dataclass(frozen=True, kw_only=True, eq=False)
class WaterReadings(SubjectReadings):
    """Water: readings by container, and what is drawn of them.

    Attributes
    ----------
    trays, reservoirs : tuple of Supply
        Containers filled by hand, in the order of the parts; a fogger's own tank is a reservoir.
    spill : Spill
        The worst case.
    """

    subject: str = "water"
    trays: tuple[Supply, ...] = ()
    reservoirs: tuple[Supply, ...] = ()
    spill: Spill = field(default_factory=Spill)

    @property
    def supplies(self) -> tuple[Supply, ...]:
        """Trays and reservoirs together."""
        return self.trays + self.reservoirs

    @property
    def per_day(self) -> float:
        """Water that all containers use in a day. [m³/d]"""
        return sum(supply.per_day for supply in self.supplies)


def inputs(study: Study) -> Any:
    """Return everything water looks at: all parts but lamps, fans and what heats or cools."""
    design = study.design
    parts = tuple(part for part in design.parts if not isinstance(part, _NO_PART_IN_WATER))
    return parts, design.room.fixtures, design.room.height, design.targets


def read(study: Study) -> WaterReadings:
    """Return the water readings of a design."""
    supplies = Use(study.placement, PlugTree(study.design)).supplies()
    refills = tuple(_refill(study, supply, supplies) for supply in supplies if supply.days)
    spill = spill_of(study.placement)
    spills = _spills(study, spill)
    return WaterReadings(
        rows=refills + spills,
        headline=_headline(refills, spills),
        nothing=phrase("no water yet"),
        trays=tuple(one for one in supplies if one.kind == "tray"),
        reservoirs=tuple(one for one in supplies if one.kind != "tray"),
        spill=spill,
    )


def _headline(refills: tuple[Reading, ...], spills: tuple[Reading, ...]) -> Reading | None:
    """Return the first refill, unless a spill is worse off."""
    first = min(refills, key=lambda row: row.value or 0.0, default=None)
    worse = [row for row in spills if row.state not in (State.FINE, State.UNASKED)]
    found = [*([first] if first else []), *worse] or list(spills)
    return min(found, key=lambda row: RANK[row.state], default=None)


def _refill(study: Study, supply: Supply, supplies: tuple[Supply, ...]) -> Reading:
    days = supply.days
    assert days is not None
    where = _where(study, supply, supplies)
    want = study.design.targets.refill_days
    line = phrase(
        "{where}: refill in {days}, {low} to {high}; want {want} or more",
        where=where,
        days=days_words(days.value),
        low=_figures(days.low),
        high=_figures(days.high),
        want=_figures(want),
    )
    return reading(
        "water", "refill", supply.id, where, days.value * _DAY, "duration", line, REFILL,
        spread=(days.low * _DAY, days.high * _DAY),
        want=(want * _DAY, None),
        assumptions=_assumptions(study, supply),
    )  # fmt: skip


def _where(study: Study, supply: Supply, supplies: tuple[Supply, ...]) -> Phrase:
    """Return a tray's level, with its name where the level has several; else the name."""
    if supply.kind != "tray" or supply.level is None:
        return phrase("{name}", name=supply.name)
    level = study.level_words(supply.level)
    trays = [one for one in supplies if one.kind == "tray" and one.level == supply.level]
    if len(trays) == 1:
        return level
    return phrase("{level}, {name}", level=level, name=supply.name)


def days_words(days: float) -> Phrase:
    """Return a number of days as it is spoken: "6 days", "1 day", "0.4 days"."""
    figures = _figures(days)
    return phrase("1 day") if figures == "1" else phrase("{days} days", days=figures)


def _figures(days: float) -> str:
    return f"{days:.0f}" if days >= 0.95 else f"{days:.1f}"


def _assumptions(study: Study, supply: Supply) -> tuple[Phrase, ...]:
    if supply.basis == "rate":
        rate = Amount(ASSUMED_EVAPORATION, "evaporation")
        return (phrase("Trays are taken to lose {rate}, until you type the days you measured",
                       rate=rate),)  # fmt: skip
    if supply.basis == "guessed":
        duty = Amount(GUESSED_DUTY, "fraction")
        return (phrase("The fogger is taken to run {duty} of the time", duty=duty),)
    return ()


def _spills(study: Study, spill: Spill) -> tuple[Reading, ...]:
    enclosure = study.design.enclosure
    if enclosure is None or spill.largest is None:
        return ()
    taken = _spill_assumptions(study, spill)
    where = phrase("{name}", name=enclosure.name)
    everything = _spill_reading(
        "spill", enclosure.id, where, spill.total, spill, _all_words(spill), taken
    )
    largest = spill.largest
    alone = phrase("{name}", name=largest.name)
    line = phrase(
        "{name} alone: {volume}; {liner}",
        name=largest.name,
        volume=Amount(largest.volume, "volume"),
        liner=_liner_words(spill),
    )
    one = _spill_reading("spill-largest", largest.id, alone, largest.volume, spill, line, taken)
    return everything, one


def _spill_reading(
    name: str,
    place: str,
    where: Phrase,
    volume: float,
    spill: Spill,
    line: Phrase,
    taken: tuple[Phrase, ...],
) -> Reading:
    return reading(
        "water", name, place, where, volume, "volume", line, SPILL,
        spread=(volume * (1 - FILLED), volume * (1 + FILLED)),
        want=(None, spill.capacity),
        assumptions=taken,
    )  # fmt: skip


def _all_words(spill: Spill) -> Phrase:
    return phrase(
        "if everything ran out: {volume}; {liner}",
        volume=Amount(spill.total, "volume"),
        liner=_liner_words(spill),
    )


def _liner_words(spill: Spill) -> Phrase:
    if spill.capacity is None or spill.capacity_level is None:
        return phrase("no floor liner")
    if spill.over > 0 or spill.capacity == spill.capacity_level:
        return phrase("the liner holds {capacity}", capacity=Amount(spill.capacity, "volume"))
    return phrase(
        "the liner holds {level}, {capacity} out of level",
        level=Amount(spill.capacity_level, "volume"),
        capacity=Amount(spill.capacity, "volume"),
    )


def _spill_assumptions(study: Study, spill: Spill) -> tuple[Phrase, ...]:
    found = [_fed_words(study, leak) for leak in spill.onto_liner if leak.feed]
    found += [
        phrase(
            "The float valve of {feed} is taken to close; if it stuck, {volume} more would run in",
            feed=study.design.by_id[leak.feed].name,
            volume=Amount(leak.volume, "volume"),
        )
        for leak in spill.if_a_valve_sticks
    ]
    found += [
        phrase(
            "{name} stands outside: its own leak, {volume}, runs onto the room’s floor",
            name=leak.name,
            volume=Amount(leak.volume, "volume"),
        )
        for leak in spill.onto_room_floor
    ]
    return tuple(found)


def _fed_words(study: Study, leak: Leak) -> Phrase:
    feed = study.design.part(leak.feed)
    tap = isinstance(feed, FeedLine) and feed.valve == "tap"
    words = "Through {feed} {volume} of {name} can run in by gravity"
    if tap:
        words = "Through {feed}, its tap left open, {volume} of {name} can run in by gravity"
    return phrase(words, feed=feed.name, volume=Amount(leak.volume, "volume"), name=leak.name)
