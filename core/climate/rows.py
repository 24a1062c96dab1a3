"""Readings of the air inside: warmth, humidity, deficits, dew and hours outside what plants want.

Devices are in `device_rows`, advice on sizes in `answers`; numbers come from `day_results`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from core.climate.day_results import Gathered
from core.climate.day_results import spells as spells_of
from core.climate.methods import DAY, DEW, STEADY
from core.climate.results import Flags, Half, HalfAir, Levels
from core.climate.spread import Off, Spread
from core.climate.wants import Wanted, groups_inside, range_of, wants
from core.climate.zone import MINUTES, Floats
from core.hours import show_hours
from core.model import PlantGroup, Span
from core.phrases import Amount, Phrase, phrase
from core.reading import Method, Reading, reading
from core.study import Study

SHORTEST = 10
"""Spells of condensation that are shorter are not told, nor such gaps between them. [min]"""

_KINDS = {"temperature": "temperature", "humidity": "fraction"}


@dataclass(frozen=True, eq=False)
class Told:
    """What the rows of one study are made from."""

    study: Study
    found: Gathered
    off: Spread
    coarse: bool
    lamps: bool
    taken: tuple[Phrase, ...]

    @property
    def halves(self) -> tuple[HalfAir, ...]:
        """By day, and by night where there is one."""
        return tuple(half for half in (self.found.day, self.found.night) if half is not None)

    @property
    def method(self) -> Method:
        """How the air was found."""
        return STEADY if self.coarse else DAY

    def while_(self, half: Half) -> Phrase:
        """Return when a half is."""
        if half == "night":
            return phrase("while the lamps are off") if self.lamps else phrase("by night")
        return phrase("while the lamps are on") if self.lamps else phrase("by day")


def where(half: Half) -> Phrase:
    """Return the name of a half as a row's place."""
    return phrase("by day") if half == "day" else phrase("by night")


def air_rows(told: Told) -> Iterator[Reading]:
    """Iterate over the readings of the air itself."""
    for half in told.halves:
        yield from _wanted_rows(told, half, "temperature")
    for half in told.halves:
        yield from _wanted_rows(told, half, "humidity")
    for half in told.halves:
        yield _deficit(told, half, "deficit", half.deficit, told.off.deficit[half.half])
        yield _deficit(
            told, half, "leaf-deficit", half.leaf_deficit, told.off.leaf_deficit[half.half]
        )
    for half in told.halves:
        yield _rise(told, half)
    if told.found.night is not None:
        yield _night_drop(told, told.found.night)
    if told.found.faces:
        yield _margin(told)
    if not told.coarse:
        yield from (_outside(told, group) for group in groups_inside(told.study))


def _wanted_rows(told: Told, half: HalfAir, what: Wanted) -> Iterator[Reading]:
    """Iterate over a mean against what all plants want, or against each group's own range."""
    levels: Levels = getattr(half, what)
    off: Off = getattr(told.off, what)[half.half]
    ends = off.ends(levels.mean, 0.0, 1.0) if what == "humidity" else off.ends(levels.mean)
    for name, want in wants(told.study, what, half.half):
        yield reading(
            "climate", f"{what}-{half.half}", "",
            phrase("{half}, {name}", half=where(half.half), name=name) if name
            else where(half.half),
            levels.mean, _KINDS[what],
            phrase("{level}{want}{ends}", level=_level(told, half, what),
                   want=want_words(name, want, what), ends=_ends(told, half, what)),
            told.method, spread=ends, want=(want.low, want.high), assumptions=told.taken,
        )  # fmt: skip


def _level(told: Told, half: HalfAir, what: Wanted) -> Phrase:
    mean = _amount(getattr(half, what).mean, _KINDS[what])
    return phrase("{mean} {while_}", mean=mean, while_=told.while_(half.half))


def _ends(told: Told, half: HalfAir, what: Wanted) -> Phrase | str:
    """Return the lowest and highest of a half; they stand last, as the first to be left out."""
    if told.coarse:
        return ""
    _, low, high = getattr(half, what)
    kind = _KINDS[what]
    return phrase("; from {low} to {high}", low=_amount(low, kind, unit=False),
                  high=_amount(high, kind))  # fmt: skip


def _amount(value: float, kind: str, *, unit: bool = True) -> Amount:
    return Amount(round(value, 2) if kind == "fraction" else value, kind, unit=unit)


def want_words(name: str, want: Span, what: Wanted) -> Phrase | str:
    """Return what is wanted as the end of a sentence, with the group's name where it has one."""
    ends = {key: _amount(value, _KINDS[what], unit=key == "high" or want.high is None)
            for key, value in (("low", want.low), ("high", want.high))
            if value is not None}  # fmt: skip
    if not ends:
        return ""
    text = {
        ("low", "high"): "want {low} to {high}",
        ("low",): "want at least {low}",
        ("high",): "want at most {high}",
    }[tuple(ends)]
    if name:
        return phrase("; {name} {want}", name=name, want=Phrase(text, ends))
    return phrase("; {want}", want=Phrase(text, ends))


def _deficit(told: Told, half: HalfAir, name: str, levels: Levels, off: Off) -> Reading:
    words = {
        "deficit": "{mean} vapour pressure deficit of the air {while_}",
        "leaf-deficit": "{mean} from leaves to air {while_}",
    }[name]
    place = "VPD of the air {half}" if name == "deficit" else "VPD at leaves {half}"
    return reading(
        "climate", f"{name}-{half.half}", "", phrase(place, half=where(half.half)),
        levels.mean, "vapour_pressure",
        phrase(words, mean=Amount(levels.mean, "vapour_pressure"), while_=told.while_(half.half)),
        told.method, spread=off.ends(levels.mean), assumptions=told.taken,
    )  # fmt: skip


