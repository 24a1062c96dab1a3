"""What an engine gets to look at: the design as it is in one season, with every place resolved.

Also the words for places, so that all subjects call a level by the same name.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from core.model import Bay, Design, Enclosure, Platform, Season, ShelfUnit
from core.phrases import Phrase, phrase
from core.placement import Placement
from core.reading import SubjectReadings

if TYPE_CHECKING:
    from core.air.flows import Flows

Quality = Literal["coarse", "final"]


@dataclass(frozen=True)
class Study:
    """One look at a design.

    Attributes
    ----------
    design : Design
        As it is in ``season`` by day: absent parts are left out.
    season : Season
        The surroundings in force.
    quality : str
        ``"coarse"`` while something is dragged, else ``"final"``.
    done : mapping
        Readings of the subjects that have been run already, by subject.
    before : mapping
        The last readings of the same quality, by subject. An engine may keep of its own what
        still holds, and must answer as it would without.
    document : Design or None
        The design as it was drawn, which remedies change; None: the same as ``design``.
    flows : Flows or None
        Where the flow of air comes from; None: only jets are known.
    """

    design: Design
    season: Season
    quality: Quality = "final"
    done: Mapping[str, SubjectReadings] = field(default_factory=dict)
    before: Mapping[str, SubjectReadings] = field(default_factory=dict)
    document: Design | None = None
    flows: Flows | None = None

    @property
    def drawn(self) -> Design:
        """The design as it was drawn, with what each season changes kept beside it."""
        return self.document or self.design

    @cached_property
    def placement(self) -> Placement:
        """Every part's resolved place."""
        return Placement(self.design)

    def level_words(self, level: tuple[str, int] | None) -> Phrase:
        """Return a level's name: "level 4", or "Shelf unit B, level 4" where units could be meant.

        Platforms and floors are named by what they are.
        """
        if level is None:
            return phrase("the floor")
        host = self.design.by_id[level[0]]
        if isinstance(host, Platform):
            return phrase("{name}", name=host.name)
        if isinstance(host, Enclosure):
            return phrase("the enclosure floor")
        if isinstance(host, ShelfUnit) and self._units == 1:
            return phrase("level {number}", number=level[1])
        if isinstance(host, ShelfUnit | Bay):
            return phrase("{name}, level {number}", name=host.name, number=level[1])
        return phrase("{name}", name=host.name)

    @cached_property
    def _units(self) -> int:
        return sum(1 for _ in self.design.of(ShelfUnit))


def study(design: Design, *, season: str | None = None, quality: Quality = "final") -> Study:
    """Return a study of a design in a season (the first by default)."""
    chosen = design.season(season)
    return Study(design.at(chosen.id, "day"), chosen, quality, document=design)
