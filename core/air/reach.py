"""What the jets of a design's fans do at its zones, and how far each of them gets.

A jet is the free one of `core.air.jets`, stopped by what stands in its line of sight. Where no
jet gets to, nothing is said: the room's own air may move there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from core.air.jets import RoundJet
from core.air.solids import Floats, Solids
from core.air.stage import Stage
from core.geometry import Rectangle, Vector, pointing
from core.light.canopy import CellGrid, cell_grid
from core.model import Fan, Room
from core.placement import Placement, ZonePlace

STILL = 0.10
"""Speed from which a jet counts as having got to a place. [m/s]"""

MARKS = (0.5, 0.3, 0.1)
"""Speeds whose distance is drawn along a jet. [m/s]"""

MET = 0.5
"""Share of a zone that jets must get to before its air is called known. [1]"""

PITCH = 0.10
"""Pitch of the grid that air is read on. [m]"""

LEAST_OFF = 0.10
"""Least uncertainty of a speed. [m/s]"""

_AIMS = 9
"""Directions that an oscillating fan's sweep is averaged over."""


@dataclass(frozen=True, eq=False)
class Jet:
    """One fan's jet, for the drawing.

    Attributes
    ----------
    fan, name : str
    origin : tuple of float
        [m]
    direction : tuple of float
        Unit vector; the middle of the sweep.
    sweep : float
        Whole angle that it covers. [degrees]
    jet : RoundJet
    end : float
        Distance at which its axis meets something. [m]
    blocked_by : str
        Id of the part it meets; empty for the walls of the room.
    """

    fan: str
    name: str
    origin: Vector
    direction: Vector
    sweep: float
    jet: RoundJet
    end: float
    blocked_by: str

    @property
    def throws(self) -> dict[float, float]:
        """Distance along the axis to each of `MARKS`, no farther than its end. [m/s: m]"""
        return {speed: min(self.jet.throw(speed), self.end) for speed in MARKS}

    @property
    def reach(self) -> float:
        """Distance at which it has fallen to `STILL`, no farther than its end. [m]"""
        return self.throws[STILL]

    def half_width(self, distance: float) -> float:
        """Radius of half the axis speed at a distance. [m]"""
        return float(self.jet.half_width(distance))

    def at(self, distance: float) -> Vector:
        """Return the point on the axis at a distance. [m]"""
        x, y, z = (o + distance * d for o, d in zip(self.origin, self.direction, strict=True))
        return x, y, z


@dataclass(frozen=True, eq=False)
class ZoneAir:
    """The air at one zone's leaf tops, as far as it is known.

    Attributes
    ----------
    part, name : str
        The plants.
    level : tuple of (str, int) or None
    area : Rectangle
    x, y : ndarray
        Centres of the columns and rows of cells. [m]
    z : float
        [m]
    speeds : ndarray, shape (y, x)
        Not a number where they are not known: where no jet gets to, before there is a flow. [m/s]
    fan : str
        Id of the fan whose jet gives most here; empty when none gets to the zone.
    by : Stage
        What the speeds come from.
    off : float
        Least uncertainty of a speed. [m/s]
    age : float or None
        Mean age of the air, where there is an intake or exhaust. [s]
    """

    part: str
    name: str
    level: tuple[str, int] | None
    area: Rectangle
    x: Floats
    y: Floats
    z: float
    speeds: Floats
    fan: str
    by: Stage = Stage.JETS
    off: float = LEAST_OFF
    age: float | None = None

    @property
    def met(self) -> float:
        """Share of the zone whose air is known: that jets get to, before there is a flow. [0–1]"""
        return float(np.isfinite(self.speeds).mean())

    @property
    def mean(self) -> float | None:
        """Mean over what is known; None where that is less than `MET` of the zone. [m/s]"""
        return float(np.nanmean(self.speeds)) if self.met >= MET else None

    @property
    def slow(self) -> float | None:
        """Speed that a tenth of the zone stays below; None before there is a flow. [m/s]"""
        if self.by is Stage.JETS or self.mean is None:
            return None
        return float(np.nanpercentile(self.speeds, 10, method="lower"))

    @property
    def fast(self) -> float | None:
        """Speed that a tenth of what is known goes beyond. [m/s]"""
        if self.met == 0:
            return None
        return float(np.nanpercentile(self.speeds, 90, method="higher"))

    @property
    def highest(self) -> float | None:
        """[m/s]"""
        return float(np.nanmax(self.speeds)) if self.met > 0 else None

    def share_below(self, speed: float) -> float | None:
        """Return the share of the zone slower than a speed; None before there is a flow. [0–1]"""
        if self.by is Stage.JETS or self.mean is None:
            return None
        return float((self.speeds < speed).sum() / np.isfinite(self.speeds).sum())

    def share_above(self, speed: float) -> float:
        """Return the share of what is known that is faster than a speed. [0–1]"""
        known = np.isfinite(self.speeds).sum()
        return float((self.speeds > speed).sum() / known) if known else 0.0


