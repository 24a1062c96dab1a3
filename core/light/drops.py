"""How near and how far the lamps over a zone may hang for its plants: a search with the engine.

The lamps that belong to a zone's level are raised and lowered together; what they then give is
computed anew, what others give stays. Readings are made of it in `core.light.zone_advice`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from core.light.canopy import PITCH
from core.light.direct import direct_rows
from core.light.field_rows import field, grid_points
from core.light.from_design import LampSource, Shade, as_obstacles, shades_of
from core.light.given import Floats
from core.light.maps import ZoneLight
from core.light.obstacles import NOBODY
from core.light.scene import Lamp as Source
from core.model import Lamp
from core.placement import Placement

NEAREST = 0.03
"""Lamps are kept this far above the highest leaves (common practice, no source). [m]"""

_TRIALS = 11
_MOVABLE = ("under", "hung")
_CLOSE = 0.01
_DARK = 1e-9


@dataclass(frozen=True, eq=False)
class Drops:
    """How far the lowest of a zone's own lamps may hang above its highest leaves.

    Attributes
    ----------
    lamps : tuple of str
        Ids of the lamps that are moved together.
    now : float
        From the lowest lit face to the leaf tops. [m]
    drops : ndarray
        What was tried, rising: from close over the leaves to as high as there is room. [m]
    cells : ndarray, shape (drops, cells)
        The light over the zone there. [µmol m⁻² s⁻¹]
    """

    lamps: tuple[str, ...]
    now: float
    drops: Floats
    cells: Floats

    @cached_property
    def means(self) -> Floats:
        """The zone's mean light at each drop that was tried. [µmol m⁻² s⁻¹]"""
        found: Floats = self.cells.mean(axis=1)
        return found

    @property
    def nearest(self) -> float:
        """The least drop there can be. [m]"""
        return float(self.drops[0])

    @property
    def farthest(self) -> float:
        """The greatest drop that there is room for. [m]"""
        return float(self.drops[-1])

    def inside(self, want: tuple[float | None, float | None]) -> tuple[float, float] | None:
        """Return the smallest and the largest drop at which the mean is as wanted. [m]

        They are `nearest` or `farthest` where no more can be hung; None where no drop will do.
        """
        low, high = want
        least = self.nearest if high is None else self.where(high)
        most = self.farthest if low is None else self.where(low)
        at_least, at_most = self.light(least), self.light(most)
        bright = low is None or at_least >= low * (1 - _CLOSE)
        dim = high is None or at_most <= high * (1 + _CLOSE)
        return (least, most) if bright and dim and least <= most else None

    def where(self, mean: float) -> float:
        """Return the drop at which the mean is this high, or the nearest that can be hung. [m]

        From there on outwards nothing is brighter; a spot close over a few leaves leaves the
        others dark. Between what was tried, both go as powers of each other.
        """
        beyond = np.maximum.accumulate(self.means[::-1])[::-1]
        at = np.interp(-np.log(max(mean, _DARK)), -np.log(beyond + _DARK), np.log(self.drops))
        return float(np.exp(at))

    def light(self, drop: float) -> float:
        """Return the zone's mean light at a drop. [µmol m⁻² s⁻¹]"""
        at = np.interp(np.log(drop), np.log(self.drops), np.log(self.means + _DARK))
        return float(np.exp(at))

    def even(self, want: tuple[float | None, float | None], least: float) -> float | None:
        """Return the drop nearest to now at which enough of the leaves get what is wanted. [m]

        ``least`` is the share of the zone that is enough. Only drops that were tried are looked
        at; None where none of them will do.
        """
        low, high = want
        bright = (self.cells >= (low or 0.0)) & (self.cells <= (np.inf if high is None else high))
        good = self.drops[bright.mean(axis=1) >= least]
        return float(good[np.argmin(np.abs(good - self.now))]) if good.size else None


def drops_of(placement: Placement, lamps: Sequence[LampSource], zone: ZoneLight) -> Drops | None:
    """Return what raising and lowering a zone's own lamps would do to its light.

    Parameters
    ----------
    placement : Placement
    lamps : sequence of LampSource
        All lamps of the design, in the order of the zone's rows.
    zone : ZoneLight

    Returns
    -------
    Drops or None
        None where the level has no lamp that shines, or one that hangs from nothing.

    Notes
    -----
    The lamps' own casings are left out of the way while they are moved, and what they give by
    way of other surfaces is taken as it is now; both are set right by the light as it is.
    """
    own = own_lamps(placement, lamps, zone)
    if not own:
        return None
    now = min(source.centre[2] for n in own for source in lamps[n].sources) - zone.z
    if now <= NEAREST or zone.mean <= 0:
        return None
    farthest = now + min(lamps[n].part.place.z for n in own)
    drops = np.unique(np.append(np.geomspace(NEAREST, farthest, _TRIALS), now))
    cells = _cells(placement, lamps, zone, own, drops - now)
    return Drops(tuple(lamps[n].part.id for n in own), now, drops, cells)


def own_lamps(placement: Placement, lamps: Sequence[LampSource], zone: ZoneLight) -> list[int]:
    """Return the numbers of the lamps that shine over a zone's level; none if one is fixed."""
    found = [
        number
        for number, lamp in enumerate(lamps)
        if lamp.ppf * lamp.part.dimming > 0 and placement.level_of(lamp.part.id) == zone.level
    ]
    return found if all(may_hang(lamps[number].part) for number in found) else []


def may_hang(lamp: Lamp) -> bool:
    """Tell whether a lamp hangs from something, so that it can be raised and lowered."""
    return lamp.place.fixing in _MOVABLE


def _cells(
    placement: Placement,
    lamps: Sequence[LampSource],
    zone: ZoneLight,
    own: list[int],
    shifts: Floats,
) -> Floats:
    """Return the zone's light with its own lamps raised by some lengths, shape (shifts, cells)."""
    weights = zone.weights(None)[own]
    rows, reflected = (each[own].reshape(len(own), -1) for each in (zone.rows, zone.reflected_rows))
    trials = _direct(zone, [lamps[n] for n in own], _shades(placement, own), shifts)
    still = trials[int(np.argmin(np.abs(shifts)))].mean(axis=1)
    now = (rows - reflected).mean(axis=1)
    right = np.divide(now, still, out=np.ones_like(now), where=still > _DARK)
    moved = np.einsum("l,slc->sc", weights * right, trials)
    others = zone.usual.ravel() - weights @ (rows - reflected)
    found: Floats = moved + others
    return found


def _direct(
    zone: ZoneLight, own: Sequence[LampSource], shades: Sequence[Shade], shifts: Floats
) -> Floats:
    """Return direct light of lamps raised by some lengths, shape (shifts, lamps, cells)."""
    points = grid_points((field(zone.area, zone.z, PITCH),))
    sources = [_raised(one, up) for up in shifts.tolist() for lamp in own for one in lamp.sources]
    rows = direct_rows(sources, points, as_obstacles(shades))
    counts = [len(lamp.sources) for lamp in own]
    first = np.cumsum([0, *counts])[:-1]
    found: Floats = np.add.reduceat(rows.reshape(shifts.size, sum(counts), -1), first, axis=1)
    return found


def _raised(source: Source, by: float) -> Source:
    x, y, z = source.centre
    return replace(source, centre=(x, y, z + by))


def _shades(placement: Placement, own: Sequence[int]) -> list[Shade]:
    """Return what stands in the way but for the casings of the lamps that are moved."""
    return [
        shade for shade in shades_of(placement) if shade.owner == NOBODY or shade.owner not in own
    ]
