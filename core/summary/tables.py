"""The tables that go across subjects: levels, circuits step by step.

Single readings are worded in `core.summary.rows`, refills and loads in `core.summary.plans`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from core.language import tr
from core.phrases import capital
from core.placement import ZonePlace
from core.power.tree import circuit_key
from core.reading import Reading
from core.study import Study, study
from core.summary.blocks import Cell, Styled, Table
from core.summary.rows import (
    about,
    amount,
    level_cells,
    state_cell,
    vial_cell,
    wanted,
)

if TYPE_CHECKING:
    from core.readings import Readings

INDENT = "\N{NO-BREAK SPACE}" * 3
_REFILL = ("refill",)


def look_of(readings: Readings) -> Study:
    """Return the study that the readings were made on: the design in their season."""
    return study(readings.design, season=readings.season, quality=readings.quality)


def level_table(readings: Readings, look: Study) -> Table | None:
    """Return one row per zone, level by level from the top: plants, light, air, refill."""
    hosts = [part.id for part in readings.design.parts]
    zones = sorted(look.placement.zones, key=lambda zone: _from_the_top(zone, hosts))
    if not zones:
        return None
    system = readings.design.units
    rows = tuple(_zone_cells(zone, readings, look, system) for zone in zones)
    heads = (tr("Level"), tr("Plants"), tr("Light"), tr("Air"), tr("Refill"))
    return Table(heads, rows, (0.16, 0.2, 0.27, 0.2, 0.17))


def _from_the_top(zone: ZonePlace, hosts: list[str]) -> tuple[int, float]:
    return hosts.index(zone.level[0]) if zone.level else len(hosts), -zone.base


def _zone_cells(zone: ZonePlace, readings: Readings, look: Study, system: str) -> tuple[Cell, ...]:
    plants = zone.part
    group = readings.design.group(plants.species)
    tray = plants.place.host
    return (
        capital(look.level_words(zone.level).render(system)),
        group.name if group else plants.name,
        level_cells(about(readings.light.rows, plants.id), system),
        level_cells(about(readings.air.rows, plants.id), system),
        level_cells(about(readings.water.rows, tray, _REFILL), system),
    )


def circuit_table(readings: Readings) -> Table | None:
    """Return every circuit in use, step by step from its breaker, with loads and limits."""
    steps: tuple[Any, ...] = getattr(readings.power, "steps", ())
    if not steps:
        return None
    system = readings.design.units
    rows = tuple(_step_cells(step, readings, system) for step in steps)
    heads = (tr("Step"), tr("Load"), tr("Limit"), tr("Room left"), "", tr("State"))
    return Table(heads, rows, (0.31, 0.12, 0.17, 0.12, 0.12, 0.16))


def _step_cells(step: Any, readings: Readings, system: str) -> tuple[Cell, ...]:
    item: Reading = step.reading
    name = capital(step.name)
    without = "" if step.kind == "others" else tr("none given")
    key = circuit_key(step.id) if step.kind == "circuit" else step.id
    rooms: Mapping[str, Any] = getattr(readings.power, "rooms", {})
    room = rooms.get(key) if step.kind != "chain" else None
    return (
        Styled(name, bold=True) if step.depth == 0 else INDENT * step.depth + name,
        amount(item.value, item.kind, system),
        wanted(item, system) or without,
        amount(room.va, "apparent_power", system) if room is not None else "",
        vial_cell(item, system),
        state_cell(item),
    )


def texts(table: Table) -> Iterator[tuple[str, ...]]:
    """Yield heads and rows as plain text, for files of values; drawn cells are left out."""
    yield tuple(table.heads)
    for row in table.rows:
        yield tuple(_plain(cell) for cell in row)


def _plain(cell: Cell) -> str:
    if isinstance(cell, str):
        return cell.strip("\N{NO-BREAK SPACE}")
    return cell.text if isinstance(cell, Styled) else ""
