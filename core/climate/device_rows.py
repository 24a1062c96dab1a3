"""Readings of what climate devices do and drink, and of the water that the air takes.

The air itself is in `rows`; what the electricity costs, in power and cost.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from core.climate.methods import EVAPORATED
from core.climate.results import DeviceDay
from core.climate.rows import Told, spell_words, told_spells
from core.climate.spread import EVAPORATION_FACTOR
from core.phrases import Amount, Phrase, phrase
from core.reading import Reading, reading

_LITRE = 1e-3
_KWH = 3.6e6


def device_rows(told: Told) -> Iterator[Reading]:
    """Iterate over the readings of devices, then of water."""
    for one in told.found.devices:
        yield _duty(told, one)
        if one.kind in ("fogger", "cooler") and one.litres_per_day > 0:
            yield _water(told, one)
    if told.found.trays or told.found.zones:
        yield _evaporated(told)
    if any(face.condensed > 0 for face in told.found.faces):
        yield _condensed(told)


def _duty(told: Told, one: DeviceDay) -> Reading:
    mean = float(one.duty.mean())
    return reading(
        "climate", "duty", one.id, phrase("{name}", name=one.name), mean, "fraction",
        _duty_words(told, one), told.method,
        spread=told.off.duty[one.id].ends(mean, 0.0, 1.0), assumptions=told.taken,
    )  # fmt: skip


def _duty_words(told: Told, one: DeviceDay) -> Phrase:
    hours = phrase("{hours} h a day", hours=figures(one.hours_per_day))
    energy = phrase(
        "; {energy} a day", energy=Amount(one.kwh_per_day * _KWH, "energy")
    ) if one.kwh_per_day > 0 else phrase("")  # fmt: skip
    if one.hours_per_day == 0:
        return phrase("{name} never runs", name=one.name)
    if told.coarse or not one.control or not math.isfinite(one.mean_run):
        words = "{name} runs {hours}{energy}"
        return phrase(words, name=one.name, hours=hours, energy=energy)
    return phrase(
        "{name} runs {hours}, {starts} times an hour for {length} each{energy}",
        name=one.name,
        hours=hours,
        starts=figures(one.starts_per_hour),
        length=Amount(_rounded(one.mean_run), "duration"),
        energy=energy,
    )


def _rounded(seconds: float) -> float:
    """Return a time of two figures, in whole minutes from two minutes on. [s]"""
    step = 60.0 if seconds >= 120 else 5.0
    return max(round(seconds / step), 1) * step


def figures(value: float) -> str:
    """Return a count with the digits that matter: "12", "1.3", "0.4"."""
    return f"{value:.0f}" if value >= 9.95 else f"{value:.1f}"


def _water(told: Told, one: DeviceDay) -> Reading:
    litres = one.litres_per_day
    words = "{name} gives off {water} a day" if one.kind == "fogger" else (
        "the coil of {name} drips {water} a day"
    )  # fmt: skip
    duty, off = float(one.duty.mean()), told.off.duty[one.id].ends(float(one.duty.mean()), 0.0, 1.0)
    ends = tuple(litres * end / duty for end in off)
    return reading(
        "climate", "fog" if one.kind == "fogger" else "drain", one.id,
        phrase("{name}, water", name=one.name), litres * _LITRE, "volume",
        phrase(words, name=one.name, water=Amount(litres * _LITRE, "volume")),
        told.method, spread=(ends[0] * _LITRE, ends[1] * _LITRE), assumptions=told.taken,
    )  # fmt: skip


def _evaporated(told: Told) -> Reading:
    trays = sum(one.evaporated for one in told.found.trays)
    leaves = sum(one.transpired for one in told.found.zones)
    total = (trays + leaves) * _LITRE
    line = phrase(
        "trays give off {trays} and leaves {leaves} a day",
        trays=Amount(trays * _LITRE, "volume"),
        leaves=Amount(leaves * _LITRE, "volume"),
    )
    return reading(
        "climate", "evaporation", "", phrase("evaporation"), total, "volume", line, EVAPORATED,
        spread=(total / EVAPORATION_FACTOR, total * EVAPORATION_FACTOR), assumptions=told.taken,
    )  # fmt: skip


def _condensed(told: Told) -> Reading:
    ran = sum(face.condensed for face in told.found.faces)
    spells = told_spells(told.found.wet)
    words = "{water} a day condense on the covers and run down"
    if spells and not told.coarse:
        words = "{water} a day condense on the covers and run down, {spells}"
    line = phrase(words, water=Amount(ran * _LITRE, "volume"), spells=spell_words(spells))
    low, high = told.off.condensed.ends(ran, 0.0)
    return reading(
        "climate", "condensed", "", phrase("condensation"), ran * _LITRE, "volume", line,
        told.method, spread=(low * _LITRE, high * _LITRE), assumptions=told.taken,
    )  # fmt: skip
