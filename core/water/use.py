"""How long each tray, reservoir and fogger tank of a design lasts.

Rates are those of the climate where it is known, else assumptions; what may leak is in
`core.water.leaks`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from core.model import FeedLine, Fogger, Reservoir, Tray
from core.placement import Placement
from core.power.tree import PlugTree
from core.water.contents import reservoir_water, tray_brimful, tray_water
from core.water.evaporation import RATE_FACTOR, WATER_DENSITY, Days, days_to_refill, use_per_day
from core.water.feeds import Feed, gravity_feed

MEASURED_FACTOR = 1.1
"""Band of days that the grower measured: weather and growth (common practice). [1]"""

GUESSED_DUTY, GUESSED_FACTOR = 0.25, 4.0
"""Duty taken for a fogger on a humidistat, and its band: at most always on. [1]"""

KNOWN_FACTOR = 1.25
"""Band of a fogger's use at a known duty (common practice). [1]"""


class Draw(NamedTuple):
    """What leaves a container in a day, and how it is known. [m³/d]

    ``basis`` is ``"measured"``, ``"climate"``, ``"rate"``, ``"duty"``, ``"guessed"`` or
    ``"none"``.
    """

    value: float
    low: float
    high: float
    basis: str


NONE = Draw(0.0, 0.0, 0.0, "none")


@dataclass(frozen=True)
class Rates:
    """What the climate says that trays lose and foggers use, by id; empty before it is known."""

    trays: Mapping[str, Draw] = field(default_factory=dict)
    foggers: Mapping[str, Draw] = field(default_factory=dict)


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
        How the use is known; see `Draw`.
    stays : float
        Water in it that no feed line brings out. [m³]
    holds : float
        What it would hold full to the rim. [m³]
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
    stays: float = 0.0
    holds: float = 0.0


