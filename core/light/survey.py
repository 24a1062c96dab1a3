"""Runs the direct light of a design over all its zones and levels.

What is wanted and how sure the numbers are is said in `core.light.reading`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.light.bound import reflected_at_most
from core.light.canopy import PITCH
from core.light.field_rows import FieldRows, field, field_rows
from core.light.from_design import LampSource, lamp_sources, shades_of
from core.light.maps import LevelLight, Lighting, LightMap, ZoneLight
from core.model import PlantGroup
from core.placement import Level, Placement, ZonePlace
from core.power.tree import PlugTree

COARSE_PITCH = 0.10
"""Pitch of the levels' maps while something is dragged; zones keep theirs. [m]"""

BARE_HEIGHT = 0.10
"""Height above a level without plants that its map is read at. [m]"""


@dataclass(frozen=True, eq=False)
class Survey:
    """The light of a design: its lamps, its zones, its levels, and the rows they are made of."""

    lamps: tuple[LampSource, ...]
    lighting: Lighting
    zones: tuple[ZoneLight, ...]
    levels: tuple[LevelLight, ...]
    rows: FieldRows


def survey(
    placement: Placement, tree: PlugTree, *, coarse: bool = False, before: Survey | None = None
) -> Survey:
    """Return the light of a design.

    Parameters
    ----------
    placement : Placement
    tree : PlugTree
        Of the same design, for the hours of the lamps.
    coarse : bool
        Wider cells of the levels' maps, while something is dragged. Zones keep their cells, so
        that what is read of them does not jump.
    before : Survey, optional
        What was found last time. Of it is kept what still holds: rows of lamps, and the zones
        and levels (the same objects) whose light has not changed at all.

    Returns
    -------
    Survey
    """
    lamps = lamp_sources(placement)
    lighting = _kept_lighting(_lighting(lamps, tree), before)
    pitch = COARSE_PITCH if coarse else PITCH
    zones = [zone for zone in placement.zones if zone.area.area > 0]
    levels = _shown_levels(placement, lamps, zones)
    fields = [field(zone.area, z, PITCH) for zone in zones for z in (zone.high, zone.low)]
    fields += [field(level.area, _top(level, zones), pitch) for level in levels]
    rows = field_rows(lamps, fields, shades_of(placement), before.rows if before else None)
    added = _reflected(placement, lighting)
    known_zones = {zone.part: zone for zone in before.zones} if before else {}
    known_levels = {level.level: level for level in before.levels} if before else {}
    maps = [
        LightMap(field.area, *field.axes, field.z, found, np.zeros_like(found), lighting)
        for field, found in zip(rows.fields, rows.maps, strict=True)
    ]
    return Survey(
        lamps,
        lighting,
        tuple(
            _zone(
                placement, zone, maps[2 * i], maps[2 * i + 1], added.get(zone.level, 0.0),
                known_zones.get(zone.part.id),
            )
            for i, zone in enumerate(zones)
        ),
        tuple(
            _level((level.host, level.number), found, known_levels)
            for level, found in zip(levels, maps[2 * len(zones) :], strict=True)
        ),
        rows,
    )  # fmt: skip


def _kept_lighting(new: Lighting, before: Survey | None) -> Lighting:
    """Return last time's lighting where it is the same, else the new one."""
    old = before.lighting if before else None
    if old is None or old.lamps != new.lamps:
        return new
    alike = all(
        np.array_equal(getattr(old, name), getattr(new, name))
        for name in ("dimming", "levels", "uncertainty", "ppf")
    )
    return old if alike else new


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


def _zone(
    placement: Placement,
    zone: ZonePlace,
    top: LightMap,
    bottom: LightMap,
    reflected: float,
    known: ZoneLight | None,
) -> ZoneLight:
    """Return a zone's light; the known one where it is the same."""
    group = _group(placement, zone)
    names = (zone.part.name, zone.level, reflected)
    if (
        known is not None
        and names == (known.name, known.level, known.reflected)
        and _same(top, known)
        and _same(bottom, known.lowest)
        and group == known.group
    ):
        return known
    return ZoneLight(
        top.area, top.x, top.y, top.z, top.rows, top.reflected_rows, top.lighting,
        zone.part.id, zone.part.name, zone.level, group, bottom, reflected,
    )  # fmt: skip


def _level(
    key: tuple[str, int], found: LightMap, known: dict[tuple[str, int], LevelLight]
) -> LevelLight:
    """Return a level's light; the known one where it is the same."""
    old = known.get(key)
    if old is not None and _same(found, old):
        return old
    return LevelLight(
        found.area, found.x, found.y, found.z, found.rows, found.reflected_rows, found.lighting, key
    )  # fmt: skip


def _same(new: LightMap, old: LightMap) -> bool:
    """Tell whether two maps are of one place, one lighting and the very same rows."""
    return (
        new.rows is old.rows
        and new.lighting is old.lighting
        and new.area == old.area
        and new.z == old.z
    )


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
