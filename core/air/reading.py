"""Readings of air: a design's zones by its jets and the flow, its gaps and its fresh air.

Jets alone never call a place still: what no fan reaches is not known until the flow is. Numbers
become rows in `rows` and `fresh_rows`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.air.coverage import Gap, gaps_of, zones_of
from core.air.fields import AirField, Stage
from core.air.flows import JETS, Flows
from core.air.fresh_rows import fresh_rows
from core.air.from_design import RoomAir, room_air, ventilation
from core.air.reach import Jet, ZoneAir, jet_of
from core.air.rows import wanted_speed, zone_rows
from core.air.solids import solids_of
from core.air.ventilation import Ventilation
from core.model import Fan, FeedLine, Humidistat, Lead, Outlet, Thermostat
from core.phrases import Phrase, phrase
from core.reading import Reading, SubjectReadings, distance_out
from core.states import LIKELY_OUT, OUT, RANK, State
from core.study import Study

_NO_PART_IN_AIR = (FeedLine, Lead, Humidistat, Thermostat)


@dataclass(frozen=True, kw_only=True, eq=False)
class AirReadings(SubjectReadings):
    """Air: readings by zone, and what is drawn of it.

    Attributes
    ----------
    stage : Stage
        What the numbers come from.
    zones : tuple of ZoneAir
        In the order of the parts.
    jets : tuple of Jet
        One for each circulation fan.
    gaps : tuple of Gap
        Where leaves stand in still or too strong air.
    air : RoomAir or None
        What there is to compute; None where nothing moves the air.
    field : AirField or None
        The flow of this very air.
    stale : AirField or None
        The last flow there was, of air that has changed since.
    awaited : bool
        Whether the flow of this very air is still to come.
    ventilation : Ventilation or None
        Of the enclosure.
    """

    subject: str = "air"
    stage: Stage = Stage.JETS
    zones: tuple[ZoneAir, ...] = ()
    jets: tuple[Jet, ...] = ()
    gaps: tuple[Gap, ...] = ()
    air: RoomAir | None = None
    field: AirField | None = None
    stale: AirField | None = None
    awaited: bool = False
    ventilation: Ventilation | None = None

    def zone(self, part_id: str) -> ZoneAir | None:
        """Return the air of one zone by its plants' id."""
        return next((zone for zone in self.zones if zone.part == part_id), None)


def inputs(study: Study) -> Any:
    """Return everything air looks at: all parts but those that neither blow nor stop air."""
    design = study.design
    fixtures = tuple(item for item in design.room.fixtures if not isinstance(item, Outlet))
    parts = tuple(part for part in design.parts if not isinstance(part, _NO_PART_IN_AIR))
    flows = study.flows or JETS
    told = (flows.newest, flows.arrives)
    return design.room.outline, design.room.height, fixtures, design.groups, parts, told


def read(study: Study) -> AirReadings:
    """Return the air readings of a design."""
    placement = study.placement
    solids, flows = solids_of(placement), study.flows or JETS
    fresh = ventilation(placement)
    air = room_air(placement, fresh)
    field = _field(study, flows, air)
    stale = flows.last() if field is None and air is not None else None
    # Where no newer flow is to come, the last one is read at the places of now.
    used = stale if field is None and not flows.arrives else field
    zones = tuple(zones_of(placement, solids, used))
    assumed = _assumed(air, fresh, before=used is not None and used is stale)
    rows = [row for zone in zones for row in zone_rows(study, zone, zones, assumed)]
    if fresh is not None and placement.design.enclosure is not None:
        ages = field.ages if field else None
        rows += fresh_rows(study, placement.design.enclosure, fresh, ages)
    awaited = flows.arrives and air is not None and field is None
    moving = used is not None and not used.stage.settled
    dragged = study.quality == "coarse" and air is not None and used is None
    return AirReadings(
        rows=tuple(rows),
        headline=_headline(rows),
        nothing=_nothing(study, zones, awaited),
        coarse=awaited or moving or dragged or _finer_follows(flows, field),
        passing=awaited or (moving and flows.arrives),
        stage=used.stage if used else Stage.JETS,
        zones=zones,
        jets=tuple(jet_of(placement, fan, solids) for fan in study.design.of(Fan)),
        gaps=tuple(gap for zone in zones for gap in gaps_of(zone, wanted_speed(study, zone)[1])),
        air=air,
        field=field,
        stale=stale,
        awaited=awaited,
        ventilation=fresh,
    )


def _finer_follows(flows: Flows, field: AirField | None) -> bool:
    """Tell whether a flow on finer cells comes by itself, by which zones may read otherwise."""
    if field is None or field.stage is not Stage.SETTLED:
        return False
    return flows.arrives and field.air.fine_cell < field.air.cell


def _assumed(air: RoomAir | None, fresh: Ventilation | None, *, before: bool) -> tuple[Phrase, ...]:
    """Return what was assumed for the flow, and whether it is from before the last change."""
    if air is None:
        return ()
    told = (phrase("The flow is from before the last change"),) if before else ()
    return (*told, *air.assumptions, *(fresh.assumptions if fresh else ()))


def _field(study: Study, flows: Flows, air: RoomAir | None) -> AirField | None:
    """Return the flow, as far as it is to be had: none is computed while something is dragged."""
    if air is None or not (study.quality == "final" or flows.arrives):
        return None
    return flows.field(air)


def _headline(rows: list[Reading]) -> Reading | None:
    """Return the known zone that is worst off: farthest out; of those alike, the slowest."""
    known = [
        row
        for row in rows
        if row.value is not None
        and (row.name == "speed" or (row.name == "speed-fast" and row.state is not State.FINE))
    ]
    return min(known, key=_how_well, default=None)


def _how_well(row: Reading) -> tuple[int, float]:
    """Return how well a zone is off: by state, then by how far it is beyond what is wanted."""
    out = row.state in OUT | LIKELY_OUT
    return RANK[row.state], -distance_out(row) if out else row.value or 0.0


def _nothing(study: Study, zones: tuple[ZoneAir, ...], awaited: bool) -> Phrase:
    if not any(True for _ in study.design.of(Fan)):
        return phrase("no fan yet: not known")
    if not zones:
        return phrase("no plants yet")
    if awaited:
        return phrase("the flow is being computed")
    return phrase("no fan reaches the plants: not known yet")
