"""Runs the direct light of a design over all its zones and levels.

What is wanted and how sure the numbers are is said in `core.light.reading`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.geometry import Rectangle
from core.light.bound import reflected_at_most
from core.light.canopy import PITCH, CellGrid, cell_grid
from core.light.direct import direct_rows
from core.light.from_design import LampSource, lamp_sources, obstacles_of
from core.light.given import Floats
from core.light.maps import LevelLight, Lighting, LightMap, ZoneLight
from core.light.receivers import Receivers, receivers
from core.model import PlantGroup
from core.placement import Level, Placement, ZonePlace
from core.power.tree import PlugTree

COARSE_PITCH = 0.10
"""Pitch of the grids while something is dragged. [m]"""

BARE_HEIGHT = 0.10
"""Height above a level without plants that its map is read at. [m]"""


@dataclass(frozen=True, eq=False)
class Survey:
    """The light of a design: its lamps, its zones and its levels."""

    lamps: tuple[LampSource, ...]
    lighting: Lighting
    zones: tuple[ZoneLight, ...]
    levels: tuple[LevelLight, ...]


@dataclass(frozen=True, eq=False)
class _Field:
    """A grid at one height, and afterwards its rows."""

    area: Rectangle
    grid: CellGrid
    z: float

    def over(self, rows: Floats, lighting: Lighting) -> LightMap:
        return LightMap(self.area, *self.axes, self.z, self.shaped(rows), lighting)

    @property
    def axes(self) -> tuple[Floats, Floats]:
        return self.grid.x[: self.grid.columns], self.grid.y[:: self.grid.columns]

    def shaped(self, rows: Floats) -> Floats:
        return rows.reshape(-1, self.grid.rows, self.grid.columns)


def survey(placement: Placement, tree: PlugTree, *, coarse: bool = False) -> Survey:
    """Return the light of a design.

    Parameters
    ----------
    placement : Placement
    tree : PlugTree
        Of the same design, for the hours of the lamps.
    coarse : bool
        Wider cells, while something is dragged.

    Returns
    -------
    Survey
    """
    lamps = lamp_sources(placement)
    lighting = _lighting(lamps, tree)
    pitch = COARSE_PITCH if coarse else PITCH
    zones = [zone for zone in placement.zones if zone.area.area > 0]
    levels = _shown_levels(placement, lamps, zones)
    fields = [_field(zone.area, z, pitch) for zone in zones for z in (zone.high, zone.low)]
    fields += [_field(level.area, _top(level, zones), pitch) for level in levels]
    rows = _rows(placement, lamps, fields)
    added = _reflected(placement, lighting)
    count = 2 * len(zones)
    return Survey(
        lamps,
        lighting,
        tuple(
            _zone(
                placement, zone, fields[2 * i : 2 * i + 2], rows[2 * i : 2 * i + 2], lighting,
                added.get(zone.level, 0.0),
            )
            for i, zone in enumerate(zones)
        ),
        tuple(
            LevelLight(
                field.area, *field.axes, field.z, field.shaped(row), lighting,
                (level.host, level.number),
            )
            for level, field, row in zip(levels, fields[count:], rows[count:], strict=True)
        ),
    )  # fmt: skip


def _lighting(lamps: Sequence[LampSource], tree: PlugTree) -> Lighting:
    parts = [lamp.part for lamp in lamps]
    return Lighting(
        tuple(part.id for part in parts),
        np.array([part.dimming for part in parts], dtype=float),
        np.array([tree.level(part) for part in parts]).reshape(-1, 1440),
        np.array([lamp.flux.uncertainty for lamp in lamps], dtype=float),
        np.array([lamp.ppf for lamp in lamps], dtype=float),
    )


def _shown_levels(
    placement: Placement, lamps: Sequence[LampSource], zones: Sequence[ZonePlace]
) -> list[Level]:
    """Return the levels that have plants or lamps."""
    used = {zone.level for zone in zones}
    used |= {placement.level_of(lamp.part.id) for lamp in lamps}
    return [level for level in placement.levels if (level.host, level.number) in used]


def _top(level: Level, zones: Sequence[ZonePlace]) -> float:
    """Return the height of a level's map: the mean of its leaf tops. [m]"""
    tops = [zone.high for zone in zones if zone.level == (level.host, level.number)]
    return sum(tops) / len(tops) if tops else level.z + BARE_HEIGHT


@lru_cache(maxsize=1024)
def _field(area: Rectangle, z: float, pitch: float) -> _Field:
    return _Field(area, cell_grid(area.x0, area.y0, area.width, area.height, pitch), z)


@lru_cache(maxsize=8)
def _points(fields: tuple[_Field, ...]) -> Receivers:
    """Return the cells of all fields; most edits leave them where they are."""
    return receivers([field.grid.points(field.z) for field in fields])


def _rows(
    placement: Placement, lamps: Sequence[LampSource], fields: Sequence[_Field]
) -> list[Floats]:
    """Return for each field the light of each lamp, its whole row of tubes together."""
    points = _points(tuple(fields))
    sources = [source for lamp in lamps for source in lamp.sources]
    owners = [number for number, lamp in enumerate(lamps) for _ in lamp.sources]
    if not sources or not fields:
        return [np.zeros((len(lamps), field.grid.x.size)) for field in fields]
    each = direct_rows(sources, points, obstacles_of(placement), owners=owners)
    first = np.cumsum([0, *(len(lamp.sources) for lamp in lamps)])[:-1]
    rows = np.add.reduceat(each, first, axis=0)
    return [rows[:, points.part(group)] for group in range(points.groups)]


def _zone(
    placement: Placement,
    zone: ZonePlace,
    fields: Sequence[_Field],
    rows: Sequence[Floats],
    lighting: Lighting,
    reflected: float,
) -> ZoneLight:
    top, bottom = fields
    return ZoneLight(
        top.area, *top.axes, top.z, top.shaped(rows[0]), lighting,
        zone.part.id, zone.part.name, zone.level, _group(placement, zone),
        bottom.over(rows[1], lighting), reflected,
    )  # fmt: skip


def _group(placement: Placement, zone: ZonePlace) -> PlantGroup:
    group = placement.design.group(zone.part.species)
    if group is None:
        raise KeyError(zone.part.species)
    return group


def _reflected(placement: Placement, lighting: Lighting) -> dict[tuple[str, int] | None, float]:
    """Return what reflections may add over each level by the lamps that belong to it."""
    flux: dict[tuple[str, int] | None, float] = {}
    for lamp, photons in zip(lighting.lamps, lighting.ppf * lighting.dimming, strict=True):
        here = placement.level_of(lamp)
        flux[here] = flux.get(here, 0.0) + float(photons)
    levels = {(level.host, level.number): level for level in placement.levels}
    return {
        here: reflected_at_most(placement, levels[here], photons)
        for here, photons in flux.items()
        if here is not None
    }
