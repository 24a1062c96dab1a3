"""Every level as it is built, from the top: how high, how clear, what hangs and stands there.

What the levels' readings say is in `core.summary.tables`; what shelves carry in
`core.summary.plans`.
"""

from __future__ import annotations

from collections.abc import Iterable

from core.language import tr
from core.model import Enclosure, Lamp, Part, Plants, ShelfUnit, Tray
from core.phrases import capital
from core.placement import Level
from core.study import Study
from core.summary.blocks import Cell, Styled, Table
from core.units import show

_NAMED = 2
"""Up to so many parts of a level are named; more are counted."""


def build_table(look: Study) -> Table | None:
    """Return one row per level in use, unit by unit, each unit headed by its size and place."""
    hosts = dict.fromkeys(level.host for level in look.placement.levels)
    rows: list[tuple[Cell, ...]] = []
    for host in hosts:
        own = [level for level in look.placement.levels if level.host == host]
        cells = [_level_cells(level, look) for level in reversed(own)]
        used = [
            row for row in cells if any(row[3:]) or isinstance(look.design.by_id[host], ShelfUnit)
        ]
        if used:
            rows += [(Styled(_host_words(host, look), bold=True),), *used]
    if not rows:
        return None
    heads = (
        tr("Level"), tr("Its top"), tr("Clear above"), tr("Lamps"), tr("Drop to the leaves"),
        tr("Trays"), tr("Plants"),
    )  # fmt: skip
    return Table(heads, tuple(rows), (0.13, 0.1, 0.1, 0.18, 0.13, 0.17, 0.19))


def _host_words(host: str, look: Study) -> str:
    """Return a unit's name, its size, and where it stands."""
    part, system = look.design.by_id[host], look.design.units
    box = look.placement.box(host)
    size = " × ".join(show(length, "length", system) for length in box.size)
    if isinstance(part, Enclosure):
        return tr("{name}, {size}").format(name=part.name, size=size)
    inside = look.design.enclosure
    whole = look.placement.box(inside.id) if inside and look.placement.inside(host) else None
    left, front = (box.lo[k] - (whole.lo[k] if whole else 0.0) for k in (0, 1))
    text = (
        tr("{name}, {size}; {left} from the enclosure’s left side, {front} from its front")
        if whole
        else tr("{name}, {size}; {left} from the room’s left side, {front} from its front")
    )
    ends = (show(max(0.0, length), "length", system) for length in (left, front))
    return text.format(name=part.name, size=size, **dict(zip(("left", "front"), ends, strict=True)))


def _level_cells(level: Level, look: Study) -> tuple[Cell, ...]:
    key, system = (level.host, level.number), look.design.units
    lamps, trays, plants = (_on(key, kind, look) for kind in (Lamp, Tray, Plants))
    floor = look.placement.box(level.host).lo[2]
    height = level.z if isinstance(look.design.by_id[level.host], Enclosure) else level.z - floor
    return (
        capital(_short_name(key, look)),
        show(height, "length", system),
        show(level.above - level.z, "length", system),
        _lamps(lamps),
        _drops(lamps, key, look),
        _names(trays),
        _plants(plants, look),
    )


def _short_name(key: tuple[str, int], look: Study) -> str:
    if isinstance(look.design.by_id[key[0]], ShelfUnit):
        return tr("level {number}").format(number=key[1])
    return look.level_words(key).render(look.design.units)


def _on(key: tuple[str, int], kind: type[Part], look: Study) -> list[Part]:
    return [part for part in look.design.of(kind) if look.placement.level_of(part.id) == key]


def _names(parts: Iterable[Part]) -> str:
    names = [part.name for part in parts]
    many = tr("{count} trays").format(count=len(names))
    return ", ".join(names) if len(names) <= _NAMED else many


def _lamps(lamps: Iterable[Part]) -> str:
    own = [lamp for lamp in lamps if isinstance(lamp, Lamp)]
    names = [f"{lamp.name} ({lamp.count}×)" if lamp.count > 1 else lamp.name for lamp in own]
    return ", ".join(names) if len(names) <= _NAMED else tr("{count} lamps").format(count=len(own))


def _drops(lamps: Iterable[Part], key: tuple[str, int], look: Study) -> str:
    """Return how far lamps hang above the highest leaves of their level; empty without either."""
    tops = [zone.high for zone in look.placement.zones if zone.level == key]
    if not tops:
        return ""
    drops = (look.placement.box(lamp.id).lo[2] - max(tops) for lamp in lamps)
    words = dict.fromkeys(show(drop, "length", look.design.units) for drop in drops)
    return ", ".join(words)


def _plants(plants: Iterable[Part], look: Study) -> str:
    """Return the plants by kind, with how many pots there are of each."""
    count: dict[str, int] = {}
    for one in plants:
        if isinstance(one, Plants):
            group = look.design.group(one.species)
            name = group.name if group else one.name
            count[name] = count.get(name, 0) + 1
    return ", ".join(name if n == 1 else f"{n} × {name}" for name, n in count.items())
