"""Readings of power: every circuit, outlet, strip, lead, timer and chain against its limit.

The arithmetic is in `core.power.loads`; here it becomes readings, sentences and rows to draw.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from core.language import tr
from core.model import Circuit, Outlet, Powered
from core.phrases import Amount, Phrase, phrase
from core.power.chain_rows import chain_drop_reading, chain_reading
from core.power.device_rows import (
    NAMEPLATE,
    DeviceLoad,
    by_device,
    energy,
    names_of,
    setting_assumptions,
)
from core.power.drops import TAKEN_AREA, drops
from core.power.expected import expected_days
from core.power.leads import ADVISED_DROP
from core.power.loads import ChainLoad, Loads, StepLoad
from core.power.others import others
from core.power.profile import LoadProfile, load_profile
from core.power.room import Room, rooms
from core.power.room_rows import room_reading
from core.power.tree import PlugTree, circuit_key
from core.reading import Method, Reading, SubjectReadings, reading, worst
from core.states import State
from core.study import Study

_FIELDS = (
    "id",
    "kind",
    "name",
    "watts",
    "power_factor",
    "hours",
    "duty",
    "control",
    "plug",
    "limit",
    "sockets",
    "length",
    "wire_area",
    "coiled",
    "count",
    "dimming",
    "chain_most",
    "chain_current",
    "speed_setting",
    "inrush",
    "inrush_most",
    "leakage",
)
"""What readings, and the rules that go by their tree of plugs, look at in a part."""

LOAD = Method(
    tr(
        "Watts by the minute from the hours of each device and of the timers before it; the peak "
        "is coincident, with thermostatted devices at full power and apparent powers added as "
        "plain numbers. Against a breaker, load that lasts three hours or more counts times the "
        "factor of the electrical practice."
    ),
    tr(
        "NEC 210.19(A), 210.20(A) and article 100 (continuous load), from a secondary copy; "
        "elsewhere the plain sum of currents."
    ),
    tr("Nameplate watts are taken as right within 5 % (common practice)."),
    (
        tr("Inrush and starting currents of motors are not in the sum."),
        tr("What is set differently by night counts as it is by day."),
    ),
)
DROP = Method(
    tr(
        "Twice the length of each lead times its peak current and the resistance of its copper, "
        "added up from the outlet to the device that loses most."
    ),
    tr("IEC 60228, class 5; NEC chapter 9, table 8; advice of 3 % after NEC 210.19, from memory."),
    tr("Nameplate watts within 5 %; cold copper has a tenth less resistance."),
    (tr("Wiring in the wall before the outlet is not counted."),),
)


@dataclass(frozen=True)
class PowerStep:
    """One step of a circuit, for the level rows.

    ``kind`` is ``"circuit"``, ``"others"`` (what else runs on it), ``"outlet"``, ``"strip"``,
    ``"lead"``, ``"timer"`` or ``"chain"``; ``depth`` counts the steps from the breaker. [W], [VA]
    """

    kind: str
    id: str
    circuit: str
    name: str
    watts: float
    va: float
    limit_va: float | None
    depth: int
    reading: Reading


@dataclass(frozen=True, kw_only=True, eq=False)
class PowerReadings(SubjectReadings):
    """Power: one load reading a step, and what its drawing needs.

    Attributes
    ----------
    steps : tuple of PowerStep
        All steps of all circuits with an outlet or a load, each before what it feeds.
    profile : LoadProfile
        Everything this design runs, by the minute.
    by_device : tuple of DeviceLoad
        Heaviest first.
    loads : mapping
        Peak watts through the lead of each part and through each outlet, by id. [W]
    drop_shares : mapping
        Share of the voltage lost before each part, by id. [0–1]
    rooms : mapping
        What may still be plugged in, by `circuit_key`, or id of outlet, strip, lead or timer.
    circuit : str
        Id of the circuit that the headline is about.
    assumed_circuit : str
        Name of the circuit that devices without a plug count on; empty when all have one.
    continuous_va : float
        The most that runs for three hours or more on end. [VA]
    tree : PlugTree
    """

    subject: str = "power"
    steps: tuple[PowerStep, ...] = ()
    profile: LoadProfile = field(default_factory=lambda: load_profile((), 230.0))
    by_device: tuple[DeviceLoad, ...] = ()
    loads: Mapping[str, float] = field(default_factory=dict)
    drop_shares: Mapping[str, float] = field(default_factory=dict)
    rooms: Mapping[str, Room] = field(default_factory=dict)
    circuit: str = ""
    assumed_circuit: str = ""
    continuous_va: float = 0.0
    tree: PlugTree

    @property
    def kwh_per_day(self) -> float:
        """[kWh]"""
        return self.profile.kwh_per_day

    @property
    def kwh_per_month(self) -> float:
        """[kWh]"""
        return self.profile.kwh_per_month


def inputs(study: Study) -> Any:
    """Return everything power looks at: plugs, watts, hours and limits, but no places."""
    design = study.design
    electric = PlugTree(design).parts.values()
    outlets = tuple(
        (item.id, item.name, item.circuit, item.limit, item.sockets, item.leakage_protected)
        for item in design.room.fixtures
        if isinstance(item, Outlet)
    )
    parts = tuple(tuple(getattr(part, name) for name in _fields(type(part))) for part in electric)
    return design.room.circuits, outlets, design.practice, parts, _by_halves(study)


@lru_cache(maxsize=64)
def _fields(kind: type[Any]) -> tuple[str, ...]:
    """Return which of the fields that power looks at a kind of part has."""
    return tuple(name for name in _FIELDS if name in kind.model_fields)


def _by_halves(study: Study) -> str:
    """Return the names of devices that differ by day and by night; the day is what counts."""
    return names_of(
        part
        for part in study.drawn.parts
        if isinstance(part, Powered) and any(change.half is not None for change in part.when)
    )


def read(study: Study) -> PowerReadings:
    """Return the power readings of a design."""
    tree = PlugTree(study.design)
    loads = Loads(tree, expected_days(study, tree))
    if not loads.devices:
        return PowerReadings(nothing=phrase("nothing draws power yet"), tree=tree)
    used = [c for c in tree.circuits if tree.devices(circuit_key(c.id))]
    shares = _drop_shares(loads)
    shown = [c for c in tree.circuits if c in used or tree.fed.get(circuit_key(c.id))]
    steps = tuple(step for circuit in shown for step in _circuit_steps(loads, circuit))
    fallen = tuple(_drop_reading(loads, circuit, shares) for circuit in used)
    room = rooms(loads)
    left = tuple(room_reading(loads, circuit, room) for circuit in tree.circuits)
    headline = _headline(steps, fallen)
    return PowerReadings(
        rows=(
            *(step.reading for step in steps),
            *fallen,
            *_chain_drops(loads, shares),
            *left,
            energy(loads, _by_halves(study)),
        ),
        headline=headline,
        steps=steps,
        profile=loads.whole,
        by_device=by_device(loads),
        loads={key: loads.peak(key)[0] for key in tree.feeds},
        drop_shares=shares,
        rooms=room,
        circuit=_circuit_of(headline, steps),
        assumed_circuit=tree.taken.name if _loose(tree) else "",
        continuous_va=float(loads.whole.continuous_va.max()),
        tree=tree,
    )


def _headline(steps: tuple[PowerStep, ...], fallen: tuple[Reading, ...]) -> Reading | None:
    """Return the reading nearest its limit; a voltage drop only when it is not well inside."""
    limited = [step.reading for step in steps if step.reading.want_high is not None]
    return worst((*limited, *(row for row in fallen if row.state is not State.FINE)))


def _circuit_of(headline: Reading | None, steps: tuple[PowerStep, ...]) -> str:
    place = headline.place if headline else ""
    return next((step.circuit for step in steps if step.id == place), place)


def _circuit_steps(loads: Loads, circuit: Circuit) -> list[PowerStep]:
    """Return the steps of one circuit, chains beside the lamp at their feed."""
    first, *found = [_load_step(loads, step) for step in loads.steps(circuit)]
    found += [_chain_step(loads, chain) for chain in loads.chains(circuit)]
    order = {key: place for place, key in enumerate(loads.tree.steps(circuit_key(circuit.id)))}
    found.sort(key=lambda step: order[step.id])
    return [first, *_others_step(loads, circuit), *found]


def _others_step(loads: Loads, circuit: Circuit) -> list[PowerStep]:
    """Return the step of what else runs on a circuit, so that the steps add up."""
    if circuit.other_load <= 0:
        return []
    found = others(circuit, loads.tree.voltage(circuit))
    name, va = tr("other things on this circuit, taken"), found.value or 0.0
    return [PowerStep("others", f"{circuit.id}/others", circuit.id, name, va, va, None, 1, found)]


def _load_step(loads: Loads, step: StepLoad) -> PowerStep:
    key = circuit_key(step.id) if step.kind == "circuit" else step.id
    found = _load_reading(loads, step, key)
    depth = len(loads.tree.path(key)) - 1
    return PowerStep(
        step.kind, step.id, step.circuit, step.name,
        step.watts, step.va, step.limit_va, depth, found,
    )  # fmt: skip


def _load_reading(loads: Loads, step: StepLoad, key: str) -> Reading:
    where = phrase("{name}", name=step.name)
    line = phrase(
        "{load} on {where}{parts}; limit {limit}",
        load=_load_words(step.watts, step.va),
        where=where,
        parts=_parts_words(step),
        limit=_limit_words(step),
    )
    return reading(
        "power", "load", step.id, where, step.va, "apparent_power", line, LOAD,
        spread=(step.va * (1 - NAMEPLATE), step.va * (1 + NAMEPLATE)),
        want=(None, step.limit_va),
        assumptions=_assumptions(loads, step, key),
    )  # fmt: skip


def _load_words(watts: float, va: float) -> Phrase:
    """Return the load in watts; with the apparent power where that is another number."""
    if va - watts < 0.005 * va or va == 0:
        return phrase("{watts}", watts=Amount(watts, "power"))
    apparent = Amount(va, "apparent_power")
    return phrase("{watts} ({va})", watts=Amount(watts, "power"), va=apparent)


def _parts_words(step: StepLoad) -> Phrase:
    """Return what a circuit's load is made of, where other things are on it too."""
    if step.other_va <= 0:
        return phrase("")
    own, other = (Amount(va, "apparent_power") for va in (step.va - step.other_va, step.other_va))
    return phrase(": {own} by this design and {other} by other things", own=own, other=other)