def aim(fan: Fan, swing: float = 0.0) -> Vector:
    """Return the unit vector a fan blows along, turned by ``swing`` degrees about upright."""
    return pointing(fan.heading + swing, fan.elevation)


def round_jet(fan: Fan) -> RoundJet:
    """Return a fan's jet as it is set; flow goes with speed."""
    return RoundJet(fan.flow * fan.speed_setting, fan.diameter)


def jet_of(placement: Placement, fan: Fan, solids: Solids) -> Jet:
    """Return a fan's jet up to where its axis is stopped."""
    origin, direction = placement.box(fan.id).centre, aim(fan)
    far = _way_out(placement.design.room, origin, direction)
    end, stopper = solids.but(fan.id).first_hit(origin, direction, far)
    return Jet(fan.id, fan.name, origin, direction, fan.sweep, round_jet(fan), end, stopper)


def _way_out(room: Room, origin: Vector, direction: Vector) -> float:
    """Return the distance to the room's walls, floor or ceiling, by its box. [m]"""
    xs, ys = zip(*room.outline, strict=True)
    low, high = (min(xs), min(ys), 0.0), (max(xs), max(ys), room.height)
    ways = [
        ((high[i] if direction[i] > 0 else low[i]) - origin[i]) / direction[i]
        for i in range(3)
        if abs(direction[i]) > 1e-9
    ]
    return max(min(ways, default=0.0), 1e-3)


def zone_air(placement: Placement, zones: tuple[ZonePlace, ...], solids: Solids) -> list[ZoneAir]:
    """Return the air at the leaf tops of zones by the strongest jet at each cell."""
    if not zones:
        return []
    grids = [zone_grid(zone.area) for zone in zones]
    fans = tuple(placement.design.of(Fan))
    points = np.concatenate([g.points(z.high) for g, z in zip(grids, zones, strict=True)])
    speeds = np.array([jet_speeds(placement, fan, solids, points) for fan in fans])
    ends = np.cumsum([grid.x.size for grid in grids])[:-1]
    parts = np.split(speeds.reshape(len(fans), len(points)), ends, axis=1)
    ids = tuple(fan.id for fan in fans)
    return [_zone(*each, ids) for each in zip(zones, grids, parts, strict=True)]


@lru_cache(maxsize=256)
def zone_grid(area: Rectangle) -> CellGrid:
    """Return the cells that the air of a zone is read on."""
    return cell_grid(area.x0, area.y0, area.width, area.height, PITCH)


def _zone(zone: ZonePlace, grid: CellGrid, speeds: Floats, fans: tuple[str, ...]) -> ZoneAir:
    """Return one zone's air from each fan's speed at its cells, shape (fans, cells)."""
    strongest = speeds.max(axis=0, initial=0.0)
    met = strongest >= STILL
    most = fans[int(np.argmax(speeds.mean(axis=1)))] if met.any() else ""
    return ZoneAir(
        zone.part.id, zone.part.name, zone.level, zone.area,
        grid.x[: grid.columns], grid.y[:: grid.columns], zone.high,
        grid.as_map(np.where(met, strongest, np.nan)), most,
    )  # fmt: skip


def jet_speeds(placement: Placement, fan: Fan, solids: Solids, points: Floats) -> Floats:
    """Return the speed of one fan's jet at points, 0 where it cannot be seen. [m/s]

    An oscillating fan's is averaged over its sweep.
    """
    origin = placement.box(fan.id).centre
    way = points - np.array(origin)
    swings = np.linspace(-fan.sweep / 2, fan.sweep / 2, _AIMS) if fan.sweep > 0 else (0.0,)
    jet = round_jet(fan)
    total = sum((_along(jet, way, aim(fan, float(swing))) for swing in swings), np.zeros(len(way)))
    mean = total / len(swings)
    near = mean >= STILL
    seen = np.zeros(len(points), dtype=bool)
    seen[near] = solids.but(fan.id).clear(origin, points[near])
    return np.where(seen, mean, 0.0)


def _along(jet: RoundJet, way: Floats, direction: Vector) -> Floats:
    ahead = way @ np.array(direction)
    beside = np.sqrt(np.maximum((way * way).sum(axis=1) - ahead * ahead, 0.0))
    return np.asarray(jet.speed(ahead, beside))
