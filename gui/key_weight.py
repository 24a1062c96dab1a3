"""The key of weight: what every shelf carries against its rating, and how units stand.

Loads are `core.weight`'s; the arrows on the sheet are in `gui.overlay_weight`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import Amount, capital
from core.states import State
from core.study import Study, study
from gui.key_blocks import Bar, Bars, Block, Note, Said
from gui.key_page import KeyPage, rows_page
from gui.readings_panel import plain_state
from gui.view import View

if TYPE_CHECKING:
    from core.model import Design
    from core.reading import Reading
    from core.readings import Readings
    from core.weight.reading import ShelfLoad, WeightReadings

_MOST_BARS = 5
_STANDS = ("floor", "castor", "post", "proportion", "climb")
"""In which order it is told how units stand, what is amiss before all."""
_MADE_OF = (
    ("water", "{mass} water"),
    ("pots", "{mass} pots"),
    ("trays", "{mass} trays"),
    ("lamps", "{mass} lamps"),
    ("others", "{mass} others"),
    ("shelf", "{mass} the shelf itself"),
)


def weight_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    """Return shelves as bars against their rating, and below them how units stand."""
    weight, design = readings.weight, readings.design
    if not weight.shelves:
        return rows_page(view, readings, before)
    look = study(design, season=readings.season)
    shown = _shown(weight, view.level)
    alone = _only_unit(look, weight, shown)
    bars = tuple(_shelf_bar(look, shelf, design.units, alone) for shelf in shown)
    blocks: list[Block] = [Bars(bars, "ink2", framed=True)]
    heaviest = _told_shelf(weight, view.level)
    if heaviest is not None:
        blocks.append(Note(_made_of(look, heaviest, design.units)))
    blocks.append(Note(_on_the_floor(weight, design)))
    # Told whole: a limit or a push matters as much as what stands before it.
    said = [(row.state, row.line.render(design.units)) for row in _stands(weight)]
    lines = [(state, line.replace("; ", ", ")) for state, line in said]
    blocks.append(Said(tuple((state, capital(line)) for state, line in lines)))
    return KeyPage(tr("Weight on each shelf"), alone, tuple(blocks))


def _on_the_floor(weight: WeightReadings, design: Design) -> str:
    text = (
        tr("Everything in the enclosure together: {mass} on the floor, {pressure}.")
        if design.enclosure
        else tr("All parts together: {mass} on the floor, {pressure}.")
    )
    floor = next(row for row in weight.rows if row.name == "floor")
    return text.format(
        mass=Amount(weight.floor_mass, "mass").render(design.units),
        pressure=Amount(floor.value or 0.0, "pressure").render(design.units),
    )


def _shown(weight: WeightReadings, level: tuple[str, int] | None) -> list[ShelfLoad]:
    """Return the shelves to show, the highest first; of several units that of the chosen level."""
    units = {shelf.unit for shelf in weight.shelves}
    chosen = level[0] if level is not None and level[0] in units else None
    shelves = [s for s in weight.shelves if chosen is None or len(units) == 1 or s.unit == chosen]
    if len(shelves) > _MOST_BARS and len(units) > 1 and chosen is None:
        shelves = sorted(shelves, key=lambda s: -_share(s))[:_MOST_BARS]
    return sorted(shelves, key=lambda s: (s.unit, -s.z))


def _only_unit(look: Study, weight: WeightReadings, shown: list[ShelfLoad]) -> str:
    """Return the name of the unit that all shown shelves belong to, where there are others too."""
    units = {shelf.unit for shelf in shown}
    several = len({shelf.unit for shelf in weight.shelves}) > 1
    return look.design.part(units.pop()).name if len(units) == 1 and several else ""


def _share(shelf: ShelfLoad) -> float:
    return shelf.mass / shelf.rating if shelf.rating else 0.0


def _told_shelf(weight: WeightReadings, level: tuple[str, int] | None) -> ShelfLoad | None:
    """Return the shelf of which it is told what its load is made of: the chosen, or the fullest."""
    chosen = [shelf for shelf in weight.shelves if (shelf.unit, shelf.level) == level]
    found = chosen or sorted(weight.shelves, key=lambda s: -s.mass)
    return found[0] if found and found[0].mass > 0 else None


def _made_of(look: Study, shelf: ShelfLoad, system: str) -> str:
    place = look.level_words((shelf.unit, shelf.level)).render(system)
    masses = ((words, getattr(shelf.shares, name)) for name, words in _MADE_OF)
    parts = [
        tr(words).format(mass=Amount(mass, "mass").render(system))
        for words, mass in masses
        if mass > 0
    ]
    text = tr("{place} carries {list}.").format(place=place, list=", ".join(parts))
    return capital(text)


def _stands(weight: WeightReadings) -> list[Reading]:
    asked = [row for row in weight.rows if row.name in _STANDS]
    found = [row for row in asked if row.name != "floor" or row.state is not State.UNASKED]
    return sorted(found, key=lambda row: (plain_state(row.state), _STANDS.index(row.name)))


def _shelf_bar(look: Study, shelf: ShelfLoad, system: str, alone: str) -> Bar:
    name = look.level_words((shelf.unit, shelf.level)).render(system)
    if alone:
        name = tr("level {number}").format(number=shelf.level)
    value = Amount(shelf.mass, "mass").render(system)
    if shelf.rating is None:
        return Bar(name, 0.0, value, tr("no rating given"))
    limit = tr("of {limit}").format(limit=Amount(shelf.rating, "mass").render(system))
    state = State.FINE if plain_state(shelf.state) else shelf.state
    return Bar(name, shelf.mass / shelf.rating if shelf.rating else 1.0, value, limit, state)
