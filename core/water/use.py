"""How long each tray, reservoir and fogger tank of a design lasts.

Rates are assumptions until the climate is known; what may leak is in `core.water.leaks`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from core.model import FeedLine, Fogger, Reservoir, Tray
from core.placement import Placement
from core.power.tree import PlugTree
from core.water.contents import reservoir_water, tray_water
from core.water.evaporation import WATER_DENSITY, Days, days_to_refill, use_per_day

MEASURED_FACTOR = 1.1
"""Band of days that the grower measured: weather and growth (common practice). [1]"""

GUESSED_DUTY, GUESSED_FACTOR = 0.25, 4.0
"""Duty taken for a fogger on a humidistat, and its band: at most always on. [1]"""

KNOWN_FACTOR = 1.25
"""Band of a fogger's use at a known duty (common practice). [1]"""


@dataclass(frozen=True)
class Supply:
    """A container that is filled by hand, and how long it lasts.

    Attributes
    ----------
    id, name : str
    kind : str
        ``"tray"``, ``"reservoir"`` or ``"fogger"``.
    level : tuple of (str, int) or None
        The level it stands on.
    volume : float
        Just after a refill. [m³]
    per_day : float
        Use. [m³/d]
    days : Days or None
        None where nothing draws from it.
    surface : float
        Height of its water line above the room's floor. [m]
    basis : str
        How the use is known: ``"rate"``, ``"measured"``, ``"duty"``, ``"guessed"`` or ``"none"``.
    """

    id: str
    name: str
    kind: str
    level: tuple[str, int] | None
    volume: float
    per_day: float
    days: Days | None
    surface: float
    basis: str


@dataclass(frozen=True)
class Use:
    """The use of water in a design."""

    placement: Placement
    tree: PlugTree

    @cached_property
    def self_filling(self) -> frozenset[str]:
        """Ids of what a feed line keeps full by itself: by a float valve or a pump."""
        feeds = self.placement.design.of(FeedLine)
        return frozenset(
            feed.target for feed in feeds if feed.valve == "float" or feed.drive == "pump"
        )

    def supplies(self) -> tuple[Supply, ...]:
        """Return all that somebody has to fill, in the order of the parts."""
        return tuple(
            supply
            for part in self.placement.design.parts
            if isinstance(part, Tray | Reservoir | Fogger)
            and (supply := self._supply(part)) is not None
        )

    def _supply(self, part: Tray | Reservoir | Fogger) -> Supply | None:
        if isinstance(part, Tray):
            return self._tray(part) if part.fill > 0 else None
        if isinstance(part, Reservoir):
            return self._reservoir(part) if part.fill > 0 else None
        fed = any(feed.target == part.id for feed in self.placement.design.of(FeedLine))
        return None if fed or part.tank == 0 else self._fogger(part)

    def _tray(self, tray: Tray) -> Supply | None:
        if tray.id in self.self_filling:
            return None
        volume = tray_water(self.placement, tray)
        surface = self.placement.box(tray.id).lo[2] + tray.fill
        level = self.placement.level_of(tray.id)
        if tray.measured_days is not None:
            days = _band(tray.measured_days, MEASURED_FACTOR)
            per_day, basis = volume / tray.measured_days, "measured"
        else:
            per_day, basis = self.tray_use(tray), "rate"
            days = days_to_refill(volume, per_day)
        return Supply(tray.id, tray.name, "tray", level, volume, per_day, days, surface, basis)

    def tray_use(self, tray: Tray) -> float:
        """Return a tray's loss: its area at the assumed rate, or as measured. [m³/d]"""
        if tray.measured_days is not None:
            return tray_water(self.placement, tray) / tray.measured_days
        return use_per_day(tray.width * tray.depth)

    def _reservoir(self, reservoir: Reservoir) -> Supply:
        volume = reservoir_water(reservoir)
        per_day, factor, basis = self._drawn(reservoir)
        days = days_to_refill(volume, per_day, factor) if per_day > 0 else None
        surface = self.placement.box(reservoir.id).lo[2] + reservoir.fill
        return Supply(
            reservoir.id, reservoir.name, "reservoir", self.placement.level_of(reservoir.id),
            volume, per_day, days, surface, basis,
        )  # fmt: skip

    def _drawn(self, reservoir: Reservoir) -> tuple[float, float, str]:
        """Return what feed lines take a day, its band, and how it is known. [m³/d]"""
        design = self.placement.design
        feeds = [feed for feed in design.of(FeedLine) if feed.source == reservoir.id]
        targets = [design.part(target) for target in dict.fromkeys(feed.target for feed in feeds)]
        found = [self._taken(part) for part in targets if isinstance(part, Tray | Fogger)]
        drawn = [one for one in found if one[0] > 0]
        if not drawn:
            return 0.0, 1.0, "none"
        return sum(one[0] for one in drawn), max(drawn, key=lambda one: one[1])[1], drawn[0][2]

    def _taken(self, part: Tray | Fogger) -> tuple[float, float, str]:
        if isinstance(part, Fogger):
            return self.fogger_use(part)
        return self.tray_use(part), 2.0, "rate"

    def fogger_use(self, fogger: Fogger) -> tuple[float, float, str]:
        """Return what a fogger takes a day, its band, and how it is known. [m³/d]

        Its output while its hours are on, times its duty.
        """
        hours_on = float(self.tree.level(fogger).mean())
        always = fogger.output * 86_400 / WATER_DENSITY * hours_on
        if fogger.duty is None and fogger.control is not None:
            return always * GUESSED_DUTY, GUESSED_FACTOR, "guessed"
        return always * (1.0 if fogger.duty is None else fogger.duty), KNOWN_FACTOR, "duty"

    def _fogger(self, fogger: Fogger) -> Supply:
        per_day, factor, basis = self.fogger_use(fogger)
        days = days_to_refill(fogger.tank, per_day, factor) if per_day > 0 else None
        box = self.placement.box(fogger.id)
        return Supply(
            fogger.id, fogger.name, "fogger", self.placement.level_of(fogger.id),
            fogger.tank, per_day, days, box.hi[2], basis,
        )  # fmt: skip


def _band(days: float, factor: float) -> Days:
    return Days(days, days / factor, days * factor)
