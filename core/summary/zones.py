"""Light and air zone by zone, each zone's readings in one row; and the rows that are left.

Single readings are worded in `core.summary.rows`; levels across subjects stand in
`core.summary.tables`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import capital
from core.reading import Reading, worst
from core.summary.blocks import Cell, Styled, Table
from core.summary.rows import amount, span, state_cell, wanted
from core.units import label

if TYPE_CHECKING:
    from core.readings import Readings

_LIGHT = ("ppfd", "ppfd-lowest", "dli", "uniformity", "lux")
_JUDGED = ("ppfd", "ppfd-lowest", "dli", "hours")
_BESIDE = {
    "light": frozenset((*_LIGHT, "hours", "ppfd-least", "ppfd-most", "ppfd-level", "reflected",
                        "dimming", "drop")),
    "air": frozenset(("speed", "speed-fast")),
    "power": frozenset(("load", "chain")),
    "water": frozenset(("refill", "refill-whole", "away", "purified")),
    "weight": frozenset(("shelf-load",)),
}  # fmt: skip
"""Readings that stand in tables of their own, by subject; values of all are in the CSV."""

Rows = Mapping[str, Mapping[str, Reading]]


def left_over(subject: str, rows: Iterable[Reading]) -> tuple[Reading, ...]:
    """Return the readings of a subject that stand in no table of their own."""
    told = _BESIDE.get(subject, frozenset[str]())
    return tuple(row for row in rows if row.name not in told)


def zone_tables(readings: Readings, subject: str) -> tuple[Table, ...]:
    """Return the table of a subject that is read zone by zone; none for the others."""
    makers = {"light": light_table, "air": air_table}
    table = makers[subject](readings) if subject in makers else None
    return (table,) if table else ()


def _by_zone(rows: Iterable[Reading], names: Iterable[str]) -> Rows:
    """Return readings by place and name, for places that have the first of the names."""
    first, *_ = names = tuple(names)
    found: dict[str, dict[str, Reading]] = {}
    for row in rows:
        if row.name in names:
            found.setdefault(row.place, {}).setdefault(row.name, row)
    return {place: own for place, own in found.items() if first in own}


def light_table(readings: Readings) -> Table | None:
    """Return light by zone: at the leaves, at the lowest, what is wanted, over the day, in lux."""
    system = readings.design.units
    zones = _by_zone(readings.light.rows, (*_LIGHT, "hours"))
    if not zones:
        return None
    rows = tuple(_light_cells(own, system) for own in zones.values())
    heads = (
        tr("Where"),
        *(f"{words} [{label(kind, system)}]" for words, kind in _light_heads()),
        tr("State"),
    )
    return Table(heads, rows, (0.19, 0.12, 0.12, 0.12, 0.12, 0.08, 0.12, 0.13))


def _light_heads() -> tuple[tuple[str, str], ...]:
    flux = "photon_flux_density"
    return (
        (tr("At the leaves"), flux),
        (tr("Wanted"), flux),
        (tr("Lowest leaves"), flux),
        (tr("In a day"), "daily_light"),
        (tr("Even"), "fraction"),
        (tr("By a lux meter"), "illuminance"),
    )


def _light_cells(own: Mapping[str, Reading], system: str) -> tuple[Cell, ...]:
    main = own["ppfd"]
    low, day, even, lux = (own.get(name) for name in ("ppfd-lowest", "dli", "uniformity", "lux"))
    judged = worst(tuple(own[name] for name in _JUDGED if name in own)) or main
    return (
        _where(main, system),
        _short(main, system),
        _bare(wanted(main, system), main),
        _short(low, system),
        _short(day, system),
        _bare(amount(even.value, even.kind, system), even) if even else "",
        _short(lux, system),
        state_cell(judged),
    )


def _where(row: Reading, system: str) -> str:
    return capital(row.where.render(system))


def _short(row: Reading | None, system: str) -> str:
    """Return a reading's own range without its unit, which stands in the table's head."""
    return _bare(span(_figures(row.low), _figures(row.high), row.kind, system), row) if row else ""


def _bare(text: str, row: Reading) -> str:
    return text.removesuffix(label(row.kind, "metric")).strip()


def _figures(value: float | None) -> float | None:
    """Return a value to three figures, as far as light is known."""
    return None if value is None else float(f"{value:.3g}")


def air_table(readings: Readings) -> Table | None:
    """Return air by zone; zones of which nothing is known yet are named in one row."""
    system = readings.design.units
    zones = _by_zone(readings.air.rows, ("speed", "speed-fast"))
    known = [own for own in zones.values() if own["speed"].value is not None]
    rows = [_air_cells(own, system) for own in known]
    dark = [own["speed"] for own in zones.values() if own["speed"].value is None]
    if dark:
        rows.append(_unknown_cells(dark, system))
    if not rows:
        return None
    heads = (tr("Where"), tr("Slowest air"), tr("Wanted"), tr("Fastest air"), tr("State"))
    return Table(heads, tuple(rows), (0.34, 0.17, 0.17, 0.16, 0.16))


def _air_cells(own: Mapping[str, Reading], system: str) -> tuple[Cell, ...]:
    slow, fast = own["speed"], own.get("speed-fast")
    between = span(fast.low, fast.high, fast.kind, system) if fast else ""
    judged = worst(tuple(own.values())) or slow
    return (
        _where(slow, system),
        span(slow.low, slow.high, slow.kind, system),
        wanted(slow, system),
        between,
        state_cell(judged),
    )


def _unknown_cells(rows: list[Reading], system: str) -> tuple[Cell, ...]:
    places = "; ".join(dict.fromkeys(_where(row, system) for row in rows))
    return places, "–", "", "", Styled(tr("not known yet"), "ink2")
