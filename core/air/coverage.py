"""The air at every zone from jets and flow together, and its gaps: still or too strong places.

Jets alone are `reach`'s, flows are `fields`'; how a zone's numbers are judged is for `reading`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from core.air.fields import AirField, Stage
from core.air.flow.sources import JET_LENGTH
from core.air.reach import LEAST_OFF, STILL, ZoneAir, jet_speeds, round_jet, zone_air, zone_grid
from core.air.solids import Flags, Floats, Solids
from core.geometry import Rectangle
from core.model import Fan
from core.placement import Placement, ZonePlace

COARSE_OFF = 0.20
"""Least uncertainty of a speed at the edge of a jet, in a preview, and of small fans. [m/s]"""

ACROSS_FAN = 3.0
"""Fewer cells than this across a fan resolve its jet poorly: 0.15 m on 5 cm cells is the least."""

EDGE = 0.25
"""Share of its axis speed at which a jet ends, and the least speed that counts. [1, m/s]"""

Jetted = list[tuple[Fan, Floats, Floats]]
"""Fan, the speeds of its jet at points, and how far these are from it. [m/s, m]"""


@dataclass(frozen=True, eq=False)
class Gap:
    """A place in a zone where the air is still, or too strong.

    Attributes
    ----------
    part : str
        The plants.
    level : tuple of (str, int) or None
    z : float
        Of the leaf tops. [m]
    kind : {"still", "strong"}
    areas : tuple of Rectangle
        They touch but do not overlap. [m]
    share : float
        Of the zone. [0–1]
    speed : float
        Mean within the gap. [m/s]
    """

    part: str
    level: tuple[str, int] | None
    z: float
    kind: str
    areas: tuple[Rectangle, ...]
    share: float
    speed: float


def zones_of(placement: Placement, solids: Solids, field: AirField | None) -> list[ZoneAir]:
    """Return the air at the leaf tops of all zones, by the flow where there is one."""
    by_jets = zone_air(placement, placement.zones, solids)
    if field is None:
        return by_jets
    pairs = zip(placement.zones, by_jets, strict=True)
    return [_by_flow(placement, solids, field, place, zone) for place, zone in pairs]


def _by_flow(
    placement: Placement, solids: Solids, field: AirField, place: ZonePlace, zone: ZoneAir
) -> ZoneAir:
    points = zone_grid(place.area).points(place.high)
    flowing = field.speed_at(points)
    if np.isnan(flowing).all():
        return zone
    jets = _jets(placement, solids, field, points)
    speeds = _larger_near_fans(flowing, jets)
    ages = field.age_at(points)
    known = ages is not None and np.isfinite(ages).any()
    return replace(
        zone,
        speeds=speeds.reshape(zone.speeds.shape),
        by=field.stage,
        off=COARSE_OFF if _is_coarse(field) or _at_edge(jets) else LEAST_OFF,
        age=float(np.nanmean(ages)) if ages is not None and known else None,
    )


def _jets(placement: Placement, solids: Solids, field: AirField, points: Floats) -> Jetted:
    fans = [fan for fan in placement.design.of(Fan) if fan.id in field.air.fans]
    return [
        (
            fan,
            jet_speeds(placement, fan, solids, points),
            np.linalg.norm(points - np.array(placement.box(fan.id).centre), axis=1),
        )
        for fan in fans
    ]


def _larger_near_fans(flowing: Floats, jets: Jetted) -> Floats:
    """Return the flow, or within eight diameters of a fan its jet where that is faster. [m/s]"""
    found = flowing
    for fan, speeds, distance in jets:
        near = (distance < JET_LENGTH * fan.diameter) & (speeds > 0)
        found = np.where(near, np.fmax(found, speeds), found)
    return found


def _is_coarse(field: AirField) -> bool:
    """Tell whether a flow is a preview, or its cells too large for its fans."""
    thin = [fan for fan in field.air.scene.fans if fan.diameter < ACROSS_FAN * field.cell - 1e-6]
    return not field.stage.settled or bool(thin)


def _at_edge(jets: Jetted) -> bool:
    """Tell whether the edge of a jet runs through the points: fast in it, slow beside it."""
    for fan, speeds, distance in jets:
        axis = np.asarray(round_jet(fan).centreline(distance))
        inside: Flags = (speeds > EDGE * axis) & (speeds > EDGE)
        if inside.any() and not inside.all():
            return True
    return False


def gaps_of(zone: ZoneAir, high: float) -> Iterator[Gap]:
    """Iterate over the gaps of one zone whose plants stand air up to ``high`` m/s.

    A jet alone calls nothing still.
    """
    known = np.isfinite(zone.speeds).sum()
    masks = {"still": zone.speeds < STILL, "strong": zone.speeds > high}
    for kind, mask in masks.items():
        if mask.any() and not (kind == "still" and zone.by is Stage.JETS):
            share = float(mask.sum() / known)
            areas = tuple(_rectangles(zone.area, mask))
            speed = float(zone.speeds[mask].mean())
            yield Gap(zone.part, zone.level, zone.z, kind, areas, share, speed)


def _rectangles(area: Rectangle, mask: Flags) -> Iterator[Rectangle]:
    """Iterate over the cells of a mask in few rectangles: runs along x, alike runs joined in y."""
    rows, columns = mask.shape
    across, deep = area.width / columns, area.height / rows
    for cells, same in groupby(range(rows), key=lambda row: mask[row].tobytes()):
        del cells
        numbers = list(same)
        for first, last in _runs(mask[numbers[0]]):
            yield Rectangle(
                area.x0 + first * across,
                area.y0 + numbers[0] * deep,
                area.x0 + last * across,
                area.y0 + (numbers[-1] + 1) * deep,
            )


def _runs(row: Flags) -> Iterator[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(int)))
    return zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)