def _limit_words(step: StepLoad) -> Phrase:
    real = step.va - step.watts < 0.005 * step.va or step.va == 0
    kind = "power" if real else "apparent_power"
    return phrase("{limit}", limit=Amount(step.limit_va, kind))


def _chain_step(loads: Loads, chain: ChainLoad) -> PowerStep:
    head = chain.head
    found = chain_reading(chain)
    depth = len(loads.tree.path(head.id)) - 1
    name = found.where.render()
    return PowerStep(
        "chain", head.id, chain.circuit, name, chain.watts, chain.va, None, depth, found
    )


def _chain_drops(loads: Loads, shares: Mapping[str, float]) -> Iterator[Reading]:
    for circuit in loads.tree.circuits:
        for chain in loads.chains(circuit):
            before = shares.get(loads.tree.feeds[chain.head.id], 0.0)
            lost = max(shares[lamp.id] for lamp in chain.lamps)
            yield chain_drop_reading(chain, lost - before)


def _drop_shares(loads: Loads) -> dict[str, float]:
    tree = loads.tree
    volts = {key: tree.voltage(tree.circuit_of(key)) for key in tree.parts}
    currents = {key: loads.peak(key)[1] / volts[key] for key in tree.parts}
    return {key: drop / volts[key] for key, drop in drops(tree, currents).items()}


