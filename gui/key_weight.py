"""The key of weight: what every shelf carries against its rating.

Loads are `core.weight`'s; the arrows on the sheet are in `gui.overlay_weight`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.language import tr
from core.phrases import Amount
from core.states import State
from core.study import Study, study
from gui.key_blocks import Bar, Bars, Note
from gui.key_page import KeyPage, rows_page
from gui.view import View

if TYPE_CHECKING:
    from core.readings import Readings
    from core.weight.reading import ShelfLoad


def weight_page(view: View, readings: Readings, before: Readings | None) -> KeyPage:
    weight, design = readings.weight, readings.design
    if not weight.shelves:
        return rows_page(view, readings, before)
    look = study(design, season=readings.season)
    bars = [_shelf_bar(look, shelf, design.units) for shelf in reversed(weight.shelves)]
    floor = Amount(weight.floor_mass, "mass").render(design.units)
    text = (
        tr("Everything in the enclosure together: {mass} on the floor.")
        if design.enclosure
        else tr("All parts together: {mass} on the floor.")
    )
    note = text.format(mass=floor)
    blocks = (Bars(tuple(bars), "ink2", framed=True), Note(note))
    return KeyPage(tr("Weight on each shelf"), "", blocks)


def _shelf_bar(look: Study, shelf: ShelfLoad, system: str) -> Bar:
    name = look.level_words((shelf.unit, shelf.level)).render(system)
    value = Amount(shelf.mass, "mass").render(system)
    if shelf.rating is None:
        return Bar(name, 0.0, value, tr("no rating given"))
    limit = tr("of {limit}").format(limit=Amount(shelf.rating, "mass").render(system))
    state = State.HIGH if shelf.mass > shelf.rating else State.FINE
    return Bar(name, shelf.mass / shelf.rating if shelf.rating else 1.0, value, limit, state)
