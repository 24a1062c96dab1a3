"""Runs the light of a design, direct and reflected, over all its zones and levels.

What is wanted and how sure the numbers are is said in `core.light.reading`.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from core.light.canopy import PITCH
from core.light.direct import kernels_ready
from core.light.field_rows import Field, FieldRows, field, field_rows
from core.light.from_design import LampSource, lamp_sources, shades_of
from core.light.given import Floats
from core.light.maps import LevelLight, Lighting, LightMap, ZoneLight
from core.light.reflected_rows import (
    COARSE,
    FINE,
    MOST_COARSE,
    MOST_FINE,
    MOST_PLAIN,
    PLAIN,
    UNSETTLED_COARSE,
    Fineness,
    ReflectedRows,
    reflected_rows,
)
from core.light.surroundings import surroundings
from core.model import PlantGroup
from core.phrases import Amount, Phrase, phrase
from core.placement import Level, Placement, ZonePlace
from core.power.tree import PlugTree

COARSE_PITCH = 0.10
"""Pitch of the levels' maps while something is dragged; zones keep theirs. [m]"""

_WIDENED = 1.25
"""Patches that much wider than they should be are told of."""

BARE_HEIGHT = 0.10
"""Height above a level without plants that its map is read at. [m]"""


@dataclass(frozen=True, eq=False)
class Survey:
    """The light of a design: its lamps, its zones, its levels, and the rows they are made of.

    ``totals`` are direct and reflected rows together; ``assumptions`` says what was taken for
    granted about reflections.
    """

    lamps: tuple[LampSource, ...]
    lighting: Lighting
    zones: tuple[ZoneLight, ...]
    levels: tuple[LevelLight, ...]
    rows: FieldRows
    reflected: ReflectedRows
    totals: tuple[Floats, ...]
    assumptions: tuple[Phrase, ...]


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
    zones = [zone for zone in placement.zones if zone.area.area > 0]
    levels = _shown_levels(placement, lamps, zones)
    fields, places = _fields(zones, levels, COARSE_PITCH if coarse else PITCH)
    rows = field_rows(lamps, fields, shades_of(placement), before.rows if before else None)
    around = surroundings(placement, lamps, coarse=coarse or not kernels_ready())
    fineness = _fineness(coarse)
    sent_on = reflected_rows(
        lamps, rows.fields, places, around.panes, fineness, before.reflected if before else None
    )
    lighting = _kept_lighting(_lighting(lamps, tree, sent_on.lost), before)
    totals = _totals(rows, sent_on, before)
    maps = [
        LightMap(field.area, *field.axes, field.z, total, added, lighting)
        for field, total, added in zip(rows.fields, totals, sent_on.maps, strict=True)
    ]
    known_zones = {zone.part: zone for zone in before.zones} if before else {}
    known_levels = {level.level: level for level in before.levels} if before else {}
    return Survey(
        lamps,
        lighting,
        tuple(
            _zone(placement, zone, maps[2 * i], maps[2 * i + 1], known_zones.get(zone.part.id))
            for i, zone in enumerate(zones)
        ),
        tuple(
            _level((level.host, level.number), found, known_levels)
            for level, found in zip(levels, maps[2 * len(zones) :], strict=True)
        ),
        rows,
        sent_on,
        totals,
        (*around.assumptions, *_said_of(fineness, sent_on)),
    )  # fmt: skip


def _fields(
    zones: Sequence[ZonePlace], levels: Sequence[Level], pitch: float
) -> tuple[tuple[Field, ...], tuple[Hashable, ...]]:
    """Return where light is read, zones' leaf tops and lowest leaves first, and whose each is."""
    fields = [field(zone.area, z, PITCH) for zone in zones for z in (zone.high, zone.low)]
    fields += [field(level.area, _top(level, zones), pitch) for level in levels]
    places: list[Hashable] = [zone.level or zone.part.id for zone in zones for _ in range(2)]
    places += [(level.host, level.number) for level in levels]
    return tuple(fields), tuple(places)


def _fineness(coarse: bool) -> Fineness:
    if not kernels_ready():
        return Fineness(PLAIN, MOST_PLAIN)
    if coarse:
        return Fineness(COARSE, MOST_COARSE, UNSETTLED_COARSE)
    return Fineness(FINE, MOST_FINE)


def _said_of(fineness: Fineness, found: ReflectedRows) -> Iterator[Phrase]:
    """Iterate over what must be said of how coarsely reflections were computed."""
    if fineness.patch == PLAIN:
        yield phrase("Reflections are coarse while the program gets its kernels ready")
    elif found.patch > _WIDENED * fineness.patch:
        yield phrase(
            "There is much to reflect: surfaces are divided at {width} rather than {usual}",
            width=Amount(found.patch, "length"), usual=Amount(fineness.patch, "length"),
        )  # fmt: skip


def _totals(rows: FieldRows, sent_on: ReflectedRows, before: Survey | None) -> tuple[Floats, ...]:
    """Return direct and reflected light together; last time's objects where neither is new."""
    known: dict[tuple[int, int], Floats] = {}
    if before is not None:
        parts = zip(before.rows.maps, before.reflected.maps, before.totals, strict=True)
        known = {(id(direct), id(added)): total for direct, added, total in parts}
    found = []
    for direct, added in zip(rows.maps, sent_on.maps, strict=True):
        total = known.get((id(direct), id(added)))
        found.append(direct + added if total is None else total)
    return tuple(found)


def _kept_lighting(new: Lighting, before: Survey | None) -> Lighting:
    """Return last time's lighting where it is the same, else the new one."""
    old = before.lighting if before else None
    if old is None or old.lamps != new.lamps:
        return new
    alike = all(
        np.array_equal(getattr(old, name), getattr(new, name))
        for name in ("dimming", "levels", "uncertainty", "ppf", "lost")
    )
    return old if alike else new


def _lighting(lamps: Sequence[LampSource], tree: PlugTree, lost: Floats) -> Lighting:
    parts = [lamp.part for lamp in lamps]
    return Lighting(
        tuple(part.id for part in parts),
        np.array([part.dimming for part in parts], dtype=float),
        np.array([tree.level(part) for part in parts]).reshape(-1, 1440),
        np.array([lamp.flux.uncertainty for lamp in lamps], dtype=float),
        np.array([lamp.ppf for lamp in lamps], dtype=float),
        lost,
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
    known: ZoneLight | None,
) -> ZoneLight:
    """Return a zone's light; the known one where it is the same."""
    group = _group(placement, zone)
    if (
        known is not None
        and (zone.part.name, zone.level) == (known.name, known.level)
        and _same(top, known)
        and _same(bottom, known.lowest)
        and group == known.group
    ):
        return known
    return ZoneLight(
        top.area, top.x, top.y, top.z, top.rows, top.reflected_rows, top.lighting,
        zone.part.id, zone.part.name, zone.level, group, bottom,
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
