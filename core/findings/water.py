"""Rules on water: what runs dry too soon, and where it goes when it runs out.

Days and spills come from the readings of water; electric things beside water are in `safety`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from core.finding import Finding, Remedy
from core.findings.edits import remedy, set_to, when_settled
from core.findings.words import AMISS
from core.fit.lengths import metres
from core.model import Enclosure, FeedLine, Liner, Reservoir, Tray, replace
from core.phrases import Amount, Phrase, phrase
from core.reading import Reading, distance_out
from core.states import State
from core.study import Study
from core.water.contents import reservoir_water, tray_water
from core.water.leaks import Leak, Spill, liner_capacity
from core.water.reading import WaterReadings
from core.water.refill_rows import beside, days_words, figures
from core.water.spill_rows import FILLED
from core.water.use import Supply
from core.weight.loads import WATER_DENSITY
from core.weight.reading import WeightReadings

HIGHEST_EDGE = 0.30
"""Edges of a liner higher than this cannot be stepped over (common practice). [m]"""
USUAL_EDGE = 0.05
"""Least edge that a new liner gets (common practice). [m]"""
_MILLIMETRE = 0.001
_EDGE_STEP = 0.005


def _water(study: Study) -> WaterReadings | None:
    found = study.done.get("water")
    return found if isinstance(found, WaterReadings) else None


def runs_dry(study: Study) -> Iterator[Finding]:
    """Find what must be refilled sooner than asked for: the first tray, and each reservoir."""
    water = _water(study)
    if water is None:
        return
    rows = {row.place: row for row in water.rows if row.name == "refill"}
    dry = [s for s in water.supplies if s.id in rows and rows[s.id].state in AMISS]
    trays = [supply for supply in dry if supply.kind == "tray"]
    for together in ([trays] if trays else []) + [[s] for s in dry if s.kind != "tray"]:
        yield _runs_dry(study, water, together, rows)


def _runs_dry(
    study: Study, water: WaterReadings, dry: list[Supply], rows: dict[str, Reading]
) -> Finding:
    first = min(dry, key=lambda supply: rows[supply.id].value or 0.0)
    row = rows[first.id]
    title = "{name} runs dry first" if first.kind == "tray" else _DRY_TITLES[row.state]
    return Finding(
        "runs-dry",
        "water",
        row.state,
        first.id,
        phrase(title, name=first.name),
        _days_line(row, len(dry) - 1),
        level=first.level,
        size=distance_out(row),
        remedy=filled(study, water, dry, rows),
    )


_DRY_TITLES = {
    State.LOW: "{name} runs dry early",
    State.LIKELY_LOW: "{name} likely runs dry early",
    State.BORDERLINE: "{name} may run dry early",
}


def _days_line(row: Reading, others: int) -> Phrase:
    line = phrase(
        "In {days}, {low} to {high}; you asked for {want} or more.",
        days=days_words(_days(row.value)),
        low=beside(_days(row.low), _days(row.want_low)),
        high=figures(_days(row.high)),
        want=figures(_days(row.want_low)),
    )
    if others == 0:
        return line
    more = "{line} {count} others may fall short too." if others > 1 else "{line} So may another."
    return phrase(more, line=line, count=others)


def _days(seconds: float | None) -> float:
    return (seconds or 0.0) / 86_400


@when_settled
def filled(
    study: Study, water: WaterReadings, dry: list[Supply], rows: dict[str, Reading]
) -> Remedy | None:
    """Return the containers filled higher, where their rims, shelves and the liner allow it."""
    needed = [_fill_needed(study, supply, rows[supply.id]) for supply in dry]
    known = [fill for fill in needed if fill is not None]
    if len(known) < len(dry):
        return None
    depth = _read_off(study, max(known))
    parts: list[Any] = [study.design.part(supply.id) for supply in dry]
    fills = {part.id: max(part.fill, min(depth, part.height)) for part in parts}
    if not _shelves_bear(study, fills) or not _liner_holds_more(study, water, fills):
        return None
    shown = metres(max(fills.values()))
    words = phrase("Fill {name} to {depth}", name=dry[0].name, depth=shown)
    if len(dry) > 1:
        words = phrase("Fill these {count} trays to {depth}", count=len(dry), depth=shown)
    return remedy(words, *(set_to(study, key, fill=fill) for key, fill in fills.items()))


def _read_off(study: Study, depth: float) -> float:
    """Return a depth rounded up to where a ruler can be read: 5 mm, or a quarter inch. [m]"""
    step = 0.005 if study.design.units == "metric" else 0.0254 / 4
    return math.ceil(depth / step - 1e-9) * step


def _fill_needed(study: Study, supply: Supply, row: Reading) -> float | None:
    """Return the fill that lasts as long as asked for, surely or at least as it is reckoned. [m]"""
    part = study.design.by_id[supply.id]
    value, want = row.value or 0.0, row.want_low or 0.0
    if not isinstance(part, Tray | Reservoir) or supply.basis == "measured" or value <= 0:
        return None
    sure = _fill_for(study, part, want / row.low) if row.low else None
    if sure is not None or row.state is State.BORDERLINE:
        return sure
    return _fill_for(study, part, want / value)


def _fill_for(study: Study, part: Tray | Reservoir, factor: float) -> float | None:
    """Return the fill at which a container holds so many times its water, to the millimetre. [m]"""
    wanted = factor * _held(study, part, part.fill)
    for millimetre in range(math.ceil(part.fill / _MILLIMETRE), math.floor(part.height * 1000) + 1):
        if _held(study, part, millimetre * _MILLIMETRE) >= wanted:
            return millimetre * _MILLIMETRE
    return None


def _held(study: Study, part: Tray | Reservoir, fill: float) -> float:
    """Return the water in a container filled so high. [m³]"""
    filled = part.model_copy(update={"fill": fill})
    if isinstance(filled, Tray):
        return tray_water(study.placement, filled)
    return reservoir_water(filled)


def _shelves_bear(study: Study, fills: dict[str, float]) -> bool:
    """Tell whether no shelf comes over its rating by fuller trays; without weights known, yes."""
    weight = study.done.get("weight")
    if not isinstance(weight, WeightReadings):
        return True
    added: dict[tuple[str, int], float] = {}
    for key, fill in fills.items():
        level = study.placement.level_of(key)
        if level is not None:
            added[level] = added.get(level, 0.0) + _added(study, key, fill) * WATER_DENSITY
    return all(
        shelf.rating is None or shelf.mass + added.get((shelf.unit, shelf.level), 0) <= shelf.rating
        for shelf in weight.shelves
    )


def _added(study: Study, key: str, fill: float) -> float:
    """Return how much more water a container holds when filled so high. [m³]"""
    part: Any = study.design.part(key)
    return _held(study, part, fill) - _held(study, part, part.fill)


def _liner_holds_more(study: Study, water: WaterReadings, fills: dict[str, float]) -> bool:
    """Tell whether the liner surely holds the fuller containers too; without one, yes."""
    inside = (key for key in fills if study.placement.inside(key))
    total = water.spill.total + sum(_added(study, key, fills[key]) for key in inside)
    capacity = water.spill.capacity
    return capacity is None or total * (1 + FILLED) <= capacity


def spills_over(study: Study) -> Iterator[Finding]:
    """Find liners that all the water inside, or what runs in from outside, would overfill."""
    water = _water(study)
    row = next((r for r in water.rows if r.name == "spill"), None) if water else None
    if water is None or row is None or row.state not in AMISS:
        return
    fed = [leak for leak in water.spill.onto_liner if leak.feed]
    inside = water.spill.total - sum(leak.volume for leak in fed)
    for leak in fed:
        yield _overfed(study, water.spill, leak, row)
    if not fed or inside * (1 + FILLED) > (water.spill.capacity or 0.0):
        enclosure = study.design.by_id[row.place]
        yield Finding(
            "spill",
            "water",
            row.state,
            row.place,
            phrase(_SPILL_TITLES[row.state], name=enclosure.name),
            phrase("If everything ran out: {volume}. {liner}{over}",
                   volume=_volume(water.spill.total), liner=_liner_holds(water.spill),
                   over=_runs_over(water.spill)),
            size=distance_out(row),
            remedy=_higher_edges(study, water.spill.total),
        )  # fmt: skip


_SPILL_TITLES = {
    State.HIGH: "A spill would run over the floor liner of {name}",
    State.LIKELY_HIGH: "A spill would likely run over the floor liner of {name}",
    State.BORDERLINE: "A spill would fill the floor liner of {name} to its edge",
}


def _overfed(study: Study, spill: Spill, leak: Leak, row: Reading) -> Finding:
    feed = study.drawn.part(leak.feed)
    return Finding(
        "feed-overfills-liner",
        "water",
        row.state,
        leak.id,
        phrase("{tank} can overfill the liner through {feed}", tank=leak.name, feed=feed.name),
        phrase(
            "{volume} of it can run in by gravity, {total} with all that is inside. {liner}{over}",
            volume=_volume(leak.volume),
            total=_volume(spill.total),
            liner=_liner_holds(spill),
            over=_runs_over(spill),
        ),
        size=distance_out(row),
        remedy=remedy(
            phrase("Give {feed} a float valve", feed=feed.name),
            set_to(study, feed.id, valve="float"),
        ),
    )


def _liner_holds(spill: Spill) -> Phrase:
    if spill.capacity is None or spill.capacity_level is None:
        return phrase("There is no floor liner.")
    if spill.capacity_level - spill.capacity < 1e-4:
        return phrase("The floor liner holds {volume}.", volume=_volume(spill.capacity))
    return phrase(
        "The floor liner holds {level}, but {volume} as far out of level as it is.",
        level=_volume(spill.capacity_level),
        volume=_volume(spill.capacity),
    )


def _runs_over(spill: Spill) -> Phrase:
    """Return how much runs over, as a sentence after another; nothing where all is held."""
    if spill.over <= 0:
        return phrase("")
    return phrase(" {volume} would run over.", volume=_volume(spill.over))


def _higher_edges(study: Study, volume: float) -> Remedy | None:
    """Return the liner with edges that hold a volume, where one can still step over them."""
    enclosure = study.drawn.enclosure
    if enclosure is None or enclosure.liner is None:
        return None
    edge = _edge_for(enclosure, enclosure.liner, volume)
    raised = replace(enclosure, liner=_with_edges(enclosure.liner, edge))
    holds = liner_capacity(raised) or 0.0
    if edge > HIGHEST_EDGE or holds < volume * (1 + FILLED):
        # Too high to step over, or a doorway lets the water out below it.
        return None
    words = phrase("Raise the edges of the floor liner to {edge}", edge=metres(edge))
    return remedy(words, set_to(study, enclosure.id, liner=raised.liner))


def _edge_for(enclosure: Enclosure, liner: Liner, volume: float) -> float:
    """Return the edge that surely holds a volume: h = V/A + δ/2, up to half centimetres. [m]"""
    area = (liner.width or enclosure.width) * (liner.depth or enclosure.depth)
    height = volume * (1 + FILLED) / area + liner.out_of_level / 2
    return math.ceil(max(height, liner.out_of_level) / _EDGE_STEP - 1e-9) * _EDGE_STEP


def _with_edges(liner: Liner, edge: float) -> Liner:
    sides = ("lip_left", "lip_right", "lip_front", "lip_back")
    return replace(liner, **{side: max(edge, getattr(liner, side)) for side in sides})


def no_liner(study: Study) -> Iterator[Finding]:
    """Find enclosures with water inside and no liner on the floor."""
    water, enclosure = _water(study), study.design.enclosure
    if water is None or enclosure is None or enclosure.liner is not None:
        return
    total = water.spill.total
    if total <= 0:
        return
    bare = Liner()
    edge = max(USUAL_EDGE, _edge_for(enclosure, bare, total))
    yield Finding(
        "no-liner",
        "water",
        State.CAUTION,
        enclosure.id,
        phrase("{name} has no floor liner", name=enclosure.name),
        phrase("{volume} could run onto the room’s floor.", volume=_volume(total)),
        size=total,
        remedy=remedy(
            phrase("Lay a floor liner with edges of {edge}", edge=metres(edge)),
            set_to(study, enclosure.id, liner=_with_edges(bare, edge)),
        )
        if edge <= HIGHEST_EDGE
        else None,
    )


def onto_the_room_floor(study: Study) -> Iterator[Finding]:
    """Name reservoirs outside the enclosure: their own leak lands where no liner is."""
    water = _water(study)
    if water is None or study.design.enclosure is None:
        return
    for leak in water.spill.onto_room_floor:
        if isinstance(study.design.by_id[leak.id], Reservoir):
            yield Finding(
                "leak-onto-room-floor",
                "water",
                State.CAUTION,
                leak.id,
                phrase("{name} stands outside the floor liner", name=leak.name),
                phrase(
                    "Its own leak, {volume}, runs onto the room’s floor.",
                    volume=_volume(leak.volume),
                ),
                size=leak.volume,
            )


def valve_that_sticks(study: Study) -> Iterator[Finding]:
    """Name float valves without which the liner would run over."""
    water = _water(study)
    if water is None or water.spill.capacity is None:
        return
    spill = water.spill
    for leak in spill.if_a_valve_sticks:
        if spill.total + leak.volume > (spill.capacity or 0.0) >= spill.total:
            feed = study.design.part(leak.feed)
            assert isinstance(feed, FeedLine)
            yield Finding(
                "valve-sticks",
                "water",
                State.CAUTION,
                feed.id,
                phrase("The float valve of {feed} alone keeps the liner from running over",
                       feed=feed.name),
                phrase("If it stuck, {volume} of {tank} would run in. {liner}",
                       volume=_volume(leak.volume), tank=leak.name, liner=_liner_holds(spill)),
                size=leak.volume,
            )  # fmt: skip


def _volume(value: float) -> Amount:
    return Amount(value, "volume")


RULES = (runs_dry, spills_over, no_liner, onto_the_room_floor, valve_that_sticks)
