"""Light at one place, read off a map that is already there: nothing is computed anew.

Maps are made in `core.light.survey`; which map a place belongs to is said here, too.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from core.light.distribution import cell, mix
from core.light.from_design import LampSource
from core.light.given import Floats
from core.light.lamp_light import kind_of_light
from core.light.maps import LevelLight, LightMap, ZoneLight
from core.light.meter import lux_of
from core.placement import Placement

Place = tuple[float, float, float]
"""x, y, z in the room. [m]"""

_TOUCH = 1e-6


@dataclass(frozen=True)
class PointLight:
    """The light at one place.

    Attributes
    ----------
    ppfd : float
        At the time asked for. [µmol m⁻² s⁻¹]
    reflected : float
        The part of it that reached the place by way of other surfaces. [µmol m⁻² s⁻¹]
    daily : float
        Of the whole day, timers and ramps included. [mol m⁻² d⁻¹]
    lamps : tuple of (str, float)
        Ids of the lamps that give any of it and what each gives, the strongest first.
        [µmol m⁻² s⁻¹]
    """

    ppfd: float
    reflected: float
    daily: float
    lamps: tuple[tuple[str, float], ...]

    @property
    def direct_share(self) -> float | None:
        """Share that comes straight from the lamps; None in the dark. [0–1]"""
        return 1.0 - self.reflected / self.ppfd if self.ppfd > 0 else None


def light_at(over: LightMap, x: float, y: float, minute: int | None = None) -> PointLight:
    """Return the light at a place on a map, linear between the cells' centres.

    Beyond the outermost centres their values hold.

    Parameters
    ----------
    over : LightMap
    x, y : float
        [m]
    minute : int, optional
        Minute of the day; None is the mean over the lit hours, as on the map.

    Returns
    -------
    PointLight
    """
    rows = _between(over, over.rows, x, y)
    weights = over.weights(minute)
    each = rows * weights
    reflected = float(_between(over, over.reflected_rows, x, y) @ weights)
    order = np.argsort(-each, kind="stable")
    lamps = tuple((over.lighting.lamps[i], float(each[i])) for i in order if each[i] > 0)
    return PointLight(float(each.sum()), reflected, float(rows @ over.daily_weights), lamps)


def lux_of_point(found: PointLight, lamps: Sequence[LampSource]) -> float:
    """Return the lux at a place, each lamp's light by its own kind of light. [lx]"""
    parts = {lamp.part.id: lamp.part for lamp in lamps}
    return sum(
        float(lux_of(value, kind_of_light(parts[key])[0]))
        for key, value in found.lamps
        if key in parts
    )


def _between(over: LightMap, rows: Floats, x: float, y: float) -> Floats:
    """Return each lamp's value at a place, linear between the four cells round it."""
    (left, right, across), (near, far, back) = _bracket(over.x, x), _bracket(over.y, y)
    front = mix(rows[:, near, left], rows[:, near, right], across)
    behind = mix(rows[:, far, left], rows[:, far, right], across)
    return np.asarray(mix(front, behind, back))


def _bracket(centres: Floats, at: float) -> tuple[int, int, float]:
    """Return the cells on both sides of a place along one axis, and its share of the way."""
    if centres.size == 1:
        return 0, 0, 0.0
    low, way = cell(centres, np.asarray(at))
    return int(low), int(low) + 1, float(way)


def map_at(
    zones: Iterable[ZoneLight], levels: Iterable[LevelLight], placement: Placement, place: Place
) -> LightMap | None:
    """Return the map that tells of a place: that of the zone it is in, else of its level.

    A place belongs to the level whose shelf lies next below it; None where no map reaches.
    """
    spaces = {
        (one.host, one.number)
        for one in placement.levels
        if one.z - _TOUCH <= place[2] <= one.above + _TOUCH
    }
    here = [one for one in levels if one.level in spaces and _holds(one, place)]
    # The floor's space reaches up through the racks on it; the nearest leaves are meant.
    level = min(here, key=lambda one: abs(one.z - place[2]), default=None)
    if level is None:
        return None
    inside = [one for one in zones if one.level == level.level and _holds(one, place)]
    return min(inside, key=lambda one: abs(one.z - place[2]), default=level)


def _holds(over: LightMap, place: Place) -> bool:
    area = over.area
    return area.x0 <= place[0] <= area.x1 and area.y0 <= place[1] <= area.y1
