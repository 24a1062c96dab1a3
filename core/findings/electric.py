"""Rules on what plugs and leads carry: limits, chains, sockets, strips, voltage.

The moment of switching on is in `starting`, water and heat beside electric things in `safety`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from core.duplicates import duplicated
from core.errors import DesignError
from core.finding import Finding, Remedy
from core.findings.dimming import LEAST_DIMMING, dimming_words, plants_bear
from core.findings.edits import after, plugged, remedy, set_to, when_settled
from core.findings.plugs import Sockets
from core.findings.starting import amperes
from core.findings.words import AMISS, names, sentence
from core.model import Hours, Lamp, Lead, Outlet, Period, Plug, Powered, Timer, replace
from core.phrases import Amount, Phrase, phrase
from core.power.circuits import appliance_limit
from core.power.device_rows import NAMEPLATE
from core.power.drops import AREAS, drops
from core.power.leads import ADVISED_DROP
from core.power.loads import Loads
from core.power.reading import PowerReadings, PowerStep
from core.power.tree import Electric, PlugTree, circuit_key
from core.power.wiring import coiled_leads, full_sockets, strips_in_series
from core.reading import distance_out
from core.states import State
from core.study import Study


def _power(study: Study) -> PowerReadings | None:
    found = study.done.get("power")
    return found if isinstance(found, PowerReadings) and found.steps else None


def over_limit(study: Study) -> Iterator[Finding]:
    """Find circuits, outlets, strips, leads and timers that carry too much."""
    power = _power(study)
    if power is None:
        return
    plugs = Sockets(study, power)
    for step in power.steps:
        if step.kind not in ("chain", "others") and step.reading.state in AMISS:
            yield _over_limit(study, plugs, step)


def _over_limit(study: Study, plugs: Sockets, step: PowerStep) -> Finding:
    titles = {
        State.HIGH: "{name} carries more than it may",
        State.LIKELY_HIGH: "{name} likely carries more than it may",
        State.BORDERLINE: "Borderline load on {name}",
    }
    key = circuit_key(step.id) if step.kind == "circuit" else step.id
    return Finding(
        "power-limit",
        "power",
        step.reading.state,
        _shown_at(plugs.tree, step),
        phrase(titles[step.reading.state], name=step.name),
        sentence(step.reading.line),
        size=distance_out(step.reading),
        remedy=_relieved(study, plugs, key)
        or _heated_by_night(study, plugs, key)
        or _dimmed(study, plugs, key),
    )


def _shown_at(tree: PlugTree, step: PowerStep) -> str:
    """Return the part or fixture to show for a step; for a circuit what hangs on it first."""
    if step.kind != "circuit":
        return step.id
    return next((key for key in tree.fed.get(circuit_key(step.id), ()) if tree.devices(key)), "")


@when_settled
def _relieved(study: Study, plugs: Sockets, key: str) -> Remedy | None:
    found = plugs.relief(key)
    if found is None:
        return None
    part, socket = found
    words = phrase("Plug {name} into {socket}", name=part.name, socket=socket.name)
    return remedy(words, plugged(study, part.id, socket.id))


@when_settled
def _heated_by_night(study: Study, plugs: Sockets, key: str) -> Remedy | None:
    found = plugs.rested(key)
    if found is None:
        return None
    heater, periods = found
    hours = Hours(periods=tuple(Period(on=on % 1440, off=off % 1440) for on, off in periods))
    words = phrase("Run {name} only while the lamps are off", name=heater.name)
    return remedy(words, set_to(study, heater.id, hours=hours))


@when_settled
def _dimmed(study: Study, plugs: Sockets, key: str) -> Remedy | None:
    share = plugs.dimmed(key)
    lamps = [part for part in plugs.tree.devices(key) if isinstance(part, Lamp) and part.dimming]
    if share is None or not lamps:
        return None
    new = {lamp.id: math.floor(lamp.dimming * share * 100) / 100 for lamp in lamps}
    if min(new.values()) < LEAST_DIMMING or not plants_bear(study, new):
        return None
    return remedy(
        dimming_words(lamps, new),
        *(set_to(study, lamp.id, dimming=new[lamp.id]) for lamp in lamps),
    )


def long_chain(study: Study) -> Iterator[Finding]:
    """Find chains of more lamps than their maker, feed or lead allows."""
    power = _power(study)
    if power is None:
        return
    plugs = Sockets(study, power)
    for step in power.steps:
        if step.kind == "chain" and step.reading.state is State.HIGH:
            head = study.design.part(step.id)
            yield Finding(
                "chain-too-long",
                "power",
                State.HIGH,
                step.id,
                phrase("The chain from {name} is too long", name=head.name),
                sentence(step.reading.line),
                level=study.placement.level_of(step.id),
                size=distance_out(step.reading),
                remedy=_own_lead(study, plugs, step),
            )


@when_settled
def _own_lead(study: Study, plugs: Sockets, step: PowerStep) -> Remedy | None:
    """Return the move of the chain's tail, as short as will do, to a socket of its own.

    Where only sockets without its timer are free, it gets a timer like that.
    """
    chain = next(lamps for lamps in plugs.tree.chains if lamps[0].id == step.id)
    tails = sorted(chain[1:], key=lambda link: len(plugs.tree.devices(link.id)))
    for find in (_lead_of_its_own, _timer_of_its_own):
        for lamp in tails:
            found = find(study, plugs, lamp)
            if found is not None and _chains_hold(study, found, {step.id, lamp.id}):
                return found
    return None


def _lead_of_its_own(study: Study, plugs: Sockets, lamp: Lamp) -> Remedy | None:
    socket = plugs.for_part(lamp)
    if socket is None:
        return None
    words = phrase("Give {name} a lead of its own to {socket}", name=lamp.name, socket=socket.name)
    return remedy(words, plugged(study, lamp.id, socket.id))


def _timer_of_its_own(study: Study, plugs: Sockets, lamp: Lamp) -> Remedy | None:
    above = [plugs.tree.parts.get(key) for key in plugs.tree.path(lamp.id)]
    timers = [part for part in above if isinstance(part, Timer)]
    socket = plugs.for_part(lamp, any_hours=True)
    if len(timers) != 1 or socket is None or isinstance(socket, Timer):
        return None
    timer = _like(study, timers[0], socket.id)
    if timer is None:
        return None
    words = phrase("Give {name} a timer of its own at {socket}", name=lamp.name, socket=socket.name)
    return remedy(words, timer, set_to(study, lamp.id, plug=Plug(into=timer.id)))


def _like(study: Study, timer: Timer, socket: str) -> Any:
    """Return a second timer of the same hours beside the first, in another socket."""
    try:
        copies, tops = duplicated(study.drawn, [timer.id])
    except DesignError:
        return None
    second: Any = copies[tops[0]]
    return replace(second, name=f"{timer.name} 2"[:80], plug=Plug(into=socket))


def _chains_hold(study: Study, mend: Remedy, heads: set[str]) -> bool:
    loads = Loads(PlugTree(after(study, mend.parts)))
    chains = [c for circuit in loads.tree.circuits for c in loads.chains(circuit)]
    return all(
        chain.most is None or chain.count <= chain.most
        for chain in chains
        if chain.head.id in heads
    )


def strip_in_strip(study: Study) -> Iterator[Finding]:
    """Find strips and leads that hang on others."""
    power = _power(study)
    if power is None:
        return
    plugs = Sockets(study, power)
    for upper, lower in strips_in_series(power.tree):
        socket = plugs.for_part(lower)
        yield Finding(
            "strip-in-strip",
            "power",
            State.HIGH,
            lower.id,
            phrase("{lower} is plugged into {upper}", lower=lower.name, upper=upper.name),
            phrase(
                "{watts} go through both; strips are never put one behind the other.",
                watts=Amount(power.loads.get(lower.id, 0.0), "power"),
            ),
            remedy=_into(study, lower, socket),
        )


def _into(study: Study, part: Electric, socket: Any) -> Remedy | None:
    if socket is None:
        return None
    words = phrase("Plug {name} into {socket}", name=part.name, socket=socket.name)
    return remedy(words, plugged(study, part.id, socket.id))


def coiled(study: Study) -> Iterator[Finding]:
    """Find reels that carry something while wound up."""
    power = _power(study)
    if power is None:
        return
    for lead in coiled_leads(power.tree):
        yield Finding(
            "coiled-lead",
            "power",
            State.CAUTION,
            lead.id,
            phrase("{name} lies wound up", name=lead.name),
            phrase(
                "{watts} pass through it; a wound lead cannot shed its heat.",
                watts=Amount(power.loads.get(lead.id, 0.0), "power"),
            ),
            remedy=remedy(
                phrase("Unwind {name}", name=lead.name), set_to(study, lead.id, coiled=False)
            ),
        )


def too_many_plugs(study: Study) -> Iterator[Finding]:
    """Find outlets, strips, leads and timers with more plugs than sockets."""
    power = _power(study)
    if power is None:
        return
    plugs = Sockets(study, power)
    for socket, count in full_sockets(power.tree):
        yield Finding(
            "too-many-plugs",
            "power",
            State.HIGH,
            socket.id,
            phrase("{name} has more plugs than sockets", name=socket.name),
            phrase("{plugs} plugs, {sockets} sockets.", plugs=count, sockets=socket.sockets),
            size=count / socket.sockets - 1,
            remedy=_spread_out(study, plugs, socket.id, count - socket.sockets),
        )


@when_settled
def _spread_out(study: Study, plugs: Sockets, full: str, too_many: int) -> Remedy | None:
    """Return the move of the last plugs to other sockets, if all of them find one."""
    last = plugs.tree.fed[full][-too_many:]
    return _moved_apart(study, plugs, [plugs.tree.parts[key] for key in last], frozenset({full}))


def _moved_apart(
    study: Study, plugs: Sockets, parts: list[Electric], but: frozenset[str] = frozenset()
) -> Remedy | None:
    promised: dict[str, int] = {}
    new: list[Any] = []
    where: list[str] = []
    for part in parts:
        socket = plugs.for_part(part, but, promised)
        if socket is None:
            return None
        promised[socket.id] = promised.get(socket.id, 0) + 1
        new.append(plugged(study, part.id, socket.id))
        where.append(socket.name)
    moved = names([part.name for part in parts])
    to = names(list(dict.fromkeys(where)))
    return remedy(phrase("Plug {parts} into {sockets}", parts=moved, sockets=to), *new)


def not_plugged_in(study: Study) -> Iterator[Finding]:
    """Name what has no plug and is counted on an assumed circuit."""
    power = _power(study)
    if power is None:
        return
    tree = power.tree
    loose = [tree.parts[key] for key in tree.unplugged if tree.devices(key)]
    if not loose:
        return
    yield Finding(
        "not-plugged-in",
        "power",
        State.CAUTION,
        loose[0].id,
        phrase("Not plugged in yet: {names}", names=names([part.name for part in loose])),
        phrase(
            "Counted on {circuit}, with its breaker of {breaker}.",
            circuit=tree.taken.name,
            breaker=Amount(tree.taken.breaker, "current"),
        ),
        remedy=_moved_apart(study, Sockets(study, power), loose),
    )


def voltage_lost(study: Study) -> Iterator[Finding]:
    """Find circuits along whose leads more of the voltage is lost than is advised."""
    power = _power(study)
    if power is None:
        return
    for row in power.rows:
        if row.name == "drop" and row.state in AMISS:
            parts = power.tree.devices(circuit_key(row.place))
            last = max(parts, key=lambda part: power.drop_shares[part.id])
            yield Finding(
                "voltage-drop",
                "power",
                row.state,
                last.id,
                phrase("Much voltage is lost on the way to {name}", name=last.name),
                sentence(row.line),
                size=distance_out(row),
                remedy=_thicker(study, power, last.id),
            )


@when_settled
def _thicker(study: Study, power: PowerReadings, last: str) -> Remedy | None:
    """Return the thinnest lead that brings the drop within the advice, if one alone will do."""
    tree = power.tree
    leads = [tree.parts[key] for key in tree.path(last) if key in tree.parts]
    for area in sorted(_sizes(study)):
        for part in leads:
            new = _with_lead(study, part, area)
            if new is not None and _drops_little(study, new, last):
                words = phrase(
                    "Take a lead of {area} for {name}",
                    area=Amount(area, "wire_area"),
                    name=part.name,
                )
                return remedy(words, new)
    return None


def _sizes(study: Study) -> list[float]:
    """Return the cross-sections sold where the design is used. [m²]"""
    american = study.design.practice.region == "north-america"
    return [area for name, area in AREAS.items() if name.endswith("AWG") == american]


def _with_lead(study: Study, part: Electric, area: float) -> Any:
    """Return a part with a thicker lead, or None where it would not be thicker."""
    if isinstance(part, Lead):
        return set_to(study, part.id, wire_area=area) if area > part.wire_area else None
    if part.plug is None or area <= (part.plug.wire_area or 0.0):
        return None
    drawn: Any = study.drawn.part(part.id)
    return set_to(study, part.id, plug=replace(drawn.plug, wire_area=area))


def _drops_little(study: Study, new: Any, last: str) -> bool:
    loads = Loads(PlugTree(after(study, {new.id: new})))
    voltage = loads.tree.voltage(loads.tree.circuit_of(last))
    currents = {key: loads.peak(key)[1] / voltage for key in loads.tree.path(last)[1:]}
    return drops(loads.tree, currents)[last] * (1 + NAMEPLATE) <= ADVISED_DROP * voltage


def one_appliance(study: Study) -> Iterator[Finding]:
    """Find single devices that take more of a shared circuit than American practice lets them."""
    power = _power(study)
    if power is None or study.design.practice.region != "north-america":
        return
    plugs = Sockets(study, power)
    for part in study.design.parts:
        if isinstance(part, Powered):
            circuit = power.tree.circuit_of(part.id)
            shared = len(power.tree.devices(circuit_key(circuit.id))) > 1 or circuit.other_load > 0
            most, drawn = appliance_limit(circuit.breaker), amperes(power.tree, part)
            if shared and drawn > most:
                title = phrase(
                    "{name} takes too much of {circuit} for one device",
                    name=part.name,
                    circuit=circuit.name,
                )
                rule = phrase("one plug on a shared circuit may take {most}", most=_amps(most))
                yield _too_much("one-appliance", study, plugs, part, title, rule, drawn / most - 1)


def one_plug(study: Study) -> Iterator[Finding]:
    """Find devices that take more through one plug than the practice lets them at an outlet."""
    power = _power(study)
    if power is None:
        return
    plugs, practice = Sockets(study, power), study.design.practice
    for part in study.design.of(Powered):
        outlet = study.design.by_id.get(power.tree.feeds[part.id])
        if not isinstance(outlet, Outlet):
            continue
        whole = outlet.limit or practice.outlet_limit
        most, drawn = whole * practice.one_plug, amperes(power.tree, part)
        if most < whole and most < drawn <= whole:
            title = phrase(
                "{name} takes too much of {outlet} for one plug",
                name=part.name,
                outlet=outlet.name,
            )
            rule = phrase(
                "one plug may take {most} at an outlet of {whole}",
                most=_amps(most),
                whole=_amps(whole),
            )
            yield _too_much("one-plug", study, plugs, part, title, rule, drawn / most - 1)


def _amps(current: float) -> Amount:
    return Amount(current, "current")


def _too_much(
    key: str, study: Study, plugs: Sockets, part: Powered, title: Phrase, rule: Phrase, size: float
) -> Finding:
    drawn = _amps(amperes(plugs.tree, part))
    return Finding(
        key,
        "power",
        State.HIGH,
        part.id,
        title,
        phrase("{drawn}; {rule}.", drawn=drawn, rule=rule),
        size=size,
        remedy=_into(study, part, _on_idle_circuit(plugs, part)),
    )


def _on_idle_circuit(plugs: Sockets, part: Powered) -> Any:
    """Return a socket on a circuit that carries nothing else, or None."""
    busy = {
        circuit_key(circuit.id)
        for circuit in plugs.tree.circuits
        if circuit.other_load > 0 or plugs.tree.devices(circuit_key(circuit.id))
    }
    return plugs.for_part(part, frozenset(busy))


RULES = (
    over_limit,
    long_chain,
    strip_in_strip,
    coiled,
    too_many_plugs,
    not_plugged_in,
    voltage_lost,
    one_appliance,
    one_plug,
)