@dataclass(frozen=True)
class Use:
    """The use of water in a design."""

    placement: Placement
    tree: PlugTree
    rates: Rates = Rates()

    @cached_property
    def lines(self) -> tuple[FeedLine, ...]:
        """The feed lines."""
        return tuple(self.placement.design.of(FeedLine))

    @cached_property
    def self_filling(self) -> frozenset[str]:
        """Ids of what a feed line keeps full by itself: by a float valve or a pump."""
        return frozenset(
            feed.target for feed in self.lines if feed.valve == "float" or feed.drive == "pump"
        )

    @cached_property
    def feeds(self) -> tuple[Feed, ...]:
        """The feed lines that run by gravity, in the order of the parts."""
        found = (gravity_feed(self.placement, line, self._needed(line)) for line in self.lines)
        return tuple(feed for feed in found if feed is not None)

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
            filled_by_hand = part.fill > 0 and part.id not in self.self_filling
            return self._tray(part) if filled_by_hand else None
        if isinstance(part, Reservoir):
            return self._reservoir(part) if part.fill > 0 else None
        fed = any(feed.target == part.id for feed in self.lines)
        return None if fed or part.tank == 0 else self._fogger(part)

    def _tray(self, tray: Tray) -> Supply:
        surface = self.placement.box(tray.id).lo[2] + tray.fill
        volume, draw = tray_water(self.placement, tray), self.tray_draw(tray)
        return self._made(tray, "tray", volume, draw, surface)

    def tray_draw(self, tray: Tray) -> Draw:
        """Return a tray's loss: as measured, by the climate, or its area at the assumed rate."""
        if tray.measured_days is not None:
            per_day = tray_water(self.placement, tray) / tray.measured_days
            return _banded(per_day, MEASURED_FACTOR, "measured")
        if tray.id in self.rates.trays:
            return self.rates.trays[tray.id]
        return _banded(use_per_day(tray.width * tray.depth), RATE_FACTOR, "rate")

    def _reservoir(self, reservoir: Reservoir) -> Supply:
        surface = self.placement.box(reservoir.id).lo[2] + min(reservoir.fill, reservoir.height)
        volume, draw = reservoir_water(reservoir), self._drawn(reservoir)
        stays = self._stays(reservoir)
        return self._made(reservoir, "reservoir", volume, draw, surface, stays)

    def _stays(self, reservoir: Reservoir) -> float:
        """Return the water that stays in a reservoir which only feeds by gravity. [m³]"""
        lines = [line for line in self.lines if line.source == reservoir.id]
        if not lines or any(line.drive == "pump" for line in lines):
            return 0.0
        return min((f.stays for f in self.feeds if f.source == reservoir.id), default=0.0)

    def _drawn(self, reservoir: Reservoir) -> Draw:
        """Return what feed lines take a day, together."""
        design = self.placement.design
        ids = dict.fromkeys(line.target for line in self.lines if line.source == reservoir.id)
        found = [self._taken(design.part(target)) for target in ids]
        drawn = [draw for draw in found if draw.value > 0]
        if not drawn:
            return NONE
        unsure = max(drawn, key=lambda one: one.high / one.value)
        value, low = sum(one.value for one in drawn), sum(one.low for one in drawn)
        return Draw(value, low, sum(one.high for one in drawn), unsure.basis)

    def _taken(self, part: object) -> Draw:
        if isinstance(part, Fogger):
            return self.fogger_draw(part)
        return self.tray_draw(part) if isinstance(part, Tray) else NONE

    def fogger_draw(self, fogger: Fogger) -> Draw:
        """Return what a fogger takes a day: at the duty given, by the climate, or at a guess."""
        if fogger.duty is None and fogger.id in self.rates.foggers:
            return self.rates.foggers[fogger.id]
        hours_on = float(self.tree.level(fogger).mean())
        always = fogger.output * 86_400 / WATER_DENSITY * hours_on
        if fogger.duty is None and fogger.control is not None:
            return _banded(always * GUESSED_DUTY, GUESSED_FACTOR, "guessed")
        return _banded(always * (1.0 if fogger.duty is None else fogger.duty), KNOWN_FACTOR, "duty")

    def _fogger(self, fogger: Fogger) -> Supply:
        surface = self.placement.box(fogger.id).hi[2]
        return self._made(fogger, "fogger", fogger.tank, self.fogger_draw(fogger), surface)

    def _made(
        self,
        part: Tray | Reservoir | Fogger,
        kind: str,
        volume: float,
        draw: Draw,
        surface: float,
        stays: float = 0.0,
    ) -> Supply:
        level, holds = self.placement.level_of(part.id), _brimful(self.placement, part)
        # What no tube brings out is not used; then the feed line's own reading says so.
        days = lasts(volume - stays, draw) if stays < volume or not stays else None
        return Supply(
            part.id, part.name, kind, level, volume, draw.value, days, surface, draw.basis, stays,
            holds,
        )  # fmt: skip

    def _needed(self, line: FeedLine) -> float:
        """Return the most a feed line's target takes: fog at full power, a tray's loss. [kg/s]"""
        target = self.placement.design.part(line.target)
        if isinstance(target, Fogger):
            return target.output
        if not isinstance(target, Tray):
            return 0.0
        return self.tray_draw(target).high * WATER_DENSITY / 86_400.0


def _brimful(placement: Placement, part: Tray | Reservoir | Fogger) -> float:
    """Return what a container holds full to the rim. [m³]"""
    if isinstance(part, Tray):
        return tray_brimful(placement, part)
    return part.tank if isinstance(part, Fogger) else part.width * part.depth * part.height


def lasts(volume: float, draw: Draw) -> Days | None:
    """Return how long a volume lasts; None where nothing draws from it.

    Parameters
    ----------
    volume : float
        [m³]
    draw : Draw
    """
    if draw.value <= 0:
        return None
    value, most, least = (days_to_refill(volume, rate, 1.0).value for rate in draw[:3])
    return Days(value, least, most)


def _banded(per_day: float, factor: float, basis: str) -> Draw:
    return Draw(per_day, per_day / factor, per_day * factor, basis)
