"""What would bring a zone's light into its range: the setting, the hours, and the drop that do.

Readings like any other: where things stand now, and between which ends they are as wanted. Edits
are made of them in `core.findings.light`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from core.language import tr
from core.light.drops import Drops
from core.light.maps import ZoneLight
from core.light.methods import DIMMING, DROP, HOURS
from core.light.zone_rows import Want, ZoneRows
from core.phrases import Amount, Phrase, percent, phrase
from core.reading import Reading
from core.states import State

_HOUR = 3600.0


def advice_rows(look: ZoneRows, zone: ZoneLight, drops: Drops | None) -> Iterator[Reading]:
    """Iterate over the readings that say how a zone's light could be as wanted.

    None where nothing is wanted, or no light falls. ``drops`` is what raising and lowering the
    zone's own lamps would do, where that was tried.
    """
    if zone.mean <= 0:
        return
    taken = look.assumptions(zone)
    if zone.want != (None, None):
        yield _setting(look, zone, taken)
    if zone.hours_for_daily_light() is not None:
        yield _hours(look, zone, taken)
    if drops is not None and zone.want != (None, None):
        yield _drop(look, zone, drops, taken)


def _setting(look: ZoneRows, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
    """Return how far the lamps are turned up, and between which settings the mean is as wanted."""
    now = float(zone.shares @ zone.lighting.dimming) / zone.mean
    low, high = (None if end is None else now * end / zone.mean for end in zone.want)
    ends = [now * end / zone.mean for end in zone.bubble(look.method)]
    line = phrase(
        "lamps at {now}, {where}; {which}",
        now=percent(now),
        where=look.where(zone),
        which=_setting_words(low, high),
    )
    return look.row(
        zone, "dimming", now, "fraction", line, DIMMING,
        spread=(ends[0], ends[1]), want=(low, high), taken=taken,
    )  # fmt: skip


def _setting_words(low: float | None, high: float | None) -> Phrase:
    if low is not None and low > 1:
        return phrase("full power gives too little, by {times} times", times=f"{low:.1f}")
    top = None if high is None or high >= 1 else high
    if low is not None and top is not None:
        return phrase("{low}–{high} is as wanted", low=percent(low, unit=False), high=percent(top))
    if low is not None:
        return phrase("{low} or more is as wanted", low=percent(low))
    if top is not None:
        return phrase("at most {high} is as wanted", high=percent(top))
    return phrase("full power is as wanted")


def _hours(look: ZoneRows, zone: ZoneLight, taken: tuple[Phrase, ...]) -> Reading:
    """Return the hours of light, and how many bring the daily light that is wanted."""
    wanted = zone.hours_for_daily_light() or (0.0, 0.0)
    day = zone.group.daily_light
    low, high = zone.bubble(look.method)
    line = phrase(
        "{hours} of light a day, {where}; {low}–{high} h bring what is wanted"
        if wanted[0] <= 24
        else "{hours} of light a day, {where}; no day is long enough, it would take {low} h",
        hours=Amount(zone.hours * _HOUR, "duration"),
        where=look.where(zone),
        low=f"{wanted[0]:.1f}",
        high=f"{min(wanted[1], 24.0):.1f}",
    )
    most = wanted[1] * _HOUR if day is not None and day.high is not None else None
    return look.row(
        zone, "hours", zone.hours * _HOUR, "duration", line, HOURS,
        spread=(zone.hours * _HOUR * low / zone.mean, zone.hours * _HOUR * high / zone.mean),
        want=(wanted[0] * _HOUR, most), taken=taken,
    )  # fmt: skip


def _drop(look: ZoneRows, zone: ZoneLight, drops: Drops, taken: tuple[Phrase, ...]) -> Reading:
    """Return how high the lamps hang over the leaves, and between which drops that is right."""
    inside = drops.inside(zone.want)
    want: Want = (None, None)
    if inside is not None:
        least, most = inside
        want = (
            least if least > drops.nearest else None,
            most if most < drops.farthest else None,
        )
    bright, dark = (drops.where(end) for end in reversed(zone.bubble(look.method)))
    line = phrase(
        "lamps {now} over the leaves, {where}; {which}",
        now=_metres(round(drops.now, 2)),
        where=look.where(zone),
        which=_drop_words(drops, zone, inside is not None, want),
    )
    made = look.row(
        zone, "drop", drops.now, "length", line, DROP,
        spread=(min(bright, drops.now), max(dark, drops.now)), want=want, taken=taken,
    )  # fmt: skip
    return replace(made, words=_STATES.get(made.state, ""))


def _drop_words(drops: Drops, zone: ZoneLight, possible: bool, want: Want) -> Phrase:
    least, most = _as_a_tape_is_read(want)
    if not possible:
        low = zone.want[0]
        weak = low is not None and drops.light(drops.nearest) < low
        return phrase("even the nearest is too weak" if weak else "even the farthest is too strong")
    if least is not None and most is not None:
        return phrase("{low} to {high} is right", low=_metres(least), high=_metres(most))
    if least is not None:
        return phrase("{low} or more is right", low=_metres(least))
    if most is not None:
        return phrase("at most {high} is right", high=_metres(most))
    return phrase("any drop there is room for is right")


def _as_a_tape_is_read(want: Want) -> Want:
    """Return a range of lengths to whole centimetres inside it. [m]"""
    least, most = want
    return (
        None if least is None else math.ceil(100 * least - 1e-6) / 100,
        None if most is None else math.floor(100 * most + 1e-6) / 100,
    )


def _metres(value: float) -> Amount:
    return Amount(value, "length")


_STATES = {
    State.LOW: tr("too near"),
    State.LIKELY_LOW: tr("likely too near"),
    State.HIGH: tr("too far"),
    State.LIKELY_HIGH: tr("likely too far"),
}
