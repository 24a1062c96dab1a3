"""The light over one zone or one level: a row for each lamp, and what a grower reads off it.

Rows are at full power; dimming and hours weigh them, so that the time shown costs nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.geometry import Rectangle
from core.light.canopy import CanopyLight, canopy_light, share_in_range
from core.light.given import Flags, Floats
from core.model import PlantGroup

LIT_SHARE = 0.1
"""A minute counts as lit when its light is at least this share of the day's brightest. [1]"""

PPFD_HOUR = 0.0036
"""Photons of one µmol m⁻² s⁻¹ in an hour. [mol m⁻²]"""

REFLECTANCE_OFF = 0.20
"""Relative uncertainty of the reflected part of the light: of ρ/(1 − ρ) at ρ = 0.5 ± 0.05. [1]"""

_LIGHTING = 0.05
"""A lamp lights a place when it gives at least this share of its light. [1]"""


@dataclass(frozen=True, eq=False)
class Lighting:
    """All lamps of a design: who they are, how they are set and when they are on.

    Attributes
    ----------
    lamps : tuple of str
        Part ids, in the order of all rows.
    dimming : ndarray, shape (lamps,)
        [0–1]
    levels : ndarray, shape (lamps, 1440)
        Share of its set light by the minute, timers and ramps included. [0–1]
    uncertainty : ndarray, shape (lamps,)
        Of each lamp's photon flux, relative.
    ppf : ndarray, shape (lamps,)
        Photon flux at full power. [µmol s⁻¹]
    lost : ndarray, shape (lamps,), or None
        Share of each lamp's photons that leaves the growing space through covers and open faces;
        None where that is not known. [0–1]
    """

    lamps: tuple[str, ...]
    dimming: Floats
    levels: Floats
    uncertainty: Floats
    ppf: Floats
    lost: Floats | None = None

    @cached_property
    def on(self) -> Floats:
        """1 in the minutes each lamp has any light, else 0, shape (lamps, 1440)."""
        return (self.levels > 0).astype(float)


@dataclass(frozen=True, eq=False)
class LightMap:
    """Light on a grid of cells over a rectangle.

    Attributes
    ----------
    area : Rectangle
        [m]
    x, y : ndarray
        Centres of the columns and of the rows of cells. [m]
    z : float
        Height of the leaf tops that it is read at. [m]
    rows : ndarray, shape (lamps, y, x)
        Light of each lamp at full power, direct and reflected. [µmol m⁻² s⁻¹]
    reflected_rows : ndarray, shape (lamps, y, x)
        The reflected part of it. [µmol m⁻² s⁻¹]
    lighting : Lighting
    """

    area: Rectangle
    x: Floats
    y: Floats
    z: float
    rows: Floats
    reflected_rows: Floats
    lighting: Lighting

    @cached_property
    def means(self) -> Floats:
        """Mean light of each lamp at full power, shape (lamps,). [µmol m⁻² s⁻¹]"""
        found: Floats = self.rows.mean(axis=(1, 2))
        return found

    @cached_property
    def per_lamp(self) -> Floats:
        """Mean light of each lamp at its dimming, shape (lamps,). [µmol m⁻² s⁻¹]"""
        return self.means * self.lighting.dimming

    @cached_property
    def course(self) -> Floats:
        """Mean over the cells in each minute of the day, shape (1440,). [µmol m⁻² s⁻¹]"""
        return self.per_lamp @ self.lighting.levels

    @cached_property
    def lit(self) -> Flags:
        """Which minutes count as lit, shape (1440,); ramps count as lit from their start.

        A minute is lit when the lamps that are on would give `LIT_SHARE` of the brightest minute.
        """
        on = self.per_lamp @ self.lighting.on
        lit: Flags = on >= max(LIT_SHARE * float(on.max(initial=0.0)), 1e-9)
        return lit

    @property
    def hours(self) -> float:
        """Hours lit in a day. [h]"""
        return float(self.lit.sum()) / 60

    def weights(self, minute: int | None) -> Floats:
        """Return what each lamp's row counts at a minute; None is the mean over the lit hours.

        In that mean a lamp counts with its dimming for the share of the lit hours it is on;
        ramps are left out, so lamps of one photoperiod count in full.
        """
        if minute is not None:
            return self.lighting.dimming * self.lighting.levels[:, minute % 1440]
        return self._usual_weights

    @cached_property
    def _usual_weights(self) -> Floats:
        lit = self.lit.astype(float)
        return self.lighting.dimming * (self.lighting.on @ lit) / max(float(lit.sum()), 1.0)

    @cached_property
    def daily_weights(self) -> Floats:
        """What each lamp's row counts in the light of a day. [mol s µmol⁻¹]"""
        return self.lighting.dimming * self.lighting.levels.sum(axis=1) * 60e-6

    @cached_property
    def shares(self) -> Floats:
        """Mean light of each lamp over the lit hours, shape (lamps,). [µmol m⁻² s⁻¹]"""
        return self._usual_weights * self.means

    def at(self, minute: int | None = None) -> Floats:
        """Return the light at a minute of the day, shape (y, x); see `weights` for None.

        [µmol m⁻² s⁻¹]
        """
        return np.tensordot(self.weights(minute), self.rows, axes=1)

    @cached_property
    def usual(self) -> Floats:
        """The mean over the lit hours, shape (y, x). [µmol m⁻² s⁻¹]"""
        return self.at(None)

    @cached_property
    def light(self) -> CanopyLight:
        """Minimum, mean, maximum and uniformity over the lit hours. [µmol m⁻² s⁻¹]"""
        return canopy_light(self.usual)

    @cached_property
    def mean(self) -> float:
        """Over the cells and the lit hours. [µmol m⁻² s⁻¹]"""
        return float(self.shares.sum())

    @cached_property
    def reflected_share(self) -> float:
        """Share of the mean that comes by way of other surfaces; 0 in the dark. [0–1]"""
        return self.reflected_at(None)

    def reflected_at(self, minute: int | None) -> float:
        """Return that share at a minute of the day; see `weights` for None. [0–1]"""
        weights = self.weights(minute)
        mean = float(weights @ self.means)
        reflected = float(weights @ self.reflected_rows.mean(axis=(1, 2)))
        return reflected / mean if mean > 0 else 0.0

    @property
    def low(self) -> float:
        """Darkest cell. [µmol m⁻² s⁻¹]"""
        return self.light.minimum

    @property
    def high(self) -> float:
        """Brightest cell. [µmol m⁻² s⁻¹]"""
        return self.light.maximum

    @property
    def uniformity(self) -> float:
        """Minimum over mean. [0–1]"""
        return self.light.uniformity

    @property
    def dli(self) -> float:
        """Mean daily light, timers and ramps included. [mol m⁻² d⁻¹]"""
        return float(self.course.sum()) * 60e-6

    def share_inside(self, want: tuple[float | None, float | None]) -> float | None:
        """Return the share of cells within a range; None where nothing is wanted. [0–1]"""
        if want == (None, None):
            return None
        low = 0.0 if want[0] is None else want[0]
        return share_in_range(self.usual, low, 1e9 if want[1] is None else want[1])

    @property
    def flux_uncertainty(self) -> float:
        """Uncertainty of the lamps' fluxes, taken as erring together, relative. [1]"""
        total = float(self.shares.sum())
        return float(self.shares @ self.lighting.uncertainty) / total if total > 0 else 0.0

    def off(self, method: float) -> float:
        """Return the mean's relative uncertainty: flux, method and reflectance together. [1]"""
        reflectance = REFLECTANCE_OFF * self.reflected_share
        return float(np.hypot(np.hypot(self.flux_uncertainty, method), reflectance))

    def lit_by(self) -> tuple[str, ...]:
        """Return the ids of the lamps that light this place, strongest first."""
        order = np.argsort(-self.shares, kind="stable")
        enough = _LIGHTING * float(self.shares.sum())
        return tuple(self.lighting.lamps[i] for i in order if self.shares[i] > enough)