def _drop_reading(loads: Loads, circuit: Circuit, shares: Mapping[str, float]) -> Reading:
    """Return the voltage lost before the device of a circuit that loses most."""
    parts = loads.tree.devices(circuit_key(circuit.id))
    last = max(parts, key=lambda part: shares[part.id])
    share = shares[last.id]
    line = phrase(
        "{share} of the voltage is lost before {name}; advice {most}",
        share=Amount(share, "fraction"),
        name=last.name,
        most=Amount(ADVISED_DROP, "fraction"),
    )
    return reading(
        "power", "drop", circuit.id, phrase("{name}", name=circuit.name), share, "fraction",
        line, DROP,
        spread=(share * 0.85, share * (1 + NAMEPLATE)),
        want=(None, ADVISED_DROP),
        assumptions=_lead_assumption(loads.tree, parts),
    )  # fmt: skip


def _lead_assumption(tree: PlugTree, parts: Iterable[Powered]) -> tuple[Phrase, ...]:
    taken = [part for part in parts if part.plug is not None and part.plug.wire_area is None]
    if not taken:
        return ()
    return (
        phrase(
            "Leads of devices are taken as {area} where nothing is given: {names}",
            area=Amount(TAKEN_AREA, "wire_area"),
            names=names_of(taken),
        ),
    )


def _assumptions(loads: Loads, step: StepLoad, key: str) -> tuple[Phrase, ...]:
    tree = loads.tree
    found = list(setting_assumptions(tree.devices(key)))
    if step.kind == "circuit":
        found += _circuit_assumptions(tree, step.id)
    if step.taken:
        found.append(
            phrase(
                "The limit of {name} is taken as {limit}",
                name=step.name,
                limit=Amount(step.limit_a, "current"),
            )
        )
    return tuple(found)


def _circuit_assumptions(tree: PlugTree, circuit_id: str) -> list[Phrase]:
    circuit = next(item for item in tree.circuits if item.id == circuit_id)
    found = []
    if circuit == tree.taken and not tree.design.room.circuits:
        found.append(
            phrase(
                "No circuit is entered; one with a breaker of {limit} is taken",
                limit=Amount(circuit.breaker, "current"),
            )
        )
    if circuit == tree.taken and _loose(tree):
        found.append(
            phrase(
                "{names}: not plugged in yet, counted on {circuit}",
                names=names_of(_loose(tree)),
                circuit=circuit.name,
            )
        )
    if circuit.other_load > 0:
        found.append(
            phrase(
                "Other things on {circuit} are counted with {load}, at power factor 1",
                circuit=circuit.name,
                load=Amount(circuit.other_load, "current"),
            )
        )
        if circuit.other_lasts is None and tree.design.practice.continuous_factor > 1:
            words = "Other things on {circuit} are taken as running less than three hours on end"
            found.append(phrase(words, circuit=circuit.name))
    return found


def _loose(tree: PlugTree) -> list[Any]:
    """Return devices without a plug, and what is plugged in where the circuit is not known."""
    outlets: set[str] = {
        item.id
        for item in tree.design.room.fixtures
        if isinstance(item, Outlet) and item.circuit is None
    }
    loose = [
        part for part in tree.parts.values() if part.plug is None or (part.plug.into in outlets)
    ]
    return [part for part in loose if tree.devices(part.id)]
