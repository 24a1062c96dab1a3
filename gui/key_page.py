"""One page of the key, and the page of plain rows that subjects without signs of their own show.

The pages of the subjects are in `gui.key_light` and its neighbours; nothing here paints.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import capital
from core.study import Study
from gui.fit_signs import FloorSigns
from gui.key_blocks import Bars, Beside, Block, Facts, Note, Said, Scale
from gui.key_table import LevelTable
from gui.spoken import aloud
from gui.subjects import title
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings

_MOST_ROWS = 9


@dataclass(frozen=True)
class KeyPage:
    """One page of the key: its head, the unit at the right, and its blocks."""

    title: str
    unit: str
    blocks: tuple[Block, ...]

    def spoken(self) -> str:
        """Return the page as an assistive tool says it."""
        said = [self.title]
        for block in self.blocks:
            if isinstance(block, Facts | Beside):
                facts = block if isinstance(block, Facts) else block.second
                said += [f"{fact.name} {fact.value} {fact.unit}".strip() for fact in facts.lines]
            elif isinstance(block, Bars):
                said += [f"{bar.name} {bar.value}, {bar.more}".strip(", ") for bar in block.lines]
            elif isinstance(block, Note):
                said.append(block.text)
            elif isinstance(block, Said):
                said += [words for _, words in block.lines]
            elif isinstance(block, LevelTable):
                said += block.spoken()
            elif isinstance(block, FloorSigns):
                said += block.names
            elif isinstance(block, Scale) and block.want:
                said.append(block.want)
        return aloud(". ".join(part for part in said if part))


Page = Callable[[View, "Readings", "Readings | None"], KeyPage]
"""Makes a page from what is looked at, the readings, and those from before a drag or None."""


def place_words(look: Study, level: tuple[str, int] | None, part: str) -> str:
    """Return where a page tells of: the level, and the plants' name where several grow there."""
    words = tr("On the floor") if level is None else look.level_words(level).render()
    zones = [zone.part.id for zone in look.placement.zones if zone.level == level]
    if part in zones and len(zones) > 1:
        words = tr("{level}, {name}").format(level=words, name=look.design.by_id[part].name)
    return capital(words)


def rows_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return the readings nearest their limits, as plain numbers."""
    subject = view.subject or ""
    found = readings.subject(subject)
    if not found.rows:
        return KeyPage(title(subject), "", (Note(found.nothing.render()),))
    system = readings.design.units
    first = [row for row in found.rows if row is found.headline]
    rows = [*first, *(row for row in found.rows if row is not found.headline)]
    lines = tuple((row.state, capital(row.line.render(system))) for row in rows)
    return KeyPage(title(subject), "", (Said(lines[:_MOST_ROWS]),))
