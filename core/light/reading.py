"""Readings of light: each zone's leaf tops and lowest leaves against what its plants want.

The light itself is computed in `core.light.survey`; it becomes readings in `core.light.zone_rows`,
`zone_advice` and `whole_rows`, which are put together and kept here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from core.light.direct import kernels_ready
from core.light.drops import Drops, drops_of
from core.light.from_design import LampSource
from core.light.lamp_light import kind_of_light
from core.light.maps import LevelLight, ZoneLight
from core.light.methods import METHOD_OFF
from core.light.survey import Survey, survey
from core.light.whole_rows import efficacy, kwh_per_mol, level_rows, use, whole_rows
from core.light.zone_advice import advice_rows
from core.light.zone_rows import ZoneRows, light_number
from core.model import FeedLine, Humidistat, Lead, Outlet, Thermostat
from core.phrases import Phrase, phrase
from core.power.tree import PlugTree
from core.reading import Reading, SubjectReadings, worst
from core.states import State
from core.study import Study

__all__ = ["LightReadings", "inputs", "light_number", "read"]

_NO_PART_IN_LIGHT = (FeedLine, Lead, Humidistat, Thermostat)

_ORDER = (
    "ppfd", "ppfd-lowest", "dli", "ppfd-least", "ppfd-most", "uniformity", "reflected", "lux",
    "dimming", "hours", "drop",
)  # fmt: skip
"""The order in which the readings of all zones stand."""


@dataclass(frozen=True, kw_only=True, eq=False)
class LightReadings(SubjectReadings):
    """Light: readings by zone, and the maps that are drawn.

    Attributes
    ----------
    zones : tuple of ZoneLight
        In the order of the parts.
    levels : tuple of LevelLight
        Levels that have plants or lamps.
    by_zone : tuple of tuple of Reading
        The readings of each zone, in the order of ``zones``.
    drops : mapping of str to Drops
        What raising and lowering its own lamps does to each zone, by its plants' id; empty while
        something is dragged.
    method : float
        Relative uncertainty of the method. [1]
    efficacy : float or None
        Photons per energy of all lamps together. [µmol/J]
    kwh_per_mol : float or None
        Energy for each mole of photons that lands on a zone's leaf tops. [kWh/mol]
    use : float or None
        Photons that land on leaf tops for the lamps' energy. [µmol/J]
    survey : Survey or None
        What the readings were made of, for the next time.
    """

    subject: str = "light"
    zones: tuple[ZoneLight, ...] = ()
    levels: tuple[LevelLight, ...] = ()
    by_zone: tuple[tuple[Reading, ...], ...] = ()
    drops: Mapping[str, Drops] = field(default_factory=dict)
    method: float = METHOD_OFF
    efficacy: float | None = None
    kwh_per_mol: float | None = None
    use: float | None = None
    survey: Survey | None = None

    def zone(self, part_id: str) -> ZoneLight | None:
        """Return the light of one zone by its plants' id."""
        return next((zone for zone in self.zones if zone.part == part_id), None)

    def level(self, level: tuple[str, int] | None) -> LevelLight | None:
        """Return the light of one level."""
        return next((one for one in self.levels if one.level == level), None)


def inputs(study: Study) -> Any:
    """Return everything light looks at: all parts but those that neither shine nor shade.

    Reflections are coarse until the kernels are there, so what is read before is read anew then.
    """
    design = study.design
    fixtures = tuple(item for item in design.room.fixtures if not isinstance(item, Outlet))
    parts = tuple(part for part in design.parts if not isinstance(part, _NO_PART_IN_LIGHT))
    room = design.room.outline, design.room.height
    return kernels_ready(), room, fixtures, design.groups, parts


def read(study: Study) -> LightReadings:
    """Return the light readings of a design."""
    coarse = study.quality == "coarse"
    tree = PlugTree(study.design)
    before = study.before.get("light")
    known = before if isinstance(before, LightReadings) else None
    found = survey(study.placement, tree, coarse=coarse, before=known.survey if known else None)
    drops = _drops(study, found, known)
    look = ZoneRows(study, found, METHOD_OFF)
    by_zone = _by_zone(look, known, drops)
    zones = tuple(row for name in _ORDER for rows in by_zone for row in rows if row.name == name)
    levels = () if coarse else tuple(level_rows(study, found, METHOD_OFF))
    return LightReadings(
        rows=(*zones, *levels, *whole_rows(found, METHOD_OFF)),
        headline=_headline(zones),
        nothing=_nothing(found),
        coarse=coarse,
        zones=found.zones,
        levels=found.levels,
        by_zone=by_zone,
        drops=drops,
        efficacy=efficacy(found),
        kwh_per_mol=kwh_per_mol(found),
        use=use(found),
        survey=found,
    )


def _by_zone(
    look: ZoneRows, known: LightReadings | None, drops: Mapping[str, Drops]
) -> tuple[tuple[Reading, ...], ...]:
    """Return each zone's readings: the known ones where its light and its name are the same."""
    before = _known_rows(look, known)
    found = []
    for zone in look.found.zones:
        rows = before.get(zone)
        if rows is None or rows[0].where != look.where(zone):
            rows = tuple(look.rows(zone))
            if look.study.quality == "final":
                rows += tuple(advice_rows(look, zone, drops.get(zone.part)))
        found.append(rows)
    return tuple(found)


def _known_rows(
    look: ZoneRows, known: LightReadings | None
) -> dict[ZoneLight, tuple[Reading, ...]]:
    """Return last time's readings of each zone; none when lamps are told of in other words."""
    if known is None or known.survey is None:
        return {}
    if list(map(_told_of, known.survey.lamps)) != list(map(_told_of, look.found.lamps)):
        return {}
    if known.survey.assumptions != look.found.assumptions:
        return {}
    return dict(zip(known.zones, known.by_zone, strict=True))


def _drops(study: Study, found: Survey, known: LightReadings | None) -> dict[str, Drops]:
    """Return what raising and lowering lamps would do to each zone; nothing while dragging."""
    if study.quality == "coarse":
        return {}
    before = {zone: zone.part for zone in known.zones} if known else {}
    tried: dict[str, Drops | None] = {
        zone.part: known.drops.get(zone.part)
        if known is not None and zone in before
        else drops_of(study.placement, found.lamps, zone)
        for zone in found.zones
    }
    return {part: drops for part, drops in tried.items() if drops is not None}


def _told_of(lamp: LampSource) -> tuple[object, ...]:
    """Return what the readings of zones may say of a lamp, its kind of light included."""
    part = lamp.part
    return part.id, part.name, lamp.flux.assumption, lamp.ppf == 0, kind_of_light(part)


def _nothing(found: Survey) -> Phrase:
    if not found.lamps:
        return phrase("no lamp yet")
    return phrase("no plants yet")


def _headline(rows: tuple[Reading, ...]) -> Reading | None:
    """Return the reading farthest out among those that something is wanted of."""
    plain = tuple(row for row in rows if row.name in ("ppfd", "ppfd-lowest"))
    asked = tuple(row for row in plain if row.state is not State.UNASKED)
    return worst(asked) or worst(tuple(row for row in plain if row.name == "ppfd"))
