"""Rules on what makes a breaker or its protection trip though no load is too great.

Compressors that start hard, many devices at once, leakage that is always there; loads that last
are in `electric`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from core.finding import Finding, Remedy
from core.findings.edits import after, remedy, set_to, when_settled
from core.findings.words import names
from core.hours import show_clock
from core.model import Circuit, Hours, Period, Powered, replace
from core.phrases import Amount, Phrase, phrase
from core.power.circuits import MAGNETIC_TRIP
from core.power.inrush import TAKEN_TRIP, Start, starts, together
from core.power.leakage import standing_leakage, standing_limit
from core.power.reading import PowerReadings
from core.power.tree import PlugTree, full_watts
from core.states import State
from core.study import Study

START = 6.0
"""Current of a starting compressor over its running current, for less than a second."""

MOST_LATER = 15
"""So many minutes later a start may be put, at most (judgement). [min]"""
_ROUNDING = 1e-9


def hard_start(study: Study) -> Iterator[Finding]:
    """Find compressors whose start may trip their breaker or dim the lamps."""
    power = _power(study)
    if power is None:
        return
    for part in study.design.parts:
        if isinstance(part, Powered) and part.starts_hard and part.watts > 0:
            circuit = power.tree.circuit_of(part.id)
            start = START * amperes(power.tree, part)
            if start > MAGNETIC_TRIP[circuit.trip or TAKEN_TRIP] * circuit.breaker:
                yield Finding(
                    "hard-start",
                    "power",
                    State.CAUTION,
                    part.id,
                    phrase(
                        "{circuit} may trip when {name} starts",
                        circuit=circuit.name,
                        name=part.name,
                    ),
                    phrase(
                        "About {start} for less than a second, on a breaker of {breaker}.",
                        start=Amount(start, "current"),
                        breaker=Amount(circuit.breaker, "current"),
                    ),
                    size=start / circuit.breaker,
                )


def amperes(tree: PlugTree, part: Powered) -> float:
    """Return the current of a device at full power. [A]"""
    voltage = tree.voltage(tree.circuit_of(part.id))
    return full_watts(part) / part.power_factor / voltage


def many_at_once(study: Study) -> Iterator[Finding]:
    """Find minutes in which more is switched on than a breaker lets start at once."""
    power = _power(study)
    if power is None:
        return
    for circuit in power.tree.circuits:
        at_once = together(starts(power.tree, circuit))
        worst = max(at_once.values(), key=_share, default=())
        if _share(worst) > 1 + _ROUNDING:
            yield _many_at_once(study, power.tree, circuit, worst)


def _power(study: Study) -> PowerReadings | None:
    found = study.done.get("power")
    return found if isinstance(found, PowerReadings) and found.steps else None


def _share(found: Sequence[Start]) -> float:
    return sum(start.share for start in found)


def _many_at_once(
    study: Study, tree: PlugTree, circuit: Circuit, found: tuple[Start, ...]
) -> Finding:
    devices = [device for start in found for device in start.devices]
    return Finding(
        "many-at-once",
        "power",
        State.CAUTION,
        devices[0].id,
        phrase(
            "{circuit} may trip at {clock}, when much is switched on at once",
            circuit=circuit.name,
            clock=show_clock(found[0].minute),
        ),
        phrase(
            "{names}: {share} of what a breaker of {breaker}, type {trip}{taken}, lets start "
            "together.",
            names=names([device.name for device in devices]),
            share=Amount(_share(found), "fraction"),
            breaker=Amount(circuit.breaker, "current"),
            trip=circuit.trip or TAKEN_TRIP,
            taken=phrase("") if circuit.trip else phrase(" taken"),
        ),
        size=_share(found) - 1.0,
        remedy=_staggered(study, tree, circuit, found),
    )


@when_settled
def _staggered(
    study: Study, tree: PlugTree, circuit: Circuit, found: tuple[Start, ...]
) -> Remedy | None:
    """Return the same hours a minute or more later for as few switches as will do."""
    delays = _delays(found)
    if delays is None:
        return None
    new = [_later(study, switch, found[0].minute, delay) for switch, delay in delays.items()]
    if any(part is None for part in new):
        return None
    mended = PlugTree(after(study, {part.id: part for part in new}))
    if any(_share(many) > 1 + _ROUNDING for many in together(starts(mended, circuit)).values()):
        return None
    return remedy(_later_words(study, delays), *new)


def _delays(found: tuple[Start, ...]) -> dict[str, int] | None:
    """Return how many minutes later each switch starts that has to; None where that will not do."""
    loads: list[float] = []
    delays: dict[str, int] = {}
    for start in sorted(found, key=lambda item: -item.share):
        place = next((i for i, load in enumerate(loads) if load + start.share <= 1), len(loads))
        if start.share > 1 or place > MOST_LATER:
            return None
        loads[place : place + 1] = [start.share + (loads[place] if place < len(loads) else 0.0)]
        if place:
            delays[start.switch] = place
    return delays


def _later(study: Study, switch: str, minute: int, delay: int) -> Any:
    """Return a switch whose period from ``minute`` on starts and ends later."""
    part: Any = study.design.part(switch)
    periods = tuple(
        Period(on=(one.on + delay) % 1440, off=(one.off + delay) % 1440)
        if one.on % 1440 == minute
        else one
        for one in part.hours.periods
    )
    if periods == part.hours.periods:
        return None
    hours: Hours = replace(part.hours, periods=periods)
    return set_to(study, switch, hours=hours)


def _later_words(study: Study, delays: dict[str, int]) -> Phrase:
    moved = [study.design.by_id[switch].name for switch in delays]
    most = max(delays.values())
    later = phrase("a minute") if most == 1 else phrase("1 to {most} minutes", most=most)
    return phrase("Let {names} start {later} later", names=names(moved), later=later)


def much_leakage(study: Study) -> Iterator[Finding]:
    """Find leakage protection that may trip for nothing, by what its devices leak all the time."""
    power = _power(study)
    if power is None:
        return
    most = standing_limit(study.design.practice.region)
    for circuit in power.tree.circuits:
        leakage, devices = standing_leakage(power.tree, circuit)
        if leakage > most * (1 + _ROUNDING):
            yield Finding(
                "much-leakage",
                "power",
                State.CAUTION,
                devices[0].id,
                phrase("Protection of {circuit} may trip for nothing", circuit=circuit.name),
                phrase(
                    "{names} leak {leakage} while all is well; up to {most} is advised behind one "
                    "protective device. A licensed electrician decides.",
                    names=names([device.name for device in devices]),
                    leakage=_milliamperes(leakage),
                    most=_milliamperes(most),
                ),
                size=leakage / most - 1.0,
            )


def _milliamperes(current: float) -> str:
    """Return a small current as it stands on data sheets. [A]"""
    return f"{current * 1000:.3g}\N{THIN SPACE}mA"


RULES = (hard_start, many_at_once, much_leakage)