def _rise(told: Told, half: HalfAir) -> Reading:
    rise = half.rise
    words = "{rise} above the room {while_}" if rise >= 0 else "{rise} below the room {while_}"
    return reading(
        "climate", f"rise-{half.half}", "",
        phrase("warming {half}", half=where(half.half)),
        rise, "temperature_difference",
        phrase(words, rise=_kelvin(abs(rise)), while_=told.while_(half.half)),
        told.method, spread=told.off.temperature[half.half].ends(rise), assumptions=told.taken,
    )  # fmt: skip


def _night_drop(told: Told, night: HalfAir) -> Reading:
    drop = told.found.day.temperature.mean - night.temperature.mean
    words = "nights are {drop} cooler than days" if drop >= 0 else (
        "nights are {drop} warmer than days"
    )  # fmt: skip
    off = [told.off.temperature[half] for half in ("day", "night")]
    below, above = (max(getattr(one, end) for one in off) for end in ("below", "above"))
    return reading(
        "climate", "night-drop", "", phrase("night drop"), drop, "temperature_difference",
        phrase(words, drop=_kelvin(abs(drop))), told.method,
        spread=(drop - below, drop + above), assumptions=told.taken,
    )  # fmt: skip


def _kelvin(value: float) -> Amount:
    return Amount(value, "temperature_difference")


# --- Dew


def _margin(told: Told) -> Reading:
    """Return the least dew margin of the day, of the face that comes closest to the dew point."""
    least = float(told.found.series.margin.min())
    face = min(told.found.faces, key=lambda one: float(one.margin.min())).face
    minute = int(told.found.series.margin.argmin())
    half: Half = "day" if told.found.series.lit[minute] or told.found.night is None else "night"
    line = phrase(
        "{margin} above the dew point at the {face} face, {mist}; want above it"
        if least >= 0
        else "{margin} below the dew point at the {face} face, {mist}; want above it",
        mist=mist_words(told),
        face=FACE_WORDS[face],
        margin=_kelvin(abs(least)),
    )
    return reading(
        "climate", "margin", "", phrase("dew margin"), least, "temperature_difference",
        line, DEW, spread=told.off.margin[half].ends(least), want=(0.0, None),
        assumptions=told.taken,
    )  # fmt: skip


FACE_WORDS = {
    "left": phrase("left"),
    "right": phrase("right"),
    "front": phrase("front"),
    "back": phrase("back"),
    "bottom": phrase("bottom"),
    "top": phrase("top"),
}


def mist_words(told: Told) -> Phrase:
    """Return in words whether the walls mist, and when."""
    half = _wet_half(told)
    if half is not None:
        return {
            "day": phrase("walls mist by day"),
            "night": phrase("walls mist at night"),
            "both": phrase("walls mist day and night"),
        }[half]
    least = float(told.found.series.margin.min())
    off = max(one.below for one in told.off.margin.values())
    return phrase("walls may mist") if least < off else phrase("walls stay dry")


def _wet_half(told: Told) -> str | None:
    wet = wet_minutes(told.found.wet)
    lit = told.found.series.lit
    by_day, by_night = bool((wet & lit).any()), bool((wet & ~lit).any())
    if by_day and by_night:
        return "both"
    return "day" if by_day else "night" if by_night else None


def wet_minutes(spells: tuple[tuple[int, int], ...]) -> Flags:
    """Return the minutes of the day within spells, as flags."""
    wet = np.zeros(MINUTES, dtype=bool)
    for start, end in spells:
        wet[np.arange(start, end) % MINUTES] = True
    return wet


def told_spells(spells: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
    """Return spells as they are told: close ones joined, the shortest left out."""
    wet = wet_minutes(spells)
    for gap in spells_of(~wet):
        if gap[1] - gap[0] < SHORTEST:
            wet[np.arange(*gap) % MINUTES] = True
    return tuple(one for one in spells_of(wet) if one[1] - one[0] >= SHORTEST)


def spell_words(spells: tuple[tuple[int, int], ...]) -> str:
    """Return spells as hours, to ten minutes: "03:00–07:00"."""
    if spells == ((0, MINUTES),):
        return show_hours(())
    ends = ((10 * round(start / 10), 10 * round(end / 10)) for start, end in spells)
    return show_hours(tuple((start % MINUTES, end % MINUTES) for start, end in ends))


# --- Hours outside what plants want


def _outside(told: Told, group: PlantGroup) -> Reading:
    hot, dry = (hours_outside(told, group, what) for what in ("temperature", "humidity"))
    total = hours_outside(told, group, None)
    line = phrase(
        "{name}: {total} h a day outside what they want; {hot} h by warmth, {dry} h by humidity",
        name=group.name, total=f"{total:.0f}", hot=f"{hot:.0f}", dry=f"{dry:.0f}",
    )  # fmt: skip
    return reading(
        "climate", f"outside-{group.key}", "", phrase("hours outside, {name}", name=group.name),
        total * 3600.0, "duration", line, told.method, assumptions=told.taken,
    )  # fmt: skip


def hours_outside(told: Told, group: PlantGroup, what: Wanted | None) -> float:
    """Return how long a day the air is outside a group's range; None: outside any of them. [h]"""
    series = told.found.series
    out = np.zeros(MINUTES, dtype=bool)
    asked: tuple[Wanted, ...] = ("temperature", "humidity") if what is None else (what,)
    for one in asked:
        values: Floats = getattr(series, one)
        for half, when in (("day", series.lit), ("night", ~series.lit)):
            want = range_of(group, one, half)  # type: ignore[arg-type]
            low = -np.inf if want.low is None else want.low
            high = np.inf if want.high is None else want.high
            out |= when & ((values < low) | (values > high))
    return float(out.mean()) * 24
