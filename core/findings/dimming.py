"""Dimming as a remedy: the light that zones would have with it, and the words for it.

Which lamps to dim, and how far, the rules say.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

import numpy as np

from core.light.canopy import share_in_range
from core.light.given import Floats
from core.light.maps import ZoneLight
from core.light.reading import LightReadings
from core.model import Lamp
from core.phrases import Phrase, percent, phrase
from core.states import RANK, State, judge, judge_spread
from core.study import Study

LEAST_DIMMING = 0.10
"""Lower than this, drivers flicker or switch off (common practice)."""

FELT = 0.005
"""Share of its light from which a zone feels a lamp; far below what a reading is unsure. [1]"""

TOO_LOW = frozenset({State.LOW, State.LIKELY_LOW})

Dimming = Mapping[str, float]
"""The dimming of some lamps, by part id. [0–1]"""


def light_readings(study: Study) -> LightReadings | None:
    """Return the readings of light, or None before there are any."""
    found = study.done.get("light")
    return found if isinstance(found, LightReadings) else None


def zone_states(light: LightReadings, new: Dimming) -> dict[str, tuple[State, State]]:
    """Return each zone's state as it is, and with some lamps dimmed otherwise, by plants' id."""
    tops = {row.place: row.state for row in light.rows if row.name == "ppfd"}
    return {
        zone.part: (
            tops[zone.part],
            _state(zone, new, light.method) if _feels(zone, new) else tops[zone.part],
        )
        for zone in light.zones
    }


def _feels(zone: ZoneLight, new: Dimming) -> bool:
    """Tell whether some lamps give a zone enough light for their dimming to matter."""
    changed = [key in new for key in zone.lighting.lamps]
    return float(zone.shares[changed].sum()) > FELT * zone.mean


def _state(zone: ZoneLight, new: Dimming, method: float) -> State:
    """Return the state a zone would have with some lamps dimmed otherwise."""
    cells = np.tensordot(_new_weights(zone, new), zone.rows, axes=1)
    state = _judged(zone, float(cells.mean()), method, zone.want)
    want_low, want_high = zone.want
    if zone.want == (None, None):
        return state
    share = share_in_range(cells, want_low or 0.0, 1e9 if want_high is None else want_high)
    return judge_spread(state, share)


def _new_weights(zone: ZoneLight, new: Dimming) -> Floats:
    """Return what each lamp's row counts with some lamps dimmed otherwise."""
    ratio = np.array(
        [
            new.get(key, old) / old if old > 0 else 0.0
            for key, old in zip(zone.lighting.lamps, zone.lighting.dimming, strict=True)
        ]
    )
    return zone.weights(None) * ratio


def _judged(
    zone: ZoneLight, mean: float, method: float, want: tuple[float | None, float | None]
) -> State:
    scale = mean / zone.mean if zone.mean > 0 else 1.0
    low, high = (end * scale for end in zone.bubble(method))
    return judge(mean, low, high, *want)


def starved(light: LightReadings, new: Dimming) -> set[str]:
    """Return the plants whose lowest leaves would get too little only with other dimming."""
    rows = {row.place: row.state for row in light.rows if row.name == "ppfd-lowest"}
    return {
        zone.part
        for zone in light.zones
        if rows[zone.part] not in TOO_LOW
        and _feels(zone, new)
        and _lowest_state(zone, new, light.method) in TOO_LOW
    }


def fed(light: LightReadings, new: Dimming, parts: Collection[str]) -> bool:
    """Tell whether the lowest leaves of some plants would all have enough with other dimming."""
    zones = [zone for zone in light.zones if zone.part in parts]
    return all(_lowest_state(zone, new, light.method) not in TOO_LOW for zone in zones)


def _lowest_state(zone: ZoneLight, new: Dimming, method: float) -> State:
    mean = float(_new_weights(zone, new) @ zone.lowest.means)
    return _judged(zone, mean, method, (zone.want[0], None))


def bearable(before: State, now: State) -> bool:
    """Tell whether a zone stays in its range, or leaves it no farther than it was."""
    return RANK[now] >= min(RANK[before], RANK[State.BORDERLINE])


def plants_bear(study: Study, new: Dimming) -> bool:
    """Tell whether all zones bear other dimming; before light is known, they do."""
    light = light_readings(study)
    if light is None:
        return True
    return all(bearable(*states) for states in zone_states(light, new).values())


def dimming_words(lamps: list[Lamp], new: Dimming) -> Phrase:
    """Return what setting several lamps otherwise is called: "Dim both from 60 % to 41 %"."""
    down = all(new[lamp.id] <= lamp.dimming for lamp in lamps)
    text = "Dim {lamps} from {start} to {end}" if down else "Turn {lamps} up from {start} to {end}"
    start = _settings_words([lamp.dimming for lamp in lamps])
    return phrase(
        text, lamps=lamps_words(lamps), start=start, end=_settings_words(list(new.values()))
    )


def _settings_words(settings: list[float]) -> Phrase:
    """Return the dimming of some lamps in words: "41 %", "41–60 %"."""
    low, high = percent(min(settings)), percent(max(settings))
    if low == high:
        return phrase("{end}", end=low)
    return phrase("{low}–{high}", low=replace(low, unit=False), high=high)


def lamps_words(lamps: list[Lamp]) -> Phrase:
    """Return several lamps in words: "Board 1", "both boards", "all 8 rows"."""
    if len(lamps) == 1:
        return phrase("{name}", name=lamps[0].name)
    kinds = {"row" if lamp.count > 1 else lamp.form for lamp in lamps}
    noun = {"row": "rows", "board": "boards", "tube": "tubes", "spot": "spots"}
    many = noun[kinds.pop()] if len(kinds) == 1 else "lamps"
    if len(lamps) == 2:
        return phrase("both {lamps}", lamps=many)
    return phrase("all {count} {lamps}", count=len(lamps), lamps=many)
