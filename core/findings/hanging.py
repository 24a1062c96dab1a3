"""Hanging lamps nearer or farther as a remedy: how far, whether it fits, and what it does.

How light goes with the drop was tried by `core.light.drops`; the remedy itself is read by the
engine before it is offered.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import Any

from core.finding import Remedy
from core.findings.dimming import TOO_LOW, bearable, lamps_words
from core.findings.edits import Edits, after, is_clear, rests_well, shifted, when_settled
from core.fit.lengths import metres
from core.light.drops import Drops
from core.light.maps import ZoneLight
from core.light.reading import LightReadings
from core.light.reading import read as read_light
from core.phrases import Phrase, phrase
from core.states import EVEN_SHARE, RANK
from core.study import Study

STEP = 0.01
"""Lamps are hung to whole steps of this. [m]"""
_EVEN_FOR_SURE = EVEN_SHARE + 0.05
LEAST = 0.02
"""Lamps nearer to their best drop than this stay where they are. [m]"""


@when_settled
def hung_otherwise(
    study: Study, light: LightReadings, zones: Collection[ZoneLight], *, evenly: bool = False
) -> Remedy | None:
    """Return the lamps over some zones hung nearer or farther so that their light is as wanted.

    No other zone may leave its range for it, nor its lowest leaves begin to get too little.
    ``evenly`` asks for a drop at which enough of the leaves get what they want.
    """
    if len({zone.level for zone in zones}) != 1:
        return None
    parts = {zone.part for zone in zones}
    worst = next(iter(zones))
    drops = light.drops.get(worst.part)
    shift = _shift(drops, worst, evenly) if drops is not None else 0.0
    if drops is None or abs(shift) < LEAST:
        return None
    lamps: list[Any] = [study.design.part(key) for key in drops.lamps]
    edits = None if any(lamp.locked for lamp in lamps) else _hung(study, drops.lamps, shift)
    if edits is None:
        return None
    if not holds(study, light, edits, lambda now: _betters(light, now, parts, evenly)):
        return None
    return Remedy(_words(lamps, shift), edits)


def holds(
    study: Study, light: LightReadings, edits: Edits, good: Callable[[LightReadings], bool]
) -> bool:
    """Tell whether the light is good with some edits made.

    Between coarse patches first, which takes a small part of the time that the fine ones take;
    these have the last word.
    """
    made = after(study, edits)
    if not good(read_light(Study(made, study.season, "coarse"))):
        return False
    return good(read_light(Study(made, study.season, study.quality, before={"light": light})))


def _shift(drops: Drops, zone: ZoneLight, evenly: bool) -> float:
    """Return the length to raise the lamps by, in whole steps; 0 where no drop will do. [m]"""
    inside = drops.inside(zone.want)
    if inside is None:
        return 0.0
    target = drops.even(zone.want, _EVEN_FOR_SURE) if evenly else _middle(drops, zone, *inside)
    return STEP * round((target - drops.now) / STEP) if target is not None else 0.0


def _middle(drops: Drops, zone: ZoneLight, least: float, most: float) -> float:
    """Return the drop at which the mean is in the middle of the range, or nearest to it. [m]"""
    low, high = zone.want
    if low is None or high is None:
        return (least + most) / 2
    return min(max(drops.where((low + high) / 2), least), most)


def _hung(study: Study, lamps: Collection[str], shift: float) -> Edits | None:
    """Return lamps raised, or None where they would be in the way or leave what holds them."""
    edits: dict[str, Any] = {}
    for key in lamps:
        if study.drawn.part(key).place.z - shift < 0:
            return None
        edits |= shifted(study, key, (0.0, 0.0, shift))
    return edits if is_clear(study, edits) and rests_well(study, edits) else None


def _betters(before: LightReadings, now: LightReadings, parts: set[str], evenly: bool) -> bool:
    tops, lowest = (
        [{row.place: row.state for row in each.rows if row.name == name} for each in (before, now)]
        for name in ("ppfd", "ppfd-lowest")
    )
    starved = {key for key, state in lowest[1].items() if state in TOO_LOW}
    if any(lowest[0][key] not in TOO_LOW for key in starved):
        return False
    if not all(bearable(tops[0][key], state) for key, state in tops[1].items()):
        return False
    if evenly:
        zones = [now.zone(part) for part in parts]
        return all(zone and (zone.in_range or 0.0) >= EVEN_SHARE for zone in zones)
    return all(RANK[tops[1][part]] > RANK[tops[0][part]] for part in parts)


def _words(lamps: list[Any], shift: float) -> Phrase:
    text = "Hang {lamps} {length} higher" if shift > 0 else "Hang {lamps} {length} lower"
    return phrase(text, lamps=lamps_words(lamps), length=metres(abs(shift)))
