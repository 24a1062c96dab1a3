"""The key of climate: what the day and the night are like, water and electricity, what to buy.

The numbers are `core.climate`'s; the day itself is drawn by `gui.climate_day`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from core.language import tr
from core.reading import Reading
from core.states import RANK, State
from core.units import show
from gui.climate_day_lines import rows_of, season_name, show_short
from gui.key_blocks import Block, Fact, Facts, Note, Said
from gui.key_page import KeyPage
from gui.key_table import Level, LevelRow, LevelTable
from gui.view import View

if TYPE_CHECKING:
    from core.climate.results import ClimateReadings, HalfAir, Levels
    from core.readings import Readings

_KWH = 3.6e6
_LITRE = 1e-3


def climate_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return the levels of day and night, what a day uses, and the readings nearest a limit."""
    climate = readings.climate
    words = tr("Climate inside, {season}").format(season=_lower(season_name(readings)))
    head = f"≈ {words}" if climate.coarse else words
    if climate.day is None:
        return KeyPage(head, "", (Note(climate.nothing.render()),))
    earlier = before.climate if before is not None else None
    if earlier is not None and earlier.day is None:
        earlier = None
    system = readings.design.units
    blocks: list[Block] = [_levels(climate, earlier, system)]
    blocks.append(Facts(tuple(_facts(climate, earlier, system)), apart=110.0))
    blocks.append(Said(tuple(_said(climate, system))))
    return KeyPage(head, "", tuple(blocks))


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]


# --- day and night -------------------------------------------------------------------------------


def _levels(climate: ClimateReadings, earlier: ClimateReadings | None, system: str) -> LevelTable:
    halves = [half for half in (climate.day, climate.night) if half is not None]
    heads = tuple(tr("by day") if half.half == "day" else tr("by night") for half in halves)
    old = {half.half: half for half in (earlier.day, earlier.night) if half} if earlier else {}
    rows = []
    for key, name, kind in (
        ("temperature", tr("Temperature"), "temperature"),
        ("humidity", tr("Humidity"), "fraction"),
        ("deficit", tr("VPD of air"), "vapour_pressure"),
        ("leaf_deficit", tr("VPD at leaves"), "vapour_pressure"),
    ):
        if key == "leaf_deficit" and not climate.zones:
            continue
        levels = tuple(_level(climate, half, old.get(half.half), key, kind, system)
                       for half in halves)  # fmt: skip
        rows.append(LevelRow(name, levels))
    if climate.faces:
        rows.append(LevelRow(tr("Least dew margin"), tuple(
            _least(half, old.get(half.half), system) for half in halves)))  # fmt: skip
    return LevelTable(heads, tuple(rows))


def _level(
    climate: ClimateReadings, half: HalfAir, old: HalfAir | None, key: str, kind: str, system: str
) -> Level:
    levels: Levels = getattr(half, key)
    value = show_short(levels.mean, kind, system)
    ends = "" if climate.coarse else _range(levels, kind, system)
    was = show_short(getattr(old, key).mean, kind, system) if old is not None else ""
    name = f"{key.replace('_', '-')}-{half.half}"
    state = _worst(rows_of(climate, name))
    shown = f"≈ {value}" if climate.coarse else value
    return Level(shown, ends, was if was != value else "", state)


def _least(half: HalfAir, old: HalfAir | None, system: str) -> Level:
    value = show_short(half.margin.low, "temperature_difference", system)
    was = show_short(old.margin.low, "temperature_difference", system) if old is not None else ""
    return Level(value, "", was if was != value else "")


def _range(levels: Levels, kind: str, system: str) -> str:
    """Return the extremes without their unit: "17.4–22.8"."""
    low, high = (show_short(value, kind, system, unit=False) for value in (levels.low, levels.high))
    return f"{low}–{high}" if low != high else ""


def _worst(rows: tuple[Reading, ...]) -> State:
    return min((row.state for row in rows), key=lambda state: RANK[state], default=State.UNASKED)


# --- what a day uses -----------------------------------------------------------------------------


def _facts(
    climate: ClimateReadings, earlier: ClimateReadings | None, system: str
) -> Iterator[Fact]:
    for name, now in _numbers(climate, system).items():
        was = _numbers(earlier, system).get(name, "") if earlier is not None else ""
        yield Fact(name, f"≈ {now}" if climate.coarse else now, was if was != now else "")


def _numbers(climate: ClimateReadings, system: str) -> dict[str, str]:
    found: dict[str, str] = {}
    if climate.night_drop is not None:
        drop = show_short(climate.night_drop, "temperature_difference", system)
        found[tr("Night drop")] = drop
    if any(one.kwh_per_day > 0 for one in climate.devices):
        energy = sum(one.kwh_per_day for one in climate.devices) * _KWH
        found[tr("Devices use")] = tr("{energy} a day").format(
            energy=show(energy, "energy", system)
        )
    if climate.fog > 0:
        fog = show(climate.fog * _LITRE, "volume", system)
        found[tr("Fog")] = tr("{water} a day").format(water=fog)
    given = sum(one.evaporated for one in climate.trays)
    given += sum(one.transpired for one in climate.zones)
    if climate.trays or climate.zones:
        water = show(given * _LITRE, "volume", system)
        found[tr("Evaporates")] = tr("{water} a day").format(water=water)
    return found


_TOLD = ("margin", "duty", "condensed", "sizing-", "outside-")
_QUIET = (State.FINE, State.UNASKED, State.UNKNOWN)


def _said(climate: ClimateReadings, system: str) -> list[tuple[State, str]]:
    """Return the other readings as they are said: walls, devices, advice, hours outside."""
    found = [row for start in _TOLD for row in climate.rows if row.name.startswith(start)]
    found.sort(key=lambda row: row.state in _QUIET)
    # Where there is little room, the words after a semicolon go first.
    lines = [(row.state, row.line.render(system).replace(": ", "; ", 1)) for row in found]
    return [(state, words[:1].upper() + words[1:]) for state, words in lines]