@dataclass(frozen=True, eq=False)
class LevelLight(LightMap):
    """The light over a whole level at the height of its leaf tops, for the drawing."""

    level: tuple[str, int]


@dataclass(frozen=True, eq=False)
class ZoneLight(LightMap):
    """The light over one zone.

    Attributes
    ----------
    part : str
        Id of the plants.
    name : str
    level : tuple of (str, int) or None
    group : PlantGroup
    lowest : LightMap
        The same at the lowest leaves.
    """

    part: str
    name: str
    level: tuple[str, int] | None
    group: PlantGroup
    lowest: LightMap

    @property
    def want(self) -> tuple[float | None, float | None]:
        """The wanted light: the group's own, or its daily light over the lit hours.

        [µmol m⁻² s⁻¹]
        """
        if self.group.ppfd is not None:
            return self.group.ppfd.low, self.group.ppfd.high
        day = self.group.daily_light
        if day is None:
            return None, None
        per_hour = (self.hours or USUAL_HOURS) * PPFD_HOUR
        low, high = (None if end is None else end / per_hour for end in (day.low, day.high))
        return low, high

    @property
    def in_range(self) -> float | None:
        """Share of the leaf area within the wanted range. [0–1]"""
        return self.share_inside(self.want)

    def bubble(self, method: float) -> tuple[float, float]:
        """Return the ends of the mean's own range: flux, method and reflectance together.

        ``method`` is relative. [µmol m⁻² s⁻¹]
        """
        off = self.off(method)
        return self.mean * (1 - off), self.mean * (1 + off)

    def dim_to(self, method: float) -> float | None:
        """Return the factor on the dimming of all lamps here that brings the range into the middle.

        None where nothing is wanted or no light falls; above 1 is brighter. [1]
        """
        low, high = self.want
        if low is None or high is None or self.mean <= 0:
            return None
        ends = self.bubble(method)
        return (low + high) / (ends[0] + ends[1])

    def hours_for_daily_light(self) -> tuple[float, float] | None:
        """Return the hours a day that reach the group's daily light, lowest and highest. [h]"""
        day = self.group.daily_light
        if day is None or day.low is None or self.mean <= 0:
            return None
        each = self.mean * PPFD_HOUR
        return day.low / each, (day.high if day.high is not None else day.low) / each


USUAL_HOURS = 12.0
"""Hours taken to turn daily light into PPFD where nothing is lit yet. [h]"""
