"""Readings of the worst spill: all together and the largest alone, against the floor liner.

What may leak is found in `core.water.leaks`.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.language import tr
from core.model import FeedLine
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, reading
from core.study import Study
from core.water.leaks import Leak, Spill

FILLED = 0.05
"""How well fill lines are kept, relative (common practice). [1]"""

SPILL = Method(
    tr(
        "All water inside the enclosure runs out, with what runs in by gravity from reservoirs "
        "outside: only the water above the inlet. The floor liner holds its area times its lowest "
        "edge, less half of what it is out of level; where a liner is clipped up, a doorway "
        "counts only up to its threshold."
    ),
    tr("Geometry; A(h - δ/2), or A h²/2δ where the fall δ exceeds the edge h."),
    tr("Fill lines are taken as kept within 5 % (common practice)."),
    (
        tr("What stands on the liner takes some of its room up."),
        tr("A pump that siphons is not counted."),
    ),
)
_DOORS = {
    "left": "The door on the left lets water over its threshold, {height} up",
    "right": "The door on the right lets water over its threshold, {height} up",
    "front": "The front door lets water over its threshold, {height} up",
    "back": "The back door lets water over its threshold, {height} up",
}


def spill_rows(study: Study, spill: Spill) -> Iterator[Reading]:
    """Yield everything together, and the container that alone lets most out."""
    enclosure, largest = study.design.enclosure, spill.largest
    if enclosure is None or largest is None:
        return
    taken = _assumptions(study, spill)
    everything = phrase(
        "if everything ran out: {volume}; {liner}",
        volume=Amount(spill.total, "volume"),
        liner=_liner_words(spill, spill.total),
    )
    where = phrase("{name}", name=enclosure.name)
    yield _row("spill", enclosure.id, where, spill.total, spill, everything, taken)
    alone = phrase(
        "{name} alone: {volume}; {liner}",
        name=largest.name,
        volume=Amount(largest.volume, "volume"),
        liner=_liner_words(spill, largest.volume),
    )
    where = phrase("{name}", name=largest.name)
    yield _row("spill-largest", largest.id, where, largest.volume, spill, alone, taken)


def _row(
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


def _liner_words(spill: Spill, volume: float) -> Phrase:
    if spill.capacity is None or spill.capacity_level is None:
        return phrase("no floor liner")
    capacity, over = Amount(spill.capacity, "volume"), spill.runs_over(volume)
    if over > 0:
        return phrase("the liner holds {capacity}, {over} run over", capacity=capacity,
                      over=Amount(over, "volume"))  # fmt: skip
    if spill.capacity == spill.capacity_level:
        return phrase("the liner holds {capacity}", capacity=capacity)
    return phrase(
        "the liner holds {level}, {capacity} out of level",
        level=Amount(spill.capacity_level, "volume"),
        capacity=capacity,
    )


def _assumptions(study: Study, spill: Spill) -> tuple[Phrase, ...]:
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
    if spill.edge is not None and spill.edge.door:
        height = Amount(spill.edge.height, "length")
        found.append(phrase(_DOORS[spill.edge.side], height=height))
    return tuple(found)


def _fed_words(study: Study, leak: Leak) -> Phrase:
    feed = study.design.part(leak.feed)
    tap = isinstance(feed, FeedLine) and feed.valve == "tap"
    words = "Through {feed} {volume} of {name} can run in by gravity"
    if tap:
        words = "Through {feed}, its tap left open, {volume} of {name} can run in by gravity"
    return phrase(words, feed=feed.name, volume=Amount(leak.volume, "volume"), name=leak.name)
