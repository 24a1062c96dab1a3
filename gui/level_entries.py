"""What each level of a shelf unit, bay or platform answers: plants, light, air, refill.

Gathers readings by level; drawing them is `gui.level_rows`' work.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from core.language import tr
from core.light.reading import light_number
from core.model import Enclosure
from core.placement import Placement
from core.reading import Reading, worst
from core.units import show
from gui.readings_panel import state_words
from gui.spoken import aloud

if TYPE_CHECKING:
    from core.readings import Readings

COLUMNS = ("light", "air", "refill")
_DAY = 86400.0
# Column -> subject, and the name of the reading that stands there.
_READ = {"light": ("light", "ppfd"), "air": ("air", "speed"), "refill": ("water", "refill")}


@dataclass(frozen=True)
class LevelEntry:
    """One level's answers, by column; a column without a reading is left out."""

    number: int
    plants: str
    readings: Mapping[str, Reading] = field(default_factory=dict)


def hosts(placement: Placement) -> dict[str, str]:
    """Return what has levels worth a row, by id, with its name.

    The enclosure's floor counts only where plants stand on it.
    """
    found: dict[str, str] = {}
    planted = {zone.level[0] for zone in placement.zones if zone.level}
    for level in placement.levels:
        thing = placement.design.by_id[level.host]
        if not isinstance(thing, Enclosure) or level.host in planted:
            found[level.host] = thing.name
    return found


def level_entries(placement: Placement, host: str, readings: Readings | None) -> list[LevelEntry]:
    """Return one entry for each level of a host, the lowest first."""
    numbers = sorted(level.number for level in placement.levels if level.host == host)
    return [_entry(placement, (host, number), readings) for number in numbers]


def _entry(placement: Placement, level: tuple[str, int], readings: Readings | None) -> LevelEntry:
    zones = [zone.part for zone in placement.zones if zone.level == level]
    names = [placement.design.group(zone.species) for zone in zones]
    plants = ", ".join(dict.fromkeys(group.name for group in names if group))
    if readings is None:
        return LevelEntry(level[1], plants)
    found = {
        column: item
        for column in COLUMNS
        if (item := _worst_on(placement, level, column, readings)) is not None
    }
    return LevelEntry(level[1], plants, found)


def _worst_on(
    placement: Placement, level: tuple[str, int], column: str, readings: Readings
) -> Reading | None:
    """Return the worst reading of a column among all places on a level."""
    subject, name = _READ[column]
    rows = [row for row in readings.subject(subject).rows if row.name == name]
    return worst(tuple(row for row in rows if _lies_on(placement, row.place, level)))


def _lies_on(placement: Placement, part: str, level: tuple[str, int]) -> bool:
    # Readings may be older than the design: a part may be gone by now.
    return part in placement.design.by_id and placement.level_of(part) == level


def coarse_columns(readings: Readings) -> frozenset[str]:
    """Return the columns whose readings a finer computation is still to replace."""
    return frozenset(
        column for column, (subject, _) in _READ.items() if readings.subject(subject).coarse
    )


def short_value(column: str, item: Reading, system: str) -> str:
    """Return a reading as a few figures: "71", "0.31", "3–12 d"."""
    if item.value is None:
        return "–"
    if column == "refill":
        return f"{_days(item)}\N{THIN SPACE}{tr('d')}"
    return _figures(column, item, system)


def _figures(column: str, item: Reading, system: str) -> str:
    value = item.value or 0.0
    if column == "light":
        return light_number(value)
    return show(value, item.kind, system, unit=False, digits=2)


def _days(item: Reading) -> str:
    per_day = _DAY if item.kind == "duration" else 1.0
    ends = [end for end in (item.low, item.high) if end is not None]
    whole = [_whole(end / per_day) for end in ends] or [_whole((item.value or 0.0) / per_day)]
    return "–".join(dict.fromkeys(whole))


def _whole(days: float) -> str:
    return f"{days:.0f}" if days >= 0.95 else f"{days:.1f}"


def spoken_level(entry: LevelEntry, system: str) -> str:
    """Return what an assistive tool says of a level."""
    parts = [tr("Level {number}, {plants}").format(
        number=entry.number, plants=entry.plants or tr("no plants yet")
    )]  # fmt: skip
    names = {"light": tr("Light"), "air": tr("Air"), "refill": tr("Refill in")}
    for column, item in entry.readings.items():
        parts.append(f"{names[column]} {_spoken_value(column, item, system)}, {state_words(item)}")
    return ". ".join(parts)


def _spoken_value(column: str, item: Reading, system: str) -> str:
    if item.value is None:
        return tr("not known yet")
    if column == "refill":
        return tr("{days} days").format(days=_days(item).replace("–", tr(" to ")))
    if column == "air":
        return aloud(show(item.value, item.kind, system))
    return _figures(column, item, system)
